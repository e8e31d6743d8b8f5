"""A dormer's head as it was cut or set out, station by station, against the curve that was worked."""

from collections.abc import Sequence

from sitelog.calculators.catalogue import (
    Inputs,
    Outcome,
    Output,
    Result,
    Row,
    Verdict,
    Working,
    calculator,
    field,
)
from sitelog.calculators.curves.heads import CHORD, OF_THE_HEAD, RISE, SHEET, SPLIT, Head, head
from sitelog.calculators.setting_out.levels import GOOD_TO, READ_TO, TOLERANCE
from sitelog.calculators.setting_out.verdicts import advice, expanded, verdict_by_guard_band
from sitelog.geometry.vectors import sin_deg
from sitelog.quantities.rounding import as_worked
from sitelog.refusal import Refusal

_WORST_FIRST: tuple[Verdict, ...] = ("fail", "unsure", "pass")


class OrdinatesInputs(Inputs):
    """What `ordinates` takes: lengths in mm, angles in degrees."""

    chord: float = CHORD
    rise: float = RISE
    split: float | None = SPLIT
    pitch: float | None = field(
        "pitch", "pitch of the slope, for readings up it; leave out for plumb heights", default=None
    )
    sheet: float = SHEET
    spacing: float = field("length", "spacing of the points, out from the middle", over=0)
    readings: Sequence[float] = field("lengths", "one reading at each point, left to right, without the ends")
    tolerance: float | None = TOLERANCE
    reading: float = READ_TO


@calculator(
    "ordinates",
    OrdinatesInputs,
    branch="curves",
    does="Check a curved head: heights as measured against the true curve",
    results=(
        Output("worst", "mm", "Worst point off the curve (+ is high)"),
        Output("station", "mm", "Where, from the left end"),
        Output("worked", "mm", "Should be"),
        GOOD_TO,
        Output(
            "rows",
            "",
            "Points",
            (
                Output("at", "mm", "Mark"),
                Output("worked", "mm", "Worked"),
                Output("read", "mm", "Read"),
                Output("off", "mm", "Off"),
            ),
        ),
    ),
    basis="geometry; ISO 14253-1 for the verdict",
    definition=(
        OF_THE_HEAD
        + (
            " Points are the middle and every spacing out from it, without the ends. A reading can be out by its own "
            "error and, where the curve is steep, by the error of its mark along the chord: U = 2 sqrt((1 + "
            "steepness^2) reading^2/3) (JCGM 100; ISO 14253-1). Pass or fail is by the worst point."
        )
    ),
    example="chord=1800 rise=600 spacing=300 readings=393,553,602,553,395 tolerance=3",
)
def ordinates(given: OrdinatesInputs) -> Outcome:
    """Readings and results in mm. Refusal where the readings are not one a station."""
    curve = head("ordinates", given.chord, given.rise, given.split, given.sheet)
    marks = curve.marks("ordinates", given.spacing)
    if len(given.readings) != len(marks):
        raise Refusal(
            f"ordinates: {len(given.readings)} readings for {len(marks)} points; measure at {_told(marks)} from "
            "the left end"
        )
    lean = _lean(given.pitch)
    worked = should_read(given)
    off = [read - meant for read, meant in zip(given.readings, worked, strict=True)]
    worst = max(range(len(off)), key=lambda n: abs(off[n]))
    working = Working()
    working.note("worked", "height of the curve there, up the slope if you give a pitch", worked[worst])
    working.step("worst", "read - worked", read=given.readings[worst], worked=worked[worst])
    steep = abs(curve.steep(marks[worst] - curve.half)) / lean
    uncertainty = working.step(
        "uncertainty",
        "2 * sqrt((reading ** 2 + (steepness * reading) ** 2) / 3)",
        reading=given.reading,
        steepness=steep,
    )
    verdict = _verdict(given, curve, marks, off)
    rows: list[Row] = [
        {"at": at, "worked": meant, "read": read, "off": away}
        for at, meant, read, away in zip(marks, worked, given.readings, off, strict=True)
    ]
    results: dict[str, Result] = {
        "worst": off[worst],
        "station": marks[worst],
        "worked": worked[worst],
        "uncertainty": uncertainty,
        "rows": rows,
    }
    return Outcome(
        results,
        working,
        verdict,
        notes=() if given.tolerance is None else advice(verdict, given.tolerance, uncertainty),
    )


def should_read(given: OrdinatesInputs) -> list[float]:
    """What the curve reads at each point [mm], left to right; its readings aren't looked at. Refusal of no curve."""
    curve = head("ordinates", given.chord, given.rise, given.split, given.sheet)
    lean = _lean(given.pitch)
    return [curve.height(at - curve.half) / lean for at in curve.marks("ordinates", given.spacing)]


def _lean(pitch: float | None) -> float:
    """What a plumb height is over the same one read up a slope of that pitch [deg]; 1 where it is read plumb."""
    if pitch is None:
        return 1.0
    return sin_deg(pitch)


def _verdict(given: OrdinatesInputs, curve: Head, marks: list[float], off: list[float]) -> Verdict | None:
    """The worst verdict of the stations, each by its own uncertainty."""
    if given.tolerance is None:
        return None
    found = set()
    for at, away in zip(marks, off, strict=True):
        of_the_mark = curve.steep(at - curve.half) / _lean(given.pitch) * given.reading
        found.add(verdict_by_guard_band(away, given.tolerance, expanded(given.reading, of_the_mark)))
    return next(verdict for verdict in _WORST_FIRST if verdict in found)


def _told(marks: list[float]) -> str:
    said = [as_worked(at) for at in marks]
    return ", ".join(said if len(said) <= 12 else [*said[:5], "...", *said[-2:]])
