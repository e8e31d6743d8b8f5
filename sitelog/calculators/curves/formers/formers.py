"""The calculator `formers`: a curved head on formers, with straight bearers let into their edges."""

from collections.abc import Sequence
from itertools import pairwise

from sitelog.calculators.catalogue import MOST_ROWS, Outcome, Output, Result, Row, Working, calculator
from sitelog.calculators.coverings.coursing import whole
from sitelog.calculators.curves.formers.bearers import BEARERS, NOGGINS, bearer_row, noggin_row
from sitelog.calculators.curves.formers.curve import Bearer, Curves, Slot, bearer_at, left_under, outermost, slot_of
from sitelog.calculators.curves.formers.inputs import FormersInputs
from sitelog.calculators.curves.formers.pieces import PIECES, told_pieces
from sitelog.calculators.curves.formers.template import DUST, JOINTS, SLOTS, Template, slotted
from sitelog.calculators.curves.slope_lines import check_reach
from sitelog.left_out import given_or
from sitelog.quantities.rounding import as_typed, as_worked
from sitelog.refusal import Refusal

OUTLINE = Output(
    "outline",
    "",
    "Round the former, clockwise",
    (Output("n", "", "Point"), Output("x", "mm", "From its left end"), Output("y", "mm", "Over the springing")),
    shown=False,
)
ENGINEER = "Where a former carries the roof, its depth, its slots and its joints are the engineer's"
PLUMB = "Plumb bearers carry the sheet on one arris each; their slots are deeper on the side to the crown"
PLAY = "Slots are as wide as a bearer is thick: add play by hand"


@calculator(
    "formers",
    FormersInputs,
    branch="curves",
    does="A curved dormer on formers: bearers, slots, noggins and the former",
    results=(
        Output("bearer_radius", "mm", "Radius over the bearers"),
        Output("former_radius", "mm", "Radius of the former's edge"),
        Output("inside_radius", "mm", "Radius of its inside edge"),
        Output("ceiling_radius", "mm", "Radius of the ceiling"),
        Output("ceiling_width", "mm", "Ceiling's width at springing"),
        Output("ceiling_height", "mm", "Springing to ceiling's crown"),
        Output("girth", "mm", "Girth over the bearers"),
        Output("count", "", "Bearers"),
        Output("centres", "mm", "Centres, along the girth"),
        Output("former_width", "mm", "Former's width at springing"),
        Output("left_under_slot", "mm", "Former left under a slot"),
        Output("face_area", "m2", "Face of one former"),
        *PIECES,
        Output("bearers", "", "Bearers, lengths level", BEARERS),
        Output("slots", "", "Slots, x from the former's left end", SLOTS),
        Output("noggins", "", "Noggins, left to right", NOGGINS),
        Output("joints", "", "Joints, x from the former's left end", JOINTS),
        OUTLINE,
    ),
    basis="geometry: straight bearers in a circle, cut by the plane of the main slope",
    definition=(
        "Bearers are level and run square to the face. Their curve is the outside less the sheet. A bearer is as high "
        "as it goes with none of its flat top outside that curve. Square: its sides are along the radius at its "
        "middle. Plumb: its top is level, and bears on the arris away from the crown. Centres are equal along the "
        "girth of the bearers' curve. Flush: the former's edge is that curve, and a bearer deeper than its slot is "
        "notched from beneath. Proud: bearers are whole, and the former's edge is lower. A slot's floor is square to "
        "its sides. Lean and joints are from plumb, plus to the right. Bearers are marked from the left end of the "
        "OUTSIDE; x on a former is from its own left end; all heights are from the springing. Lengths are level, from "
        "the front end to the main slope, a plane through the zero, face mm behind it; put the top of what they "
        "sit on there. Bearers left and right of the crown are two hands. Cuts are from square on that face; a tilt "
        "is the saw's when its line is followed. Noggins fit the bearers' sides; the first is between bearers 1 and "
        "2. Pieces are equal, jointed along the radius. An eyebrow keeps ribs: formers are for one arc."
    ),
    example="radius=900 sheet=18 lining=15 former=170 count=7 pitch=45 board=300",
)
def formers(given: FormersInputs) -> Outcome:
    """Lengths in mm, cuts in degrees. Refusal where a slot leaves nothing, bearers touch, or a side has no slot.

    Source: geometry; by its definition alone.
    """
    working = Working()
    curves, half_out = _curves(working, given)
    bearers = _bearers(working, given, curves)
    slots = _slots(given, curves, bearers)
    least = min(left_under(curves, slot) for slot in slots)
    if least <= 0:
        raise Refusal("formers: a slot leaves nothing of the former under it. Give a smaller slot= or a larger former=")
    template = Template(curves, tuple(slots))
    slot_rows = [template.slot_row(n, slot) for n, slot in enumerate(slots, 1)]
    results: dict[str, Result] = {
        **_sizes(working, curves),
        "count": len(bearers),
        "centres": _centres(working, given, curves, len(bearers)),
        "left_under_slot": working.note(
            "left_under_slot", "the thinnest, from a slot's floor to the inside edge", least
        ),
        "face_area": working.note("face_area", "between the edges, slots out", template.area() / 1e6, "m2"),
        "bearers": [bearer_row(n, one, half_out, given.pitch, given.face) for n, one in enumerate(bearers, 1)],
        "slots": slot_rows,
        "noggins": _noggins(given, bearers),
        "outline": template.outline(),
    }
    joints: list[Row] = []
    if given.board is not None:
        told = told_pieces(working, given, curves)
        joints = template.joint_rows(int(told["pieces"]))
        results |= {**told, "joints": joints}
    cautions = ("joint-engineer",) if joints else ()
    notes = (*_loose(slots[0]), *_under(slots), *_notes(given, slotted(joints, slot_rows)))
    return Outcome(results, working, cautions=cautions, notes=notes)


