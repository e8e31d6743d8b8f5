"""The brief: what the next trade needs on two pages for the job and one for each part, and nothing else."""

from collections.abc import Iterator, Sequence

from sitelog.job.facts.schema import JOB
from sitelog.job.state.views import CheckView, PartView
from sitelog.reports.brief.slopes import Slope, slopes
from sitelog.reports.first_page import FirstPage, Found
from sitelog.reports.formatting import WITHHELD, Formatter, joined
from sitelog.reports.model import Block, Leaf, Table, Words
from sitelog.reports.record import takes
from sitelog.reports.sketches import Sketch
from sitelog.text import text_if

NOT_CHECKED = "under Not checked"  # where the record has the list; a PDF says the page
STOP = "STOP"  # how every row of what stops the work begins
MOST_PLACES = 4  # named of one caution
BEFORE_HANDOVER = ": read it before handover"
MOST_WRONG = 10  # lines of what is wrong, stops apart
MOST_LETTERS = 170  # of one of them
MOST_POINTS = 34  # on the page of one part
MOST_CELL = 90  # letters of what a point found

# What is wrong, the most serious first; each with the words that lead its lines.
SERIOUS = (
    ("pointed", "Hips"),
    ("out", "OUT"),
    ("unsure", "TOO CLOSE"),
    ("released", "Carried on as it is"),
    ("stale", "OUT OF DATE"),
    ("snags", ""),
    ("rivals", "Two answers"),
    ("returned", "Sent back"),
    ("doubted", "Bad tool"),
    ("photos", "Photo"),
    ("deferred", "Left till later"),
)
# What a roof's next trade asks first, and the facts that answer it. A form that lacks a fact leaves its row out.
COVERING = (
    ("Covering", ("covering",)),
    ("Slate or tile", ("cover_unit_length", "cover_unit_width")),
    ("Headlap to lay", ("cover_headlap",)),
    ("Smallest headlap", ("lap_least",)),
    ("Largest gauge", ("lap_gauge",)),
    ("Exposure", ("exposure",)),
    ("Minimum pitch", ("lap_min_pitch",)),
    ("Batten thickness", ("batten_thickness",)),
    ("Weight", ("laid_mass",)),
    ("Rafter centres", ("spacing",)),
    ("Overhang, level", ("overhang",)),
    ("Air at eaves, at high level", ("air_eaves", "air_high")),
    ("Insulation", ("insulation",)),
    ("Lining", ("lining",)),
    ("Upstand", ("lining_upstand",)),
    ("Smallest finished fall", ("lining_min_fall",)),
    ("Longest piece", ("lining_max_bay",)),
    ("Deck under the lining", ("lining_deck",)),
    ("Wettest deck, %", ("lining_moisture",)),
    ("Falls", ("falls",)),
    ("Insulation of the deck", ("built_up", "build_up")),
    ("Board thickness", ("board_thickness",)),
)
LINES = (
    ("Hip A", "hip_a"), ("Hip B", "hip_b"), ("Hip C", "hip_c"), ("Hip D", "hip_d"),
    ("Ridge", "ridge"), ("Verge", "verge"), ("Diagonal AC", "ac"), ("Diagonal BD", "bd"),
    ("Girth", "girth"), ("Crown, face to slope", "crown_length"), ("Line on the slope", "line_length"),
    ("Gutter, head to outlet", "gutter_run"), ("Sole width", "sole"), ("Depth at the outlet", "depth_outlet"),
    ("Bays", "bays"), ("Bay length", "bay_length"),
    ("Side AB", "ab"), ("Side BC", "bc"), ("Side CD", "cd"), ("Side DA", "da"),
)  # fmt: skip
# Checks of a part whose answers the next trade asks for on page 2, by stage and check.
ANSWERS = (
    ("Underlay, battens, counter-battens", ("tiler.underlay",)),
    ("Vents: gaps as built", ("eaves.gaps",)),
    ("Fascia over the rafters", ("eaves.height-single", "eaves.height-double")),
    ("Overhang as built", ("eaves.overhang", "verges.overhang")),
    ("Kicks, sprockets, upstands, valleys", ("tiler.points",)),
    ("Verge as agreed", ("verges.edge",)),
    ("Braces in the frame", ("restraint.temporary",)),
)
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


