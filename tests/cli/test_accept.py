"""`sitelog accept`: the next trade's reply from a file or pasted, told and entered; and found beside the job."""

import io
import re
from pathlib import Path

import pytest

from sitelog.job.replies.reply import written
from tests.cli.conftest import Say
from tests.replies.desk import Desk


@pytest.fixture
def replied(tmp_path: Path) -> tuple[str, str]:
    """A job with a pack, and the text of a reply to it that lies beside it."""
    desk = Desk(tmp_path / "kiln-lane.json")
    desk.hand_over()
    text = written(desk.reply((1, 3), {2: "no room for a stack"}))
    desk.job.close()
    (tmp_path / "kiln-lane-reply-tiler.txt").write_text(text, encoding="utf-8")
    return str(desk.job.file.path), text


def test_a_reply_file_beside_the_job_is_offered_and_entered_once(say: Say, replied: tuple[str, str]) -> None:
    file, _ = replied
    beside = str(Path(file).with_name("kiln-lane-reply-tiler.txt"))
    offered = say("show", file).out.splitlines()[-1]
    assert offered == (
        "Reply from J. Dunn, tiler, 2 Mar 2026: 2 accepted, 1 sent back (kiln-lane-reply-tiler.txt). "
        f"To enter it: sitelog accept {file} {beside}"
    )
    said = say("accept", file, beside)
    assert (said.code, said.err) == (0, "")
    first, second, following = said.out.splitlines()
    assert first.startswith("J. Dunn, tiler, 2 Mar 2026: 2 accepted, 1 sent back, record code ")
    assert (second, following[:6]) == ("Point 2 sent back: no room for a stack", "next: ")
    assert "snag 1: Point 2 sent back: no room for a stack" in say("show", file).out
    assert "Reply from" not in say("show", file).out
    again = say("accept", file, beside)
    assert (again.code, again.refused_in_one_line) == (1, True)
    assert "in the record already" in again.err


def test_a_reply_is_pasted_as_a_messenger_left_it(
    say: Say, replied: tuple[str, str], monkeypatch: pytest.MonkeyPatch
) -> None:
    file, text = replied
    pasted = io.TextIOWrapper(io.BytesIO(f"Hi Mick\n> {text.replace(chr(10), chr(10) + '> ')}".encode()))
    monkeypatch.setattr("sys.stdin", pasted)
    assert say("accept", file, "-").code == 0


BAD: dict[str, tuple[bytes | None, str]] = {
    "no such file": (b"", r"No reply file none\.txt\. Give its name, or - to paste the text"),
    "no text": (b"\xff\xd8\xff\xe0\x00", r"isn't a text\. Give the reply file"),
    "no reply": (b"all good mate", r"No reply in it\. Give the reply file"),
    "altered": (None, r"This reply was altered, or part of it is missing\. Copy all of it again"),
}


@pytest.mark.parametrize("what", BAD)
def test_what_is_no_whole_reply_is_refused_in_one_line(
    say: Say, replied: tuple[str, str], tmp_path: Path, what: str
) -> None:
    file, text = replied
    before = Path(file).read_bytes()
    raw, told = BAD[what]
    path = tmp_path / "none.txt"
    if raw is None:
        path.write_text(text.replace("no room", "room"), encoding="utf-8")
    elif raw:
        path.write_bytes(raw)
    said = say("accept", file, str(path))
    assert said.refused_in_one_line and re.search(told, said.err), said.err
    assert Path(file).read_bytes() == before
    assert say("accept", file, str(tmp_path)).refused_in_one_line, "a folder"
