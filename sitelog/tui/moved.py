"""Rows that stand on the terminal already, one or more above or below: it moves them itself, and few are written."""

from collections import Counter
from collections.abc import Iterable, Iterator, Mapping
from operator import itemgetter
from typing import NamedTuple

LEAST = 2  # rows that stand elsewhere already: for one alone it isn't looked
INDEX, REVERSE = "\x1bD", "\x1bM"  # in every terminal since the VT100, as margins are

Cell = tuple[str, str]  # a letter and its style
Cells = dict[int, Cell]  # of a row, by column from 1


class Move(NamedTuple):
    """The rows from `top` to `bottom` go up by `by`, or down where that is less than nothing."""

    top: int
    bottom: int
    by: int

    def __str__(self) -> str:
        """What makes the terminal do it: margins, the cursor at one of them, so many rows over it, no margins."""
        at, step = (self.bottom, INDEX) if self.by > 0 else (self.top, REVERSE)
        return f"\x1b[{self.top};{self.bottom}r\x1b[{at};1H{step * abs(self.by)}\x1b[r"

    @property
    def rows(self) -> range:
        """The rows that it moves, or that are left open by it."""
        return range(self.top, self.bottom + 1)

    def of(self, rows: Mapping[int, Cells]) -> dict[int, Cells]:
        """What stands in each of its rows afterwards: nothing known in those left open, which some fill with colour."""
        return {row: rows[row + self.by] if row + self.by in self.rows else {} for row in self.rows}


def moved(shown: Mapping[int, Cells], wanted: Mapping[int, Cells], fresh: Iterable[int]) -> Move | None:
    """The move that puts most of the fresh rows where they are wanted; None where none is worth it.

    Only of rows that are known from end to end: what is not may hold anything, and would be moved too.
    """
    steps = list(_steps(*(_texts(rows, fresh) for rows in (shown, wanted))))
    by, most = max(Counter(step for step, _ in steps).items(), key=itemgetter(1), default=(0, 0))
    if most < LEAST:
        return None
    ends = [end for step, row in steps if step == by for end in (row, row + by)]
    move = Move(min(ends), max(ends), by)
    width = max(map(len, wanted.values()))
    known = all(len(rows.get(row, ())) == width for rows in (shown, wanted) for row in move.rows)
    return move if known else None


def _steps(before: Mapping[int, str], after: Mapping[int, str]) -> Iterator[tuple[int, int]]:
    """For each row that changes, how far below it stands what is wanted there."""
    places: dict[str, list[int]] = {}
    for row, text in before.items():
        places.setdefault(text, []).append(row)
    for row, text in after.items():
        if text != before.get(row) and text.strip():
            yield from ((place - row, row) for place in places.get(text, ()))


def _texts(rows: Mapping[int, Cells], wanted: Iterable[int]) -> dict[int, str]:
    found = ((row, sorted(rows.get(row, {}).items())) for row in wanted)
    return {row: "".join([letter for _, (letter, _) in cells]) for row, cells in found}
