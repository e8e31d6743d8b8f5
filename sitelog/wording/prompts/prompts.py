"""What is asked before an act is entered, and the act that the answers make: one table for every front."""

from collections.abc import Callable, Sequence
from dataclasses import dataclass

from sitelog.job.actions import actions, counting
from sitelog.job.batches import Batch
from sitelog.job.cautions.due import unread
from sitelog.job.facts.fact import Fact
from sitelog.job.job import Job
from sitelog.job.log.entry import Draft, Entry
from sitelog.job.state.record_views import COUNTED, DiaryDay, Instrument
from sitelog.job.state.views import StageView, State
from sitelog.quantities.quantity import Units, accepts, show_length
from sitelog.refusal import Refusal
from sitelog.text import text_after, text_if
from sitelog.wording.formatting import day, stage_words, typed_text
from sitelog.wording.prompts import attaching
from sitelog.wording.prompts.question import Prompt as Prompt
from sitelog.wording.prompts.question import Question as Question
from sitelog.wording.strip import first_titles

SIGNATURE = "Typing your name signs it."
FOREMAN = "foreman"  # who signs a stage where its list names nobody else
NEWEST = "newest"
DIARY = {
    "weather": "What was the weather, and when did it change?",
    "people": "Who was on site? Names, or numbers of each trade.",
    "deliveries": "What was delivered? Was it right?",
    "delays": "Any delays? What caused them, and how long?",
    "text": "Anything else to note today?",
}


def name(start: str = "", ask: str = "Your name. It goes on every entry you make.") -> Question:
    """Who is there; `start` is the name of before."""
    return Question("Your name", ask, "name", start=start, offered=True)


@dataclass(frozen=True)
class Here:
    """Where something is done, and by whom: the path of a check or a stage, "" for the job as a whole.

    Photos are looked for beside the `job`; without one they are names only.
    """

    state: State
    path: str
    by: str
    job: Job | None = None


def note(here: Here) -> Prompt:
    """Words on a check or a stage."""
    question = Question("Note", "Type the note.", "note")
    return Prompt((question,), lambda words: actions.note(here.state, here.path, words[0]), form=f"note {here.path}")


def skip(here: Here) -> Prompt:
    """A check that does not apply, and why."""
    question = Question("Not applicable", "Why does this check not apply here?", "reason")
    return Prompt(
        (question,),
        lambda words: actions.skip(here.state, here.path, words[0]),
        ("why",),
        form=f"doesn't apply {here.path}",
    )


def snag(here: Here, start: str = "") -> Prompt:
    """Something that is wrong, who puts it right, and by when; `start` is offered as what is wrong."""
    questions = (
        Question("Snag", "What is wrong?", "snag", start=start, offered=True),
        Question("Snag", "Who will fix it?", "who", optional=True),
        Question("Snag", "Fix by what date? Type it as 4 Dec 2026.", "by when", optional=True),
    )
    return Prompt(
        questions,
        lambda words: actions.snag(here.state, here.path, words[0], who=words[1], due=words[2]),
        form=f"snag {here.path}",
    )


def instruct(here: Here) -> Prompt:
    """Work that was asked beyond the drawing: what, by whom, when, and what it takes; signed by a name."""
    title = "Instruction"
    questions = (
        Question(title, "What were you asked to do beyond the drawing?", "what"),
        Question(title, "Who asked? Name and firm.", "who"),
        Question(title, "Asked on what date? Type it as 4 Dec 2026.", "date"),
        Question(title, "Hours it takes. Leave blank if you don't know yet.", "hours", optional=True),
        Question(title, "Timber and fixings it takes. Leave blank if none.", "timber", optional=True),
        Question(title, "Photo: its file name, or its camera number. Leave blank if none.", "photo", optional=True),
        Question(title, f"Your name. {SIGNATURE}", "name", start=here.by, offered=True),
    )

    def make(words: Sequence[str]) -> Draft:
        asked = dict(zip(("text", "who", "day", "hours", "timber"), words, strict=False))
        return attaching.attached(
            here.job,
            words[5],
            lambda photos, name: actions.instruct(here.state, here.path, asked, photos=photos, photo=name),
        )

    return Prompt(questions, make, signed=True, form=f"instruction {here.path}")


def tally(batch: Batch, units: Units) -> Prompt:
    """How many more of a batch are cut, up and spoiled."""
    title = f"{batch.alike.what} {show_length(batch.length, units)} {batch.hand}".strip()
    questions = (
        Question(title, f"How many more are cut? {batch.cut} of {batch.count} so far.", "cut", optional=True),
        Question(title, f"How many more are up? {batch.up} so far.", "up", optional=True),
        Question(title, f"How many of those cut are spoiled? {batch.spoiled} so far.", "spoiled", optional=True),
    )
    return Prompt(
        questions, lambda words: counting.tally(batch, dict(zip(COUNTED, words, strict=True))), form=f"{title} count"
    )


def release(here: Here) -> Prompt:
    """A check or a stage carried on with as it is: the reason, and the name that signs for it."""
    questions = (
        Question("Carry on as it is", "Why carry on as it is? The reason goes in the pack.", "reason"),
        Question("Carry on as it is", f"Your name. {SIGNATURE}", "name", start=here.by, offered=True),
    )
    return Prompt(
        questions,
        lambda words: actions.release(here.state, here.path, words[0]),
        ("why", here.by),
        signed=True,
        form=f"carry on as it is {here.path}",
    )


