"""The full-size templates of the part in hand: how large each is, what is missing, and the files made of one."""

import asyncio
from collections.abc import Iterable, Iterator
from typing import ClassVar

from textual import on, work
from textual.binding import BindingType

from sitelog.refusal import Refusal
from sitelog.reports.templates.listed import missing_lines, nothing, sheets_of, size_of, told_lines
from sitelog.reports.templates.make import made_line, write_beside
from sitelog.reports.templates.part import PartTemplates, part_templates
from sitelog.reports.templates.sheets import Heading
from sitelog.text import clock
from sitelog.tui.dialogs.ask import ask_words
from sitelog.tui.keys import bindings
from sitelog.tui.widgets.list_page import ListPage
from sitelog.tui.widgets.listing import Cell, Listing, Row, row
from sitelog.tui.widgets.site_page import job_page
from sitelog.wording.formatting import part_of
from sitelog.wording.prompts.printing import QUESTIONS, answered

NOT_READY = "not ready"


class TemplatesPage(ListPage[None]):
    """One row a template, those that can't be made yet below them."""

    PLACE = "templates"
    BINDINGS: ClassVar[list[BindingType]] = bindings("templates")
    HEAD = (Cell("template"), Cell("size", 13, right=True), Cell("A4", 4, right=True), Cell("A3", 4, right=True))
    EMPTY = "No templates for this part. Ribs, formers, dormer lines, rafters, hips and scarfs have them."

    def heading(self) -> str:
        """Of which part, and how many."""
        return f" Templates of {self._found.title}: {len(self._found.ready)}" if self._found else " Templates"

    def begin(self) -> None:
        """Those of the part that the job's page is at."""
        self._found: PartTemplates | None = None

    def state_changed(self) -> None:
        """From the figures as they are now."""
        job, page = self.site.job, job_page(self.app)
        part = part_of(self.site.state, page.stage_path) if job and page else ""
        self._found = part_templates(self.site.state, job.library, part) if job and part else None
        super().state_changed()
        self.show_title()

    def rows(self) -> Iterator[Row]:
        """Each with its size and how many sheets it takes; then what is missing."""
        if self._found is None:
            return
        for number, template in enumerate(self._found.ready):
            a4, a3 = (str(count) for count in sheets_of(template))
            cells = (Cell(template.title), Cell(size_of(template), 13, right=True))
            yield row(str(number), *cells, Cell(a4, 4, right=True), Cell(a3, 4, right=True))
        for number, missing in enumerate(self._found.missing):
            cells = (Cell(missing.name), Cell(NOT_READY, 13, right=True))
            yield row(f"-{number + 1}", *cells, Cell("", 4), Cell("", 4))

    def told(self, key: str) -> Iterable[tuple[str, str]]:
        """What is on it, and what of it isn't measured; why it isn't ready."""
        if self._found is None:
            return
        if key.startswith("-"):
            yield "", [*missing_lines(self._found)][int(key[1:]) - 1]
            return
        yield from (("", line) for line in told_lines(self._found.ready[int(key)]))

    @on(Listing.OptionSelected)
    @work
    async def action_make(self) -> None:
        """Ask on what, and for the bars of an earlier print; then make the file beside the job's own."""
        found, job, key = self._found, self.site.job, self.listing.key
        if found is None or job is None or not key.isdecimal():
            self.say(nothing(found) if found else "")
            return
        answers = await ask_words(self, *QUESTIONS, prove=answered)
        if answers is None:
            return
        asked = answered(answers)
        heading = Heading(self.site.state.title, found.title, clock(self.site.now()), self.site.state.head)
        try:  # beside the screen's own work: many sheets take a while
            paths = await asyncio.to_thread(
                write_beside, job.file.path, heading, found.part, found.ready[int(key)], asked
            )
        except Refusal as refusal:
            self.say(refusal.message)
        else:
            self.say(made_line(paths, asked))
