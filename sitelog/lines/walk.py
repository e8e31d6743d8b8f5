"""The job line by line: where one stands, the words that can be said there, and what each does."""

from collections.abc import Callable, Sequence
from contextlib import suppress

from sitelog.checklist.schema.model import Caution
from sitelog.job.state.marks import state_word
from sitelog.job.state.views import CheckView, StageView, State
from sitelog.lines.answer import answer, sum_lines
from sitelog.lines.caution import read
from sitelog.lines.pages import PAGES
from sitelog.lines.photos import attach
from sitelog.lines.session import LineSession
from sitelog.lines.talk import Left
from sitelog.lines.telling import here_told, stage_told
from sitelog.lines.words import HARMLESS, WORDS_HERE, Word, said
from sitelog.refusal import NOT_SAVED, Refusal
from sitelog.wording.entries import what
from sitelog.wording.formatting import next_words
from sitelog.wording.prompts import prompts
from sitelog.wording.prompts.asking import against, read_first, to_read
from sitelog.wording.recap import standing
from sitelog.wording.result import input_lines, spoken, working_lines
from sitelog.wording.strip import AT_A_TIME

REST_SECONDS = 60.0


class Quit(Exception):
    """The person leaves; every entry is already saved, or was given up."""

    def __init__(self, code: int = 0) -> None:
        self.code = code


class Walk:
    """One person going through one job. `path` is the check, or the stage whose signature one stands on."""

    def __init__(self, session: LineSession) -> None:
        self.session: LineSession = session
        self.talk = session.talk
        self.path = session.state.next or session.state.order[0].path
        self.shown = self.stage_shown = ""
        self._warned = False

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

    # -- going through it --

    def run(self) -> int:
        """Until the person leaves: the exit code. EOFError when nobody says anything any more."""
        self.recap()
        if not self.session.by and not self.session.session.read_only:
            with suppress(Left):
                self.session.who()
        elif self.session.by:
            self.talk.say(f"Signed in as {self.session.by}. Type your name to change.")
        try:
            while True:
                self._turn()
        except Quit as quit_:
            return quit_.code

    def recap(self) -> None:
        """Where the job is up to, and why it can only be read, if so."""
        state = self.state
        self.talk.say(f"{state.title}{', ' + state.place if state.place else ''}", *standing(state))
        if self.session.session.read_only:
            self.talk.say(f"Read only: {self.session.session.read_only}")

    def _turn(self) -> None:
        self._show()
        before = self.session.now()
        try:
            heard = self.talk.ask(self._prompt(), self._hear, self._help())
        except Left:
            self.talk.say("You are at the top. Type quit to leave the job.")
            return
        rested = (self.session.now() - before).total_seconds() > REST_SECONDS
        self._do(heard, rested)

    def _prompt(self) -> str:
        here = self.check
        what_ = "do" if here else "sign"
        unsaved = "NOT SAVED. " if self.session.session.unsaved else ""
        return f"{unsaved}Type {what_}, next, later, snag, note, a check number, or ? for all commands."

    def _hear(self, text: str) -> Word | str:
        """The word that was said, or the path that a number stands for. Refusal if it is neither."""
        paths = [*(view.path for view in self.stage.shown), self.stage.path]
        if not text:
            return self.path
        if text.isascii() and text.isdecimal():
            if not 1 <= int(text) <= len(paths):
                raise Refusal(f"{text} isn't a check in this stage: type 1 to {len(paths)}.")
            return paths[int(text) - 1]
        return text if self.state.check(text) or self.state.stage(text) else said(text)

    def _help(self) -> list[str]:
        last = len(self.stage.shown) + 1
        numbers = f"Type 1 to {last} to go to that check. {last} is the signature."
        return [numbers, *(word.told() for word in WORDS_HERE)]

    def _do(self, heard: Word | str, rested: bool) -> None:
        if isinstance(heard, str):
            self.go(heard)
            return
        if rested and heard.word not in HARMLESS:
            self.recap()
            self.talk.say(f"You have been away. Type {heard.word} again to do it.")
            return
        try:
            self._act(heard.action)
        except Left:
            self.talk.say("Left. Nothing saved.")

    def _act(self, name: str) -> None:
        """Do the action of that name: it asks, opens a page, or is one of the walk's own."""
        if name in prompts.ASKED:
            self.ask(name)
        elif name in PAGES:
            self.page(PAGES[name])
        else:
            DOES[name](self)

    # -- showing --

    def go(self, path: str) -> None:
        """Stand on a check or a stage; it is told whole."""
        self.path, self.shown = path, ""

    def tell_stage(self) -> None:
        """The stage, and each of its checks with its number."""
        self.talk.say(*stage_told(self.stage, self.state))

    def _show(self) -> None:
        if self.stage.path != self.stage_shown:
            self.stage_shown, self.shown = self.stage.path, ""
            self.tell_stage()
        if self.path == self.shown:
            return
        self.shown = self.path
        due = self._due(self.stage)
        self.talk.say(*here_told(self.stage, self.check, self.state, due))

    # -- acts --

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
            place = f"{number} of {len(cautions)}" if len(cautions) > 1 else ""
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
        self.talk.say(f"{view.check.ask}: {state_word(view)}" if view else "")
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
            self.talk.say("This is the last stage." if by > 0 else "This is the first stage.")

    def ask(self, name: str) -> None:
        """Ask what the action of that name asks, and do it to the check or the stage."""
        if self.session.do(lambda: prompts.ASKED[name](self.session.here(self.path))):
            self.talk.say("Entered.")
            self.shown = ""

    def photo(self) -> None:
        """Attach photos to the check or the stage."""
        if attach(self.session, self.path):
            last = self.state.last
            self.talk.say(what(last, self.state) if last else "")
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
        """Try to save what waits, and say how that went."""
        self.talk.say(self.session.lost() or "Every entry is saved.")

    def quit(self) -> None:
        """Leave. Raises Quit; the first time that something would be lost, says so instead."""
        lost = self.session.lost()
        if lost and not self._warned:
            self._warned = True
            self.talk.say(f"{lost} Type quit again to leave without saving it.")
            return
        self.talk.say(*([lost] if lost else []))
        raise Quit(NOT_SAVED if lost else 0)

    def page(self, show: Callable[[LineSession, str], str]) -> None:
        """A page of its own; it gives the path to go on to, or ""."""
        path = show(self.session, self.path)
        if path and (self.state.check(path) or self.state.stage(path)):
            self.go(path)
        elif path:
            self.talk.say("That check doesn't apply to this job.")


# What each action does that neither asks nor opens a page, by its name in the table of actions.
DOES: dict[str, Callable[[Walk], object]] = {
    "do": Walk.do,
    "measure": lambda walk: walk.do(again=True),
    "next": Walk.next,
    "stage": Walk.tell_stage,
    "before": lambda walk: walk.step(-1),
    "after": lambda walk: walk.step(1),
    "photo": Walk.photo,
    "cautions": Walk.cautions,
    "working": Walk.working,
    "undo": Walk.undo,
    "who": lambda walk: walk.session.who(),
    "where": Walk.recap,
    "save": Walk.save,
    "app.quit": Walk.quit,
}
