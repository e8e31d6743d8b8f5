"""Escape and control characters in any text: none reaches a terminal or a page, whatever the file holds."""

import asyncio
from pathlib import Path

import pytest

from sitelog.cli.run import run
from tests.hostile.fronts import BARRED, line_by_line, packs, pages, say, spoken
from tests.hostile.jobs import job
from tests.length import long

# ECMA-48 sequences and the 8-bit forms of their introducers; the bidi controls of Unicode Standard Annex 9.
TRICKS = {
    "clears the screen": "\x1b[2J\x1b[H",
    "sets the title": "\x1b]0;owned\x07",
    "writes the clipboard": "\x1b]52;c;b3duZWQ=\x07",
    "makes a link": "\x1b]8;;http://localhost/\x1b\\here\x1b]8;;\x1b\\",
    "8-bit control sequence": "\x9b31m\x9d0;owned\x9c",
    "device control string": "\x1bP+q544e\x1b\\",
    "backspaces over words": "lie\x08\x08\x08true",
    "returns and overwrites": "good\rbad ",
    "bell, form feed, tab, null": "\x07\x0c\t\x00",
    "turned round": "\u202eevil\u202c \u2066x\u2069 \u200f",
    "line breaks of every sort": "one\x0btwo\x85three\u2028four\u2029five",
    "delete": "a\x7fb",
}
TRIED = ["".join(TRICKS.values()), *(pytest.param(one, id=name, marks=long) for name, one in TRICKS.items())]


@pytest.mark.parametrize("joints", [False, True], ids=["words", "what joins the record together"])
@pytest.mark.parametrize("trick", TRIED)
def test_no_control_from_a_job_is_said_or_printed(tmp_path: Path, trick: str, joints: bool) -> None:
    """With names of parts, forms, snags and instruments changed too, what that breaks is told; nothing falls over."""
    file = job(tmp_path, lambda words: f"{words[:20]}{trick}{words[20:]}", joints=joints)
    before = file.read_bytes()
    for name, text in (*spoken(file), *line_by_line(file), *packs(file)):
        assert not BARRED.search(text), f"{name}: {BARRED.findall(text)}"
    assert file.read_bytes() == before


@pytest.mark.parametrize("joints", [False, True], ids=["words", "what joins the record together"])
@long
def test_no_control_from_a_job_reaches_a_page_of_the_screen(tmp_path: Path, joints: bool) -> None:
    tricks = list(TRICKS.values())
    file = job(tmp_path, lambda words: f"{tricks[len(words) % len(tricks)]}{words}{''.join(tricks)}", joints=joints)
    before = file.read_bytes()
    for name, text in asyncio.run(pages(file, ascii_only=joints)):
        assert not BARRED.search(text), f"{name}: {BARRED.findall(text)}"
    assert file.read_bytes() == before


@pytest.mark.parametrize("trick", TRICKS.values(), ids=TRICKS)
def test_a_refusal_quotes_no_control(tmp_path: Path, trick: str) -> None:
    file = job(tmp_path, lambda words: words)
    before = file.read_bytes()
    for words in (
        ["show", tmp_path / f"no{trick}.json".replace("\x00", "")],
        ["record", file, f"main.{trick}", "1", "--by", "M. Reed"],
        ["record", file, "main.hip-lines.meeting", f"p={trick}", "--by", "M. Reed"],
        ["skip", file, "main.hip-lines.meeting", "--reason", trick, "--by", "M. Reed"][:3],
        ["handover", file, "--to", trick, "--by", "M. Reed"],
        ["calc", trick],
        ["calc", "common", f"run={trick}"],
        ["calc", "common", f"{trick}=1"],
        [trick],
        ["lint", tmp_path / f"no{trick}.toml".replace("\x00", "")],
        ["merge", file, tmp_path / f"other{trick}".replace("\x00", "")],
    ):
        said = say(*words)
        assert said.code in (1, 2, 3), words
        assert not BARRED.search(said.out + said.err), words
        assert said.err.count("\n") <= 1, words
    assert file.read_bytes() == before


def test_words_given_by_a_person_are_kept_without_their_controls(tmp_path: Path) -> None:
    file = job(tmp_path, lambda words: words)
    assert run(["note", str(file), "main.plates", "wet\x1b[2J\x07 plate", "--by", "M.\x1b[31m Reed"]) == 0
    assert b"\\u001b" not in file.read_bytes()
