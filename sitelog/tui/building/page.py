"""A cut roof built block by block: its blocks in a list, the plan beside it; each is added, changed, or taken away."""

from collections.abc import Callable, Iterable, Iterator, Mapping
from typing import ClassVar, NamedTuple

from textual import on
from textual.binding import BindingType
from textual.events import Key
from textual.widget import Widget

from sitelog.calculators.ask import ask
from sitelog.geometry.building.said import BLOCKS, MAIN
from sitelog.quantities.quantity import Units
from sitelog.refusal import Refusal
from sitelog.text import text_if
from sitelog.tui.building.sketch import SketchPage
from sitelog.tui.keys import bindings
from sitelog.tui.registry import screen
from sitelog.tui.widgets.listing import Cell, Listing, Row, heading, row
from sitelog.wording.building.blocks import called, refused_words, roof_in, said_in, without_block
from sitelog.wording.building.fields import KINDS_TO_ADD, KINDS_TO_BEGIN
from sitelog.wording.building.telling import row_of

ADD = "add "  # opens the key of a row that adds a block


class Over(NamedTuple):
    """The roof that is changed: what else is told of another in its place, and how it was, to which undo goes back."""

    more: Callable[[str], Iterable[tuple[str, str]]] = lambda text: ()
    was: str | None = None


NEW = Over()


class BuildingPage(SketchPage[None]):
    """`take` is given the building after each change; `half` and `keep` hold what was typed of a block and not saved.

    Both are kept by whoever opened it, so that leaving loses nothing. `over` is the roof of a job that is changed.
    """

    PLACE = "building"
    BINDINGS: ClassVar[list[BindingType]] = bindings("building")
    HEADING = " The roof, block by block"

    def __init__(
        self,
        text: str = "",
        units: Units = "metric",
        take: Callable[[str], object] = lambda text: None,
        half: Mapping[str, str] | None = None,
        keep: Callable[[str, str], object] = lambda key, text: None,
        over: Over = NEW,
    ) -> None:
        super().__init__()
        self.text, self.units, self.more = text, units, over.more
        self._take, self._half, self._keep = take, dict(half or {}), keep
        self._before: list[str] = [] if over.was in (None, text) else [over.was or ""]

    def said(self) -> Iterable[Widget]:
        """The blocks, and what can be added."""
        yield Listing()

    def on_mount(self) -> None:
        """The blocks; over them the form of the main roof where there is none yet."""
        self.state_changed()
        self.listing.focus()
        if not self.text:
            self._open(MAIN, "")

    @property
    def listing(self) -> Listing:
        """Its rows."""
        return self.query_one("#list", Listing)

    def state_changed(self) -> None:
        """The blocks and the plan as they stand."""
        self.show_title()
        self.listing.show(self._rows())
        self.sketch(self.text)

    def _rows(self) -> Iterator[Row]:
        every = said_in(self.text)
        yield from (row(name, Cell(row_of(said, self.units))) for name, said in every.items())
        yield heading("Add")
        for number, kind in enumerate(self._kinds(), 1):
            yield row(f"{ADD}{kind}", Cell(str(number), 1), Cell((KINDS_TO_ADD | KINDS_TO_BEGIN)[kind]))

    def _kinds(self) -> list[str]:
        """The kinds that can be added, each by its own number."""
        if MAIN not in said_in(self.text):
            return list(KINDS_TO_BEGIN)
        return list(KINDS_TO_ADD)

    # -- what is done --

    def on_key(self, event: Key) -> None:
        """A digit adds the block of that number."""
        kinds = self._kinds()
        if event.key.isdecimal() and 1 <= int(event.key) <= len(kinds):
            self._open(kinds[int(event.key) - 1], "")
            event.stop()

    @on(Listing.OptionSelected)
    def action_change(self) -> None:
        """Open the form of the block under the cursor, or of one to be added."""
        key = self.listing.key
        if key.startswith(ADD):
            self._open(key.removeprefix(ADD), "")
        elif key:
            self._open("", key)

    def _open(self, kind: str, name: str) -> None:
        once = kind and kind not in (*BLOCKS, *KINDS_TO_BEGIN) and kind in said_in(self.text)
        own = kind if once else name
        block = screen("block", self.text, kind, own, self.units, self._half, self._keep_half)
        assert isinstance(block, SketchPage)
        block.more = self.more
        self.app.push_screen(block, self._taken)

    def _keep_half(self, key: str, text: str) -> None:
        self._half[key] = text
        self._keep(key, text)

    def _taken(self, built: tuple[str, str] | None) -> None:
        """The building after a form was saved, and the name of its block."""
        if built is None:
            self.say(text_if(not self.text, "Begin with the main roof: 1 with four sides, 2 with eight or six."))
            return
        text, name = built
        self._put(text)
        self.listing.stand_on(name)
        self.say(f"{called(name)} is in. Add another, or press Esc when the roof is whole.")

    def _put(self, text: str) -> None:
        if text != self.text:
            self._before.append(self.text)
        self.text = text
        self._take(text)
        self.state_changed()

    def action_remove(self) -> None:
        """Take the block under the cursor away, or say why not."""
        name = self.listing.key
        if not name or name.startswith(ADD):
            self.say("Put the cursor on the block to take away.")
            return
        try:
            text = without_block(self.text, name)
        except Refusal as refusal:
            self.say(refused_words(refusal))
            return
        self._put(text)
        self.say(f"{called(name)} taken away. Press u to undo.")

    def action_step_back(self) -> None:
        """Undo the last change."""
        if not self._before:
            self.say("Nothing to undo.")
            return
        there = said_in(self.text)
        self._put(self._before.pop())
        self._before.pop()  # what was just undone
        for name in said_in(self.text):
            if name not in there:
                self.listing.stand_on(name)
        self.say("Undone.")

    def action_drawing(self) -> None:
        """All drawings of the roof as it stands."""
        if roof_in(self.text):
            self.app.push_screen(screen("drawing-of-answer", ask("building", {"building": self.text}), self.units))
        else:
            self.say("Nothing is drawn yet. Begin with the main roof: press Enter.")
