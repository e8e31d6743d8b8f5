"""How figures, times and names are told: text only, no widgets."""

import re
from collections import Counter
from datetime import date
from math import ceil, floor, isfinite

from sitelog.calculators.catalogue import Value
from sitelog.calculators.index import find
from sitelog.calculators.sheet import scalar
from sitelog.checklist.schema.instruments import finer
from sitelog.checklist.schema.model import FLOORS, Limit
from sitelog.job.facts.fact import MEANT
from sitelog.job.facts.schema import JOB
from sitelog.job.log.clocks import when as when
from sitelog.job.log.entry_index import timed
from sitelog.job.state.marks import state_word
from sitelog.job.state.views import CheckView, FigureView, State
from sitelog.quantities.quantity import Section, Units, show, show_fall, show_length
from sitelog.quantities.rounding import at_least, at_most, to_type_again
from sitelog.reports.phrases import PATH, RULE, choice_label
from sitelog.text import text_after, text_if, written_day

KIND_WORDS = {
    "tick": "tick",
    "choice": "choose",
    "measure": "measure",
    "calculate": "work out",
    "note": "note",
    "photo": "photo",
    "sign": "sign",
}

_CORNERS = r"\b[a-dpq]{1,2}\b"
_DAY = r"\b\d{4}-\d\d-\d\d\b"


def value_text(unit: str, value: Value, units: Units, *, typed: bool = False) -> str:
    """A value as it is shown: figures by their unit, lists with commas, words as they are. `typed`: every digit."""
    if value is None:
        return "–"
    if isinstance(value, tuple):
        return ", ".join(_item_text(unit, item, units, typed=typed) for item in value)
    if isinstance(value, (int, float)):
        return show(unit, value, units, typed=typed)
    return str(value)


def _item_text(unit: str, item: object, units: Units, *, typed: bool) -> str:
    if isinstance(item, (int, float)):
        return value_text(unit, item, units, typed=typed)
    return str(item)


def meant_words(figure: FigureView, units: Units) -> str:
    """What a figure is meant to be, and by what: `drawn 3600`, `usual 1:40`, `published 1:80`, `from memory 1:60`."""
    return f"{MEANT[figure.whence]} {value_text(figure.unit, figure.drawn, units, typed=figure.drawn_typed)}"


def typed_text(value: object, kind: str = "") -> str:
    """A value as a person would type it, so that it is read back the same: millimetres, degrees and words."""
    if value is None:
        return ""
    if isinstance(value, Section):
        return value.nominal or str(value)
    if isinstance(value, tuple):
        return ",".join(typed_text(figure) for figure in value)
    if kind == "fall" and isinstance(value, float):
        return show_fall(value)
    if isinstance(value, (int, float)):
        return to_type_again(value)
    return str(value)


def row_figures(view: CheckView, units: Units) -> str:
    """What stands in the check's row: the headline of the sum, or the figures read, or what is wanted."""
    if view.check.kind == "choice" and view.value is not None:
        return str(choice_label(view.check, view.value))
    headline = _headline(view, units)
    if view.state == "open":
        if view.check.kind != "calculate":
            return ""
        return headline
    if headline and not _is_one_reading(view):
        return headline
    return _readings(view, units) or _word(view)


def _is_one_reading(view: CheckView) -> bool:
    return len(view.figures) == 1 and isinstance(view.figures[0].value, (int, float))


def _readings(view: CheckView, units: Units) -> str:
    """The figures that were read: one with its unit, several by their keys."""
    read = [figure for figure in view.figures if figure.value is not None]
    if len(read) == 1:
        return value_text(read[0].unit, read[0].value, units, typed=True)
    return "  ".join(f"{key_words(figure.key)} {_bare(figure, units)}" for figure in read)


def _word(view: CheckView) -> str:
    if not isinstance(view.value, str):
        return ""
    if view.photo_name:
        return f"{view.value}, not attached"
    return view.value


def _bare(figure: FigureView, units: Units) -> str:
    """A figure without its unit, which the question names."""
    if figure.unit == "mm" and isinstance(figure.value, (int, float)):
        return show_length(figure.value, units, typed=True)
    return value_text(figure.unit, figure.value, units, typed=True)


def _headline(view: CheckView, units: Units) -> str:
    """The first result that the check shows; its words stand in the strip."""
    if view.answer and view.check.shows:
        return scalar(view.answer, view.check.shows[0], units)
    return ""


def label(calculator: str, path: str) -> str:
    """The catalogue's own words for a result, or for a column of one row of it."""
    name, *rest = path.split(".")
    output = next(output for output in find(calculator).results if output.name == name)
    if not rest:
        return output.says[:1].upper() + output.says[1:]
    column = next((column for column in output.columns if column.name == rest[-1]), output)
    if rest[0].isdecimal():
        return f"{output.columns[0].says} {rest[0]}: {column.says[:1].lower()}{column.says[1:]}"
    return f"{rest[0].upper()} {column.says}"


def limit_text(view: CheckView | FigureView, state: State) -> str:
    """`limit 10 (house)`, or nothing where there is no limit. One that is another figure is told with its name."""
    limit = view.limit
    if limit is None:
        return ""
    word = "limit" if limit.rule == "within" else RULE[limit.rule]
    amount = ""
    if limit.amount is not None:
        amount = value_text(_unit(view), limit.amount, state.units, typed=True)
    open_ = "not agreed yet" if limit.unagreed else "not known yet"
    named = (amount, limit.says) if amount else (limit.says, f"which is {open_}")
    return f"{word} {', '.join(named) if limit.of else amount} ({limit.origin})"


