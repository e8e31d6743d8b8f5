"""What was done and by whom: points to accept, cautions in force, sign-offs, every check, and whose its limits are."""

from collections.abc import Iterator, Sequence

from sitelog.calculators.sheet import STAND
from sitelog.checklist.schema.guidance import Caution
from sitelog.job.cautions.answers import answer_words, stops
from sitelog.job.cautions.due import Matter, ended, last_read, latest
from sitelog.job.replies.points import changed_since, numbered, takes
from sitelog.job.state.corrections import corrections
from sitelog.job.state.order import PASSED
from sitelog.job.state.record_views import Reading
from sitelog.job.state.views import CheckView, StageView
from sitelog.reports import instructions
from sitelog.reports.formatting import Formatter
from sitelog.reports.front.amiss import in_force
from sitelog.reports.model import Block, Items, Section, Table, Words
from sitelog.reports.photos import photo_blocks, shots_at
from sitelog.reports.phrases import joined
from sitelog.reports.sources import STANDING
from sitelog.text import text_after, text_if

LOCAL_FIRST = (
    f"Figures are {STAND}. Local rules, the drawings and the site's own method statement come first: if this"
    " differs, follow them."
)
ENDED = "Read before, but no longer apply: the figures they depend on have changed."
EARLIER = "Answered with checklists this job used before. The ones it uses now don't ask these."
SIGNATURE = "A typed name shows who typed it, and no more."
FEW = 2  # lines of figures that the list of points repeats
BLANK = "____________"  # to be written on
LIMITS = (
    "Whether a size, a span, a notch, a joint in a member that carries load, or a hip with purlins on it is strong"
    " enough: ask the engineer.",
    "Whether something marked not applicable, or carried on as it is, is good enough: the person named is responsible.",
    "Whether the frame may be covered or loaded: ask building control, the engineer and whoever runs the site.",
    "Whether the scaffold, the weather or the access is safe: ask the competent person on the day.",
    "Whether anyone actually looked: a tick is only someone's word.",
    "A house limit is this firm's own, and a borrowed one is from a similar job: neither is published for this work.",
    "A pass or fail is only as good as the tape used.",
    "Lengths are worked out for straight timbers and flat slopes through the corners as measured.",
    "The record shows if an entry was changed or is missing between others. It can't show that its end was cut off:"
    " that is what the record code and its countersignature are for.",
)


def record(tell: Formatter, trades: Sequence[str]) -> Iterator[Section]:
    """The sections of the pack that follow the sizes."""
    for to in trades:
        yield Section(f"points-{to}", f"Points for the {to} to accept", tuple(_points(tell, to)))
    yield from instructions.section(tell)
    yield Section("cautions", "Cautions that apply", tuple(_cautions(tell)))
    yield Section("signed", "Signed, or carried on as it is", tuple(_sign_offs(tell)))
    if rows := tuple(_corrections(tell)):
        heads = ("Check", "As it was", "By, when", "Corrected by, when", "Reason")
        yield Section("corrections", "Corrections", (Table(heads, rows, (5, 6, 4, 4, 5)),))
    for stage in tell.state.order:
        blocks = (*_checks(tell, stage), *shots_at(tell, stage.path))
        yield Section(f"checks-{stage.path}", f"Checks: {_stage_name(tell, stage)}", blocks)
    if rows := tuple(
        (answered.ask, answered.answer, f"{answered.by}\n{tell.when(answered.at)}") for answered in tell.state.earlier
    ):
        table = Table(("Check", "As measured", "Who, when"), rows, (6, 7, 5))
        yield Section("earlier", "Earlier checks", (Words(EARLIER), table))
    if tell.album:
        yield Section("photos", "Photos", tuple(photo_blocks(tell)))
    yield Section("head", "Record code", tuple(_head_code(tell, trades)))
    yield Section(
        "limits",
        "What this program does not decide",
        (Items(tuple((limit, ()) for limit in LIMITS)), Words(LOCAL_FIRST)),
    )
    yield Section("sources", "Sources", tuple(_sources(tell)))


def _stage_name(tell: Formatter, stage: StageView) -> str:
    part = next((known.title for known in tell.state.parts if known.id == stage.part), stage.part)
    if stage.part == "job":
        return stage.stage.title
    return f"{part}, {stage.stage.title[:1].lower()}{stage.stage.title[1:]}"


# --- points -------------------------------------------------------------------------------------------------------


def points(tell: Formatter, to: str) -> tuple[CheckView, ...]:
    """The checks that this trade takes over, and every one that was let go or is not good, whoever it is for."""
    bad = ("released", "out", "unsure", "snagged", "stale", "deferred")
    return tuple(
        view for view in tell.state.checks() if takes(view, to) or view.state in bad or view.path in tell.stale_paths
    )


def _points(tell: Formatter, to: str) -> Iterator[Block]:
    yield Words(f"The {to} accepts each point, or sends it back and says why. {SIGNATURE}")
    numbers = {view.path: f"{number}. " for number, view in enumerate(numbered(tell.state, to), 1)}
    rows = tuple(
        (
            numbers.get(view.path, "") + view.check.ask_in_full,
            _found(tell, view),
            tell.how(view),
            _said(tell, view.path),
        )
        for view in points(tell, to)
    )
    yield Table(("Point", "As measured", "Status", "Accepted or sent back: name, date"), rows, (6, 6, 4, 5))
    known = {view.path for view in points(tell, to)}
    others = tuple(
        (tell.name(point.point) or point.point, _said(tell, point.point))
        for point in tell.state.points
        if point.point not in known
    )
    if others:
        yield Table(("Other points", "Accepted or sent back"), others, (5, 5))


