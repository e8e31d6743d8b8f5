"""A building as it is put together: a block more, another in its place, or one taken away; each change is proved.

All is done on the text in which a building is kept, so that every word stays as it was typed.
"""

from collections.abc import Iterable, Sequence

from sitelog.geometry.building.named import Roof, roof_of
from sitelog.geometry.building.reading import NAMED, read_building
from sitelog.geometry.building.said import BLOCKS, MAIN, BlockRefusal, Said
from sitelog.geometry.building.words import TYPE
from sitelog.refusal import Refusal
from sitelog.text import clean

DROP = "drop"


def blocks_in(text: str) -> dict[str, str]:
    """Each block's own text by its name, with that name in front. Refusal for what can't be read; none of no text."""
    if not text.strip():
        return {}
    parts = [part.split(maxsplit=1) for part in text.split(";") if part.strip()]
    names = [said.name for said in read_building(text)]
    return {name: " ".join([name, *words[1:]]) for name, words in zip(names, parts, strict=True)}


def said_in(text: str) -> dict[str, Said]:
    """What was said of each block, by its name. Refusal for what can't be read; none of no text."""
    if not text.strip():
        return {}
    return {said.name: said for said in read_building(text)}


def free_name(kind: str, taken: Iterable[str]) -> str:
    """A name for one more block of that kind: wing, then wing2. Of what a roof has once, its own name."""
    names = set(taken)
    if kind not in names or kind not in BLOCKS:
        return kind
    return next(f"{kind}{number}" for number in range(2, 100) if f"{kind}{number}" not in names)


def with_block(text: str, block: str) -> str:
    """The building with a block more, or with another in place of that of its name. Refusal for what can't be."""
    blocks = blocks_in(text)
    name = block.split()[0]
    blocks[name] = block
    return proved(blocks)


def without_block(text: str, name: str) -> str:
    """The building without a block. Refusal for one that isn't there, or that others stand on."""
    blocks = blocks_in(text)
    if name not in blocks:
        there = f"Blocks here: {', '.join(blocks)}" if blocks else "there are none yet"
        raise Refusal(f"No block is called '{clean(name, most=30)}'. {there}")
    on_it = _standing_on(said_in(text), name)
    if on_it:
        raise Refusal(f"{name}: take away what is built on it first: {', '.join(on_it)}")
    del blocks[name]
    return proved(blocks)


def _standing_on(every: dict[str, Said], name: str) -> list[str]:
    if name == MAIN:
        return [other for other in every if other != MAIN]
    return [other for other, said in every.items() if said.place and said.place.side.startswith(f"{name}.")]


def proved(blocks: dict[str, str]) -> str:
    """The text of these blocks. Refusal where they are no roof; no blocks are none yet."""
    text = "; ".join(blocks.values())
    if text:
        roof_of(text)
    return text


def roof_in(text: str) -> Roof | None:
    """The roof of a text; None of an empty one. Refusal for what can't be."""
    return roof_of(text) if text.strip() else None


def built_on(text: str, line: str) -> str:
    """The building after a typed line: blocks with ; between, each one more or in place of that of its name.

    `drop wing` takes one away. A second wing gets a name of its own; what a roof has once takes the place of the first.
    Refusal, with the building as it was, for what can't be.
    """
    word, _, name = line.strip().partition(" ")
    if word.lower() == DROP and not name:
        raise Refusal(f"say which block to take away, such as {DROP} {list(blocks_in(text) or [MAIN])[-1]}")
    if word.lower() == DROP:
        return without_block(text, name.strip().lower())
    for block in filter(None, (part.strip() for part in line.split(";"))):
        text = with_block(text, _with_name(block, list(blocks_in(text))))
    return text


def _with_name(block: str, taken: Sequence[str]) -> str:
    first, *rest = block.split()
    named = NAMED.fullmatch(first.lower())
    if not named or named[2]:
        return block
    kind = named[1]
    name = kind if kind == MAIN else free_name(kind, taken)
    return " ".join([name, *rest])


def refused_words(refusal: Refusal) -> str:
    """A refusal of a block in one line, without how the whole is typed: its form is in front of whoever reads it."""
    if isinstance(refusal, BlockRefusal):
        return f"{called(refusal.block)}: {refusal.what}"
    words = refusal.message.removeprefix("building: ")
    return f"{words[:1].upper()}{words[1:]}"


def called(name: str) -> str:
    """A block's name as people call it: Main roof, Wing 2, Lean-to."""
    named = NAMED.fullmatch(name)
    if not named:
        return name
    word = "Main roof" if named[1] == MAIN else named[1].capitalize()
    return f"{word} {named[2]}" if named[2] else word


def examples() -> list[str]:
    """One line for each kind of block, as it is typed."""
    return list(TYPE.values())
