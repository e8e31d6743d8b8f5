"""Running sizes of one timber: to the agreed digits, as points where lines meet planes, and against its calculator.

The check values are our own, from no print. They are handed down as worked twice by other ways, by points where lines
meet planes and by closed forms; we have not seen those workings. Here numpy meets the
planes once more, in a drawing of its own.
"""

import math
from collections.abc import Mapping

import numpy as np
import pytest
from hypothesis import assume, example, given, settings
from hypothesis import strategies as st
from numpy.typing import NDArray

from sitelog.calculators.ask import ask
from sitelog.calculators.catalogue import Answer, Value
from sitelog.calculators.rafters.common import common
from sitelog.calculators.rafters.hips import hip
from sitelog.calculators.rafters.jacks import jacks
from sitelog.calculators.sticks.sticks import sticks
from sitelog.quantities.quantity import Section
from sitelog.refusal import Refusal
from tests.calculators.formulas import prove_working
from tests.calculators.results import cell, column, figure, rows

Array = NDArray[np.float64]
Plane = tuple[Array, float]  # its normal, and how far along it: normal . point = far
COMMON = "pitch=35 run=3000 ridge=38mm overhang=300"
HIP = f"kind=hip {COMMON} common_height_above_plate=122.077"
SKEW = "corner=100 pitch=35 pitch2=40 run=3000 common_height_above_plate=110 overhang=300"
POINTS = ("head-top", "head-bottom", "plate-top", "corner", "heel-bottom", "seat-end", "tail-top", "tail-bottom")


@st.composite
def hips(draw: st.DrawFn) -> tuple[float, float, float]:
    """Corner and pitches of a hip that stands 30 to 70 degrees off either plate on plan: a slope's rise along it is
    its tangent times the sine of that angle, and both slopes rise alike."""
    pitch, off, off2 = draw(st.floats(15, 50)), draw(st.floats(30, 70)), draw(st.floats(30, 70))
    rise = math.tan(math.radians(pitch)) * math.sin(math.radians(off))
    return off + off2, pitch, math.degrees(math.atan(rise / math.sin(math.radians(off2))))


def asked(words: str) -> Answer:
    return ask("sticks", dict(word.split("=", 1) for word in words.split()))


def at(answer: Answer, line: str, point: str, name: str = "at") -> float:
    (row,) = (row for row in rows(answer, "rows") if (row["line"], row["point"]) == (line, point))
    return cell(row, name)


def running(answer: Answer) -> dict[tuple[str, str], float]:
    return {(str(row["line"]), str(row["point"])): cell(row, "at") for row in rows(answer, "rows")}


# -- to the agreed digits


@pytest.mark.parametrize(
    ("typed", "worked"),
    [
        (COMMON, (0, 105.03, 3639.13, 3709.15, 3744.16, 3637.74, 4005.36, 4110.39)),
        (
            "pitch=22.5 run=3000 ridge=38mm overhang=300 zero=tail nick=20",
            (3633.46, 3571.33, 406.85, 365.43, 344.72, 486.14, 82.13, 20),
        ),
    ],
)
def test_a_common_is_marked_from_one_end_in_the_order_it_is_struck(typed: str, worked: tuple[float, ...]) -> None:
    answer = asked(typed)
    assert [row["point"] for row in rows(answer, "rows")] == [*POINTS]
    assert column(answer, "rows", "at") == pytest.approx(worked, abs=0.0051)
    assert at(answer, "face", "corner", "down") == pytest.approx(100, abs=1e-6)


@pytest.mark.parametrize(
    ("typed", "overall", "worked"),
    [
        (
            HIP,
            5289.04,
            "centre plate-top 4704.21  centre corner 4753.22  1 head-top 26.22  1 plate-top 4677.99  1 corner 4732.16"
            "  centre seat-end 4498.68  1 seat-end 4498.68  2 seat-end 4498.68",
        ),
        (
            f"kind=hip {SKEW} head=hollow heel=clipped zero=tail",
            4756.14,
            "centre head-top 4727.85  1 head-top 4746.10  2 head-top 4756.14  centre plate-top 577.02"
            "  1 plate-top 577.02  2 plate-top 577.02",
        ),
        (
            f"kind=jack {SKEW} side=2 at=900",
            1633.54,
            "long head-top 0  centre head-top 29.48  short head-top 58.96  long plate-top 1116.05"
            "  centre plate-top 1116.05  short plate-top 1116.05  long corner 1186.76",
        ),
    ],
)
def test_hips_and_jacks_come_out_to_the_agreed_digits(typed: str, overall: float, worked: str) -> None:
    answer = asked(typed)
    assert figure(answer, "overall_length") == pytest.approx(overall, abs=0.0051)
    for one in worked.split("  "):
        line, point, printed = one.split()
        assert at(answer, line, point) == pytest.approx(float(printed), abs=0.0051), one


