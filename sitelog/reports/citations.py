"""The sources that a job's checks, limits, cautions and finishes name, each by one number of a list."""

from collections.abc import Iterator, Mapping

from msgspec.structs import replace

from sitelog.checklist.schema.model import Check, Library, Source
from sitelog.job.state.views import State


def source_numbers(state: State, library: Library) -> dict[str, int]:
    """The number of each source by its id, in the order in which they are named; alike ones have one number."""
    numbers: dict[Source, int] = {}
    found: dict[str, int] = {}
    for name in _named(state, library):
        if name in library.sources:
            alike = replace(library.sources[name], id="")
            found[name] = numbers.setdefault(alike, len(numbers) + 1)
    return found


def cited(check: Check) -> Iterator[str]:
    """The ids of the sources of a check: those of its limits first."""
    if check.limit:
        yield check.limit.source
    yield from (figure.limit.source for figure in check.figures if figure.limit)
    yield from check.sources


def bracketed(names: Iterator[str], numbers: Mapping[str, int]) -> str:
    """`[3, 12]`, the numbers of these sources, each once; "" for none."""
    told = dict.fromkeys(str(numbers[name]) for name in names if name in numbers)
    if not told:
        return ""
    return f"[{', '.join(told)}]"


def _named(state: State, library: Library) -> Iterator[str]:
    for view in state.checks():
        yield from cited(view.check)
    for stage in state.order:
        for caution in stage.cautions:
            yield from (source for _, source in caution.figures)
    for view in state.checks():
        finish = library.finishes.get(str(view.value))
        if finish:
            yield from (ask.source for ask in finish.asks)
            yield from (fact.source for fact in finish.facts)
    yield from (asked.ask.source for asked in state.asked)
