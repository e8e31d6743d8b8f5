"""What a check shows: its figures and sums from the facts as they stand and from what was read, and the verdict."""

from collections.abc import Callable, Iterator, Mapping
from functools import cache
from typing import Any

from msgspec import Struct, field
from msgspec.structs import replace

from sitelog.calculators import index
from sitelog.calculators.catalogue import Answer, Value, Verdict
from sitelog.checklist.schema.model import Check, Figure, Limit, Operand, Stage, Term
from sitelog.job.facts.evidence import evidence, mapping, shown
from sitelog.job.facts.fact import MEANT, Whence
from sitelog.job.facts.facts import FactResolver
from sitelog.job.facts.feeding import Feed, Worked, wanting
from sitelog.job.facts.given import named
from sitelog.job.facts.sums import result, unit_of, worth
from sitelog.job.log.values import from_plain, same
from sitelog.job.photos.photo import names_of
from sitelog.job.state.verdicts import against, uncertainty_of, worst
from sitelog.job.state.views import FigureView, InputView
from sitelog.quantities.quantity import show
from sitelog.refusal import Refusal


class Evaluation(Struct, frozen=True):
    """A check seen against the facts. `evidence` is what an answer keeps of them, plain, under "@" keys."""

    figures: tuple[FigureView, ...]
    inputs: tuple[InputView, ...]
    answer: Answer | None
    answer_drawn: Answer | None
    refusal: str
    wanted: tuple[str, ...]
    verdict: Verdict | None
    value: Value
    limit: Limit | None = None  # the check's own, with its amount as things stand
    evidence: Mapping[str, Any] = field(default_factory=dict)


