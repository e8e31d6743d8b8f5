"""A file that is no sound job is refused in one line, and never taken for a new one; a newer one is only read."""

import os
import stat
from collections.abc import Callable
from pathlib import Path
from typing import Any

import msgspec
import pytest
from hypothesis import example, given
from hypothesis import strategies as st

from sitelog.job.storage.disk import LARGEST
from sitelog.job.storage.file import JobFile
from sitelog.job.storage.format import as_written, contents, tables
from sitelog.job.storage.store import parse
from sitelog.job.storage.verify import verify
from sitelog.refusal import DAMAGED, NOT_SAVED, USAGE, Refusal
from tests.job.logs import after, log, saved, tree

Found = dict[str, dict[str, Any]]

GOOD = msgspec.json.encode(tables(log(4)))


def refused(job: Path, code: int) -> str:
    """The line with which the file is refused, to write and to read; nothing is touched."""
    before = tree(job.parent)
    lines = set()
    for read_only in (False, True):
        with pytest.raises(Refusal) as caught:
            JobFile.open(job, read_only=read_only)
        assert caught.value.code == code
        lines.add(caught.value.message)
    assert tree(job.parent) == before
    (line,) = lines
    assert line.isprintable()
    return line


@pytest.mark.parametrize(
    ("raw", "says"),
    [
        (b"", "barn.json is empty: not a job."),
        (b"\x00" * 4096, "it stops being JSON at byte 1"),
        (b"%PDF-1.7", "it stops being JSON at byte 1"),
        (b"{}", "its table 'job' isn't one document"),
        (b"[]", "doesn't have TinyDB tables"),
        (b"null", "doesn't have TinyDB tables"),
        (b"1" * 5000, "is damaged or not a job"),
        (b'{"job":{"1":[]},"entries":{}}', "doesn't have TinyDB tables"),
        (b'{"job":{"1":{}},"entries":[]}', "doesn't have TinyDB tables"),
        (b'{"job":{"x":{}},"entries":{}}', "doesn't have TinyDB tables"),
        (b'{"_default":{"1":{"word":"hip"}}}', "its table 'job' isn't one document"),
        (b'{"job":{"1":{},"2":{}},"entries":{}}', "its table 'job' isn't one document"),
        (b'{"job":{"1":{}},"entries":{}}', "it doesn't say its format"),
        (b'{"job":{"1":{"format":true}},"entries":{}}', "it doesn't say its format"),
        (b'{"job":{"1":{"format":0}},"entries":{}}', "it doesn't say its format"),
        (b'{"job":{"1":{"format":"1"}},"entries":{}}', "it doesn't say its format"),
        (b'{"job":{"1":{"format":1}}}', "the first entry doesn't start a job"),
        (b'{"job":{"1":{"format":1}},"entries":{"1":{}}}', "entry without an id: its 'id' is missing"),
        (b"\xef\xbb\xbf" + GOOD, "it stops being JSON at byte 1"),
        (GOOD + b"x", f"it stops being JSON at byte {len(GOOD) + 1}"),
        (GOOD.replace(b"barn", b"b\xffrn"), f"byte {GOOD.index(b'barn') + 2} isn't UTF-8 text"),
        (GOOD.replace(b"barn", b"b\\ud800n"), "is damaged or not a job"),
        (GOOD.replace(b"4501.5", b"NaN"), "it has a number or a letter that JSON doesn't allow"),
        (GOOD.replace(b"4501.5", b"1e999"), "it has a number or a letter that JSON doesn't allow"),
        (GOOD.replace(b"4501.5", b"[" * 100_000), "its lists are nested too deep"),
        (GOOD.replace(b'"note":""', b'"note":"","note":"x"', 1), "the name 'note' is in one place twice"),
        (GOOD.replace(b'"entries":', b'"entries":{},"entries":'), "the name 'entries' is in one place twice"),
        (GOOD.replace(b'"2":', b'"1":', 1), "the name '1' is in one place twice"),
        (GOOD.replace(b'"seq":2', b'"seq":"2"'), f"entry {log(2)[1].id}: its 'seq' isn't a whole number"),
        (GOOD.replace(b'"offset":0', b'"offset":1000000000', 1), "its 'offset' isn't a clock's minutes east of UTC"),
        (GOOD.replace(b'"offset":0', b'"offset":-1440', 1), "its 'offset' isn't a clock's minutes east of UTC"),
        (GOOD.replace(b'"act":"start"', b'"act":"note"'), "the first entry doesn't start a job"),
        (GOOD.replace(b'"Long barn"', b"7"), "the start entry needs a title, a place and `units`"),
        (GOOD.replace(log(2)[1].id.encode(), b"\\u001b[2J"), "entry [2J: its id isn't one of sitelog's"),
        (GOOD.replace(log(2)[1].id.encode(), log(1)[0].id.encode()), f"entry {log(1)[0].id} is in it twice"),
    ],
)
def test_what_is_no_job_is_refused_with_what_is_wrong(tmp_path: Path, raw: bytes, says: str) -> None:
    job = tmp_path / "barn.json"
    job.write_bytes(raw)
    line = refused(job, DAMAGED)
    assert line.startswith("barn.json is ")
    assert says in line
    assert line.endswith("There is no good copy.")
    assert verify(job)


