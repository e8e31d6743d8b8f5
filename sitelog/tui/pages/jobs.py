"""The jobs of a folder: what each is, what is next, what is open, and who was there last."""

from collections.abc import Iterable, Iterator
from typing import ClassVar

from textual import on, work
from textual.binding import BindingType
from textual.worker import get_current_worker

from sitelog.job.job import seen
from sitelog.job.log.entry import Entry
from sitelog.refusal import Refusal
from sitelog.text import counted, text_after, text_if
from sitelog.tui.keys import bindings
from sitelog.tui.registry import screen
from sitelog.tui.widgets.list_page import ListPage
from sitelog.tui.widgets.listing import Cell, Listing, Row
from sitelog.wording.jobs import Found, peek_all, worked


class JobsPage(ListPage[None]):
    """Each job of the folder with what is next in it; a damaged file says so in its row."""

    PLACE = "jobs"
    BINDINGS: ClassVar[list[BindingType]] = bindings("jobs")
    EMPTY = "No jobs here. Press n for a new one."

    def __init__(self) -> None:
        super().__init__()
        self.found: dict[str, Found] = {}
        self._left = False

    def heading(self) -> str:
        """The folder."""
        return f" Jobs in {self.site.folder.resolve().name or self.site.folder}"

    def begin(self) -> None:
        """Read the folder."""
        self._read()

    def on_screen_suspend(self) -> None:
        """Something else is in front: on return the folder is read again."""
        self._left = True

    def on_screen_resume(self) -> None:
        """Back from a job: what was done there shows."""
        if self._left:
            self._read()
            self.state_changed()

    def _read(self) -> None:
        """Headings at once; what is next in each is worked behind, as it takes the whole job."""
        read = peek_all(self.site.folder)
        self.found = {found.file.name: found for found, _ in read}
        self._work_out([(found, entries) for found, entries in read if entries])

    @work(thread=True, exclusive=True)
    def _work_out(self, read: list[tuple[Found, list[Entry]]]) -> None:
        worker = get_current_worker()
        for found in self._worked(read):
            if worker.is_cancelled:
                return
            self.app.call_from_thread(self._put, found)

    def _worked(self, read: list[tuple[Found, list[Entry]]]) -> Iterator[Found]:
        try:
            for found, entries in read:
                yield worked(found, seen(self.site.lists(found.file)(), entries))
        except Refusal as refusal:
            self.app.call_from_thread(self.say, refusal.message)

    def _put(self, found: Found) -> None:
        if self.is_mounted and found.file.name in self.found:
            self.found[found.file.name] = found
            self.state_changed()

    # -- showing --

    def rows(self) -> Iterable[Row]:
        """The jobs, those that can't be read last."""
        return [_row(found) for found in sorted(self.found.values(), key=lambda job: bool(job.wrong))]

    def told(self, key: str) -> Iterable[tuple[str, str]]:
        """Its file, what was done last, and what is next; or what is wrong with it."""
        found = self.found[key]
        if found.wrong:
            return [("File", found.file.name), ("Wrong", found.wrong)]
        rows = [("File", found.file.name), ("Last", found.last), ("Next", found.next)]
        return [*rows, ("Copy", found.copies)] if found.copies else rows

    # -- acts --

    @on(Listing.OptionSelected)
    def action_open(self) -> None:
        """Open the job under the cursor; a refusal is told in a line."""
        found = self.found.get(self.listing.key)
        if found is None:
            self.say(self.EMPTY)
            return
        try:
            self.site.open_job(found.file)
        except Refusal as refusal:
            self.say(refusal.message)

    def action_new(self) -> None:
        """Set up a new job."""
        self.app.push_screen(screen("new-job"))


def _row(found: Found) -> Row:
    if found.wrong:
        first = (Cell(found.file.name), Cell("DAMAGED", 24, right=True))
        return Row(found.file.name, (first, (Cell("", 2), Cell(found.wrong))), shade="out")
    snags = text_if(found.open, f"{counted(found.open, 'snag')} open")
    return Row(
        found.file.name,
        (
            (Cell(found.named), Cell(counted(found.entries, "entry", "entries"), 24, right=True)),
            (Cell("", 2), Cell(text_after("next: ", found.next)), Cell(snags, 16, right=True)),
            *([(Cell("", 2), Cell(found.copies))] if found.copies else []),
        ),
    )
