"""Whether what a figure is read with can prove its limit. Lint alone holds these: a firm's older list still loads."""

from collections.abc import Iterator

from sitelog.checklist.lint.context import LintContext
from sitelog.checklist.lint.rules import Rule
from sitelog.checklist.schema.document import Fault, Spot
from sitelog.checklist.schema.instruments import INSTRUMENTS, finer, suits, uncertainty_read
from sitelog.checklist.schema.model import Check, Figure, Limit
from sitelog.quantities.rounding import as_typed, as_worked, at_least
from sitelog.text import text_after

SHORTEST = 1000.0  # mm: over less than this no tape proves more


def instruments_suit_the_kind(context: LintContext) -> Iterator[Fault]:
    """An angle is read with a level, a size with anything; a count, a name and what is off print with nothing."""
    for spot, _, _, figure in context.figures():
        if not figure.read_with or figure.exact or suits(figure.read_with, figure.kind):
            continue
        right = [name for name, tool in INSTRUMENTS.items() if figure.kind in tool.kinds]
        end = text_after("use ", " or ".join(right)) or "take it out"
        yield spot.fault(f"a {figure.kind} isn't read with a {INSTRUMENTS[figure.read_with].says}; {end}")


def limits_can_be_proved(context: LintContext) -> Iterator[Fault]:
    """No limit is finer than U of the instrument: then no reading could ever pass.

    A tape is taken at its best, over a metre; what a sum judges by itself is left to the sum.
    """
    for spot, _, check, figure in context.figures():
        limit = figure.limit or check.limit
        by_sum = bool(check.calculator) and not figure.limit
        if limit and not figure.exact and not by_sum:
            yield from _too_fine(spot, check, figure, limit)


def _too_fine(spot: Spot, check: Check, figure: Figure, limit: Limit) -> Iterator[Fault]:
    """A limit at least a figure is met by more of it; one at most nought is met by what is below it."""
    amount = limit.amount
    if amount is None or limit.rule not in ("within", "most") or (limit.rule == "most" and figure.kind != "length"):
        return
    u = uncertainty_read(figure.kind, SHORTEST, figure.read_with, None)
    if u is None or u <= amount:
        return
    says = finer(figure.read_with) or "tape"
    named = f"{check.id}.{figure.key}".removesuffix(".value")
    cant = f"a {says} can be {as_worked(at_least(u))} out, so it can't show {as_typed(amount)}"
    yield spot.at("limit").fault(f"{named}: {cant}; name a finer tool with read_with, or widen the limit")


RULES: tuple[Rule, ...] = (instruments_suit_the_kind, limits_can_be_proved)
