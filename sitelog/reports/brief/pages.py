"""The brief: what the next trade needs on two pages for the job and one for each part, and nothing else."""

from collections.abc import Iterator, Sequence

from sitelog.job.cautions.answers import answer_words
from sitelog.job.cautions.due import last_read, latest, matter
from sitelog.job.facts.schema import JOB
from sitelog.job.replies.points import numbered
from sitelog.job.state.views import CheckView, PartView
from sitelog.reports.brief.cut_roof import lines_table
from sitelog.reports.brief.needs import answer_of, in_pairs, needs, sizes, slopes_table
from sitelog.reports.brief.slopes import slopes
from sitelog.reports.brief.wrong import wrong
from sitelog.reports.formatting import Formatter
from sitelog.reports.front.first_page import FirstPage
from sitelog.reports.model import Block, Leaf, Points, Row, Table, Words
from sitelog.reports.phrases import joined
from sitelog.reports.sketches import Sketch

NOT_CHECKED = "under Not checked"  # where the record has the list; a PDF says the page
MOST_WRONG = 10  # lines of what is wrong, stops apart
MOST_POINTS = 34  # on the page of one part

POINT = ("No", "Point", "As built", "Status", "Yes", "Name, date; if no, why")
SHARES = (1, 7, 7, 3, 1, 3)
STACKS = "load-both-sides"  # the caution that asks where the first stacks go
EDGES = f"{JOB}.before.scaffold"  # the guard rails, as they were last read


def leaves(tell: Formatter, to: str, page: FirstPage, unchecked_at: str) -> tuple[Leaf, ...]:
    """The pages for a trade. `unchecked_at` says where the record lists what was not checked."""
    parts = [part for part in tell.state.parts if part.id != JOB and concerns(part, to)]
    parts = parts or [part for part in tell.state.parts if part.id != JOB]
    drawn = {part.id: tell.sketches(part.id) for part in parts}
    first = Leaf("What is not right, and the plan", tuple(_first(tell, page, unchecked_at, parts, drawn)))
    second = Leaf("What you need", tuple(_second(tell, to, parts)))
    own = []
    for number, part in enumerate(parts):
        blocks = tuple(_part(tell, to, part, drawn[part.id], first=number == 0))
        own.append(Leaf(part.title, blocks, part.id))
    return (first, second, *own)


def concerns(part: PartView, to: str) -> bool:
    """Whether the trade takes anything of the part over."""
    return any(to in view.trades for stage in part.stages if stage.applies for view in stage.shown)


# --- page 1 -------------------------------------------------------------------------------------------------------


def _first(
    tell: Formatter, page: FirstPage, at: str, parts: Sequence[PartView], drawn: dict[str, tuple[Sketch, ...]]
) -> Iterator[Block]:
    rows = [*wrong(page)]
    stops = [row for row, stops in rows if stops]
    others = [row for row, stops in rows if not stops]
    kept = others[: max(MOST_WRONG - len(stops), 3)]
    table = [*stops, *kept]
    if more := len(others) - len(kept):
        table.append(("", f"and {more} more: {at}"))
    if table:
        yield Table(("Not right", "Where, and what"), tuple(table), (2, 11))
    else:
        yield Words("Nothing is out, carried on as it is, out of date or sent back.")
    count = len(page.rows["open"])
    if count:
        yield Words(f"Not checked: {count}. The list is in the record, {at}.")
    yield from _plan(tell, parts, drawn)


def _plan(tell: Formatter, parts: Sequence[PartView], drawn: dict[str, tuple[Sketch, ...]]) -> Iterator[Block]:
    """The plan as built of the first part that has one; else its first drawing."""
    for part in parts:
        found = next((sketch for sketch in drawn[part.id] if sketch.drawing), None)
        if found and found.drawing and not found.rests_on & tell.stale_paths:
            yield found.drawing
            return


# --- page 2 -------------------------------------------------------------------------------------------------------


def _covers(part: PartView, to: str) -> bool:
    """Whether the trade covers the slopes of the part: the stage of that trade's own is handed over to it."""
    stages = [stage for stage in part.stages if stage.applies and stage.stage.id == "tiler"]
    return any(to in view.trades for stage in stages for view in stage.shown)


def _second(tell: Formatter, to: str, parts: Sequence[PartView]) -> Iterator[Block]:
    roofs = [(part, slopes(tell, part)) for part in parts if _covers(part, to)]
    if roofs:
        yield slopes_table(roofs, many=len(parts) > 1)
    for part, _ in roofs:
        if lines := lines_table(tell, part):
            yield lines
        yield in_pairs(part.title, sizes(tell, part))
    if on_the_roof := tuple(_on_the_roof(tell, to)):
        yield Points(("No", "On the roof now", "As found", *POINT[3:]), on_the_roof, SHARES)


def _on_the_roof(tell: Formatter, to: str) -> Iterator[Row]:
    """What the next trade finds up there: edge protection, as last read; braces, stacks, access, what is left to do."""
    edges = tell.state.check(EDGES)
    numbered_here = points_of(tell, to, JOB)
    if edges and edges.path not in {view.path for _, view in numbered_here}:
        yield "", edges.check.ask_in_full, _answer_and_when(tell, edges), tell.how(edges), "", ""
    yield from _loads(tell)
    for number, view in numbered_here:
        yield _point(tell, number, view)


def _loads(tell: Formatter) -> Iterator[Row]:
    """Where the first stacks go, as was said to the caution about them."""
    caution = tell.library.cautions.get(STACKS)
    last = last_read(matter(caution, ""), latest(tell.state.readings)) if caution else None
    if caution and last:
        found = joined([answer_words(caution.question, last.answer), tell.when(last.at)], ", ")
        yield "", caution.question.ask, found, "", "", ""


def _answer_and_when(tell: Formatter, view: CheckView) -> str:
    return joined([answer_of(tell, view), tell.when(view.at) if view.by else ""], ", ")


def _point(tell: Formatter, number: int, view: CheckView) -> Row:
    """A point's row; of the job's own, when it was found so."""
    found = _answer_and_when(tell, view) if view.part == JOB else answer_of(tell, view)
    return str(number), view.check.ask_in_full, found, tell.how(view), "☐", ""


# --- a page a part ------------------------------------------------------------------------------------------------


def _part(tell: Formatter, to: str, part: PartView, drawn: Sequence[Sketch], *, first: bool) -> Iterator[Block]:
    """Its drawing, unless that is on page 1, its own sizes where page 2 has none, and its points."""
    sound = [sketch.drawing for sketch in drawn if sketch.drawing and not sketch.rests_on & tell.stale_paths]
    if sound and not first:
        yield sound[0]
    if not _covers(part, to):
        yield from needs(tell, part)
    found = points_of(tell, to, part.id)
    rows = tuple(_point(tell, number, view) for number, view in found)
    if rows:
        yield Points(POINT, rows[:MOST_POINTS], SHARES, rest=rows[MOST_POINTS:])
    if more := rows[MOST_POINTS:]:
        yield Words(f"and {len(more)} more points in the record: {more[0][0]} to {more[-1][0]}.")


def points_of(tell: Formatter, to: str, part: str) -> tuple[tuple[int, CheckView], ...]:
    """The points of a part that the trade accepts or sends back, each with its number."""
    every = enumerate(numbered(tell.state, to), 1)
    return tuple((number, view) for number, view in every if view.part == part)
