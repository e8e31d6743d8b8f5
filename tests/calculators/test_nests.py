"""Firrings ordered two from one stick, head to foot: worked by hand, and laid in their stick again by their edges."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from sitelog.calculators.timber.nests import Length, Tapered, lengths_for

KERF = 4.0


def ordered(
    pieces: list[Tapered], fall: float, depths: dict[float, float] | None = None
) -> list[tuple[str, float, bool]]:
    return [(str(one.section), one.length, one.paired) for one in lengths_for(pieces, 47, fall, KERF, depths)]


def alike(count: int, length: float, thin: float, thick: float) -> list[Tapered]:
    return [Tapered(n, length, thin, thick) for n in range(count)]


def test_two_firrings_of_a_small_deck_come_out_of_one_stick() -> None:
    """20 to 95.5 over 3021: together 20 + 95.525 + 4 across the saw is 119.5, from 125; alone each takes 100."""
    assert ordered(alike(14, 3021, 20, 95.525), 1 / 40) == [("47x125", 3021, True)] * 7
    assert ordered(alike(3, 3021, 20, 95.525), 1 / 40) == [("47x125", 3021, True), ("47x100", 3021, False)]


def test_they_are_left_alone_where_two_take_no_less() -> None:
    """40 to 50: together 94 from 100, alone 50 each. 140 to 240: together 384, and no stick is so deep."""
    assert ordered(alike(2, 400, 40, 50), 1 / 40) == [("47x50", 400, False)] * 2
    assert ordered(alike(2, 4000, 140, 240), 1 / 40) == [("47x250", 4000, False)] * 2


# Two of 20 to 95.5 over 3021, which together take 119.5: depths that can be had with their longest sticks.
HAD: list[tuple[dict[float, float], list[tuple[str, float, bool]]]] = [
    ({100: 6000}, [("47x100", 3021, False)] * 2),
    ({100: 6000, 125: 6000}, [("47x125", 3021, True)]),
    ({100: 6000, 150: 6000}, [("47x150", 3021, True)]),  # no 125: two from 150 still take less than two of 100
    ({100: 6000, 225: 6000}, [("47x100", 3021, False)] * 2),  # two from 225 take more
    ({100: 6000, 125: 3000}, [("47x100", 3021, False)] * 2),  # none of 125 is so long
    ({150: 6000}, [("47x150", 3021, True)]),
    ({175: 6000, 75: 6000}, [("47x175", 3021, True)]),
    ({75: 6000}, [("47x100", 3021, False)] * 2),  # none is so deep: what another yard keeps
]


@pytest.mark.parametrize(("depths", "found"), HAD)
def test_only_what_can_be_had_is_taken_for_one_or_for_two(
    depths: dict[float, float], found: list[tuple[str, float, bool]]
) -> None:
    assert ordered(alike(2, 3021, 20, 95.525), 1 / 40, depths) == found


FALL = 1 / 60
PIECES = st.lists(st.floats(200, 6000), min_size=1, max_size=12)


def timber(found: list[Length]) -> float:
    return sum(one.section.depth * one.length for one in found)


@given(PIECES, st.floats(15, 60))
def test_all_are_ordered_and_never_more_timber_than_alone(lengths: list[float], thin: float) -> None:
    pieces = [Tapered(n, length, thin, thin + length * FALL) for n, length in enumerate(lengths)]
    found = lengths_for(pieces, 47, FALL, KERF)
    assert sum(2 if one.paired else 1 for one in found) == len(pieces)
    alone = [one for piece in pieces for one in lengths_for([piece], 47, FALL, KERF)]
    assert timber(found) <= timber(alone) + 1e-6


@given(PIECES, st.floats(15, 60))
def test_two_in_a_stick_lie_clear_of_each_other_by_the_saws_cut(lengths: list[float], thin: float) -> None:
    """The longer lies on the stick's lower edge; the shorter is turned end for end under its upper one."""
    pieces = [Tapered(n, length, thin, thin + length * FALL) for n, length in enumerate(lengths)]
    waiting = sorted((piece.length for piece in pieces), reverse=True)
    for one in lengths_for(pieces, 47, FALL, KERF):
        long = waiting.pop(0)
        assert one.length == pytest.approx(long)
        assert thin + long * FALL <= one.section.depth + 1e-6
        if one.paired:
            short = waiting.pop(0)
            at = np.linspace(0, short, 7)  # from the longer's thin end
            gap = (one.section.depth - (thin + (short - at) * FALL)) - (thin + at * FALL)
            assert (gap * np.cos(np.arctan(FALL)) >= KERF - 1e-6).all()