def _curves(working: Working, given: FormersInputs) -> tuple[Curves, float]:
    """The curves, and half the width of the OUTSIDE [mm]; Refusal where the layers leave no ceiling."""
    outside = given.outside("formers", working)
    proud = given.proud
    bearer = working.step("bearer_radius", "radius - sheet", radius=outside.radius, sheet=given.sheet)
    former = working.step("former_radius", "bearer_radius - proud", bearer_radius=bearer, proud=proud)
    inside = working.step("inside_radius", "former_radius - former", former_radius=former, former=given.former)
    ceiling = working.step("ceiling_radius", "inside_radius - lining", inside_radius=inside, lining=given.lining)
    taken = outside.radius - ceiling
    if taken >= outside.rise:
        raise Refusal(
            f"formers: sheet, former and lining take {as_worked(taken)}; it must be under the rise, "
            f"{as_typed(outside.rise)}, to leave a ceiling"
        )
    if given.pitch is not None:
        check_reach("formers", outside.rise, given.pitch)
    return Curves(outside.centre_below, bearer, former, inside, ceiling), outside.chord / 2


def _sizes(working: Working, curves: Curves) -> dict[str, float]:
    """The sizes that follow from the curves alone [mm]."""
    wide = "2 * sqrt((radius - centre_below) * (radius + centre_below))"
    ceiling = {"radius": curves.ceiling, "centre_below": curves.below}
    return {
        "bearer_radius": curves.bearer,
        "former_radius": curves.former,
        "inside_radius": curves.inside,
        "ceiling_radius": curves.ceiling,
        "ceiling_width": working.step("ceiling_width", wide, **ceiling),
        "ceiling_height": working.step("ceiling_height", "radius - centre_below", **ceiling),
        "girth": curves.girth,
        "former_width": working.step("former_width", wide, radius=curves.former, centre_below=curves.below),
    }


def _end(given: FormersInputs, curves: Curves) -> float:
    if given.end is None:
        return outermost(curves, given.stance, given.bearer.thickness)
    return given.end


def _centres(working: Working, given: FormersInputs, curves: Curves, count: int) -> float:
    end = _end(given, curves)
    working.note("girth", "along the bearers' curve from end to end", curves.girth)
    working.note("end", "girth to the middle of the first bearer", end)
    return working.step("centres", "(girth - 2 * end) / (count - 1)", girth=curves.girth, end=end, count=count)


