"""How an answer is shown: one shape of lines, tables and working for command line, screens and pack."""

import textwrap
from collections.abc import Mapping, Sequence

from msgspec import Struct

from sitelog.calculators import formula
from sitelog.calculators.catalogue import Answer, Output, Result, Step
from sitelog.calculators.index import find
from sitelog.quantities import rounding
from sitelog.quantities.quantity import Units, show, show_length
from sitelog.text import clean

Cell = float | int | str | None
Unit = str | Mapping[str, str]  # of a result, or of each of its columns

STAND = "for Great Britain; elsewhere use local ones"  # whose the figures of rules and cautions are
_LABEL, _WIDTH = 30, 79
_KEYS = "figure"  # the column that names results by their keys, told in words
_COMPLEMENTS = (("_from_square", "from edge"), ("_from_edge", "from square"))
_COUNTED = ("n", "length")  # the columns of a list of lengths
_VERDICTS = {"pass": "pass", "fail": "OUT", "unsure": "TOO CLOSE TO CALL"}


class Line(Struct, frozen=True):
    """One result: its key, its label in plain words, and its text with the unit."""

    name: str
    label: str
    text: str


class Table(Struct, frozen=True):
    """A result of rows: a header and cells of text, one tuple a row."""

    name: str
    label: str
    header: tuple[str, ...]
    rows: tuple[tuple[str, ...], ...]


def lines(answer: Answer, units: Units = "metric", *, ascii: bool = False) -> list[Line]:
    """The single results, in the catalogue's order: each by the one rule of rounding."""
    return [
        Line(output.name, _label(output), _with_complement(output, answer.results[output.name], units, ascii))
        for output in find(answer.calculator).results
        if output.shown and output.name in answer.results and not isinstance(answer.results[output.name], list)
    ]


def tables(answer: Answer, units: Units = "metric", *, ascii: bool = False) -> list[Table]:
    """The results that are rows, in the catalogue's order; one without a row is left out."""
    outputs = [output for output in find(answer.calculator).results if output.shown]
    found = ((output, answer.results.get(output.name)) for output in outputs)
    return [table(output, rows, units, ascii=ascii) for output, rows in found if isinstance(rows, list) and rows]


def table(output: Output, rows: Sequence[Mapping[str, Cell]], units: Units = "metric", *, ascii: bool = False) -> Table:
    """Rows as text, each figure as it is shown anywhere else.

    A plain list of lengths gains the mark of each on one tape run, summed before it is rounded, so that the
    rounding of one length is not carried into the next. A column that no row has a figure for was not asked.
    """
    columns = [
        (_label(column), _column(column, [row.get(column.name) for row in rows], units, ascii))
        for column in _asked(output.columns, rows)
    ]
    if tuple(column.name for column in output.columns) == _COUNTED:
        columns.append(("Mark", _marks([row["length"] for row in rows], units)))
    return Table(
        output.name,
        _label(output),
        tuple(header for header, _ in columns),
        tuple(zip(*(cells for _, cells in columns), strict=True)),
    )


def _asked(columns: Sequence[Output], rows: Sequence[Mapping[str, Cell]]) -> list[Output]:
    return [one for one in columns if one.shown and any(row.get(one.name) is not None for row in rows)]


def scalar(answer: Answer, path: str, units: Units = "metric", *, ascii: bool = False) -> str:
    """The text of one result at a path such as `rise` or `hips.a.length`; empty if there is none.

    Rows are picked by the text of their first column.
    """
    name, _, rest = path.partition(".")
    unit, found = _at(rest, answer.units.get(name), answer.results.get(name))
    if unit is None or found is None or isinstance(found, list):
        return ""
    if isinstance(unit, str) and not isinstance(found, dict):
        return show(unit, found, units, ascii=ascii)  # the calculator, with all that it needs, is not loaded for it
    output = next(output for output in find(answer.calculator).results if output.name == name)
    return _single(output, found, units, ascii)


def _at(steps: str, unit: Unit | None, found: Result) -> tuple[Unit | None, Result]:
    """What is found by those steps within a result, and its unit."""
    for step in filter(None, steps.split(".")):
        if isinstance(found, list):
            found = next((row for row in found if _first_cell(row) == step), None)
        elif isinstance(found, dict) and isinstance(unit, Mapping):
            unit, found = unit.get(step), found.get(step)
    return unit, found


def _first_cell(row: Mapping[str, Cell]) -> str:
    return str(next(iter(row.values()), None))


def working(answer: Answer, units: Units = "metric", *, ascii: bool = False) -> list[str]:
    """The steps with their numbers put in: `rise = run x tan pitch = 3000 x tan 35.0° = 2100.6 mm`."""
    turned = {step.name for step in answer.working if step.unit == "deg"}
    turned |= {name for step in answer.working if step.formula for name in formula.angles(step.formula)}
    return [_step(step, turned, units, ascii) for step in answer.working]


def text(
    answer: Answer, units: Units = "metric", *, working: bool = False, ascii: bool = False, width: int = _WIDTH
) -> list[str]:
    """The whole answer as lines of plain text, at most `width` wide but for tables and long words."""
    told = [part for line in lines(answer, units, ascii=ascii) for part in _beside(line, width)]
    for shown in tables(answer, units, ascii=ascii):
        told += ["", shown.label, *ruled(shown)]
    if answer.verdict:
        told += ["", f"{'Verdict':<{_LABEL}} {_VERDICTS[answer.verdict]}"]
    told += [row for note in answer.notes for row in _wrapped("note: ", note, width)]
    told += [f"caution: {caution}" for caution in answer.cautions]
    told += _wrapped("basis: ", answer.basis, width)
    told += _wrapped("figures: ", STAND, width)
    if working:
        told += ["", "working", *(f"  {row}" for row in working_rows(answer, units, ascii, width))]
    return told


