"""What a measurement can prove: a tape's limit of error, a length's uncertainty, and the three verdicts."""

import math

from sitelog.calculators.catalogue import Verdict
from sitelog.quantities.rounding import as_typed, as_worked, at_least, at_most
from sitelog.refusal import Refusal

# SI 2016/1153, Schedule 1I: limit = a + b L + c in mm, L in metres rounded up, c from a hook or a butt end.
CLASSES: dict[str, tuple[float, float, float]] = {
    "I": (0.1, 0.1, 0.1),
    "II": (0.3, 0.2, 0.2),
    "III": (0.6, 0.4, 0.3),
}
STEEL_A_DEGREE = 11.5e-6  # how much of its length a steel tape grows for each degree C; marked true at 20
READING = 1.0  # mm; how far out an eye may be at one end of a tape or a staff


def _class(class_: str) -> tuple[float, float, float]:
    if class_ not in CLASSES:
        raise Refusal(f"tape class is {class_!r}; it must be one of {', '.join(CLASSES)}")
    return CLASSES[class_]


def whole_metres(length_mm: float) -> int:
    """The length [mm] in metres, rounded up, as the tape classes count it. Refusal if it is no length."""
    if not (math.isfinite(length_mm) and length_mm >= 0):
        raise Refusal(f"length is {as_typed(length_mm)}; it must be a finite length in mm, not negative")
    return math.ceil(round(length_mm / 1000, 9))


def tape_limit(length_mm: float, class_: str, from_hook: bool = True) -> float:
    """The largest error [mm] a new tape of that class may have over a length [mm].

    `from_hook` is False between two marks of the tape. Refusal for a class other than I, II or III, or for no
    length. Source: SI 2016/1153, Schedule 1I.
    """
    a, b, c = _class(class_)
    return a + b * whole_metres(length_mm) + (c if from_hook else 0.0)


def heat_error(length_mm: float, off_temperature: float) -> float:
    """How far [mm] a steel tape is out over a length [mm] when it is that many degrees C off 20."""
    return STEEL_A_DEGREE * length_mm * abs(off_temperature)


def expanded(*bounds: float) -> float:
    """U [mm] of a figure whose errors are each somewhere within their bound [mm], any place being as likely.

    Twice the root of the sum of squares over three (JCGM 100:2008, 4.3.7 and 6.2): right 19 times in 20.
    """
    return 2 * math.sqrt(sum(bound * bound for bound in bounds) / 3)


def uncertainty(length_mm: float, class_: str, reading_mm: float = READING, off_temperature: float = 0.0) -> float:
    """U [mm] of a length [mm] taped from the hook: the tape's limit, the reading, and `off_temperature` C of heat."""
    return expanded(tape_limit(length_mm, class_), reading_mm, heat_error(length_mm, off_temperature))


def difference_limit(difference_mm: float, class_: str) -> float:
    """The tape's largest error [mm] in the difference of two lengths off one tape, hooked the same way.

    The hook and the tape up to the shorter length are in both and cancel; what is left is the tape between its
    two marks, a metre of it at least (SI 2016/1153, Schedule 1I).
    """
    return tape_limit(max(abs(difference_mm), 1.0), class_, from_hook=False)


def verdict_by_guard_band(difference: float, tolerance: float, u: float) -> Verdict:
    """Pass if inside the tolerance by U or more, fail if outside by U or more, else unsure; all in mm.

    Source: ISO 14253-1:2017, and ILAC-G8:09/2019 for the guard band on both sides of the limit.
    """
    size = abs(difference)
    if size <= tolerance - u:
        return "pass"
    return "fail" if size >= tolerance + u else "unsure"


def advice(
    verdict: Verdict | None, tolerance: float, uncertainty_mm: float, instrument: str = "tape"
) -> tuple[str, ...]:
    """What to tell a person: the band that is too close to call, and an instrument too coarse for the tolerance."""
    said = []
    good, out = as_worked(at_most(max(tolerance - uncertainty_mm, 0))), as_worked(at_least(tolerance + uncertainty_mm))
    good_to, limit = as_worked(at_least(uncertainty_mm)), as_typed(tolerance)
    if verdict == "unsure":
        said.append(
            f"too close to call with this {instrument}: {good} or less passes, {out} or more fails. Use a better "
            f"{instrument}, or take three readings"
        )
    if uncertainty_mm > tolerance:
        said.append(f"this {instrument} can be {good_to} out, so it can't show {limit}. Use a better one")
    elif uncertainty_mm > tolerance / 3:
        said.append(f"this {instrument} can be {good_to} out on a limit of {limit}: use a better one if you can")
    return tuple(said)