def _bearers(working: Working, given: FormersInputs, curves: Curves) -> list[Bearer]:
    """Every bearer, left to right. Refusal where they touch, or one has no place on the curve."""
    end = _end(given, curves)
    between = curves.girth - 2 * end
    if between <= 0:
        raise Refusal(
            f"formers: end is {as_worked(end)}; it must be under half the girth, {as_worked(curves.girth / 2)}"
        )
    count = _count(given, between)
    found: list[Bearer] = []
    for n in range(count):
        section = given.bearer
        girth = end + between * n / (count - 1)
        bearer = bearer_at(curves, girth, given.stance, section.thickness, section.depth)
        if bearer is None:
            raise Refusal(
                f"formers: bearer {n + 1}, {as_worked(girth)} along the girth, is past the end of its curve. Give a "
                "larger end="
            )
        found.append(bearer)
    return found


def _count(given: FormersInputs, between: float) -> int:
    if (given.count is None) == (given.spacing is None):
        raise Refusal("formers: give count= or spacing=, one of them")
    if given.count is not None:
        return given.count
    count = max(whole(between / (given.spacing or 1.0)), 1) + 1
    if count > MOST_ROWS:
        raise Refusal(
            f"formers: spacing is {as_typed(given.spacing or 0.0)}; that is {count} bearers, at most {MOST_ROWS}"
        )
    return count


def _slots(given: FormersInputs, curves: Curves, bearers: Sequence[Bearer]) -> list[Slot]:
    """The slot of each bearer. Refusal where one side of it misses the former's edge or has no depth there."""
    deep = given.bearer.depth if given.joint == "proud" else given.slot_deep
    found: list[Slot] = []
    for n, bearer in enumerate(bearers, 1):
        slot = slot_of(curves, bearer, deep)
        if slot is None:
            raise Refusal(
                f"formers: slot {n} has a side that isn't in the former. Give a larger slot= or end=, or stance=square"
            )
        found.append(slot)
    return found


def _noggins(given: FormersInputs, bearers: Sequence[Bearer]) -> list[Row]:
    """Each noggin. Refusal where bearers touch, at their tops or lower down."""
    deep = given_or(given.noggin, given.bearer.depth)
    for n, (left, right) in enumerate(pairwise(bearers), 1):
        _check_apart(n, left, right)
    return [noggin_row(n, left, right, deep) for n, (left, right) in enumerate(pairwise(bearers), 1)]


def _check_apart(n: int, left: Bearer, right: Bearer) -> None:
    """Refusal where two bearers touch: a corner of one isn't clear of the other's near side."""
    for one, other, side in ((left, right, -1), (right, left, 1)):
        face = other.point(side, 0.0)
        for down in (0.0, one.depth):
            x, y = one.point(-side, down)
            clear = ((x - face[0]) * other.right[0] + (y - face[1]) * other.right[1]) * side
            if clear <= 0:
                raise Refusal(f"formers: bearers {n} and {n + 1} touch. Give fewer, or thinner ones")


def _loose(first: Slot) -> tuple[str, ...]:
    """That the ends come loose, where the first and the last slot go down to the springing inside them."""
    if first.mouth_left[1] <= DUST or first.floor_left[1] >= 0:
        return ()
    return ("The first and last slots go down to the springing: the former's ends come loose. Give a larger end=",)


def _under(slots: Sequence[Slot]) -> tuple[str, ...]:
    """That slots go below the springing, where they do."""
    low = [n for n, slot in enumerate(slots, 1) if min(slot.floor_left[1], slot.floor_right[1]) < -DUST]
    if not low:
        return ()
    deepest = -min(min(slot.floor_left[1], slot.floor_right[1]) for slot in slots)
    numbers = ", ".join(map(str, low))
    return (
        f"Slot {numbers}: the floor comes {as_worked(deepest)} below the springing: the slot is open at the "
        "former's foot. Leave the board on below it there, or give a larger end=",
    )


def _notes(given: FormersInputs, slotted_joints: Sequence[int]) -> tuple[str, ...]:
    said = [PLAY]
    if given.stance == "plumb":
        said.append(PLUMB)
    rest = given.bearer.depth - given.slot_deep
    if rest and given.joint == "flush":
        said.append(f"Notch each bearer {as_typed(rest)} deep from beneath, over every former")
    if slotted_joints:
        numbers = ", ".join(map(str, slotted_joints))
        said.append(f"Joint {numbers} runs out into a slot: move the bearers, or use another width of board")
    return (*said, ENGINEER)
