"""How lead or copper is shared out in bays that can move, and what they weigh."""

from sitelog.refusal import Refusal
from sitelog.rounding import as_typed, places
from sitelog.trade.catalogue import Input, Outcome, Output, Result, Row, Working, calculator
from sitelog.trade.coursing import whole
from sitelog.trade.geometry import sin_deg
from sitelog.trade.sheet_metals import METAL_INPUTS, Largest, Metal, metal_of
from sitelog.trade.sources import SOURCES
from sitelog.trade.timber import GUIDELINE_KG

_LAPS_FROM = 11.0  # deg; a trade page on joints across the fall in lead (read; older tables print 10)
_LAP_RISE = 75.0  # mm of height that a lap across the fall takes; the same page (read)


@calculator(
    "metal-bays",
    branch="coverings",
    does="Bays of lead or copper, how far each moves and what it weighs",
    inputs=(
        *METAL_INPUTS,
        Input("use", "choice", "where it goes", choices=("flat", "pitched", "gutter", "cladding")),
        Input("length", "length", "to cover, down the fall or down the wall", over=0),
        Input("girth", "length", "to cover, across; of a gutter, sole and both sides", over=0),
        Input("temperature_range", "number", "coldest to hottest of the metal", default=60, over=0, high=150, unit="K"),
        Input("pitch", "pitch", "of a pitched roof", optional=True),
    ),
    results=(
        Output("bays", "", "bays down the length"),
        Output("bay_length", "mm", "length of each bay"),
        Output("widths", "", "bays across"),
        Output("bay_girth", "mm", "width or girth of each"),
        Output("largest_length", "mm", "longest bay told"),
        Output("largest_girth", "mm", "widest bay told"),
        Output("movement", "mm", "movement of a bay's length"),
        Output("lap", "mm", "lap across the fall"),
        Output("pieces", "", "pieces"),
        Output("mass_each", "kg", "mass of a piece, net"),
        Output("mass_all", "kg", "mass of all, net"),
        SOURCES,
    ),
    basis="joint-spacing tables of the metal's code of practice; each figure names its source",
    definition=(
        "The length is shared out equally between drips, laps or welts, and the girth between rolls, seams or standing"
        " joints, no bay over the largest told. Movement is growth a K x length x range. Mass is net: laps, drips,"
        " upstands, rolls and welts come on top. The lap takes 75 mm of height. A figure from memory guides and fails"
        " nothing: the metalworker has the last word."
    ),
    example="metal=lead code=6 use=pitched length=4000 girth=2400 pitch=30",
)
def metal_bays(
    *,
    metal: str,
    code: int | None,
    thickness: float | None,
    use: str,
    length: float,
    girth: float,
    temperature_range: float,
    pitch: float | None,
) -> Outcome:
    """Lengths and movement in mm, masses in kg. Raises Refusal for a metal that is not kept, or a lap too flat."""
    sheet = metal_of("metal-bays", metal, code, thickness)
    is_lead = sheet.label.startswith("lead")
    _check_pitch(use, pitch, is_lead)
    w = Working()
    largest = sheet.piece("metal-bays", use, pitch)
    results: dict[str, Result] = {"largest_length": largest.length, "largest_girth": largest.girth}
    w.note("largest_length", f"{sheet.label}, {use}, {largest.standing}", largest.length)
    w.note("largest_girth", f"{sheet.label}, {use}, {largest.standing}", largest.girth)
    bays, long = _shared(w, ("bays", "bay_length", "length"), length, largest.length)
    if use == "gutter":
        widths, wide = 1, w.note("bay_girth", "a gutter goes across in one piece", girth)
    else:
        widths, wide = _shared(w, ("widths", "bay_girth", "girth"), girth, largest.girth)
    results |= {"bays": bays, "bay_length": long, "widths": widths, "bay_girth": wide}
    numbers = {"growth_a_degree": sheet.growth, "bay_length": long, "temperature_range": temperature_range}
    moves = sheet.growth * long * temperature_range
    results["movement"] = w.step("movement", "growth_a_degree * bay_length * temperature_range", moves, **numbers)
    if use == "pitched" and pitch is not None and is_lead:
        lap = _LAP_RISE / sin_deg(pitch)
        results["lap"] = w.step("lap", "lap_rise / sin(pitch)", lap, lap_rise=_LAP_RISE, pitch=pitch)
    each = sheet.mass * long * wide / 1e6
    results |= _masses(w, sheet, bays * widths, long, wide) | {"sources": _sources(sheet, largest)}
    return Outcome(
        results,
        w,
        cautions=_cautions(each, is_lead),
        notes=(*_over(use, girth, largest), *_standing(sheet, is_lead)),
    )