def test_how_far_down_the_corner_of_a_birdsmouth_is() -> None:
    assert at(asked(HIP), "centre", "corner", "down") == pytest.approx(98.97, abs=0.0051)
    assert at(asked(HIP), "1", "corner", "down") == pytest.approx(109.40, abs=0.0051)
    assert at(asked(f"kind=jack {SKEW} side=2 at=900"), "long", "corner", "down") == pytest.approx(84.26, abs=0.0051)


# -- by lines and planes


def turned(angle: float) -> Array:
    """A level direction, so many degrees to the left of straight ahead."""
    return np.array([-math.sin(math.radians(angle)), math.cos(math.radians(angle)), 0.0])


def meet(*planes: Plane) -> Array:
    return np.linalg.solve(np.array([normal for normal, _ in planes]), np.array([far for _, far in planes]))


class Roof:
    """A corner at the origin, straight ahead halfway between its plates; slopes through it, side 1 on the left."""

    def __init__(self, corner: float, pitches: Mapping[int, float]) -> None:
        self.plates = {1: turned(corner / 2), 2: turned(-corner / 2)}
        self.inward = {1: turned(corner / 2 - 90), 2: turned(90 - corner / 2)}
        up = np.array([0.0, 0.0, 1.0])
        self.slopes = {side: up - math.tan(math.radians(pitch)) * self.inward[side] for side, pitch in pitches.items()}
        ridge = np.cross(self.slopes[1], self.slopes[2])
        self.up_hip = ridge / np.linalg.norm(ridge) * np.sign(ridge[2])
        level = self.up_hip * np.array([1.0, 1.0, 0.0])
        self.on_plan = level / np.linalg.norm(level)
        self.left = np.cross(up, self.on_plan)

    def across(self, side: int) -> Array:
        return self.left if side == 1 else -self.left


def along(points: Mapping[tuple[str, str], Array], way: Array) -> dict[tuple[str, str], float]:
    """Running from the point furthest up the timber, by projection on its direction."""
    places = {key: float(point @ way) for key, point in points.items()}
    return {key: max(places.values()) - place for key, place in places.items()}


def faces_of(way: Array, square_level: Array, height: float, depth: float) -> dict[str, Plane]:
    """The planes of a timber's top and bottom edge, `height` plumb over the origin."""
    normal = np.cross(way, square_level)
    normal = normal / np.linalg.norm(normal) * np.sign(normal[2])
    top = float(normal[2] * height)
    return {"top": (normal, top), "bottom": (normal, top - depth)}


CUT = {"head-top": "head top", "head-bottom": "head bottom", "plate-top": "plate top", "corner": "plate seat"}
CUT |= {"heel-bottom": "plate bottom", "seat-end": "seat bottom", "tail-top": "tail top", "tail-bottom": "tail bottom"}


