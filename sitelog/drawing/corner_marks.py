"""The marks of rafters along both plates of a corner, in plan: jacks to the hip, and the commons past them."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from functools import cached_property
from math import cos, radians, sin

from sitelog.drawing.model import Drawing, Line, Point, Words
from sitelog.drawing.pen import Sheet, figure, series
from sitelog.geometry.roof_lines import CORNERS, SIDES
from sitelog.job.members import Line as Member
from sitelog.job.state.views import State
from sitelog.quantities.quantity import show_length

MARK = "Mark"  # how the calculators call a mark on the plate
STUB = 0.12  # of the furthest mark: how much of a common is shown
CLEAR = 0.05  # of it: how far words stand off a plate
NEARER = 0.55  # of a plate: what is about its middle is shown from both its corners


def corner_marks(state: State, lines: Sequence[Member], part: str) -> Iterator[Drawing]:
    """A drawing for each corner whose jacks and commons have marks in the list, mm; none for a list without them.

    The corner is at 0,0 as it is seen from above, the plate that follows it along x. Each plate shows the marks that
    are not nearer to its other corner, each running from this one.
    """
    own = [line for line in lines if line.part == part and line.good and line.row]
    for place, corner in enumerate(CORNERS):
        jacks = [line for line in own if line.id == f"jacks-{corner}" and line.answer]
        if jacks:
            yield _Corner(state, own, jacks, part, place).drawing()


@dataclass(frozen=True)
class _Mark:
    """A rafter's number or place, how far its centre is from the corner, and how far in it is drawn [mm, level]."""

    says: str
    at: float
    run: float
    is_jack: bool


@dataclass(frozen=True)
class _Corner:
    """A corner by its place, with its jacks and all that has a mark in the part's list."""

    state: State
    lines: Sequence[Member]
    jacks: Sequence[Member]
    part: str
    place: int

    @property
    def name(self) -> str:
        return CORNERS[self.place].upper()

    def given(self, name: str) -> float:
        answer = self.jacks[0].answer
        assert answer
        value = answer.inputs.get(name, answer.results.get(name))
        if not isinstance(value, (int, float)):
            return 0.0
        return float(value)

    @cached_property
    def plates(self) -> tuple[tuple[str, float], tuple[str, float]]:
        """The plate after the corner and the one before it, as they run from it, with how they turn from x [deg]."""
        after, before = SIDES[self.place], SIDES[self.place - 1]
        return (after, 0.0), (before[::-1], self.given("corner"))

    def marks(self, plate: str) -> list[_Mark]:
        """Of one plate, named from this corner: jacks, then commons, each once."""
        cosine = cos(radians(self.given("pitch")))
        found = {}
        for line in self.jacks:
            row = line.row or {}
            found[f"jack {line.number}"] = (figure(row, "at"), figure(row, "length_centre") * cosine)
        marks = [_Mark(says, at, run, is_jack=True) for says, (at, run) in found.items()]
        return [*marks, *self._commons(plate)]

    def _commons(self, plate: str) -> Iterator[_Mark]:
        side = plate if plate in SIDES else plate[::-1]
        whole = self._length(side)
        for line in self.lines:
            if line.id.endswith(f"-{side}") and any(shown.says.startswith(MARK) for shown in line.shows):
                row = line.row or {}
                at = figure(row, "at") if plate == side else whole - figure(row, "at")
                if at <= NEARER * whole:
                    yield _Mark(f"common {line.number}".strip(), at, figure(row, "run"), is_jack=False)

    def _length(self, side: str) -> float:
        """Of a plate as it stands [mm]."""
        fact = self.state.facts.get(f"{self.part}.{side}")
        if fact and isinstance(fact.now, (int, float)):
            return float(fact.now)
        return 0.0

    @cached_property
    def furthest(self) -> float:
        return max(mark.at for plate, _ in self.plates for mark in self.marks(plate))

    def drawing(self) -> Drawing:
        sheet, says = Sheet.new(), []
        (after, _), (before, _) = self.plates
        for plate, turn in self.plates:
            marks = sorted(self.marks(plate), key=lambda mark: mark.at)
            sheet.put(Line(((0.0, 0.0), _at(turn, self.furthest * 1.05, 0.0)), "built"))
            sheet.put(*(self._rafter(mark, turn) for mark in marks), *self._words(marks, turn))
            told = ", ".join(f"{mark.says} at {self.mm(mark.at)}" for mark in marks)
            says.append(f"plate {plate.upper()}, from {self.name}: {told}")
        sheet.put(self._hip(), Words(_at(self.given("corner") / 2 + 180, CLEAR * self.furthest, 0.0), self.name))
        sheet.put(Words((self.furthest, self.furthest * 0.6), f"{after.upper()} across\n{before.upper()} up", "end"))
        return sheet.drawing(f"Marks at corner {self.name}, along both plates from the corner", says)

    def mm(self, value: float) -> str:
        return show_length(value, self.state.units)

    def _rafter(self, mark: _Mark, turn: float) -> Line:
        run = mark.run if mark.is_jack else min(mark.run, STUB * self.furthest)
        inward = 1 if turn == 0 else -1
        return Line((_at(turn, mark.at, 0.0), _at(turn, mark.at, inward * run)), "built" if mark.is_jack else "thin")

    def _words(self, marks: Sequence[_Mark], turn: float) -> list[Words]:
        outward = -1 if turn == 0 else 1
        off = outward * CLEAR * self.furthest
        told = [(_at(turn, mark.at, off), self.mm(mark.at)) for mark in marks]
        if turn == 0:
            return series("after", told, "below")
        return series("before", told, anchors=["end"] * len(told))

    def _hip(self) -> Line:
        """The hip's line, from the corner to past its last jack."""
        plan = self.given("corner") - self.given("saw_tilt")  # a jack's tilt is the hip's angle to its plate
        last = max(figure(line.row or {}, "at") for line in self.jacks)
        return Line(((0.0, 0.0), _at(plan, 1.1 * last / cos(radians(self.given("saw_tilt"))), 0.0)), "bold")


def _at(turn: float, along: float, across: float) -> Point:
    """A point `along` a line from the corner that is turned from x [deg], and `across` to its left."""
    c, s = cos(radians(turn)), sin(radians(turn))
    return along * c - across * s, along * s + across * c
