"""What each way out of a measure moves, held to coordinates worked here on a second path."""

import math
import re
from itertools import pairwise

import pytest

from sitelog.geometry.racking import racked
from sitelog.job.members import members
from sitelog.job.remedies.offered import remedies
from sitelog.job.remedies.remedy import Kind, Remedy, Shift
from sitelog.wording.prompts.remedies import remedy_lines
from tests.reports.site import Site
from tests.shipped import library

LONG, WIDE, PITCH = 9300.0, 6400.0, 35.0
RUN, RISE = WIDE / 2, WIDE / 2 * math.tan(math.radians(PITCH))
RAFTERS = {"length": "9300", "width": "6400", "set_out": "middle"}
Point = tuple[float, float, float]


def out(path: str, texts: dict[str, str]) -> dict[Kind, Remedy]:
    """The ways out once that check is answered so, by their kind."""
    site = Site(more=RAFTERS)
    site.up_to(path)
    site.answer(path, texts)
    view = site.state.check(path)
    assert view and view.verdict in ("fail", "unsure")
    return {way.kind: way for way in remedies(site.state, library(), view)}


def shift(way: Remedy, group: str) -> tuple[float, float]:
    found = next(one for one in way.shifts if one.group == group)
    return found.least, found.most


def taped(corners: list[tuple[float, float]]) -> dict[str, str]:
    """The six lengths between four corners, as a tape reads them to a tenth."""
    a, b, c, d = corners
    pairs = {"ab": (a, b), "bc": (b, c), "cd": (c, d), "da": (d, a), "ac": (a, c), "bd": (b, d)}
    return {name: f"{math.dist(*pair):.1f}" for name, pair in pairs.items()}


# A parallelogram: a rectangle leant over by so many degrees, so that the angle at A is 90 more or less these.
LEANT = [0.15, -0.15, 0.4]


@pytest.mark.parametrize("degrees", LEANT)
def test_a_leant_rectangle_is_racked_back_by_the_chord_of_its_lean(degrees: float) -> None:
    """Both far corners go by 2 x side x sin(lean / 2), towards the shorter diagonal's side."""
    lean = math.radians(degrees)
    far = (-WIDE * math.sin(lean), WIDE * math.cos(lean))
    corners = [(0.0, 0.0), (LONG, 0.0), (LONG + far[0], far[1]), far]
    ways = out("main.plates.sides", taped(corners))
    acts = ways["rack"].acts
    assert [act.what for act in acts] == ["C", "D"]
    assert [act.by for act in acts] == pytest.approx([2 * WIDE * math.sin(abs(lean) / 2)] * 2, abs=0.2)
    assert {act.to for act in acts} == {"BC" if degrees > 0 else "DA"}
    assert shift(ways["rack"], "hips") == pytest.approx((0, 0), abs=0.15), "as drawn again"
    assert shift(ways["rack"], "jacks") == pytest.approx((0, 0), abs=0.15)


@pytest.mark.parametrize("degrees", LEANT)
def test_hips_cut_to_a_leant_rectangle_differ_by_their_corners(degrees: float) -> None:
    """A corner of 90 + lean has its hip on the half angle: level over run / sin(half), from the tail to the ridge's
    face, and as much up as before (planes of one pitch, by hand). What its plumb cut takes is left out: under 0.2."""
    lean = math.radians(degrees)
    run, up = RUN * math.cos(lean), math.tan(math.radians(PITCH))
    level = run + 300 - 19
    square = math.hypot((RUN + 300 - 19) * math.sqrt(2), (RUN + 300 - 19) * up)
    hips = [math.hypot(level / math.sin(math.radians(90 + way * degrees) / 2), level * up) - square for way in (1, -1)]
    far = (-WIDE * math.sin(lean), WIDE * math.cos(lean))
    ways = out("main.plates.sides", taped([(0.0, 0.0), (LONG, 0.0), (LONG + far[0], far[1]), far]))
    assert shift(ways["as-built"], "hips") == pytest.approx((min(hips), max(hips)), abs=0.4)
    assert ways["as-built"].courses == pytest.approx(0, abs=0.2), "its eaves are still along its ridge"


