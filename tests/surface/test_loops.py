"""A loop that turns in, with pitches of its own: split as a carpenter would part it, or asked about, never guessed."""

import math
import random
from collections.abc import Mapping

import pytest

from sitelog.geometry.loops.pieces import largest_pieces
from sitelog.geometry.loops.proof import is_its_roof
from sitelog.geometry.surface.plan_text import read_plan
from sitelog.geometry.surface.planned import planned
from sitelog.geometry.surface.surface import Surface, surface_of
from sitelog.refusal import Refusal
from tests.length import LONG
from tests.surface.by_half_planes import Face, Point, Roof
from tests.surface.held import distance, hold_to_half_planes, hold_together
from tests.surface.roofs import CD_35, L_POINTS, SQUARE, T_POINTS, U_POINTS, Z_POINTS, faces, over
from tests.surface.wavefront import Loop, is_inside

BAY_POINTS = {
    "A": (0, 0), "B": (9000, 0), "C": (9000, 6000), "Q": (6000, 6000), "R": (5000, 7200), "S": (4000, 7200),
    "P": (3000, 6000), "D": (0, 6000),
}  # fmt: skip

# Each loop with its walls' pitches in turn, and its blocks as a carpenter gives them.
SPLIT = {
    "L, its wing steeper": (
        L_POINTS, (40, 40, 40, 50, 50, 50),
        over(L_POINTS, main=faces(("AB", 40), ("BC", 40), ("CD", 40), ("FA", 50)),
             wing=faces(("AB", 40), ("DE", 50), ("EF", 50), ("FA", 50))),
    ),
    "L, a pitch for each wall": (
        L_POINTS, (40, 30, 35, 50, 60, 45),
        over(L_POINTS, main=faces(("AB", 40), ("BC", 30), ("CD", 35), ("FA", 45)),
             wing=faces(("AB", 40), ("DE", 50), ("EF", 60), ("FA", 45))),
    ),
    "T, its wing steeper and over the main ridge": (
        T_POINTS, (35, 35, 35, 50, 50, 50, 35, 35),
        over(T_POINTS, main=faces(("AB", 35), ("BC", 35), ("CD", 35), Face("G", "H", 0, same_as=CD_35), ("HA", 35)),
             wing=faces(("AB", 35), ("DE", 50), ("EF", 50), ("FG", 50))),
    ),
    "T, its wing with a gable": (
        T_POINTS, (35, "gable", 35, 30, "gable", 30, 35, "gable"),
        over(T_POINTS, main=faces(("AB", 35), ("BC", "gable"), ("CD", 35), Face("G", "H", 0, same_as=CD_35),
                                  ("HA", "gable")),
             wing=faces(("AB", 35), ("DE", 30), ("EF", "gable"), ("FG", 30))),
    ),
    "Z with two pitches": (
        Z_POINTS, (40, 35, 40, 35, 40, 35, 40, 35),
        over(Z_POINTS, lower=faces(("AB", 40), ("BC", 35), ("GH", 40), ("HA", 35)),
             upper=faces(("CD", 40), ("DE", 35), ("EF", 40), ("FG", 35)),
             middle=faces(("AB", 40), ("BC", 35), ("EF", 40), ("FG", 35))),
    ),
    "bay with splays": (
        BAY_POINTS, (40, 40, 40, 40, 40, 40, 40, 40),
        over({**SQUARE, **BAY_POINTS}, main=faces(("AB", 40), ("BC", 40), ("CD", 40), ("DA", 40)),
             bay=faces(("QR", 40), ("RS", 40), ("SP", 40), ("AB", 40), ("BC", 40), ("DA", 40))),
    ),
    "bay with steeper splays": (
        BAY_POINTS, (40, 35, 40, 50, 45, 50, 40, 35),
        over({**SQUARE, **BAY_POINTS}, main=faces(("AB", 40), ("BC", 35), ("CD", 40), ("DA", 35)),
             bay=faces(("QR", 50), ("RS", 45), ("SP", 50), ("AB", 40), ("BC", 35), ("DA", 35))),
    ),
}  # fmt: skip


def loop_of(points: Mapping[str, Point], pitches: tuple[float | str, ...]) -> str:
    names = list(points)
    ends = [*names[1:], names[0]]
    return Roof(points, {"loop": [Face(a, b, p) for a, b, p in zip(names, ends, pitches, strict=True)]}).text


@pytest.mark.parametrize(("points", "pitches", "blocks"), SPLIT.values(), ids=list(SPLIT))
def test_a_loop_is_split_into_the_blocks_that_a_carpenter_gives(
    points: Mapping[str, Point], pitches: tuple[float | str, ...], blocks: Roof
) -> None:
    found = surface_of(loop_of(points, pitches))
    hold_together(found)
    hold_to_half_planes(blocks, found, count=150)
    assert found.volume == pytest.approx(surface_of(blocks.text).volume, rel=1e-9)


