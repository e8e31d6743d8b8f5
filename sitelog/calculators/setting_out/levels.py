"""Level, wind and straightness: the checks that come before anything is cut."""

from collections.abc import Sequence

from sitelog.calculators.catalogue import Inputs, Outcome, Output, Row, Verdict, Working, calculator, field
from sitelog.calculators.setting_out.verdicts import READING, advice, verdict_by_guard_band
from sitelog.quantities.rounding import as_typed
from sitelog.refusal import Refusal

TOLERANCE = field("length", "limit allowed; leave out for no pass or fail", default=None)
READ_TO = field("length", "how far out one reading may be", default=READING, over=0, high=100)
GOOD_TO = Output("uncertainty", "mm", "Good to")
BY_READING = "geometry; ISO 14253-1 for the verdict"


def _judged(
    size: float, tolerance: float | None, uncertainty: float, instrument: str
) -> tuple[Verdict | None, tuple[str, ...]]:
    if tolerance is None:
        return None, ()
    verdict = verdict_by_guard_band(size, tolerance, uncertainty)
    return verdict, advice(verdict, tolerance, uncertainty, instrument)


def _two_readings(working: Working, reading: float) -> float:
    """U of a figure that is one reading less another."""
    return working.step(
        "uncertainty",
        "2 * sqrt((reading**2 + reading**2) / 3)",
        reading=reading,
    )


class LevelsInputs(Inputs):
    """What `levels` takes: lengths in mm."""

    readings: Sequence[float] = field("offsets", "one reading for each point, in order")
    kind: str = field(
        "choice", "level readings (less is higher), or heights", default="staff", choices=("staff", "height")
    )
    points: str | None = field("text", "names of the points, with commas; 1, 2, 3 if left out", default=None)
    tolerance: float | None = TOLERANCE
    reading: float = READ_TO


@calculator(
    "levels",
    LevelsInputs,
    branch="setting-out",
    does="Level readings: how far out, and the packing at each point",
    results=(
        Output("high_point", "", "Highest point"),
        Output("range", "mm", "Highest to lowest"),
        GOOD_TO,
        Output(
            "packing",
            "",
            "Packing",
            (
                Output("point", "", "Point"),
                Output("reading", "mm", "Reading"),
                Output("packing", "mm", "Packing"),
            ),
        ),
    ),
    basis=BY_READING,
    definition=(
        "The smallest level reading, or the largest height, is the highest point. Packing brings every other "
        "point up to it. The range is one reading less another with the level set up once, so U = 2 sqrt(2 "
        "reading^2/3) (JCGM 100; ISO 14253-1)."
    ),
    example="readings=1402,1405,1400,1404,1407,1403 points=A,AB,B,C,CD,D tolerance=5",
)
def levels(given: LevelsInputs) -> Outcome:
    """Range and packing in mm. Refusal for fewer than two readings, or names that aren't one a reading."""
    if len(given.readings) < 2:
        raise Refusal("levels: give two readings or more")
    names = _point_names(given.points, len(given.readings))
    best = min(given.readings) if given.kind == "staff" else max(given.readings)
    working = Working()
    spread = working.step(
        "range",
        "largest - smallest",
        largest=max(given.readings),
        smallest=min(given.readings),
    )
    deepest = "this reading less the smallest" if given.kind == "staff" else "the largest height less this one"
    working.note("most_packing", f"at the lowest point; packing is each {deepest}", spread)
    uncertainty = _two_readings(working, given.reading)
    verdict, notes = _judged(spread, given.tolerance, uncertainty, "level")
    packing: list[Row] = [
        {"point": name, "reading": reading, "packing": abs(reading - best)}
        for name, reading in zip(names, given.readings, strict=True)
    ]
    return Outcome(
        {
            "high_point": names[list(given.readings).index(best)],
            "range": spread,
            "uncertainty": uncertainty,
            "packing": packing,
        },
        working,
        verdict,
        notes=notes,
    )


def _point_names(points: str | None, count: int) -> list[str]:
    if points is None:
        return [str(n) for n in range(1, count + 1)]
    names = [name.strip() for name in points.split(",")]
    if len(names) != count or not all(names):
        raise Refusal(
            f"levels: give {count} names in points=, one for each reading; you gave {len([*filter(None, names)])}"
        )
    if len(set(names)) != len(names):
        raise Refusal("levels: two points have the same name; change one")
    return names


class TwistInputs(Inputs):
    """What `twist` takes: lengths in mm."""

    spacing: float = field("length", "between the two, where the straightedge bears", over=0)
    fall_foot: float = field("offset", "across the pair at the foot; left high is +")
    fall_head: float = field("offset", "across the pair at the head; left high is +")
    length: float = field("length", "along the rafter, from the foot reading to the head reading", over=0)
    tolerance: float | None = TOLERANCE
    reading: float = READ_TO


