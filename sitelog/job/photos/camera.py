"""Which camera numbers a photo's name says, alone (`IMG_2201`, `0412`) or as a range (`2230 to 2234`, `2230-34`)."""

import re
from collections.abc import Iterator

from msgspec import Struct

NUMBER = r"[\w-]*\d{3,}[\w-]*"  # a shorter one may be anything
TO = r"(?:\s+(?:to|[-–—])\s+|\s*(?:[-–—]|\.\.)\s*)"
RANGE = rf"(?<![\w-])([\w-]*?)(\d{{3,}})(?:\.[a-z]+)?{TO}([\w-]*?)(\d{{2,}})(?![\w-])"
MOST = 1000  # numbers of a range: a date with an hour behind it is none


class Numbers(Struct, frozen=True):
    """Camera numbers that follow each other; `stem` is what stands before each, in small letters."""

    stem: str
    first: int
    last: int
    typed: str  # what stands before each, as it was typed
    width: int  # digits

    def shared(self, other: "Numbers") -> str:
        """Those that are in both, as they were typed here: `IMG_2232`, `2232 to 2234`; "" where none is."""
        first, last = max(self.first, other.first), min(self.last, other.last)
        if self.stem != other.stem or first > last:
            return ""
        return " to ".join(self._said(number) for number in dict.fromkeys((first, last)))

    def _said(self, number: int) -> str:
        if number < 0:  # no digits at the end: the whole is what stands before
            return self.typed
        return f"{self.typed}{number:0{self.width}}"


def numbers_in(name: str) -> Iterator[Numbers]:
    """Each camera number or range of them in a photo's name, whatever its case or the end of its file."""
    rest, at = "", 0
    for found in re.finditer(RANGE, name, re.IGNORECASE):
        run = _range(*found.groups())
        if run:
            yield run
            rest, at = f"{rest}{name[at : found.start()]} ", found.end()
    for word in re.findall(NUMBER, rest + name[at:]):
        yield _alone(word)


def _range(stem: str, first: str, other: str, last: str) -> Numbers | None:
    """None where the two aren't the ends of a range; `2230-34` ends at 2234."""
    if other.casefold() not in ("", stem.casefold()):
        return None
    low, high = int(first), int(first[: max(0, len(first) - len(last))] + last)
    if not low < high < low + MOST:
        return None
    return Numbers(stem.casefold(), low, high, stem, len(first))


def _alone(word: str) -> Numbers:
    digits = re.search(r"\d+$", word)
    if not digits:
        return Numbers(word.casefold(), -1, -1, word, 0)
    stem = word[: digits.start()]
    return Numbers(stem.casefold(), int(digits[0]), int(digits[0]), stem, len(digits[0]))
