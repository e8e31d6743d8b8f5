"""The form of a check: its figures or its choice, and the answer worked as they are typed."""

from collections.abc import Mapping
from pathlib import Path

from textual import on
from textual.app import ComposeResult
from textual.containers import Vertical
from textual.content import Content
from textual.events import DescendantFocus, Key
from textual.widget import Widget
from textual.widgets import Input, OptionList, Static

from sitelog.checklist.schema.model import Library
from sitelog.job.actions.answers import figure_value
from sitelog.job.actions.preview import preview
from sitelog.job.facts.feeding import may_stay_blank
from sitelog.job.state.views import CheckView, FigureView, State
from sitelog.quantities.slips import Slip
from sitelog.tui.dialogs import meant
from sitelog.tui.keys import STEP, foot_of, footer
from sitelog.tui.registry import screen
from sitelog.tui.widgets.check_fields import check_fields, takes_photo
from sitelog.tui.widgets.fields import WIDTHS, InSight
from sitelog.tui.widgets.listing import lettered
from sitelog.tui.widgets.page import Page
from sitelog.wording.formatting import meant_words
from sitelog.wording.prompts import attaching
from sitelog.wording.prompts.asking import TOOL
from sitelog.wording.prompts.correcting import typed_again
from sitelog.wording.prompts.tools import last_tool, wants_tool
from sitelog.wording.result import about_lines, columned_at, input_lines, result_lines, verdict_lines, working_lines

CHOOSE = foot_of("enter choose")


