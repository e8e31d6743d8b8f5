"""How a check tells its figures in a row and in the strip: text only, no widgets."""

from datetime import datetime

from sitelog.job.views import CheckView, FigureView, State
from sitelog.quantity import Units, show, show_length, show_small
from sitelog.trade.catalogue import Value
from sitelog.trade.index import find
from sitelog.trade.sheet import SMALL, scalar

KIND_WORDS = {
    "tick": "word",
    "choice": "choose",
    "measure": "measure",
    "calculate": "sum",
    "note": "words",
    "photo": "photo",
    "sign": "sign",
}


def value_text(unit: str, value: Value, units: Units) -> str:
    """A value as it is shown: figures by their unit, lists with commas, words as they are."""
    if value is None:
        return "–"
    if isinstance(value, tuple):
        return ", ".join(value_text(unit, one, units) if isinstance(one, (int, float)) else str(one) for one in value)
    if isinstance(value, (int, float)):
        return show_small(value, units, with_unit=True) if _fine(unit, value) else show(unit, value, units)
    return str(value)


def _fine(unit: str, value: float) -> bool:
    """True for a length of which a whole millimetre would say too little."""
    return unit == "mm" and abs(value) < SMALL and not float(value).is_integer()


def row_figures(view: CheckView, units: Units) -> str:
    """What stands in the check's row: the headline of the sum, or the figures read, or what is wanted."""
    if view.check.kind == "choice" and view.value is not None:
        return next((c.label for c in view.check.choices if c.id == view.value), str(view.value))
    headline = _headline(view, units)
    if view.state == "open":
        return headline if view.check.kind == "calculate" else ""
    if headline:
        return headline
    read = [f for f in view.figures if f.value is not None]
    if len(read) == 1:
        return value_text(read[0].unit, read[0].value, units)
    if read:
        return "  ".join(f"{f.key.replace('_', ' ')} {_bare(f, units)}" for f in read)
    return str(view.value) if isinstance(view.value, str) else ""


def _bare(figure: FigureView, units: Units) -> str:
    """A figure without its unit, which the question names."""
    if figure.unit == "mm" and isinstance(figure.value, (int, float)):
        return (show_small if _fine("mm", figure.value) else show_length)(figure.value, units)
    return value_text(figure.unit, figure.value, units)


def _headline(view: CheckView, units: Units) -> str:
    """The first result that the check shows; its words stand in the strip."""
    return scalar(view.answer, view.check.shows[0], units) if view.answer and view.check.shows else ""


def label(calculator: str, path: str) -> str:
    """The catalogue's own words for a result, or for a column of one row of it."""
    name, *rest = path.split(".")
    output = next(o for o in find(calculator).results if o.name == name)
    if not rest:
        return output.says[:1].upper() + output.says[1:]
    column = next((c for c in output.columns if c.name == rest[-1]), output)
    return f"{rest[0].upper()} {column.says}"


def limit_text(view: CheckView | FigureView, state: State) -> str:
    """`limit 10 (house)`, or nothing where there is no limit."""
    limit = view.check.limit if isinstance(view, CheckView) else view.limit
    if limit is None:
        return ""
    unit = _unit(view)
    word = {"within": "limit", "most": "at most", "least": "at least"}[limit.rule]
    return f"{word} {value_text(unit, limit.amount, state.units)} ({limit.origin})"


def _unit(view: CheckView | FigureView) -> str:
    if isinstance(view, FigureView):
        return view.unit
    if view.answer and view.check.shows:
        unit = view.answer.units.get(view.check.shows[0])
        return unit if isinstance(unit, str) else "mm"
    return view.figures[0].unit if view.figures else "mm"


def strip_lines(view: CheckView, state: State) -> list[str]:
    """The strip under the rows: drawn, built, limit; the ask whole; why; who and when."""
    lines = [_figures_line(view, state), view.check.why and f"Why: {view.check.why}"]
    if view.refusal:
        lines.append(view.refusal)
    if view.stale_because:
        lines.append(f"Stale: {', '.join(view.stale_because)} changed since; do it again")
    if view.blocked:
        lines.append(view.blocked)
    if view.by:
        lines.append(_who(view))
    if view.note:
        lines.append(f"Note: {view.note}")
    return [line for line in lines if line]


def _figures_line(view: CheckView, state: State) -> str:
    parts = []
    if len(view.figures) == 1:
        figure = view.figures[0]
        parts.append(f"drawn {value_text(figure.unit, figure.drawn, state.units)}")
        parts.append(f"built {value_text(figure.unit, figure.value, state.units)}")
        if figure.difference is not None:
            parts.append(f"apart {value_text(figure.unit, figure.difference, state.units)}")
    elif view.answer:
        for path in view.check.shows:
            drawn = scalar(view.answer_drawn, path, state.units) if view.answer_drawn else ""
            built = scalar(view.answer, path, state.units)
            parts.append(f"{label(view.answer.calculator, path)} {built}{f' (drawn {drawn})' if drawn else ''}")
    parts.append(limit_text(view, state))
    return "   ".join(part for part in parts if part)


def when(at: str) -> str:
    """A time of the record (ISO, UTC) as the clock on site has it."""
    return f"{datetime.fromisoformat(at).astimezone():%a %d %b %H:%M}" if at else ""


def _who(view: CheckView) -> str:
    words = [f"{view.by}, {when(view.at)}"]
    if view.instrument:
        words.append(f"with {view.instrument}")
    for flag, word in (
        (view.late, "entered late"),
        (view.at_once, "ticked at once"),
        (view.doubted, "instrument since marked bad"),
    ):
        if flag:
            words.append(word)
    if len(view.history) > 1:
        words.append(f"{len(view.history)} entries")
    return " · ".join(words)
