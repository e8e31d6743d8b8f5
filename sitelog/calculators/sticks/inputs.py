"""What a stick is asked for: the figures of the calculator of its kind, and where the tape hooks."""

from collections.abc import Sequence

from sitelog.calculators.catalogue import Inputs, field
from sitelog.calculators.rafters.birdsmouth import DEEPEST, TIED
from sitelog.calculators.rafters.hip_cuts import FLATTEST, SIDES, STEEPEST
from sitelog.calculators.rafters.valleys.laid import BOARD
from sitelog.calculators.sticks.bench import End
from sitelog.calculators.timber.stick import HIP, RAFTER
from sitelog.geometry.hip_line import HipLine
from sitelog.quantities.quantity import Section
from sitelog.quantities.rounding import places
from sitelog.refusal import Refusal

KINDS = (
    *("common", "hip", "jack", "valley", "valley-board", "cripple"),
    *("rafter", "straight", "ridge", "purlin", "strut", "collar", "firring", "rib", "scarf"),
)
TWO = ("left", "right")
SECTIONS = {
    "hip": HIP,
    "valley": HIP,
    "valley-board": BOARD,
    "purlin": Section(75, 225),
    "strut": Section(75, 100),
}  # where nobody says; of any other kind RAFTER
ASK = {  # what to type for a figure that a kind can't do without
    "pitch": "pitch=35",
    "run": "run=3000",
    "at": "at=900",
    "common_height_above_plate": "common_height_above_plate=122",
    "length": "length=3000",
    "between": "between=2400",
    "thin": "thin=20",
    "thick": "thick=110",
    "radius": "radius=900",
    "rib_depth": "rib_depth=75",
}


def section_of(kind: str, given: Section | None) -> Section:
    """The section of that kind [mm], as it was given or as it is where nobody says."""
    return given or SECTIONS.get(kind, RAFTER)


class RafterInputs(Inputs):
    """A rafter's own figures: lengths in mm, angles in degrees."""

    pitch: float | None = field("pitch", "pitch, of side 1 at a corner", default=None, low=FLATTEST, high=STEEPEST)
    run: float | None = field("length", "of the common, plate's edge to centre of ridge or table", default=None, over=0)
    ridge: float = field("length", "thickness of the ridge", default=0)
    section: Section | None = field("section", "thickness x depth; 47x150, a hip or valley 47x225", default=None)
    overhang: float = field("length", "level, square to its plate, out to the plumb cut of the tail", default=0)
    birdsmouth: float = field("fraction", "its depth, as a fraction of the rafter's", default=DEEPEST)
    plate: float | None = field(
        "length", "width of the wall plate; a birdsmouth's seat is cut no longer", default=None, over=0
    )
    tied: str | None = TIED
    common_height_above_plate: float | None = field(
        "length", "seat to top of the commons, plumb; from the birdsmouth if left out", default=None, over=0
    )


class CornerFigures(Inputs):
    """What a timber at a corner is asked for beside: lengths in mm, angles in degrees."""

    corner: float = field("angle", "angle between the plates, on plan", default=90, over=0, under=180)
    pitch2: float | None = field(
        "pitch", "pitch of side 2; the same as side 1 if left out", default=None, low=FLATTEST, high=STEEPEST
    )
    ridge_side: int = field("count", "which side the ridge runs along, 1 or 2", default=1)
    head: str = field(
        "choice",
        "of a hip: pointed at a ridge, hollow at a table, or square?",
        default="pointed",
        choices=("pointed", "hollow", "square"),
    )
    heel: str = field("choice", "of a hip: cut to both plates, or square?", default="v", choices=("v", "clipped"))
    top: str = field("choice", "of a hip: dropped, or backed?", default="dropped", choices=("dropped", "backed"))
    side: int = field("count", "which side of the corner: 1 on the left from outside, 2 on the right", default=1)
    at: float | None = field(
        "length", "of a jack or cripple: its centre, along the plate from the corner", default=None, over=0
    )
    jacks: Sequence[float] | None = field(
        "lengths", "of a hip: centres of its jacks along plate 1, from the corner", default=None
    )
    jacks2: Sequence[float] | None = field("lengths", "the same along plate 2; as plate 1 if left out", default=None)
    hip_thickness: float = field("length", "thickness of the hip or valley it meets", default=47)
    on: str = field(
        "choice",
        "is the jack cut against a hip, a valley or the board of a laid valley?",
        default="hip",
        choices=("hip", "valley", "laid"),
    )
    board: float = field("length", "thickness of the board of a laid valley", default=25)


