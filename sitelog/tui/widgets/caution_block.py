"""One caution of a page: its words, its question and where the answer goes; and how many stand whole on a page."""

from collections.abc import Mapping, Sequence
from textwrap import wrap
from typing import Literal, NamedTuple

from textual.app import ComposeResult
from textual.containers import Horizontal, Vertical, VerticalScroll
from textual.content import Content
from textual.events import Click
from textual.message import Message
from textual.widgets import OptionList, Static
from textual.widgets.option_list import Option

from sitelog.checklist.schema.guidance import Caution
from sitelog.job.cautions.answers import in_turn
from sitelog.tui.widgets.entry import Entry
from sitelog.tui.widgets.listing import Paragraphs, hung, lettered
from sitelog.wording.caution import choice_lines, question_line
from sitelog.wording.strip import AT_A_TIME

Detail = Literal["spaced", "full", "brief", "stacked", "tight", "folded"]
Words = tuple[tuple[str, str], ...]
Rows = Mapping[Detail, int]  # rows of a screen that a caution takes, by how much of it is shown
SIDES = 2  # columns at the sides of the words
TITLE = 1  # row


class Layout(NamedTuple):
    """How much is shown of the caution in hand, and of the others on the page."""

    in_hand: Detail
    others: Detail


LAYOUTS = (
    Layout("spaced", "spaced"),
    Layout("full", "full"),
    Layout("brief", "brief"),
    Layout("spaced", "folded"),
    Layout("full", "folded"),
    Layout("brief", "folded"),
    Layout("stacked", "folded"),
    Layout("tight", "folded"),
)


def layout_of(rows: Sequence[Rows], room: int) -> Layout | None:
    """The roomiest in which each of them stands whole when it is in hand; None where one has no room."""
    return next((layout for layout in LAYOUTS if most_rows(rows, layout) <= room), None)


def in_hand_at(rows: Sequence[Rows], at: int, layout: Layout, room: int, notice: int = 0) -> Detail:
    """How much is shown of that one when it is in hand: more than the layout says where it is shorter than others.

    Rows are left for a notice, but not where that would press it into one paragraph.
    """
    details = [one.in_hand for one in LAYOUTS if one.others == layout.others and one.in_hand != "tight"]
    rooms = (room - notice, room) if layout.others == "folded" else (room - notice,)
    fits = (one for left in rooms for one in details if taken(rows, at, layout.others, one) <= left)
    return next(fits, layout.in_hand)


def taken(rows: Sequence[Rows], at: int, others: Detail, in_hand: Detail) -> int:
    """Rows of the page when that one is in hand."""
    return sum(row[in_hand if number == at else others] for number, row in enumerate(rows))


def most_rows(rows: Sequence[Rows], layout: Layout) -> int:
    """Rows of the page when the one that takes most is in hand."""
    return max(taken(rows, at, *reversed(layout)) for at in range(len(rows)))


def how_many(rows: Sequence[Rows], room: int) -> int:
    """How many of the first stand on one page: as many as stand whole, else up to three of which one is unfolded.

    One less where the last would press another into one paragraph.
    """
    fits = [count for count in range(2, len(rows) + 1) if _go_together(layout_of(rows[:count], room), count)]
    read_well = [count for count in fits if layout_of(rows[:count], room) != LAYOUTS[-1]]
    return max(read_well or fits, default=1)


def _go_together(layout: Layout | None, count: int) -> bool:
    return layout is not None and (count <= AT_A_TIME or layout.others != "folded")


