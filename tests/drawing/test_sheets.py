"""On every sheet: the sizes can be read back, nothing is cut off, and no words stand on others."""

import re
from xml.etree import ElementTree as Tree

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from sitelog.calculators.index import find
from sitelog.drawing import terminal
from sitelog.drawing.cell_words import words_placed
from sitelog.drawing.cells import View, dots, letters
from sitelog.drawing.index import WHERE, drawings_of
from sitelog.drawing.model import Drawing, Line, Stroke, Words, caption, stretched, thinned
from sitelog.drawing.svg import svg
from sitelog.drawing.terminal import render
from sitelog.quantities.quantity import Units
from sitelog.refusal import Refusal
from tests.drawing.drawn import CASES, answer_of, drawn

SHEETS = ((80, 20), (60, 16), (140, 36))
ALL = [(f"{name} {words} {n}", made) for name, words in CASES for n, made in enumerate(drawn(name, words)[1])]
IDS = [name for name, _ in ALL]
NUMBER = re.compile(r"\d+(?:\.\d+)?")


def numbers(text: str) -> list[str]:
    return NUMBER.findall(text)


def test_every_calculator_that_is_listed_is_drawn_and_tried_here() -> None:
    assert {name for name, _ in CASES} == set(WHERE)
    assert all(drawings_of(answer_of(name)) for name in WHERE)
    assert drawings_of(answer_of("tape")) == ()


@pytest.mark.parametrize("drawing", [made for _, made in ALL], ids=IDS)
def test_the_sizes_of_a_drawing_are_read_back_from_its_picture_and_no_other_figure_stands_there(
    drawing: Drawing,
) -> None:
    """At 80 columns every size that stands alone is there, and of a series of marks at least its first and its last."""
    text = "\n".join(render(drawing, 80, 20))
    meant = [number for words in drawing.words for number in numbers(words.text)]
    assert set(numbers(text)) <= set(meant)
    alone = [row for words in drawing.words if not words.series for row in words.rows]
    assert all(row in text for row in alone), [row for row in alone if row not in text]
    for name in {words.series for words in drawing.words} - {""}:
        of_it = [words.rows for words in drawing.words if words.series == name]
        assert sum(all(row in text for row in one) for one in of_it) >= min(len(of_it), 2)


@pytest.mark.parametrize("drawing", [made for _, made in ALL], ids=IDS)
def test_what_is_shown_is_also_said(drawing: Drawing) -> None:
    said = set(numbers(" ".join((drawing.title, *drawing.says))))
    shown = {number for words in drawing.words for number in numbers(words.text)}
    assert shown <= said, shown - said


@pytest.mark.parametrize("ascii_only", [False, True])
@pytest.mark.parametrize("drawing", [made for _, made in ALL], ids=IDS)
def test_no_sheet_is_overrun_and_no_word_is_cut(drawing: Drawing, ascii_only: bool) -> None:
    for width, height in SHEETS:
        not_overrun(drawing, width, height, ascii_only)


def not_overrun(drawing: Drawing, width: int, height: int, ascii_only: bool) -> None:
    rows = render(drawing, width, height, ascii_only=ascii_only)
    assert len(rows) == height and all(len(row) <= width for row in rows)
    assert not ascii_only or "".join(rows).isascii()
    meant = {number for words in drawing.words for number in numbers(words.text)}
    assert set(numbers("\n".join(rows))) <= meant


@pytest.mark.parametrize("drawing", [made for _, made in ALL], ids=IDS)
def test_on_paper_no_words_stand_on_others_and_all_lie_on_the_sheet(drawing: Drawing) -> None:
    root = Tree.fromstring(svg(drawing, width_mm=178))
    _, _, width, height = map(float, root.attrib["viewBox"].split())
    assert width <= 178.01
    blocks = [
        tuple(float(one.attrib[name]) for name in ("x", "y", "width", "height"))
        for one in root
        if one.tag.endswith("rect")
    ]
    for n, (x, y, wide, high) in enumerate(blocks):
        assert x >= -0.01 and x + wide <= width + 0.01 and y >= -0.01 and y + high <= height + 0.01
        for other in blocks[:n]:
            apart = x >= other[0] + other[2] or other[0] >= x + wide or y >= other[1] + other[3] or other[1] >= y + high
            assert apart
    told = [one.text or "" for one in root.iter() if one.tag.endswith("tspan")]
    alone = [row for words in drawing.words if not words.series for row in words.rows]
    assert set(alone) <= set(told), set(alone) - set(told)


