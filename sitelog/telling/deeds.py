"""What is asked before an act is entered, and the act that the answers make: one table for every front."""

from collections.abc import Callable, Sequence
from dataclasses import dataclass

from sitelog.job import acts
from sitelog.job.cautions import unread
from sitelog.job.entry import Draft, Entry
from sitelog.job.views import CheckView, DiaryDay, Fact, Instrument, StageView, State
from sitelog.job.words import said
from sitelog.quantity import ACCEPTS
from sitelog.refusal import Refusal
from sitelog.telling.entries import answered
from sitelog.telling.strip import first_titles
from sitelog.telling.told import day, stage_words, typed_text

SIGNATURE = "A typed name is a simple signature."
ANEW = ("put right and measured again", "read wrong", "entered wrong", "measured again with a better tape")
OTHERWISE = ("entered wrong", "put right", "agreed otherwise since", "more is known")
NEWEST = "newest"
CHANGED = "the work under it has changed"
DIARY = {
    "weather": "What was the weather, and when did it change?",
    "people": "Who was on the site? Names, or how many of each trade.",
    "deliveries": "What was delivered, and was it as ordered?",
    "delays": "What held the work up, and for how long?",
    "text": "What else is to be remembered of the day?",
}


@dataclass(frozen=True)
class Question:
    """`start` is what stands there to begin with; `offered` says that it will do as it stands."""

    title: str
    ask: str
    label: str
    start: str = ""
    optional: bool = False
    offered: bool = False


@dataclass(frozen=True)
class Deed:
    """Questions, and the act made of their answers in order.

    `would_do` are answers to prove with, before anybody types a word, that the act can be entered as things stand.
    `signed` says that the last answer is the name that it is entered under.
    """

    questions: tuple[Question, ...]
    make: Callable[[Sequence[str]], Draft | list[Draft]]
    would_do: tuple[str, ...] = ()
    signed: bool = False

    def prove(self) -> None:
        """Refusal if it can't be entered whatever is answered."""
        if self.would_do:
            self.make(self.would_do)


def name(start: str = "", ask: str = "Who is entering? It stands beside every entry.") -> Question:
    return Question("Your name", ask, "name", start=start, offered=True)


def note(state: State, path: str) -> Deed:
    question = Question("Note", "What is to be remembered of this?", "words")
    return Deed((question,), lambda words: acts.note(state, path, words[0]))


def why_anew(view: CheckView, state: State) -> Question:
    """Why an answer takes the place of one that stands: `reason_anew` reads what is said to it."""
    was = next(entry for entry in reversed(view.history) if entry.act == "answer")
    ready = ", ".join(f"{number} {words}" for number, words in enumerate(_ready(view), 1))
    ask = f"{answered(was, state)}, by {was.by}. Why is it answered anew? {ready}; or words of your own."
    return Question("Answered already", ask, "reason")


def reason_anew(view: CheckView, text: str) -> str:
    """The reason of that number, or the words. Refusal for a number that is none of them, and for no words."""
    ready = _ready(view)
    if not text.strip().isdecimal():
        return said(text, "A reason is wanted")
    if not (text.isascii() and 1 <= int(text) <= len(ready)):
        raise Refusal(f"{text.strip()!r} is no reason: give a number from 1 to {len(ready)}, or words.")
    return ready[int(text) - 1]


def _ready(view: CheckView) -> tuple[str, ...]:
    ready = ANEW if view.check.kind == "measure" else OTHERWISE
    return (*ready, CHANGED) if view.stale_because else ready  # the last, so that no number means another reason


def skip(state: State, path: str) -> Deed:
    question = Question("Not applicable", "Why does this check not apply here?", "reason")
    return Deed((question,), lambda words: acts.skip(state, path, words[0]), ("why",))


def snag(state: State, path: str, start: str = "") -> Deed:
    questions = (
        Question("Snag", "What is wrong?", "snag", start=start, offered=True),
        Question("Snag", "Who puts it right?", "who", optional=True),
        Question("Snag", "By when? A date such as 2026-12-04.", "by when", optional=True),
    )
    return Deed(questions, lambda words: acts.snag(state, path, words[0], who=words[1], due=words[2]))


def release(state: State, path: str, by: str) -> Deed:
    questions = (
        Question("Release as it is", "Why is it let go? The reason goes into the pack.", "reason"),
        Question("Release as it is", f"By whom? {SIGNATURE}", "name", start=by, offered=True),
    )
    return Deed(questions, lambda words: acts.release(state, path, words[0]), ("why", by), signed=True)


