"""A pitched dormer whose valleys are laid: its jacks stand on the boards, and the main rafters run on over its opening.

Sizes are invented. Every length is worked here from planes: x in from the dormer's left plate, y in from the main plate
and z up from it, all in mm on the measuring lines. Plates are taped to 0.1 mm, so that lengths are within 0.5.
"""

import copy
import math

import pytest

from sitelog.job.batches import batches
from sitelog.job.members import Line, members
from sitelog.job.sticks import sticks
from tests.forms.test_cut_roof import site
from tests.reports.site import Site
from tests.shipped import library

MAIN, OWN = math.radians(40), math.radians(35)
FACE, RUN, CHEEK, RIDGE, BOARD, DEPTH, SPACING = 1200.0, 900.0, 500.0, 38.0, 25.0, 150.0, 400.0
UP = FACE * math.tan(MAIN) + CHEEK
OUT = UP / math.tan(MAIN)  # y where its plates come out on the main slope
ROOF = "main 9000x6000 40; dormer off AB 3200 from A 1800x1200 35 cheek 500 end gable"
VALLEYS = ("valley-ab-gh", "valley-ab-ef")


@pytest.fixture(scope="module")
def said() -> dict[str, Site]:
    """Nothing said yet of its valleys, one laid, and both laid."""
    found = {"none": site(ROOF)}
    found["none"].up_to(f"main.timber.{VALLEYS[0]}-made")
    for before, after, valley in (("none", "one", VALLEYS[0]), ("one", "both", VALLEYS[1])):
        found[after] = copy.copy(found[before])
        found[after].answer(f"main.timber.{valley}-made", {"value": "laid"})
    return found


def lines(site: Site, *starts: str) -> list[Line]:
    return [line for line in members(site.state, library(), "main") if line.member and line.id.startswith(starts)]


def length(line: Line) -> float:
    assert line.member
    return line.member.length


def at(line: Line) -> float:
    """How far in from the face it stands: EF is marked from 1000 back, and GH from the face."""
    assert line.row
    mark = float(str(line.row["at"]))
    return mark if line.id.endswith("gh") else 1000 - mark


def thickness(line: Line) -> float:
    assert line.answer
    return line.answer.inputs["section"].thickness  # type: ignore[union-attr]


def toe(back: float) -> float:
    """x where the dormer's slope meets the top of a board on the main slope, that far in from the face."""
    top_of_board = (FACE + back) * math.tan(MAIN) + BOARD / math.cos(MAIN)
    return (top_of_board - UP) / math.tan(OWN)


def test_its_jacks_go_from_the_boards_to_the_ridge(said: dict[str, Site]) -> None:
    """The foot is level on the jack's side, so that its toe is the long point, on the face nearer to the dormer's."""
    own = lines(said["both"], "valley-jack")
    assert {line.id for line in own} == {"valley-jack-left-slope-gh", "valley-jack-right-slope-ef"}
    for line in own:
        wanted = (RUN - RIDGE / 2 - toe(at(line) - thickness(line) / 2)) / math.cos(OWN)
        assert length(line) == pytest.approx(wanted, abs=0.5)


def test_no_bay_between_the_valleys_foot_and_head_is_left_without_a_jack(said: dict[str, Site]) -> None:
    """From y where the plates come out to where the ridge does, a rafter or a jack at no more than the spacing."""
    head = (UP + RUN * math.tan(OWN)) / math.tan(MAIN) - FACE
    for slope in ("gh", "ef"):
        on = lines(
            said["both"],
            f"commons-slope-{slope}",
            f"valley-jack-left-slope-{slope}",
            f"valley-jack-right-slope-{slope}",
        )
        marks = sorted(at(line) for line in on)
        assert marks[0] == pytest.approx(0, abs=0.1)
        assert all(line.member and line.member.count == 1 for line in on)
        assert max(after - before for before, after in zip(marks, [*marks[1:], head], strict=True)) <= SPACING + 10


