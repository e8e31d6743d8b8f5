"""Copies of a job beside it, whatever another program has called them: found, joined, put aside."""

import os
import shutil
from collections.abc import Sequence
from pathlib import Path

import msgspec
import pytest
from tinydb import TinyDB

from sitelog.job.log.entry import Draft, Entry, seal
from sitelog.job.photos.keeping import keep, look, stands
from sitelog.job.storage import copies as module
from sitelog.job.storage.copies import ASIDE, by_job, counted, found, join_beside, settle
from sitelog.job.storage.disk import beside
from sitelog.job.storage.file import JobFile
from sitelog.job.storage.store import WholeFile
from sitelog.job.storage.verify import verify
from sitelog.refusal import Refusal
from tests.job.logs import after, author, log, saved, tree
from tests.job.pictures import png

# As programs call a copy, and as people whose machine speaks another language find it.
NAMES = (
    "barn (conflicted copy of tablet).json",
    "barn.sync-conflict-20261130-101010-ABCDEFG.json",
    "barn (1).json",
    "barn (Kopie in Konflikt 2026-11-30).json",
    "Kopie von barn.json",
    "barn (copie en conflit).json",
    "barn_競合コピー.json",
    "barn.json.~1~",
)


@pytest.fixture
def job(tmp_path: Path) -> Path:
    return saved(tmp_path / "barn.json", log(3))


def went_on(job: Path, name: str, *notes: str, device: str = "phone001") -> Path:
    """A copy beside the job that went on on another device."""
    with JobFile.open(job, read_only=True) as file:
        entries = list(file.entries)
    for number, note in enumerate(notes):
        before = next((entry for entry in reversed(entries) if entry.device == device), None)
        entries.append(seal(Draft(act="note", note=note), author(device, 90 + number), before, entries[-1].id))
    elsewhere = job.parent / "elsewhere"
    elsewhere.mkdir()
    shutil.move(saved(elsewhere / "barn.json", entries), job.with_name(name))
    shutil.rmtree(elsewhere)
    return job.with_name(name)


def held(job: Path) -> list[Entry]:
    with JobFile.open(job, read_only=True) as file:
        return file.entries


def seen(job: Path) -> list[tuple[str, int]]:
    return [(copy.path.name, copy.new) for copy in found(job, held(job))]


def told(job: Path) -> list[tuple[str, int, str]]:
    """What is said of the copies, where the record is gone through row by row, which must be what `found` says."""
    without = [(copy.name, copy.new, copy.why) for copy in counted(job)]
    assert without == [(copy.name, copy.new, copy.why) for copy in found(job, held(job))]
    return without


def names(settled: Sequence[module.Copy]) -> list[str]:
    return [copy.path.name for copy in settled]


@pytest.mark.parametrize("name", NAMES)
def test_a_copy_is_found_by_the_job_in_it_joined_and_put_aside(job: Path, name: str) -> None:
    raw = went_on(job, name, "one", "two").read_bytes()
    assert seen(job) == [(name, 2)]
    done = join_beside(job)
    assert (done.entries, names(done.aside), done.removed, done.stays) == (2, [name], (), ())
    assert [entry.note for entry in held(job)][-2:] == ["one", "two"]
    assert not job.with_name(name).exists()
    assert (beside(job) / "copies" / f"{ASIDE}{name}").read_bytes() == raw
    assert seen(job) == []
    assert verify(job) == []
    with TinyDB(job) as plain:
        assert len(plain.table("entries")) == 5


def test_a_copy_with_nothing_new_is_removed(job: Path) -> None:
    before = job.read_bytes()
    shutil.copy(job, job.with_name(NAMES[0]))
    assert seen(job) == [(NAMES[0], 0)]
    done = join_beside(job)
    assert (done.entries, done.aside, names(done.removed)) == (0, (), [NAMES[0]])
    assert job.read_bytes() == before
    assert sorted(path.name for path in job.parent.rglob("*.json")) == ["barn.json"]


