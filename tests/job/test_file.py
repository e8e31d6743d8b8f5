"""A job is one file: made once, added to, readable by anyone with TinyDB, never overwritten unseen."""

import errno
import os
import shutil
import stat
from collections.abc import Callable
from pathlib import Path

import msgspec
import pytest
from hypothesis import given
from hypothesis import strategies as st
from tinydb import TinyDB, where

from sitelog.job.log.union import joined
from sitelog.job.storage.file import JobFile
from sitelog.job.storage.format import tables
from sitelog.job.storage.store import COPIES, WholeFile, parse
from sitelog.job.storage.verify import verify
from sitelog.refusal import DAMAGED, NOT_SAVED, USAGE, Refusal
from sitelog.text import day_and_time
from tests.job.logs import after, log, saved, tree


@pytest.fixture
def job(tmp_path: Path) -> Path:
    return saved(tmp_path / "barn.json", log(4))


def test_what_was_entered_is_there_when_the_job_is_opened_again(job: Path) -> None:
    entries = log(9)
    with JobFile.open(job) as file:
        file.append(entries[4:5])
        file.append(entries[5:])
    with JobFile.open(job) as file:
        assert file.entries == entries


def test_plain_tinydb_reads_a_job(job: Path) -> None:
    entries = log(4)
    with TinyDB(job) as db:
        assert db.tables() == {"job", "entries"}
        assert [dict(doc) for doc in db.table("entries")] == [msgspec.to_builtins(entry) for entry in entries]
        (heading,) = db.table("job").all()
    assert {key: heading[key] for key in ("format", "id", "title", "place", "units")} == {
        "format": 1,
        "id": entries[0].id,
        "title": "Long barn",
        "place": "Upper field",
        "units": "mm",
    }


def test_to_look_with_plain_tinydb_changes_nothing(job: Path) -> None:
    before = job.read_bytes()
    with TinyDB(job) as db:
        db.table("entries").search(where("act") == "answer")
    assert job.read_bytes() == before
    with JobFile.open(job) as file:
        file.append([after(file.entries)])


def test_tinydb_can_save_whole_files_too(job: Path) -> None:
    shutil.rmtree(job.with_name("barn.json.files"))
    with TinyDB(job, storage=WholeFile) as db:
        db.table("words").insert({"word": "purlin"})
        db.table("words").update({"word": "hip"}, where("word") == "purlin")
    with TinyDB(job, storage=WholeFile) as db:
        assert db.table("words").all() == [{"word": "hip"}]


@given(st.permutations(range(9)), st.integers(0, 9))
def test_the_same_entries_give_the_same_bytes_in_whatever_order_they_came(order: list[int], cut: int) -> None:
    entries = log(9, "tablet01", "phone-02", "laptop-3")
    shuffled = [entries[at] for at in order]
    together = joined(joined([], shuffled[:cut]), shuffled[max(0, cut - 2) :])
    assert together == entries
    assert msgspec.json.encode(tables(together)) == msgspec.json.encode(tables(entries))


def test_two_copies_that_went_on_apart_join_to_the_same_file(tmp_path: Path) -> None:
    entries = log(12, "tablet01", "phone-02")
    one, other = [e for e in entries if e.device == "tablet01"], [entries[0], *entries[1::2]]
    for name, (first, then) in {"a": (one, other), "b": (other, one)}.items():
        with JobFile.create(tmp_path / name, first) as file:
            file.append(then)
            file.append(then)
            assert file.entries == entries
    assert (tmp_path / "a").read_bytes() == (tmp_path / "b").read_bytes()


def test_an_entry_that_is_there_already_costs_no_save(job: Path) -> None:
    with JobFile.open(job) as file:
        before = job.stat().st_mtime_ns
        file.append(file.entries)
        file.append([])
        assert job.stat().st_mtime_ns == before


def test_two_different_entries_under_one_id_are_refused(job: Path) -> None:
    before = job.read_bytes()
    with JobFile.open(job) as file:
        changed = msgspec.structs.replace(file.entries[2], note="changed")
        with pytest.raises(Refusal, match=f"have the id {changed.id}") as refused:
            file.append([after(file.entries), changed])
        assert len(file.entries) == 4
    assert (refused.value.code, job.read_bytes()) == (DAMAGED, before)


