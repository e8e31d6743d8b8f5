"""What stands on the first page: all that is not as it should be, what was let go first, and whether it is signed."""

from collections.abc import Iterator
from dataclasses import dataclass

from sitelog.job.cautions.answers import answer_words
from sitelog.job.cautions.due import Matter, latest, matters, stopping, unread
from sitelog.job.log.entry import Entry
from sitelog.job.photos.keeping import Shown
from sitelog.job.photos.photo import in_words
from sitelog.job.state.marks import CHECK, state_word
from sitelog.job.state.order import PASSED
from sitelog.job.state.record_views import Release
from sitelog.job.state.views import CheckState, CheckView, StageView
from sitelog.reports.formatting import WITHHELD, Formatter, joined
from sitelog.reports.model import Items, Section


@dataclass(frozen=True)
class Found:
    """One thing that is not as it should be: what it is called, what is said of it, and the path it is found at."""

    head: str
    lines: tuple[str, ...] = ()
    path: str = ""


Rows = tuple[Found, ...]
# In the order of the page. What keeps the job from being signed is told in its heading as well.
KINDS = (
    ("pointed", "Hips to check against the table's corner", False),
    ("released", "Carried on as it is", False),
    ("out", "Out of tolerance", True),
    ("unsure", "Too close to call", True),
    ("snags", "Snags open", False),
    ("stale", "Out of date: a figure changed after this was done", True),
    ("rivals", "Two different answers", False),
    ("stopped", "Stop work: the last reading says so", True),
    ("unread", "Cautions not read", False),
    ("deferred", "Left till later", True),
    ("open", "Not checked", True),
    ("aside", "Not applicable", False),
    ("unsigned", "Stages not signed", True),
    ("returned", "Points sent back", False),
    ("changed", "Newer checklists than this job uses", False),
    ("once", "Ticked within a second of the one before", False),
    ("late", "Recorded more than 15 minutes late", False),
    ("doubted", "Measured with a tool later marked bad", False),
    ("photos", "Photos missing or changed", False),
)
COUNTED = {"pointed": "hips to check", "unsure": "too close to call", "stale": "out of date", "rivals": "two answers",
           "stopped": "stop work", "unread": "cautions not read", "deferred": "left till later", "open": "not checked",
           "aside": "not applicable", "unsigned": "stages not signed", "returned": "sent back",
           "changed": "newer checklists",
           "once": "ticked at once", "late": "late", "doubted": "bad tool",
           "photos": "photos missing"}  # fmt: skip


@dataclass(frozen=True)
class FirstPage:
    """The rows of each kind, by its id in KINDS."""

    rows: dict[str, Rows]
    unread_stops: int
    signature: str

    @property
    def sections(self) -> tuple[Section, ...]:
        return tuple(
            Section(id, title, (Items(tuple((one.head, one.lines) for one in self.rows[id])),))
            for id, title, _ in KINDS
            if self.rows[id]
        )

    @property
    def counts(self) -> tuple[tuple[str, int], ...]:
        kinds = (id for id, _, _ in KINDS if id != "pointed" or self.rows[id])
        return tuple((COUNTED.get(id, id), len(self.rows[id])) for id in kinds)

    @property
    def reasons(self) -> tuple[str, ...]:
        """What keeps the handover from being signed, or should have."""
        found = [(COUNTED.get(id, id), len(self.rows[id])) for id, _, stops in KINDS if stops]
        found.append(("cautions still to read before handover", self.unread_stops))
        return tuple(f"{what} {count}" for what, count in found if count)

    @property
    def signed(self) -> bool:
        return bool(self.signature) and not self.reasons

    @property
    def standing(self) -> str:
        """The heading: signed, and by whom, or why not."""
        if self.signed:
            return f"SIGNED {self.signature}. A typed name shows who typed it."
        why = joined(self.reasons) or "waiting for the handover signature"
        since = f" It was signed {self.signature}, but that signature no longer counts." if self.signature else ""
        return f"NOT SIGNED: {why}.{since}"


def first_page(tell: Formatter) -> FirstPage:
    checks = tuple(tell.state.checks())
    unread_now = unread(tell.state.order, tell.state)
    rows: dict[str, Rows] = {
        "released": tuple(_release(tell, one) for one in reversed(tell.state.releases)),
        "out": _measured(tell, checks, "out"),
        "unsure": _measured(tell, checks, "unsure"),
        "snags": tuple(_snags(tell)),
        "stale": tuple(_stale(tell, c) for c in checks if c.path in tell.stale_paths),
        "rivals": tuple(_rivals(tell, c) for c in checks if c.rivals),
        "stopped": tuple(_stopped(tell)),
        "unread": tuple(
            Found(f"{_asked(tell, one)}{': read it before handover' if one.caution.stops else ''}")
            for one in unread_now
        ),
        "deferred": tuple(_deferred(tell)),
        "open": tuple(_at(tell, c.path) for c in checks if c.state == "open"),
        "aside": tuple(_aside(tell, c) for c in checks if c.state == "not applicable"),
        "unsigned": tuple(_unsigned(tell, s) for s in tell.state.order if s.state not in PASSED),
        "returned": tuple(_returned(tell)),
        "pointed": tuple(Found(one) for one in tell.state.pointed),
        "changed": tuple(
            Found(one, ("The job keeps its own until somebody updates it.",)) for one in tell.state.changed_lists
        ),
        "once": tuple(_flagged(tell, c) for c in checks if c.at_once),
        "late": tuple(_flagged(tell, c) for c in checks if c.late),
        "doubted": tuple(_doubted(tell, c) for c in checks if c.doubted),
        "photos": tuple(_photo(tell, one) for one in tell.album if one.stand not in ("there", "name only")),
    }
    last = [s for s in tell.state.order if s.stage.place == "last"]
    signature = joined(f"by {s.by}, {tell.when(s.at)}" for s in last if tell.state.handed_over and s.by)
    return FirstPage(rows, sum(one.caution.stops for one in unread_now), signature)


