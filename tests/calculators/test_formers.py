"""Formers and bearers, against prisms met by planes, circles met by lines, and areas of what is left of polygons."""

import math
from collections.abc import Iterator
from itertools import pairwise

import numpy as np
import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st

from sitelog.calculators.ask import ask
from sitelog.calculators.catalogue import Answer, Value
from sitelog.calculators.curves.formers.formers import formers
from sitelog.quantities.quantity import Section
from sitelog.refusal import Refusal
from tests.calculators.results import as_printed, cell, column, figure, rows

# Worked by planes through each prism's four arrises and areas by polygons; typed here as a person types them.
WORKED = (
    (
        "radius=900 sheet=18 lining=15 former=170 count=7 pitch=45 board=300",
        "bearer_radius 882  girth 2770.88  centres 453.98  bearers[1].at 144.39  bearers[1].height 454.34"
        "  bearers[1].lean -58.982  bearers[1].length_top 454.34  bearers[1].long_point 474.48"
        "  bearers[1].short_point 395.55  bearers[1].side_cut_from_square 27.262  bearers[1].top_cut_from_square 40.597"
        "  bearers[1].saw_tilt_side 37.301  bearers[1].saw_tilt_top 21.369  slots[1].mouth_left_x 114.28"
        "  slots[1].mouth_left_y 434.20  slots[1].floor_right_x 202.77  slots[1].floor_right_y 435.83"
        "  noggins[0].length_top 403.37  noggins[0].length_bottom 363.90  noggins[0].left_mitre_from_square 14.746"
        "  noggins[0].right_mitre_from_square 14.746  left_under_slot 94.69  pieces 3  angle_each 60  board_used 265.39"
        "  bearers[0].short_point 0  foot_cut_from_joint 0  face_area 0.401061",
    ),
    (
        "chord=1800 rise=450 sheet=12 stance=plumb former=160 spacing=400 pitch=35 face=250 board=320",
        "count 6  centres 394.06  bearers[0].girth 37.91  bearers[1].at 336.31  bearers[1].height 270.50"
        "  bearers[1].length_top 636.32  bearers[1].short_point 529.21  bearers[1].side_cut_from_square 55"
        "  bearers[1].top_cut_from_square 0  slots[1].depth_left 75  slots[1].depth_right 102.62"
        "  noggins[0].length_top 368.86  noggins[0].length_bottom 368.86  noggins[0].left_mitre_from_square 47.169"
        "  noggins[1].length_top 352.21  noggins[1].right_mitre_from_square 24.425  noggins[2].length_top 345.00"
        "  noggins[2].left_mitre_from_square 0  left_under_slot 71.49  pieces 2  foot_cut_from_joint 37.335"
        "  face_area 0.265030",
    ),
    (
        "chord=2400 rise=500 sheet=12 bearer=47x100 slot=45 joint=proud former=200 count=6 end=120 pitch=22.5"
        " board=320",
        "former_radius 1623  bearers[0].lean -40.735  bearers[0].length_top 196.43"
        "  bearers[0].side_cut_from_square 61.337  bearers[0].top_cut_from_square 57.594"
        "  bearers[0].saw_tilt_side 37.077  bearers[0].saw_tilt_top 44.432  slots[0].depth_left 44.994"
        "  slots[0].depth_right 44.994  slots[0].floor_left_x 56.21  slots[0].floor_left_y -9.74  face_area 0.397172",
    ),
)


@pytest.mark.parametrize(("typed", "printed"), WORKED, ids=[typed for typed, _ in WORKED])
def test_formers_come_out_at_their_worked_values(typed: str, printed: str) -> None:
    as_printed(ask("formers", dict(pair.split("=", 1) for pair in typed.split())), printed)


THICK, DEEP = 47.0, 75.0


