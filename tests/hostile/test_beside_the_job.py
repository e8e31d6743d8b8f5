"""What stands in the folder beside a job and is no record: spoilt, endless or somebody else's, it is passed over."""

import os
from collections.abc import Callable
from pathlib import Path

import msgspec
import pytest

from tests.hostile.fronts import BARRED, say
from tests.hostile.jobs import job

pytestmark = pytest.mark.skipif(os.name == "nt", reason="devices, pipes and links of POSIX")

KINDS: dict[str, Callable[[Path], object]] = {
    "a pipe that nobody writes": os.mkfifo,
    "a folder": Path.mkdir,
    "a link to a device without end": lambda path: path.symlink_to("/dev/zero"),
    "a link to itself": lambda path: path.symlink_to(path.name),
    "lists within lists": lambda path: path.write_bytes(b'{"more":' + b"[" * 100_000),
}


@pytest.mark.parametrize("make", KINDS.values(), ids=KINDS)
def test_what_is_kept_for_convenience_is_done_without(tmp_path: Path, make: Callable[[Path], object]) -> None:
    file = job(tmp_path, str)
    beside = file.with_name("job.json.files")
    beside.mkdir(exist_ok=True)
    (beside / "typed.json").unlink(missing_ok=True)
    make(beside / "typed.json")
    assert say("show", file).code == 0
    assert say("--plain", "open", file, "--by", "M. Reed", heard="q\n").code == 0


def test_a_journal_that_is_no_file_is_named_as_what_it_is(tmp_path: Path) -> None:
    file = job(tmp_path, str)
    (file.with_name("job.json.files") / "journal").mkdir(parents=True)
    said = say("show", file)
    assert (said.code, said.in_one_line) == (2, True)
    assert "job.json.files/journal is a folder: move it away" in said.err


def test_words_left_in_a_form_by_somebody_else_come_through_the_door(tmp_path: Path) -> None:
    from sitelog.wording.prompts.drafts import Drafts

    (tmp_path / "typed.json").write_bytes(msgspec.json.encode({"main.plates": {"ab": "9\x1b[2J\u202e0\x9b00"}}))
    assert not BARRED.search(Drafts.of_job(tmp_path).typed("main.plates")["ab"])
