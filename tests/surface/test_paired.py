"""Rafters set out in pairs over roofs by chance: opposite at each hip and valley, no bay too wide, none too long.

Lengths are measured on the slope laid flat by crossings of its edges, apart from the program's own scan.
"""

import math
import random
from collections.abc import Iterator
from itertools import pairwise

import pytest

from sitelog.calculators.surface.inputs import ReadInputs
from sitelog.calculators.surface.slope_rafters import KINDS, slope_rafter_rows
from sitelog.geometry.building.named import Roof, roof_of, roof_over
from sitelog.geometry.read_off.paired import WITHIN
from sitelog.geometry.read_off.rafters import Marks, Rafter, rafters
from sitelog.geometry.surface.lines import RoofLine
from sitelog.geometry.surface.surface import FlatRing, Surface
from sitelog.quantities.quantity import Section
from sitelog.refusal import Refusal
from tests.length import LONG

SPACING, THICKNESS = 400.0, 47.0
PAIRS = Marks(SPACING, way="pairs", whole=True, thickness=THICKNESS, later=("dormer",))
COUNT = 400 if LONG else 24
SLIVER = 60.0  # mm up the slope: what of a slope is no wider is what plates out of line leave, and is no roof


def said(chance: random.Random) -> str:
    """An L, T or U, its ends hips, half-hips or gables, its pitches alike or not, at times with a dormer."""

    def pitch() -> int:
        return chance.choice((40, 40, 40, 35, 45, chance.randrange(20, 60)))

    long, wide = chance.randrange(7000, 16000, 50), chance.randrange(5000, 8500, 50)
    text = f"main {long}x{wide} {pitch()}"
    for end in ("BC", "DA", "CD"):
        text += chance.choice(
            ("", "", f" {end} gable" if end != "CD" else "", f" {end} half-hip 900", f" {end} {pitch()}")
        )
    for side in chance.sample(("AB", "CD"), chance.randrange(3)):
        width = chance.randrange(2500, min(wide + 500, long - 2000), 50)
        along = chance.choice((0, chance.randrange(800, long - width - 100, 50)))
        text += f"; wing off {side} {along} from {side[0]} {width}x{chance.randrange(1500, 6000, 50)} {pitch()}"
        text += chance.choice(("", " end gable"))
    if chance.random() < 0.3:
        text += f"; dormer off AB {chance.randrange(3000, long - 3000, 50)} from A 1200x900 40 cheek 500 end gable"
    return text


def roofs() -> Iterator[tuple[int, Roof]]:
    """Every other one with each corner of its plates out by up to 6 mm each way."""
    for seed in range(COUNT):
        chance = random.Random(seed)
        try:
            roof = roof_of(said(chance))
            if seed % 2:
                known = roof.plates.points.items()
                moved = {name: (x + chance.uniform(-6, 6), y + chance.uniform(-6, 6)) for name, (x, y) in known}
                roof = roof_over(roof.said, roof.plates, moved)
        except Refusal:
            continue
        yield seed, roof


def chords(rings: list[FlatRing], at: float) -> list[tuple[float, float]]:
    """What of the line up the slope at a mark is inside the outline, from the lowest [mm]."""
    ups = sorted(
        y + (at - x) / (x_end - x) * (y_end - y)
        for ring in rings
        for (x, y), (x_end, y_end) in zip(ring, [*ring[1:], ring[0]], strict=True)
        if min(x, x_end) <= at < max(x, x_end)
    )
    return list(zip(ups[::2], ups[1::2], strict=True))


def by_slope(found: Surface) -> Iterator[tuple[int, list[FlatRing], list[Rafter]]]:
    every = rafters(found, PAIRS)
    for slope in range(len(found.slopes)):
        rings = found.flat(slope)
        if rings:
            yield slope, rings, [rafter for rafter in every if rafter.slope == slope]


@pytest.mark.grows
def test_each_rafter_is_as_long_as_the_outline_at_its_mark_and_all_of_the_outline_has_one() -> None:
    tried = 0
    for seed, roof in roofs():
        for _, rings, own in by_slope(roof.found):
            corners = [x for ring in rings for x, _ in ring]
            for at in {rafter.at for rafter in own}:
                if min(abs(at - x) for x in corners) > 2:
                    whole = [high - low for low, high in chords(rings, at) if high - low > 1]
                    there = [rafter.length for rafter in own if rafter.at == at]
                    assert sorted(there) == pytest.approx(sorted(whole), abs=0.01), (seed, at)
                    tried += len(there)
    assert tried > 80 * COUNT


