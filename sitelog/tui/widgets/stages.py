"""The line of stages along the top, and the rows of one stage."""

from collections.abc import Sequence
from itertools import accumulate, zip_longest
from textwrap import wrap

from textual.content import Content
from textual.events import Click
from textual.message import Message
from textual.reactive import reactive
from textual.widgets import Static
from textual.widgets.option_list import Option

from sitelog.job.state.marks import CHECK, HERE, HOLD, MORE, STAGE, Mark, state_word
from sitelog.job.state.views import CheckView, StageView, State
from sitelog.text import clean, text_if
from sitelog.tui.widgets.listing import Touched, lettered
from sitelog.wording.flags import flags
from sitelog.wording.formatting import KIND_WORDS, row_figures, stage_words
from sitelog.wording.strip import closing_ask

STATE_WIDTH = 11
ASK_WIDTH, FIGURES_WIDTH = 16, 8  # columns that a question and its figures keep on a narrow screen


class Ruler(Static):
    """The stages as a rule: done ones marked, the one in hand in capitals, as many round it as fit."""

    class Touched(Message):
        """A finger on the stage of that place in the job's order."""

        def __init__(self, place: int) -> None:
            super().__init__()
            self.place = place

    def show(self, state: State, path: str, *, ascii_only: bool) -> None:
        """The stages of the job, with the one at `path` marked."""
        words = stage_words(state)
        names = [
            self._named(number, stage, words[stage.path], stage.path == path, ascii_only)
            for number, stage in enumerate(state.order, 1)
        ]
        here = next((place for place, stage in enumerate(state.order) if stage.path == path), 0)
        self._words, self._here, self._more = names, here, MORE.sign(ascii_only)
        self.on_resize()

    _words: list[str] = []
    _here = _first = _last = 0
    _more = "…"

    def on_click(self, event: Click) -> None:
        """A finger on a stage goes there; on the mark that there are more, to the next of those."""
        at = event.get_content_offset(self)
        if at is None or not self._words:
            return
        ends = accumulate(len(word) + 2 for word in self._words[self._first : self._last + 1])
        lead = 2 * bool(self._first)
        before = sum(at.x >= lead + end for end in ends)
        place = self._first + before if at.x >= lead else self._first - 1
        self.post_message(self.Touched(min(place, len(self._words) - 1)))

    @staticmethod
    def _named(number: int, stage: StageView, word: str, here: bool, ascii_only: bool) -> str:
        told = clean(word.upper() if here else word)
        return f"{STAGE[stage.state].sign(ascii_only).strip()}{number} {told}"

    def on_resize(self) -> None:
        """As many stages as there is room for around the one in hand."""
        if not self._words or not self.size.width:
            return
        first, last = self._first, self._last = self._window(self.size.width - 4)
        parts = [
            Content.styled(name, "bold reverse") if place == self._here else Content(name)
            for place, name in enumerate(self._words)
            if first <= place <= last
        ]
        lead = text_if(first, f"{self._more} ")
        tail = text_if(last < len(self._words) - 1, f"  {self._more}")
        self.update(Content(lead) + Content("  ").join(parts) + Content(tail))

    def _window(self, room: int) -> tuple[int, int]:
        """The widest run of stages round the one in hand that fits."""
        first = last = self._here
        used = len(self._words[self._here])
        while True:
            grown = False
            if last + 1 < len(self._words) and used + 2 + len(self._words[last + 1]) <= room:
                last += 1
                used += 2 + len(self._words[last])
                grown = True
            if first and used + 2 + len(self._words[first - 1]) <= room:
                first -= 1
                used += 2 + len(self._words[first])
                grown = True
            if not grown:
                return first, last


