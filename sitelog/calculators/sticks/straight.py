"""Sticks of timbers without a plate: straight ones, a ridge, a purlin, a firring, a rib's segment and a scarf."""

from collections.abc import Callable, Sequence

from msgspec import Struct

from sitelog.calculators.catalogue import Working
from sitelog.calculators.curves.ribs import Piece
from sitelog.calculators.rafters.hip_cuts import side_of
from sitelog.calculators.rafters.purlin import purlin as purlin_cuts
from sitelog.calculators.sticks.bench import JackMarks, Mark
from sitelog.calculators.sticks.inputs import SticksInputs, section_of
from sitelog.calculators.timber.scarf import Scarf
from sitelog.calculators.timber.stick import RAFTER
from sitelog.quantities.quantity import Section
from sitelog.quantities.rounding import as_typed
from sitelog.refusal import Refusal

Backs = tuple[tuple[str, float], ...]  # the lines of an end, and how far back [mm] its cut is on each


class Straight(Struct, frozen=True):
    """The marks of a timber without a plate, and the angles of its ends by the names of the results [deg]."""

    marks: list[Mark]
    angles: dict[str, float]
    cautions: tuple[str, ...] = ()
    notes: tuple[str, ...] = ()
    jacks: Sequence[JackMarks] = ()


def straight(working: Working, given: SticksInputs) -> Straight:
    """A timber by its length, long point to long point; `ridge` with the centres of its commons marked on it.

    Its head leans as a plumb cut does, its tail likewise, or towards the head's where `ends` says so; a bevel is
    across the thickness, at the head.
    """
    section, length = given.section or RAFTER, given.need("length")
    head = working.step("head_back", "depth * tan(head_cut)", depth=section.depth, head_cut=given.head_cut)
    tail = working.step("tail_back", "depth * tan(tail_cut)", depth=section.depth, tail_cut=given.tail_cut)
    across = working.step("bevel_back", "thickness * tan(bevel)", thickness=section.thickness, bevel=given.bevel)
    if head + across + tail >= length:
        raise Refusal(f"sticks: the cuts take all of a length of {as_typed(length)}. Check length=")
    if any(not 0 <= at <= length for at in given.marks or ()):
        raise Refusal(f"sticks: a mark is off the timber; marks must be from 0 to {as_typed(length)}")
    lines = lines_of(across)
    alike = given.ends == "same"
    marks = [
        *_squared(lines, "head-top", length, 0.0),
        *_squared(lines, "head-bottom", length - head, section.depth),
        *_centres(given.marks or (), length),
        *_squared(_on(lines), "tail-top", tail if alike else 0.0, 0.0),
        *_squared(_on(lines), "tail-bottom", 0.0 if alike else tail, section.depth),
    ]
    return Straight(marks, named_cuts(given.head_cut, given.bevel))


def _squared(lines: Backs, point: str, along: float, down: float) -> list[Mark]:
    """One point on each line, as far back from `along` as the cut is there."""
    return [Mark(line, point, along - back, down) for line, back in lines]


def _on(lines: Backs) -> Backs:
    """The same lines at an end that is square across."""
    return tuple((line, 0.0) for line, _ in lines)


def _centres(places: Sequence[float], length: float) -> list[Mark]:
    """The centres of the commons on a ridge, squared over its top edge."""
    return [Mark("face", f"centre-{number}", length - place, 0.0) for number, place in enumerate(places, 1)]


def lines_of(across: float) -> Backs:
    """The lines of an end, and how far back the cut is on each: one where it is square across."""
    if across:
        return (("long", 0.0), ("centre", across / 2), ("short", across))
    return (("face", 0.0),)


def named_cuts(cut: float, bevel: float) -> dict[str, float]:
    """The cuts of its head by the names of the results [deg]."""
    return {"plumb_cut_from_square": cut, **({"head_bevel_1_from_square": bevel} if bevel else {})}


