"""Who is at the open job, and what enters an act: the one way in plain mode to change anything."""

from collections.abc import Callable, Iterator, Sequence
from datetime import datetime
from pathlib import Path

from msgspec.structs import replace

from sitelog.job.job import Job
from sitelog.job.log.entry import Author, Draft
from sitelog.job.session import Session
from sitelog.job.state.views import State
from sitelog.lines.talk import BACK, Talk, said_before
from sitelog.refusal import NOT_SAVED, Refusal
from sitelog.wording.formatting import in_words
from sitelog.wording.prompts.drafts import Drafts
from sitelog.wording.prompts.prompts import Here, Prompt, Question, name
from sitelog.wording.prompts.question import kept
from sitelog.wording.prompts.rescuing import place, typed_place
from sitelog.wording.recap import lost, names_in

WAITS = "NOT SAVED yet. Type save to try again."


class LineSession:
    """`clock` gives the time with its offset; `device` is the letters of this machine."""

    def __init__(self, talk: Talk, session: Session, *, by: str, clock: Callable[[], datetime], device: str) -> None:
        self.talk = talk
        self.session = session
        self.by = by.strip()
        self.now = clock
        self._device = device
        self.chance: Callable[[], str] = str  # of the id of each act; none where it is to be the same again
        self.drafts = Drafts.of_job(session.job.file.files, lambda: self.by)
        talk.in_words = lambda words: in_words(words, self.state)

    @property
    def job(self) -> Job:
        """The open job."""
        return self.session.job

    @property
    def state(self) -> State:
        """The job as it stands."""
        return self.session.job.state

    @property
    def today(self) -> str:
        """The day, in ISO."""
        return self.now().date().isoformat()

    def author(self) -> Author:
        """Who enters, on what device, now."""
        return Author(by=self.by, device=self._device, now=self.now(), chance=self.chance())

    # -- who --

    def named(self) -> bool:
        """True once there is a name to enter under, in a job that can be entered into."""
        if self.session.read_only:
            self.talk.say(f"Read only: {self.session.read_only}")
            return False
        if not self.by:
            self.by = self.question(name())
        return True

    def who(self) -> None:
        """Ask who is entering: one of the names in the record by its number, or another in letters."""
        names = names_in(self.by, self.job.entries)
        self.talk.say("Who is entering?", *(f"{number} {known}" for number, known in enumerate(names, 1)))

        def hear(text: str) -> str:
            if text.isascii() and text.isdecimal():
                if 1 <= int(text) <= len(names):
                    return names[int(text) - 1]
                raise Refusal(f"{text!r} isn't a name: type a number from 1 to {len(names)}, or a name in letters.")
            return _some(text, "name")

        self.by = self.talk.ask("Type a number, or type another name.", hear)

    # -- entering --

    def enter(self, drafts: Draft | Sequence[Draft]) -> bool:
        """Enter an act; False, with one line that says why, when it was refused."""
        try:
            self.session.enter(drafts, self.author())
        except Refusal as refusal:
            self.talk.refuse(refusal.message)
            if refusal.code == NOT_SAVED:
                self.talk.say(WAITS)
            return False
        return True

    def attempt(self, make: Callable[[], Draft | Sequence[Draft]]) -> bool:
        """Make a draft and enter it; a refusal of either is said in one line."""
        try:
            drafts = make()
        except Refusal as refusal:
            self.talk.refuse(refusal.message)
            return False
        return self.enter(drafts)

    def lost(self) -> str:
        """What is lost by leaving now, as it could not be saved, or ""."""
        self.session.save_waiting()
        return lost(self.session)

    def carry_on(self) -> None:
        """Ask where to go on with a job whose file is gone, and go on there; a refusal is told in one line."""
        words = self.question(place(self.job, Path.cwd()))
        try:
            self.session.carry_on(typed_place(words), self.author())
        except Refusal as refusal:
            self.talk.refuse(refusal.message)
            return
        self.drafts = Drafts.of_job(self.job.file.files)
        self.talk.say(f"Saved in {self.job.file.path}.")

    # -- asking --

    def here(self, path: str) -> Here:
        """That check or stage as the job stands now, and who is there."""
        return Here(self.state, path, self.by, self.job)

    def do(self, prompt_of: Callable[[], Prompt]) -> bool:
        """Ask what the prompt asks, and enter the act; what bars it is said before anybody says a word."""
        try:
            prompt = prompt_of()
            prompt.prove()
        except Refusal as refusal:
            self.talk.refuse(refusal.message)
            return False
        if not self.named():
            return False
        if prompt.signed:
            prompt = prompt_of()
        words = self._answers(prompt)
        # The foreman who goes on after a signature does so under the name of before.
        before, self.by = self.by, words[-1] if prompt.signed else self.by
        done = self.attempt(lambda: prompt.make(words))
        self.by = before
        if done:
            self.drafts.drop(prompt.form)
        return done

    def _answers(self, prompt: Prompt) -> list[str]:
        """The answers, proved; after a refusal each is asked again, and what was said stands to be taken.

        What was said before and not entered stands to be taken, too.
        """
        questions = list(prompt.questions)
        before = self.drafts.typed(prompt.form)
        prove: Callable[[str], object] = (lambda text: prompt.make([text])) if len(questions) == 1 else str
        while True:
            words: list[str] = []
            for question in questions:
                words.append(self.question(question, prove, before.get(question.label, "")))
                if prompt.form:
                    self.drafts.keep(prompt.form, before | kept(prompt.questions, words))
            before = {}
            try:
                prompt.make(words)
            except Refusal as refusal:
                self.talk.refuse(refusal.message)
                if len(questions) > 1:
                    said = zip(questions, words, strict=True)
                    questions = [replace(question, start=word, offered=bool(word)) for question, word in said]
            else:
                return words

    def question(self, question: Question, prove: Callable[[str], object] = str, before: str = "") -> str:
        """The answer to one question, in words; what `prove` refuses is asked again.

        `before` was said the last time and not entered: an empty line takes it.
        """

        def hear(text: str) -> str:
            if text == "1" and question.start and question.offered:
                return question.start
            text = text or before
            if not question.optional:
                text = _some(text, question.label)
            prove(text)
            return text

        more = (f"{question.title}: type the {question.label}.",)
        return self.talk.ask(" ".join(_takes(question, before)), hear, more)


def _takes(question: Question, before: str) -> Iterator[str]:
    """What is asked, and what can be typed."""
    yield question.ask
    if question.start and question.offered:
        yield f"Type 1 to use: {question.start}."
    elif question.start:
        yield f"Now: {question.start}."
    if before:
        yield said_before(before)
    elif question.optional:
        yield "Press Enter to leave it out."


def _some(text: str, label: str) -> str:
    if not text.strip():
        raise Refusal(f"{label}: type something, or {BACK}.")
    return text.strip()
