"""A plan fitted to taped lengths: where its points are, how far each length is out, and what to doubt."""

from collections import Counter
from collections.abc import Mapping, Sequence

from sitelog.calculators.catalogue import Output, Row
from sitelog.calculators.setting_out.plates import weighed
from sitelog.geometry.least_squares import Fit, Point, suspects
from sitelog.geometry.plan_ties import fitted_points
from sitelog.quantities.quantity import Tie
from sitelog.quantities.rounding import as_worked
from sitelog.refusal import Refusal

MOST_TIES = 120
LENGTHS = (
    Output("tie", "", "Length"),
    Output("taped", "mm", "Taped"),
    Output("fitted", "mm", "Fitted"),
    Output("residual", "mm", "Out by"),
    Output("standard", "", "doubt", shown=False),
)


def fitted(points: Mapping[str, Point], ties: Sequence[Tie] | None, tape: str) -> Fit | None:
    """The points by the ties [mm], all counting the same; None without any. Refusal for too many, or a loose point."""
    if not ties:
        return None
    if len(ties) > MOST_TIES:
        raise Refusal(f"ties: {len(ties)} lengths; give at most {MOST_TIES}")
    if len(points) < 2:
        raise Refusal("ties: the plan needs two points or more")
    return fitted_points(points, weighed(ties, tape))


def length_rows(ties: Sequence[Tie] | None, found: Fit | None) -> list[Row]:
    """A row for each length [mm]: as taped, as fitted, and how far the two are apart."""
    if found is None:
        return []
    names = tie_names(ties or ())
    return [
        {"tie": name, "taped": tie.length, "fitted": tie.length + residual, "residual": residual, "standard": standard}
        for name, tie, residual, standard in zip(names, ties or (), found.residuals, found.standard, strict=True)
    ]


def tie_names(ties: Sequence[Tie]) -> list[str]:
    """A-M for a tie, and A-M (2) where it was taped again."""
    seen: Counter[str] = Counter()
    names = []
    for tie in ties:
        name = f"{tie.start}-{tie.end}"
        seen[name] += 1
        names.append(name if seen[name] == 1 else f"{name} ({seen[name]})")
    return names


def _unchecked(ties: Sequence[Tie], found: Fit) -> tuple[str, ...]:
    names = [name for name, standard in zip(tie_names(ties), found.standard, strict=True) if standard is None]
    if not names:
        return ()
    return (f"nothing checks {', '.join(names)}: tape one more length across",)


def doubts(ties: Sequence[Tie] | None, found: Fit | None, tape: str) -> tuple[str, ...]:
    """What the lengths can't be, and no more than they allow."""
    if found is None or ties is None:
        return ()
    said = _unchecked(ties, found)
    if found.agrees:
        return said
    every = list(ties)
    doubted = [tie_names(ties)[place] for place in suspects(weighed(every, tape), found)]
    cannot = f"the taped lengths don't agree by {as_worked(max(map(abs, found.residuals)))} mm"
    if len(doubted) == 1:
        return (f"{cannot}: {doubted[0]} doesn't fit the rest. Measure it again", *said)
    if found.spare == 1:
        return (f"{cannot}: one is wrong, and one to spare can't show which. Measure them all again", *said)
    which = f"one of {', '.join(doubted)} is wrong" if doubted else "more than one is wrong"
    return (f"{cannot}: {which}. Measure them all again", *said)
