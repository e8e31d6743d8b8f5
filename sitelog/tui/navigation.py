"""The pages behind the job's: each act opens one of them, and loads it only then."""

from textual import work

from sitelog.tui.registry import screen
from sitelog.tui.widgets.page import Page
from sitelog.tui.widgets.site_page import JobPlace

ONCE_MORE = "Press Esc once more for the list of jobs."


class Navigation(JobPlace):
    """The acts of the job's page that only lead to another."""

    _just_back = False

    def on_screen_resume(self) -> None:
        """A page that was over it has closed."""
        self._just_back = True

    @work
    async def action_recap(self) -> None:
        """Where the job stands, then the next thing to do."""
        if await self.app.push_screen_wait(screen("recap")):
            self.show_path(self.site.state.next or self.stage_path)

    def action_working(self) -> None:
        """The sum of the check under the cursor."""
        if self.check and self.check.check.calculator:
            self.app.push_screen(screen("working", self.check.path))
        else:
            self.say("This check doesn't have a calculation.")

    def action_drawing(self) -> None:
        """The drawings of the part, from that of the check under the cursor."""
        self.app.push_screen(screen("drawing", self.stage_path, self.check.path if self.check else ""))

    def action_sources(self) -> None:
        """Where the checks and cautions of this stage come from."""
        self.app.push_screen(screen("sources", self.stage_path, self.check.path if self.check else ""))

    @work
    async def action_find(self) -> None:
        """Find a check, a note or a snag, and go there."""
        path = await self.app.push_screen_wait(screen("find"))
        if path:
            self.show_path(path)

    def action_back(self) -> None:
        """Back to the jobs of the folder; the job is closed, and every entry is already saved."""
        just_back, self._just_back = self._just_back, False
        if just_back and self.site.key_again:
            # Pressed for the form that has just closed, and once too often: the job stays open.
            self.say(ONCE_MORE)
            return
        if not self.site.may_leave():
            return
        self.site.leave()
        self.dismiss()
        if not any(isinstance(page, Page) and page.PLACE == "jobs" for page in self.app.screen_stack):
            self.app.push_screen(screen("jobs"))
