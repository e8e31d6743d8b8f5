"""What a tape allows: its limit of error over a length, and what a reading with it proves."""

from sitelog.calculators.catalogue import Inputs, Outcome, Output, Working, calculator, field
from sitelog.calculators.setting_out.verdicts import (
    CLASSES,
    READING,
    STEEL_A_DEGREE,
    advice,
    verdict_by_guard_band,
    whole_metres,
)
from sitelog.refusal import Refusal


class TapeInputs(Inputs):
    """What `tape` takes: lengths in mm."""

    length: float = field("length", "length taped", over=0)
    class_: str = field("choice", "class printed on the blade", default="II", choices=tuple(CLASSES))
    start: str = field("choice", "measured from the hook, or mark to mark", default="hook", choices=("hook", "mark"))
    measured: float | None = field("length", "what you measured", default=None)
    nominal: float | None = field("length", "what it should be", default=None)
    tolerance: float | None = field("length", "limit allowed; leave out for no pass or fail", default=None)
    reading: float = field("length", "how far out one reading may be", default=READING, over=0, high=100)
    off_temperature: float = field(
        "number", "how far the temperature is off 20, in degrees C", default=0.0, low=-60, high=60, unit="C"
    )


@calculator(
    "tape",
    TapeInputs,
    branch="setting-out",
    does="How far out a tape may be, and what a reading with it can show",
    results=(
        Output("limit_of_error", "mm", "Tape may be out"),
        Output("uncertainty", "mm", "Reading may be out"),
        Output("difference", "mm", "Difference from nominal"),
        Output("pass_to", "mm", "Passes up to"),
        Output("fail_from", "mm", "Fails from"),
    ),
    basis="SI 2016/1153, Schedule 1I; ISO 14253-1 for the verdict",
    definition=(
        "The tape may be out by a + b L + c, with L in metres rounded up and c only from the hook or butt end: "
        "class I 0.1, 0.1, 0.1; II 0.3, 0.2, 0.2; III 0.6, 0.4, 0.3 (SI 2016/1153, Schedule 1I). U = 2 "
        "sqrt((limit^2 + reading^2 + heat^2)/3), with the reading 1 mm if left out and heat 11.5e-6 of the "
        "length per degree off 20. It passes if inside the limit by U, fails if outside by U, and is too close "
        "to call between (ISO 14253-1)."
    ),
    example="length=4200 class=II measured=4203 nominal=4200 tolerance=5 off_temperature=12",
)
def tape(given: TapeInputs) -> Outcome:
    """Errors and bounds in mm. Refusal for a measured length without its nominal one, or the other way round."""
    if (given.measured is None) != (given.nominal is None):
        raise Refusal("tape: give both measured= and nominal=, or neither")
    working = Working()
    limit = _tape_limit(working, given.length, given.class_, given.start)
    uncertainty = _tape_uncertainty(working, limit, given.length, given.reading, given.off_temperature)
    difference, verdict = None, None
    if given.measured is not None and given.nominal is not None:
        difference = working.step("difference", "measured - nominal", measured=given.measured, nominal=given.nominal)
    if difference is not None and given.tolerance is not None:
        verdict = verdict_by_guard_band(difference, given.tolerance, uncertainty)
    return Outcome(
        {
            "limit_of_error": limit,
            "uncertainty": uncertainty,
            "difference": difference,
            "pass_to": given.tolerance - uncertainty
            if given.tolerance is not None and given.tolerance >= uncertainty
            else None,
            "fail_from": given.tolerance + uncertainty if given.tolerance is not None else None,
        },
        working,
        verdict,
        notes=advice(verdict, given.tolerance, uncertainty) if given.tolerance is not None else (),
    )


def _tape_limit(working: Working, length: float, class_: str, start: str) -> float:
    a, b, c = CLASSES[class_]
    metres = whole_metres(length)
    numbers = {"of_the_blade": a, "each_metre": b, "metres": metres}
    if start == "hook":
        return working.step(
            "limit_of_error", "of_the_blade + each_metre * metres + of_the_hook", **numbers, of_the_hook=c
        )
    return working.step("limit_of_error", "of_the_blade + each_metre * metres", **numbers)


def _tape_uncertainty(working: Working, limit: float, length: float, reading: float, off_temperature: float) -> float:
    heat = working.step(
        "heat",
        "growth_of_a_metre_a_degree * length / 1000 * degrees_off_20",
        growth_of_a_metre_a_degree=STEEL_A_DEGREE * 1000,
        length=length,
        degrees_off_20=abs(off_temperature),
    )
    return working.step(
        "uncertainty",
        "2 * sqrt((limit_of_error**2 + reading**2 + heat**2) / 3)",
        limit_of_error=limit,
        reading=reading,
        heat=heat,
    )
