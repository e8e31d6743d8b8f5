"""The job as plain text for `sitelog show`."""

from collections.abc import Iterator, Mapping, Sequence
from typing import Any

from sitelog.job.photos.keeping import Shown
from sitelog.job.photos.photo import photos_of
from sitelog.job.state.corrections import corrections
from sitelog.job.state.marks import CHECK, state_word
from sitelog.job.state.views import CheckView, StageView, State
from sitelog.quantities.quantity import show
from sitelog.text import text_after, text_if
from sitelog.wording.flags import flags
from sitelog.wording.formatting import day, row_figures, value_text
from sitelog.wording.recap import named_job


def page(state: State, album: Sequence[Shown] = ()) -> Iterator[str]:
    """The stages and checks in the order of work, then what is open, and the photos as they stand on the disk."""
    yield named_job(state)
    yield from state.pointed
    yield from state.roof_changes
    for stage in state.order:
        yield ""
        yield _stage_line(stage)
        for check in stage.shown:
            yield _check_line(state, check)
    yield ""
    if state.earlier:
        yield "Earlier checks, which this job no longer asks"
        for earlier in state.earlier:
            yield f"  {earlier.path}  {earlier.ask}  [{earlier.answer}] ({earlier.by}, {day(earlier.at)})"
        yield ""
    yield from _open_points(state)
    for shown in album:
        yield _photo(shown)
    yield f"{state.entries} entries, record code {state.head}"
    yield f"next: {state.next or 'all done'}"


def _stage_line(stage: StageView) -> str:
    hold = text_if(stage.stage.hold, ", hold")
    by = text_after(" by ", stage.by)
    return f"{stage.path}  {stage.stage.title} ({stage.state}{by}{hold})"


def _check_line(state: State, check: CheckView) -> str:
    line = f"  {CHECK[check.state].ascii} {check.path.partition('.')[2]:<26} {check.check.ask}"
    photo = text_if(check.photo_name, "camera number only, no photo attached")
    told = "; ".join(filter(None, (_told(state, check), photo, *(flag.words for flag in flags(check)))))
    return f"{line}  [{state_word(check)}{text_after(': ', told)}]"


def _told(state: State, check: CheckView) -> str:
    if check.state == "open":
        return ""
    if len(check.figures) > 1:
        return " ".join(
            f"{figure.key}={show(figure.unit, figure.value, state.units, typed=True)}"
            for figure in check.figures
            if figure.value is not None
        )
    if check.figures:
        return show(check.figures[0].unit, check.figures[0].value, state.units, typed=True)
    if check.check.kind == "calculate":
        return row_figures(check, state.units)
    if check.value is None:
        return ""
    return str(check.value)


def _open_points(state: State) -> Iterator[str]:
    yield from two_answers(state)
    yield from _corrected(state)
    for tool in state.instruments.values():
        if tool.doubted:
            yield f"tool {tool.id} marked bad: {tool.why} ({tool.by})"
    for snag in state.open_snags:
        yield f"snag {snag.id}: {snag.text} ({snag.path or 'the job'})"
    for release in state.releases:
        yield f"carried on as it is: {release.path}, {release.reason} ({release.by})"
    for later in (deferral for deferral in state.deferrals if deferral.open):
        yield f"left till later: {later.path} till {later.until}, {later.reason} ({later.by})"
    for path in state.stale:
        yield f"out of date: {path}"


def _corrected(state: State) -> Iterator[str]:
    for view in state.checks():
        for correction in corrections(view):
            was = correction.was
            yield f"corrected: {view.path}, it was {_said(state, view, was.value)} ({was.by}): {correction.reason}"


def _photo(shown: Shown) -> str:
    taken = shown.taken
    where = f"{taken.path or 'the site diary'}, {taken.by}"
    if taken.photo is None:
        return f"photo {taken.name}, camera number only, no photo attached ({where})"
    stand = "" if shown.stand == "there" else f", {shown.stand.upper()}"
    whole = text_if(taken.photo.whole, ", with time and place kept")
    return f"photo {taken.name}, {taken.photo.told_size}{whole}{stand}: {taken.photo.file} ({where})"


def two_answers(state: State) -> Iterator[str]:
    """The checks that two copies answered differently, each with all its answers."""
    for view in state.checks():
        if view.rivals:
            told = _told(state, view) or state_word(view)
            others = (f"{_said(state, view, entry.value)} ({entry.by})" for entry in view.rivals)
            yield f"two answers: {view.path}, using {told} ({view.by}); also {', '.join(others)}"


def _said(state: State, view: CheckView, value: Mapping[str, Any]) -> str:
    """What an answer keeps, each figure as it was typed."""
    units = {figure.key: figure.unit for figure in view.figures}
    told = []
    for key, said in value.items():
        if not key.startswith("@") and key != "photos":
            figures = tuple(said) if isinstance(said, list) else said
            told.append(f"{key}={value_text(units.get(key, ''), figures, state.units, typed=True)}")
    names = [f"photos={', '.join(photo.name for photo in photos_of(value))}"] if value.get("photos") else []
    return " ".join([*told, *names]) or "ticked"


def cautions(state: State) -> Iterator[str]:
    """The cautions of the stage in hand, each with the question that clears it."""
    from sitelog.wording.caution import FIRST

    stage = next((due for due in state.order if state.next.startswith(due.path)), None)
    if not stage or not stage.cautions:
        yield "no cautions at this stage"
        yield FIRST
        return
    for caution in stage.cautions:
        yield f"{caution.id}: {caution.title}"
        yield f"  {caution.hurts}"
        yield f"  {caution.do}"
        yield f"  asks: {caution.question.ask}"
    yield FIRST