def _label(output: Output) -> str:
    return output.says[:1].upper() + output.says[1:]


def _single(output: Output, value: Result, units: Units, ascii: bool) -> str:
    if isinstance(value, dict):
        parts = ((c.says, show(c.unit, value.get(c.name), units, ascii=ascii)) for c in output.columns)
        return ", ".join(f"{label} {part}" for label, part in parts)
    if isinstance(value, list):
        return f"{len(value)} rows"
    return show(output.unit, value, units, ascii=ascii)


def _with_complement(output: Output, value: Result, units: Units, ascii: bool) -> str:
    """The text of a result; that of a cut with what a bevel is set to from the other datum, edge or square, beside."""
    shown = _single(output, value, units, ascii)
    for given, other in _COMPLEMENTS:
        if output.name.endswith(given) and isinstance(value, (int, float)):
            return f"{shown} ({show('deg', 90 - value, ascii=ascii)} {other})"
    return shown


def _column(column: Output, values: Sequence[Cell], units: Units, ascii: bool) -> tuple[str, ...]:
    if column.unit == "mm":
        return tuple(
            show_length(value, units) if isinstance(value, (int, float)) else show("", value) for value in values
        )
    told = tuple(show(column.unit, value, units, ascii=ascii) for value in values)
    if column.name == _KEYS:
        return tuple(text.replace("_", " ") for text in told)
    return told


def _marks(lengths: Sequence[Cell], units: Units) -> tuple[str, ...]:
    total, marks = 0.0, []
    for length in lengths:
        total += float(length or 0)
        marks.append(show_length(total, units))
    return tuple(marks)


def _step(step: Step, turned: set[str], units: Units, ascii: bool) -> str:
    name, value = step.name.replace("_", " "), _worked(step, units, ascii)
    if not step.formula:
        return f"{name}, {clean(step.note)} = {value}"
    told = formula.in_words(step.formula, ascii=ascii)
    numbers = formula.with_numbers(step.formula, step.numbers, turned, ascii=ascii)
    return " = ".join(dict.fromkeys((name, told, numbers, value)))


def _worked(step: Step, units: Units, ascii: bool) -> str:
    """The value to a place more than a result has: sums are done in mm, and feet and inches stand behind."""
    if step.unit == "mm":
        behind = ""
        if units == "imperial":
            behind = f" = {show('mm', step.value, units, ascii=ascii)}"
        return f"{rounding.places(step.value, 1)} mm{behind}"
    if step.unit == "deg":
        return formula.angle(step.value, ascii=ascii)
    return show(step.unit, float(step.value), units, ascii=ascii)


def _beside(line: Line, width: int) -> list[str]:
    """The label and the figure, which stands under its label where it would run over the width."""
    whole = f"{line.label:<{_LABEL}} {line.text}"
    if len(whole) <= width or width >= _WIDTH:
        return [whole]
    return [line.label, f"    {line.text}"]


def _wrapped(start: str, words: str, width: int) -> list[str]:
    return textwrap.wrap(clean(words, most=2_000), width, initial_indent=start, subsequent_indent=" " * len(start))


def working_rows(answer: Answer, units: Units = "metric", ascii: bool = False, width: int = _WIDTH) -> list[str]:
    """The working, each step folded to the width with what runs over set in."""
    return [
        part
        for row in working(answer, units, ascii=ascii)
        for part in textwrap.wrap(row, width - 2, subsequent_indent="    ", break_on_hyphens=False)
    ]


def ruled(shown: Table) -> list[str]:
    """The table in columns, its headers on as many lines as it takes to fit the width.

    What is still too wide stands in blocks one under the other, each begun by the first column.
    """
    first, blocks = 0, list[str]()
    columns = len(shown.header)
    while first < columns:
        last = columns
        while last > first + 2 and not _fits(_part(shown, first, last)):
            last -= 1
        blocks += [*([""] if blocks else []), *_in_columns(_part(shown, first, last))]
        first = last
    return blocks


def _part(shown: Table, first: int, last: int) -> Table:
    """Some of the columns, the first of all before them."""
    places = [*([0] if first else []), *range(first, last)]
    rows = tuple(tuple(row[place] for place in places) for row in shown.rows)
    return Table(shown.name, shown.label, tuple(shown.header[place] for place in places), rows)


def _fits(shown: Table) -> bool:
    return max(map(len, _in_columns(shown))) <= _WIDTH


def _in_columns(shown: Table) -> list[str]:
    widest = [max(map(len, cells)) for cells in zip(*shown.rows, strict=True)]
    for least in (_WIDTH, 16, 12, 9, 1):
        headers = [
            textwrap.wrap(header, max(least, width, *map(len, header.split())))
            for header, width in zip(shown.header, widest, strict=True)
        ]
        widths = [max(width, *map(len, words)) for width, words in zip(widest, headers, strict=True)]
        if sum(widths) + 2 * len(widths) <= _WIDTH:
            break
    deep = max(map(len, headers))
    stacked = zip(*([""] * (deep - len(words)) + words for words in headers), strict=True)
    return [
        "  " + "  ".join(cell.rjust(width) for cell, width in zip(row, widths, strict=True)).rstrip()
        for row in (*stacked, *shown.rows)
    ]
