"""What is not as it should be in a job, kind by kind: what was let go, left open, doubted, read too late."""

from collections.abc import Callable, Iterator
from dataclasses import dataclass, replace

from sitelog.job.cautions.answers import answer_words
from sitelog.job.cautions.due import Matter, latest, matters, stopping, unread
from sitelog.job.log.entry import Entry
from sitelog.job.photos.photo import in_words
from sitelog.job.replies.points import changed_since
from sitelog.job.state.marks import CHECK, state_word
from sitelog.job.state.order import PASSED
from sitelog.job.state.record_views import Release
from sitelog.job.state.views import CheckState, CheckView
from sitelog.reports.formatting import WITHHELD, Formatter
from sitelog.reports.phrases import joined
from sitelog.text import text_if


@dataclass(frozen=True)
class Found:
    """One thing that is not as it should be: what it is called, what is said of it, and the path it is found at.

    `past` tells that it has been put right since.
    """

    head: str
    lines: tuple[str, ...] = ()
    path: str = ""
    past: bool = False


SETTLED = ("done", "ticked", "signed")  # the words of what was carried on with, and has been put right since


Rows = tuple[Found, ...]


Finder = Callable[[Formatter], Iterator[Found]]


def in_force(tell: Formatter) -> tuple[Matter, ...]:
    """Every caution that applies at some stage as the facts stand, in the order of work: once, or once a stage."""
    return matters(tell.state.order)


def _asked(tell: Formatter, asked: Matter) -> str:
    at = f" (at {tell.called(asked.path)})" if asked.path else ""
    return f"{asked.caution.title}{at}"


def _at(tell: Formatter, path: str, *lines: str) -> Found:
    return Found(tell.called(path) or path, lines, path)


def _pointed(tell: Formatter) -> Iterator[Found]:
    yield from map(Found, tell.state.pointed)


def _roof(tell: Formatter) -> Iterator[Found]:
    yield from map(Found, tell.state.roof_changes)


def _released(tell: Formatter) -> Iterator[Found]:
    for release in reversed(tell.state.releases):
        yield _release(tell, release)


def _release(tell: Formatter, release: Release) -> Found:
    lines = [f"Carried on as it is by {release.by}, {tell.when(release.at)}: {release.reason}"]
    view = tell.state.check(release.path)
    was = _was(release.was)
    if any(path == release.path or path.startswith(f"{release.path}.") for path in tell.stale_paths):
        was = f"{was.partition(',')[0] if view else 'not settled'} ({WITHHELD})"
    if was:
        lines.append(f"It was {was}")
    now = state_word(view) if view else getattr(tell.state.stage(release.path), "state", "")
    if now and now != "released":
        lines.append(f"It is {now} now")
    return replace(_at(tell, release.path, *lines), past=now in SETTLED)


def _was(kept: str) -> str:
    """How a check stood when it was released, as the record keeps it, with the word for it that is shown."""
    state, comma, figures = kept.partition(",")
    words: dict[str, str] = {known: mark.word for known, mark in CHECK.items()}
    return f"{words.get(state, state)}{comma}{figures}"


def _measured(state: CheckState) -> Finder:
    """Finds the measured checks in that state, with what they found and what that is held to."""

    def find(tell: Formatter) -> Iterator[Found]:
        for view in tell.state.checks():
            if view.state == state:
                yield _at(tell, view.path, *tell.value(view).split("\n"), _against(tell, view))

    return find


def _against(tell: Formatter, view: CheckView) -> str:
    limits = tell.limits(view).replace("\n", "; ")
    return joined(
        [
            limits and f"limit: {limits}",
            tell.who(view).replace("\n", ", "),
            view.instrument and f"with {view.instrument}",
        ],
        " · ",
    )


def _snags(tell: Formatter) -> Iterator[Found]:
    for snag in tell.state.open_snags:
        lines = [f"at {tell.called(snag.path) or snag.path}"] if snag.path else []
        view = tell.state.check(snag.path)
        if view and view.by:
            lines += tell.value(view).split("\n")
        fixer = joined([snag.who and f"to be fixed by {snag.who}", snag.due and f"by {tell.day(snag.due)}"])
        lines += [fixer or "nobody named to fix it", f"raised by {snag.by}, {tell.when(snag.at)}"]
        yield Found(f"Snag {snag.id}: {snag.text}", tuple(lines), snag.path)


def _stale(tell: Formatter) -> Iterator[Found]:
    for view in tell.state.checks():
        if view.path in tell.stale_paths:
            who = tell.who(view).replace("\n", ", ")
            yield _at(tell, view.path, f"{WITHHELD}: {tell.why_stale(view)}", f"answered by {who}")


