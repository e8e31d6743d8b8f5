"""What `surface` takes: a plan in words, and what is to be read off the roof over it."""

from collections.abc import Sequence

from sitelog.calculators.catalogue import Inputs, field
from sitelog.calculators.setting_out.verdicts import CLASSES
from sitelog.geometry.read_off.paired import PAIRS
from sitelog.geometry.spacings import WAYS
from sitelog.quantities.quantity import Section, Tie


class PlanInputs(Inputs):
    """A plan, and the lengths taped over it: mm."""

    plan: str = field("text", "points, then blocks of walls, as A 0,0; B 9000,0; main AB 40, BC gable")
    ties: Sequence[Tie] | None = field("ties", "taped lengths between points, to fit the plan to", default=None)
    tape: str = field("choice", "class of the tape", default="II", choices=tuple(CLASSES))


class TimberInputs(Inputs):
    """The timbers of a roof: mm."""

    spacing: float | None = field("length", "rafters, centre to centre; none if left out", default=None, low=50)
    origin: str | None = field(
        "text", "corner that the spacing starts from; each wall's first if left out", default=None
    )
    set_out: str = field(
        "choice",
        "on each slope: from its first end, its last, its middle, evened, or jacks in pairs?",
        default="first",
        choices=(*WAYS, PAIRS),
    )
    laid: str | None = field("text", "blocks laid on the others: their valleys are boards", default=None)
    board: float = field("length", "thickness of the boards of laid valleys", default=0, high=100)
    openings: str | None = field("text", "openings: AB 3000,1000 900x1200; ...", default=None)
    section: Section | None = field("section", "rafters, thickness x depth", default=None)
    hip_section: Section | None = field("section", "hips and valleys, thickness x depth", default=None)
    ridge: float = field("length", "thickness of the ridge", default=0)
    purlins: Sequence[float] | None = field("lengths", "heights of purlins over the datum", default=None)
    collars: Sequence[float] | None = field("lengths", "heights of collars over the datum", default=None)
    struts: float | None = field("length", "struts along a purlin, the most; none if left out", default=None, low=300)
    strut_head: float = field("length", "plumb from the measuring line to the heads of struts", default=0)
    strut_foot: float = field("offset", "height over the datum of what struts stand on", default=0)
    strut_in: float | None = field(
        "length", "level, plate line to the middle of struts' feet; plumb if left out", default=None
    )


class CoveringInputs(Inputs):
    """The covering of a roof: mm, kg."""

    overhang: float = field("length", "covering past the plates at the eaves, level", default=0, high=2000)
    verge: float = field("length", "covering past the gables", default=0, high=2000)
    gauge: float | None = field("length", "gauge of the courses; none if left out", default=None, low=20)
    cover_width: float | None = field("length", "cover width of one slate or tile", default=None, low=20)
    unit_mass: float | None = field("number", "weight of one slate or tile", default=None, over=0, high=1e3, unit="kg")


class ReadInputs(TimberInputs, CoveringInputs):
    """What is to be read off a surface: lengths in mm, weights in kg."""


class SurfaceInputs(PlanInputs, ReadInputs):
    """What `surface` takes: lengths in mm, weights in kg."""
