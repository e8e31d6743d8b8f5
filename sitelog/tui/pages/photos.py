"""Every photo of the job: what it shows, whose it is, and whether its file is still there as it was kept."""

import asyncio
from collections.abc import Iterable, Iterator
from typing import ClassVar

from textual import on, work
from textual.binding import BindingType

from sitelog.job.photos.keeping import Shown, album
from sitelog.tui.keys import bindings
from sitelog.tui.widgets.list_page import ListPage
from sitelog.tui.widgets.listing import Cell, Listing, Row, row
from sitelog.wording.formatting import name_of, when
from sitelog.wording.prompts.attaching import STANDS


class PhotosPage(ListPage[None]):
    """The files are read beside the screen's own work: at first their sizes alone are gone by."""

    PLACE = "photos"
    BINDINGS: ClassVar[list[BindingType]] = bindings("photos")
    HEAD = (
        Cell("check, and the photo's name"),
        Cell("by", 14),
        Cell("size", 8, right=True),
        Cell("stands", 13, right=True),
    )
    EMPTY = "No photos yet. Press p on a check to add one."

    def heading(self) -> str:
        """How many there are."""
        return f" Photos: {len(self._album)}"

    def begin(self) -> None:
        """None is known until the folder has been gone through."""
        self._album: tuple[Shown, ...] = ()

    def state_changed(self) -> None:
        """Go through the folder: sizes at once, every byte beside the screen's own work."""
        job = self.site.job
        self._album = album(self.site.state, job.file.files if job else None, quick=True)
        super().state_changed()
        self.show_title()
        self.look_closely()

    @work(exclusive=True)
    async def look_closely(self) -> None:
        """Whether each is what was kept, byte for byte."""
        job = self.site.job
        if job is None or not self._album:
            return
        found = await asyncio.to_thread(album, self.site.state, job.file.files)
        if found != self._album and self.is_mounted:
            self._album = found
            super().state_changed()

    def rows(self) -> Iterator[Row]:
        """Each with its check, its size, and how its file stands."""
        for number, shown in enumerate(self._album):
            taken = shown.taken
            size = taken.photo.told_size if taken.photo else ""
            yield row(
                str(number),
                Cell(f"{self._shows(shown)}: {taken.name}"),
                Cell(taken.by, 14),
                Cell(size, 8, right=True),
                Cell(STANDS[shown.stand], 13, right=True),
                shade="" if shown.stand in ("there", "name only") else "out",
            )

    def _shows(self, shown: Shown) -> str:
        return name_of(shown.taken.path, self.site.state) or "Site diary"

    def told(self, key: str) -> Iterable[tuple[str, str]]:
        """Its name, who took it, its file, and what was left out of it."""
        shown = self._album[int(key)]
        taken, job = shown.taken, self.site.job
        yield "Name", taken.name
        yield "By", f"{taken.by}, {when(taken.at)}"
        if taken.photo is None:
            yield "", "Camera number only, no photo attached. Go to the check and press p to add it."
        elif job:
            yield "File", str(job.file.files / taken.photo.file)
            left = "kept, as you asked" if taken.photo.whole else "left out"
            yield "", f"Time, place and camera: {left}."

    @on(Listing.OptionSelected)
    def action_go(self) -> None:
        """Go to the check that it shows."""
        shown = self._album[int(self.listing.key)] if self.listing.key else None
        if shown is None:
            return
        path = shown.taken.path
        if self.site.state.check(path) or self.site.state.stage(path):
            self.go_to(path)
        else:
            self.say("This photo isn't tied to a check.")
