"""One fact worked from the others: as drawn, as built, and what each of the two is by."""

from collections.abc import Iterable
from typing import Literal, Protocol

from msgspec import Struct
from msgspec.structs import replace

from sitelog.calculators.catalogue import Answer, Value
from sitelog.checklist.schema.model import FactSpec, Sum
from sitelog.checklist.schema.terms import Operand, Term
from sitelog.job.facts.fact import Fact, Inputs, Setting, Whence
from sitelog.job.facts.schema import PartSchema
from sitelog.job.facts.sums import result, unknown, worth
from sitelog.job.log.values import from_plain, same, to_plain
from sitelog.quantities.quantity import read
from sitelog.refusal import Refusal

Side = Literal["drawn", "now"]
Found = tuple[Value, str]  # a value, and the line that says why there is none


class Facts(Protocol):
    """The facts of a job, as far as one of them is worked from the others."""

    given: Inputs

    def known(self, part: str) -> PartSchema:
        """What the lists say of the facts of that part."""

    def named(self, part: str, names: Iterable[str]) -> list[Fact]:
        """The facts of those names, without those that the part doesn't know."""

    def term(self, part: str, term: Term, side: Side = "now") -> Value:
        """A term's value; None while it is not known."""

    def is_given(self, part: str, operand: Operand, side: Side = "now") -> bool:
        """Whether an operand is a figure that somebody gave, and not worked out."""

    def answer(self, part: str, listed: Sum, side: Side) -> tuple[Answer | None, str]:
        """What a sum of the part's list gives, or why it gives nothing."""

    def no_sum(self, part: str, name: str) -> str:
        """Why no sum gives the fact as things stand."""

    def needs(self, part: str, names: Iterable[str]) -> str:
        """That those figures must be known first."""

    def awaits_word(self, part: str, name: str, setting: Setting) -> bool:
        """Whether what was set waits for somebody's word."""