def wrong(page: FirstPage) -> Iterator[tuple[tuple[str, str], bool]]:
    """Each thing that is not right in one row, the most serious first, and whether it stops the work."""
    for found in page.rows["stopped"]:
        yield (STOP, _line(found)), True
    for caution, places in _unread_stops(page).items():
        yield (f"{STOP}, not read", f"{caution}{_where(places)}. Read it before handover."), True
    for kind, lead in SERIOUS:
        for found in page.rows[kind]:
            yield (lead, _line(found)), False
    rest = [found for found in page.rows["unread"] if not found.head.endswith(BEFORE_HANDOVER)]
    if rest:
        yield ("Cautions not read", f"{len(rest)}: {'; '.join(found.head for found in rest[:3])}"), False


def _unread_stops(page: FirstPage) -> dict[str, list[str]]:
    """Each caution that stops the handover until it is read, with every place at which it is not."""
    stops: dict[str, list[str]] = {}
    for found in page.rows["unread"]:
        if found.head.endswith(BEFORE_HANDOVER):
            title, _, place = found.head.removesuffix(BEFORE_HANDOVER).partition(" (at ")
            stops.setdefault(title, []).extend([place.rstrip(")")] if place else [])
    return stops


def _where(places: Sequence[str]) -> str:
    """The first of the places, and how many more there are."""
    more = len(places) - MOST_PLACES
    if not places:
        return ""
    return f": {', '.join(places[:MOST_PLACES])}{text_if(more > 0, f' and {more} more')}"


def _line(found: Found) -> str:
    """What is wrong in one line, whole words only."""
    return shortened(f"{found.head}. {joined(found.lines, '; ')}", MOST_LETTERS)


def shortened(text: str, most: int) -> str:
    """The text in at most so many letters, broken after a word and with a sign that more follows."""
    text = " ".join(text.split())
    if len(text) <= most:
        return text
    return f"{text[: most - 2].rsplit(' ', 1)[0].rstrip(',;:. ')} …"


def _plan(tell: Formatter, parts: Sequence[PartView], drawn: dict[str, tuple[Sketch, ...]]) -> Iterator[Block]:
    """The plan as built of the first part that has one; else its first drawing."""
    for part in parts:
        found = next((sketch for sketch in drawn[part.id] if sketch.drawing), None)
        if found and found.drawing and not found.rests_on & tell.stale_paths:
            yield found.drawing
            return


# --- page 2 -------------------------------------------------------------------------------------------------------


def all_needs(tell: Formatter, part: PartView) -> Iterator[Block]:
    """The slopes of a part and its sizes, for the record."""
    if found := slopes(tell, part):
        yield _slopes([(part, found)], many=False)
    yield from needs(tell, part)


def needs(tell: Formatter, part: PartView) -> Iterator[Block]:
    """What the next trade sets a part out from, for the brief and for the record alike."""
    yield in_pairs("Sizes", _sizes(tell, part))


def _sizes(tell: Formatter, part: PartView) -> list[tuple[str, str]]:
    return [*_lines(tell, part), *_needs(tell, part), *_answers(tell, part)]


def _slopes(roofs: Sequence[tuple[PartView, tuple[Slope, ...]]], *, many: bool) -> Table:
    heads = ("Slope", "Eaves", "Top", "Up the slope", "m2", "Pitch", "Gauge", "Courses", "1st batten", "Count")
    rows = tuple(_slope(part, slope, many=many) for part, found in roofs for slope in found)
    return Table(heads, rows, (7, 8, 8, 9, 4, 6, 5, 6, 7, 5))


def _covers(part: PartView, to: str) -> bool:
    """Whether the trade covers the slopes of the part: the stage of that trade's own is handed over to it."""
    stages = [stage for stage in part.stages if stage.applies and stage.stage.id == "tiler"]
    return any(to in view.trades for stage in stages for view in stage.shown)


def _second(tell: Formatter, to: str, parts: Sequence[PartView]) -> Iterator[Block]:
    roofs = [(part, slopes(tell, part)) for part in parts if _covers(part, to)]
    if roofs:
        yield _slopes(roofs, many=len(parts) > 1)
    for part, _ in roofs:
        yield in_pairs(part.title, _sizes(tell, part))
    if on_the_roof := tuple(_on_the_roof(tell)):
        yield Table(("On the roof now", ""), on_the_roof, (5, 8))


