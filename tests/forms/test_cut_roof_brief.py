"""The brief of a cut roof: each of its slopes in a row, the true lengths of its lines, and points that say their place.

The second sample, as taped. By hand: an overhang of 300 level, slates 500 x 250 with a headlap of 100.
"""

import math
import shutil
from collections.abc import Iterator
from datetime import UTC, datetime
from pathlib import Path

import pytest

from sitelog.checklist.schema.shipped import sample_folder
from sitelog.job.job import Job
from sitelog.job.state.views import State
from sitelog.reports.model import Pack, Table
from sitelog.reports.pack import make
from tests import shipped
from tests.forms.test_brief_pages import held
from tests.forms.test_cut_roof import site
from tests.reports.site import Site

COS, COS_LEAN_TO = math.cos(math.radians(40)), math.cos(math.radians(25))


@pytest.fixture(scope="module")
def handed_over(tmp_path_factory: pytest.TempPathFactory) -> Iterator[tuple[State, Pack]]:
    """The sample and its brief for the tiler."""
    file = Path(shutil.copy(sample_folder() / "mill-yard.json", tmp_path_factory.mktemp("brief") / "job.json"))
    with Job.open(file, shipped.library(), read_only=True) as job:
        yield job.state, make(job.state, shipped.library(), "tiler", datetime(2025, 12, 1, tzinfo=UTC))


def table(pack: Pack, head: str) -> Table:
    blocks = (block for leaf in pack.brief for block in leaf.blocks)
    return next(block for block in blocks if isinstance(block, Table) and block.heads[0] == head)


def test_each_slope_is_a_row_with_what_it_is_set_out_by(handed_over: tuple[State, Pack]) -> None:
    """BC is a triangle on a plate of 6206; the lean-to 3000 x 1800 is covered up to its wall, under the eaves too."""
    rows = {row[0]: dict(zip(table(handed_over[1], "Slope").heads, row, strict=True)) for row in
            table(handed_over[1], "Slope").rows}  # fmt: skip
    assert list(rows) == ["AB", "BC", "CE", "GA", "EF wing", "JK lean-to", "PQ dormer", "MN dormer"]
    assert {row["Pitch"].partition(" ")[0] for row in rows.values()} == {"40.0°", "25.0°"}
    end, lean_to = rows["BC"], rows["JK lean-to"]
    assert end["Eaves"].startswith("6806") and end["Top"] == "a point"
    assert float(end["m2"]) == pytest.approx(6.806 * (3.103 + 0.3) / COS / 2, abs=0.1)
    assert lean_to["Up the slope"].startswith(f"{2100 / COS_LEAN_TO:.0f}")
    assert float(lean_to["m2"]) == pytest.approx(3.0 * 2.1 / COS_LEAN_TO, abs=0.06)
    assert "shortest" in rows["GA"]["Up the slope"], "GA goes up to two ridges"


def test_a_plain_hipped_roof_is_set_out_as_in_the_form_hipped() -> None:
    """The same roof and covering in both forms: `hipped` goes up to the ridge's face, and here to its middle, 23 mm."""
    figures = {"length": "9000", "width": "6000", "pitch": "35", "design_mass": "70"}
    rows = []
    for walked in (Site(more=figures), site("main 9000x6000 35")):
        walked.up_to("", {"main.eaves.height-double": {"tile": "12", "hang": "240", "height": "125"}})
        rows.append(table(walked.pack(), "Slope").rows)
    for own, other in zip(*rows, strict=True):
        assert (own[0], own[5], own[8]) == (other[0], other[5], other[8])
        for column, apart in ((4, 0.3), (6, 3), (7, 1), (9, 0.04 * int(own[9]))):
            assert float(own[column]) == pytest.approx(float(other[column]), abs=apart)


def test_every_line_has_its_true_length(handed_over: tuple[State, Pack]) -> None:
    """A valley at 40 both sides over half of what is between E and the wall across from it, as taped."""
    rows = {row[0]: row[1] for row in table(handed_over[1], "Lines").rows}
    assert list(rows) == ["Ridges", "Hips", "Valleys", "Verges, with their tails", "Abutments", "Plates",
                          "Plates, corner to corner"]  # fmt: skip
    valley = float(rows["Valleys"].partition("CE-EF ")[2].split()[0].rstrip(";"))
    run = (4197 + 1) / 2
    assert valley == pytest.approx(math.hypot(run * math.sqrt(2), run * math.tan(math.radians(40))), abs=3)
    assert rows["Plates"].startswith("AB 10404 (drawn 10400); BC 6206 (drawn 6200)")
    assert rows["Abutments"].count("AB-") == 5, "two cheeks and the face of the dormer, and the lean-to's top"


def test_every_point_and_every_fault_says_of_which_block_or_line_it_is(handed_over: tuple[State, Pack]) -> None:
    state, pack = handed_over
    several = [stage for stage in state.order if ": " in stage.stage.title and stage.part == "roof"]
    names = {stage.path: stage.stage.title.partition(": ")[0] for stage in several}
    assert {"Main roof", "Wing", "Lean-to", "Dormer", "Valley CE-EF"} <= set(names.values())
    for stage in several:
        for view in stage.shown:
            told = view.check.ask_in_full
            own = names[stage.path], "Hip ", "Ridge ", "Valley "
            assert told.startswith(tuple(f"{name}: " if name[-1] != " " else name for name in own)), told
    points = [row[1] for row in table(pack, "No").rows]
    assert len(points) == len(set(points)), "no two points are alike"


def test_the_brief_of_a_cut_roof_keeps_to_its_pages(handed_over: tuple[State, Pack]) -> None:
    held(handed_over[1])