def test_the_saw_is_set_for_a_foot_on_the_main_slope(said: dict[str, Site]) -> None:
    """By vectors: the board's plane leans 40 degrees across the jack, so on its side the cut is level, and on its top
    edge it runs along where the two slopes meet."""
    across = math.tan(OWN) / math.tan(MAIN)  # y for each x along the line
    edge = math.degrees(math.atan2(1 / math.cos(OWN), across))
    for line in lines(said["both"], "valley-jack"):
        assert line.member
        foot = line.member.foot
        assert (foot.cut, foot.tilt) == pytest.approx((90 - 35, 40), abs=0.01)
        assert foot.bevel == pytest.approx(edge, abs=0.01)
        assert foot.hand == ("left" if line.id.endswith("gh") else "right")
        assert line.member.head.cut == pytest.approx(35, abs=0.01)


def test_the_main_rafters_stop_at_the_opening_and_run_on_to_the_ridge(said: dict[str, Site]) -> None:
    """As many below the face as with framed valleys, and as long; as many again from the line of its plates up."""
    framed, laid = (lines(said[name], "others-slope-ab") for name in ("none", "both"))
    above = (3000 - RIDGE / 2 - OUT) / math.cos(MAIN) + DEPTH * math.tan(MAIN)
    assert len(framed) >= 4
    assert sorted(map(length, laid)) == pytest.approx(sorted([*map(length, framed), *(above for _ in framed)]), abs=0.5)
    assert not lines(said["both"], "valley-jack-left-slope-ab", "valley-jack-right-slope-ab", "cripple")


def test_its_boards_are_listed_and_no_valley_rafter(said: dict[str, Site]) -> None:
    """From the plate's end up to the ridge's: x is the run, y and z what the two pitches make of it."""
    rise = RUN * math.tan(OWN)
    wanted = math.hypot(RUN, rise / math.tan(MAIN), rise)
    boards = lines(said["both"], "valley-boards")
    assert len(boards) == 2 and list(map(length, boards)) == pytest.approx([wanted] * 2, abs=0.5)
    assert not lines(said["both"], "valley-valley", "valley-between")


def test_one_valley_laid_and_the_other_not_said_is_framed_still(said: dict[str, Site]) -> None:
    own = [line.row for line in lines(said["one"], "valley-jack")]
    assert {row["foot_on"] for row in own if row} == {"plumb"}


def test_its_jacks_are_in_the_batches_and_each_has_its_stick(said: dict[str, Site]) -> None:
    every = members(said["both"].state, library(), "main")
    own = [line for line in every if line.id.startswith("valley-jack")]
    pieces = [piece.line for batch in batches(every) for piece in batch.pieces]
    assert own and all(line in pieces for line in own)
    made = [stick for stick in sticks(said["both"].state, library(), "main") if stick.lines[0] in own]
    assert {stick.hand for stick in made} == {"left", "right"}
    assert all(stick.answer for stick in made), [stick.why for stick in made]


def test_a_hipped_dormer_is_laid_as_well() -> None:
    """Its face is the foot of its own hip: the jacks on the boards are those of the gabled one of the same size."""
    made = site(ROOF.replace("end gable", "end hip"))
    made.up_to("main.timber.valley-ab-gh-made")
    for valley in ("valley-ab-gh", "valley-ab-ef"):
        made.answer(f"main.timber.{valley}-made", {"value": "laid"})
    own = lines(made, "valley-jack")
    assert own and {line.row["foot_on"] for line in own if line.row} == {"board"}
    for line in own:
        assert line.row
        mark = float(str(line.row["at"]))
        back = mark if line.id.endswith("gh") else 1000 - mark
        wanted = (RUN - RIDGE / 2 - toe(back - thickness(line) / 2)) / math.cos(OWN)
        assert length(line) == pytest.approx(wanted, abs=0.5)
