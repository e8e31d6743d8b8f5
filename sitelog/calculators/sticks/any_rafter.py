"""Sticks of any rafter of a slope: by its pitch, its length over all, and the bevels of its two ends."""

from sitelog.calculators.catalogue import Working
from sitelog.calculators.sticks.bench import CutLine, Mark, Rafter
from sitelog.calculators.sticks.inputs import SticksInputs
from sitelog.calculators.sticks.rafters import seat_to_top
from sitelog.calculators.sticks.slopes import FACES
from sitelog.calculators.sticks.straight import Straight
from sitelog.calculators.timber.stick import RAFTER
from sitelog.geometry.vectors import atan_deg, cos_deg, tan_deg
from sitelog.quantities.rounding import as_worked
from sitelog.refusal import Refusal

Backs = dict[str, tuple[float, float]]  # of each face: how far its head and its foot go past the centre's [mm]


def on_a_plate(working: Working, given: SticksInputs) -> Rafter:
    """Plumb at both ends: its birdsmouth and tail over a plate, or its foot cut to the timber it stands on.

    Refusal where a face has no length.
    """
    section, pitch = given.section or RAFTER, given.need("pitch")
    off = _backs(working, given, section.thickness / 2)
    height, heel, tail = _foot(working, given)
    level = working.step(
        "level_run",
        "(length - depth * tan(pitch)) * cos(pitch)",
        length=given.need("length"),
        depth=section.depth,
        pitch=pitch,
    )
    past = max(head for head, _ in off.values()) + max(foot for _, foot in off.values())
    head = working.step(
        "head_in", "level_run - past * cos(pitch) + tail", level_run=level, past=past, pitch=pitch, tail=tail
    )
    cosine = cos_deg(pitch)
    lines = tuple(
        CutLine(name, head + more * cosine, heel, tail - less * cosine, FACES.get(name, 0.0) * section.thickness)
        for name, (more, less) in off.items()
    )
    if min(line.head - max(line.tail, line.heel or line.tail) for line in lines) <= 0:
        raise _nothing_left(given)
    return Rafter(pitch, section.depth, height, lines)


def _foot(working: Working, given: SticksInputs) -> tuple[float, float | None, float]:
    """Seat to top [mm, plumb], and how far in its heel and its tail are, level [mm]; no heel without a plate."""
    if given.foot != "plate":
        return 0.0, None, 0.0
    return seat_to_top(working, given, given.section or RAFTER, given.need("pitch")), 0.0, -given.overhang


def on_a_board(working: Working, given: SticksInputs) -> Straight:
    """Plumb at its head, its foot on the board of a laid valley: `tail_cut` is that foot's cut on its side.

    Refusal where a face has no length.
    """
    section, pitch, length = given.section or RAFTER, given.need("pitch"), given.need("length")
    off = _backs(working, given, section.thickness / 2)
    plumb = working.step("plumb_cut_along", "depth * tan(pitch)", depth=section.depth, pitch=pitch)
    heel = working.step("foot_along", "depth * tan(foot_cut)", depth=section.depth, foot_cut=given.tail_cut)
    head = length - max(more for more, _ in off.values())
    toe = max(less for _, less in off.values())
    marks: list[Mark] = []
    for name, (more, less) in off.items():
        top, foot = head + more, toe - less
        if foot + heel >= top - plumb:
            raise _nothing_left(given)
        marks += [
            Mark(name, "head-top", top, 0.0),
            Mark(name, "head-bottom", top - plumb, section.depth),
            Mark(name, "tail-top", foot, 0.0),
            Mark(name, "tail-bottom", foot + heel, section.depth),
        ]
    marks.sort(key=lambda mark: ("head-top", "head-bottom", "tail-top", "tail-bottom").index(mark.point))
    return Straight(marks, {"plumb_cut_from_square": pitch, "seat_cut_from_square": given.tail_cut, **_told(given)})


def _backs(working: Working, given: SticksInputs, half: float) -> Backs:
    """One face where both ends are square across; else the long face, the centre and the short one."""
    if not given.bevel and not given.tail_bevel:
        return {"face": (0.0, 0.0)}
    head = working.step("head_back", "half * tan(bevel)", half=half, bevel=given.bevel)
    foot = working.step("foot_back", "half * tan(tail_bevel)", half=half, tail_bevel=given.tail_bevel)
    up, down = (-1.0 if side and side != given.hand else 1.0 for side in (given.head_hand, given.tail_hand))
    return {name: (head * up * 2 * part, foot * down * 2 * part) for name, part in FACES.items()}


def _told(given: SticksInputs) -> dict[str, float]:
    """The bevels and tilts of a rafter on a board [deg]: its head is plumb, its foot's tilt follows the cut there."""
    found: dict[str, float] = {}
    if given.bevel:
        back = tan_deg(given.bevel) * cos_deg(given.need("pitch"))
        found |= {"head_bevel_1_from_square": given.bevel, "head_tilt_1": atan_deg(back)}
    if given.tail_bevel:
        back = tan_deg(given.tail_bevel) * cos_deg(given.tail_cut)
        found |= {"tail_bevel_1_from_square": given.tail_bevel, "tail_tilt_1": atan_deg(back)}
    return found


def _nothing_left(given: SticksInputs) -> Refusal:
    length = as_worked(given.need("length"))
    return Refusal(f"sticks: {length} over all, nothing of it is left on its short side. Check length=")
