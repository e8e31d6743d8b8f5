"""What was done and by whom: points to accept, cautions in force, sign-offs, every check, and whose its limits are."""

from collections.abc import Iterable, Iterator

from sitelog.checklist.model import Caution
from sitelog.handover.first_page import in_force
from sitelog.handover.photos import photo_blocks
from sitelog.handover.sheets import Block, Items, Section, Table, Words
from sitelog.handover.sources import STANDING, of_stage
from sitelog.handover.told import Teller, joined
from sitelog.job.cautions import Matter, ended, last_read, latest
from sitelog.job.corrections import corrections
from sitelog.job.known import JOB
from sitelog.job.order import PASSED
from sitelog.job.readings import answer_words, stops
from sitelog.job.views import CheckView, Reading, StageView
from sitelog.trade.sheet import STAND

LOCAL_FIRST = (
    f"Figures are {STAND}. Local rules, the drawings and the site's own method statement come first; where this"
    " differs, they hold."
)
ENDED = "Read before, and no longer asked: the figures they come with have changed."
EARLIER = "Answered by lists that this job went by before; the lists it goes by now ask these no more."
SIGNATURE = "A typed name is a simple signature: it says who typed it, and nothing stronger."
FEW = 2  # lines of figures that the list of points repeats
BLANK = "____________"  # to be written on
LIMITS = (
    "Whether a size, a span, a notch, a joint in a member that carries load, or a hip with purlins on it is strong"
    " enough: the engineer says.",
    "Whether a check set aside, or a figure let go, is good enough: the person named beside it answers for that.",
    "Whether the frame may be covered or loaded: building control, the engineer and whoever is in charge of the site.",
    "Whether the scaffold, the weather or the way up is safe: the competent person on the day.",
    "Whether anybody looked: a tick is somebody's word, and is marked so.",
    "A house limit is this firm's own, and a borrowed one is a neighbour's: neither is in print for this work.",
    "A verdict on a length is no better than the tape: it is called only where the tape can tell.",
    "Lengths are worked for straight timbers and true planes through the corners that were measured.",
    "The record shows an entry that was changed or is missing between others. It can't show that its end was cut off:"
    " that is what the head code and its countersignature are for.",
)


def record(tell: Teller, to: str) -> Iterator[Section]:
    """The sections of the pack that follow the sizes."""
    yield Section("points", f"Points for the {to} to accept", tuple(_points(tell, to)))
    yield Section("cautions", "Cautions in force", tuple(_cautions(tell)))
    yield Section("signed", "Signed and released", tuple(_sign_offs(tell)))
    if rows := tuple(_corrections(tell)):
        heads = ("Check", "As it was", "By, when", "Corrected by, when", "Reason")
        yield Section("corrections", "Corrections", (Table(heads, rows, (5, 6, 4, 4, 5)),))
    for stage in tell.state.order:
        yield Section(f"checks-{stage.path}", f"Checks: {_stage_name(tell, stage)}", tuple(_checks(tell, stage)))
    if rows := tuple((one.ask, one.answer, f"{one.by}\n{tell.when(one.at)}") for one in tell.state.earlier):
        table = Table(("Check", "As found", "Who, when"), rows, (6, 7, 5))
        yield Section("earlier", "Earlier checks", (Words(EARLIER), table))
    if tell.album:
        yield Section("photos", "Photos", tuple(photo_blocks(tell)))
    yield Section("sources", "Where checks, limits and cautions come from", tuple(_sources(tell)))
    yield Section("head", "Head code", tuple(_head_code(tell, to)))
    yield Section(
        "limits", "What this program never decides", (Items(tuple((one, ()) for one in LIMITS)), Words(LOCAL_FIRST))
    )


def _stage_name(tell: Teller, stage: StageView) -> str:
    part = next((p.title for p in tell.state.parts if p.id == stage.part), stage.part)
    return (
        stage.stage.title if stage.part == "job" else f"{part}, {stage.stage.title[:1].lower()}{stage.stage.title[1:]}"
    )


# --- points -------------------------------------------------------------------------------------------------------


def takes(view: CheckView, to: str) -> bool:
    """Whether this trade takes the check over. What the job's own stages hand over goes to every trade."""
    return to in view.trades or (view.part == JOB and bool(view.trades))


def points(tell: Teller, to: str) -> tuple[CheckView, ...]:
    """The checks that this trade takes over, and every one that was let go or is not good, whoever it is for."""
    bad = ("released", "out", "unsure", "snagged", "stale", "deferred")
    return tuple(c for c in tell.state.checks() if takes(c, to) or c.state in bad or c.path in tell.stale_paths)


def _points(tell: Teller, to: str) -> Iterator[Block]:
    yield Words(f"The {to} accepts each point or sends it back with a word why. {SIGNATURE}")
    rows = tuple((c.check.ask, _found(tell, c), tell.how(c), _said(tell, c.path)) for c in points(tell, to))
    yield Table(("Point", "As found", "Stands", "Accepted or sent back: name, date"), rows, (6, 6, 4, 5))
    known = {c.path for c in points(tell, to)}
    others = tuple(
        (tell.name(p.point) or p.point, _said(tell, p.point)) for p in tell.state.points if p.point not in known
    )
    if others:
        yield Table(("Other points", "Accepted or sent back"), others, (5, 5))


def _found(tell: Teller, view: CheckView) -> str:
    """What a check found, where that is short; else where it stands in full."""
    told = tell.value(view)
    many = told.count("\n") + 1
    return told if many <= FEW else f"{many} figures: see the checks"


