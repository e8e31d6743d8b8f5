"""Rafters set out from either end, from the middle or evened: tables counted by hand, and what holds of any room."""

from itertools import pairwise

import pytest
from hypothesis import given
from hypothesis import strategies as st

from sitelog.calculators.rafters.jacks import jacks
from sitelog.calculators.setting_out.centres import commons
from sitelog.geometry.spacings import WAYS, bays, inside
from tests.calculators.results import cell, figure, rows

# Commons over 2995 from 3002 on, at 400: seven whole bays are 2800, and 195 is left. From the middle six whole bays
# are 2400, and 595 is left for both ends; evened eight bays of 374.375.
OVER_2995 = {
    "first": [3002, 3402, 3802, 4202, 4602, 5002, 5402, 5802, 5997],
    "last": [3002, 3197, 3597, 3997, 4397, 4797, 5197, 5597, 5997],
    "middle": [3002, 3299.5, 3699.5, 4099.5, 4499.5, 4899.5, 5299.5, 5699.5, 5997],
    "evened": [3002, 3376.375, 3750.75, 4125.125, 4499.5, 4873.875, 5248.25, 5622.625, 5997],
}
# Jacks over a square corner with a run of 3000, so that the full common stands 3000 from the corner: seven whole
# bays of 400 and 200. From the middle six whole bays, and 300 at both ends; evened eight of 375.
OVER_3000 = {
    "first": [400, 800, 1200, 1600, 2000, 2400, 2800],
    "last": [200, 600, 1000, 1400, 1800, 2200, 2600],
    "middle": [300, 700, 1100, 1500, 1900, 2300, 2700],
    "evened": [375, 750, 1125, 1500, 1875, 2250, 2625],
}
# The same with the first jack fixed at 350: from there to 3000 are 2650, six whole bays of 400 and 250.
FROM_350 = {
    "first": [350, 750, 1150, 1550, 1950, 2350, 2750],
    "last": [350, 600, 1000, 1400, 1800, 2200, 2600],
    "middle": [350, 675, 1075, 1475, 1875, 2275, 2675],
    "evened": [350, *(350 + 2650 / 7 * n for n in range(1, 7))],
}
rooms = st.floats(500, 12_000)
spacings = st.floats(300, 650)


@pytest.mark.parametrize("way", WAYS)
def test_commons_stand_where_they_were_counted_by_hand(way: str) -> None:
    answer = commons(first=3002, last=5997, run=3000, pitch=35, spacing=400, set_out=way)
    assert [cell(row, "at") for row in rows(answer, "rows")] == pytest.approx(OVER_2995[way])
    turned = commons(first=5997, last=3002, run=3000, pitch=35, spacing=400, set_out=way)
    assert [8999 - cell(row, "at") for row in rows(turned, "rows")] == pytest.approx(OVER_2995[way])


@pytest.mark.parametrize("way", WAYS)
@pytest.mark.parametrize(("first", "table"), [(None, OVER_3000), (350.0, FROM_350)])
def test_jacks_stand_where_they_were_counted_by_hand(
    way: str, first: float | None, table: dict[str, list[float]]
) -> None:
    given = {} if first is None else {"first": first}
    answer = jacks(pitch=35, spacing=400, run=3000, set_out=way, **given)
    places = [cell(row, "at") for row in rows(answer, "rows")]
    assert places == pytest.approx(table[way])
    lengths = [cell(row, "length_centre") for row in rows(answer, "rows")]
    if way == "evened":
        assert lengths[1] - lengths[0] == pytest.approx(figure(answer, "difference"))


def test_a_jack_too_near_the_corner_to_be_cut_is_left_out() -> None:
    """From the common at 2830 whole bays come to 30 from the corner, where the hip takes all of it."""
    answer = jacks(pitch=35, spacing=400, run=2830, set_out="last")
    assert [cell(row, "at") for row in rows(answer, "rows")] == pytest.approx([430, 830, 1230, 1630, 2030, 2430])


