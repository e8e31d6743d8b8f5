"""How boards are shared out over a deck, row by row, so that ends break and off-cuts are used."""

import math

from msgspec import Struct

from sitelog.calculators.coverings.coursing import whole
from sitelog.quantities.rounding import as_typed
from sitelog.refusal import Refusal

STAGGER = 400.0  # mm between the ends of one row and those of the next; GRP installer's manual, p. 9 (read)


class Laid(Struct, frozen=True):
    """One row: its boards [mm] from the first joist on, and how many new ones it opened."""

    boards: tuple[float, ...]
    opened: int


class Boarding:
    """Lays boards of a length [mm] on joists at a spacing [mm], every end between two boards on a joist.

    What is cut off a row's last board still has the end that a first board wants, and the other way round: so
    there are two piles of off-cuts, and the rest of an off-cut is waste.
    """

    def __init__(self, board: float, spacing: float) -> None:
        self.board, self.spacing = board, spacing
        self.usable = math.floor(round(board / spacing, 9)) * spacing
        self._for_first: list[float] = []
        self._for_last: list[float] = []

    def rows(self, across: float, count: int) -> list[Laid]:
        """So many rows over a deck `across` mm long. Refusal where no start keeps the ends apart."""
        laid: list[Laid] = []
        for _ in range(count):
            if across <= self.board:
                laid.append(Laid((across,), self._cut(self._for_first, across, self._for_first)))
            else:
                laid.append(self._lay(across, self._start(across, laid[-1] if laid else None)))
        return laid

    def _start(self, across: float, before: Laid | None) -> float:
        """The first board's length: no short end if it can be helped, then the fewest new boards, then the longest."""
        lengths = [self.spacing * n for n in range(1, round(self.usable / self.spacing) + 1)]
        starts = [length for length in lengths if before is None or self._breaks(length, before.boards[0])]
        if not starts:
            raise Refusal(
                f"grp-deck: sheet_length is {as_typed(self.board)}; on joists at {as_typed(self.spacing)} the "
                f"ends of those boards can't be staggered by {as_typed(STAGGER)}. Change sheet_length= or "
                "spacing="
            )
        return min(starts, key=lambda start: (*self._cost(across, start), -start))

    def _breaks(self, start: float, before: float) -> bool:
        """Whether every end of a row that starts so stands off those of a row that starts so."""
        off = (start - before) % self.usable
        return min(off, self.usable - off) >= STAGGER - 1e-6

    def _after(self, across: float, start: float) -> tuple[int, float]:
        """How many boards follow the first before the last one, and its length."""
        between = max(whole((across - start - self.board) / self.usable), 0)
        return between, across - start - between * self.usable

    def _cost(self, across: float, start: float) -> tuple[int, int]:
        between, last = self._after(across, start)
        first_is_new = _shortest(self._for_first, start) is None
        rest = [self.board - start] if first_is_new else []
        last_is_new = _shortest(self._for_last + rest, last) is None
        return (start < STAGGER) + (last < STAGGER), first_is_new + between + last_is_new

    def _lay(self, across: float, start: float) -> Laid:
        between, last = self._after(across, start)
        opened = self._cut(self._for_first, start, self._for_last) + between
        opened += self._cut(self._for_last, last, self._for_first)
        return Laid((start, *([self.usable] * between), last), opened)

    def _cut(self, pile: list[float], length: float, rest_to: list[float]) -> int:
        """Cuts a length from the shortest off-cut that holds it, or from a new board: the new boards it took."""
        found = _shortest(pile, length)
        if found is not None:
            pile.remove(found)
            return 0
        rest_to.append(self.board - length)
        return 1


def _shortest(pile: list[float], length: float) -> float | None:
    return min((offcut for offcut in pile if offcut >= length), default=None)