class Made:
    """A dormer on formers as it is asked for, its answer, and its circles about 0,0: x right, y up from the centre."""

    def __init__(self, radius: float, share: float, **given: Value) -> None:
        rise = share * radius
        self.given = given
        self.answer = formers(radius=radius, rise=rise, sheet=18, lining=15, former=160, **given)
        self.below = radius - rise
        self.half_out = math.sqrt(radius**2 - self.below**2)
        self.bearer, self.former, self.inside = (
            figure(self.answer, f"{name}_radius") for name in ("bearer", "former", "inside")
        )
        self.half = math.sqrt(self.former**2 - self.below**2)

    def end_on(self) -> Iterator[tuple[dict[str, object], np.ndarray, np.ndarray, np.ndarray]]:
        """Of each bearer its row, the middle of its top, and its directions up and right."""
        for row in rows(self.answer, "bearers"):
            turn = math.radians(cell(row, "lean"))
            top = np.array([cell(row, "at") - self.half_out, cell(row, "height") + self.below])
            yield (
                dict(row),
                top,
                np.array([math.sin(turn), math.cos(turn)]),
                np.array([math.cos(turn), -math.sin(turn)]),
            )

    def point(self, row: object, name: str) -> np.ndarray:
        """A corner of a slot."""
        assert isinstance(row, dict)
        return np.array([row[f"{name}_x"] - self.half, row[f"{name}_y"] + self.below])


def made(radius: float, share: float, **given: Value) -> Made:
    try:
        return Made(radius, share, **given)
    except Refusal as refused:
        assert "touch" in refused.message or "isn't in the former" in refused.message, refused.message
        assume(False)
        raise


shaped = given(
    radius=st.floats(400, 3000),
    share=st.floats(0.6, 1.0),
    pitch=st.floats(12, 60),
    face=st.sampled_from([0.0, 250.0]),
    count=st.integers(2, 9),
    stance=st.sampled_from(["square", "plumb"]),
    joint=st.sampled_from(["flush", "proud"]),
    slot=st.sampled_from([45.0, 75.0]),
)


@shaped
@settings(max_examples=60)
def test_bearers_are_prisms_in_their_circle_cut_by_the_plane_of_the_slope(
    radius: float, share: float, pitch: float, face: float, count: int, stance: str, joint: str, slot: float
) -> None:
    one = made(radius, share, pitch=pitch, face=face, count=count, stance=stance, joint=joint, slot=slot, spacing=None)
    turn = math.radians(pitch)
    normal = np.array([0.0, -math.sin(turn), math.cos(turn)])  # x across, y level back from the front end, z up
    on_plane = np.array([0.0, face, one.below])
    for row, top, up, right in one.end_on():
        sides = [top + way * THICK / 2 * right for way in (-1, 1)]
        far = [float(np.hypot(*side)) for side in sides]
        assert max(far) == pytest.approx(one.bearer)
        if stance == "square":
            assert far[0] == pytest.approx(far[1]) and between_flat(top, up) == pytest.approx(0, abs=1e-6)
        else:
            assert row["lean"] == 0.0
        arrises = {(way, down): top + way * THICK / 2 * right - down * up for way in (-1, 1) for down in (0.0, DEEP)}
        hits = {}
        for key, (x, z) in {**arrises, (0, 0.0): top}.items():
            start = np.array([x, 0.0, z])
            back = np.dot(on_plane - start, normal) / normal[1]
            hits[key] = start + np.array([0.0, back, 0.0])
        lengths = [max(hits[key][1], 0.0) for key in arrises]
        assert row["length_top"] == pytest.approx(max(hits[0, 0.0][1], 0.0), abs=1e-6)
        assert (row["long_point"], row["short_point"]) == pytest.approx((max(lengths), min(lengths)), abs=1e-6)
        on_side, on_top = hits[1, 0.0] - hits[1, DEEP], hits[1, 0.0] - hits[-1, 0.0]
        across_side, across_top = np.array([up[0], 0, up[1]]), np.array([right[0], 0, right[1]])
        assert row["side_cut_from_square"] == pytest.approx(between(on_side, across_side), abs=1e-6)
        assert row["top_cut_from_square"] == pytest.approx(between(on_top, across_top), abs=1e-6)
        plane = np.cross(on_side, on_top)
        assert row["saw_tilt_side"] == pytest.approx(90 - between(plane, across_top), abs=1e-6)
        assert row["saw_tilt_top"] == pytest.approx(90 - between(plane, across_side), abs=1e-6)
    girths = column(one.answer, "bearers", "girth")
    assert np.diff(girths) == pytest.approx(np.full(count - 1, figure(one.answer, "centres")))
    assert girths[0] + girths[-1] == pytest.approx(figure(one.answer, "girth"))
    assert figure(one.answer, "girth") == pytest.approx(2 * one.bearer * math.acos(one.below / one.bearer))


