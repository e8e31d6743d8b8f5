"""The drawings of a job from the command line: pictures of letters, SVG files, and what is refused."""

import fcntl
import os
import pty
import struct
import sys
import termios
from contextlib import suppress
from pathlib import Path
from xml.etree import ElementTree as Tree

import pytest

from sitelog.refusal import NOT_SAVED
from tests.cli.conftest import Say


@pytest.fixture
def dormer(say: Say, tmp_path: Path) -> str:
    """A job whose dormer has no figure yet."""
    file = str(tmp_path / "dormer.json")
    assert say("new", file, "--title", "Dormer", "--part", "d:barrel-dormer", "--by", "M. Reed").code == 0
    return file


def test_what_cannot_be_drawn_yet_is_told_in_one_line_each(say: Say, dormer: str, tmp_path: Path) -> None:
    said = say("drawings", dormer)
    lines = [line for line in said.out.splitlines() if line]
    assert said.code == 0 and all("can't be drawn yet: " in line for line in lines)
    waits = "Marks on both faces of each rafter, up the slope: can't be drawn yet: needs "
    assert any(line.startswith(waits) for line in lines)
    written = say("drawings", dormer, "--svg", str(tmp_path / "none"))
    assert written.code == 0 and written.out == "" and written.err.count("can't be drawn yet") == len(lines)


def test_every_drawing_of_the_parts_is_printed_with_its_sizes(say: Say, job: str) -> None:
    said = say("drawings", job)
    assert said.code == 0 and said.err == ""
    assert "AB 9000 drawn" in said.out and "ridge 3000" in said.out
    assert "Hip at A for the corner as built" in said.out and "4734 to centre" in said.out
    assert "Four sides and two diagonals, outside faces, mm (as drawn)" in said.out


def test_four_hips_that_are_alike_are_drawn_once_and_each_check_finds_its_drawing(say: Say, job: str) -> None:
    whole = say("drawings", job, "main").out
    assert "the same: Hip at C for the corner as built" in whole
    for corner in "ac":
        assert "4734 to centre" in say("drawings", job, f"main.hip-lines.hip-{corner}").out


def test_one_check_has_its_own_drawing(say: Say, job: str) -> None:
    said = say("drawings", job, "main.first-pair.common")
    assert "3662 to centre" in said.out and "AB 9000" not in said.out


def test_drawings_are_written_as_svg_files_that_are_whole(say: Say, job: str, tmp_path: Path) -> None:
    said = say("drawings", job, "main", "--svg", str(tmp_path / "out"))
    files = sorted((tmp_path / "out").iterdir())
    assert said.code == 0 and [str(file) for file in files] == said.out.split("\n")[:-1]
    assert all(Tree.fromstring(file.read_text(encoding="utf-8")) is not None for file in files)


def test_plain_letters_are_all_there_is_where_they_are_asked_for(say: Say, job: str) -> None:
    said = say("--ascii", "drawings", job, "main.first-pair.common")
    assert "\u28ff" not in said.out and not any("\u2800" <= letter <= "\u28ff" for letter in said.out)


@pytest.mark.parametrize("what", ["wing", "main.plates.nope"])
def test_a_part_or_a_check_that_is_not_there_is_refused_in_one_line(say: Say, job: str, what: str) -> None:
    said = say("drawings", job, what)
    assert said.code == 2 and said.refused_in_one_line


def test_a_folder_that_cannot_be_written_is_refused_in_one_line(say: Say, job: str, tmp_path: Path) -> None:
    (tmp_path / "taken").write_text("")
    said = say("drawings", job, "--svg", str(tmp_path / "taken"))
    assert said.code == NOT_SAVED and said.refused_in_one_line


def test_a_calculator_draws_its_answer_where_it_has_a_drawing(say: Say) -> None:
    drawn = say("calc", "arc", "chord=2400", "rise=600", "--drawing").out
    assert "Arc: heights over its chord." in drawn and "radius 1500" in drawn
    assert say("calc", "tape", "length=4200", "class=II", "--drawing").out.endswith("tape can't be drawn\n")


def test_each_timber_of_the_cutting_list_is_drawn_on_the_bench(say: Say, job: str) -> None:
    said = say("drawings", job, "main", "--sticks")
    assert said.code == 0 and said.err == ""
    assert "Jack at A, right hand. Jack, right hand: on the bench, long face up" in said.out
    assert "1: head, top edge: 0; 0 down" in said.out
    assert "The first of a batch is the pattern: try it before you cut the rest." in said.out


def test_the_sticks_are_written_as_svg_files_and_as_sheets(say: Say, job: str, tmp_path: Path) -> None:
    said = say("drawings", job, "main", "--sticks", "--svg", str(tmp_path / "svg"))
    assert said.code == 0 and len(list((tmp_path / "svg").glob("*.svg"))) == len(said.out.splitlines())
    sheets = say("drawings", job, "--sticks", "--out", str(tmp_path / "out"))
    names = {Path(line).suffix for line in sheets.out.splitlines()}
    assert sheets.code == 0 and {".html", ".txt"} <= names
    words = next((tmp_path / "out").glob("*-sticks.txt")).read_text(encoding="utf-8")
    assert "HIP AT A" in words and "Cut to this pattern" in words
    assert all(len(line) <= 80 for line in words.splitlines())


def test_sheets_of_sticks_are_asked_for_by_their_word(say: Say, job: str, dormer: str) -> None:
    assert "add --sticks" in say("drawings", job, "--out", "x").err
    assert "No cutting list" in say("drawings", dormer, "--sticks").err


@pytest.mark.skipif(sys.platform != "linux", reason="a terminal of POSIX")
def test_a_picture_is_no_wider_than_the_terminal_that_it_is_printed_on(job: str) -> None:
    child, line = pty.fork()
    if child == 0:
        fcntl.ioctl(1, termios.TIOCSWINSZ, struct.pack("HHHH", 24, 40, 0, 0))
        os.environ.pop("COLUMNS", None)
        os.execv(sys.executable, [sys.executable, "-m", "sitelog", "drawings", job, "main.plates.sides"])
    seen = b""
    with suppress(OSError):  # the other end of a terminal is closed with an error
        while more := os.read(line, 65_536):
            seen += more
    os.waitpid(child, 0)
    pictured = [
        row.rstrip() for row in seen.decode().split("\r\n") if any("\u2800" < letter < "\u2900" for letter in row)
    ]
    assert pictured and max(map(len, pictured)) <= 40