class CheckForm(Page[bool]):
    """Letters are keys where no field is: down from the last field stands on the answer."""

    HORIZONTAL_BREAKPOINTS = WIDTHS
    keeps_typed = True

    def __init__(self, path: str) -> None:
        super().__init__()
        self.path = path
        self.shows_working = False
        self.told_at: Widget | None = None  # where `stays_told` is told: such as the field whose figure was refused
        self.offers: tuple[Path, ...] = ()  # pictures beside the job that may be meant
        self._worked: tuple[State, Mapping[str, str], tuple[CheckView, str]] | None = None  # what was worked last

    @property
    def view(self) -> CheckView:
        """The check as the job stands. LookupError for a path that is none."""
        view = self.site.state.check(self.path)
        if view is None:
            raise LookupError(self.path)
        return view

    def heading(self) -> str:
        """Its stage, and whether that is a hold."""
        stage = self.site.state.stage(self.path.rpartition(".")[0])
        if stage is None:
            return ""
        if stage.stage.hold:
            return f"{stage.stage.title} · HOLD"
        return stage.stage.title

    def place_of_keys(self) -> str:
        """Those of a field, or those of the answer."""
        return "field" if isinstance(self.focused, Input) else "check"

    def foot(self) -> str:
        """No working where nothing is worked."""
        without = () if self.view.check.calculator else ("working",)
        line = footer(self.place_of_keys(), without=without)
        return line.replace(foot_of("enter save"), CHOOSE) if isinstance(self.focused, OptionList) else line

    def body(self) -> ComposeResult:
        """What is asked, the fields, and what they come to."""
        yield Static(self._content(self.view.check.ask), id="ask-line", markup=False)
        with InSight(id="form", can_focus=True):
            with Vertical(id="fields"):
                yield from self._fields()
            yield Static("", id="inputs", markup=False)
            yield Static("", id="result", markup=False)
            yield Static("", id="work", markup=False)
        yield Static("", id="verdict", markup=False)

    @property
    def _wide(self) -> int:
        """The columns that lines of the answer have."""
        return max(20, min(79, self.size.width - 2))

    def _content(self, words: str) -> Content:
        return Content(lettered(words, self.site.ascii_only))

    def _fields(self) -> ComposeResult:
        typed = self.site.drafts.typed(self.path)
        offered = {**typed_again(self.view), TOOL: self._last_tool}
        starts = {key: (typed.get(key) or offered.get(key, ""), offered.get(key, "")) for key in (*offered, *typed)}
        yield from check_fields(self.view, starts, plain=self.site.ascii_only)

    @property
    def _last_tool(self) -> str:
        job = self.site.job
        if job and wants_tool(self.view):
            return last_tool(self.view, job.state, job.entries)
        return ""

    def texts(self) -> dict[str, str]:
        """What stands in each field, by the name of its figure."""
        return {field.name or "": field.value for field in self.query(Input)}

    @on(Input.Changed)
    def _typed(self) -> None:
        self.site.drafts.keep(self.path, self.texts())
        self.show_answer()

    @on(DescendantFocus)
    def _moved(self) -> None:
        if self.focused is not self.told_at:
            self.stays_told, self.told_at = "", None
        self.show_foot()
        self.show_answer()

    def on_resize(self) -> None:
        """Lay the answer out for the new width."""
        self.show_answer()

    def state_changed(self) -> None:
        """Work it again."""
        self.show_answer()

    def show_answer(self) -> None:
        """Show what the figures typed so far come to, or what is to be known of the check while nothing is typed."""
        view, state = self.would_be(), self.site.state
        for figure in view.figures:
            drawn = self._meant(figure) if figure.drawn is not None else ""
            self.put(f"#drawn-{figure.key}", [f"{figure.unit:<4} {drawn}"])
        self.put(
            "#inputs",
            input_lines(view, state.units, columned_at(self.size.width)) if view.check.kind == "calculate" else [],
        )
        about = [*self._offer_lines(), *about_lines(self.view, state, self._in_hand())]
        self.put("#result", result_lines(view, state, row=columned_at(self.size.width)) or about)
        self.put("#verdict", verdict_lines(view, state))
        shown = view.answer if self.shows_working else None
        self.put("#work", working_lines(shown, state.units, self._wide) if shown else [])

    def _meant(self, figure: FigureView) -> str:
        words = meant_words(figure, self.site.state.units)
        if may_stay_blank(self.view.check, figure.key):
            return f"if blank, {words}"
        return words

    def _offer_lines(self) -> list[str]:
        if not takes_photo(self.view):
            return []
        return ["", *attaching.offer_lines(self.offers)]

    def _in_hand(self) -> str:
        """The key of the figure under the cursor, or ""."""
        if not isinstance(self.focused, Input):
            return ""
        return self.focused.name or ""

    def would_be(self) -> CheckView:
        """The check as it would stand with what is typed so far."""
        job = self.site.job
        if job is None or self.view.check.kind != "measure":
            return self.view
        would_be, problem = self._preview(job.library)
        figure = self.view.check.figure(self._in_hand())
        # Half a figure is often no figure: it is told once the cursor has left it.
        if figure is not None and problem.startswith(figure.says or figure.key):
            problem = ""
        slip = self._slip(self.focused)
        self.say(slip.message if slip else problem or self.stays_told)
        return would_be

    def _preview(self, library: Library) -> tuple[CheckView, str]:
        """Worked again only where the job or what is typed has changed, not for each move of the cursor."""
        state, texts = self.site.state, self.texts()
        if self._worked and self._worked[0] is state and self._worked[1] == texts:
            return self._worked[2]
        self._worked = (state, texts, preview(state, library, self.view, texts, texts.get(TOOL, "")))
        return self._worked[2]

    def _slip(self, field: Widget | None) -> Slip | None:
        """What is asked about the figure in a field, if it is likely a slip."""
        figure = None
        if isinstance(field, Input) and field.value.strip():
            figure = self.view.check.figure(field.name or "")
        job, text = self.site.job, field.value if isinstance(field, Input) else ""
        if figure is None or job is None:
            return None
        return meant.slip_in(lambda: figure_value(self.site.state, job.library, self.view, figure, text))

    def on_key(self, event: Key) -> None:
        """Digits pick from a list; up and down move between the fields, and from the last one to the answer."""
        focused = self.focused
        if isinstance(focused, OptionList) and event.character and event.character.isdecimal():
            at = int(event.character) - 1
            if 0 <= at < focused.option_count:
                focused.highlighted = at
                focused.action_select()
        elif not self._step(event.key):
            return
        event.stop()

    def _step(self, key: str) -> bool:
        """Go to the field, or the answer, above or below; False where the key means something else."""
        if key not in STEP:
            return False
        if key == "up" and self.query("#choices") and next(iter(self.query(Input)), None) is self.focused:
            self.query_one("#choices").focus()
            return True
        return self._move(STEP[key])

    def _move(self, by: int) -> bool:
        stops = self._stops()
        at = next((number for number, stop in enumerate(stops) if stop.has_focus), None)
        if at is None or self._scrolls(stops[at], by) or not 0 <= at + by < len(stops):
            return False
        stops[at + by].focus()
        return True

    def _stops(self) -> list[Widget]:
        """Where up and down stand in turn: the fields that are shown, then the answer."""
        fields = self.query(Input) if self.query_one("#fields").display else ()
        return [*fields, self.query_one("#form")]

    def _scrolls(self, stop: Widget, by: int) -> bool:
        """Whether the key moves the answer instead of the cursor: until its first line is to be seen."""
        return stop.id == "form" and (by > 0 or bool(stop.scroll_offset.y))

    def action_working(self) -> None:
        """Show the working or hide it; a line says why there is none."""
        self.shows_working = not self.shows_working and bool(self.view.check.calculator)
        self.query_one("#work").display = self.shows_working
        self.show_answer()
        if not self.view.check.calculator:
            self.say("This check doesn't have a calculation.")
        elif self.shows_working and not self.would_be().answer:
            self.say(self.view.refusal or "Type the figures first, then you can see the working.")
        elif self.shows_working:
            self.call_after_refresh(self.query_one("#work").scroll_visible, top=True, animate=False)

    def action_drawing(self) -> None:
        """The drawings of the part, from that of this check."""
        self.app.push_screen(screen("drawing", self.path.rpartition(".")[0], self.path))