def test_the_valley_of_an_l_with_two_pitches_is_where_both_slopes_are_as_high() -> None:
    """By hand: 40 degrees over y = 6000, 50 over x = 4000; the wing's ridge is 2000 tan 50 up, so the valley ends where
    the main slope is: 2000 x 1.19175 / 0.83910 = 2840.55 in from CD. The main's own ridge, 3000 in, is higher."""
    found = surface_of(loop_of(L_POINTS, (40, 40, 40, 50, 50, 50)))
    [valley] = [line for line in found.lines if line.kind == "valley"]
    ends = {tuple(round(size, 2) for size in found.points[place].at) for place in (valley.start, valley.end)}
    assert ends == {(4000.0, 6000.0, 0.0), (2000.0, 6000 - 2840.55, 2383.51)}


# --- the second way -----------------------------------------------------------------------------------------------


def holds(blocks: str, loop: str) -> bool:
    return is_its_roof(planned(read_plan(blocks)), read_plan(loop).blocks[0].walls)


def typed(points: Mapping[str, Point], blocks: str) -> str:
    return "; ".join(f"{name} {x},{y}" for name, (x, y) in points.items()) + "; " + blocks


@pytest.mark.parametrize(
    ("points", "pitch", "blocks", "proved"),
    [
        (Z_POINTS, 40, "lower AB 40, BC 40, GH 40, HA 40; upper CD 40, DE 40, EF 40, FG 40", False),  # a level valley
        (
            Z_POINTS, 40,
            "lower AB 40, BC 40, GH 40, HA 40; upper CD 40, DE 40, EF 40, FG 40; middle AB 40, BC 40, EF 40, FG 40",
            True,
        ),
        (L_POINTS, 40, "main AB 40, BC 40, CD 40, FA 40", False),  # the wing is missing
        (L_POINTS, 40, "main AB 40, BC 40, CD 40, FA 40; wing AB 45, DE 40, EF 40, FA 40", False),  # two slopes on AB
        (L_POINTS, 40, "main AB 40, BC 40, CD 40, FA 40; wing AB 40, DE 40, EF 40, FA 40", True),
        (L_POINTS, 40, "main AB 40, BC 40, CD 40, FA 40; wing AB 40, DE 40, EF gable, FA 40", False),  # a gable
        (L_POINTS, 40, "main AB 40, BC 40, CD 40, FA 40; wing AB 40, DE 40 +300, EF 40, FA 40", False),  # a step
        (BAY_POINTS, 40, "main AB 40, BC 40, CQ 40, DA 40; bay QR 40, RS 40, SP 40, AB 40", False),  # runs on too far
        (
            BAY_POINTS, 40,
            "main AB 40, BC 40, CQ 40, DA 40; bay QR 40, RS 40, SP 40, AB 40, BC 40, DA 40",
            True,
        ),
        (BAY_POINTS, 40, "main AB 40, BC 40, CQ 40, DA 40; bay QR 40, RS 40, SP 40, AB gable =CQ", False),
    ],
)  # fmt: skip
def test_only_the_roof_that_grows_inwards_from_its_walls_is_proved(
    points: Mapping[str, Point], pitch: float, blocks: str, proved: bool
) -> None:
    assert holds(typed(points, blocks), loop_of(points, (pitch,) * len(points))) == proved


def by_chance(chance: random.Random) -> tuple[dict[str, Point], tuple[float | str, ...]]:
    """A star of 5 to 9 corners, or a plan of the table with its corners moved; pitches alike, near or far apart."""
    if chance.random() < 0.5:
        ways = sorted(chance.uniform(0, math.tau) for _ in range(chance.randint(5, 9)))
        far = [chance.uniform(3000, 9000) for _ in ways]
        corners = [(out * math.cos(way), out * math.sin(way)) for way, out in zip(ways, far, strict=True)]
    else:
        plan = chance.choice((L_POINTS, T_POINTS, U_POINTS, Z_POINTS, BAY_POINTS))
        corners = [(x + chance.uniform(-200, 200), y + chance.uniform(-200, 200)) for x, y in plan.values()]
    least, most = chance.choice(((38.0, 38.0), (30.0, 48.0), (15.0, 65.0)))
    pitches: list[float | str] = [chance.uniform(least, most) for _ in corners]
    if least == 30.0:
        pitches = ["gable" if chance.random() < 0.1 else pitch for pitch in pitches]
    return {f"P{n}": (round(x, 6), round(y, 6)) for n, (x, y) in enumerate(corners)}, tuple(pitches)