@settings(max_examples=60)
@given(
    shape=hips(),
    head=st.sampled_from(("pointed", "hollow", "square")),
    ridge_side=st.sampled_from((1, 2)),
)
def test_every_mark_of_a_hip_is_where_a_line_of_it_meets_a_plane(
    shape: tuple[float, float, float], head: str, ridge_side: int
) -> None:
    corner, pitch, pitch2 = shape
    run, ridge, overhang, thickness, depth, commons = 3000.0, 38.0, 250.0, 47.0, 400.0, 150.0
    roof = Roof(corner, {1: pitch, 2: pitch2})
    half = thickness / 2
    rises = {side: float(half * roof.across(side) @ roof.slopes[side]) for side in (1, 2)}
    height = commons - max(rises.values())  # an arris is over its slope by so much
    assume(height > 20)
    timber = faces_of(roof.up_hip, roof.left, height, depth)
    seat: Plane = (np.array([0.0, 0.0, 1.0]), 0.0)
    centre: Plane = (roof.left, 0.0)
    peak = meet((roof.inward[1], run), centre, (roof.slopes[1], 0.0))
    end = meet((roof.inward[ridge_side], float(roof.inward[ridge_side] @ peak) - ridge / 2), centre, seat)
    tip = meet((roof.inward[1], -overhang), centre, seat)
    points: dict[tuple[str, str], Array] = {}
    for line, off, side in (("centre", 0.0, 1), ("1", half, 1), ("2", -half, 2)):
        cheek = {"pointed": roof.plates[side], "hollow": roof.inward[side], "square": roof.on_plan}[head]
        planes = {
            **timber,
            "seat": seat,
            "head": (cheek, float(cheek @ end)),
            "plate": (roof.inward[side], 0.0),
            "tail": (roof.inward[side], float(roof.inward[side] @ tip)),
        }
        for point, two in CUT.items():
            points[line, point] = meet((roof.left, off), *(planes[name] for name in two.split()))
    try:
        answer = sticks(
            kind="hip", corner=corner, pitch=pitch, pitch2=pitch2, run=run, ridge=ridge, ridge_side=ridge_side,
            overhang=overhang, section=Section(thickness, depth), common_height_above_plate=commons, head=head,
        )  # fmt: skip
    except Refusal:
        assume(False)
    assert running(answer) == pytest.approx(along(points, roof.up_hip), abs=1e-6)


@settings(max_examples=60)
@given(
    shape=hips(),
    side=st.sampled_from((1, 2)),
    place=st.floats(300, 2500),
)
def test_every_mark_of_a_jack_is_where_a_line_of_it_meets_a_plane(
    shape: tuple[float, float, float], side: int, place: float
) -> None:
    corner, pitch, pitch2 = shape
    thickness, depth, height, overhang, hip_half = 47.0, 175.0, 120.0, 300.0, 31.5
    roof = Roof(corner, {1: pitch, 2: pitch2})
    slope = roof.slopes[side] / np.linalg.norm(roof.slopes[side])
    assume(height * slope[2] < depth)
    top = float(slope[2] * height)
    plate, inward = roof.plates[side], roof.inward[side]
    planes: dict[str, Plane] = {
        "top": (slope, top),
        "bottom": (slope, top - depth),
        "seat": (np.array([0.0, 0.0, 1.0]), 0.0),
        "head": (roof.across(side), hip_half),
        "plate": (inward, 0.0),
        "tail": (inward, -overhang),
    }
    points = {
        (line, point): meet((plate, place + off), *(planes[name] for name in two.split()))
        for line, off in (("long", thickness / 2), ("centre", 0.0), ("short", -thickness / 2))
        for point, two in CUT.items()
    }
    assume(points["short", "head-top"] @ inward > 1)
    answer = sticks(
        kind="jack", corner=corner, pitch=pitch, pitch2=pitch2, side=side, at=place, overhang=overhang,
        section=Section(thickness, depth), common_height_above_plate=height, hip_thickness=2 * hip_half,
    )  # fmt: skip
    up = np.cross(plate, slope)
    up = up / np.linalg.norm(up) * np.sign(up[2])
    assert running(answer) == pytest.approx(along(points, up), abs=1e-6)


# -- against the calculators of its kind

KINDS = st.sampled_from(
    (
        {"kind": "common"},
        {"kind": "hip", "common_height_above_plate": 120.0},
        {"kind": "hip", "common_height_above_plate": 120.0, "head": "hollow", "heel": "clipped", "top": "backed"},
        {"kind": "jack", "at": 900.0, "side": 2},
    )
)


@given(kind=KINDS, pitch=st.floats(20, 60), nick=st.floats(0, 200), overhang=st.floats(0, 500))
def test_the_tape_from_the_tail_is_the_tape_from_the_head_turned_round(
    kind: dict[str, float | str], pitch: float, nick: float, overhang: float
) -> None:
    figures = {"pitch": pitch, "run": 2700.0, "overhang": overhang, **kind}
    try:
        head, tail = sticks(**figures), sticks(**figures, zero="tail")
    except Refusal:
        assume(False)
    whole = figure(head, "overall_length")
    assert figure(tail, "overall_length") == pytest.approx(whole)
    for key, place in running(head).items():
        assert running(tail)[key] == pytest.approx(whole - place, abs=1e-6)
    assert min(running(head).values()) == pytest.approx(0) == min(running(tail).values())
    hooked = running(sticks(**figures, nick=nick))
    assert hooked == pytest.approx({key: place + nick for key, place in running(head).items()})
    assert column(head, "rows", "down") == column(tail, "rows", "down")
    prove_working(head)


