"""Sticks of the other kinds, each worked a second way: by planes in numpy, by a circle, by similar triangles."""

import math

import numpy as np
import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st

from sitelog.calculators.catalogue import Value
from sitelog.calculators.curves.ribs import rib
from sitelog.calculators.rafters.valleys.laid import laid_valley
from sitelog.calculators.sticks.sticks import sticks
from sitelog.calculators.timber.scarf import scarf
from sitelog.quantities.quantity import Section
from sitelog.refusal import Refusal
from tests.calculators.formulas import prove_working
from tests.calculators.results import cell, figure, rows
from tests.calculators.test_hips import Drawing
from tests.calculators.test_purlin import cut_ends
from tests.calculators.test_sticks import CUT, Array, Plane, Roof, along, asked, at, faces_of, meet, running

PITCH = st.floats(20, 50)
CORNER = st.floats(80, 110)
UP = np.array([0.0, 0.0, 1.0])
ENDS = {point: two for point, two in CUT.items() if point.startswith(("head", "tail"))}


@settings(max_examples=60)
@given(corner=CORNER, pitch=PITCH, pitch2=PITCH, head=st.sampled_from(("pointed", "square")))
def test_every_mark_of_a_valley_is_where_a_line_of_it_meets_a_plane(
    corner: float, pitch: float, pitch2: float, head: str
) -> None:
    """Seen from outside, side 1's wall is on the left and carries on past the corner to the right."""
    run, ridge, overhang, half, depth, height = 3000.0, 38.0, 250.0, 23.5, 300.0, 150.0
    roof = Roof(corner, {2: pitch, 1: pitch2})
    wall = {"1": 2, "2": 1}  # the line of each side, as the drawing of a hip names them
    assume(all(roof.up_hip @ roof.plates[one] > 0.2 for one in (1, 2)))
    timber = faces_of(roof.up_hip, roof.left, height, depth)
    seat: Plane = (UP, 0.0)
    centre: Plane = (roof.left, 0.0)
    end = meet((roof.inward[2], run - ridge / 2), centre, seat)
    tip = meet((roof.inward[2], -overhang), centre, seat)
    points: dict[tuple[str, str], Array] = {}
    for line, off in (("centre", 0.0), ("1", half), ("2", -half)):
        inward = roof.inward[wall.get(line, 2)]
        cheek = inward if head == "pointed" else roof.on_plan
        planes = {
            **timber,
            "seat": seat,
            "head": (cheek, float(cheek @ end)),
            "plate": (inward, 0.0),
            "tail": (inward, float(inward @ tip)),
        }
        for point, two in CUT.items():
            points[line, point] = meet((roof.left, off), *(planes[name] for name in two.split()))
    answer = sticks(
        kind="valley", corner=corner, pitch=pitch, pitch2=pitch2, run=run, ridge=ridge, overhang=overhang,
        section=Section(2 * half, depth), common_height_above_plate=height, head=head,
    )  # fmt: skip
    assert running(answer) == pytest.approx(along(points, roof.up_hip), abs=1e-6)
    prove_working(answer)


def sloped(roof: Roof, side: int, places: dict[str, float], ends: dict[str, Plane]) -> dict[tuple[str, str], float]:
    """Running sizes of a rafter of that side whose lines are at those places along its plate, with plumb ends."""
    slope = roof.slopes[side] / np.linalg.norm(roof.slopes[side])
    planes: dict[str, Plane] = {"top": (slope, 0.0), "bottom": (slope, -150.0), **ends}
    plate = roof.plates[side]
    points = {
        (line, point): meet((plate, place), *(planes[name] for name in two.split()))
        for line, place in places.items()
        for point, two in ENDS.items()
    }
    up = np.cross(plate, slope)
    return along(points, up / np.linalg.norm(up) * np.sign(up[2]))