def defer(state: State, path: str) -> Deed:
    """Refusal where no stage comes after it."""
    later = _later(state, path)
    if not later:
        raise Refusal("No stage comes after this: do it, snag it or release it.")

    def make(words: Sequence[str]) -> Draft:
        until, reason = words
        if until not in later:
            raise Refusal(f"Stage is {until!r}: give the number of one that comes later, such as {next(iter(later))}.")
        return acts.defer(state, path, later[until].path, reason)

    words = stage_words(state)
    names = ", ".join(f"{number} {words[stage.path]}" for number, stage in later.items())
    questions = (
        Question("Later", f"At which stage does it come back? {names}", "number"),
        Question("Later", "Why can it wait?", "reason"),
    )
    return Deed(questions, make, (next(reversed(later)), "why"))


def _later(state: State, path: str) -> dict[str, StageView]:
    """The stages after that of the check, by their number in the order of work."""
    own = ".".join(path.split(".")[:2])
    stages = {str(number): stage for number, stage in enumerate(state.order, 1)}
    at = next((int(number) for number, stage in stages.items() if stage.path == own), 0)
    return {number: stage for number, stage in stages.items() if int(number) > at}


def sign(state: State, stage: StageView, by: str) -> Deed:
    """What is still open, and what nobody has read, is told before anybody types a name."""
    found = [one.caution for one in unread((stage,), state)]
    nobody = f" Nobody has read: {first_titles(found)}." if found else ""
    ask = f"Your name, as {stage.stage.signer}. {SIGNATURE}{nobody}"
    question = Question(f"Sign {stage.stage.title}", ask, "name", start=by, offered=True)
    return Deed((question,), lambda words: acts.sign(state, stage.path), (by,), signed=True)


def register(tool: str, title: str) -> Deed:
    """An instrument put into the register."""
    questions = (
        Question(title, "What is it: a tape, a level, a rule, a moisture meter?", "kind"),
        Question(title, "A tape's class stands on its blade: I, II or III. Empty for none.", "class", optional=True),
    )
    return Deed(questions, lambda words: acts.instrument(tool, words[0], words[1]))


def unknown(tool: str, state: State) -> Deed:
    """The same for one that was named and is not there."""
    known = ", ".join(state.instruments)
    return register(tool, f"{tool} is not in the register{f', which has {known}' if known else ''}")


def doubt(state: State, tool: Instrument) -> Deed:
    question = Question(f"Mark {tool.id} bad", "What is wrong with it? All it measured is flagged.", "reason")
    return Deed((question,), lambda words: acts.doubt(state, tool.id, words[0]), ("why",))


def change(state: State, fact: Fact) -> Deed:
    """A figure of the drawing, changed."""
    takes = f"one of {', '.join(fact.choices)}" if fact.choices else ACCEPTS[fact.kind]
    ask = f"As drawn: {takes}. What was measured stays as it was measured."
    part, _, own = fact.name.partition(".")
    question = Question(fact.says, ask, "as drawn", start=typed_text(fact.drawn, fact.kind))
    return Deed((question,), lambda words: acts.draw(state, part, {own: words[0]}))


def newest_lists(draft: Callable[[], Draft]) -> Deed:
    """Bring a job to the newest lists; `draft` is its act. A word is wanted, so that no key held down does it."""
    ask = f"Every answer stays. Undo can't take this back. Type {NEWEST} to go by the newest lists from here on."

    def make(words: Sequence[str]) -> Draft:
        if words[0].strip().casefold() != NEWEST:
            raise Refusal(f"{words[0]!r} is not the word: type {NEWEST}, or leave the lists as they are.")
        return draft()

    return Deed((Question("Newest lists", ask, "word"),), make, (NEWEST,))


def diary(page: DiaryDay, key: str) -> Deed:
    start = "" if key == "text" else str(getattr(page, key))
    question = Question(f"Diary, {day(page.day)}", DIARY[key], diary_label(key), start=start)
    return Deed((question,), lambda words: acts.diary(page.day, **{key: words[0]}))


def diary_label(key: str) -> str:
    return "note" if key == "text" else key


def taken_over(to: str) -> Question:
    """Who takes the points over is another person than who hands them over."""
    ask = f"Who takes this over for the {to}? Their name stands beside each point."
    return Question("Points taken over", ask, "name")


def countersign() -> Question:
    """The head code on the pack in the hands of who takes the points over: `acts.head_code` proves it."""
    ask = "The head code on their pack, which countersigns it. Empty if they have none in hand."
    return Question("Points taken over", ask, "head code", optional=True)


def send_back(state: State, point: str, head: str = "") -> Deed:
    question = Question("Send back", "What is wrong with it? It becomes a snag.", "why")
    return Deed((question,), lambda words: acts.accept(state, point, False, words[0], head))


def undone(state: State, entries: Sequence[Entry]) -> tuple[Draft, Entry]:
    """The act that takes the last one back, and the entry that is taken back. Refusal when there is none."""
    draft = acts.undo(state, entries)
    return draft, next(entry for entry in entries if entry.id == draft.value["id"])
