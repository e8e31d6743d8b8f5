"""What a typed figure of a checklist usually is: of a fact as its list has it, of a figure as the fact it measures."""

from sitelog.checklist.schema.model import Check, FactSpec, Figure, Library
from sitelog.quantities import slips
from sitelog.quantities.slips import Usual


def of_fact(spec: FactSpec) -> Usual | None:
    """As the list says, else by the name of the fact."""
    return spec.usual or slips.usual(spec.kind, spec.name)


def of_figure(library: Library, form: str, check: Check, figure: Figure) -> Usual | None:
    """As the fact that it sets or is drawn from; else as an input of its check's sum, or by its own name."""
    name = _fact(check, figure)
    spec = _spec(library, form, name)
    if spec is not None and spec.kind == figure.kind:
        return of_fact(spec)
    names = (name, f"{check.calculator}.{figure.key}", figure.key) if check.calculator else (name,)
    return slips.usual(figure.kind, *names, f"{check.id}.{figure.key}")


def _fact(check: Check, figure: Figure) -> str:
    """The fact that the figure is a measure of, through the figures that it is drawn from; "" if there is none."""
    passed: list[Figure | None] = []
    current: Figure | None = figure
    while current and current not in passed:
        passed.append(current)
        first = None
        if current.drawn and current.drawn.word in ("is", "hypot"):
            first = current.drawn.terms[0]
        if current.sets or first is None:
            return current.sets
        if first.kind != "figure":
            return first.name
        current = check.figure(first.name)
    return ""


def _spec(library: Library, form: str, name: str) -> FactSpec | None:
    of, _, own = name.rpartition(".")
    listed = library.lists.get(of or form)
    if not listed:
        return None
    return next((spec for spec in listed.facts if spec.name == own), None)
