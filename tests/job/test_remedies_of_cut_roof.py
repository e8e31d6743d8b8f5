"""What each way out moves in a roof said block by block: held to the form `hipped`, to its own list, and by hand."""

import copy
import math
from collections.abc import Mapping

import pytest

from sitelog.job.members import Line, members
from sitelog.job.remedies.offered import remedies
from sitelog.job.remedies.remedy import Kind, Remedy
from sitelog.wording.prompts.remedies import remedy_lines
from tests.reports.site import Site
from tests.shipped import library

Corners = Mapping[str, tuple[float, float]]
PLAIN = "main 9300x6400 35"
FIGURES = {"length": "9300", "width": "6400", "pitch": "35"}
# D is 25 off square with A, and C 45 too far along: no two sides are parallel.
OFF: Corners = {"A": (0, 0), "B": (9300, 0), "C": (9345, 6400), "D": (25, 6398)}
GROUPS = {
    "hips": ("hip-hip", "hip-between", "valley-valley", "valley-between"),
    "jacks": ("hip-jack", "valley-jack", "cripple"),
    "commons": ("commons",),
    "ridge": ("ridge",),
}
DORMER = "main 9000x6000 40; dormer off AB 3000 from A 1800x1200 35 cheek 500 end gable"


def cut_roof(text: str) -> Site:
    return Site(parts=[("main", "Main roof", "cut-roof", {"building": text, "design_mass": "70"})])


def taped(at: Corners, keys: str) -> dict[str, str]:
    """Lengths between corners, for figures by names such as `a_b`, as off a tape that reads to 0.1."""
    pairs = {key: key.upper().split("_") for key in keys.split()}
    return {key: f"{math.dist(at[one], at[other]):.1f}" for key, (one, other) in pairs.items()}


def with_plates(text: str, at: Corners, sides: str, ties: str) -> Site:
    made = cut_roof(text)
    made.up_to("main.plates.ties", {"main.plates.sides": taped(at, sides)})
    made.answer("main.plates.ties", taped(at, ties))
    return made


def ways(made: Site, path: str) -> dict[Kind, Remedy]:
    view = made.state.check(path)
    assert view and view.verdict in ("fail", "unsure")
    return {way.kind: way for way in remedies(made.state, library(), view)}


def shift(way: Remedy, group: str) -> tuple[float, float]:
    return next((one.least, one.most) for one in way.shifts if one.group == group)


def test_a_plain_roof_is_moved_as_in_the_form_hipped() -> None:
    """The same plates in both forms: what every way does to hips, jacks, commons and ridge, and to how many."""
    other = Site(more=FIGURES)
    other.up_to("main.plates.sides")
    six = taped(OFF, "a_b b_c c_d d_a a_c b_d")
    other.answer("main.plates.sides", {key.replace("_", ""): size for key, size in six.items()})
    own = ways(with_plates(PLAIN, OFF, "a_b b_c c_d d_a", "a_c b_d"), "main.plates.ties")
    theirs = ways(other, "main.plates.sides")
    assert list(own) == list(theirs) == ["rack", "move", "as-built"]
    for kind, way in own.items():
        for group in ("hips", "jacks", "ridge"):
            assert shift(way, group) == pytest.approx(shift(theirs[kind], group), abs=0.6), (kind, group)
        told, wanted = way.changes, theirs[kind].changes
        assert told and wanted and (told.of, told.count) == (wanted.of, wanted.count)
        assert [one.by for one in told.most] == pytest.approx([one.by for one in wanted.most], abs=0.6)


WING = "main 9000x6000 40; wing off CD 0 from D 4000x4000 40 end gable"
WING_SIDES, WING_TIES = "a_b b_c c_e e_f f_g g_a", "b_g a_e c_f e_g"
DRAWN: Corners = {
    "A": (0, 0),
    "B": (9000, 0),
    "C": (9000, 6000),
    "E": (4000, 6000),
    "F": (4000, 10000),
    "G": (0, 10000),
}


def leant(by: float, longer: float) -> Corners:
    """Walls square to AB turned by so much [rad], and all along AB longer by a share."""
    return {name: (x * (1 + longer) - y * math.sin(by), y * math.cos(by)) for name, (x, y) in DRAWN.items()}


def lengths(made: Site) -> dict[str, list[float]]:
    """Of the cutting list as it stands, line by line in the order of their marks."""
    found: dict[str, list[Line]] = {}
    for line in members(made.state, library(), "main"):
        if line.member:
            found.setdefault(line.id, []).append(line)
    return {id: [line.member.length for line in lines if line.member] for id, lines in found.items()}


