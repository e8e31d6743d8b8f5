"""The angle of one corner, from its two sides and the length across them."""

from sitelog.calculators.catalogue import Inputs, Outcome, Output, Working, calculator, field
from sitelog.quantities.rounding import as_typed
from sitelog.refusal import Refusal


class CornerLengthsInputs(Inputs):
    """What `corner` takes: lengths in mm."""

    first: float = field("length", "corner to the end of one side", over=0)
    second: float = field("length", "corner to the end of the other side", over=0)
    across: float = field("length", "from end to end", over=0)


@calculator(
    "corner",
    CornerLengthsInputs,
    branch="setting-out",
    does="A corner by three lengths: its angle, and how far out of square",
    results=(
        Output("angle", "deg", "Angle of the corner"),
        Output("out_of_square", "mm", "Shorter side's end, out of square"),
        Output("across_if_square", "mm", "Across, if it were square"),
        Output("across_off", "mm", "Across, longer than that by"),
    ),
    basis="geometry",
    definition=(
        "The sides are taped from the corner to any two points, and across from one to the other: the angle is that of "
        "a triangle with these sides. Out of square is how far the shorter side's end is off a square set on the "
        "other: plus where the corner is over 90 degrees. One corner is checked by nothing else: tape it twice."
    ),
    example="first=7200 second=5400 across=9006",
)
def corner(given: CornerLengthsInputs) -> Outcome:
    """Angle in degrees, lengths in mm. Refusal where the three lengths don't close a triangle.

    Source: geometry; the cosine rule (Euclid, Elements, II.12 and II.13).
    """
    shortest, middle, longest = sorted((given.first, given.second, given.across))
    if longest >= shortest + middle:
        raise Refusal(
            f"corner: {as_typed(longest)} can't be as long as {as_typed(shortest)} and {as_typed(middle)} together. "
            "Check first=, second= and across="
        )
    working = Working()
    sides = {"first": given.first, "second": given.second}
    formula = "acos((first ** 2 + second ** 2 - across ** 2) / (2 * first * second))"
    angle = working.step("angle", formula, "deg", **sides, across=given.across)
    shorter = min(sides.values())
    out = working.step("out_of_square", "shorter * sin(angle - 90)", shorter=shorter, angle=angle)
    square = working.step("across_if_square", "hypot(first, second)", **sides)
    off = working.step("across_off", "across - across_if_square", across=given.across, across_if_square=square)
    return Outcome({"angle": angle, "out_of_square": out, "across_if_square": square, "across_off": off}, working)
