"""The words that can be said at a job, and what each does there."""

from collections.abc import Callable
from dataclasses import dataclass
from typing import TYPE_CHECKING

from sitelog.plain.pages import calculators, drawing, facts, find, handover, instruments, journal, lists, snags, sources
from sitelog.plain.photos import photos
from sitelog.plain.timber import timber
from sitelog.refusal import Refusal
from sitelog.telling import deeds

if TYPE_CHECKING:
    from sitelog.plain.walk import Walk


@dataclass(frozen=True)
class Word:
    """What can be said where one stands; `letter` is short for it."""

    word: str
    letter: str
    says: str
    act: "Callable[[Walk], None]"

    def told(self) -> str:
        return f"{self.word}{', or ' + self.letter if self.letter else ''}: {self.says}."


def said(text: str) -> Word:
    """The word that was said: whole, by its letter, or by as much of it as no other begins with. Refusal if none is."""
    folded = text.casefold()
    for one in WORDS_HERE:
        if folded and folded in (one.word, one.letter):
            return one
    begun = [one for one in WORDS_HERE if len(folded) > 1 and one.word.startswith(folded)]
    if len(begun) == 1:
        return begun[0]
    if begun:
        raise Refusal(f"{text!r} could be {' or '.join(one.word for one in begun)}: say more of it.")
    raise Refusal(f"{text!r} is nothing that can be said here: ? tells what can.")


HARMLESS = ("next", "stage", "before", "after", "", "quit")
# The letters are the keys of the screens, so that nobody has to learn two sets.
WORDS_HERE: tuple[Word, ...] = (
    Word("do", "", "Do the check, or sign the stage, where you stand", lambda w: w.do()),
    Word(
        "measure again", "m", "Answer the check again; the old answer stays in the record", lambda w: w.do(again=True)
    ),
    Word("next", "", "Go to the next thing to do", lambda w: w.next()),
    Word("stage", "", "Tell this stage and its checks", lambda w: w.tell_stage()),
    Word("before", "[", "Go to the stage before", lambda w: w.step(-1)),
    Word("after", "]", "Go to the stage after", lambda w: w.step(1)),
    Word("note", "n", "Write words on the check", lambda w: w.deed(deeds.note)),
    Word("snag", "s", "Raise a snag on the check", lambda w: w.deed(deeds.snag)),
    Word("photo", "p", "Attach the photo that shows it, or name it", lambda w: w.photo()),
    Word(
        "release",
        "r",
        "Let the check or the hold go as it is, with a reason",
        lambda w: w.deed(lambda state, path: deeds.release(state, path, w.desk.by)),
    ),
    Word("not applicable", "x", "Mark the check not applicable, with the reason", lambda w: w.deed(deeds.skip)),
    Word("later", "l", "Leave the check till a later stage, with the reason", lambda w: w.deed(deeds.defer)),
    Word("cautions", "o", "Read the cautions of this stage", lambda w: w.cautions()),
    Word("working", "w", "Tell the working of the sum", lambda w: w.working()),
    Word("drawing", "d", "Tell the sizes of the roof and the rafter in words", lambda w: w.page(drawing)),
    Word("facts", "f", "Every figure, drawn and built", lambda w: w.page(facts)),
    Word("sources", "e", "Where the check, limits and cautions come from", lambda w: w.page(sources)),
    Word("cutting list", "g", "The timber as built, and what to buy for it", lambda w: w.page(timber)),
    Word("photos", "v", "Every photo, and whether its file is there", lambda w: w.page(photos)),
    Word("calculators", "c", "Work any sum by itself", lambda w: w.page(calculators)),
    Word("journal", "j", "The diary of the day", lambda w: w.page(journal)),
    Word("snag list", "k", "All the snags", lambda w: w.page(snags)),
    Word("instruments", "i", "Tapes and levels, and what each measured", lambda w: w.page(instruments)),
    Word("lists", "=", "What newer lists change in the job, and the earlier checks", lambda w: w.page(lists)),
    Word("hand over", "h", "What goes to the next trade, and the pack", lambda w: w.page(handover)),
    Word("undo", "u", "Take back the last entry; the record keeps both", lambda w: w.undo()),
    Word("find", "/", "Find a check, a note or a snag", lambda w: w.page(find)),
    Word("your name", "y", "Change who is entering", lambda w: w.desk.who()),
    Word("where", "", "Where this job stands: what was last, what is next", lambda w: w.recap()),
    Word("save", "", "Try again to save what could not be saved", lambda w: w.save()),
    Word("quit", "q", "Leave; every entry is already saved", lambda w: w.quit()),
)