@settings(max_examples=60)
@given(corner=CORNER, pitch=PITCH, pitch2=PITCH, place=st.floats(200, 1200))
def test_every_mark_of_a_jack_on_a_valley_is_where_a_line_of_it_meets_a_plane(
    corner: float, pitch: float, pitch2: float, place: float
) -> None:
    """Its long face is the one towards the corner; it hangs from the ridge and stands on the valley's left face."""
    roof = Roof(corner, {2: pitch, 1: pitch2})
    assume(all(roof.up_hip @ roof.plates[one] > 0.2 for one in (1, 2)))
    places = {"long": place - 23.5, "centre": place, "short": place + 23.5}
    ends: dict[str, Plane] = {"head": (roof.inward[2], 4000.0 - 19.0), "tail": (roof.left, 30.0)}
    try:
        answer = sticks(
            kind="jack", on="valley", corner=corner, pitch=pitch, pitch2=pitch2, run=4000, ridge=38, at=place,
            hip_thickness=60,
        )  # fmt: skip
    except Refusal:  # a steep valley is at the ridge before the jack
        assume(False)
    assert running(answer) == pytest.approx(sloped(roof, 2, places, ends), abs=1e-6)
    prove_working(answer)


@settings(max_examples=60)
@given(corner=CORNER, pitch=PITCH, pitch2=PITCH, place=st.floats(200, 1000), thick=st.floats(10, 40))
def test_every_mark_of_a_jack_on_a_laid_valley_is_where_a_line_of_it_meets_a_plane(
    corner: float, pitch: float, pitch2: float, place: float, thick: float
) -> None:
    """Its foot is on a plane so far over the other slope, square to it; it is plumb at the ridge."""
    roof = Roof(corner, {2: pitch, 1: pitch2})
    assume(all(roof.up_hip @ roof.plates[one] > 0.2 for one in (1, 2)))
    places = {"long": place - 23.5, "centre": place, "short": place + 23.5}
    main = roof.slopes[1] / np.linalg.norm(roof.slopes[1])
    ends: dict[str, Plane] = {"head": (roof.inward[2], 4000.0 - 19.0), "tail": (main, thick)}
    try:
        answer = sticks(
            kind="jack", on="laid", corner=corner, pitch=pitch, pitch2=pitch2, run=4000, ridge=38, at=place,
            board=thick,
        )  # fmt: skip
    except Refusal:  # a steep valley is at the ridge before the jack
        assume(False)
    assert running(answer) == pytest.approx(sloped(roof, 2, places, ends), abs=1e-6)
    prove_working(answer)


def test_a_valley_board_and_its_jack_are_those_of_laid_valley() -> None:
    board = asked("kind=valley-board pitch=40 pitch2=35 run=2000 overhang=300 section=25x200")
    whole = laid_valley(pitch=40, pitch2=35, run=2000, overhang=300)
    assert figure(board, "overall_length") == pytest.approx(figure(whole, "overall_length"))
    assert at(board, "face", "tail-top") - at(board, "face", "head-top") == pytest.approx(figure(whole, "outer_edge"))
    inner = at(board, "face", "tail-bottom") - at(board, "face", "head-bottom")
    assert inner == pytest.approx(figure(whole, "inner_edge"))
    jack = asked("kind=jack on=laid pitch=35 pitch2=40 run=2000 at=600")
    assert figure(jack, "tail_tilt_1") == pytest.approx(figure(whole, "foot_saw_tilt")) == pytest.approx(40)
    assert figure(jack, "seat_cut_from_square") == pytest.approx(figure(whole, "foot_cut_from_square"))


