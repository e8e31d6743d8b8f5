"""The former itself: round its edges and slots, its area, and the pieces it is made up of."""

import math
from collections.abc import Iterator, Sequence

from msgspec import Struct

from sitelog.calculators.catalogue import Output, Row
from sitelog.calculators.curves.formers.curve import Curves, Point, Slot
from sitelog.geometry.vectors import atan2_deg

DUST = 1e-7  # mm: what is no nearer to the springing than that is over or under it
CLOSE = 0.2  # mm: no chord of the outline is further from its curve
SLOTS = (
    Output("n", "", "Slot"),
    *(
        Output(f"{corner}_{side}_{axis}", "mm", f"{corner.capitalize()} {side} {axis}")
        for corner in ("mouth", "floor")
        for side in ("left", "right")
        for axis in ("x", "y")
    ),
    Output("depth_left", "mm", "Left side"),
    Output("depth_right", "mm", "Right side"),
)
JOINTS = (
    Output("n", "", "Joint"),
    Output("lean", "deg", "Lean"),
    Output("out_x", "mm", "Outside x"),
    Output("out_y", "mm", "Outside y"),
    Output("in_x", "mm", "Inside x"),
    Output("in_y", "mm", "Inside y"),
)


class _Step(Struct, frozen=True):
    """From the last point to this one: straight, or round the centre with the area [mm2] between it and its chord."""

    point: Point
    bulge: float = 0.0


class Template(Struct, frozen=True):
    """A former with its slots, left to right."""

    curves: Curves
    slots: tuple[Slot, ...]

    def slot_row(self, n: int, slot: Slot) -> Row:
        """A row of SLOTS; x from the former's left end."""
        half = self.curves.half(self.curves.former)
        row: Row = {"n": n}
        for name in ("mouth_left", "mouth_right", "floor_left", "floor_right"):
            x, y = getattr(slot, name)
            row |= {f"{name}_x": x + half, f"{name}_y": y}
        return row | {"depth_left": slot.depth_left, "depth_right": slot.depth_right}

    def joint_rows(self, pieces: int) -> list[Row]:
        """JOINTS of equal pieces of the outside edge."""
        curves, half = self.curves, self.curves.half(self.curves.former)
        turn = curves.turn(curves.former)
        rows: list[Row] = []
        for n in range(1, pieces):
            lean = turn * (2 * n / pieces - 1)
            (out_x, out_y), (in_x, in_y) = (curves.at(radius, lean) for radius in (curves.former, curves.inside))
            rows.append(
                {"n": n, "lean": lean, "out_x": out_x + half, "out_y": out_y, "in_x": in_x + half, "in_y": in_y}
            )
        return rows

    def outline(self) -> list[Row]:
        """Round it from the left end of its edge, over the top and back along the inside; x from that end."""
        half = self.curves.half(self.curves.former)
        return [{"n": n, "x": step.point[0] + half, "y": step.point[1]} for n, step in enumerate(self._steps(), 1)]

    def area(self) -> float:
        """Between its edges over the springing, without its slots [mm2]."""
        steps = list(self._steps())
        total = sum(step.bulge for step in steps)
        for before, step in zip([steps[-1], *steps], steps, strict=False):
            (x1, y1), (x2, y2) = before.point, step.point
            total += (x2 - x1) * (y1 + y2) / 2
        return total

    def _steps(self) -> Iterator[_Step]:
        """What is over the springing, each point once."""
        found = list(self._clipped())
        for before, step in zip([found[-1], *found], found, strict=False):
            if step.bulge or math.dist(before.point, step.point) > 1e-9:
                yield step

    def _clipped(self) -> Iterator[_Step]:
        """The part of each step that is over the springing; where it dips under, along the springing."""
        whole = list(self._round())
        for before, step in zip([whole[-1], *whole], whole, strict=False):
            (x1, y1), (x2, y2) = before.point, step.point
            if (y1 < 0) != (y2 < 0):
                yield _Step((x1 + (x2 - x1) * y1 / (y1 - y2), 0.0))
            if y2 >= 0:
                yield _Step(step.point, step.bulge if y1 >= 0 else 0.0)

    def _round(self) -> Iterator[_Step]:
        """Round the former, slots and all, clockwise from its left; a slot may dip under the springing."""
        curves = self.curves
        end, half = curves.turn(curves.former), curves.half(curves.former)
        turn = -end
        if not self.slots or self.slots[0].mouth_left[1] > DUST:
            yield _Step((-half, 0.0))
        for slot in self.slots:
            yield from self._arc(curves.former, turn, max(min(self._turn(slot.mouth_left), end), turn))
            corners = (slot.mouth_left, slot.floor_left, slot.floor_right, slot.mouth_right)
            yield from (_Step(point) for point in corners if point[1] > DUST or point not in corners[::3])
            turn = min(max(self._turn(slot.mouth_right), turn), end)
        yield from self._arc(curves.former, turn, end)
        inner = curves.turn(curves.inside)
        yield _Step((curves.half(curves.inside), 0.0))
        yield from self._arc(curves.inside, inner, -inner)

    def _turn(self, point: Point) -> float:
        return atan2_deg(point[0], point[1] + self.curves.below)

    def _arc(self, radius: float, start: float, end: float) -> Iterator[_Step]:
        """Round the centre from turn to turn [deg], in chords that are CLOSE."""
        across = math.radians(end - start)
        parts = math.ceil(abs(across) / math.sqrt(8 * CLOSE / radius))
        for part in range(1, parts + 1):
            bulge = radius**2 / 2 * (across / parts - math.sin(across / parts))
            x, y = self.curves.at(radius, start + (end - start) * part / parts)
            yield _Step((x, y if abs(y) > DUST else 0.0), bulge)


def slotted(joints: Sequence[Row], slots: Sequence[Row]) -> list[int]:
    """The numbers of the joints that run out into a slot."""
    return [
        int(joint["n"] or 0)
        for joint in joints
        if any(_within(joint["out_x"], slot["mouth_left_x"], slot["mouth_right_x"]) for slot in slots)
    ]


def _within(value: object, low: object, high: object) -> bool:
    return isinstance(value, float) and isinstance(low, float) and isinstance(high, float) and low <= value <= high
