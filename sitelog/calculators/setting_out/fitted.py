"""What is told of taped lengths that were fitted to one plan: each by name, how far it is out, and what to doubt."""

from collections import Counter
from collections.abc import Sequence

from sitelog.calculators.catalogue import Row
from sitelog.calculators.setting_out.plates import CORNERS, SIX
from sitelog.geometry.least_squares import Fit
from sitelog.quantities.quantity import Tie


def tie_names(ties: Sequence[Tie]) -> list[str]:
    """AB for the six, A-M for a tie, and A-M again (2) where it was taped more than once."""
    seen: Counter[str] = Counter()
    names = list(SIX)
    for tie in ties[len(SIX) :]:
        name = f"{tie.start}-{tie.end}"
        seen[name] += 1
        names.append(name if seen[name] == 1 else f"{name} ({seen[name]})")
    return names


def corner_figures(plates: Fit) -> dict[str, float]:
    """By how much each of the six lengths is out, and where each corner is: mm."""
    residuals = {f"residual_{side.lower()}": plates.residuals[place] for place, side in enumerate(SIX)}
    at = {f"{name.lower()}_{axis}": plates.points[name][n] for name in CORNERS for n, axis in enumerate("xy")}
    return residuals | at


def length_rows(ties: Sequence[Tie], plates: Fit) -> list[Row]:
    """A row for each length [mm]: as taped, as fitted, and how far the two are apart."""
    return [
        {
            "tie": name,
            "taped": tie.length,
            "fitted": tie.length + residual,
            "residual": residual,
            "standard": standard,
        }
        for name, tie, residual, standard in zip(tie_names(ties), ties, plates.residuals, plates.standard, strict=True)
    ]


def point_rows(plates: Fit) -> list[Row]:
    """A row for each point that isn't a corner: where it is [mm]."""
    return [{"point": name, "x": x, "y": y} for name, (x, y) in plates.points.items() if name not in CORNERS]


def doubt(plates: Fit, doubted: Sequence[str]) -> str:
    """What to say of lengths that can't all be true, and no more than they allow."""
    cannot = "the tape readings don't agree"
    if len(doubted) == 1:
        return f"{cannot}: {doubted[0]} doesn't fit the rest. Measure it again"
    if plates.spare == 1:
        return (
            f"{cannot}: one is wrong, but six can't show which. Measure all six again, or add a point well "
            "inside, off both diagonals"
        )
    if doubted:
        return f"{cannot}: one of {', '.join(doubted)} is wrong. Measure them all again"
    return f"{cannot}: more than one is wrong. Measure them all again"
