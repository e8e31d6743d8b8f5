"""The lists that a job's parts go by: one whose roof is said block by block has its own, written out for that roof."""

from collections.abc import Mapping

from msgspec import Struct
from msgspec.structs import replace

from sitelog.checklist.schema.model import Checklist, Library
from sitelog.checklist.scoped import BUILDING, CARRIED, TAPED
from sitelog.job.facts.cache import AsTaped, EvaluationCache, WrittenList
from sitelog.job.facts.fact import Inputs
from sitelog.job.facts.facts import FactResolver
from sitelog.job.facts.given import given
from sitelog.job.log.entry_index import EntryIndex
from sitelog.quantities.quantity import Tie


class OwnLists(Struct, frozen=True):
    """The lists with those of such parts among them, under forms of their own, and what people gave.

    `drawn` are those parts' lists over the plates as drawn, by form, and `changes` a line for each part whose lines
    aren't all those drawn.
    """

    library: Library
    forms: Mapping[str, str]
    given: Inputs
    own: Mapping[str, Checklist]
    drawn: Mapping[str, Checklist]
    changes: Mapping[str, str]  # by part


def own_lists(library: Library, forms: Mapping[str, str], entry_index: EntryIndex, kept: EvaluationCache) -> OwnLists:
    """Every part's list. One whose form has nothing for each line of a roof has that of its form.

    What is kept of those written out, and of what was given, stands where it is of the same; it is brought up to date.
    """
    before = kept.given_by(library)
    each = _with_each(library, forms)
    if not each:
        return OwnLists(library, forms, given(library, forms, entry_index, before), {}, {}, {})
    keys = dict(forms) | {part: f"{forms[part]}/{part}" for part in each}
    for part, whole in each.items():
        _write(kept.own, part, whole, _text(entry_index, part))
    drawn = {keys[part]: kept.own[part].drawn for part in each}
    first = _given(library, keys, drawn, entry_index)
    resolver = FactResolver(first.library, keys, first.given, kept.schemas(first.library, keys))
    for part, whole in each.items():
        _write(kept.own, part, whole, _text(entry_index, part), _taped(resolver, part))
    changes = {part: kept.own[part].change for part in each if kept.own[part].change}
    if not changes:
        return first
    now = {keys[part]: kept.own[part].now for part in each}
    return replace(_given(library, keys, now, entry_index), drawn=drawn, changes=changes)


def _with_each(library: Library, forms: Mapping[str, str]) -> dict[str, Checklist]:
    """The lists that have something for each line of a roof, by part."""
    listed = {part: library.lists[form] for part, form in forms.items() if form in library.lists}
    return {part: whole for part, whole in listed.items() if whole.has_each}


def _write(own: dict[str, WrittenList], part: str, listed: Checklist, text: str, taped: AsTaped | None = None) -> None:
    """Write a part's list out, unless it was written from the same; `taped` None takes it over any plates."""
    was = own.get(part)
    if was and was.listed is listed and was.text == text and taped in (None, was.taped):
        return
    from sitelog.job.facts.written_out import written_out  # the geometry of roofs comes with it

    own[part] = written_out(listed, text, taped or ((), ""))


def _given(
    library: Library, keys: Mapping[str, str], own: Mapping[str, Checklist], entry_index: EntryIndex
) -> OwnLists:
    whole = replace(library, lists={**library.lists, **own})
    return OwnLists(whole, keys, given(whole, keys, entry_index), own, own, {})


def _text(entry_index: EntryIndex, part: str) -> str:
    """What was said of the part's roof."""
    text = entry_index.drawn.get(part, {}).get(BUILDING)
    return text if isinstance(text, str) else ""


def _taped(resolver: FactResolver, part: str) -> AsTaped:
    """What was taped of it."""
    fact = resolver.fact(part, TAPED)
    taped = fact.built if fact else None
    ties = tuple(tie for tie in taped if isinstance(tie, Tie)) if isinstance(taped, tuple) else ()
    carried = resolver.now(part, CARRIED)
    return ties, carried if isinstance(carried, str) else ""