def close_call(figure: FigureView, units: Units) -> str:
    """A figure that stands too near its limit to be called: where it would be good, and where out; else nothing."""
    limit, uncertainty = figure.limit, figure.uncertainty
    size = _held_to_limit(figure)
    if figure.verdict != "unsure" or not limit or not uncertainty or size is None:
        return ""
    amount = limit.amount
    # Figures beyond all reason come from a file that was spoilt.
    if amount is None or not isfinite(uncertainty) or not isfinite(amount):
        return ""
    told = value_text(figure.unit, figure.value, units, typed=True)
    good, out = _beyond(limit, uncertainty, figure.unit, units)
    tool = text_after("a ", finer(figure.read_with)) or "this tool"
    where = "on its limit" if abs(abs(size) - amount) < 1e-6 else "too near its limit"
    return f"{figure.says}: {told} is {where} for {tool}: {good} passes, {out} is out"


def _held_to_limit(figure: FigureView) -> float | None:
    """What of a figure is held to its limit: itself, or how far off it is; None where that is not known."""
    if not isinstance(figure.value, (int, float)):
        return None
    if figure.limit and figure.limit.rule == "within":
        return figure.difference
    return figure.value


def _beyond(limit: Limit, uncertainty: float, unit: str, units: Units) -> tuple[str, str]:
    """From where on a figure with that U is good, and from where on out, each rounded to the side that is sure."""
    amount = limit.amount or 0.0
    if unit == "mm":
        sure = at_most(amount - uncertainty), at_least(amount + uncertainty)
    else:
        sure = floor((amount - uncertainty) * 10) / 10, ceil((amount + uncertainty) * 10) / 10
    low, high = (value_text(unit, bound, units) for bound in sure)
    if limit.rule in FLOORS:
        return f"{high} or more", f"{low} or less"
    off = text_if(limit.rule == "within", " off")
    return f"{low}{off} or less", f"{high}{off} or more"


def _unit(view: CheckView | FigureView) -> str:
    if isinstance(view, FigureView):
        return view.unit
    if view.answer and view.check.shows:
        unit = view.answer.units.get(view.check.shows[0])
        if not isinstance(unit, str):
            return "mm"
        return unit
    if not view.figures:
        return "mm"
    return view.figures[0].unit


def day(at: str) -> str:
    """A day of the record (ISO), or the day of one of its times, as the clock on site has it."""
    moment = timed(at)
    try:
        here = moment.astimezone() if moment else date.fromisoformat(at)
    except ValueError:
        return at
    return written_day(here)


def how_it_stands(view: CheckView | None) -> str:
    """A check and how it stands; nothing of one that isn't there."""
    if not view:
        return ""
    return f"{view.check.ask_in_full}: {state_word(view)}"


def at_the_end(what: str, step: int) -> str:
    """That there is none before the first, or after the last, for one who goes on by a step of -1 or 1."""
    return f"This is the {'first' if step < 0 else 'last'} {what}."


def key_words(key: str) -> str:
    """A figure's key as it is said: corners, plates and the ends of the ridge by their capitals."""
    return re.sub(_CORNERS, lambda found: found[0].upper(), key.replace("_", " "))


def name_of(path: str, state: State) -> str:
    """What a check asks, or what a stage is called."""
    view, stage = state.check(path), state.stage(path)
    if view:
        return view.check.ask_in_full
    if gone := next((earlier for earlier in state.earlier if earlier.path == path), None):
        return gone.ask
    if stage:
        return stage.stage.title
    return path


def stage_words(state: State) -> dict[str, str]:
    """Each stage of the work in a word or two, by its path; where two are alike, after its part's short name."""
    words = {stage.path: stage.stage.short or stage.stage.title for stage in state.order}
    alike = {word for word, count in Counter(words.values()).items() if count > 1}
    for stage in state.order:
        word = words[stage.path]
        if word in alike and stage.part not in (JOB, word):  # "deck" of the part deck says enough
            words[stage.path] = f"{stage.part} {word}"
    return words


def with_days(text: str) -> str:
    """The text with its ISO days told as days."""
    return re.sub(_DAY, lambda found: day(found[0]), text)


def in_words(text: str, state: State) -> str:
    """The text with the path of a check or a stage told by what is asked there, once."""
    for path in re.findall(PATH, text):
        asks = name_of(path, state)
        text = text.replace(f"{path}  {asks}", asks).removesuffix(f": {asks}")

    def named(found: re.Match[str]) -> str:
        path = found[0]
        if state.check(path):
            return f'"{name_of(path, state)}"'
        return name_of(path, state)

    return re.sub(PATH, named, text)


def next_words(state: State) -> str:
    """What is to be done next; why nothing can be, while something is left to do."""
    check, stage = state.check(state.next), state.stage(state.next)
    if check:
        return check.check.ask_in_full
    if stage:
        return f"sign {stage.stage.title}"
    waits = next((view.blocked for view in state.checks() if view.state == "open" and view.blocked), "")
    if not waits:
        return "all done"
    return f"nothing you can do now. {waits}"


def part_of(state: State, stage: str) -> str:
    """The part of the roof that a stage's path belongs to; the first part for the job's own stages, "" if none."""
    part = stage.partition(".")[0]
    if part != JOB:
        return part
    return next((part.id for part in state.parts if part.id != JOB), "")
