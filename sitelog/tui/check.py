"""One check, done: its figures or its choice, the answer worked as you type, and the ways on when it is out."""

from typing import ClassVar

from textual import on, work
from textual.app import ComposeResult
from textual.binding import BindingType
from textual.containers import Horizontal, Vertical, VerticalScroll
from textual.content import Content
from textual.events import Key
from textual.widgets import Input, OptionList, Static
from textual.widgets.option_list import Option

from sitelog.job import acts
from sitelog.job.entry import Draft
from sitelog.job.preview import preview
from sitelog.job.views import CheckView
from sitelog.quantity import Units
from sitelog.text import clean
from sitelog.trade import sheet
from sitelog.trade.catalogue import Answer
from sitelog.tui import deeds
from sitelog.tui.keys import bindings
from sitelog.tui.page import Page, put
from sitelog.tui.result import input_lines, outcome_lines
from sitelog.tui.told import value_text

WAYS = (
    "put right, measure again",
    "snag it: who puts it right, by when",
    "release as it is: your name and the reason go into the pack",
)


class CheckPage(Page[bool]):
    """Gives True when an answer was entered. What is typed and not entered is kept for the next time."""

    PLACE = "check"
    BINDINGS: ClassVar[list[BindingType]] = bindings("check")

    def __init__(self, path: str, *, again: bool = False) -> None:
        super().__init__()
        self.path = path
        self.again = again
        self.entered = False
        self.shows_working = False

    # -- the form --

    @property
    def view(self) -> CheckView:
        view = self.site.state.check(self.path)
        if view is None:
            raise LookupError(self.path)
        return view

    def heading(self) -> str:
        stage = self.site.state.stage(self.path.rpartition(".")[0])
        return f"{stage.stage.title if stage else ''}{' · HOLD' if stage and stage.stage.hold else ''}"

    def body(self) -> ComposeResult:
        view = self.view
        yield Static(Content(clean(view.check.ask)), id="ask-line", markup=False)
        with VerticalScroll(id="form", can_focus=not self._has_fields(view)):
            with Vertical(id="fields"):
                yield from self._fields(view)
            yield Static("", id="inputs", markup=False)
            yield Static("", id="result", markup=False)
            yield OptionList(id="ways", markup=False)
            yield Static("", id="work", markup=False)

    @staticmethod
    def _has_fields(view: CheckView) -> bool:
        return view.check.kind not in ("calculate", "tick")

    def _fields(self, view: CheckView) -> ComposeResult:
        typed = self.site.drafts.typed(self.path)
        if view.check.kind == "choice":
            yield OptionList(
                *(Option(Content(clean(f"{n}  {c.label}"))) for n, c in enumerate(view.check.choices, 1)),
                id="choices",
                markup=False,
            )
        for figure in view.check.figures:
            label = figure.says or figure.key.replace("_", " ")
            yield from self._field(figure.key, label, typed.get(figure.key, ""), words=f"drawn-{figure.key}")
        if view.check.kind in ("note", "photo", "sign"):
            label = {"note": "words", "photo": "photo", "sign": "name"}[view.check.kind]
            start = self.site.by if view.check.kind == "sign" else ""
            yield from self._field("value", label, typed.get("value", start))
        if view.check.kind == "measure":
            yield from self._field("@with", "measured with", typed.get("@with", self._last_instrument()))

    def _field(self, key: str, label: str, start: str, words: str | None = None) -> ComposeResult:
        with Horizontal(classes="field-line"):
            yield Static(Content(clean(label)), classes="field-label", markup=False)
            yield Input(start, name=key, classes="figure", max_length=400, select_on_focus=False)
            yield Static("", id=words, classes="field-words", markup=False)

    def _last_instrument(self) -> str:
        """The instrument of the last measure, so that it is named once and not typed each time."""
        for entry in reversed(self.site.job.entries if self.site.job else []):
            tool = self.site.state.instruments.get(str(entry.value.get("@instrument", "")))
            if entry.act == "answer" and tool and not tool.doubted:
                return tool.id
        return ""

    def on_mount(self) -> None:
        self.query_one("#ways").display = False
        self.query_one("#work").display = False
        self._work()
        fields = [*self.query(Input), *self.query("#choices")]
        (fields[0] if fields else self.query_one("#form")).focus()
        if self.view.state in ("out", "unsure") and not self.again and self.view.check.kind == "measure":
            self._offer_ways(self.view)

    def texts(self) -> dict[str, str]:
        return {field.name or "": field.value for field in self.query(Input)}

    def _draft(self) -> Draft:
        texts = self.texts()
        instrument = texts.pop("@with", "").strip()
        if self.view.check.kind == "choice":
            at = self.query_one("#choices", OptionList).highlighted
            texts = {"value": self.view.check.choices[at or 0].id}
        given = {key: text for key, text in texts.items() if text.strip()}
        job = self.site.job
        if job is None:
            raise LookupError("no job is open")
        return acts.answer(self.site.state, job.library, self.path, given, instrument=instrument)

    # -- worked as it is typed --

    @on(Input.Changed)
    def _typed(self) -> None:
        self.site.drafts.keep(self.path, self.texts())
        self._work()

    def _work(self) -> None:
        view = self.would_be()
        units = self.site.state.units
        for figure in view.figures:
            drawn = f"drawn {value_text(figure.unit, figure.drawn, units)}" if figure.drawn is not None else ""
            self._put(f"#drawn-{figure.key}", [f"{figure.unit:<4} {drawn}"])
        self._put("#inputs", input_lines(view, units) if view.check.kind == "calculate" else [])
        self._put("#result", outcome_lines(view, self.site.state))
        self._put("#work", working_lines(view.answer, units) if self.shows_working and view.answer else [])

    def would_be(self) -> CheckView:
        """The check as it would stand with what is typed so far."""
        job = self.site.job
        if job is None or self.view.check.kind != "measure":
            return self.view
        texts = self.texts()
        would_be, problem = preview(self.site.state, job.library, self.view, texts, texts.get("@with", ""))
        focused = self.focused.name if isinstance(self.focused, Input) else None
        # Half a figure is often no figure: it is told once the cursor has left it.
        self.say("" if problem.startswith(self._says(focused)) else problem)
        return would_be

    def _says(self, key: str | None) -> str:
        figure = self.view.check.figure(key) if key else None
        return (figure.says or figure.key) if figure else "\n"

    def _put(self, selector: str, lines: list[str]) -> None:
        put(self.query_one(selector, Static), clean("\n".join(lines), lines=True, most=20_000))

    # -- entering --

    @on(Input.Submitted)
    def _next_field(self, event: Input.Submitted) -> None:
        fields = list(self.query(Input))
        at = fields.index(event.input)
        empty = next((f for f in fields[at + 1 :] if not f.value.strip() and f.name != "@with"), None)
        if empty is not None:
            empty.focus()
        else:
            self._enter()

    @on(OptionList.OptionSelected, "#choices")
    def _chosen(self) -> None:
        self._enter()

    def action_accept(self) -> None:
        self._enter()

    def _enter(self) -> None:
        if not self.site.attempt(self._draft):
            return
        self.entered = True
        self.site.drafts.drop(self.path)
        view = self.view
        if view.state in ("out", "unsure") and view.check.kind == "measure":
            self._offer_ways(view)
        else:
            self.dismiss(True)

    # -- the ways on --

    def _offer_ways(self, view: CheckView) -> None:
        ways = self.query_one("#ways", OptionList)
        ways.clear_options()
        for number, way in enumerate(WAYS, 1):
            ways.add_option(Option(Content(f"{number}  {way}")))
        # The figures give way to the choice, so that all three ways are on the screen.
        self.query_one("#fields").display = False
        ways.display = True
        ways.focus()
        self._put(
            "#result",
            [*outcome_lines(view, self.site.state), "", "Three ways on:"],
        )
        self.say("It is entered as measured, and holds the stage until it is put right, snagged or released.")

    @on(OptionList.OptionSelected, "#ways")
    def _way(self, event: OptionList.OptionSelected) -> None:
        self.take_way(event.option_index)

    @work
    async def take_way(self, number: int) -> None:
        if number == 0:
            self.query_one("#ways").display = False
            self.query_one("#fields").display = True
            for field in self.query(".figure"):
                if isinstance(field, Input) and field.name != "@with":
                    field.value = ""
            next(iter(self.query(Input))).focus()
            return
        out = f"{self.view.check.ask}: {self.view.state}"
        done = await deeds.snag(self, self.path, out) if number == 1 else await deeds.release(self, self.path)
        if done:
            self.dismiss(True)

    # -- keys --

    def on_key(self, event: Key) -> None:
        """Digits pick from a list, arrows move between fields, Enter accepts where there is no field."""
        focused = self.focused
        if isinstance(focused, OptionList) and event.character and event.character.isdecimal():
            at = int(event.character) - 1
            if 0 <= at < focused.option_count:
                focused.highlighted = at
                focused.action_select()
        elif event.key in ("down", "up") and isinstance(focused, Input):
            (self.focus_next if event.key == "down" else self.focus_previous)()
        else:
            return
        event.stop()

    def action_working(self) -> None:
        self.shows_working = not self.shows_working
        self.query_one("#work").display = self.shows_working
        self._work()
        if not self.view.answer:
            self.say(self.view.refusal or "The sum can be worked once its figures are in.")

    def action_drawing(self) -> None:
        from sitelog.tui.plan import DrawingPage

        self.app.push_screen(DrawingPage(self.path.rpartition(".")[0]))

    def action_back(self) -> None:
        self.dismiss(self.entered)


class WorkingPage(Page[None]):
    """The sum of one check, whole: inputs with where they came from, results, working and rule."""

    PLACE = "list"
    BINDINGS: ClassVar[list[BindingType]] = bindings("list")

    def __init__(self, path: str) -> None:
        super().__init__()
        self.path = path

    def heading(self) -> str:
        view = self.site.state.check(self.path)
        return view.check.ask if view else ""

    def body(self) -> ComposeResult:
        with VerticalScroll(id="form"):
            yield Static(Content(clean("\n".join(self._lines()), lines=True, most=20_000)), markup=False)

    def _lines(self) -> list[str]:
        view, units = self.site.state.check(self.path), self.site.state.units
        if view is None:
            return []
        working = working_lines(view.answer, units) if view.answer else []
        return [*input_lines(view, units), *outcome_lines(view, self.site.state), *working]


def working_lines(answer: Answer, units: Units) -> list[str]:
    """The working of a sum, with its rule."""
    return [
        "",
        " working",
        *sheet.working_rows(answer, units),
        f"  basis: {answer.basis}",
    ]
