"""What stands on the first page: all that is not as it should be, what was let go first, and whether it is signed."""

from collections.abc import Iterator
from dataclasses import dataclass

from sitelog.handover.sheets import Items, Section
from sitelog.handover.told import WITHHELD, Teller, joined
from sitelog.job.cautions import Matter, latest, matters, stopping, unread
from sitelog.job.entry import Entry
from sitelog.job.order import PASSED
from sitelog.job.photo import in_words
from sitelog.job.photos import Shown
from sitelog.job.readings import answer_words
from sitelog.job.views import CheckState, CheckView, Release, StageView

Rows = tuple[tuple[str, tuple[str, ...]], ...]
# In the order of the page. What keeps the job from being signed is told in its heading as well.
KINDS = (
    ("pointed", "Hips to be checked against the table's corner", False),
    ("released", "Released as they are", False),
    ("out", "Out of tolerance", True),
    ("unsure", "Too close to call with what it was measured with", True),
    ("snags", "Snags open", False),
    ("stale", "Stale: worked or read before something it rests on changed", True),
    ("rivals", "Two answers that differ", False),
    ("stopped", "Cautions whose last reading stops the work", True),
    ("unread", "Cautions that nobody has read", False),
    ("deferred", "Put off", True),
    ("open", "Not checked", True),
    ("aside", "Set aside as not applicable", False),
    ("unsigned", "Stages neither signed nor released", True),
    ("returned", "Points sent back", False),
    ("changed", "Checklists that are newer than those this job goes by", False),
    ("once", "Ticked at once, within a second of the tick before", False),
    ("late", "Entered more than a quarter of an hour late", False),
    ("doubted", "Measured with an instrument since marked bad", False),
    ("photos", "Photos that are missing or not as they were kept", False),
)
COUNTED = {"pointed": "hips to check", "rivals": "two answers",
           "stopped": "stop the work", "unread": "cautions unread", "open": "not checked",
           "aside": "set aside", "unsigned": "stages unsigned", "returned": "sent back", "changed": "lists changed",
           "once": "ticked at once", "late": "late", "doubted": "instrument doubted",
           "photos": "photos missing"}  # fmt: skip


@dataclass(frozen=True)
class FirstPage:
    """The rows of each kind, by its id in KINDS."""

    rows: dict[str, Rows]
    unread_stops: int
    signature: str

    @property
    def sections(self) -> tuple[Section, ...]:
        return tuple(Section(id, title, (Items(self.rows[id]),)) for id, title, _ in KINDS if self.rows[id])

    @property
    def counts(self) -> tuple[tuple[str, int], ...]:
        kinds = (id for id, _, _ in KINDS if id != "pointed" or self.rows[id])
        return tuple((COUNTED.get(id, id), len(self.rows[id])) for id in kinds)

    @property
    def reasons(self) -> tuple[str, ...]:
        """What keeps the handover from being signed, or should have."""
        found = [(COUNTED.get(id, id), len(self.rows[id])) for id, _, stops in KINDS if stops]
        found.append(("unread cautions that stop the handover", self.unread_stops))
        return tuple(f"{what} {count}" for what, count in found if count)

    @property
    def signed(self) -> bool:
        return bool(self.signature) and not self.reasons

    @property
    def standing(self) -> str:
        """The heading: signed, and by whom, or why not."""
        if self.signed:
            return f"SIGNED {self.signature}. A typed name is a simple signature."
        why = joined(self.reasons) or "the handover waits for its signature"
        since = f" It was signed {self.signature}, and does not stand so any more." if self.signature else ""
        return f"NOT SIGNED: {why}.{since}"


def first_page(tell: Teller) -> FirstPage:
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
            (f"{_asked(one)}{', stops the handover' if one.caution.stops else ''}", ()) for one in unread_now
        ),
        "deferred": tuple(_deferred(tell)),
        "open": tuple((f"{c.path}  {c.check.ask}", ()) for c in checks if c.state == "open"),
        "aside": tuple(_aside(tell, c) for c in checks if c.state == "not applicable"),
        "unsigned": tuple(_unsigned(s) for s in tell.state.order if s.state not in PASSED),
        "returned": tuple(_returned(tell)),
        "pointed": tuple((one, ()) for one in tell.state.pointed),
        "changed": tuple(
            (one, ("It goes by its own until it is brought to these.",)) for one in tell.state.changed_lists
        ),
        "once": tuple(_flagged(tell, c) for c in checks if c.at_once),
        "late": tuple(_flagged(tell, c) for c in checks if c.late),
        "doubted": tuple(_doubted(tell, c) for c in checks if c.doubted),
        "photos": tuple(_photo(tell, one) for one in tell.album if one.stand not in ("there", "name only")),
    }
    last = [s for s in tell.state.order if s.stage.place == "last"]
    signature = joined(f"by {s.by}, {tell.when(s.at)}" for s in last if tell.state.handed_over and s.by)
    return FirstPage(rows, sum(one.caution.stops for one in unread_now), signature)


def in_force(tell: Teller) -> tuple[Matter, ...]:
    """Every caution that applies at some stage as the facts stand, in the order of work: once, or once a stage."""
    return matters(tell.state.order)


def _asked(one: Matter) -> str:
    return f"{one.caution.title} ({one.caution.id}{f', at {one.path}' if one.path else ''})"


