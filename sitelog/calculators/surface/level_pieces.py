"""Purlins, struts and collars as they are cut: long point to long point, and how a purlin is parted over its struts."""

from collections.abc import Iterator
from itertools import groupby

from sitelog.calculators.catalogue import Inputs, Output, Row, field
from sitelog.calculators.surface.inputs import ReadInputs
from sitelog.calculators.surface.timbers import rafters_of
from sitelog.geometry.building.named import Roof
from sitelog.geometry.building.said import DORMER, LEAN_TO
from sitelog.geometry.read_off.level_members import Collar, MemberEnd, Purlin, collars, purlins
from sitelog.geometry.read_off.struts import Bearing, Strut, struts
from sitelog.geometry.vectors import atan_deg, cos_deg, sin_deg, tan_deg
from sitelog.quantities.quantity import Section
from sitelog.quantities.rounding import as_worked
from sitelog.refusal import Refusal

CUT_TO = ("hip", "valley")  # faces that a purlin's end is cut to; any other end is square
PURLIN_PIECES = (
    Output("n", "", "No."),
    Output("height", "mm", "Height over the main plates"),
    Output("at", "mm", "From, along the wall"),
    Output("length", "mm", "Long point to long point"),
    Output("foot_cut", "deg", "Its first end's face, from square"),
    Output("foot_bevel", "deg", "Its first end's edge, from square"),
    Output("foot_tilt", "deg", "Saw tilt at its first end"),
    Output("head_cut", "deg", "Its other end's face, from square"),
    Output("head_bevel", "deg", "Its other end's edge, from square"),
    Output("head_tilt", "deg", "Saw tilt at its other end"),
    Output("foot_on", "", "First end on", shown=False),
    Output("head_on", "", "Other end on", shown=False),
)
STRUT_PIECES = (
    Output("n", "", "No."),
    Output("height", "mm", "Purlin at"),
    Output("at", "mm", "Mark at, along the wall"),
    Output("length", "mm", "Long point to long point"),
    Output("lean", "deg", "Lean from plumb"),
    Output("foot_cut", "deg", "Foot on the level, from square"),
    Output("head_cut", "deg", "Head to the purlin, from square"),
    Output("long_edge", "", "Long points on", shown=False),
)
COLLAR_PIECES = (
    Output("n", "", "No."),
    Output("between", "", "Between"),
    Output("height", "mm", "Underside over the main plates"),
    Output("at", "mm", "Mark at"),
    Output("length", "mm", "Long point to long point"),
    Output("foot_cut", "deg", "One end, from square"),
    Output("head_cut", "deg", "Other end, from square"),
)


class LevelInputs(Inputs):
    """What purlins, struts and collars are cut from, the engineer's: mm."""

    purlin_section: Section | None = field("section", "purlins, thickness x depth", default=None)
    strut_section: Section | None = field("section", "struts, thickness x depth", default=None)
    seat_to_top: float | None = field("length", "seat to top of the rafters, plumb, for struts", default=None, over=0)
    strut_off: float = field("offset", "struts' feet further in than their heads, level; 0 if plumb", default=0)
    longest: float = field("length", "longest piece of a purlin; a longer one is spliced", default=4800, over=0)
    splice: float = field("length", "length of a purlin's splice, half of it past the strut each way", default=0)
    collar_every: int = field("count", "collars on each pair, each second, each third", default=1, low=1, high=50)


class CutInputs(ReadInputs, LevelInputs):
    """What the cutting list of purlins, struts and collars is made from: mm."""


def purlin_pieces(given: CutInputs, roof: Roof, slope: int) -> list[Row]:
    """Each piece of a slope's purlins: mm and degrees. Refusal for a bay that is longer than a piece can be."""
    pieces = [row for one in _own_purlins(given, roof, slope) for row in _parted(given, roof, one)]
    return [{"n": number, **row} for number, row in enumerate(pieces, 1)]


def _own_purlins(given: CutInputs, roof: Roof, slope: int) -> list[Purlin]:
    """Those of a slope of the main roof, a wing or a bay: a dormer and a lean-to have none."""
    if roof.block_of[slope].startswith((DORMER, LEAN_TO)):
        return []
    return purlins(roof.found, given.purlins or (), slope)


def _parted(given: CutInputs, roof: Roof, purlin: Purlin) -> Iterator[Row]:
    pitch = roof.found.slopes[purlin.slope].pitch
    first, last = (_End.of(end, given, pitch) for end in purlin.ends)
    start, stop = purlin.first + first.short, purlin.last - last.short
    at, joint = start, 0.0
    while stop - at + joint > given.longest:
        over = _last_strut(given, purlin, at, joint)
        yield _piece(purlin, at, over - at + joint + given.splice / 2, first if at == start else SQUARE, SQUARE)
        at, joint = over, given.splice / 2
    yield _piece(purlin, at, stop - at + joint, first if at == start else SQUARE, last)


def _last_strut(given: CutInputs, purlin: Purlin, at: float, joint: float) -> float:
    """The last strut that a piece from there reaches past [mm, along the wall]; Refusal if it reaches none."""
    reach = at + given.longest - joint - given.splice / 2
    bays = purlin.bays(given.struts) if given.struts else 1
    places = [purlin.first + nth / bays * purlin.length for nth in range(1, bays)]
    reached = [place for place in places if at < place <= reach]
    if not reached:
        told = f"{as_worked(purlin.length)} long" if bays == 1 else f"in bays of {as_worked(purlin.length / bays)}"
        raise Refusal(
            f"a purlin {told} needs a strut to splice it over within {as_worked(given.longest)}: ask the engineer for "
            "closer struts, or a longer timber"
        )
    return reached[-1]


