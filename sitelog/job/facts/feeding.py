"""Where each input of a check's sum comes from, and what the sum gives: as the facts stand, or as drawn."""

from collections.abc import Iterable, Mapping, Sequence

from msgspec import Struct

from sitelog.calculators import index
from sitelog.calculators.catalogue import Answer, Input, Value
from sitelog.calculators.setting_out.verdicts import CLASSES
from sitelog.checklist.schema.model import FLOORS, Check, Figure, Limit
from sitelog.checklist.schema.terms import Operand, Term
from sitelog.job.facts.fact import Fact
from sitelog.job.facts.facts import FactResolver
from sitelog.job.facts.sums import fitted, unknown, work, worth
from sitelog.job.facts.working import Side
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
            inputs = tuple(map(self._input, calculator.inputs))
        except Refusal as refusal:
            return Worked(refusal=refusal.message)
        wanted = self._wanted(wanted.name for wanted in calculator.inputs if not wanted.optional)
        if wanted:
            return Worked(inputs, refusal=self.resolver.needs(self.part, wanted), wanted=wanted)
        given = {view.name: view.value for view in inputs if view.value is not None and view.origin != "default"}
        if any(wanted.required and wanted.name not in given for wanted in calculator.inputs):
            return Worked(inputs)
        return self._answered(inputs, given)

    def _answered(self, inputs: tuple[InputView, ...], given: Mapping[str, Value]) -> Worked:
        answer, refusal = work(self.check.calculator, given)
        wanted = self._wanted(self.check.inputs) if refusal else ()
        if wanted:
            refusal = self.resolver.why(self.part, refusal, wanted)
        return Worked(inputs, answer, refusal, wanted)

    def look(self, term: Term) -> Value:
        """The value of a term: a figure of the check as read or drawn, else a fact of its part; None if not known."""
        if term.kind == "figure":
            return self.figures.get(term.name)
        return self.resolver.term(self.part, term, self.side)

    def _input(self, wanted: Input) -> InputView:
        check = self.check
        if figure := check.figure(wanted.name):
            return self._read(wanted, figure)
        if self.grade and set(wanted.choices) == set(CLASSES):
            return _view(wanted, self.grade, "given")
        if wanted.name in check.inputs:
            return self._from(wanted, check.inputs[wanted.name])
        if wanted.name == "tolerance" and self.limit and self.limit.rule not in FLOORS:
            return _view_if_known(wanted, self.limit.amount, "given")
        return _view_if_known(wanted, wanted.default, "default")

    def _read(self, wanted: Input, figure: Figure) -> InputView:
        """An input that is read; where nobody need read it and nobody has, as it is worked out."""
        value = self.figures.get(figure.key)
        if value is None and figure.drawn and may_stay_blank(self.check, figure.key):
            return self._from(wanted, figure.drawn)
        return _view_if_known(wanted, value, "read")

    def _from(self, wanted: Input, operand: Operand) -> InputView:
        """An input that the checklist says where to take from; a fact's name with it where it comes from one."""
        value = worth(operand, self.look)
        facts = self.resolver.named(self.part, (term.name for term in operand.terms if term.kind == "fact"))
        name = facts[0].name if facts else ""
        if value is None:
            return _view(wanted, wanted.unsaid or None, "given" if wanted.unsaid else "none", name)
        origin = self._origin(operand, facts)
        typed = origin == "given" or self.resolver.is_given(self.part, operand, self.side)
        return _view(wanted, value, origin, name, typed)

    def _origin(self, operand: Operand, facts: Sequence[Fact]) -> Origin:
        if any(term.kind == "figure" for term in operand.terms):
            return "read"
        if not facts:
            return "given"
        if self.side == "now" and any(fact.origin == "built" for fact in facts):
            return "built"
        return "usual" if all(fact.whence == "usual" for fact in facts) else "drawn"

    def _wanted(self, inputs: Iterable[str]) -> tuple[str, ...]:
        """The facts of those inputs that have no value."""
        wanted: list[str] = []
        for name in inputs:
            if name in self.check.inputs:
                facts = tuple(term for term in self.check.inputs[name].terms if term.kind == "fact")
                wanted += unknown(Operand("is", facts), self.look, wanted)
        return tuple(wanted)


def may_stay_blank(check: Check, key: str) -> bool:
    """Whether the check's sum takes that figure as it is worked out where nobody read it."""
    figure = check.figure(key)
    if figure is None or not check.calculator or not (figure.optional and figure.drawn):
        return False
    return any(wanted.required for wanted in index.find(check.calculator).inputs if wanted.name == key)


def _view_if_known(wanted: Input, value: Value, origin: Origin) -> InputView:
    return _view(wanted, value, "none" if value is None else origin)


def _view(wanted: Input, value: Value, origin: Origin, fact: str = "", typed: bool = True) -> InputView:
    fit = None if value is None else fitted(wanted, value)
    return InputView(wanted.name, wanted.says, wanted.kind, fit, origin, fact, typed)
