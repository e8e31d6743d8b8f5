"""The frame that every screen has: a title line, the screen's own body, one line of notice and the keys."""

import re
from collections.abc import Iterable
from textwrap import wrap
from typing import ClassVar, Generic, TypeVar

from textual import on
from textual.app import ComposeResult
from textual.binding import BindingType
from textual.content import Content
from textual.events import Click, ScreenResume
from textual.geometry import Size
from textual.screen import Screen
from textual.walk import walk_breadth_search_id
from textual.widget import Widget
from textual.widgets import Static

from sitelog.text import clean
from sitelog.tui.host import Host, host_of
from sitelog.tui.keys import footer, key_at
from sitelog.tui.registry import screen
from sitelog.tui.widgets.entry import LONG_PASTE, Entry, pasted_below
from sitelog.tui.widgets.listing import DetailPane, lettered
from sitelog.wording.letters import PLAIN

T = TypeVar("T")
TALL = 36  # rows of a screen from which a title may take more than one
MOST = 20_000  # characters of one place on a page
_DEGREES = re.compile(r" {3}( *\S+)°")  # so that a column of figures stays a column


class TitleLine(Widget):
    """What this is on the left, the day and the name on the right."""

    _left, _right, _short, _ascii = "", "", "", False

    def say(self, left: str, right: str, *, ascii_only: bool) -> None:
        """Show these two; `ascii_only` for a terminal of plain letters."""
        said = (lettered(left, ascii_only), lettered(right, ascii_only), ascii_only)
        if said != (self._left, self._right, self._ascii):
            self._left, self._right, self._ascii = said
            self._short = lettered(right.rpartition(" · ")[2], ascii_only)
            self.refresh(layout=True)

    def get_content_height(self, container: Size, viewport: Size, width: int) -> int:
        """The lines that the two take at that width."""
        return len(self._lines(width))

    def render(self) -> Content:
        """The two; on a screen with no row to spare the day goes first, then the left one's end."""
        return Content("\n".join(self._lines(self.size.width)))

    def _lines(self, width: int) -> list[str]:
        room = max(0, width - len(self._right) - 2)
        if self.app.size.height >= TALL and len(self._left) > room:
            return self._on_two(width)
        right = self._right if len(self._left) <= room else self._short
        room = max(0, width - len(right) - 2)
        left = self._left if len(self._left) <= room else self._left[: max(0, room - 1)] + self._more()
        return [f"{left:<{room}}  {right}"]

    def _more(self) -> str:
        from sitelog.job.state.marks import MORE  # see Page.say

        return MORE.sign(self._ascii)

    def _on_two(self, width: int) -> list[str]:
        """No word of the left one cut, and the right one at the end of its last line or beneath it."""
        lines = wrap(self._left, max(1, width)) or [""]
        last = lines.pop() if len(lines) > 1 and len(lines[-1]) + 2 + len(self._right) <= width else ""
        return [*lines, f"{last:<{max(0, width - len(self._right))}}{self._right}"]


class FootLine(Widget):
    """The keys, a key and its word never parted: the library would break a line between them."""

    def __init__(self, foot: str, *, id: str | None = None, classes: str | None = None) -> None:
        super().__init__(id=id, classes=classes)
        self._foot = foot

    def on_click(self, event: Click) -> None:
        """A key that is touched is pressed."""
        lines, at = self._lines(self.size.width), event.get_content_offset(self)
        if at is not None and at.y < len(lines) and (key := key_at(lines[at.y], at.x)):
            self.app.simulate_key(key)
            event.stop()

    def say(self, foot: str) -> None:
        """Show these keys."""
        if foot != self._foot:
            self._foot = foot
            self.refresh(layout=True)

    def _lines(self, width: int) -> list[str]:
        return wrap(self._foot, max(1, width), break_long_words=False, break_on_hyphens=False)

    def get_content_height(self, container: Size, viewport: Size, width: int) -> int:
        """The lines that the keys take at that width."""
        return len(self._lines(width))

    def render(self) -> Content:
        """The keys, with the blanks that held them together as plain ones."""
        return Content("\n".join(self._lines(self.size.width)).replace("\N{NO-BREAK SPACE}", " "))