def purlin(working: Working, given: SticksInputs) -> Straight:
    """A purlin square to its rafters, cut at its head to the hip's upright face, square at its tail.

    Its edge is in the slope, its face square to it; the lines are its lower face and its upper one. `length` is over
    all. The bevels are those of `purlin`.
    """
    section, length = section_of(given.kind, given.section), given.need("length")
    line, side = given.line, side_of("sticks", "side", given.side)
    cuts = purlin_cuts(corner=given.corner, pitch=given.need("pitch"), pitch2=given.pitch2, side=given.side).results
    edge, face = (float(str(cuts[f"{name}_bevel_from_square"])) for name in ("edge", "face"))
    way = 1 if line.plan_angle(side) <= 90 else -1
    over_edge = working.step("edge_back", "thickness * tan(bevel)", thickness=section.thickness, bevel=edge)
    over_face = working.step("face_back", "depth * tan(bevel)", depth=section.depth, bevel=face)
    if over_edge + over_face >= length:
        raise Refusal(f"sticks: its cuts take all of a length of {as_typed(length)}. Check length=")
    backs = {
        (name, point): (over_edge * up + over_face * down) * way
        for name, up in (("lower", 0), ("upper", 1))
        for point, down in (("top", 0), ("bottom", 1))
    }
    first = min(backs.values())
    marks = [
        Mark(name, f"head-{point}", length - back + first, _of(point, section)) for (name, point), back in backs.items()
    ]
    marks.sort(key=lambda mark: mark.point, reverse=True)  # the top edge first
    marks += [
        Mark(name, f"tail-{point}", 0.0, _of(point, section))
        for point in ("top", "bottom")
        for name in ("lower", "upper")
    ]
    return Straight(marks, {"head_bevel_1_from_square": edge, "plumb_cut_from_square": face}, ("hip-engineer",))


def _of(point: str, section: Section) -> float:
    if point != "bottom":
        return 0.0
    return section.depth


def rib(working: Working, given: SticksInputs) -> Straight:
    """One segment of a rib on its board, as `rib` outlines it: outer edge, then inner one; `down` is from the board."""
    radius, depth = given.need("radius"), given.need("rib_depth")
    if depth >= radius:
        raise Refusal(f"sticks: rib_depth is {as_typed(depth)}; it must be under the radius, {as_typed(radius)}")
    if given.arc > 180:
        raise Refusal(f"sticks: a segment of {as_typed(given.arc)} degrees isn't on one board; arc must be at most 180")
    piece = Piece(radius, depth, given.arc)
    chord = working.step("chord_out", "2 * radius * sin(arc / 2)", radius=radius, arc=given.arc)
    points = [(float(str(row["x"])), float(str(row["y"]))) for row in piece.outline()]
    half = len(points) // 2
    names = [f"out-{n}" for n in range(1, half + 1)] + [f"in-{n}" for n in range(1, half + 1)]
    found = zip(names, (*points[:half], *reversed(points[half:])), strict=True)
    marks = [Mark("face", name, chord - x, piece.width - y) for name, (x, y) in found]
    return Straight(marks, {"plumb_cut_from_square": given.arc / 2}, ("joint-engineer",))


def scarf(working: Working, given: SticksInputs) -> Straight:
    """One half of a scarf with the nose at its head, as `scarf` outlines it in its own proportions."""
    section = given.section or RAFTER
    depth = section.depth
    length = working.step("joint_length", "ratio * depth", ratio=given.ratio, depth=depth)
    nib = working.step("nib", "depth / 4", depth=depth)
    hook = working.step("hook", "depth / 8", depth=depth)
    splay = working.step(
        "splay_from_edge",
        "atan2(depth - 2 * nib, joint_length) + asin(hook / hypot(depth - 2 * nib, joint_length))",
        "deg",
        depth=depth,
        nib=nib,
        joint_length=length,
        hook=hook,
    )
    half = Scarf(depth, length, nib, hook, given.wedge, splay)
    if given.wedge > half.bearing or half.depth_left < nib:
        raise Refusal(f"sticks: a gap of {as_typed(given.wedge)} leaves too little of the joint. Give a smaller wedge")
    names = ("nose-bottom", "nose-top", "hook-near", "hook-far", "shoulder-nib", "shoulder-top")
    marks = [Mark("face", name, x, depth - y) for name, (x, y) in zip(names, half.outline[1:], strict=True)]
    return Straight(marks, {"plumb_cut_from_square": 0.0}, ("joint-engineer",))


MAKERS: dict[str, Callable[[Working, SticksInputs], Straight]] = {
    "straight": straight,
    "ridge": straight,
    "rib": rib,
    "scarf": scarf,
}
