"""One check, done: its figures or its choice, the answer worked as you type, and the ways on when it is out."""

from collections.abc import Sequence
from pathlib import Path
from typing import ClassVar

from textual import on, work
from textual.app import ComposeResult
from textual.binding import BindingType
from textual.containers import Horizontal, Vertical, VerticalScroll
from textual.content import Content
from textual.events import DescendantFocus, Key
from textual.widget import Widget
from textual.widgets import Input, OptionList, Static
from textual.widgets.option_list import Option

from sitelog.job.actions import actions
from sitelog.job.actions.answers import figure_value
from sitelog.job.actions.preview import preview
from sitelog.job.log.entry import Draft
from sitelog.job.photos.keeping import offered
from sitelog.job.photos.photo import Photo
from sitelog.job.state.views import CheckView
from sitelog.quantities.slips import Slip
from sitelog.refusal import Refusal
from sitelog.tui.dialogs import attach, meant, prompted
from sitelog.tui.dialogs.tools import known_tool
from sitelog.tui.keys import bindings, footer
from sitelog.tui.registry import screen
from sitelog.tui.widgets.listing import lettered
from sitelog.tui.widgets.page import Page
from sitelog.wording.formatting import meant_words
from sitelog.wording.prompts import attaching
from sitelog.wording.prompts.asking import TOOL, WAYS, WORDS, offers_ways, stands_out, way_line, way_snag
from sitelog.wording.prompts.tools import last_tool, wants_tool
from sitelog.wording.result import about_lines, input_lines, outcome_lines, working_lines

PHOTO, WHOLE = "photo", "@whole"