def defer(here: Here) -> Prompt:
    """A check left until a later stage, and why. Refusal where no stage comes after it."""
    later = _later(here.state, here.path)
    if not later:
        raise Refusal("There is no later stage. Do it, snag it, or carry on as it is.")

    def make(words: Sequence[str]) -> Draft:
        until, reason = words
        if until not in later:
            raise Refusal(f"Stage is {until!r}: type the number of a later stage, such as {next(iter(later))}.")
        return actions.defer(here.state, here.path, later[until].path, reason)

    words = stage_words(here.state)
    names = ", ".join(f"{number} {words[stage.path]}" for number, stage in later.items())
    questions = (
        Question("Later", f"Leave it until which stage? {names}", "number"),
        Question("Later", "Why can it wait?", "reason"),
    )
    return Prompt(questions, make, (next(reversed(later)), "why"), form=f"later {here.path}")


# What an action asks, by the name that the table of actions has for it.
ASKED: dict[str, Callable[[Here], Prompt]] = {
    "note": note,
    "snag": snag,
    "instruct": instruct,
    "release": release,
    "skip": skip,
    "defer": defer,
}


def _later(state: State, path: str) -> dict[str, StageView]:
    """The stages after that of the check, by their number in the order of work."""
    own = ".".join(path.split(".")[:2])
    stages = {str(number): stage for number, stage in enumerate(state.order, 1)}
    at = next((int(number) for number, stage in stages.items() if stage.path == own), 0)
    return {number: stage for number, stage in stages.items() if int(number) > at}


def sign(state: State, stage: StageView, by: str) -> Prompt:
    """What is still open, and what nobody has read, is told before anybody types a name."""
    found = [asked.caution for asked in unread((stage,), state)]
    nobody = f" Nobody has read: {first_titles(found)}." if found else ""
    ask = f"Your name, as {stage.stage.signer}. {SIGNATURE}{nobody}"
    start = text_if(stage.stage.signer == FOREMAN, by)  # an engineer, say, types a name of their own
    question = Question(f"Sign {stage.stage.title}", ask, "name", start=start, offered=True)
    return Prompt((question,), lambda words: actions.sign(state, stage.path), (by,), signed=True)


def register(tool: str, title: str) -> Prompt:
    """A tool put on the list."""
    questions = (
        Question(title, "What is it: a tape, a level, a rule, a moisture meter?", "kind"),
        Question(title, "Tape class, printed on the blade: I, II or III. Leave blank if none.", "class", optional=True),
    )
    return Prompt(questions, lambda words: actions.instrument(tool, words[0], words[1]), form=f"tool {tool}")


def unknown(tool: str, state: State) -> Prompt:
    """The same for one that was named and is not there."""
    known = ", ".join(state.instruments)
    return register(tool, f"{tool} isn't on the list of tools{text_after('. Listed: ', known)}")


def doubt(state: State, tool: Instrument) -> Prompt:
    """A tool marked bad, and what is wrong with it."""
    question = Question(
        f"Mark {tool.id} bad", "What is wrong with it? Everything measured with it will be flagged.", "reason"
    )
    return Prompt(
        (question,), lambda words: actions.doubt(state, tool.id, words[0]), ("why",), form=f"bad tool {tool.id}"
    )


def change(state: State, fact: Fact) -> Prompt:
    """A figure of the drawing, changed."""
    takes = accepts(fact.kind, fact.choices)
    ask = f"Drawing figure: {takes}. Your measurements don't change."
    part, _, own = fact.name.partition(".")
    question = Question(fact.says, ask, "as drawn", start=typed_text(fact.drawn, fact.kind))
    return Prompt(
        (question,), lambda words: actions.draw(state, part, {own: words[0]}), form=f"drawing figure {fact.name}"
    )


def newest_lists(draft: Callable[[], Draft]) -> Prompt:
    """Bring a job to the newest lists; `draft` is its act. A word is wanted, so that no key held down does it."""
    ask = f"All answers are kept, but you can't undo this. Type {NEWEST} to use the newest checklists from here on."

    def make(words: Sequence[str]) -> Draft:
        if words[0].strip().casefold() != NEWEST:
            raise Refusal(f"{words[0]!r} isn't it: type {NEWEST}, or go back to keep the checklists as they are.")
        return draft()

    return Prompt((Question("Newest checklists", ask, "word"),), make, (NEWEST,))


def diary(page: DiaryDay, key: str) -> Prompt:
    """One of the words of a day; what is written already stands there to begin with."""
    start = "" if key == "text" else str(getattr(page, key))
    question = Question(f"Site diary, {day(page.day)}", DIARY[key], diary_label(key), start=start)
    return Prompt(
        (question,), lambda words: actions.diary(page.day, **{key: words[0]}), form=f"{diary_label(key)} {page.day}"
    )


def diary_label(key: str) -> str:
    """What the diary calls that entry of a day."""
    if key == "text":
        return "note"
    return key


def taken_over(to: str) -> Question:
    """Who takes the points over is another person than who hands them over."""
    ask = f"Who is taking over for the {to}? Their name goes against each point."
    return Question("Points taken over", ask, "name")


def countersign() -> Question:
    """The head code on the pack in the hands of who takes the points over: `acts.head_code` proves it."""
    ask = "Record code on their copy of the pack. Leave blank if they don't have one."
    return Question("Points taken over", ask, "record code", optional=True)


def send_back(state: State, point: str, head: str = "") -> Prompt:
    """A point sent back to who handed it over, and what is wrong with it."""
    question = Question("Send back", "What is wrong with it? This raises a snag.", "why")
    return Prompt(
        (question,), lambda words: actions.accept(state, point, False, words[0], head), form=f"send back {point}"
    )


def undone(state: State, entries: Sequence[Entry]) -> tuple[Draft, Entry]:
    """The act that takes the last one back, and the entry that is taken back. Refusal when there is none."""
    draft = actions.undo(state, entries)
    return draft, next(entry for entry in entries if entry.id == draft.value["id"])
