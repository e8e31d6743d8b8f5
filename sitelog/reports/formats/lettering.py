"""How long words are on paper, and where their lines break."""

from collections.abc import Callable, Iterable, Iterator
from functools import lru_cache

from sitelog.reports.formats.marks import POINT

MOST_WORDS = 20_000  # whose lengths are kept


Length = Callable[[str], float]  # of a text, in mm


Measure = Callable[[bool, float], Length]  # of text that is bold or not, by its size in points


def wrapped(text: str, length: Length, wide: float) -> list[str]:
    """The text in lines no longer than `wide`, broken between words; a word that is longer is broken in itself."""
    if "\n" not in text and length(text) <= wide:
        return [text]  # as most cells are
    lines: list[str] = []
    space = length(" ")
    for paragraph in text.split("\n"):
        line: list[str] = []
        used = 0.0
        for word in _fitting(paragraph.split(" "), length, wide):
            own = length(word)
            if line and used + space + own > wide:
                lines.append(" ".join(line))
                line, used = [], 0.0
            used += own + (space if line else 0.0)
            line.append(word)
        lines.append(" ".join(line))
    return lines


def _fitting(words: Iterable[str], length: Length, wide: float) -> Iterator[str]:
    for word in words:
        while length(word) > wide and len(word) > 1:
            fits = next((letters for letters in range(len(word) - 1, 1, -1) if length(word[:letters]) <= wide), 1)
            yield word[:fits]
            word = word[fits:]
        yield word


@lru_cache(maxsize=1)
def measure() -> Measure:
    """Lengths of text in the fonts of the sheets. ImportError where the PDF library is not installed."""
    from sitelog.reports.formats.pdf import widths

    plain, strong = widths()

    @lru_cache(maxsize=64)
    def of_type(bold: bool, size: float) -> Length:
        known = strong if bold else plain
        unit = size * POINT / 1000
        space = known.get(32, 318.0) * unit
        words: dict[str, float] = {}

        def length(text: str) -> float:
            if " " in text:
                return sum(map(length, text.split(" "))) + text.count(" ") * space
            if text not in words:
                if len(words) > MOST_WORDS:
                    words.clear()
                words[text] = sum(known.get(ord(letter), 600.0) for letter in text) * unit
            return words[text]

        return length

    return of_type
