"""What the finish of one part asks of every other: water that runs on, metals that meet, upstands, mass."""

from collections.abc import Iterator

from sitelog.checklist.schema.model import Library
from sitelog.job.facts.facts import FactResolver
from sitelog.job.facts.schema import JOB
from sitelog.job.state.views import Asked


def asked(library: Library, resolver: FactResolver, part: str) -> tuple[Asked, ...]:
    """All that the finishes chosen in the other parts ask of this one, once each: what has a caution first."""
    found = {(one.by, one.ask.says): one for one in _asked(library, resolver, part)}
    return tuple(sorted(found.values(), key=lambda one: not one.ask.caution))


def _asked(library: Library, resolver: FactResolver, part: str) -> Iterator[Asked]:
    if part == JOB:
        return
    for other in resolver.forms:
        if other not in (JOB, part):
            for choice, path in resolver.finishes(other):
                finish = library.finishes[choice]
                yield from (Asked(part, other, finish.label, path, ask) for ask in finish.asks if ask.of == "others")
