"""The cautions that are due, on one page: what can hurt, what to do, who to ask, and the question that lets each go."""

from collections.abc import Sequence
from typing import ClassVar

from textual import on
from textual.app import ComposeResult
from textual.binding import BindingType
from textual.containers import Vertical
from textual.content import Content
from textual.events import DescendantFocus, Key
from textual.widget import Widget
from textual.widgets import Input, OptionList, Static

from sitelog.checklist.schema.guidance import Caution
from sitelog.checklist.schema.model import Library
from sitelog.job.actions import actions
from sitelog.job.cautions.due import latest, matter, stopping
from sitelog.text import text_after
from sitelog.tui.keys import STEP, bindings, footer
from sitelog.tui.widgets.caution_block import (
    LAYOUTS,
    TITLE,
    CautionBlock,
    how_many,
    in_hand_at,
    layout_of,
    most_rows,
    taken,
)
from sitelog.tui.widgets.listing import hung, lettered
from sitelog.tui.widgets.page import Page
from sitelog.wording.caution import FIRST, UNANSWERED, caution_words, stop_line, wanted, which_words
from sitelog.wording.prompts.asking import asked_at

READ_ON = "Read to the end, then press Enter again."
TYPE_NOW = "You typed this before. Type the reading as it is now."
AS_BEFORE = "You typed this before. Press Enter again to save it."
TYPED = "answer"  # what the answer is kept as while it is typed
ANSWER_AGAIN = "Press o when it has changed."
NOTICE = 3  # rows more that the notice may take


