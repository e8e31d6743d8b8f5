"""The roof drawn in the terminal: a pane beside the stage where there is room, and a page of its own."""

from collections.abc import Callable, Iterator
from typing import TYPE_CHECKING, ClassVar, cast

from textual.app import ComposeResult
from textual.binding import BindingType
from textual.containers import VerticalScroll
from textual.content import Content
from textual.widgets import Static

from sitelog.handover.drawing import Drawing, rafter_section, roof_plan
from sitelog.handover.terminal import render
from sitelog.job.views import StageView, State
from sitelog.tui.keys import bindings
from sitelog.tui.list_page import SitePage
from sitelog.tui.listing import Paragraphs, lettered

if TYPE_CHECKING:
    from sitelog.tui.app import SitelogApp

NO_PLAN = "The plan can be drawn once the plates and the pitch are known, and the roof closes."
NO_SECTION = "The rafter can be drawn once span, pitch and section are known."


def part_of(state: State, stage: str) -> str:
    """The part of the roof that a stage's path belongs to; the first part for the job's own stages, "" if none."""
    part = stage.partition(".")[0]
    if part != "job":
        return part
    return next((one.id for one in state.parts if one.id != "job"), "")


class Sheet(Static):
    """A drawing at the size there is, or one line that says why there is none."""

    def __init__(self, *, id: str | None = None) -> None:
        super().__init__("", id=id, markup=False)
        self._drawing: Drawing | None = None
        self._missing = ""

    def draw(self, drawing: Drawing | None, missing: str) -> None:
        self._drawing, self._missing = drawing, missing
        self._render_sheet()

    def on_resize(self) -> None:
        self._render_sheet()

    def _render_sheet(self) -> None:
        width, height = self.size.width, self.size.height
        if not width or not height:
            return
        plain = cast("SitelogApp", self.app).ascii_only
        if self._drawing is None:
            self.update(Content(lettered(self._missing, plain)))
            return
        self.update(Content("\n".join(self._lines(self._drawing, width, height, plain))))

    def _lines(self, drawing: Drawing, width: int, height: int, plain: bool) -> list[str]:
        return render(drawing, width, height, ascii_only=plain)


class PlanPane(Sheet):
    """The plan of the part in hand, the members of the stage in hand drawn bold; its sizes in words beneath it."""

    _shown: tuple[State, str] | None = None

    def show(self, state: State, stage: StageView, *, ascii_only: bool) -> None:
        if self._shown and self._shown[0] is state and self._shown[1] == stage.path:
            return
        self._shown = state, stage.path
        self.draw(_plan(state, stage.path), NO_PLAN)

    def _lines(self, drawing: Drawing, width: int, height: int, plain: bool) -> list[str]:
        says = [lettered(line, plain)[:width] for line in drawing.says][: height // 3]
        lines = super()._lines(drawing, width, height - 1 - len(says), plain)
        return [lettered(drawing.title, plain)[:width], *lines, *says]


def _plan(state: State, stage: str) -> Drawing | None:
    part = part_of(state, stage)
    return roof_plan(state, part, stage=stage.partition(".")[2]) if part else None


def _section(state: State, stage: str) -> Drawing | None:
    part = part_of(state, stage)
    return rafter_section(state, part) if part else None


VIEWS: tuple[tuple[str, Callable[[State, str], Drawing | None], str], ...] = (
    ("plan", _plan, NO_PLAN),
    ("rafter in section", _section, NO_SECTION),
)


class DrawingPage(SitePage[None]):
    """The plan, the section, and the sizes of both in words, one after the other."""

    PLACE = "drawing"
    BINDINGS: ClassVar[list[BindingType]] = bindings("drawing")

    def __init__(self, stage: str) -> None:
        super().__init__()
        self.stage = stage
        self.at = 0

    def heading(self) -> str:
        part = part_of(self.site.state, self.stage)
        title = next((one.title for one in self.site.state.parts if one.id == part), part)
        what = VIEWS[self.at][0] if self.at < len(VIEWS) else "the sizes in words"
        return f" {title}: {what}"

    def body(self) -> ComposeResult:
        yield Sheet(id="drawing")
        with VerticalScroll(id="sizes"):
            yield Paragraphs(id="sizes-words")

    def on_mount(self) -> None:
        self.state_changed()

    def state_changed(self) -> None:
        words = self.at == len(VIEWS)
        self.query_one("#drawing").display = not words
        self.query_one("#sizes").display = words
        if words:
            self.query_one("#sizes-words", Paragraphs).show(self._sizes())
            self.query_one("#sizes").focus()
        else:
            _, make, missing = VIEWS[self.at]
            self.query_one("#drawing", Sheet).draw(make(self.site.state, self.stage), missing)
        self.show_title()

    def _sizes(self) -> Iterator[tuple[str, str]]:
        for name, make, missing in VIEWS:
            drawing = make(self.site.state, self.stage)
            yield "", name.upper()
            yield from (("", line) for line in (drawing.says if drawing else (missing,)))
            yield "", ""

    def action_turn(self) -> None:
        self.at = (self.at + 1) % (len(VIEWS) + 1)
        self.state_changed()
