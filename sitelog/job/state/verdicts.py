"""Whether what was read is inside its limit, outside it, or too close to call with what it was read with."""

from collections.abc import Iterable

from sitelog.calculators.catalogue import Value, Verdict
from sitelog.calculators.setting_out.verdicts import verdict_by_guard_band
from sitelog.checklist.schema.instruments import TAPED, ReadWith, uncertainty_read
from sitelog.checklist.schema.model import Limit


def uncertainty_of(kind: str, value: Value, read_with: ReadWith, grade: str | None) -> float | None:
    """U of one figure, in its own unit: by what it is read with, and a length by the class of the tape.

    `grade` is the class of the tape that was named: "" for an instrument without one, None where none was named.

    None where a figure is counted or told, and so is what it is.
    """
    sizes = [abs(size) for size in numbers(value)]
    if not sizes and kind in TAPED:
        return None
    return uncertainty_read(kind, max(sizes, default=0.0), read_with, grade)


def numbers(value: Value) -> list[float]:
    """The plain numbers in a value: one, several, or none of it."""
    if isinstance(value, tuple):
        return [float(item) for item in value if isinstance(item, (int, float))]
    if not isinstance(value, (int, float)):
        return []
    return [float(value)]


def against(limit: Limit, value: Value, drawn: Value, uncertainty: float) -> Verdict | None:
    """The verdict on a value, the worst of them if there are several; `drawn` counts for `within` alone.

    None if there is no number to judge.
    """
    meant = numbers(drawn)
    return worst(
        _one(limit, size, meant[min(place, len(meant) - 1)] if meant else 0.0, uncertainty)
        for place, size in enumerate(numbers(value))
    )


def _one(limit: Limit, size: float, meant: float, uncertainty: float) -> Verdict:
    if limit.amount is None:  # another figure, and not known yet
        return "unsure"
    if limit.rule == "within":
        return verdict_by_guard_band(size - meant, limit.amount, uncertainty)
    over = size - limit.amount if limit.rule == "most" else limit.amount - size
    if over <= -uncertainty and (over < 0 or limit.rule != "over"):
        return "pass"
    return "fail" if over >= uncertainty else "unsure"


def worst(verdicts: Iterable[Verdict | None]) -> Verdict | None:
    """fail before unsure before pass; None if none was given."""
    found = set(verdicts)
    order: tuple[Verdict, ...] = ("fail", "unsure", "pass")
    return next((verdict for verdict in order if verdict in found), None)
