"""What the finish of one part asks of every other: water that runs on, metals that meet, upstands, mass."""

from collections.abc import Iterator

from sitelog.checklist.schema.model import Library
from sitelog.job.facts.facts import FactResolver
from sitelog.job.facts.schema import JOB
from sitelog.job.state.views import Asked


def asked(library: Library, resolver: FactResolver, part: str) -> tuple[Asked, ...]:
    """All that the finishes chosen in the other parts ask of this one, once each: what has a caution first."""
    found = {(request.by, request.ask.says): request for request in _asked(library, resolver, part)}
    return tuple(sorted(found.values(), key=lambda request: not request.ask.caution))


def _asked(library: Library, resolver: FactResolver, part: str) -> Iterator[Asked]:
    others = [other for other in resolver.forms if other not in (JOB, part)]
    for other in others if part != JOB else ():
        for choice, path in resolver.finishes(other):
            finish = library.finishes[choice]
            for ask in finish.asks:
                if ask.of == "others":
                    yield Asked(part, other, finish.label, path, ask)