@given(pitch=st.floats(10, 65), ridge=st.floats(0, 60), overhang=st.floats(0, 500), third=st.floats(0.05, 0.33))
def test_a_common_is_as_long_and_notched_as_common_has_it(
    pitch: float, ridge: float, overhang: float, third: float
) -> None:
    figures = {"pitch": pitch, "run": 2700.0, "ridge": ridge, "overhang": overhang, "birdsmouth": third}
    one, same = sticks(**figures, plate=100), common(**figures)
    assert figure(one, "overall_length") == pytest.approx(figure(same, "overall_length"))
    assert 150 - at(one, "face", "corner", "down") == pytest.approx(figure(same, "birdsmouth_depth"))
    slope = math.radians(pitch)
    level = (at(one, "face", "corner") - at(one, "face", "seat-end")) / math.cos(slope)
    assert level == pytest.approx(figure(same, "seat_length"))


def test_a_hip_nearly_square_to_a_plate_has_no_point_on_that_face() -> None:
    """Its plan angle to plate 1 is 89.6 degrees: half of 47 / tan(0.4) is 3.4 m, more than the hip is long."""
    figures: dict[str, Value] = {
        "corner": 113.0, "pitch": 20.0, "pitch2": 42.5, "run": 2700.0, "ridge": 38.0, "section": Section(47, 300),
        "common_height_above_plate": 140.0,
    }  # fmt: skip
    with pytest.raises(Refusal, match=r"its head runs past the seat on one face\. Give head=square"):
        sticks(kind="hip", **figures)
    assert figure(sticks(kind="hip", head="square", **figures), "overall_length") == pytest.approx(
        figure(hip(**figures), "overall_length")
    )


@example(corner=113.0, pitch=20.0, pitch2=42.5, overhang=0.0)
@given(corner=st.floats(75, 120), pitch=st.floats(20, 50), pitch2=st.floats(20, 50), overhang=st.floats(0, 500))
def test_a_hip_is_as_long_and_bevelled_as_hip_has_it(
    corner: float, pitch: float, pitch2: float, overhang: float
) -> None:
    """Its head is a point, and so is its tail: both are on the centre."""
    figures: dict[str, Value] = {
        "corner": corner,
        "pitch": pitch,
        "pitch2": pitch2,
        "run": 2700.0,
        "ridge": 38.0,
        "overhang": overhang,
        "common_height_above_plate": 140.0,
        "section": Section(47, 300),
    }
    try:
        one, same = sticks(kind="hip", **figures), hip(**figures)
    except Refusal:
        assume(False)
    assert figure(one, "overall_length") == pytest.approx(figure(same, "overall_length"))
    for cheek in (1, 2):
        bevel, tilt = f"edge_bevel_{cheek}_from_square", f"saw_tilt_{cheek}"
        assert figure(one, f"head_bevel_{cheek}_from_square") == pytest.approx(figure(same, bevel))
        assert figure(one, f"head_tilt_{cheek}") == pytest.approx(figure(same, tilt))
    assert 300 - at(one, "centre", "corner", "down") == pytest.approx(figure(same, "birdsmouth_depth"))


@given(corner=st.floats(75, 120), pitch=st.floats(20, 50), pitch2=st.floats(20, 50), side=st.sampled_from((1, 2)))
def test_a_jack_is_as_long_on_its_line_as_jacks_has_it(corner: float, pitch: float, pitch2: float, side: int) -> None:
    figures: dict[str, float] = {"corner": corner, "pitch": pitch, "pitch2": pitch2, "side": side}
    try:
        same = jacks(**figures, first=900, spacing=600, run=4000)
        one = sticks(kind="jack", **figures, at=900)
    except Refusal:
        assume(False)
    row = rows(same, "rows")[0]
    long = at(one, "long", "plate-top")
    assert long == pytest.approx(cell(row, "length_long_point"))
    assert long - at(one, "short", "head-top") == pytest.approx(cell(row, "length_short_point"))
    assert figure(one, "head_bevel_1_from_square") == pytest.approx(figure(same, "edge_bevel_from_square"))
    assert figure(one, "head_tilt_1") == pytest.approx(figure(same, "saw_tilt"))


# -- what can't be


