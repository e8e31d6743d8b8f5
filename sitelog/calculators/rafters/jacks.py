"""The jack rafters that run square from a plate to a hip, or down from the ridge to a valley."""

from msgspec import Struct

from sitelog.calculators.catalogue import Input, Outcome, Output, Row, Working, calculator
from sitelog.calculators.rafters.hip_cuts import CORNER, PITCH, PITCH_2, side_of, told_of_side, told_plan_angle
from sitelog.calculators.setting_out.centres import set_out
from sitelog.geometry.hip_line import HipLine, Side
from sitelog.geometry.vectors import cos_deg, sin_deg, tan_deg
from sitelog.quantities import rounding
from sitelog.quantities.rounding import as_typed, as_worked
from sitelog.refusal import Refusal

COLUMNS = (
    Output("n", "", "Jack"),
    Output("at", "mm", "Mark at, from the corner"),
    Output("length_centre", "mm", "Length at its centre"),
    Output("length_long_point", "mm", "Length to long point"),
    Output("length_short_point", "mm", "Length to short point"),
)


class Jack(Struct, frozen=True):
    """One jack, its centre `at` mm along the plate; lengths [mm] on its centre and its two faces."""

    n: int
    at: float
    centre: float
    long_point: float
    short_point: float

    @property
    def row(self) -> Row:
        return {
            "n": self.n,
            "at": self.at,
            "length_centre": self.centre,
            "length_long_point": self.long_point,
            "length_short_point": self.short_point,
        }


@calculator(
    "jacks",
    branch="rafters",
    does="Jack rafters on one side of a hip or valley: lengths and cuts",
    inputs=(
        CORNER,
        PITCH,
        PITCH_2,
        Input("side", "count", "which side they are on: 1 on the left from outside, 2 on the right", default=1),
        Input("spacing", "length", "centre to centre along the plate", over=0),
        Input("first", "length", "from the corner to the first centre; one spacing if left out", optional=True, over=0),
        Input("run", "length", "run of a full common on that side, to the centre of the ridge", over=0),
        Input("hip_thickness", "length", "thickness of the hip or valley", default=47),
        Input("thickness", "length", "thickness of the jack", default=47),
        Input("on", "choice", "are they cut against a hip or a valley?", default="hip", choices=("hip", "valley")),
    ),
    results=(
        Output("rows", "", "Jacks", COLUMNS),
        Output("difference", "mm", "Difference, each to the next"),
        Output("edge_bevel_from_square", "deg", "Edge bevel, from square"),
        Output("saw_tilt", "deg", "Saw tilt on the plumb line"),
        Output("plumb_cut_from_square", "deg", "Plumb cut, from square"),
        Output("pairs", "", "How many of each hand"),
    ),
    basis="geometry",
    definition=(
        "Jacks are square to their plate, marked along it from the corner. Lengths are on the measuring line, "
        "from the plate's top outer edge to the face of the hip, with half the hip's thickness already taken "
        "off; they are at the jack's centre and its two faces. If the last would touch the full common at the "
        "end of the ridge, it goes midway. On a valley they run from its face up to the centre of the ridge, and "
        "marks are along the line of the plate carried on past the corner."
    ),
    example="pitch=35 spacing=400 run=3000 hip_thickness=47 thickness=47",
)
def jacks(
    *,
    corner: float,
    pitch: float,
    pitch2: float | None,
    side: float,
    spacing: float,
    first: float | None,
    run: float,
    hip_thickness: float,
    thickness: float,
    on: str,
) -> Outcome:
    k = side_of("jacks", "side", side)
    line = HipLine(corner, pitch, pitch2 or pitch)
    if line.plan_angle(k) > 90 - 1e-9:
        raise Refusal(
            f"jacks: at {rounding.places(line.plan_angle(k), 1)} degrees on plan the {on} runs away from side {k}"
            ", so no jack on that side meets it"
        )
    w = Working()
    places = _places(line, k, run, spacing if first is None else first, spacing, thickness)
    if on == "hip":
        rows = _on_hip(line, k, places, hip_thickness / 2, thickness / 2)
    else:
        rows = _on_valley(line, k, places, hip_thickness / 2, thickness / 2, run)
    results = _told(w, line, k, spacing, hip_thickness, thickness, rows[0], run if on == "valley" else None)
    return Outcome(
        {"rows": [jack.row for jack in rows], **results, "pairs": len(rows)},
        w,
        notes=(*_midway(places, spacing), *_notes(line, k, on)),
    )


