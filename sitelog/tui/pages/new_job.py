"""A new job: its title, its parts and their figures as drawn, in one form that is kept until the job is made."""

from collections.abc import Iterator, Sequence
from typing import ClassVar

from textual import on, work
from textual.app import ComposeResult
from textual.binding import BindingType
from textual.events import DescendantFocus, Key
from textual.widgets import Input

from sitelog.checklist.schema.model import FactSpec, Library
from sitelog.job.actions.setup import is_building
from sitelog.job.job import Job
from sitelog.job.session import Session
from sitelog.quantities.slips import Slip
from sitelog.refusal import Refusal
from sitelog.tui.dialogs import meant
from sitelog.tui.keys import STEP, bindings
from sitelog.tui.registry import screen
from sitelog.tui.widgets.fields import Field, FieldLine, Form
from sitelog.tui.widgets.page import Page
from sitelog.wording.prompts.drafts import Drafts
from sitelog.wording.prompts.setting_up import (
    MORE,
    NEW,
    asked,
    drawn_state,
    figure_fault,
    file_name,
    form_fault,
    form_meant,
    forms_in,
    head_fault,
    hint,
    id_fault,
    make,
    renamed,
    shallow_ridge,
    takes,
    units_of,
    usual_names,
    usual_text,
)

USUAL = "hipped"  # the form that a part is shown as until another is typed
HEAD = (
    Field("title", "title"),
    Field("place", "place"),
    Field("by", "your name"),
    Field("units", "units", start="metric"),
    Field("file", "file", stands="same as the title"),
)