def between(a: np.ndarray, b: np.ndarray) -> float:
    """The acute angle between two lines, in degrees."""
    return math.degrees(math.atan2(np.linalg.norm(np.cross(a, b)), abs(np.dot(a, b))))


@shaped
@settings(max_examples=60)
def test_slots_hold_their_bearers_and_noggins_fit_between_them(
    radius: float, share: float, pitch: float, face: float, count: int, stance: str, joint: str, slot: float
) -> None:
    one = made(radius, share, count=count, stance=stance, joint=joint, slot=slot)
    assert one.former == pytest.approx(one.bearer - (75 - slot if joint == "proud" else 0))
    floor_down = 75.0 if joint == "proud" else slot
    seen = list(one.end_on())
    least = math.inf
    for (_, top, up, right), row in zip(seen, rows(one.answer, "slots"), strict=True):
        for name, way in (("left", -1), ("right", 1)):
            floor, mouth = one.point(row, f"floor_{name}"), one.point(row, f"mouth_{name}")
            assert floor == pytest.approx(top + way * THICK / 2 * right - floor_down * up, abs=1e-5)
            assert np.hypot(*mouth) == pytest.approx(one.former, rel=1e-6)
            assert mouth - floor == pytest.approx(cell(row, f"depth_{name}") * up, abs=1e-5)
            assert cell(row, f"depth_{name}") > 0
        line = np.linspace(one.point(row, "floor_left"), one.point(row, "floor_right"), 400)
        least = min(least, float(np.hypot(*line.T).min()) - one.inside)
    assert figure(one.answer, "left_under_slot") == pytest.approx(least, abs=0.01)
    for (first, second), row in zip(pairwise(seen), rows(one.answer, "noggins"), strict=True):
        (_, top, up, right), (_, top_2, up_2, right_2) = first, second
        start, end = top + THICK / 2 * right, top_2 - THICK / 2 * right_2
        along = (end - start) / np.linalg.norm(end - start)
        under = np.array([along[1], -along[0]]) * DEEP
        assert cell(row, "length_top") == pytest.approx(float(np.linalg.norm(end - start)))
        low = [met(start + under, along, corner, side) for corner, side in ((start, up), (end, up_2))]
        bottom = float(np.dot(low[1] - low[0], along))
        assert row["length_bottom"] == (pytest.approx(bottom, abs=1e-5) if bottom > 0 else None)
        for name, side in (("left", up), ("right", up_2)):
            assert cell(row, f"{name}_mitre_from_square") == pytest.approx(between_flat(side, under), abs=1e-6)


def met(p: np.ndarray, u: np.ndarray, q: np.ndarray, v: np.ndarray) -> np.ndarray:
    """Where the line from p along u meets that from q along v."""
    a, _ = np.linalg.solve(np.column_stack([u, -v]), q - p)
    return np.asarray(p + a * u)


def between_flat(a: np.ndarray, b: np.ndarray) -> float:
    return math.degrees(math.atan2(abs(a[0] * b[1] - a[1] * b[0]), abs(float(np.dot(a, b)))))


def polygon(answer: Answer) -> np.ndarray:
    return np.column_stack([column(answer, "outline", "x"), column(answer, "outline", "y")])


