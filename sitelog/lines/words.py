"""The words that can be said at a job, and which was meant."""

from collections.abc import Iterator
from dataclasses import dataclass

from sitelog.refusal import Refusal
from sitelog.text import text_after
from sitelog.wording.actions.table import ACTIONS


@dataclass(frozen=True)
class Word:
    """What can be said where one stands, and the action that it does; `letter` is short for it."""

    word: str
    letter: str
    says: str
    action: str
    also: str = ""  # what it was called before: still understood

    def told(self) -> str:
        """The word with its letter and what it does, as the list of commands has it."""
        return f"{self.word}{text_after(', or ', self.letter)}: {self.says}."


def said(text: str) -> Word:
    """The word that was said: whole, by its letter, or by as much of it as no other begins with. Refusal if none is."""
    folded = text.casefold()
    for word in WORDS_HERE:
        if folded and folded in (word.word, word.letter, word.also):
            return word
    begun = [word for word in WORDS_HERE if len(folded) > 1 and word.word.startswith(folded)]
    if len(begun) == 1:
        return begun[0]
    if begun:
        raise Refusal(f"{text!r} could be {' or '.join(word.word for word in begun)}: type more letters.")
    raise Refusal(f"{text!r} isn't a command here. Type ? for the list.")


def _words() -> Iterator[Word]:
    """A word of each action that line mode has. The letters are the keys of the screens: nobody learns two sets."""
    for action in ACTIONS:
        if action.line:
            key = action.key.shown if action.key and len(action.key.shown) == 1 else ""
            letter = action.line.letter or key
            yield Word(action.label, letter, action.line.says or action.says, action.name, action.line.also)


HARMLESS = ("next", "stage", "before", "after", "", "quit")
FIRST = ("do", "measure")  # what is done to the check that one stands on
WORDS_HERE = tuple(sorted(_words(), key=lambda word: word.action not in FIRST))
