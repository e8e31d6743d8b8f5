"""Drawings in the terminal: a pane beside the stage where there is room, and a page for all of a part or a sum."""

from collections.abc import Iterator, Sequence
from textwrap import wrap
from typing import ClassVar

from textual.app import ComposeResult
from textual.binding import BindingType
from textual.containers import Vertical, VerticalScroll
from textual.content import Content
from textual.widgets import Static

from sitelog.calculators.catalogue import Answer
from sitelog.checklist.schema.model import Library
from sitelog.drawing.index import drawings_of
from sitelog.drawing.model import Drawing, caption
from sitelog.drawing.roof_plan import roof_plan
from sitelog.drawing.terminal import render
from sitelog.job.state.views import StageView, State
from sitelog.quantities.quantity import Units
from sitelog.reports.sketches import NO_PLAN, Sketch, sketches
from sitelog.text import text_if
from sitelog.tui.host import host_of
from sitelog.tui.keys import bindings
from sitelog.tui.widgets.listing import DetailPane, Paragraphs, lettered, most_beneath
from sitelog.tui.widgets.site_page import SitePage
from sitelog.tui.widgets.stages import Rows
from sitelog.wording.formatting import part_of

LEAST_BENEATH = 14  # lines in which a plan can be read
NOTHING = "No drawings for this part."


class Sheet(Static):
    """A drawing at the size there is, or one line that says why there is none."""

    def __init__(self, *, id: str | None = None) -> None:
        super().__init__("", id=id, markup=False)
        self._drawing: Drawing | None = None
        self._missing = ""

    def draw(self, drawing: Drawing | None, missing: str) -> None:
        """Show a drawing; without one, `missing` says why."""
        self._drawing, self._missing = drawing, missing
        self._render_sheet()

    @property
    def is_drawn(self) -> bool:
        """Whether there is a drawing, and not only a line that says why there is none."""
        return self._drawing is not None

    def on_resize(self) -> None:
        """Draw it at the new size."""
        self._render_sheet()

    def _render_sheet(self) -> None:
        width, height = self.size.width, self.size.height
        if not width or not height:
            return
        plain = host_of(self).ascii_only
        if self._drawing is None:
            self.update(Content(lettered(self._missing, plain)))
            return
        self.update(Content("\n".join(self._lines(self._drawing, width, height, plain))))

    def _lines(self, drawing: Drawing, width: int, height: int, plain: bool) -> list[str]:
        return render(drawing, width, height, ascii_only=plain)