def _places(line: HipLine, side: Side, run: float, first: float, spacing: float, thickness: float) -> list[float]:
    """Centres [mm] along the plate, short of where the hip has run as far in as a full common, and clear of that."""
    room = run / tan_deg(line.plan_angle(side))
    places = set_out("jacks", first, spacing, room, thickness)
    if not places:
        raise Refusal(
            f"jacks: no jack fits here: the first, {as_worked(first)} from the corner, must be under"
            f" {as_worked(room)},"
            " where the full commons begin"
        )
    return places


def _on_hip(line: HipLine, side: Side, places: list[float], half_hip: float, half: float) -> list[Jack]:
    """From the plate to the hip's near face; the long point is on the face away from the corner."""

    def length(at: float) -> float:
        return line.jack_length(side, at, half_hip)

    if length(places[0] - half) <= 0:
        least = half + half_hip / sin_deg(line.plan_angle(side))
        raise Refusal(
            f"jacks: a first jack {as_worked(places[0])} from the corner would clash with the hip; it must"
            f" be over {as_worked(least)}"
        )
    return [Jack(n, at, length(at), length(at + half), length(at - half)) for n, at in enumerate(places, start=1)]


def _on_valley(
    line: HipLine, side: Side, places: list[float], half_valley: float, half: float, run: float
) -> list[Jack]:
    """From the valley's near face up to the centre of the ridge, as far as there is a whole end to nail."""
    whole = run / cos_deg(line.pitch(side))

    def length(at: float) -> float:
        return whole - line.jack_length(side, at, -half_valley)

    rows = [
        Jack(n, at, length(at), length(at - half), length(at + half))
        for n, at in enumerate(places, start=1)
        if length(at + half) > 0
    ]
    if not rows:
        raise Refusal(
            f"jacks: no jack fits here: {as_worked(places[0])} from the corner the valley is at the ridge already"
        )
    return rows


def _told(
    w: Working,
    line: HipLine,
    side: Side,
    spacing: float,
    hip_thickness: float,
    thickness: float,
    first: Jack,
    run: float | None,
) -> dict[str, float]:
    """The cuts and steps of the whole set, with the working of its first jack."""
    pitch, plan = line.pitch(side), line.plan_angle(side)
    both = {"plan_angle": plan, "pitch": pitch}
    told_plan_angle(w, line, side)
    difference = w.step(
        "difference",
        "spacing * tan(plan_angle) / cos(pitch)",
        spacing=spacing,
        **both,
    )
    off = w.step(
        "half_thickness_off",
        "hip_thickness / 2 / cos(plan_angle) / cos(pitch)",
        hip_thickness=hip_thickness,
        **both,
    )
    to_line = "first_mark * tan(plan_angle) / cos(pitch)"
    numbers = {"first_mark": first.at, "half_thickness_off": off, **both}
    w.step(
        "length_of_the_first",
        f"{to_line} - half_thickness_off" if run is None else f"run / cos(pitch) - {to_line} - half_thickness_off",
        **(numbers if run is None else {"run": run, **numbers}),
    )
    w.step(
        "long_and_short_point_either_way",
        "thickness / 2 * tan(plan_angle) / cos(pitch)",
        thickness=thickness,
        **both,
    )
    return {
        "difference": difference,
        "edge_bevel_from_square": w.step(
            "edge_bevel_from_square",
            "atan(difference / spacing)",
            "deg",
            difference=difference,
            spacing=spacing,
        ),
        "saw_tilt": w.step("saw_tilt", "plan_angle", "deg", plan_angle=plan),
        "plumb_cut_from_square": pitch,
    }


def _midway(places: list[float], spacing: float) -> tuple[str, ...]:
    """What to know of a last jack that is not at the spacing."""
    if len(places) < 2 or abs(places[-1] - places[-2] - spacing) < 1e-6:
        return ()
    return (
        f"the last is {as_worked(places[-1] - places[-2])} from the one before: at {as_typed(spacing)} it would "
        "touch the common",
    )


def _notes(line: HipLine, side: Side, on: str) -> tuple[str, ...]:
    said = told_of_side(line, side, line.saw_tilt(side), "these: work out its jacks")
    if on == "valley":
        return ("lengths are to the centre of the ridge: deduct for the ridge as for a common rafter", *said)
    return said
