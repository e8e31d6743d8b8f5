"""How an answer is shown: lines, tables, working."""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from sitelog.calculators import formula, sheet
from sitelog.calculators.ask import ask
from sitelog.calculators.catalogue import Answer, Output
from sitelog.quantities.quantity import Units
from tests.calculators.formulas import value_of

TWIST = {"spacing": "400", "fall_foot": "1", "fall_head": "6.5", "length": "3450", "tolerance": "3"}
STRING = {"offsets": "0,4,7,3,0", "length": "4800"}


def shown(answer: Answer, units: Units = "metric") -> dict[str, str]:
    return {line.label: line.text for line in sheet.lines(answer, units)}


# -- lines and tables


def test_small_figures_are_to_half_a_millimetre_and_long_ones_to_the_millimetre() -> None:
    assert shown(ask("twist", TWIST)) == {
        "Twist across the pair": "5.5 mm",
        "Angle of twist": "0.8°",
        "Twist per metre up": "1.5 mm",
        "Good to": "1.5 mm",
    }
    assert shown(ask("string", STRING))["Where, from the first end"] == "2400 mm"


def test_in_feet_and_inches_the_same_answer_is_shown_to_sixteenths() -> None:
    """2400 mm = 94.488 in = 7 ft 10 8/16 in, to the nearest sixteenth."""
    assert shown(ask("string", STRING), "imperial")["Where, from the first end"] == "7' 10 1/2\""


def test_what_there_is_none_of_is_a_dash() -> None:
    answer = ask("string", {"offsets": "0,0,0", "length": "4800"})
    assert shown(answer)["Length over bow"] == "-"


def test_rows_are_a_table_with_a_header_and_each_figure_as_it_is_shown_anywhere() -> None:
    (table,) = sheet.tables(ask("string", STRING))
    assert table.header == ("Mark", "Offset", "Off the line, end to end")
    assert table.rows[1] == ("1200", "4", "4")
    assert len(table.rows) == 5


def test_a_table_without_rows_is_left_out() -> None:
    sides = {"ab": "4000", "bc": "3000", "cd": "4000", "da": "3000", "ac": "5000", "bd": "5000"}
    assert [table.name for table in sheet.tables(ask("squareness", sides))] == ["lengths"]


def test_a_list_of_lengths_is_marked_off_one_tape_run_and_rounding_does_not_pile_up() -> None:
    """49 courses of 99.39: the last mark is 4870, where 49 rounded ones would end at 49 x 99 = 4851."""
    columns = (Output("n", "", "Course"), Output("length", "mm", "Length"))
    rows = [{"n": n, "length": 4870 / 49} for n in range(1, 50)]
    table = sheet.table(Output("courses", "", "Courses", columns), rows)
    assert table.header == ("Course", "Length", "Mark")
    assert table.rows[0] == ("1", "99", "99")
    assert table.rows[1] == ("2", "99", "199")
    assert table.rows[-1] == ("49", "99", "4870")


@given(st.lists(st.floats(1, 7200), min_size=1, max_size=60))
def test_no_mark_is_more_than_half_a_millimetre_from_its_place(lengths: list[float]) -> None:
    columns = (Output("n", "", "n"), Output("length", "mm", "Length"))
    rows = [{"n": n, "length": length} for n, length in enumerate(lengths)]
    table = sheet.table(Output("cuts", "", "Cuts", columns), rows)
    for n, row in enumerate(table.rows, 1):
        assert abs(float(row[-1]) - math.fsum(lengths[:n])) <= 0.5 + 1e-6


@pytest.mark.parametrize(
    ("path", "text"),
    [
        ("station", "2400 mm"),
        ("bow", "7 mm"),
        ("nothing", ""),
        ("stations", ""),
    ],
)
def test_one_result_is_found_by_its_path(path: str, text: str) -> None:
    assert sheet.scalar(ask("string", STRING), path) == text


def test_a_result_in_a_row_is_found_by_the_rows_own_name() -> None:
    answer = ask("levels", {"readings": "1402,1405", "points": "A,B"})
    assert sheet.scalar(answer, "packing.B.packing") == "3 mm"
    assert sheet.scalar(answer, "packing.C.packing") == ""


def test_the_whole_answer_ends_with_its_verdict_its_notes_and_what_it_rests_on() -> None:
    told = "\n".join(sheet.text(ask("twist", TWIST), working=True))
    assert "Verdict                        OUT" in told
    assert "note: this level can be 2 out on a limit of 3: use a better one if you can" in told
    assert "basis: geometry" in told
    assert "figures: for Great Britain; elsewhere use local ones" in told
    assert told.index("basis") < told.index("wind = fall head - fall foot = 6.5 - 1 = 5.5 mm")


@pytest.mark.parametrize(
    ("typed", "label", "text"),
    [
        ("hip run=3000 pitch=35", "Edge bevel 1, from square", "48.1° (41.9° from edge)"),
        ("rib radius=900 depth=75 board=150", "Mitre at each end, from square", "22.5° (67.5° from edge)"),
        ("scarf depth=220", "Splay, from the timber's edge", "11.8° (78.2° from square)"),
        ("hip run=3000 pitch=35", "Saw tilt 1 (cutting on the plumb line)", "45.0°"),
    ],
)
def test_a_cut_has_its_angle_from_square_and_from_the_edge_side_by_side(typed: str, label: str, text: str) -> None:
    name, *pairs = typed.split()
    assert shown(ask(name, dict(pair.split("=", 1) for pair in pairs)))[label] == text


