"""A deck that falls to four edges against the solid under four planes, worked on a grid."""

import math

import numpy as np
import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st

from sitelog.refusal import Refusal
from sitelog.trade.catalogue import Answer, Value
from sitelog.trade.falls import hipped_falls
from tests.trade.results import cell, column, figure, rows

sides = st.floats(1_500, 12_000)
falls = st.floats(1 / 100, 1 / 30)


def over(deck: tuple[float, float], fall: float, thin: float, x: np.ndarray, y: np.ndarray) -> np.ndarray:
    """Height of the deck over its level joists: the lowest of four planes, one from each edge."""
    length, width = deck
    return np.asarray(thin + fall * np.minimum.reduce([x, length - x, y, width - y]))


def place(row: dict[str, float | int | str | None], length: float) -> tuple[np.ndarray, np.ndarray]:
    """A firring's foot on its edge, and the direction it runs in; A at 0,0, AB along x, BC up from B."""
    if row["side"] == "ab":
        return np.array([cell(row, "at"), 0.0]), np.array([0.0, 1.0])
    return np.array([length, cell(row, "at")]), np.array([-1.0, 0.0])


@given(length=sides, width=sides, fall=falls, thin=st.floats(0, 60), spacing=st.floats(200, 700))
def test_every_firring_ends_on_the_deck_and_starts_level_with_all_the_others(
    length: float, width: float, fall: float, thin: float, spacing: float
) -> None:
    answer = hipped_falls(length=length, width=width, fall=fall, thin=thin, spacing=spacing)
    for row in rows(answer, "rows"):
        foot, runs = place(row, length)
        head = foot + cell(row, "length") * runs
        height = over((length, width), fall, thin, head[0], head[1])
        assert cell(row, "thick_end") == pytest.approx(float(height), abs=1e-6)
        assert cell(row, "thin_end") == thin
        # Just past its head the deck no longer climbs the way the firring runs.
        past = head + runs
        assert float(over((length, width), fall, thin, past[0], past[1])) <= float(height) + 1e-9
    assert figure(answer, "diagonal_thin_end") == thin


def volume_of_rows(answer: Answer, length: float, width: float, fall: float, spacing: float) -> float:
    """Each firring's own solid, a spacing wide, on all four edges; m3."""
    thin = figure(answer, "diagonal_thin_end")
    each = [cell(row, "length") * (thin + cell(row, "thick_end")) / 2 * spacing for row in rows(answer, "rows")]
    return 2 * sum(each) / 1e9


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
    assert volume_of_rows(answer, long, wide, fall, 100) == pytest.approx(solid, rel=0.01)
    # And both against the solid in one sum: a box, and a hipped heap on it.
    half, other = min(long, wide) / 2, max(long, wide)
    heap = fall * half * (half * other - 2 * half**2 / 3)
    assert solid == pytest.approx((thin * long * wide + heap) / 1e9, rel=0.001)


@given(length=sides, width=sides, joist=st.floats(20, 75))
def test_a_cut_end_fits_the_face_of_the_diagonal(length: float, width: float, joist: float) -> None:
    """The long point lies on the diagonal's face, as does the short point a firring's thickness nearer the corner."""
    answer = hipped_falls(length=length, width=width, fall=1 / 60, thin=20, joist=joist)
    for row in rows(answer, "rows"):
        at, edge = cell(row, "at"), length if row["side"] == "ab" else width
        if cell(row, "bevel_from_square") == 0 or at == edge / 2:
            continue
        # From its nearer corner: along the edge p, in from it q; the diagonal's near face is p - q = joist / sqrt 2.
        p, q = min(at, edge - at), cell(row, "cut_length")
        long_point = (p + joist / 2) - q
        assert long_point == pytest.approx(joist * math.sqrt(2) / 2, abs=1e-6)
        assert q - joist > 0


@given(side=sides)
def test_a_square_deck_rises_to_a_point(side: float) -> None:
    answer = hipped_falls(length=side, width=side, fall=1 / 60, thin=20)
    assert figure(answer, "ridge_length") == 0
    assert {row["bevel_from_square"] for row in rows(answer, "rows")} == {45.0}


@given(length=sides, width=sides, fall=falls)
def test_turned_round_it_is_the_same_deck(length: float, width: float, fall: float) -> None:
    assume(abs(length - width) > 1)
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
        ({"length": 6000.0, "fall": 0.02, "thin": 20.0}, "needs width"),
    ],
)
def test_a_deck_that_can_not_be_is_refused_in_one_line(given: dict[str, Value], told: str) -> None:
    with pytest.raises(Refusal, match=told) as refusal:
        hipped_falls(**given)
    assert "\n" not in refusal.value.message