class Rows(Touched):
    """The checks of one stage, then its hold or signature. A row: mark, what is asked, the figures, the state."""

    class Chosen(Message):
        """A row was chosen by key or mouse."""

    class Laid(Message):
        """The rows were laid out: they may take more lines than before, or fewer."""

    stage: reactive[StageView | None] = reactive(None, always_update=True)

    def __init__(self) -> None:
        super().__init__(id="rows", markup=False)
        self._state: State | None = None
        self._ascii = False
        self._pointed = 0
        self._wanted = ""
        self._width = 0  # that the rows are laid out for

    def show(self, state: State, stage: StageView, *, ascii_only: bool) -> None:
        """The checks of a stage, as the job stands."""
        self._state, self._ascii = state, ascii_only
        self.stage = stage

    def watch_stage(self) -> None:
        """Fill the rows anew."""
        self._fill()

    def on_resize(self) -> None:
        """Fill the rows for a new width, and keep the cursor in sight."""
        if self.size.width != self._width:
            self._fill()
        # The strip beneath may have grown over the row under the cursor.
        self.call_after_refresh(self.scroll_to_highlight)

    def _fill(self) -> None:
        if not self.stage or not self._state or not self.size.width:
            return
        at, self._width = self.highlighted, self.size.width
        self.clear_options()
        self.add_options([Option(self._prompt(number)) for number in range(len(self.stage.shown) + 1)])
        self.highlighted = min(at or 0, self.option_count - 1)
        if self._wanted:
            self.go_to(self._wanted)
        self.post_message(self.Laid())

    @property
    def height_of_all(self) -> int:
        """The lines that all rows take."""
        return sum(str(option.prompt).count("\n") + 1 for option in self.options)

    def watch_highlighted(self, highlighted: int | None) -> None:
        """The row under the cursor is drawn with its pointer and without its shade."""
        super().watch_highlighted(highlighted)
        for number in {self._pointed, highlighted or 0}:
            if number < self.option_count and self.stage:
                self.replace_option_prompt_at_index(number, self._prompt(number))
        self._pointed = highlighted or 0

    def _prompt(self, number: int) -> Content:
        assert self.stage is not None
        here = number == (self.highlighted or 0)
        if number < len(self.stage.shown):
            return self._row(self.stage.shown[number], here=here)
        return self._closing_row(here=here)

    @property
    def check(self) -> CheckView | None:
        """The check under the cursor; None on the closing row."""
        if not self.stage or self.highlighted is None or self.highlighted >= len(self.stage.shown):
            return None
        return self.stage.shown[self.highlighted]

    @property
    def place(self) -> str:
        """Which of how many rows is under the cursor, such as "3 of 9"; "" before the first layout."""
        if self.highlighted is None:
            return ""
        return f"{self.highlighted + 1} of {self.option_count}"

    def go_to(self, path: str) -> None:
        """Put the cursor on that check, or on the closing row; before the first layout, once there are rows."""
        self._wanted = path
        if self.stage and self.option_count:
            paths = [view.path for view in self.stage.shown]
            self.highlighted = paths.index(path) if path in paths else len(paths)
            self._wanted = ""

    def _row(self, view: CheckView, *, here: bool) -> Content:
        assert self._state is not None
        mark = CHECK[view.state]
        word = state_word(view) if view.state != "open" else KIND_WORDS[view.check.kind]
        words = [word, *(flag.short for flag in flags(view))]
        return self._line(mark, view.check.ask, row_figures(view, self._state.units), words, here)

    def _closing_row(self, *, here: bool) -> Content:
        assert self.stage is not None
        word = {"signed": "signed", "released": "released"}.get(
            self.stage.state, "HOLD" if self.stage.stage.hold else "sign"
        )
        who = f"{self.stage.by}" if self.stage.by else f"{self.stage.stage.signer} signs"
        mark = STAGE[self.stage.state] if self.stage.state in ("signed", "released") else HOLD
        return self._line(mark, closing_ask(self.stage), who, [word], here)

    def _line(self, mark: Mark, ask: str, figures: str, words: Sequence[str], here: bool) -> Content:
        """Wrapped in its columns, so that nothing is cut off: the ask takes what the figures leave.

        Of `words` the first is the state's, and each has a line.
        """
        figures, ask, *ends = (lettered(text, self._ascii) for text in (figures, ask, *words))
        room = self.size.width - 2 - 3 - STATE_WIDTH - 1
        right = max(0, min(len(figures), room // 2))
        left = max(min(ASK_WIDTH, room - FIGURES_WIDTH - 1), room - right - 1, 1)
        right = max(0, min(right, room - left - 1))
        columns = zip_longest(_wrap(ask, left), _wrap(figures, max(right, 1)), ends, fillvalue="")
        lines = [f"{asked:<{left}} {told:>{right}}{_state(end)}" for asked, told, end in columns]
        point = HERE.sign(self._ascii) if here else " "
        starts = [f"{point}{mark.sign(self._ascii)} ", *["   "] * (len(lines) - 1)]
        shade = "" if here or mark.shade == "foreground" else f"${mark.shade}"
        row = "\n".join(f"{start}{line}" for start, line in zip(starts, lines, strict=True))
        if shade:
            return Content.styled(row, shade)
        return Content(row)


def _state(word: str) -> str:
    """The last column of a row's line; nothing of a line that has no word there."""
    if not word:
        return ""
    return f" {word:>{STATE_WIDTH}}"


def _wrap(text: str, width: int) -> list[str]:
    return wrap(text, max(1, width)) or [""]