def test_a_job_cut_anywhere_is_refused(tmp_path: Path) -> None:
    job = tmp_path / "barn.json"
    for cut in range(len(GOOD)):
        job.write_bytes(GOOD[:cut])
        with pytest.raises(Refusal) as caught:
            JobFile.open(job)
        assert caught.value.code == DAMAGED
        assert job.read_bytes() == GOOD[:cut]
    assert list(tmp_path.iterdir()) == [job]


def test_a_job_with_zeros_from_anywhere_on_is_refused(tmp_path: Path) -> None:
    """What a disk leaves that had the length of a file but not yet its blocks."""
    job = tmp_path / "barn.json"
    for cut in range(0, len(GOOD), 7):
        job.write_bytes(GOOD[:cut] + b"\x00" * (len(GOOD) - cut))
        with pytest.raises(Refusal) as caught:
            JobFile.open(job)
        assert caught.value.code == DAMAGED


@pytest.mark.parametrize(
    ("make", "says"),
    [
        (lambda job: None, "No job file called "),
        (lambda job: job.mkdir(), "barn.json is a folder: name the job file."),
        (lambda job: os.mkfifo(job), "barn.json is a device or a pipe: name the job file."),
        (lambda job: job.symlink_to("/dev/zero"), "zero is a device or a pipe: name the job file."),
        (lambda job: job.symlink_to("/dev/full"), "full is a device or a pipe: name the job file."),
        (lambda job: job.symlink_to(job), "barn.json can't be read: its shortcuts go round in a circle."),
        (lambda job: job.symlink_to("nowhere"), "No job file called "),
    ],
)
def test_what_is_no_file_is_refused_by_its_name(tmp_path: Path, make: Callable[[Path], object], says: str) -> None:
    job = tmp_path / "barn.json"
    make(job)
    with pytest.raises(Refusal) as caught:
        JobFile.open(job)
    assert caught.value.code == USAGE
    assert caught.value.message.startswith(says)
    with pytest.raises(Refusal):
        verify(job)
    assert len(list(tmp_path.iterdir())) == (0 if says.endswith("called ") and not job.is_symlink() else 1)


def test_a_file_taken_for_a_folder_is_no_job(tmp_path: Path) -> None:
    job = saved(tmp_path / "barn.json", log(1))
    with pytest.raises(Refusal, match="No job file"):
        JobFile.open(job / "barn.json")


