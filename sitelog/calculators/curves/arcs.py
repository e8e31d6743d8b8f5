"""How an arc is struck and set out from its chord."""

import math

from sitelog.calculators.catalogue import MOST_ROWS, Inputs, Outcome, Output, Row, Working, calculator, field
from sitelog.calculators.curves.segments import equal_parts, segment, stations
from sitelog.left_out import given_or
from sitelog.refusal import Refusal

_SPACES = 8  # equal spaces of the chord if nobody says another: a fair curve for a batten bent through them


class ArcInputs(Inputs):
    """What `arc` takes: lengths in mm."""

    chord: float | None = field("length", "level, from end to end", default=None, over=0)
    rise: float | None = field("length", "middle of the chord up to the crown", default=None, over=0)
    radius: float | None = field("length", "of the circle", default=None, over=0)
    spacing: float | None = field("length", "spacing of the heights, out from the middle", default=None, over=0)
    count: int | None = field(
        "count", "how many equal spaces along the chord, instead of spacing; 8 if left out", default=None, low=1
    )


@calculator(
    "arc",
    ArcInputs,
    branch="curves",
    does="Radius, length and heights of an arc, from two of chord, rise and radius",
    results=(
        Output("radius", "mm", "radius"),
        Output("chord", "mm", "chord"),
        Output("rise", "mm", "rise"),
        Output("centre_below_chord", "mm", "centre below the chord"),
        Output("angle", "deg", "angle at the centre"),
        Output("arc_length", "mm", "length along the arc"),
        Output("area", "m2", "between arc and chord"),
        Output(
            "rows", "", "heights", (Output("at", "mm", "mark, from the left end"), Output("height", "mm", "height"))
        ),
    ),
    basis="geometry",
    definition=(
        "The chord is level and the arc is half a circle at most. Heights are plumb, from the chord up to the "
        "arc. Marks are along the chord from its left end. With spacing they go out from the middle and take in "
        "both ends, so the two halves are the same. With count they are equally spaced."
    ),
    example="chord=2400 rise=600 spacing=300",
)
def arc(given: ArcInputs) -> Outcome:
    """Radius, lengths and heights in mm, angle in degrees, area in m2.

    Raises Refusal unless two of the three make an arc of half a circle or less.
    """
    working = Working()
    curve = segment("arc", working, given.chord, given.rise, given.radius)
    angle = working.step("angle", "4 * atan(2 * rise / chord)", "deg", rise=curve.rise, chord=curve.chord)
    length = working.step("arc_length", "radius * angle * pi / 180", radius=curve.radius, angle=angle, pi=math.pi)
    numbers = {
        "radius": curve.radius,
        "arc_length": length,
        "chord": curve.chord,
        "centre_below_chord": curve.centre_below,
    }
    area = working.step("area", "(radius * arc_length - chord * centre_below_chord) / 2 / 1e6", "m2", **numbers)
    numbers = {"radius": curve.radius, "chord": curve.chord, "centre_below_chord": curve.centre_below}
    working.step("height_at_a_quarter", "sqrt(radius ** 2 - (chord / 4) ** 2) - centre_below_chord", **numbers)
    rows: list[Row] = [
        {"at": at, "height": curve.height(at - curve.chord / 2)}
        for at in _marks(curve.chord, given.spacing, given.count)
    ]
    return Outcome(
        {
            "radius": curve.radius,
            "chord": curve.chord,
            "rise": curve.rise,
            "centre_below_chord": curve.centre_below,
            "angle": angle,
            "arc_length": length,
            "area": area,
            "rows": rows,
        },
        working,
    )


def _marks(chord: float, spacing: float | None, count: int | None) -> list[float]:
    if spacing is not None and count is not None:
        raise Refusal("arc: give spacing= or count=, not both")
    if spacing is not None:
        return stations("arc", chord, spacing)
    if count is not None and count >= MOST_ROWS:
        raise Refusal(f"arc: count is {count}; give at most {MOST_ROWS - 1}")
    return equal_parts(chord, given_or(count, _SPACES))
