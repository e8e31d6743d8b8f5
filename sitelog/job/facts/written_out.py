"""The list of a part whose roof is said block by block: written out for that roof, as drawn and as measured."""

from collections.abc import Iterator, Sequence

from sitelog.calculators.setting_out.plates import weighed
from sitelog.calculators.surface.patterns import patterns_of
from sitelog.checklist.each import expanded
from sitelog.checklist.schema.model import Checklist
from sitelog.geometry.building.named import EDGES, Roof, roof_of
from sitelog.job.facts.cache import AsTaped, WrittenList
from sitelog.refusal import Refusal

TAPE = "II"  # the class that lengths are fitted as; all count the same
MOST_KEPT = 64  # lists written out


def written_out(listed: Checklist, text: str, taped: AsTaped) -> WrittenList:
    """The list of one part. `text` is what was said of its roof, "" for nothing."""
    try:
        roof = roof_of(text) if text else None
    except Refusal as refusal:
        fault = f"its roof can't be read, so its stages are missing. Add the part again. {refusal.message}"
        none = _written(listed, None)
        return WrittenList(listed, text, taped, none, none, fault)
    measured = _measured(text, taped) if roof else None
    drawn = _written(listed, roof)
    change = "; ".join(_changed(roof, measured))
    return WrittenList(listed, text, taped, drawn, _written(listed, measured or roof) if change else drawn, change)


def _measured(text: str, taped: AsTaped) -> Roof | None:
    """The roof over its plates as taped; None where nothing fixes them, or they can't be those of a roof."""
    ties, carried = taped
    try:
        return roof_of(text, tuple(weighed(ties, TAPE)), carried) if ties else None
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