class Page(Screen[T], Generic[T]):
    """A screen of the job. `PLACE` names its keys in the table of keys.py."""

    PLACE = "list"
    HEADING = ""
    keeps_typed = False  # whether what is typed here is there again after a restart
    stays_told = ""  # in the notice, until the cursor moves
    BINDINGS: ClassVar[list[BindingType]] = []

    def compose(self) -> ComposeResult:
        """The frame, with the page's own body in it."""
        self._name_by_size()
        yield TitleLine(id="title", markup=False)
        yield from self.body()
        yield Static("", id="notice", markup=False)
        yield FootLine(self.foot(), id="keys")

    def _name_by_size(self) -> None:
        """Take the classes of its size before anything stands on it: given them later, all of it is styled again."""
        for cells, steps in (
            (self.app.size.width, self.HORIZONTAL_BREAKPOINTS),
            (self.app.size.height, self.VERTICAL_BREAKPOINTS),
        ):
            names = [name for least, name in steps or () if cells >= least]
            self.add_class(*names[-1:], update=False)

    def body(self) -> ComposeResult:
        """What stands between the title and the notice."""
        yield from ()

    @property
    def site(self) -> Host:
        """The job in hand, and who works on it."""
        return host_of(self)

    def heading(self) -> str:
        """What stands at the left of the title."""
        return self.HEADING

    def place_of_keys(self) -> str:
        """The place of the table whose keys do something where the cursor is now."""
        return self.PLACE

    def foot(self) -> str:
        """The keys that do something where the cursor is now."""
        return footer(self.place_of_keys())

    def on_mount(self) -> None:
        """Show the title."""
        self.show_title()

    def on_screen_resume(self) -> None:
        """Show the title: another page may have changed the name or the day."""
        self.show_title()

    @on(ScreenResume)
    def _keep_styles(self, event: ScreenResume) -> None:
        """Only the page's own are looked up again, for its size: what stands on it took them as it was put there."""
        event.refresh_styles = False
        self.app.stylesheet.update_nodes([self])

    def show_title(self) -> None:
        """The heading, and the day with the name; or in their place what is wrong with saving."""
        right = f"{self.site.now():%a %d %b}"
        if self.site.by:
            right += f" · {self.site.by}"
        if self.site.read_only:
            right = "READ ONLY"
        if self.site.unsaved:
            right = "NOT SAVED"
        self.query_one(TitleLine).say(self.heading(), right, ascii_only=self.site.ascii_only)

    def show_foot(self) -> None:
        """The keys that do something now."""
        self.query_one(FootLine).say(self.foot())

    def put(self, selector: str, lines: Iterable[str]) -> None:
        """Show these lines there; what stands there already is not laid out again at every key."""
        text = clean("\n".join(lines), lines=True, most=MOST)
        if self.site.ascii_only:
            text = _DEGREES.sub(r"\1 deg", text).translate(PLAIN)
        content = Content(text)
        # A field tells its first change while the page is still being put together.
        place = walk_breadth_search_id(self, selector.removeprefix("#"))
        if isinstance(place, Static) and place.content != content:
            place.update(content)

    def say(self, words: str) -> None:
        """One line above the keys: what was just done, or what was refused and why."""
        from sitelog.wording.formatting import in_words  # and all that a state is made of, which the first page isn't

        self.put("#notice", [in_words(words, self.site.state) if self.site.job else words])

    @on(Entry.Pasted)
    def _pasted(self, event: Entry.Pasted) -> None:
        self.stays_told = pasted_below(event, list(self.query(Entry)))
        self.say(self.stays_told)

    @on(Entry.TooLong)
    def _too_long(self) -> None:
        self.say(LONG_PASTE)

    def on_click(self, event: Click) -> None:
        """A finger on the words of a field is one on the field."""
        touched, _ = self.get_widget_at(event.screen_x, event.screen_y)
        line = next((one for one in touched.ancestors_with_self if one.has_class("field-line")), None)
        for entry in line.query(Entry) if line else ():
            entry.focus()

    def action_whole(self) -> None:
        """The panel beneath the rows, by itself and to its end."""
        self.app.push_screen(screen("whole", self.heading(), self.query_one(DetailPane).told))

    def action_back(self) -> None:
        """Leave the page."""
        self.dismiss()

    def state_changed(self) -> None:
        """Called on every open page after an entry; a page that shows the job draws itself again."""
