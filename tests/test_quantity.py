"""The grammar both ways. 1 in = 25.4 mm exactly: international yard and pound agreement, 1959; BS 350."""

import subprocess
import sys
import unicodedata
from math import degrees, isclose, radians, tan
from pathlib import Path
from typing import get_args

import pytest
from hypothesis import given
from hypothesis import strategies as st

from sitelog.quantities.quantity import (
    ACCEPTS,
    Cut,
    Kind,
    Price,
    Section,
    Tie,
    Value,
    read,
    show,
    show_angle,
    show_fall,
    show_length,
    show_section,
)
from sitelog.quantities.reading import NOMINAL_DEPTH, NOMINAL_THICKNESS
from sitelog.refusal import Refusal

KINDS: tuple[Kind, ...] = get_args(Kind)

# Inches in whole sixty-fourths times 25.4, worked by hand.
READS: list[tuple[Kind, str, Value]] = [
    ("length", "3600", 3600.0),
    ("length", " 3600.5 ", 3600.5),
    ("length", ".5", 0.5),
    ("length", "0", 0.0),
    ("length", "3.6m", 3600.0),
    ("length", "3.6 M", 3600.0),
    ("length", "0.1m", 100.0),
    ("length", "47mm", 47.0),
    ("length", "120cm", 1200.0),
    ("length", "3m 600mm", 3600.0),
    ("length", "3m60cm", 3600.0),
    ("length", "10.5in", 266.7),
    ("length", '10 1/2"', 266.7),
    ("length", "10½″", 266.7),
    ("length", "5/8in", 15.875),
    ("length", '1/64"', 0.396875),
    ("length", "1'", 304.8),
    ("length", "7.5ft", 2286.0),
    ("length", "7'10 1/2\"", 2400.3),
    ("length", "7' 10\"", 2387.6),
    ("length", "7'10''", 2387.6),
    ("length", "7'-10 1/2\"", 2400.3),
    ("length", "7 ft 10 1/2 in", 2400.3),
    ("length", "7 feet 10.5 inches", 2400.3),
    ("length", "7′ 10 1⁄2″", 2400.3),
    ("length", "7’10 ½”", 2400.3),
    ("length", "7' 0 1/2\"", 2146.3),
    ("length", "7'11 63/64\"", 2438.003125),
    ("offset", "-5", -5.0),
    ("offset", "−5", -5.0),
    ("offset", "+5", 5.0),
    ("offset", "-0", 0.0),
    ("offset", "-7'10 1/2\"", -2400.3),
    ("offset", '- 1/4"', -6.35),
    ("angle", "35", 35.0),
    ("angle", "35.5deg", 35.5),
    ("angle", "35°", 35.0),
    ("angle", "35º30’", 35.5),
    ("angle", "35° 30' 36\"", 35.51),
    ("angle", "0", 0.0),
    ("pitch", "35", 35.0),
    ("pitch", "35°30'", 35.5),
    ("pitch", "12/12", 45.0),
    ("pitch", "1:1", 45.0),
    ("pitch", "8 in 12", 33.690067525979785),  # 8 in 12 is 33.69 degrees: published rafter tables
    ("pitch", "1:1.43", 34.96512077353356),
    ("fall", "1:60", 1 / 60),
    ("fall", "1 : 62.5", 0.016),
    ("fall", "1/80", 0.0125),
    ("fall", "1 in 40", 0.025),
    ("section", "47x150", Section(47, 150)),
    ("section", "47 x 150mm", Section(47, 150)),
    ("section", "47mm × 150mm", Section(47, 150)),
    ("section", "63X200", Section(63, 200)),
    ("section", "47.5x147", Section(47.5, 147)),
    ("section", "6x100", Section(6, 100)),
    ("section", "12mmx15mm", Section(12, 15)),
    ("section", "100x50", Section(100, 50)),
    ("section", "2x6", Section(47, 150, "2x6")),
    ("section", '2"x6"', Section(47, 150, "2x6")),
    ("section", "2in x 6in", Section(47, 150, "2x6")),
    ("section", "2 x 9 in", Section(47, 225, "2x9")),
    ("section", "3x8", Section(75, 200, "3x8")),
    ("section", "2x12", Section(47, 300, "2x12")),
    ("count", "12", 12),
    ("count", "0", 0),
    ("number", "24.5", 24.5),
    ("number", "-3", -3.0),
    ("fraction", "1/3", 1 / 3),
    ("fraction", "⅓", 1 / 3),
    ("fraction", "0.33", 0.33),
    ("fraction", "33%", 0.33),
    ("fraction", "1", 1.0),
    ("share", "1/4", 0.25),
    ("share", "0.25", 0.25),
    ("share", "25%", 0.25),
    ("share", "47", 47.0),
    ("share", "47mm", 47.0),
    ("share", "1 7/8in", 47.625),
    ("choice", " hip ", "hip"),
    ("text", "two\nlines", "two lines"),
    ("lengths", "3600", (3600.0,)),
    ("lengths", "2,4", (2.0, 4.0)),
    ("lengths", "3600, 3605,3610.5", (3600.0, 3605.0, 3610.5)),
    ("lengths", "0,3.6m,2.4m", (0.0, 3600.0, 2400.0)),
    ("lengths", "7'10\",7ft", (2387.6, 2133.6)),
    ("offsets", "0,2,-3,0", (0.0, 2.0, -3.0, 0.0)),
    ("ties", "A-M:4510", (Tie("A", "M", 4510.0),)),
    ("ties", "a-m:4.51m, B - M : 4490", (Tie("A", "M", 4510.0), Tie("B", "M", 4490.0))),
    ("cuts", "47x150:4870:12", (Cut(Section(47, 150), 4870.0, 12),)),
    (
        "cuts",
        "2x6:12ft:1, 47 x 225 : 3.6m : 4",
        (Cut(Section(47, 150, "2x6"), 3657.6, 1), Cut(Section(47, 225), 3600.0, 4)),
    ),
    (
        "prices",
        "47x150:4.8m:21.60, 47x150:5400:25",
        (Price(Section(47, 150), 4800.0, 21.6), Price(Section(47, 150), 5400.0, 25.0)),
    ),
]

