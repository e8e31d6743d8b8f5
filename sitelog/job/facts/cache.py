"""What is kept from one look at a job to the next: its facts and its checks, each with what was read to work it.

Of these a look takes over what nothing given since can have changed. It belongs to one library.
"""

from collections.abc import Iterator, Mapping

from msgspec import Struct, field

from sitelog.checklist.schema.model import Library
from sitelog.job.facts.facts import Book, Key
from sitelog.job.facts.schema import Known
from sitelog.job.state.views import CheckView, Fact, Given


class Seen(Struct, frozen=True):
    """A check as it was seen. `mark` is what it was judged by besides the facts that were read."""

    mark: tuple[object, ...]
    reads: frozenset[Key]
    view: CheckView


class Kept(Struct):
    """`facts`, `reads` and `checks` are filled by a look; all of them are good for what was `given` then."""

    known: dict[str, Known] = field(default_factory=dict)  # by the lists alone
    forms: Mapping[str, str] = field(default_factory=dict)
    given: Given = field(default_factory=lambda: Given({}, {}, {}))
    facts: dict[Key, Fact] = field(default_factory=dict)
    reads: dict[Key, frozenset[Key]] = field(default_factory=dict)
    checks: dict[str, Seen] = field(default_factory=dict)  # by path

    def copy(self) -> "Kept":
        """One that can be brought up to date by itself."""
        return Kept(self.known, self.forms, self.given, dict(self.facts), dict(self.reads), dict(self.checks))

    def book(self, library: Library, forms: Mapping[str, str], given: Given) -> Book:
        """The facts of a look at what is given now; forgets what may no longer be so."""
        if forms != self.forms:
            self.known, self.facts, self.reads, self.checks = {}, {}, {}, {}
        changed = set(_changed(self.given, given))
        for key in [key for key, reads in self.reads.items() if not changed.isdisjoint(reads)]:
            del self.facts[key], self.reads[key]
        for path in [path for path, seen in self.checks.items() if not changed.isdisjoint(seen.reads)]:
            del self.checks[path]
        self.forms, self.given = forms, given
        return Book(library, forms, given, self.known, self.facts, self.reads)


def _changed(before: Given, now: Given) -> Iterator[Key]:
    """The facts that are given another figure, or by another answer."""
    yield from before.usual ^ now.usual
    keys = {*before.drawn, *now.drawn, *before.set, *now.set}
    yield from (k for k in keys if before.drawn.get(k) != now.drawn.get(k) or before.set.get(k) != now.set.get(k))
