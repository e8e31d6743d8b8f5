"""The program on the screen: which page comes first, which keys count, and how it is left."""

import os
from collections.abc import Callable, Sequence
from datetime import datetime
from pathlib import Path
from typing import Any

from textual.app import App
from textual.events import Event, Key, Resize
from textual.filter import LineFilter
from textual.geometry import Size
from textual.scrollbar import ScrollBar
from textual.widgets import Input

from sitelog.job.job import Job
from sitelog.job.session import Session
from sitelog.refusal import Refusal
from sitelog.tui import window
from sitelog.tui.ahead import LONGEST, TypedAhead
from sitelog.tui.everywhere import Everywhere
from sitelog.tui.host import Host
from sitelog.tui.registry import screen, screen_class
from sitelog.tui.sanitizer import OutputSanitizer
from sitelog.tui.terminal import Painted, thrifty
from sitelog.tui.themes import DAY, PLAIN, VAN, WholeBar
from sitelog.tui.widgets.entry import Entry
from sitelog.tui.widgets.page import Page

STYLES = Path(__file__).with_name("pages.tcss")  # of all pages but the first
IDLE_SECONDS = 60.0
LAST_DOOR = OutputSanitizer()
LEAST = Size(20, 6)  # of a window: below that the screens are laid out as if it were so large
LOOK_SECONDS = 2.0  # how often it is asked whether the job's file is in its place
HELD_SECONDS = 0.1  # a key that comes again sooner is held down: no finger is so quick
MOVES = ("up", "down", "left", "right", "pageup", "pagedown", "home", "end", "tab", "shift+tab", "backspace", "delete")


def local_now() -> datetime:
    """The time of this device, with its offset."""
    return datetime.now().astimezone()


def _held_open(size: Size) -> Size:
    return Size(max(size.width, LEAST.width), max(size.height, LEAST.height))