# What is refused, and the word that tells the person why.
REFUSES: list[tuple[Kind, str, str]] = [
    ("length", "", "nothing"),
    ("length", "   ", "nothing"),
    ("length", "-5", "negative"),
    ("length", "-0.5in", "negative"),
    ("length", "3,600", "comma"),
    ("length", "2,4 m", "comma"),
    ("length", "2,4m", "comma"),
    ("length", "3 600", "isn't a figure"),
    ("length", "3'600", "needs ft, in, m or mm after each figure"),
    ("length", "3 1/2", "needs in after the fraction"),
    ("length", "½", "needs in after the fraction"),
    ("length", "7'10", "needs ft, in, m or mm after each figure"),
    ("length", "7 ft 10 1/2", "needs ft, in, m or mm after each figure"),
    ("length", "3m 600", "needs ft, in, m or mm after each figure"),
    ("length", "7'13\"", "under 12"),
    ("length", "7'12\"", "under 12"),
    ("length", "7.5'3\"", "whole"),
    ("length", "3.5m 20mm", "whole"),
    ("length", "3m 1000mm", "under 1000"),
    ("length", "3m 2in", "can't have inches after metres"),
    ("length", "7ft 20mm", "can't have"),
    ("length", "10\" 7'", "can't have"),
    ("length", "3m-600mm", "isn't a figure"),
    ("length", '1/3"', "tape"),
    ("length", '5/4"', "tape"),
    ("length", '1/0"', "tape"),
    ("length", "1/2m", "tape"),
    ("length", '101/2"', "isn't a figure"),
    ("length", '10-1/2"', "isn't a figure"),
    ("length", "10.5 1/2in", "isn't a figure"),
    ("length", "1e3", "isn't a figure"),
    ("length", "nan", "isn't a figure"),
    ("length", "inf", "isn't a figure"),
    ("length", "Infinity", "isn't a figure"),
    ("length", "0x1F", "isn't a figure"),
    ("length", "1_000", "isn't a figure"),
    ("length", "9**9**9", "isn't a figure"),
    ("length", "9" * 10_000, "at most 60"),
    ("length", "1" * 20, "isn't a figure"),
    ("length", "3..5", "isn't a figure"),
    ("length", "5.", "isn't a figure"),
    ("length", "--5", "isn't a figure"),
    ("length", "5 kg", "isn't a figure"),
    ("length", "12 pcs", "isn't a figure"),
    ("length", "3.6 mm2", "isn't a figure"),
    ("length", "36\x0000", "isn't a figure"),
    ("length", "36\u200b00", "isn't a figure"),
    ("length", "٣٦٠٠", "isn't a figure"),
    ("length", "①", "isn't a figure"),
    ("length", "3²", "isn't a figure"),
    ("length", "3600 approx", "isn't a figure"),
    ("angle", "30'", "needs degrees"),
    ("angle", "35°60'", "under 60"),
    ("angle", "35.5°30'", "whole"),
    ("angle", "35rad", "isn't a figure"),
    ("angle", "35%", "isn't a figure"),
    ("pitch", "0", "between 0 and 90"),
    ("pitch", "90", "between 0 and 90"),
    ("pitch", "-35", "between 0 and 90"),
    ("pitch", "0:12", "ratio to 0"),
    ("pitch", "8/0", "ratio to 0"),
    ("pitch", "8/12/3", "isn't a figure"),
    ("fall", "60", "isn't a ratio"),
    ("fall", "0.0167", "isn't a ratio"),
    ("fall", "1.7%", "isn't a ratio"),
    ("fall", "60:1", "steeper"),
    ("fall", "1:0.5", "steeper"),
    ("fall", "1:0", "ratio to 0"),
    ("fall", "-1:60", "isn't a ratio"),
    ("section", "150", "thickness x depth"),
    ("section", "47x150x3", "thickness x depth"),
    ("section", "47*150", "thickness x depth"),
    ("section", "0x150", "over 0"),
    ("section", "47x15000", "at most"),
    ("section", "6x2", "isn't an inch size"),
    ("section", "10x10", "isn't an inch size"),
    ("section", "1.5x5.5in", "isn't an inch size"),
    ("section", "2inx150mm", "mixes mm and inches"),
    ("section", "1.2.3x150", "isn't a figure"),
    ("count", "12.0", "whole number"),
    ("count", "-3", "whole number"),
    ("count", "1,000", "whole number"),
    ("count", "twelve", "whole number"),
    ("number", "1e9", "isn't a figure"),
    ("number", "nan", "isn't a figure"),
    ("number", "1,5", "comma"),
    ("share", "0.5mm", "under 1 mm"),
    ("share", "-0.25", "can't be negative"),
    ("share", "banana", "isn't a"),
    ("fraction", "33", "over 1"),
    ("fraction", "133%", "over 1"),
    ("fraction", "3/2", "over 1"),
    ("fraction", "1/0", "ratio to 0"),
    ("fraction", "-1/3", "isn't a figure"),
    ("lengths", "1,,2", "figure 2"),
    ("lengths", "1,2,", "figure 3"),
    ("lengths", "1,-2", "figure 2"),
    ("lengths", "2,4m", "or after none"),
    ("lengths", "2,4m,3,6m", "or after none"),
    ("lengths", "1;2", "isn't a figure"),
    ("lengths", "1," * 30_000, "at most"),
    ("offsets", "0,x", "'x' (figure 2) isn't a figure"),
    ("ties", "A-M", "point-point:length"),
    ("ties", "AM:4510", "point-point:length"),
    ("ties", "A-A:4510", "needs two points"),
    ("ties", "A-M:0", "needs a length over 0"),
    ("ties", "A-M:4,510", "point-point:length"),
    ("ties", "A-M:-5", "negative"),
    ("cuts", "4870:12", "isn't section:length:count"),
    ("cuts", "47x150:4870", "isn't section:length:count"),
    ("cuts", "47x150:4870:12:1", "isn't section:length:count"),
    ("cuts", "47x150:4870:12,", "blank at figure 2"),
    ("cuts", "47:4870:12", "'47' (section)"),
    ("cuts", "47x150:4,870:12", "isn't section:length:count"),
    ("cuts", "47x150:nan:12", "'nan' (length)"),
    ("cuts", "47x150:-5:12", "negative"),
    ("cuts", "47x150:0:12", "needs a length over 0"),
    ("cuts", "47x150:4870:0", "over 0"),
    ("cuts", "47x150:4870:1.5", "'1.5' (count)"),
    ("cuts", "47x150:4870:twelve", "whole number"),
    ("prices", "47x150:4800", "isn't section:length:price"),
    ("prices", "47x150:4800:0", "over 0"),
    ("prices", "47x150:4800:-3", "negative"),
    ("prices", "47x150:4800:£21", "'£21' (price)"),
    ("text", "\u200b", "a letter"),
    ("text", "x" * 5000, "at most"),
    ("choice", "", "nothing"),
]


