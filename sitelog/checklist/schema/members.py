"""What timber a part is made of: where each section, length and cut of its cutting list comes from."""

from collections.abc import Mapping
from typing import Literal

from msgspec import Struct, field

from sitelog.checklist.schema.terms import Condition, Operand, Term


class Taken(Struct, frozen=True):
    """Where a figure of a member comes from: an operand, or the path of a result of its calculator."""

    operand: Operand | None = None
    path: str = ""


class EndSpec(Struct, frozen=True):
    """The cuts of one end of a member, from square; left out, a square cut. `pair` is half of each hand."""

    cut: Taken | None = None  # across the face: the plumb cut
    seat: Taken | None = None  # of the birdsmouth there
    bevel: Taken | None = None  # across the top edge
    bevel_2: Taken | None = None  # the other cheek, where both sides are cut
    tilt: Taken | None = None  # of the saw, following the plumb line on the face
    tilt_2: Taken | None = None
    hand: Literal["", "left", "right", "pair"] = ""
    hand_of: str = ""  # in its place, the path of a result that says it
    called: str = ""  # the cut across the face, where it is no plumb cut

    @property
    def figures(self) -> Mapping[str, Taken]:
        """The cuts that are given, by name."""
        cuts = {name: getattr(self, name) for name in ("cut", "seat", "bevel", "bevel_2", "tilt", "tilt_2")}
        return {name: taken for name, taken in cuts.items() if taken}


class Shown(Struct, frozen=True):
    """A result told beside a member, where its condition holds: its mark on the plate, the backing of a hip."""

    of: str
    when: Condition | None = None


class JointSpec(Struct, frozen=True):
    """How a member is joined of several, where its condition holds: what a joint laps, and in how many at least."""

    lap: Operand
    pieces: Operand = Operand("is", (Term("value", value=1.0),))
    when: Condition | None = None


class MemberSpec(Struct, frozen=True):
    """A kind of timber of the part, for the cutting list and the order.

    A length taken from a column of rows (`rows.length_long_point`) is a member for each row. `left_out` says in its
    place what the list can't hold, and why.
    """

    id: str
    says: str
    section: Operand | None = None
    length: Taken | None = None
    adds: Operand | None = None  # to each length: a tail, a lap, a bearing
    count: Taken = Taken(Operand("is", (Term("value", value=1.0),)))
    calculator: str = ""
    inputs: Mapping[str, Operand] = field(default_factory=dict)
    head: EndSpec = EndSpec()
    foot: EndSpec = EndSpec()
    shows: tuple[Shown, ...] = ()
    grade: Operand | None = None  # strength class, for the mass
    when: Condition | None = None
    left_out: str = ""
    thin: Taken | None = None  # a taper's two ends: it is ripped from the yard's next section over the thick one
    thick: Taken | None = None
    each: tuple[str, ...] = ()  # words of EACH: there is one for each such line or block of the roof
    tried: str = ""  # the check, as stage.check, where the first is tried; till it is, no other is cut
    after: tuple[str, ...] = ()  # checks where another is tried first; till all are, none of this is cut
    joint: JointSpec | None = None  # an order then takes it in pieces that a stick holds
    nested: bool = False  # two are ripped head to foot from one stick where that takes less timber
    stick: Operand | None = None  # the one section of the yard's that a taper is ripped from
