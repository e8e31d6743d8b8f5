"""Where each input of a check's sum comes from, and what the sum gives: as the facts stand, or as drawn."""

from collections.abc import Iterable, Mapping

from msgspec import Struct

from sitelog.calculators import index
from sitelog.calculators.catalogue import Answer, Input, Value
from sitelog.calculators.setting_out.verdicts import CLASSES
from sitelog.checklist.schema.model import FLOORS, Check, Limit, Operand, Term
from sitelog.job.facts.facts import FactResolver, Side
from sitelog.job.facts.sums import fitted, unknown, work, worth
from sitelog.job.state.views import InputView, Origin
from sitelog.refusal import Refusal


class Worked(Struct, frozen=True):
    """A check's sum. `wanted` are facts that no check has set and no drawing gives, as the checklist names them."""

    inputs: tuple[InputView, ...] = ()
    answer: Answer | None = None
    refusal: str = ""
    wanted: tuple[str, ...] = ()


class Feed(Struct, frozen=True):
    """What a check's sum is fed: the facts of its part, what was read, and the class of tape if one was named."""

    resolver: FactResolver
    part: str
    check: Check
    figures: Mapping[str, Value]  # as read, or as drawn for the drawn side
    grade: str = ""  # I, II or III of the tape that was named, or ""
    side: Side = "now"
    limit: Limit | None = None  # the check's own, with its amount as things stand

    def work(self) -> Worked:
        """The sum from this side. No answer and no refusal while a figure of the check is still to be read."""
        calculator = index.find(self.check.calculator)
        try:
            inputs = tuple(self._input(one) for one in calculator.inputs)
        except Refusal as refusal:
            return Worked(refusal=refusal.message)
        wanted = self._wanted(one.name for one in calculator.inputs if not one.optional)
        if wanted:
            return Worked(inputs, refusal=self._waiting(wanted), wanted=wanted)
        given = {i.name: i.value for i in inputs if i.value is not None and i.origin != "default"}
        if any(one.required and one.name not in given for one in calculator.inputs):
            return Worked(inputs)
        answer, why = work(calculator.name, given)
        wanted = self._wanted(self.check.inputs) if why else ()
        return Worked(inputs, answer, f"{why}; {self._waiting(wanted)}" if wanted else why, wanted)

    def look(self, term: Term) -> Value:
        return self.figures.get(term.name) if term.kind == "figure" else self.resolver.term(self.part, term, self.side)

    def _input(self, one: Input) -> InputView:
        check = self.check
        if check.figure(one.name):
            value = self.figures.get(one.name)
            return _view(one, value, "none" if value is None else "read")
        if self.grade and set(one.choices) == set(CLASSES):
            return _view(one, self.grade, "given")
        if one.name in check.inputs:
            return self._from(one, check.inputs[one.name])
        if one.name == "tolerance" and self.limit and self.limit.rule not in FLOORS:
            return _view(one, self.limit.amount, "none" if self.limit.amount is None else "given")
        return _view(one, one.default, "none" if one.default is None else "default")

    def _from(self, one: Input, operand: Operand) -> InputView:
        value = worth(operand, self.look)
        facts = self.resolver.named(self.part, (t.name for t in operand.terms if t.kind == "fact"))
        fact = facts[0].name if facts else ""
        if value is None:
            return _view(one, one.unsaid or None, "given" if one.unsaid else "none", fact)
        if any(t.kind == "figure" for t in operand.terms):
            return _view(one, value, "read", fact, self.resolver.is_given(self.part, operand, self.side))
        if not facts:
            return _view(one, value, "given")
        built = self.side == "now" and any(f.origin == "built" for f in facts)
        usual = all(f.whence == "usual" for f in facts)
        origin: Origin = "built" if built else "usual" if usual else "drawn"
        return _view(one, value, origin, fact, self.resolver.is_given(self.part, operand, self.side))

    def _wanted(self, inputs: Iterable[str]) -> tuple[str, ...]:
        """The facts of those inputs that have no value."""
        wanted: list[str] = []
        for operand in (self.check.inputs[name] for name in inputs if name in self.check.inputs):
            facts = Operand("is", tuple(t for t in operand.terms if t.kind == "fact"))
            wanted += unknown(facts, self.look, wanted)
        return tuple(wanted)

    def _waiting(self, wanted: tuple[str, ...]) -> str:
        """The facts that are wanted, each with the check that would set it."""
        told = (wanting(self.resolver, self.part, name) for name in wanted)
        return f"{self.check.calculator} is waiting for {'; '.join(told)}"


def wanting(resolver: FactResolver, part: str, name: str) -> str:
    """A fact that has no value yet, by its name, with the check that would set it."""
    fact = resolver.fact(part, name)
    if fact is None:
        return name
    if fact.setters:
        return f"{name} ({fact.says}), measured at {' or '.join(fact.setters)}"
    return f"{name} ({fact.says}): {fact.refusal}" if fact.refusal else f"{name} ({fact.says}), from the drawing"


def _view(one: Input, value: Value, origin: Origin, fact: str = "", typed: bool = True) -> InputView:
    fit = None if value is None else fitted(one, value)
    return InputView(one.name, one.says, one.kind, fit, origin, fact, typed)
