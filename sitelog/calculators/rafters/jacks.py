"""The jack rafters that run square from a plate to a hip, or down from the ridge to a valley."""

from msgspec import Struct

from sitelog.calculators.catalogue import Outcome, Output, Row, Working, calculator
from sitelog.calculators.rafters.hip_cuts import side_of, told_of_side, told_plan_angle
from sitelog.calculators.setting_out.jack_places import (
    JacksInputs,
    common_at,
    jack_places,
    least_from_corner,
    told_midway,
    told_too_near,
    with_common,
)
from sitelog.calculators.setting_out.spaced import smallest_gap
from sitelog.geometry.hip_line import HipLine, Side
from sitelog.geometry.vectors import cos_deg
from sitelog.quantities import rounding
from sitelog.quantities.rounding import as_worked
from sitelog.refusal import Refusal

COLUMNS = (
    Output("n", "", "Jack"),
    Output("at", "mm", "Mark at, from the corner"),
    Output("length_overall", "mm", "Cut length, over all"),
    Output("length_centre", "mm", "Measuring line, centre"),
    Output("length_long_point", "mm", "Measuring line, long point"),
    Output("length_short_point", "mm", "Measuring line, short point"),
    Output("up_the_hip", "mm", "Up the hip, from the corner"),
)


class Jack(Struct, frozen=True):
    """One jack, its centre `at` mm along the plate; lengths [mm] on its centre and its two faces.

    `up` is from the corner of the plates up the line of the hip or valley to its centre, on the face it meets.
    """

    n: int
    at: float
    centre: float
    long_point: float
    short_point: float
    up: float

    def row(self, past: float | None) -> Row:
        """The jack as a row of COLUMNS; over all with what it has past the measuring line [mm], if that is known."""
        return {
            "n": self.n,
            "at": self.at,
            "length_overall": None if past is None else self.long_point + past,
            "length_centre": self.centre,
            "length_long_point": self.long_point,
            "length_short_point": self.short_point,
            "up_the_hip": self.up,
        }


@calculator(
    "jacks",
    JacksInputs,
    branch="rafters",
    does="Jack rafters on one side of a hip or valley: lengths and cuts",
    results=(
        Output("rows", "", "Jacks", COLUMNS),
        Output("difference", "mm", "Difference, each to the next"),
        Output("edge_bevel_from_square", "deg", "Edge bevel, from square"),
        Output("saw_tilt", "deg", "Saw tilt on the plumb line"),
        Output("plumb_cut_from_square", "deg", "Plumb cut, from square"),
        Output("pairs", "", "How many of each hand"),
        Output("smallest_gap", "mm", "Smallest gap, the full common with them"),
        Output("common_at", "mm", "Full common's mark, from the corner"),
    ),
    basis="geometry",
    definition=(
        "Jacks are square to their plate, marked along it from the corner. Lengths are on the measuring line, "
        "from the plate's top outer edge to the face of the hip, with half the hip's thickness already taken "
        "off; they are at the jack's centre and its two faces. With past, the length to cut is over all: from the "
        "long point to the end of the tail. From the corner the first is one spacing out; from the full common, the "
        "middle or evened they share the room from the corner to it, or from a first that is given. If the last would "
        "touch the full common at the end of the ridge, it goes midway. The full common's mark is where the ridge "
        "ends above the plate. Up the hip is from the plates' corner "
        "to the jack's centre on the face it meets. On a valley they run from its face up to the "
        "centre of the ridge, and marks are along the line of the plate carried on past the corner."
    ),
    example="pitch=35 spacing=400 run=3000 hip_thickness=47 thickness=47",
)
def jacks(given: JacksInputs) -> Outcome:
    """Lengths in mm along the line, cuts in degrees. Refusal where no jack on that side meets the hip or valley."""
    side = side_of("jacks", "side", given.side)
    line = given.line
    if line.plan_angle(side) > 90 - 1e-9:
        raise Refusal(
            f"jacks: at {rounding.places(line.plan_angle(side), 1)} degrees on plan the {given.on} runs away from "
            f"side {side}, so no jack on that side meets it"
        )
    working = Working()
    places = jack_places(given, side)
    jacks = _on_hip(given, side, places) if given.on == "hip" else _on_valley(given, side, places)
    marks = [jack.at for jack in jacks]
    results = {
        "rows": [jack.row(given.past) for jack in jacks],
        **_told(working, given, side, jacks),
        "pairs": len(jacks),
        "smallest_gap": smallest_gap(with_common(given, side, marks)),
        "common_at": common_at(given, side),
    }
    return Outcome(
        results,
        working,
        notes=(*told_midway(given, marks), *told_too_near(given, side, marks), *_notes(line, side, given.on)),
    )