class SitelogApp(Everywhere):
    """The screens over one folder of jobs. `clock` and `device` are handed in by tests."""

    TITLE = "sitelog"
    CSS_PATH = "sitelog.tcss"
    ENABLE_COMMAND_PALETTE = False  # Page opens its own, filled from the table of keys

    def __init__(
        self,
        *,
        folder: Path,
        file: Path | None = None,
        by: str = "",
        ascii_only: bool = False,
        clock: Callable[[], datetime] = local_now,
        device: str = "",
    ) -> None:
        plain = bool(os.environ.get("NO_COLOR"))
        self._painted = Painted()
        # Told before the theme is known: else black on black, as Textual makes greys of colours that it isn't given.
        App.__init__(self, driver_class=thrifty(self.get_driver_class(), self._painted), ansi_color=plain or None)
        Host.__init__(
            self,
            folder=folder,
            by=by,
            ascii_only=ascii_only or os.environ.get("TERM") in ("dumb", "linux"),
            clock=clock,
            device=device,
        )
        # Before the stylesheet is read: it names their colours.
        for theme in (DAY, VAN, PLAIN):
            self.register_theme(theme)
        self.theme = PLAIN.name if plain else DAY.name
        self.stylesheet.set_variables(self.get_css_variables())
        self._coloured = self.theme  # what the stylesheet is read in
        self._file, self.plain = file, plain
        self.begins_new = False  # with the form for a new job over the jobs of the folder
        self.touched = clock()
        self._pressed = ("", 0.0)
        self._ahead = TypedAhead()
        self._gone = ""  # what was last told of a job that isn't in its place

    def on_mount(self) -> None:
        """Animations off, the scrollbar in whole cells, an eye on the window, then the first screen."""
        self.animation_level = "none"
        ScrollBar.renderer = WholeBar
        if not self.is_headless:
            self.set_interval(LOOK_SECONDS, self.look)
        if not self.is_headless and window.is_there():
            self.set_interval(window.EVERY_SECONDS, window.end_if_closed)
            window.when_told_to_end(self._end)
        self.run_worker(self._start(), exclusive=True)

    async def _start(self) -> None:
        """The first screen: the job that was named, the new job, or the jobs of the folder.

        A job that can't be opened ends the program with the refusal: there is nothing behind it to show.
        """
        if self._file:
            try:
                self.open_job(self._file)
            except Refusal as refusal:
                self.exit(refusal.code, message=f"sitelog: {refusal.message}")
            self.call_after_refresh(self._get_ready)
            return
        self._read_styles()
        self.push_screen(screen("jobs"))
        if self.begins_new:
            self.push_screen(screen("new-job"))

    def _get_ready(self) -> None:
        """What the pages behind the first need, and it is painted without: their styles, the job's state and page."""
        self._read_styles()
        if self.job:
            _ = self.job.state
            screen_class("job")

    def _read_styles(self) -> None:
        if not self.stylesheet.has_source(str(STYLES)):
            self.stylesheet.add_source(STYLES.read_text(encoding="utf-8"), (str(STYLES), ""))
            for page in self.screen_stack:
                self.stylesheet.update(page)

    # -- what the job in hand wants of the screens --

    def open_job(self, file: Path) -> None:
        """Open the job and show it. Raises Refusal; one that another holds is opened to read only."""
        self.take(Session.open(file, self.lists(file), self.author(), self.memory))
        # The recap comes first: it is on the screen while the page behind it is still being imported.
        self.push_screen(screen("recap", known=bool(self.by)), self._go_on)

    def _go_on(self, named: bool | None) -> None:
        """Show the job under the name that was chosen, or the jobs of the folder where that was left."""
        self._read_styles()  # a key may have been pressed before anything was painted
        if named:
            self._show_job()
            return
        self.leave()
        if not any(isinstance(page, Page) and page.PLACE == "jobs" for page in self.screen_stack):
            self.push_screen(screen("jobs"))

    def _show_job(self) -> None:
        from sitelog.job.replies.beside import beside

        self.push_screen(screen("job"))
        if self.job and not self.read_only and self.job.file.missing:
            from sitelog.tui.rescue import ask_without

            self.run_worker(ask_without(self))
        if self.job and not self.read_only and beside(self.job):
            self.push_screen(screen("replies"))
        if self.job and not self.read_only:
            self.run_worker(self._ask_what_was_found(self.job))

    async def _ask_what_was_found(self, job: Job) -> None:
        """Copies beside it are joined or left; what somebody else typed and did not save is kept or thrown away."""
        if self.session and self.session.copies:
            from sitelog.tui.rescue import ask_to_join

            await ask_to_join(self)
        from sitelog.wording.prompts.left import left_by, left_choices, left_lines, left_title

        for by, found in left_by(self.drafts).items():
            if await self.push_screen_wait(
                screen("left", left_title(by), list(left_lines(found, job)), left_choices(by))
            ):
                self.drafts.throw_away(by)

    def missed(self) -> None:
        """Something could not be entered: where the job's file is gone, ask where to go on."""
        self._gone = ""
        self.look()

    def look(self) -> None:
        """Where the job's file is gone, ask where to go on; once each time that it goes."""
        gone = self.job.file.gone() if self.job and not self.read_only else ""
        if gone and not self._gone:
            from sitelog.tui.rescue import ask_place

            self.run_worker(ask_place(self))
        self._gone = gone

    def tell(self, words: str) -> None:
        """Show one line on the page on top, behind a question that may stand over it."""
        if page := self.page:
            page.say(words)
            page.show_title()

    @property
    def page(self) -> Page[Any] | None:
        """The page on top, under a question that may stand over it."""
        return next((page for page in reversed(self.screen_stack) if isinstance(page, Page)), None)

    def clear_notices(self) -> None:
        """Take away what each open page says of what was not saved: it has been since."""
        for page in self.screen_stack:
            if isinstance(page, Page) and page.is_mounted:
                page.say("")

    def refresh_pages(self) -> None:
        """Let each open page read the new state."""
        for page in self.screen_stack:
            if isinstance(page, Page) and page.is_mounted:
                page.show_title()
                page.state_changed()

    async def on_event(self, event: Event) -> None:
        """A key held down counts once, and after a minute's rest the first only wakes: neither must tick anything."""
        if isinstance(event, Key) and not event.is_forwarded:
            if not self.screen_stack or self._waits(event):  # without a page the program is ending
                return
            rested = (self.now() - self.touched).total_seconds() > IDLE_SECONDS
            self.touched = self.now()
            if self._held(event) or (rested and await self._woken(event)):
                return
        if isinstance(event, Resize):
            held = _held_open(event.size)
            self._painted.forget(moves=event.size == held)
            event = event if event.size == held else Resize(held, held)
        await super().on_event(event)

    def _waits(self, event: Key) -> bool:
        """True for what is typed on while a field's Enter is being answered."""
        if self._ahead.holds(event, self.focused):
            self.set_timer(LONGEST, self.on_entry_answered)
            return True
        if event.key == "enter" and isinstance(self.focused, Entry):
            self._ahead.enter(self.focused)
        return False

    async def on_entry_answered(self) -> None:
        """The page has done what Enter in a field asks: what was typed since goes where the cursor stands now."""
        for key in self._ahead.released():
            await self.on_event(key)

    def refresh_css(self, animate: bool = True) -> None:
        """Read the stylesheet anew in the colours of another theme: in those of the first it is read at the start."""
        if self._coloured != self.theme:
            self._coloured = self.theme
            super().refresh_css(animate=animate)

    def get_line_filters(self) -> Sequence[LineFilter]:
        """Those of the library, and last of all the one that lets no control out."""
        return [*super().get_line_filters(), LAST_DOOR]

    @property
    def size(self) -> Size:
        """That of the terminal; never so small that the library under the screens can't lay them out."""
        return _held_open(super().size)

    def _held(self, event: Key) -> bool:
        """True for the repeats of a key that acts; what moves, and letters in a field, may be held down."""
        key, at = self._pressed
        self._pressed = (event.key, event.time)
        self.key_again = event.key == key
        self.stopping = self.stopping and self.key_again
        typed = event.is_printable and isinstance(self.focused, Input)
        harmless = typed or event.key in MOVES or event.key.endswith("_bracket")
        return event.key == key and event.time - at < HELD_SECONDS and not harmless

    async def _woken(self, event: Key) -> bool:
        """After a rest: the job's page says where it stands; in a check, Enter waits to be pressed once more."""
        place = self.screen.PLACE if isinstance(self.screen, Page) else ""
        if place == "job":
            await self.run_action("recap", self.screen)
        elif place == "check" and event.key == "enter":
            self.tell("You have been away. Press Enter again to save it.")
        return place == "job" or (place == "check" and event.key == "enter")

    def _end(self, code: int) -> None:
        """End at once, with that exit code: what can be saved is saved, and the terminal is put back as it was."""
        if self.session:
            self.session.save_waiting()
        self.exit(code, message=self.leave() or None)

    def on_unmount(self) -> None:
        """However it ends: one more try to save, and the job is closed."""
        if self.session:
            self.session.save_waiting()
        self.leave()
