"""A figure of the job in words: drawn, built, how far apart, who says so, and where it can be changed."""

from collections.abc import Mapping

from sitelog.checklist.schema.model import Source
from sitelog.job.actions.setup import is_building
from sitelog.job.facts.fact import Fact
from sitelog.job.state.views import Asked, State
from sitelog.reports.sources import Cited
from sitelog.text import counted, text_between
from sitelog.wording.formatting import day, in_words, value_text


def fact_lines(fact: Fact, state: State, changes: str = "") -> list[tuple[str, str]]:
    """(first word, words) of where a figure comes from; `changes` says how one off the drawing is changed here."""
    told = [("", fact.says)]
    if is_building(fact) and isinstance(fact.drawn, str):
        told += [("", block.strip()) for block in fact.drawn.split(";")]
    if fact.set_by and fact.built is not None:
        told.append(("Built", f"{_source(fact, state)}{', ' + day(fact.at) if fact.at else ''}"))
    if fact.who:
        told.append(("By", fact.who))
    if fact.refusal:
        told.append(("Can't work out yet", in_words(fact.refusal, state)))
    return [*told, _whence(fact, state, changes)]


def _whence(fact: Fact, state: State, changes: str) -> tuple[str, str]:
    """Whether it is off the drawing, measured or worked."""
    if can_be_drawn(fact) and fact.whence == "usual":
        return "Usual", f"the checklist's usual figure; nobody gave one from the drawing{changes}"
    if can_be_drawn(fact):
        return "Drawn", f"from the drawing{changes}"
    if fact.setters:
        return "Measured at", "; ".join(_ask(path, state) for path in fact.setters)
    return "Worked", f"from other figures, by {fact.set_by}" if fact.set_by else "from other figures"


def drawn_words(fact: Fact, state: State) -> str:
    """A figure as drawn; of a roof said block by block how many blocks it has: its text is longer than a row."""
    if is_building(fact) and isinstance(fact.drawn, str):
        return counted(fact.drawn.count(";") + 1, "block")
    return value_text(fact.unit, fact.drawn, state.units, typed=fact.drawn_typed)


def is_shown(fact: Fact) -> bool:
    """Whether it is told among the figures: words that only hold other facts together are not."""
    return fact.asked or bool(fact.setters) or fact.kind not in ("text", "ties")


def asked_lines(asked: Asked, state: State, sources: Mapping[str, Source]) -> list[tuple[str, str]]:
    """(first word, words) of what another part's finish asks of this one."""
    source = sources.get(asked.ask.source)
    title = next(part.title for part in state.parts if part.id == asked.by)
    return [
        ("", asked.ask.says),
        ("Needed by", f"{title}: {asked.finish}, of {asked.ask.topic}"),
        ("Source", f"{source.title}: {source.locator} ({source.how})" if source else asked.ask.source),
        ("Chosen in", _ask(asked.path, state)),
    ]


def can_be_drawn(fact: Fact) -> bool:
    """True for a figure off the drawing: it can be changed by itself."""
    return fact.asked or fact.drawable


def elsewhere(fact: Fact, state: State) -> str:
    """Where a figure is changed that is not off the drawing."""
    if fact.setters:
        return f"To change this, redo: {_ask(fact.setters[0], state)}."
    return "This is worked out from other figures. Change those instead."


def check_of(fact: Fact, state: State) -> str:
    """The path of the check that sets it, or ""."""
    return next((path for path in (fact.set_by, *fact.setters) if state.check(path)), "")


def apart(fact: Fact, state: State) -> str:
    """How far what is built is from the drawing; "" for what is no plain figure."""
    if isinstance(fact.drawn, (int, float)) and isinstance(fact.built, (int, float)) and fact.kind != "fall":
        return value_text(fact.unit, fact.built - fact.drawn, state.units)
    return ""


def _source(fact: Fact, state: State) -> str:
    if "." in fact.set_by:
        return _ask(fact.set_by, state)
    return f"worked out, by {fact.set_by}"


def _ask(path: str, state: State) -> str:
    view = state.check(path)
    if view:
        return view.check.ask_in_full
    return path


def cited_line(cited: Cited) -> str:
    """What is said, where that stands in print, and how far it is to be trusted."""
    said = text_between("", cited.says, ". ")
    return f"{said}{cited.where} ({cited.standing})"
