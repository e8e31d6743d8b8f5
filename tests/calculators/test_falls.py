"""A deck that falls to four edges against the solid under four planes, worked on a grid."""

import math

import numpy as np
import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st

from sitelog.calculators.catalogue import Answer, Row, Value
from sitelog.calculators.decks.falls import hipped_falls
from sitelog.quantities.quantity import Section
from sitelog.refusal import Refusal
from tests.calculators.results import cell, column, figure, rows

sides = st.floats(1_500, 12_000)
falls = st.floats(1 / 100, 1 / 30)


def over(deck: tuple[float, float], fall: float, thin: float, x: np.ndarray, y: np.ndarray) -> np.ndarray:
    """Height of the deck over its level joists: the lowest of four planes, one from each edge."""
    length, width = deck
    return np.asarray(thin + fall * np.minimum.reduce([x, length - x, y, width - y]))


def place(row: Row, length: float, width: float) -> tuple[np.ndarray, np.ndarray]:
    """A firring's foot on its edge, and the direction it runs in; A at 0,0, AB along x, BC up from B, and so round."""
    at = cell(row, "at")
    return {
        "ab": (np.array([at, 0.0]), np.array([0.0, 1.0])),
        "bc": (np.array([length, at]), np.array([-1.0, 0.0])),
        "cd": (np.array([length - at, width]), np.array([0.0, -1.0])),
        "da": (np.array([0.0, width - at]), np.array([1.0, 0.0])),
    }[str(row["side"])]


@given(length=sides, width=sides, fall=falls, thin=st.floats(0, 60), spacing=st.floats(200, 700))
def test_every_firring_is_thin_at_its_edge_and_as_thick_as_the_deck_at_its_end(
    length: float, width: float, fall: float, thin: float, spacing: float
) -> None:
    answer = hipped_falls(length=length, width=width, fall=fall, thin=thin, spacing=spacing)
    for row in rows(answer, "rows"):
        foot, runs = place(row, length, width)
        assert cell(row, "thin_end") == thin
        if cell(row, "length_centre") > 0:
            end = foot + cell(row, "length_centre") * runs
            height = float(over((length, width), fall, thin, end[0], end[1]))
            assert cell(row, "thick_centre") == pytest.approx(height, abs=1e-6)
        # To the line of the diagonal or the ridge: just past it the deck no longer climbs the way the firring runs.
        head = foot + cell(row, "length") * runs
        height = float(over((length, width), fall, thin, head[0], head[1]))
        past = head + runs
        assert float(over((length, width), fall, thin, past[0], past[1])) <= height + 1e-9
    assert figure(answer, "diagonal_thin_end") == thin


@settings(max_examples=15, deadline=None)
@given(length=st.integers(30, 90), width=st.integers(30, 90), fall=falls, thin=st.floats(0, 60))
def test_all_firrings_together_fill_the_solid_under_the_four_planes(
    length: int, width: int, fall: float, thin: float
) -> None:
    """Sides of whole spacings of 100, so that the firrings share the deck out between them."""
    long, wide = length * 100.0, width * 100.0
    answer = hipped_falls(length=long, width=wide, fall=fall, thin=thin, spacing=100, joist=10)
    x, y = np.meshgrid(np.arange(12.5, long, 25), np.arange(12.5, wide, 25))
    solid = over((long, wide), fall, thin, x, y).sum() * 25 * 25 / 1e9
    each = [cell(row, "length") * (thin + cell(row, "length") * fall / 2) * 100 for row in rows(answer, "rows")]
    assert sum(each) / 1e9 == pytest.approx(solid, rel=0.01)
    # And both against the solid in one sum: a box, and a hipped heap on it.
    half, other = min(long, wide) / 2, max(long, wide)
    heap = fall * half * (half * other - 2 * half**2 / 3)
    assert solid == pytest.approx((thin * long * wide + heap) / 1e9, rel=0.001)