@settings(max_examples=60)
@given(corner=CORNER, pitch=PITCH, pitch2=PITCH, side=st.sampled_from((1, 2)), past=st.floats(100, 900))
def test_every_mark_of_a_cripple_is_where_a_line_of_it_meets_a_plane(
    corner: float, pitch: float, pitch2: float, side: int, past: float
) -> None:
    """The valley is a hip's line carried along the plate; the cripple is between the faces that look at it."""
    between = 2400.0
    roof = Roof(corner, {1: pitch, 2: pitch2})
    assume(all(roof.up_hip @ roof.plates[one] > 0.2 for one in (1, 2)))
    across = roof.across(side)
    place = between + past
    foot = float(across @ (between * roof.plates[side])) - 30.0
    places = {"long": place + 23.5, "centre": place, "short": place - 23.5}
    ends: dict[str, Plane] = {"head": (across, 30.0), "tail": (across, foot)}
    answer = sticks(
        kind="cripple", corner=corner, pitch=pitch, pitch2=pitch2, side=side, at=place, between=between,
        hip_thickness=60,
    )  # fmt: skip
    assert running(answer) == pytest.approx(sloped(roof, side, places, ends), abs=1e-6)
    prove_working(answer)


def test_cripples_between_a_hip_and_a_valley_are_all_of_one_length() -> None:
    """With one pitch on square corners the two lines are parallel on plan, so they are as long as the eaves between."""
    lengths = [
        figure(sticks(kind="cripple", pitch=35, at=place, between=2400), "overall_length") for place in (2600, 3300)
    ]
    assert lengths[0] == pytest.approx(lengths[1])
    off = 2 * 23.5 * math.sqrt(2)  # half of each, along the slope's run
    whole = (2400 - off + 47) / math.cos(math.radians(35)) + 150 * math.tan(math.radians(35))
    assert lengths[0] == pytest.approx(whole)


@given(corner=st.floats(60, 150), pitch=PITCH, pitch2=PITCH, side=st.sampled_from((1, 2)))
def test_a_purlin_is_cut_where_the_hip_meets_each_arris(corner: float, pitch: float, pitch2: float, side: int) -> None:
    ends = cut_ends(Drawing(corner, (pitch, pitch2)), side, 75.0, 225.0)
    first = min(ends.values())
    assume(max(ends.values()) - first < 2000)
    answer = sticks(
        kind="purlin", corner=corner, pitch=pitch, pitch2=pitch2, side=side, length=3000, section=Section(75, 225)
    )
    for (face, edge), place in ends.items():
        assert at(answer, face, f"head-{edge}") == pytest.approx(place - first, abs=1e-6)
    assert figure(answer, "overall_length") == pytest.approx(3000)


def test_a_ridge_has_the_centre_of_each_common_on_it() -> None:
    answer = asked("kind=ridge section=38x225 length=3046 marks=23,423,3023")
    assert [at(answer, "face", f"centre-{n}") for n in (1, 2, 3)] == pytest.approx([23, 423, 3023])
    turned = asked("kind=ridge section=38x225 length=3046 marks=23,423,3023 zero=tail")
    assert [at(turned, "face", f"centre-{n}") for n in (1, 2, 3)] == pytest.approx([3023, 2623, 23])


@given(thin=st.floats(0, 60), rise=st.floats(1, 150), length=st.floats(600, 6000), bevel=st.floats(0, 60))
def test_a_firring_tapers_evenly_and_its_end_is_cut_after(
    thin: float, rise: float, length: float, bevel: float
) -> None:
    answer = sticks(kind="firring", thin=thin, thick=thin + rise, length=length, bevel=bevel, section=Section(47, 200))
    for row in rows(answer, "rows"):
        if str(row["point"]).endswith("top"):
            assert cell(row, "down") / rise == pytest.approx(cell(row, "at") / length)  # similar triangles
        else:
            assert cell(row, "down") == pytest.approx(thin + rise)
    heads = [cell(row, "at") for row in rows(answer, "rows") if row["point"] == "head-top"]
    assert max(heads) - min(heads) == pytest.approx(47 * math.tan(math.radians(bevel)))


def test_every_point_of_a_rib_is_its_radius_from_the_centre() -> None:
    whole = rib(radius=900, depth=75, board=150)
    answer = sticks(kind="rib", radius=900, rib_depth=75, arc=figure(whole, "angle_each"))
    assert figure(answer, "overall_length") == pytest.approx(figure(whole, "chord_out"))
    crown_up = figure(whole, "board_used")
    for row in rows(answer, "rows"):
        x, y = cell(row, "at") - figure(whole, "chord_out") / 2, 900 - cell(row, "down")
        radius = 900 if str(row["point"]).startswith("out") else 825
        assert math.hypot(x, y) == pytest.approx(radius)
        assert cell(row, "down") <= crown_up + 1e-9