def test_a_rack_keeps_every_side_and_makes_the_diagonals_alike() -> None:
    """Of any four sides: taken here of a frame with no two alike."""
    begin = {"a": (0.0, 0.0), "b": (9000.0, 0.0), "c": (9100.0, 6010.0), "d": (40.0, 5990.0)}
    true = racked(begin)
    assert true
    for one, other in (*pairwise("abcd"), ("d", "a")):
        assert math.dist(true[one], true[other]) == pytest.approx(math.dist(begin[one], begin[other]), abs=1e-6)
    assert math.dist(true["a"], true["c"]) == pytest.approx(math.dist(true["b"], true["d"]), abs=1e-6)


def test_what_is_no_rectangle_out_of_square_is_not_racked() -> None:
    assert racked({"a": (0.0, 0.0), "b": (9000.0, 0.0), "c": (14000.0, 6000.0), "d": (5000.0, 6000.0)}) is None


def test_plates_that_run_apart_make_courses_run_out() -> None:
    """D is 30 in: the run at P is 15 less than at Q, so a course that is whole at Q is that over cos pitch short."""
    corners = [(0.0, 0.0), (LONG, 0.0), (LONG, WIDE), (0.0, WIDE - 30)]
    way = out("main.plates.sides", taped(corners))["as-built"]
    slope = (LONG - WIDE) / LONG * 15 / math.cos(math.radians(PITCH))  # the ridge is that part of the plates
    assert way.courses == pytest.approx(slope, abs=0.6)


READINGS = {"A": 1400, "AB": 1401, "B": 1410, "BC": 1402, "C": 1405, "CD": 1403, "D": 1400, "DA": 1400}


def test_plates_out_of_level_are_packed_eased_or_cut_to() -> None:
    """By coordinates: a foot let down by the packing that is left out, the head where it was, or on its hip."""
    ways = out("main.plates.levels", {"readings": ",".join(map(str, READINGS.values()))})
    low = {name: reading - 1400 for name, reading in READINGS.items()}
    assert {act.what: act.by for act in ways["pack"].acts} == {name: by for name, by in low.items() if by}
    assert {act.what: act.by for act in ways["ease"].acts} == {name: 10 - by for name, by in low.items() if by < 10}
    assert ways["pack"].shifts == tuple(Shift(group, 0, 0) for group in ("hips", "jacks", "commons", "ridge"))
    assert ways["ease"].seat == pytest.approx((50 + 10 * math.cos(math.radians(PITCH)), 150))
    hips = [math.dist((0, 0, -by), (RUN, RUN, RISE)) - math.dist((0, 0, 0), (RUN, RUN, RISE)) for by in (0, 10, 5)]
    assert shift(ways["as-built"], "hips") == pytest.approx((0, max(hips)), abs=0.05)
    commons = [math.hypot(RUN, RISE + low[side]) - math.hypot(RUN, RISE) for side in ("AB", "CD")]
    least, most = shift(ways["as-built"], "commons")
    assert (least, most) == pytest.approx((min(0, *commons), max(commons)), abs=0.05)


def test_a_jack_let_down_with_its_plate_and_its_hip() -> None:
    """At B, 10 down, and 1 down at the middle of AB; every head on the hip that has gone down with its foot."""
    site = Site(more=RAFTERS)
    site.up_to("main.plates.levels")
    site.answer("main.plates.levels", {"readings": ",".join(map(str, READINGS.values()))})
    view = site.state.check("main.plates.levels")
    assert view
    way = next(way for way in remedies(site.state, library(), view) if way.kind == "as-built")
    marks = [line.row["at"] for line in members(site.state, library(), "main") if line.id == "jacks-b" and line.row]

    def longer(at: float) -> float:
        foot = 10 + (1 - 10) * at / (LONG / 2)
        head = 10 * (1 - at / RUN)
        rise = at * math.tan(math.radians(PITCH))
        return math.hypot(at, rise + foot - head) - math.hypot(at, rise)

    assert len(marks) > 4
    most = max(longer(float(str(at))) for at in marks)
    assert shift(way, "jacks")[1] == pytest.approx(most, abs=0.05)