class PlanPane(Sheet):
    """The plan of the part in hand, the members of the stage in hand drawn bold; its sizes in words beneath it.

    A part without a plan shows what is drawn of the stage in hand, else what is first drawn of it.
    """

    DRAWN = 0  # lines that the drawing has before there are any words
    _shown: tuple[State, str] | None = None

    def show(self, state: State, stage: StageView, *, ascii_only: bool) -> None:
        """The plan for that stage, drawn once for each state of the job."""
        if self._shown and self._shown[0] is state and self._shown[1] == stage.path:
            return
        self._shown = state, stage.path
        job = host_of(self).job
        self.draw(_pane(state, job.library if job else None, stage.path), NO_PLAN)

    def _lines(self, drawing: Drawing, width: int, height: int, plain: bool) -> list[str]:
        title = self._title(lettered(drawing.title, plain), width)
        says = [lettered(line, plain)[:width] for line in drawing.says][: max(0, min(height // 3, height - self.DRAWN))]
        lines = super()._lines(drawing, width, height - len(title) - len(says), plain)
        return [*title, *lines, *says]

    def _title(self, title: str, width: int) -> list[str]:
        return [title[:width]]


class LowPane(PlanPane):
    """One that is so low that the words have only what the drawing leaves, and narrow, so that its title is wrapped."""

    DRAWN = 18

    def _title(self, title: str, width: int) -> list[str]:
        return wrap(title, width)


class PlanBeneath(Vertical):
    """The same beneath the rows of a tall, narrow screen, as high for every row that the cursor stands on."""

    def compose(self) -> ComposeResult:
        """The plan, and whatever the strip beneath leaves free."""
        yield LowPane(id="plan-beneath")

    def fit(self, state: State, stage: StageView, narrow: bool, ascii_only: bool) -> None:
        """Show the plan where a screen is narrow and has room for it, and something is drawn; else the rows alone."""
        pane, rows = self.query_one(LowPane), self.screen.query_one(Rows)
        room = self._room(rows) if narrow else 0
        shown = room >= LEAST_BENEATH
        if shown:
            pane.styles.height = room
            pane.show(state, stage, ascii_only=ascii_only)
            shown = pane.is_drawn
        self.display = shown
        rows.set_class(shown, "-whole")

    def _room(self, rows: Rows) -> int:
        """The lines that are free whatever the strip tells."""
        column, inside = self.screen.query_one("#stage-pane"), (PlanBeneath, Rows, DetailPane)
        others = sum(each.size.height for each in column.children if not isinstance(each, inside))
        return column.size.height - others - rows.height_of_all - most_beneath(self.app.size.height)


def _pane(state: State, library: Library | None, stage: str) -> Drawing | None:
    part = part_of(state, stage)
    if not part:
        return None
    plan = roof_plan(state, part, stage=stage.partition(".")[2])
    return plan or (_drawn_of(state, library, part, stage) if library else None)


def _drawn_of(state: State, library: Library, part: str, stage: str) -> Drawing | None:
    """The first drawing of the stage, else the first of the part."""
    drawn = [sketch for sketch in sketches(state, library, part) if sketch.drawing]
    here = [sketch for sketch in drawn if any(path.startswith(f"{stage}.") for path in sketch.paths)]
    return next((sketch.drawing for sketch in (*here, *drawn)), None)


class DrawingPage(SitePage[None]):
    """Every drawing of a part, one after the other, from that of the check at `path`; or its sizes in words."""

    PLACE = "drawing"
    BINDINGS: ClassVar[list[BindingType]] = bindings("drawing")

    def __init__(self, stage: str, path: str = "") -> None:
        super().__init__()
        self.stage = stage
        self.path = path
        self.at = 0
        self.in_words = False
        self.made: Sequence[Sketch] = ()

    def make(self) -> Sequence[Sketch]:
        """What is drawn of the part, in order."""
        part, job = part_of(self.site.state, self.stage), self.site.job
        stage = self.stage.partition(".")[2]
        if part and job:
            return sketches(self.site.state, job.library, part, stage=stage)
        return ()

    def heading(self) -> str:
        """Which of how many, of what part."""
        part = part_of(self.site.state, self.stage)
        return self._counted(next((view.title for view in self.site.state.parts if view.id == part), part))

    def _counted(self, of: str) -> str:
        """Which of how many first: a long name is cut at its end."""
        if not self.made:
            return f" {of}: no drawing"
        words = text_if(self.in_words, ", in words")
        return f" {self.at + 1} of {len(self.made)}{words}, {of}: {self.made[self.at].name}"

    def body(self) -> ComposeResult:
        """Room for the drawing, and for its sizes in words."""
        yield Sheet(id="drawing")
        with VerticalScroll(id="sizes"):
            yield Paragraphs(id="sizes-words")

    def on_mount(self) -> None:
        """The drawing of the check it was opened from, or the first."""
        self.made = self.make()
        self.at = next(
            (number for number, sketch in enumerate(self.made) if self.path and self.path in sketch.paths), 0
        )
        self._show()

    def state_changed(self) -> None:
        """Draw it with the figures as they stand now."""
        self.made = self.make()
        self.at = min(self.at, max(len(self.made) - 1, 0))
        self._show()

    def _show(self) -> None:
        self.query_one("#drawing").display = not self.in_words
        self.query_one("#sizes").display = self.in_words
        sketch = self.made[self.at] if self.made else Sketch("", None, NOTHING)
        if self.in_words:
            self.query_one("#sizes-words", Paragraphs).show(_sizes(sketch))
            self.query_one("#sizes").focus()
        else:
            self.query_one("#drawing", Sheet).draw(sketch.drawing, sketch.why)
            # Its name stands in the title already.
            self.say(caption(sketch.drawing).removeprefix(f"{sketch.name}. ") if sketch.drawing else "")
        self.show_title()

    def action_turn(self, by: int) -> None:
        """The drawing before (-1) or after (1), round and round."""
        if self.made:
            self.at = (self.at + by) % len(self.made)
            self._show()

    def action_words(self) -> None:
        """Its sizes in words, or the drawing again."""
        self.in_words = not self.in_words
        self._show()


def _sizes(sketch: Sketch) -> Iterator[tuple[str, str]]:
    yield "", sketch.title
    yield "", ""
    yield from (("", line) for line in sketch.told)


class AnswerPage(DrawingPage):
    """The drawings of one answer, by itself."""

    def __init__(self, answer: Answer, units: Units) -> None:
        super().__init__("")
        self.answer = answer
        self.units: Units = units

    def make(self) -> Sequence[Sketch]:
        """What is drawn of the answer."""
        return [Sketch(drawing.title, drawing) for drawing in drawings_of(self.answer, self.units)]

    def heading(self) -> str:
        """Which of how many, of what calculator."""
        return self._counted(self.answer.calculator)
