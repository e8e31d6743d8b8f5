"""How flat a slope may be under slates or tiles, how far they must lap there, and the gauge that such a lap leaves."""

import math
from collections.abc import Iterator, Sequence

from msgspec import Struct

from sitelog.calculators.catalogue import (
    Inputs,
    Outcome,
    Output,
    Row,
    Verdict,
    Working,
    calculator,
    field,
)
from sitelog.calculators.coverings.slate_laps import FLAT, LONGEST, SLATES, WET, Rain
from sitelog.left_out import given_or
from sitelog.quantities.rounding import as_typed, as_worked, places
from sitelog.refusal import Refusal

_NHBC = "NHBC Standards 2020, 7.2.19, Table 12"
_PLAIN_PITCH, _PLAIN_LAPS = 35.0, {"moderate": 65.0, "severe": 75.0}  # deg, mm; the same (read)
_SINGLE_PITCH, _SINGLE_LAP = 30.0, 75.0  # deg, mm; the same, note 2 (read)
_DUST = 1e-9
EXPOSURES = ("sheltered", "moderate", "severe", "very-severe")
COVERINGS = ("slates", "plain-tiles", "single-lap", "other")


class _Least(Struct, frozen=True):
    """What one table or sheet lets pass: the least pitch [deg], and the lap [mm] at this one, None under it."""

    table: str
    pitch: float
    lap: float | None


class HeadlapInputs(Inputs):
    """What `headlap` takes: lengths in mm, angles in degrees."""

    covering: str = field("choice", "slates, plain tiles, single-lap tiles, or another by its maker", choices=COVERINGS)
    pitch: float = field("pitch", "of the rafters")
    exposure: str = field("choice", "driving rain at the site", choices=EXPOSURES)
    unit_length: float | None = field("length", "of the slate or tile", default=None, over=0)
    unit_width: float | None = field("length", "of a slate", default=None, over=0)
    least: float | None = field("pitch", "minimum pitch on the tile's data sheet", default=None)
    least_lap: float | None = field("length", "headlap given with it", default=None)
    low: float | None = field("pitch", "lower pitch given for a longer headlap", default=None)
    low_lap: float | None = field("length", "that longer headlap", default=None)
    headlap: float | None = field("length", "to lay", default=None)
    gauge: float | None = field("length", "to lay", default=None, over=0)
    rafter: float | None = field("length", "length of the slope", default=None, over=0)
    who: str | None = field("text", "maker's document that says otherwise", default=None)


@calculator(
    "headlap",
    HeadlapInputs,
    branch="coverings",
    does="Minimum pitch, headlap and maximum gauge of slates and tiles, by exposure",
    results=(
        Output("least_pitch", "deg", "minimum pitch"),
        Output("least_headlap", "mm", "minimum headlap"),
        Output("largest_gauge", "mm", "maximum gauge with that headlap"),
        Output(
            "tables",
            "",
            "what each table gives",
            (Output("table", "", "table"), Output("from_pitch", "deg", "from pitch"), Output("lap", "mm", "headlap")),
        ),
    ),
    basis="slate suppliers' tables after BS 5534, at second hand; NHBC Standards 2020, 7.2.19; tile data sheets",
    definition=(
        "Where several tables list a size, the safer figure is used: the steeper minimum pitch, the longer headlap."
        " Between two rows the flatter one is used, over 45 degrees the last. A site with 56.5 l/m2 or more in a spell"
        " is severe. The gauge is half of length less headlap; in single lap, all of it. The maker's own figures come"
        " first: name the document."
    ),
    example="covering=slates unit_length=500 unit_width=250 pitch=32 exposure=severe headlap=120 gauge=190 rafter=4870",
)
def headlap(given: HeadlapInputs) -> Outcome:
    """Pitches in degrees, laps and gauge in mm; no verdict over a maker's own word. Refusal if a size is missing."""
    rain: Rain = "severe" if given.exposure in ("severe", "very-severe") else "moderate"
    tables = _tables(given, rain)
    working = Working()
    flattest, lap = _safest(working, tables)
    laid = given_or(given.headlap, lap)
    largest = _gauge_left(working, given, laid)
    figures = {"least_pitch": flattest, "least_headlap": lap, "largest_gauge": largest}
    rows: list[Row] = [{"table": table.table, "from_pitch": table.pitch, "lap": table.lap} for table in tables]
    faults = [
        *_flat(given.pitch, flattest),
        *_laps(given.headlap, lap),
        *_contradict(given.gauge, largest, laid),
    ]
    doubts = [*_untabled(tables, given), *_long(given, rain)]
    verdict: Verdict | None = _verdict(faults, doubts)
    if given.who and verdict != "pass":
        verdict = None
        doubts.append(f"Not judged: the maker says otherwise ({given.who})")
    return Outcome(
        {**{name: figure for name, figure in figures.items() if figure is not None}, "tables": rows},
        working,
        verdict=verdict,
        notes=(*faults, *doubts, *_notes(given.covering, given.least, rain)),
    )


def _verdict(faults: Sequence[str], doubts: Sequence[str]) -> Verdict:
    if faults:
        return "fail"
    return "unsure" if doubts else "pass"


def _tables(given: HeadlapInputs, rain: Rain) -> list[_Least]:
    """What each table or sheet lets pass for the covering; Refusal where a size or the maker's pitch is missing."""
    if given.covering == "slates":
        return _slates(given, rain)
    if given.covering == "plain-tiles":
        return [_reached(_NHBC, max(_PLAIN_PITCH, given.least or 0.0), _PLAIN_LAPS[rain], given.pitch)]
    if given.covering == "single-lap":
        return [_sheet(given)]
    if given.least is None:
        raise Refusal("headlap: add the maker's minimum pitch: `least=14`")
    return [_reached("the maker's data sheet", given.least, given.least_lap, given.pitch)]


