"""Lines out and answers in: all that is said is clean, wrapped and plain, and every question says what it takes."""

import re
from collections.abc import Callable, Iterable, Sequence
from textwrap import wrap
from typing import TypeVar

from sitelog.quantities.slips import Slip
from sitelog.refusal import Refusal
from sitelog.text import clean
from sitelog.wording.letters import PLAIN

T = TypeVar("T")
WIDTH = 72
LONGEST = 4_000  # letters of an answer: a roof said block by block is a long one
MOST = 20_000
BACK = "back"
YES = ("yes", "y")
ANYWHERE = (
    f"Type {BACK} to leave a question. Nothing is saved and nothing is lost.",
    "Enter on its own never saves an answer.",
)
_GAP = re.compile(r"\s{2,}|\s·\s")


def said_before(text: str) -> str:
    """That an answer stands, which was given before and not entered."""
    return f"You typed {text} before and did not save it. Press Enter to keep it."


class Left(Exception):
    """Somebody said `back`: the question is left, and nothing is entered."""


class Talk:
    """`read_line` gives a line without its end and raises EOFError after the last; `write_line` takes one.

    `in_words` turns the paths in a refusal into what is asked there.
    """

    def __init__(
        self,
        read_line: Callable[[], str],
        write_line: Callable[[str], None],
        *,
        width: int = WIDTH,
        plain_letters: bool = False,
    ) -> None:
        self._read, self._write = read_line, write_line
        self._width = max(20, width)
        self._plain_letters = plain_letters
        self.in_words: Callable[[str], str] = str

    def say(self, *lines: str) -> None:
        """Each line in turn; columns become commas. An empty one parts what stands before it from what comes."""
        for line in lines:
            text = clean(line, lines=True, most=MOST)
            for row in text.split("\n"):
                words = _GAP.sub(", ", row.strip())
                if self._plain_letters:
                    words = words.translate(PLAIN)
                for piece in wrap(words, self._width, subsequent_indent="  ", break_on_hyphens=False) or [""]:
                    self._write(piece)

    def refuse(self, words: str) -> None:
        """Say why something was not taken, with codes of checks told as words."""
        self.say(self.in_words(words))

    def hear(self) -> str:
        """The next line, as it may be kept. EOFError when there is none."""
        return clean(self._read(), most=LONGEST)

    def ask(self, ask: str, hear: Callable[[str], T], more: Iterable[str] = ()) -> T:
        """Ask until the answer is one that `hear` takes: what it refuses is said in one line, and asked again.

        Left on `back`; `?` says what can be said. After a likely slip, yes takes what was probably meant.
        """
        told = list(more)
        says, likely = ask, ""
        while True:
            self.say(says)
            text = self.hear()
            if text.casefold() == BACK:
                raise Left
            if text == "?":
                self.say(*told, *ANYWHERE)
                continue
            if likely and text.casefold() in YES:
                text = likely
            says, likely = ask, ""
            try:
                return hear(text)
            except Slip as slip:
                if slip.likely:
                    says, likely = f"{slip.question} Type yes, or {slip.kept} if you mean it.", slip.likely
                else:
                    self.refuse(slip.message)
            except Refusal as refusal:
                self.refuse(refusal.message)

    def pick(self, ask: str, rows: Sequence[str], more: Iterable[str] = (), *, before: int | None = None) -> int:
        """The place, from nought, of the row whose number is said; the rows are said first, each with its number.

        `before` is the place of the row that was picked before, which an empty line keeps.
        """
        self.say(*(f"{number} {row}" for number, row in enumerate(rows, 1)))
        last = len(rows)

        def hear(text: str) -> int:
            if not text and before is not None:
                return before
            if text.isascii() and text.isdecimal() and 1 <= int(text) <= last:
                return int(text) - 1
            raise Refusal(f"{text!r} isn't an answer here: type a number from 1 to {last}, or {BACK}.")

        numbers = "1" if last == 1 else f"a number from 1 to {last}"
        kept = "" if before is None else f" {said_before(rows[before])}"
        return self.ask(f"{ask} Type {numbers}, or {BACK}.{kept}", hear, more or ["Type the number of a line."])


GO = "go to its check"  # offered on more than one page


def lines(told: Iterable[tuple[str, str]]) -> list[str]:
    """Each pair as one line, its first word before a colon."""
    return [f"{lead}: {words}" if lead else words for lead, words in told]
