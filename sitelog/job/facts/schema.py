"""What may be known of a part: its facts by name, the checks that set each, and the sums that work them."""

from collections.abc import Iterator, Mapping

from msgspec import Struct

from sitelog.calculators import index
from sitelog.checklist.schema.kinds import UNITS
from sitelog.checklist.schema.model import Check, Condition, FactSpec, Library, Stage, Sum
from sitelog.job.facts.sums import unit_of
from sitelog.quantities.quantity import Kind

JOB = "job"
KIND_OF_UNIT: Mapping[str, Kind] = {"mm": "offset", "deg": "angle"}


class PartSchema(Struct, frozen=True):
    specs: Mapping[str, FactSpec]
    own: frozenset[str]  # those that the part's own list names
    setters: Mapping[str, tuple[str, ...]]  # fact -> paths of checks
    sums: Mapping[str, tuple[Sum, ...]]  # fact -> the sums that give it, each under its own condition
    conditions: Mapping[str, tuple[Condition, ...]]  # path of a check -> its own and its stage's
    finishing: Mapping[str, tuple[str, ...]]  # path of a check that chooses a finish -> the finishes it may choose
    agreed_at: Mapping[str, tuple[str, ...]]  # fact -> paths of the checks where somebody's word is put to it


def stages_of(library: Library, form: str) -> Iterator[Stage]:
    """The stages of a part of that form; of the job's own part, those that come first and last.

    A part whose form has no checklist here keeps the stages that the job's list puts in every part.
    """
    if form != JOB and form in library.lists:
        yield from library.stages(form)
    else:
        yield from (s for s in library.lists[JOB].stages if (s.place == "part") != (form == JOB))


def known(library: Library, part: str, form: str) -> PartSchema:
    """Facts of the part's own list, of the checks it goes through, of its finishes and of its sums."""
    own = library.lists.get(form)
    in_job = {spec.name: spec for spec in library.lists[JOB].facts}
    elsewhere = set_in_parts(library) if form == JOB else frozenset()
    specs = {spec.name: spec for spec in (own.facts if own else ()) if spec.name not in elsewhere}
    setters: dict[str, list[str]] = {}
    conditions: dict[str, tuple[Condition, ...]] = {}
    finishing: dict[str, tuple[str, ...]] = {}
    agreed_at: dict[str, list[str]] = {}
    for stage in stages_of(library, form):
        for check in stage.checks:
            path = f"{part}.{stage.id}.{check.id}"
            conditions[path] = tuple(when for when in (stage.when, check.when) if when)
            if check.finishes:
                finishing[path] = tuple(choice.id for choice in check.choices if choice.id in library.finishes)
            for figure in check.figures:
                if figure.sets and figure.agreed_by:
                    agreed_at.setdefault(figure.sets, []).append(path)
            for spec in _set_by(library, check):
                specs.setdefault(spec.name, in_job.get(spec.name, spec))
                if path not in setters.setdefault(spec.name, []):
                    setters[spec.name].append(path)
    sums: dict[str, tuple[Sum, ...]] = {}
    for one in own.sums if own else ():
        for name, path in one.gives.items():
            sums[name] = (*sums.get(name, ()), one)
            specs.setdefault(name, _given_by(one, name, path))
    return PartSchema(
        specs=specs,
        own=frozenset(spec.name for spec in (own.facts if own else ()) if spec.name not in elsewhere),
        setters={name: tuple(paths) for name, paths in setters.items()},
        sums=sums,
        conditions=conditions,
        finishing=finishing,
        agreed_at={name: tuple(paths) for name, paths in agreed_at.items()},
    )


def _given_by(one: Sum, name: str, path: str) -> FactSpec:
    unit, says = unit_of(index.find(one.calculator), path)
    return FactSpec(name, KIND_OF_UNIT.get(unit, "number"), says, unit)


def set_in_parts(library: Library) -> frozenset[str]:
    """The facts of the job's list that its stages in each part set: they are each part's own, and not the job's."""
    stages = library.lists[JOB].stages
    of_parts = {f.name for s in stages if s.place == "part" for c in s.checks for f in _set_by(library, c)}
    of_job = {f.name for s in stages if s.place != "part" for c in s.checks for f in _set_by(library, c)}
    return frozenset(of_parts - of_job - {f.name for f in library.lists[JOB].facts if f.asked})


def _set_by(library: Library, check: Check) -> Iterator[FactSpec]:
    for figure in check.figures:
        if figure.sets:
            yield FactSpec(figure.sets, figure.kind, figure.says or check.ask, figure.unit)
    if check.sets and check.kind in ("choice", "note"):
        kind: Kind = "choice" if check.kind == "choice" else "text"
        yield FactSpec(check.sets, kind, check.ask, "", choices=tuple(c.id for c in check.choices))
    if check.finishes:
        for choice in check.choices:
            for fact in library.finishes[choice.id].facts:
                yield FactSpec(fact.name, fact.kind, fact.name.replace("_", " "), UNITS.get(fact.kind, ""))