class CheckEvaluator(Struct, frozen=True):
    """Looks at one check of one part. `values` is what was answered, plain, by key; None before any answer.

    `grade` is the class of the tape it was read with, "" for another instrument, None where none was named.
    """

    resolver: FactResolver
    part: str
    stage: Stage
    check: Check
    values: Mapping[str, Any] | None = None
    grade: str | None = None

    @property
    def path(self) -> str:
        return f"{self.part}.{self.stage.id}.{self.check.id}"

    def see(self) -> Evaluation:
        """The check as it stands."""
        values = self.values or {}
        read = {f.key: from_plain(f.kind, values.get(f.key)) for f in self.check.figures}
        apart = cache(lambda: self.resolver.without(self.path))

        def meant(operand: Operand | None) -> Value:
            return self._meant(operand, read, apart)

        drawn = {f.key: meant(f.drawn) for f in self.check.figures}
        limit = self._seen(self.check.limit, meant)
        figures = tuple(
            self._figure(f, read[f.key], drawn[f.key], self._seen(f.limit, meant) or self._limit_of_each(f, limit))
            for f in self.check.figures
        )
        now = then = Worked()
        if self.check.calculator:
            now = Feed(self.resolver, self.part, self.check, read, self.grade or "", limit=limit).work()
            then = Feed(self.resolver, self.part, self.check, drawn, self.grade or "", "drawn", limit).work()
        waits = self._waits(figures, limit)
        return Evaluation(
            figures=figures,
            inputs=now.inputs,
            answer=now.answer,
            answer_drawn=then.answer,
            refusal=self.check.lost or now.refusal or self._unheld(figures, waits),
            wanted=now.wanted or waits,
            verdict=self._verdict(figures, now, limit),
            value=self._value(figures, now.answer),
            limit=limit,
            evidence=evidence(self.resolver, self.part, self.stage, self.check, drawn, now, _moving(figures, limit)),
        )

    # --- figures ---

    def _meant(self, operand: Operand | None, read: Mapping[str, Value], apart: Callable[[], FactResolver]) -> Value:
        """What a figure was meant to be, from the facts as they stand but for what this check itself measured."""

        def meant(term: Term) -> Value:
            if term.kind != "fact":
                return read.get(term.name) if term.kind == "figure" else term.value
            fact = self.resolver.fact(self.part, term.name)
            if fact is None:
                return None
            return apart().now(self.part, term.name) if self.path in fact.rests_on else fact.now

        try:
            return worth(operand, meant) if operand else None
        except Refusal:
            return None

    def _drawn_typed(self, figure: Figure) -> bool:
        return figure.drawn is not None and self.resolver.is_given(self.part, figure.drawn)

    def _whence(self, figure: Figure) -> Whence:
        """What the figure was meant to be by. One that a document may be named against is published."""
        operand, limit = figure.drawn, figure.limit
        if operand is None:
            return "drawn"
        facts = self.resolver.named(self.part, self._facts_of(operand))
        if figure.agreed_by or (limit and (limit.unless or limit.of == operand)):
            return "memory" if any(fact.whence == "memory" for fact in facts) else "published"
        if all(term.kind == "value" for term in operand.terms):
            return "usual"
        by = {fact.whence for fact in facts if fact.built is None}
        return by.pop() if len(by) == 1 and all(fact.built is None for fact in facts) else "drawn"

    def _figure(self, figure: Figure, value: Value, drawn: Value, limit: Limit | None) -> FigureView:
        says = figure.says or self.check.ask
        seen = FigureView(
            figure.key, says, figure.kind, figure.unit, drawn, value, self._whence(figure), self._drawn_typed(figure),
            limit=limit,
        )  # fmt: skip
        if value is None:
            return seen
        within = limit is not None and limit.rule == "within"
        meant = 0.0 if within and figure.drawn is None else drawn
        # Falls don't add up: 1:40 and 1:80 are no third fall apart.
        numeric = isinstance(value, (int, float)) and isinstance(meant, (int, float)) and figure.kind != "fall"
        u = None if figure.exact else uncertainty_of(figure.kind, value, self.grade)
        verdict = against(limit, value, meant, u or 0.0) if limit else None
        if limit and limit.unless and named((self.values or {}).get(limit.unless)):
            verdict = "pass"
        elif self._typed_over(figure, value, drawn):
            verdict = worst([verdict, "unsure"])
        return replace(
            seen,
            difference=value - meant if numeric else None,  # type: ignore[operator]
            uncertainty=u,
            verdict="unsure" if within and meant is None else verdict,
        )

    def _typed_over(self, figure: Figure, value: Value, printed: Value) -> bool:
        """Whether another figure than the printed one is told, or one from memory, and nobody is named who says so."""
        if not figure.agreed_by or printed is None:
            return False
        facts = self.resolver.named(self.part, self._facts_of(figure.drawn)) if figure.drawn else []
        if same(value, printed) and not any(fact.unagreed for fact in facts):
            return False
        return not named((self.values or {}).get(figure.agreed_by))

    def _limit_of_each(self, figure: Figure, limit: Limit | None) -> Limit | None:
        """The check's limit, where it is for the figure: not for a sum, nor for those not drawn among some that are."""
        if limit is None or self.check.calculator:
            return None
        some_drawn = limit.rule == "within" and any(f.drawn for f in self.check.figures)
        return None if some_drawn and not figure.drawn else limit

    def _seen(self, limit: Limit | None, meant: Callable[[Operand], Value]) -> Limit | None:
        """The limit with its amount as things stand, where it is another figure; none of one that is not agreed."""
        if limit is None or limit.of is None:
            return limit
        facts = self.resolver.named(self.part, self._facts_of(limit.of))
        if any(fact.unagreed for fact in facts):
            return replace(limit, amount=None, unagreed=True)
        amount = meant(limit.of)
        return replace(limit, amount=float(amount) if isinstance(amount, (int, float)) else None)

    def _facts_of(self, operand: Operand) -> list[str]:
        """The facts that an operand is of: those that it names, and those that the figures it names set."""
        figures = [self.check.figure(term.name) for term in operand.terms if term.kind == "figure"]
        names = [term.name for term in operand.terms if term.kind == "fact"]
        return [*names, *(figure.sets for figure in figures if figure and figure.sets)]

    def _waits(self, figures: tuple[FigureView, ...], own: Limit | None) -> tuple[str, ...]:
        """The facts that limits are, and that have no value yet or are not agreed."""
        limits = [f.limit for f in figures if f.verdict == "unsure"] + ([own] if self.check.calculator else [])
        operands = [limit.of for limit in limits if limit and limit.of and limit.amount is None]
        names = dict.fromkeys(name for operand in operands for name in self._facts_of(operand))
        facts = {name: self.resolver.fact(self.part, name) for name in names}
        return tuple(name for name, fact in facts.items() if fact is None or fact.now is None or fact.unagreed)

    def _unheld(self, figures: tuple[FigureView, ...], waits: tuple[str, ...]) -> str:
        """What was read and can't be held to anything yet, and why."""
        over = [
            f"{f.says}, {show(f.unit, f.value, typed=True)}, is {_other(f)}"
            for spec, f in zip(self.check.figures, figures, strict=True)
            if f.value is not None and self._typed_over(spec, f.value, f.drawn)
        ]
        if over:
            return f"{'; '.join(over)}: name who agreed it, or the document"
        if waits and any(f.verdict == "unsure" and f.limit and f.limit.unagreed for f in figures):
            at = dict.fromkeys(path for name in waits for path in self.resolver.unagreed(self.part, name))
            return f"its limit is not agreed yet: name who agreed it, at {' or '.join(at or [self.path])}"
        if waits:
            return f"its limit is waiting for {'; '.join(wanting(self.resolver, self.part, name) for name in waits)}"
        undrawn = [f.says for f in figures if f.value is not None and f.limit and _undrawn(f, f.limit)]
        return f"no drawing figure to check it against: {', '.join(undrawn)}" if undrawn else ""

    # --- verdict and value ---

    def _verdict(self, figures: tuple[FigureView, ...], worked: Worked, limit: Limit | None) -> Verdict | None:
        """The worst of the figures' own limits, the sum's word, and the sum's first result against the limit."""
        return worst([*(f.verdict for f in figures), *self._of_sum(figures, worked, limit)])

    def _of_sum(self, figures: tuple[FigureView, ...], worked: Worked, limit: Limit | None) -> Iterator[Verdict | None]:
        answer = worked.answer
        if answer is None:
            if limit and self.check.calculator and (worked.refusal or worked.wanted):
                yield "unsure"
            return
        yield answer.verdict
        judged = answer.verdict is not None and any(
            i.name == "tolerance" and i.value is not None for i in worked.inputs
        )
        if limit and self.check.shows and not judged:
            path = self.check.shows[0]
            found = result(answer, path)
            if isinstance(found, (int, float)):
                yield against(limit, found, 0.0, self._of_result(figures, path))

    def _of_result(self, figures: tuple[FigureView, ...], path: str) -> float:
        """U of a result: it is taken to be known no better than the worst figure that was read for it, of its kind."""
        unit, _ = unit_of(index.find(self.check.calculator), path)
        return max((f.uncertainty or 0.0 for f in figures if f.unit == unit), default=0.0)

    def _value(self, figures: tuple[FigureView, ...], answer: Answer | None) -> Value:
        """The headline: the one figure, the choice, the words, or the sum's first result."""
        if self.values is None:
            return None
        if len(figures) == 1 and not isinstance(figures[0].value, tuple):
            return figures[0].value
        if figures or self.check.kind == "calculate":
            return self._headline(answer)
        word = self.values.get("value")
        return word if isinstance(word, str) else names_of(self.values) or None

    def _headline(self, answer: Answer | None) -> Value:
        """The sum's first result: as it was accepted, else as it is worked now."""
        kept = mapping((self.values or {}).get("@results"))
        paths = shown(self.check, answer) if answer else list(kept)
        found = kept.get(paths[0]) if paths else None
        if found is None and answer and paths:
            found = result(answer, paths[0])
        return found if isinstance(found, (int, float, str)) else None


def _other(figure: FigureView) -> str:
    """What a figure is that nobody's name is put to."""
    if same(figure.value, figure.drawn):
        return "from memory" if figure.whence == "memory" else "not agreed yet"
    return f"not the {show(figure.unit, figure.drawn)} {MEANT[figure.whence]}"


def _undrawn(figure: FigureView, limit: Limit) -> bool:
    return figure.verdict == "unsure" and limit.rule == "within" and figure.difference is None


def _moving(figures: tuple[FigureView, ...], own: Limit | None) -> dict[str, float]:
    """The limits that are other figures, by the key of what they limit: `@` for a sum."""
    limits = {**{f.key: f.limit for f in figures}, "@": own}
    return {key: one.amount for key, one in limits.items() if one and one.of and one.amount is not None}
