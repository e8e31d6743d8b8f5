"""A form of fields, each one line: its label, what is typed, and a word of what belongs there."""

from collections.abc import Iterable, Iterator
from dataclasses import dataclass

from textual.app import ComposeResult
from textual.containers import Horizontal, VerticalScroll
from textual.content import Content
from textual.widget import Widget
from textual.widgets import Input, Static

from sitelog.tui.widgets.entry import Entry
from sitelog.tui.widgets.listing import lettered

WIDTHS = [(0, "-slim"), (52, "-narrow"), (76, "-wide")]  # columns of a form, and what the stylesheet calls them
LONGEST = 2_000  # letters: a list of what lies on a site is a long one


@dataclass(frozen=True)
class Field:
    """`start` is filled in to begin with; `stands` shows while nothing is typed; `words` stand beside the field.

    `kind` is that of its figure, "" for words.
    """

    key: str
    label: str
    start: str = ""
    stands: str = ""
    words: str = ""
    kind: str = ""


class FieldLine(Horizontal):
    """One field of a form."""

    def __init__(self, field: Field, plain: bool) -> None:
        super().__init__(classes="field-line")
        self.field = field
        self.plain = plain

    def compose(self) -> ComposeResult:
        """The label, the field, and the words beside it."""
        field, plain = self.field, self.plain
        yield Static(Content(lettered(field.label, plain)), classes="field-label", markup=False)
        yield Entry(
            field.start,
            kind=field.kind,
            placeholder=lettered(field.stands, plain),
            name=field.key,
            max_length=LONGEST,
        )
        yield Static(Content(lettered(field.words, plain)), classes="field-words", markup=False)


class InSight(VerticalScroll):
    """Room for fields that scrolls: the one with the cursor stays in sight when a message takes some of the room."""

    def on_resize(self) -> None:
        """The field with the cursor, with its label, into what is left of the room."""
        self.call_after_refresh(self._show_focused)

    def _show_focused(self) -> None:
        field = self.screen.focused if self.is_mounted else None
        if field is not None and self in field.ancestors:
            lines = [one for one in field.ancestors if isinstance(one, Widget) and one.has_class("field-line")]
            for widget in (*lines, field):
                widget.scroll_visible(animate=False, immediate=True)


class Form(InSight):
    """Fields in order, and titles (plain words) between them; up and down move from field to field."""

    def __init__(self, fields: Iterable[Field | str] = (), *, plain: bool = False) -> None:
        super().__init__(id="form", can_focus=False)
        self._fields = tuple(fields)
        self._plain = plain

    def compose(self) -> ComposeResult:
        """The fields and the titles between them."""
        yield from self._lines(self._fields)

    def _lines(self, fields: Iterable[Field | str]) -> Iterator[Widget]:
        for field in fields:
            if isinstance(field, Field):
                yield FieldLine(field, self._plain)
            else:
                yield Static(Content(lettered(f" {field}", self._plain)), classes="form-title", markup=False)

    @property
    def inputs(self) -> list[Input]:
        """The fields, from top to bottom."""
        return list(self.query(Input))

    def texts(self) -> dict[str, str]:
        """What stands in each field, by its key."""
        return {field.name or "": field.value for field in self.inputs}

    def field(self, key: str) -> Input | None:
        """The field of that key, or None."""
        return next((field for field in self.inputs if field.name == key), None)

    def words(self, key: str, text: str) -> None:
        """What stands beside a field."""
        for line in self.query(FieldLine):
            if line.field.key == key:
                line.query_one(".field-words", Static).update(Content(lettered(text, self._plain)))

    def step(self, by: int) -> bool:
        """Go to the field before or after the one in hand; False at either end."""
        inputs = self.inputs
        at = next((number for number, field in enumerate(inputs) if field.has_focus), None)
        if at is None or not 0 <= at + by < len(inputs):
            return False
        inputs[at + by].focus()
        return True
