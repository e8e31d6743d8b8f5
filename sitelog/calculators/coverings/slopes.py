"""How a slope is shared out to its courses: one gauge, and the mark of each batten."""

from sitelog.calculators.catalogue import Inputs, Outcome, Output, Result, Row, Working, calculator, field
from sitelog.calculators.coverings.coursing import closed_up, courses_in, first_batten, gauges_in, largest_gauge
from sitelog.quantities.rounding import as_typed, as_worked
from sitelog.refusal import Refusal

_TAKEN_AS_DOUBLE = "No lap given, so double lap is used (slates, plain tiles). For single lap give lap=single"
_RUNNING = "Mark running figures up both ends of the slope and strike lines. Never step one gauge off the last"


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
