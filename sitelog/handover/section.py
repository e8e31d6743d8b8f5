"""The common rafter of a part in section, from its own check or from its facts."""

from dataclasses import replace

from sitelog.handover.drawings.index import drawings_of
from sitelog.handover.lines import Drawing
from sitelog.job.views import State
from sitelog.refusal import Refusal
from sitelog.trade import index
from sitelog.trade.catalogue import Answer, Value

FACTS = {  # inputs of the calculator `common`, and the facts of a part that they are
    "run": "run",
    "pitch": "pitch",
    "section": "section",
    "ridge": "ridge_thickness",
    "plate": "plate_width",
    "overhang": "overhang",
    "birdsmouth": "birdsmouth",
}


def rafter_section(state: State, part: str) -> Drawing | None:
    """The common rafter [mm], the plate's top outer edge at 0,0, the ridge on the right.

    Sizes are the calculator's, from the facts as they stand. None where they are missing or it refuses.
    """
    answer = _answer(state, part)
    if answer is None:
        return None
    title = next((p.title for p in state.parts if p.id == part), part)
    (drawing,) = drawings_of(answer, state.units)
    return replace(drawing, title=f"{title}: common rafter, length broken out")


def _answer(state: State, part: str) -> Answer | None:
    """What the part's own check of the common rafter gives, else the same sum from the facts."""
    for view in state.checks():
        if view.part == part and view.check.calculator == "common" and view.answer is not None:
            return view.answer
    facts = {name: state.facts.get(f"{part}.{fact}") for name, fact in FACTS.items()}
    given: dict[str, Value] = {name: fact.now for name, fact in facts.items() if fact and fact.now is not None}
    try:
        return index.find("common")(**given) if {"run", "pitch"} <= given.keys() else None
    except Refusal:
        return None