def test_a_scarf_is_marked_from_its_nose_as_its_outline_is() -> None:
    answer, half = asked("kind=scarf section=47x220"), scarf(depth=220)
    length = figure(half, "joint_length")
    told = [(cell(row, "at"), cell(row, "down")) for row in rows(answer, "rows")]
    outline = [(length - cell(row, "x"), 220 - cell(row, "y")) for row in rows(half, "outline")[1:]]
    assert np.allclose(told, outline)


@pytest.mark.parametrize(
    "figures",
    [
        {"kind": "valley", "pitch": 35.0, "run": 3000.0, "common_height_above_plate": 122.0, "overhang": 300.0},
        {"kind": "valley", "pitch": 35.0, "run": 3000.0, "common_height_above_plate": 122.0, "heel": "clipped"},
        {"kind": "jack", "on": "valley", "pitch": 35.0, "run": 3000.0, "at": 900.0},
        {"kind": "valley-board", "pitch": 40.0, "pitch2": 35.0, "run": 2000.0, "overhang": 300.0},
        {"kind": "jack", "on": "laid", "pitch": 35.0, "pitch2": 40.0, "run": 2000.0, "at": 600.0},
        {"kind": "cripple", "pitch": 35.0, "at": 3000.0, "between": 2400.0},
        {"kind": "straight", "length": 2000.0, "head_cut": 35.0, "tail_cut": 20.0, "bevel": 45.0},
        {"kind": "ridge", "length": 3046.0, "marks": (23.0, 423.0)},
        {"kind": "purlin", "length": 3000.0, "pitch": 35.0},
        {"kind": "firring", "length": 3000.0, "thin": 20.0, "thick": 80.0, "bevel": 45.0},
        {"kind": "rib", "radius": 900.0, "rib_depth": 75.0},
        {"kind": "scarf"},
    ],
)
def test_of_every_kind_the_tape_from_the_tail_is_that_from_the_head_turned_round(figures: dict[str, Value]) -> None:
    head, tail = sticks(**figures), sticks(**figures, zero="tail")
    whole = figure(head, "overall_length")
    assert {key: whole - place for key, place in running(head).items()} == pytest.approx(running(tail), abs=1e-6)
    hooked = running(sticks(**figures, nick=30))
    assert hooked == pytest.approx({key: place + 30 for key, place in running(head).items()})
    prove_working(head)


@pytest.mark.parametrize(
    ("typed", "says"),
    [
        ("kind=valley pitch=35 run=3000 common_height_above_plate=122 head=hollow", "head=pointed, or head=square"),
        ("kind=valley pitch=35 run=3000 common_height_above_plate=300", "doesn't sit on its plates"),
        ("kind=cripple pitch=35 at=900", "a cripple needs between"),
        ("kind=cripple pitch=35 at=2400 between=2400", "at must be over 2423.5"),
        ("kind=jack on=valley pitch=35 at=3000 run=3000", "nothing of it is left on its short side"),
        ("kind=jack on=laid pitch=35 at=2900 run=3000", "nothing of it is left on its short side"),
        ("kind=valley-board pitch=35", "a valley-board needs run. Add run=3000"),
        ("kind=ridge", "a ridge needs length. Add length=3000"),
        ("kind=ridge length=3000 marks=3100", "a mark is off the timber"),
        ("kind=straight length=300 head_cut=80", "the cuts take all of a length of 300"),
        ("kind=purlin pitch=35 length=300 section=75x600", "its cuts take all"),
        ("kind=firring length=3000 thin=90 thick=20", "it must be no more than thick, 20"),
        ("kind=rib radius=900 rib_depth=900", "it must be under the radius, 900"),
        ("kind=scarf section=47x100 wedge=150", "Give a smaller wedge"),
    ],
)
def test_a_stick_that_can_not_be_is_refused_by_name(typed: str, says: str) -> None:
    with pytest.raises(Refusal, match=r"^sticks: ") as refused:
        asked(typed)
    assert says in refused.value.message