def test_a_first_pair_too_steep_has_its_ridge_set_or_the_roof_cut_to_it() -> None:
    """By hand: run x (tan 35.8 - tan 35) too high; a hip from tail to ridge's face is level x root 2, and up,
    and its plumb cut goes 225 x tan of its own pitch on."""
    ways = out("main.first-pair.stood", {"plumb": "1", "ab": "35.8", "cd": "35.8"})
    high = RUN * (math.tan(math.radians(35.8)) - math.tan(math.radians(35)))
    assert [act.by for act in ways["lift"].acts] == pytest.approx([-high] * 2, abs=0.01)
    level = RUN + 300 - 19
    tangents = [math.tan(math.radians(pitch)) for pitch in (35.0, 35.8)]
    hips = [math.hypot(level * math.sqrt(2), level * up) + 225 * up / math.sqrt(2) for up in tangents]
    assert shift(ways["as-built"], "hips") == pytest.approx([hips[1] - hips[0]] * 2, abs=0.02)


def test_a_ridge_out_of_level_lengthens_the_hips_of_its_high_end() -> None:
    """Q is 9 higher than P, by coordinates; the hips at P stay."""
    ways = out("main.ridge.ridge-ends", {"length": f"{LONG - WIDE}", "fall": "-9"})
    assert [(act.what, act.by) for act in ways["level"].acts] == [("Q", -9)], "Q is 9 too high"
    hip = math.dist((0, 0, 0), (RUN, RUN, RISE + 9)) - math.dist((0, 0, 0), (RUN, RUN, RISE))
    assert shift(ways["as-built"], "hips") == pytest.approx((0, hip), abs=0.05)


def test_a_ridge_too_long_takes_from_the_hips_and_turns_the_jacks() -> None:
    """30 too long, all at one end, by coordinates: the jacks there are cut to a hip that lies over to the ridge."""
    ways = out("main.ridge.ridge-ends", {"length": f"{LONG - WIDE + 30}", "fall": "0"})
    hip = math.dist((0, 0, 0), (RUN - 30, RUN, RISE)) - math.dist((0, 0, 0), (RUN, RUN, RISE))
    assert shift(ways["as-built"], "hips") == pytest.approx((hip, 0), abs=0.05)
    least, most = shift(ways["as-built"], "jacks")
    last = 1 / (RUN - 30) - 1 / RUN  # of the mark's distance: a jack on the long side, level over the run
    assert 0 < most <= RUN * RUN * last / math.cos(math.radians(PITCH)) + 0.1
    assert -most < least < 0


def bowed(along: float, offsets: list[float], flat: float) -> float:
    """How high the bowed line stands over a place that far from the corner on plan: walked up in small steps, each
    point set off square to the hip in the plane that stands on it."""
    hip = math.hypot(RUN * math.sqrt(2), RISE)
    ahead, up = RUN * math.sqrt(2) / hip, RISE / hip
    third = along / (len(offsets) - 1)
    for step in range(200_000):
        at = along * step / 200_000
        number = min(int(at / third), len(offsets) - 2)
        off = offsets[number] + (offsets[number + 1] - offsets[number]) * (at / third - number)
        if at * ahead - off * up >= flat:
            return at * up + off * ahead
    raise AssertionError("not reached")


@pytest.mark.parametrize("offsets", [[0.0, 9.0, -8.0, 0.0], [0.0, 12.0, 12.0, 0.0]])
def test_a_hip_string_that_is_out_makes_its_jacks_longer_and_shorter(offsets: list[float]) -> None:
    """By vectors: a jack from its mark on the plate, square to it, to the bowed line over the same place on plan."""
    ways = out("main.hip-lines.line-a", {"offsets": ",".join(map(str, offsets))})
    assert ways["ease"].shifts == (Shift("hips", 0, 0), Shift("jacks", 0, 0)), "brought to the string none moves"
    longer = []
    for at in range(400, 3200, 400):
        height = bowed(math.hypot(RUN * math.sqrt(2), RISE), offsets, at * math.sqrt(2))
        foot, head, straight = (at, 0, 0), (at, at, height), (at, at, RISE * at / RUN)
        longer.append(math.dist(foot, head) - math.dist(foot, straight))
    assert shift(ways["as-built"], "jacks") == pytest.approx((min(longer), max(longer)), abs=0.25)


