"""The compound cuts of a stick, square down on its top edge: where the long point is, and the short one."""

from collections.abc import Iterator
from dataclasses import dataclass
from math import radians, tan

from sitelog.calculators.sticks.inputs import section_of
from sitelog.drawing.model import Drawing, Line, Point, Words, above_where
from sitelog.drawing.pen import DrawnAnswer, Sheet, figure
from sitelog.quantities.quantity import Section
from sitelog.quantities.rounding import places
from sitelog.text import text_if

BACK = 3.0  # thicknesses of timber shown behind the cut
CALLED = {"centre": "centre", "left": "left arris", "right": "right arris", "turn": "where it turns"}
STEEPEST = 85.0  # deg: a bevel that leads along the timber is told and not drawn


def edges(answer: DrawnAnswer, called: str) -> Iterator[Drawing]:
    """The top edge at the head, then at the tail, where a cut there isn't square across it."""
    for end in ("head", "tail"):
        if answer.number(f"{end}_bevel_1_from_square"):
            yield _drawn(_Edge(answer, end), called)


@dataclass(frozen=True)
class _Edge:
    """One end, mm: x towards its furthest point at 0 or beside it, the timber behind it on the left."""

    answer: DrawnAnswer
    end: str

    @property
    def thickness(self) -> float:
        given = self.answer.worked.inputs.get("section")
        return section_of(self.answer.word("kind"), given if isinstance(given, Section) else None).thickness

    @property
    def marks(self) -> dict[str, float]:
        """How far back each line's point on the top edge is from the furthest of them."""
        rows = [row for row in self.answer.rows() if row["point"] == f"{self.end}-top"]
        places = {str(row["line"]): figure(row, "at") for row in rows}
        towards_head = (self.end == "head") == (self.answer.word("zero") == "head")
        furthest = min(places.values()) if towards_head else max(places.values())
        return {line: abs(place - furthest) for line, place in places.items()}

    @property
    def across(self) -> dict[str, float]:
        """How far from the middle each line is, across the timber: face 1 or the long face above."""
        half = self.thickness / 2
        off = {"1": half, "2": -half, "long": half, "short": -half, "lower": half, "upper": -half}
        way = 1 if self.end == "head" else -1  # the timber is turned round to show its tail
        off |= {"left": way * half, "right": -way * half, "turn": -self.answer.taken("turn_across")}
        return {line: off.get(line, 0.0) for line in self.marks}

    def points(self) -> list[tuple[str, Point]]:
        """The lines and their points, from above down."""
        return sorted(
            ((line, (-back, self.across[line])) for line, back in self.marks.items()), key=lambda place: -place[1][1]
        )


def _drawn(edge: _Edge, called: str) -> Drawing:
    answer, half = edge.answer, edge.thickness / 2
    found = edge.points()
    back = min(x for _, (x, _) in found) - BACK * edge.thickness
    sheet = Sheet.new()
    sheet.put(Line(((back, half), *(at for _, at in found), (back, -half)), "bold"))
    sheet.put(Line(((back, half), (back, -half)), "thin"), Line(((back, 0.0), (0.0, 0.0)), "hidden"))
    says = [_told(answer, line, x) for line, (x, _) in found]
    for (line, (x, y)), told in zip(found, says, strict=True):
        if y and line != "turn":
            sheet.put(Words((x, y), told, "middle", beside=above_where(y > 0)))
    cuts = [*_where_it_is_long(edge), *_cuts(answer, edge.end)]
    sheet.put(Words((half / 2, 0.0), "\n".join(cuts), "start"))
    sheet.put(Words((back - 0.15 * edge.thickness, 0.0), f"{answer.mm(edge.thickness)}\nthick", "end"))
    return sheet.drawing(
        f"{called}: {edge.end}, square down on its top edge", (f"{answer.mm(edge.thickness)} thick", *says, *cuts)
    )


def _told(answer: DrawnAnswer, line: str, x: float) -> str:
    """A line of the end by its name, and how far back its point is."""
    named = CALLED.get(line, f"face {line}" if line.isdigit() else f"{line} face")
    point = "long point" if x > -1e-6 else f"{answer.mm(-x)} back"
    return f"{named}: {point}"


def _where_it_is_long(edge: _Edge) -> Iterator[str]:
    """Where the end turns, or that its long point is on the centre."""
    turn = edge.answer.given("turn_across")
    if turn and "turn" in edge.marks:
        yield f"turns {edge.answer.mm(abs(turn))} {'right' if turn > 0 else 'left'} of the centre"
    elif edge.marks.get("centre") == 0:
        yield "long point on the centre"


def _cuts(answer: DrawnAnswer, end: str) -> Iterator[str]:
    """Each cheek's bevel, by degrees and in 100 across, and the tilt of the saw."""
    two = answer.has(f"{end}_bevel_2_from_square")
    for cheek in (1, 2):
        name = f"{end}_bevel_{cheek}_from_square"
        if answer.has(name):
            which = text_if(two, f" {cheek}")
            bevel = answer.number(name)
            in_100 = ""
            if bevel < STEEPEST:
                in_100 = f", {places(100 * tan(radians(bevel)), 0)} in 100"
            yield f"bevel{which} {answer.of(name)}{in_100}"
            if answer.has(f"{end}_tilt_{cheek}"):
                yield f"tilt{which} {answer.of(f'{end}_tilt_{cheek}')}"