@given(
    pitch=PITCH,
    turn=st.floats(30, 80),
    head=st.sampled_from(("hip", "valley")),
    tail=st.sampled_from(("hip", "valley")),
)
def test_both_ends_of_a_purlin_are_cut_where_each_arris_meets_its_hip_or_valley(
    pitch: float, turn: float, head: str, tail: str
) -> None:
    """Along its plate, by vectors: an arris so far in on plan meets an upright face that turns off the plate further on
    by that over tan(turn), or further back at a hip."""
    thick, deep, lean, run = 75.0, 225.0, math.radians(pitch), math.tan(math.radians(turn))
    into = {
        (face, edge): up * thick * math.cos(lean) + down * deep * math.sin(lean)
        for face, up in (("lower", 0), ("upper", 1))
        for edge, down in (("top", 0), ("bottom", 1))
    }
    ways = {"head": 1 if head == "valley" else -1, "tail": 1 if tail == "valley" else -1}
    answer = sticks(
        kind="purlin", section=Section(thick, deep), length=4000, head_on=head, tail_on=tail,
        head_cut=math.degrees(math.atan(math.sin(lean) / run)), tail_cut=math.degrees(math.atan(math.sin(lean) / run)),
        bevel=math.degrees(math.atan(math.cos(lean) / run)), tail_bevel=math.degrees(math.atan(math.cos(lean) / run)),
    )  # fmt: skip
    assert figure(answer, "overall_length") == pytest.approx(4000)
    for end, sign in (("head", -1), ("tail", 1)):
        places = {arris: ways[end] * off / run for arris, off in into.items()}
        furthest = max(places.values())
        zero = 0.0 if end == "head" else 4000.0
        for (face, edge), place in places.items():
            assert at(answer, face, f"{end}-{edge}") == pytest.approx(zero - sign * (furthest - place), abs=1e-6)


@pytest.mark.parametrize("lean", [-12.0, 0.0, 15.0, 30.0])
def test_a_strut_s_head_lies_under_the_purlin_and_its_foot_on_the_level(lean: float) -> None:
    """In its upright plane: x inwards, z up; its foot is further in by its lean, the slope rises inwards at 40."""
    width, pitch = 100.0, math.radians(40)
    edge = "top" if lean >= 0 else "across"
    answer = sticks(
        kind="strut", section=Section(75, width), length=1200, head_cut=40 - lean, tail_cut=abs(lean), long_edge=edge
    )
    tilt = math.radians(lean)
    up, across = np.array([-math.sin(tilt), math.cos(tilt)]), np.array([math.cos(tilt), math.sin(tilt)])

    def between(end: str) -> Array:
        """From the edge away from the ridge to that towards it."""
        top, bottom = (-at(answer, "face", f"{end}-{one}") for one in ("top", "bottom"))
        return (top - bottom) * up + width * across

    head, foot = between("head"), between("tail")
    assert head[0] * math.sin(pitch) - head[1] * math.cos(pitch) == pytest.approx(0, abs=1e-9)
    assert foot[1] == pytest.approx(0, abs=1e-9)


def test_a_collar_is_longest_on_its_underside_and_ends_in_both_slopes() -> None:
    """By hand at 40 and 45: 150 higher, each end is 150 / tan of its slope further in."""
    answer = asked("kind=collar section=47x150 length=2400 head_cut=50 tail_cut=45 long_edge=bottom")
    assert at(answer, "face", "head-bottom") == 0 and at(answer, "face", "tail-bottom") == pytest.approx(2400)
    assert at(answer, "face", "head-top") == pytest.approx(150 / math.tan(math.radians(40)))
    assert at(answer, "face", "tail-top") == pytest.approx(2400 - 150)
