"""What each figure of a check was meant to be, by what, and how far from that it may be."""

from collections.abc import Mapping
from functools import cached_property

from msgspec.structs import replace

from sitelog.calculators.catalogue import Value
from sitelog.checklist.schema.model import Check, Figure, Limit
from sitelog.checklist.schema.terms import Operand, Term
from sitelog.job.facts.fact import Fact, Whence
from sitelog.job.facts.facts import FactResolver
from sitelog.job.facts.sums import worth
from sitelog.refusal import Refusal


class MeantFigures:
    """The drawn side of a check of one part. `path` is the check's, `read` what was read by key."""

    def __init__(
        self, resolver: FactResolver, part: str, path: str, check: Check, read: Mapping[str, Value]
    ) -> None:  # fmt: skip
        self.resolver = resolver
        self.part = part
        self.path = path
        self.check = check
        self.read = read

    @cached_property
    def _apart(self) -> FactResolver:
        return self.resolver.without(self.path)

    def value(self, operand: Operand | None) -> Value:
        """What a figure was meant to be, from the facts as they stand but for what this check itself measured.

        None while it is not known, and where nothing says.
        """
        try:
            if not operand:
                return None
            return worth(operand, self._term)
        except Refusal:
            return None

    def _term(self, term: Term) -> Value:
        if term.kind == "figure":
            return self.read.get(term.name)
        if term.kind == "value":
            return term.value
        fact = self.resolver.fact(self.part, term.name)
        if fact is None:
            return None
        if self.path in fact.rests_on:
            return self._apart.now(self.part, term.name)
        return fact.now

    def typed(self, figure: Figure) -> bool:
        """Whether what it was meant to be is a figure that somebody gave, to be shown with every digit."""
        return figure.drawn is not None and self.resolver.is_given(self.part, figure.drawn)

    def whence(self, figure: Figure) -> Whence:
        """What the figure was meant to be by. One that a document may be named against is published."""
        operand = figure.drawn
        if operand is None:
            return "drawn"
        facts = self.facts(operand)
        by = {fact.whence for fact in facts}
        if _of_finish(figure, operand):
            return "memory" if "memory" in by else "published"
        if all(term.kind == "value" for term in operand.terms):
            return "usual"
        built = any(fact.built is not None for fact in facts)
        if len(by) == 1 and not built:
            return by.pop()
        return "drawn"

    def limit(self, limit: Limit | None) -> Limit | None:
        """The limit with its amount as things stand, where it is another figure; none of one that is not agreed."""
        if limit is None or limit.of is None:
            return limit
        if any(fact.unagreed for fact in self.facts(limit.of)):
            return replace(limit, amount=None, unagreed=True)
        amount = self.value(limit.of)
        return replace(limit, amount=float(amount) if isinstance(amount, (int, float)) else None)

    def limit_on(self, figure: Figure, own: Limit | None) -> Limit | None:
        """The figure's own limit, else the check's (`own`) where it is for this figure.

        The check's is not for its figures where it is a sum's, nor for those not drawn among some that are.
        """
        limit = self.limit(figure.limit)
        if limit or own is None or self.check.calculator:
            return limit
        some_drawn = own.rule == "within" and any(other.drawn for other in self.check.figures)
        if some_drawn and not figure.drawn:
            return None
        return own

    def facts(self, operand: Operand) -> list[Fact]:
        """The facts that an operand is of, as they stand."""
        return self.resolver.named(self.part, self.names(operand))

    def names(self, operand: Operand) -> list[str]:
        """The facts that an operand is of: those that it names, and those that the figures it names set."""
        figures = [self.check.figure(term.name) for term in operand.terms if term.kind == "figure"]
        names = [term.name for term in operand.terms if term.kind == "fact"]
        return [*names, *(figure.sets for figure in figures if figure and figure.sets)]


def _of_finish(figure: Figure, operand: Operand) -> bool:
    """Whether it is held to a finish's figure: one that somebody agrees, or whose limit a document can lift."""
    limit = figure.limit
    return bool(figure.agreed_by) or (limit is not None and (bool(limit.unless) or limit.of == operand))
