"""How a slope is shared out to its covering, and how much of the covering goes up there."""

from sitelog.calculators.catalogue import Inputs, Outcome, Output, Result, Row, Verdict, Working, calculator, field
from sitelog.calculators.coverings.coursing import closed_up, courses_in, first_batten, gauges_in, largest_gauge, whole
from sitelog.quantities.rounding import as_typed, as_worked, places
from sitelog.refusal import Refusal

_STRUCTURAL = 15.0  # %: a council's re-roofing page, read; Approved Document A section 4, from memory
_SOME_ASK_FROM = 10.0  # %: another council's page, read

_TAKEN_AS_DOUBLE = "No lap given, so double lap is used (slates, plain tiles). For single lap give lap=single"
_RUNNING = "Mark running figures up both ends of the slope and strike lines. Never step one gauge off the last"
_NO_WASTE = "No waste is counted. Give waste= for cutting and breakage, more at hips and valleys"


class GaugeInputs(Inputs):
    """What `gauge` takes: lengths in mm."""

    slope: float = field("length", "up the slope, from the first batten (from the eaves edge if you give hang)", over=0)
    max_gauge: float | None = field("length", "largest gauge allowed", default=None, low=10)
    unit_length: float | None = field("length", "length of the tile or slate", default=None, over=0)
    headlap: float | None = field("length", "smallest headlap", default=None)
    lap: str | None = field(
        "choice",
        "single or double lap; double (slates, plain tiles) if left out with a headlap",
        default=None,
        choices=("single", "double"),
    )
    hang: float | None = field(
        "length", "from the tail of a slate or tile up to the top edge of its batten", default=None, over=0
    )
    eaves: float = field("length", "overhang of the tail past the eaves edge, up the slope", default=0.0)
    top: float = field("length", "top batten, down from the top of the slope (trial: 30 below the apex)", default=0.0)
    min_gauge: float | None = field("length", "smallest gauge allowed", default=None, over=0)


@calculator(
    "gauge",
    GaugeInputs,
    branch="coverings",
    does="Set out equal courses up a slope",
    results=(
        Output("courses", "", "courses, batten to batten"),
        Output("gauge", "mm", "gauge, the same for every course"),
        Output("largest_gauge", "mm", "largest gauge allowed"),
        Output("resulting_lap", "mm", "headlap at this gauge"),
        Output(
            "marks",
            "mm",
            "batten top edges from eaves",
            (Output("n", "", "batten"), Output("mark_at", "mm", "mark")),
        ),
    ),
    basis="slating and tiling handbooks: whole courses, equal gauge between fixed points",
    definition=(
        "The slope is divided equally between two fixed points, the top edges of the first and top battens. If "
        "you give hang, it starts at the eaves edge and the first batten is hang less eaves up from there. "
        "courses is the number of spaces: there is one more batten, and under-eaves and ridge courses are extra. "
        "The largest gauge is length - lap in single lap and (length - lap) / 2 in double."
    ),
    example="slope=4870 unit_length=265 headlap=65 lap=double min_gauge=88",
)
def gauge(given: GaugeInputs) -> Outcome:
    """Whole courses, the equal gauge, the batten marks from the eaves and the headlap, mm.

    Raises Refusal if no largest gauge follows from the inputs, or nothing is left to share out.
    """
    working = Working()
    doubled = given.lap is None and given.headlap is not None
    lap = "double" if doubled else given.lap
    largest = largest_gauge(working, given.unit_length, given.headlap, given.max_gauge, lap)
    if given.min_gauge is not None and given.min_gauge > largest:
        raise Refusal(
            f"gauge: min_gauge is {as_typed(given.min_gauge)}; it must not be over the largest, {as_typed(largest)}"
        )
    first, shared = _shared(working, given)
    courses = courses_in(working, shared, largest)
    equal = working.step("gauge", "length_shared / courses", length_shared=shared, courses=courses)
    marks: list[Row] = [{"n": n + 1, "mark_at": first + shared * n / courses} for n in range(courses + 1)]
    results: dict[str, Result] = {"courses": courses, "gauge": equal, "largest_gauge": largest, "marks": marks}
    if given.unit_length is not None and lap is not None:
        formula = "unit_length - 2 * gauge" if lap == "double" else "unit_length - gauge"
        results["resulting_lap"] = working.step("resulting_lap", formula, unit_length=given.unit_length, gauge=equal)
    verdict, closed = closed_up(equal, shared, courses, largest, given.min_gauge)
    taken = (_TAKEN_AS_DOUBLE,) if doubled else ()
    contradicts = _contradict(given.unit_length, lap, given.headlap, given.max_gauge)
    return Outcome(results, working, verdict=verdict, notes=(*taken, *contradicts, *closed, _RUNNING))


def _shared(working: Working, given: GaugeInputs) -> tuple[float, float]:
    """Where the first batten is, and the length from it to the top one [mm]; Refusal if there is none."""
    first = first_batten(working, given.hang, given.eaves)
    shared = working.step(
        "length_shared", "slope - first_batten - top", slope=given.slope, first_batten=first, top=given.top
    )
    if shared <= 0:
        raise Refusal(
            f"gauge: slope is {as_typed(given.slope)}; first batten {as_typed(first)} and top {as_typed(given.top)} "
            "leave no slope between them"
        )
    return first, shared


def _contradict(
    unit_length: float | None, lap: str | None, headlap: float | None, max_gauge: float | None
) -> tuple[str, ...]:
    """The note on a gauge and a headlap of which one does not leave the other."""
    if unit_length is None or lap is None or headlap is None or max_gauge is None:
        return ()
    left = unit_length - gauges_in(lap) * max_gauge
    if left >= headlap - 1e-9:
        return ()
    return (
        f"A gauge of {as_typed(max_gauge)} leaves a headlap of {as_worked(left)}, less than the"
        f" {as_typed(headlap)} given: the headlap is kept",
    )


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
