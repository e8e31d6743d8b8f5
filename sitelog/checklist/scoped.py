"""What a copy of a list's row stands for: one line, slope, side or block of a roof, and what its facts are called."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence

from msgspec import Struct

TYPE_CHECKING = False  # whoever has lines of a roof has loaded its geometry
if TYPE_CHECKING:
    from sitelog.geometry.building.named import Named

BUILDING, TAPED = "building", "taped"  # the facts that say the roof, and its plates as taped
LAID = "laid"  # the fact that names the blocks laid on the others
CARRIED, OF_CARRIED = "carried", "block_taped_"  # the fact that holds what is taped of lean-tos and dormers; its facts
OF_PATTERN = "line_cut_"  # of facts that are those of the pattern which a slope is cut to; a line's end in _1 or _2
BLOCKS = ("blocks", "lean-tos", "dormers")  # the words of EACH that are blocks, in the order of work
SCOPED = ("line_", "block_")


class Scope(Struct, frozen=True):
    """What one copy stands for: a line, slope or side (`line`) and a block by their ids, with the line's name.

    `owners` are the blocks whose slopes it lies between.
    """

    named: Named
    line: str
    block: str
    owners: tuple[str, ...]

    @property
    def is_block(self) -> bool:
        """Whether it stands for a whole block."""
        return not self.line


def scope_of(named: Named) -> Scope:
    """What a copy for that line, slope, side or block stands for."""
    is_block = any(word in BLOCKS for word in named.each)
    return Scope(named, "" if is_block else named.id, named.block, named.blocks or (named.block,))


def called(named: Named) -> str:
    """What it is called in front of a question: Hip AB-BC, Slope AB, Main roof."""
    return f"Slope {named.name}" if "slopes" in named.each else named.name


def of_words(named: Iterable[Named], words: Sequence[str]) -> Iterator[Named]:
    """Those under any of the words of EACH."""
    return (one for one in named if any(word in one.each for word in words))


def fact_name(name: str, scope: Scope) -> str:
    """The fact's own name there: `line_length` of Valley CD-EF is `valley_cd_ef_length`."""
    for prefix, own in zip(SCOPED, (scope.line, scope.block), strict=True):
        if name.startswith(prefix) and own:
            return f"{own.replace('-', '_')}_{name.removeprefix(prefix)}"
    return name
