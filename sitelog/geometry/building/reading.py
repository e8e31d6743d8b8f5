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
    Place,
    Said,
    Side,
)
from sitelog.geometry.building.words import LEAST, TYPE, BlockWords, from_to
from sitelog.geometry.surface.plan_text import MOST_BLOCKS
from sitelog.near import closest, did_you_mean
from sitelog.quantities.reading import angle_deg, length_mm, offset_mm
from sitelog.quantities.rounding import as_typed
from sitelog.refusal import Refusal
from sitelog.text import clean

FLATTEST_SPLAY, STEEPEST_SPLAY = 20.0, 80.0  # deg
MOST_HEIGHTS = 8
NAMED = re.compile(r"(main|wing|bay|lean-to|dormer|sprockets|purlins|collars)([1-9][0-9]?)?")
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
    words = BlockWords(name, kind, rest)
    said = _READERS[kind](words, name)
    words.close()
    return said


# --- each kind ----------------------------------------------------------------------------------------------------


def _main(words: BlockWords, name: str) -> Said:
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


def _wing(words: BlockWords, name: str) -> Said:
    place, size, pitch = _placed(words)
    sides = _sides(words, SIDES, pitch)
    return Said(WING, name, size, pitch=pitch, place=place, sides=sides, plate=_plate(words))


def _bay(words: BlockWords, name: str) -> Said:
    place, size, pitch = _placed(words)
    splay, level = 45.0, False
    while words.next.lower() in ("splay", "level"):
        if words.keyed("level"):
            level = True
            continue
        words.take("splay")
        splay = words.figure("splay", angle_deg)
        if not FLATTEST_SPLAY <= splay <= STEEPEST_SPLAY:
            within = from_to(FLATTEST_SPLAY, STEEPEST_SPLAY)
            raise words.refuse(f"its splay is {as_typed(splay)}; it must be {within} degrees to the wall", "splay")
    return Said(BAY, name, size, pitch=pitch, place=place, splay=splay, level=level, plate=_plate(words))


def _lean_to(words: BlockWords, name: str) -> Said:
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


def _dormer(words: BlockWords, name: str) -> Said:
    place, size, pitch = _placed(words)
    if not words.keyed("cheek"):
        raise words.refuse("its cheek is missing: how high its plates stand over the slope, at its face", "cheek")
    cheek = words.length("cheek", least=LEAST)
    sides = _sides(words, ("end",), pitch)
    if sides.get("end", Side("gable")).kind not in ("gable", "slope"):
        raise words.refuse("its end must be a gable or a hip", "end")
    return Said(DORMER, name, size, pitch=pitch, place=place, sides=sides, cheek=cheek)


def _sprockets(words: BlockWords, name: str) -> Said:
    return Said(SPROCKETS, name, (words.length("length", least=LEAST), 0.0), pitch=words.pitch())


def _heights(words: BlockWords, name: str) -> Said:
    heights: list[float] = []
    while words.next or not heights:
        heights.append(words.length("height", lambda text: length_mm(text.rstrip(",")), least=LEAST))
    if len(heights) > MOST_HEIGHTS:
        raise words.refuse(f"it has {len(heights)} heights; give at most {MOST_HEIGHTS}", "height")
    return Said(words.kind, name, heights=tuple(sorted(set(heights))))


_READERS: dict[str, Callable[[BlockWords, str], Said]] = {
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


def _placed(words: BlockWords) -> tuple[Place, tuple[float, float], float]:
    return _place(words), words.size(), words.pitch()


def _place(words: BlockWords) -> Place:
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


def _sides(words: BlockWords, names: Sequence[str], pitch: float) -> dict[str, Side]:
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


def _side(words: BlockWords, pitch: float) -> Side:
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


def _plate(words: BlockWords) -> float:
    if not words.keyed("plate"):
        return 0.0
    return words.length("plate", offset_mm)