@pytest.mark.grows
def test_no_bay_is_wider_than_the_spacing_and_no_two_rafters_touch() -> None:
    """The one that closes up may be 10 mm over, as `jacks` and `commons` have it on the lists."""
    for seed, roof in roofs():
        for _, rings, own in by_slope(roof.found):
            for ring in rings:
                xs = [x for x, _ in ring]
                inside = sorted({rafter.at for rafter in own if min(xs) < rafter.at < max(xs)})
                bays = [after - before for before, after in pairwise([min(xs), *inside, max(xs)])]
                high = max(y for _, y in ring) - min(y for _, y in ring)
                if high > SLIVER:
                    assert max(bays) <= SPACING + WITHIN + 1e-6, (seed, max(bays))
                assert min(bays[1:-1], default=THICKNESS) >= THICKNESS, (seed, min(bays[1:-1]))


@pytest.mark.grows
def test_jacks_stand_opposite_at_each_hip_and_valley() -> None:
    """Within 1 mm on plan, but where one opposite would touch a rafter, or its slope is so steep that it needs less.

    Over a dormer's valley the main slope is set out first: a dormer of another pitch may need one more than it has.
    """
    ends = alone = 0
    for seed, roof in roofs():
        found = roof.found
        feet = {slope: own for slope, _, own in by_slope(found)}
        for slope, own in feet.items():
            for end, at in ((end, at) for one in own for end, at in ((one.foot, one.start), (one.head, one.end))):
                if end.kind not in ("hip", "valley") or any(math.dist(point.at, at) < 2 for point in found.points):
                    continue
                ends += 1
                across = [line for line in found.lines if f"{line.kind} {found.line_name(line)}" == end.name]
                others = {other for line in across for other in line.between if other != slope}
                met = [
                    math.dist(p[:2], at[:2])
                    for one in others
                    for rafter in feet[one]
                    for p in (rafter.start, rafter.end)
                ]
                if min(met) > 1:
                    alone += 1
                    assert any(_cant_have(found, line, slope, at[:2], feet) for line in across), (seed, end.name)
    assert ends > 60 * COUNT
    assert alone < ends / 25


def _cant_have(
    found: Surface, line: RoofLine, slope: int, at: tuple[float, float], own: dict[int, list[Rafter]]
) -> bool:
    """Whether a rafter opposite would touch one, or come nearer than half the spacing; or a dormer needs one more."""
    [other] = [one for one in line.between if one != slope]
    place = found.slopes[other].flat(*at)[0]
    wide, narrow = (abs(_along(found, one, line.end) - _along(found, one, line.start)) for one in (slope, other))
    earlier = {place for block in found.plan.blocks if block.name != "dormer" for place in block.slopes}
    if slope not in earlier and other in earlier:
        return found.slopes[slope].pitch != found.slopes[other].pitch
    return narrow < wide / 2 or any(abs(rafter.at - place) <= THICKNESS for rafter in own[other])


def _along(found: Surface, slope: int, point: int) -> float:
    return found.slopes[slope].flat(*found.points[point].at[:2])[0]


@pytest.mark.grows
def test_no_rafter_on_the_list_is_longer_than_its_slope_lets_it_be() -> None:
    """From lowest to highest point it is no more than the slope is in its thickness, with tail and plumb cut."""
    given = ReadInputs(
        spacing=SPACING, set_out="pairs", section=Section(47, 150), hip_section=Section(47, 225), ridge=38, overhang=300
    )
    for seed, roof in roofs():
        if seed % 4 == 1:
            for slope in roof.of("slopes"):
                plane, rings = roof.found.slopes[slope.place], roof.found.flat(slope.place)
                past = 300 / math.cos(math.radians(plane.pitch)) + 150 * math.tan(math.radians(plane.pitch))
                for row in (row for kind in KINDS for row in slope_rafter_rows(given, roof, slope.id, kind, "any")):
                    at, length = float(str(row["at"])), float(str(row["length"]))
                    corners = [x for ring in rings for x, _ in ring if abs(x - at) < THICKNESS / 2]
                    places = [
                        at - THICKNESS / 2,
                        at + THICKNESS / 2,
                        at,
                        *(x + off for x in corners for off in (-0.01, 0.01)),
                    ]
                    ends = [chord for place in places for chord in chords(rings, place)]
                    most = max(high for _, high in ends) - min(low for low, _ in ends)
                    assert length <= most + past + 1, (seed, slope.name, at)
