"""What to buy for a cutting list: its totals, and the stock plan over all that may be ordered."""

import csv
import io
import math
from collections import Counter, defaultdict
from collections.abc import Iterable, Iterator, Mapping, Sequence

from msgspec import Struct
from msgspec.structs import replace

from sitelog import kept
from sitelog.calculators.catalogue import Answer, Value
from sitelog.calculators.timber.cutting.demand import MOST_LENGTHS
from sitelog.calculators.timber.cutting.watch import current_watch
from sitelog.calculators.timber.joined import Joined
from sitelog.calculators.timber.members import Member
from sitelog.calculators.timber.nests import Length, Tapered, lengths_for, lengths_from
from sitelog.calculators.timber.planning import which_solver
from sitelog.job.facts.sums import work
from sitelog.job.members import Line
from sitelog.job.sources import Sorted, Sources, Terms, in_pieces, sorted_out, sources
from sitelog.quantities.quantity import Cut, Section
from sitelog.quantities.rounding import as_typed
from sitelog.refusal import Refusal

NOT_YET = "Nothing can be ordered yet. The cutting list says what each timber still needs"
DONE = "Nothing to order: all of the list is cut"
STEPS = (1, 5, 10, 25, 50)  # mm that lengths are rounded up to, where there are too many different ones to plan
BUY = ("section", "stock_length", "count")
PACKS = ("pack", "packs", "spare")


class Total(Struct, frozen=True):
    """All of one section: pieces, length [mm] and mass [kg] as cut."""

    section: Section
    count: int
    length: float
    mass: float


class Purchase(Struct, frozen=True):
    """The stock plan, and what it is not of: `left` may not be ordered, `special` is longer than any stick.

    `joined` is what is taken in pieces. `pairs`: by section, how many of its pieces are ripped into two, head to foot.
    `unsold` is of a section that isn't in the yard file, whose name is `yard`.
    """

    answer: Answer
    left: tuple[Line, ...]
    special: tuple[Line, ...]
    pairs: tuple[tuple[Section, int], ...] = ()
    unsold: tuple[Line, ...] = ()
    joined: tuple[Joined, ...] = ()
    yard: str = ""
    priced_by_yard: bool = False


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


def buy(lines: Sequence[Line], terms: Terms | None = None) -> Purchase:
    """The plan over the lines that may be ordered and that a stick holds; lengths are taken up to a whole mm.

    Refusal where nothing is left to buy, for a fault in the yard file, and as `stock` gives it.
    """
    there = sources(terms or Terms())
    whole = [line for line in lines if line.good]
    good = [in_pieces(line, there) for line in whole]
    found = sorted_out(good, there)
    _must_be_some(found, lines, there)
    pieces = _pieces(found.held, there)
    return Purchase(
        answer=_planned(pieces, there),
        left=tuple(line for line in lines if not line.good),
        special=found.special,
        unsold=found.unsold,
        joined=tuple(_joined(whole, good)),
        pairs=_pairs(pieces),
        yard=there.yard.name if there.yard else "",
        priced_by_yard=bool(there.prices) and not there.terms.prices,
    )


def _joined(whole: Iterable[Line], in_them: Iterable[Line]) -> Iterator[Joined]:
    """What is ordered in other pieces than the list has."""
    for line, made in zip(whole, in_them, strict=True):
        if made is not line and made.member and made.joint:
            yield Joined(made.member.part, made.member.count, made.member.length, made.joint.lap)


def _must_be_some(found: Sorted, lines: Sequence[Line], there: Sources) -> None:
    """Refusal where nothing can be bought: nothing is left to cut, can be ordered yet, or is sold."""
    if not lines:
        raise Refusal(DONE)
    if found.held:
        return
    if found.unsold and there.yard:
        sections = dict.fromkeys(str(line.member.section) for line in found.unsold if line.member)
        raise Refusal(f"{there.yard.name} has none of {', '.join(sections)}. Add what the yard sells of them")
    raise Refusal(NOT_YET)


def _planned(pieces: Mapping[Length, int], there: Sources) -> Answer:
    """The answer of `stock` for those pieces, as an earlier start worked it; what is not given is its own."""
    given: dict[str, Value] = {
        "cuts": _cuts(pieces),
        "kerf": there.terms.kerf,
        "lengths": tuple(there.terms.lengths or ()),
        "prices": tuple(there.prices),
        "on_site": tuple(there.on_site),
        "sold": there.yard.sold if there.yard else (),
    }
    said = {name: value for name, value in given.items() if value != ()}
    key = kept.key_of(b"stock", which_solver().encode(), repr(sorted(said.items())).encode())
    found = kept.find(key)
    if isinstance(found, Answer):
        return found
    answer, refusal = work("stock", said)
    if answer is None:
        raise Refusal(refusal)
    if not current_watch().should_stop():  # what was stopped is not the best there is
        kept.keep(key, answer)
    return answer


def _pairs(pieces: Mapping[Length, int]) -> tuple[tuple[Section, int], ...]:
    """By section, how many pieces are ripped into two."""
    found: Counter[Section] = Counter()
    for piece, count in pieces.items():
        if piece.paired:
            found[piece.section] += count
    return tuple(found.items())


def _pieces(lines: Sequence[Line], there: Sources) -> Counter[Length]:
    """All that is sawn off sticks; two that are ripped from one stick are one piece of it."""
    found: Counter[Length] = Counter()
    tapered: dict[tuple[float, float, Section | None], list[Tapered]] = defaultdict(list)
    for line in lines:
        member = line.member
        if member and line.nested:
            thin, thick = line.nested
            stick = line.stick if line.stick == member.section else None
            alike = tapered[member.section.thickness, round((thick - thin) / member.length, 6), stick]
            alike += [Tapered(len(alike) + nth, member.length, thin, thick) for nth in range(member.count)]
        elif member:
            found[Length(member.section, member.length)] += member.count
    for (thickness, fall, stick), pieces in tapered.items():
        if stick:
            found.update(lengths_from(pieces, stick, fall, there.terms.kerf))
        else:
            found.update(lengths_for(pieces, thickness, fall, there.terms.kerf, there.depths(thickness)))
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
    """What to buy, as CSV: section, stock length in mm, how many; and where any is sold in packs, how many of those."""
    rows, packs = purchase.answer.results["buy"], purchase.answer.results["packs"]
    assert isinstance(rows, list) and isinstance(packs, list)
    in_packs = {(row["section"], row["stock_length"]): row for row in packs}
    written = io.StringIO()
    writer = csv.writer(written, lineterminator="\n")
    writer.writerow((*BUY, *PACKS) if packs else BUY)
    for row in rows:
        told = (row["section"], as_typed(float(row["stock_length"] or 0)), row["count"])
        pack = in_packs.get((row["section"], row["stock_length"]), {})
        writer.writerow((*told, *(pack.get(column, "") for column in PACKS)) if packs else told)
    return written.getvalue()
