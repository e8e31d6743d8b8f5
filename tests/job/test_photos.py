"""Photos beside a job: on the disk before an entry names them, never outside its folder, told when they are gone."""

import hashlib
import os
import random
import socket
from collections.abc import Callable, Iterator
from itertools import count
from pathlib import Path
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from msgspec import to_builtins

from sitelog.calculators.catalogue import Value
from sitelog.checklist.schema.model import Check
from sitelog.job.actions import actions
from sitelog.job.log.entry import Draft, Entry, seal
from sitelog.job.photos import keeping
from sitelog.job.photos.choosing import Chosen, choose, offered
from sitelog.job.photos.keeping import Picture, album, faults, keep, look, read_back, stands, taken
from sitelog.job.photos.photo import (
    MOST_AT_ONCE,
    Photo,
    bare_name,
    faults_of,
    in_words,
    is_device,
    kept,
    names_of,
    photos_of,
)
from sitelog.job.storage.disk import beside
from sitelog.job.storage.file import JobFile
from sitelog.job.storage.merge import join
from sitelog.job.storage.verify import strange, verify
from sitelog.refusal import NOT_SAVED, USAGE, Refusal
from tests.job.logs import author, log, saved, tree
from tests.job.pictures import JPEG, SECRET, WEBP, exif, jpeg, png, segment
from tests.job.powercut import Recorder, recorded
from tests.job.roof import Desk, with_check

TAKEN = jpeg(segment(0xE1, b"Exif\0\0" + exif(6)))


@pytest.fixture
def shot(tmp_path: Path) -> Path:
    """A picture as it comes off a camera, with its time and place."""
    path = tmp_path / "card" / "IMG_2201.JPG"
    path.parent.mkdir()
    path.write_bytes(TAKEN)
    return path


def named_by(entries: list[Entry], pictures: list[Picture], act: str = "answer") -> Entry:
    """The next entry, which names the pictures."""
    draft = Draft(act=act, part="main", check="plates.straps", value=kept([p.photo for p in pictures]))  # type: ignore[arg-type]
    return seal(draft, author(minutes=60), [e for e in entries if e.device == "tablet01"][-1], entries[-1].id)


@pytest.fixture
def job(tmp_path: Path, shot: Path) -> Path:
    """A job whose last entry names a photo that is kept."""
    entries, picture = log(4), look(shot)
    path = saved(tmp_path / "barn.json", entries)
    keep(beside(path), [picture])
    with JobFile.open(path) as file:
        file.append([named_by(entries, [picture])])
    return path


def the_photo(job: Path) -> Path:
    return next(beside(job).glob("*.jpg"))


# --- looking ---


def test_a_photo_is_kept_without_its_time_and_place_under_the_hash_of_what_is_kept(shot: Path, tmp_path: Path) -> None:
    picture = look(shot)
    keep(tmp_path / "barn.json.files", [picture])
    (path,) = (tmp_path / "barn.json.files").iterdir()
    assert path.name == f"{hashlib.sha256(path.read_bytes()).hexdigest()}.jpg"
    assert SECRET not in path.read_bytes()
    assert picture.photo == Photo(
        hash=path.stem, type="jpeg", size=path.stat().st_size, name="IMG_2201.JPG", whole=False
    )
    assert shot.read_bytes() == TAKEN, "what is on the camera is only read"


def test_time_and_place_stay_where_somebody_asks_for_them_and_the_entry_says_so(shot: Path) -> None:
    picture = look(shot, whole=True)
    assert picture.raw == TAKEN
    assert kept([picture.photo])["photos"][0]["whole"] is True
    assert "whole" not in kept([look(shot).photo])["photos"][0]


@pytest.mark.parametrize(
    ("raw", "type", "ending"), [(JPEG, "jpeg", "jpg"), (png(), "png", "png"), (WEBP, "webp", "webp")]
)
def test_the_kind_is_known_by_the_bytes_and_not_by_the_name(tmp_path: Path, raw: bytes, type: str, ending: str) -> None:
    path = tmp_path / "straps.txt"
    path.write_bytes(raw)
    photo = look(path).photo
    assert (photo.type, photo.file) == (type, f"{photo.hash}.{ending}")


