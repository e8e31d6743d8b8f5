"""The next trade's replies: those found beside the job, and answers from paper by the numbers of the points."""

from collections.abc import Callable, Iterable, Iterator
from typing import ClassVar

from textual import on, work
from textual.binding import BindingType

from sitelog.job.job import Job
from sitelog.job.replies.beside import Offered, beside
from sitelog.job.replies.taking import Taken, take
from sitelog.job.state.record_views import Made
from sitelog.refusal import Refusal
from sitelog.tui.dialogs.ask import ask_words
from sitelog.tui.keys import bindings
from sitelog.tui.widgets.list_page import ListPage
from sitelog.tui.widgets.listing import Cell, Listing, Row, heading, row
from sitelog.wording.prompts import replying


class RepliesPage(ListPage[None]):
    """Enter enters a reply that was found, or asks for the numbers off a printed pack."""

    PLACE = "replies"
    BINDINGS: ClassVar[list[BindingType]] = bindings("replies")
    EMPTY = replying.NO_PACK

    def __init__(self) -> None:
        super().__init__()
        self._found: dict[str, Offered] = {}
        self._packs: dict[str, Made] = {}

    @property
    def job(self) -> Job:
        """The open job. LookupError where none is open."""
        if self.site.job is None:
            raise LookupError("no job is open")
        return self.site.job

    def heading(self) -> str:
        """How many were found."""
        return f" Replies: {len(self._found)} found"

    def state_changed(self) -> None:
        """The folder looked through again."""
        self._found = {f"reply {number}": offered for number, offered in enumerate(beside(self.job))}
        self._packs = {f"pack {number}": made for number, made in enumerate(replying.packs_made(self.site.state))}
        super().state_changed()
        self.show_title()

    def rows(self) -> Iterable[Row]:
        """The replies that were found, then the packs that may come back on paper."""
        if self._found:
            yield heading(f"Found beside the job ({len(self._found)})")
        for key, offered in self._found.items():
            yield row(key, Cell(replying.by_whom(offered.reply)), Cell(replying.counts(offered.reply), 26, right=True))
        if self._packs:
            yield heading("Answers from paper: which pack is it?")
        for key, made in self._packs.items():
            yield row(key, Cell(replying.pack_row(made)))

    def told(self, key: str) -> Iterator[tuple[str, str]]:
        """What a reply would enter, or why it can't be; how to answer for a pack."""
        if key in self._packs:
            yield "", replying.HOW
            return
        offered = self._found[key]
        yield "File", offered.file.name
        try:
            yield from (("", line) for line in replying.taken(self._take(offered)))
        except Refusal as refusal:
            yield "", refusal.message

    def _take(self, offered: Offered) -> Taken:
        return take(self.job, offered.reply, self.site.now().date())

    @on(Listing.OptionSelected)
    @work
    async def action_reply(self) -> None:
        """Enter that reply, or ask for the numbers off that pack."""
        key = self.listing.key
        if self.site.read_only:
            self.say(f"Read only: {self.site.read_only}")
        elif key in self._found:
            offered = self._found[key]
            self._enter(lambda: self._take(offered))
        elif key in self._packs:
            await self._from_paper(self._packs[key])

    async def _from_paper(self, made: Made) -> None:
        today = self.site.now().date()
        prompt = replying.from_paper(self.job, made, today)
        words = await ask_words(self, *prompt.questions, prove=prompt.make, form=prompt.form)
        if words and self._enter(lambda: replying.on_paper(self.job, made, words, today)):
            self.site.drafts.drop(prompt.form)

    def _enter(self, take_it: Callable[[], Taken]) -> bool:
        """Enter the answers under the name on the reply; who goes on does so under the name of before."""
        try:
            found = take_it()
        except Refusal as refusal:
            self.say(refusal.message)
            return False
        before, self.site.by = self.site.by, found.reply.by
        done = self.site.enter(found.drafts)
        self.site.by = before
        self.show_title()
        if done:
            self.say(" ".join((f"Entered: {replying.counts(found.reply)}.", *replying.since(found))))
        return done
