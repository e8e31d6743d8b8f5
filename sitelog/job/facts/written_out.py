"""The list of each part whose roof is said block by block: written out for that roof, as drawn and as measured."""

from collections.abc import Iterator, Mapping, Sequence

from msgspec import Struct
from msgspec.structs import replace

from sitelog.calculators.setting_out.plates import weighed
from sitelog.calculators.surface.patterns import patterns_of
from sitelog.checklist.each import expanded
from sitelog.checklist.schema.model import Checklist, Library
from sitelog.checklist.scoped import BUILDING, CARRIED, TAPED
from sitelog.geometry.building.named import EDGES, Roof, roof_of
from sitelog.geometry.least_squares import Measured
from sitelog.job.facts.facts import FactResolver
from sitelog.job.facts.given import given
from sitelog.job.facts.own_lists import OwnLists
from sitelog.job.log.entry_index import EntryIndex
from sitelog.quantities.quantity import Tie
from sitelog.refusal import Refusal

TAPE = "II"  # the class that lengths are fitted as; all count the same
MOST_KEPT = 64  # lists written out


class _Part(Struct, frozen=True):
    """A part whose list has `each`: its form, the key of its own list, what was said of its roof, and that as drawn."""

    id: str
    listed: Checklist
    key: str
    text: str
    roof: Roof | None
    fault: str = ""  # why what was said can't be a roof


def written_out(
    library: Library, forms: Mapping[str, str], each: Mapping[str, Checklist], entry_index: EntryIndex
) -> OwnLists:
    """Every part's list. `each` are those of the parts whose form has something for each line of a roof."""
    parts = [_part(part, listed, f"{forms[part]}/{part}", _text(entry_index, part)) for part, listed in each.items()]
    keys = dict(forms) | {part.id: part.key for part in parts}
    drawn = {part.key: _written(part.listed, part.roof) for part in parts}
    first = _given(library, keys, drawn, entry_index)
    resolver = FactResolver(first.library, keys, first.given)
    built = {part.id: _measured(part, resolver) for part in parts}
    changes = dict(_changes(parts, built))
    if not changes:
        return first
    now = {part.key: _written(part.listed, built[part.id] or part.roof) for part in parts}
    return replace(_given(library, keys, now, entry_index), drawn=drawn, changes=changes)


def _changes(parts: Sequence[_Part], built: Mapping[str, Roof | None]) -> Iterator[tuple[str, str]]:
    """Each part whose roof can't be read, or has other lines as measured than drawn, and that in words."""
    for part in parts:
        if told := part.fault or "; ".join(_changed(part.roof, built[part.id])):
            yield part.id, told


def _given(
    library: Library, keys: Mapping[str, str], own: Mapping[str, Checklist], entry_index: EntryIndex
) -> OwnLists:
    whole = replace(library, lists={**library.lists, **own})
    return OwnLists(whole, keys, given(whole, keys, entry_index), own, own, {})


def _part(part: str, listed: Checklist, key: str, text: str) -> _Part:
    try:
        return _Part(part, listed, key, text, roof_of(text) if text else None)
    except Refusal as refusal:
        fault = f"its roof can't be read, so its stages are missing. Add the part again. {refusal.message}"
        return _Part(part, listed, key, text, None, fault)


def _measured(part: _Part, resolver: FactResolver) -> Roof | None:
    """The roof over its plates as taped; None where nothing fixes them."""
    lengths = _lengths(resolver, part.id)
    if not lengths or not part.roof:
        return None
    carried = resolver.now(part.id, CARRIED)
    return _roof(part.text, lengths, carried if isinstance(carried, str) else "")


def _text(entry_index: EntryIndex, part: str) -> str:
    text = entry_index.drawn.get(part, {}).get(BUILDING)
    return text if isinstance(text, str) else ""


def _lengths(resolver: FactResolver, part: str) -> tuple[Measured, ...]:
    fact = resolver.fact(part, TAPED)
    taped = fact.built if fact else None
    ties = [tie for tie in taped if isinstance(tie, Tie)] if isinstance(taped, tuple) else []
    return tuple(weighed(ties, TAPE)) if ties else ()


def _roof(text: str, lengths: tuple[Measured, ...], carried: str) -> Roof | None:
    """The roof over those lengths; None where they can't be one."""
    try:
        return roof_of(text, lengths, carried)
    except Refusal:
        return None


def _changed(drawn: Roof | None, measured: Roof | None) -> Iterator[str]:
    if drawn is None or measured is None:
        return
    was, now = _asked_about(drawn), _asked_about(measured)
    come, gone = (", ".join(there[id] for id in there if id not in other) for there, other in ((now, was), (was, now)))
    if come:
        yield f"as measured there is more than drawn: {come}"
    if gone:
        yield f"as measured these aren't there: {gone}"


def _asked_about(roof: Roof) -> dict[str, str]:
    """What a roof has several of by id, without verges and abutments: nothing is asked of each."""
    return {one.id: one.name for one in roof.named if not set(one.each) & set(EDGES.values())}


_KEPT: dict[tuple[str, tuple[str, ...]], tuple[Checklist, Checklist]] = {}


def _written(listed: Checklist, roof: Roof | None) -> Checklist:
    """The list for that roof, written out once for all roofs with the same lines."""
    key = listed.digest, tuple(_said(roof)) if roof else ()
    kept = _KEPT.get(key)
    if kept is None or kept[0] is not listed:
        if len(_KEPT) >= MOST_KEPT:
            _KEPT.clear()
        kept = _KEPT[key] = (listed, expanded(listed, roof))
    return kept[1]


def _said(roof: Roof) -> Sequence[str]:
    patterns = patterns_of(roof)
    kinds = {id: " ".join(pattern.kind for pattern in own) for id, own in patterns.items()}
    return [f"{one.id} {one.name} {' '.join((*one.each, *one.blocks, kinds.get(one.id, '')))}" for one in roof.named]
