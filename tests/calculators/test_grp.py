"""Decks for GRP: the fall against the standard, and boards laid out and looked at row by row."""

import math
from itertools import accumulate, pairwise

import pytest
from hypothesis import given
from hypothesis import strategies as st

from sitelog.calculators.catalogue import Value
from sitelog.calculators.decks.boarding import STAGGER, Boarding, Laid
from sitelog.calculators.decks.grp import grp_deck
from sitelog.refusal import Refusal
from tests.calculators.results import figure, rows

DECK: dict[str, Value] = {"length": 7000.0, "width": 3600.0}


# BS 6229:2018 as a manufacturer's guidance gives it, NHBC Standards 2022, 7.1 (both read).
@pytest.mark.parametrize(
    ("kind", "fall", "verdict"),
    [
        ("finished", 1 / 80, "pass"),
        ("finished", 1 / 81, "fail"),
        ("design", 1 / 40, "pass"),
        ("design", 1 / 41, "fail"),
        ("design", 1 / 80, "fail"),
    ],
)
def test_the_fall_is_held_to_the_standard(kind: str, fall: float, verdict: str) -> None:
    answer = grp_deck(**DECK, fall=fall, kind=kind)
    assert answer.verdict == verdict
    assert any("BS 6229:2018" in note for note in answer.notes) == (verdict == "fail")


def test_a_board_weighs_what_the_table_of_panel_weights_says() -> None:
    """18 mm OSB, 2440 x 1220: 34.29 kg (a web table of panel weights, read)."""
    answer = grp_deck(**DECK, fall=1 / 80, sheet_length=2440, sheet_width=1220)
    assert figure(answer, "sheet_mass") == pytest.approx(34.29, abs=0.05)
    assert "heavy-lift" in answer.cautions
    assert "heavy-lift" not in grp_deck(**DECK, fall=1 / 80, sheet_length=2000).cautions


def ends(row: Laid) -> list[float]:
    """Where its boards meet, from the first joist."""
    return list(accumulate(row.boards))[:-1]


decks = given(
    across=st.integers(600, 15_000),
    count=st.integers(1, 12),
    spacing=st.sampled_from([300, 400, 450, 600]),
    board=st.sampled_from([1800, 2400, 2440]),
)


@decks
def test_rows_reach_across_and_their_ends_land_on_joists_and_break(
    across: int, count: int, spacing: int, board: int
) -> None:
    laid = Boarding(board, spacing).rows(across, count)
    assert len(laid) == count
    for row in laid:
        assert sum(row.boards) == pytest.approx(across)
        assert min(row.boards) > 0
        assert max(row.boards) <= board
        assert all(end % spacing == pytest.approx(0, abs=1e-6) for end in ends(row))
    for row, beside in pairwise(laid):
        assert all(abs(one - other) >= STAGGER - 1e-6 for one in ends(row) for other in ends(beside))


@decks
def test_the_boards_opened_hold_all_that_is_laid_and_waste_is_bounded(
    across: int, count: int, spacing: int, board: int
) -> None:
    laid = Boarding(board, spacing).rows(across, count)
    opened = sum(row.opened for row in laid)
    assert opened * board >= across * count - 1e-6
    assert opened <= sum(len(row.boards) for row in laid), "never more than a board a piece"
    for row in laid:
        assert 0 <= row.opened <= len(row.boards)


def test_what_is_cut_off_is_laid() -> None:
    """7000 x 6 rows of 2400: 17.5 boards of deck, and 18 are opened; without off-cuts it would be 21."""
    laid = Boarding(2400, 400).rows(7000, 6)
    assert sum(row.opened for row in laid) == 18 == math.ceil(7000 * 6 / 2400)
    assert min(min(row.boards) for row in laid) >= STAGGER


def test_a_deck_shorter_than_a_board_has_no_ends_to_break() -> None:
    assert [row.boards for row in Boarding(2400, 400).rows(1150, 3)] == [(1150,)] * 3
    assert [row.opened for row in Boarding(2400, 400).rows(1150, 4)] == [1, 0, 1, 0]


def test_the_questions_of_the_day_say_which_figures_are_from_memory() -> None:
    answer = grp_deck(**DECK, fall=1 / 80)
    asked = {str(row["ask"]): (str(row["wanted"]), row["standing"]) for row in rows(answer, "questions")}
    assert asked["deck and air, degrees C"] == ("5 to 35, until it has set", "read")  # installers' guides
    assert {ask for ask, (_, standing) in asked.items() if standing == "memory"} == {
        "deck above the dew point",
        "humidity",
    }
    figures = " ".join(str(row["figure"]) for row in rows(answer, "rules"))
    for told in ("18 mm OSB3", "400 apart", "40 into the joists, 200 apart", "25 (panel guide: 10"):  # manual, p. 9
        assert told in figures


def test_a_deck_over_50_m2_is_for_the_warranty_body_to_agree() -> None:
    """50 m2: a warranty body, as a technical blog gives it (read)."""
    assert not grp_deck(length=10_000, width=5_000, fall=1 / 80).notes
    assert "50 m2" in grp_deck(length=10_000, width=5_001, fall=1 / 80).notes[0]


@pytest.mark.parametrize(
    ("given", "told"),
    [
        ({**DECK, "fall": 1 / 80, "spacing": 610.0}, "joists under an 18 mm board are at most"),
        ({**DECK, "fall": 0.3}, "a flat roof is up to 10 degrees"),
        ({**DECK, "fall": 1 / 80, "sheet_length": 300.0}, "can't be staggered by 400."),
        ({**DECK, "fall": 1 / 80, "sheet_length": 700.0}, "can't be staggered by 400."),
        ({"length": 7000.0, "fall": 1 / 80}, "needs width"),
    ],
)
def test_a_deck_that_can_not_be_is_refused_in_one_line(given: dict[str, Value], told: str) -> None:
    with pytest.raises(Refusal, match=told) as refusal:
        grp_deck(**given)
    assert "\n" not in refusal.value.message
