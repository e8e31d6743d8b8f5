"""The line in which a building is kept, read into its blocks; what is wrong is refused by the block's name."""

import re
from collections.abc import Callable, Sequence

from sitelog.geometry.building.said import (
    BAY,
    BLOCKS,
    COLLARS,
    DORMER,
    KINDS,
    LEAN_TO,
    MAIN,
    PURLINS,
    SIDED,
    SIDES,
    SPROCKETS,
    WING,
    BlockRefusal,
    Place,
    Said,
    Side,
)
from sitelog.geometry.surface.plan_text import FLATTEST, MOST_BLOCKS, STEEPEST
from sitelog.near import closest, did_you_mean
from sitelog.quantities.measure import Doubt
from sitelog.quantities.reading import angle_deg, length_mm, offset_mm, pitch_deg
from sitelog.quantities.rounding import as_typed
from sitelog.refusal import Refusal
from sitelog.text import clean, text_if

LEAST, MOST = 100.0, 100_000.0  # mm, of a size
FLATTEST_SPLAY, STEEPEST_SPLAY = 20.0, 80.0  # deg
MOST_HEIGHTS = 8
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
NAMED = re.compile(r"(main|wing|bay|lean-to|dormer|sprockets|purlins|collars)([1-9][0-9]?)?")
_SIZE = re.compile(r"(.+)x(.+)")
_COVERS = ("hip", "gable", "against", "half-hip", "mansard")


def read_building(text: str) -> tuple[Said, ...]:
    """The blocks in a text, the main roof first. Refusal, by the block's name, for what can't be read."""
    every: list[Said] = []
    for part in filter(None, (part.strip() for part in text.split(";"))):
        every.append(_said(part, [one.name for one in every]))
        if len(every) > MOST_BLOCKS:
            raise Refusal(f"building: more than {MOST_BLOCKS} blocks; part the roof into two parts of the job")
    if not every or every[0].kind != MAIN:
        raise Refusal(f"building: begin with the main roof, such as {TYPE[MAIN]}")
    if sum(one.kind == MAIN for one in every) > 1:
        raise Refusal("building: the main roof is there twice; call the other a wing")
    return tuple(every)


def _said(part: str, taken: Sequence[str]) -> Said:
    first, *rest = part.split()
    named = NAMED.fullmatch(first.lower())
    if not named:
        near = closest(first.lower(), KINDS)
        like = did_you_mean(near, f"choose from: {', '.join(KINDS)}")
        raise Refusal(f"building: '{clean(first, most=30)}' isn't a block; {like}")
    kind, name = named[1], first.lower()
    if name in taken:
        if named[2] or kind == MAIN or kind not in BLOCKS:
            raise Refusal(f"building: {name} is there twice; give each block its own name")
        name = next(f"{kind}{number}" for number in range(2, 99) if f"{kind}{number}" not in taken)
    words = _Words(name, kind, rest)
    said = _READERS[kind](words, name)
    words.close()
    return said


class _Words:
    """The words of one block, taken from the front."""

    def __init__(self, name: str, kind: str, words: Sequence[str]) -> None:
        self.name, self.kind = name, kind
        self.words = list(words)
        self.side = ""  # that is being read

    def refuse(self, what: str, about: str = "") -> BlockRefusal:
        return BlockRefusal(self.name, what, self.side or about, f". Type it as {TYPE[self.kind]}")

    @property
    def next(self) -> str:
        """The next word, "" at the end."""
        if not self.words:
            return ""
        return self.words[0]

    def take(self, what: str) -> str:
        if not self.words:
            raise self.refuse(f"its {what} is missing", what)
        return self.words.pop(0)

    def figure(self, what: str, reader: Callable[[str], float]) -> float:
        word = self.take(what)
        try:
            return reader(word)
        except Doubt as doubt:
            raise self.refuse(f"its {what}, '{clean(word, most=30)}', {doubt}", what) from None

    def length(self, what: str, reader: Callable[[str], float] = length_mm, least: float = -MOST) -> float:
        return self._within(what, self.figure(what, reader), least)

    def _within(self, what: str, size: float, least: float) -> float:
        if not least <= size <= MOST:
            metres = text_if(least <= size * 1000 <= MOST, f". If it is metres, type {as_typed(size)}m")
            raise self.refuse(f"its {what} is {as_typed(size)} mm; it must be {_from_to(least, MOST)}{metres}", what)
        return size

    def size(self) -> tuple[float, float]:
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
        found = self.figure(what, pitch_deg)
        if not FLATTEST <= found <= STEEPEST:
            raise self.refuse(
                f"its {what} is {as_typed(found)}; it must be {_from_to(FLATTEST, STEEPEST)} degrees", what
            )
        return found

    def keyed(self, word: str) -> bool:
        """Whether the next word is that one, which is then taken."""
        if self.next.lower() == word:
            self.words.pop(0)
            return True
        return False

    def close(self) -> None:
        if self.words:
            raise self.refuse(f"'{clean(' '.join(self.words), most=30)}' can't be read")


def _from_to(least: float, most: float) -> str:
    return f"from {as_typed(least)} to {as_typed(most)}"


# --- each kind ----------------------------------------------------------------------------------------------------


def _main(words: _Words, name: str) -> Said:
    shape = words.next.lower()
    if shape in SIDED:
        words.take("shape")
        across = words.length("size", least=LEAST)
        corners, size = SIDED[shape], (across, across)
    else:
        shape, corners, size = "", 4, words.size()
    pitch = words.pitch()
    letters = "ABCDEFGH"[:corners]
    names = [letters[place] + letters[(place + 1) % corners] for place in range(corners)]
    return Said(MAIN, name, size, shape, pitch, sides=_sides(words, names, pitch))