# -- what is left of polygons


def cut(shape: np.ndarray, normal: np.ndarray, bound: float) -> np.ndarray:
    """What is left of a convex polygon where normal . point <= bound."""
    kept: list[np.ndarray] = []
    for one, other in zip(shape, np.roll(shape, -1, axis=0), strict=True):
        here, there = float(normal @ one) - bound, float(normal @ other) - bound
        if here <= 0:
            kept.append(one)
        if (here < 0 < there) or (there < 0 < here):
            kept.append(one + (other - one) * here / (here - there))
    return np.array(kept).reshape(-1, 2)


class Outline:
    """A deck by its corners: how far in from each edge, and the lines that halve its corners."""

    def __init__(self, corners: np.ndarray) -> None:
        self.corners = corners
        sides = np.roll(corners, -1, axis=0) - corners
        self.long = np.linalg.norm(sides, axis=1)
        self.along = sides / self.long[:, None]
        self.inward = np.column_stack([-self.along[:, 1], self.along[:, 0]])
        halves = self.along - np.roll(self.along, 1, axis=0)
        self.halving = halves / np.linalg.norm(halves, axis=1)[:, None]

    def six(self) -> dict[str, float]:
        a, b, c, d = self.corners
        pairs = {"ab": (a, b), "bc": (b, c), "cd": (c, d), "da": (d, a), "ac": (a, c), "bd": (b, d)}
        return {name: float(np.linalg.norm(one - other)) for name, (one, other) in pairs.items()}

    def part(self, shape: np.ndarray, side: int) -> np.ndarray:
        """Where no other edge is nearer than this one."""
        for other in {0, 1, 2, 3} - {side}:
            normal = self.inward[side] - self.inward[other]
            bound = self.inward[side] @ self.corners[side] - self.inward[other] @ self.corners[other]
            shape = cut(shape, normal, float(bound))
        return shape

    def off_diagonals(self, shape: np.ndarray, side: int, thickness: float) -> np.ndarray:
        """Clear by half a diagonal of the lines that halve the corners at both ends of an edge."""
        for corner, way in ((side, 1.0), ((side + 1) % 4, -1.0)):
            x, y = self.halving[corner]
            across = way * np.array([-y, x])  # away from this edge's part
            shape = cut(shape, across, float(across @ self.corners[corner]) - thickness / 2)
        return shape

    def firring(self, side: int, at: float, thickness: float, diagonal: float) -> np.ndarray:
        """What is left of the strip, as along its edge from `at`, and in."""
        start, deep = self.corners[side], float(self.long.sum())
        shape = np.array(
            [
                start + self.along[side] * (at + way * thickness / 2) + self.inward[side] * far
                for way, far in ((-1, 0.0), (1, 0.0), (1, deep), (-1, deep))
            ]
        )
        left = self.off_diagonals(self.part(shape, side), side, diagonal)
        if not len(left):
            return left
        away = left - start
        return np.column_stack([away @ self.along[side] - at, away @ self.inward[side]])


def at_arris(left: np.ndarray, across: float) -> float:
    """How far in a polygon reaches on a line square to its edge; 0 where it doesn't."""
    best = 0.0
    for one, other in zip(left, np.roll(left, -1, axis=0), strict=True):
        if min(one[0], other[0]) - 1e-6 <= across <= max(one[0], other[0]) + 1e-6:
            run = other[0] - one[0]
            reach = max(one[1], other[1]) if abs(run) < 2e-6 else one[1] + (other[1] - one[1]) * (across - one[0]) / run
            best = max(best, float(reach))
    return best


def decks() -> st.SearchStrategy[Outline]:
    """Rectangles with each corner but A pushed out or in."""
    off = st.floats(-150, 150)
    return st.builds(
        lambda long, wide, b, cx, cy, dx, dy: Outline(
            np.array([[0, 0], [long + b, 0], [long + cx, wide + cy], [dx, wide + dy]])
        ),
        st.floats(2_500, 9_000),
        st.floats(1_500, 6_000),
        *[off] * 5,
    )


