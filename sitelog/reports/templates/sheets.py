"""The words on the sheets, and what a set of them is of: job, part, template, when, and the printer's correction."""

from dataclasses import dataclass

from sitelog.quantities.rounding import places
from sitelog.reports.templates.bars import Bars
from sitelog.reports.templates.model import Template
from sitelog.reports.templates.tiles import OVERLAP, Tiles
from sitelog.text import counted, text_if

MEASURE = "Measure both bars before you cut: 100 each."
ENGINEER = "What carries load is the engineer's to approve: sections, notches, joints."
TRUE_SIZE = "It is true size: measure the first one that comes off the machine."
CHECK = "Try the first piece before you cut the rest."
BATTEN = "No printer? Strike it off a straight batten: the ordinates are with the drawings."
STILL = "If a bar still isn't 100, make the sheets without --bars and read the bars of those."
MOST_NAMED = 2  # figures that aren't measured yet
AGAIN = "If a bar isn't 100, make the sheets again with both readings: --bars 99.4 100.2"


@dataclass(frozen=True)
class Heading:
    """What every sheet says at its foot: the job, its part, when it was made [as shown], and the record code."""

    job: str
    part: str
    made: str
    head: str

    def foot(self, template: Template) -> str:
        """The line at the foot, without the number of the sheet."""
        return (
            f"{self.job} · {self.part}: {template.title}, {template.basis} · made {self.made} · record code {self.head}"
        )


def steps(tiles: Tiles, bars: Bars) -> list[str]:
    """What to do with the sheets, in order, on the first of them."""
    rows, columns = tiles.counts
    apart = [places(side - OVERLAP, 0) for side in tiles.paper.tile]
    overall = [places(side, 0) for side in tiles.template.size]
    grid = f"{counted(rows, 'row')} (A is the top) by {counted(columns, 'column')}"
    corrected = bars != Bars()
    left_out = len(tiles.all) - len(tiles.shown)
    said = [
        "Print this sheet first, at 100% (no scaling, no fit to page).",
        f"{MEASURE} {STILL if corrected else AGAIN}",
        f"Print the rest: {len(tiles.shown)} sheets, {grid}.",
        "Lay each over the next so that their crosses meet; they share 10. Cut at the border or leave it.",
        f"Tape it before you cut: cross to cross {apart[0]} across and {apart[1]} up on every sheet; "
        f"overall {overall[0]} by {overall[1]}.",
        f"{CHECK} {ENGINEER}",
    ]
    if tiles.template.drawn:
        said.insert(
            0, f"AS DRAWN. Not measured yet: {not_measured(tiles.template)}. Measure what you can before you cut."
        )
    if left_out:
        said[-4] += f" {left_out} with nothing on them are left out."
    if corrected:
        said.insert(1, f"These sheets are {bars.says}: measure the bars again.")
    return said


def not_measured(template: Template) -> str:
    """The figures that are still off the drawing, the first few by name."""
    more = len(template.drawn) - MOST_NAMED
    return "; ".join(template.drawn[:MOST_NAMED]) + text_if(more > 0, f", and {more} more")
