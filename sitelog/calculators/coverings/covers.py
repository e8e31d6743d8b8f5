"""How much of a covering goes up on a slope: counts, battens and weight, and whether the roof was made for it."""

from sitelog.calculators.catalogue import Inputs, Outcome, Output, Result, Verdict, Working, calculator, field
from sitelog.calculators.coverings.coursing import whole
from sitelog.quantities.rounding import places
from sitelog.refusal import Refusal

_STRUCTURAL = 15.0  # %: a council's re-roofing page, read; Approved Document A section 4, from memory
_SOME_ASK_FROM = 10.0  # %: another council's page, read
_NO_WASTE = "No waste is counted. Give waste= for cutting and breakage, more at hips and valleys"


def _area(working: Working, area: float | None, length: float | None, slope: float | None) -> float:
    """Area on the slope, m2."""
    if area is not None and length is None and slope is None:
        return working.note("area", "as typed, on the slope", area, "m2")
    if area is None and length is not None and slope is not None:
        return working.step("area", "length / 1000 * slope / 1000", "m2", length=length, slope=slope)
    raise Refusal("cover: give area=, or length= and slope=, not both")


def _mass_per_m2(
    working: Working, per_m2: float, unit_mass: float | None, mass_per_m2: float | None, design_mass: float | None
) -> float | None:
    """Mass of the covering alone, kg/m2 on the slope; None if no mass is given."""
    if unit_mass is not None and mass_per_m2 is not None:
        raise Refusal("cover: give unit_mass= or mass_per_m2=, not both")
    if unit_mass is not None:
        numbers = {"per_m2": per_m2, "unit_mass": unit_mass}
        return working.step("mass_per_m2", "per_m2 * unit_mass", "kg/m2", **numbers)
    if mass_per_m2 is not None:
        return working.note("mass_per_m2", "as typed", mass_per_m2, "kg/m2")
    if design_mass is not None:
        raise Refusal("cover: with design_mass= also give unit_mass= or mass_per_m2=")
    return None


def _load_change(change: float) -> tuple[tuple[str, ...], tuple[str, ...]]:
    """Cautions and notes on a covering that is `change` per cent heavier than the roof was designed for."""
    told = f"{places(abs(change), 0)} % {'heavier' if change > 0 else 'lighter'} than the roof was designed for"
    if change > _STRUCTURAL + 1e-9:
        ask = "over 15 %: the engineer and building control agree it first (some authorities: over 10 %)"
        return ("load-change",), (f"{told}: {ask}",)
    if change > _SOME_ASK_FROM + 1e-9:
        ask = "some authorities count this as structural from 10 %, others over 15 %: ask building control"
        return (), (f"{told}: {ask}",)
    if change < -_STRUCTURAL - 1e-9:
        return (), (f"{told}: over 15 % either way is for the engineer. Ask about holding down too",)
    return (), ()


class LoadChangeInputs(Inputs):
    """What `load-change` takes."""

    mass: float = field("number", "weight of the covering", over=0, high=1e3, unit="kg/m2")
    design_mass: float = field("number", "weight in the design", over=0, high=1e3, unit="kg/m2")


@calculator(
    "load-change",
    LoadChangeInputs,
    branch="coverings",
    does="How much heavier or lighter a covering is than the roof was designed for",
    results=(
        Output("mass_change", "kg/m2", "over the design weight"),
        Output("mass_change_percent", "", "over the design weight, %"),
    ),
    basis="councils' re-roofing pages: 15 %, and 10 %; Approved Document A, section 4, from memory",
    definition=(
        "Weigh the same things on the same m2 for both: covering and battens on the slope, or the lining on its flat."
        " Over 15 % either way only the engineer can say what it means; nothing is passed or failed here."
    ),
    example="mass=64 design_mass=47",
)
def load_change(given: LoadChangeInputs) -> Outcome:
    """The change in kg/m2 and in per cent, minus where it is lighter."""
    working = Working()
    numbers = {"mass": given.mass, "design_mass": given.design_mass}
    more = working.step("mass_change", "mass - design_mass", "kg/m2", **numbers)
    percent = working.step("mass_change_percent", "(mass / design_mass - 1) * 100", "", **numbers)
    cautions, notes = _load_change(percent)
    verdict: Verdict | None = "unsure" if abs(percent) > _STRUCTURAL + 1e-9 else None
    results: dict[str, Result] = {"mass_change": more, "mass_change_percent": percent}
    return Outcome(results, working, verdict=verdict, cautions=cautions, notes=notes)


