"""How lead or copper is shared out in bays that can move, and what they weigh."""

from sitelog.calculators.catalogue import Inputs, Outcome, Output, Result, Row, Working, calculator, field
from sitelog.calculators.coverings.coursing import whole
from sitelog.calculators.coverings.sheet_metals import CODE, METAL, THICKNESS, Largest, Metal, metal_of
from sitelog.calculators.sources import SOURCES
from sitelog.calculators.timber.weights import lifting_caution
from sitelog.quantities.rounding import as_typed, places
from sitelog.refusal import Refusal

_LAPS_FROM = 11.0  # deg; a trade page on joints across the fall in lead (read; older tables print 10)
_LAP_RISE = 75.0  # mm of height that a lap across the fall takes; the same page (read)


class MetalBaysInputs(Inputs):
    """What `metal-bays` takes: lengths in mm, angles in degrees."""

    metal: str = METAL
    code: int | None = CODE
    thickness: float | None = THICKNESS
    use: str = field("choice", "where it goes", choices=("flat", "pitched", "gutter", "cladding"))
    length: float = field("length", "length to cover, down the fall or down the wall", over=0)
    girth: float = field("length", "width to cover, across; for a gutter, sole and both sides", over=0)
    temperature_range: float = field(
        "number", "from the metal's coldest to its hottest", default=60, over=0, high=150, unit="K"
    )
    pitch: float | None = field("pitch", "pitch, if it is a pitched roof", default=None)


@calculator(
    "metal-bays",
    MetalBaysInputs,
    branch="coverings",
    does="Bays of lead or copper: sizes, movement and weight",
    results=(
        Output("bays", "", "bays along the length"),
        Output("bay_length", "mm", "length of each bay"),
        Output("widths", "", "bays across"),
        Output("bay_girth", "mm", "width or girth of each"),
        Output("largest_length", "mm", "longest bay allowed"),
        Output("largest_girth", "mm", "widest bay allowed"),
        Output("movement", "mm", "movement along a bay"),
        Output("lap", "mm", "lap across the fall"),
        Output("pieces", "", "pieces"),
        Output("mass_each", "kg", "weight of a piece, net"),
        Output("mass_all", "kg", "weight of all, net"),
        SOURCES,
    ),
    basis="joint-spacing tables of the metal's code of practice; each figure names its source",
    definition=(
        "The length is divided equally between drips, laps or welts, and the width between rolls, seams or "
        "standing joints, so no bay is over the largest allowed. Movement is growth per degree x length x "
        "temperature range. Weight is net: laps, drips, upstands, rolls and welts are extra. A lap covers 75 mm "
        "of height. A figure from memory is a guide and never a fail: the metalworker decides."
    ),
    example="metal=lead code=6 use=pitched length=4000 girth=2400 pitch=30",
)
def metal_bays(given: MetalBaysInputs) -> Outcome:
    """Lengths and movement in mm, masses in kg. Raises Refusal for a metal that is not kept, or a lap too flat."""
    sheet = metal_of("metal-bays", given.metal, given.code, given.thickness)
    is_lead = sheet.label.startswith("lead")
    _check_pitch(given.use, given.pitch, is_lead)
    working = Working()
    largest = sheet.piece("metal-bays", given.use, given.pitch)
    results: dict[str, Result] = {"largest_length": largest.length, "largest_girth": largest.girth}
    working.note("largest_length", f"{sheet.label}, {given.use}, {largest.standing}", largest.length)
    working.note("largest_girth", f"{sheet.label}, {given.use}, {largest.standing}", largest.girth)
    bays, long = _shared(working, ("bays", "bay_length", "length"), given.length, largest.length)
    if given.use == "gutter":
        widths, wide = 1, working.note("bay_girth", "a gutter is one piece across", given.girth)
    else:
        widths, wide = _shared(working, ("widths", "bay_girth", "girth"), given.girth, largest.girth)
    results |= {"bays": bays, "bay_length": long, "widths": widths, "bay_girth": wide}
    numbers = {"growth_a_degree": sheet.growth, "bay_length": long, "temperature_range": given.temperature_range}
    results["movement"] = working.step("movement", "growth_a_degree * bay_length * temperature_range", **numbers)
    if given.use == "pitched" and given.pitch is not None and is_lead:
        results["lap"] = working.step("lap", "lap_rise / sin(pitch)", lap_rise=_LAP_RISE, pitch=given.pitch)
    masses = _masses(working, sheet, bays * widths, long, wide)
    results |= {**masses, "sources": _sources(sheet, largest)}
    return Outcome(
        results,
        working,
        cautions=_cautions(masses["mass_each"], is_lead),
        notes=(*_over(given.use, given.girth, largest), *_standing(sheet, is_lead)),
    )