@settings(max_examples=60, deadline=None)
@given(deck=decks(), fall=falls, spacing=st.floats(300, 900), diagonal=st.floats(30, 100))
def test_every_firring_is_what_is_left_of_its_strip_in_its_part_of_the_plan(
    deck: Outline, fall: float, spacing: float, diagonal: float
) -> None:
    answer = hipped_falls(**deck.six(), fall=fall, thin=20, spacing=spacing, diagonal_thickness=diagonal)
    assume(figure(answer, "ridge_length") > 1)
    told = {(row["side"], round(cell(row, "at") / spacing)): row for row in rows(answer, "rows")}
    for side, name in enumerate(("ab", "bc", "cd", "da")):
        for step in range(1, int((deck.long[side] - 23.5 - 1e-4) / spacing) + 1):
            left = deck.firring(side, step * spacing, 47, diagonal)
            deep = float(left[:, 1].max()) if len(left) else 0.0
            row = told.pop((name, step), None)
            if row is None:
                assert deep < 1e-3
                continue
            assert cell(row, "long_point") == pytest.approx(deep, abs=1e-3)
            for where, across in (("left", -23.5), ("centre", 0.0), ("right", 23.5)):
                reach = at_arris(left, across)
                assert cell(row, f"length_{where}") == pytest.approx(reach, abs=0.01), where
                assert cell(row, f"thick_{where}") == pytest.approx(20 + reach * fall, abs=0.01)
            if row["break_across"] is not None:
                corner = np.array([cell(row, "break_across"), cell(row, "break_along")])
                assert np.linalg.norm(left - corner, axis=1).min() < 0.01
    assert all(cell(row, "long_point") < 1e-3 for row in told.values())


@settings(max_examples=60, deadline=None)
@given(deck=decks(), diagonal=st.floats(30, 100))
def test_the_diagonals_ends_are_where_their_faces_meet_the_lines_they_are_cut_to(
    deck: Outline, diagonal: float
) -> None:
    answer = hipped_falls(**deck.six(), fall=1 / 40, thin=20, diagonal_thickness=diagonal)
    assume(figure(answer, "ridge_length") > 300)
    ends = {one: np.array([figure(answer, f"ridge_{one}_{axis}") for axis in "xy"]) for one in "pq"}
    for corner, row in enumerate(rows(answer, "diagonals")):
        start, ahead = deck.corners[corner], deck.halving[corner]
        reach = {one: float((end - start) @ ahead) for one, end in ends.items()}
        off = {one: abs(float((end - start) @ np.array([-ahead[1], ahead[0]]))) for one, end in ends.items()}
        here = min(off, key=lambda one: off[one])
        there = "q" if here == "p" else "p"
        assert off[here] < 1e-3 and cell(row, "plan_length") == pytest.approx(reach[here], abs=1e-3)
        for k, way, neighbour in ((1, 1.0, corner - 1), (2, -1.0, (corner + 1) % 4)):
            across = way * np.array([-ahead[1], ahead[0]])
            # Another corner whose diagonal ends here too makes that edge's part a point.
            beside = deck.corners[neighbour] - ends[here]
            x, y = deck.halving[neighbour]
            comes_here = abs(float(beside @ np.array([-y, x]))) < 1e-2
            midway = -ahead + beside / np.linalg.norm(beside)
            line = midway if comes_here else ends[there] - ends[here]
            past, _ = np.linalg.solve(np.column_stack([ahead, -line]), -diagonal / 2 * across)
            assert cell(row, f"inner_past_{k}") == pytest.approx(past, abs=0.01), (corner, k)
            bevel = math.degrees(math.atan(abs(past) / (diagonal / 2)))
            assert cell(row, f"inner_bevel_{k}_from_square") == pytest.approx(bevel, abs=0.01)
        # The point in the corner: where the edge crosses the face.
        back, _ = np.linalg.solve(
            np.column_stack([ahead, -deck.along[corner]]), -diagonal / 2 * np.array([ahead[1], -ahead[0]])
        )
        assert cell(row, "outer_back") == pytest.approx(back, abs=1e-3)
        assert cell(row, "outer_bevel_from_square") == pytest.approx(
            math.degrees(math.atan(back / (diagonal / 2))), abs=1e-4
        )


