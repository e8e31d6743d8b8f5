"""The job, one stage at a time: the line of stages, the stage's checks, and the check under the cursor told whole."""

from typing import ClassVar

from textual import on, work
from textual.app import ComposeResult
from textual.binding import BindingType
from textual.containers import Horizontal, Vertical
from textual.content import Content
from textual.widgets import Static

from sitelog.checklist.model import Caution
from sitelog.job import acts
from sitelog.job.cautions import due, unread_stops
from sitelog.job.views import CheckView, StageView
from sitelog.text import clean
from sitelog.tui import deeds
from sitelog.tui.keys import bindings
from sitelog.tui.page import Page
from sitelog.tui.plan import PlanPane
from sitelog.tui.stages import Rows, Ruler
from sitelog.tui.told import strip_lines

WIDE = 120


class JobPage(Page[None]):
    """One stage at a time; the cursor keeps its place, and an entry moves it to the next thing to do."""

    PLACE = "job"
    BINDINGS: ClassVar[list[BindingType]] = bindings("job")

    def __init__(self) -> None:
        super().__init__()
        self._path = ""
        self._busy = False

    def body(self) -> ComposeResult:
        with Horizontal(id="panes"):
            with Vertical(id="stage-pane"):
                yield Ruler("", id="ruler", markup=False)
                yield Static("", id="rule-top", markup=False)
                yield Static("", id="stage-line", markup=False)
                yield Rows()
                yield Static("", id="rule-strip", markup=False)
                yield Static("", id="strip", markup=False)
            yield PlanPane(id="plan")

    def on_mount(self) -> None:
        self._path = self._stage_of(self.site.state.next) or self.site.state.order[0].path
        self.state_changed()
        self.query_one(Rows).focus()
        self.query_one(Rows).go_to(self.site.state.next)

    def on_resize(self) -> None:
        self.query_one("#plan").display = self.size.width >= WIDE
        self.state_changed()

    # -- showing --

    def heading(self) -> str:
        stage = self.stage
        title = self.site.state.title
        if not stage or stage.part == "job":
            return title
        part = next(p for p in self.site.state.parts if p.id == stage.part)
        return f"{title} {'-' if self.site.ascii_only else '·'} {part.title}"

    @property
    def stage(self) -> StageView | None:
        return self.site.state.stage(self._path)

    @property
    def check(self) -> CheckView | None:
        return self.query_one(Rows).check

    def state_changed(self) -> None:
        stage = self.stage
        if stage is None:
            self._path = self.site.state.order[0].path
            stage = self.site.state.order[0]
        plain = self.site.ascii_only
        line = ("-" if plain else "─") * 400
        self.query_one("#rule-top", Static).update(Content(line))
        self.query_one("#rule-strip", Static).update(Content(line))
        self.query_one(Ruler).show(self.site.state, self._path, ascii_only=plain)
        self.query_one("#stage-line", Static).update(Content(clean(self._stage_line(stage))))
        self.query_one(Rows).show(self.site.state, stage, ascii_only=plain)
        if self.size.width >= WIDE:
            self.query_one(PlanPane).show(self.site.state, stage, ascii_only=plain)
        self._show_strip()
        self.show_title()

    def _stage_line(self, stage: StageView) -> str:
        number = self.site.state.order.index(stage) + 1
        shown = stage.shown
        settled = sum(c.state in ("done", "released", "not applicable") for c in shown)
        words = [f"{settled} of {len(shown)} done"]
        for state in ("out", "unsure", "stale", "snagged", "deferred"):
            count = sum(c.state == state for c in shown)
            if count:
                words.append(f"{count} {state}")
        released = len(self.site.state.releases)
        if released:
            words.append(f"{released} released in the job")
        if stage.stage.hold and stage.state not in ("signed", "released"):
            words.append("hold at the end")
        return f"{number} {stage.stage.title}   {(' - ' if self.site.ascii_only else ' · ').join(words)}"

    @on(Rows.OptionHighlighted)
    def _show_strip(self) -> None:
        stage, view = self.stage, self.check
        lines: list[str] = []
        if stage and view:
            lines = strip_lines(view, self.site.state)
        elif stage:
            lines = [stage.stage.title, *([f"Why: {stage.stage.why}"] if stage.stage.why else [])]
            if stage.blocked:
                lines.append(stage.blocked)
            if stage.reason:
                lines.append(f"Released: {stage.reason} ({stage.by})")
        if stage:
            lines += self._caution_lines(stage)
        self.query_one("#strip", Static).update(Content(clean("\n".join(lines), lines=True, most=4000)))

    def _caution_lines(self, stage: StageView) -> list[str]:
        """One line of the cautions still to read, one of those in force."""
        due = self.due(stage)
        read = [c.title for c in stage.cautions if c not in due]
        unread = f"! Cautions to read (o): {'; '.join(c.title for c in due)}" if due else ""
        return [line for line in (unread, f"Cautions read: {'; '.join(read)}" if read else "") if line]

    def due(self, stage: StageView) -> tuple[Caution, ...]:
        """What this person has still to read here; at the handover, all that it waits for."""
        own = due(stage, self.site.state, self.site.by, self.site.now().date().isoformat())
        waited = unread_stops(self.site.state) if stage.stage.place == "last" and not stage.blocked else ()
        return tuple({caution.id: caution for caution in (*own, *waited)}.values())

    # -- moving --

    def _stage_of(self, path: str) -> str:
        return ".".join(path.split(".")[:2]) if path else ""

    def show_path(self, path: str) -> None:
        """Stand on a check or a stage."""
        stage = self._stage_of(path)
        if self.site.state.stage(stage):
            self._path = stage
            self.state_changed()
            self.query_one(Rows).go_to(path)
            self._show_strip()

    def action_stage(self, step: int) -> None:
        paths = [s.path for s in self.site.state.order]
        at = paths.index(self._path) + step
        if 0 <= at < len(paths):
            self.show_path(f"{paths[at]}.")
            self.query_one(Rows).highlighted = 0

    def action_next(self) -> None:
        if self.site.state.next:
            self.show_path(self.site.state.next)
            self.say("")
        else:
            self.say("Nothing is left to do.")

    # -- acting --

    @on(Rows.OptionSelected)
    def _chosen(self) -> None:
        self.action_do()

    @work
    async def action_do(self) -> None:
        await self._do(again=False)

    @work
    async def action_measure(self) -> None:
        await self._do(again=True)

    async def _do(self, *, again: bool) -> None:
        stage, view = self.stage, self.check
        # A key held down must not open the same form twice.
        if not stage or self._busy or not self.is_current:
            return
        self._busy = True
        try:
            await self._do_check(stage, view, again=again)
        finally:
            self._busy = False

    async def _do_check(self, stage: StageView, view: CheckView | None, *, again: bool) -> None:
        if not await deeds.named(self):
            return
        for caution in self.due(stage):
            if not await self._read(caution.id):
                return
        blocked = view.blocked if view else stage.blocked
        if blocked:
            self.say(blocked)
        elif view is None:
            await self._sign(stage)
        else:
            await self._answer(view, again=again)

    async def _answer(self, view: CheckView, *, again: bool) -> None:
        from sitelog.tui.check import CheckPage

        entered = await self.app.push_screen_wait(CheckPage(view.path, again=again))
        if entered:
            self._after(view.path)

    def _after(self, path: str) -> None:
        """After an entry the cursor stands on the next thing to do in this stage, if there is one."""
        state = self.site.state
        view = state.check(path)
        self.say(f"{view.check.ask}: {view.state}" if view else "")
        if self._stage_of(state.next) == self._path:
            self.query_one(Rows).go_to(state.next)

    async def _sign(self, stage: StageView) -> None:
        if stage.state in ("signed", "released"):
            self.say(f"{stage.stage.title} is {stage.state} already, by {stage.by}.")
        elif await deeds.sign(self, stage):
            self.say(f"{stage.stage.title}: signed by {self.site.by}")
            if self.site.state.next:
                self.show_path(self.site.state.next)

    async def _read(self, caution_id: str) -> bool:
        from sitelog.tui.caution import CautionPage

        cleared: bool | None = await self.app.push_screen_wait(CautionPage(caution_id))
        return bool(cleared)

    @work
    async def action_cautions(self) -> None:
        stage = self.stage
        if not stage or not await deeds.named(self):
            return
        cautions = self.due(stage) or stage.cautions
        if not cautions:
            self.say("No cautions at this stage. Local rules and the method statement come first.")
        for caution in cautions:
            if not await self._read(caution.id):
                return

    # -- words on a check --

    def _target(self) -> str:
        return self.check.path if self.check else self._path

    @work
    async def action_note(self) -> None:
        await deeds.note(self, self._target())

    @work
    async def action_photo(self) -> None:
        await deeds.photo(self, self._target())

    @work
    async def action_snag(self) -> None:
        await deeds.snag(self, self._target())

    @work
    async def action_release(self) -> None:
        await deeds.release(self, self._target())

    @work
    async def action_skip(self) -> None:
        await deeds.skip(self, self._target())

    @work
    async def action_defer(self) -> None:
        await deeds.defer(self, self._target())

    @work
    async def action_undo(self) -> None:
        job = self.site.job
        if job and await deeds.named(self) and self.site.attempt(lambda: acts.undo(self.site.state, job.entries)):
            self.say("Taken back. The record keeps both.")

    # -- who --

    @work
    async def action_who(self) -> None:
        await deeds.ask_name(self)

    @work
    async def action_recap(self) -> None:
        from sitelog.tui.recap import RecapPage

        await self.app.push_screen_wait(RecapPage())
        self.show_path(self.site.state.next or self._path)

    # -- other pages --

    def action_working(self) -> None:
        if self.check and self.check.check.calculator:
            from sitelog.tui.check import WorkingPage

            self.app.push_screen(WorkingPage(self.check.path))
        else:
            self.say("There is no sum at this check.")

    def action_drawing(self) -> None:
        from sitelog.tui.plan import DrawingPage

        self.app.push_screen(DrawingPage(self._path))

    def action_facts(self) -> None:
        from sitelog.tui.facts import FactsPage

        self.app.push_screen(FactsPage())

    def action_calculators(self) -> None:
        from sitelog.tui.calculators import CalculatorsPage

        self.app.push_screen(CalculatorsPage())

    def action_journal(self) -> None:
        from sitelog.tui.journal import JournalPage

        self.app.push_screen(JournalPage())

    def action_snags(self) -> None:
        from sitelog.tui.snags import SnagsPage

        self.app.push_screen(SnagsPage())

    def action_handover(self) -> None:
        from sitelog.tui.handover import HandoverPage

        self.app.push_screen(HandoverPage())

    @work
    async def action_find(self) -> None:
        from sitelog.tui.find import FindPage

        path = await self.app.push_screen_wait(FindPage())
        if path:
            self.show_path(path)

    def action_acts(self) -> None:
        from sitelog.tui.palette import open_palette

        open_palette(self)

    def action_help(self) -> None:
        from sitelog.tui.help import HelpPage

        self.app.push_screen(HelpPage())

    def action_back(self) -> None:
        """Back to the jobs of the folder; the job is closed, and every entry is already saved."""
        from sitelog.tui.jobs import JobsPage

        self.site.leave()
        self.dismiss()
        if not any(isinstance(page, JobsPage) for page in self.app.screen_stack):
            self.app.push_screen(JobsPage())