class FactWork(Struct, frozen=True):
    """A fact of a part that is to be worked.

    `sum` is the one that gives it as things stand; `setting` is what an answer in force sets it to.
    """

    facts: Facts
    part: str
    spec: FactSpec
    sum: Sum | None
    setting: Setting | None

    @property
    def key(self) -> tuple[str, str]:
        """Its part and its name."""
        return self.part, self.spec.name

    def fact(self) -> Fact:
        """The fact as things stand. A fact that can't be worked says why under `refusal`."""
        setting = self.setting
        drawn, drawn_refusal = self._drawn()
        below = self.below() if setting is None else []
        built, refusal = self._built(below)
        if drawn is None and setting is not None and not setting.measured:
            drawn = built
        if built is not None:
            refusal = ""
        elif not refusal and drawn is None:
            refusal = drawn_refusal
        fact = self._as_listed(drawn, built, refusal)
        if setting is None:
            return self._as_worked(fact, below)
        return self._as_set(fact, setting)

    def below(self) -> list[Fact]:
        """The facts that it is worked from, those of its sum's condition with them."""
        return self.facts.named(self.part, self._names_below())

    def awaited(self) -> list[Fact]:
        """Those that must be measured, if they can be, before anything is cut to it."""
        worked = self.spec.worked
        unawaited = {term.name for term in worked.terms if not term.awaited} if worked else set()
        return self.facts.named(self.part, (name for name in self._names_below() if name not in unawaited))

    def _names_below(self) -> list[str]:
        operands: list[Operand] = []
        if self.spec.worked:
            operands = [self.spec.worked]
        elif self.sum:
            operands = list(self.sum.inputs.values())
        names = [term.name for operand in operands for term in operand.terms if term.kind == "fact"]
        if self.sum and self.sum.when:
            names += [clause.fact for clause in self.sum.when.clauses]
        return names

    # --- the whole fact -------------------------------------------------------------------------------------------

    def _as_listed(self, drawn: Value, built: Value, refusal: str) -> Fact:
        spec = self.spec
        known = self.facts.known(self.part)
        setters = known.setters.get(spec.name, ())
        return Fact(
            name=f"{self.part}.{spec.name}",
            says=spec.says,
            unit=spec.unit,
            kind=spec.kind,
            drawn=drawn,
            built=built,
            choices=spec.choices,
            least=spec.least,
            usual=spec.usual,
            asked=spec.asked,
            drawable=spec.asked or (spec.name in known.own and not setters and known.only_given(spec)),
            setters=setters,
            drawn_typed=self._drawn_typed(known),
            whence=self._whence(),
            refusal=refusal,
        )

    def _as_set(self, fact: Fact, setting: Setting) -> Fact:
        return replace(
            fact,
            set_by=setting.path,
            at=setting.at,
            rests_on=frozenset({setting.path}),
            measured=setting.measured,
            built_typed=True,
            unagreed=self.facts.awaits_word(self.part, self.spec.name, setting),
            who=setting.who,
        )

    def _as_worked(self, fact: Fact, below: list[Fact]) -> Fact:
        return replace(
            fact,
            set_by=self.sum.id if self.sum else "",
            rests_on=frozenset(path for other in below for path in other.rests_on),
            measured=any(other.measured for other in below),
            built_typed=self._is_given("now"),
            unagreed=any(other.unagreed for other in below),
        )

    # --- as drawn -------------------------------------------------------------------------------------------------

    def _drawn(self) -> Found:
        raw = self.facts.given.drawn.get(self.key)
        if raw is not None:
            value = from_plain(self.spec.kind, raw)
            wrong = f"the drawing figure {str(raw)[:40]} isn't a {self.spec.kind}"
            return value, wrong if value is None else ""
        value, refusal = self._derived("drawn")
        if value is None and self.spec.default:
            return _read(self.spec, self.spec.default)
        return value, refusal

    def _whence(self) -> Whence:
        """What the drawn figure is by; of one that is worked out, what all that it follows from are by."""
        given = self.facts.given
        if self.key in given.drawn:
            return "usual" if self.key in given.usual else "drawn"
        if self.setting is not None and self.setting.brought:
            return self.setting.whence
        under = {fact.whence for fact in self.below() if fact.drawn is not None}
        if len(under) == 1:
            return under.pop()
        return "usual" if self.spec.default and not under else "drawn"

    def _drawn_typed(self, known: PartSchema) -> bool:
        """Whether the drawn figure was given: by the drawing, by a default, or by a finish or a choice."""
        if self.key in self.facts.given.drawn or (self.setting is not None and not self.setting.measured):
            return True
        return known.only_given(self.spec) or self._is_given("drawn")

    def _is_given(self, side: Side) -> bool:
        worked = self.spec.worked
        return worked is not None and self.facts.is_given(self.part, worked, side)

    # --- as built -------------------------------------------------------------------------------------------------

    def _built(self, below: list[Fact]) -> Found:
        """What was set; else the sum from the facts as they stand, once one of them is measured or changed."""
        if self.setting is not None:
            return in_kind(self.spec, self.setting.value)
        if any(other.measured or _changed(other) for other in below):
            return self._derived("now")
        return None, ""

    def _derived(self, side: Side) -> Found:
        if self.spec.worked is not None:
            return self._worked(self.spec.worked, side)
        if self.sum is None:
            return None, self.facts.no_sum(self.part, self.spec.name)
        answer, refusal = self.facts.answer(self.part, self.sum, side)
        if answer is None:
            return None, refusal
        found = result(answer, self.sum.gives[self.spec.name])
        if found is None and not refusal:
            refusal = next(iter(answer.notes), "")  # why it gives none
        return (found if isinstance(found, (int, float, str)) else None), refusal

    def _worked(self, operand: Operand, side: Side) -> Found:
        def look(term: Term) -> Value:
            return self.facts.term(self.part, term, side)

        try:
            value = worth(operand, look)
        except Refusal as refusal:
            return None, refusal.message
        return value, self.facts.needs(self.part, unknown(operand, look)) if value is None else ""


def _changed(fact: Fact) -> bool:
    return fact.built is not None and not same(to_plain(fact.built), to_plain(fact.drawn))


def in_kind(spec: FactSpec, value: Value) -> Found:
    """A choice or words that stand for a figure, as that figure; no value and a line where they are none."""
    if not isinstance(value, str) or spec.kind in ("choice", "text"):
        return value, ""
    return _read(spec, value)


def _read(spec: FactSpec, text: str) -> Found:
    try:
        return read(spec.kind, text, name=spec.says), ""
    except Refusal as refusal:
        return None, refusal.message