@calculator(
    "twist",
    TwistInputs,
    branch="setting-out",
    does="Twist between two rafters: fall across them at foot and head",
    results=(
        Output("wind", "mm", "Twist across the pair"),
        Output("wind_angle", "deg", "Angle of twist"),
        Output("wind_per_metre", "mm", "Twist per metre up"),
        GOOD_TO,
    ),
    basis=BY_READING,
    definition=(
        "Twist is the fall across the pair at the head less the fall at the foot, plus or minus, over the "
        "spacing where the straightedge bears. It is one reading less another, so U = 2 sqrt(2 reading^2/3) "
        "(JCGM 100; ISO 14253-1). We found no published limit for cut roofs: the limit is the firm's own."
    ),
    example="spacing=400 fall_foot=1 fall_head=6.5 length=3450 tolerance=3",
)
def twist(given: TwistInputs) -> Outcome:
    """The twist in mm, in mm a metre and in degrees; passed or failed only where a tolerance [mm] is given."""
    for where, fall in (("foot", given.fall_foot), ("head", given.fall_head)):
        if abs(fall) >= given.spacing:
            raise Refusal(f"twist: fall_{where}={as_typed(fall)} can't be as much as spacing={as_typed(given.spacing)}")
    working = Working()
    wind = working.step("wind", "fall_head - fall_foot", fall_head=given.fall_head, fall_foot=given.fall_foot)
    angle = working.step(
        "wind_angle",
        "atan(wind / spacing)",
        "deg",
        wind=wind,
        spacing=given.spacing,
    )
    each = working.step("wind_per_metre", "wind / length * 1000", wind=wind, length=given.length)
    uncertainty = _two_readings(working, given.reading)
    verdict, notes = _judged(wind, given.tolerance, uncertainty, "level")
    results = {"wind": wind, "wind_angle": angle, "wind_per_metre": each, "uncertainty": uncertainty}
    return Outcome(results, working, verdict, notes=notes)


class StringInputs(Inputs):
    """What `string` takes: lengths in mm."""

    offsets: Sequence[float] = field("offsets", "offsets from the line at equal spaces, both ends included")
    length: float = field("length", "end to end", over=0)
    tolerance: float | None = TOLERANCE
    reading: float = READ_TO


@calculator(
    "string",
    StringInputs,
    branch="setting-out",
    does="How straight a ridge, hip, plate or fascia is, from a string line",
    results=(
        Output("bow", "mm", "Bow (+ the same way as the offsets)"),
        Output("station", "mm", "Where, from the first end"),
        Output("ratio", "", "Length over bow"),
        GOOD_TO,
        Output(
            "stations",
            "",
            "Points",
            (
                Output("at", "mm", "Mark"),
                Output("offset", "mm", "Offset"),
                Output("off_line", "mm", "Off the line, end to end"),
            ),
        ),
    ),
    basis=BY_READING,
    definition=(
        "The bow is the largest offset, plus or minus, from a straight line between the two end offsets. Offsets "
        "are at equal spaces along the length. It depends on three readings, so U = 2 sqrt((1 + t^2 + (1-t)^2) "
        "reading^2/3), where t is how far along the bow is, as a fraction (JCGM 100; ISO 14253-1)."
    ),
    example="offsets=0,4,7,3,0 length=4800 tolerance=10",
)
def string(given: StringInputs) -> Outcome:
    """The bow in mm, and length over bow. Refusal for fewer than three offsets."""
    if len(given.offsets) < 3:
        raise Refusal("string: give at least three offsets: both ends and one between")
    shares = [n / (len(given.offsets) - 1) for n in range(len(given.offsets))]
    first, last = given.offsets[0], given.offsets[-1]
    off = [offset - (first + (last - first) * part_way) for offset, part_way in zip(given.offsets, shares, strict=True)]
    worst = max(range(len(off)), key=lambda n: abs(off[n]))
    part_way = shares[worst]
    working = Working()
    station = working.step("station", "length * part_way", length=given.length, part_way=part_way)
    bow = working.step(
        "bow",
        "offset - (first_end + (last_end - first_end) * part_way)",
        offset=given.offsets[worst],
        first_end=first,
        last_end=last,
        part_way=part_way,
    )
    ratio = None
    if abs(bow) > 1e-9:
        ratio = working.step("ratio", "length / bow", "", length=given.length, bow=abs(bow))
    uncertainty = working.step(
        "uncertainty",
        "2 * sqrt((1 + part_way**2 + (1 - part_way)**2) * reading**2 / 3)",
        part_way=part_way,
        reading=given.reading,
    )
    verdict, notes = _judged(bow, given.tolerance, uncertainty, "line")
    stations: list[Row] = [
        {"at": given.length * share, "offset": offset, "off_line": away}
        for share, offset, away in zip(shares, given.offsets, off, strict=True)
    ]
    return Outcome(
        {"bow": bow, "station": station, "ratio": ratio, "uncertainty": uncertainty, "stations": stations},
        working,
        verdict,
        notes=notes,
    )
