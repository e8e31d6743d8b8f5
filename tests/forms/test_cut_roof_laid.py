"""A laid valley of a cut roof: the rafters below run on whole, the wing's stand on boards, and the boards are listed.

Sizes are invented. The figures are held to `laid-valley` and `jacks`, which have their own tests against a drawing;
plates are taped to 0.1 mm, so that lengths are within 0.5.
"""

import copy
import math

import pytest

from sitelog.calculators.rafters.jacks import jacks
from sitelog.calculators.rafters.valleys.laid import laid_valley
from sitelog.job.members import Line, members
from sitelog.quantities.quantity import Section
from tests.forms.test_cut_roof import site
from tests.reports.site import Site
from tests.shipped import library

WING = "main 9000x6000 40; wing off CD 2000 from D 4000x3000 35 end gable"
VALLEYS = ("valley-cd-ef", "valley-cd-gh")


@pytest.fixture(scope="module")
def said() -> dict[str, Site]:
    """Nothing said yet of the valleys, one laid, and both laid."""
    found = {"none": site(WING)}
    found["none"].up_to("main.timber.valley-cd-ef-made")
    for before, after, valley in (("none", "one", VALLEYS[0]), ("one", "both", VALLEYS[1])):
        found[after] = copy.copy(found[before])
        found[after].answer(f"main.timber.{valley}-made", {"value": "laid"})
    return found


def lines(site: Site, start: str) -> list[Line]:
    return [line for line in members(site.state, library(), "main") if line.member and line.id.startswith(start)]


def test_the_rafters_below_run_on_whole_once_both_valleys_are_laid(said: dict[str, Site]) -> None:
    """By hand: CD is the mirror of AB again, as many commons and jacks as there, and as long."""
    for whole in ("commons", "hip-jack-left", "hip-jack-right"):
        own, across = (lines(said["both"], f"{whole}-slope-{side}") for side in ("cd", "ab"))
        assert len(own) == len(across) > 3
        assert [line.member.length for line in own] == pytest.approx([line.member.length for line in across], abs=0.5)  # type: ignore[union-attr]
    for framed in ("none", "one"):
        assert len(lines(said[framed], "commons-slope-cd")) < len(lines(said["both"], "commons-slope-cd"))
        assert lines(said[framed], "cripple") or lines(said[framed], "valley-jack-left-slope-cd")
    assert not lines(said["both"], "valley-jack-left-slope-cd") and not lines(said["both"], "cripple")


def test_the_wings_rafters_are_cut_on_to_the_boards(said: dict[str, Site]) -> None:
    """Each is as long as a jack on a valley line, less what the board takes, to the long point of its own face.

    The run along EF is 2000 tan 35 / tan 40 = 1669: of a fourth, at 1600, nothing is left on its short side.
    """
    boards = laid_valley(pitch=40, pitch2=35, run=2000, section=Section(47, 150)).results
    to_the_line = jacks(pitch=35, pitch2=40, spacing=400, run=2000, hip_thickness=0, on="valley").results["rows"]
    lengths = [row["length_centre"] - boards["jack_off"] for row in to_the_line]  # type: ignore[union-attr, operator, index]
    own = lines(said["both"], "valley-jack-right-slope-ef")  # EF is marked from the corner E, as jacks are
    assert len(own) == 3 and own[0].answer
    thick = own[0].answer.inputs["section"].thickness  # type: ignore[union-attr]
    # The foot is level on its side, so that its toe is the long point; the saw's bevel makes one face longer.
    half = thick / 2 * math.tan(math.radians(float(str(boards["foot_edge_from_square"]))))
    ridge = 38 / 2 / math.cos(math.radians(35))
    for line in own:
        assert line.member and line.member.foot.cut == pytest.approx(boards["foot_cut_from_square"], abs=0.01)
        assert line.member.foot.tilt == pytest.approx(boards["foot_saw_tilt"], abs=0.01)
        assert min(abs(line.member.length - (one - ridge + half)) for one in lengths) < 0.5


def test_the_boards_are_in_the_list_and_the_valley_rafter_is_not(said: dict[str, Site]) -> None:
    found = lines(said["both"], "valley-boards")
    assert [line.says for line in found] == ["Valley board CD-EF", "Valley board CD-GH"]
    overhang = next(line.answer.inputs["overhang"] for line in found if line.answer)
    wanted = laid_valley(pitch=40, pitch2=35, run=2000, overhang=float(str(overhang))).results["overall_length"]
    assert [line.member.length for line in found] == pytest.approx([wanted, wanted], abs=0.5)  # type: ignore[union-attr]
    assert not lines(said["both"], "valley-valley") and not lines(said["both"], "valley-between")