# -- the agreed digits

SIX_FOR_FOUR = {"length": 6000.0, "width": 3600.0, "fall": 1 / 60, "thin": 20.0, "spacing": 600.0}
SKEW = {
    "ab": 6000.0,
    "bc": 3490.0,
    "cd": 6331.0,
    "da": 3601.0,
    "ac": 7154.0,
    "bd": 7064.0,
    "fall": 1 / 40,
    "thin": 20.0,
    "spacing": 600.0,
    "diagonal_thickness": 75.0,
}


def piece(answer: Answer, side: str, at: float) -> Row:
    (found,) = (row for row in rows(answer, "rows") if row["side"] == side and row["at"] == at)
    return found


def cells(row: Row, *names: str) -> list[float]:
    return [cell(row, name) for name in names]


LENGTHS = ("length_left", "length_centre", "length_right")
BEVELS = ("bevel_left_from_square", "bevel_right_from_square")
INNER = ("inner_past_1", "inner_bevel_1_from_square", "inner_past_2", "inner_bevel_2_from_square")


def test_a_deck_of_6000_by_3600_comes_out_to_the_printed_digits() -> None:
    answer = hipped_falls(**SIX_FOR_FOUR, stick=Section(47, 75))
    assert len(rows(answer, "rows")) == figure(answer, "count") == 28
    first = piece(answer, "ab", 600)
    assert first["n"] == 1
    assert cells(first, *LENGTHS) == pytest.approx([543.27, 566.77, 590.27], abs=5e-3)
    assert cells(first, *BEVELS, "thick_left", "thick_long") == pytest.approx([45, 45, 29.05, 29.84], abs=5e-3)
    assert first["break_across"] is None
    on_the_diagonal = piece(answer, "ab", 1800)
    assert cells(on_the_diagonal, *LENGTHS) == pytest.approx([1743.27, 1766.77, 1790.27], abs=5e-3)
    point = piece(answer, "bc", 1800)
    assert cells(point, *LENGTHS) == pytest.approx([1743.27, 1766.77, 1743.27], abs=5e-3)
    assert cells(point, "break_across", "break_along") == pytest.approx([0, 1766.77], abs=5e-3)
    diagonal = rows(answer, "diagonals")[0]
    assert cells(diagonal, "plan_length", "outer_bevel_from_square", "outer_back") == pytest.approx(
        [2545.58, 45, 23.5], abs=5e-3
    )
    assert cells(diagonal, *INNER) == pytest.approx([-23.5, 45, 23.5, 45])
    assert figure(answer, "nest_pairs") == 14 and figure(answer, "nest_singles") == 0


def test_turned_round_the_diagonal_is_cut_of_the_other_hand() -> None:
    answer = hipped_falls(**SIX_FOR_FOUR | {"length": 3600.0, "width": 6000.0})
    assert cells(rows(answer, "diagonals")[0], *INNER) == pytest.approx([23.5, 45, -23.5, 45])


def test_on_a_square_deck_every_diagonal_is_a_point() -> None:
    answer = hipped_falls(**SIX_FOR_FOUR | {"length": 4000.0, "width": 4000.0})
    assert figure(answer, "centre_height") == pytest.approx(53.33, abs=5e-3)
    assert figure(answer, "ridge_length") == pytest.approx(0, abs=1e-6)
    for row in rows(answer, "diagonals"):
        assert cells(row, "inner_past_1", "inner_past_2") == pytest.approx([-23.5, -23.5])


