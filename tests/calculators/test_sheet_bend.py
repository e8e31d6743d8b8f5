"""How tight plywood bends: the printed tables, row by row, and the layers that follow from them."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from sitelog.calculators.catalogue import Value
from sitelog.calculators.curves.sheet_bend import BENDS, sheet_bend
from sitelog.refusal import Refusal
from tests.calculators.results import figure

# Panel association Form TT-003A, 2007 (US, read at second hand): feet, dry, across and along the face grain.
PANEL = [(6.4, 2, 5), (7.9, 2, 6), (9.5, 3, 8), (12.7, 6, 12), (15.9, 8, 16), (19.0, 12, 20)]
# FAA AC 43.13-1B (read at second hand): inches, aircraft plywood at 10 % moisture, across and along.
AIRCRAFT = [(3.2, 7.1, 12), (4.0, 10, 16)]
PRINTED = [(mm, across * 304.8, along * 304.8) for mm, across, along in PANEL]
PRINTED += [(mm, across * 25.4, along * 25.4) for mm, across, along in AIRCRAFT]


@pytest.mark.parametrize(("thickness", "across", "along"), PRINTED)
def test_the_printed_radius_comes_back_for_either_grain(thickness: float, across: float, along: float) -> None:
    for grain, printed in (("across", across), ("along", along)):
        answer = sheet_bend(radius=printed + 5, thickness=thickness, grain=grain)
        # The tables were turned into millimetres by rounding to 5.
        assert figure(answer, "minimum_radius") == pytest.approx(printed, abs=5)
        assert (answer.verdict, answer.results["layers"]) == ("pass", 1)
        assert sheet_bend(radius=printed - 5, thickness=thickness, grain=grain).verdict == "fail"


def test_two_layers_of_9_5_go_round_an_eyebrow_where_one_of_19_does_not() -> None:
    """Double 3/8 in was used on a prefabricated eyebrow dormer (a trade article, read)."""
    answer = sheet_bend(radius=1000, thickness=19, grain="across")
    assert answer.verdict == "fail"
    assert answer.results["layers"] == 2
    assert figure(answer, "layer_thickness") == 9.5
    assert answer.notes[0] == "One sheet won't bend round; 2 layers of 9.5 mm will, by the published radii"


@given(radius=st.floats(50, 8_000), thickness=st.floats(1, 60), grain=st.sampled_from(["across", "along"]))
def test_layers_make_up_the_thickness_and_each_of_them_goes_round(radius: float, thickness: float, grain: str) -> None:
    answer = sheet_bend(radius=radius, thickness=thickness, grain=grain)
    if "layers" not in answer.results:
        assert radius < BENDS[0].least(grain)
        return
    each = figure(answer, "layer_thickness")
    assert each * figure(answer, "layers") == pytest.approx(thickness)
    assert figure(answer, "layer_minimum_radius") <= radius
    one = sheet_bend(radius=radius, thickness=each, grain=grain)
    assert one.verdict == "pass"
    assert one.results["layers"] == 1


@given(radius=st.floats(50, 8_000), thickness=st.floats(1, 60))
def test_along_the_grain_is_never_the_easier_way(radius: float, thickness: float) -> None:
    rank = {"fail": 0, "unsure": 1, "pass": 2}
    across, along = (
        sheet_bend(radius=radius, thickness=thickness, grain=grain).verdict for grain in ("across", "along")
    )
    assert across and along and rank[across] >= rank[along]


@pytest.mark.parametrize(
    ("thickness", "radius"),
    [
        (18.0, 3_000.0),  # between 15.9 at 2440 and 19 at 3660
        (2.0, 150.0),  # thinner than any printed
        (25.0, 5_000.0),  # thicker than any printed
    ],
)
def test_what_the_tables_do_not_reach_is_neither_passed_nor_failed(thickness: float, radius: float) -> None:
    assert sheet_bend(radius=radius, thickness=thickness).verdict == "unsure"


def test_the_figure_from_memory_is_a_note_and_moves_no_verdict() -> None:
    """A former 3 % tighter than the ribs would be under the printed radius here: it passes all the same."""
    answer = sheet_bend(radius=610, thickness=6.4)
    assert answer.verdict == "pass"
    assert answer.notes[-1].endswith("from memory)")


@pytest.mark.parametrize(
    ("given", "told"),
    [
        ({"radius": 900.0}, "needs thickness"),
        ({"radius": 0.0, "thickness": 6.0}, "radius is 0; it must be over 0"),
        ({"radius": 900.0, "thickness": 150.0}, "at most 100"),
        ({"radius": 900.0, "thickness": 6.0, "grain": "up"}, "must be one of across, along"),
    ],
)
def test_a_bend_that_can_not_be_is_refused_in_one_line(given: dict[str, Value], told: str) -> None:
    with pytest.raises(Refusal, match=told) as refusal:
        sheet_bend(**given)
    assert "\n" not in refusal.value.message