def _wing(words: _Words, name: str) -> Said:
    place, size, pitch = _placed(words)
    sides = _sides(words, SIDES, pitch)
    return Said(WING, name, size, pitch=pitch, place=place, sides=sides, plate=_plate(words))


def _bay(words: _Words, name: str) -> Said:
    place, size, pitch = _placed(words)
    splay, level = 45.0, False
    while words.next.lower() in ("splay", "level"):
        if words.keyed("level"):
            level = True
            continue
        words.take("splay")
        splay = words.figure("splay", angle_deg)
        if not FLATTEST_SPLAY <= splay <= STEEPEST_SPLAY:
            from_to = _from_to(FLATTEST_SPLAY, STEEPEST_SPLAY)
            raise words.refuse(f"its splay is {as_typed(splay)}; it must be {from_to} degrees to the wall", "splay")
    return Said(BAY, name, size, pitch=pitch, place=place, splay=splay, level=level, plate=_plate(words))


def _lean_to(words: _Words, name: str) -> Said:
    place, size = _place(words), words.size()
    pitch, top, plate = 0.0, None, 0.0
    if words.next.lower() not in ("top", "plate", ""):
        pitch = words.pitch()
    if words.keyed("top"):
        top = words.length("top", offset_mm)
    has_plate = words.next.lower() == "plate"
    plate = _plate(words)
    if (pitch > 0) == (top is not None):
        raise words.refuse("give its pitch or its top, one of the two", "pitch")
    if top is not None and not has_plate:
        raise words.refuse("with its top also give its plate's height", "plate")
    return Said(LEAN_TO, name, size, pitch=pitch, place=place, top=top, plate=plate)


def _dormer(words: _Words, name: str) -> Said:
    place, size, pitch = _placed(words)
    if not words.keyed("cheek"):
        raise words.refuse("its cheek is missing: how high its plates stand over the slope, at its face", "cheek")
    cheek = words.length("cheek", least=LEAST)
    sides = _sides(words, ("end",), pitch)
    if sides.get("end", Side("gable")).kind not in ("gable", "slope"):
        raise words.refuse("its end must be a gable or a hip", "end")
    return Said(DORMER, name, size, pitch=pitch, place=place, sides=sides, cheek=cheek)


def _sprockets(words: _Words, name: str) -> Said:
    return Said(SPROCKETS, name, (words.length("length", least=LEAST), 0.0), pitch=words.pitch())


def _heights(words: _Words, name: str) -> Said:
    heights: list[float] = []
    while words.next or not heights:
        heights.append(words.length("height", lambda text: length_mm(text.rstrip(",")), least=LEAST))
    if len(heights) > MOST_HEIGHTS:
        raise words.refuse(f"it has {len(heights)} heights; give at most {MOST_HEIGHTS}", "height")
    return Said(words.kind, name, heights=tuple(sorted(set(heights))))


_READERS: dict[str, Callable[[_Words, str], Said]] = {
    MAIN: _main,
    WING: _wing,
    BAY: _bay,
    LEAN_TO: _lean_to,
    DORMER: _dormer,
    SPROCKETS: _sprockets,
    PURLINS: _heights,
    COLLARS: _heights,
}


# --- what several have --------------------------------------------------------------------------------------------


def _placed(words: _Words) -> tuple[Place, tuple[float, float], float]:
    return _place(words), words.size(), words.pitch()


def _place(words: _Words) -> Place:
    if not words.keyed("off"):
        raise words.refuse("say which side it is off, such as off CD 1000 from D", "side")
    side = _cased(words.take("side"))
    distance = words.length("distance", least=0.0)
    if not words.keyed("from"):
        raise words.refuse("say which corner its distance is from, such as 1000 from D", "corner")
    return Place(side, distance, _cased(words.take("corner")))


def _cased(word: str) -> str:
    """A side or corner of the main roof in capitals; of another block, as wing.left, in small letters."""
    if len(word) <= 2:
        return word.upper()
    return word.lower()


def _sides(words: _Words, names: Sequence[str], pitch: float) -> dict[str, Side]:
    """What stands on the sides that are told: `BC gable`, `end half-hip 1200 50`, `CD 35`."""
    sides: dict[str, Side] = {}
    known = {name.lower(): name for name in names}
    while words.next.lower() in known:
        name = known[words.take("side").lower()]
        words.side = name
        if name in sides:
            raise words.refuse(f"its side {name} is there twice")
        sides[name] = _side(words, pitch)
    words.side = ""
    return {name: sides[name] for name in names if name in sides}


def _side(words: _Words, pitch: float) -> Side:
    kind = words.next.lower()
    if kind not in _COVERS:
        return Side("slope", words.pitch())
    words.take("side")
    if kind in ("gable", "against"):
        return Side(kind)
    lower = words.pitch("lower pitch") if kind == "mansard" else 0.0
    height = 0.0
    if kind in ("half-hip", "mansard"):
        height = words.length("height", least=LEAST)
    own = words.pitch() if words.next[:1].isdigit() else pitch
    if kind == "mansard" and lower <= own:
        raise words.refuse(f"its lower pitch, {as_typed(lower)}, must be steeper than {as_typed(own)} over it")
    return Side("slope" if kind == "hip" else kind, own, height, lower)


def _plate(words: _Words) -> float:
    if not words.keyed("plate"):
        return 0.0
    return words.length("plate", offset_mm)
