"""What formers are asked for: the curve, what is over and under them, their bearers, and the slope these run to."""

from sitelog.calculators.catalogue import Inputs, field
from sitelog.calculators.curves.segments import OneArcInputs
from sitelog.left_out import given_or
from sitelog.quantities.quantity import Section
from sitelog.quantities.rounding import as_typed
from sitelog.refusal import Refusal


class _Layers(Inputs):
    """What is over the bearers and under the formers: mm."""

    sheet: float = field("length", "total thickness of the layers over the bearers", default=0)
    lining: float = field("length", "total thickness of the lining under the former, square to it", default=0)
    former: float = field("length", "depth of the former's ring, along the radius", over=0)
    board: float | None = field(
        "length", "width of board it is cut from; leave out for one whole sheet", default=None, over=0
    )


class _Bearers(Inputs):
    """The bearers and how they are let in: mm."""

    bearer: Section = field("section", "of a bearer, thickness x depth", default=Section(47, 75))
    stance: str = field(
        "choice", "are the bearers' sides square to the curve, or plumb?", default="square", choices=("square", "plumb")
    )
    count: int | None = field("count", "how many bearers; or give spacing", default=None, low=2, high=500)
    spacing: float | None = field("length", "widest centres along the girth; or give count", default=None, over=0)
    end: float | None = field(
        "length", "girth from the end of the bearers' curve to the middle of the first; as far out if left out",
        default=None,
    )  # fmt: skip
    slot: float | None = field("length", "depth of the slot; the bearer's if left out", default=None, over=0)
    joint: str = field(
        "choice",
        "are bearers flush with the former's edge, or proud of it?",
        default="flush",
        choices=("flush", "proud"),
    )
    noggin: float | None = field("length", "depth of the noggins; the bearer's if left out", default=None, over=0)


class _Roof(Inputs):
    """The slope that bearers are cut to: degrees, mm."""

    pitch: float | None = field("pitch", "pitch of the main slope; leave out for no lengths", default=None)
    face: float = field("length", "level, front end of the bearers back to the zero", default=0)


class FormersInputs(OneArcInputs, _Layers, _Bearers, _Roof):
    """What `formers` takes: lengths in mm, angles in degrees."""

    @property
    def slot_deep(self) -> float:
        """How deep the slot is asked for [mm]; Refusal where bearer or former isn't that deep."""
        whole = self.bearer.depth
        deep = given_or(self.slot, whole)
        if deep > whole:
            raise Refusal(
                f"formers: slot is {as_typed(deep)}; it must be at most the bearer's depth, {as_typed(whole)}"
            )
        if deep >= self.former:
            raise Refusal(
                f"formers: slot is {as_typed(deep)}; it must be under the former's depth, {as_typed(self.former)}"
            )
        return deep

    @property
    def proud(self) -> float:
        """How far the bearers' curve is over the former's edge [mm]."""
        if self.joint != "proud":
            return 0.0
        return self.bearer.depth - self.slot_deep