def test_any_number_of_copies_gives_the_same_bytes_in_any_order(job: Path, tmp_path: Path) -> None:
    went_on(job, "barn (1).json", "one")
    went_on(job, "barn (2).json", "two", "three", device="phone002")
    shutil.copytree(tmp_path, other := tmp_path / "other")
    (other / "barn (1).json").rename(other / "barn (3).json")
    assert join_beside(job).entries == join_beside(other / "barn.json").entries == 3
    assert job.read_bytes() == (other / "barn.json").read_bytes()


def test_kept_copies_are_not_copies_of_each_other(job: Path) -> None:
    for number in range(2):
        with JobFile.open(job) as file:
            file.append([after(file.entries, str(number))])
    first, second = sorted((beside(job) / "copies").iterdir())
    assert seen(first) == seen(second) == []
    with pytest.raises(Refusal, match="backup copy"):
        join_beside(first)
    assert first.exists() and second.exists()


def test_beside_a_job_that_is_only_read_nothing_is_removed(job: Path) -> None:
    copy = Path(shutil.copy(job, job.with_name("barn (1).json")))
    job.write_bytes(job.read_bytes().replace(b'"format":1', b'"format":2'))
    with pytest.raises(Refusal, match="newer sitelog"):
        join_beside(job)
    assert copy.exists()


def test_two_of_one_name_are_both_kept(job: Path) -> None:
    for note in ("one", "two"):
        went_on(job, "barn (1).json", note, device=f"phone-{note}"[:8])
        join_beside(job)
    assert sorted(path.name for path in (beside(job) / "copies").glob(f"{ASIDE}*")) == [
        f"{ASIDE}2-barn (1).json",
        f"{ASIDE}barn (1).json",
    ]


def test_its_photos_come_with_it_and_its_folder_goes_with_it(job: Path, tmp_path: Path) -> None:
    copy = went_on(job, "barn (1).json")
    (tmp_path / "strap.png").write_bytes(png())
    picture = look(tmp_path / "strap.png")
    with JobFile.open(copy) as file:
        keep(file.files, [picture])
        last = file.entries[-1]
        draft = Draft(act="note", value={"photos": [msgspec.to_builtins(picture.photo)]}, note="strap")
        file.append([seal(draft, author("phone001", 99), None, last.id)])
    done = join_beside(job)
    assert (done.entries, done.photos, names(done.aside)) == (1, 1, ["barn (1).json"])
    assert stands(beside(job), picture.photo) == "there"
    assert verify(job) == []
    aside = beside(job) / "copies" / f"{ASIDE}barn (1).json"
    assert aside.exists() and stands(beside(aside), picture.photo) == "there"
    assert not copy.exists() and not beside(copy).exists()


def test_a_copy_with_a_folder_of_its_own_is_never_removed(job: Path) -> None:
    copy = Path(shutil.copy(job, job.with_name("barn (1).json")))
    JobFile.open(copy).close()
    assert names(join_beside(job).aside) == ["barn (1).json"]
    assert (beside(job) / "copies" / f"{ASIDE}barn (1).json.files").is_dir()


def test_which_of_them_is_the_job(job: Path, tmp_path: Path) -> None:
    """None whose name is made of another's; of the rest that with a folder of its own, or the shortest name."""
    copy = Path(shutil.copy(job, job.with_name("barn (1).json")))
    JobFile.open(copy).close()
    other = Path(shutil.copy(job, job.with_name("b.json")))
    (paths,) = by_job(tmp_path).values()
    assert paths == [job, other, copy]
    assert [path for path, _ in seen(other)] == ["barn (1).json"], "the job is no copy of its copy"
    assert [copy.spare for copy in found(job, held(job))] == [False, True], "its name says whose copy it is"


