"""What can be done where one stands in a job, line by line."""

from collections.abc import Callable, Sequence

from sitelog.checklist.schema.guidance import Caution
from sitelog.job.session import Act
from sitelog.job.state.views import CheckView, StageView, State
from sitelog.lines.answer import answer, sum_lines
from sitelog.lines.caution import read
from sitelog.lines.pages.index import PAGES
from sitelog.lines.photos import attach
from sitelog.lines.session import LineSession
from sitelog.lines.telling import stage_told
from sitelog.refusal import NOT_SAVED, Refusal
from sitelog.text import text_if
from sitelog.wording.entries import last_act, what
from sitelog.wording.formatting import at_the_end, how_it_stands, next_words
from sitelog.wording.prompts import prompts
from sitelog.wording.prompts.asking import against, read_first, to_read
from sitelog.wording.recap import clock_told, kept_words, named_job, opened, standing
from sitelog.wording.result import input_lines, spoken, working_lines
from sitelog.wording.strip import AT_A_TIME


class Quit(Exception):
    """The person leaves; every entry is already saved, or was given up."""

    def __init__(self, code: int = 0) -> None:
        self.code = code


class Actions:
    """The actions of one person at one job. `path` is the check, or the stage whose signature one stands on."""

    def __init__(self, session: LineSession) -> None:
        self.session: LineSession = session
        self.talk = session.talk
        self.path = session.state.next or session.state.order[0].path
        self.shown = self.stage_shown = ""
        self._warned: list[Act] = []

    @property
    def state(self) -> State:
        """The job as it stands."""
        return self.session.state

    @property
    def stage(self) -> StageView:
        """The stage that one stands in."""
        own = ".".join(self.path.split(".")[:2])
        return self.state.stage(own) or self.state.order[0]

    @property
    def check(self) -> CheckView | None:
        """The check that one stands on; None at the signature of the stage."""
        return next((view for view in self.stage.shown if view.path == self.path), None)

    # -- where one stands --

    def go(self, path: str) -> None:
        """Stand on a check or a stage; it is told whole."""
        self.path, self.shown = path, ""

    def tell_stage(self) -> None:
        """The stage, and each of its checks with its number."""
        self.talk.say(*stage_told(self.stage, self.state))

    def recap(self) -> None:
        """Where the job is up to, and why it can only be read, if so."""
        state = self.state
        clock = clock_told(self.session.job, self.session.author())
        self.talk.say(named_job(state), *standing(state), *clock, *opened(self.session.session))
        if self.session.session.read_only:
            self.talk.say(f"Read only: {self.session.session.read_only}")

    # -- what is done --

    def act(self, name: str) -> None:
        """Do the action of that name: it asks, opens a page, or is one of the walk's own."""
        if name in prompts.ASKED:
            self.ask(name)
        elif name in PAGES:
            self.page(PAGES[name])
        else:
            DOES[name](self)

    def do(self, *, again: bool = False) -> None:
        """Do the check, or sign the stage; what holds it is read first."""
        stage, view = self.stage, self.check
        bar = against(stage, view, self.state, again=again)
        if bar:
            self.talk.refuse(bar)
        elif self.session.named() and self._cautions_read(stage):
            self._go_on(again=again)

    def _cautions_read(self, stage: StageView) -> bool:
        """What holds the stage is read; the rest stays on the list."""
        return self._read_all(stage, read_first(stage, self._due(stage), self.state))

    def _read_all(self, stage: StageView, cautions: Sequence[Caution]) -> bool:
        due = self._due(stage)
        for number, caution in enumerate(cautions, 1):
            place = text_if(len(cautions) > 1, f"{number} of {len(cautions)}")
            # One answer may have settled several.
            settled = caution in due and caution not in self._due(stage)
            if not settled and not read(self.session, stage, caution, place):
                return False
        return True

    def _due(self, stage: StageView) -> tuple[Caution, ...]:
        return to_read(stage, self.state, self.session.by, self.session.today)

    def _go_on(self, *, again: bool) -> None:
        # Looked at afresh: what was just read may have let the work go on.
        stage, view = self.stage, self.check
        blocked = view.blocked if view else stage.blocked
        if blocked:
            self.talk.refuse(blocked)
        elif view is None:
            if self.session.do(lambda: prompts.sign(self.state, stage, self.session.by)):
                self.talk.say(f"{stage.stage.title}: signed by {self.stage.by}")
                self.next()
        elif answer(self.session, view.path, again=again):
            self._after(view.path)

    def _after(self, path: str) -> None:
        """After an entry: how the check stands, then the next thing to do."""
        view = self.state.check(path)
        self.talk.say(how_it_stands(view))
        self.go(self.state.next or self.path)

    def next(self) -> None:
        """Stand on the next thing to do, or say what keeps it waiting."""
        if self.state.next:
            self.go(self.state.next)
        else:
            words = next_words(self.state)
            self.talk.say(f"{words[0].upper()}{words[1:]}.")

    def step(self, by: int) -> None:
        """The stage before (-1) or after (1)."""
        paths = [stage.path for stage in self.state.order]
        at = paths.index(self.stage.path) + by
        if 0 <= at < len(paths):
            stage = self.state.order[at]
            self.go(stage.shown[0].path if stage.shown else stage.path)
        else:
            self.talk.say(at_the_end("stage", by))

    def ask(self, name: str) -> None:
        """Ask what the action of that name asks, and do it to the check or the stage."""
        if self.session.do(lambda: prompts.ASKED[name](self.session.here(self.path))):
            self.talk.say("Entered.")
            self.shown = ""

    def photo(self) -> None:
        """Attach photos to the check or the stage."""
        if attach(self.session, self.path):
            self.talk.say(last_act(self.state))
            self.shown = ""

    def undo(self) -> None:
        """Take the last entry back; both stay in the record."""
        try:
            draft, entry = prompts.undone(self.state, self.session.job.entries)
        except Refusal as refusal:
            self.talk.refuse(refusal.message)
            return
        if self.session.named():
            told = what(entry, self.state)
            if self.session.enter(draft):
                self.talk.say(f"Undone: {told}. Both stay in the record.")
                self.shown = self.stage_shown = ""

    def cautions(self) -> None:
        """The next three to read; where all are read, all of them again."""
        if not self.session.named():
            return
        stage = self.stage
        due = self._due(stage)
        if not stage.cautions and not due:
            self.talk.say("No cautions at this stage. Local rules and the method statement come first.")
        if self._read_all(stage, due[:AT_A_TIME] or stage.cautions):
            self.shown = ""

    def working(self) -> None:
        """The sum of the check, with its inputs."""
        view, units = self.check, self.state.units
        if view is None or not view.check.calculator:
            self.talk.say("This check doesn't have a calculation.")
            return
        self.talk.say(*input_lines(view, units, spoken), *sum_lines(self.session, view))
        self.talk.say(*(working_lines(view.answer, units) if view.answer else ()))

    def save(self) -> None:
        """Try to save what waits, and say how that went; where the job's file is gone, in another place."""
        if self.session.job.file.gone():
            self.session.carry_on()
        self.talk.say(self.session.lost() or "Every entry is saved.")

    def quit(self) -> None:
        """Leave. Raises Quit; where something would be lost and that was not all said, says so instead."""
        lost = self.session.lost()
        if lost and self._warned != self.session.session.unsaved:
            self._warned = list(self.session.session.unsaved)
            self.talk.say(f"{lost} Type quit again to leave without saving it.")
            return
        self.talk.say(*filter(None, (lost, kept_words(self.session.session))))
        raise Quit(NOT_SAVED if lost else 0)

    def page(self, show: Callable[[LineSession, str], str]) -> None:
        """A page of its own; it gives the path to go on to, or ""."""
        path = show(self.session, self.path)
        if path and (self.state.check(path) or self.state.stage(path)):
            self.go(path)
        elif path:
            self.talk.say("That check doesn't apply to this job.")


# What each action does that neither asks nor opens a page, by its name in the table of actions.
DOES: dict[str, Callable[[Actions], object]] = {
    "do": Actions.do,
    "measure": lambda job: job.do(again=True),
    "next": Actions.next,
    "stage": Actions.tell_stage,
    "before": lambda job: job.step(-1),
    "after": lambda job: job.step(1),
    "photo": Actions.photo,
    "cautions": Actions.cautions,
    "working": Actions.working,
    "undo": Actions.undo,
    "who": lambda job: job.session.who(),
    "where": Actions.recap,
    "save": Actions.save,
    "app.quit": Actions.quit,
}