@pytest.mark.parametrize(("kind", "text", "value"), READS)
def test_a_figure_means_what_a_tape_or_a_drawing_means_by_it(kind: Kind, text: str, value: Value) -> None:
    assert read(kind, text) == value


@pytest.mark.parametrize(("kind", "text", "why"), REFUSES)
def test_doubt_is_refused_in_one_line_that_names_the_input_and_what_would_do(kind: Kind, text: str, why: str) -> None:
    with pytest.raises(Refusal) as caught:
        read(kind, text, name="wall_run")
    message = caught.value.message
    assert message.startswith("wall_run: ")
    assert why in message
    assert message.endswith(f"Type {ACCEPTS[kind]}")
    assert len(message.splitlines()) == 1
    assert message.isprintable()
    assert len(message) < 300


@pytest.mark.parametrize(
    ("kind", "examples"),
    [
        ("length", ["3600", "3.6m", "7'10 1/2\""]),
        ("offset", ["12", "-5", "-1/4in"]),
        ("angle", ["35", "35.5deg", "35°30'"]),
        ("pitch", ["35", "35.5deg", "8/12"]),
        ("fall", ["1:60"]),
        ("section", ["47x150", "2x6"]),
        ("count", ["12"]),
        ("number", ["24.5"]),
        ("fraction", ["1/3", "0.33", "33%"]),
        ("share", ["1/4", "47mm"]),
        ("lengths", ["3600,3605,3610"]),
        ("offsets", ["0,2,-3,0"]),
        ("ties", ["A-M:4510,B-M:4490"]),
        ("cuts", ["47x150:4870:12,47x225:5400:4"]),
        ("prices", ["47x150:4800:21.60,47x150:5400:25"]),
    ],
)
def test_every_example_in_a_refusal_can_be_read(kind: Kind, examples: list[str]) -> None:
    for one in examples:
        assert one in ACCEPTS[kind]
        read(kind, one)


