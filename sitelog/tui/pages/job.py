"""The job, one stage at a time: the line of stages, the stage's checks, and the check under the cursor told whole."""

from collections.abc import Sequence
from typing import Any, ClassVar

from textual import on, work
from textual.app import ComposeResult
from textual.binding import BindingType
from textual.containers import Horizontal, Vertical
from textual.widgets import Static

from sitelog.checklist.schema.guidance import Caution
from sitelog.job.state.views import CheckView, StageView
from sitelog.tui.dialogs import prompted
from sitelog.tui.keys import bindings
from sitelog.tui.navigation import Navigation
from sitelog.tui.registry import screen
from sitelog.tui.widgets.listing import DetailPane, RuledLine
from sitelog.tui.widgets.plan import PlanBeneath, PlanPane
from sitelog.tui.widgets.stages import Rows, Ruler
from sitelog.wording.entries import last_act
from sitelog.wording.formatting import at_the_end, how_it_stands, next_words
from sitelog.wording.prompts.asking import against, read_first, to_read, with_way_on
from sitelog.wording.strip import AT_A_TIME, read_line, stage_line, stage_lines, strip_lines, unread_line

WIDE = 120
# Kinds of check that open by themselves: a stray Enter answers none.
FOLLOW = ("measure", "choice", "note", "photo", "sign")


