"""The curve of an eyebrow dormer, two arcs that flow into each other, and its line on the main slope."""

import math

from msgspec import Struct

from sitelog.calculators.catalogue import Inputs, Outcome, Output, Result, Working, calculator, field
from sitelog.calculators.curves.deck_lines import (
    CUT_COLUMNS,
    CUT_THROUGH,
    SHIFTS,
    THROUGH,
    DeckInputs,
    told_of_habit,
    told_shifts,
    with_back_cuts,
)
from sitelog.calculators.curves.segments import drop, stations
from sitelog.calculators.curves.slope_lines import (
    DATUM,
    FLAT,
    SPACING,
    check_reach,
    flat_crown,
    flat_side,
    on_slope,
)
from sitelog.geometry.vectors import asin_deg, sin_deg, tan_deg
from sitelog.quantities.rounding import as_typed, as_worked
from sitelog.refusal import Refusal

# Roof Tile Association, Eyebrows (read).
_MAIN_SLOPE, _FLATTEST = 55.0, 35.0
_TILES = "Roof Tile Association, Eyebrows"
_PLACING = (
    "In plain tiles: rafters at most 400 apart with the crown between two. Start the eyebrow at least 600 from a "
    f"hip, valley or wall; 900 is better ({_TILES})"
)


class Eyebrow(Struct, frozen=True):
    """Half the width, the rise, the crown's half width and the radii of crown and wing; mm."""

    half: float
    rise: float
    crown_half: float
    crown: float
    wing: float

    @classmethod
    def struck(cls, width: float, rise: float, split: float) -> "Eyebrow":
        """The curve of that width and rise [mm], `split` the crown's share of the half width.

        Refusal for a rise that stands the curve upright where the arcs meet.
        """
        half = width / 2
        if rise >= half:
            raise Refusal(
                f"eyebrow: rise is {as_typed(rise)}; it must be under half the width, {as_typed(half)}, or the "
                "curve is upright where the arcs meet"
            )
        whole = half / sin_deg(2 * math.degrees(math.atan(rise / half)))
        return cls(half, rise, split * half, split * whole, (1 - split) * whole)

    def height(self, at: float) -> float:
        """Height over the ends [mm], `at` mm from the left one."""
        off = abs(at - self.half)
        if off <= self.crown_half:
            return self.rise - drop(self.crown, off)
        return drop(self.wing, self.half - off)

    def slope(self, at: float) -> float:
        """How steep it is there [deg], `at` mm from the left end."""
        off = abs(at - self.half)
        share = off / self.crown if off <= self.crown_half else (self.half - off) / self.wing
        return asin_deg(min(share, 1.0))

    def inside(self, by: float) -> "Eyebrow":
        """The curve `by` mm inside it, square to it, over its own ends: they are that far under these, plumb."""
        crown = self.crown - by
        return Eyebrow(self.half, self.rise, self.crown_half * crown / self.crown, crown, self.wing + by)


class _EyebrowShape(Inputs):
    width: float = field("length", "end to end, level", over=0)
    rise: float = field("length", "from the ends up to the crown", over=0)
    split: float = field("fraction", "how much of the half width is in the crown arc", default=0.5, over=0, under=1)
    pitch: float | None = field("pitch", "pitch of the main slope; leave out for heights only", default=None)
    spacing: float = SPACING
    run: float | None = field(
        "length", "level run of the crown's rafter, from the face to the main slope", default=None, over=0
    )


class EyebrowInputs(_EyebrowShape, DeckInputs):
    """What `eyebrow` takes: lengths in mm, angles in degrees."""


