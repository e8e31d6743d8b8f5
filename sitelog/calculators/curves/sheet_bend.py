"""Whether a plywood sheet goes round a curve dry, and in how many layers a thickness does."""

import math

from msgspec import Struct

from sitelog.calculators.catalogue import Inputs, Outcome, Output, Result, Verdict, Working, calculator, field
from sitelog.calculators.coverings.coursing import whole
from sitelog.quantities.rounding import as_typed

_PANEL = "panel association TT-003A, 2007 (US, dry)"
_AIRCRAFT = "FAA AC 43.13-1B (aircraft plywood, dry)"


class _Bend(Struct, frozen=True):
    """Least radius [mm] of one sheet of a thickness [mm], bent across and along its face grain."""

    thickness: float
    across: float
    along: float
    source: str = _PANEL

    def least(self, grain: str) -> float:
        if grain == "across":
            return self.across
        return self.along


# Printed radii, both read at second hand. The panel table has nothing under 6.4; what it has rules over the other's.
BENDS = (
    _Bend(3.2, 180, 305, _AIRCRAFT),
    _Bend(4.0, 254, 406, _AIRCRAFT),
    _Bend(6.4, 610, 1525),
    _Bend(7.9, 610, 1830),
    _Bend(9.5, 915, 2440),
    _Bend(12.7, 1830, 3660),
    _Bend(15.9, 2440, 4880),
    _Bend(19.0, 3660, 6100),
)


class SheetBendInputs(Inputs):
    """What `sheet-bend` takes: lengths in mm."""

    radius: float = field("length", "radius of the face it is bent on", over=0)
    thickness: float = field("length", "thickness of the finished sheathing", over=0, high=100)
    grain: str = field(
        "choice",
        "bent across the face grain (grain along the barrel), or along it",
        default="across",
        choices=("across", "along"),
    )


@calculator(
    "sheet-bend",
    SheetBendInputs,
    branch="curves",
    does="Bend plywood round a curve: in one sheet or in layers",
    results=(
        Output("minimum_radius", "mm", "smallest radius for one sheet"),
        Output("layers", "", "layers that bend round"),
        Output("layer_thickness", "mm", "thickness of each layer"),
        Output("layer_minimum_radius", "mm", "smallest radius for a layer"),
        Output("source", "", "source"),
    ),
    basis="published minimum radii of plywood, second hand",
    definition=(
        "Radius is of the ribs or former under the first layer. Pass or fail is for one sheet of the whole "
        "thickness. It passes if the radius is at least the one published for it, or for the next thicker sheet. "
        "It is OUT if the radius is under that of the next thinner sheet. Between them, or off the table, it is too "
        "close to call. Layers are the fewest equal layers that each bend round, by the table. The tables are "
        "American. Use the maker's figure first."
    ),
    example="radius=900 thickness=18 grain=across",
)
def sheet_bend(given: SheetBendInputs) -> Outcome:
    """Radii and thicknesses in mm; results that no table reaches are left out. Refuses nothing of its own."""
    working = Working()
    thicker = next((bend for bend in BENDS if bend.thickness >= given.thickness), None)
    thinner = next((bend for bend in reversed(BENDS) if bend.thickness <= given.thickness), None)
    results: dict[str, Result] = {}
    if thicker is not None:
        least = thicker.least(given.grain)
        results |= {
            "minimum_radius": working.note("minimum_radius", _row(thicker, given.grain), least),
            "source": thicker.source,
        }
    verdict = _verdict(given.radius, given.grain, thinner, thicker)
    layers, notes = _layers(working, given.radius, given.thickness, given.grain)
    return Outcome(results | layers, working, verdict=verdict, notes=(*_told(verdict, layers), *notes))


def _row(bend: _Bend, grain: str) -> str:
    return f"published for {as_typed(bend.thickness)} mm bent {grain} the face grain"


def _verdict(radius: float, grain: str, thinner: _Bend | None, thicker: _Bend | None) -> Verdict:
    if thicker is not None and radius >= thicker.least(grain):
        return "pass"
    if thinner is not None and radius < thinner.least(grain):
        return "fail"
    return "unsure"


def _layers(working: Working, radius: float, thickness: float, grain: str) -> tuple[dict[str, Result], tuple[str, ...]]:
    """The fewest equal layers that go round, and what is to be known of them."""
    stiffest = next((bend for bend in reversed(BENDS) if bend.least(grain) <= radius), None)
    if stiffest is None:
        return {}, ("No sheet in the tables bends round this: use bending plywood to its maker's radius, or strips",)
    working.note("stiffest_sheet", "the thickest sheet in the tables that bends round", stiffest.thickness)
    count = whole(thickness / stiffest.thickness)
    working.note("layers", "whole layers, none thicker than that", count, "")
    each = working.step("layer_thickness", "thickness / layers", thickness=thickness, layers=count)
    printed = next(bend for bend in BENDS if bend.thickness >= each - 1e-9)
    least = working.note("layer_minimum_radius", _row(printed, grain), printed.least(grain))
    results: dict[str, Result] = {"layers": count, "layer_thickness": each, "layer_minimum_radius": least}
    notes = ["A sheet can still crack: try one on the ribs first"]
    if count > 1:
        notes.append("Glue the layers, joints staggered. Each sits on the last, so its radius is larger by one layer")
    if printed.source == _AIRCRAFT:
        notes.append(f"The radius for a layer is from {_AIRCRAFT}: ordinary plywood may need more")
    notes.append("Make the former 1 to 3 % tighter to allow for spring-back (joinery practice, from memory)")
    return results, tuple(notes)


def _told(verdict: Verdict, layers: dict[str, Result]) -> tuple[str, ...]:
    count, each = layers.get("layers"), layers.get("layer_thickness")
    if verdict == "pass" or not isinstance(count, int) or not isinstance(each, float):
        return ()
    if count == 1:
        return ()
    thickness = math.ceil(each * 10 - 1e-6) / 10
    word = "won't bend round" if verdict == "fail" else "may not bend round"
    return (f"One sheet {word}; {count} layers of {as_typed(thickness)} mm will, by the published radii",)
