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


class Change(Struct, frozen=True):
    """One timber by its name in the list, and its length to the drawing and after [mm]."""

    name: str
    before: float
    after: float

    @property
    def by(self) -> float:
        """How much longer it becomes [mm]."""
        return self.after - self.before


class Changes(Struct, frozen=True):
    """How many of all hips, jacks, commons and ridges change by over what timber is cut to [mm], and which most."""

    over: float
    count: int
    of: int
    most: tuple[Change, ...]


class Remedy(Struct, frozen=True):
    """`changes` names what the `shifts` of a whole group leave out; None where the list isn't worked both ways.

    `courses` is how far they run out over the worst slope, one end against the other; None where none is known.

    `seat` is the deepest birdsmouth that it leaves, with the rafter's depth; it is cut no deeper than a third without
    the engineer. `passes` says whether the check would be inside its limit; None where that isn't its aim.
    """

    kind: Kind
    acts: tuple[Act, ...] = ()
    shifts: tuple[Shift, ...] = ()
    changes: Changes | None = None
    courses: float | None = None
    seat: tuple[float, float] | None = None
    passes: bool | None = None
