"""Whether four plates are square, by how much not, and whether the taped lengths can all be true."""

import math
from collections.abc import Sequence

from msgspec import Struct

from sitelog.calculators.catalogue import (
    Inputs,
    Outcome,
    Output,
    Result,
    Verdict,
    Working,
    calculator,
    field,
)
from sitelog.calculators.setting_out.fitted import corner_figures, doubt, length_rows, point_rows, tie_names
from sitelog.calculators.setting_out.plates import CORNERS, SIX, adjusted, angle, area, six, weighed
from sitelog.calculators.setting_out.verdicts import (
    CLASSES,
    READING,
    advice,
    difference_limit,
    verdict_by_guard_band,
)
from sitelog.geometry.least_squares import Fit, critical, suspects
from sitelog.quantities.quantity import Tie
from sitelog.quantities.rounding import as_worked, places
from sitelog.refusal import Refusal

MOST_TIES = 24


class Corner(Struct, frozen=True):
    """A corner as fitted: its interior angle [deg] and the shorter of its two sides [mm]."""

    name: str
    angle: float
    shorter_side: float

    @property
    def off_square(self) -> float:
        """How far the corner is from 90 degrees [deg]."""
        return abs(self.angle - 90)

    @property
    def out_of_square(self) -> float:
        """How far the end of the shorter side stands off a square on the other [mm]."""
        return self.shorter_side * math.sin(math.radians(self.off_square))


class _Judged(Struct, frozen=True):
    """How far the diagonals differ and how well that is known [mm], and what it proves."""

    difference: float
    uncertainty: float
    verdict: Verdict


class SquarenessInputs(Inputs):
    """What `squareness` takes: lengths in mm."""

    ab: float = field("length", "plate AB, outside corners", over=0)
    bc: float = field("length", "plate BC, outside corners", over=0)
    cd: float = field("length", "plate CD, outside corners", over=0)
    da: float = field("length", "plate DA, outside corners", over=0)
    ac: float = field("length", "diagonal AC, outside corners", over=0)
    bd: float = field("length", "diagonal BD, outside corners", over=0)
    ties: Sequence[Tie] | None = field("ties", "more lengths between named points", default=None)
    tape: str = field("choice", "class of the tape", default="II", choices=tuple(CLASSES))
    tolerance: float = field("length", "most the diagonals may differ by", default=10.0)
    reading: float = field("length", "how far out a reading may be", default=READING, over=0, high=100)


@calculator(
    "squareness",
    SquarenessInputs,
    branch="setting-out",
    does="Check four plates for square, and whether the tape readings agree",
    results=(
        Output("diagonal_difference", "mm", "Diagonals differ by"),
        Output("uncertainty", "mm", "Good to"),
        Output("out_of_square", "mm", "Worst corner out of square"),
        Output("worst_corner", "", "Worst corner"),
        *(Output(f"angle_{name.lower()}", "deg", f"Angle at {name}") for name in CORNERS),
        Output("area", "m2", "Area"),
        Output("misclosure", "mm", "Worst length: out by"),
        Output("standard_residual", "", "doubt of the worst length", shown=False),
        Output("suspect", "", "Length in doubt"),
        *(Output(f"residual_{side.lower()}", "mm", f"{side} out by") for side in SIX),
        *(Output(f"{name.lower()}_{axis}", "mm", f"Corner {name}, {axis}") for name in CORNERS for axis in "xy"),
        Output(
            "lengths",
            "",
            "Lengths",
            (
                Output("tie", "", "Length"),
                Output("taped", "mm", "Taped"),
                Output("fitted", "mm", "Fitted"),
                Output("residual", "mm", "Out by"),
                Output("standard", "", "doubt", shown=False),
            ),
        ),
        Output(
            "points",
            "",
            "More points",
            (Output("point", "", "Point"), Output("x", "mm", "x"), Output("y", "mm", "y")),
        ),
    ),
    basis="geometry, least squares; SI 2016/1153 and ISO 14253-1 for the verdict",
    definition=(
        "Lengths are between the outside corners of the plates, A to D anticlockwise from above. They are fitted "
        "by least squares, all counting the same, with A at 0,0 and B along x. Out by is fitted less taped. Pass "
        "or fail is on the two diagonals, taped with one tape hooked the same way, so that hook and heat cancel: "
        "U = 2 sqrt((limit^2 + 2 reading^2)/3), with the limit over their difference alone (SI 2016/1153, "
        "Schedule 1I; ISO 14253-1). If the readings don't agree, it is too close to call. Out of square is how "
        "far the end of a corner's shorter side is off a square set on the other side."
    ),
    example="ab=9000 bc=6000 cd=9003 da=6002 ac=10822 bd=10815 ties=A-M:4924,B-M:4925,C-M:6025,D-M:6021",
)
def squareness(given: SquarenessInputs) -> Outcome:
    """Lengths and places in mm, angles in degrees, area in m2.

    Refusal where three lengths don't close a triangle, the plates would cross, a point isn't held, or for too many.
    """
    every = (*six(given.ab, given.bc, given.cd, given.da, given.ac, given.bd), *_ties(given))
    plates = adjusted(every, given.tape, given.reading)
    doubted = _doubted(given, every, plates)
    corners = [_corner(name, plates) for name in CORNERS]
    worst = max(corners, key=lambda corner: corner.out_of_square)
    working = Working()
    judged = _diagonals(working, given, plates)
    results: dict[str, Result] = {
        "diagonal_difference": judged.difference,
        "uncertainty": judged.uncertainty,
        "out_of_square": _out_of_square(working, worst),
        "worst_corner": worst.name,
        **_angles(corners),
        "area": working.note("area", "inside the fitted corners", area(plates.points), "m2"),
        "misclosure": _misclosure(working, plates),
        "standard_residual": plates.worst,
        "suspect": doubted[0] if len(doubted) == 1 else None,
        **corner_figures(plates),
        "lengths": length_rows(every, plates),
        "points": point_rows(plates),
    }
    if not plates.agrees:
        return Outcome(results, working, judged.verdict, notes=(doubt(plates, doubted),))
    notes = _square_notes(given, worst, judged)
    return Outcome(results, working, judged.verdict, _cautions(given, worst, judged), notes)


