"""What the next trade sets a part out from: its slopes, true lengths, covering, and what was answered of them."""

from collections.abc import Iterator, Sequence

from sitelog.job.state.views import CheckView, PartView
from sitelog.reports.brief.cut_roof import lines_table
from sitelog.reports.brief.set_out import Slope
from sitelog.reports.brief.slopes import slopes
from sitelog.reports.brief.wrong import shortened
from sitelog.reports.formatting import WITHHELD, Formatter
from sitelog.reports.model import Block, Table
from sitelog.reports.phrases import joined

SHORT_NAME = 8  # letters of a slope's name, which needs no more room than a figure
MOST_CELL = 90  # letters of what a point found


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


def all_needs(tell: Formatter, part: PartView) -> Iterator[Block]:
    """The slopes of a part and its sizes, for the record."""
    if found := slopes(tell, part):
        yield slopes_table([(part, found)], many=False)
    if lines := lines_table(tell, part):
        yield lines
    yield from needs(tell, part)


def needs(tell: Formatter, part: PartView) -> Iterator[Block]:
    """What the next trade sets a part out from, for the brief and for the record alike."""
    yield in_pairs("Sizes", sizes(tell, part))


def sizes(tell: Formatter, part: PartView) -> list[tuple[str, str]]:
    return [*_lines(tell, part), *_needs(tell, part), *_answers(tell, part)]


def slopes_table(roofs: Sequence[tuple[PartView, tuple[Slope, ...]]], *, many: bool) -> Table:
    heads = ("Slope", "Eaves", "Top", "Up the slope", "m2", "Pitch", "Gauge", "Courses", "1st batten", "Count")
    rows = tuple(_slope(part, slope, many=many) for part, found in roofs for slope in found)
    name = 10 if any(len(row[0]) > SHORT_NAME for row in rows) else 7
    return Table(heads, rows, (name, 8, 8, 9, 4, 6, 5, 6, 7, 5))


def _slope(part: PartView, slope: Slope, *, many: bool) -> tuple[str, ...]:
    name = f"{part.title} {slope.side}" if many else slope.side
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
            yield says, answer_of(tell, view)


def answer_of(tell: Formatter, view: CheckView) -> str:
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
