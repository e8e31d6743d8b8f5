"""Every calculator by itself: chosen by branch, worked as it is typed, with what is known of the part in hand."""

from collections.abc import Iterable, Iterator, Mapping
from textwrap import wrap
from typing import ClassVar

from textual import on
from textual.app import ComposeResult
from textual.binding import BindingType
from textual.containers import Vertical, VerticalScroll
from textual.content import Content
from textual.events import DescendantFocus, Key
from textual.widgets import Input, Static

from sitelog.calculators import sheet
from sitelog.calculators.ask import ask, input_value
from sitelog.calculators.catalogue import Answer, Value
from sitelog.calculators.catalogue import Input as Wanted
from sitelog.calculators.index import calculators, find
from sitelog.checklist.schema.kinds import unit_of_kind
from sitelog.drawing.index import draws
from sitelog.quantities.quantity import Units, accepts
from sitelog.quantities.slips import Slip
from sitelog.refusal import Refusal
from sitelog.text import clean, text_if
from sitelog.tui.dialogs import meant
from sitelog.tui.keys import STEP, bindings
from sitelog.tui.registry import screen
from sitelog.tui.widgets.fields import Field, Form
from sitelog.tui.widgets.list_page import ListPage
from sitelog.tui.widgets.listing import Cell, Listing, Row, RuledLine, heading, lettered, row
from sitelog.tui.widgets.site_page import part_in_hand
from sitelog.tui.widgets.solving import SolvingPage
from sitelog.wording.formatting import value_text
from sitelog.wording.prompts.calculating import LEFT_OUT, KnownInputs, known_of

SLOW = ("stock",)  # worked when Enter is pressed, and away from the screen: an order may take seconds
ENTER_WORKS = "Press Enter to work it out."
CAUTION = "caution: "  # begins the line of one
LONGEST = 200_000  # characters of an answer: a list of 2000 lengths is a long one


class CalculatorsPage(ListPage[None]):
    """Every calculator with what it works out, branch by branch."""

    PLACE = "calculators"
    BINDINGS: ClassVar[list[BindingType]] = bindings("calculators")
    HEADING = " Calculators"

    def rows(self) -> Iterable[Row]:
        """The branches in the order of the index, and under each its calculators."""
        branches = dict.fromkeys(calculator.branch for calculator in calculators().values())
        for branch in branches:
            yield heading(branch.replace("-", " ").capitalize())
            for calculator in calculators().values():
                if calculator.branch == branch:
                    yield row(calculator.name, Cell("", 1), Cell(calculator.name, 16), Cell(calculator.does))

    def told(self, key: str) -> Iterable[tuple[str, str]]:
        """What it is based on, and its example as a command."""
        calculator = calculators()[key]
        return [("Basis", calculator.basis), ("Example", f"sitelog calc {calculator.name} {calculator.example}")]

    @on(Listing.OptionSelected)
    def action_pick(self) -> None:
        """Open the calculator that the cursor stands on."""
        if self.listing.key:
            self.app.push_screen(CalculatorPage(self.listing.key))