@given(st.sampled_from(KINDS), st.text(st.characters(categories=None)))
def test_no_text_does_worse_than_be_refused(kind: Kind, text: str) -> None:
    _read_or_refuse(kind, text)


@given(
    st.sampled_from(KINDS),
    st.lists(st.sampled_from([*"0123456789.,:;/x-+%'\"° ½′″×e_*", "in", "ft", "m", "mm", "deg", "A", "9" * 400])),
)
def test_no_heap_of_figures_and_units_does_worse_than_be_refused(kind: Kind, pieces: list[str]) -> None:
    _read_or_refuse(kind, "".join(pieces))


def _read_or_refuse(kind: Kind, text: str) -> None:
    try:
        value = read(kind, text, name="span")
    except Refusal as refusal:
        assert refusal.message.startswith("span: ")
        assert len(refusal.message.splitlines()) == 1
        assert not {unicodedata.category(c) for c in refusal.message} & {"Cc", "Cs", "Zl", "Zp"}
    else:
        for number in value if isinstance(value, tuple) else (value,):
            assert not isinstance(number, float) or abs(number) < 1e13


# Display

MM = st.floats(-200_000, 200_000)


@given(MM)
def test_a_shown_metric_length_reads_back_within_half_a_millimetre(mm: float) -> None:
    back = read("offset", show_length(mm))
    assert isinstance(back, float)
    assert abs(back - mm) <= (0.5 if abs(mm) >= 20 else 0.25) + 1e-6
    assert read("offset", show_length(mm, with_unit=True)) == back