class CautionBlock(Vertical):
    """`words` by how much is shown; `place` is such as "2 of 3", "" where the page has only this one.

    `typed` is an answer that was typed before and not entered.
    """

    class Wanted(Message):
        """Somebody clicked on it."""

        def __init__(self, block: "CautionBlock") -> None:
            super().__init__()
            self.block = block

    def __init__(self, caution: Caution, full: Words, brief: Words, place: str, *, typed: str, plain: bool) -> None:
        super().__init__(classes="caution")
        self.caution = caution
        self.place = place
        self.answer = ""  # once it is in the record
        self.seen = False  # to its last line
        self.typed, self._plain = typed, plain
        self._words: dict[Detail, Words] = {
            "spaced": _spaced(full),
            "full": full,
            "brief": brief,
            "stacked": _stacked(brief),
            "tight": _tight(brief),
            "folded": (),
        }

    def compose(self) -> ComposeResult:
        """Its title, its words, which scroll where they must, then the question and where the answer goes."""
        yield Static("", classes="caution-title", markup=False)
        with VerticalScroll(classes="caution-told", can_focus=False):
            yield Paragraphs(classes="caution-words")
        with Vertical(classes="caution-answer"):
            yield Static(self._content(question_line(self.caution.question)), classes="caution-ask", markup=False)
            yield from self._answer_field()

    def _answer_field(self) -> ComposeResult:
        question = self.caution.question
        if question.kind == "choice":
            yield OptionList(*(Option(self._content(line)) for line in choice_lines(question)), id="choices")
            return
        with Horizontal(classes="field-line"):
            yield Static(Content(question.kind), classes="field-label", markup=False)
            yield Entry(self.typed, offered="", id="answer", max_length=200)
            yield Static(self._content(question.unit or in_turn(question)), classes="field-words", markup=False)

    def on_mount(self) -> None:
        """No choice is under the cursor to begin with."""
        for choices in self.query(OptionList):
            choices.highlighted = None

    def _content(self, text: str) -> Content:
        return Content(lettered(text, self._plain))

    def show(self, detail: Detail, *, in_hand: bool, alone: bool, filling: bool = False, aired: bool = False) -> None:
        """So much of it. One that is `alone` on its page has its title at the head of the page.

        `filling`: it takes all the room that the others leave. `aired`: there is a row to spare over its question.
        """
        before = self.classes
        is_so = {"folded": detail == "folded", "answered": bool(self.answer), "in-hand": in_hand}
        for name, yes in {**is_so, "filling": filling, "aired": aired}.items():
            self.set_class(yes, f"-{name}", update=False)
        if self.classes != before:
            self.update_node_styles()  # once for all of them
        title = self.query_one(".caution-title", Static)
        title.display = not alone
        title.update(self._content(f"{self.place}  {self.caution.title}: {self.answer or 'not answered yet'}"))
        self.query_one(Paragraphs).show(self._words[detail])

    def rows(self, width: int) -> Rows:
        """The rows that it takes at that width, by how much of it is shown."""
        question = self.caution.question
        answers = sum(len(wrap(line, width - SIDES)) for line in choice_lines(question)) or 1
        asked = len(wrap(question_line(question), width - SIDES)) + answers
        return {
            detail: TITLE + (asked + _lines(words, width - SIDES)) * (detail != "folded")
            for detail, words in self._words.items()
        }

    def stand(self) -> None:
        """The cursor where the answer goes."""
        self.query_one("#choices, #answer").focus()

    # -- read to its end --

    def look(self) -> bool:
        """Whether its last line has been on the screen."""
        told = self.query_one(".caution-told", VerticalScroll)
        self.seen = self.seen or told.scroll_offset.y >= told.max_scroll_y
        return self.seen

    def read_on(self, lines: int) -> bool:
        """Scroll its words; False where there is nothing more that way."""
        told = self.query_one(".caution-told", VerticalScroll)
        if not told.max_scroll_y or (lines > 0 and told.scroll_offset.y >= told.max_scroll_y):
            return False
        if lines < 0 and not told.scroll_offset.y:
            return False
        told.scroll_relative(y=lines, animate=False)
        return True

    def on_click(self, event: Click) -> None:
        """A click takes it in hand."""
        event.stop()
        self.post_message(self.Wanted(self))


def _spaced(words: Words) -> Words:
    """With a blank line between, but not between figures, and one before what is asked."""
    lines = (line for lead, told in words for line in (("", ""), (lead, told)) if lead != "Figure" or any(line))
    return (*lines, ("", ""))


def _stacked(words: Words) -> Words:
    """Each from the edge of the screen, its first word in capitals: it takes fewer rows than in a column."""
    return tuple(("", f"{lead.upper()}: {told}") for lead, told in words)


def _tight(words: Words) -> Words:
    """In one paragraph: the rows of a small screen are few."""
    return (("", " ".join(told for _, told in _stacked(words))),)


def _lines(words: Words, width: int) -> int:
    at = max((len(lead) + 1 for lead, _ in words if lead), default=0)
    return sum(len(hung(lead, told, width, at=at if lead else 0)) for lead, told in words)