@pytest.mark.parametrize(("by", "longer"), [(0.006, 0.0), (-0.002, 0.002)])
def test_what_a_way_moves_is_what_the_list_says_once_those_plates_are_entered(by: float, longer: float) -> None:
    """The plates taped as that way leaves them, in another job: its list against that of the drawing.

    Racked, sides that are as drawn bring the corners back to the drawing.
    """
    drawn = lengths(cut_roof(WING))
    at = leant(by, longer)
    found = ways(with_plates(WING, at, WING_SIDES, WING_TIES), "main.plates.ties")
    back: Kind = "move" if longer else "rack"
    assert list(found) == (["rack", "move", "as-built"] if longer else ["rack", "as-built"])
    for kind, way, end in ((back, found[back], DRAWN), ("as-built", found["as-built"], at)):
        after = lengths(with_plates(WING, end, WING_SIDES, WING_TIES))
        for group, starts in GROUPS.items():
            own = [id for id in drawn if id.startswith(starts) and len(drawn[id]) == len(after[id])]
            grown = [new - old for id in own for new, old in zip(after[id], drawn[id], strict=True)]
            least, most = shift(way, group)
            assert least <= min(grown) + 0.5 and most >= max(grown) - 0.5, (kind, group)
        assert way.changes
        every = [length for group in after.values() for length in group]
        for one in way.changes.most:
            assert min(abs(length - one.after) for length in every) < 0.5, one


def test_sides_too_long_are_told_in_timbers_before_a_diagonal_is_taped() -> None:
    """By hand: both long sides 30 over make the ridge 30 longer, and no hip, jack or common.

    Set to the drawing, the short sides stay 4 over: 2 more of run is 2 / cos 35 of a common and 2 x root(2 + tan^2 35)
    of a hip, and the ridge is 4 shorter.
    """
    made = cut_roof(PLAIN)
    made.up_to("main.plates.sides")
    plain = copy.copy(made)
    plain.answer("main.plates.sides", {"a_b": "9330", "b_c": "6400", "c_d": "9330", "d_a": "6400"})
    way = ways(plain, "main.plates.sides")["as-built"]
    assert shift(way, "ridge") == pytest.approx((30, 30), abs=0.2)
    assert all(shift(way, group) == pytest.approx((0, 0), abs=0.2) for group in ("hips", "commons"))
    assert way.changes and way.changes.most[0].name == "Ridge AB-CD"
    made.answer("main.plates.sides", {"a_b": "9330", "b_c": "6404", "c_d": "9330", "d_a": "6404"})
    moved = ways(made, "main.plates.sides")["move"]
    tan = math.tan(math.radians(35))
    assert [(act.what, act.by) for act in moved.acts] == [("side AB", -30), ("side CD", -30)]
    assert shift(moved, "ridge") == pytest.approx((-4, -4), abs=0.2)
    assert shift(moved, "commons") == pytest.approx((2 / math.cos(math.radians(35)),) * 2, abs=0.2)
    assert shift(moved, "hips") == pytest.approx((2 * math.sqrt(2 + tan * tan),) * 2, abs=0.2)


def test_sides_that_close_round_no_plan_have_no_way_to_be_worked() -> None:
    made = cut_roof(PLAIN)
    made.up_to("main.plates.sides")
    made.answer("main.plates.sides", {"a_b": "93300", "b_c": "6400", "c_d": "9300", "d_a": "6400"})
    view = made.state.check("main.plates.sides")
    assert view and remedies(made.state, library(), view) == ()


def test_a_dormer_too_high_is_let_down_or_its_timbers_cut_to_it() -> None:
    """By hand: 25 up the slope is 25 / tan 40 further in, and so much longer is its ridge."""
    made = cut_roof(DORMER)
    made.up_to("main.dormer.place")
    view = made.state.check("main.dormer.place")
    assert view
    read = {figure.key: f"{figure.drawn:.1f}" for figure in view.figures if isinstance(figure.drawn, float)}
    made.answer("main.dormer.place", {**read, "up": f"{float(read['up']) + 25:.1f}"})
    found = ways(made, "main.dormer.place")
    ridge = 25 / math.tan(math.radians(40))
    assert shift(found["move"], "ridge") == pytest.approx((0, 0), abs=0.2)
    assert shift(found["as-built"], "ridge") == pytest.approx((0, ridge), abs=0.2)
    view = made.state.check("main.dormer.place")
    assert view
    told = remedy_lines(view, made.state, library())
    assert told[1] == "- Set it to the drawing: its plates over main plate 25 lower"
    assert told[2:4] == ["  hips, jacks, commons, ridge 0", "- Leave it and cut to as-built"]


