"""All that is drawn of a part: its plan, then each check and sum of its list whose calculator is drawn, once."""

from collections.abc import Iterator
from dataclasses import dataclass, replace

from sitelog.calculators.catalogue import Answer
from sitelog.checklist.schema.model import Check, Library, Sum
from sitelog.drawing.corner_marks import corner_marks
from sitelog.drawing.index import drawings_of, draws
from sitelog.drawing.model import Drawing
from sitelog.drawing.roof_plan import SIX, roof_plan
from sitelog.geometry.roof_lines import CORNERS
from sitelog.job.facts.facts import FactResolver
from sitelog.job.facts.schema import JOB
from sitelog.job.members import members
from sitelog.job.state.views import CheckView, State

PLAN = "plan"
NO_PLAN = "Enter the plates and the pitch to see the plan."
WAITS = "enter its figures to draw it"
OF_THE_PLAN = (*SIX, "pitch", "ridge", *(f"hip_{corner}" for corner in CORNERS))
PLANNED = ("roof",)  # calculators whose plan is the part's own, which shows what is built over what is drawn


@dataclass(frozen=True)
class Sketch:
    """One drawing of a part, or the one line that says why there is none."""

    name: str
    drawing: Drawing | None
    why: str = ""
    paths: tuple[str, ...] = ()  # of the checks whose sum it draws; none for a sum of the list itself
    rests_on: frozenset[str] = frozenset()  # paths of the checks that its figures come from

    @property
    def title(self) -> str:
        """What it shows; what it would show where nothing can be drawn."""
        if self.drawing:
            return self.drawing.title
        return self.name

    @property
    def told(self) -> tuple[str, ...]:
        """Its sizes in words, or why there are none."""
        if self.drawing:
            return self.drawing.says
        return (self.why,)


def sketches(state: State, library: Library, part: str, *, stage: str = "") -> tuple[Sketch, ...]:
    """Every drawing of a part, from the facts as they stand, alike ones once; then the marks along its plates.

    `stage` is in hand: its members are bold on the plan.
    """
    found = list(_plan(state, part, stage))
    planned = PLANNED if found else ()
    drawn: dict[Drawing, int] = {}  # as the calculator draws it, and where it stands among those found
    for sketch, answer in (*_of_checks(state, part), *_of_sums(state, library, part)):
        if answer is None:
            found.append(sketch)
            continue
        for drawing in drawings_of(answer, state.units) if answer.calculator not in planned else ():
            if drawing in drawn:
                found[drawn[drawing]] = _also(found[drawn[drawing]], sketch)
            else:
                drawn[drawing] = len(found)
                found.append(_with(sketch, drawing))
    return (*found, *marks_at_corners(state, library, part))


def marks_at_corners(state: State, library: Library, part: str) -> Iterator[Sketch]:
    """The marks of jacks and commons along both plates of each corner, as the cutting list has them."""
    for drawing in corner_marks(state, members(state, library, part), part):
        yield Sketch(drawing.title.partition(",")[0], drawing)


def _with(sketch: Sketch, drawing: Drawing) -> Sketch:
    """The drawing, its title led by what it is of in this part."""
    return replace(sketch, drawing=replace(drawing, title=f"{sketch.name}. {drawing.title}"), why="")


def _also(sketch: Sketch, other: Sketch) -> Sketch:
    """A drawing that serves another check too, and says so."""
    if sketch.drawing is None or not other.paths:
        return sketch
    says = (*sketch.drawing.says, f"the same: {other.name}")
    drawing = replace(sketch.drawing, says=says)
    return replace(sketch, drawing=drawing, paths=sketch.paths + other.paths, rests_on=sketch.rests_on | other.rests_on)


def _plan(state: State, part: str, stage: str) -> Iterator[Sketch]:
    if f"{part}.ridge" in state.facts and f"{part}.ab" in state.facts:
        drawing = roof_plan(state, part, stage=stage)
        facts = [state.facts.get(f"{part}.{name}") for name in OF_THE_PLAN]
        rests_on = frozenset(path for fact in facts if fact for path in fact.rests_on)
        yield Sketch(PLAN, drawing, "" if drawing else NO_PLAN, rests_on=rests_on)


def _of_checks(state: State, part: str) -> Iterator[tuple[Sketch, Answer | None]]:
    for view in state.checks():
        if view.part == part and draws(view.check.calculator):
            yield _seen(view, state)


def _seen(view: CheckView, state: State) -> tuple[Sketch, Answer | None]:
    """A check with its answer from the facts as they stand, else from the figures as drawn."""
    name = view.check.ask_in_full if view.answer or not view.answer_drawn else f"{view.check.ask_in_full} (as drawn)"
    sketch = Sketch(name, None, view.refusal or WAITS, (view.path,), _under(state, view))
    return sketch, view.answer or view.answer_drawn


def _under(state: State, view: CheckView) -> frozenset[str]:
    facts = [state.facts.get(filled.fact) for filled in view.inputs if filled.fact]
    return frozenset({view.path}) | {path for fact in facts if fact for path in fact.rests_on}


def _of_sums(state: State, library: Library, part: str) -> Iterator[tuple[Sketch, Answer | None]]:
    """The sums of the part's list; one that can't be worked is told by the checks that wait for it, and not again.

    Nor is one that a check takes further: the drawing is the check's.
    """
    checks = [view.check for view in state.checks() if view.part == part]
    for worked, answer, _ in FactResolver.of(library, state).answers(part):
        if (
            answer is not None
            and draws(worked.calculator)
            and not any(_takes_further(check, worked) for check in checks)
        ):
            yield Sketch(worked.id.replace("-", " "), None, rests_on=_under_sum(state, part, worked)), answer


def _takes_further(check: Check, worked: Sum) -> bool:
    """Whether a check does the same sum from the same figures and more."""
    same = all(check.inputs.get(name) == operand for name, operand in worked.inputs.items())
    return check.calculator == worked.calculator and same and len(check.inputs) > len(worked.inputs)


def _under_sum(state: State, part: str, worked: Sum) -> frozenset[str]:
    names = [term.name for operand in worked.inputs.values() for term in operand.terms if term.kind == "fact"]
    facts = [state.facts.get(f"{part}.{name}") or state.facts.get(f"{JOB}.{name}") for name in names]
    return frozenset(path for fact in facts if fact for path in fact.rests_on)
