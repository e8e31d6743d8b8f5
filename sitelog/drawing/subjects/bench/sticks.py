"""A timber as it is on the bench: its marks numbered in the order they are made, running from where the tape hooks."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from functools import cached_property
from itertools import pairwise

from sitelog.calculators.catalogue import Row
from sitelog.calculators.sticks.inputs import section_of
from sitelog.calculators.sticks.sticks import PATTERN
from sitelog.drawing.model import Beside, Drawing, Line, Point, Words, above_where
from sitelog.drawing.pen import DrawnAnswer, Sheet, figure
from sitelog.drawing.subjects.bench.edges import edges
from sitelog.drawing.subjects.bench.on_the_hip import on_the_hip
from sitelog.drawing.subjects.bench.tops import top_of, tops
from sitelog.quantities.quantity import Section, show_angle, show_section
from sitelog.quantities.rounding import places
from sitelog.text import text_between, text_if

LONGEST_GAP, KEPT = 4.0, 2.4  # depths without a mark that are drawn whole, and what is left of a longer gap
ROUND = ("head-top", "plate-top", "tail-top", "tail-bottom", "heel-bottom", "corner", "seat-end", "head-bottom")
ON = {"valley": " on a valley", "laid": " on a laid valley"}
ENDS = {
    "valley-board": ("head", "foot"),
    "purlin": ("head's face", "tail's face"),
    "strut": ("head", "foot"),
    "collar": ("head", "tail"),
}  # what its two cuts are called
EITHER = ("common", "rafter", "straight", "ridge", "strut", "collar")  # both faces are alike
CALLED = {"straight": "Timber", "valley-board": "Valley board"}
THICK = {"head": "thick end", "tail": "thin end"}  # the ends of a firring
SAID = {
    "head-top": "head, top edge",
    "head-bottom": "head, bottom edge",
    "plate-top": "heel's plumb line, top edge",
    "corner": "corner of the birdsmouth",
    "heel-bottom": "heel's plumb line, bottom edge",
    "seat-end": "end of the seat, bottom edge",
    "tail-top": "tail, top edge",
    "tail-bottom": "tail, bottom edge",
}


def sticks(answer: DrawnAnswer) -> Iterator[Drawing]:
    """Head on the left, top edge above, y down from it; a right hand is turned round, so that its long face is up.

    x is from the head's furthest point, a plain length broken out. Then its compound cuts on the top edge.
    """
    stick = Stick(answer)
    sheet = Sheet.new()
    sheet.put(*stick.outlines(), *stick.breaks())
    sheet.put(*stick.labels())
    sheet.put(*stick.about())
    broken = text_if(stick.cut, ", length broken out")
    title = f"{stick.called}: on the bench, {stick.face} up{broken}"
    yield sheet.drawing(title, stick.says())
    yield from on_the_hip(answer, stick.called)
    yield from edges(answer, stick.called)
    yield from tops(answer, stick.called)


@dataclass(frozen=True)
class Stick:
    """A timber with its marks, mm."""

    answer: DrawnAnswer

    @cached_property
    def kind(self) -> str:
        return self.answer.word("kind")

    @cached_property
    def section(self) -> Section:
        given = self.answer.worked.inputs.get("section")
        return section_of(self.kind, given if isinstance(given, Section) else None)

    @cached_property
    def depth(self) -> float:
        return max(figure(row, "down") for row in self.answer.rows()) or self.section.depth

    @cached_property
    def hand(self) -> str:
        """Of a jack, cripple or rafter: the side that its long point is on, looking up it from its foot."""
        if self.kind == "rafter":
            return text_if("long" in self.lines, self.answer.word("hand"))
        if self.kind not in ("jack", "cripple"):
            return ""
        return "left" if self.answer.given("side") == 1 else "right"

    @property
    def called(self) -> str:
        """What it is, with its hand."""
        on = text_if(self.kind == "jack", ON.get(self.answer.word("on"), ""))
        hand = text_between(", ", self.hand, " hand")
        kind = CALLED.get(self.kind, self.kind.capitalize())
        return f"{kind}{on}{hand}"

    @property
    def face(self) -> str:
        """Which face is up."""
        if "long" in self.lines and self.kind in ("jack", "cripple", "rafter", "straight"):
            return "long face"
        return {"hip": "face 1", "valley": "face 1"}.get(self.kind, "either face" if self.kind in EITHER else "face")

    @cached_property
    def reference(self) -> str:
        """The line whose marks are numbered: the first that is marked."""
        return str(self.answer.rows()[0]["line"])

    @cached_property
    def lines(self) -> list[str]:
        return [*dict.fromkeys(str(row["line"]) for row in self.answer.rows())]

    def of(self, line: str) -> list[Row]:
        """The marks of one line, in the order they are made."""
        return [row for row in self.answer.rows() if row["line"] == line]

    def from_head(self, row: Row) -> float:
        """How far a mark is from the head's furthest point."""
        off = figure(row, "at") - (self.answer.taken("nick"))
        if self.answer.word("zero") == "head":
            return off
        return self.answer.number("overall_length") - off

    @cached_property
    def cut(self) -> tuple[float, float] | None:
        """From where to where it is broken out, along the timber; None of one whose marks are close together."""
        marks = sorted(self.from_head(row) for row in self.answer.rows())
        start, end = max(pairwise(marks), key=lambda pair: pair[1] - pair[0])
        if end - start <= LONGEST_GAP * self.depth:
            return None
        return start + KEPT / 2 * self.depth, end - KEPT / 2 * self.depth

    def x(self, from_head: float) -> float:
        """Where on the sheet a place of the timber is."""
        if self.cut and from_head > self.cut[0]:
            from_head -= self.cut[1] - self.cut[0]
        if self.hand == "right":
            return -from_head
        return from_head

    def point(self, row: Row) -> Point:
        """Where on the sheet a mark is."""
        return self.x(self.from_head(row)), -figure(row, "down")

    # --- what is drawn ---

    def outlines(self) -> Iterator[Line]:
        """The numbered line's own shape, its plumb lines, and the ends of the others behind it."""
        for line in reversed(self.lines):
            marks = {str(row["point"]): self.point(row) for row in self.of(line)}
            around = [marks[name] for name in ROUND if name in marks] or self._round_it(marks)
            closed = self.kind != "scarf"
            yield Line(tuple(around), "bold" if line == self.reference else "hidden", closed=closed)
        yield from self._squared()

    def _squared(self) -> Iterator[Line]:
        """The heel's plumb line, and each centre squared down the face."""
        marks = {str(row["point"]): self.point(row) for row in self.of(self.reference)}
        if "plate-top" in marks:
            yield Line((marks["plate-top"], marks["heel-bottom"]), "thin")
        for name, (x, _) in marks.items():
            if name.startswith("centre-"):
                yield Line(((x, 0.0), (x, -self.depth)), "thin")

    def _round_it(self, marks: dict[str, Point]) -> list[Point]:
        """Round a rib, outer edge and inner edge back; round a scarf as it is marked, from its bottom edge."""
        if self.kind == "rib":
            outer = [at for name, at in marks.items() if name.startswith("out")]
            return [*outer, *reversed([at for name, at in marks.items() if name.startswith("in")])]
        behind = self.x(self.answer.number("overall_length") + self.depth)
        return [(behind, -self.depth), *marks.values(), (behind, 0.0)]

    def breaks(self) -> Iterator[Line]:
        """The two ends of what is broken out."""
        if self.cut:
            for place, off in ((self.cut[0], -0.1), (self.cut[0], 0.1)):
                x = self.x(place) + off * self.depth
                yield Line(((x, 0.15 * self.depth), (x, -1.15 * self.depth)), "thin")

    def labels(self) -> list[Words]:
        """Each mark with its number and its running size, above the top edge or below the bottom one.

        Of a ridge and a rib, whose marks are many, those for which there is room: all are in the text.
        """
        series = text_if(self.kind in ("ridge", "rib"), "marks")
        found = []
        for number, row in enumerate(self.of(self.reference), 1):
            x, y = self.point(row)
            on_top = -y < 0.01 * self.depth
            down = f", {self.answer.mm(-y)} down" if row["point"] == "corner" else ""
            beside: Beside = above_where(on_top)
            level = 0.0 if on_top else -self.depth * (1.0 if number % 2 else 1.4)
            told = f"{number}: {self.answer.mm(figure(row, 'at'))}{down}"
            found.append(Words((x, level), told, beside=beside, series=series))
        return found

    def about(self) -> Iterator[Words]:
        """Section, cuts, where the tape hooks, and that the first is the pattern."""
        ends = [self.x(0.0), self.x(self.answer.number("overall_length"))]
        middle = sum(ends) / 2
        yield Words((middle, -0.5 * self.depth), "\n".join((show_section(self.section), *self.lengths())))
        yield Words((middle, 0.9 * self.depth), f"{self.lies}; tape hooks {self.hook}", beside="above")
        told = [*self.cuts(), *top_of(self.answer), f"{PATTERN}."]
        yield Words((middle, -1.9 * self.depth), "\n".join(told), beside="below")

    def lengths(self) -> Iterator[str]:
        """Over all; of a valley on its centre too, which its hollow tail makes another length; of a rib its radii."""
        yield f"{self.answer.of('overall_length')} over all"
        if self.kind == "valley":
            yield f"{self.answer.of('overall_on_centre')} over all on its centre"
        if self.kind == "rib":
            outer = self.answer.taken("radius")
            yield f"radius {self.answer.mm(outer)} outside"
            yield f"{self.answer.mm(outer - self.answer.taken('rib_depth'))} inside"

    @property
    def lies(self) -> str:
        """Which edge is drawn on top, and which way up it is."""
        if self.kind == "valley-board":
            return "edge on the line, laid flat"
        if self.kind == "firring":
            return "sloping edge, flat edge on the joists"
        if self.kind == "strut":
            top = self.answer.word("long_edge") == "top"
            return "edge towards the ridge on top" if top else "long point of its head on top"
        return "top edge, crown up"

    @property
    def hook(self) -> str:
        """Where the tape hooks, in words."""
        nick = self.answer.given("nick")
        end = self.answer.word("zero")
        called = THICK.get(end, end) if self.kind == "firring" else end
        return f"at the {called}{f', {self.answer.mm(nick)} outside' if nick else ''}"

    def cuts(self) -> Sequence[str]:
        """The cuts across the face, by degrees and by the square."""
        cut = self.answer.number("plumb_cut_from_square")
        if not cut and not self.answer.has("seat_cut_from_square"):
            return ()
        square = f"square at 100 run, {places(self.answer.number('plumb_in_100'), 1)} rise"
        if self.answer.has("seat_cut_from_square"):
            seat = show_angle(self.answer.number("seat_cut_from_square"))
            head, foot = ENDS.get(self.kind, ("plumb", "foot" if self.is_on_a_board else "seat"))
            return (f"{head} {show_angle(cut)}, {foot} {seat}: {square}",)
        return (f"cut across the face {show_angle(cut)}: {square}",)

    @property
    def is_on_a_board(self) -> bool:
        """Whether its foot is cut to the board of a laid valley."""
        if self.kind == "rafter":
            return self.answer.word("foot") == "board"
        return self.answer.word("on") == "laid"

    def said_of(self, point: str) -> str:
        """A mark in words; a board has the edge on the valley's line for its top edge."""
        said = SAID.get(point, point.replace("-", " "))
        if self.kind == "firring":
            for end, called in THICK.items():
                said = said.replace(f"{end},", f"{called},")
        if self.kind == "valley-board":
            return said.replace("top edge", "edge on the line").replace("bottom edge", "other edge")
        return said

    def says(self) -> Iterator[str]:
        """The same as text, a line each mark."""
        yield f"section {', '.join((show_section(self.section), *self.lengths()))}"
        yield f"{self.lies.replace(', ', ' up the sheet, ', 1)}, {self.face} up; the tape hooks {self.hook}"
        yield from self.cuts()
        yield from top_of(self.answer)
        named = dict.fromkeys(str(row["point"]) for row in self.of(self.reference))
        for number, point in enumerate(named, 1):
            told = [
                f"{f'{_line(row)} ' if len(self.lines) > 1 else ''}{self.answer.mm(figure(row, 'at'))}"
                for row in self.answer.rows()
                if row["point"] == point
            ]
            down = next(figure(row, "down") for row in self.of(self.reference) if row["point"] == point)
            said = self.said_of(point)
            yield f"{number}: {said}: {', '.join(told)}; {self.answer.mm(down)} down"
        yield f"{PATTERN}."


def _line(row: Row) -> str:
    name = str(row["line"])
    if name.isdigit():
        return f"face {name}"
    return name
