"""Where the timber of an order may come from, and which lines of the cutting list a stick from there holds."""

import math
from collections import Counter, defaultdict
from collections.abc import Iterable, Mapping, Sequence
from pathlib import Path

from msgspec import Struct
from msgspec.structs import replace

from sitelog.calculators.ask import input_value
from sitelog.calculators.index import find
from sitelog.calculators.timber.cutting.supply import plain
from sitelog.calculators.timber.joined import Joint
from sitelog.calculators.timber.nests import section_for
from sitelog.calculators.timber.stick import STOCK_LENGTHS
from sitelog.job.members import Line
from sitelog.job.yard import Yard, read_yard
from sitelog.quantities.quantity import Cut, Price, Section

KERF = 4.0  # mm, as the calculator has it
ASKED = ("lengths", "kerf", "prices", "on_site")  # inputs of `stock` that an order is asked for


class Terms(Struct, frozen=True):
    """What an order is worked with, as it is typed: lengths in mm, None for what isn't said; `yard` is a yard file.

    Prices that are typed go before those of the yard file; lengths that are typed are those of its lengths that are
    bought.
    """

    kerf: float = KERF
    lengths: Sequence[float] | None = None
    prices: Sequence[Price] | None = None
    on_site: Sequence[Cut] | None = None
    yard: Path | None = None


def terms_of(texts: Mapping[str, str], yard: Path | None) -> Terms:
    """The terms as they are typed for those of ASKED that are; blank is left out. Refusal for what can't be read."""
    stock = find("stock")
    given = {name: input_value(stock, stock.input(name), text) for name, text in texts.items() if text.strip()}
    return Terms(yard=yard, **given)  # type: ignore[arg-type]


class Sources(Struct, frozen=True):
    """The same with the yard file read."""

    terms: Terms
    yard: Yard | None

    @property
    def prices(self) -> Sequence[Price]:
        """Those that are typed, else those of the yard; none where neither has any."""
        return self.terms.prices or (self.yard.prices if self.yard else ())

    @property
    def on_site(self) -> Sequence[Cut]:
        """The sticks that are there."""
        return self.terms.on_site or ()

    def longest_sold(self, section: Section) -> float:
        """The longest stick [mm] of it that is sold; 0 if the yard hasn't the section."""
        lengths = self.terms.lengths or STOCK_LENGTHS
        if self.yard:
            lengths = [one for one in self.yard.lengths(section) if one in (self.terms.lengths or (one,))]
        return float(max(lengths, default=0.0))

    def longest_here(self, section: Section) -> float:
        """The longest stick [mm] of it that is on site; 0 if there is none."""
        return max((one.length for one in self.on_site if plain(one.section) == plain(section)), default=0.0)

    def longest(self, section: Section) -> float:
        """The longest stick [mm] of it that can be had."""
        return max(self.longest_sold(section), self.longest_here(section))

    def depths(self, thickness: float) -> dict[float, float] | None:
        """Depths [mm] of that thickness that can be had, each with its longest stick; None where any may be bought."""
        told = [one.section for one in (*self.on_site, *(self.yard.sold if self.yard else self.prices))]
        if not (self.yard or self.prices):
            return None
        return {section.depth: self.longest(section) for section in told if section.thickness == thickness}


class Sorted(Struct, frozen=True):
    """Lines by what becomes of them: a stick holds them; they are longer than any; the yard hasn't their section."""

    held: tuple[Line, ...]
    special: tuple[Line, ...]
    unsold: tuple[Line, ...]


def sources(terms: Terms) -> Sources:
    """The terms with their yard file. Refusal for a fault in it."""
    return Sources(terms, read_yard(terms.yard) if terms.yard else None)


def sorted_out(lines: Sequence[Line], there: Sources) -> Sorted:
    """Each line that may be ordered where it belongs; one of which sticks on site hold some only is parted."""
    held: list[Line] = []
    special: list[Line] = []
    unsold: list[Line] = []
    on_site = _held_on_site(lines, there)
    for line in lines:
        section = _section(line, there)
        if not there.longest(section):
            unsold.append(line)
        elif _length(line) <= there.longest_sold(section):
            held.append(line)
        else:
            count = on_site[id(line)]
            held += _so_many(line, count)
            special += _so_many(line, _count(line) - count)
    return Sorted(tuple(held), tuple(special), tuple(unsold))


def in_pieces(line: Line, there: Sources) -> Line:
    """The line as it is ordered: what is joined, in pieces that the sticks of its section hold, their joints in them.

    What is lapped in the list is lapped again where those sticks are shorter than it was told; not once some is cut.
    """
    joint, member, each = line.joint, line.member, 1
    if joint is None and (joint := _lapped(line)):
        each = joint.pieces
    if joint is None or member is None:
        return line
    whole = joint.whole_of(member.length, each)
    longest = there.longest(member.section)
    if line.joint:
        longest = there.longest_sold(member.section) or longest
    count = joint.count(whole, longest)
    if count == each or member.count % each:
        return line
    made = replace(member, length=joint.each(whole, count), count=member.count // each * count)
    return replace(line, member=made, joint=joint)


def _lapped(line: Line) -> Joint | None:
    """The joint of the sum that lapped it, in as many lengths as it did; None of any other."""
    if line.answer is None or line.answer.calculator != "laps":
        return None
    lap, count = line.answer.inputs["lap"], line.answer.results["count"]
    assert isinstance(lap, (int, float)) and isinstance(count, int)
    return Joint(float(lap), count)


def _held_on_site(lines: Iterable[Line], there: Sources) -> Counter[int]:
    """How many pieces of each line, by its id in memory, sticks on site hold that are longer than any that is sold.

    The longest piece first, each from the shortest stick that holds it.
    """
    found: Counter[int] = Counter()
    left: dict[Section, list[float]] = defaultdict(list)
    for one in there.on_site:
        left[plain(one.section)] += [one.length] * int(one.count)
    for line in sorted(lines, key=_length, reverse=True):
        section = _section(line, there)
        if _length(line) > there.longest_sold(section):
            taken = [_take(left[section], _length(line), there.terms.kerf) for _ in range(_count(line))]
            found[id(line)] = sum(taken)
    return found


def _take(sticks: list[float], length: float, kerf: float) -> bool:
    """Whether one of the sticks [mm] holds it; it is then sawn off the shortest that does."""
    stick = min((one for one in sticks if one >= length), default=None)
    if stick is None:
        return False
    sticks.remove(stick)
    sticks.append(stick - length - kerf)
    return True


def _section(line: Line, there: Sources) -> Section:
    """The section that the line is sawn from: a firring's is the least there is that it can be ripped from."""
    assert line.member is not None
    section = plain(line.member.section)
    if line.nested is None or line.stick == line.member.section:
        return section
    depths = there.depths(section.thickness)
    longest = max((depths or {}).values(), default=0.0)
    return section_for(section.thickness, line.nested[1], min(_length(line), longest), depths) or section


def _so_many(line: Line, count: int) -> tuple[Line, ...]:
    """The line with that many pieces; none of it where that is nothing."""
    assert line.member is not None
    return (replace(line, member=replace(line.member, count=count)),) if count else ()


def _length(line: Line) -> float:
    """The length of its pieces taken up to a whole mm, as it is ordered."""
    return math.ceil(line.member.length - 1e-6) if line.member else 0.0


def _count(line: Line) -> int:
    return line.member.count if line.member else 0