class CoverInputs(Inputs):
    """What `cover` takes: lengths in mm."""

    gauge: float = field("length", "batten gauge", low=10)
    cover_width: float = field("length", "width one slate or tile covers", low=10)
    area: float | None = field("number", "area of all slopes, on the slope", default=None, over=0, high=1e5, unit="m2")
    length: float | None = field("length", "length along the eaves", default=None, over=0)
    slope: float | None = field("length", "length up the slope", default=None, over=0)
    waste: float = field("fraction", "waste for cutting and breakage, as a fraction", default=0.0)
    unit_mass: float | None = field("number", "weight of one slate or tile", default=None, over=0, high=1e3, unit="kg")
    mass_per_m2: float | None = field("number", "weight of the covering", default=None, over=0, high=1e3, unit="kg/m2")
    design_mass: float | None = field(
        "number", "weight the roof was designed for", default=None, over=0, high=1e3, unit="kg/m2"
    )


@calculator(
    "cover",
    CoverInputs,
    branch="coverings",
    does="Tiles or slates for a slope, length of batten, and the weight on the roof",
    results=(
        Output("area", "m2", "area on the slope"),
        Output("per_m2", "", "tiles or slates per m2"),
        Output("units_on_roof", "", "tiles or slates on the roof"),
        Output("units", "", "tiles or slates to order"),
        Output("batten_run", "m", "length of batten"),
        Output("mass", "kg", "weight of the covering"),
        Output("mass_per_m2", "", "weight, kg per m2 of slope"),
        Output("mass_change_percent", "", "over the design weight, %"),
    ),
    basis="geometry: one slate or tile covers gauge x cover width",
    definition=(
        "Areas are on the slope, not on plan. The count is for the plain slope: count under-eaves, top, verge, "
        "hip and ridge tiles or slates separately. Weight is the covering alone, without battens or waste. It is "
        "compared with the design weight of the covering for the same m2 of slope."
    ),
    example="length=9000 slope=4870 gauge=100 cover_width=165 waste=0.05 mass_per_m2=64 design_mass=47",
)
def cover(given: CoverInputs) -> Outcome:
    """Counts, batten run in m, mass in kg. Raises Refusal if area or mass is told twice or no area is."""
    working = Working()
    m2 = _area(working, given.area, given.length, given.slope)
    sizes = {"gauge": given.gauge, "cover_width": given.cover_width}
    per_m2 = working.step("per_m2", "1e6 / (gauge * cover_width)", "", **sizes)
    count = working.step("count", "area * per_m2", "", area=m2, per_m2=per_m2)
    order = working.step("to_order", "count * (1 + waste)", "", count=count, waste=given.waste)
    run = working.step("batten_run", "area * 1000 / gauge", "m", area=m2, gauge=given.gauge)
    results: dict[str, Result] = {"area": m2, "per_m2": per_m2, "batten_run": run}
    results |= {"units_on_roof": whole(count), "units": whole(order)}
    cautions: tuple[str, ...] = ()
    notes: tuple[str, ...] = () if given.waste else (_NO_WASTE,)
    unit = _mass_per_m2(working, per_m2, given.unit_mass, given.mass_per_m2, given.design_mass)
    if unit is not None:
        mass = working.step("mass", "area * mass_per_m2", "kg", area=m2, mass_per_m2=unit)
        results |= {"mass_per_m2": unit, "mass": mass}
    if unit is not None and given.design_mass is not None:
        masses = {"mass_per_m2": unit, "design_mass": given.design_mass}
        change = working.step("mass_change_percent", "(mass_per_m2 / design_mass - 1) * 100", "", **masses)
        results["mass_change_percent"] = change
        cautions, warnings = _load_change(change)
        notes += warnings
    return Outcome(results, working, cautions=cautions, notes=notes)