def _rivals(tell: Formatter) -> Iterator[Found]:
    for view in tell.state.checks():
        if not view.rivals:
            continue
        if view.path in tell.stale_paths:
            yield _at(tell, view.path, WITHHELD)
            continue
        others = (f"also {_said(entry)}, by {entry.by}, {tell.when(entry.at)}" for entry in view.rivals)
        yield _at(tell, view.path, f"being used: {tell.value(view)}", *others)


def _said(entry: Entry) -> str:
    """What an answer says, key by key, and its photos."""
    told = [
        f"{key} {value}"
        for key, value in entry.value.items()
        if not key.startswith("@") and key not in ("photo", "photos")
    ]
    return joined([*told, in_words(entry.value)])


def _stopped(tell: Formatter) -> Iterator[Found]:
    last_read = latest(tell.state.readings)
    for asked in in_force(tell):
        last, question = stopping(asked, last_read), asked.caution.question
        if last:
            answer = answer_words(question, last.answer)
            yield Found(_asked(tell, asked), (f"{question.ask}: {answer}, {last.by}, {tell.when(last.at)}",))


def _unread(tell: Formatter) -> Iterator[Found]:
    for asked in unread(tell.state.order, tell.state):
        stops = text_if(asked.caution.stops, ": read it before handover")
        yield Found(f"{_asked(tell, asked)}{stops}")


def _deferred(tell: Formatter) -> Iterator[Found]:
    for deferral in tell.state.deferrals:
        if deferral.open:
            till = f"left till {tell.called(deferral.until)}: {deferral.reason}"
            yield _at(tell, deferral.path, till, f"{deferral.by}, {tell.when(deferral.at)}")


def _open(tell: Formatter) -> Iterator[Found]:
    for view in tell.state.checks():
        if view.state == "open":
            yield _at(tell, view.path)


def _aside(tell: Formatter) -> Iterator[Found]:
    for view in tell.state.checks():
        if view.state == "not applicable":
            yield _at(tell, view.path, f"{view.note or 'no reason kept'} ({view.by}, {tell.when(view.at)})")


def _unsigned(tell: Formatter) -> Iterator[Found]:
    for stage in tell.state.order:
        if stage.state not in PASSED:
            hold = text_if(stage.stage.hold, ", a hold")
            yield Found(f"{tell.called(stage.path)}{hold}", path=stage.path)


def _returned(tell: Formatter) -> Iterator[Found]:
    for point in tell.state.points:
        if not point.accepted:
            since = text_if(changed_since(tell.state, point), ", changed since")
            yield _at(tell, point.point, f"{point.note} ({point.by}, {tell.when(point.at)}{since})")


def _changed(tell: Formatter) -> Iterator[Found]:
    for name in tell.state.changed_lists:
        yield Found(name, ("The job keeps its own until somebody updates it.",))


def _once(tell: Formatter) -> Iterator[Found]:
    for view in tell.state.checks():
        if view.at_once:
            yield _at(tell, view.path, _by_and_with(tell, view))


def _late(tell: Formatter) -> Iterator[Found]:
    for view in tell.state.checks():
        if view.late:
            yield _at(tell, view.path, _by_and_with(tell, view))


def _doubted(tell: Formatter) -> Iterator[Found]:
    for view in tell.state.checks():
        if view.doubted:
            tool = tell.state.instruments[view.instrument]
            why = f"{tool.id} was marked bad by {tool.by}, {tell.when(tool.at)}: {tool.why}"
            yield _at(tell, view.path, _by_and_with(tell, view), why)


def _by_and_with(tell: Formatter, view: CheckView) -> str:
    """Who answered a check, when, and with what."""
    return joined([tell.who(view).replace("\n", ", "), view.instrument and f"with {view.instrument}"], " · ")


def _photos(tell: Formatter) -> Iterator[Found]:
    for shown in tell.album:
        if shown.stand in ("there", "name only"):
            continue
        taken = shown.taken
        file = taken.photo.file if taken.photo else ""
        yield _at(
            tell,
            taken.path,
            f"Photo {taken.name} is {shown.stand.upper()} ({taken.by}, {tell.when(taken.at)})",
            f"File name {file}. Another copy of the job may have it.",
        )


FINDERS: dict[str, Finder] = {
    "released": _released,
    "out": _measured("out"),
    "unsure": _measured("unsure"),
    "snags": _snags,
    "stale": _stale,
    "rivals": _rivals,
    "stopped": _stopped,
    "unread": _unread,
    "deferred": _deferred,
    "open": _open,
    "aside": _aside,
    "unsigned": _unsigned,
    "returned": _returned,
    "pointed": _pointed,
    "roof": _roof,
    "changed": _changed,
    "once": _once,
    "late": _late,
    "doubted": _doubted,
    "photos": _photos,
}