class StraightFigures(Inputs):
    """What a timber without a plate is asked for: lengths in mm, angles in degrees."""

    between: float | None = field(
        "length", "of a cripple: along the plate, the hip's corner to the valley's", default=None, over=0
    )
    length: float | None = field("length", "of a timber without a plate, over all", default=None, over=0)
    head_cut: float = field("angle", "of a straight timber: across the face, from square", default=0, under=90)
    tail_cut: float = field("angle", "the same at its tail", default=0, under=90)
    ends: str = field(
        "choice",
        "of a straight timber: do its two cuts lean one way, or towards each other?",
        default="same",
        choices=("same", "towards"),
    )
    bevel: float = field("angle", "across its thickness at the head, from square", default=0, under=90)
    tail_bevel: float = field(
        "angle", "of a rafter: across its thickness at the tail, from square", default=0, under=90
    )
    hand: str = field("choice", "of a rafter: its long face, seen from its foot", default="left", choices=TWO)
    head_hand: str | None = field(
        "choice", "the side its head's long point is on; as its long face if left out", default=None, choices=TWO
    )
    tail_hand: str | None = field(
        "choice", "the side its foot's long point is on; as its long face if left out", default=None, choices=TWO
    )
    foot: str = field(
        "choice",
        "of a rafter: foot on a plate, plumb, or on a board?",
        default="plate",
        choices=("plate", "plumb", "board"),
    )
    head_on: str = field("choice", "a purlin's head is cut to", default="hip", choices=("hip", "valley", "square"))
    tail_on: str = field("choice", "a purlin's tail is cut to", default="hip", choices=("hip", "valley", "square"))
    long_edge: str = field(
        "choice",
        "of a strut or collar: edge its long points are on; across: its head's on top, its tail's on the bottom",
        default="top",
        choices=("top", "bottom", "across"),
    )
    marks: Sequence[float] | None = field("lengths", "of a ridge: centres of its commons from the head", default=None)
    thin: float | None = field("length", "of a firring: its thin end", default=None)
    thick: float | None = field("length", "of a firring: its thick end, at its long point", default=None, over=0)
    radius: float | None = field("length", "of a rib: radius of its outside edge", default=None, over=0)
    rib_depth: float | None = field("length", "of a rib: how deep it is", default=None, over=0)
    arc: float = field("angle", "of a rib: the angle of one segment", default=45, over=0)
    ratio: float = field("number", "of a scarf: its length over its depth", default=3, low=2, high=10)
    wedge: float = field("length", "of a scarf: the gap for the wedges, along", default=20, over=0)


class FirringFigures(Inputs):
    """The cut ends of a firring of a deck that falls to all edges, as `hipped-falls` has them: mm, degrees."""

    left: float | None = field("length", "of a firring: its thin end to its cut, on its left arris", default=None)
    middle: float | None = field("length", "the same on its centre", default=None)
    right: float | None = field("length", "the same on its right arris", default=None)
    turn_across: float | None = field(
        "offset", "where that cut changes direction: across from its centre, plus to the right", default=None
    )
    turn_along: float | None = field("length", "and how far from its thin end", default=None, over=0)
    bevel2: float | None = field(
        "angle", "of that cut next to the right arris, where bevel is for the left", default=None, under=90
    )
    point_back: float = field("length", "of a diagonal: its thin end's arrises behind its tip", default=0)


class SticksInputs(RafterInputs, CornerFigures, StraightFigures, FirringFigures):
    """What `sticks` takes: lengths in mm, angles in degrees."""

    kind: str = field("choice", "what is it?", default="common", choices=KINDS)
    zero: str = field("choice", "does the tape hook at the head or the tail?", default="head", choices=("head", "tail"))
    nick: float = field("length", "how far outside that end it hooks", default=0)

    @property
    def end(self) -> End:
        """The end that the tape hooks at."""
        return "head" if self.zero == "head" else "tail"

    def need(self, name: str) -> float:
        """A figure that this kind can't do without; Refusal that says what to type where it is left out."""
        value = getattr(self, name)
        if value is None:
            article = "an" if self.kind[0] in "aeiou" else "a"
            raise Refusal(f"sticks: {article} {self.kind} needs {name}. Add {ASK[name]}")
        return float(value)

    @property
    def line(self) -> HipLine:
        """The line in which the slopes of both sides meet."""
        pitch = self.need("pitch")
        return HipLine(self.corner, pitch, self.pitch2 or pitch)

    def met(self, line: HipLine) -> HipLine:
        """The line, where both slopes have rafters to it. Refusal at a plan angle of 90 or more."""
        for side in SIDES:
            angle = line.plan_angle(side)
            if angle > 90 - 1e-9:
                raise Refusal(
                    f"sticks: at {places(angle, 1)} degrees on plan the line runs away from side {side}. "
                    "Check corner=, pitch= and pitch2="
                )
        return line
