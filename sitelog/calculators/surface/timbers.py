"""Rafters, purlins and collars as rows: theoretical lengths on the measuring line, cuts, and what to cut them to."""

from typing import Any

from sitelog.calculators.catalogue import Output, Row
from sitelog.calculators.surface.inputs import ReadInputs
from sitelog.geometry.read_off.level_members import Collar, Purlin, collars, purlins
from sitelog.geometry.read_off.openings import Opening, read_openings
from sitelog.geometry.read_off.rafter_ends import RafterEnd
from sitelog.geometry.read_off.rafters import Marks, Rafter, rafters
from sitelog.geometry.surface.surface import Surface
from sitelog.quantities.rounding import as_typed
from sitelog.refusal import Refusal

RAFTERS = (
    Output("slope", "", "Slope"),
    Output("at", "mm", "Mark at"),
    Output("kind", "", "Rafter"),
    Output("foot", "", "Foot on"),
    Output("head", "", "Head to"),
    Output("length", "mm", "Length on the line"),
    Output("cut_length", "mm", "Less hips and ridge"),
    Output("long_point", "mm", "To long point"),
    Output("short_point", "mm", "To short point"),
    Output("foot_edge_from_square", "deg", "edge at the foot, from square", shown=False),
    Output("head_edge_from_square", "deg", "edge at the head, from square", shown=False),
    Output("foot_saw_tilt", "deg", "saw tilt at the foot", shown=False),
    Output("head_saw_tilt", "deg", "saw tilt at the head", shown=False),
)
CUTS = (
    Output("slope", "", "Slope"),
    Output("against", "", "Cut to"),
    Output("side_from_square", "deg", "Side, from square"),
    Output("edge_from_square", "deg", "Edge, from square"),
    Output("saw_tilt", "deg", "Saw tilt on the side's line"),
)
PURLINS = (
    Output("slope", "", "Slope"),
    Output("height", "mm", "Height"),
    Output("at", "mm", "From, along the wall"),
    Output("length", "mm", "Length on the line"),
    Output("first", "", "One end"),
    Output("last", "", "Other end"),
    Output("first_edge_from_square", "deg", "Edge at one end, from square"),
    Output("first_face_from_square", "deg", "Face"),
    Output("last_edge_from_square", "deg", "Edge at the other, from square"),
    Output("last_face_from_square", "deg", "Face"),
)
COLLARS = (
    Output("slope", "", "Slope"),
    Output("onto", "", "Across to"),
    Output("height", "mm", "Height"),
    Output("at", "mm", "Mark at"),
    Output("length", "mm", "Length on the line"),
)
HIPS = ("hip", "valley")


def openings_of(given: ReadInputs, found: Surface) -> list[Opening]:
    """The openings that were typed. Refusal for one that isn't in its slope."""
    return read_openings(given.openings, found) if given.openings else []


def rafters_of(
    given: ReadInputs,
    found: Surface,
    openings: list[Opening],
    only: int | None = None,
    later: tuple[str, ...] = (),
) -> list[Rafter]:
    """Every rafter at the spacing, or those of one slope by its place; none without a spacing.

    Rafters in pairs of the blocks that are `later`, such as dormers, follow those of the others. Refusal for an unknown
    corner or block.
    """
    if given.spacing is None:
        for name, value in (("laid", given.laid), ("openings", given.openings), ("collars", given.collars)):
            if value:
                raise Refusal(f"surface: with {name}= also give spacing=, such as spacing=400")
        return []
    laid = [name.strip().lower() for name in (given.laid or "").split(",") if name.strip()]
    thickness = given.section.thickness if given.section else 0.0
    origin = (given.origin or "").strip().upper()
    marks = Marks(given.spacing, origin, given.set_out, whole=True, thickness=thickness, later=later)
    return rafters(found, marks, openings, laid, only)


def left_of(given: ReadInputs, every: list[Rafter]) -> list[Rafter]:
    """Those of which something is left on their short side: of one at a hip's foot that it stands on the plate."""
    if given.section is None:
        return every
    thickness = given.section.thickness
    return [one for one in every if one.length > thickness and long_and_short(given, one)[1] > 0]


def told_of_tails(given: ReadInputs, found: Surface, every: list[Rafter]) -> tuple[str, ...]:
    """What to know of each mark at a hip's foot where a jack would be all overhang."""
    left = left_of(given, every)
    return tuple(
        f"slope {found.slopes[one.slope].name}: no jack at {as_typed(one.at)}, it would miss the plate. Fix a short "
        "tail to the hip there"
        for one in every
        if one not in left and (one.foot.kind, one.head.kind) == ("eaves", "hip")
    )


