"""What was said to checks and stages that the job's lists have no more, in the words of the lists that last had them.

An answer, and that a check was set aside, let go or snagged; that a stage was signed, let go or snagged.
"""

from collections.abc import Collection, Iterable, Iterator, Mapping, Sequence
from typing import Any

from sitelog.calculators.index import WHERE, find
from sitelog.checklist.schema.model import Check, Library, Stage
from sitelog.job.facts.given import decided, in_force
from sitelog.job.facts.schema import JOB, stages_of
from sitelog.job.facts.sums import unit_of
from sitelog.job.log.entry import Entry, said
from sitelog.job.log.entry_index import EntryIndex
from sitelog.job.log.parts import mapping
from sitelog.job.log.values import from_plain
from sitelog.job.photos.photo import names_of
from sitelog.job.state.record_views import Earlier
from sitelog.job.state.standing import last_of
from sitelog.quantities.quantity import Units, show

SET_ASIDE = {"skip": "not applicable", "defer": "left till later", "release": "released"}
CLOSES = ("sign", "release")  # the last of these says how a stage stands


def earlier(
    entry_index: EntryIndex, asked: Collection[str], libraries: Iterable[Library], own: Mapping[str, str], units: Units
) -> tuple[Earlier, ...]:
    """`asked` are the paths of all checks and stages in force; `libraries` those that may know the others.

    The likeliest comes first. `own` is the form of each part, under which a library may have a list of its own for it.
    """
    found = [entry for path, rows in entry_index.about.items() if path not in asked for entry in _standing(rows)]
    if not found:
        return ()
    known = list(libraries)
    forms = {JOB: JOB} | {part: str(entry.value.get("form", "")) for part, entry in entry_index.parts.items()}
    told = []
    for entry in sorted(found, key=_order):
        ask, check = _asking(entry, (own.get(entry.part, ""), forms.get(entry.part, "")), known)
        told.append(_told(entry, ask, check, units))
    return tuple(told)


def _standing(rows: Sequence[Entry]) -> list[Entry]:
    """The answer in force, what was decided of the check since, how its stage was closed, and the snags."""
    closed = last_of(rows, *CLOSES)
    ids = {entry.id for entry in (in_force(rows), decided(rows), closed) if entry}
    return [entry for entry in rows if entry.check and (entry.id in ids or entry.act == "snag")]


def _order(entry: Entry) -> tuple[bool, str]:
    """Answers first."""
    return entry.act != "answer", entry.id


def _asking(entry: Entry, forms: Sequence[str], libraries: Iterable[Library]) -> tuple[str, Check | None]:
    """What the check asks or the stage is called, and the check; its path, and None, where no list knows it."""
    stage_id, _, check_id = entry.check.partition(".")
    for library in libraries:
        stage = _stage(library, next((form for form in forms if form in library.lists), ""), stage_id)
        if stage and not check_id:
            return stage.title, None
        if check := stage.check(check_id) if stage else None:
            return check.ask_in_full, check
    return entry.path, None


def _stage(library: Library, form: str, name: str) -> Stage | None:
    if form not in library.lists:
        return None
    return next((stage for stage in stages_of(library, form) if stage.id == name), None)


def _told(entry: Entry, ask: str, check: Check | None, units: Units) -> Earlier:
    return Earlier(entry.path, ask, _said(entry, check, units), entry.by, entry.at, entry.note, entry.value)


def _said(entry: Entry, check: Check | None, units: Units) -> str:
    if entry.act == "snag":
        return f"snag {entry.value.get('id', '')}: {entry.value.get('text', '')}"
    if entry.act in SET_ASIDE:
        return f"{SET_ASIDE[entry.act]}: {entry.note}"
    if entry.act == "sign":
        return "signed"
    return "; ".join([*_figures(entry, check, units), *filter(None, [names_of(entry.value)])]) or "done"


def _figures(entry: Entry, check: Check | None, units: Units) -> Iterator[str]:
    """What was answered, figure by figure; key by key where no list is known that asked it."""
    value = said(entry.value)
    if check is None:
        yield from (f"{key} {text}" for key, text in value.items() if key not in ("photo", "photos"))
        return
    yield from _read(value, check, units)
    word = value.get("value")
    if isinstance(word, str) and not check.figures:
        yield next((choice.label for choice in check.choices if choice.id == word), word)
    yield from _results(entry, check, units)


def _read(value: Mapping[str, Any], check: Check, units: Units) -> Iterator[str]:
    """The figures that were read; each with what it says where there are several."""
    for figure in check.figures:
        read = from_plain(figure.kind, value.get(figure.key))
        if read is None:
            continue
        text = show(figure.unit, read, units, typed=True)
        yield text if len(check.figures) == 1 else f"{figure.says} {text}"


def _results(entry: Entry, check: Check, units: Units) -> Iterator[str]:
    """What an accepted sum gave."""
    for path, result in mapping(entry.value.get("@results")).items():
        if isinstance(result, int | float | str):
            unit, says = unit_of(find(check.calculator), path) if check.calculator in WHERE else ("", path)
            yield f"{says} {show(unit, result, units)}"