def test_the_one_in_the_middle_of_a_short_edge_is_a_point_though_a_ridge_begins_there() -> None:
    answer = hipped_falls(length=3010, width=3000, fall=1 / 40, thin=20, spacing=500)
    middle = piece(answer, "bc", 1500)
    assert cells(middle, "length_centre", "break_across") == pytest.approx([1466.77, 0], abs=5e-3)
    assert cells(middle, *BEVELS) == pytest.approx([45, 45])


def test_a_skew_deck_taped_by_six_lengths_comes_out_to_the_printed_digits() -> None:
    answer = hipped_falls(**SKEW)
    for end, told in (("p", (1744.03, 1782.64, 64.57)), ("q", (4363.86, 1757.97, 63.95))):
        assert [figure(answer, f"ridge_{end}_{name}") for name in ("x", "y", "height")] == pytest.approx(told, abs=5e-3)
    assert figure(answer, "ridge_length") == pytest.approx(2619.95, abs=5e-3)
    a, _, c, _ = rows(answer, "diagonals")
    assert cells(a, "plan_length", "outer_bevel_from_square", "outer_back", *INNER) == pytest.approx(
        [2493.88, 44.37, 36.69, -37.15, 44.73, 36.00, 43.83], abs=5e-3
    )
    assert cells(c, "plan_length", *INNER) == pytest.approx([2554.98, -37.85, 45.27, 40.30, 47.06], abs=5e-3)
    assert len(rows(answer, "rows")) == 29
    mitred = piece(answer, "ab", 1800)
    assert cells(mitred, *LENGTHS, "break_across", *BEVELS) == pytest.approx(
        [1762.20, 1782.11, 1781.89, -3.99, 45.63, 0.54], abs=5e-3
    )
    last = piece(answer, "ab", 5400)
    assert cells(last, *LENGTHS, *BEVELS) == pytest.approx([614.61, 589.35, 564.09, 47.06, 47.06], abs=5e-3)


def test_what_was_told_under_other_names_still_is() -> None:
    for row in rows(hipped_falls(**SKEW), "rows"):
        assert row["cut_length"] == row["long_point"] and row["thick_end"] == row["thick_long"]
        assert row["bevel_from_square"] == max(cells(row, *BEVELS))


# -- two in one stick