def test_rafters_nearer_than_half_the_spacing_are_said_with_what_the_other_ways_give() -> None:
    """Counts and gaps from the table above: 195 is left at either end, half of 595, an eighth of 2995."""
    (note,) = commons(first=3002, last=5997, run=3000, pitch=35, spacing=400).notes
    assert note == (
        "8 and 9 are 195 apart, less than half the spacing. Other ways: from the last gives 9, smallest gap 195; "
        "from the middle gives 9, smallest gap 298; evened gives 9, smallest gap 374"
    )
    (note,) = jacks(pitch=35, spacing=400, run=2900).notes
    assert note == (
        "7 and the common are 100 apart, less than half the spacing. Other ways: from the common gives 7, smallest gap "
        "400; from the middle gives 7, smallest gap 250; evened gives 7, smallest gap 363"
    )
    assert commons(first=3002, last=5997, run=3000, pitch=35, spacing=400, set_out="middle").notes == ()


def test_a_first_jack_where_its_own_way_puts_it_is_put_elsewhere_by_another_way() -> None:
    """Evened from the corner eight bays of 362.5; from a first that was fixed at 350, seven of 364.3."""
    (as_usual,) = jacks(pitch=35, spacing=400, run=2900, first=400).notes
    assert as_usual.endswith("evened gives 7, smallest gap 363")
    (fixed,) = jacks(pitch=35, spacing=400, run=2900, first=350).notes
    assert fixed.startswith("7 and the common are 150 apart") and fixed.endswith("evened gives 7, smallest gap 364")


@given(rooms, spacings, st.floats(0, 10))
def test_evened_all_gaps_are_equal_none_is_over_the_spacing_and_both_ends_are_met(
    room: float, spacing: float, within: float
) -> None:
    answer = commons(first=0, last=room, run=3000, pitch=35, spacing=spacing, set_out="evened", within=within)
    marks = [cell(row, "at") for row in rows(answer, "rows")]
    gaps = [after - before for before, after in pairwise(marks)]
    assert marks[0] == 0 and marks[-1] == pytest.approx(room)
    assert max(gaps) - min(gaps) < 1e-6
    assert sum(gaps) <= len(gaps) * spacing + within + 1e-6
    assert len(gaps) == 1 or room > (len(gaps) - 1) * spacing + within - 1e-6, "no more than are needed"


@given(rooms, spacings, st.sampled_from(WAYS))
def test_every_way_has_the_same_number_of_bays_and_none_over_the_spacing(room: float, spacing: float, way: str) -> None:
    marks = [0.0, *inside(room, spacing, way), room]
    gaps = [after - before for before, after in pairwise(marks)]
    assert len(gaps) == bays(room, spacing)
    assert max(gaps) <= spacing + 1e-6 and min(gaps) >= -1e-9


@given(rooms, spacings)
def test_from_the_last_is_from_the_first_seen_from_the_other_end(room: float, spacing: float) -> None:
    turned = [room - mark for mark in reversed(inside(room, spacing, "last"))]
    assert turned == pytest.approx(inside(room, spacing, "first"))


@given(rooms, spacings)
def test_from_the_middle_both_end_bays_are_alike_and_half_a_spacing_or_more(room: float, spacing: float) -> None:
    marks = [0.0, *inside(room, spacing, "middle"), room]
    if len(marks) > 3:
        gaps = [after - before for before, after in pairwise(marks)]
        assert gaps[0] == pytest.approx(gaps[-1])
        assert gaps[0] >= spacing / 2 - 1e-6
        assert gaps[1:-1] == pytest.approx([spacing] * (len(gaps) - 2))


@pytest.mark.parametrize("way", WAYS)
@pytest.mark.parametrize("out", [-9.0, -3.0, -0.2, 0.0, 0.2, 3.0, 9.0])
def test_corners_out_by_millimetres_have_the_same_number_of_jacks(way: str, out: float) -> None:
    """The common 2800 from the corner is seven bays of 400: six jacks, however the plates came out."""
    answer = jacks(pitch=35, spacing=400, run=2800 + out, set_out=way, within=10)
    assert figure(answer, "pairs") == 6


def test_a_room_over_the_tolerance_has_one_more() -> None:
    assert figure(jacks(pitch=35, spacing=400, run=2811, within=10), "pairs") == 7
    assert figure(jacks(pitch=35, spacing=400, run=2801), "pairs") == 7, "with no tolerance none is over the spacing"
