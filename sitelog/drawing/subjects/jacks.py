"""The jacks of one side, laid out on their slope as they are set out: marks along the plate, and the length to cut."""

from collections.abc import Iterator
from dataclasses import dataclass
from functools import cached_property
from math import cos, radians, tan

from sitelog.calculators.catalogue import Row
from sitelog.drawing.model import Anchor, Beside, Drawing, Line, Point, Words, below_where, leftward, rightward
from sitelog.drawing.pen import DrawnAnswer, Sheet, figure, listed, series


def jacks(answer: DrawnAnswer) -> Iterator[Drawing]:
    """x along the plate from the corner at 0, to the left for side 1 as it is seen from outside; y up the slope.

    On a hip the jacks stand on the plate, on a valley they hang from the ridge. With what each has past the measuring
    line it is drawn over all: seen square to the slope, its tail ends so far under the plate.
    """
    side = _Side(answer)
    sheet = Sheet.new()
    for row in side.rows:
        sheet.put(Line(side.outline(row), "built", closed=True))
    sheet.put(*side.ends())
    sheet.put(*side.lengths(), *side.marks())
    cuts = _cuts(answer)
    sheet.put(Words(side.clear, "\n".join(cuts), side.edge if side.on_hip else "middle"))
    told = "cut lengths over all" if side.past else "lengths to long point"
    title = f"Jacks to the {answer.word('on')}, side {answer.count('side')}: on the slope, {told}"
    yield sheet.drawing(title, (*_says(answer), *cuts))


@dataclass(frozen=True)
class _Side:
    """The side of a hip or valley that is drawn, mm; `way` is -1 where it runs to the left."""

    answer: DrawnAnswer

    @cached_property
    def rows(self) -> list[Row]:
        return self.answer.rows()

    @cached_property
    def on_hip(self) -> bool:
        return self.answer.word("on") == "hip"

    @cached_property
    def half(self) -> float:
        return (self.answer.taken("thickness")) / 2

    @cached_property
    def past(self) -> float:
        """What each has past the measuring line, if that is known."""
        return self.answer.taken("past")

    @property
    def cut(self) -> str:
        """The column of the length to cut; of the one on the measuring line where no tail is known."""
        return "length_overall" if self.past else "length_long_point"

    @cached_property
    def way(self) -> float:
        if self.answer.given("side") != 1:
            return 1.0
        return -1.0

    @cached_property
    def ridge(self) -> float:
        """How far up the slope the ridge is."""
        pitch = radians(self.answer.number("plumb_cut_from_square"))
        return (self.answer.taken("run")) / cos(pitch)

    @property
    def level(self) -> float:
        """How far up the slope the jacks stand, or hang from."""
        if self.on_hip:
            return 0.0
        return self.ridge

    @property
    def edge(self) -> Anchor:
        return rightward(self.way < 0)

    @property
    def clear(self) -> Point:
        """Where the slope has room for words."""
        far = self.way * figure(self.rows[-1], "at")
        if not self.on_hip:
            return far * 0.75, self.ridge * 0.1
        longest = max(figure(row, "length_long_point") for row in self.rows)
        return far * 0.08, longest * 0.9

    def outline(self, row: Row) -> tuple[Point, ...]:
        """Round a jack: on a hip its long point is on the face away from the corner, on a valley on the other."""
        at, long, short = figure(row, "at"), figure(row, "length_long_point"), figure(row, "length_short_point")
        near, far, ridge = self.way * (at - self.half), self.way * (at + self.half), self.ridge
        if self.on_hip:
            return (near, -self.past), (far, -self.past), (far, long), (near, short)
        return (near, ridge), (far, ridge), (far, ridge - short - self.past), (near, ridge - long - self.past)

    def lengths(self) -> list[Words]:
        """Each jack's length to cut, at its long point."""
        marks = []
        for row in self.rows:
            length = figure(row, "length_long_point")
            end = length if self.on_hip else self.ridge - length - self.past
            marks.append(((self.way * figure(row, "at"), end), self.answer.mm(figure(row, self.cut))))
        outward: Anchor = rightward(self.way < 0)
        if self.on_hip:
            return series("long", marks, "above", [outward] * len(marks))
        inward: Anchor = leftward(self.way < 0)
        return series("long", marks, "below", [inward] * len(marks))

    def marks(self) -> list[Words]:
        """Where each jack stands along the plate or the ridge."""
        level = self.level - (self.past if self.on_hip else 0.0)
        marks = [((self.way * figure(row, "at"), level), self.answer.mm(figure(row, "at"))) for row in self.rows]
        beside: Beside = below_where(self.on_hip)
        return [*series("marks", marks, beside), Words((0.0, level), "at", self.edge, beside=beside)]

    def ends(self) -> Iterator[Line]:
        """The plate or the ridge that they stand against, and the near face of the hip or valley."""
        last = figure(self.rows[-1], "at") + 2 * self.half
        yield Line(((0.0, self.level), (self.way * last, self.level)), "built")
        rate = tan(radians(self.answer.number("edge_bevel_from_square")))
        at, length = figure(self.rows[0], "at"), figure(self.rows[0], "length_centre")
        if self.on_hip:
            start = at - length / rate
            yield Line(((self.way * start, 0.0), (self.way * last, rate * (last - start))), "bold")
            return
        foot = self.ridge - length
        start = max(at - foot / rate, 0.0) if rate else 0.0
        low, high = (self.way * start, foot - rate * (at - start)), (self.way * last, foot + rate * (last - at))
        yield Line((low, high), "bold")


def _cuts(answer: DrawnAnswer) -> tuple[str, ...]:
    return (
        f"each to the next {answer.of('difference')}",
        f"edge bevel {answer.of('edge_bevel_from_square')} from square",
        f"saw tilt {answer.of('saw_tilt')}, plumb cut {answer.of('plumb_cut_from_square')}",
    )


def _says(answer: DrawnAnswer) -> Iterator[str]:
    names = ("at", "length_overall", "length_long_point", "length_centre", "length_short_point", "up_the_hip")
    rows = [{name: answer.mm(figure(row, name)) for name in names} for row in answer.rows()]
    yield f"{len(rows)} jacks, side {answer.count('side')} of the {answer.word('on')}, as many again of the other hand"
    if answer.given("past"):
        cut = [(row["at"], row["length_overall"]) for row in rows]
        yield listed("marks from the corner, cut lengths over all", cut, " ")
    long = [(row["at"], row["length_long_point"]) for row in rows]
    yield listed("on the measuring line, to the long point", long, " ")
    others = [(row["at"], f"{row['length_centre']} and {row['length_short_point']}") for row in rows]
    yield listed("on the measuring line, centre and short point", others, " ")
    up = [(row["at"], row["up_the_hip"]) for row in rows]
    yield listed(f"up the {answer.word('on')}, from the corner to the jack's centre on its face", up, " ")