def made(kind: str, path: Path) -> None:
    if kind == "folder":
        path.mkdir()
    elif kind == "pipe":
        os.mkfifo(path)
    elif kind == "socket":
        with socket.socket(socket.AF_UNIX) as server:
            server.bind(os.path.relpath(path))
    elif kind == "link":
        path.symlink_to(path.with_name("elsewhere.jpg"))
        path.with_name("elsewhere.jpg").write_bytes(JPEG)
    elif kind == "empty":
        path.touch()
    elif kind == "large":
        with path.open("wb") as file:
            file.truncate(keeping.LARGEST + 1)
    elif kind != "nothing":
        path.write_bytes({"PDF": b"%PDF-1.7\n", "half": JPEG[:90], "script": b"#!/bin/sh\n"}[kind])


@pytest.mark.skipif(os.name == "nt", reason="pipes and sockets of files")
@pytest.mark.parametrize(
    ("kind", "says"),
    [
        ("nothing", "No file"),
        ("folder", "a.jpg is a folder"),
        ("pipe", "a.jpg is a device or a pipe"),
        ("socket", "a.jpg is a device or a pipe"),
        ("link", "a.jpg is a shortcut"),
        ("empty", "a.jpg is empty"),
        ("large", "a.jpg is over 20 MB"),
        ("PDF", "a.jpg is a PDF, not a JPEG, PNG or WebP photo"),
        ("half", "a.jpg stops"),
        ("script", "a.jpg is not a JPEG, PNG or WebP photo"),
    ],
)
def test_what_is_no_picture_is_refused_in_one_line(tmp_path: Path, kind: str, says: str, monkeypatch: Any) -> None:
    monkeypatch.chdir(tmp_path)
    made(kind, tmp_path / "a.jpg")
    with pytest.raises(Refusal, match=says) as refused:
        look(tmp_path / "a.jpg")
    assert refused.value.code == USAGE
    assert "\n" not in refused.value.message