@settings(max_examples=40, deadline=None)
@given(depth=st.integers(20, 160), fall=falls, kerf=st.floats(0, 6), width=st.floats(1_500, 6_000))
def test_as_many_lie_head_to_foot_in_one_stick_as_can(depth: int, fall: float, kerf: float, width: float) -> None:
    """The lesser of half of those that go in at all and of those that go in with one as thick: and each pair fits."""
    answer = hipped_falls(
        length=4000, width=width, fall=fall, thin=20, spacing=300, stick=Section(47, depth), kerf=kerf
    )
    thick = {int(cell(row, "n")): cell(row, "thick_long") for row in rows(answer, "rows")}
    cut_across = kerf * math.hypot(1, fall)
    go_in = sum(one <= depth for one in thick.values())
    small = sum(20 + one + cut_across <= depth for one in thick.values())
    nests = rows(answer, "nests")
    assert figure(answer, "nest_pairs") == len(nests) == min(go_in // 2, small)
    assert figure(answer, "nest_singles") == len(thick) - 2 * len(nests)
    names = [int(cell(nest, end)) for nest in nests for end in ("long", "short")]
    assert len(set(names)) == len(names)
    for nest in nests:
        long, short = (thick[int(cell(nest, end))] for end in ("long", "short"))
        assert long >= short - 1e-6
        assert cell(nest, "depth") == pytest.approx(max(20 + short + cut_across, long), abs=1e-6)
        assert cell(nest, "depth") <= depth + 1e-9


def test_a_firring_thicker_than_the_stick_is_named() -> None:
    answer = hipped_falls(**SIX_FOR_FOUR, stick=Section(47, 45))
    assert any("deeper than the timber, 45" in note and " 4, 5, 6" in note for note in answer.notes)


@given(side=sides)
def test_a_square_deck_rises_to_a_point(side: float) -> None:
    answer = hipped_falls(length=side, width=side, fall=1 / 60, thin=20)
    assert figure(answer, "ridge_length") == pytest.approx(0, abs=1e-6)
    assert column(answer, "rows", "bevel_from_square") == pytest.approx([45.0] * len(rows(answer, "rows")))


@given(width=st.floats(1_500, 6_000), longer=st.floats(10, 6_000), fall=falls)
def test_turned_round_it_is_the_same_deck(width: float, longer: float, fall: float) -> None:
    length = width + longer
    one, other = (hipped_falls(length=a, width=b, fall=fall, thin=20) for a, b in ((length, width), (width, length)))
    for name in ("centre_height", "ridge_length", "diagonal", "diagonal_backing"):
        assert figure(one, name) == pytest.approx(figure(other, name))
    assert sorted(column(one, "rows", "cut_length")) == pytest.approx(sorted(column(other, "rows", "cut_length")))


def test_the_diagonal_is_bevelled_to_the_two_planes() -> None:
    """From the planes' normals: half of what their angle falls short of straight, seen along the diagonal."""
    fall, joist = 1 / 40, 50.0
    answer = hipped_falls(length=4000, width=4000, fall=fall, thin=20, joist=joist)
    one, two = (np.array([-fall, 0, 1.0]), np.array([0, -fall, 1.0]))
    angle = math.degrees(math.acos(one @ two / np.linalg.norm(one) / np.linalg.norm(two)))
    assert figure(answer, "diagonal_backing") == pytest.approx(angle / 2)
    # Half its thickness to one side of the corner's halving line, the deck is lower by that over root two.
    assert figure(answer, "diagonal_drop") == pytest.approx(joist / 2 / math.sqrt(2) * fall)


def test_a_fall_that_will_not_last_is_warned_of_by_the_standard() -> None:
    warned = hipped_falls(length=6000, width=3600, fall=1 / 60, thin=20).notes[0]
    assert warned.startswith("1:60 as drawn may finish at 1:120") and "BS 6229:2018" in warned
    assert "BS 6229" not in hipped_falls(length=6000, width=3600, fall=1 / 40, thin=20).notes[0]


@pytest.mark.parametrize(
    ("given", "told"),
    [
        ({"length": 6000.0, "width": 3600.0, "fall": 0.5, "thin": 20.0}, "a flat roof is up to 10 degrees"),
        ({"length": 6000.0, "width": 3600.0, "fall": 0.02, "thin": 20.0, "spacing": 50.0}, "at least 100"),
        ({"length": 200_000.0, "width": 200_000.0, "fall": 0.02, "thin": 20.0, "spacing": 100.0}, "over 2000 firrings"),
        ({"length": 6000.0, "fall": 0.02, "thin": 20.0}, "give the six lengths ab, bc, cd, da, ac, bd, or length and"),
        (SKEW | {"diagonal_thickness": 0.0}, "diagonal_thickness is 0; it must be over 0"),
        (SKEW | {"ac": 9600.0}, "AC 9600 can't be longer"),
        (
            {
                "ab": 6000.0,
                "bc": 6000.0,
                "cd": 4031.1,
                "da": 4717.0,
                "ac": 8485.3,
                "bd": 3201.6,
                "fall": 0.02,
                "thin": 20.0,
            },
            "turn in, or run straight on, at corner D",
        ),
    ],
)
def test_a_deck_that_can_not_be_is_refused_in_one_line(given: dict[str, Value], told: str) -> None:
    with pytest.raises(Refusal, match=told) as refusal:
        hipped_falls(**given)
    assert "\n" not in refusal.value.message
