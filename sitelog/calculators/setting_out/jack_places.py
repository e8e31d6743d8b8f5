"""Where jacks stand along their plate, and which of them stand too near: set out from an end, the middle or evened."""

from sitelog.calculators.catalogue import field
from sitelog.calculators.rafters.hip_cuts import CornerInputs
from sitelog.calculators.setting_out.spaced import SHOWN, WITHIN, Ends, check_count, spaced, told_near
from sitelog.geometry.hip_line import Side
from sitelog.geometry.spacings import EXACT, WAYS, inside
from sitelog.geometry.vectors import sin_deg, tan_deg
from sitelog.left_out import given_or
from sitelog.quantities.rounding import as_typed, as_worked
from sitelog.refusal import Refusal
from sitelog.text import text_if


class JacksInputs(CornerInputs):
    """What `jacks` takes: lengths in mm, angles in degrees."""

    side: int = field("count", "which side they are on: 1 on the left from outside, 2 on the right", default=1)
    spacing: float = field("length", "centre to centre along the plate", over=0)
    first: float | None = field(
        "length", "from the corner to the first centre; by set_out if left out", default=None, over=0
    )
    run: float = field("length", "run of a full common on that side, to the centre of the ridge", over=0)
    hip_thickness: float = field("length", "thickness of the hip or valley", default=47)
    thickness: float = field("length", "thickness of the jack", default=47)
    on: str = field("choice", "are they cut against a hip or a valley?", default="hip", choices=("hip", "valley"))
    set_out: str = field(
        "choice",
        "from the corner (first), from the full common (last), from the middle, or evened?",
        default="first",
        choices=WAYS,
    )
    within: float = WITHIN
    past: float | None = field(
        "length", "of each past the measuring line, tail and plumb cut; for its length over all", default=None
    )


def common_at(given: JacksInputs, side: Side) -> float:
    """From the corner [mm] along the plate to where the hip has run as far in as a full common."""
    return given.run / tan_deg(given.line.plan_angle(side))


def jack_places(given: JacksInputs, side: Side) -> list[float]:
    """Centres [mm] along the plate. Refusal where there is no room for one, or for more than can be worked."""
    first = given_or(given.first, given.spacing)
    check_count("jacks", common_at(given, side) - first, given.spacing)
    places = _set_out(given, side, given.set_out, given.first)
    if not places:
        raise Refusal(
            f"jacks: no jack fits here: the first, {as_worked(first)} from the corner, must be under"
            f" {as_worked(common_at(given, side))},"
            " where the full commons begin"
        )
    return places


def _set_out(given: JacksInputs, side: Side, way: str, first: float | None) -> list[float]:
    """Centres [mm] along the plate in that way, short of the full common; none where there is no room for one."""
    room = common_at(given, side)
    if first is None and way != "first":
        marks = inside(room, given.spacing, way, given.within)
        return [mark for mark in marks if given.on == "valley" or mark > least_from_corner(given, side)]
    if first is None:
        first = given.spacing
    left = room - first
    if left <= given.within or left <= given.spacing * EXACT:
        return []
    return [first, *(first + mark for mark in spaced(left, given.spacing, given.thickness, way, given.within))]


def least_from_corner(given: JacksInputs, side: Side) -> float:
    """How far [mm] from the corner a jack's centre must be, so that something is left of it on its short side."""
    return given.thickness / 2 + given.hip_thickness / 2 / sin_deg(given.line.plan_angle(side))


def with_common(given: JacksInputs, side: Side, marks: list[float]) -> list[float]:
    """The marks with the full common's after the last, which a valley has not."""
    if given.on == "hip" and marks:
        return [*marks, common_at(given, side)]
    return marks


def told_too_near(given: JacksInputs, side: Side, marks: list[float]) -> tuple[str, ...]:
    """Jacks nearer than half the spacing to the next or to the common, and what other ways would give.

    A first that is where its own way puts it is not fixed: another way puts it elsewhere.
    """
    own = _set_out(given, side, given.set_out, None)
    first = None if own and abs(own[0] - marks[0]) < SHOWN else given.first

    def by_way(way: str) -> list[float]:
        return with_common(given, side, _set_out(given, side, way, first))

    ends = Ends("the corner", "the common", text_if(given.on == "hip", "the common"))
    return told_near(with_common(given, side, marks), given.spacing, given.set_out, by_way, ends)


def told_midway(given: JacksInputs, marks: list[float]) -> tuple[str, ...]:
    """What to know of a last jack that was moved off its spacing."""
    if given.set_out != "first" or len(marks) < 2 or abs(marks[-1] - marks[-2] - given.spacing) < 1e-6:
        return ()
    return (
        f"the last is {as_worked(marks[-1] - marks[-2])} from the one before: at {as_typed(given.spacing)} it would "
        "touch the common",
    )