def _piece(purlin: Purlin, at: float, length: float, foot: "_End", head: "_End") -> Row:
    return {"height": purlin.height, "at": at, "length": length, **foot.named("foot"), **head.named("head")}


class _End:
    """One end of a purlin: its cuts [deg], and how far its long point is short of the line that it meets [mm]."""

    def __init__(self, on: str, face: float, edge: float, short: float) -> None:
        self.on, self.face, self.edge, self.short = on, face, edge, short

    @classmethod
    def of(cls, end: MemberEnd, given: CutInputs, pitch: float) -> "_End":
        """Cut to the face of a hip or a valley: at a hip the long point is the top arris of the lower face."""
        kind = end.meets.partition(" ")[0]
        if kind not in CUT_TO or end.edge_from_square < 1e-9:
            return SQUARE
        half = given.hip_section.thickness / 2 if given.hip_section else 0.0
        turn = atan_deg(cos_deg(pitch) / tan_deg(end.edge_from_square))
        short = half / sin_deg(turn)
        if kind == "valley" and given.purlin_section:
            own = given.purlin_section
            short -= own.thickness * tan_deg(end.edge_from_square) + own.depth * tan_deg(end.face_from_square)
        return cls(kind, end.face_from_square, end.edge_from_square, short)

    def named(self, end: str) -> Row:
        """The columns of one end."""
        tilt = atan_deg(tan_deg(self.edge) * cos_deg(self.face))
        return {f"{end}_cut": self.face, f"{end}_bevel": self.edge, f"{end}_tilt": tilt, f"{end}_on": self.on}


SQUARE = _End("square", 0.0, 0.0, 0.0)


def strut_pieces(given: CutInputs, roof: Roof, slope: int) -> list[Row]:
    """Each strut of a slope's purlins: mm and degrees. Refusal without a spacing, or for feet over the heads."""
    if given.struts is None:
        raise Refusal("building: with timber=struts also give struts=, such as struts=1800")
    own, pitch = roof.found.slopes[slope], roof.found.slopes[slope].pitch
    found: list[Strut] = []
    for purlin in _own_purlins(given, roof, slope):
        inward = (purlin.height - own.up) / tan_deg(pitch) + given.strut_off if given.strut_off else given.strut_in
        bearing = Bearing(given.struts, _under(given, roof, slope), given.strut_foot, inward)
        found += struts(roof.found, [purlin], bearing)
    return [_strut(given, one, pitch, number) for number, one in enumerate(found, 1)]


def _under(given: CutInputs, roof: Roof, slope: int) -> float:
    """From the measuring line down to a purlin's underside, plumb [mm], the rafters on it not notched."""
    if not (given.seat_to_top and given.section and given.purlin_section):
        return given.strut_head
    deep = given.section.depth + given.purlin_section.depth
    return deep / cos_deg(roof.found.slopes[slope].pitch) - given.seat_to_top


def _strut(given: CutInputs, strut: Strut, pitch: float, number: int) -> Row:
    half = given.strut_section.depth / 2 if given.strut_section else 0.0
    return {
        "n": number,
        "height": strut.purlin.height,
        "at": strut.at,
        "length": strut.length + half * (tan_deg(abs(strut.lean)) + tan_deg(strut.head_cut)),
        "lean": strut.lean,
        "foot_cut": abs(strut.lean),
        "head_cut": strut.head_cut,
        # Both are on the edge towards the ridge but where it leans more than the slope, or out under it.
        "long_edge": "top" if 0 <= strut.lean <= pitch else "across",
    }


def collar_pieces(given: CutInputs, roof: Roof) -> list[Row]:
    """A collar on each n-th pair of rafters at a ridge, at each height: mm and degrees.

    Its underside is at the height, where it is longest; both ends are cut to the tops of the rafters.
    """
    every = [one for one in rafters_of(given, roof.found, [], later=roof.dormers) if one.head.kind == "ridge"]
    laid = [one for one in collars(roof.found, every, given.collars or ()) if _is_of_a_pair(roof, one)]
    laid.sort(key=lambda one: (one.slopes, one.height, one.at))
    kept = [
        one
        for _, alike in groupby(laid, key=lambda one: (one.slopes, one.height))
        for one in [*alike][:: given.collar_every]
    ]
    return [_collar(roof, one, number) for number, one in enumerate(kept, 1)]


def _is_of_a_pair(roof: Roof, collar: Collar) -> bool:
    """Whether it is between the two slopes of a ridge of the main roof, a wing or a bay; from the first of the two."""
    if collar.slopes[0] > collar.slopes[1] or roof.block_of[collar.slopes[0]].startswith((DORMER, LEAN_TO)):
        return False
    return any(line.kind == "ridge" and set(line.between) == set(collar.slopes) for line in roof.found.lines)


def _collar(roof: Roof, collar: Collar, number: int) -> Row:
    one, other = (roof.found.slopes[slope] for slope in collar.slopes)
    return {
        "n": number,
        "between": f"{one.name} and {other.name}",
        "height": collar.height,
        "at": collar.at,
        "length": collar.length,
        "foot_cut": 90 - one.pitch,
        "head_cut": 90 - other.pitch,
    }