def test_a_series_loses_marks_evenly_from_its_middle_and_keeps_both_ends() -> None:
    words = [Words((float(n), 0.0), str(n), series="marks") for n in range(13)]
    kept = thinned(words, lambda one, other: abs(one.at[0] - other.at[0]) < 2)
    assert [one.text for one in kept] == ["0", "2", "4", "6", "8", "10", "12"]


def test_a_long_low_thing_says_how_much_larger_its_heights_are_drawn_and_its_points_stay_true() -> None:
    (along,) = drawn("gutter")[1]
    assert along.up > 1 and f"Heights drawn {along.up:g} times as large." in caption(along)
    assert stretched(along).lines[0].points[-1][1] == pytest.approx(along.lines[0].points[-1][1] * along.up)


def test_a_thin_line_is_told_from_what_was_drawn_by_its_dots_and_by_its_letters() -> None:
    """So that the roof as drawn, under the roof as built, is told from a line that only shows a size."""
    strokes: tuple[Stroke, ...] = ("built", "thin", "drawn", "hidden")
    level = [Line(((0.0, -row * 20.0), (60.0, -row * 20.0)), stroke) for row, stroke in enumerate(strokes)]
    drawing, view = Drawing("Lines", tuple(level), (), ()), View(5.0, 0.0, 0.0)
    by_letters, by_dots = ["-------", "- - - -", ". . . .", "- - - -"], ["⠉⠉⠉⠉⠉⠉⠁", "⠁⠁⠁⠁⠁⠁⠁", "⠁ ⠁ ⠁ ⠁", "⠉⠁ ⠉⠁ ⠁"]
    for ink, shown in ((letters(drawing, view), by_letters), (dots(drawing, view), by_dots)):
        assert ["".join(ink.cells.get((column, row), " ") for column in range(7)) for row in range(4)] == shown


def test_sizes_follow_the_units_of_the_job() -> None:
    (made,) = drawings_of(answer_of("arc", "chord=2438.4 rise=609.6 count=4"), "imperial")
    assert "8'" in " ".join(made.says) and all("2438" not in words.text for words in made.words)


# --- by chance ----------------------------------------------------------------------------------------------------

SIZES = {
    "length": st.floats(1, 20_000),
    "offset": st.floats(-500, 500),
    "angle": st.floats(1, 180),
    "pitch": st.floats(5, 85),
    "fall": st.floats(1 / 120, 1 / 10),
    "count": st.integers(1, 4),
    "number": st.floats(2, 10),
    "share": st.floats(0.1, 0.3) | st.floats(20, 60),
    "fraction": st.floats(0.05, 0.5),
}


def _inputs(name: str) -> st.SearchStrategy[dict[str, float]]:
    kinds = {one.name: SIZES[one.kind] for one in find(name).inputs if one.kind in SIZES and one.required}
    optional = {one.name: SIZES[one.kind] for one in find(name).inputs if one.kind in SIZES and not one.required}
    return st.fixed_dictionaries(kinds, optional=optional)


@pytest.mark.parametrize("name", [name for name in WHERE if name not in ("squareness", "roof", "ordinates")])
@given(
    data=st.data(), size=st.sampled_from([(80, 20), (60, 16), (20, 6)]), units=st.sampled_from(["metric", "imperial"])
)
@settings(max_examples=12, deadline=None)
def test_whatever_is_worked_is_drawn_and_its_words_never_stand_on_each_other(
    name: str, data: st.DataObject, size: tuple[int, int], units: Units
) -> None:
    try:
        answer = find(name)(**data.draw(_inputs(name)))
    except Refusal:
        return
    for drawing in drawings_of(answer, units):
        rows = render(drawing, *size, ascii_only=True)
        assert len(rows) == size[1] and all(len(row) <= size[0] for row in rows)
        _apart(drawing, size)
        Tree.fromstring(svg(drawing, width_mm=178))


def _apart(drawing: Drawing, size: tuple[int, int]) -> None:
    whole = stretched(drawing)
    view = terminal.fitted(whole, *size)
    ink = letters(whole, view)
    cells = [
        (column + n, line) for (column, line), row in words_placed(whole, view, ink, *size) for n in range(len(row))
    ]
    assert len(cells) == len(set(cells))
