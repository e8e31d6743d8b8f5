"""Huge numbers, NaN and infinity, where a figure is typed, given to a command, or stands in a file."""

import json
from pathlib import Path

import pytest

from tests.hostile.fronts import every_front, say
from tests.hostile.jobs import job, sample
from tests.hostile.refused import refused
from tests.length import long

NUMBERS = ["NaN", "inf", "-inf", "1e999", "-1e999", "9" * 400, "0x10", "1e-400", "--5", "1e", "½½", "5" * 5000]
HUGE = [1e308, -1e308, 10**30, 2**63, -(2**63), 5e-324]


@pytest.mark.parametrize("number", NUMBERS, ids=lambda number: number[:12])
def test_a_figure_that_is_no_length_is_refused_in_one_line_by_name(tmp_path: Path, number: str) -> None:
    file = job(tmp_path, lambda words: words)
    before = file.read_bytes()
    for words in (
        ["record", file, "main.hip-lines.meeting", f"p={number}", "q=0", "--by", "M. Reed"],
        ["draw", file, "main", f"length={number}", "--by", "M. Reed"],
        ["calc", "common", f"run={number}", "pitch=35"],
        ["calc", "string", f"offsets=0,{number},0", "length=3000", "tolerance=5"],
        ["calc", "stock", f"cuts=47x150:{number}:2"],
    ):
        said = say(*words)
        assert said.code == 2, (words, said)
        assert said.in_one_line, (words, said)
        assert len(said.err) < 600
    assert file.read_bytes() == before


@pytest.mark.parametrize("word", ["NaN", "Infinity", "-Infinity", "1e999"])
def test_a_file_with_a_number_that_json_has_not_is_refused(tmp_path: Path, word: str) -> None:
    file = job(tmp_path, lambda words: words)
    raw = file.read_text().replace("8996.0", word, 1)
    assert word in raw
    file.write_text(raw)
    refused(file, "job.json")


@long
def test_numbers_beyond_all_reason_in_a_whole_file_are_shown_and_nothing_falls_over(tmp_path: Path) -> None:
    numbers = iter(HUGE * 100)
    (tmp_path / "made").mkdir()
    file = job(tmp_path / "made", lambda words: words, number=lambda _: next(numbers))
    before = file.read_bytes()
    for name, text in every_front(file):
        assert "Traceback" not in text, name
    assert file.read_bytes() == before


@long
def test_numbers_where_words_belong_and_words_where_numbers_belong(tmp_path: Path) -> None:
    file = job(tmp_path, lambda words: words, number=lambda _: "eight")
    for name, text in every_front(file):
        assert "Traceback" not in text, name


def test_the_sample_has_numbers_to_change() -> None:
    assert "8996" in json.dumps([entry.value for entry in sample()])
