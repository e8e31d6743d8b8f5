"""A line to type in: what stands there is typed over, arrows edit it, and nothing that is pasted is lost."""

from typing import Any

from textual import on
from textual.events import Focus, Paste
from textual.message import Message
from textual.widgets import Input

LISTS = ("lengths", "offsets", "ties", "cuts")  # kinds of figure that are several figures in one field
NO_FIGURE = ("", "text")  # words, and what was measured with
LONGEST = 400  # letters
LONG_PASTE = "That is longer than this line takes: nothing was pasted."
ENDS = (".", ",", ";", ":", "!", "?")  # a pasted line that ends so runs straight on into the next


class Entry(Input):
    """`kind` is that of its figure, "" for words. Words that somebody typed are not typed over by the next key."""

    class Pasted(Message):
        """Figures that were pasted after the one that this field took: they are for the fields below it."""

        def __init__(self, entry: "Entry", figures: tuple[str, ...]) -> None:
            super().__init__()
            self.entry, self.figures = entry, figures

    class TooLong(Message):
        """A paste that the field has no room for: nothing of it was taken."""

    class Answered(Message):
        """Follows what Enter asks of the page, so that whoever hears it knows that the page has done it."""

    def validate(self, value: str) -> None:
        """Nothing: the page judges what stands here, and has no other colours for it."""

    async def action_submit(self) -> None:
        """Enter. A figure that isn't taken is typed over by what comes next."""
        await super().action_submit()
        if self.kind not in NO_FIGURE:
            self.select_all()
        self.post_message(self.Answered())

    def __init__(self, value: str = "", *, offered: str | None = None, kind: str = "", **options: Any) -> None:
        """`offered` is what of the value the program offers, all of it if not said; `options` are those of Input."""
        super().__init__(value, **{"max_length": LONGEST, **options})
        self.offered = value if offered is None else offered
        self.kind = kind

    @on(Focus)
    def _choose(self) -> None:
        self.select_on_focus = self.kind not in NO_FIGURE or self.value == self.offered

    def _on_paste(self, event: Paste) -> None:
        event.prevent_default()
        event.stop()
        first, *others = self._parts(event.text)
        room = self.max_length or len(first)
        if len(self.value) - len(self.selected_text) + len(first) > room:
            self.post_message(self.TooLong())
            return
        self.replace(first, *self.selection)
        if others:
            self.post_message(self.Pasted(self, tuple(others)))

    def _parts(self, text: str) -> list[str]:
        """What this field takes, then what the fields below it take."""
        if len(text.splitlines()) <= 1 and "\t" not in text:
            return ["".join(text.splitlines())]
        lines = [part.strip() for line in text.splitlines() for part in line.split("\t") if part.strip()]
        if self.kind in LISTS:
            return [", ".join(lines)]
        if self.kind:
            return lines or [""]
        return [as_one_line(text)]


def as_one_line(text: str) -> str:
    """Lines as one line: each is set off from the next by its own stop, or by a semicolon."""
    lines = [line.strip() for line in text.splitlines() if line.strip()]
    joined = [line if line.endswith(ENDS) else f"{line};" for line in lines[:-1]]
    return " ".join([*joined, *lines[-1:]])


def pasted_below(event: Entry.Pasted, entries: list[Entry]) -> str:
    """Put the figures into the entries below the one pasted into, and say in a line what was done with them."""
    below = [entry for entry in entries[entries.index(event.entry) + 1 :] if entry.kind not in NO_FIGURE]
    for entry, figure in zip(below, event.figures, strict=False):
        entry.value = figure
    over = event.figures[len(below) :]
    if over:
        return f"Pasted figures filled every line. Left over: {', '.join(over)}."
    return f"{1 + len(event.figures)} figures pasted. Check each, then press Enter."