def height_at(found: Surface, x: float, y: float) -> float | None:
    """The height [mm] of the roof over a point, None where there is none; -1 near an edge, where it may be either."""
    outlines = [found.outline(place) for place in range(len(found.slopes))]
    if any(distance(ring, x, y) < 0.1 for rings in outlines for ring in rings):
        return -1.0
    for place, rings in enumerate(outlines):
        if is_inside([[(px, py) for px, py, _ in ring] for ring in rings], x, y):
            return found.slopes[place].height(x, y)
    return None


@pytest.mark.grows
def test_every_split_by_chance_is_the_cut_that_walks_inwards_at_every_height() -> None:
    """Held to `wavefront`, which knows of no blocks and no planes: at seven heights, a point is in the cut just where
    the roof is higher. What is refused is left out; most are split."""
    split, asked = 0, 0
    for seed in range(1500 if LONG else 60):
        chance = random.Random(seed)
        points, pitches = by_chance(chance)
        loop = Loop(list(points.values()), [90.0 if isinstance(pitch, str) else pitch for pitch in pitches])
        try:
            found = surface_of(loop_of(points, pitches))
        except Refusal as refused:
            asked += "don't agree" in refused.message
            continue
        split += any(loop.turn(n - 1, n) < 0 for n in range(len(points)))
        xs, ys = zip(*points.values(), strict=True)
        top = max(point.at[2] for point in found.points)
        for nth in range(1, 8):
            level = top * nth / 8 + chance.uniform(-1, 1)
            cut = loop.cut(level)
            for _ in range(15):
                x, y = chance.uniform(min(xs), max(xs)), chance.uniform(min(ys), max(ys))
                height = height_at(found, x, y)
                if height is None or (height >= 0 and abs(height - level) > 0.1):
                    assert (height is not None and height > level) == is_inside(cut, x, y), (seed, x, y, level)
    assert split > 2 * asked > 0


# --- pieces, and what is asked ------------------------------------------------------------------------------------


def test_the_largest_pieces_of_a_t_are_its_main_roof_and_its_wing() -> None:
    assert largest_pieces(list(T_POINTS.values())) == [[0, 1, 2, 6, 7], [0, 3, 4, 5]]


def test_a_loop_with_too_many_ways_to_part_it_is_asked_about() -> None:
    """A star of twelve points, which turns in twelve times."""
    ways = [math.tau * n / 24 for n in range(24)]
    star = [
        ((9000 + 40 * n) * (1.0 if n % 2 else 0.75) * math.cos(way), 9000 * (1.0 if n % 2 else 0.75) * math.sin(way))
        for n, way in enumerate(ways)
    ]
    points = {f"P{n}": (round(x), round(y)) for n, (x, y) in enumerate(star)}
    assert largest_pieces(list(points.values())) == []
    with pytest.raises(Refusal, match="turns in too often to be split"):
        surface_of(loop_of(points, (40,) * len(points)))


def test_over_taped_plates_a_loop_keeps_the_split_that_was_drawn() -> None:
    """Corners out by a few mm leave the T's two walls in line no longer in line; its blocks are the same."""
    text = loop_of(T_POINTS, (35, 35, 35, 50, 50, 50, 35, 35)).replace("G-H 35.000000000000", "GH =CD")
    text = text.replace("GH 35.000000000000", "GH =CD")
    taped = {name: (x + 3.0 * (name in "DG"), y - 4.0 * (name in "H")) for name, (x, y) in T_POINTS.items()}
    drawn, found = surface_of(text), surface_of(text, taped)
    assert [block.name for block in found.plan.blocks] == [block.name for block in drawn.plan.blocks]
    assert found.volume == pytest.approx(drawn.volume, rel=2e-3)


@pytest.mark.parametrize(
    ("points", "pitches", "said"),
    [
        (T_POINTS, (35, 35, 35, 50, 50, 50, 40, 35), "CD and GH are in line, at 35 and 40. Write GH =CD if they are"),
        (L_POINTS, (40, 40, "gable", 40, 40, 40), "Give blocks in place of the loop, such as main AB 40, BC 40, CD"),
    ],
)
def test_what_is_not_proved_is_asked_about_with_what_to_type(
    points: Mapping[str, Point], pitches: tuple[float | str, ...], said: str
) -> None:
    with pytest.raises(Refusal) as refused:
        surface_of(loop_of(points, pitches))
    assert said in refused.value.message
    assert "main AB" in refused.value.message
    assert len(refused.value.message) < 300
    assert "\n" not in refused.value.message


def test_a_wall_raised_or_set_in_is_asked_about() -> None:
    text = loop_of(L_POINTS, (40, 40, 40, 40, 40, 40))
    for more in ("+300", "in 200"):
        with pytest.raises(Refusal, match="wall CD is raised or set in"):
            surface_of(text.replace("CD 40.000000000000", f"CD 40 {more}"))