class NewJobPage(Page[None]):
    """Enter goes to the next field, PgDn to the next that is blank; Enter in the last sets the job up, and opens it."""

    PLACE = "new-job"
    keeps_typed = True
    BINDINGS: ClassVar[list[BindingType]] = bindings("new-job")
    HEADING = " A new job"

    def __init__(self) -> None:
        super().__init__()
        self._suggested = self._refused = ""
        self._told = ""  # of the drawing: Enter again sets the job up all the same
        self._forms: dict[str, str] = {}  # of the parts as they stand in the form
        self.library: Library | None = None
        self._drafts = Drafts(None)
        self._kept: dict[str, str] = {}

    def body(self) -> ComposeResult:
        """The form as it was left the last time, or empty."""
        self._drafts = Drafts.of_new_job(self.site.folder)
        self._kept = self._drafts.typed(NEW)
        try:
            self.library = self.site.lists(self.site.folder / "new.json")()
        except Refusal as refusal:
            self._refused = refusal.message
        yield Form(self._fields() if self.library else (), plain=self.site.ascii_only)

    def _fields(self) -> Iterator[Field | str]:
        assert self.library is not None
        kept, forms = self._kept, self.library.forms()
        for field in HEAD:
            start = kept.get(field.key, self.site.by if field.key == "by" else field.start)
            yield Field(field.key, field.label, start, field.stands)
        parts = sum(key.endswith(".form") for key in kept) or 1
        for number in range(1, parts + 1):
            yield from self._part_fields(number, kept.get(f"{number}.form", USUAL if USUAL in forms else forms[0]))
        yield Field(MORE, "another part", stands="Enter sets up the job")

    def on_mount(self) -> None:
        """The cursor in the first field; lists that can't be read are told."""
        if self.form.inputs:
            self.form.inputs[0].focus()
        self.say(self._refused)

    @property
    def form(self) -> Form:
        """Its fields."""
        return self.query_one(Form)

    # -- parts --

    def _part_fields(self, number: int, form: str) -> Iterator[Field | str]:
        self._forms[f"{number}.form"] = form
        kept = self._kept

        def field(key: str, label: str, start: str = "", stands: str = "", kind: str = "") -> Field:
            return Field(f"{number}.{key}", label, kept.get(f"{number}.{key}", start), stands, kind=kind)

        name, title = usual_names(number, form)
        yield f"Part {number}"
        yield field("form", "form", form)
        yield field("id", "short name", name)
        yield field("title", "called", title)
        for spec in self._asked(form):
            usual = usual_text(spec, self.site.folder)
            stands = "" if spec.default else "from the drawing"
            yield field(spec.name, spec.says, usual, stands, "" if is_building(spec) else spec.kind)

    def _asked(self, form: str) -> Sequence[FactSpec]:
        return asked(self.library, form) if self.library else ()

    def _specs(self) -> dict[str, FactSpec]:
        """The figures asked, by the key of their field."""
        forms = forms_in(self.form.texts())
        return {f"{number}.{spec.name}": spec for number, form in forms for spec in self._asked(form)}

    # -- typing --

    @on(DescendantFocus)
    def _hint(self) -> None:
        focused = self.focused
        if not isinstance(focused, Input):
            return
        key = focused.name or ""
        spec = self._specs().get(key)
        self.say(f"{spec.says}: {takes(spec)}" if spec else hint(key, self.library.forms() if self.library else ()))

    @on(Input.Changed)
    def _typed(self, event: Input.Changed) -> None:
        if event.input.name == "title":
            self._suggest(event.value)
        line, key = event.input.parent, event.input.name or ""
        begun = isinstance(line, FieldLine) and event.value == line.field.start  # as it comes, and nobody typed it
        if key != MORE and (key in self._kept or not begun):
            self._keep(key, event.value)

    def _keep(self, key: str, text: str) -> None:
        self._kept[key] = text
        self._drafts.keep(NEW, self._kept, empty=True)

    def _suggest(self, title: str) -> None:
        """The file is named after the title until somebody names it otherwise."""
        field = self.form.field("file")
        if field is not None and field.value in ("", self._suggested, file_name(title, self.site.folder)):
            self._suggested = file_name(title, self.site.folder)
            field.value = self._suggested

    def on_key(self, event: Key) -> None:
        """Up and down move from field to field; PgDn, which would scroll the form, to the next blank."""
        if event.key in STEP:
            self.form.step(STEP[event.key])
        elif event.key == "pagedown":
            self.action_next_blank()
        else:
            return
        event.stop()

    @on(Input.Submitted)
    def action_accept(self) -> None:
        """Go to the next field; from the last, set the job up."""
        self._next()

    def action_next_blank(self) -> None:
        """Go to the next field that wants something typed, or to the last; what stands between is left as it is."""
        self._next(blank=True)

    @work(exclusive=True)
    async def _next(self, *, blank: bool = False) -> None:
        focused = self.focused
        if not isinstance(focused, Input):
            return
        key, text = focused.name or "", self._completed(focused)
        fault = self._fault(key, text)
        if isinstance(fault, Slip):
            meant.ask(self, fault, focused, self.say, self._next)
        elif fault:
            self.say(str(fault))
        elif key in self._specs() and is_building(self._specs()[key]):
            self._build(key, focused)
        elif key == MORE:
            await self._more(text.strip())
        elif key.endswith(".form") and text.strip() != self._forms.get(key):
            await self._rebuild(key, text.strip())
        elif blank:
            self._to_blank(self.form.inputs, focused)
        else:
            self.form.step(1)

    def _completed(self, field: Input) -> str:
        """What stands in the field; of a roof type the beginning is enough."""
        if self.library and str(field.name).endswith((MORE, ".form")):
            field.value = form_meant(field.value.strip(), self.library.forms())
        return field.value

    def _to_blank(self, fields: list[Input], here: Input) -> None:
        wanted = {"title", "by", *self._specs()}
        blank = (one for one in fields[fields.index(here) :] if one is not here and not one.value)
        next((one for one in blank if one.name in wanted), fields[-1]).focus()

    def _build(self, key: str, field: Input) -> None:
        """Open the page that builds the roof of that field; what is half typed there is kept with the form."""
        lead = f"{key}:"
        half = {name.removeprefix(lead): text for name, text in self._kept.items() if name.startswith(lead)}

        def take(text: str) -> None:
            field.value = text
            self._keep(key, text)

        def done(_: object) -> None:
            if field.value:
                self.call_after_refresh(self.form.step, 1)

        def keep(name: str, text: str) -> None:
            self._keep(f"{lead}{name}", text)

        units = units_of(self.form.texts()["units"]) or "metric"
        self.app.push_screen(screen("building", field.value, units, take, half, keep), done)

    async def _more(self, form: str) -> None:
        """A further part of that form; without one, the job is set up."""
        if form:
            number = 1 + sum(key.endswith(".form") for key in self.form.texts())
            await self._rebuild(f"{number}.form", form)
        else:
            self._set_up()

    async def _rebuild(self, key: str, form: str) -> None:
        """The form again with a part more, or of another form: what was typed is kept, so nothing is lost."""
        self._kept.update(text for text in self.form.texts().items() if text[0] != MORE)
        self._kept.update(renamed(self._kept, key.partition(".")[0], self._forms.get(key, form), form))
        self._keep(key, form)
        await self.form.remove()
        await self.mount(Form(self._fields(), plain=self.site.ascii_only), before="#notice")
        if first := self.form.field(key):
            self.call_after_refresh(first.focus)

    # -- proving and making --

    def _fault(self, key: str, text: str) -> str | Refusal | None:
        """What is wrong with a field, in one line, or as a design figure is refused; nothing if nothing is."""
        text = text.strip()
        name = key.partition(".")[2]
        if name == "form" or (key == MORE and text):
            return form_fault(text, self.library) if self.library else ""
        if name == "id":
            return id_fault(text)
        if spec := self._specs().get(key):
            return figure_fault(spec, text)
        return head_fault(key, text, self.site.folder)

    def _set_up(self) -> None:
        texts = self.form.texts()
        for key, text in texts.items():
            fault = self._fault(key, text)
            if fault:
                self._at(key, fault)
                return
        if (made := self._make(texts)) is None:
            return
        self._drafts.drop(NEW)
        self.site.take(Session(made, memory=self.site.memory))
        self.app.switch_screen(screen("job"))

    def _at(self, key: str, fault: str | Refusal) -> None:
        field = self.form.field(key)
        if field is not None and isinstance(fault, Slip):
            meant.ask(self, fault, field, self.say, self._set_up)
            return
        if field is not None:
            field.focus()
        self.call_after_refresh(self.say, str(fault))

    def _make(self, texts: dict[str, str]) -> Job | None:
        assert self.library is not None
        self.site.by = texts["by"].strip()
        try:
            told = shallow_ridge(drawn_state(texts, self.library, self.site.author()))
            if told and told != self._told:
                self._told = told
                self.say(f"{told} Enter again sets it up as drawn.")
                return None
            return make(texts, self.site.folder, self.library, self.site.author(), self.site.memory)
        except Refusal as refusal:
            self.say(refusal.message)
            return None
