"""The pages behind the job's: each act opens one of them, and loads it only then."""

from textual import work

from sitelog.job.state.views import CheckView
from sitelog.tui.widgets.page import Page


class Navigation(Page[None]):
    """The acts of the job's page that only lead to another."""

    stage_path: str

    @property
    def check(self) -> CheckView | None:
        raise NotImplementedError

    def show_path(self, path: str) -> None:
        raise NotImplementedError

    @work
    async def action_recap(self) -> None:
        from sitelog.tui.dialogs.recap import RecapPage

        await self.app.push_screen_wait(RecapPage())
        self.show_path(self.site.state.next or self.stage_path)

    def action_working(self) -> None:
        if self.check and self.check.check.calculator:
            from sitelog.tui.dialogs.working import WorkingPage

            self.app.push_screen(WorkingPage(self.check.path))
        else:
            self.say("This check doesn't have a calculation.")

    def action_drawing(self) -> None:
        from sitelog.tui.widgets.plan import DrawingPage

        self.app.push_screen(DrawingPage(self.stage_path, self.check.path if self.check else ""))

    def action_facts(self) -> None:
        from sitelog.tui.pages.facts import FactsPage

        self.app.push_screen(FactsPage())

    def action_sources(self) -> None:
        from sitelog.tui.pages.sources import SourcesPage

        self.app.push_screen(SourcesPage(self.stage_path, self.check.path if self.check else ""))

    def action_calculators(self) -> None:
        from sitelog.tui.pages.calculators import CalculatorsPage

        self.app.push_screen(CalculatorsPage())

    def action_timber(self) -> None:
        from sitelog.tui.pages.timber import TimberPage

        self.app.push_screen(TimberPage())

    def action_journal(self) -> None:
        from sitelog.tui.pages.diary import JournalPage

        self.app.push_screen(JournalPage())

    def action_snags(self) -> None:
        from sitelog.tui.pages.snags import SnagsPage

        self.app.push_screen(SnagsPage())

    def action_instruments(self) -> None:
        from sitelog.tui.pages.instruments import InstrumentsPage

        self.app.push_screen(InstrumentsPage())

    def action_photos(self) -> None:
        from sitelog.tui.pages.photos import PhotosPage

        self.app.push_screen(PhotosPage())

    def action_lists(self) -> None:
        from sitelog.tui.pages.lists import ListsPage

        self.app.push_screen(ListsPage())

    def action_handover(self) -> None:
        from sitelog.tui.pages.handover import HandoverPage

        self.app.push_screen(HandoverPage())

    @work
    async def action_find(self) -> None:
        from sitelog.tui.dialogs.find import FindPage

        path = await self.app.push_screen_wait(FindPage())
        if path:
            self.show_path(path)

    def action_acts(self) -> None:
        from sitelog.tui.dialogs.palette import open_palette

        open_palette(self)

    def action_help(self) -> None:
        from sitelog.tui.dialogs.help import HelpPage

        self.app.push_screen(HelpPage())

    def action_back(self) -> None:
        """Back to the jobs of the folder; the job is closed, and every entry is already saved."""
        from sitelog.tui.pages.jobs import JobsPage

        if not self.site.may_leave():
            return
        self.site.leave()
        self.dismiss()
        if not any(isinstance(page, JobsPage) for page in self.app.screen_stack):
            self.app.push_screen(JobsPage())