def _reached(table: str, least: float, lap: float | None, pitch: float) -> _Least:
    """What a table lets pass from its least pitch up [deg]; no lap [mm] at a pitch under that."""
    return _Least(table, least, lap if pitch >= least - _DUST else None)


def _slates(given: HeadlapInputs, rain: Rain) -> list[_Least]:
    """What the tables that list the slates' size let pass; none if none lists it. Refusal without both sizes."""
    if given.unit_length is None or given.unit_width is None:
        raise Refusal("headlap: slates need both sizes: unit_length=500 unit_width=250")
    by_rain = SLATES.get((given.unit_length, given.unit_width))
    laps = () if by_rain is None else by_rain[rain]
    return [
        _Least(table.table, table.from_pitch, table.at(given.pitch))
        if given.pitch >= table.from_pitch - _DUST
        else _Least(table.table, table.from_pitch, None)
        for table in laps
    ]


def _sheet(given: HeadlapInputs) -> _Least:
    """A tile's own sheet: a pitch at a lap, and it may be a lower one at a longer; NHBC's where there is none."""
    said = ((given.least, given.least_lap), (given.low, given.low_lap))
    printed = [(at, lap) for at, lap in said if at is not None and lap is not None]
    if not printed:
        return _reached(_NHBC, _SINGLE_PITCH, _SINGLE_LAP, given.pitch)
    laid = given_or(given.headlap, math.inf)
    held = [at for at, lap in printed if lap <= laid + _DUST] or [printed[0][0]]
    reached = [lap for at, lap in printed if at <= given.pitch + _DUST]
    return _Least("the tile's data sheet", min(held), min(reached, default=None))


def _safest(working: Working, tables: list[_Least]) -> tuple[float | None, float | None]:
    """The steepest least pitch [deg], and the longest lap [mm] if every table has one at this pitch."""
    if not tables:
        return None, None
    flattest = max(table.pitch for table in tables)
    working.note("least_pitch", "the steepest of the tables", flattest, "deg")
    laps = [table.lap for table in tables if table.lap is not None]
    if len(laps) < len(tables):
        return flattest, None
    return flattest, working.note("least_headlap", "the longest of the tables", max(laps))


def _gauge_left(working: Working, given: HeadlapInputs, lap: float | None) -> float | None:
    """The largest gauge [mm] that keeps a lap [mm], where lap and length are known; Refusal for a lap over it all."""
    length = given.unit_length
    if lap is None or length is None:
        return None
    if lap >= length:
        raise Refusal(
            f"headlap: headlap is {as_typed(lap)}; it must be under the length of the tile or slate, {as_typed(length)}"
        )
    double = given.covering in ("slates", "plain-tiles")
    formula = "(unit_length - headlap) / 2" if double else "unit_length - headlap"
    return working.step("largest_gauge", formula, unit_length=length, headlap=lap)


def _untabled(tables: list[_Least], given: HeadlapInputs) -> Iterator[str]:
    length, width = given.unit_length, given.unit_width
    if not tables and length is not None and width is not None:
        known = ", ".join(f"{as_typed(long)}x{as_typed(wide)}" for long, wide in SLATES)
        yield (
            f"No table here lists slates {as_typed(length)} x {as_typed(width)}: ask the supplier and name the"
            f" document. Sizes listed: {known}"
        )


def _flat(pitch: float, least: float | None) -> Iterator[str]:
    if least is not None and pitch < least - _DUST:
        yield (
            f"{places(pitch, 1)} degrees is flatter than the minimum of {places(least, 1)}:"
            " choose another covering, or get the maker's agreement in writing"
        )


def _laps(laid: float | None, least: float | None) -> Iterator[str]:
    if laid is not None and least is not None and laid < least - _DUST:
        yield f"A headlap of {as_typed(laid)} is less than the {as_typed(least)} for this pitch and exposure"


def _contradict(gauge: float | None, largest: float | None, laid: float | None) -> Iterator[str]:
    if gauge is not None and largest is not None and laid is not None and gauge > largest + _DUST:
        yield (
            f"A gauge of {as_typed(gauge)} and a headlap of {as_typed(laid)} contradict each other:"
            f" that headlap allows at most {as_worked(largest)}"
        )


def _long(given: HeadlapInputs, rain: Rain) -> Iterator[str]:
    rafter = given.rafter
    if given.covering == "slates" and rafter is not None and rafter > LONGEST[rain] and given.pitch <= FLAT:
        yield (
            f"The slope is {as_typed(rafter)}; these headlaps are for at most {as_typed(LONGEST[rain])} at"
            f" {as_typed(FLAT)} degrees or less: ask the slate supplier"
        )


def _notes(covering: str, least: float | None, rain: Rain) -> Iterator[str]:
    if covering == "slates":
        yield f"These headlaps are for eaves up to 12 m high; severe is {as_typed(WET)} l/m2 or more in one spell"
        yield "If thick slates flatten the pitch by 3 degrees, use the next flatter row"
    elif covering == "plain-tiles":
        yield "Don't lay clay tiles outside BS EN 1304 for shape or size under 40 degrees (NHBC 7.2.19)"
    elif covering == "single-lap" and least is not None and least < _SINGLE_PITCH:
        yield f"Under {as_typed(_SINGLE_PITCH)} degrees NHBC needs evidence: keep the tile's sheet ({_NHBC}, note 2)"
    if covering == "plain-tiles" and rain == "severe":
        yield f"75 of headlap on a severe site, 65 elsewhere ({_NHBC})"
