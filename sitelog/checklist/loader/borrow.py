"""What one list takes over from another: a stage or a check as it stands there, or facts, sums and members by name.

A stage says `like = "hipped.ridge"`, and `without = ["ridge-ends"]` for the checks that it leaves; what it says itself
comes before what it takes over, key by key, and a check of its own before one of the same id. A check says
`like = "hipped.ridge.joint"`, and a figure `like = "bay_1"` for one of the same check. Facts, sums, members and trades
are taken by `like = "hipped"` and `names = [...]`. It is done on the tables as read, checks before stages, so that all
that follows sees whole lists.
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
    written = _by_id(documents)
    checked = [_Taking(document, written, faults).with_checks() for document in documents]
    lists = _by_id(checked)
    return [_Taking(document, lists, faults).whole() for document in checked]


def _by_id(documents: Sequence[Document]) -> dict[str, Document]:
    return {str(document.data.get("id")): document for document in documents}


def _tables(document: Document | None, key: str) -> list[tuple[Spot, dict[str, Any]]]:
    if not document:
        return []
    return _held(Spot(document), key, document.data)


def _held(spot: Spot, key: str, data: Mapping[str, Any]) -> list[tuple[Spot, dict[str, Any]]]:
    """The tables of an array of tables; none where it is no such thing, which is told when the list is read."""
    held = data.get(key)
    if not isinstance(held, list) or len(held) > MOST_ITEMS or not all(isinstance(table, dict) for table in held):
        return []
    return [(spot.at(key, place), table) for place, table in enumerate(held)]


def _checks_of(document: Document | None, stage: str) -> dict[str, dict[str, Any]]:
    """The checks of a stage by id, without those that are like another."""
    found: dict[str, dict[str, Any]] = {}
    for spot, table in _tables(document, "stage"):
        if table.get("id") == stage:
            checks = [check for _, check in _held(spot, "check", table) if not _is_like(check)]
            found |= {str(check.get("id")): check for check in checks}
    return found


def _is_like(table: Mapping[str, Any]) -> bool:
    return "like" in table


def _checks_and_figures(stage: dict[str, Any]) -> Iterator[dict[str, Any]]:
    """Every check of a stage and every figure of those checks, as they are written."""
    for check in stage.get("check", ()) if isinstance(stage.get("check"), list) else ():
        if isinstance(check, dict):
            yield check
            figures = check.get("figure")
            yield from (figure for figure in figures if isinstance(figure, dict)) if isinstance(figures, list) else ()


@dataclass
class _Taking:
    """One list that takes over from `lists`, which are by id; `lenders` are those that it took something from."""

    document: Document
    lists: Mapping[str, Document]
    faults: list[Fault]
    lenders: dict[str, Document] = field(default_factory=dict)

    def whole(self) -> Document:
        data = dict(self.document.data)
        for key in (*TAKEN, "stage"):
            tables = _tables(self.document, key)
            if any("like" in taken for _, taken in tables):
                data[key] = [taken for spot, table in tables for taken in self._taken(key, spot, table)]
        return self._made_of(data)

    def with_checks(self) -> Document:
        """The list with every check and figure that is like another put in whole."""
        stages = _tables(self.document, "stage")
        if not any(_is_like(table) for _, stage in stages for table in _checks_and_figures(stage)):
            return self.document
        whole = [
            {**stage, "check": self._own_checks(spot, stage)} if "check" in stage else stage for spot, stage in stages
        ]
        return self._made_of({**self.document.data, "stage": whole})

    def _made_of(self, data: dict[str, Any]) -> Document:
        """The document with that data; its digest covers the lists that it took something from."""
        if not self.lenders:
            if data == self.document.data:
                return self.document
            return replace(self.document, data=data)
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
        there = {str(lent.get(TAKEN[key])): (at, lent) for at, lent in _tables(lender, key) if "like" not in lent}
        for place, name in enumerate(names if lender else ()):
            if str(name) in there:
                yield Lent(*there[str(name)])
            else:
                what = f"no {key} {clean(str(name), most=60)} in that list; {hint(str(name), [*there])}"
                self.faults.append(spot.at("names", place).fault(what))

    def _stage(self, spot: Spot, table: dict[str, Any]) -> Iterator[Lent]:
        name, _, stage = str(table["like"]).partition(".")
        lender = self._lender(spot, name)
        there = {str(held.get("id")): (at, held) for at, held in _tables(lender, "stage") if "like" not in held}
        if lender and stage not in there:
            what = f"no stage {clean(stage, most=60)!r} in that list; {hint(stage, [*there])}"
            self.faults.append(spot.at("like").fault(what))
        if stage in there:
            at, lent = there[stage]
            own = {key: value for key, value in table.items() if key not in ("like", "without")}
            yield Lent(spot, {**lent, **own, "check": self._checks(spot, table, at, lent)})

    def _checks(self, spot: Spot, table: dict[str, Any], at: Spot, lent: dict[str, Any]) -> list[Lent]:
        """The lender's checks in their order, less those left out, its own in place of one of that id or at the end."""
        checks = {str(check.get("id")): Lent(where, check) for where, check in _held(at, "check", lent)}
        without = table.get("without", [])
        for place, id in enumerate(without if isinstance(without, list) else [without]):
            if checks.pop(str(id), None) is None:
                what = f"no check {clean(str(id), most=60)} to leave out; {hint(str(id), [*checks])}"
                self.faults.append(spot.at("without", place).fault(what))
        checks |= {str(check.get("id")): Lent(where, check) for where, check in _held(spot, "check", table)}
        return [*checks.values()]

    def _own_checks(self, stage_spot: Spot, stage: dict[str, Any]) -> list[dict[str, Any]]:
        """The checks of a stage as they are written here, each that is like another made whole."""
        checks = []
        for spot, check in _held(stage_spot, "check", stage):
            whole = self._like_check(spot, check) if "like" in check else check
            checks.append(self._with_figures(spot, whole))
        return checks or stage["check"]

    def _like_check(self, spot: Spot, check: dict[str, Any]) -> dict[str, Any]:
        """The check that it is like, with what it says itself in place of what that says."""
        name, _, rest = str(check["like"]).partition(".")
        stage, _, wanted = rest.partition(".")
        lender = self.document if name == self.document.data.get("id") else self._lender(spot, name)
        there = _checks_of(lender, stage)
        own = {key: value for key, value in check.items() if key != "like"}
        if wanted in there:
            return Lent(spot, {**there[wanted], **own})
        if lender:
            what = f"no check {clean(rest, most=60)!r} in that list; give list.stage.check, as hipped.ridge.joint"
            self.faults.append(spot.at("like").fault(f"{what}; {hint(wanted, [*there])}" if there else what))
        return Lent(spot, own)

    def _with_figures(self, spot: Spot, check: dict[str, Any]) -> dict[str, Any]:
        """The check with each figure that is like another of its figures made whole."""
        figures = _held(spot, "figure", check)
        if not any(_is_like(figure) for _, figure in figures):
            return check
        there = {str(figure.get("key")): figure for _, figure in figures if "like" not in figure}
        whole = []
        for at, figure in figures:
            own = {key: value for key, value in figure.items() if key != "like"}
            if "like" in figure and str(figure["like"]) not in there:
                named = str(figure["like"])
                what = f"no figure {clean(named, most=60)!r} in this check; {hint(named, [*there])}"
                self.faults.append(at.at("like").fault(what))
            whole.append({**there.get(str(figure.get("like")), {}), **own})
        return Lent(spot, {**check, "figure": whole})

    def _lender(self, spot: Spot, name: object) -> Document | None:
        if name in self.lists and self.lists[str(name)] is not self.document:
            self.lenders[str(name)] = self.lists[str(name)]
            return self.lenders[str(name)]
        others = [id for id, document in self.lists.items() if document is not self.document]
        self.faults.append(
            spot.at("like").fault(f"no list {clean(str(name), most=60)} to borrow from; {hint(str(name), others)}")
        )
        return None
