"""Roofs worked a second way, without the program: the height over a point straight from the half planes of each block.

A roof here is points in mm and blocks of walls; `text` writes it as a person would type it.
"""

import math
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field

Point = tuple[float, float]


@dataclass(frozen=True)
class Face:
    """One wall of a block: two points' names, and a pitch [deg], or gable or against in its place."""

    start: str
    end: str
    pitch: float | str
    up: float = 0.0
    inset: float = 0.0
    same_as: "Face | None" = None

    @property
    def name(self) -> str:
        return f"{self.start}-{self.end}" if len(self.start + self.end) > 2 else self.start + self.end

    @property
    def typed(self) -> str:
        body = self.pitch if isinstance(self.pitch, str) else f"{self.pitch:.12f}"
        if self.same_as:
            body = f"{body if isinstance(self.pitch, str) else ''} ={self.same_as.name}".strip()
        up = f" {self.up:+.9f}" if self.up else ""
        inset = f" in {self.inset:.9f}" if self.inset else ""
        return f"{self.name} {body}{up}{inset}"


@dataclass(frozen=True)
class Roof:
    """Points [mm] and blocks; `loop` if its only block is a loop to be split."""

    points: Mapping[str, Point]
    blocks: Mapping[str, Sequence[Face]] = field(default_factory=dict)

    @property
    def text(self) -> str:
        points = [f"{name} {x:.9f},{y:.9f}" for name, (x, y) in self.points.items()]
        blocks = [f"{name} {', '.join(face.typed for face in faces)}" for name, faces in self.blocks.items()]
        return "; ".join([*points, *blocks])

    def moved(self, how: "Mapping[str, Point]") -> "Roof":
        return Roof(how, self.blocks)

    def height(self, x: float, y: float) -> float | None:
        """The height [mm] of the highest block over a point, None where nothing is built."""
        heights = [self._block(faces, x, y) for faces in self.blocks.values()]
        there = [height for height in heights if height is not None]
        return max(there) if there else None

    def _block(self, faces: Sequence[Face], x: float, y: float) -> float | None:
        heights = []
        for face in faces:
            inside = self._inside(face, x, y)
            if face.same_as:
                # In another's line, on the side that it faces itself.
                inside = self._inside(face.same_as, x, y)
                inside = math.copysign(1, self._same_way(face, face.same_as)) * inside
            inside -= face.inset
            if inside < 0:
                return None
            source = face.same_as or face
            if not isinstance(face.pitch, str) and not isinstance(source.pitch, str):
                run = self._inside(source, x, y) - source.inset
                heights.append(source.up + run * math.tan(math.radians(source.pitch)))
        return min(heights)

    def _same_way(self, face: Face, other: Face) -> float:
        (ax, ay), (bx, by) = self.points[face.start], self.points[face.end]
        (cx, cy), (dx, dy) = self.points[other.start], self.points[other.end]
        return (bx - ax) * (dx - cx) + (by - ay) * (dy - cy)

    def _inside(self, face: Face, x: float, y: float) -> float:
        """How far [mm] inside a wall's line a point is."""
        (x0, y0), (x1, y1) = self.points[face.start], self.points[face.end]
        return ((x1 - x0) * (y - y0) - (y1 - y0) * (x - x0)) / math.dist((x0, y0), (x1, y1))

    def grid(self, step: float) -> Iterator[Point]:
        """The middles of squares [mm] over the whole plan and a little past it."""
        xs, ys = zip(*self.points.values(), strict=True)
        for column in range(-1, round((max(xs) - min(xs)) / step) + 2):
            for row in range(-1, round((max(ys) - min(ys)) / step) + 2):
                yield min(xs) + (column + 0.5) * step, min(ys) + (row + 0.5) * step

    def sampled(self, step: float) -> tuple[float, float]:
        """Plan area [m2] and volume over the datum [m3], by counting squares."""
        area, volume = 0.0, 0.0
        for x, y in self.grid(step):
            height = self.height(x, y)
            if height is not None:
                area += step * step / 1e6
                volume += step * step * max(height, 0.0) / 1e9
        return area, volume