def _ties(given: SquarenessInputs) -> tuple[Tie, ...]:
    """The further lengths. Refusal for too many."""
    ties = tuple(given.ties or ())
    if len(ties) > MOST_TIES:
        raise Refusal(f"squareness: {len(ties)} ties; give at most {MOST_TIES}")
    return ties


def _cautions(given: SquarenessInputs, worst: Corner, judged: _Judged) -> tuple[str, ...]:
    off = judged.verdict == "fail" or worst.out_of_square > given.tolerance
    if not off:
        return ()
    return ("plate-refer",)


def _doubted(given: SquarenessInputs, every: Sequence[Tie], plates: Fit) -> list[str]:
    """The lengths of which one may be the wrong one, by name."""
    names = tie_names(every)
    return [names[place] for place in suspects(weighed(every, given.tape, given.reading), plates)]


def _angles(corners: Sequence[Corner]) -> dict[str, float]:
    return {f"angle_{corner.name.lower()}": corner.angle for corner in corners}


def _corner(name: str, plates: Fit) -> Corner:
    at = CORNERS.index(name)
    sides = (math.dist(plates.points[name], plates.points[CORNERS[(at + turn) % 4]]) for turn in (1, -1))
    return Corner(name, angle(name, plates.points), min(sides))


def _diagonals(working: Working, given: SquarenessInputs, plates: Fit) -> _Judged:
    """The two diagonals against each other; not judged by them where the lengths don't agree."""
    difference = working.step(
        "diagonal_difference",
        "longer_diagonal - shorter_diagonal",
        longer_diagonal=max(given.ac, given.bd),
        shorter_diagonal=min(given.ac, given.bd),
    )
    limit = working.note(
        "tape_limit",
        f"class {given.tape}, between marks, over the difference alone",
        difference_limit(difference, given.tape),
    )
    uncertainty = working.step(
        "uncertainty",
        "2 * sqrt((tape_limit**2 + 2 * reading**2) / 3)",
        tape_limit=limit,
        reading=given.reading,
    )
    verdict = verdict_by_guard_band(difference, given.tolerance, uncertainty) if plates.agrees else "unsure"
    return _Judged(difference, uncertainty, verdict)


def _out_of_square(working: Working, worst: Corner) -> float:
    return working.step(
        "out_of_square",
        "shorter_side * sin(angle_off_square)",
        shorter_side=worst.shorter_side,
        angle_off_square=worst.off_square,
    )


def _misclosure(working: Working, plates: Fit) -> float:
    found = working.note(
        "misclosure",
        "the most any length has to change for all to fit one plan",
        max(abs(residual) for residual in plates.residuals),
    )
    limit = critical(plates.spare)
    working.note(
        "standard_residual",
        f"how doubtful the worst length is: readings that agree stay under {places(limit, 2)} 19 times in 20",
        plates.worst,
        "",
    )
    return found


def _square_notes(given: SquarenessInputs, worst: Corner, judged: _Judged) -> tuple[str, ...]:
    notes = ["the tape readings agree", *advice(judged.verdict, given.tolerance, judged.uncertainty)]
    if judged.verdict != "pass" and given.ac != given.bd:
        longer = "A and C" if given.ac > given.bd else "B and D"
        notes.append(f"the diagonal between {longer} is the longer: push those two corners towards each other")
    if judged.verdict == "pass" and worst.out_of_square > given.tolerance:
        notes.append(
            f"the diagonals agree, yet corner {worst.name} is {as_worked(worst.out_of_square)} out of square: "
            "opposite plates differ in length"
        )
    return tuple(notes)
