"""What one list takes over from another: a stage as it stands there, or facts, sums and members by name.

A stage says `like = "hipped.ridge"`, and `without = ["ridge-ends"]` for the checks that it leaves; what it says itself
comes before what it takes over, key by key, and a check of its own before one of the same id. Facts, sums, members
and trades are taken by `like = "hipped"` and `names = [...]`. It is done on the tables as read, so that all that
follows sees whole lists.
"""

import hashlib
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field, replace
from typing import Any

from sitelog.checklist.schema.document import Document, Fault, Lent, Spot
from sitelog.checklist.schema.table import MOST_ITEMS, hint
from sitelog.text import clean

# What is taken by names, and the key that names one.
TAKEN = {"fact": "name", "sum": "id", "member": "id", "trade": "id"}


def with_borrowed(documents: Sequence[Document], faults: list[Fault]) -> list[Document]:
    """The lists with all that each takes over from another put in; what can't be had is a fault.

    Of two with one id the last is in force, and is the one that lends.
    """
    lists = {str(one.data.get("id")): one for one in documents}
    return [_Taking(one, lists, faults).whole() for one in documents]


def _tables(document: Document | None, key: str) -> list[tuple[Spot, dict[str, Any]]]:
    return _held(Spot(document), key, document.data) if document else []


def _held(spot: Spot, key: str, data: Mapping[str, Any]) -> list[tuple[Spot, dict[str, Any]]]:
    """The tables of an array of tables; none where it is no such thing, which is told when the list is read."""
    held = data.get(key)
    if not isinstance(held, list) or len(held) > MOST_ITEMS or not all(isinstance(one, dict) for one in held):
        return []
    return [(spot.at(key, place), one) for place, one in enumerate(held)]


@dataclass
class _Taking:
    document: Document
    lists: Mapping[str, Document]
    faults: list[Fault]
    lenders: dict[str, Document] = field(default_factory=dict)

    def whole(self) -> Document:
        data = dict(self.document.data)
        for key in (*TAKEN, "stage"):
            tables = _tables(self.document, key)
            if any("like" in one for _, one in tables):
                data[key] = [one for spot, table in tables for one in self._taken(key, spot, table)]
        if not self.lenders:
            return self.document if data == self.document.data else replace(self.document, data=data)
        digests = [self.document.digest, *(self.lenders[name].digest for name in sorted(self.lenders))]
        return replace(self.document, data=data, digest=hashlib.sha256("\n".join(digests).encode()).hexdigest())

    def _taken(self, key: str, spot: Spot, table: dict[str, Any]) -> Iterator[Lent]:
        if "like" not in table:
            yield Lent(spot, table)
        elif key in TAKEN:
            yield from self._named(key, spot, table)
        else:
            yield from self._stage(spot, table)

    def _named(self, key: str, spot: Spot, table: dict[str, Any]) -> Iterator[Lent]:
        names = table.get("names")
        if set(table) != {"like", "names"} or not isinstance(names, list):
            self.faults.append(
                spot.fault(f'a borrowed {key} has like = "list" and names = ["one", ...], and nothing else')
            )
            return
        lender = self._lender(spot, table["like"])
        there = {str(one.get(TAKEN[key])): (at, one) for at, one in _tables(lender, key) if "like" not in one}
        for place, name in enumerate(names if lender else ()):
            if str(name) in there:
                yield Lent(*there[str(name)])
            else:
                what = f"no {key} {clean(str(name), most=60)} in that list; {hint(str(name), [*there])}"
                self.faults.append(spot.at("names", place).fault(what))

    def _stage(self, spot: Spot, table: dict[str, Any]) -> Iterator[Lent]:
        name, _, stage = str(table["like"]).partition(".")
        lender = self._lender(spot, name)
        there = {str(one.get("id")): (at, one) for at, one in _tables(lender, "stage") if "like" not in one}
        if lender and stage not in there:
            what = f"no stage {clean(stage, most=60)!r} in that list; {hint(stage, [*there])}"
            self.faults.append(spot.at("like").fault(what))
        if stage in there:
            at, lent = there[stage]
            own = {key: value for key, value in table.items() if key not in ("like", "without")}
            yield Lent(spot, {**lent, **own, "check": self._checks(spot, table, at, lent)})

    def _checks(self, spot: Spot, table: dict[str, Any], at: Spot, lent: dict[str, Any]) -> list[Lent]:
        """The lender's checks in their order, less those left out, its own in place of one of that id or at the end."""
        checks = {str(one.get("id")): Lent(where, one) for where, one in _held(at, "check", lent)}
        without = table.get("without", [])
        for place, one in enumerate(without if isinstance(without, list) else [without]):
            if checks.pop(str(one), None) is None:
                what = f"no check {clean(str(one), most=60)} to leave out; {hint(str(one), [*checks])}"
                self.faults.append(spot.at("without", place).fault(what))
        checks |= {str(one.get("id")): Lent(where, one) for where, one in _held(spot, "check", table)}
        return [*checks.values()]

    def _lender(self, spot: Spot, name: object) -> Document | None:
        if name in self.lists and self.lists[str(name)] is not self.document:
            self.lenders[str(name)] = self.lists[str(name)]
            return self.lenders[str(name)]
        others = [one for one, document in self.lists.items() if document is not self.document]
        self.faults.append(
            spot.at("like").fault(f"no list {clean(str(name), most=60)} to borrow from; {hint(str(name), others)}")
        )
        return None