def rafter_rows(given: ReadInputs, found: Surface, every: list[Rafter]) -> list[Row]:
    """Lengths [mm] and cuts [deg]."""
    return [
        {
            "slope": found.slopes[rafter.slope].name,
            "at": rafter.at,
            "kind": rafter.kind,
            "foot": rafter.foot.name,
            "head": rafter.head.name,
            "length": rafter.length,
            "cut_length": cut_length(given, rafter),
            **_points(given, rafter),
            "foot_edge_from_square": rafter.foot.cut.edge_from_square,
            "head_edge_from_square": rafter.head.cut.edge_from_square,
            "foot_saw_tilt": rafter.foot.cut.saw_tilt,
            "head_saw_tilt": rafter.head.cut.saw_tilt,
        }
        for rafter in every
    ]


def cut_length(given: ReadInputs, rafter: Rafter) -> float:
    """The length on its centre [mm], less half of what it is cut to."""
    return rafter.length - _off(given, rafter.foot) - _off(given, rafter.head)


def _points(given: ReadInputs, rafter: Rafter) -> Row:
    """The lengths [mm] on its two faces, the longer first, by its section; None without one."""
    longest, shortest = long_and_short(given, rafter) if given.section else (None, None)
    return {"long_point": longest, "short_point": shortest}


def long_and_short(given: ReadInputs, rafter: Rafter) -> tuple[float, float]:
    """The lengths [mm] on its two faces, the longer first, less half of what it is cut to.

    The longer is no more than the slope lets it be: near a corner of the outline another line cuts it off.
    """
    thickness = given.section.thickness if given.section else 0.0
    more = abs(rafter.head.cut.swing - rafter.foot.cut.swing) * thickness / 2
    length = cut_length(given, rafter)
    return max(min(length + more, rafter.most), length), length - more


def _off(given: ReadInputs, end: RafterEnd) -> float:
    """What comes off a rafter [mm] for half the timber that it is cut to, or for the whole board that it stands on."""
    if end.kind in HIPS and given.hip_section is not None:
        return given.hip_section.thickness / 2 * end.cut.back
    if end.kind == "laid valley":
        return given.board * end.cut.back
    if end.kind == "ridge end":  # it stands half a rafter past the point, with the pair of commons
        return given.section.thickness / 2 * end.cut.back if given.ridge and given.section else 0.0
    return given.ridge / 2 * end.cut.back if end.kind == "ridge" else 0.0


def cut_rows(found: Surface, every: list[Rafter]) -> list[Row]:
    """Each cut once [deg]: of the rafters of a slope to a line that they meet, eaves left out."""
    rows: dict[tuple[int, str], Row] = {}
    for rafter in every:
        for end in (rafter.foot, rafter.head):
            if end.kind != "eaves":
                rows[rafter.slope, end.name] = {
                    "slope": found.slopes[rafter.slope].name,
                    "against": end.name,
                    "side_from_square": end.cut.side_from_square,
                    "edge_from_square": end.cut.edge_from_square,
                    "saw_tilt": end.cut.saw_tilt,
                }
    return list(rows.values())


def rafter_shapes(rows: list[Row], every: list[Rafter]) -> list[dict[str, Any]]:
    """The rows with foot and head in space [mm], and the cut on the side at each [deg]."""
    return [
        {
            **row,
            "from": list(rafter.start),
            "to": list(rafter.end),
            "foot_side_from_square": rafter.foot.cut.side_from_square,
            "head_side_from_square": rafter.head.cut.side_from_square,
        }
        for row, rafter in zip(rows, every, strict=True)
    ]


def purlin_rows(found: Surface, every: list[Purlin]) -> list[Row]:
    """Lengths [mm] and bevels [deg]."""
    return [
        {
            "slope": found.slopes[one.slope].name,
            "height": one.height,
            "at": one.first,
            "length": one.length,
            "first": one.ends[0].meets,
            "last": one.ends[1].meets,
            "first_edge_from_square": one.ends[0].edge_from_square,
            "first_face_from_square": one.ends[0].face_from_square,
            "last_edge_from_square": one.ends[1].edge_from_square,
            "last_face_from_square": one.ends[1].face_from_square,
        }
        for one in every
    ]


def collar_rows(found: Surface, every: list[Collar]) -> list[Row]:
    """Lengths [mm], level, from measuring line to measuring line."""
    return [
        {
            "slope": found.slopes[one.slopes[0]].name,
            "onto": found.slopes[one.slopes[1]].name,
            "height": one.height,
            "at": one.at,
            "length": one.length,
        }
        for one in every
    ]


def level_rows(given: ReadInputs, found: Surface, every: list[Rafter]) -> dict[str, tuple[list[Row], list[Any]]]:
    """Purlins and collars as rows, and what they are rows of."""
    laid = purlins(found, given.purlins or ())
    across = collars(found, every, given.collars or ())
    return {"purlins": (purlin_rows(found, laid), laid), "collars": (collar_rows(found, across), across)}
