"""All that is drawn of a part: its plan, then each check and sum of its list whose calculator is drawn, once."""

from collections.abc import Iterator
from dataclasses import dataclass, replace

from sitelog.checklist.model import Library, Sum
from sitelog.handover.drawing import SIX, roof_plan
from sitelog.handover.drawings.index import drawings_of, draws
from sitelog.handover.lines import Drawing
from sitelog.job.facts import Book
from sitelog.job.known import JOB
from sitelog.job.views import CheckView, State
from sitelog.quantity import Value
from sitelog.trade.catalogue import Answer
from sitelog.trade.roof_lines import CORNERS

PLAN = "plan"
NO_PLAN = "The plan can be drawn once the plates and the pitch are known, and the roof closes."
WAITS = "it can be drawn once its figures are in"
OF_THE_PLAN = (*SIX, "pitch", "ridge", *(f"hip_{corner}" for corner in CORNERS))
PLANNED = ("roof",)  # calculators whose plan is the part's own, which shows what is built over what is drawn


@dataclass(frozen=True)
class Sketch:
    """One drawing of a part, or the one line that says why there is none. `path` is its check's, "" for a sum's own."""

    name: str
    drawing: Drawing | None
    why: str = ""
    path: str = ""
    rests_on: frozenset[str] = frozenset()  # paths of the checks that its figures come from


def sketches(state: State, library: Library, part: str, *, stage: str = "") -> tuple[Sketch, ...]:
    """Every drawing of a part, from the facts as they stand. `stage` is in hand: its members are bold on the plan."""
    plan = tuple(_plan(state, part, stage))
    seen = {name for name in PLANNED if plan}
    known: set[tuple[str, tuple[tuple[str, Value], ...]]] = set()
    found = list(plan)
    for sketch, answer in (*_of_checks(state, part), *_of_sums(state, library, part)):
        if answer is None:
            found.append(sketch)
        elif answer.calculator not in seen and _key(answer) not in known:
            known.add(_key(answer))
            found += _drawn(sketch, answer, state)
    return tuple(found)


def of_check(view: CheckView, state: State) -> tuple[Sketch, ...]:
    """The drawings of one check's sum, as the facts stand."""
    sketch = Sketch(view.check.ask, None, _why(view), view.path, _under(state, view))
    return tuple(_drawn(sketch, view.answer, state)) if view.answer else (sketch,)


def _plan(state: State, part: str, stage: str) -> Iterator[Sketch]:
    if f"{part}.ridge" in state.facts and f"{part}.ab" in state.facts:
        drawing = roof_plan(state, part, stage=stage)
        facts = [state.facts.get(f"{part}.{name}") for name in OF_THE_PLAN]
        rests_on = frozenset(path for fact in facts if fact for path in fact.rests_on)
        yield Sketch(PLAN, drawing, "" if drawing else NO_PLAN, rests_on=rests_on)


def _of_checks(state: State, part: str) -> Iterator[tuple[Sketch, Answer | None]]:
    for view in state.checks():
        if view.part == part and draws(view.check.calculator):
            yield Sketch(view.check.ask, None, _why(view), view.path, _under(state, view)), view.answer


def _why(view: CheckView) -> str:
    return view.refusal or WAITS


def _under(state: State, view: CheckView) -> frozenset[str]:
    facts = [state.facts.get(one.fact) for one in view.inputs if one.fact]
    return frozenset({view.path}) | {path for fact in facts if fact for path in fact.rests_on}


def _of_sums(state: State, library: Library, part: str) -> Iterator[tuple[Sketch, Answer | None]]:
    """The sums of the part's list; one that can't be worked is told by the checks that wait for it, and not again."""
    book = Book(library, {one.id: one.form for one in state.parts if one.id != JOB}, state.given)
    for one, answer, _ in book.answers(part):
        if answer is not None and draws(one.calculator):
            yield Sketch(one.id.replace("-", " "), None, rests_on=_under_sum(state, part, one)), answer


def _under_sum(state: State, part: str, one: Sum) -> frozenset[str]:
    names = [term.name for operand in one.inputs.values() for term in operand.terms if term.kind == "fact"]
    facts = [state.facts.get(f"{part}.{name}") or state.facts.get(f"{JOB}.{name}") for name in names]
    return frozenset(path for fact in facts if fact for path in fact.rests_on)


def _key(answer: Answer) -> tuple[str, tuple[tuple[str, Value], ...]]:
    return answer.calculator, tuple(sorted(answer.inputs.items()))


def _drawn(sketch: Sketch, answer: Answer, state: State) -> Iterator[Sketch]:
    """Each of the answer's drawings, its title led by what it is of in this part."""
    for drawing in drawings_of(answer, state.units):
        yield replace(sketch, drawing=replace(drawing, title=f"{sketch.name}. {drawing.title}"), why="")
