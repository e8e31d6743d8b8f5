"""How flat a flat roof may be: the fall that is drawn, and the fall that is to be there when it is finished.

BS 6229:2018 as a manufacturer's guidance gives it, and NHBC Standards 2022, 7.1 (both read): 1:40 is drawn so that 1:80
is left; a design fall is normally twice the finished one. A flat roof is up to 10 degrees.
"""

from sitelog.calculators.catalogue import Verdict, field
from sitelog.geometry.vectors import tan_deg
from sitelog.quantities.quantity import show_fall
from sitelog.refusal import Refusal

FINISHED, DESIGN = 1 / 80, 1 / 40
STEEPEST = tan_deg(10)
SOURCE = "BS 6229:2018, as quoted in a manufacturer's guidance"
_DUST = 1e-9

FALL = field("fall", "such as 1:60", over=0)


def kind_of_fall(default: str) -> str:
    """The field that says whether the fall is the one drawn and cut, or the one measured when all is loaded."""
    return field(
        "choice",
        "is that the fall as drawn and cut, or as finished?",
        default=default,
        choices=("design", "finished"),
    )


def flat(calculator: str, fall: float) -> float:
    """The fall, as a ratio; Refusal if it is too steep for a flat roof."""
    if fall > STEEPEST:
        raise Refusal(
            f"{calculator}: fall is {show_fall(fall)}; a flat roof is up to 10 degrees, {show_fall(STEEPEST)}"
        )
    return fall


def verdict_on(fall: float, kind: str) -> Verdict:
    """Pass if 1:80 is there when finished, or 1:40 was drawn for it."""
    return "pass" if fall >= (DESIGN if kind == "design" else FINISHED) - _DUST else "fail"


def warned(fall: float, kind: str) -> tuple[str, ...]:
    """The note on a fall that leaves less than the standard's least, if it does."""
    if verdict_on(fall, kind) == "pass":
        return ()
    if kind == "finished":
        return (f"{show_fall(fall)} is flatter than 1:80, the minimum when finished ({SOURCE})",)
    return (
        f"{show_fall(fall)} as drawn may finish at {show_fall(fall / 2)}, flatter than 1:80. Draw 1:40 to be "
        f"sure of it ({SOURCE}; halved as in NHBC Standards 2022, 7.1)",
    )
