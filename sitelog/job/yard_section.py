"""One section of a yard file: in which lengths and packs it is sold, and what each costs."""

from collections.abc import Callable, Iterable, Iterator, Mapping
from decimal import ROUND_HALF_UP, Decimal
from typing import Any, TypeVar

from sitelog.near import closest
from sitelog.quantities.quantity import Cut, Price, Section, read
from sitelog.quantities.rounding import as_typed
from sitelog.quantities.slips import USUAL
from sitelog.refusal import Refusal
from sitelog.text import clean

KEYS = ("lengths", "pack", "price_metre", "price_each", "long_from", "long_adds")
MOST_PACK, MOST_PRICE = 1_000, 100_000
MOST_LENGTHS = 60  # of one section
CENT = Decimal("0.01")

T = TypeVar("T")


class SoldSection:
    """One section as the file has it; `where` begins every line that is said of it."""

    def __init__(self, where: str, section: Section, table: Mapping[str, Any]) -> None:
        self.where, self.section, self.table = where, section, table
        for key in table:
            if key not in KEYS:
                near = closest(key, KEYS)
                hint = f"Did you mean {near}?" if near else f"Type one of {', '.join(KEYS)}"
                raise self._fault(f"'{clean(key, most=40)}' isn't known here. {hint}")
        self.each = self._by_length("price_each", self._price)
        self.lengths = self._lengths()

    def sold(self) -> Iterator[Cut]:
        """How many are in a pack, of each length."""
        packs = self.table.get("pack", 1)
        if not isinstance(packs, dict):
            pack = self._pack("pack", packs)
            yield from (Cut(self.section, length, pack) for length in self.lengths)
            return
        by_length = self._by_length("pack", self._pack)
        self._must_be_sold("pack", by_length)
        yield from (Cut(self.section, length, by_length.get(length, 1)) for length in self.lengths)

    def prices(self) -> Iterator[Price]:
        """What a stick of each length costs, to the cent; nothing where no price is told."""
        adds, start = self._premium()
        for length, price in self._singly().items():
            more = 1 + adds if length >= start else Decimal(1)
            each = (price * more).quantize(CENT, ROUND_HALF_UP)
            if not each:
                raise self._fault(f"a stick of {as_typed(length)} comes to less than 0.01. Type a higher price")
            yield Price(self.section, length, float(each))

    def _singly(self) -> Mapping[float, Decimal]:
        """The price of each length, before what is added to a long one."""
        if self.each:
            if "price_metre" in self.table:
                raise self._fault("it has price_metre and price_each. Leave one out")
            without = next((length for length in self.lengths if length not in self.each), None)
            if without is not None:
                shown = as_typed(without)
                raise self._fault(
                    f"price_each doesn't have {shown}. Add {shown} = 21.60, or take {shown} out of lengths"
                )
            return self.each
        if "price_metre" not in self.table:
            return {}
        metre = self._price("price_metre", self.table["price_metre"])
        return {length: metre * Decimal(str(length)) / 1000 for length in self.lengths}

    def _premium(self) -> tuple[Decimal, float]:
        """What is added, as a part of the price, and from which length up."""
        there = [key for key in ("long_from", "long_adds") if key in self.table]
        if not there:
            return Decimal(0), 0.0
        if len(there) == 1:
            other = 'long_adds = "10%"' if there == ["long_from"] else "long_from = 5400"
            raise self._fault(f"{there[0]} needs {other.partition(' ')[0]} too. Type {other}")
        if not self._singly():
            raise self._fault("long_adds needs a price. Type price_metre = 4.20")
        return self._share("long_adds", self.table["long_adds"]), self._length("long_from", self.table["long_from"])

    # -- one value --

    def _lengths(self) -> list[float]:
        told = self.table.get("lengths", [*self.each])
        if not isinstance(told, list) or not told:
            raise self._fault("no lengths. Type lengths = [3600, 4200, 4800]")
        if len(told) > MOST_LENGTHS:
            raise self._fault(f"lengths has {len(told)}. Type at most {MOST_LENGTHS}")
        found = dict.fromkeys(self._length("lengths", one) for one in told)
        self._must_be_sold("price_each", self.each, found)
        return sorted(found)

    def _must_be_sold(self, key: str, told: Iterable[float], lengths: Iterable[float] | None = None) -> None:
        known = set(self.lengths if lengths is None else lengths)
        odd = next((length for length in told if length not in known), None)
        if odd is not None:
            raise self._fault(f"{key} has {as_typed(odd)}, and lengths has not. Add {as_typed(odd)} to lengths")

    def _by_length(self, key: str, one: Callable[[str, object], T]) -> dict[float, T]:
        """A table of lengths to what `one` reads, such as { 4800 = 31.50 }; none where it isn't there."""
        told = self.table.get(key, {})
        if not isinstance(told, dict):
            raise self._fault(f"{key} is one figure. Type {{ 4800 = 31.50, 5400 = 36 }}, or price_metre = 4.20")
        found: dict[float, T] = {}
        for typed, value in told.items():
            if isinstance(value, dict):  # 4.8 = 31.50 is a key in a key
                raise self._fault(f'{key} has a length with a point. Type mm such as 4800, or "4.8m" in quotes')
            length = self._length(key, typed)
            if length in found:
                raise self._fault(f"{key} has {as_typed(length)} twice. Leave one out")
            found[length] = one(key, value)
        return found

    def _length(self, key: str, told: object) -> float:
        """A length in mm that timber is sold in."""
        usual = USUAL["stock"]
        try:
            length = read("length", str(told))
        except Refusal:
            raise self._fault(
                f'{key} has {_shown(told)}, not a length. Type mm such as 4800, or "4.8m" in quotes'
            ) from None
        assert isinstance(length, float)
        if usual.has(length) and length:
            return length
        if usual.has(length * 1000) and length:
            raise self._fault(
                f"{key} has {_shown(told)}, which is {as_typed(length)} mm. Type {as_typed(length * 1000)}"
            )
        least, most = as_typed(usual.least), as_typed(usual.most)
        raise self._fault(f"{key} has {_shown(told)}. Type lengths from {least} to {most} mm")

    def _pack(self, key: str, told: object) -> int:
        if not isinstance(told, int) or isinstance(told, bool) or not 1 <= told <= MOST_PACK:
            raise self._fault(f"{key} has {_shown(told)}. Type how many are sold together, from 1 to {MOST_PACK}")
        return told

    def _price(self, key: str, told: object) -> Decimal:
        if not isinstance(told, (int, float)) or isinstance(told, bool) or not 0 < told <= MOST_PRICE:
            raise self._fault(f"{key} has {_shown(told)}. Type a number without a sign, such as 4.20")
        return Decimal(str(told))

    def _share(self, key: str, told: object) -> Decimal:
        try:
            if isinstance(told, str) and told.strip().endswith("%"):
                return Decimal(str(read("fraction", told)))
        except Refusal:
            pass
        raise self._fault(f'{key} has {_shown(told)}. Type a share in quotes, such as "10%"')

    def _fault(self, why: str) -> Refusal:
        return Refusal(f"{self.where}: {why}")


def _shown(told: object) -> str:
    return f"'{clean(str(told)[:100], most=30)}'"
