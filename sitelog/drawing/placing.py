"""Where words stand on any sheet: clear of each other, and as near their places as the lines let them."""

from collections.abc import Iterator, Sequence
from typing import Protocol, TypeVar

from sitelog.drawing.model import Words, thinned

Place = TypeVar("Place")


class Sheet(Protocol[Place]):
    """What words are placed on: paper in mm, or a terminal in cells. A place is where a block of words can stand."""

    def clash(self, words: Words, other: Words) -> bool:
        """Whether two blocks would stand on each other where they were meant to stand."""

    def tries(self, words: Words) -> Iterator[tuple[float, Place]]:
        """The places for a block of words, nearest first, each with the cost of being so far off."""

    def burden(self, words: Words, place: Place) -> float | None:
        """The cost of what is under the words there; None where other words stand or the sheet ends."""

    def tie(self, place: Place) -> tuple[int, ...]:
        """Of two places at one cost, that with the lower tie is taken."""

    def take(self, place: Place) -> None:
        """Keeps the words that come later off that place."""


def placed(words: Sequence[Words], sheet: Sheet[Place]) -> Iterator[tuple[Words, Place]]:
    """Each block of words with the place that costs least. What finds no room is left out: `says` tells it."""
    for block in thinned(words, sheet.clash):
        best: tuple[float, tuple[int, ...], Place] | None = None
        for far, place in sheet.tries(block):
            if best and far > best[0]:
                break
            burden = sheet.burden(block, place)
            if burden is None:
                continue
            cost, tie = far + burden, sheet.tie(place)
            if best is None or (cost, tie) < best[:2]:
                best = cost, tie, place
        if best:
            sheet.take(best[2])
            yield block, best[2]