def test_a_first_pair_too_steep_moves_what_it_moves_in_the_form_hipped() -> None:
    """The same pair in both forms: run x (tan 35.8 - tan 35) by hand, and the timbers cut to it."""
    own, other = cut_roof(PLAIN), Site(more=FIGURES)
    own.up_to("main.main-first-pair.stood")
    own.answer("main.main-first-pair.stood", {"plumb": "1", "one": "35.8", "other": "35.8"})
    other.up_to("main.first-pair.stood")
    other.answer("main.first-pair.stood", {"plumb": "1", "ab": "35.8", "cd": "35.8"})
    found, wanted = ways(own, "main.main-first-pair.stood"), ways(other, "main.first-pair.stood")
    assert list(found) == list(wanted) == ["lift", "as-built"]
    high = 3200 * (math.tan(math.radians(35.8)) - math.tan(math.radians(35)))
    assert [act.by for act in found["lift"].acts] == pytest.approx([-high] * 2, abs=0.5)
    for group in ("hips", "jacks", "ridge"):
        assert shift(found["as-built"], group) == pytest.approx(shift(wanted["as-built"], group), abs=0.6), group
    level, pitches = 3200 + 300 - 19, [math.radians(pitch) for pitch in (35, 35.8)]
    short, long = (level / math.cos(pitch) + 150 * math.tan(pitch) for pitch in pitches)
    assert shift(found["as-built"], "commons") == pytest.approx((long - short,) * 2, abs=0.5)


def test_a_first_pair_of_two_pitches_is_lifted_and_cut_each_by_its_own() -> None:
    """By hand: only the rafter that is out is to be lifted; a wing's own timbers stay as they are."""
    made = cut_roof("main 9000x6000 40 CD 30; wing off AB 3000 from A 3000x1500 35 end gable")
    made.up_to("main.main-first-pair.stood")
    view = made.state.check("main.main-first-pair.stood")
    assert view
    run = float(str(made.state.facts["main.main_run_1"].now))
    drawn = {figure.key: figure.drawn for figure in view.figures if isinstance(figure.drawn, float)}
    read = {"plumb": "1", "one": f"{drawn['one'] + 1:.1f}", "other": f"{drawn['other']:.1f}"}
    made.answer("main.main-first-pair.stood", read)
    way = ways(made, "main.main-first-pair.stood")
    (act,) = way["lift"].acts
    low, high = (math.tan(math.radians(drawn["one"] + more)) for more in (0, 1))
    assert act.what == "rafter on one slope" and act.by == pytest.approx(run * (low - high), abs=0.5)
    least, most = shift(way["as-built"], "commons")
    assert least == pytest.approx(0, abs=0.1) and most > 20


def test_plates_out_of_level_are_cut_to_as_in_coordinates() -> None:
    """By hand over 9300 x 6400 at 35 degrees: B is 10 low, AB's middle 1, BC's 2, and the rest as high as A.

    A hip is from its corner to the ridge's end. A jack's foot is down with its plate, straight from corner to middle,
    and its head with the hip at B, less the higher up; a common's foot alone.
    """
    made = cut_roof(PLAIN)
    made.up_to("main.plates.levels")
    made.answer("main.plates.levels", {"readings": "1400,1401,1410,1402,1400,1400,1400,1400"})
    way = ways(made, "main.plates.levels")["as-built"]
    run, rise = 3200.0, 3200 * math.tan(math.radians(35))
    hip = math.hypot(run, run, rise + 10) - math.hypot(run, run, rise)
    assert shift(way, "hips") == pytest.approx((0, hip), abs=0.05)

    def longer(at: float, half: float, middle: float) -> float:
        foot, head = 10 + (middle - 10) * at / half, 10 * (1 - at / run)
        level, up = at, at * math.tan(math.radians(35))
        return math.hypot(level, up + foot - head) - math.hypot(level, up)

    jacks = [longer(at, *side) for at in range(400, 3200, 400) for side in ((4650.0, 1.0), (3200.0, 2.0))]
    assert shift(way, "jacks") == pytest.approx((min(0.0, *jacks), max(jacks)), abs=0.1)
    at_ridge = 10 - 9 * 3200 / 4650  # AB's foot under the ridge's end
    common = math.hypot(run, rise + at_ridge) - math.hypot(run, rise)
    assert shift(way, "commons") == pytest.approx((0, common), abs=0.1)


def test_at_a_gable_the_ridge_stays_where_a_low_plate_is_under_its_end() -> None:
    """By hand: BC's middle is 10 low, under the gable; every foot is as high as before, and so is the ridge."""
    made = cut_roof("main 9000x6000 35 BC gable DA gable")
    made.up_to("main.plates.levels")
    made.answer("main.plates.levels", {"readings": "1400,1400,1400,1410,1400,1400,1400,1400"})
    way = ways(made, "main.plates.levels")["as-built"]
    assert [(one.group, one.least, one.most) for one in way.shifts] == [("commons", 0, 0)]
