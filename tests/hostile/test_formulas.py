"""Words that a spreadsheet takes for a sum: in every CSV that is made they are words."""

import csv
import io
from pathlib import Path

import pytest

from tests.hostile.fronts import BARRED, packs, say
from tests.hostile.jobs import job
from tests.length import long

# What common spreadsheets take for the beginning of a sum, with the tab and line break that they skip.
SUMS = ["=1+1", "+1+1", "-1+1", "@SUM(A1)", "\t=1+1", "\r=1+1", "\n=1+1", '=cmd|" /c calc"!A0', "\u200b=1+1", " =1+1"]
LIVE = ("=", "+", "@", "\t", "\r")


@pytest.mark.parametrize("words", [SUMS[0], *(pytest.param(words, marks=long) for words in SUMS[1:])])
def test_no_cell_of_any_table_begins_as_a_sum(tmp_path: Path, words: str) -> None:
    file = job(tmp_path, lambda text: f"{words} {text}")
    made = [("order", say("order", file, "--csv").out)]
    made += [(name, text.partition("\n")[2]) for name, text in packs(file) if name.endswith(".csv")]
    assert len(made) > 1
    for name, text in made:
        assert not BARRED.search(text), name
        for cell in (cell for row in csv.reader(io.StringIO(text)) for cell in row):
            assert not cell.startswith(LIVE), (name, cell)
            assert not cell.startswith("-") or cell[1:].replace(".", "", 1).isdecimal(), (name, cell)