@shaped
@settings(max_examples=40)
def test_the_outline_is_the_ring_over_the_springing_with_its_slots_out(
    radius: float, share: float, pitch: float, face: float, count: int, stance: str, joint: str, slot: float
) -> None:
    one = made(radius, share, count=count, stance=stance, joint=joint, slot=slot, board=300.0)
    x, y = polygon(one.answer).T
    area = abs(np.dot(x, np.roll(y, -1)) - np.dot(y, np.roll(x, -1))) / 2
    # Its chords are within 0.2 of the two curves, so its area is within that of theirs all along.
    assert area == pytest.approx(figure(one.answer, "face_area") * 1e6, abs=0.2 * 2 * figure(one.answer, "girth"))
    away = np.hypot(x - one.half, y + one.below)
    assert y.min() >= 0 and away.max() <= one.former + 1e-5
    corners = [one.point(row, name) for row in rows(one.answer, "slots") for name in ("floor_left", "floor_right")]
    inner = (away < one.former - 1e-5) & (away > one.inside + 1e-5) & (y > 1e-5)
    for px, py in zip(x[inner] - one.half, y[inner] + one.below, strict=True):
        assert min(math.dist((px, py), corner) for corner in corners) < 1e-5
    on_edge = np.abs(away - one.former) < 1e-5
    for n in np.flatnonzero(on_edge & np.roll(on_edge, -1)):
        middle = (x[n] + x[(n + 1) % len(x)]) / 2 - one.half, (y[n] + y[(n + 1) % len(x)]) / 2 + one.below
        assert one.former - math.hypot(*middle) <= 0.2 + 1e-9
    # Each piece lies on its board; one piece fewer would not.
    pieces, angle = int(figure(one.answer, "pieces")), math.radians(figure(one.answer, "angle"))
    assert across_board(one, angle / pieces) == pytest.approx(figure(one.answer, "board_used"), abs=0.01)
    assert figure(one.answer, "board_used") <= 300 + 1e-9
    assert pieces == 1 or across_board(one, angle / (pieces - 1)) > 300
    assert figure(one.answer, "foot_cut_from_joint") == pytest.approx(90 - math.degrees(angle) / 2)
    for row in rows(one.answer, "joints"):
        out, into = ([cell(row, f"{end}_x") - one.half, cell(row, f"{end}_y") + one.below] for end in ("out", "in"))
        lean = math.degrees(math.atan2(out[0], out[1]))
        assert (lean, math.hypot(*out)) == pytest.approx((cell(row, "lean"), one.former))
        assert into == pytest.approx(np.array(out) * one.inside / one.former)


def across_board(one: Made, angle: float) -> float:
    """From the chord of a piece's inside edge to the crown of its outside one."""
    turns = np.linspace(-angle / 2, angle / 2, 401)
    return float(one.former - (one.inside * np.cos(turns)).min())


@pytest.mark.parametrize("typed", [typed for typed, _ in WORKED])
def test_a_bearers_long_side_is_the_one_towards_the_crown_so_that_there_are_two_hands(typed: str) -> None:
    """The higher of its top arrises runs further back; slots that are flush have these for their mouths."""
    answer = ask("formers", dict(pair.split("=", 1) for pair in typed.split()))
    for bearer, slot in zip(rows(answer, "bearers"), rows(answer, "slots"), strict=True):
        rise = cell(slot, "mouth_right_y") - cell(slot, "mouth_left_y")
        square = abs(cell(bearer, "lean")) < 0.01
        assert bearer["hand"] == (None if square else "right" if rise > 0 else "left")


