"""Where the checks and cautions of a stage come from: their limits, whose they are, and what stands in print."""

from collections.abc import Iterable
from datetime import UTC
from typing import ClassVar

from textual.binding import BindingType

from sitelog.reports.formatting import Formatter
from sitelog.reports.sources import Standpoint, of_stage
from sitelog.tui.keys import bindings
from sitelog.tui.widgets.list_page import ListPage
from sitelog.tui.widgets.listing import Cell, Row, heading
from sitelog.wording.figures import cited_line


class SourcesPage(ListPage[None]):
    """Opens at the check that the cursor stood on."""

    PLACE = "sources"
    BINDINGS: ClassVar[list[BindingType]] = bindings("sources")
    HEAD = (Cell("check, and what it is based on"), Cell("how known", 10, right=True))

    def __init__(self, stage: str, at: str = "") -> None:
        super().__init__()
        self.stage, self.at = stage, at
        self._points: dict[str, Standpoint] = {}

    def begin(self) -> None:
        """What the checks and cautions of the stage are based on."""
        stage, job = self.site.state.stage(self.stage), self.site.job
        if stage and job:
            tell = Formatter(self.site.state, job.library, self.site.now().tzinfo or UTC)
            self._points = {point.key: point for point in of_stage(tell, stage)}

    def state_changed(self) -> None:
        """Stand on the check that it was opened at."""
        super().state_changed()
        self.listing.stand_on(self.at)

    def heading(self) -> str:
        """The stage."""
        stage = self.site.state.stage(self.stage)
        return f" Where it comes from: {stage.stage.title if stage else ''}"

    def rows(self) -> Iterable[Row]:
        """The checks, then the cautions, each with how well its weakest source is known."""
        for number, caution in enumerate((False, True)):
            points = [point for point in self._points.values() if point.caution is caution]
            if points:
                yield heading("Cautions" if number else "Checks")
                yield from (_row(point) for point in points)

    def told(self, key: str) -> Iterable[tuple[str, str]]:
        """Each source: what it says, where, and how it is known."""
        for source in self._points[key].cited:
            yield "", cited_line(source)


def _row(point: Standpoint) -> Row:
    """The check, and how its weakest source stands: that is what can be said of the whole."""
    order = ("judgement", "memory", "derived", "second hand", "read")
    least = min((citation.source.how for citation in point.cited), key=order.index, default="")
    return Row(point.key, ((Cell(point.title), Cell(least, 11, right=True)),))