def test_a_small_area_keeps_its_figures_and_an_angle_is_to_a_tenth() -> None:
    """9 m of a 5 mm gap is 0.045 m2; slopes that wind by 0.004 degrees are level to the digit that is shown."""
    vent = {"kind": "cold-pitched", "pitch": "40", "span": "8000", "length": "9000"}
    assert shown(ask("ventilation", vent))["Free area, high level"] == "0.045 m²"
    plates = {"ab": "9000", "bc": "6000", "cd": "9010", "da": "6005", "ac": "10830", "bd": "10812", "pitch": "35"}
    assert shown(ask("roof", plates))["True or level: difference in a pitch"] == "0.0°"
    assert (
        shown(ask("roof", {"length": "9000", "width": "6000", "pitch": "35"}))["True or level: difference in a pitch"]
        == "0.0°"
    )


def test_a_result_that_a_row_speaks_of_is_named_in_words() -> None:
    vent = ask("ventilation", {"kind": "cold-pitched", "pitch": "40", "span": "8000"})
    assert [row[0] for row in sheet.tables(vent)[0].rows] == ["eaves gap", "high gap", "air space"]


# -- working


def test_a_step_reads_as_it_is_explained() -> None:
    answer = ask("twist", TWIST)
    assert sheet.working(answer)[:2] == [
        "wind = fall head - fall foot = 6.5 - 1 = 5.5 mm",
        "wind angle = inverse tan (wind / spacing) = inverse tan (5.5 / 400) = 0.7878°",
    ]


def test_a_sum_done_in_millimetres_has_its_feet_and_inches_behind_it() -> None:
    """2400 mm = 7 ft 10 1/2 in to the nearest sixteenth."""
    assert sheet.working(ask("string", STRING), "imperial")[0].endswith("= 2400.0 mm = 7' 10 1/2\"")


def test_a_step_told_in_words_keeps_them() -> None:
    sides = {"ab": "4000", "bc": "3000", "cd": "4000", "da": "3000", "ac": "5000", "bd": "5000"}
    assert "area, inside the fitted corners = 12.00 m²" in sheet.working(ask("squareness", sides))


TOLD = [
    ("run * tan(pitch)", "run x tan pitch", "3000 x tan 35.0°"),
    ("a - (b - c)", "a - (b - c)", "7 - (8 - 9)"),
    ("a / (b * c)", "a / (b x c)", "7 / (8 x 9)"),
    ("a * b / c", "a x b / c", "7 x 8 / 9"),
    ("(a + b)**2", "(a + b)²", "(7 + 8)²"),
    ("tan(pitch)**2", "(tan pitch)²", "(tan 35.0°)²"),
    ("sqrt(a**2 + b**2)", "square root of (a² + b²)", "square root of (7² + 8²)"),
    ("hypot(a, b + c)", "square root of (a² + (b + c)²)", "square root of (7² + (8 + 9)²)"),
    ("atan2(a, b - c)", "inverse tan (a / (b - c))", "inverse tan (7 / (8 - 9))"),
    ("run * low", "run x low", "3000 x (-2)"),
    ("-a + b", "-a + b", "-7 + 8"),
    ("sin(90 - pitch)", "sin (90 - pitch)", "sin (90 - 35.0°)"),
    ("wall_plate * 0.5", "wall plate x 0.5", "100 x 0.5"),
    ("run * sin(plan)", "run x sin plan", "3000 x sin 56.14°"),
    ("a * pi / 180", "a x pi / 180", "7 x pi / 180"),
    ("growth * run", "growth x run", "0.000029 x 3000"),
    ("run * fall", "run x fall", "3000 x (1/80)"),
    ("a - dust", "a - dust", "7 - 0"),
]
NUMBERS = {"run": 3000.0, "pitch": 35.0, "a": 7.0, "b": 8.0, "c": 9.0, "low": -2.0, "wall_plate": 100.0}
NUMBERS |= {"plan": 56.138, "pi": math.pi, "growth": 29e-6, "dust": 1e-14, "fall": 1 / 80}


@pytest.mark.parametrize(("text", "words", "numbers"), TOLD)
def test_a_formula_is_told_in_words_and_with_its_numbers(text: str, words: str, numbers: str) -> None:
    assert formula.in_words(text) == words
    assert formula.with_numbers(text, NUMBERS, formula.angles(text)) == numbers


def test_a_plain_terminal_gets_plain_signs() -> None:
    text = "a**2 * cos(pitch)"
    assert formula.with_numbers(text, NUMBERS, {"pitch"}, ascii=True) == "7^2 x cos 35.0 deg"


names = st.sampled_from(["a", "b", "c"])
sums = st.recursive(
    names,
    lambda part: st.tuples(part, st.sampled_from(["+", "-", "*", "/"]), part).map(
        lambda three: f"({three[0]} {three[1]} {three[2]})"
    ),
    max_leaves=8,
)


@given(sums, st.tuples(*[st.integers(1, 9)] * 3))
def test_the_brackets_that_are_left_out_change_nothing(text: str, values: tuple[int, int, int]) -> None:
    """What is shown, read back as arithmetic, comes to what was worked."""
    numbers = dict(zip("abc", map(float, values), strict=True))
    try:
        expected = value_of(text, numbers)
    except ZeroDivisionError:
        return
    shown_again = formula.with_numbers(text, numbers, set()).replace(" x ", " * ")
    assert value_of(shown_again, {}) == pytest.approx(expected, rel=1e-9, abs=1e-9)


@pytest.mark.parametrize("bad", ["__import__('os')", "a.b", "a if b else c", "[a]", "lambda: a"])
def test_a_formula_is_arithmetic_and_nothing_else(bad: str) -> None:
    with pytest.raises(AssertionError):
        value_of(bad, NUMBERS)
