"""One way out of a measure that is out, and what it moves: lengths in mm, longer is plus."""

from typing import Literal

from msgspec import Struct

Kind = Literal["rack", "as-built", "pack", "ease", "lift", "turn", "move", "level"]
Group = Literal["hips", "jacks", "commons", "ridge"]
GROUPS: tuple[Group, ...] = ("hips", "jacks", "commons", "ridge")


class Act(Struct, frozen=True):
    """What is moved, by how much [mm] and, where that has to be said, to which side."""

    what: str
    by: float
    to: str = ""


class Shift(Struct, frozen=True):
    """How much longer the timbers of one group become than they would be to the drawing: the least and the most."""

    group: Group
    least: float
    most: float


class Remedy(Struct, frozen=True):
    """`courses` is how far they run out over the worst slope, one end against the other; None where none is known.

    `seat` is the deepest birdsmouth that it leaves, with the rafter's depth; it is cut no deeper than a third without
    the engineer. `passes` says whether the check would be inside its limit; None where that isn't its aim.
    """

    kind: Kind
    acts: tuple[Act, ...] = ()
    shifts: tuple[Shift, ...] = ()
    courses: float | None = None
    seat: tuple[float, float] | None = None
    passes: bool | None = None