def _check_pitch(use: str, pitch: float | None, is_lead: bool) -> None:
    if pitch is not None and use != "pitched":
        raise Refusal(f"metal-bays: pitch= is for use=pitched only. Leave it out with use={use}")
    if pitch is not None and is_lead and pitch < _LAPS_FROM:
        raise Refusal(
            f"metal-bays: pitch is {as_typed(pitch)}; lead under {as_typed(_LAPS_FROM)} degrees is a flat, with "
            "drips: give use=flat"
        )


def _shared(working: Working, names: tuple[str, str, str], whole_of_it: float, largest: float) -> tuple[int, float]:
    """How many equal parts no longer than the largest [mm], and the size of each."""
    count_name, each_name, total_name = names
    count = whole(whole_of_it / largest)
    working.note(count_name, f"{total_name} over the largest, rounded up", count, "")
    numbers = {total_name: whole_of_it, count_name: float(count)}
    return count, working.step(each_name, f"{total_name} / {count_name}", **numbers)


def _masses(working: Working, sheet: Metal, pieces: int, long: float, wide: float) -> dict[str, float]:
    numbers = {"mass_per_m2": sheet.mass, "bay_length": long, "bay_girth": wide}
    each = working.step("mass_each", "mass_per_m2 * bay_length / 1000 * bay_girth / 1000", "kg", **numbers)
    every = working.step("mass_all", "pieces * mass_each", "kg", pieces=pieces, mass_each=each)
    return {"pieces": pieces, "mass_each": each, "mass_all": every}


def _sources(sheet: Metal, largest: Largest) -> list[Row]:
    return [
        {"figure": "bay_length", "source": largest.source, "standing": largest.standing},
        {"figure": "bay_girth", "source": largest.source, "standing": largest.standing},
        {"figure": "movement", "source": f"{places(sheet.growth * 1e6, 0)}e-6 a K, trade pages", "standing": "read"},
        {"figure": "mass", "source": sheet.mass_source, "standing": sheet.mass_standing},
    ]


def _cautions(each: float, is_lead: bool) -> tuple[str, ...]:
    return ("hot-work", "lead-health" if is_lead else "copper-runoff", *lifting_caution(each))


def _over(use: str, girth: float, largest: Largest) -> tuple[str, ...]:
    if use != "gutter" or girth <= largest.girth:
        return ()
    return (
        f"A width of {as_typed(girth)} is over {as_typed(largest.girth)}, the widest for one piece: make the "
        "gutter narrower, or the sheet thicker",
    )


def _standing(sheet: Metal, is_lead: bool) -> tuple[str, ...]:
    if is_lead:
        return ("Bay sizes of lead are from memory of BS 6915's tables: a guide, not a limit. Ask the leadworker",)
    if "gutter" not in sheet.largest:
        return (
            "Long strip needs sliding clips, a fixed zone, and at least 5 degrees (the pitch is from memory)",
            "Flatter than that, use rolls and drips in bays of 600 x 1800: metal=copper",
        )
    return (
        "Another way in copper is long strip up to 10 m, 500 wide, with sliding clips (another country's code)",
        "Copper in a gutter or on a wall: the usual roof bay is used here. Ask the metalworker",
    )