def test_the_list_that_is_handed_out_is_the_callers_own(job: Path) -> None:
    with JobFile.open(job) as file:
        file.entries.clear()
        assert len(file.entries) == 4


# --- made once ---


def test_a_new_job_takes_no_name_that_is_taken(tmp_path: Path) -> None:
    (tmp_path / "file").write_text("mine")
    (tmp_path / "folder").mkdir()
    (tmp_path / "link").symlink_to(tmp_path / "file")
    (tmp_path / "loop").symlink_to("loop")
    (tmp_path / "old.files" / "copies").mkdir(parents=True)
    before = tree(tmp_path)
    for name in ("file", "folder", "link", "loop", "old"):
        with pytest.raises(Refusal, match="already exists") as refused:
            JobFile.create(tmp_path / name, log(1))
        assert refused.value.code == USAGE
    with pytest.raises(Refusal, match="No folder"):
        JobFile.create(tmp_path / "none" / "barn.json", log(1))
    assert tree(tmp_path) == before


def test_the_folder_that_a_job_left_behind_bars_no_new_one(tmp_path: Path) -> None:
    job = saved(tmp_path / "barn.json", log(2))
    job.unlink()
    assert not list((tmp_path / "barn.json.files").iterdir())
    saved(job, log(3))
    assert verify(job) == []


def test_a_job_begins_with_its_start(tmp_path: Path) -> None:
    for entries in ([], log(3)[1:]):
        with pytest.raises(Refusal, match="doesn't start a job"):
            JobFile.create(tmp_path / "barn.json", entries)
        assert tree(tmp_path) == {}


