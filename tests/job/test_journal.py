"""What stands beside an open job: read with it by everyone, folded in, and never mixed with what it is not of."""

import errno
import hashlib
import os
import random
import resource
import shutil
from collections.abc import Callable
from pathlib import Path
from typing import Any

import msgspec
import pytest

from sitelog.job.actions import actions
from sitelog.job.actions.setup import JobSetup
from sitelog.job.job import Job
from sitelog.job.log.entry import Entry
from sitelog.job.machine.lock import Lock
from sitelog.job.storage import disk
from sitelog.job.storage.file import JobFile
from sitelog.job.storage.format import tables
from sitelog.job.storage.lines import sum_of
from sitelog.job.storage.merge import merge
from sitelog.job.storage.verify import verify
from sitelog.refusal import DAMAGED, NOT_SAVED, Refusal
from tests.job.logs import after, log, saved, tree
from tests.job.roof import LIBRARY
from tests.job.test_job import FIGURES, HAND, later
from tests.length import LONG, grows

ENTRIES = log(10)
BARN = JobSetup(title="Barn", place="", units="metric", parts=[("main", "M", "hipped", FIGURES)])


@pytest.fixture
def job(tmp_path: Path) -> Path:
    """A job whose writer was killed after six saves, one of them of two entries."""
    return crashed(tmp_path / "barn.json")


def crashed(job: Path, *saves: int) -> Path:
    place = job.parent / "crashed"
    place.mkdir()
    file = JobFile.create(place / job.name, ENTRIES[:3])
    at = 3
    for count in saves or (1, 1, 2, 1, 1, 1):
        file.append(ENTRIES[at : at + count])
        at += count
    shutil.copytree(place, job.parent, dirs_exist_ok=True)
    file.close()
    shutil.rmtree(place)
    return job


def journal(job: Path) -> Path:
    return job.with_name(f"{job.name}.files") / "journal.tablet01"


def lines(job: Path) -> list[bytes]:
    return journal(job).read_bytes().splitlines(keepends=True)


def test_a_reader_sees_the_file_and_the_journal_and_touches_neither(job: Path) -> None:
    before = tree(job.parent)
    assert len(msgspec.json.decode(job.read_bytes())["entries"]) == 3
    with JobFile.open(job, read_only=True) as file:
        assert file.entries == ENTRIES
        assert file.why_read_only == "it is open read-only"
    assert (file.why_read_only, file.left_beside) == ("it is open read-only", "")
    assert verify(job) == []
    assert tree(job.parent) == before


def test_what_is_open_to_read_only_folds_nothing(job: Path) -> None:
    before = tree(job.parent)
    with JobFile.open(job, read_only=True) as file, pytest.raises(Refusal, match="open read-only"):
        file.checkpoint()
    assert tree(job.parent) == before


def test_the_next_writer_folds_in_what_a_crash_has_left(job: Path) -> None:
    with JobFile.open(job) as file:
        assert file.entries == ENTRIES
        assert job.read_bytes() == msgspec.json.encode(tables(ENTRIES))


def test_a_line_is_one_save_with_a_sum_that_hangs_on_the_line_before(job: Path) -> None:
    heading, *saves = lines(job)
    assert msgspec.json.decode(heading.rpartition(b" ")[0])["job"] == ENTRIES[0].id
    assert [len(msgspec.json.decode(line.rpartition(b" ")[0])) for line in saves] == [1, 1, 2, 1, 1, 1]
    before = b""
    for line in (heading, *saves):
        text, _, said = line.removesuffix(b"\n").rpartition(b" ")
        assert said == hashlib.sha256(before + text).hexdigest()[:16].encode()
        before = said


