"""A job's state as plain data, for the command line and for other programs."""

from collections.abc import Iterator, Sequence
from typing import Any

from sitelog.checklist.schema.model import Limit
from sitelog.job.cautions.due import last_read, latest, matter
from sitelog.job.facts.evidence import shown
from sitelog.job.facts.sums import result
from sitelog.job.log.entry import Entry, said
from sitelog.job.log.values import to_plain
from sitelog.job.photos.keeping import Shown
from sitelog.job.state.corrections import corrections
from sitelog.job.state.record_views import Deferral, Earlier, Instruction, Instrument, Release, Snag
from sitelog.job.state.views import CheckView, PartView, StageView, State
from sitelog.quantities.quantity import Section


def to_json(state: State, album: Sequence[Shown] = ()) -> dict[str, Any]:
    """The state in plain JSON types: mm, degrees and words, unrounded; a section is "47x150".

    `album` is the job's photos as they stand on the disk.
    """
    return {
        "title": state.title,
        "parts": [_part(part) for part in state.parts],
        "facts": {
            name: {"drawn": plain(fact.drawn), "built": plain(fact.built), "unit": fact.unit}
            for name, fact in state.facts.items()
        },
        "instructions": [
            _fields(sheet, "id text who day hours timber path by at undone") for sheet in state.instructions
        ],
        "snags": [_fields(snag, "id text path who due by at open") for snag in state.snags],
        "releases": [_fields(release, "path reason was by at") for release in state.releases],
        "deferrals": [_fields(deferral, "path until reason by at open") for deferral in state.deferrals],
        "instruments": [_fields(tool, "id kind grade doubted by at why") for tool in state.instruments.values()],
        "earlier": list(map(_earlier, state.earlier)),
        "photos": list(map(_photo, album)),
        "cautions": list(_cautions(state)),
        "stale": list(state.stale),
        "pointed_hips": list(state.pointed),
        "roof_changes": list(state.roof_changes),
        "entries": state.entries,
        "head": state.head,
        "next": state.next,
    }


def _part(part: PartView) -> dict[str, Any]:
    stages = [_stage(stage) for stage in part.stages if stage.applies]
    return {"id": part.id, "form": part.form, "stages": stages}


def _stage(stage: StageView) -> dict[str, Any]:
    return {
        "id": stage.stage.id,
        "title": stage.stage.title,
        "state": stage.state,
        "hold": stage.stage.hold,
        "checks": [_check(view) for view in stage.shown],
    }


def _earlier(earlier: Earlier) -> dict[str, Any]:
    return _fields(earlier, "path ask answer by at note") | {"value": said(earlier.value)}


def _cautions(state: State) -> Iterator[dict[str, Any]]:
    """Every caution that applies, at each stage where it does, and who answered it last; "" while nobody has."""
    last = latest(state.readings)
    for stage in state.order:
        for caution in stage.cautions:
            read = last_read(matter(caution, stage.path), last)
            by = read.by if read else ""
            yield {"id": caution.id, "stage": stage.path, "stops": caution.stops, "answered_by": by}


Record = Snag | Instruction | Release | Deferral | Instrument | Limit | Earlier


def _fields(record: Record, names: str) -> dict[str, Any]:
    return {name: getattr(record, name) for name in names.split()}


def _photo(shown: Shown) -> dict[str, Any]:
    taken, photo = shown.taken, shown.taken.photo
    kept = {"file": photo.file, "size": photo.size, "whole": photo.whole} if photo else {}
    return {"path": taken.path, "name": taken.name, "stands": shown.stand, "by": taken.by, "at": taken.at} | kept


def _check(view: CheckView) -> dict[str, Any]:
    return {
        "id": view.check.id,
        "ask": view.check.ask,
        "kind": view.check.kind,
        "state": view.state,
        "value": _value(view),
        "verdict": view.verdict,
        "drawn": _drawn(view),
        "tolerance": view.limit.amount if view.limit else None,
        "limits": {
            figure.key: _fields(figure.limit, "rule amount origin says") for figure in view.figures if figure.limit
        },
        "by": view.by,
        "at": view.at,
        "instrument": view.instrument,
        "late": view.late,
        "at_once": view.at_once,
        "doubted": view.doubted,
        "rivals": [_said(entry) for entry in view.rivals],
        "corrections": [_said(correction.was) | {"reason": correction.reason} for correction in corrections(view)],
    }


def _said(entry: Entry) -> dict[str, Any]:
    """Another answer than the one in force, as it was entered."""
    return {"value": said(entry.value), "by": entry.by, "at": entry.at, "device": entry.device}


def _figures(view: CheckView) -> dict[str, Any]:
    """The figures that were read, by their keys."""
    return {figure.key: plain(figure.value) for figure in view.figures if figure.value is not None}


def _value(view: CheckView) -> Any:
    if len(view.figures) == 1:
        return plain(view.figures[0].value)
    if view.figures:
        return _figures(view) or None
    accepted = view.check.kind == "calculate" and view.value is not None
    if accepted and view.answer and len(view.check.shows) > 1:
        return {path: plain(result(view.answer, path)) for path in shown(view.check, view.answer)}
    return plain(view.value)


def _drawn(view: CheckView) -> Any:
    if len(view.figures) > 1:
        drawn = {figure.key: plain(figure.drawn) for figure in view.figures if figure.drawn is not None}
        return drawn or None
    if not view.figures:
        return None
    return plain(view.figures[0].drawn)


def plain(value: Any) -> Any:
    """A value as JSON has it; a section by its size alone."""
    if isinstance(value, Section):
        return str(value)
    return to_plain(value)