def test_a_ridge_off_its_string_moves_no_jack() -> None:
    ways = out("main.ridge.ridge-line", {"offsets": "0,9,9,0"})
    assert list(ways) == ["ease"] and ways["ease"].shifts == ()


def test_gable_plates_that_run_apart_make_courses_run_out() -> None:
    """30 narrower at one gable: each slope is 15 less in run there, and that over cos 35 along the rafter."""
    site = Site(form="gabled", more={"length": "9300", "width": "6400"})
    site.up_to("main.plates.sides")
    site.answer("main.plates.sides", taped([(0.0, 0.0), (LONG, 0.0), (LONG, WIDE), (0.0, WIDE - 30)]))
    view = site.state.check("main.plates.sides")
    assert view
    ways = {way.kind: way for way in remedies(site.state, library(), view)}
    slope = 15 / math.cos(math.radians(PITCH))
    assert ways["as-built"].courses == pytest.approx(slope, abs=0.1)
    assert ways["move"].courses == pytest.approx(0, abs=0.1)


L_PLAN = "main 9000x6000 40; wing off CD 0 from D 4000x4000 40 end gable"
L_CORNERS = {"A": (0, 0), "B": (9000, 0), "C": (9000, 6000), "E": (4000, 6000), "F": (4000, 10000), "G": (0, 10000)}
STEEP = math.tan(math.radians(40))


def leant(radians: float) -> dict[str, tuple[float, float]]:
    """Those corners with every wall that was square to AB turned by so much about its foot: no side changes."""
    return {name: (x - y * math.sin(radians), y * math.cos(radians)) for name, (x, y) in L_CORNERS.items()}


def hip_at_b(at: dict[str, tuple[float, float]]) -> float:
    """From tail to ridge of the hip at B, by planes of 40 degrees over AB, BC and CE, with 300 of overhang [mm].

    Each plane's height is its tangent times the way in from its eaves; the hip is where the first two are as high.
    """
    (xa, ya), (xb, yb), (xc, yc), (xe, ye) = (at[name] for name in "ABCE")

    def inward(start: tuple[float, float], end: tuple[float, float]) -> tuple[float, float, float]:
        long = math.dist(start, end)
        nx, ny = -(end[1] - start[1]) / long, (end[0] - start[0]) / long
        return nx, ny, -(nx * start[0] + ny * start[1])

    ab, bc, ce = inward((xa, ya), (xb, yb)), inward((xb, yb), (xc, yc)), inward((xc, yc), (xe, ye))

    def meet(one: tuple[float, float, float], two: tuple[float, float, float], out: float) -> tuple[float, float]:
        a, b, c, d = one[0], one[1], two[0], two[1]
        e, f = out - one[2], out - two[2]
        return (e * d - b * f) / (a * d - b * c), (a * f - e * c) / (a * d - b * c)

    tail = meet(ab, bc, -300)
    along = (xb - tail[0], yb - tail[1])
    rate = [plane[0] * along[0] + plane[1] * along[1] for plane in (ab, ce)]
    at_tail = [plane[0] * tail[0] + plane[1] * tail[1] + plane[2] for plane in (ab, ce)]
    share = (at_tail[1] - at_tail[0]) / (rate[0] - rate[1])
    top = (tail[0] + along[0] * share, tail[1] + along[1] * share)
    high = (at_tail[0] + rate[0] * share + 300) * STEEP
    return math.hypot(math.dist(tail, top), high)