def test_a_job_that_could_not_be_made_leaves_its_name_free(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    def fail(_: int) -> None:
        raise OSError(28, "No space left on device")

    for target in ("sitelog.job.storage.store.os.fsync", "sitelog.job.storage.store.sync_folder"):
        with monkeypatch.context() as patch:
            patch.setattr(target, fail)
            with pytest.raises(Refusal, match="the disk is full"):
                JobFile.create(tmp_path / "barn.json", log(2))
        assert tree(tmp_path) == {}
    saved(tmp_path / "barn.json", log(2))


def test_a_disk_that_can_not_be_read_makes_no_job(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    def broken(*_: object, **__: object) -> None:
        raise OSError(5, "Input/output error")

    with monkeypatch.context() as patch:
        patch.setattr(Path, "is_dir", broken)
        with pytest.raises(Refusal, match=r"^Not saved: barn.json: the disk reports an error\.$") as refused:
            JobFile.create(tmp_path / "barn.json", log(2))
    assert refused.value.code == NOT_SAVED
    assert tree(tmp_path) == {}


def test_what_another_program_put_under_the_name_meanwhile_is_not_removed(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    job = tmp_path / "barn.json"

    def taken(_: int) -> None:
        job.write_text("mine")

    monkeypatch.setattr("sitelog.job.storage.store.os.fsync", taken)
    with pytest.raises(Refusal, match=r"another program changed barn.json"):
        JobFile.create(job, log(2))
    assert tree(tmp_path) == {"barn.json": b"mine"}


@pytest.mark.parametrize(("error", "code"), [(errno.EIO, DAMAGED), (errno.EACCES, USAGE)])
def test_what_the_disk_can_not_give_is_damage_and_what_it_may_not_is_none(
    job: Path, monkeypatch: pytest.MonkeyPatch, error: int, code: int
) -> None:
    def fails(*_: object) -> None:
        raise OSError(error, "no")

    monkeypatch.setattr(Path, "open", fails)
    with pytest.raises(Refusal, match=r"barn\.json can't be read") as refused:
        WholeFile(job).read()
    assert refused.value.code == code


def test_what_else_stands_among_the_copies_is_no_copy_and_is_left_alone(job: Path) -> None:
    with JobFile.open(job) as file:
        (file.files / "copies").mkdir()
        other = file.files / "copies" / "mine.txt"
        other.write_text("mine")
        for _ in range(COPIES + 2):
            file.append([after(file.entries)])
            file.checkpoint()
    assert other.read_text() == "mine"
    assert [copy.name for copy in WholeFile(job).copies()] == [f"00000{number}-barn.json" for number in (5, 4, 3)]


def handles() -> int:
    return len(list(Path("/proc/self/fd").iterdir()))


@pytest.mark.skipif(not Path("/proc/self/fd").is_dir(), reason="handles can't be counted here")
def test_nothing_is_left_open(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    def full(*_: object) -> None:
        raise OSError(28, "No space left on device")

    before = handles()
    job = saved(tmp_path / "barn.json", log(2))
    with monkeypatch.context() as patch:
        patch.setattr(os, "fsync", full)
        with pytest.raises(Refusal):
            JobFile.create(tmp_path / "mill.json", log(2))
        with JobFile.open(job) as file, pytest.raises(Refusal):
            file.append(log(3))
    with JobFile.open(job), pytest.raises(Refusal):
        JobFile.open(job)
    file = JobFile.open(job)
    file.append(log(3))
    with monkeypatch.context() as patch:
        patch.setattr(Path, "replace", full)
        file.close()
    JobFile.open(job, read_only=True).close()
    assert file.left_beside
    assert handles() == before


# --- read only ---


def test_to_look_at_a_job_makes_no_file_and_no_folder(tmp_path: Path) -> None:
    job = tmp_path / "barn.json"
    job.write_bytes(msgspec.json.encode(tables(log(4))))
    with JobFile.open(job, read_only=True) as file:
        assert (file.entries, file.read_only) == (log(4), True)
    assert verify(job) == []
    assert list(tmp_path.iterdir()) == [job]


def test_a_job_that_may_not_be_written_is_opened_to_read(job: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    for place in (job, job.parent):
        monkeypatch.setattr("os.access", lambda path, _, barred=place: path != barred)
        with JobFile.open(job) as file:
            assert file.why_read_only == f"you don't have permission to write {place.name}"


# --- links, rights ---


def test_a_save_through_a_link_keeps_the_link(job: Path, tmp_path: Path) -> None:
    (tmp_path / "desk").mkdir()
    near, far = tmp_path / "near", tmp_path / "desk" / "far"
    near.symlink_to("barn.json")
    far.symlink_to("../near")
    with JobFile.open(far) as file:
        file.append([after(file.entries)])
        assert (file.path, file.files) == (job, tmp_path / "barn.json.files")
        with pytest.raises(Refusal, match="already"):
            JobFile.open(near)
    assert near.is_symlink() and far.is_symlink()
    assert len(parse(job.read_bytes(), "")["entries"]) == 5
    assert not (tmp_path / "desk" / "far.files").exists()


def test_a_save_keeps_the_rights_of_the_file(job: Path) -> None:
    job.chmod(0o640)
    with JobFile.open(job) as file:
        file.append([after(file.entries)])
    assert stat.S_IMODE(job.stat().st_mode) == 0o640


# --- changed underneath ---


def rewritten(job: Path) -> None:
    job.write_bytes(msgspec.json.encode(tables(log(6))))


def replaced(job: Path) -> None:
    other = job.with_name("other")
    other.write_bytes(job.read_bytes())
    os.utime(other, ns=(job.stat().st_atime_ns, job.stat().st_mtime_ns))
    other.replace(job)


def touched(job: Path) -> None:
    os.utime(job, ns=(1, 1))


def removed(job: Path) -> None:
    job.unlink()


def another_job(job: Path) -> None:
    job.write_bytes(msgspec.json.encode(tables(log(3, "phone-02"))))


def damaged(job: Path) -> None:
    job.write_bytes(job.read_bytes()[:-9])


def made_newer(job: Path) -> None:
    job.write_bytes(job.read_bytes().replace(b'"format":1', b'"format":2'))


def contradicting(job: Path) -> None:
    entries = log(4)
    changed = msgspec.structs.replace(entries[2], note="changed")
    job.write_bytes(msgspec.json.encode(tables([*entries[:2], changed, entries[3]])))


@pytest.mark.parametrize("change", [rewritten, replaced, touched])
@pytest.mark.parametrize("saves", [0, 1, 3])
@pytest.mark.parametrize("folded", [False, True])
def test_a_file_changed_by_another_program_is_joined_with_what_is_held(
    job: Path, change: Callable[[Path], None], saves: int, folded: bool
) -> None:
    with JobFile.open(job) as file:
        for _ in range(saves):
            file.append([after(file.entries)])
        if folded:
            file.checkpoint()
        change(job)
        held = file.entries
        added = after(held, "one more")
        file.append([added])
        assert file.entries == joined([*held, added], log(6) if change is rewritten else [])
        with JobFile.open(job, read_only=True) as reader:
            assert reader.entries == file.entries
        everything = file.entries
    assert len(parse(job.read_bytes(), job.name)["entries"]) == len(everything)
    with JobFile.open(job) as file:
        assert (file.entries, file.why_read_only) == (everything, "")


@pytest.mark.parametrize(
    ("change", "says"),
    [
        (removed, "Not saved: barn.json was moved, renamed or deleted."),
        (another_job, "job"),
        (damaged, "is damaged or not a job"),
        (made_newer, "can't be written now: it was written by a newer sitelog"),
        (contradicting, "Two different entries have the id"),
    ],
)
@pytest.mark.parametrize("saves", [0, 1])
def test_a_file_made_something_else_by_another_program_is_not_overwritten(
    job: Path, change: Callable[[Path], None], says: str, saves: int
) -> None:
    with JobFile.open(job) as file:
        for _ in range(saves):
            file.append([after(file.entries)])
        raw, held = job.read_bytes(), file.entries
        change(job)
        before = tree(job.parent)
        for act in (lambda: file.append([after(held)]), lambda: file.join([after(held)]), file.checkpoint) * 2:
            with pytest.raises(Refusal, match=r"Not saved: (another program changed )?barn.json") as refused:
                act()
            assert says in refused.value.message
            assert refused.value.code == NOT_SAVED
            assert (tree(job.parent), file.entries) == (before, held)
        job.write_bytes(raw)
        added = after(held)
        file.append([added])
        assert file.entries == [*held, added]
    with JobFile.open(job) as file:
        assert file.entries == [*held, added]


def test_a_job_changed_between_reading_and_locking_is_read_again(job: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    from sitelog.job.machine.lock import Lock

    take = Lock.take

    def slow(path: Path, *more: None) -> Lock:
        rewritten(job)
        return take(path, *more)

    monkeypatch.setattr("sitelog.job.storage.file.Lock.take", slow)
    with JobFile.open(job) as file:
        assert len(file.entries) == 6
        file.append([after(file.entries)])


def test_a_fold_over_an_older_file_brings_everything_back(job: Path) -> None:
    """A sync folder put an older state there, and nothing was entered since the last fold."""
    older = job.read_bytes()
    with JobFile.open(job) as file:
        file.append([after(file.entries)])
        file.checkpoint()
        assert file.count == 5
        job.write_bytes(older)
        file.checkpoint()
        assert len(parse(job.read_bytes(), "")["entries"]) == 5


def test_what_an_older_file_has_lost_stands_in_the_journal_though_the_file_can_not_be_written(
    job: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    def full(*_: object) -> None:
        raise OSError(28, "No space left on device")

    older = job.read_bytes()
    with JobFile.open(job) as file:
        file.append([after(file.entries)])
        file.checkpoint()
        job.write_bytes(older)
        with monkeypatch.context() as patch:
            patch.setattr(Path, "replace", full)
            file.append([after(file.entries)])
            held = file.entries
            assert JobFile.open(job, read_only=True).entries == held
    assert JobFile.open(job, read_only=True).entries == held


def test_what_stands_nowhere_any_more_is_written_before_the_next_line(
    job: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    def full(*_: object) -> None:
        raise OSError(28, "No space left on device")

    older = job.read_bytes()
    with JobFile.open(job) as file:
        file.join([after(file.entries)])
        held = file.entries
        job.write_bytes(older)
        with monkeypatch.context() as patch:
            patch.setattr(Path, "replace", full)
            with pytest.raises(Refusal, match="the disk is full"):
                file.append([after(held)])
    assert JobFile.open(job, read_only=True).entries == held


def test_a_job_with_nothing_entered_is_closed_without_a_word_whatever_became_of_its_file(job: Path) -> None:
    for change in (made_newer, damaged, removed):
        raw = job.read_bytes()
        with JobFile.open(job) as file:
            change(job)
        assert file.left_beside == ""
        job.write_bytes(raw)
    with JobFile.open(job, read_only=True) as reader:
        pass
    assert (reader.left_beside, reader.why_read_only) == ("", "it is open read-only")


def test_a_copy_that_could_not_be_saved_is_not_held_and_bars_no_later_save(
    job: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    def full(*_: object) -> None:
        raise OSError(28, "No space left on device")

    with JobFile.open(job) as file:
        held = file.entries
        with monkeypatch.context() as patch:
            patch.setattr(Path, "replace", full)
            with pytest.raises(Refusal, match="the disk is full"):
                file.join(log(6))
        assert file.entries == held
        file.append([after(held)])
        assert file.join(log(6)) == 2
        everything = file.entries
    assert len(everything) == 7
    with JobFile.open(job) as file:
        assert file.entries == everything


# --- copies ---


def no_links(*_: object) -> None:
    raise PermissionError(1, "Operation not permitted")


@pytest.mark.parametrize("links", [True, False])
def test_the_last_good_states_are_kept_newest_first(job: Path, monkeypatch: pytest.MonkeyPatch, links: bool) -> None:
    if not links:
        monkeypatch.setattr("os.link", no_links)
    states = [job.read_bytes()]
    with JobFile.open(job) as file:
        for _ in range(6):
            file.append([after(file.entries)])
            file.checkpoint()
            states.append(job.read_bytes())
            kept = [copy.read_bytes() for copy in WholeFile(job).copies()]
            assert kept == states[-2 : -2 - COPIES : -1]
    assert [copy.name for copy in WholeFile(job).copies()] == [f"00000{n}-barn.json" for n in (6, 5, 4)]


def test_a_file_that_is_not_there_yet_has_no_bytes(tmp_path: Path) -> None:
    assert WholeFile(tmp_path / "barn.json").size == 0


def test_a_kept_copy_can_be_looked_at_but_not_added_to(job: Path) -> None:
    with JobFile.open(job) as file:
        file.append([after(file.entries)])
    before = tree(job.parent)
    with JobFile.open(WholeFile(job).copies()[0]) as copy:
        assert (copy.entries, copy.read_only) == (log(4), True)
    assert tree(job.parent) == before


def test_a_damaged_job_names_its_last_good_copy(job: Path) -> None:
    with JobFile.open(job) as file:
        for _ in range(2):
            file.append([after(file.entries)])
            file.checkpoint()
    newest, older = WholeFile(job).copies()
    job.write_bytes(b"")
    with pytest.raises(Refusal) as refused:
        JobFile.open(job)
    assert refused.value.code == DAMAGED
    assert refused.value.message == (
        f"barn.json is empty: not a job. The last good copy ends at {day_and_time('2026-03-02T08:04:00.000Z')}; "
        f"look at it with: sitelog open {newest}"
    )
    newest.write_bytes(newest.read_bytes()[:-1])
    with pytest.raises(Refusal, match=f"sitelog open {older}$"):
        JobFile.open(job)
    older.unlink()
    with pytest.raises(Refusal, match=r"There is no good copy"):
        JobFile.open(job, read_only=True)
    assert job.read_bytes() == b""


def test_a_damaged_job_whose_copies_can_not_be_read_says_both(job: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    with JobFile.open(job) as file:
        file.append([after(file.entries)])
    damaged(job)

    def broken(_: Path) -> None:
        raise OSError(5, "Input/output error")

    monkeypatch.setattr(Path, "iterdir", broken)
    with pytest.raises(Refusal, match=r"barn.json is damaged or not a job: it stops being") as refused:
        JobFile.open(job)
    assert refused.value.code == DAMAGED


def test_a_job_grows_to_what_can_be_opened_again_and_no_further(job: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """The file, what stands beside it, and what is added are counted together."""
    monkeypatch.setattr("sitelog.job.storage.store.LARGEST", 1 << 20)
    monkeypatch.setattr("sitelog.job.storage.disk.LARGEST", 1 << 20)
    with JobFile.open(job) as file:
        for _ in range(3):
            file.append([after(file.entries, "x" * 300_000)])
        held = file.entries
        for act in (file.append, file.join):
            with pytest.raises(Refusal, match=r"Not saved: barn.json would be over 1 MB") as refused:
                act([after(held, "x" * 300_000)])
            assert refused.value.code == NOT_SAVED
        assert file.entries == held
        file.append([after(held, "x" * 1_000)])
        held = file.entries
    with JobFile.open(job) as file:
        assert file.entries == held
        with pytest.raises(Refusal, match="would be over 1 MB"):
            file.append([after(held, "x" * 300_000)])
    assert job.stat().st_size > 900_000
