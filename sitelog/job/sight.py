"""What a check shows: its figures and sums from the facts as they stand and from what was read, and the verdict."""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field, replace
from typing import Any

from sitelog.checklist.model import Check, Figure, Limit, Stage, Term
from sitelog.job.facts import Book
from sitelog.job.feeding import Feed, Worked
from sitelog.job.plain import from_plain, same, to_plain
from sitelog.job.sums import result, unit_of, worth
from sitelog.job.verdicts import against, uncertainty_of, worst
from sitelog.job.views import FigureView, InputView
from sitelog.refusal import Refusal
from sitelog.trade import index
from sitelog.trade.catalogue import Answer, Value, Verdict


@dataclass(frozen=True)
class Sight:
    """A check seen against the facts. `evidence` is what an answer keeps of them, plain, under "@" keys."""

    figures: tuple[FigureView, ...]
    inputs: tuple[InputView, ...]
    answer: Answer | None
    answer_drawn: Answer | None
    refusal: str
    wanted: tuple[str, ...]
    verdict: Verdict | None
    value: Value
    evidence: Mapping[str, Any] = field(default_factory=dict)


@dataclass(frozen=True)
class Eye:
    """Looks at one check of one part. `values` is what was answered, plain, by key; None before any answer.

    `grade` is the class of the tape it was read with, "" for another instrument, None where none was named.
    """

    book: Book
    part: str
    stage: Stage
    check: Check
    values: Mapping[str, Any] | None = None
    grade: str | None = None

    @property
    def path(self) -> str:
        return f"{self.part}.{self.stage.id}.{self.check.id}"

    def see(self) -> Sight:
        """The check as it stands."""
        values = self.values or {}
        read = {f.key: from_plain(f.kind, values.get(f.key)) for f in self.check.figures}
        drawn = {f.key: self._drawn(f, read) for f in self.check.figures}
        figures = tuple(self._figure(f, read[f.key], drawn[f.key]) for f in self.check.figures)
        now = then = Worked()
        if self.check.calculator:
            now = Feed(self.book, self.part, self.check, read, self.grade or "").work()
            then = Feed(self.book, self.part, self.check, drawn, self.grade or "", "drawn").work()
        return Sight(
            figures=figures,
            inputs=now.inputs,
            answer=now.answer,
            answer_drawn=then.answer,
            refusal=now.refusal or _undrawn(figures),
            wanted=now.wanted,
            verdict=self._verdict(figures, now),
            value=self._value(figures, now.answer),
            evidence=self._evidence(drawn, now),
        )

    # --- figures ---

    def _drawn(self, figure: Figure, read: Mapping[str, Value]) -> Value:
        """What a figure was meant to be: from the facts as they stand, but for those that this check measured."""

        def meant(term: Term) -> Value:
            if term.kind != "fact":
                return read.get(term.name) if term.kind == "figure" else term.value
            fact = self.book.fact(self.part, term.name)
            if fact is None:
                return None
            return fact.drawn if self.path in fact.rests_on else fact.now

        try:
            return worth(figure.drawn, meant) if figure.drawn else None
        except Refusal:
            return None

    def _figure(self, figure: Figure, value: Value, drawn: Value) -> FigureView:
        check = self.check
        limit = figure.limit or self._limit_of_each(figure)
        says = figure.says or check.ask
        seen = FigureView(figure.key, says, figure.kind, figure.unit, drawn, value, limit=limit)
        if value is None:
            return seen
        within = limit is not None and limit.rule == "within"
        meant = 0.0 if within and figure.drawn is None else drawn
        numeric = isinstance(value, (int, float)) and isinstance(meant, (int, float))
        u = uncertainty_of(figure.kind, value, self.grade)
        verdict = against(limit, value, meant, u or 0.0) if limit else None
        return replace(
            seen,
            difference=value - meant if numeric else None,  # type: ignore[operator]
            uncertainty=u,
            verdict="unsure" if within and meant is None else verdict,
        )

    def _limit_of_each(self, figure: Figure) -> Limit | None:
        """The check's limit, where it is for the figure: not for a sum, nor for those not drawn among some that are."""
        limit = self.check.limit
        if limit is None or self.check.calculator:
            return None
        some_drawn = limit.rule == "within" and any(f.drawn for f in self.check.figures)
        return None if some_drawn and not figure.drawn else limit

    # --- verdict and value ---

    def _verdict(self, figures: tuple[FigureView, ...], worked: Worked) -> Verdict | None:
        """The worst of the figures' own limits, the sum's word, and the sum's first result against the limit."""
        return worst([*(f.verdict for f in figures), *self._of_sum(figures, worked)])

    def _of_sum(self, figures: tuple[FigureView, ...], worked: Worked) -> Iterator[Verdict | None]:
        limit, answer = self.check.limit, worked.answer
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
        word = self.values.get("value", self.values.get("photo"))
        return word if isinstance(word, str) else None

    def _headline(self, answer: Answer | None) -> Value:
        """The sum's first result: as it was accepted, else as it is worked now."""
        kept = _mapping((self.values or {}).get("@results"))
        paths = shown(self.check, answer) if answer else list(kept)
        found = kept.get(paths[0]) if paths else None
        if found is None and answer and paths:
            found = result(answer, paths[0])
        return found if isinstance(found, (int, float, str)) else None

    # --- evidence ---

    def _evidence(self, drawn: Mapping[str, Value], worked: Worked) -> dict[str, Any]:
        answer = worked.answer
        found: dict[str, dict[str, Any]] = {
            "@drawn": {key: to_plain(value) for key, value in drawn.items() if value is not None},
            "@inputs": {i.name: to_plain(i.value) for i in worked.inputs if i.name in self.check.inputs},
            "@when": {name: to_plain(self.book.now(self.part, name)) for name in self._conditions()},
        }
        if answer and self.check.kind == "calculate":
            found["@results"] = {path: to_plain(result(answer, path)) for path in shown(self.check, answer)}
        return {key: kept for key, kept in found.items() if kept}

    def _conditions(self) -> list[str]:
        return [c.fact for when in (self.stage.when, self.check.when) if when for c in when.clauses]

    def changed(self, evidence: Mapping[str, Any]) -> tuple[str, ...]:
        """What has changed since the answer: full names of facts; the sum, where only its result is another; or
        "the checklist", where the answer is none to what is asked now."""
        kept = self.values or {}
        found = [] if self._fits(kept) else ["the checklist"]
        for key in ("@drawn", "@inputs", "@when"):
            for name, then in _mapping(kept.get(key)).items():
                if not same(then, evidence.get(key, {}).get(name)):
                    found += [one for one in self._facts_behind(key, name) if one not in found]
        if not found and self.check.kind == "calculate":
            now = evidence.get("@results", {})
            if any(not same(then, now.get(path)) for path, then in _mapping(kept.get("@results")).items()):
                found.append(self.check.calculator)
        return tuple(found)

    def _fits(self, kept: Mapping[str, Any]) -> bool:
        """True when what was answered still answers the check: every figure is there, the choice is offered."""
        if self.check.kind == "choice":
            return kept.get("value") in [choice.id for choice in self.check.choices]
        return all(f.optional or from_plain(f.kind, kept.get(f.key)) is not None for f in self.check.figures)

    def _facts_behind(self, key: str, name: str) -> list[str]:
        if key == "@when":
            names = [name]
        else:
            figure = self.check.figure(name)
            operand = self.check.inputs.get(name) if key == "@inputs" else figure.drawn if figure else None
            names = [t.name for t in operand.terms if t.kind == "fact"] if operand else []
        return [fact.name for fact in self.book.named(self.part, names)] or [name]


def shown(check: Check, answer: Answer) -> list[str]:
    """The results that stand for a sum: those the check shows, else all that are a single value."""
    return list(check.shows) or [k for k, v in answer.results.items() if isinstance(v, (int, float, str))]


def _undrawn(figures: tuple[FigureView, ...]) -> str:
    wanting = [f.says for f in figures if f.value is not None and f.difference is None and f.verdict == "unsure"]
    return f"nothing is drawn yet to hold it to: {', '.join(wanting)}" if wanting else ""


def _mapping(value: Any) -> Mapping[str, Any]:
    return value if isinstance(value, Mapping) else {}