def _on_the_roof(tell: Formatter) -> Iterator[tuple[str, str]]:
    """What the next trade finds up there: braces, stacks, edge protection, access, and what is left to do."""
    for view in tell.state.checks():
        handed_over = view.trades and view.path.startswith(f"{JOB}.handover.")
        if handed_over or view.path == EDGES:
            yield view.check.ask, joined([_answer(tell, view), tell.when(view.at) if view.by else ""], ", ")


def _slope(part: PartView, slope: Slope, *, many: bool) -> tuple[str, ...]:
    name = f"{part.title} {slope.side.upper()}" if many else slope.side.upper()
    return (name, slope.eaves, slope.top, slope.up, slope.area, slope.pitch, slope.gauge, slope.courses,
            slope.first_batten, slope.units)  # fmt: skip


def _lines(tell: Formatter, part: PartView) -> Iterator[tuple[str, str]]:
    """True lengths of the part's lines: an empty cell where one is not known yet."""
    for says, name in LINES:
        if f"{part.id}.{name}" in tell.state.facts:
            yield says, known(tell, part.id, name)


def _needs(tell: Formatter, part: PartView) -> Iterator[tuple[str, str]]:
    for says, names in COVERING:
        there = [name for name in names if f"{part.id}.{name}" in tell.state.facts]
        if there:
            yield says, joined([known(tell, part.id, name) for name in there], " x " if "unit" in names[0] else ", ")


def _answers(tell: Formatter, part: PartView) -> Iterator[tuple[str, str]]:
    views = {view.path: view for view in tell.state.checks() if view.part == part.id}
    for says, paths in ANSWERS:
        view = next((views[f"{part.id}.{path}"] for path in paths if f"{part.id}.{path}" in views), None)
        if view:
            yield says, _answer(tell, view)


def _answer(tell: Formatter, view: CheckView) -> str:
    """What a check found, in one line; "" while nobody has answered it."""
    if not view.by:
        return ""
    return shortened("; ".join(tell.value(view).split("\n")), MOST_CELL)


def known(tell: Formatter, part: str, name: str) -> str:
    """A fact as the record tells it, by its label if it is a finish; "" while it is not known."""
    fact = tell.state.facts.get(f"{part}.{name}")
    if fact is None or fact.now is None:
        return ""
    told = tell.fact(part, name)
    if isinstance(fact.now, str) and fact.kind == "choice" and told != WITHHELD:
        finish = tell.library.finishes.get(fact.now)
        if finish:
            return finish.label
        return fact.now.replace("-", " ")
    return told


def in_pairs(title: str, pairs: Sequence[tuple[str, str]]) -> Table:
    """Two columns of names and values side by side, read down each."""
    deep = -(-len(pairs) // 2)
    padded = [*pairs, *[("", "")] * (2 * deep - len(pairs))]
    rows = tuple((*padded[row], *padded[row + deep]) for row in range(deep))
    return Table((title, "", "", ""), rows, (4, 5, 4, 5))


# --- a page a part ------------------------------------------------------------------------------------------------


def _part(tell: Formatter, to: str, part: PartView, drawn: Sequence[Sketch], *, first: bool) -> Iterator[Block]:
    """Its drawing, unless that is on page 1, its own sizes where page 2 has none, and its points."""
    sound = [sketch.drawing for sketch in drawn if sketch.drawing and not sketch.rests_on & tell.stale_paths]
    if sound and not first:
        yield sound[0]
    if not _covers(part, to):
        yield from needs(tell, part)
    found = points_of(tell, to, part.id)
    kept = found[:MOST_POINTS]
    rows = tuple(
        (str(number), view.check.ask, _answer(tell, view), tell.how(view), "☐", "")
        for number, view in enumerate(kept, 1)
    )
    if rows:
        yield Table(("No", "Point", "As built", "Status", "Yes", "Name, date"), rows, (1, 7, 7, 3, 1, 3))
    if len(found) > len(kept):
        yield Words(f"and {len(found) - len(kept)} more points in the record.")


def points_of(tell: Formatter, to: str, part: str) -> tuple[CheckView, ...]:
    """The points of a part that the trade accepts or sends back, in the order of their numbers on its page."""
    return tuple(view for view in tell.state.checks() if view.part == part and takes(view, to))
