"""A building said block by block is the roof that its blocks are; sizes made up by us, in mm."""

import math

import pytest

from sitelog.geometry.building.named import Roof, roof_of
from sitelog.geometry.building.reading import read_building
from sitelog.geometry.building.said import printed
from sitelog.geometry.building.walls import plan_of, plan_text, sprockets_of
from sitelog.geometry.least_squares import Measured
from sitelog.geometry.surface.surface import surface_of
from sitelog.geometry.vectors import cos_deg, tan_deg
from sitelog.quantities.quantity import Tie
from sitelog.refusal import Refusal

L = "main 9000x6000 40; wing off CD 0 from D 4000x4000 40 end gable"
T = "main 12000x6000 35; wing off CD 3000 from C 5000x4000 35"
BUILDINGS = {
    "L": L,
    "T": T,
    "T with unequal pitches": "main 12000x6000 35; wing off CD 3000 from C 5000x4000 45 left 30",
    "L with a gable in line with the wing's eaves": "main 9000x6000 40 DA gable; wing off CD 0 from D 4000x4000 40",
    "bay": "main 9000x6000 40; bay off CD 3000 from D 3000x1200 40",
    "bay with a level ridge": "main 9000x6000 40; bay off CD 3000 from D 3000x1200 40 level",
    "mansard": "main 9000x6000 40 AB mansard 70 2000 30 BC gable CD mansard 70 2000 30 DA gable",
    "octagon": "main octagon 6000 40",
    "half-hip": "main 9000x6000 45 BC half-hip 1500 50",
    "dormer": "main 9000x6000 45 BC gable DA gable; dormer off AB 3500 from A 2000x900 40 cheek 900",
    "dormer with a gable": "main 9000x6000 40; dormer off AB 3000 from A 1800x1200 35 cheek 900 end gable",
    "lean-to and sprockets": "main 9000x6000 40; lean-to off AB 2000 from B 5000x2500 20 plate -1500; sprockets 600 25",
    "wing off a gable, and one off that": (
        "main 9000x6000 40 BC gable; wing off BC 1000 from B 4000x3000 40 end gable; "
        "wing2 off wing.left 500 from end 1500x1000 40"
    ),
}


def totals(roof: Roof) -> dict[str, float]:
    lines = roof.found.lines
    return {kind: sum(line.length for line in lines if line.kind == kind) for kind in ("hip", "valley", "ridge")}


@pytest.mark.parametrize("name", BUILDINGS)
def test_a_building_prints_back_as_it_reads(name: str) -> None:
    said = read_building(BUILDINGS[name])
    assert read_building(printed(said)) == said


@pytest.mark.parametrize(
    ("text", "volume", "plan"),
    [
        ("main 12000x6000 35; wing off CD 3000 from C 5000x4000 35", 80.523867, 92.0),
        ("main 10000x6000 35; wing off CD 0 from D 6000x6000 35", 88.226150, 96.0),
        ("main 10000x6000 35 BC gable; wing off CD 0 from D 6000x6000 35", 94.528018, 96.0),
    ],
)
def test_volumes_are_those_of_a_geometry_kernel(text: str, volume: float, plan: float) -> None:
    """Volumes in m3 over right-angled loops at 35 degrees, worked by a geometry kernel and by half planes alike."""
    found = roof_of(text).found
    assert found.plan_area / 1e6 == pytest.approx(plan, abs=1e-6)
    assert found.volume / 1e9 == pytest.approx(volume, abs=2e-6)


def test_the_lines_of_an_l_are_those_worked_by_hand() -> None:
    """By hand: a hip at 40 over a 3 m run is 3 sqrt(2 + tan2 40); ridges 3 m and 6 m."""
    roof = roof_of(L)
    over = math.sqrt(2 + tan_deg(40) ** 2)
    assert totals(roof) == pytest.approx({"hip": (9 + 1) * over * 1000, "valley": 2 * over * 1000, "ridge": 9000.0})
    assert [one.name for one in roof.of("valleys")] == ["Valley CE-EF"]
    assert roof.plates.ring == [("A", "B"), ("B", "C"), ("C", "E"), ("E", "F"), ("F", "G"), ("G", "A")]


def test_eight_equal_sides_meet_in_a_point() -> None:
    """By hand: half the span times tan 40 is the height of the point; the slopes' area is the plan's over cos 40."""
    found = roof_of("main octagon 6000 40").found
    plan = 8 * 3.0**2 * math.tan(math.pi / 8)
    assert max(point.at[2] for point in found.points) == pytest.approx(3000 * tan_deg(40))
    assert sum(map(found.area, range(8))) / 1e6 == pytest.approx(plan / cos_deg(40))


def test_a_mansard_breaks_at_its_height_and_a_half_hip_starts_at_its() -> None:
    mansard = roof_of(BUILDINGS["mansard"]).found
    breaks = [mansard.points[line.start].at[2] for line in mansard.lines if line.kind == "break"]
    assert breaks == pytest.approx([2000, 2000])
    hipped = roof_of(BUILDINGS["half-hip"]).found
    hip = next(line for line in hipped.lines if line.kind == "hip" and hipped.line_name(line) == "AB-BC")
    assert hipped.points[hip.start].at[2] == pytest.approx(1500)