class CheckPage(Page[bool]):
    """Gives True when an answer was entered. What is typed and not entered is kept for the next time.

    Letters are keys where no field is: down from the last field stands on the answer.
    """

    PLACE = "check"
    BINDINGS: ClassVar[list[BindingType]] = bindings("check")

    def __init__(self, path: str, *, again: bool = False) -> None:
        super().__init__()
        self.path = path
        self.again = again
        self.entered = False
        self.shows_working = False
        self.offers: tuple[Path, ...] = ()
        self._copying = False
        self._reason = ""

    # -- the form --

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
        return f"{stage.stage.title if stage else ''}{' · HOLD' if stage and stage.stage.hold else ''}"

    def foot(self) -> str:
        """The keys of a field, or those of the answer; no working where nothing is worked."""
        place = "field" if isinstance(self.focused, Input) else "check"
        without = () if self.view.check.calculator else ("working",)
        return footer(place, without=without)

    def body(self) -> ComposeResult:
        """What is asked, the fields, what they come to, and beneath it the ways on when it is out."""
        yield Static(self._content(self.view.check.ask), id="ask-line", markup=False)
        with VerticalScroll(id="form"):
            with Vertical(id="fields"):
                yield from self._fields(self.view)
            yield Static("", id="inputs", markup=False)
            yield Static("", id="result", markup=False)
            yield Static("", id="work", markup=False)
        # Under the form and not in it: all three ways are on the screen, however much there is to tell.
        with Vertical(id="ways-on"):
            yield Static("Out of limit. Choose one:", id="ways-line", markup=False)
            yield OptionList(
                *(Option(Content(f"{n}  {way}")) for n, way in enumerate(WAYS, 1)), id="ways", markup=False
            )

    def _content(self, words: str) -> Content:
        return Content(lettered(words, self.site.ascii_only))

    def _fields(self, view: CheckView) -> ComposeResult:
        kind, typed = view.check.kind, self.site.drafts.typed(self.path)
        if kind == "choice":
            rows = [Option(self._content(f"{n}  {c.label}")) for n, c in enumerate(view.check.choices, 1)]
            yield OptionList(*rows, id="choices", markup=False)
        for figure in view.check.figures:
            label = figure.says or figure.key.replace("_", " ")
            yield from self._field(figure.key, label, typed.get(figure.key, ""), words=f"drawn-{figure.key}")
        if kind in WORDS and kind != "photo":
            start = self.site.by if kind == "sign" else ""
            yield from self._field("value", WORDS[kind], typed.get("value", start))
        if self._takes_photo:
            yield from self._field(PHOTO, "photo", typed.get(PHOTO, ""))
            yield from self._field(WHOLE, "time and place", typed.get(WHOLE, ""), words="whole-words")
        if wants_tool(view):
            tool = typed.get(TOOL) or last_tool(view, self.site.state, self.site.job.entries if self.site.job else ())
            yield from self._field(TOOL, "measured with", tool)

    def _field(self, key: str, label: str, start: str, words: str | None = None) -> ComposeResult:
        with Horizontal(classes="field-line"):
            yield Static(self._content(label), classes="field-label", markup=False)
            yield Input(start, name=key, classes="figure" if words else "", max_length=400, select_on_focus=False)
            yield Static("", id=words, classes="field-words", markup=False)

    def on_mount(self) -> None:
        """What was typed before stands in the fields; the cursor in the first that is to be filled."""
        self.show_title()
        self.query_one("#ways-on").display = False
        self.query_one("#work").display = False
        if self._takes_photo and self.site.job:
            self.offers = offered(self.site.job.file.path.parent)
            self.put("#whole-words", [attaching.LEFT_OUT])
        self._work()
        for choices in self.query("#choices").results(OptionList):
            choices.highlighted = next(
                (n for n, c in enumerate(self.view.check.choices) if c.id == self.view.value), None
            )
        fields = [*self.query("#choices"), *self.query(Input)]
        (fields[0] if fields else self.query_one("#form")).focus()
        if offers_ways(self.view, again=self.again):
            self._offer_ways(self.view)

    def texts(self) -> dict[str, str]:
        """What stands in each field, by the name of its figure."""
        return {field.name or "": field.value for field in self.query(Input)}

    @property
    def _takes_photo(self) -> bool:
        return self.view.check.kind == "photo" or self.view.check.photo

    def _draft(self, photos: Sequence[Photo] = (), name: str = "") -> Draft:
        texts = self.texts() | {PHOTO: name}
        texts.pop(WHOLE, None)
        instrument = texts.pop(TOOL, "").strip()
        if self.view.check.kind == "choice":
            at = self.query_one("#choices", OptionList).highlighted
            texts = {PHOTO: name} | ({} if at is None else {"value": self.view.check.choices[at].id})
        given = {key: text for key, text in texts.items() if text.strip()}
        job = self.site.job
        if job is None:
            raise LookupError("no job is open")
        return actions.answer(
            self.site.state, job.library, self.path, given, note=self._reason, instrument=instrument, photos=photos
        )

    # -- worked as it is typed --

    @on(Input.Changed)
    def _typed(self) -> None:
        self.site.drafts.keep(self.path, self.texts())
        self._work()

    @on(DescendantFocus)
    def _moved(self) -> None:
        self.show_foot()
        self._work()

    def state_changed(self) -> None:
        """Work it again."""
        self._work()

    def _work(self) -> None:
        if self.query_one("#ways-on").display:
            return
        view, state = self.would_be(), self.site.state
        for figure in view.figures:
            drawn = meant_words(figure, state.units) if figure.drawn is not None else ""
            self.put(f"#drawn-{figure.key}", [f"{figure.unit:<4} {drawn}"])
        self.put("#inputs", input_lines(view, state.units) if view.check.kind == "calculate" else [])
        about = [*self._offer_lines(), *about_lines(self.view, state, self._in_hand())]
        self.put("#result", outcome_lines(view, state) or about)
        self.put("#work", working_lines(view.answer, state.units) if self.shows_working and view.answer else [])

    def _offer_lines(self) -> list[str]:
        return ["", *attaching.offer_lines(self.offers)] if self._takes_photo else []

    def _in_hand(self) -> str:
        """The key of the figure under the cursor, or ""."""
        return self.focused.name or "" if isinstance(self.focused, Input) else ""

    def would_be(self) -> CheckView:
        """The check as it would stand with what is typed so far."""
        job = self.site.job
        if job is None or self.view.check.kind != "measure":
            return self.view
        texts = self.texts()
        would_be, problem = preview(self.site.state, job.library, self.view, texts, texts.get(TOOL, ""))
        figure = self.view.check.figure(self._in_hand())
        slip = self._slip(self.focused)
        # Half a figure is often no figure: it is told once the cursor has left it.
        half = figure is not None and problem.startswith(figure.says or figure.key)
        self.say(slip.message if slip else "" if half else problem)
        return would_be

    def _slip(self, field: Widget | None) -> Slip | None:
        """What is asked about the figure in a field, if it is likely a slip."""
        figure = self.view.check.figure(field.name or "") if isinstance(field, Input) and field.value.strip() else None
        job, text = self.site.job, field.value if isinstance(field, Input) else ""
        if figure is None or job is None:
            return None
        return meant.slip_in(lambda: figure_value(self.site.state, job.library, self.view, figure, text))

    # -- entering --

    @on(Input.Submitted)
    def _submitted(self, event: Input.Submitted) -> None:
        slip = self._slip(event.input)
        if slip:
            meant.ask(self, slip, event.input, self.say, lambda: self._next_field(event.input))
        else:
            self._next_field(event.input)

    def _next_field(self, field: Input) -> None:
        fields = list(self.query(Input))
        at = fields.index(field)
        wanted = next((f for f in fields[at + 1 :] if self._stops_at(f)), None)
        if wanted is None:
            self.enter()
        else:
            wanted.focus()
            if wanted.name == TOOL:
                wanted.select_all()  # another tape is typed over the one used last

    def _stops_at(self, field: Input) -> bool:
        """Does Enter stop at it? A correction says each time what it was measured with, before the reason is asked."""
        if field.name == TOOL:
            return any(entry.act == "answer" for entry in self.view.history)
        return not field.value.strip() and field.name != WHOLE

    @on(OptionList.OptionSelected, "#choices")
    def _picked(self) -> None:
        """Where a photo is asked for too, it comes between the choice and Enter."""
        field = next((one for one in self.query(Input) if one.name == PHOTO and not one.value.strip()), None)
        if field is None:
            self.enter()
        else:
            field.focus()
            self.say("Add a photo, or press Enter for none.")

    def action_accept(self) -> None:
        """Save the form."""
        self.enter()

    @work
    async def enter(self) -> None:
        """Enter what was typed: slips are asked about first, then the tool, then why it changes an answer."""
        for field in self.query(Input):
            if slip := self._slip(field):
                meant.ask(self, slip, field, self.say, self.enter)
                return
        if not self.is_current or self._copying or not await known_tool(self, self.texts().get(TOOL, "")):
            return
        self._reason = ""
        why = await prompted.why_anew(self, self.view, lambda: self._draft(name=self.texts().get(PHOTO, "").strip()))
        self._reason = why or ""
        if why is None or not await self._entered():
            return
        self.entered = True
        self.site.drafts.drop(self.path)
        view = self.view
        if stands_out(view):
            self._offer_ways(view)
        else:
            self.dismiss(True)

    async def _entered(self) -> bool:
        """Photos are copied first, which may take a while: Enter means nothing until they are."""
        texts, job = self.texts(), self.site.job
        if job is None or not texts.get(PHOTO, "").strip():
            return self.site.attempt(self._draft)
        self._copying = True
        try:
            found = attaching.chosen(texts[PHOTO], job.file.path, self.offers)
            return await attach.enter(self, found, attaching.keeps(texts.get(WHOLE, "")), self._draft)
        except Refusal as refusal:
            self.say(refusal.message)
            return False
        finally:
            self._copying = False

    # -- the ways on --

    def _offer_ways(self, view: CheckView) -> None:
        self._work()
        self.query_one("#fields").display = False
        self.query_one("#ways-on").display = True
        self.query_one("#ways").focus()
        self.put("#result", outcome_lines(view, self.site.state, rows=False))
        self.say(way_line(view))

    @on(OptionList.OptionSelected, "#ways")
    def _way(self, event: OptionList.OptionSelected) -> None:
        self.take_way(event.option_index)

    @work
    async def take_way(self, number: int) -> None:
        """0 measures again, 1 snags it, 2 carries on with it as it is."""
        if number == 0:
            self.query_one("#ways-on").display = False
            self.query_one("#fields").display = True
            for field in self.query(".figure").results(Input):
                field.value = ""
            self.query(Input).first().focus()
            return
        done = (
            await prompted.snag(self, self.path, way_snag(self.view))
            if number == 1
            else await prompted.ask(self, "release", self.path)
        )
        if done:
            self.dismiss(True)

    # -- keys --

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
        form = self.query_one("#form")
        if key == "up" and self.query("#choices") and next(iter(self.query(Input)), None) is self.focused:
            self.query_one("#choices").focus()
            return True
        stops = [*self.query(Input), form] if self.query_one("#fields").display else [form]
        at = next((n for n, one in enumerate(stops) if one.has_focus), None)
        if at is None or (stops[at] is form and (key == "down" or form.scroll_offset.y)):
            return False
        to = at + {"down": 1, "up": -1}.get(key, 0)
        if to == at or not 0 <= to < len(stops):
            return False
        stops[to].focus()
        return True

    def action_working(self) -> None:
        """Show the working or hide it; a line says why there is none."""
        self.shows_working = not self.shows_working and bool(self.view.check.calculator)
        self.query_one("#work").display = self.shows_working
        self._work()
        if not self.view.check.calculator:
            self.say("This check doesn't have a calculation.")
        elif self.shows_working and not self.would_be().answer:
            self.say(self.view.refusal or "Type the figures first, then you can see the working.")
        elif self.shows_working:
            self.call_after_refresh(self.query_one("#work").scroll_visible, top=True, animate=False)

    def action_drawing(self) -> None:
        """The drawings of the part, from that of this check."""
        self.app.push_screen(screen("drawing", self.path.rpartition(".")[0], self.path))

    def action_back(self) -> None:
        """Leave; what was typed is kept."""
        self.dismiss(self.entered)