@pytest.mark.parametrize(
    ("typed", "says"),
    [
        ("kind=common run=3000", "a common needs pitch. Add pitch=35"),
        ("kind=common pitch=35", "a common needs run. Add run=3000"),
        ("kind=hip pitch=35 run=3000", "a hip needs common_height_above_plate"),
        ("kind=jack pitch=35", "a jack needs at. Add at=900"),
        ("kind=jack pitch=35 at=50", "nothing of the jack is left on its short side; at must be over 57"),
        ("kind=hip corner=150 pitch=60 pitch2=20 run=3000 common_height_above_plate=120", "runs away from side"),
        ("kind=hip pitch=35 run=3000 common_height_above_plate=5", "a drop of"),
        ("kind=hip pitch=35 run=3000 common_height_above_plate=300", "doesn't reach its seat"),
        ("kind=common pitch=35 run=3000 common_height_above_plate=200", "sits 14 clear of the plate"),
        ("kind=common pitch=35 run=3000 birdsmouth=1", "is deeper than the 150 rafter allows"),
        ("kind=common pitch=35 run=300 ridge=600mm", "half the ridge, 300, must be less than the run"),
        ("kind=hip pitch=35 run=300 ridge=700mm common_height_above_plate=122", "leaves no hip"),
        ("kind=jack pitch=35 at=900 side=3", "side is 3; give 1"),
    ],
)
def test_a_stick_that_can_not_be_is_refused_by_name(typed: str, says: str) -> None:
    with pytest.raises(Refusal, match=r"^sticks: ") as refused:
        asked(typed)
    assert says in refused.value.message


def test_a_backed_hip_isn_t_dropped() -> None:
    dropped, backed = asked(HIP), asked(f"{HIP} top=backed")
    drop = figure(hip(pitch=35, run=3000), "drop_1")
    lower = at(backed, "centre", "corner", "down") - at(dropped, "centre", "corner", "down")
    pitch = math.radians(figure(dropped, "plumb_cut_from_square"))
    assert lower == pytest.approx(drop * math.cos(pitch))


def test_a_birdsmouth_over_a_third_asks_for_the_engineer() -> None:
    deep = asked("pitch=35 run=3000 common_height_above_plate=100")
    assert "notch-engineer" in deep.cautions
    assert any("ask the engineer" in note for note in deep.notes)
    assert "notch-engineer" not in asked(COMMON).cautions


@pytest.mark.parametrize(("side", "name"), [(1, "face_1"), (2, "face_2")])
@pytest.mark.parametrize(("corner", "pitch", "pitch2"), [(90, 35, 35), (100, 35, 40), (110, 38, 42)])
def test_a_jack_is_marked_on_the_hip_where_its_centre_on_plan_meets_the_hip_s_face(
    corner: float, pitch: float, pitch2: float, side: int, name: str
) -> None:
    """Drawn on plan in numpy: plate 1 along x, the hip turned from it by its plan angle, its face half of it off.

    From the heel's plumb line on its centre up the hip is what the level way is over cos of the hip's pitch.
    """
    figures: dict[str, Value] = {"corner": corner, "pitch": pitch, "pitch2": pitch2, "run": 3000}
    typed = " ".join(f"{name}={value}" for name, value in figures.items())
    answer = asked(f"kind=hip common_height_above_plate=122 zero=tail jacks=500,900 {typed}")
    found = hip(**figures, section=Section(47, 225))
    plan, slope = np.radians(figure(found, f"plan_angle_{side}")), np.radians(figure(found, "hip_pitch"))
    up_on_plan = np.array([np.cos(plan), np.sin(plan)])
    to_plate = np.array([np.sin(plan), -np.cos(plan)])
    for row, place in zip(rows(answer, "jacks"), (500, 900), strict=True):
        # The jack stands on x = place; the face is to_plate * 23.5 + t * up_on_plan.
        t = (place - 23.5 * to_plate[0]) / up_on_plan[0]
        assert cell(row, name) - at(answer, "centre", "plate-top") == pytest.approx(t / np.cos(slope), abs=1e-6)
        jack = jacks(**figures, spacing=400, first=place, side=side)
        assert cell(rows(jack, "rows")[0], "up_the_hip") == pytest.approx(t / np.cos(slope), abs=1e-6)


def test_a_jack_off_the_hip_is_refused() -> None:
    for places in ("20", "3200"):
        with pytest.raises(Refusal, match="is off the hip"):
            asked(f"{HIP} jacks={places}")