def _check_pitch(use: str, pitch: float | None, is_lead: bool) -> None:
    if pitch is not None and use != "pitched":
        raise Refusal(f"metal-bays: pitch goes with use=pitched, not with use={use}")
    if pitch is not None and is_lead and pitch < _LAPS_FROM:
        raise Refusal(
            f"metal-bays: pitch is {as_typed(pitch)}; lead under {as_typed(_LAPS_FROM)} degrees is a"
            " flat, with drips: use=flat"
        )


def _shared(w: Working, names: tuple[str, str, str], whole_of_it: float, largest: float) -> tuple[int, float]:
    """How many equal parts no longer than the largest [mm], and the size of each."""
    count_name, each_name, total_name = names
    count = whole(whole_of_it / largest)
    w.note(count_name, f"{total_name} over the largest, made up to a whole number", count, "")
    numbers = {total_name: whole_of_it, count_name: float(count)}
    return count, w.step(each_name, f"{total_name} / {count_name}", whole_of_it / count, **numbers)


def _masses(w: Working, sheet: Metal, pieces: int, long: float, wide: float) -> dict[str, Result]:
    each = sheet.mass * long * wide / 1e6
    numbers = {"mass_per_m2": sheet.mass, "bay_length": long, "bay_girth": wide}
    w.step("mass_each", "mass_per_m2 * bay_length / 1000 * bay_girth / 1000", each, "kg", **numbers)
    every = w.step("mass_all", "pieces * mass_each", pieces * each, "kg", pieces=pieces, mass_each=each)
    return {"pieces": pieces, "mass_each": each, "mass_all": every}


def _sources(sheet: Metal, largest: Largest) -> list[Row]:
    return [
        {"figure": "bay_length", "source": largest.source, "standing": largest.standing},
        {"figure": "bay_girth", "source": largest.source, "standing": largest.standing},
        {"figure": "movement", "source": f"{places(sheet.growth * 1e6, 0)}e-6 a K, trade pages", "standing": "read"},
        {"figure": "mass", "source": sheet.mass_source, "standing": sheet.mass_standing},
    ]


def _cautions(each: float, is_lead: bool) -> tuple[str, ...]:
    own = ("hot-work", "lead-health" if is_lead else "copper-runoff")
    return (*own, "heavy-lift") if each > GUIDELINE_KG[0] else own


def _over(use: str, girth: float, largest: Largest) -> tuple[str, ...]:
    if use != "gutter" or girth <= largest.girth:
        return ()
    return (
        f"A girth of {as_typed(girth)} is over the {as_typed(largest.girth)} told for one piece: a"
        " narrower gutter, or a thicker sheet",
    )


def _standing(sheet: Metal, is_lead: bool) -> tuple[str, ...]:
    if is_lead:
        return ("Bay sizes of lead are from memory of BS 6915's tables: guidance, no limit; ask the leadworker",)
    if "gutter" not in sheet.largest:
        return (
            "Long strip wants sliding clips, a fixed zone, and 5 degrees or more (the pitch from memory)",
            "Under that fall it is rolls and drips in bays of 600 x 1800: metal=copper",
        )
    return (
        "Long strip to 10 m, 500 wide, with sliding clips is another way in copper (another country's code, read)",
        "Copper in a gutter or on a wall: the same traditional bay is taken; ask the metalworker",
    )