@pytest.mark.parametrize("typed", [typed for typed, _ in WORKED])
def test_the_face_is_as_large_as_the_grains_of_a_fine_grid_that_lie_in_it(typed: str) -> None:
    """A million grains over the former: those between its edges, over the springing, and in no slot."""
    answer = ask("formers", dict(pair.split("=", 1) for pair in typed.split()))
    outer, inner = figure(answer, "former_radius"), figure(answer, "inside_radius")
    half = figure(answer, "former_width") / 2
    below = math.sqrt(outer**2 - half**2) if half < outer - 1e-6 else 0.0
    side = 1200
    grains = (np.arange(side) + 0.5) / side
    x, y = np.meshgrid(grains * 2 * half, grains * (outer - below))
    away = np.hypot(x - half, y + below)
    within = (away <= outer) & (away >= inner)
    for row, bearer in zip(rows(answer, "slots"), rows(answer, "bearers"), strict=True):
        turn = math.radians(cell(bearer, "lean"))
        right, up = x - cell(row, "floor_left_x"), y - cell(row, "floor_left_y")
        across = right * math.cos(turn) - up * math.sin(turn)
        within &= ~((across > 0) & (across < 47) & (right * math.sin(turn) + up * math.cos(turn) > 0))
    area = within.sum() * (2 * half / side) * ((outer - below) / side) / 1e6
    assert figure(answer, "face_area") == pytest.approx(area, rel=1e-3)


GIVEN: dict[str, Value] = {"radius": 900.0, "sheet": 18.0, "former": 170.0, "count": 7}


@pytest.mark.parametrize(
    ("more", "told"),
    [
        ({"former": 75.0}, "slot is 75; it must be under the former's depth, 75"),
        ({"slot": 80.0}, "slot is 80; it must be at most the bearer.s depth, 75"),
        ({"count": 60}, "bearers 1 and 2 touch. Give fewer"),
        ({"count": 1}, "count is 1; it must be at least 2"),
        ({"count": None}, "formers: give count= or spacing=, one of them"),
        ({"spacing": 400.0}, "formers: give count= or spacing=, one of them"),
        ({"former": 880.0, "lining": 15.0}, "sheet, former and lining take 913; it must be under the rise, 900"),
        ({"end": 1400.0}, "end is 1400; it must be under half the girth, 1385"),
        ({"stance": "plumb", "end": 5.0}, "bearer 1, 5 along the girth, is past the end of its curve"),
        ({"board": 160.0}, "board is 160; it must be wider than the former is deep, 170"),
        ({"slot": 20.0, "joint": "proud", "stance": "plumb"}, "slot 1 has a side that isn't in the former"),
        ({"split": 0.5}, "split is for an eyebrow, and this is for one arc. Leave out split="),
    ],
)
def test_formers_that_can_not_be_are_refused_in_one_line(more: dict[str, Value], told: str) -> None:
    with pytest.raises(Refusal, match=told) as refusal:
        formers(**(GIVEN | more))
    assert "\n" not in refusal.value.message


def test_ends_that_a_slot_cuts_loose_are_told() -> None:
    """The third worked case: the first slot's mouth is over the springing, its floor 9.74 under it."""
    for typed, loose in zip((typed for typed, _ in WORKED), (False, False, True), strict=True):
        answer = ask("formers", dict(pair.split("=", 1) for pair in typed.split()))
        assert any("ends come loose" in note for note in answer.notes) == loose


def test_a_slot_whose_floor_is_below_the_springing_is_said_in_words() -> None:
    """The third check value of the contract: its first slot's floor is 9.74 under the springing, its mouth above."""
    shallow: dict[str, Value] = {
        "chord": 2400.0,
        "rise": 500.0,
        "sheet": 12.0,
        "bearer": Section(47, 100),
        "slot": 45.0,
    }
    answer = formers(**shallow, joint="proud", former=200.0, count=6, end=120.0)
    (said,) = (note for note in answer.notes if "below the springing" in note)
    assert said.startswith("Slot 1, 6: the floor comes 9.5 below the springing: the slot is open at the former's foot")
    assert not any("below the springing" in note for note in formers(**(shallow | {"count": 4}), joint="proud",
                   former=200.0, end=300.0).notes)  # fmt: skip


def test_a_joint_in_a_slot_is_told() -> None:
    """Three pieces of 60 degrees meet at 30 each side; bearer 3 of 7 is at 29.5."""
    assert any("Joint 1, 2 runs out into a slot" in note for note in formers(**GIVEN, board=300.0).notes)
    assert not any("runs out" in note for note in formers(**(GIVEN | {"count": 6}), board=300.0).notes)