def _head(tell: Teller, path: str) -> str:
    return f"{path}  {tell.name(path)}".strip()


def _release(tell: Teller, release: Release) -> tuple[str, tuple[str, ...]]:
    view = tell.state.check(release.path)
    stale = any(path == release.path or path.startswith(f"{release.path}.") for path in tell.stale_paths)
    was = f"{release.was.partition(',')[0] if view else 'not settled'} ({WITHHELD})" if stale else release.was
    now = view.state if view else getattr(tell.state.stage(release.path), "state", "")
    return _head(tell, release.path), (
        f"Released by {release.by}, {tell.when(release.at)}: {release.reason}",
        *((f"It was {was}",) if was else ()),
        *((f"It is {now} now",) if now and now != "released" else ()),
    )


def _measured(tell: Teller, checks: tuple[CheckView, ...], state: CheckState) -> Rows:
    return tuple(
        (f"{c.path}  {c.check.ask}", (*tell.value(c).split("\n"), *_against(tell, c)))
        for c in checks
        if c.state == state
    )


def _against(tell: Teller, view: CheckView) -> Iterator[str]:
    limits = tell.limits(view).replace("\n", "; ")
    yield joined(
        [
            limits and f"limit: {limits}",
            tell.who(view).replace("\n", ", "),
            view.instrument and f"with {view.instrument}",
        ],
        " · ",
    )


def _snags(tell: Teller) -> Iterator[tuple[str, tuple[str, ...]]]:
    for snag in tell.state.open_snags:
        view = tell.state.check(snag.path)
        found = tell.value(view).split("\n") if view and view.by else []
        yield (
            f"Snag {snag.id}: {snag.text}",
            (
                *((f"at {_head(tell, snag.path)}",) if snag.path else ()),
                *found,
                joined([snag.who and f"to be put right by {snag.who}", snag.due and f"due {snag.due}"])
                or "nobody is named to put it right",
                f"raised by {snag.by}, {tell.when(snag.at)}",
            ),
        )


def _stale(tell: Teller, view: CheckView) -> tuple[str, tuple[str, ...]]:
    who = tell.who(view).replace("\n", ", ")
    return f"{view.path}  {view.check.ask}", (f"{WITHHELD}: {tell.why_stale(view)}", f"answered by {who}")


def _rivals(tell: Teller, view: CheckView) -> tuple[str, tuple[str, ...]]:
    if view.path in tell.stale_paths:
        return f"{view.path}  {view.check.ask}", (WITHHELD,)
    others = (f"also {joined([*_said(e), in_words(e.value)])}, by {e.by}, {tell.when(e.at)}" for e in view.rivals)
    return f"{view.path}  {view.check.ask}", (f"in force: {tell.value(view)}", *others)


def _said(entry: Entry) -> Iterator[str]:
    return (f"{k} {v}" for k, v in entry.value.items() if not k.startswith("@") and k not in ("photo", "photos"))


def _stopped(tell: Teller) -> Iterator[tuple[str, tuple[str, ...]]]:
    last_read = latest(tell.state.readings)
    for one in in_force(tell):
        last, question = stopping(one, last_read), one.caution.question
        if last:
            answer = answer_words(question, last.answer)
            yield _asked(one), (f"{question.ask}: {answer}, {last.by}, {tell.when(last.at)}",)


def _deferred(tell: Teller) -> Iterator[tuple[str, tuple[str, ...]]]:
    for one in tell.state.deferrals:
        if one.open:
            yield _head(tell, one.path), (f"until {one.until}: {one.reason}", f"{one.by}, {tell.when(one.at)}")


def _aside(tell: Teller, view: CheckView) -> tuple[str, tuple[str, ...]]:
    return f"{view.path}  {view.check.ask}", (f"{view.note or 'no reason kept'} ({view.by}, {tell.when(view.at)})",)


def _unsigned(stage: StageView) -> tuple[str, tuple[str, ...]]:
    return f"{stage.path}  {stage.stage.title}{', a hold' if stage.stage.hold else ''}", ()


def _returned(tell: Teller) -> Iterator[tuple[str, tuple[str, ...]]]:
    for point in tell.state.points:
        if not point.accepted:
            yield _head(tell, point.point), (f"{point.note} ({point.by}, {tell.when(point.at)})",)


def _flagged(tell: Teller, view: CheckView) -> tuple[str, tuple[str, ...]]:
    told = joined([tell.who(view).replace("\n", ", "), view.instrument and f"with {view.instrument}"], " · ")
    return f"{view.path}  {view.check.ask}", (told,)


def _photo(tell: Teller, shown: Shown) -> tuple[str, tuple[str, ...]]:
    one = shown.taken
    file = one.photo.file if one.photo else ""
    return _head(tell, one.path), (
        f"Photo {one.name} is {shown.stand.upper()} ({one.by}, {tell.when(one.at)})",
        f"It was kept as {file}; a copy of the job may have it.",
    )


def _doubted(tell: Teller, view: CheckView) -> tuple[str, tuple[str, ...]]:
    head, lines = _flagged(tell, view)
    tool = tell.state.instruments[view.instrument]
    return head, (*lines, f"{tool.id} was marked bad by {tool.by}, {tell.when(tool.at)}: {tool.why}")