def _found(tell: Formatter, view: CheckView) -> str:
    """What a check found, where that is short; else where it stands in full."""
    told = tell.value(view)
    many = told.count("\n") + 1
    if many <= FEW:
        return told
    return f"{many} figures: see its stage below"


def _said(tell: Formatter, path: str) -> str:
    point = next((answered for answered in tell.state.points if answered.point == path), None)
    if point is None:
        return BLANK
    note = text_after(": ", point.note)
    since = text_if(changed_since(tell.state, point), ", changed since")
    dated = text_after(", reply of ", tell.day(point.day) if point.day else "")
    word = "accepted" if point.accepted else "SENT BACK"
    return f"{word} by {point.by}, {tell.when(point.at)}{dated}{since}{note}"


# --- cautions -----------------------------------------------------------------------------------------------------


def _cautions(tell: Formatter) -> Iterator[Block]:
    yield Words(LOCAL_FIRST, strong=True)
    last = latest(tell.state.readings)
    reads: dict[str, list[str]] = {}
    for matter in in_force(tell):
        reads.setdefault(matter.caution.id, []).append(_last_read(tell, matter, last_read(matter, last)))
    told = {matter.caution.id: matter.caution for matter in in_force(tell)}
    yield Items(
        tuple(
            (f"{read_caution.title} ({'; '.join(reads[read_caution.id])})", tuple(_told(tell, read_caution)))
            for read_caution in told.values()
        )
    )
    if over := ended(tell.state, tell.library):
        yield Words(ENDED)
        yield Items(tuple((f"{caution.title} ({_as_read(tell, caution, reading)})", ()) for caution, reading in over))


def _told(tell: Formatter, caution: Caution) -> Iterator[str]:
    yield f"{caution.hurts} {caution.do}"
    yield f"Ask: {caution.ask}"
    yield from (f"{says}. {tell.source(source)}" for says, source in caution.figures)


def _last_read(tell: Formatter, matter: Matter, last: Reading | None) -> str:
    at = f"at {tell.called(matter.path)}: " if matter.path else ""
    if last is None:
        return f"{at}NOT READ"
    stopping = text_if(stops(matter.caution.question, last.answer), " STOPS THE WORK")
    return f"{at}{_as_read(tell, matter.caution, last)}{stopping}"


def _as_read(tell: Formatter, caution: Caution, last: Reading) -> str:
    return f"last read {tell.when(last.at)} by {last.by}: {answer_words(caution.question, last.answer)}"


# --- stages and checks --------------------------------------------------------------------------------------------


def _sign_offs(tell: Formatter) -> Iterator[Block]:
    yield Words(SIGNATURE)
    rows = tuple(
        (
            _stage_name(tell, stage),
            text_if(stage.stage.hold, "hold"),
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
    yield Table(("Stage", "Hold", "Status", "By, when", "Reason"), rows, (6, 2, 4, 6, 6))


def _corrections(tell: Formatter) -> Iterator[tuple[str, ...]]:
    """Each answer that another took the place of, with the reason."""
    for view in tell.state.checks():
        for correction in corrections(view):
            was, now = correction.was, correction.now
            yield (
                view.check.ask_in_full,
                tell.was(view, was),
                f"{was.by}\n{tell.when(was.at)}",
                f"{now.by}\n{tell.when(now.at)}",
                correction.reason,
            )


def _checks(tell: Formatter, stage: StageView) -> Iterator[Block]:
    rows = tuple(
        (
            joined([view.check.ask, view.note and f"Note: {view.note}"], "\n"),
            tell.value(view),
            joined([tell.limits(view), tell.sources_of(view)], "\n"),
            tell.how(view),
            joined([tell.who(view), view.instrument and f"with {view.instrument}"], "\n"),
        )
        for view in stage.shown
    )
    yield Table(("Check", "As measured", "Limit (source)", "Status", "Who, when, tool"), rows, (6, 7, 4, 4, 5))


def _sources(tell: Formatter) -> Iterator[Block]:
    """Every source that a check, a limit, a caution or a finish of the job names, once, by its number."""
    yield Words("published: printed for this work; borrowed: from a similar rule; house: the firm's own limit.")
    yield Words(f"How a source is known: {'; '.join(f'{how} ({says})' for how, says in STANDING.items())}.")
    rows = []
    once = {number: source_id for source_id, number in tell.numbers.items()}
    for number, source_id in once.items():
        source = tell.library.sources[source_id]
        year = "" if source.year in ("", "undated", "n.d.") else f", {source.year}"
        where = text_after(": ", source.locator)
        rows.append((str(number), f"{source.title}{year}{where}", source.how))
    if rows:
        yield Table(("No", "Source", "How known"), tuple(rows), (1, 14, 3))


# --- the end ------------------------------------------------------------------------------------------------------


def _head_code(tell: Formatter, trades: Sequence[str]) -> Iterator[Block]:
    yield Words(
        f"Record code {tell.state.head} after {tell.state.entries} entries. It changes with every entry."
        " Whoever takes the roof over writes it down. If the record no longer matches it, entries have been lost.",
        strong=True,
    )
    in_record = {(answered.by, answered.head): answered for answered in tell.state.points if answered.head}
    kept = (
        ("In the record", f"{answered.by} (typed name)", "", f"{tell.when(answered.at)}, {answered.head}")
        for answered in in_record.values()
    )
    rows = (*kept, *((who, "", "", "") for who in (*(f"For the {to}" for to in trades), "For the carpenters")))
    yield Table(("Countersigned", "Name", "Signature", "Date and record code"), rows, (3, 4, 4, 4))
