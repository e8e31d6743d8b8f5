"""What is wanted of each section and which sticks it may be sawn from, in whole numbers and within limits."""

from collections.abc import Sequence
from math import gcd

from msgspec import Struct

from sitelog.calculators.timber.cutting.order import Order, Sawn
from sitelog.calculators.timber.cutting.supply import CENTS as CENTS
from sitelog.calculators.timber.cutting.supply import LONGEST as LONGEST
from sitelog.calculators.timber.cutting.supply import PARTS, Counts, Shelf, Supply, parts, plain, shelf, whole
from sitelog.quantities.quantity import Cut, Section
from sitelog.quantities.rounding import as_typed
from sitelog.refusal import Refusal
from sitelog.text import text_if

MOST_PIECES = 2_000
MOST_LENGTHS = 300  # different ones, of one section


class Lot(Struct, frozen=True):
    """One section: its order, with sticks as they are once squared, and the parts that squaring takes off each.

    `packs`: how many of a stick are in a pack, where that is more than one. `none_such`: the length of a stick that
    nobody has, so dear that it is in a plan only where a piece that is longer than any sold finds none on site; else 0.
    """

    section: Section
    order: Order
    trim: int
    priced: bool
    packs: Counts = {}
    none_such: int = 0

    @property
    def by_length(self) -> Order:
        """The same, each stick at the cost of its own length as bought."""
        order = self.order
        lengths = {stick: stick + self.trim for stick in order.stock if stick != self.none_such}
        return Order(order.wanted, _with_none_such(lengths, order.wanted), order.kerf, order.on_site)

    @property
    def longest_sold(self) -> float:
        """The longest piece [mm] that a stick from the yard gives."""
        return max((stick for stick in self.order.stock if stick != self.none_such), default=0) / PARTS

    def stock_length(self, stick: int) -> float:
        """The length in mm of the stick before it is squared."""
        return (stick + self.trim) / PARTS

    def offcut(self, sawn: Sawn) -> float:
        """What is left of the stick, in mm."""
        return sawn.offcut(self.order.kerf) / PARTS


def lots_of(cuts: Sequence[Cut], supply: Supply, kerf: float, trim: float) -> list[Lot]:
    """A lot for each section, in the order of the cuts; nominal and metric names of one size are one section.

    Without prices a stick costs its own length, in parts; with them its price, in hundredths. Raises Refusal where
    there is nothing or too much to saw, a price is wanting, or a piece is longer than any stick.
    """
    there = shelf(supply)
    return [_lot(section, wanted, there, parts(kerf), parts(trim)) for section, wanted in _wanted(cuts).items()]


def check_room(section: Section, longest: int, room: int, *, on_site: bool) -> None:
    """Refusal for a piece longer than any stick gives, both in parts."""
    if longest > room:
        spare = text_if(on_site, ", and no stick on site is left that holds it")
        raise Refusal(
            f"stock: a {section} of {as_typed(longest / PARTS)} doesn't fit the longest stock length, which gives"
            f" {as_typed(room / PARTS)} mm{spare}. Add a longer one; a joint is the engineer's to decide"
        )


def _lot(section: Section, wanted: Counts, there: Shelf, kerf: int, trim: int) -> Lot:
    costs = {stick - trim: cost for stick, cost in there.costs(section).items() if stick > trim}
    useful = min(wanted) + trim
    here = {stick - trim: count for stick, count in there.here(section).items() if stick >= useful}
    room, longest = max(costs, default=0), max(wanted)
    if longest > max(here, default=0):
        check_room(section, longest, room, on_site=bool(here))
    packs = {stick - trim: pack for stick, pack in there.packs(section).items() if stick - trim in costs}
    order = Order(wanted, _with_none_such(costs, wanted), kerf, here)
    return Lot(section, order, trim, bool(there.priced), packs, longest if longest > room else 0)


def _with_none_such(costs: Counts, wanted: Counts) -> Counts:
    """With a stick for the longest piece, if none of these holds it, that costs more than any plan without it."""
    longest = max(wanted)
    if longest <= max(costs, default=0):
        return costs
    step = gcd(*costs.values()) or 1
    dearest = max(costs.values(), default=0) * sum(wanted.values())
    return {**costs, longest: dearest + step}


def _wanted(cuts: Sequence[Cut]) -> dict[Section, Counts]:
    wanted: dict[Section, dict[int, int]] = {}
    for cut in cuts:
        if not parts(cut.length):
            raise Refusal(
                f"stock: cuts has a {cut.section} of {as_typed(cut.length)} mm; a piece must be at least 0.1 mm long"
            )
        count = whole("cuts", cut, "count")
        of_section = wanted.setdefault(plain(cut.section), {})
        of_section[parts(cut.length)] = of_section.get(parts(cut.length), 0) + count
    if not wanted:
        raise Refusal("stock: list at least one piece, such as 47x150:4870:12")
    if (pieces := sum(sum(of_section.values()) for of_section in wanted.values())) > MOST_PIECES:
        raise Refusal(f"stock: cuts has {pieces} pieces; give at most {MOST_PIECES} at once")
    for section, of_section in wanted.items():
        if (lengths := len(of_section)) > MOST_LENGTHS:
            raise Refusal(f"stock: cuts has {lengths} lengths of {section}; give at most {MOST_LENGTHS} at once")
    return {**wanted}