def in_force(tell: Formatter) -> tuple[Matter, ...]:
    """Every caution that applies at some stage as the facts stand, in the order of work: once, or once a stage."""
    return matters(tell.state.order)


def _asked(tell: Formatter, one: Matter) -> str:
    return f"{one.caution.title}{f' (at {tell.called(one.path)})' if one.path else ''}"


def _at(tell: Formatter, path: str, *lines: str) -> Found:
    return Found(tell.called(path) or path, lines, path)


def _release(tell: Formatter, release: Release) -> Found:
    view = tell.state.check(release.path)
    stale = any(path == release.path or path.startswith(f"{release.path}.") for path in tell.stale_paths)
    was = _was(release.was)
    if stale:
        was = f"{was.partition(',')[0] if view else 'not settled'} ({WITHHELD})"
    now = state_word(view) if view else getattr(tell.state.stage(release.path), "state", "")
    return _at(
        tell,
        release.path,
        f"Carried on as it is by {release.by}, {tell.when(release.at)}: {release.reason}",
        *((f"It was {was}",) if was else ()),
        *((f"It is {now} now",) if now and now != "released" else ()),
    )


def _was(kept: str) -> str:
    """How a check stood when it was released, as the record keeps it, with the word for it that is shown."""
    state, comma, figures = kept.partition(",")
    words: dict[str, str] = {known: mark.word for known, mark in CHECK.items()}
    return f"{words.get(state, state)}{comma}{figures}"


def _measured(tell: Formatter, checks: tuple[CheckView, ...], state: CheckState) -> Rows:
    return tuple(_at(tell, c.path, *tell.value(c).split("\n"), *_against(tell, c)) for c in checks if c.state == state)


def _against(tell: Formatter, view: CheckView) -> Iterator[str]:
    limits = tell.limits(view).replace("\n", "; ")
    yield joined(
        [
            limits and f"limit: {limits}",
            tell.who(view).replace("\n", ", "),
            view.instrument and f"with {view.instrument}",
        ],
        " · ",
    )


def _snags(tell: Formatter) -> Iterator[Found]:
    for snag in tell.state.open_snags:
        view = tell.state.check(snag.path)
        found = tell.value(view).split("\n") if view and view.by else []
        yield Found(
            f"Snag {snag.id}: {snag.text}",
            (
                *((f"at {tell.called(snag.path) or snag.path}",) if snag.path else ()),
                *found,
                joined([snag.who and f"to be fixed by {snag.who}", snag.due and f"by {tell.day(snag.due)}"])
                or "nobody named to fix it",
                f"raised by {snag.by}, {tell.when(snag.at)}",
            ),
            snag.path,
        )


def _stale(tell: Formatter, view: CheckView) -> Found:
    who = tell.who(view).replace("\n", ", ")
    return _at(tell, view.path, f"{WITHHELD}: {tell.why_stale(view)}", f"answered by {who}")


def _rivals(tell: Formatter, view: CheckView) -> Found:
    if view.path in tell.stale_paths:
        return _at(tell, view.path, WITHHELD)
    others = (f"also {joined([*_said(e), in_words(e.value)])}, by {e.by}, {tell.when(e.at)}" for e in view.rivals)
    return _at(tell, view.path, f"being used: {tell.value(view)}", *others)


def _said(entry: Entry) -> Iterator[str]:
    return (f"{k} {v}" for k, v in entry.value.items() if not k.startswith("@") and k not in ("photo", "photos"))


def _stopped(tell: Formatter) -> Iterator[Found]:
    last_read = latest(tell.state.readings)
    for one in in_force(tell):
        last, question = stopping(one, last_read), one.caution.question
        if last:
            answer = answer_words(question, last.answer)
            yield Found(_asked(tell, one), (f"{question.ask}: {answer}, {last.by}, {tell.when(last.at)}",))


def _deferred(tell: Formatter) -> Iterator[Found]:
    for one in tell.state.deferrals:
        if one.open:
            till = f"left till {tell.called(one.until)}: {one.reason}"
            yield _at(tell, one.path, till, f"{one.by}, {tell.when(one.at)}")


def _aside(tell: Formatter, view: CheckView) -> Found:
    return _at(tell, view.path, f"{view.note or 'no reason kept'} ({view.by}, {tell.when(view.at)})")


def _unsigned(tell: Formatter, stage: StageView) -> Found:
    return Found(f"{tell.called(stage.path)}{', a hold' if stage.stage.hold else ''}", path=stage.path)


def _returned(tell: Formatter) -> Iterator[Found]:
    for point in tell.state.points:
        if not point.accepted:
            yield _at(tell, point.point, f"{point.note} ({point.by}, {tell.when(point.at)})")


def _flagged(tell: Formatter, view: CheckView) -> Found:
    told = joined([tell.who(view).replace("\n", ", "), view.instrument and f"with {view.instrument}"], " · ")
    return _at(tell, view.path, told)


def _photo(tell: Formatter, shown: Shown) -> Found:
    one = shown.taken
    file = one.photo.file if one.photo else ""
    return _at(
        tell,
        one.path,
        f"Photo {one.name} is {shown.stand.upper()} ({one.by}, {tell.when(one.at)})",
        f"File name {file}. Another copy of the job may have it.",
    )


def _doubted(tell: Formatter, view: CheckView) -> Found:
    tool = tell.state.instruments[view.instrument]
    return _at(
        tell,
        view.path,
        *_flagged(tell, view).lines,
        f"{tool.id} was marked bad by {tool.by}, {tell.when(tool.at)}: {tool.why}",
    )
