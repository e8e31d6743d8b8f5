"""What is wanted of each section and which sticks it may be sawn from, in whole numbers and within limits."""

from collections.abc import Collection, Mapping, Sequence

from msgspec import Struct

from sitelog.calculators.timber.cutting.order import Order, Sawn
from sitelog.calculators.timber.stick import STOCK_LENGTHS
from sitelog.quantities.quantity import Cut, Price, Section
from sitelog.quantities.rounding import as_typed
from sitelog.refusal import Refusal

PARTS = 10  # of a millimetre: every length is worked to the nearest tenth
CENTS = 100  # of the money that prices are in
MOST_PIECES = 2_000
MOST_LENGTHS = 300  # different ones, of one section
LONGEST = 15_000.0  # mm; more than an ordinary lorry's bed carries (judgement)

Counts = Mapping[int, int]  # by length in parts


class Lot(Struct, frozen=True):
    """One section: its order, with sticks as they are once squared, and the parts that squaring takes off each."""

    section: Section
    order: Order
    trim: int
    priced: bool

    @property
    def by_length(self) -> Order:
        """The same, each stick at the cost of its own length as bought."""
        return Order(self.order.wanted, {stick: stick + self.trim for stick in self.order.stock}, self.order.kerf)

    def stock_length(self, sawn: Sawn) -> float:
        """The length in mm at which the stick is bought."""
        return (sawn.stick + self.trim) / PARTS

    def offcut(self, sawn: Sawn) -> float:
        """What is left of the stick, in mm."""
        return sawn.offcut(self.order.kerf) / PARTS


def lots_of(
    cuts: Sequence[Cut], lengths: Sequence[float] | None, prices: Sequence[Price] | None, kerf: float, trim: float
) -> list[Lot]:
    """A lot for each section, in the order of the cuts; nominal and metric names of one size are one section.

    Without prices a stick costs its own length, in parts; with them its price, in hundredths. Raises Refusal where
    there is nothing or too much to saw, a price is wanting, or a piece is longer than any stick.
    """
    priced = _priced(prices or ())
    kept = {_parts(mm) for mm in (STOCK_LENGTHS if lengths is None else lengths)}
    found = []
    for section, wanted in _wanted(cuts).items():
        sticks = _sticks(section, None if lengths is None else kept, priced) if priced else {mm: mm for mm in kept}
        squared = {stick - _parts(trim): cost for stick, cost in sticks.items() if stick > _parts(trim)}
        _check_room(section, max(wanted), max(squared, default=0))
        found.append(Lot(section, Order(wanted, squared, _parts(kerf)), _parts(trim), bool(priced)))
    return found


def _check_room(section: Section, longest: int, room: int) -> None:
    """Refusal for a piece longer than any stick gives, both in parts."""
    if longest > room:
        raise Refusal(
            f"stock: a {section} of {as_typed(longest / PARTS)} doesn't fit the longest stock length, which gives"
            f" {as_typed(room / PARTS)} mm. Add a longer one; a joint is the engineer's to decide"
        )


def _parts(mm: float) -> int:
    return round(mm * PARTS)


def _plain(section: Section) -> Section:
    return Section(section.thickness, section.depth)


def _wanted(cuts: Sequence[Cut]) -> dict[Section, Counts]:
    wanted: dict[Section, dict[int, int]] = {}
    for cut in cuts:
        if not _parts(cut.length):
            raise Refusal(
                f"stock: cuts has a {cut.section} of {as_typed(cut.length)} mm; a piece must be at least 0.1 mm long"
            )
        if cut.count % 1:
            raise Refusal(
                f"stock: cuts has {as_typed(cut.count)} of {cut.section}:{as_typed(cut.length)}; the count must "
                "be a whole number"
            )
        of_section = wanted.setdefault(_plain(cut.section), {})
        of_section[_parts(cut.length)] = of_section.get(_parts(cut.length), 0) + int(cut.count)
    if not wanted:
        raise Refusal("stock: list at least one piece, such as 47x150:4870:12")
    if (pieces := sum(sum(of_section.values()) for of_section in wanted.values())) > MOST_PIECES:
        raise Refusal(f"stock: cuts has {pieces} pieces; give at most {MOST_PIECES} at once")
    for section, of_section in wanted.items():
        if (lengths := len(of_section)) > MOST_LENGTHS:
            raise Refusal(f"stock: cuts has {lengths} lengths of {section}; give at most {MOST_LENGTHS} at once")
    return {**wanted}


def _priced(prices: Sequence[Price]) -> Mapping[Section, Counts]:
    """What a stick costs in hundredths, by section and length."""
    priced: dict[Section, dict[int, int]] = {}
    for price in prices:
        told = f"{price.section}:{as_typed(price.length)}"
        if price.length > LONGEST:
            raise Refusal(
                f"stock: prices has a stick of {as_typed(price.length)} mm; it must be at most {as_typed(LONGEST)}"
            )
        if not (cents := round(price.each * CENTS)):
            raise Refusal(f"stock: prices has {as_typed(price.each)} for {told}; it must be at least 0.01")
        if priced.setdefault(_plain(price.section), {}).setdefault(_parts(price.length), cents) != cents:
            raise Refusal(f"stock: two prices for {told}; give one")
    return priced


def _sticks(section: Section, kept: Collection[int] | None, priced: Mapping[Section, Counts]) -> Counts:
    if section not in priced:
        raise Refusal(f"stock: no price for {section}. Price every section, or leave prices out")
    sticks = {stick: cents for stick, cents in priced[section].items() if kept is None or stick in kept}
    if not sticks:
        raise Refusal(f"stock: no price for {section} at any of the lengths you gave")
    return sticks
