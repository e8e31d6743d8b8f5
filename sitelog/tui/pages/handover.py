"""What goes to the next trade: all that is not as it should be, the pack, and the points they take or send back."""

import asyncio
from collections.abc import Iterable, Iterator
from datetime import UTC
from typing import ClassVar

from textual import on, work
from textual.app import ComposeResult
from textual.binding import BindingType
from textual.events import Key

from sitelog.job.actions import actions
from sitelog.job.job import Job
from sitelog.job.photos.keeping import album
from sitelog.job.replies.points import standing
from sitelog.job.state.marks import state_word
from sitelog.refusal import Refusal
from sitelog.reports.formatting import Formatter
from sitelog.reports.front.amiss import Found
from sitelog.reports.front.first_page import FirstPage, first_page
from sitelog.reports.pack import trades
from sitelog.text import text_if
from sitelog.tui.dialogs import prompted
from sitelog.tui.dialogs.ask import ask_words
from sitelog.tui.keys import bindings, footer
from sitelog.tui.widgets.list_page import ListPage
from sitelog.tui.widgets.listing import Cell, Listing, Paragraphs, Row, RuledLine, heading, row
from sitelog.wording.handover import NOBODY, amiss, handed, said, said_whole, standing_lines, stands
from sitelog.wording.prompts.prompts import countersign, send_back, taken_over

POINT = "point "