def test_a_dormer_stands_its_cheek_over_the_slope_at_its_face() -> None:
    """By hand: the slope at 45 is 900 up 900 in, and the dormer's plates are 900 over that."""
    roof = roof_of(BUILDINGS["dormer"])
    ups = [slope.up for slope, owner in zip(roof.found.slopes, roof.block_of, strict=True) if owner == "dormer"]
    assert ups == pytest.approx([1800, 1800])
    assert [one.name for one in roof.of("dormers")] == ["Dormer"]


def test_a_lean_to_has_its_pitch_or_its_top() -> None:
    by_pitch = roof_of("main 9000x6000 40; lean-to off BC 500 from B 3000x2000 15 plate -900")
    top = -900 + 2000 * tan_deg(15)
    by_top = roof_of(f"main 9000x6000 40; lean-to off BC 500 from B 3000x2000 top {top} plate -900")
    assert by_pitch.found.volume == pytest.approx(by_top.found.volume)
    assert any(line.kind == "step" for line in by_pitch.found.lines)


@pytest.mark.parametrize("name", BUILDINGS)
def test_the_plan_as_surface_reads_it_is_the_same_roof(name: str) -> None:
    roof = roof_of(BUILDINGS[name])
    text = plan_text(plan_of(roof.plates, None, sprockets_of(roof.said)))
    assert surface_of(text).volume == pytest.approx(roof.found.volume, rel=1e-9)


@pytest.mark.parametrize("name", BUILDINGS)
def test_names_stay_when_plates_are_a_few_mm_out(name: str) -> None:
    """Each length in turn 3 mm long or short, as a tape may find them: every line, slope and block keeps its name."""
    roof = roof_of(BUILDINGS[name])
    points = roof.plates.points
    pairs = [*roof.plates.ring, *(tuple(one.name.split(" to ")) for one in roof.of("ties"))]
    lengths = [
        Measured(Tie(a, b, math.dist(points[a], points[b]) + (-3.0, 0.0, 3.0)[place % 3]), 1.5)
        for place, (a, b) in enumerate(pairs)
    ]
    measured = roof_of(BUILDINGS[name], lengths)
    assert [one.id for one in measured.named] == [one.id for one in roof.named]
    assert measured.found.plan.doubts == ()
    assert measured.found.volume != roof.found.volume
    assert measured.found.volume == pytest.approx(roof.found.volume, rel=5e-3)


def test_a_block_taken_away_leaves_the_others_as_they_were() -> None:
    both = read_building(f"{T}; dormer off AB 2000 from A 1500x900 35 cheek 800")
    without = printed([one for one in both if one.kind != "wing"])
    assert roof_of(without).of("dormers")[0].name == "Dormer"
    assert without == "main 12000x6000 35; dormer off AB 2000 from A 1500x900 35 cheek 800"


@pytest.mark.parametrize(
    ("text", "said"),
    [
        ("", "building: begin with the main roof, such as main 9000x6000 40 BC gable"),
        ("main 9000x6000", "building: main: its pitch is missing."),
        ("main 9000 40", "building: main: its size, '9000', isn't two lengths."),
        ("main 9000x6000 4", "building: main: its pitch is 4; it must be from 5 to 75 degrees."),
        ("main 9000x6000 40 BC gabel", "building: main: its pitch, 'gabel', isn't"),
        ("main 9000x6000 40 XY gable", "building: main: 'XY gable' can't be read."),
        ("mian 9000x6000 40", "building: 'mian' isn't a block; did you mean main?"),
        ("main 9000x6000 40; wing 4000x4000 40", "building: wing: say which side it is off,"),
        ("main 9000x6000 40; wing off CE 0 from D 4000x4000 40", "building: wing: CE isn't a side to build on; the"),
        ("main 9000x6000 40; wing off CD 0 from A 4000x4000 40", "building: wing: A isn't a corner of CD; give C or D"),
        ("main 9000x6000 40; wing off CD 6000 from D 4000x4000 40", "building: wing: 4000 wide and 6000 from D runs"),
        ("main 9000x6000 40; wing off CD 10 from D 4000x4000 40", "building: wing: it stops 10 mm from corner D:"),
        (f"{L}; wing off CD 1000 from D 4000x4000 40", "building: wing2: another block is there on CD:"),
        ("main 9000x6000 40; wing off BC 0 from B 6000x4000 40", "building: wing: it is as wide as the side"),
        ("main 9000x6000 40; bay off CD 500 from D 2000x1200 40", "building: bay: its splays meet before its front:"),
        ("main 9000x6000 40; lean-to off AB 500 from A 3000x2000 15", "building: lean-to: its top is 536 up"),
        ("main 9000x6000 40; dormer off AB 500 from A 2000x900 40", "building: dormer: its cheek is missing:"),
        ("main 9000x6000 40; sprockets 600 45", "building: sprockets: no slope is steeper than 45:"),
        ("main 9000x6000 40 AB gable BC gable CD gable DA gable", "building: main: none of its sides has a pitch:"),
    ],
)  # fmt: skip
def test_what_cannot_be_is_refused_by_the_blocks_name(text: str, said: str) -> None:
    with pytest.raises(Refusal) as refusal:
        roof_of(text)
    assert refusal.value.message.startswith(said)
    assert "\n" not in refusal.value.message
