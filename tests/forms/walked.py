"""The roof of the second sample walked another way: planes laid on its plates as taped, and points between them.

At each place the lower of the planes of a block, the higher of the blocks. Lengths in mm from A, along AB and square to
it.
"""

from collections.abc import Iterator
from functools import cache, lru_cache

import numpy as np
from msgspec import Struct

# Where the corners are by the tape: the sides and ties read are the distances between them, to the mm.
TAPED = {"A": (0, 0), "B": (10404, 0), "C": (10407, 6206), "E": (4195, 6209), "F": (4200, 9812), "G": (-5, 9804)}
PITCH = np.radians(40)
RISE, COS = np.tan(PITCH), np.cos(PITCH)
# The dormer is 1500 wide, 7000 along AB, its face 900 in and its plates 600 over the slope there. P and N are at its
# face; M and Q are drawn 1000 in from it.
CHEEK = 900 * RISE + 600
DORMER = {"M": (7000, 1900), "N": (7000, 900), "P": (8500, 900), "Q": (8500, 1900)}
CORNERS = {**TAPED, **DORMER}
SLOPES = ("AB", "BC", "CE", "GA", "EF", "PQ", "MN")
STEP = 5.0


class Piece(Struct, frozen=True):
    """What of a line up a slope at a mark is on the roof: how far in it begins and ends on plan, square to its wall."""

    low: float
    high: float


@lru_cache
def wall(name: str) -> tuple[np.ndarray, np.ndarray, np.ndarray, float]:
    """Its first corner, the way along it, the way in from it, and its length."""
    start, end = (np.array(CORNERS[corner], float) for corner in name)
    along = (end - start) / np.linalg.norm(end - start)
    return start, along, np.array([-along[1], along[0]]), float(np.linalg.norm(end - start))


def height(name: str, points: np.ndarray) -> np.ndarray:
    """Of a wall's plane over the plates, at points of the plan."""
    start, _, inward, _ = wall(name)
    found: np.ndarray = (points - start) @ inward * RISE + (CHEEK if name in ("PQ", "MN") else 0.0)
    return found


def top(points: np.ndarray) -> np.ndarray:
    """How high the roof is at points of the plan; under nought where there is none."""
    main = np.min([height(name, points) for name in ("AB", "BC", "CE", "GA")], axis=0)
    wing = np.min([height(name, points) for name in ("EF", "GA")], axis=0)
    # The wing goes from its gable, give or take its being out of square, to the slope across the main roof.
    of_wing = (height("FG", points) >= -10 * RISE) & (height("AB", points) > wing)
    dormer = np.min([height(name, points) for name in ("PQ", "MN", "CE")], axis=0)
    of_dormer = (height("NP", points) >= 0) & (dormer >= CHEEK)
    found: np.ndarray = np.max([main, np.where(of_wing, wing, -1.0), np.where(of_dormer, dormer, -1.0)], axis=0)
    return found


def place(name: str, at: float | np.ndarray, far: float | np.ndarray) -> np.ndarray:
    """The point of the plan at a mark of a wall, so far in from it."""
    start, along, inward, _ = wall(name)
    found: np.ndarray = start + along * np.asarray(at)[..., None] + inward * np.asarray(far)[..., None]
    return found


def is_own(name: str, at: float | np.ndarray, far: float | np.ndarray) -> np.ndarray:
    """Whether the slope over a wall is the roof there."""
    points = place(name, at, far)
    over = top(points)
    found: np.ndarray = (np.abs(height(name, points) - over) < 1e-6) & (over > 0) & (np.asarray(far) > 0)
    return found


@cache
def pieces(name: str, at: float) -> list[Piece]:
    """What of the line up a slope at a mark is on the roof, from the lowest; each end to a hundredth of a mm."""
    out = np.arange(STEP / 2, 4000, STEP)
    own = is_own(name, at, out)
    turns = np.flatnonzero(np.diff(np.concatenate(([False], own, [False])).astype(int)))
    return [
        Piece(_end(name, at, out[first] - STEP, out[first]), _end(name, at, out[last - 1] + STEP, out[last - 1]))
        for first, last in zip(turns[::2], turns[1::2], strict=True)
    ]


def _end(name: str, at: float, outside: float, inside: float) -> float:
    for _ in range(10):
        middle = (outside + inside) / 2
        if is_own(name, at, middle):
            inside = middle
        else:
            outside = middle
    return inside


def extent(name: str) -> tuple[float, float]:
    """From where to where along its wall a slope is, to 10 mm."""
    along = np.arange(-4000.5, 12000, 10)
    own = along[is_own(name, along[:, None], np.arange(5, 4000, 10)).any(axis=1)]
    return float(own[0]), float(own[-1])


def leans(name: str, at: float, piece: Piece) -> Iterator[tuple[float, float]]:
    """How much further in each end is for each mm along the wall, to the left and to the right of the mark."""
    for end in ("low", "high"):
        ends = []
        for off in (-2.0, 2.0):
            beside = [one for one in pieces(name, at + off) if one.low < piece.high and one.high > piece.low]
            ends.append((getattr(beside[0], end) - getattr(piece, end)) / off if beside else np.nan)
        yield ends[0], ends[1]