@pytest.mark.parametrize("lean", [0.006, -0.004])
def test_a_leant_plan_of_any_form_is_racked_back_by_the_chords_of_its_lean(lean: float) -> None:
    """Each corner by 2 x its distance from AB x sin(lean / 2); the sides were never wrong."""
    at = leant(lean)
    site = Site(parts=[("main", "Main roof", "cut-roof", {"building": L_PLAN, "design_mass": "70"})])
    pairs = {"a_b": "AB", "b_c": "BC", "c_e": "CE", "e_f": "EF", "f_g": "FG", "g_a": "GA"}
    ties = {"b_g": "BG", "a_e": "AE", "c_f": "CF", "e_g": "EG"}
    given = {key: f"{math.dist(at[pair[0]], at[pair[1]]):.1f}" for key, pair in (pairs | ties).items()}
    site.up_to("main.plates.ties", {"main.plates.sides": {key: given[key] for key in pairs}})
    site.answer("main.plates.ties", {key: given[key] for key in ties})
    view = site.state.check("main.plates.ties")
    assert view and view.verdict == "fail"
    ways = {way.kind: way for way in remedies(site.state, library(), view)}
    assert list(ways) == ["rack", "as-built"], "no side is out"
    by = {act.what: act.by for act in ways["rack"].acts}
    chord = 2 * math.sin(abs(lean) / 2)
    assert by == pytest.approx({name: y * chord for name, (_, y) in L_CORNERS.items() if y}, abs=0.5)
    assert {act.to for act in ways["rack"].acts} == {f"the way from {'A to B' if lean > 0 else 'B to A'}"}
    for group in ("hips", "jacks", "commons", "ridge"):
        assert shift(ways["rack"], group) == pytest.approx((0, 0), abs=0.5), "as drawn again"
    least, most = shift(ways["as-built"], "hips")
    longer = hip_at_b(at) - hip_at_b({name: (float(x), float(y)) for name, (x, y) in L_CORNERS.items()})
    assert (most if longer > 0 else least) == pytest.approx(longer, abs=0.6)
    assert ways["as-built"].courses == pytest.approx(0, abs=0.5), "each eaves is still along its ridge"


def test_the_ways_are_told_with_what_each_moves_before_one_is_chosen() -> None:
    site = Site(more=RAFTERS)
    site.up_to("main.plates.sides")
    far = (-25.0, WIDE)
    site.answer("main.plates.sides", taped([(0.0, 0.0), (LONG, 0.0), (LONG + far[0], far[1]), far]))
    view = site.state.check("main.plates.sides")
    assert view
    told = remedy_lines(view, site.state, library())
    assert told[1] == "- Rack it: push C 25, D 25 towards BC"
    assert told[2] == "  hips, jacks, commons, ridge 0; courses run out 0"
    assert told[3] == "- Leave it and cut to as-built"
    assert "hips -" in told[4] and "jacks -" in told[4]
    assert re.search(r"; \d+ of \d+ change by over 2 mm; Hip at \w: \d+ to \d+; Jack at \w, \d: \d+ to \d+$", told[4])


@pytest.mark.parametrize(
    ("path", "texts", "words"),
    [
        (
            "main.first-pair.twist",
            {"spacing": "400", "fall_foot": "0", "fall_head": "7", "length": "3500"},
            "raise the right head 7, or pack the left foot 7",
        ),
        (
            "main.hip-lines.line-a",
            {"offsets": "0,9,-8,0"},
            "Ease down to the string: 9 at 1673",
        ),
        (
            "main.plates.span",
            {"middle": "6418", "at_p": "6418", "at_q": "6418"},
            "hips, jacks, ridge 0; commons 0 to +11",
        ),
    ],
)
def test_a_pair_a_string_and_a_span_have_ways_of_their_own(path: str, texts: dict[str, str], words: str) -> None:
    """Half of 18 more run is 9, over cos 35: 11 along the rafter."""
    site = Site(more=RAFTERS)
    site.up_to(path)
    site.answer(path, texts)
    view = site.state.check(path)
    assert view
    assert words in "\n".join(remedy_lines(view, site.state, library()))
