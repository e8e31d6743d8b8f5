"""Entries of one id, from two copies of a job on one device, told apart for whoever asks for an entry by its id."""

from collections.abc import Mapping, Sequence, Set
from itertools import pairwise
from typing import Any

from msgspec.structs import replace

from sitelog.job.log.entry import Entry
from sitelog.job.log.parts import items

Names = Mapping[str, str]  # what an id means to an entry, where it stands for two


def told_apart(rows: Sequence[Entry]) -> Sequence[Entry]:
    """The entries in order of id, each under an id of its own: of two that share one it ends in a piece of the digest.

    What an entry says of another by such an id (`void`, `@was`) is about the one in its own device's chain; said on
    another device, about the one that is of the same check and act, and if both are, about none.
    """
    shared = {entry.id for before, entry in pairwise(rows) if before.id == entry.id}
    if not shared:
        return rows
    return _Apart(rows, shared).rows()


class _Apart:
    """Goes along the chains: what a shared id means to an entry hangs on the entries before it."""

    def __init__(self, rows: Sequence[Entry], shared: Set[str]) -> None:
        self._rows = rows
        self._twins = {entry.digest(): entry for entry in rows if entry.id in shared}
        self._means: dict[str, Names] = {}  # by the digest of an entry

    def rows(self) -> list[Entry]:
        """The entries in the order that they came in."""
        digests = [entry.digest() for entry in self._rows]
        along = sorted(zip(digests, self._rows, strict=True), key=lambda row: row[1].seq)
        found = {digest: self._apart(digest, entry) for digest, entry in along}
        return [found[digest] for digest in digests]

    def _apart(self, digest: str, entry: Entry) -> Entry:
        before = self._means[digest] = self._means.get(entry.prev, {})
        fresh = replace(entry, value=self._value(entry, before))
        if digest not in self._twins:
            return fresh
        name = _name(entry.id, digest)
        self._means[digest] = {**before, entry.id: name}
        return replace(fresh, id=name)

    def _value(self, entry: Entry, means: Names) -> dict[str, Any]:
        """The value with the ids that it names told apart."""
        if entry.act == "void":
            target = str(entry.value.get("id"))
            return {**entry.value, "id": means.get(target) or self._alike(target, entry)}
        if was := items(entry.value.get("@was")):
            return {**entry.value, "@was": [means.get(str(id), id) for id in was]}
        return entry.value

    def _alike(self, target: str, void: Entry) -> str:
        """The one of that id that is of the check and act taken back; the id itself if not one alone is."""
        wanted = target, void.value.get("act"), void.path
        found = [digest for digest, twin in self._twins.items() if (twin.id, twin.act, twin.path) == wanted]
        if len(found) != 1:
            return target
        return _name(target, found[0])


def _name(id: str, digest: str) -> str:
    return f"{id}~{digest[:8]}"
