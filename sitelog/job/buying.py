"""What to buy for a cutting list: its totals, and the stock plan over all that may be ordered."""

import csv
import io
import math
from collections import Counter, defaultdict
from collections.abc import Iterable, Mapping, Sequence

from msgspec import Struct
from msgspec.structs import replace

from sitelog.calculators.catalogue import Answer, Value
from sitelog.calculators.timber.cutting.demand import MOST_LENGTHS
from sitelog.calculators.timber.members import Member
from sitelog.calculators.timber.nests import Length, Tapered, lengths_for
from sitelog.calculators.timber.stick import STOCK_LENGTHS
from sitelog.job.facts.sums import work
from sitelog.job.members import Line
from sitelog.quantities.quantity import Cut, Price, Section
from sitelog.quantities.rounding import as_typed
from sitelog.refusal import Refusal

NOT_YET = "Nothing can be ordered yet. The cutting list says what each timber still needs"
DONE = "Nothing to order: all of the list is cut"
KERF = 4.0  # mm, as the calculator has it
STEPS = (1, 5, 10, 25, 50)  # mm that lengths are rounded up to, where there are too many different ones to plan
BUY = ("section", "stock_length", "count")


class Total(Struct, frozen=True):
    """All of one section: pieces, length [mm] and mass [kg] as cut."""

    section: Section
    count: int
    length: float
    mass: float


class Purchase(Struct, frozen=True):
    """The stock plan, and what it is not of: `left` may not be ordered, `special` is longer than any stick.

    `pairs`: by section, how many of its pieces are ripped into two, head to foot.
    """

    answer: Answer
    left: tuple[Line, ...]
    special: tuple[Line, ...]
    pairs: tuple[tuple[Section, int], ...] = ()


def totals(lines: Iterable[Line]) -> tuple[Total, ...]:
    """By section, in the order of the list, of all that may be ordered."""
    by_section: dict[Section, list[Member]] = defaultdict(list)
    for line in lines:
        if line.good and line.member:
            by_section[line.member.section].append(line.member)
    return tuple(
        Total(
            section,
            sum(member.count for member in found),
            math.fsum(member.count * member.length for member in found),
            math.fsum(member.count * (member.mass or 0.0) for member in found),
        )
        for section, found in by_section.items()
    )


def buy(
    lines: Sequence[Line],
    *,
    kerf: float = KERF,
    lengths: Sequence[float] | None = None,
    prices: Sequence[Price] | None = None,
) -> Purchase:
    """The plan over the lines that may be ordered and that a stick holds; lengths are taken up to a whole mm.

    Refusal where nothing is left to buy, as `stock` gives it.
    """
    good = [line for line in lines if line.good]
    held = _held(good, max(lengths or STOCK_LENGTHS))
    _must_be_some(held, lines)
    pieces = _pieces(held, kerf, prices or ())
    answer = _planned(pieces, kerf, lengths or (), prices or ())
    left = tuple(line for line in lines if not line.good)
    special = tuple(line for line in good if line not in held)
    return Purchase(answer, left, special, _pairs(pieces))


def _must_be_some(held: Sequence[Line], lines: Sequence[Line]) -> None:
    """Refusal where nothing can be bought: nothing is left to cut, or nothing can be ordered yet."""
    if not lines:
        raise Refusal(DONE)
    if not held:
        raise Refusal(NOT_YET)


def _planned(pieces: Mapping[Length, int], kerf: float, lengths: Sequence[float], prices: Sequence[Price]) -> Answer:
    """The answer of `stock` for those pieces; lengths and prices that are not given are its own."""
    given: dict[str, Value] = {"cuts": _cuts(pieces), "kerf": kerf}
    if lengths:
        given["lengths"] = tuple(lengths)
    if prices:
        given["prices"] = tuple(prices)
    answer, refusal = work("stock", given)
    if answer is None:
        raise Refusal(refusal)
    return answer


def _held(lines: Iterable[Line], longest: float) -> list[Line]:
    """The lines whose members a stick of that length [mm] holds."""
    return [line for line in lines if line.member and math.ceil(line.member.length - 1e-6) <= longest]


def _pairs(pieces: Mapping[Length, int]) -> tuple[tuple[Section, int], ...]:
    """By section, how many pieces are ripped into two."""
    found: Counter[Section] = Counter()
    for piece, count in pieces.items():
        if piece.paired:
            found[piece.section] += count
    return tuple(found.items())


def _pieces(lines: Sequence[Line], kerf: float, prices: Sequence[Price]) -> Counter[Length]:
    """All that is sawn off sticks; two that are ripped from one stick are one piece of it.

    Where prices are given, only what has one is taken for two.
    """
    found: Counter[Length] = Counter()
    tapered: dict[tuple[float, float], list[Tapered]] = defaultdict(list)
    for line in lines:
        member = line.member
        if member and line.nested:
            thin, thick = line.nested
            alike = tapered[member.section.thickness, round((thick - thin) / member.length, 6)]
            alike += [Tapered(len(alike) + nth, member.length, thin, thick) for nth in range(member.count)]
        elif member:
            found[Length(member.section, member.length)] += member.count
    for (thickness, fall), pieces in tapered.items():
        depths = {price.section.depth for price in prices if price.section.thickness == thickness} if prices else None
        found.update(lengths_for(pieces, thickness, fall, kerf, depths))
    return found


def _cuts(pieces: Mapping[Length, int]) -> tuple[Cut, ...]:
    """The pieces, alike ones together, in no more different lengths of a section than can be planned."""
    for step in STEPS:
        found: dict[tuple[Section, float], int] = defaultdict(int)
        for piece, count in pieces.items():
            found[piece.section, math.ceil((piece.length - 1e-6) / step) * step] += count
        sections = [section for section, _ in found]
        if all(sections.count(section) <= MOST_LENGTHS for section in set(sections)):
            break
    return tuple(Cut(section, float(length), count) for (section, length), count in found.items())


def ordered(lines: Iterable[Line], *, by_part: bool) -> tuple[Member, ...]:
    """The members that may be ordered, as a file of them is written; with the part's id before each where asked."""
    found = []
    for line in lines:
        if line.good and line.member:
            named = f"{line.part}: {line.member.part}" if by_part else line.member.part
            found.append(replace(line.member, part=named))
    return tuple(found)


def write_plan(purchase: Purchase) -> str:
    """What to buy, as CSV: section, stock length in mm, how many."""
    rows = purchase.answer.results["buy"]
    assert isinstance(rows, list)
    written = io.StringIO()
    writer = csv.writer(written, lineterminator="\n")
    writer.writerow(BUY)
    writer.writerows((row["section"], as_typed(float(row["stock_length"] or 0)), row["count"]) for row in rows)
    return written.getvalue()
