"""A proved library is kept, and proved again when anything it was made from has changed."""

import os
from pathlib import Path

import pytest

from sitelog.checklist import load as loading
from sitelog.checklist.load import Faults, load
from sitelog.checklist.proved import modules, proved_library
from sitelog.checklist.schema.shipped import shipped_folder
from tests.checklist.small import changed, write

pytestmark = pytest.mark.usefixtures("lists_read_again")


def refuse(*_: object, **__: object) -> None:
    raise AssertionError("it was proved again")


def test_the_shipped_library_comes_back_whole(tmp_path: Path) -> None:
    cache = tmp_path / "deep" / "library.json"
    assert proved_library([], cache) == load()
    assert not cache.parent.exists(), "looking leaves nothing behind"
    cache.parent.mkdir()
    first = proved_library([], cache)
    assert proved_library([], cache) == first == load()
    assert [one.name for one in cache.parent.iterdir()] == ["library.json"]


def test_what_has_not_changed_is_not_proved_again(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    shipped, cache = write(tmp_path / "shipped"), tmp_path / "library.json"
    first = proved_library([], cache, shipped=shipped)
    monkeypatch.setattr(loading, "load", refuse)
    assert proved_library([], cache, shipped=shipped) == first
    (shipped / "job.toml").write_text(changed("job", "Whole job", "All the job"))
    with pytest.raises(AssertionError, match="proved again"):
        proved_library([], cache, shipped=shipped)


def test_a_change_of_a_list_shows_at_once(tmp_path: Path) -> None:
    shipped, cache = write(tmp_path / "shipped"), tmp_path / "library.json"
    proved_library([], cache, shipped=shipped)
    write(shipped, hipped=changed("hipped", "amount = 10", "amount = 6"))
    limit = proved_library([], cache, shipped=shipped).lists["hipped"].stages[0].checks[0].limit
    assert limit is not None
    assert limit.amount == 6
    write(shipped, hipped=changed("hipped", "amount = 10", "amount = true"))
    with pytest.raises(Faults):
        proved_library([], cache, shipped=shipped)


@pytest.mark.parametrize("spoilt", [b"", b"{}", b"[1", b"\xff", b'{"key": "", "library": {}}'])
def test_a_spoilt_cache_is_made_again(tmp_path: Path, spoilt: bytes) -> None:
    shipped, cache = write(tmp_path / "shipped"), tmp_path / "library.json"
    first = proved_library([], cache, shipped=shipped)
    whole = cache.read_bytes()
    cache.write_bytes(spoilt)
    assert proved_library([], cache, shipped=shipped) == first
    assert cache.read_bytes() == whole


def test_a_cache_that_can_t_be_written_is_done_without(tmp_path: Path) -> None:
    shipped = write(tmp_path / "shipped")
    taken = tmp_path / "taken"
    taken.write_text("a file where a folder is wanted")
    assert proved_library([], taken / "library.json", shipped=shipped) == load(shipped=shipped)


def test_a_pipe_among_the_lists_is_told_and_never_waited_for(tmp_path: Path) -> None:
    shipped = write(tmp_path / "shipped")
    os.mkfifo(shipped / "pipe.toml")
    with pytest.raises(Faults, match="isn't a plain file"):
        proved_library([], tmp_path / "library.json", shipped=shipped)


def test_the_shipped_folder_is_the_one_that_is_kept(tmp_path: Path) -> None:
    cache = tmp_path / "library.json"
    assert proved_library([], cache).digests == proved_library([], cache, shipped=shipped_folder()).digests


def test_what_was_proved_by_another_program_is_proved_again_whichever_room_of_the_lists_has_changed() -> None:
    room = Path(loading.__file__).parent
    assert {path.relative_to(room).parts[0] for path in modules() if path.is_relative_to(room)} >= {
        "loader", "lint", "schema", "load.py", "proved.py",
    }  # fmt: skip