class HandoverPage(ListPage[None]):
    """A digit chooses the trade. Signing is done at the handover's own stage of the job."""

    PLACE = "handover"
    BINDINGS: ClassVar[list[BindingType]] = bindings("handover")

    def __init__(self) -> None:
        super().__init__()
        self.to = ""
        self._paths: dict[str, str] = {}
        self.shows_points = False
        self._first: FirstPage | None = None
        self._taker = ""
        self._code = ""
        self._giver = ""

    @property
    def job(self) -> Job:
        """The open job. LookupError where none is open."""
        if self.site.job is None:
            raise LookupError("no job is open")
        return self.site.job

    def heading(self) -> str:
        """The trade it is handed to."""
        if not self.to:
            return " Handing over"
        return f" Handing over to the {self.to}"

    def begin(self) -> None:
        """The first trade that points are for; the name of who hands over is kept."""
        self._giver = self.site.by
        self.to = next(iter(self._trades()), "")
        self.say(self._choice())

    def _trades(self) -> tuple[str, ...]:
        return trades(self.site.state)

    def _choice(self) -> str:
        trades = self._trades()
        if len(trades) < 2:
            return ""
        return f"Hand over to: {'  '.join(f'{number} {trade}' for number, trade in enumerate(trades, 1))}"

    # -- showing --

    def body(self) -> ComposeResult:
        """How the handover stands, above the list."""
        yield Paragraphs(id="standing")
        yield RuledLine(classes="rule", markup=False)
        yield from super().body()

    def state_changed(self) -> None:
        """The first page of the pack, worked anew for that trade."""
        if self.to not in self._trades():
            self.to = next(iter(self._trades()), "")
        self._first = first_page(
            Formatter(
                self.site.state,
                self.job.library,
                self.site.now().tzinfo or UTC,
                album(self.site.state, self.job.file.files, quick=True),
            )
        )
        lines = standing_lines(self._first, self.site.state, self.to)
        self.query_one("#standing", Paragraphs).show([("", line) for line in lines])
        super().state_changed()
        self.show_title()

    def rows(self) -> Iterable[Row]:
        """The points that are handed over, or what is still open."""
        self._paths = {}
        yield from self._points() if self.shows_points else self._standing()

    def _standing(self) -> Iterator[Row]:
        """The rows of the pack's first page, under their own headings."""
        assert self._first is not None
        for section in self._first.sections:
            rows = self._first.rows[section.id]
            yield heading(f"{section.title} ({len(rows)})")
            for number, found in enumerate(rows):
                key = f"{section.id} {number}"
                known = self.site.state.check(found.path) or self.site.state.stage(found.path)
                self._paths[key] = found.path if known else ""
                yield Row(key, ((Cell("", 1), Cell(found.head)), *self._under(section.id, found)))

    def _under(self, kind: str, found: Found) -> Iterator[tuple[Cell, ...]]:
        """Under a row's head: what is out or unsure of a check that is, else the first that the pack says of it."""
        view = self.site.state.check(found.path) if kind in ("out", "unsure") else None
        words = [*(amiss(view, found.lines) if view else found.lines[:1])]
        if words:
            yield Cell("", 4), Cell(words[0], more=tuple(words[1:]))

    def _points(self) -> Iterator[Row]:
        points = handed(self.site.state, self.to)
        yield heading(f"Handover points for the {self.to} ({len(points)})")
        answered = {point.point: point for point in self.site.state.points}
        still = standing(self.site.state)
        for number, view in enumerate(points, 1):
            key = f"{POINT}{view.path}"
            self._paths[key] = view.path
            point = answered.get(view.path)
            shade = text_if(point and not point.accepted, "out")
            yield row(
                key,
                Cell(str(number), 3),
                Cell(view.check.ask_in_full),
                Cell(state_word(view), 14),
                Cell(said(point, still), 10),
                shade=shade,
            )

    def told(self, key: str) -> Iterable[tuple[str, str]]:
        """The row in full; of a point, how it was measured and who took it over."""
        assert self._first is not None
        kind, _, rest = key.partition(" ")
        if kind != POINT.strip():
            found = self._first.rows[kind][int(rest)]
            return [("", line) for line in (found.head, *found.lines)]
        view = self.site.state.check(rest)
        told = [("Now", stands(view, self.site.state))] if view else []
        point = next((point for point in self.site.state.points if point.point == rest), None)
        if point:
            told.append(said_whole(point, self.site.state))
        return told

    # -- acts --

    def action_turn(self) -> None:
        """Show the points instead of what is open, or the other way round."""
        self.shows_points = not self.shows_points
        self.show_foot()
        self.state_changed()
        self.listing.action_first()

    def foot(self) -> str:
        """Only points can be taken over or sent back."""
        without = () if self.shows_points else ("point", "send_back")
        return footer(self.PLACE, without=without)

    def on_key(self, event: Key) -> None:
        """A number chooses the trade."""
        trades = self._trades()
        if event.character and event.character.isdecimal() and 0 < int(event.character) <= len(trades):
            self.to = trades[int(event.character) - 1]
            self.state_changed()
            self.say(self._choice())
            event.stop()

    @work
    async def action_pack(self) -> None:
        """Make the pack in the folder of the job, and enter that it was made."""
        from sitelog.reports import pack

        if not self.to or not await prompted.named(self):
            self.say(NOBODY if not self.to else "")
            return
        file, to = self.job.file.path, self.to
        state, library, now = self.site.state, self.job.library, self.site.now()
        try:  # beside the screen's own work: there may be many photos to copy
            made = await asyncio.to_thread(pack.make, state, library, to, now, self.job.file.files)
            paths = await asyncio.to_thread(pack.write, made, file.parent, file.stem)
        except Refusal as refusal:
            self.say(refusal.message)
            return
        if self.site.attempt(lambda: actions.handover(self.site.state, to, made.head, made.points, made.ends)):
            self.say(f"Record code {made.head}: the {to} keeps a note of it. {pack.in_short(paths)} in {file.parent}")

    def _point(self) -> str:
        key = self.listing.key
        if not key.startswith(POINT):
            return ""
        return key.removeprefix(POINT)

    @on(Listing.OptionSelected)
    @work
    async def action_point(self) -> None:
        """Take the point over, under the name of who takes it; any other row goes to its check."""
        point = self._point()
        if not point:
            self.action_go()
        elif await self._taken_by():
            self.site.attempt(lambda: actions.accept(self.site.state, point, True, head=self._code))

    @work
    async def action_send_back(self) -> None:
        """Send the point back with what is wrong: that raises a snag."""
        point = self._point()
        if not point:
            self.say("Press space for the list of points; only those can be sent back.")
            return
        if not await self._taken_by():
            return
        await prompted.do(self, lambda: send_back(self.site.state, point, self._code))

    async def _taken_by(self) -> bool:
        """Who takes the points over is another person than who hands them over, so the name is asked for once."""
        if not self._taker:
            words = await ask_words(
                self,
                taken_over(self.to),
                countersign(),
                prove=lambda answers: actions.head_code(self.site.state, answers[1]),
            )
            self._taker, self._code = words or ("", "")
        if self._taker:
            self.site.by = self._taker
            self.show_title()
        return bool(self._taker)

    def action_go(self) -> None:
        """Go to the check of that row."""
        path = self._paths.get(self.listing.key, "")
        if path:
            self._leave()
            self.go_to(path)
        else:
            self.say("This isn't tied to a check.")

    def action_back(self) -> None:
        """Leave; entries are under the name of before."""
        self._leave()
        self.dismiss()

    def _leave(self) -> None:
        self.site.by = self._giver or self.site.by
