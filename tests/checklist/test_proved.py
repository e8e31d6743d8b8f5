"""A proved library is kept, and proved again when anything it was made from has changed."""

import os
from collections.abc import Iterator
from pathlib import Path

import pytest

from sitelog import kept
from sitelog.checklist import load as loading
from sitelog.checklist.load import Faults, load
from sitelog.checklist.proved import Lists
from sitelog.checklist.schema.shipped import shipped_folder
from tests.checklist.small import changed, write


@pytest.fixture(autouse=True)
def place(kept_on_disk: Path) -> Iterator[Path]:
    """Where it is kept; the program is seen anew afterwards."""
    yield kept_on_disk
    kept.program.cache_clear()


def refuse(*_: object, **__: object) -> None:
    raise AssertionError("it was proved again")


def test_the_shipped_library_comes_back_whole(place: Path) -> None:
    lists = Lists()
    assert lists() == Lists()() == load()
    assert [one.name for one in place.iterdir()] == [lists.key]


def test_what_has_not_changed_is_not_proved_again(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    shipped = write(tmp_path / "shipped")
    first = Lists(shipped=shipped)()
    monkeypatch.setattr(loading, "load", refuse)
    assert Lists(shipped=shipped)() == first
    (shipped / "job.toml").write_text(changed("job", "Whole job", "All the job"))
    with pytest.raises(AssertionError, match="proved again"):
        Lists(shipped=shipped)()


def test_a_change_of_a_list_shows_at_once(tmp_path: Path) -> None:
    shipped = write(tmp_path / "shipped")
    Lists(shipped=shipped)()
    write(shipped, hipped=changed("hipped", "amount = 10", "amount = 6"))
    limit = Lists(shipped=shipped)().lists["hipped"].stages[0].checks[0].limit
    assert limit is not None
    assert limit.amount == 6
    write(shipped, hipped=changed("hipped", "amount = 10", "amount = true"))
    with pytest.raises(Faults):
        Lists(shipped=shipped)()


def test_what_another_program_has_proved_is_proved_again(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    shipped = write(tmp_path / "shipped")
    Lists(shipped=shipped)()
    monkeypatch.setattr(loading, "load", refuse)
    kept.program.cache_clear()
    monkeypatch.setattr(kept, "_modules", lambda _: iter([("sitelog/text.py", 1, 2)]))
    with pytest.raises(AssertionError, match="proved again"):
        Lists(shipped=shipped)()


def test_every_module_of_the_program_counts() -> None:
    package = Path(kept.__file__).parent
    assert {path for path, _, _ in kept._modules(str(package))} == set(map(str, package.rglob("*.py")))


def test_a_pipe_among_the_lists_is_told_and_never_waited_for(tmp_path: Path) -> None:
    shipped = write(tmp_path / "shipped")
    os.mkfifo(shipped / "pipe.toml")
    with pytest.raises(Faults, match="isn't a plain file"):
        Lists(shipped=shipped)()


def test_the_shipped_folder_is_the_one_that_is_kept() -> None:
    assert Lists().key == Lists(shipped=shipped_folder()).key
