"""What may be known of a part: its facts by name, the checks that set each, and the sums that work them."""

from collections import defaultdict
from collections.abc import Iterable, Iterator, Mapping
from typing import NamedTuple

from msgspec import Struct

from sitelog.calculators import index
from sitelog.checklist.schema.kinds import UNITS
from sitelog.checklist.schema.model import Check, FactSpec, Library, Stage, Sum
from sitelog.checklist.schema.terms import Condition
from sitelog.job.facts.sums import unit_of
from sitelog.quantities.quantity import Kind
from sitelog.text import goes_on

JOB = "job"
KIND_OF_UNIT: Mapping[str, Kind] = {"mm": "offset", "deg": "angle"}


class PartSchema(Struct, frozen=True):
    """What the lists say of the facts of a part, whatever was entered."""

    specs: Mapping[str, FactSpec]
    own: frozenset[str]  # those that the part's own list names
    setters: Mapping[str, tuple[str, ...]]  # fact -> paths of checks
    sums: Mapping[str, tuple[Sum, ...]]  # fact -> the sums that give it, each under its own condition
    conditions: Mapping[str, tuple[Condition, ...]]  # path of a check -> its own and its stage's
    figure_conditions: Mapping[
        tuple[str, str], Condition
    ]  # path of a check and a fact -> that of the figure that sets it
    finishing: Mapping[str, tuple[str, ...]]  # path of a check that chooses a finish -> the finishes it may choose
    agreed_at: Mapping[str, tuple[str, ...]]  # fact -> paths of the checks where somebody's word is put to it

    def only_given(self, spec: FactSpec) -> bool:
        """Whether the fact follows from no other fact: nothing works it out."""
        return spec.worked is None and spec.name not in self.sums


class PlacedCheck(NamedTuple):
    """A check where it stands in a part."""

    path: str  # "main.plates.sides"
    stage: Stage
    check: Check


def stages_of(library: Library, form: str) -> Iterator[Stage]:
    """The stages of a part of that form; of the job's own part, those that come first and last.

    A part whose form has no checklist here keeps the stages that the job's list puts in every part.
    """
    if form != JOB and form in library.lists:
        yield from library.stages(form)
    else:
        yield from (stage for stage in library.lists[JOB].stages if (stage.place == "part") != (form == JOB))


def checks_of(library: Library, part: str, form: str) -> Iterator[PlacedCheck]:
    """Every check of a part of that form, in the order of its stages."""
    for stage in stages_of(library, form):
        for check in stage.checks:
            yield PlacedCheck(f"{part}.{stage.id}.{check.id}", stage, check)


def known(library: Library, part: str, form: str) -> PartSchema:
    """Facts of the part's own list, of the checks it goes through, of its finishes and of its sums."""
    listed = library.lists.get(form)
    placed = list(checks_of(library, part, form))
    sums = listed.sums if listed else ()
    own = _own_specs(library, form)
    given = own | _specs_set(library, placed, own)
    return PartSchema(
        specs=given | _specs_worked(sums, given),
        own=frozenset(own),
        setters=_setters(library, placed),
        sums=_sums_by_fact(sums),
        conditions={path: tuple(when for when in (stage.when, check.when) if when) for path, stage, check in placed},
        figure_conditions={
            (path, figure.sets): figure.when
            for path, _, check in placed
            for figure in check.figures
            if figure.sets and figure.when
        },
        finishing=_finishing(library, placed),
        agreed_at=_agreed_at(placed),
    )


def _own_specs(library: Library, form: str) -> dict[str, FactSpec]:
    """The facts that the form's own list names, but for those of the job's list that are each part's."""
    listed = library.lists.get(form)
    elsewhere = set_in_parts(library) if form == JOB else frozenset()
    return {spec.name: spec for spec in (listed.facts if listed else ()) if spec.name not in elsewhere}


