"""Which calculators are drawn, and where: the one list that screens, pack and command line read."""

from importlib import import_module

from sitelog.calculators.catalogue import Answer
from sitelog.drawing.model import Drawing
from sitelog.drawing.pen import DrawnAnswer
from sitelog.quantities.quantity import Units

# Each calculator and its module here. The function has the calculator's name, `flat_top` for `flat-top`; it is given
# the answer as `DrawnAnswer` and gives the drawings, the one that is wanted most first.
WHERE: dict[str, str] = {
    "squareness": "plans",
    "corner": "plans",
    "roof": "plans",
    "surface": "any_roof.surfaces",
    "building": "any_roof.surfaces",
    "ridge": "plans",
    "hip-foot": "bench.hip_feet",
    "flat-top": "flat_tops",
    "common": "rafters",
    "birdsmouth": "rafters",
    "hip": "hips",
    "valley": "hips",
    "jacks": "jacks",
    "sticks": "bench.sticks",
    "opening": "openings",
    "scarf": "scarfs",
    "arc": "curves",
    "barrel": "curves",
    "eyebrow": "curves",
    "ordinates": "heads",
    "slope-marks": "heads",
    "formers": "curved.formers",
    "soffit": "curved.soffits",
    "bulkhead": "curved.bulkheads",
    "rib": "ribs",
    "firrings": "firrings",
    "hipped-falls": "falls",
    "gutter": "gutters",
}


def draws(calculator: str) -> bool:
    """True where the answers of that calculator are drawn."""
    return calculator in WHERE


def drawings_of(answer: Answer, units: Units = "metric") -> tuple[Drawing, ...]:
    """The drawings of an answer, none where its calculator has none. Words follow `units`; points are in mm."""
    if answer.calculator not in WHERE:
        return ()
    module = import_module(f"sitelog.drawing.subjects.{WHERE[answer.calculator]}")
    return tuple(getattr(module, answer.calculator.replace("-", "_"))(DrawnAnswer(answer, units)))
