"""How a curved rib is made up from straight boards: segments, their cuts, and layers that break joints."""

import math

from msgspec import Struct

from sitelog.calculators.catalogue import MOST_ROWS, Inputs, Outcome, Output, Row, Working, calculator, field
from sitelog.calculators.coverings.coursing import whole
from sitelog.geometry.vectors import cos_deg, sin_deg
from sitelog.quantities.quantity import show_angle
from sitelog.quantities.rounding import as_typed
from sitelog.refusal import Refusal

_PARTS = 6  # straight parts that stand for each edge of a segment in its outline
_WIDEST = 180.0  # deg: past half a circle a segment no longer lies across its board


class Piece(Struct, frozen=True):
    """One segment of a rib: outer radius and depth [mm], and its angle [deg]."""

    radius: float
    depth: float
    angle: float

    @property
    def inner(self) -> float:
        """The inner radius [mm]."""
        return self.radius - self.depth

    @property
    def width(self) -> float:
        """The board it takes [mm]: from the chord of its inner edge to the crown of its outer one."""
        return self.radius - self.inner * cos_deg(self.angle / 2)

    def outline(self) -> list[Row]:
        """Round the piece, outer edge left to right and inner edge back; x along the board and y across, mm."""
        turns = [self.angle * (part / _PARTS - 0.5) for part in range(_PARTS + 1)]
        round_it = [(self.radius, turn) for turn in turns] + [(self.inner, turn) for turn in reversed(turns)]
        left, low = self.radius * sin_deg(self.angle / 2), self.inner * cos_deg(self.angle / 2)
        return [
            {"n": n, "x": left + radius * sin_deg(turn), "y": radius * cos_deg(turn) - low}
            for n, (radius, turn) in enumerate(round_it, 1)
        ]


class RibInputs(Inputs):
    """What `rib` takes: lengths in mm, angles in degrees."""

    radius: float = field("length", "radius of the outside edge", over=0)
    depth: float = field("length", "depth of the finished rib", over=0)
    board: float = field("length", "width of the board it is cut from", over=0)
    arc: float = field("angle", "angle of the whole rib", default=180, over=0)
    lap: float = field(
        "fraction",
        "how far apart the joints of two layers are, as a fraction of a segment",
        default=0.5,
        low=0.05,
        high=0.5,
    )
    ribs: int = field("count", "alike", default=1, low=1, high=500)


@calculator(
    "rib",
    RibInputs,
    branch="curves",
    does="A curved rib built up from boards: segments, mitre, layers and boards",
    results=(
        Output("segment_angle", "deg", "largest segment that fits the board"),
        Output("segments", "", "segments in a layer"),
        Output("angle_each", "deg", "angle of each segment"),
        Output("chord_out", "mm", "chord of the outside edge"),
        Output("chord_in", "mm", "chord of the inside edge"),
        Output("mitre_from_square", "deg", "mitre at each end, from square"),
        Output("board_used", "mm", "width of board each uses"),
        Output("layers", "", "layers with staggered joints"),
        Output("lap_length", "mm", "joints apart, along the outside edge"),
        Output("pieces", "", "segments to cut for one rib"),
        Output("board_length", "m", "board for one rib"),
        Output("pieces_all", "", "segments to cut for all ribs"),
        Output(
            "outline",
            "",
            "one segment on its board",
            (Output("n", "", "point"), Output("x", "mm", "along"), Output("y", "mm", "up from the edge")),
        ),
    ),
    basis="geometry; joints staggered by half a segment: common practice",
    definition=(
        "Radius is to the outside edge of the rib. Each segment is cut from a board as wide as from the chord of "
        "its inside edge to the crown of its outside edge. Its ends are cut on lines to the centre, and the "
        "mitre is from square to the chord. layers is the most you can fix with every joint at least lap of a "
        "segment from any other. Length of board is long point to long point, without saw cuts."
    ),
    example="radius=900 depth=75 board=150",
)
def rib(given: RibInputs) -> Outcome:
    """Lengths in mm, board in m, angles in degrees; outline as points round one segment.

    Raises Refusal if the depth leaves no curve, or the board no room for one.
    """
    working = Working()
    largest = _largest(working, given.radius, given.depth, given.board, given.arc)
    count = whole(given.arc / largest)
    if count > MOST_ROWS:
        raise Refusal(f"rib: board is {as_typed(given.board)}; that is {count} segments. Use a wider board")
    working.note("segments", "rounded up to whole segments, so none is too wide for its board", count, "")
    piece = Piece(
        given.radius, given.depth, working.step("angle_each", "arc / segments", "deg", arc=given.arc, segments=count)
    )
    results = _cuts(working, piece)
    layers = math.floor(round(1 / given.lap, 9))
    working.note("layers", "the most that keep every joint at least a lap from any other", layers, "")
    numbers = {"lap": given.lap, "radius": given.radius, "angle_each": piece.angle, "pi": math.pi}
    apart = working.step("lap_length", "lap * radius * angle_each * pi / 180", **numbers)
    pieces = working.step("pieces", "segments * layers", "", segments=count, layers=layers)
    long = working.step("board_length", "pieces * chord_out / 1000", "m", pieces=pieces, chord_out=results["chord_out"])
    every = working.step("pieces_all", "pieces * ribs", "", pieces=pieces, ribs=given.ribs)
    return Outcome(
        {
            "segment_angle": largest,
            "segments": count,
            "angle_each": piece.angle,
            **results,
            "layers": layers,
            "lap_length": apart,
            "pieces": pieces,
            "board_length": long,
            "pieces_all": every,
            "outline": piece.outline(),
        },
        working,
        cautions=("joint-engineer",),
        notes=_notes(piece),
    )


def _largest(working: Working, radius: float, depth: float, board: float, arc: float) -> float:
    """The largest angle [deg] of a segment that the board holds, no more than the whole rib or half a circle."""
    if depth >= radius:
        raise Refusal(
            f"rib: depth is {as_typed(depth)}; it must be under the radius, {as_typed(radius)}, to leave an inside edge"
        )
    if board <= depth:
        raise Refusal(
            f"rib: board is {as_typed(board)}; it must be wider than the rib is deep, {as_typed(depth)}, to fit "
            "any curve"
        )
    most = min(arc, _WIDEST)
    if radius - (radius - depth) * cos_deg(most / 2) <= board:
        return working.note("segment_angle", "the whole rib fits the board", most, "deg")
    numbers = {"radius": radius, "board": board, "depth": depth}
    return working.step("segment_angle", "2 * acos((radius - board) / (radius - depth))", "deg", **numbers)


def _cuts(working: Working, piece: Piece) -> dict[str, float]:
    turn = {"angle_each": piece.angle}
    out = working.step("chord_out", "2 * radius * sin(angle_each / 2)", radius=piece.radius, **turn)
    size = {"radius": piece.radius, "depth": piece.depth, **turn}
    inside = working.step("chord_in", "2 * (radius - depth) * sin(angle_each / 2)", **size)
    used = working.step("board_used", "radius - (radius - depth) * cos(angle_each / 2)", **size)
    mitre = working.step("mitre_from_square", "angle_each / 2", "deg", **turn)
    return {"chord_out": out, "chord_in": inside, "mitre_from_square": mitre, "board_used": used}


def _notes(piece: Piece) -> tuple[str, ...]:
    return (
        (
            f"The grain runs out by {show_angle(piece.angle / 2)} at the ends of each segment: no knots there, and "
            "no screws in the short grain (common practice)"
        ),
        "Start the second layer with part of a segment and end it with the rest of the same one",
    )