class CautionPage(Page[bool]):
    """Gives True once all that it shows are read and let the work go on; False when it was left, or an answer stops it.

    Enter, Space or Esc alone never clears one: no answer is filled in or under the cursor to begin with, but a draft.
    Each answer is entered by itself, and the cursor goes on to the next that has none.
    """

    PLACE = "caution"
    keeps_typed = True
    BINDINGS: ClassVar[list[BindingType]] = bindings("caution")

    def __init__(self, cautions: Sequence[str], stage: str = "", *, first: int = 1) -> None:
        """All that are to be read, of which it shows as many as have room; `first` is the number of the first."""
        super().__init__()
        self.stage_path = stage
        self._all = tuple(cautions)
        self._first, self._of = first, first + len(self._all) - 1
        self._in_hand = 0
        self._is_full = False
        self.blocks: list[CautionBlock] = []

    @property
    def library(self) -> Library:
        """The lists of the open job. LookupError where none is open."""
        if self.site.job is None:
            raise LookupError("no job is open")
        return self.site.job.library

    @property
    def block(self) -> CautionBlock:
        """The one in hand."""
        return self.blocks[self._in_hand]

    @property
    def caution_id(self) -> str:
        """The caution in hand."""
        return self.block.caution.id

    @property
    def shown(self) -> tuple[str, ...]:
        """The cautions on this page."""
        return tuple(block.caution.id for block in self.blocks)

    def heading(self) -> str:
        """The title of the only one, or which of how many they are."""
        which = which_words(self._first, self._first + len(self.blocks) - 1, self._of)
        if len(self.blocks) == 1:
            return f" ! {self.block.caution.title}{text_after(' · ', which)}"
        return f" ! Cautions {which}"

    def body(self) -> ComposeResult:
        """The cautions under each other, then what comes before all of them."""
        self.blocks = self._made()
        with Vertical(id="cautions"):
            yield from self.blocks
        yield Static(Content(lettered(FIRST, self.site.ascii_only)), id="caution-first", markup=False)

    def _made(self) -> list[CautionBlock]:
        made = [
            self._block(self.library.cautions[name], which_words(number, number, self._of))
            for number, name in enumerate(self._all, self._first)
        ]
        width, room = self._room()
        return made[: how_many([block.rows(width) for block in made], room)]

    def _block(self, caution: Caution, place: str) -> CautionBlock:
        full, brief = (
            tuple(caution_words(caution, self.library, self.site.state, brief=short))[:-1] for short in (False, True)
        )
        typed = self.site.drafts.typed(self._form(caution)).get(TYPED, "")
        return CautionBlock(caution, full, brief, place, typed=typed, plain=self.site.ascii_only)

    def _at(self, caution: Caution) -> str:
        """The stage that its answer is for; "" where one answer counts for all."""
        stage = self.site.state.stage(self.stage_path)
        if stage is None:
            return ""
        return asked_at(stage, caution)

    @staticmethod
    def _form(caution: Caution) -> str:
        """What its answer is kept under while it is typed."""
        return f"caution {caution.id}"

    @on(Input.Changed)
    def _typed(self, event: Input.Changed) -> None:
        at = self._holding(event.input)
        if at is not None:
            self.site.drafts.keep(self._form(self.blocks[at].caution), {TYPED: event.value})

    def _room(self) -> tuple[int, int]:
        """The width, and the rows that the cautions have between the title and what is beneath them."""
        size = self.app.size
        beneath = len(hung("", FIRST, size.width - 2)) + len(hung("", footer(self.PLACE), size.width - 2))
        return size.width, size.height - beneath - 2  # the title and the notice

    def on_mount(self) -> None:
        """The cursor in the first."""
        self.show_title()
        self._stand(0)

    # -- showing --

    def on_resize(self) -> None:
        """As much of each as there is room for."""
        for block in self.blocks:
            block.seen = False
        self._lay()
        self.call_after_refresh(self._more)

    def _lay(self) -> None:
        width, room = self._room()
        rows = [block.rows(width) for block in self.blocks]
        room += TITLE * (len(rows) == 1)  # it stands at the head of the page
        layout = layout_of(rows, room) or LAYOUTS[-1]
        # A long notice takes rows from them: the one in hand gives them up, and keeps its question.
        self._is_full = layout.others == "folded" and most_rows(rows, layout) > room - NOTICE
        detail = in_hand_at(rows, self._in_hand, layout, room, NOTICE)
        has_air = detail != "spaced" and taken(rows, self._in_hand, layout.others, detail) < room - NOTICE
        for block in self.blocks:
            in_hand = block is self.block
            block.show(
                detail if in_hand else layout.others,
                in_hand=in_hand,
                alone=len(self.blocks) == 1,
                filling=in_hand and self._is_full,
                aired=in_hand and has_air,
            )

    def _more(self) -> None:
        """Where not all of it fits, say how the rest is read: nothing of a caution may go unseen."""
        if not self.block.look():
            self.say("More below: press down.")

    def _stand(self, at: int) -> None:
        self._in_hand = at
        self._lay()
        self.block.stand()
        self.call_after_refresh(self._more)

    @on(CautionBlock.Wanted)
    def _wanted(self, event: CautionBlock.Wanted) -> None:
        if not event.block.answer:
            self._stand(self.blocks.index(event.block))

    @on(DescendantFocus)
    def _focused(self, event: DescendantFocus) -> None:
        at = self._holding(event.widget)
        if at not in (None, self._in_hand):
            self._stand(at)

    def _holding(self, widget: Widget | None) -> int | None:
        return next((number for number, block in enumerate(self.blocks) if widget and block in widget.ancestors), None)

    # -- answering --

    def on_key(self, event: Key) -> None:
        """A digit puts the cursor on a choice; Enter then takes it. Up and down read on while words are typed."""
        field = self.focused
        if event.key in STEP and isinstance(field, Input):
            if not self.block.read_on(STEP[event.key]):
                self._step(STEP[event.key])
            self.block.look()
            event.stop()
        elif event.key in ("tab", "shift+tab"):
            self._step(1 if event.key == "tab" else -1)
            event.stop()
        elif isinstance(field, OptionList) and event.character and event.character.isdecimal():
            at = int(event.character) - 1
            if 0 <= at < field.option_count:
                field.highlighted = at
                self.say(f"{self.block.caution.question.choices[at]}: press Enter to choose it")
            event.stop()

    def _step(self, by: int) -> None:
        """To the one before or after that has no answer yet; the one in hand stays unanswered."""
        places = range(self._in_hand + 1, len(self.blocks)) if by > 0 else range(self._in_hand - 1, -1, -1)
        found = next((at for at in places if not self.blocks[at].answer), None)
        if found is not None:
            self._stand(found)

    @on(Input.Submitted)
    def action_accept(self) -> None:
        """Take what was typed; nothing typed clears nothing."""
        self._take("".join(field.value for field in self.block.query(Input)))

    @on(OptionList.OptionSelected)
    def _chosen(self, event: OptionList.OptionSelected) -> None:
        self._take(self.block.caution.question.choices[event.option_index])

    def _take(self, answer: str) -> None:
        caution = self.block.caution
        if not answer.strip():
            self.say(f"{UNANSWERED}: type {wanted(caution.question)}.")
        elif self.block.typed and answer == self.block.typed:
            self._typed_before()
        elif not self.block.look():
            self.block.read_on(self.block.size.height)
            self.say(READ_ON)
        elif self.site.attempt(
            lambda: actions.read_caution(self.site.state, self.library, caution.id, answer, at=self._at(caution))
        ):
            self._go_on(answer.strip())

    def _typed_before(self) -> None:
        """A draft isn't taken by Enter as it stands: a reading is typed anew, words are looked at once more."""
        if self.block.caution.question.kind == "number":
            self.say(TYPE_NOW)
        else:
            self.block.typed = ""
            self.say(AS_BEFORE)

    def _go_on(self, answer: str) -> None:
        """To the next without an answer: one answer may have settled several."""
        caution = self.block.caution
        self.site.drafts.drop(self._form(caution))
        if self.site.state.readings[-1].stops:
            self.dismiss(False)
            self.site.tell(stop_line(caution, answer, ANSWER_AGAIN))
            return
        for block in self.blocks:
            if block is self.block or self._is_settled(block.caution):
                block.answer = block.answer or answer
        left = [at for at, block in enumerate(self.blocks) if not block.answer]
        if left:
            # Its own row shows the answer, too: where there is no row to spare that is enough.
            self.say("Saved." if self._is_full else f"Saved. {caution.title}: {answer}")
            self._stand(left[0])
        else:
            self.dismiss(True)

    def _is_settled(self, other: Caution) -> bool:
        """Whether the answer just given to the one in hand is that of the other, too, and lets its work go on."""
        asked = matter(other, self.stage_path)
        same = other.subject == self.block.caution.subject
        return same and not stopping(asked, latest(self.site.state.readings))

    def action_back(self) -> None:
        """Leave those that have no answer unread."""
        self.dismiss(False)
