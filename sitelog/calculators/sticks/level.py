"""Sticks of purlins, struts and collars by the cuts of both their ends."""

from sitelog.calculators.catalogue import Working
from sitelog.calculators.sticks.bench import Mark
from sitelog.calculators.sticks.inputs import SticksInputs, section_of
from sitelog.calculators.sticks.straight import Straight, named_cuts
from sitelog.calculators.sticks.straight import purlin as purlin_at_a_hip
from sitelog.geometry.vectors import atan_deg, cos_deg, tan_deg
from sitelog.quantities.rounding import as_worked
from sitelog.refusal import Refusal

ARRISES = (("lower", "top"), ("upper", "top"), ("lower", "bottom"), ("upper", "bottom"))
Backs = dict[tuple[str, str], float]  # of each arris, how far back of its furthest point the end is [mm]


def purlin(working: Working, given: SticksInputs) -> Straight:
    """A purlin square to its rafters: by its corner where `pitch` is given, else by the cuts of its two ends.

    At a hip the top arris of its lower face is the longest, at a valley the bottom arris of its upper face.
    """
    if given.pitch is not None:
        return purlin_at_a_hip(working, given)
    length = given.need("length")
    head = _backs(working, given, "head", given.bevel, given.head_cut)
    tail = _backs(working, given, "tail", given.tail_bevel, given.tail_cut)
    if min(length - head[arris] - tail[arris] for arris in ARRISES) <= 0:
        raise _all_taken(length)
    deep = section_of(given.kind, given.section).depth
    marks = [
        Mark(face, f"{end}-{edge}", length - head[face, edge] if end == "head" else tail[face, edge], down)
        for end in ("head", "tail")
        for face, edge in ARRISES
        for down in (deep if edge == "bottom" else 0.0,)
    ]
    angles = {**_end("head", given.bevel, given.head_cut), **_end("tail", given.tail_bevel, given.tail_cut)}
    return Straight(marks, {**named_cuts(given.head_cut, given.bevel), **angles}, ("joint-engineer",))


def _backs(working: Working, given: SticksInputs, end: str, edge: float, face: float) -> Backs:
    section, on = section_of(given.kind, given.section), given.head_on if end == "head" else given.tail_on
    over = working.step(f"{end}_edge_back", "thickness * tan(bevel)", thickness=section.thickness, bevel=edge)
    down = working.step(f"{end}_face_back", "depth * tan(cut)", depth=section.depth, cut=face)
    found = {arris: over * (arris[0] == "upper") + down * (arris[1] == "bottom") for arris in ARRISES}
    if on == "valley":
        return {arris: over + down - back for arris, back in found.items()}
    return found


def _end(end: str, edge: float, face: float) -> dict[str, float]:
    """An end's cuts [deg], where it isn't square."""
    found = {"seat_cut_from_square": face} if end == "tail" and face else {}
    if edge:
        found |= {f"{end}_bevel_1_from_square": edge, f"{end}_tilt_1": atan_deg(tan_deg(edge) * cos_deg(face))}
    return found


def braced(working: Working, given: SticksInputs) -> Straight:
    """A strut or a collar: both ends square across and cut on its face, long points on the edge that `long_edge` names.

    `length` is long point to long point. Refusal where the cuts take all of an edge.
    """
    section, length = section_of(given.kind, given.section), given.need("length")
    head = working.step("head_back", "depth * tan(head_cut)", depth=section.depth, head_cut=given.head_cut)
    tail = working.step("tail_back", "depth * tan(tail_cut)", depth=section.depth, tail_cut=given.tail_cut)
    if head + tail >= length:
        raise _all_taken(length)
    head_long_on_top = given.long_edge != "bottom"
    tail_long_on_top = given.long_edge == "top"
    marks = [
        Mark("face", "head-top", length - head * (not head_long_on_top), 0.0),
        Mark("face", "head-bottom", length - head * head_long_on_top, section.depth),
        Mark("face", "tail-top", tail * (not tail_long_on_top), 0.0),
        Mark("face", "tail-bottom", tail * tail_long_on_top, section.depth),
    ]
    cuts = {"plumb_cut_from_square": given.head_cut, "seat_cut_from_square": given.tail_cut}
    return Straight(marks, cuts, ("joint-engineer",))


def _all_taken(length: float) -> Refusal:
    return Refusal(f"sticks: its cuts take all of a length of {as_worked(length)}. Check length=")