def test_a_picture_that_may_not_be_read_is_refused(shot: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    def barred(self: Path, *_: object) -> Any:
        raise PermissionError(13, "Permission denied")

    monkeypatch.setattr(Path, "open", barred)
    with pytest.raises(Refusal, match=r"IMG_2201.JPG can't be read: you"):
        look(shot)


@pytest.mark.parametrize("name", ["NUL", "con.jpg", "COM1.jpeg", "lpt9", "aux.png", "C:\\shots\\prn.jpg"])
def test_a_device_s_name_is_no_picture_s(name: str) -> None:
    assert is_device(name)
    with pytest.raises(Refusal, match="rename it"):
        look(name)


@pytest.mark.parametrize("name", ["", "..", "/", "a/", "C:", "\u202e", "bad\0name.jpg"])
def test_a_name_of_which_nothing_is_left_is_refused(name: str) -> None:
    with pytest.raises(Refusal):
        look(name)


@pytest.mark.parametrize(
    ("name", "kept"),
    [
        ("../../etc/passwd", "passwd"),
        ("/etc/shadow", "shadow"),
        ("C:\\Users\\x\\IMG 1.jpg", "IMG 1.jpg"),
        ("D:IMG.jpg", "IMG.jpg"),
        ("a\x1b[31m\u202ered\u200b.jpg", "a[31mred.jpg"),
        ("  ..hidden.jpg. ", "hidden.jpg"),
        ("strap\nat A.jpg", "strap at A.jpg"),
    ],
)
def test_a_name_that_is_kept_leads_nowhere_and_drives_no_terminal(name: str, kept: str) -> None:
    assert bare_name(name) == kept


@given(st.text(max_size=200))
def test_a_bare_name_is_bare_however_often_it_is_asked_for(name: str) -> None:
    found = bare_name(name)
    assert bare_name(found) == found
    assert not set(found) & set("/\\:\0\n\x1b\u202e")
    assert not found.startswith(".")


# --- keeping, whatever fails ---


def the_disk(found: dict[Path, bytes], folder: Path) -> dict[str, bytes]:
    return {path.name: raw for path, raw in found.items() if path.parent == folder}


def test_whatever_power_cut_comes_a_photo_that_was_kept_is_whole(shot: Path, tmp_path: Path, monkeypatch: Any) -> None:
    picture, files = look(shot), tmp_path / "barn.json.files"
    with recorded(monkeypatch, Recorder()) as recorder:
        keep(files, [picture])
        recorder.confirm(picture)
    (confirmed, _) = recorder.marks[0]
    for steps, left in recorder.states(seed=5, each=20):
        found = the_disk(left, files).get(picture.photo.file)
        assert found in (None, picture.raw), "under its hash it stands whole, or not at all"
        if steps >= confirmed:
            assert found == picture.raw


def failing(at: int, error: int) -> Callable[[str], None]:
    """The step of that number fails, and every one after it."""
    steps = iter(range(1_000))

    def fault(_: str) -> None:
        if next(steps) >= at:
            raise OSError(error, os.strerror(error))

    return fault


@pytest.mark.parametrize(("error", "says"), [(28, "the disk is full"), (5, "the disk reports an error")])
@pytest.mark.parametrize("at", range(9))
def test_a_photo_that_cannot_be_kept_is_refused_and_no_entry_names_it(
    job: Path, tmp_path: Path, monkeypatch: Any, at: int, error: int, says: str
) -> None:
    other = tmp_path / "other.png"
    other.write_bytes(png())
    picture, before = look(other), tree(tmp_path)
    with recorded(monkeypatch, Recorder(failing(at, error))):
        try:
            keep(beside(job), [picture])
        except Refusal as refused:
            assert refused.code == NOT_SAVED
            assert refused.message == f"Not saved: other.png: {says}. Nothing was entered. Try again."
        else:
            assert at >= 8, "the last steps of all"
    after = tree(tmp_path)
    assert {name: raw for name, raw in after.items() if name in before} == before, "what was there is as it was"
    assert not verify(job), "what is left over is no fault"
    keep(beside(job), [picture])
    assert stands(beside(job), picture.photo) == "there", "the same again is right"


def test_a_photo_that_failed_once_is_not_called_kept_though_all_that_follows_would_do(
    job: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    (tmp_path / "other.png").write_bytes(png())
    picture, before = look(tmp_path / "other.png"), tree(tmp_path)
    real, steps = os.fsync, count()

    def once(handle: int) -> None:
        if next(steps) == 0:
            raise OSError(5, "Input/output error")
        real(handle)

    monkeypatch.setattr("os.fsync", once)
    with pytest.raises(Refusal, match="the disk reports an error"):
        keep(beside(job), [picture])
    assert tree(tmp_path) == before, "and nothing is left of it"


def test_a_photo_brings_the_folder_that_it_makes_to_the_disk(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    told: list[Path] = []
    monkeypatch.setattr("sitelog.job.storage.disk.sync_folder", told.append)
    (tmp_path / "other.png").write_bytes(png())
    keep(tmp_path / "barn.json.files", [look(tmp_path / "other.png")])
    assert told == [tmp_path / "barn.json.files", tmp_path]


def test_a_kill_between_photo_and_entry_leaves_at_most_a_file_that_no_entry_names(job: Path, tmp_path: Path) -> None:
    (tmp_path / "late.png").write_bytes(png())
    picture = look(tmp_path / "late.png")
    keep(beside(job), [picture])  # and here it is killed
    assert verify(job) == []
    assert strange(job) == [f"{picture.photo.file} in barn.json.files doesn't belong to this job: no entry uses it."]


def test_a_kill_while_a_photo_is_written_is_passed_over_and_the_next_try_is_whole(job: Path, tmp_path: Path) -> None:
    (tmp_path / "late.png").write_bytes(png())
    picture = look(tmp_path / "late.png")
    (beside(job) / f".{picture.photo.file}.a1b2c3d4.saving").write_bytes(picture.raw[:40])
    assert (verify(job), strange(job)) == ([], [])
    keep(beside(job), [picture])
    assert stands(beside(job), picture.photo) == "there"
    with JobFile.open(job):
        assert not list(beside(job).glob(".*.saving"))


def test_in_a_job_that_cannot_be_read_nothing_is_called_a_stranger(job: Path) -> None:
    job.write_bytes(b"{")
    assert strange(job) == []


def test_a_job_without_a_folder_has_no_strangers(tmp_path: Path) -> None:
    assert list(keeping.strays([], tmp_path / "none")) == []


def test_the_same_photo_twice_is_one_file(job: Path, shot: Path) -> None:
    before = tree(job.parent)
    keep(beside(job), [look(shot), look(shot)])
    assert tree(job.parent) == before
    photo = look(shot).photo
    assert len(kept([photo, photo])["photos"]) == 1


# --- verifying ---


def test_a_job_with_its_photos_is_sound(job: Path) -> None:
    assert (verify(job), strange(job)) == ([], [])


def test_a_missing_photo_is_named_with_its_check_and_from_where_to_bring_it(job: Path) -> None:
    name = the_photo(job).name
    the_photo(job).unlink()
    (fault,) = verify(job)
    assert "Photo IMG_2201.JPG of main.plates.straps, entry " in fault
    assert f"it is missing. Put {name} in barn.json.files, from device tablet01 (A. Foreman)" in fault


def test_a_missing_photo_of_what_was_entered_since_the_file_was_written_is_named_too(job: Path) -> None:
    picture = Picture(Photo(hash="a" * 64, type="jpeg", size=12, name="late.jpg"), b"")
    with JobFile.open(job) as file:
        file.append([named_by(file.entries, [picture], "note")])
        (fault,) = verify(job)
    assert "Photo late.jpg of " in fault and "it is missing" in fault


@pytest.mark.parametrize("change", [lambda raw: raw[:-1], lambda raw: raw[:-3] + b"\0" + raw[-2:], lambda _: b""])
def test_a_changed_photo_is_named(job: Path, change: Callable[[bytes], bytes]) -> None:
    the_photo(job).write_bytes(change(the_photo(job).read_bytes()))
    (fault,) = verify(job)
    assert "Photo IMG_2201.JPG of main.plates.straps" in fault
    assert "it was changed" in fault


@pytest.mark.parametrize("bit", random.Random(3).sample(range(8 * len(JPEG)), 25))
def test_any_flipped_bit_of_a_photo_is_found(job: Path, bit: int) -> None:
    raw = bytearray(the_photo(job).read_bytes())
    raw[bit // 8] ^= 1 << bit % 8
    the_photo(job).write_bytes(bytes(raw))
    assert len(verify(job)) == 1


def test_a_link_in_place_of_a_photo_is_not_followed(job: Path, tmp_path: Path) -> None:
    moved = the_photo(job).rename(tmp_path / "elsewhere.jpg")
    (beside(job) / f"{hashlib.sha256(moved.read_bytes()).hexdigest()}.jpg").symlink_to(moved)
    (fault,) = verify(job)
    assert "it was changed" in fault


def test_a_photo_that_cannot_be_read_is_named(job: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    def bad(path: Path) -> str:
        raise OSError(5, "Input/output error")

    monkeypatch.setattr(keeping, "_digest", bad)
    (fault,) = verify(job)
    assert "can't open" in fault


def test_a_missing_photo_that_two_entries_name_is_told_once(job: Path) -> None:
    entries = JobFile.open(job, read_only=True).entries
    again = named_by(entries[:-1], [Picture(photo, b"") for photo in photos_of(entries[-1].value)], "note")
    the_photo(job).unlink()
    (fault,) = faults([entries[-1], again], beside(job))
    assert entries[-1].id in fault


def test_a_photo_that_cannot_be_read_back_is_none(job: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    (photo,) = photos_of(JobFile.open(job, read_only=True).entries[-1].value)
    assert read_back(beside(job), photo) == the_photo(job).read_bytes()

    def bad(path: Path) -> bytes:
        raise OSError(5, "Input/output error")

    with monkeypatch.context() as patch:
        patch.setattr(Path, "read_bytes", bad)
        assert read_back(beside(job), photo) is None
    the_photo(job).unlink()
    (beside(job) / photo.file).symlink_to(os.devnull)
    monkeypatch.setattr(Path, "read_bytes", lambda path: pytest.fail("a device is not read"))
    assert read_back(beside(job), photo) is None


def test_a_kept_copy_looks_for_its_photos_where_it_is_kept(job: Path) -> None:
    entries = JobFile.open(job, read_only=True).entries
    with JobFile.open(job) as file:
        file.append([seal(Draft(act="note", note="one more"), author(minutes=70), entries[-1], entries[-1].id)])
    copy = max((beside(job) / "copies").iterdir())
    assert verify(copy) == []


GOOD = to_builtins(Photo(hash="a" * 64, type="jpeg", size=12, name="IMG_1.jpg"))


@pytest.mark.parametrize(
    ("row", "says"),
    [
        (GOOD | {"hash": "../../../etc/passwd"}, "isn't 64 hex digits"),
        (GOOD | {"hash": "a" * 63}, "isn't 64 hex digits"),
        (GOOD | {"hash": "A" * 64}, "isn't 64 hex digits"),
        (GOOD | {"hash": "a" * 64 + "\n"}, "isn't 64 hex digits"),
        (GOOD | {"hash": "/" + "a" * 63}, "isn't 64 hex digits"),
        (GOOD | {"type": "../x"}, "is a type that can't be kept"),
        (GOOD | {"type": "pdf"}, "is a type that can't be kept"),
        (GOOD | {"name": "../../IMG_1.jpg"}, "leads out of its folder"),
        (GOOD | {"name": "/etc/passwd"}, "leads out of its folder"),
        (GOOD | {"name": "C:\\IMG_1.jpg"}, "leads out of its folder"),
        (GOOD | {"name": "a\u202eb.jpg"}, "can't be shown"),
        (GOOD | {"name": "a\x1b]0;x\x07.jpg"}, "can't be shown"),
        (GOOD | {"size": -1}, "a size"),
        (GOOD | {"size": 0}, "a size"),
        (GOOD | {"size": True}, "of its photo 'IMG_1.jpg' is wrong: size"),
        (GOOD | {"size": "12"}, "of its photo 'IMG_1.jpg' is wrong: size"),
        (GOOD | {"hash": 12}, "of its photo 'IMG_1.jpg' is wrong: hash"),
        (GOOD | {"path": "/etc"}, "of its photo 'IMG_1.jpg' is wrong: path"),
        ({"name": "IMG_1.jpg"}, "of its photo 'IMG_1.jpg' is wrong: hash, type, size"),
        ("../../etc/passwd", "isn't a record"),
    ],
)
def test_a_hostile_photo_of_an_entry_is_named_and_no_file_is_looked_for(
    tmp_path: Path, row: object, says: str, monkeypatch: Any
) -> None:
    entries = log(3)
    draft = Draft(act="note", part="main", check="plates.straps", value={"photos": [row]})
    entries.append(seal(draft, author(minutes=60), entries[-1], entries[-1].id))
    path = saved(tmp_path / "barn.json", entries)
    looked: list[Photo] = []
    monkeypatch.setattr(keeping, "stands", lambda _, photo: looked.append(photo))
    (fault,) = verify(path)
    assert fault.startswith(f"Entry {entries[-1].id} (A. Foreman, main.plates.straps): ")
    assert says in fault
    assert fault.isprintable()
    assert not looked
    assert not photos_of(draft.value)


@settings(max_examples=200, deadline=None)
@given(
    st.recursive(
        st.none() | st.booleans() | st.integers() | st.text(max_size=70),
        lambda inner: st.lists(inner, max_size=3) | st.dictionaries(st.sampled_from(list(GOOD)), inner, max_size=5),
        max_leaves=12,
    )
)
def test_whatever_an_entry_holds_for_photos_only_hashes_and_endings_become_files(value: Any) -> None:
    for photo in photos_of({"photos": value}):
        name, _, ending = photo.file.partition(".")
        assert len(name) == 64
        assert not set(name) - set("0123456789abcdef")
        assert ending in ("jpg", "png", "webp")
    list(faults_of({"photos": value}))
    assert isinstance(in_words({"photos": value, "photo": value}), str)


# --- entries and state ---

STRAP = "main.plates.strap-photo"


def desk() -> Desk:
    return Desk(with_check("plates", Check("strap-photo", "A strap, close", "photo"))).to_plates()


def enter(desk: Desk, **more: Any) -> Value:
    desk.do(actions.answer(desk.state, desk.library, STRAP, more.pop("texts", {}), **more))
    return desk.check(STRAP).value


def test_a_photo_check_a_tick_that_wants_one_and_any_note_can_carry_several(shot: Path, tmp_path: Path) -> None:
    (tmp_path / "b.png").write_bytes(png())
    both = [look(shot).photo, look(tmp_path / "b.png").photo]
    at = desk()
    assert enter(at, photos=both) == "IMG_2201.JPG, b.png"
    assert at.check(STRAP).photos == tuple(both)
    at.do(actions.note(at.state, "main.plates", "", photos=both[:1]))
    at.do(actions.note(at.state, STRAP, "the other side", photo="IMG_9"))
    at.do(actions.diary("2026-03-02", both[1:], text="rain"))
    assert [(one.path, one.name, one.photo is None) for one in taken(at.state)] == [
        (STRAP, "IMG_2201.JPG", False),
        (STRAP, "b.png", False),
        ("main.plates", "IMG_2201.JPG", False),
        (STRAP, "IMG_9", True),
        ("", "b.png", False),
    ]
    hips = Desk().to_hips("tiles")
    hips.do(actions.answer(hips.state, hips.library, "main.tiler.ladder", {}, photos=both))
    assert hips.check("main.tiler.ladder").value == "IMG_2201.JPG, b.png"


def test_a_name_only_is_told_as_not_attached() -> None:
    at = desk()
    assert enter(at, texts={"value": "IMG_2201"}) == "IMG_2201"
    assert (at.check(STRAP).photos, at.check(STRAP).photo_name) == ((), "IMG_2201")
    assert in_words({"photo": "IMG_2201"}) == "photo IMG_2201 (camera number only, no photo attached)"
    both = {"photo": "IMG_2201"} | {"photos": [GOOD]}
    assert in_words(both) == "photo IMG_1.jpg; photo IMG_2201 (camera number only, no photo attached)"
    assert names_of(both) == "IMG_1.jpg, IMG_2201"
    assert in_words({"photo": 2201}) == in_words({}) == "", "a name that is no text is none"


def test_the_album_tells_how_each_photo_stands_and_without_a_folder_that_it_is_missing(
    shot: Path, tmp_path: Path
) -> None:
    picture, files = look(shot), tmp_path / "barn.json.files"
    keep(files, [picture])
    at = desk()
    enter(at, photos=[picture.photo])
    at.do(actions.note(at.state, "main.plates", "the same one", photos=[picture.photo], photo="IMG_9"))
    assert [(one.taken.name, one.stand) for one in album(at.state, files)] == [
        ("IMG_2201.JPG", "there"),
        ("IMG_2201.JPG", "there"),
        ("IMG_9", "name only"),
    ]
    changed = (files / picture.photo.file).read_bytes()[::-1]
    (files / picture.photo.file).write_bytes(changed)
    assert [one.stand for one in album(at.state, files)] == ["changed", "changed", "name only"]
    assert [one.stand for one in album(at.state, files, quick=True)] == ["there", "there", "name only"], "by its size"
    (files / picture.photo.file).write_bytes(changed[1:])
    assert [one.stand for one in album(at.state, files, quick=True)] == ["changed", "changed", "name only"]
    assert [one.stand for one in album(at.state, None)] == ["missing", "missing", "name only"]


@pytest.mark.parametrize(
    ("size", "told"),
    [(1, "1 kB"), (999, "1 kB"), (1_001, "2 kB"), (99_999, "100 kB"), (100_000, "0.1 MB"), (3_140_000, "3.1 MB")],
)
def test_a_photo_s_size_is_told_in_thousands_or_millions_of_bytes_and_never_as_nothing(size: int, told: str) -> None:
    assert Photo(hash="0" * 64, type="jpeg", size=size, name="IMG_1.jpg").told_size == told


def test_more_photos_than_a_check_takes_are_refused(shot: Path) -> None:
    many = [Photo(hash=f"{n:064x}", type="jpeg", size=1, name=f"{n}.jpg") for n in range(MOST_AT_ONCE + 1)]
    at = desk()
    with pytest.raises(Refusal, match=r"13 photos is too many at once. Add up to 12"):
        enter(at, photos=many)
    enter(at, photos=many[1:])
    with pytest.raises(Refusal, match="needs a photo"):
        enter(at)


def test_a_note_of_nothing_is_still_refused() -> None:
    with pytest.raises(Refusal, match="Type the note"):
        actions.note(desk().state, STRAP, " ")


def test_undo_leaves_the_file_and_the_record_of_it(job: Path, shot: Path) -> None:
    with JobFile.open(job) as file:
        last = file.entries[-1]
        void = Draft(act="void", part=last.part, check=last.check, value={"id": last.id, "act": last.act})
        file.append([seal(void, author(minutes=61), last, last.id)])
    assert the_photo(job).read_bytes() == look(shot).raw
    assert (verify(job), strange(job)) == ([], [])
    the_photo(job).unlink()
    assert "it is missing" in verify(job)[0], "what was taken back is in the record too"


def test_a_photo_of_an_undone_answer_is_no_longer_shown(shot: Path) -> None:
    at = desk()
    enter(at, photos=[look(shot).photo])
    at.do(actions.undo(at.state, at.entries))
    assert at.check(STRAP).state == "open"
    assert not taken(at.state)


# --- copies joined ---


def two_copies(tmp_path: Path, shot: Path) -> Iterator[Path]:
    """One job on two tablets; the second has taken a photo since."""
    entries, picture = log(4), look(shot)
    for name in ("here", "there"):
        (tmp_path / name).mkdir()
        yield saved(tmp_path / name / "barn.json", entries)
    there = tmp_path / "there" / "barn.json"
    keep(beside(there), [picture])
    with JobFile.open(there) as file:
        file.append([named_by(entries, [picture])])


def test_photos_come_over_with_the_copy_that_has_them(tmp_path: Path, shot: Path) -> None:
    here, there = two_copies(tmp_path, shot)
    found = join(here, [there])
    assert (found.entries, found.photos) == (1, 1)
    assert the_photo(here).read_bytes() == the_photo(there).read_bytes()
    assert (verify(here), join(here, [there]).photos) == ([], 0)


def test_a_photo_that_the_copy_does_not_have_either_is_told_as_missing_and_from_where(
    tmp_path: Path, shot: Path
) -> None:
    here, there = two_copies(tmp_path, shot)
    the_photo(there).unlink()
    assert join(here, [there]).photos == 0
    assert "from device tablet01 (A. Foreman) or another copy of the job" in verify(here)[0]


def test_a_changed_photo_of_a_copy_is_not_brought_over(tmp_path: Path, shot: Path) -> None:
    here, there = two_copies(tmp_path, shot)
    raw = the_photo(there).read_bytes()
    the_photo(there).write_bytes(raw[:-3] + b"\0" + raw[-2:])
    assert join(here, [there]).photos == 0
    assert not list(beside(here).glob("*.jpg"))


def test_a_photo_that_was_changed_here_is_mended_from_the_copy(tmp_path: Path, shot: Path) -> None:
    here, there = two_copies(tmp_path, shot)
    join(here, [there])
    the_photo(here).write_bytes(b"spoilt")
    assert join(here, [there]).photos == 1
    assert verify(here) == []


# --- choosing ---


@pytest.fixture
def site(tmp_path: Path) -> Path:
    """A job's folder with three pictures, the newest in `photos` under it."""
    (tmp_path / "photos").mkdir()
    for at, name in enumerate(("old.png", "b, c.jpg", "photos/new.JPG")):
        (tmp_path / name).write_bytes(JPEG)
        os.utime(tmp_path / name, (at, at))
    (tmp_path / "barn.json").write_bytes(b"{}")
    (tmp_path / "link.jpg").symlink_to(tmp_path / "old.png")
    return tmp_path


def test_the_newest_pictures_come_first_and_nothing_else_is_offered(site: Path) -> None:
    assert [path.name for path in offered(site)] == ["new.JPG", "b, c.jpg", "old.png"]
    assert [path.name for path in offered(site, most=1)] == ["new.JPG"]
    assert offered(site / "none") == ()


@pytest.mark.parametrize(
    ("typed", "names", "name"),
    [
        ("", [], ""),
        ("1", ["new.JPG"], ""),
        ("3 1", ["old.png", "new.JPG"], ""),
        ("1,1, 2", ["new.JPG", "b, c.jpg"], ""),
        ("old.png", ["old.png"], ""),
        ("new.JPG,old.png", ["new.JPG", "old.png"], ""),
        ("b, c.jpg", ["b, c.jpg"], ""),
        ("'old.png'", ["old.png"], ""),
        ("photos/new.JPG", ["new.JPG"], ""),
        ("2201", [], "2201"),
        ("IMG_2201", [], "IMG_2201"),
        ("IMG_2201, IMG_2202", [], "IMG_2201, IMG_2202"),
        ("old.png, IMG_2202", ["old.png"], "IMG_2202"),
        ("0", [], "0"),
        ("4", [], "4"),
        ("99999999999999999999", [], "99999999999999999999"),
    ],
)
def test_what_is_typed_is_a_number_offered_a_file_there_or_a_name_only(
    site: Path, typed: str, names: list[str], name: str
) -> None:
    found = choose(typed, [site], offered(site))
    assert ([path.name for path in found.sources], found.name) == (names, name)


def test_a_whole_path_is_a_file_or_is_refused(site: Path) -> None:
    assert choose(str(site / "old.png"), []) == Chosen((site / "old.png",))
    for typed in ("/none/a.jpg", "photos/none.jpg", "C:\\shots\\a.jpg", "~nobody-of-that-name/a.jpg"):
        with pytest.raises(Refusal, match="No file"):
            choose(typed, [site])
    assert choose("bad\0name", [site]) == Chosen((), "bad\0name")
