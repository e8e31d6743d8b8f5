"""What is kept for the next start comes back whole or not at all, and nothing but our own structs is made of it."""

import os
import pickle
from binascii import crc32
from collections.abc import Callable
from pathlib import Path

import pytest

from sitelog import kept
from sitelog.job.log.entry import Draft

WHAT = Draft(act="note", part="main", note="plates level")


@pytest.fixture
def place(kept_on_disk: Path) -> Path:
    """Where it is kept, with one thing in it."""
    kept.keep("key", WHAT)
    return kept_on_disk


def test_it_comes_back_as_it_was_under_its_key_alone(place: Path) -> None:
    assert kept.find("key") == WHAT
    assert kept.find("other") is None
    assert [row.name for row in place.iterdir()] == ["key"]
    if os.name != "nt":
        assert place.stat().st_mode & 0o077 == 0


def test_a_key_tells_its_parts_apart() -> None:
    assert len({kept.key_of(b"ab", b"c"), kept.key_of(b"a", b"bc"), kept.key_of(b"abc"), kept.key_of(b"abc", b"")}) == 4


@pytest.mark.parametrize("at", [0, 3, 4, 20, -1])
def test_a_changed_byte_is_found_and_it_is_worked_again(place: Path, at: int) -> None:
    raw = bytearray((place / "key").read_bytes())
    raw[at] ^= 1
    (place / "key").write_bytes(raw)
    assert kept.find("key") is None
    assert kept.cached("key", lambda: WHAT) == WHAT
    assert kept.find("key") == WHAT


@pytest.mark.parametrize("left", [0, 3, 4, 30])
def test_half_a_file_is_nothing(place: Path, left: int) -> None:
    whole = (place / "key").read_bytes()
    (place / "key").write_bytes(whole[:left])
    assert kept.find("key") is None


@pytest.mark.parametrize("what", [Path(), os.system, pickle.Unpickler])
def test_nothing_is_made_but_our_own_structs(place: Path, what: object) -> None:
    raw = pickle.dumps(what)
    (place / "key").write_bytes(raw + crc32(raw).to_bytes(kept.SUM, "big"))
    assert kept.find("key") is None


MADE: dict[str, Callable[[Path], object]] = {
    "a folder": Path.mkdir,
    "a link to a device without end": lambda path: path.symlink_to("/dev/zero"),
    "a link to itself": lambda path: path.symlink_to(path.name),
}
if os.name != "nt":
    MADE["a pipe that nobody writes"] = os.mkfifo


@pytest.mark.parametrize("make", MADE.values(), ids=MADE)
def test_what_is_no_file_is_done_without(place: Path, make: Callable[[Path], object]) -> None:
    (place / "key").unlink()
    make(place / "key")
    assert kept.cached("key", lambda: WHAT) == WHAT


@pytest.mark.parametrize("home", ["", "not/from/the/root"])
def test_a_folder_that_can_t_be_made_is_done_without(
    kept_on_disk: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch, home: str
) -> None:
    monkeypatch.setenv("XDG_CACHE_HOME", home)
    (tmp_path / "file").write_text("where a folder is wanted")
    monkeypatch.setenv("HOME", str(tmp_path / "file"))
    assert kept.cached("key", lambda: WHAT) == WHAT
    assert not (tmp_path / "not").exists()


def test_what_is_too_large_is_not_kept(place: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(kept, "MOST_BYTES", 20)
    kept.keep("large", WHAT)
    assert not (place / "large").exists()


@pytest.mark.parametrize(("what", "most"), [("MOST_FILES", 2), ("MOST_IN_ALL", 400)])
def test_what_has_not_been_used_for_longest_goes_first(
    place: Path, monkeypatch: pytest.MonkeyPatch, what: str, most: int
) -> None:
    assert 400 / 3 < (place / "key").stat().st_size < 400 / 2
    monkeypatch.setattr(kept, what, most)
    kept.keep("second", WHAT)
    for number, name in enumerate(("second", "key")):
        os.utime(place / name, (number, number))
    kept.find("key")
    kept.keep("third", WHAT)
    assert {row.name for row in place.iterdir()} == {"key", "third"}