def _on_hip(given: JacksInputs, side: Side, places: list[float]) -> list[Jack]:
    """From the plate to the hip's near face; the long point is on the face away from the corner."""
    line, half_hip, half = given.line, given.hip_thickness / 2, given.thickness / 2

    def length(at: float) -> float:
        return line.jack_length(side, at, half_hip)

    if length(places[0] - half) <= 0:
        least = least_from_corner(given, side)
        raise Refusal(
            f"jacks: a first jack {as_worked(places[0])} from the corner would clash with the hip; it must"
            f" be over {as_worked(least)}"
        )
    return [
        Jack(n, at, length(at), length(at + half), length(at - half), _up(line, side, at, half_hip))
        for n, at in enumerate(places, start=1)
    ]


def _up(line: HipLine, side: Side, at: float, face: float) -> float:
    """From the corner up the hip or valley [mm] to where a jack's centre meets its face, `face` off its centre."""
    return line.run_to(side, at, face) / cos_deg(line.pitch_of_hip)


def _on_valley(given: JacksInputs, side: Side, places: list[float]) -> list[Jack]:
    """From the valley's near face up to the centre of the ridge, as far as there is a whole end to nail."""
    line, half_valley, half = given.line, given.hip_thickness / 2, given.thickness / 2
    whole = given.run / cos_deg(line.pitch(side))

    def length(at: float) -> float:
        return whole - line.jack_length(side, at, -half_valley)

    jacks = [
        Jack(n, at, length(at), length(at - half), length(at + half), _up(line, side, at, -half_valley))
        for n, at in enumerate(places, start=1)
        if length(at + half) > 0
    ]
    if not jacks:
        raise Refusal(
            f"jacks: no jack fits here: {as_worked(places[0])} from the corner the valley is at the ridge already"
        )
    return jacks


def _told(working: Working, given: JacksInputs, side: Side, jacks: list[Jack]) -> dict[str, float]:
    """The cuts and steps of the whole set, with the working of its first jack."""
    line, first = given.line, jacks[0]
    spacing = jacks[1].at - first.at if given.set_out == "evened" and len(jacks) > 1 else given.spacing
    pitch, plan = line.pitch(side), line.plan_angle(side)
    both = {"plan_angle": plan, "pitch": pitch}
    told_plan_angle(working, line, side)
    difference = working.step("difference", "spacing * tan(plan_angle) / cos(pitch)", spacing=spacing, **both)
    off = working.step(
        "half_thickness_off",
        "hip_thickness / 2 / cos(plan_angle) / cos(pitch)",
        hip_thickness=given.hip_thickness,
        **both,
    )
    to_line = "first_mark * tan(plan_angle) / cos(pitch)"
    numbers = {"first_mark": first.at, "half_thickness_off": off, **both}
    if given.on == "hip":
        working.step("length_of_the_first", f"{to_line} - half_thickness_off", **numbers)
    else:
        from_ridge = f"run / cos(pitch) - {to_line} - half_thickness_off"
        working.step("length_of_the_first", from_ridge, run=given.run, **numbers)
    either_way = working.step(
        "long_and_short_point_either_way",
        "thickness / 2 * tan(plan_angle) / cos(pitch)",
        thickness=given.thickness,
        **both,
    )
    if given.past is not None:
        working.step(
            "cut_length_of_the_first",
            "length_of_the_first + either_way + past",
            length_of_the_first=first.centre,
            either_way=either_way,
            past=given.past,
        )
    bevel = working.step(
        "edge_bevel_from_square", "atan(difference / spacing)", "deg", difference=difference, spacing=spacing
    )
    return {
        "difference": difference,
        "edge_bevel_from_square": bevel,
        "saw_tilt": working.step("saw_tilt", "plan_angle", "deg", plan_angle=plan),
        "plumb_cut_from_square": pitch,
    }


def _notes(line: HipLine, side: Side, on: str) -> tuple[str, ...]:
    said = told_of_side(line, side, line.saw_tilt(side), "jacks")
    if on == "valley":
        return ("lengths are to the centre of the ridge: deduct for the ridge as for a common rafter", *said)
    return said