class JobPage(Navigation):
    """One stage at a time; the cursor keeps its place, and an entry moves it to the next thing to do."""

    PLACE = "job"
    BINDINGS: ClassVar[list[BindingType]] = bindings("job")

    def __init__(self) -> None:
        super().__init__()
        self.stage_path = ""
        self._busy = False
        self._said = ""  # how the check stands that was just done, for the form that opens after it

    def body(self) -> ComposeResult:
        """The line of stages, the rows of one stage and the strip; the plan beside or beneath the rows, with room."""
        with Horizontal(id="panes"):
            with Vertical(id="stage-pane"):
                yield Ruler("", id="ruler", markup=False)
                yield RuledLine(classes="rule", markup=False)
                yield Static("", id="stage-line", markup=False)
                yield Rows()
                yield PlanBeneath()
                yield RuledLine(id="place", classes="rule", markup=False)
                yield DetailPane(id="strip")
            yield PlanPane(id="plan")

    def on_mount(self) -> None:
        """Stand on the next thing to do."""
        self.stage_path = _stage_of(self.site.state.next) or self.site.state.order[0].path
        self.state_changed()
        self.query_one(Rows).focus()
        self.query_one(Rows).go_to(self.site.state.next)

    def on_resize(self) -> None:
        """Show the plan, or not."""
        self.query_one("#plan").display = self.size.width >= WIDE
        self.state_changed()

    # -- showing --

    def heading(self) -> str:
        """The job, and the part that the stage is of."""
        title, stage = self.site.state.title, self.stage
        part = next((known for known in self.site.state.parts if stage and known.id == stage.part != "job"), None)
        return f"{title} · {part.title}" if part else title

    @property
    def stage(self) -> StageView | None:
        """The stage that is shown."""
        return self.site.state.stage(self.stage_path)

    @property
    def check(self) -> CheckView | None:
        """The check under the cursor; None on the stage's own row."""
        return self.query_one(Rows).check

    def state_changed(self) -> None:
        """Show the stage anew; the cursor keeps its place."""
        state, plain = self.site.state, self.site.ascii_only
        stage = self.stage or state.order[0]
        self.stage_path = stage.path
        self.query_one(Ruler).show(state, stage.path, ascii_only=plain)
        self.put("#stage-line", [stage_line(stage, state)])
        self.query_one(Rows).show(state, stage, ascii_only=plain)
        if self.size.width >= WIDE:
            self.query_one("#plan", PlanPane).show(state, stage, ascii_only=plain)
        self._show_strip()
        self.show_title()

    @on(Rows.OptionHighlighted)
    def _show_strip(self) -> None:
        self.query_one("#place", RuledLine).say(self.query_one(Rows).place)
        stage, state = self.stage, self.site.state
        if stage:
            due = self.due(stage)
            unread, read = unread_line(due), read_line(stage, due)
            lines = strip_lines(self.check, state, unread) if self.check else stage_lines(stage, state, unread)
            told = [*lines, *filter(None, (read,))]
            self.query_one("#strip", DetailPane).show(("", line) for line in told)

    @on(Rows.Laid)
    def _show_beneath(self) -> None:
        if self.stage:
            narrow, plain = self.size.width < WIDE, self.site.ascii_only
            self.call_after_refresh(self.query_one(PlanBeneath).fit, self.site.state, self.stage, narrow, plain)

    def due(self, stage: StageView) -> tuple[Caution, ...]:
        """What this person has still to read here; at the handover, all that it waits for."""
        return to_read(stage, self.site.state, self.site.by, self.site.now().date().isoformat())

    # -- moving --

    def show_path(self, path: str) -> None:
        """Stand on a check or a stage."""
        stage = _stage_of(path)
        if self.site.state.stage(stage):
            self.stage_path = stage
            self.state_changed()
            self.query_one(Rows).go_to(path)
            self._show_strip()

    def action_stage(self, step: int) -> None:
        """The stage before (-1) or after (1)."""
        paths = [stage.path for stage in self.site.state.order]
        at = paths.index(self.stage_path) + step
        if 0 <= at < len(paths):
            self._show_stage(paths[at])
        else:
            self.say(at_the_end("stage", step))

    @on(Ruler.Touched)
    def _touched(self, event: Ruler.Touched) -> None:
        self._show_stage(self.site.state.order[event.place].path)

    def _show_stage(self, path: str) -> None:
        self.say("")
        self.show_path(f"{path}.")
        self.query_one(Rows).highlighted = 0

    def action_next(self) -> None:
        """Stand on the next thing to do, or say what keeps it waiting."""
        if self.site.state.next:
            self.show_path(self.site.state.next)
            self.say("")
        else:
            words = next_words(self.site.state)
            self.say(f"{words[0].upper()}{words[1:]}")

    # -- acting --

    @on(Rows.OptionSelected)
    def _chosen(self) -> None:
        self.action_do()

    @work
    async def action_do(self) -> None:
        """Do the check under the cursor, or sign the stage."""
        await self._do(again=False)

    @work
    async def action_measure(self) -> None:
        """Do the check again; the old answer is kept."""
        await self._do(again=True)

    async def _do(self, *, again: bool) -> None:
        stage, view = self.stage, self.check
        # The same form must not open twice.
        if not stage or self._busy or not self.is_current:
            return
        self._busy = True
        try:
            follows = await self._do_check(stage, view, again=again)
            while follows and self.stage:
                follows = await self._do_check(self.stage, self.check, again=False)
        finally:
            self._busy = False

    async def _do_check(self, stage: StageView, view: CheckView | None, *, again: bool) -> bool:
        """Do it, and say whether the check that the cursor stands on then opens by itself."""
        bar = against(stage, view, self.site.state, again=again)
        if bar:
            self.say(bar if "Press " in bar else with_way_on(bar))
            return False
        if not await prompted.named(self):
            return False
        if not await self._read_all(stage, read_first(stage, self.due(stage), self.site.state)):
            return False  # the rest stays on the list
        return await self._go_on(again=again)

    async def _read_all(self, stage: StageView, cautions: Sequence[Caution], least: int = 0) -> bool:
        """Page by page, each with as many as have room; no page more once `least` are read, where that is said."""
        due, left, read = self.due(stage), list(cautions), 0
        while left and not 0 < least <= read:
            page: Any = screen("caution", [caution.id for caution in left], stage.path, first=read + 1)
            if not await self.app.push_screen_wait(page):
                return False
            read += len(page.shown)
            # One answer may have settled several.
            left = [one for one in left[len(page.shown) :] if one not in due or one in self.due(stage)]
        return True

    async def _go_on(self, *, again: bool) -> bool:
        # Looked at afresh: what was just read may have let the work go on.
        stage, view = self.stage, self.check
        if stage is None:
            return False
        blocked = view.blocked if view else stage.blocked
        if blocked:
            self.say(with_way_on(blocked))
        elif view is None:
            return await self._sign(stage)
        else:
            return await self._answer(view, again=again)
        return False

    async def _answer(self, view: CheckView, *, again: bool) -> bool:
        in_turn = view.path == self.site.state.next
        said, self._said = self._said, ""
        entered = await self.app.push_screen_wait(screen("check", view.path, again=again, said=said))
        return bool(entered) and self._after(view.path) and in_turn

    def _after(self, path: str) -> bool:
        """Stand on what is next in this stage; true if that then opens: Enter alone can't enter it."""
        state = self.site.state
        view, follows = state.check(path), state.check(state.next)
        self._said = how_it_stands(view)
        self.say(self._said)
        if _stage_of(state.next) != self.stage_path:
            return False
        self.query_one(Rows).go_to(state.next)
        return bool(view and view.state == "done") and self._opens_by_itself(follows)

    def _opens_by_itself(self, follows: CheckView | None) -> bool:
        return follows is not None and follows.check.kind in FOLLOW and not self.site.drafts.typed(follows.path)

    async def _sign(self, stage: StageView) -> bool:
        if not await prompted.sign(self, stage):
            return False
        signed, state = self.site.state.stage(stage.path), self.site.state
        self._said = f"{stage.stage.title}: signed by {signed.by if signed else ''}"
        self.say(self._said)
        self.show_path(state.next)
        return self._opens_by_itself(state.check(state.next))

    @work
    async def action_cautions(self) -> None:
        """The next page to read; where all are read, all of them again."""
        stage = self.stage
        if not stage or not await prompted.named(self):
            return
        due = self.due(stage)
        if not stage.cautions and not due:
            self.say("No cautions at this stage. Local rules and the method statement come first.")
        if due:
            await self._read_all(stage, due, AT_A_TIME)
        else:
            await self._read_all(stage, stage.cautions)

    @work
    async def action_undo(self) -> None:
        """Take the last entry back, and stand on what it was about."""
        if path := await prompted.undo(self):
            self.show_path(path)

    # -- words on a check, and who --

    def _target(self) -> str:
        return self.check.path if self.check else self.stage_path

    @work
    async def action_ask(self, name: str) -> None:
        """Ask what the action of that name asks, and do it to what the cursor stands on."""
        await prompted.ask(self, name, self._target())

    @work
    async def action_photo(self) -> None:
        """Attach photos to the check or the stage, or note their camera numbers."""
        from sitelog.tui.dialogs import attach

        if await attach.note(self, self._target()):
            self.say(last_act(self.site.state))

    @work
    async def action_who(self) -> None:
        """Change whose name goes on entries."""
        await prompted.ask_name(self)


def _stage_of(path: str) -> str:
    return ".".join(path.split(".")[:2])