def _specs_set(library: Library, placed: Iterable[PlacedCheck], own: Mapping[str, FactSpec]) -> dict[str, FactSpec]:
    """The facts that checks set and the part's list doesn't name, as the job's list has them where it does."""
    in_job = {spec.name: spec for spec in library.lists[JOB].facts}
    found: dict[str, FactSpec] = {}
    for _, _, check in placed:
        for spec in _set_by(library, check):
            if spec.name not in own:
                found.setdefault(spec.name, in_job.get(spec.name, spec))
    return found


def _setters(library: Library, placed: Iterable[PlacedCheck]) -> dict[str, tuple[str, ...]]:
    found: defaultdict[str, dict[str, None]] = defaultdict(dict)
    for path, _, check in placed:
        for spec in _set_by(library, check):
            found[spec.name][path] = None
    return {name: tuple(paths) for name, paths in found.items()}


def _finishing(library: Library, placed: Iterable[PlacedCheck]) -> dict[str, tuple[str, ...]]:
    return {
        path: tuple(choice.id for choice in check.choices if choice.id in library.finishes)
        for path, _, check in placed
        if check.finishes
    }


def _agreed_at(placed: Iterable[PlacedCheck]) -> dict[str, tuple[str, ...]]:
    found: defaultdict[str, list[str]] = defaultdict(list)
    for path, _, check in placed:
        for figure in check.figures:
            if figure.sets and figure.agreed_by:
                found[figure.sets].append(path)
    return {name: tuple(paths) for name, paths in found.items()}


def _sums_by_fact(sums: Iterable[Sum]) -> dict[str, tuple[Sum, ...]]:
    found: dict[str, tuple[Sum, ...]] = {}
    for listed in sums:
        for name in listed.gives:
            found[name] = (*found.get(name, ()), listed)
    return found


def _specs_worked(sums: Iterable[Sum], given: Mapping[str, FactSpec]) -> dict[str, FactSpec]:
    """The facts that sums give and nothing else names, in the unit of the sum's result."""
    found: dict[str, FactSpec] = {}
    for listed in sums:
        for name, path in listed.gives.items():
            if name not in given and name not in found:
                unit, says = unit_of(index.find(listed.calculator), path)
                if listed.of:
                    says = f"{listed.of}: {goes_on(says.rpartition(': ')[2])}"
                found[name] = FactSpec(name, KIND_OF_UNIT.get(unit, "number"), says, unit)
    return found


def set_in_parts(library: Library) -> frozenset[str]:
    """The facts of the job's list that its stages in each part set: they are each part's own, and not the job's."""
    of_parts: set[str] = set()
    of_job: set[str] = set()
    for stage in library.lists[JOB].stages:
        names = {spec.name for check in stage.checks for spec in _set_by(library, check)}
        (of_parts if stage.place == "part" else of_job).update(names)
    asked = {spec.name for spec in library.lists[JOB].facts if spec.asked}
    return frozenset(of_parts - of_job - asked)


def _set_by(library: Library, check: Check) -> Iterator[FactSpec]:
    for figure in check.figures:
        if figure.sets:
            yield FactSpec(figure.sets, figure.kind, figure.says or check.ask, figure.unit)
    for name, path in check.gives.items():
        unit, says = unit_of(index.find(check.calculator), path)
        yield FactSpec(name, KIND_OF_UNIT.get(unit, "number"), says, unit)
    if check.sets and check.kind in ("choice", "note"):
        kind: Kind = "choice" if check.kind == "choice" else "text"
        yield FactSpec(check.sets, kind, check.ask, "", choices=tuple(choice.id for choice in check.choices))
    if check.finishes:
        yield from _set_by_finishes(library, check)


def _set_by_finishes(library: Library, check: Check) -> Iterator[FactSpec]:
    """What the finishes that the check offers bring with them."""
    for choice in check.choices:
        for fact in library.finishes[choice.id].facts:
            yield FactSpec(fact.name, fact.kind, fact.name.replace("_", " "), UNITS.get(fact.kind, ""))