@calculator(
    "eyebrow",
    EyebrowInputs,
    branch="curves",
    does="An eyebrow dormer: its arcs, and where it meets the main slope",
    results=(
        Output("crown_radius", "mm", "radius of the crown"),
        Output("wing_radius", "mm", "radius of each wing"),
        Output("tangent_angle", "deg", "angle where the arcs meet"),
        Output("tangent_at", "mm", "where they meet, from the left end"),
        Output("tangent_height", "mm", "height where they meet"),
        Output("curve_length", "mm", "length along the curve"),
        Output("ridge_back", "mm", "crown, level run back to the slope"),
        Output("crown_pitch", "deg", "pitch of the crown's rafter"),
        Output("least_run", "mm", "shortest run of it in plain tiles"),
        FLAT,
        *SHIFTS,
        Output("rows", "", "line", CUT_COLUMNS),
        *THROUGH,
    ),
    basis="geometry: two arcs with a common tangent; level lines cut by the plane of the slope",
    definition=(
        (
            "The crown is set out from a centre on the middle line, each wing from a centre plumb above its end. The "
            "arcs meet without a kink and the wings run out level. "
        )
        + DATUM
        + (
            " This is the finished line. For ribs under sheathing, take the sheet's thickness off the crown's radius "
            "and add it to the wings'. If you give the run of the crown's rafter, it climbs to meet the main slope. "
            "least_run keeps it at 35 degrees, the flattest for plain tiles (Roof Tile Association, Eyebrows)."
        )
        + CUT_THROUGH
    ),
    example="width=3000 rise=600 split=0.5 pitch=55 spacing=250 run=900",
)
def eyebrow(given: EyebrowInputs) -> Outcome:
    """Radii and rows in mm, angles in degrees. Raises Refusal for a rise that stands the curve upright."""
    curve = Eyebrow.struck(given.width, given.rise, given.split)
    _check_level(given, curve)
    working = Working()
    angle = working.step("tangent_angle", "2 * atan(rise / (width / 2))", "deg", rise=given.rise, width=given.width)
    numbers = {"split": given.split, "width": given.width, "tangent_angle": angle}
    working.step("crown_radius", "split * width / 2 / sin(tangent_angle)", **numbers)
    working.step("wing_radius", "(1 - split) * width / 2 / sin(tangent_angle)", **numbers)
    at = working.step("tangent_at", "(1 - split) * width / 2", split=given.split, width=given.width)
    high = working.step("tangent_height", "(1 - split) * rise", split=given.split, rise=given.rise)
    numbers = {"crown_radius": curve.crown, "wing_radius": curve.wing, "tangent_angle": angle, "pi": math.pi}
    length = working.step("curve_length", "2 * (crown_radius + wing_radius) * tangent_angle * pi / 180", **numbers)
    results: dict[str, Result] = {
        "crown_radius": curve.crown,
        "wing_radius": curve.wing,
        "tangent_angle": angle,
        "tangent_at": at,
        "tangent_height": high,
        "curve_length": length,
        "flat_crown": 2 * flat_side(curve.crown, curve.crown_half),
        **_lines(given, curve),
    }
    if given.pitch is not None:
        check_reach("eyebrow", given.rise, given.pitch)
        results["ridge_back"] = working.step("ridge_back", "rise / tan(pitch)", rise=given.rise, pitch=given.pitch)
        results |= _climbing(working, given.rise, given.pitch, given.run)
        results |= told_shifts(working, given.deck, given.pitch)
    off = results.get("off_if_thickness_added")
    habit = told_of_habit(given.deck, off) if isinstance(off, float) else ()
    return Outcome(
        results, working, notes=(*habit, *_in_tiles(given.rise, given.pitch), flat_crown(curve.crown, curve.crown_half))
    )


def _check_level(given: EyebrowInputs, curve: Eyebrow) -> None:
    """Refusal for a sheet or a ceiling where the lines back aren't level, or for one that takes the whole crown."""
    asked = next((name for name in ("deck", "inside", "below") if getattr(given, name)), None)
    if asked and given.run is not None:
        raise Refusal(f"eyebrow: {asked} is for level lines back; with run= the rafters climb. Leave out {asked}=")
    if asked and given.pitch is None:
        raise Refusal(f"eyebrow: {asked} needs the main slope's pitch. Add pitch=55")
    if given.inside >= min(given.rise, curve.crown):
        name, most = ("rise", given.rise) if given.rise <= curve.crown else ("crown's radius", curve.crown)
        raise Refusal(f"eyebrow: inside is {as_typed(given.inside)}; it must be under the {name}, {as_worked(most)}")


def _lines(given: EyebrowInputs, curve: Eyebrow) -> dict[str, Result]:
    """The rows of every line that was asked for."""
    marks, pitch = stations("eyebrow", given.width, given.spacing), given.pitch
    found: dict[str, Result] = {"rows": with_back_cuts(on_slope(marks, curve.height, pitch), curve.slope, pitch)}
    if given.deck:
        found["lower_rows"] = on_slope(marks, curve.height, pitch, given.deck)
    if given.has_ceiling:
        inner = curve.inside(given.inside)
        found["ceiling_rows"] = on_slope(marks, lambda at: inner.height(at) - given.inside, pitch, given.below)
    return found


def _climbing(working: Working, rise: float, pitch: float, run: float | None) -> dict[str, Result]:
    """The least run of a tiled crown's rafter on a slope of that pitch [deg], and its pitch on the run [mm] it has."""
    results: dict[str, Result] = {}
    numbers = {"rise": rise, "pitch": pitch}
    if pitch > _FLATTEST:
        formula = "rise / (tan(pitch) - tan(flattest))"
        results["least_run"] = working.step("least_run", formula, **numbers, flattest=_FLATTEST)
    if run is not None:
        climb = tan_deg(pitch) - rise / run
        if climb < 0:
            raise Refusal(
                f"eyebrow: run is {as_typed(run)}; the crown's rafter would slope backwards. A level one meets "
                f"the slope at {as_worked(rise / tan_deg(pitch))}, so give more"
            )
        results["crown_pitch"] = working.step("crown_pitch", "atan(tan(pitch) - rise / run)", "deg", **numbers, run=run)
    return results


def _in_tiles(rise: float, pitch: float | None) -> tuple[str, ...]:
    """What plain tiles ask of an eyebrow; its own rafters then climb, and meet the slope further back."""
    rule = (
        f"In plain tiles: main slope at least {as_typed(_MAIN_SLOPE)}, or use soakers; never flatter than "
        f"{as_typed(_FLATTEST)} ({_TILES})"
    )
    if pitch is None:
        return (rule, _PLACING)
    if pitch <= _FLATTEST:
        return (f"{rule}: a slope of {as_typed(pitch)} is too flat for it", _PLACING)
    back = rise / (tan_deg(pitch) - tan_deg(_FLATTEST))
    climbs = (
        f"Tiles can't run back level: at {as_typed(_FLATTEST)} degrees the crown's rafter meets the slope "
        f"{as_worked(back)} mm back"
    )
    if pitch < _MAIN_SLOPE:
        return (f"{rule}: this slope is {as_typed(pitch)}", climbs, _PLACING)
    return (rule, climbs, _PLACING)
