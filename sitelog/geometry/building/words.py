"""The words of one block, taken one after the other; what can't be read is refused by the block's name."""

import re
from collections.abc import Callable, Sequence

from sitelog.geometry.building.said import (
    BAY,
    COLLARS,
    DORMER,
    LEAN_TO,
    MAIN,
    PURLINS,
    SPROCKETS,
    WING,
    BlockRefusal,
)
from sitelog.geometry.surface.plan_text import FLATTEST, STEEPEST
from sitelog.quantities.measure import Doubt
from sitelog.quantities.reading import length_mm, pitch_deg
from sitelog.quantities.rounding import as_typed
from sitelog.text import clean, text_if

LEAST, MOST = 100.0, 100_000.0  # mm, of a size
TYPE = {
    MAIN: "main 9000x6000 40 BC gable",
    WING: "wing off CD 1000 from D 4000x4000 40 end gable",
    BAY: "bay off AB 3000 from A 3000x900 40 splay 45",
    LEAN_TO: "lean-to off BC 500 from B 3000x2000 15 plate -900",
    DORMER: "dormer off AB 3000 from A 1800x1200 35 cheek 900 end gable",
    SPROCKETS: "sprockets 600 25",
    PURLINS: "purlins 1500",
    COLLARS: "collars 1800",
}
_SIZE = re.compile(r"(.+)x(.+)")


class BlockWords:
    """The words of one block, taken from the front."""

    def __init__(self, name: str, kind: str, words: Sequence[str]) -> None:
        self.name, self.kind = name, kind
        self.words = list(words)
        self.side = ""  # that is being read

    def refuse(self, what: str, about: str = "") -> BlockRefusal:
        """A refusal in the block's name; `about` is what of it can't be."""
        return BlockRefusal(self.name, what, self.side or about, f". Type it as {TYPE[self.kind]}")

    @property
    def next(self) -> str:
        """The next word, "" at the end."""
        if not self.words:
            return ""
        return self.words[0]

    def take(self, what: str) -> str:
        """The next word. Refusal where there is none."""
        if not self.words:
            raise self.refuse(f"its {what} is missing", what)
        return self.words.pop(0)

    def figure(self, what: str, reader: Callable[[str], float]) -> float:
        """The next word as a figure. Refusal for what can't be read."""
        word = self.take(what)
        try:
            return reader(word)
        except Doubt as doubt:
            raise self.refuse(f"its {what}, '{clean(word, most=30)}', {doubt}", what) from None

    def length(self, what: str, reader: Callable[[str], float] = length_mm, least: float = -MOST) -> float:
        """The next word as a length [mm]. Refusal for one that no roof has."""
        return self._within(what, self.figure(what, reader), least)

    def _within(self, what: str, size: float, least: float) -> float:
        if not least <= size <= MOST:
            metres = text_if(least <= size * 1000 <= MOST, f". If it is metres, type {as_typed(size)}m")
            raise self.refuse(f"its {what} is {as_typed(size)} mm; it must be {from_to(least, MOST)}{metres}", what)
        return size

    def size(self) -> tuple[float, float]:
        """The next word as two lengths [mm]. Refusal for what isn't."""
        word = self.take("size")
        found = _SIZE.fullmatch(word.lower())
        if not found:
            raise self.refuse(f"its size, '{clean(word, most=30)}', isn't two lengths")
        try:
            first, other = (self._within("size", length_mm(text), LEAST) for text in found.groups())
        except Doubt as doubt:
            raise self.refuse(f"its size, '{clean(word, most=30)}', {doubt}") from None
        return first, other

    def pitch(self, what: str = "pitch") -> float:
        """The next word as a pitch [deg]. Refusal for one too flat or too steep."""
        found = self.figure(what, pitch_deg)
        if not FLATTEST <= found <= STEEPEST:
            raise self.refuse(
                f"its {what} is {as_typed(found)}; it must be {from_to(FLATTEST, STEEPEST)} degrees", what
            )
        return found

    def keyed(self, word: str) -> bool:
        """Whether the next word is that one, which is then taken."""
        if self.next.lower() == word:
            self.words.pop(0)
            return True
        return False

    def close(self) -> None:
        """Refusal for words that are left."""
        if self.words:
            raise self.refuse(f"'{clean(' '.join(self.words), most=30)}' can't be read")


def from_to(least: float, most: float) -> str:
    """What a figure must be within, in words."""
    return f"from {as_typed(least)} to {as_typed(most)}"
