"""What stands behind the checks and cautions of a job: each limit with its origin, each source with its standing."""

from collections.abc import Iterable, Iterator
from dataclasses import dataclass

from sitelog.checklist.schema.guidance import Caution
from sitelog.checklist.schema.model import Limit, Source, Standing
from sitelog.job.state.views import CheckView, StageView
from sitelog.reports.formatting import Formatter
from sitelog.text import text_after, text_if

STANDING: dict[Standing, str] = {
    "read": "read in print",
    "second hand": "quoted by someone else, on a trade page, in an old book or from one case",
    "derived": "worked out from a published source",
    "memory": "from memory: a guide only, never a fail",
    "judgement": "our own judgement: nothing published",
}


@dataclass(frozen=True)
class Cited:
    """One thing that a check or a caution says, and where it comes from. `says` is empty for the check as a whole."""

    says: str
    source: Source

    @property
    def standing(self) -> str:
        """How far the source is to be trusted, in words."""
        return STANDING[self.source.how]

    @property
    def where(self) -> str:
        """Title, year and place."""
        year = ""
        if self.source.year not in ("", "undated", "n.d."):
            year = f", {self.source.year}"
        return f"{self.source.title}{year}{text_after(': ', self.source.locator)}"


@dataclass(frozen=True)
class Standpoint:
    """A check or a caution of a stage, by its path or id, with all that it cites."""

    key: str
    title: str
    caution: bool
    cited: tuple[Cited, ...]


def of_stage(tell: Formatter, stage: StageView) -> Iterator[Standpoint]:
    """The checks that apply at the stage, then its cautions."""
    for view in stage.shown:
        yield Standpoint(view.path, view.check.ask, False, tuple(_of_check(tell, view)))
    for caution in stage.cautions:
        yield Standpoint(caution.id, caution.title, True, tuple(_of_caution(tell, caution)))


def _of_check(tell: Formatter, view: CheckView) -> Iterator[Cited]:
    """Its limits first, each told once; then what else it names."""
    told: dict[tuple[str, str], None] = {}
    for limit, unit in _limits(view):
        why = text_if(limit.says and not limit.of, f": {limit.says}")
        told[f"{tell.limit(limit, unit)}{why}", limit.source] = None
    yield from _known(tell, told)
    behind = {source for _, source in told}
    yield from _known(tell, (("", source) for source in view.check.sources if source not in behind))


def _limits(view: CheckView) -> Iterator[tuple[Limit, str]]:
    """The check's own limit, then those of its figures that are others, each with its unit."""
    figures = view.check.figures
    if view.limit:
        yield view.limit, figures[0].unit if figures else "mm"
    for figure in view.figures:
        if figure.limit and figure.limit != view.limit:
            yield figure.limit, figure.unit


def _of_caution(tell: Formatter, caution: Caution) -> Iterator[Cited]:
    return _known(tell, caution.figures)


def _known(tell: Formatter, told: Iterable[tuple[str, str]]) -> Iterator[Cited]:
    return (Cited(says, tell.library.sources[source]) for says, source in told if source in tell.library.sources)
