"""What a sum gives, as lines of a screen: inputs and where they came from, results drawn and built, the verdict."""

from sitelog.job.views import CheckView, InputView, State
from sitelog.quantity import Units
from sitelog.trade import sheet
from sitelog.trade.catalogue import Answer
from sitelog.tui.told import label, limit_text, value_text

_VERDICTS = {
    "pass": "good",
    "fail": "OUT",
    "unsure": "UNSURE: too close to call with what it was measured with",
}
_UNITS = {"length": "mm", "offset": "mm", "pitch": "deg", "angle": "deg", "lengths": "mm", "offsets": "mm"}


def input_lines(view: CheckView, units: Units) -> list[str]:
    """Each input of the sum and whether it is drawn or built."""
    return [_input(one, units) for one in view.inputs if one.value is not None]


def _input(one: InputView, units: Units) -> str:
    value = value_text(_UNITS.get(one.kind, ""), one.value, units)
    return f"{one.name.replace('_', ' '):<30} {value:>14}   {one.origin}"


def result_lines(view: CheckView, units: Units) -> list[str]:
    """The results that the check shows, drawn beside built, then the others, then the rows."""
    if view.refusal:
        return ["", view.refusal]
    if not view.answer:
        return []
    shown = [_beside(view.answer, view.answer_drawn, path, units) for path in view.check.shows]
    names = {path.partition(".")[0] for path in view.check.shows}
    rest = [
        f"{line.label:<30} {line.text:>14}"
        for line in sheet.lines(view.answer, units)
        if line.name not in names and view.check.kind == "calculate"
    ]
    tables = [line for table in sheet.tables(view.answer, units) for line in ["", *sheet.ruled(table)]]
    return ["", *shown, *rest, *tables]


def _beside(answer: Answer, drawn: Answer | None, path: str, units: Units) -> str:
    line = f"{label(answer.calculator, path):<30} {sheet.scalar(answer, path, units):>14}"
    as_drawn = sheet.scalar(drawn, path, units) if drawn else ""
    return f"{line}   drawn {as_drawn}" if as_drawn else line


def verdict_line(view: CheckView, state: State) -> list[str]:
    """The verdict with its limit, and each figure held to one of its own."""
    lines = []
    for figure in view.figures:
        if figure.verdict and figure.difference is not None:
            apart = value_text(figure.unit, figure.difference, state.units)
            lines.append(f"{figure.says}: {apart} from drawn, {limit_text(figure, state)}, {_VERDICTS[figure.verdict]}")
    if view.verdict:
        lines.append(f"{_VERDICTS[view.verdict]}   {limit_text(view, state)}")
    if view.answer:
        lines += list(view.answer.notes)
    return ["", *lines] if lines else []