@given(MM)
def test_a_shown_imperial_length_reads_back_within_half_a_sixteenth(mm: float) -> None:
    back = read("offset", show_length(mm, "imperial"))
    assert isinstance(back, float)
    assert abs(back - mm) <= 25.4 / 32 + 1e-6


@given(st.integers(-200_000, 200_000), st.sampled_from((1, 2, 4, 5, 10, 100, 1000)))
def test_a_typed_length_reads_back_the_same(thousandths: int, parts: int) -> None:
    mm = thousandths / parts
    assert read("offset", show_length(mm, typed=True)) == mm


@given(st.integers(0, 12 * 64 * 60))
def test_an_inch_typed_in_sixty_fourths_reads_back_the_same(marks: int) -> None:
    back = read("length", show_length(marks * 25.4 / 64, "imperial", typed=True))
    assert isinstance(back, float)
    assert isclose(back, marks * 25.4 / 64, abs_tol=1e-9)


@given(st.integers(0, 12 * 16 * 600))
def test_every_sixteenth_comes_back_exactly(sixteenths: int) -> None:
    mm = sixteenths * 1.5875  # 25.4 / 16
    back = read("length", show_length(mm, "imperial"))
    assert isinstance(back, float)
    assert isclose(back, mm, rel_tol=1e-12)


@given(st.floats(0.05, 89.94), st.booleans())
def test_a_shown_angle_reads_back_within_a_twentieth_of_a_degree(deg: float, ascii: bool) -> None:
    back = read("angle", show_angle(deg, ascii=ascii))
    assert isinstance(back, float)
    assert abs(back - deg) <= 0.05 + 1e-9


@given(st.floats(1, 9_000))
def test_a_shown_fall_reads_back_within_its_rounding(run: float) -> None:
    back = read("fall", show_fall(1 / run))
    assert isinstance(back, float)
    assert abs(1 / back - run) <= 0.05 + 1e-6


@given(st.floats(0.5, 89.5))
def test_a_pitch_by_rise_and_run_is_the_pitch_whose_tangent_that_is(deg: float) -> None:
    back = read("pitch", f"{1000 * tan(radians(deg)):.9f}:1000")
    assert isinstance(back, float)
    assert isclose(back, deg, abs_tol=degrees(1e-11))


@given(st.sampled_from(sorted(NOMINAL_THICKNESS)), st.sampled_from(sorted(NOMINAL_DEPTH)))
def test_a_nominal_section_is_never_thicker_nor_deeper_than_its_inches(thickness: int, depth: int) -> None:
    if thickness > depth:
        return
    section = read("section", f"{thickness}x{depth}")
    assert isinstance(section, Section)
    assert thickness * 21 < section.thickness <= thickness * 25.4
    assert depth * 24 < section.depth <= depth * 25.4
    assert read("section", str(section)) == Section(section.thickness, section.depth)


@pytest.mark.parametrize(
    ("mm", "metric", "imperial"),
    [
        (4734.20, "4734", "15' 6 3/8\""),  # 4734.20 / 25.4 = 186.386 in, 6.18 sixteenths over 186
        (0.0, "0", '0"'),
        (-0.0, "0", '0"'),
        (-0.4, "-0.5", '0"'),
        (-0.2, "0", '0"'),
        (12.5, "12.5", '1/2"'),
        (19.74, "19.5", '3/4"'),
        (19.75, "20", '3/4"'),
        (20.5, "21", '13/16"'),
        (1000.5, "1001", "3' 3 3/8\""),
        (0.5, "0.5", '0"'),
        (-0.5, "-0.5", '0"'),
        (15.875, "16", '5/8"'),
        (25.4, "25", '1"'),
        (304.8, "305", "1' 0\""),
        (304.8 - 25.4 / 32, "304", "1' 0\""),  # 11 31/32 in
        (317.5, "318", "1' 0 1/2\""),
        (-2400.3, "-2400", "-7' 10 1/2\""),
        (12_345.6, "12346", "40' 6 1/16\""),
    ],
)
def test_lengths_are_shown_as_a_tape_is_read(mm: float, metric: str, imperial: str) -> None:
    assert show_length(mm) == metric
    assert show_length(mm, with_unit=True) == f"{metric} mm"
    assert show_length(mm, "imperial") == imperial


