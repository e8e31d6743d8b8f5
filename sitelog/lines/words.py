"""The words that can be said at a job, and what each does there."""

from collections.abc import Callable
from dataclasses import dataclass
from typing import TYPE_CHECKING

from sitelog.lines.pages import calculators, drawing, facts, find, handover, instruments, journal, lists, snags, sources
from sitelog.lines.photos import photos
from sitelog.lines.timber import timber
from sitelog.refusal import Refusal
from sitelog.wording.prompts import prompts

if TYPE_CHECKING:
    from sitelog.lines.walk import Walk


@dataclass(frozen=True)
class Word:
    """What can be said where one stands; `letter` is short for it."""

    word: str
    letter: str
    says: str
    act: "Callable[[Walk], None]"
    also: str = ""  # what it was called before: still understood

    def told(self) -> str:
        return f"{self.word}{', or ' + self.letter if self.letter else ''}: {self.says}."


def said(text: str) -> Word:
    """The word that was said: whole, by its letter, or by as much of it as no other begins with. Refusal if none is."""
    folded = text.casefold()
    for one in WORDS_HERE:
        if folded and folded in (one.word, one.letter, one.also):
            return one
    begun = [one for one in WORDS_HERE if len(folded) > 1 and one.word.startswith(folded)]
    if len(begun) == 1:
        return begun[0]
    if begun:
        raise Refusal(f"{text!r} could be {' or '.join(one.word for one in begun)}: type more letters.")
    raise Refusal(f"{text!r} isn't a command here. Type ? for the list.")


HARMLESS = ("next", "stage", "before", "after", "", "quit")
# The letters are the keys of the screens, so that nobody has to learn two sets.
WORDS_HERE: tuple[Word, ...] = (
    Word("do", "", "Do this check, or sign this stage", lambda w: w.do()),
    Word("measure again", "m", "Do the check again; the old answer is kept", lambda w: w.do(again=True)),
    Word("next", "", "Go to the next thing to do", lambda w: w.next()),
    Word("stage", "", "Show this stage and its checks", lambda w: w.tell_stage()),
    Word("before", "[", "Go to the stage before", lambda w: w.step(-1)),
    Word("after", "]", "Go to the stage after", lambda w: w.step(1)),
    Word("note", "n", "Add a note to this check", lambda w: w.prompt(prompts.note)),
    Word("snag", "s", "Raise a snag on this check", lambda w: w.prompt(prompts.snag)),
    Word("photo", "p", "Attach a photo, or note its camera number", lambda w: w.photo()),
    Word(
        "release",
        "r",
        "Carry on as it is, with your name and a reason",
        lambda w: w.prompt(lambda state, path: prompts.release(state, path, w.session.by)),
    ),
    Word("not applicable", "x", "Mark as not applicable and say why", lambda w: w.prompt(prompts.skip)),
    Word("later", "l", "Leave until a later stage and say why", lambda w: w.prompt(prompts.defer)),
    Word("cautions", "o", "Read the cautions of this stage", lambda w: w.cautions()),
    Word("working", "w", "Show the working", lambda w: w.working()),
    Word("drawing", "d", "Read out the sizes", lambda w: w.page(drawing)),
    Word("figures", "f", "All figures, drawn and built", lambda w: w.page(facts), "facts"),
    Word("sources", "e", "Where these limits and cautions come from", lambda w: w.page(sources)),
    Word("cutting list", "g", "Cutting list and what to buy", lambda w: w.page(timber)),
    Word("photos", "v", "All photos", lambda w: w.page(photos)),
    Word("calculators", "c", "Use any calculator", lambda w: w.page(calculators)),
    Word("diary", "j", "Site diary", lambda w: w.page(journal), "journal"),
    Word("snag list", "k", "All the snags", lambda w: w.page(snags)),
    Word(
        "tools", "i", "Tapes and levels, and what was measured with each", lambda w: w.page(instruments), "instruments"
    ),
    Word("lists", "=", "What newer checklists change in this job, and earlier checks", lambda w: w.page(lists)),
    Word("hand over", "h", "Handover points and the pack", lambda w: w.page(handover)),
    Word("undo", "u", "Undo the last entry; both stay in the record", lambda w: w.undo()),
    Word("find", "/", "Find a check, a note or a snag", lambda w: w.page(find)),
    Word("your name", "y", "Change your name", lambda w: w.session.who()),
    Word("where", "", "Where the job is up to: last entry and what is next", lambda w: w.recap()),
    Word("save", "", "Try saving again", lambda w: w.save()),
    Word("quit", "q", "Quit; everything is already saved", lambda w: w.quit()),
)
