"""One block of a cut roof, field by field, with the plan drawn as it is typed."""

from collections.abc import Callable, Iterable, Iterator, Mapping
from typing import ClassVar

from textual import on
from textual.binding import BindingType
from textual.events import DescendantFocus, Key
from textual.widget import Widget
from textual.widgets import Input

from sitelog.geometry.building.said import MAIN, BlockRefusal
from sitelog.quantities.quantity import Units
from sitelog.refusal import Refusal
from sitelog.text import text_after
from sitelog.tui.building.sketch import SketchPage
from sitelog.tui.keys import bindings
from sitelog.tui.widgets.fields import Field, Form
from sitelog.wording.building.blocks import called, free_name, refused_words, said_in, with_block
from sitelog.wording.building.composing import kind_of, line_of, typed_of
from sitelog.wording.building.fields import EIGHT, Wanted, answered, check, field_about, wanted


class BlockPage(SketchPage[tuple[str, str] | None]):
    """Gives the building with the block in it, and the block's name; None where it was left.

    `name` is that of a block to be changed, "" for one more. `half` is what was typed before and not saved, by
    `keep`'s keys; the field of a key that isn't in it begins as the block was said.
    """

    PLACE = "block"
    keeps_typed = True
    BINDINGS: ClassVar[list[BindingType]] = bindings("block")

    def __init__(
        self,
        text: str = "",
        kind: str = MAIN,
        name: str = "",
        units: Units = "metric",
        half: Mapping[str, str] | None = None,
        keep: Callable[[str, str], object] = lambda key, text: None,
    ) -> None:
        super().__init__()
        every = said_in(text)
        said = every.get(name)
        self.text, self.units = text, units
        self.kind = kind_of(said) if said else kind
        self.block = name or free_name(MAIN if self.kind == EIGHT else self.kind, every)
        self._every = every
        self._of = name or f"new {self.kind}"
        self._half, self._keep = half or {}, keep
        self._start = typed_of(said) if said else {}

    def heading(self) -> str:
        """The block's name."""
        return f" {called(self.block)}"

    def said(self) -> Iterable[Widget]:
        """The form, as it was left or as the block was said."""
        fields = wanted(self.kind, self._every, self._start)
        yield Form([self._field(field) for field in fields], plain=self.site.ascii_only)

    def _field(self, field: Wanted) -> Field:
        start = self._half.get(self._key(field.key), "") or self._start.get(field.key, "")
        return Field(field.key, field.label, start, _stands(field), kind=field.reads)

    def _key(self, field: str) -> str:
        return f"{self._of}:{field}"

    def on_mount(self) -> None:
        """The cursor in the first field."""
        super().on_mount()
        self.form.inputs[0].focus()
        self._show()

    @property
    def form(self) -> Form:
        """Its fields."""
        return self.query_one(Form)

    # -- typing --

    def _fields(self) -> tuple[Wanted, ...]:
        return wanted(self.kind, self._every, self.form.texts())

    @on(DescendantFocus)
    def _hint(self) -> None:
        focused = self.focused
        if isinstance(focused, Input):
            self.say(next((field.says for field in self._fields() if field.key == focused.name), ""))

    @on(Input.Changed)
    def _typed(self, event: Input.Changed) -> None:
        key = event.input.name or ""
        if event.value != self._start.get(key, ""):
            self._keep(self._key(key), event.value)
        for field in self._fields():
            place = self.form.field(field.key)
            if place is not None:
                place.placeholder = _stands(field)
        self._show()

    def _show(self) -> None:
        """The plan with the block as far as it is typed, or what stands without it."""
        if not all(self._needed()):
            self.sketch(self.text)
            return
        try:
            self.sketch(with_block(self.text, self._line()))
        except Refusal as refusal:
            self.sketch(self.text, refused_words(refusal))

    def _needed(self) -> Iterator[str]:
        answers = answered(self._fields(), self.form.texts())
        return (answers[field.key] for field in self._fields() if field.needed)

    def _line(self) -> str:
        return line_of(self.kind, self.block, answered(self._fields(), self.form.texts()))

    def on_key(self, event: Key) -> None:
        """Up and down move from field to field."""
        if event.key in ("down", "up"):
            self.form.step(1 if event.key == "down" else -1)
            event.stop()

    @on(Input.Submitted)
    def action_accept(self) -> None:
        """Go to the next field; from the last, put the block into the roof."""
        focused = self.focused
        if not isinstance(focused, Input):
            return
        try:
            self._check(focused.name or "")
            if self._takes_the_rest(focused.name or "") or not self.form.step(1):
                self._save()
        except Refusal as refusal:
            self._refuse(refusal)

    def _takes_the_rest(self, key: str) -> bool:
        """Whether the field and all after it are left as usual, and it says that Enter takes them so."""
        fields, texts = self._fields(), self.form.texts()
        at = next((place for place, field in enumerate(fields) if field.key == key), len(fields))
        left = fields[at:]
        return any(field.rest for field in left[:1]) and not any(texts[field.key].strip() for field in left)

    def _check(self, key: str) -> None:
        answers = answered(self._fields(), self.form.texts())
        for field in self._fields():
            if key in (field.key, ""):
                check(field, self.block, answers[field.key])

    def _save(self) -> None:
        self._check("")
        text = with_block(self.text, self._line())
        for field in self._fields():
            self._keep(self._key(field.key), "")
        self.dismiss((text, self.block))

    def _refuse(self, refusal: Refusal) -> None:
        """Say why in one line, with the cursor in the field that it is about."""
        about = field_about(self.kind, refusal.about) if isinstance(refusal, BlockRefusal) else ""
        place = self.form.field(about) if about else None
        if place is not None:
            place.focus()
        self.call_after_refresh(self.say, refused_words(refusal))

    def action_back(self) -> None:
        """Leave it; what was typed is kept."""
        self.dismiss(None)


def _stands(field: Wanted) -> str:
    """What shows while nothing is typed."""
    return text_after("usual ", field.usual) or ("from the drawing" if field.needed else "")
