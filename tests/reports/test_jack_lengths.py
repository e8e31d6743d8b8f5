"""One length for each jack, wherever it is read: on its check, its drawing, the list, the batch, the stick, the CSV."""

import csv
import io
from pathlib import Path

import pytest

from sitelog.calculators import sheet
from sitelog.calculators.catalogue import Answer
from sitelog.calculators.timber.members import read_members
from sitelog.drawing.index import drawings_of
from sitelog.geometry.roof_lines import CORNERS
from sitelog.job.batches import Batch
from sitelog.job.job import Job
from sitelog.job.members import Line
from sitelog.job.state.views import State
from sitelog.job.sticks import stick_for
from sitelog.quantities.quantity import show_length
from sitelog.reports.timber.entries import all_lines, counted, entries
from sitelog.reports.timber.sheets import files
from sitelog.wording.result import outcome_lines
from tests.calculators.results import cell, figure, rows
from tests.shipped import library

SAMPLE = Path(__file__).parents[2] / "sample_site" / "kiln-lane.json"


@pytest.fixture(scope="module")
def state() -> State:
    with Job.open(SAMPLE, library(), read_only=True) as job:
        return job.state


@pytest.fixture(scope="module")
def lines(state: State) -> tuple[Line, ...]:
    return all_lines(state, library(), "main")


def answer_at(state: State, corner: str) -> Answer:
    view = state.check(f"main.jacks.jacks-{corner}")
    assert view and view.answer, view and view.refusal
    return view.answer


def at(lines: tuple[Line, ...], corner: str) -> dict[int, list[Line]]:
    """The list's jacks of a corner by number, a line a hand."""
    found: dict[int, list[Line]] = {}
    for line in lines:
        if line.id == f"jacks-{corner}":
            found.setdefault(int(line.number), []).append(line)
    return found


@pytest.mark.parametrize("corner", CORNERS)
def test_a_jack_has_one_length_on_its_check_its_drawing_the_list_and_the_stick(
    state: State, lines: tuple[Line, ...], corner: str
) -> None:
    answer, listed = answer_at(state, corner), at(lines, corner)
    (drawing,) = drawings_of(answer)
    drawn = [words.text for words in drawing.words if words.series == "long"]
    made = rows(answer, "rows")
    assert len(made) == len(listed) == len(drawn) > 5
    for row, shown in zip(made, drawn, strict=True):
        length = cell(row, "length_overall")
        assert length > cell(row, "length_long_point") + 300, "with its tail"
        assert shown == show_length(length)
        assert len(listed[int(cell(row, "n"))]) == 2, "one of each hand"
        for line in listed[int(cell(row, "n"))]:
            assert line.member and line.member.length == pytest.approx(length, abs=1e-6)
            stick = figure(stick_for(state, library(), line), "overall_length")
            assert show_length(stick) == show_length(length)


@pytest.mark.parametrize("corner", CORNERS)
def test_the_length_to_cut_comes_first_on_the_check_and_the_one_on_the_line_is_named_so(
    state: State, corner: str
) -> None:
    view = state.check(f"main.jacks.jacks-{corner}")
    assert view and view.answer
    first = show_length(cell(rows(view.answer, "rows")[0], "length_overall"))
    told = [line for line in outcome_lines(view, state) if line]
    assert told[0].split()[:6] == ["Jack", "1:", "cut", "length,", "over", "all"] and f"{first} mm" in told[0]
    (table,) = sheet.tables(view.answer)
    lengths = table.header[2:]
    assert lengths[0] == "Cut length, over all"
    assert all(head.startswith("Measuring line") for head in lengths[1:4])


def test_the_batch_stops_at_the_shortest_of_the_same_lengths_and_the_csv_has_them(
    state: State, lines: tuple[Line, ...]
) -> None:
    """A batch is cut to its shortest, and says by how much the others are short; never by more than the tolerance."""
    found = {id(piece.line): batch for batch in counted(lines, state) for piece in batch.pieces}
    written = dict(files(lines, state))
    members = {(one.part, round(one.length, 3)) for one in read_members(written["members.csv"])}
    stops = {(row["marks"], row["hand"]): row for row in csv.DictReader(io.StringIO(written["batches.csv"]))}
    told = {entry.batch.key: entry.length for entry in entries(lines, state) if entry.batch}
    for corner in CORNERS:
        for row in rows(answer_at(state, corner), "rows"):
            length = cell(row, "length_overall")
            for line in at(lines, corner)[int(cell(row, "n"))]:
                batch: Batch = found[id(line)]
                assert batch.length - 1e-6 <= length <= batch.length + batch.spread + 1e-6
                assert batch.spread <= 2.0
                assert told[batch.key] == show_length(batch.length)
                assert line.member
                assert (line.member.part, round(length, 3)) in members
    assert {float(row["stop_length_mm"]) for row in stops.values() if row["timber"] == "Jack"} == {
        round(batch.length, 1) for batch in found.values() if batch.alike.what == "Jack"
    }