def test_a_last_line_cut_anywhere_is_left_out_and_told(job: Path) -> None:
    whole = journal(job).read_bytes()
    last = len(lines(job)[-1])
    for cut in range(1, last):
        journal(job).write_bytes(whole[:-cut])
        with JobFile.open(job, read_only=True) as file:
            assert file.entries == ENTRIES[:-1]
        assert verify(job) == [
            "barn.json.files/journal.tablet01 stops part-way through its last line. "
            "That entry was never confirmed as saved."
        ]
    journal(job).write_bytes(whole[: -last // 2] + bytes(last // 2))
    with JobFile.open(job) as file:
        assert (file.entries, file.why_read_only) == (ENTRIES[:-1], "")
    assert verify(job) == []


def test_a_save_of_two_entries_is_there_with_both_or_with_none(tmp_path: Path) -> None:
    job = crashed(tmp_path / "barn.json", 1, 2)
    whole = journal(job).read_bytes()
    seen = set()
    for cut in range(len(lines(job)[-1]) + 1):
        journal(job).write_bytes(whole[: len(whole) - cut])
        seen.add(len(JobFile.open(job, read_only=True).entries))
    assert seen == {4, 6}


@pytest.mark.parametrize("number", range(1, 7))
def test_a_damaged_line_is_told_and_the_job_only_read_until_it_is_brought_together(job: Path, number: int) -> None:
    row = lines(job)
    row[number - 1] = row[number - 1].replace(b'"', b"'", 1)
    broken = b"".join(row)
    journal(job).write_bytes(broken)
    which = "its first line" if number == 1 else f"its line {number}"
    with JobFile.open(job) as file:
        assert file.why_read_only == (
            f"barn.json.files/journal.tablet01 is damaged: {which} has been changed since it was written;"
            " join them with: sitelog merge barn.json COPY"
        )
        read = file.entries
        assert len(read) == 3 if number == 1 else len(read) in (8, 9)
        with pytest.raises(Refusal, match=r"open read-only: barn\.json\.files/journal.tablet01 is damaged") as refused:
            file.append([after(ENTRIES)])
        assert refused.value.code == NOT_SAVED
    first, *others = verify(job)
    assert first == f"barn.json.files/journal.tablet01: {which} has been changed since it was written."
    assert not any("breaks off" in fault for fault in others)
    assert journal(job).read_bytes() == broken
    merge(job, [])
    with JobFile.open(job) as file:
        assert (file.entries, file.why_read_only) == (read, "")
    assert (journal(job).with_name("journal.broken")).read_bytes() == broken
    if number > 1:
        assert any("missing" in fault for fault in verify(job))


def damaged_last_line(job: Path) -> bytes:
    """One changed byte in the last line, which was confirmed: its id still stands in it."""
    row = lines(job)
    row[-1] = row[-1].replace(b"A. Foreman", b"A. Foremen")
    return b"".join(row)


def test_a_whole_last_line_whose_sum_is_wrong_is_damage_is_named_and_is_never_taken_away(job: Path) -> None:
    broken, files = damaged_last_line(job), journal(job).parent
    journal(job).write_bytes(broken)
    said = (
        "barn.json.files/journal.tablet01: its line 7 has been changed since it was written. It can't be read, and is "
        "kept beside the job. If a copy has what it held, join it: sitelog merge barn.json COPY"
    )
    with JobFile.open(job, read_only=True) as file:
        assert (file.entries, file.damage) == (ENTRIES[:-1], said)
    assert verify(job) == ["barn.json.files/journal.tablet01: its line 7 has been changed since it was written."]
    lost = f" has 1 entry that can't be read or found in the record: {ENTRIES[-1].id}."
    with JobFile.open(job) as file:
        assert (file.entries, file.damage, file.why_read_only) == (ENTRIES[:-1], said, "")
        file.append([after(ENTRIES[:-1], "the next act")])
    assert (files / "journal.broken").read_bytes() == broken
    assert verify(job) == [f"barn.json.files/journal.broken{lost}"]
    # Another of the kind is kept beside it, and both are silent once a copy has brought what they held.
    job.write_bytes(msgspec.json.encode(tables(ENTRIES[:3])))
    journal(job).write_bytes(broken)
    JobFile.open(job).close()
    assert verify(job) == [f"barn.json.files/journal.broken{lost}", f"barn.json.files/journal.broken-2{lost}"]
    copy = saved(job.with_name("copy.json"), ENTRIES)
    assert merge(job, [copy]) == 1
    assert verify(job) == []


def test_a_journal_with_nothing_but_a_damaged_line_is_kept_when_the_next_is_begun(tmp_path: Path) -> None:
    job = crashed(tmp_path / "barn.json", 1)
    broken = damaged_last_line(job)
    journal(job).write_bytes(broken)
    with JobFile.open(job) as file:
        file.append([after(ENTRIES[:3])])
        assert journal(job).with_name("journal.broken").read_bytes() == broken
        assert len(JobFile.open(job, read_only=True).entries) == 4
    kept = journal(job).with_name("journal.broken")
    kept.write_bytes(broken.replace(ENTRIES[3].id.encode(), b"?"))
    assert verify(job) == ["barn.json.files/journal.broken has 1 entry that can't be read or found in the record."]
    kept.unlink()
    kept.mkdir()
    assert verify(job) == ["barn.json.files/journal.broken is a folder: move it away."]


def test_a_last_line_whose_end_alone_was_changed_is_damage_and_one_that_never_was_on_the_disk_is_not(job: Path) -> None:
    whole = journal(job).read_bytes()
    journal(job).write_bytes(whole[:-1] + b"x")
    assert JobFile.open(job, read_only=True).damage
    last = len(lines(job)[-1])
    journal(job).write_bytes(whole[:-last] + bytes(64) + whole[64 - last :])
    with JobFile.open(job) as file:
        assert (file.entries, file.damage) == (ENTRIES[:-1], "")
    assert verify(job) == []


def test_a_first_line_with_another_digit_in_it_is_damage(job: Path) -> None:
    """It can still be read, and says something else: none of it is believed."""
    row = lines(job)
    for old, new in ((b'"seq":3', b'"seq":2'), (ENTRIES[0].id.encode(), ENTRIES[1].id.encode())):
        journal(job).write_bytes(b"".join([row[0].replace(old, new, 1), *row[1:]]))
        assert "its first line has been changed since it was written" in JobFile.open(job).why_read_only
        assert (
            verify(job)[0] == "barn.json.files/journal.tablet01: its first line has been changed since it was written."
        )


def test_another_device_may_begin_in_a_journal(job: Path, tmp_path: Path) -> None:
    """Its first entry follows none, and is not taken for one whose forerunner is gone."""
    from tests.job.test_merge import went_on

    (tmp_path / "next").mkdir()
    place = tmp_path / "next" / "barn.json"
    file = JobFile.create(tmp_path / "barn-2.json", ENTRIES[:3])
    file.append(went_on(ENTRIES[:3], 2, "phone-02")[3:])
    shutil.copy(tmp_path / "barn-2.json", place)
    shutil.copytree(tmp_path / "barn-2.json.files", tmp_path / "next" / "barn.json.files")
    file.close()
    assert verify(place) == []
    # The file is another than the one that the journal goes on from, and has all that it needs.
    place.write_bytes(msgspec.json.encode(tables(ENTRIES[:4])))
    with JobFile.open(place) as opened:
        assert (opened.why_read_only, len(opened.entries)) == ("", 6)
    assert verify(place) == []


def test_an_entry_of_a_journal_whose_name_is_not_its_number_is_told(job: Path) -> None:
    resummed(job, one(2, seq=9))
    assert any("its id isn't that of number 9 from device tablet01" in fault for fault in verify(job))


def test_a_handle_that_can_not_be_closed_costs_nothing(job: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    real = os.close

    def broken(handle: int) -> None:
        real(handle)
        raise OSError(errno.EIO, "Input/output error")

    with JobFile.open(job) as file:
        file.append([after(file.entries)])
        held = file.entries
        with monkeypatch.context() as patch:
            patch.setattr("sitelog.job.storage.journal.os.close", broken)
            file._journals.close()
        file.append([after(file.entries)])
        assert JobFile.open(job, read_only=True).entries[:-1] == held


def test_a_line_that_is_missing_or_stands_elsewhere_is_damage(job: Path) -> None:
    row = lines(job)
    for changed in ([*row[:3], *row[4:]], [row[0], row[2], row[1], *row[3:]], row[1:], [*row, row[2], row[3]], [b""]):
        journal(job).write_bytes(b"".join(changed))
        assert "files/journal.tablet01 is damaged" in JobFile.open(job).why_read_only
        assert verify(job)


def test_lines_too_short_to_be_one_are_damage_and_cost_no_line_after_them(job: Path) -> None:
    row = lines(job)
    journal(job).write_bytes(b"".join([*row[:2], b"\n", b"x\n", b"\n", *row[2:]]))
    file = JobFile.open(job)
    assert "its line 3 has been changed since it was written" in file.why_read_only
    assert file.entries == ENTRIES


@grows
def test_any_single_change_of_the_journal_is_found(job: Path) -> None:
    whole = journal(job).read_bytes()
    chance = random.Random(5)
    for _ in range(10_000 if LONG else 400):
        at, byte = chance.randrange(len(whole)), chance.randrange(256)
        changed = whole[:at] + bytes([byte]) + whole[at + 1 :]
        journal(job).write_bytes(changed)
        faults = verify(job)
        assert bool(faults) == (changed != whole), (at, byte)
        assert all(fault.isprintable() for fault in faults)


# --- whose it is ---


def test_a_journal_of_another_job_is_refused(job: Path, tmp_path: Path) -> None:
    job.write_bytes(msgspec.json.encode(tables(log(3, "phone-02"))))
    before = tree(tmp_path)
    for read_only in (False, True):
        with pytest.raises(Refusal, match=r"barn.json.files/journal.tablet01 belongs to another job") as refused:
            JobFile.open(job, read_only=read_only)
        assert refused.value.code == DAMAGED
    assert verify(job) == ["barn.json.files/journal.tablet01 belongs to another job."]
    assert tree(tmp_path) == before


def test_what_stands_in_file_and_journal_stands_there_once(job: Path) -> None:
    """Killed between the file's new state and the journal's end: nobody knows if the new name was on the disk yet."""
    left = journal(job).read_bytes()
    for entries in (ENTRIES, [*ENTRIES, after(ENTRIES)]):
        job.write_bytes(msgspec.json.encode(tables(entries)))
        journal(job).write_bytes(left)
        assert verify(job) == []
        with JobFile.open(job) as file:
            assert (file.entries, file.why_read_only) == (entries, "")
        assert journal(job).exists(), "what it holds may be all there is, when another tablet's file comes here"
        assert job.read_bytes() == msgspec.json.encode(tables(entries))


def test_a_journal_of_before_beside_an_older_copy_is_read_but_goes_on_from_nothing(job: Path) -> None:
    """The one journal of an earlier program goes on from the file beside it."""
    JobFile.open(job).close()
    journal(job).unlink()
    with JobFile.open(job) as file:
        file.append([after(file.entries)])
        left, everything = journal(job).read_bytes(), file.entries
    shutil.copy(job, job.with_name("whole.json"))
    older = msgspec.json.encode(tables(ENTRIES[:5]))
    job.write_bytes(older)
    journal(job).unlink()
    old = journal(job).with_name("journal")
    old.write_bytes(left)
    with JobFile.open(job) as file:
        assert "looks like an older copy of the job: newer entries are" in file.why_read_only
        assert file.entries == [*ENTRIES[:5], everything[-1]]
    assert "the entry before it is" in verify(job)[0]
    assert (job.read_bytes(), old.read_bytes()) == (older, left)
    merge(job, [job.with_name("whole.json")])
    with JobFile.open(job) as file:
        assert (file.entries, file.why_read_only) == (everything, "")
    assert verify(job) == []
    assert not old.exists()


def test_a_devices_journal_beside_an_older_copy_is_joined_and_what_is_missing_is_told(job: Path) -> None:
    """A sync folder brings one before the other: nothing waits for it, and nothing is lost by going on."""
    whole = JobFile.open(job)
    whole.append([after(whole.entries)])
    whole.close()
    job.write_bytes(msgspec.json.encode(tables(ENTRIES[:2])))
    assert any("the entry before it is missing" in fault for fault in verify(job))
    with JobFile.open(job) as file:
        assert (file.why_read_only, len(file.entries)) == ("", 10)
        file.join(ENTRIES)
    assert verify(job) == []


def test_a_long_journal_of_one_device_alone_is_begun_anew_once_the_file_holds_it(job: Path) -> None:
    from sitelog.job.storage.journals import LONG
    from tests.job.test_merge import went_on

    with JobFile.open(job) as file:
        file.append([after(file.entries, "x" * LONG)])
        assert journal(job).stat().st_size > LONG
    assert journal(job).exists(), "it stays till the file is found to hold it"
    with JobFile.open(job) as file:
        assert not journal(job).exists()
        file.append([after(file.entries, "x" * LONG)])
    with JobFile.open(job) as file:
        file.join(went_on(file.entries, 1, "phone-02"))
    with JobFile.open(job) as file:
        assert len(file.entries) == 13
        assert not journal(job).exists()
        file.append([after(file.entries, "x" * LONG)])
    JobFile.open(job).close()
    assert journal(job).exists(), "another device's file may come here that does not hold it"
    assert verify(job) == []


def test_a_journal_beside_a_copy_of_another_tablet_is_joined_with_it(job: Path) -> None:
    """A sync folder put the other tablet's file there while the program was down."""
    from tests.job.test_merge import went_on

    other = went_on(ENTRIES[:3], 2, "phone-02")
    job.write_bytes(msgspec.json.encode(tables(other)))
    with JobFile.open(job) as file:
        assert file.why_read_only == ""
        assert len(file.entries) == len(ENTRIES) + 2
    assert verify(job) == []


def resummed(job: Path, change: Callable[[int, Any], Any]) -> None:
    """The journal's lines as another program would have written them."""
    before, made = b"", b""
    for number, line in enumerate(lines(job)):
        text = line.rpartition(b" ")[0]
        changed = change(number, msgspec.json.decode(text))
        text = changed if isinstance(changed, bytes) else msgspec.json.encode(changed)
        before = sum_of(before, text)
        made += b"%s %s\n" % (text, before)
    journal(job).write_bytes(made)


def one(line: int, **change: Any) -> Callable[[int, Any], Any]:
    def changed(number: int, found: Any) -> Any:
        if number == line:
            (found if isinstance(found, dict) else found[0]).update(change)
        return found

    return changed


@pytest.mark.parametrize(
    ("change", "why", "count"),
    [
        (one(0, journal=2), "its newest entries were written by a newer sitelog", 3),
        (one(2, act="weigh"), "its newest entries have something this sitelog doesn't know", 10),
        (one(2, weight_kg=30), "its newest entries have something this sitelog doesn't know", 10),
        (one(2, offset=1000000000), "its newest entries have something this sitelog doesn't know", 9),
        (one(2, seq="5"), "its newest entries have something this sitelog doesn't know", 9),
        (one(2, id="x"), "its newest entries have something this sitelog doesn't know", 9),
        (
            lambda n, found: b"\xff" if n == 2 else found,
            "its newest entries have something this sitelog doesn't know",
            9,
        ),
        (lambda n, found: 7 if n == 2 else found, "its newest entries have something this sitelog doesn't know", 9),
        (
            lambda n, found: 7 if n == 0 else found,
            "files/journal.tablet01 is damaged: its first line has been changed since it was written",
            3,
        ),
        (
            lambda n, found: b"{" if n == 0 else found,
            "files/journal.tablet01 is damaged: its first line has been changed",
            3,
        ),
        (
            one(0, journal="1"),
            "files/journal.tablet01 is damaged: its first line has been changed since it was written",
            3,
        ),
    ],
)
def test_a_journal_that_is_not_fully_understood_is_read_and_never_written(
    job: Path, change: Callable[[int, Any], Any], why: str, count: int
) -> None:
    resummed(job, change)
    before = tree(job.parent)
    with JobFile.open(job) as file:
        assert why in file.why_read_only
        assert len(file.entries) == count
        with pytest.raises(Refusal, match="Not saved"):
            file.append([after(ENTRIES)])
    assert any(why.partition(": ")[2] or why in fault for fault in verify(job))
    assert tree(job.parent) == before


def test_a_journal_that_says_otherwise_than_the_file_is_refused(job: Path) -> None:
    entries = [*ENTRIES[:4], msgspec.structs.replace(ENTRIES[4], note="other"), ENTRIES[5]]
    job.write_bytes(msgspec.json.encode(tables(entries)))
    with pytest.raises(Refusal, match=f"Two different entries have the id {ENTRIES[4].id}"):
        JobFile.open(job)
    assert "(answer main.plates.side-4, by A. Foreman): its copy in the folder beside the job is different." in "".join(
        verify(job)
    )


@pytest.mark.parametrize(
    ("step", "error", "says"),
    [
        ("open", PermissionError(errno.EACCES, "Permission denied"), "you don't have permission"),
        ("stat", OSError(errno.EIO, "Input/output error"), "the disk reports an error"),
    ],
    ids=["open", "stat"],
)
@pytest.mark.parametrize("read_only", [False, True])
def test_a_journal_that_can_not_be_read_is_told(
    job: Path, monkeypatch: pytest.MonkeyPatch, read_only: bool, step: str, error: OSError, says: str
) -> None:
    real = getattr(Path, step)

    def barred(path: Path, *more: Any, **named: Any) -> Any:
        if path.name == "journal.tablet01":
            raise error
        return real(path, *more, **named)

    monkeypatch.setattr(Path, step, barred)
    with pytest.raises(Refusal, match=f"barn.json.files/journal.tablet01 can't be read: {says}"):
        JobFile.open(job, read_only=read_only)


def test_a_folder_in_the_place_of_a_journal_is_told(job: Path) -> None:
    journal(job).unlink()
    journal(job).mkdir()
    with pytest.raises(Refusal, match=r"is a folder"):
        JobFile.open(job)


def test_a_journal_folded_in_while_it_is_being_read_is_no_fault(job: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    def load(path: Path, name: str = "") -> Any:
        monkeypatch.setattr("sitelog.job.storage.journal.load", disk.load)
        JobFile.open(job).close()
        return disk.load(path, name)

    monkeypatch.setattr("sitelog.job.storage.journal.load", load)
    with JobFile.open(job, read_only=True) as file:
        assert file.entries == ENTRIES


# --- written ---


def test_what_another_program_made_of_the_journal_is_joined(tmp_path: Path) -> None:
    """Removed by a sync folder, or put back as another tablet wrote it: what is held here is saved whole."""
    job = saved(tmp_path / "barn.json", ENTRIES[:3])
    theirs = tmp_path / "theirs" / "barn.json"
    theirs.parent.mkdir()
    crashed(theirs, 2)
    with JobFile.open(job) as file:
        file.append([after(ENTRIES[:3], "ours")])
        journal(job).unlink()
        file.append([after(file.entries, "again")])
        assert len(JobFile.open(job, read_only=True).entries) == 5
        shutil.copy(journal(theirs), journal(job))
        file.append([after(file.entries, "and again")])
        assert len(file.entries) == 8
        assert JobFile.open(job, read_only=True).entries == file.entries
    assert verify(job) == []


def test_a_journal_that_did_not_take_a_line_is_begun_anew(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Half a line stands in the old one then, and after a failed sync nothing in it can be relied on."""
    job = saved(tmp_path / "barn.json", ENTRIES[:3])
    with JobFile.open(job) as file:
        file.append(ENTRIES[3:4])
        number = journal(job).stat().st_ino
        soft, hard = resource.getrlimit(resource.RLIMIT_FSIZE)
        for _ in range(2):
            resource.setrlimit(resource.RLIMIT_FSIZE, (journal(job).stat().st_size + 40, hard))
            try:
                with pytest.raises(
                    Refusal, match=r"Not saved: barn.json.files/journal.tablet01: the file can't be that large here"
                ) as caught:
                    file.append(ENTRIES[4:5])
            finally:
                resource.setrlimit(resource.RLIMIT_FSIZE, (soft, hard))
            assert caught.value.code == NOT_SAVED
            assert file.entries == ENTRIES[:4]
            assert JobFile.open(job, read_only=True).entries == ENTRIES[:4]
        other = after(ENTRIES[:4], "typed again")
        file.append([other])
        assert journal(job).stat().st_ino != number
        assert JobFile.open(job, read_only=True).entries == [*ENTRIES[:4], other]

        def interrupted(_: int) -> None:
            raise KeyboardInterrupt

        with monkeypatch.context() as patch:
            patch.setattr(os, "fsync", interrupted)
            with pytest.raises(KeyboardInterrupt):
                file.append([after(file.entries)])
        last = after(file.entries, "typed once more")
        file.append([last])
    assert JobFile.open(job, read_only=True).entries == [*ENTRIES[:4], other, last]
    assert verify(job) == []


def test_what_was_refused_and_given_up_is_not_there_when_the_job_is_opened_again(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """The line stands in the journal; only its sync failed, and nobody tried again."""
    for before in (0, 1):
        job = saved(tmp_path / f"{before}.json", ENTRIES[:3])
        with JobFile.open(job) as file:
            file.append(ENTRIES[3 : 3 + before])

            def fails(_: object) -> None:
                raise OSError(errno.EIO, "Input/output error")

            with monkeypatch.context() as patch:
                patch.setattr("sitelog.job.storage.journal.sync_folder", fails)
                patch.setattr(os, "fsync", fails if before else os.fsync)
                with pytest.raises(Refusal, match="the disk reports an error"):
                    file.append([after(file.entries, "given up")])
            assert len(JobFile.open(job, read_only=True).entries) == 4 + before
        assert JobFile.open(job).entries == ENTRIES[: 3 + before]


def test_a_file_that_can_not_be_brought_up_to_date_says_so_when_it_is_closed(
    job: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    def full(*_: object) -> None:
        raise OSError(errno.ENOSPC, "No space left on device")

    with monkeypatch.context() as patch:
        patch.setattr(Path, "replace", full)
        patch.setattr(os, "fsync", full)
        file = JobFile.open(job)
        assert (file.entries, file.why_read_only, file.left_beside) == (ENTRIES, "", "")
        with pytest.raises(Refusal, match="the disk is full"):
            file.append([after(ENTRIES)])
        file.close()
    assert file.left_beside == (
        "barn.json is missing its last entries. They are safe next to it, in barn.json.files, and go in when you "
        "next open it. Not saved: barn.json: the disk is full. The file has not changed. Try again."
    )
    with JobFile.open(job) as again:
        assert again.entries[:10] == ENTRIES
    assert again.left_beside == ""


def test_a_journal_that_can_not_be_removed_does_no_harm(job: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    real = Path.unlink

    def kept(path: Path, missing_ok: bool = False) -> None:
        if path.name == "journal":
            raise PermissionError(errno.EACCES, "Permission denied")
        real(path, missing_ok)

    journal(job).rename(journal(job).with_name("journal"))
    with monkeypatch.context() as patch:
        patch.setattr(Path, "unlink", kept)
        with JobFile.open(job) as file:
            raw = job.read_bytes()
            file.append([after(file.entries)])
            assert job.read_bytes() == raw
        with JobFile.open(job) as file:
            assert len(file.entries) == 11
    with JobFile.open(job):
        assert not journal(job).with_name("journal").exists()
    assert verify(job) == []


def test_a_job_closed_with_nothing_entered_is_not_written(tmp_path: Path) -> None:
    job = saved(tmp_path / "barn.json", ENTRIES)
    before = job.stat().st_mtime_ns
    for _ in range(2):
        with JobFile.open(job) as file:
            file.checkpoint()
    assert job.stat().st_mtime_ns == before
    assert sorted(tree(tmp_path)) == ["barn.json", "barn.json.files"]


def test_a_file_changed_before_the_lock_is_had_is_not_written_if_it_is_newer_then(
    job: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    take = Lock.take

    def slow(path: Path, *more: None) -> Lock:
        job.write_bytes(job.read_bytes().replace(b'"format":1', b'"format":2'))
        return take(path, *more)

    monkeypatch.setattr("sitelog.job.storage.file.Lock.take", slow)
    with JobFile.open(job) as file:
        assert file.why_read_only == "it was written by a newer sitelog"
        monkeypatch.undo()
        Lock.take(file.files).release()
        assert b'"format":2' in job.read_bytes() and journal(job).exists()


def test_a_disk_that_fails_before_the_lock_is_had_lets_the_lock_go(job: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    from sitelog.job.storage.store import WholeFile

    def fails(_: object) -> bool:
        raise OSError(errno.EIO, "Input/output error")

    with monkeypatch.context() as patch:
        patch.setattr(WholeFile, "changed", fails)
        with pytest.raises(Refusal, match=r"barn.json can't be read: the disk reports an error"):
            JobFile.open(job)
    JobFile.open(job).close()


# --- a job in hand ---


def test_at_handover_the_file_is_brought_up_to_date(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    path = tmp_path / "barn.json"
    with Job.create(path, LIBRARY, HAND, BARN) as job:
        job.do(actions.note(job.state, "main", "one"), later(1))
        job.do(actions.handover(job.state, "tiler", job.state.head), later(2))
        assert len(msgspec.json.decode(path.read_bytes())["entries"]) == 6

        def full(*_: object) -> None:
            raise OSError(errno.ENOSPC, "No space left on device")

        with monkeypatch.context() as patch:
            patch.setattr("os.link", full)
            patch.setattr("shutil.copy2", full)
            job.do(actions.handover(job.state, "tiler", job.state.head), later(3))
        assert job.state.entries == 7


def test_entries_of_another_copy_that_came_in_with_a_save_are_in_the_state(tmp_path: Path) -> None:
    path = tmp_path / "barn.json"
    with Job.create(path, LIBRARY, HAND, BARN) as job:
        other = Path(shutil.copy(path, tmp_path / "other.json"))
        with Job.open(other, LIBRARY) as copy:
            copy.do(actions.note(copy.state, "main", "from the other"), later(1))
        shutil.copy(other, path)
        job.do(actions.note(job.state, "main", "from this one"), later(2))
        notes: list[Entry] = [entry for entry in job.entries if entry.act == "note"]
        assert [entry.note for entry in notes] == ["from the other", "from this one"]
        assert job.state.entries == 6
    with Job.open(path, LIBRARY, read_only=True) as again:
        assert again.state == job.state
    assert verify(path) == []


def test_a_file_damaged_before_the_lock_is_had_is_refused_and_the_lock_let_go(
    job: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    take, good = Lock.take, job.read_bytes()

    def slow(path: Path, *more: None) -> Lock:
        job.write_bytes(good[:-9])
        return take(path, *more)

    with monkeypatch.context() as patch:
        patch.setattr("sitelog.job.storage.file.Lock.take", slow)
        with pytest.raises(Refusal, match=r"barn.json is damaged"):
            JobFile.open(job)
    job.write_bytes(good)
    JobFile.open(job).close()


def test_a_file_changed_while_it_is_being_folded_is_joined_at_the_next_try(
    job: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """The other program wins the race between the last look and the renaming: it is not overwritten."""
    from sitelog.job.storage.disk import Stamp, fill
    from tests.job.test_merge import went_on

    theirs = msgspec.json.encode(tables(went_on(ENTRIES, 1, "phone-02")))

    def slow(handle: int, raw: bytes) -> Stamp:
        made = fill(handle, raw)
        job.write_bytes(theirs)
        return made

    with JobFile.open(job) as file:
        file.append([after(ENTRIES)])
        with monkeypatch.context() as patch:
            patch.setattr("sitelog.job.storage.store.fill", slow)
            with pytest.raises(Refusal, match=r"another program changed barn.json after you opened") as refused:
                file.checkpoint()
        assert refused.value.code == NOT_SAVED
        assert job.read_bytes() == theirs
        file.checkpoint()
        assert len(file.entries) == 12
    assert verify(job) == []
