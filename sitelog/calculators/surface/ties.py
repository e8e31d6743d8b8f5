"""Which lengths to tape over a plan of any shape, and where its points are by them."""

import math

from sitelog.calculators.catalogue import Outcome, Output, Row, Working, calculator
from sitelog.calculators.surface import measured
from sitelog.calculators.surface.inputs import PlanInputs
from sitelog.geometry.plan_ties import Pair, ties_to_take
from sitelog.geometry.surface.plan_text import PlanText, read_plan
from sitelog.refusal import Refusal

TAKE = (
    Output("tie", "", "Tape"),
    Output("drawn", "mm", "As drawn"),
    Output("over", "", "What"),
)


class TiesInputs(PlanInputs):
    """What `ties` takes: lengths in mm."""


@calculator(
    "ties",
    TiesInputs,
    branch="setting-out",
    does="Which lengths to tape over a plan of any shape, and where its points are",
    results=(
        Output("sides", "", "Sides to tape"),
        Output("count", "", "Ties to tape"),
        Output("take", "", "Lengths to tape", TAKE),
        Output("lengths", "", "Taped lengths", measured.LENGTHS),
        Output("points", "", "Points", (Output("point", "", "Point"), Output("x", "mm", "x"), Output("y", "mm", "y"))),
        Output("misclosure", "mm", "Worst length: out by"),
    ),
    basis="geometry, least squares",
    definition=(
        "The plan is as in surface. The sides are the walls between its points that are at the edge of the plan. With "
        "them go the fewest ties that fix every point and leave one to spare, so that each length is checked by the "
        "others: across the building where that is possible, and never past a corner. One to spare shows that a "
        "length is wrong; a second shows which. Points are the least-squares fit of the taped lengths, all counting "
        "the same, with the first point where it was and the second in its direction. Out by is fitted less taped."
    ),
    example=(
        "plan='A 0,0; B 9000,0; C 9000,6000; D 4000,6000; E 4000,10000; F 0,10000; main AB 40, BC 40, CD 40, FA 40; "
        "wing AB 40, DE 40, EF gable, FA 40' ties=A-B:9004,B-C:6001,C-D:4998,D-E:4003,E-F:4001,F-A:10005,B-F:13458,"
        "A-D:7214,D-F:5659,C-E:6401"
    ),
)
def ties(given: TiesInputs) -> Outcome:
    """Lengths and places in mm. Refusal for a plan that can't be read, and for lengths that leave a point loose."""
    plan = read_plan(given.plan)
    sides = _sides(plan)
    working = Working()
    unknown = working.step("unknown", "2 * points - 3", "", points=len(plan.points))
    take = ties_to_take(plan.points, sides)
    working.step("one_to_spare", "unknown + 1 - sides", "", unknown=unknown, sides=len(sides))
    fit = measured.fitted(plan.points, given.ties, given.tape)
    places = fit.points if fit else plan.points
    points: list[Row] = [{"point": name, "x": x, "y": y} for name, (x, y) in places.items()]
    return Outcome(
        {
            "sides": len(sides),
            "count": len(take),
            "take": [*_side_rows(plan, sides), *_tie_rows(take)],
            "lengths": measured.length_rows(given.ties, fit),
            "points": points,
            "misclosure": max(map(abs, fit.residuals)) if fit else None,
        },
        working,
        notes=measured.doubts(given.ties, fit, given.tape),
    )


def _sides(plan: PlanText) -> list[Pair]:
    """The walls of the plan, each once, whichever way it runs."""
    sides: dict[frozenset[str], Pair] = {}
    for block in plan.blocks:
        for wall in block.walls:
            sides.setdefault(frozenset((wall.start, wall.end)), (wall.start, wall.end))
    if len(plan.points) < 3:
        raise Refusal("ties: the plan needs three points or more")
    return list(sides.values())


def _side_rows(plan: PlanText, sides: list[Pair]) -> list[Row]:
    return [{"tie": f"{a}-{b}", "drawn": _long(plan, (a, b)), "over": "side"} for a, b in sides]


def _tie_rows(take: list[tuple[Pair, float]]) -> list[Row]:
    last = len(take) - 1
    return [
        {"tie": f"{a}-{b}", "drawn": length, "over": "tie" if place < last else "tie, to spare"}
        for place, ((a, b), length) in enumerate(take)
    ]


def _long(plan: PlanText, side: Pair) -> float:
    return math.dist(plan.points[side[0]], plan.points[side[1]])
