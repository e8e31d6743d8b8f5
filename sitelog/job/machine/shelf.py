"""What was seen of a job as its state was worked is kept for its next start, with the lists that it goes by."""

from __future__ import annotations

from collections.abc import Sequence

import msgspec
from msgspec import Struct

from sitelog import kept
from sitelog.job.log.entry import Entry

TYPE_CHECKING = False  # loaded with what is kept
if TYPE_CHECKING:
    from sitelog.checklist.schema.model import Library
    from sitelog.job.facts.cache import EvaluationCache

FEW = 16  # entries that each start looks at again: to keep all anew costs what looking at more of them does


class Seen(Struct, frozen=True):
    """What a state is worked from: the lists it goes by, the newest, both of the job's forms, and what was seen."""

    library: Library
    newest: Library
    seen: EvaluationCache


class Shelf:
    """What is kept of one job by the lists of that key: good for its entries up to `count`, 0 where nothing is.

    It is found by a digest of those entries, so they are what it was worked of; what was entered since stands after.
    """

    def __init__(self, lists: str, entries: Sequence[Entry]) -> None:
        self._lists = lists.encode()
        self._last = kept.key_of(b"last", self._lists, entries[0].id.encode())
        self._keyed = 0, ""
        self.count = 0
        match kept.find(self._last):
            case (int(count), str(key)) if 0 < count <= len(entries) and self.key(entries[:count]) == key:
                self.count, self._kept_as = count, key

    def key(self, entries: Sequence[Entry]) -> str:
        """What tells the state from every other, of any job: the entries, the lists, the program."""
        if self._keyed[0] != len(entries):
            self._keyed = len(entries), kept.key_of(b"state", self._lists, msgspec.json.encode(entries))
        return self._keyed[1]

    def seen(self) -> Seen | None:
        """What was seen of the first `count` entries; None where it can't be read."""
        found = kept.find(self._kept_as) if self.count else None
        return found if isinstance(found, Seen) else None

    def is_due(self, entries: Sequence[Entry]) -> bool:
        """Whether so many entries were added that all is to be kept anew."""
        return not self.count or len(entries) - self.count > FEW

    def keep(self, entries: Sequence[Entry], seen: Seen) -> None:
        """Keep what was seen of these entries."""
        self._kept_as = self.key(entries)
        kept.keep(self._kept_as, seen)
        kept.keep(self._last, (len(entries), self._kept_as))
        self.count = len(entries)

    def forget(self) -> None:
        """Go by it no more: other entries came among those that it was worked of."""
        self.count = 0