def test_a_file_that_may_not_be_read_says_so(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    job = saved(tmp_path / "barn.json", log(1))

    def no_right(*_: object, **__: object) -> None:
        raise PermissionError(13, "Permission denied")

    with monkeypatch.context() as patch:
        patch.setattr(Path, "open", no_right)
        with pytest.raises(Refusal, match="can't be read: you don't have permission") as caught:
            JobFile.open(job)
    assert caught.value.code == USAGE


def test_a_file_too_large_for_a_job_is_not_read(tmp_path: Path) -> None:
    job = tmp_path / "barn.json"
    with job.open("wb") as file:
        file.truncate(LARGEST + 1)
    with pytest.raises(Refusal, match="is over 256 MB") as caught:
        JobFile.open(job)
    assert caught.value.code == DAMAGED
    assert verify(job) == ["barn.json is over 256 MB: too large for a job."]


# --- newer, or strange ---


def newer_format(found: Found) -> None:
    found["job"]["1"]["format"] = 2
    found["photos"] = {}


def newer_act(found: Found) -> None:
    found["entries"]["2"]["act"] = "weigh"


def newer_key(found: Found) -> None:
    found["entries"]["2"]["weight_kg"] = 30


def other_table(found: Found) -> None:
    found["_default"] = {"1": {"word": "hip"}}


def other_heading(found: Found) -> None:
    found["job"]["1"]["title"] = "Short barn"


def cut_tail(found: Found) -> None:
    del found["entries"]["4"]


@pytest.mark.parametrize(
    ("change", "why", "count"),
    [
        (newer_format, "it was written by a newer sitelog", 4),
        (newer_act, "it has an entry from a newer sitelog, 'weigh'", 4),
        (newer_key, "its entries have something this sitelog doesn't know", 4),
        (other_table, "it has a table that no job has", 4),
        (other_heading, "its heading or its last entries have been changed since they were saved", 4),
        (cut_tail, "its heading or its last entries have been changed since they were saved", 3),
    ],
)
def test_a_file_that_is_not_fully_understood_is_read_and_never_written(
    tmp_path: Path, change: Callable[[Found], None], why: str, count: int
) -> None:
    job = tmp_path / "barn.json"
    found = msgspec.json.decode(GOOD)
    change(found)
    job.write_bytes(msgspec.json.encode(found))
    before = tree(tmp_path)
    with JobFile.open(job) as file:
        assert (file.read_only, file.why_read_only) == (True, why)
        assert len(file.entries) == count
        with pytest.raises(Refusal, match=why) as caught:
            file.append([after(file.entries)])
        assert caught.value.code == NOT_SAVED
    assert tree(tmp_path) == before


def test_an_act_of_a_newer_program_is_kept_as_it_is(tmp_path: Path) -> None:
    job = tmp_path / "barn.json"
    found = msgspec.json.decode(GOOD)
    newer_act(found)
    job.write_bytes(msgspec.json.encode(found))
    assert str(JobFile.open(job).entries[1].act) == "weigh"
    assert [entry.act for entry in JobFile.open(job).entries if entry.seq != 2] == ["start", "answer", "answer"]


def test_a_newer_format_that_can_not_be_read_is_called_newer_not_damaged(tmp_path: Path) -> None:
    job = tmp_path / "barn.json"
    job.write_bytes(b'{"job":{"1":{"format":7}},"log":{"1":{"lines":[]}}}')
    line = refused(job, DAMAGED)
    assert line.startswith("barn.json was written by a newer sitelog (format 7): the first entry doesn't start")


def test_another_layout_of_the_same_entries_is_the_same_job(tmp_path: Path) -> None:
    """As another program may set it: spaces, escapes, document numbers, the order of tables and documents."""
    import json

    job = tmp_path / "barn.json"
    found = msgspec.json.decode(GOOD)
    docs = {str(50 - int(number)): doc for number, doc in reversed(found["entries"].items())}
    job.write_text(json.dumps({"entries": docs, "job": {"9": found["job"]["1"]}}, indent=2))
    job.chmod(stat.S_IRUSR | stat.S_IWUSR)
    with JobFile.open(job) as file:
        assert (file.entries, file.read_only) == (log(4), False)
        file.append(log(5))
    assert job.read_bytes() == msgspec.json.encode(tables(log(5)))


@given(st.integers(0, len(GOOD) - 1), st.integers(0, 255), st.sampled_from(["put over", "put in", "left out"]))
@example(GOOD.index(b'"note":""'), ord("x"), "left out")
def test_a_file_as_it_was_written_is_read_the_short_way_as_the_long_one_would(at: int, byte: int, how: str) -> None:
    raw = bytearray(GOOD)
    raw[at : at + (how != "put in")] = b"" if how == "left out" else bytes([byte])
    short = as_written(bytes(raw))
    assert as_written(GOOD) == contents(parse(GOOD, ""), "")
    assert short is None or short == contents(parse(bytes(raw), ""), "")