def _said(tell: Teller, path: str) -> str:
    point = next((p for p in tell.state.points if p.point == path), None)
    if point is None:
        return BLANK
    note = f": {point.note}" if point.note else ""
    return f"{'accepted' if point.accepted else 'SENT BACK'} by {point.by}, {tell.when(point.at)}{note}"


# --- cautions -----------------------------------------------------------------------------------------------------


def _cautions(tell: Teller) -> Iterator[Block]:
    yield Words(LOCAL_FIRST, strong=True)
    last = latest(tell.state.readings)
    reads: dict[str, list[str]] = {}
    for one in in_force(tell):
        reads.setdefault(one.caution.id, []).append(_last_read(tell, one, last_read(one, last)))
    told = {one.caution.id: one.caution for one in in_force(tell)}
    yield Items(tuple((f"{c.title} ({'; '.join(reads[c.id])})", tuple(_told(tell, c))) for c in told.values()))
    if over := ended(tell.state, tell.library):
        yield Words(ENDED)
        yield Items(tuple((f"{caution.title} ({_as_read(tell, caution, one)})", ()) for caution, one in over))


def _told(tell: Teller, caution: Caution) -> Iterator[str]:
    yield f"{caution.hurts} {caution.do}"
    yield f"Ask: {caution.ask}"
    yield from (f"{says}. {tell.source(source)}" for says, source in caution.figures)


def _last_read(tell: Teller, one: Matter, last: Reading | None) -> str:
    at = f"at {one.path}: " if one.path else ""
    if last is None:
        return f"{at}NOT READ"
    stopping = " STOPS THE WORK" if stops(one.caution.question, last.answer) else ""
    return f"{at}{_as_read(tell, one.caution, last)}{stopping}"


def _as_read(tell: Teller, caution: Caution, last: Reading) -> str:
    return f"last read {tell.when(last.at)} by {last.by}: {answer_words(caution.question, last.answer)}"


# --- stages and checks --------------------------------------------------------------------------------------------


def _sign_offs(tell: Teller) -> Iterator[Block]:
    yield Words(SIGNATURE)
    rows = tuple(
        (
            _stage_name(tell, stage),
            "hold" if stage.stage.hold else "",
            stage.state.upper()
            if stage.state == "released"
            else stage.state
            if stage.state in PASSED
            else "NOT SIGNED",
            joined([stage.by and f"{stage.by} (typed name)", tell.when(stage.at)], "\n"),
            stage.reason,
        )
        for stage in tell.state.order
    )
    yield Table(("Stage", "Hold", "Stands", "By, when", "Words with it"), rows, (6, 2, 4, 6, 6))


def _corrections(tell: Teller) -> Iterator[tuple[str, ...]]:
    """Each answer that another took the place of, with the reason."""
    for view in tell.state.checks():
        for one in corrections(view):
            was, now = one.was, one.now
            yield (
                view.check.ask,
                tell.was(view, was),
                f"{was.by}\n{tell.when(was.at)}",
                f"{now.by}\n{tell.when(now.at)}",
                one.reason,
            )


def _checks(tell: Teller, stage: StageView) -> Iterator[Block]:
    rows = tuple(
        (
            joined([view.check.ask, view.note and f"Note: {view.note}"], "\n"),
            tell.value(view),
            tell.limits(view),
            tell.how(view),
            joined([tell.who(view), view.instrument and f"with {view.instrument}"], "\n"),
        )
        for view in stage.shown
    )
    yield Table(("Check", "As found", "Limit (whose)", "Stands", "Who, when, with"), rows, (6, 7, 4, 4, 5))


def _sources(tell: Teller) -> Iterator[Block]:
    """What every check and caution of the job rests on, stage by stage."""
    yield Words("published: this very thing in print; borrowed: a neighbouring rule; house: the firm's own, to change.")
    yield Words(f"How a source is known: {'; '.join(f'{how} ({says})' for how, says in STANDING.items())}.")
    for stage in tell.state.order:
        points = list(of_stage(tell, stage))
        rows = [(one.title, cited.says, f"{cited.where} ({cited.source.how})") for one in points for cited in one.cited]
        if rows:
            heads = ("Check or caution", "What it says", "Source (how it is known)")
            yield Table(heads, tuple(_parted(rows)), (4, 4, 6), _stage_name(tell, stage))


def _parted(rows: Iterable[tuple[str, str, str]]) -> Iterator[tuple[str, str, str]]:
    """A name stands only on the first of its rows."""
    last = ""
    for name, says, source in rows:
        yield "" if name == last else name, says, source
        last = name


# --- the end ------------------------------------------------------------------------------------------------------


def _head_code(tell: Teller, to: str) -> Iterator[Block]:
    yield Words(
        f"Head code {tell.state.head} after {tell.state.entries} entries. It changes with every entry. The {to} writes"
        " it down and keeps it: a record that no longer leads to it has lost its end.",
        strong=True,
    )
    in_record = {(p.by, p.head): p for p in tell.state.points if p.head}
    kept = (("In the record", f"{p.by} (typed name)", "", f"{tell.when(p.at)}, {p.head}") for p in in_record.values())
    rows = (*kept, *((who, "", "", "") for who in (f"For the {to}", "For the carpenters")))
    yield Table(("Countersigned", "Name", "Signature", "Date and head code"), rows, (3, 4, 4, 4))
