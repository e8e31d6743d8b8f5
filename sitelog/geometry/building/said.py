"""What was said of a building, block by block, and the line in which it is kept and printed back.

main 9000x6000 40 BC gable; wing off CD 1000 from D 4000x4000 40 end gable; lean-to off BC 500 from B 3000x2000 15
"""

from collections.abc import Mapping, Sequence

from msgspec import Struct, field

from sitelog.quantities.rounding import as_typed
from sitelog.refusal import Refusal

MAIN, WING, BAY, LEAN_TO, DORMER = "main", "wing", "bay", "lean-to", "dormer"
SPROCKETS, PURLINS, COLLARS = "sprockets", "purlins", "collars"
BLOCKS = (MAIN, WING, BAY, LEAN_TO, DORMER)
KINDS = (*BLOCKS, SPROCKETS, PURLINS, COLLARS)
SIDES = ("left", "end", "right")  # of what is built on to another block, as you face its end
SIDED: Mapping[str, int] = {"octagon": 8, "hexagon": 6}


class BlockRefusal(Refusal):
    """A refusal of one block, by its name. `about` is what of it can't be, as `width` or `BC`; "" where it is all."""

    def __init__(self, block: str, what: str, about: str = "", more: str = "") -> None:
        super().__init__(f"building: {block}: {what}{more}")
        self.block, self.what, self.about = block, what, about


class Side(Struct, frozen=True):
    """What stands on a side: a slope at a pitch [deg]; a gable; against another wall; or a gable or slope that breaks.

    `half-hip` is a gable up to `height` [mm] over the plate and a slope over that; `mansard` a slope at `lower` [deg]
    up to there.
    """

    kind: str
    pitch: float = 0.0
    height: float = 0.0
    lower: float = 0.0

    def said(self) -> str:
        """As it is typed after the side's name."""
        if self.kind == "slope":
            return as_typed(self.pitch)
        if self.kind == "half-hip":
            return f"half-hip {as_typed(self.height)} {as_typed(self.pitch)}"
        if self.kind == "mansard":
            return f"mansard {as_typed(self.lower)} {as_typed(self.height)} {as_typed(self.pitch)}"
        return self.kind


class Place(Struct, frozen=True):
    """Where a block is built on: a side (`CD`, or `wing.left`), and how far [mm] from one of that side's ends."""

    side: str
    distance: float
    corner: str

    def said(self) -> str:
        """As it is typed."""
        return f"off {self.side} {as_typed(self.distance)} from {self.corner}"


class Said(Struct, frozen=True):
    """One block, or sprockets, purlins or collars, as said; mm and degrees.

    `size` is length by width of the main roof, and of any other width by how far it stands out; of a dormer its width
    and how far in from the plate its face stands, level. `shape` is octagon or hexagon, whose size is from side to
    side. `plate` is the plate's height over the main plates, `top` that of a lean-to's upper edge, `cheek` how high a
    dormer's plates stand over the slope at its face.
    """

    kind: str
    name: str
    size: tuple[float, float] = (0.0, 0.0)
    shape: str = ""
    pitch: float = 0.0
    place: Place | None = None
    sides: Mapping[str, Side] = field(default_factory=dict)
    plate: float = 0.0
    top: float | None = None
    cheek: float = 0.0
    splay: float = 45.0
    level: bool = False  # a bay's ridge is level: two more slopes stand square to the wall at its feet
    heights: tuple[float, ...] = ()  # of purlins or collars, over the main plates
    ends: tuple[float, float] | None = None  # of a taped lean-to: how far out its left end is and its right, mm
    up: float | None = None  # of a taped dormer: its plates over the main plates, mm
    taped: bool = False  # whether any of its sizes are off the tape: they are taken as they are

    def said(self) -> str:
        """The block as it is typed."""
        words = [self.name, *([self.place.said()] if self.place else []), self._size()]
        if self.pitch:
            words.append(as_typed(self.pitch))
        words += [f"cheek {as_typed(self.cheek)}"] if self.kind == DORMER else []
        words += [f"{name} {side.said()}" for name, side in self.sides.items()]
        words += self._more()
        words += map(as_typed, self.heights)
        return " ".join(filter(None, words))

    def _size(self) -> str:
        if self.shape:
            return f"{self.shape} {as_typed(self.size[0])}"
        if self.kind == SPROCKETS:
            return as_typed(self.size[0])
        if not self.size[0]:
            return ""
        return "x".join(map(as_typed, self.size))

    def _more(self) -> list[str]:
        more = [f"splay {as_typed(self.splay)}"] if self.kind == BAY else []
        more += ["level"] if self.level else []
        more += [f"top {as_typed(self.top)}"] if self.top is not None else []
        return more + ([f"plate {as_typed(self.plate)}"] if self.plate else [])


def printed(every: Sequence[Said]) -> str:
    """The building in one line, as it is kept: reading it gives the same blocks."""
    return "; ".join(one.said() for one in every)
