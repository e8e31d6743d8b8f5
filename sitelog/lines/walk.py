"""The job line by line: what is said of where one stands, and which of the words is heard."""

from contextlib import suppress

from sitelog.job.replies.beside import beside
from sitelog.lines.actions import Actions, Quit
from sitelog.lines.talk import Left
from sitelog.lines.telling import here_told
from sitelog.lines.words import HARMLESS, WORDS_HERE, Word, said
from sitelog.refusal import Refusal
from sitelog.text import text_if
from sitelog.wording.prompts.left import left_by, left_choices, left_lines, left_title
from sitelog.wording.prompts.replying import offer
from sitelog.wording.prompts.rescuing import COPY_CHOICES, copies_settled, without

REST_SECONDS = 60.0


class Walk(Actions):
    """One person going through one job."""

    # -- going through it --

    def run(self) -> int:
        """Until the person leaves: the exit code. EOFError when nobody says anything any more."""
        self.recap()
        if self.session.session.damage:
            self.talk.say(self.session.session.damage)
        for offered in beside(self.session.job):
            self.talk.say(f"{offer(offered)}. Type replies to enter it.")
        if not self.session.by and not self.session.session.read_only:
            with suppress(Left):
                self.session.who()
        elif self.session.by:
            self.talk.say(f"Signed in as {self.session.by}. Type your name to change.")
        file = self.session.job.file
        if file.missing and not file.read_only:
            with suppress(Left):
                self.session.do(lambda: without(self.session.job))
        self._ask_to_join()
        self._ask_what_others_left()
        try:
            while True:
                self._turn()
        except Quit as quit_:
            return quit_.code

    def _ask_to_join(self) -> None:
        """Copies of the job that stand beside it are joined, or left as they are."""
        session = self.session.session
        if session.read_only or not any(copy.new for copy in session.copies):
            return
        with suppress(Left):
            if self.talk.pick("What shall be done with it?", COPY_CHOICES) == 1:
                try:
                    self.talk.say(*copies_settled(session.join_copies()))
                except Refusal as refusal:
                    self.talk.refuse(refusal.message)

    def _ask_what_others_left(self) -> None:
        """What somebody else typed and did not save is told, and kept for them or thrown away."""
        drafts = self.session.drafts
        if self.session.session.read_only:
            return
        for by, found in left_by(drafts).items():
            self.talk.say(f"{left_title(by)}:", *left_lines(found, self.session.job))
            with suppress(Left):
                if self.talk.pick("What shall be done with it?", left_choices(by)) == 1:
                    drafts.throw_away(by)

    def _turn(self) -> None:
        self._show()
        if gone := self.session.job.file.gone():
            self.talk.say(f"{gone}. Type save to save the job again, or to say where it is.")
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
        unsaved = text_if(self.session.session.unsaved, "NOT SAVED. ")
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
        if self.state.check(text) or self.state.stage(text):
            return text
        return said(text)

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
            self.act(heard.action)
        except Left:
            self.talk.say("Left. Nothing saved.")

    # -- showing --

    def _show(self) -> None:
        if self.stage.path != self.stage_shown:
            self.stage_shown, self.shown = self.stage.path, ""
            self.tell_stage()
        if self.path == self.shown:
            return
        self.shown = self.path
        due = self._due(self.stage)
        self.talk.say(*here_told(self.stage, self.check, self.state, due))