@pytest.mark.parametrize(
    ("unit", "value", "shown", "ascii"),
    [
        ("mm", 4734.2, "4734 mm", "4734 mm"),
        ("deg", 35, "35.0°", "35.0 deg"),
        ("deg", -0.04, "0.0°", "0.0 deg"),
        ("m2", 54.0, "54.00 m²", "54.00 m2"),
        ("kg", 24.26, "24.3 kg", "24.3 kg"),
        ("l/s", 0.426, "0.43 l/s", "0.43 l/s"),
        ("m", 12.345, "12.35 m", "12.35 m"),
        ("kg/m2", 60, "60.0 kg/m²", "60.0 kg/m2"),
        ("m/s", 8.25, "8.25 m/s", "8.25 m/s"),
        ("%", 18.0, "18 %", "18 %"),
        ("", 12, "12", "12"),
        ("", 1.220774, "1.221", "1.221"),
        ("", 10.0, "10", "10"),
        ("", "pass\x1b[2J", "pass[2J", "pass[2J"),
        ("mm", None, "-", "-"),
        ("mm", (0.0, -2.4), "0 mm, -2.5 mm", "0 mm, -2.5 mm"),
        ("mm", (Tie("A", "M", 4510.0),), "A-M: 4510 mm", "A-M: 4510 mm"),
        ("", (Cut(Section(47, 150), 4870.2, 12),), "12 of 47x150 at 4870.2 mm", "12 of 47x150 at 4870.2 mm"),
        ("", (Price(Section(47, 150), 4800, 21.6),), "47x150 at 4800 mm: 21.60", "47x150 at 4800 mm: 21.60"),
        ("mm", Section(47, 150, "2x6"), "47x150 (nominal 2x6)", "47x150 (nominal 2x6)"),
    ],
)
def test_every_result_is_shown_with_its_unit(unit: str, value: Value, shown: str, ascii: str) -> None:
    assert show(unit, value) == shown
    assert show(unit, value, ascii=True) == ascii
    assert ascii.isascii()


@given(st.floats(0.1, 99_999).map(lambda mm: round(mm, 3)), st.integers(1, 999))
def test_a_cut_and_a_price_written_out_read_back(mm: float, number: int) -> None:
    cut, price = Cut(Section(47, 150), mm, number), Price(Section(47, 225), mm, number / 4)
    assert read("cuts", f"{cut},{cut}") == (cut, cut)
    assert read("prices", str(price)) == (price,)


def test_imperial_display_turns_lengths_only() -> None:
    assert show("mm", 2400.3, "imperial") == "7' 10 1/2\""
    assert show("m", 2.4003, "imperial") == "7' 10 1/2\""
    assert show("kg", 24.0, "imperial") == "24.0 kg"


def test_falls_are_shown_as_one_in_so_much() -> None:
    assert show_fall(1 / 60) == "1:60"
    assert show_fall(0.016) == "1:62.5"
    assert show_fall(-1 / 80) == "-1:80"
    assert show_fall(0.0) == "level"


def test_a_section_says_that_it_stands_for_nominal_inches() -> None:
    assert show_section(Section(47, 150)) == "47x150"
    assert show_section(Section(47, 150, "2x6")) == "47x150 (nominal 2x6)"


def test_millimetres_metres_and_degrees_are_read_without_loading_pint() -> None:
    code = (
        "import sys; from sitelog.quantities.quantity import read; "
        "read('length', '3600'), read('length', '3.6m'), read('pitch', '35deg'), read('section', '2x6'); "
        "assert 'pint' not in sys.modules; read('length', '1in'); assert 'pint' in sys.modules"
    )
    subprocess.run([sys.executable, "-c", code], check=True, cwd=Path(__file__).parent.parent)