class CalculatorPage(SolvingPage):
    """Down from the last field stands on the answer, where letters are keys again."""

    PLACE = "calculator"
    BINDINGS: ClassVar[list[BindingType]] = bindings("calculator")
    HORIZONTAL_BREAKPOINTS = [(0, "-slim"), (60, "-narrow"), (120, "-wide")]

    def __init__(self, name: str) -> None:
        super().__init__()
        self.calculator = find(name)
        self.shows_working = False
        self.known: dict[str, KnownInputs] = {}
        self.on_enter = name in SLOW
        self._shown: tuple[list[str], Answer] | None = None
        self._worked_with: dict[str, str] | None = None  # the texts that the last Enter gave to the sum

    def heading(self) -> str:
        """Its name, and what it works out."""
        return f" {self.calculator.name}: {self.calculator.does}"

    def body(self) -> ComposeResult:
        """The fields, filled with what the job knows of the part in hand, and room for the answer."""
        self.known = known_of(self.calculator, self.site.state, part_in_hand(self.app)) if self.site.job else {}
        with Vertical(id="calculator"):
            yield Form(self._fields(), plain=self.site.ascii_only)
            yield RuledLine(classes="rule", markup=False)
            with VerticalScroll(id="answer"):
                yield Static("", id="result", markup=False)

    @property
    def units(self) -> Units:
        """Those of the job; metric where none is open."""
        if not self.site.job:
            return "metric"
        return self.site.state.units

    def _fields(self) -> Iterator[Field]:
        for wanted in self.calculator.inputs:
            typed = self.site.sums.get(self.calculator.name, {}).get(wanted.name, "")
            words = self._words(wanted, bool(typed))
            yield Field(wanted.name, wanted.name.replace("_", " "), typed, self._stands(wanted), words, wanted.kind)

    def _stands(self, wanted: Wanted) -> str:
        """What the sum is worked with while nothing is typed."""
        if known := self.known.get(wanted.name):
            return value_text(unit_of_kind(wanted.kind), known.value, self.units, typed=known.typed)
        if wanted.default is not None:
            return value_text(unit_of_kind(wanted.kind), wanted.default, self.units, typed=True)
        return "" if wanted.required else "left out"

    def _words(self, wanted: Wanted, typed: bool = False) -> str:
        """Where the figure comes from, and what it is."""
        origin = "typed" if typed else self._origin(wanted)
        if origin:
            return f"{origin}: {wanted.says}"
        return wanted.says

    def _origin(self, wanted: Wanted) -> str:
        if wanted.name in self.known:
            return self.known[wanted.name].words
        if wanted.required:
            return "wanted"
        return "" if wanted.default is None else "usual"

    def on_mount(self) -> None:
        """Worked with what stands there already; the cursor in the first field."""
        self._changed()
        self.form.inputs[0].focus()

    def on_resize(self) -> None:
        """Fold the answer to the new width."""
        if not self.on_enter:
            self.call_after_refresh(self._work)

    @property
    def form(self) -> Form:
        """Its fields."""
        return self.query_one(Form)

    # -- working --

    @on(Input.Changed)
    def _typed(self, event: Input.Changed) -> None:
        name = event.input.name or ""
        self.site.sums[self.calculator.name] = self.form.texts()
        self.form.words(name, self._words(self.calculator.input(name), bool(event.value.strip())))
        self._changed()

    def _changed(self) -> None:
        if not self.on_enter:
            self._work()
        elif self.asked()[0] != self._worked_with:
            self._worked_with = None
            self.abandon()
            self._shown = None
            self.show_lines(self.idle())

    def idle(self) -> list[str]:
        """What is shown until Enter is pressed."""
        return [ENTER_WORKS]

    def place_of_keys(self) -> str:
        """In a field letters are typed; on the answer they are keys; while it works, it can be stopped."""
        if self.solving:
            return "solving"
        field = "sum" if self.on_enter else "field"
        return field if isinstance(self.focused, Input) else self.PLACE

    @on(DescendantFocus)
    def _hint(self) -> None:
        self.show_foot()
        focused = self.focused
        if isinstance(focused, Input):
            wanted = self.calculator.input(focused.name or "")
            takes = accepts(wanted.kind, wanted.choices)
            out = text_if(wanted.name in self.known and not wanted.required, f"; type {LEFT_OUT} to leave out")
            self.say(lettered(f"{wanted.name.replace('_', ' ')}: {takes}{out}", self.site.ascii_only))

    def asked(self) -> tuple[dict[str, str], dict[str, Value]]:
        """What stands in the form: what was typed, and what the job knows of the rest."""
        texts = {name: text for name, text in self.form.texts().items() if text.strip()}
        out = {name for name, text in texts.items() if text.strip() == LEFT_OUT}
        standing = {name: shown.value for name, shown in self.known.items() if name not in out}
        return {name: text for name, text in texts.items() if name not in out}, standing

    def answer(self) -> Answer:
        """The answer to what stands in the form. Refusal as `ask` gives it."""
        return self.worked(*self.asked())[1]

    def worked(self, texts: Mapping[str, str], standing: Mapping[str, Value]) -> tuple[list[str], Answer]:
        """The answer, and what is said before it; touches nothing on the screen. Refusal as `ask` gives it."""
        return [], ask(self.calculator.name, texts, standing)

    def _work(self) -> None:
        try:
            self.tell(*self.worked(*self.asked()))
        except Refusal as refusal:
            self.refuse(refusal.message)

    def tell(self, before: list[str], answer: Answer) -> None:
        """The answer, and before it what is said with it."""
        self._shown = (before, answer)
        lines = sheet.text(
            answer, self.units, working=self.shows_working, ascii=self.site.ascii_only, width=min(79, self._room())
        )
        told = [
            part for line in lines for part in (self._folded(self._named(line)) if line.startswith(CAUTION) else [line])
        ]
        self.show_lines([*(row for answer in before for row in self._folded(answer)), *told])

    def refuse(self, why: str) -> None:
        """In place of an answer."""
        self.show_lines(self._folded(why))

    def _room(self) -> int:
        return max(20, self.query_one("#answer").scrollable_content_region.width or 78)

    def _folded(self, words: str) -> list[str]:
        hung = text_if(words.startswith(CAUTION), " " * len(CAUTION))
        return wrap(lettered(words, self.site.ascii_only), self._room(), subsequent_indent=hung)

    def show_lines(self, lines: list[str]) -> None:
        """In the room for the answer."""
        text = clean("\n".join(lines), lines=True, most=LONGEST)
        self.query_one("#result", Static).update(Content(text))

    def _named(self, line: str) -> str:
        """A caution by its title, where a job's library gives one for its id."""
        known = self.site.job.library.cautions.get(line.removeprefix(CAUTION)) if self.site.job else None
        return f"{CAUTION}{known.title}. {known.do}" if known else line

    def _wrong(self, field: Input) -> Refusal | None:
        """Why what is in a field can't be read, or what is asked about it; None if it is well."""
        text = field.value.strip()
        if text and text != LEFT_OUT:
            try:
                input_value(self.calculator, self.calculator.input(field.name or ""), text)
            except Refusal as refusal:
                return refusal
        return None

    # -- keys --

    @on(Input.Submitted)
    def _next(self) -> None:
        """Where Enter works the sum every field is asked about, else the one that Enter leaves."""
        for field in self.form.inputs:
            wrong = self._wrong(field)
            if isinstance(wrong, Slip) and (self.on_enter or field.has_focus):
                meant.ask(self, wrong, field, self.say, self._next)
                return
            if wrong and not isinstance(wrong, Slip):
                field.focus()
                self.call_after_refresh(self.say, wrong.message)  # after the field's own hint
                return
        if self.on_enter:
            texts, standing = self.asked()
            self._worked_with = texts
            self.solve(texts, standing)
        elif not self.form.step(1):
            self.query_one("#answer").focus()

    def on_key(self, event: Key) -> None:
        """Up and down move between the fields, and from the last one to the answer and back."""
        if not isinstance(self.focused, Input):
            if event.key == "up" and self.query_one("#answer").scroll_offset.y == 0:
                self.form.inputs[-1].focus()
                event.stop()
        elif event.key in STEP:
            if not self.form.step(STEP[event.key]) and event.key == "down":
                self.query_one("#answer").focus()
            event.stop()

    def action_drawing(self) -> None:
        """Draw the answer, or say in one line why not."""
        if not draws(self.calculator.name):
            self.say("No drawing for this calculator.")
            return
        try:
            self.app.push_screen(screen("drawing-of-answer", self.answer(), self.units))
        except Refusal as refusal:
            self.say(refusal.message)

    def action_working(self) -> None:
        """Show the working, or hide it."""
        self.shows_working = not self.shows_working
        if not self.on_enter:
            self._work()
        elif self._shown:
            self.tell(*self._shown)
