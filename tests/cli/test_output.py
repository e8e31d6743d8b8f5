"""What a command enters is entered, whether or not anybody hears of it: its number and its other words say so."""

import os
import subprocess
import sys
from pathlib import Path

import pytest

from sitelog.job.storage.file import JobFile
from tests.cli.conftest import Say

ROOT = Path(__file__).parents[2]
BY = ("--by", "M. Reed")
SHOWN = "it was entered and saved, but not all could be shown"
pytestmark = pytest.mark.skipif(sys.platform != "linux", reason="/dev/full is only there")


def out_to(where: str, *words: str, said: str = "") -> tuple[int, str]:
    """The command with its output to a full disk, to a reader that has gone, or closed: its number and other words."""
    closed = where == "closed"
    command = [sys.executable, "-m", "sitelog", *words]
    given = {"input": said, "text": True, "stderr": subprocess.PIPE, "cwd": ROOT, "check": False}
    if where == "/dev/full":
        with Path("/dev/full").open("w") as full:
            ended = subprocess.run(command, stdout=full, **given)  # type: ignore[call-overload]
    elif closed:
        ended = subprocess.run(["sh", "-c", 'exec "$@" >&-', "sh", *command], **given)  # type: ignore[call-overload]
    else:
        reads, writes = os.pipe()
        os.close(reads)
        ended = subprocess.run(command, stdout=writes, **given)  # type: ignore[call-overload]
        os.close(writes)
    return ended.returncode, ended.stderr


@pytest.mark.parametrize(
    ("where", "why"),
    [
        ("/dev/full", "the disk is full"),
        ("a reader that has gone", "nobody reads it any more"),
        ("closed", "the output is closed"),
    ],
)
def test_an_act_whose_output_fails_says_that_it_was_entered(job: str, where: str, why: str) -> None:
    before = JobFile.open(job, read_only=True).count
    assert out_to(where, "note", job, "main", "dry", *BY) == (0, f"sitelog: {SHOWN}: {why}\n")
    file = JobFile.open(job, read_only=True)
    assert (file.count, file.entries[-1].note) == (before + 1, "dry")
    assert not (file.files / "journal").exists(), "and it was folded in"


def test_what_only_shows_says_that_it_could_not_and_a_reader_that_has_enough_is_no_problem(job: str) -> None:
    assert out_to("/dev/full", "show", job) == (1, "sitelog: not all could be shown: the disk is full\n")
    assert out_to("closed", "show", job) == (1, "sitelog: not all could be shown: the output is closed\n")
    assert out_to("a reader that has gone", "show", job) == (0, "")
    assert out_to("/dev/full", "calc", "common", "--help") == (
        1,
        "sitelog: not all could be shown: the disk is full\n",
    )


def test_what_was_entered_line_by_line_before_the_output_failed_is_entered(job: str, tmp_path: Path) -> None:
    code, told = out_to("/dev/full", "--plain", "open", job, *BY, said="quit\n")
    assert (code, told) == (1, "sitelog: not all could be shown: the disk is full\n")
    made = tmp_path / "new.json"
    words = ("--title", "Barn", "--part", "main:hipped", "main.length=9000", "main.width=6000", "main.pitch=35", *BY)
    code, told = out_to("/dev/full", "new", str(made), *words)
    assert (code, told) == (0, f"sitelog: {SHOWN}: the disk is full\n")
    assert JobFile.open(made, read_only=True).count > 2


def test_a_merge_whose_output_fails_says_that_it_was_entered(say: Say, job: str, tmp_path: Path) -> None:
    copy = tmp_path / "copy.json"
    copy.write_bytes(Path(job).read_bytes())
    say("note", str(copy), "main", "dry", *BY)
    assert out_to("/dev/full", "merge", job, str(copy)) == (0, f"sitelog: {SHOWN}: the disk is full\n")
    assert out_to("/dev/full", "merge", job, str(copy)) == (1, "sitelog: not all could be shown: the disk is full\n")


@pytest.mark.parametrize("closed", ["1", "2"])
def test_a_closed_stream_changes_no_code_and_what_was_said_before_a_refusal_arrives(closed: str) -> None:
    says = "import sitelog.cli.run as r; r.run = lambda entered: print('said before', end='') or 3; r.main()"
    shut = f'exec "$@" {closed}>&-'
    assert subprocess.run(["sh", "-c", shut, "sh", sys.executable, "-c", says], cwd=ROOT, check=False).returncode == 3
    told = subprocess.run([sys.executable, "-c", says], cwd=ROOT, check=False, capture_output=True, text=True)
    assert (told.returncode, told.stdout) == (3, "said before")