def test_what_is_no_copy_is_left_alone(job: Path, tmp_path: Path) -> None:
    saved(tmp_path / "barn 2.json", log(2, text="of another job")[:1])
    os.utime(tmp_path / "barn 2.json")
    (tmp_path / "backup").mkdir()
    shutil.copy(job, tmp_path / "backup" / "barn.json")
    shutil.copy(job, tmp_path / ".barn.json.tmp")
    (tmp_path / "barn (2).json").symlink_to(job)
    (tmp_path / "notes.json").write_text("{}")
    (tmp_path / "barn (3).json").mkdir()
    other = saved(tmp_path / "shed.json", [seal(Draft(act="start", value=START), author("tablet02"), None)])
    (tmp_path / "barn 2.json").unlink()
    before = tree(tmp_path)
    assert seen(job) == []
    assert join_beside(job) == module.Settled()
    assert {**before, **tree(tmp_path)} == before
    assert held(other)[0].device == "tablet02"


START = {"title": "Shed", "place": "Yard", "units": "mm"}


def test_a_copy_that_can_not_be_joined_stays_and_says_why(job: Path) -> None:
    copy = went_on(job, "barn (1).json", "one")
    raw = copy.read_bytes()
    for spoilt, why in (
        (raw[:-20], "is damaged"),
        (raw.replace(b'"format":1', b'"format":2'), "newer sitelog"),
        (raw.replace(b"4501.5", b"4502.5"), "contradict|two different|changed"),
    ):
        copy.write_bytes(spoilt)
        (there,) = found(job, held(job))
        assert there.why, why
        done = join_beside(job)
        assert (done.entries, names(done.stays)) == (0, ["barn (1).json"])
        assert copy.read_bytes() == spoilt
    assert len(held(job)) == 3


def test_what_a_copy_has_is_counted_without_holding_it(job: Path) -> None:
    assert counted(job) == []
    went_on(job, "barn (1).json", "one", "two")
    shutil.copy(job, job.with_name("barn (2).json"))
    assert told(job) == [("barn (1).json", 2, ""), ("barn (2).json", 0, "")]
    assert [copy.entries for copy in counted(job)] == [(), ()]


