"""What was worked of a job is kept for its next start: the state, and what was seen to work it beside the lists."""

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
    from sitelog.job.state.views import State

FEW = 16  # entries that each start looks at again: to keep all anew costs what looking at more of them does


class Seen(Struct, frozen=True):
    """What a state is brought up to date from: the lists it goes by, the newest, and what was seen by the first."""

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

    def state(self) -> State | None:
        """The state of the first `count` entries; None where it can't be read."""
        from sitelog.job.state.views import State

        found = kept.find(self._kept_as) if self.count else None
        return found if isinstance(found, State) else None

    def seen(self) -> Seen | None:
        """What was seen to work it; None where it can't be read."""
        found = kept.find(_beside(self._kept_as)) if self.count else None
        return found if isinstance(found, Seen) else None

    def is_due(self, entries: Sequence[Entry]) -> bool:
        """Whether so many entries were added that all is to be kept anew."""
        return not self.count or len(entries) - self.count > FEW

    def keep(self, entries: Sequence[Entry], state: State, seen: Seen) -> None:
        """Keep what was worked of these entries."""
        self._kept_as = self.key(entries)
        kept.keep(self._kept_as, state)
        kept.keep(_beside(self._kept_as), seen)
        kept.keep(self._last, (len(entries), self._kept_as))
        self.count = len(entries)

    def forget(self) -> None:
        """Go by it no more: other entries came among those that it was worked of."""
        self.count = 0


def _beside(key: str) -> str:
    return kept.key_of(b"seen", key.encode())
