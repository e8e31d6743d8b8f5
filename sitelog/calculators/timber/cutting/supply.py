"""What there is to saw from, as it is typed: what the yard sells, at which price, in which packs; what is on site."""

from collections.abc import Mapping, Sequence

from msgspec import Struct

from sitelog.calculators.timber.stick import STOCK_LENGTHS
from sitelog.quantities.quantity import Cut, Price, Section
from sitelog.quantities.rounding import as_typed
from sitelog.refusal import Refusal

PARTS = 10  # of a millimetre: every length is worked to the nearest tenth
CENTS = 100  # of the money that prices are in
LONGEST = 15_000.0  # mm; more than an ordinary lorry's bed carries (judgement)
MOST_STICKS = 2_000  # on site

Counts = Mapping[int, int]  # by length in parts


class Supply(Struct, frozen=True):
    """Lengths in mm; None for what isn't said.

    `on_site`: sticks there, and how many of each. `sold`: how many of a length are in a pack; a section that is named
    there is sold in those lengths only.
    """

    lengths: Sequence[float] | None = None
    prices: Sequence[Price] | None = None
    on_site: Sequence[Cut] | None = None
    sold: Sequence[Cut] | None = None


class Shelf(Struct, frozen=True):
    """The same by section, in parts and hundredths; `lengths` are those of every section that isn't in `sold`."""

    lengths: frozenset[int] | None
    priced: Mapping[Section, Counts]
    on_site: Mapping[Section, Counts]
    sold: Mapping[Section, Counts]

    def here(self, section: Section) -> Counts:
        """How many sticks of the section are on site, by length."""
        return self.on_site.get(section, {})

    def costs(self, section: Section) -> Counts:
        """What each length of the section costs: its price, or where nothing has a price its own length.

        Refusal where it has no price, or isn't sold in any of the lengths; none is bought of what is on site alone.
        """
        if not self.priced:
            return {stick: stick for stick in self._kept(section)}
        if section not in self.priced:
            self._must_be_here(section, f"no price for {section}. Price every section, or leave prices out")
        found = self._prices(section)
        if not found:
            self._must_be_here(section, f"no price for {section} at any of the lengths you gave")
        return found

    def _prices(self, section: Section) -> Counts:
        """What has a price and is sold, of those lengths that are said."""
        prices = self.priced.get(section, {})
        if self.lengths is None and section not in self.sold:
            return prices
        kept = self._kept(section)
        return {stick: cents for stick, cents in prices.items() if stick in kept}

    def _must_be_here(self, section: Section, why: str) -> None:
        """Refusal where none of the section is on site."""
        if not self.here(section):
            raise Refusal(f"stock: {why}")

    def packs(self, section: Section) -> Counts:
        """How many are in a pack, of the lengths that aren't sold singly."""
        return {stick: pack for stick, pack in self.sold.get(section, {}).items() if pack > 1}

    def _kept(self, section: Section) -> frozenset[int]:
        """The lengths in which the yard has it."""
        if section not in self.sold:
            if self.lengths is None:
                return frozenset(map(parts, STOCK_LENGTHS))
            return self.lengths
        sold = frozenset(self.sold[section])
        kept = sold if self.lengths is None else sold & self.lengths
        if not kept:
            self._must_be_here(
                section, f"{section} isn't sold at any of the lengths you gave. Add one that it is sold in"
            )
        return kept


def shelf(supply: Supply) -> Shelf:
    """The supply by section. Refusal for what can't be there, can't be sold, or is there twice."""
    return Shelf(
        None if supply.lengths is None else frozenset(map(parts, supply.lengths)),
        _priced(supply.prices or ()),
        _on_site(supply.on_site or ()),
        _sold(supply.sold or ()),
    )


def parts(mm: float) -> int:
    """A length in parts."""
    return round(mm * PARTS)


def plain(section: Section) -> Section:
    """The section by its mm alone: nominal and metric names of one size are one."""
    return Section(section.thickness, section.depth)


def whole(name: str, cut: Cut, told: str) -> int:
    """How many there are of it. Refusal where that isn't a whole number."""
    if cut.count % 1:
        raise Refusal(
            f"stock: {name} has {as_typed(cut.count)} of {cut.section}:{as_typed(cut.length)}; the {told} must "
            "be a whole number"
        )
    return int(cut.count)


def _in_reach(name: str, length: float) -> int:
    """The length of a stick in parts. Refusal for one that is too long, or nothing at all."""
    if length > LONGEST:
        raise Refusal(f"stock: {name} has a stick of {as_typed(length)} mm; it must be at most {as_typed(LONGEST)}")
    if not parts(length):
        raise Refusal(f"stock: {name} has a stick of {as_typed(length)} mm; it must be at least 0.1 mm long")
    return parts(length)


def _on_site(sticks: Sequence[Cut]) -> Mapping[Section, Counts]:
    found: dict[Section, dict[int, int]] = {}
    for one in sticks:
        length, count = _in_reach("on_site", one.length), whole("on_site", one, "count")
        of_section = found.setdefault(plain(one.section), {})
        of_section[length] = of_section.get(length, 0) + count
    if (there := sum(sum(of_section.values()) for of_section in found.values())) > MOST_STICKS:
        raise Refusal(f"stock: on_site has {there} sticks; give at most {MOST_STICKS} at once")
    return found


def _sold(packs: Sequence[Cut]) -> Mapping[Section, Counts]:
    found: dict[Section, dict[int, int]] = {}
    for one in packs:
        length, pack = _in_reach("sold", one.length), whole("sold", one, "pack")
        if found.setdefault(plain(one.section), {}).setdefault(length, pack) != pack:
            raise Refusal(f"stock: two packs for {one.section}:{as_typed(one.length)}; give one")
    return found


def _priced(prices: Sequence[Price]) -> Mapping[Section, Counts]:
    """What a stick costs in hundredths, by section and length."""
    priced: dict[Section, dict[int, int]] = {}
    for price in prices:
        told = f"{price.section}:{as_typed(price.length)}"
        length = _in_reach("prices", price.length)
        if not (cents := round(price.each * CENTS)):
            raise Refusal(f"stock: prices has {as_typed(price.each)} for {told}; it must be at least 0.01")
        if priced.setdefault(plain(price.section), {}).setdefault(length, cents) != cents:
            raise Refusal(f"stock: two prices for {told}; give one")
    return priced