def test_what_is_not_sound_or_says_otherwise_is_looked_into(job: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    copy = went_on(job, "barn (1).json", "one")
    sound = copy.read_bytes()
    for spoilt in (sound[:-20], sound.replace(b"4501.5", b"4502.5"), sound.replace(b":", b": ", 1)):
        copy.write_bytes(spoilt)
        assert len(told(job)) == 1
    copy.write_bytes(sound)
    went_on(job, "barn (2).json", "another", device="phone001")
    shutil.move(job.with_name("barn (2).json"), job)
    assert told(job)[0][1:] == (1, ""), "one id, two entries: each device has its own"
    with monkeypatch.context() as patch:
        patch.setattr(WholeFile, "read_bytes", refused)
        with pytest.raises(Refusal):
            counted(job)


def refused(_store: WholeFile) -> bytes:
    raise Refusal("It can't be read.")


def test_a_job_of_one_beginning_alone_is_no_copy(job: Path) -> None:
    other = [seal(Draft(act="start", value=START), author(), None)]
    assert other[0].id == held(job)[0].id
    saved(job.with_name("shed.json"), other)
    assert told(job) == []


def test_a_copy_that_is_open_is_left_until_it_is_closed(job: Path) -> None:
    copy = went_on(job, "barn (1).json", "one")
    with JobFile.open(copy) as file:
        file.append([after(file.entries)])
        done = join_beside(job)
        assert (done.entries, names(done.stays)) == (2, ["barn (1).json"])
        assert "already open" in done.stays[0].why
        assert copy.exists()
    assert names(join_beside(job).aside) == ["barn (1).json"]


def test_a_copy_that_is_changed_meanwhile_is_put_back(job: Path) -> None:
    copy = Path(shutil.copy(job, job.with_name("barn (1).json")))
    with JobFile.open(job) as file:
        before = found(job, file.entries)
        copy.unlink()
        went_on(job, "barn (1).json", "one")
        done = settle(file, before)
        assert done.stays[0].why == "barn (1).json was changed just now. Try again."
        assert settle(file, found(job, file.entries)).entries == 1
    assert len(held(job)) == 4


def test_one_that_can_not_be_moved_stays(job: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    went_on(job, "barn (1).json", "one")

    def refused(*_: object) -> None:
        raise PermissionError(13, "Permission denied")

    with monkeypatch.context() as patch, JobFile.open(job) as file:
        copies = found(job, file.entries)
        patch.setattr("sitelog.job.storage.copies.make_folder", refused)
        (stays,) = settle(file, copies).stays
        assert stays.why == "barn (1).json can't be moved: you don't have permission."
    assert len(held(job)) == 4


def test_a_folder_that_can_not_be_listed_has_no_copies(job: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    def refused(*_: object) -> None:
        raise PermissionError(13, "Permission denied")

    monkeypatch.setattr("sitelog.job.storage.copies.os.scandir", refused)
    assert by_job(job.parent) == {}
    monkeypatch.undo()
    shutil.copy(job, job.with_name("barn (1).json"))
    monkeypatch.setattr("sitelog.job.storage.copies.stamp", refused)
    assert [copy.why for copy in found(job, held(job))] == ["you don't have permission"]


def test_a_job_of_any_name_has_its_copies(job: Path) -> None:
    """The command takes a file of whatever name."""
    shutil.copy(job, job.with_name("barn"))
    assert [name for name, _ in seen(job.with_name("barn"))] == ["barn.json"]


# --- journals, which such a program renames in the job's folder ---


@pytest.mark.parametrize("name", ["journal.phone001.sync-conflict-2026", "Kopie von journal.phone001", "(1) j"])
def test_a_renamed_journal_is_read_whatever_it_is_called(job: Path, name: str) -> None:
    copy = went_on(job, "away.json")
    with JobFile.open(copy, author=author("phone001")) as file:
        file.append([seal(Draft(act="note", note="one"), author("phone001", 91), None, file.entries[-1].id)])
        (beside(job) / name).write_bytes((file.files / "journal.phone001").read_bytes())
    shutil.rmtree(beside(copy))
    copy.unlink()
    assert [entry.note for entry in held(job)][-1] == "one"
    JobFile.open(job).close()
    with TinyDB(job) as plain:
        assert len(plain.table("entries")) == 4
    assert verify(job) == []


def test_a_renamed_journal_goes_once_its_own_has_all_of_it(job: Path) -> None:
    with JobFile.open(job) as file:
        file.append([after(file.entries, "one")])
        older = (file.files / "journal.tablet01").read_bytes()
        file.append([after(file.entries, "two")])
    newer = (beside(job) / "journal.tablet01").read_bytes()
    (beside(job) / "journal.tablet01 (1)").write_bytes(older)
    JobFile.open(job).close()
    assert [path.name for path in beside(job).glob("*journal*")] == ["journal.tablet01"]
    (beside(job) / "journal.tablet01").write_bytes(older)
    (beside(job) / "journal.tablet01 (1)").write_bytes(newer)
    JobFile.open(job).close()
    assert (beside(job) / "journal.tablet01 (1)").read_bytes() == newer, "it alone has the last of them"


def test_what_can_not_be_read_in_the_jobs_folder_is_no_journal(job: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    (beside(job) / "stray").write_bytes(b'{"journal":')
    (beside(job) / "folder").mkdir()
    import builtins

    real = builtins.open

    def refused(path: object, *more: object) -> object:
        if str(path).endswith("stray"):
            raise PermissionError(13, "Permission denied")
        return real(path, *more)  # type: ignore[call-overload]

    monkeypatch.setattr("builtins.open", refused)
    assert len(held(job)) == 3
