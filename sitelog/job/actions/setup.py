"""What a job begins with: its title, the checklists pinned, its parts, and their figures as drawn."""

import re
from collections.abc import Iterator, Mapping, Sequence

from msgspec import Struct

from sitelog.calculators.catalogue import Value
from sitelog.checklist.schema.model import FactSpec, Library
from sitelog.checklist.schema.usual import of_fact
from sitelog.checklist.scoped import BUILDING
from sitelog.job.actions.naming import one_of, said
from sitelog.job.facts.fact import Fact
from sitelog.job.facts.schema import JOB
from sitelog.job.lists import pin
from sitelog.job.log.entry import Draft
from sitelog.job.log.entry_index import USUAL
from sitelog.job.log.values import to_plain
from sitelog.quantities.quantity import Kind, Units
from sitelog.quantities.rounding import as_typed
from sitelog.quantities.slips import Usual, typed
from sitelog.refusal import Refusal
from sitelog.text import clean

ID = re.compile(r"[a-z0-9][a-z0-9-]{0,39}")
Part = tuple[str, str, str, Mapping[str, str]]  # id, title, form, figures as typed


class JobSetup(Struct, frozen=True, kw_only=True):
    """What a job is set up with; `place` may be "". `start` proves it."""

    title: str
    place: str
    units: Units
    parts: Sequence[Part]


def start(library: Library, setup: JobSetup) -> list[Draft]:
    """The first entries of a job. A part "job" of form "job" only gives the job's own figures.

    Refusal: no title, no part, a part that can't be (see `join`).
    """
    if setup.units not in ("metric", "imperial"):
        raise Refusal(f"{clean(str(setup.units), most=20)!r} isn't a way to measure; type metric or imperial")
    if not any(form != JOB for _, _, form, _ in setup.parts):
        raise Refusal(f"add at least one part. Roof types are {', '.join(library.forms())}")
    title = said(setup.title, "Give the job a name")
    heading = {"title": title, "place": clean(setup.place), "units": setup.units}
    drafts = [Draft(act="start", value=heading), pin(library)]
    taken: list[str] = []
    for part in setup.parts:
        drafts += join(library, taken, *part)
        taken.append(part[0])
    return drafts


def join(
    library: Library, taken: Sequence[str], id: str, title: str, form: str, texts: Mapping[str, str]
) -> list[Draft]:
    """A part joins the job, with its figures as drawn; what is not given is taken as the checklist has it.

    Refusal: an id that is taken or no plain word, an unknown form or figure, a figure that can't be read.
    """
    if form == JOB and id == JOB:
        return _figures(library, id, form, texts)
    one_of(form, library.forms(), "roof type")
    if not ID.fullmatch(id) or id == JOB:
        raise Refusal(
            f"{clean(id, most=40)!r} can't be a short name: use small letters, numbers and hyphens, such as "
            f"main-roof, and not {JOB!r}"
        )
    if id in taken:
        raise Refusal(f"short name {id!r} is already used")
    value = {"id": id, "title": said(title or id, "Give the part a name"), "form": form}
    return [Draft(act="part", part=id, value=value), *_figures(library, id, form, texts)]


def _figures(library: Library, part: str, form: str, texts: Mapping[str, str]) -> list[Draft]:
    specs = {spec.name: spec for spec in library.lists[form].facts if spec.worked is None}
    for name in texts:
        one_of(name, specs, f"{part}: figure")
    values = dict(_read(part, specs, texts))
    for spec in specs.values():
        not_less(part, spec.name, spec.says, spec.least, values)
    if not values:
        return []
    usual = [name for name in values if not texts.get(name, "").strip()]
    if usual:
        values[USUAL] = usual
    return [Draft(act="drawn", part=part, value=values)]


def _read(part: str, specs: Mapping[str, FactSpec], texts: Mapping[str, str]) -> Iterator[tuple[str, object]]:
    for name, spec in specs.items():
        text = texts.get(name, "").strip() or (spec.default if spec.asked else "")
        if text:
            usual = None if text == spec.default else of_fact(spec)
            told = f"{part}.{name} ({spec.says})"
            yield name, to_plain(design_value(spec.kind, spec.choices, text, told, usual, fact=name))


def not_less(part: str, name: str, says: str, least: str, values: Mapping[str, object]) -> None:
    """Refusal if a figure is less than the one that it is never less than, both as drawn."""
    value, floor = values.get(name), values.get(least) if least else None
    if isinstance(value, (int, float)) and isinstance(floor, (int, float)) and value < floor:
        raise Refusal(f"{part}.{name} is {as_typed(value)}; it can't be less than {least}, {as_typed(floor)} ({says})")


def is_building(spec: FactSpec | Fact) -> bool:
    """Whether it says a roof block by block."""
    return spec.kind == "text" and spec.name.rpartition(".")[2] == BUILDING


def design_value(
    kind: Kind, choices: Sequence[str], text: str, name: str, usual: Usual | None, *, fact: str = ""
) -> Value:
    """A design figure as typed, in its kind. Refusal if it can't be read or is no choice, Slip if it is likely one.

    What says a roof block by block must be one that can be, and is kept as it prints.
    """
    value = typed(kind, text, usual, name=name)
    if fact == BUILDING and isinstance(value, str):
        return _as_printed(value)
    if choices and isinstance(value, str):
        return one_of(value, choices, f"{name}:")
    if choices and isinstance(value, (int, float)):
        one_of(as_typed(value), choices, f"{name}:")
    return value


def _as_printed(building: str) -> str:
    from sitelog.geometry.building.named import roof_of  # most jobs have no such roof
    from sitelog.geometry.building.said import printed

    return printed(roof_of(building).said)
