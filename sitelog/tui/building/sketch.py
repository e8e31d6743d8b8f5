"""A page with what says a roof, and beside it or beneath it the plan with its sizes and what results."""

from collections.abc import Callable, Iterable
from typing import Generic

from textual.app import ComposeResult
from textual.containers import Container, Vertical
from textual.widget import Widget

from sitelog.calculators.ask import ask
from sitelog.drawing.pen import DrawnAnswer
from sitelog.drawing.subjects.any_roof.corners import corner_plan
from sitelog.quantities.quantity import Units
from sitelog.text import text_if
from sitelog.tui.widgets.listing import Paragraphs
from sitelog.tui.widgets.page import T
from sitelog.tui.widgets.plan import Sheet
from sitelog.tui.widgets.site_page import SitePage
from sitelog.wording.building.blocks import roof_in
from sitelog.wording.building.telling import told_of

NOTHING = "The plan is drawn here as you build it."
BESIDE = 76  # columns from which the two stand side by side


class SketchPage(SitePage[T], Generic[T]):
    """`said` is what stands beside the plan; `sketch` draws a building."""

    HORIZONTAL_BREAKPOINTS = [(0, "-slim"), (BESIDE, "-narrow"), (120, "-wide")]
    units: Units = "metric"
    more: Callable[[str], Iterable[tuple[str, str]]] = staticmethod(lambda text: ())  # told before what results

    def said(self) -> Iterable[Widget]:
        """What the building is said in."""
        return ()

    def body(self) -> ComposeResult:
        """What is said, and the plan with what results beneath it."""
        with Container(id="build"):
            with Vertical(id="build-said"):
                yield from self.said()
            with Vertical(id="build-plan"):
                yield Sheet(id="sketch")
                yield Paragraphs(id="made")

    def sketch(self, text: str, refused: str = "") -> None:
        """Draw a building that can be, with what results beneath it, or with why what is typed can't be added yet."""
        roof = roof_in(text)
        drawing = corner_plan(DrawnAnswer(ask("building", {"building": text}), self.units)) if roof else None
        self.query_one("#sketch", Sheet).draw(drawing, text_if(not refused, NOTHING))
        told = [*self.more(text), *told_of(roof, self.units)] if roof and not refused else ()
        self.query_one("#made", Paragraphs).show([("Not yet", refused)] if refused else told)
