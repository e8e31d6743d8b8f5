"""What a check shows: its figures and sums from the facts as they stand and from what was read, and the verdict."""

from collections.abc import Callable, Iterator, Mapping
from functools import cache
from typing import Any

from msgspec import Struct, field
from msgspec.structs import replace

from sitelog.checklist.model import Check, Figure, Limit, Stage, Term
from sitelog.job.evidence import evidence, mapping, shown
from sitelog.job.facts import Book
from sitelog.job.feeding import Feed, Worked
from sitelog.job.photo import names_of
from sitelog.job.plain import from_plain
from sitelog.job.sums import result, unit_of, worth
from sitelog.job.verdicts import against, uncertainty_of, worst
from sitelog.job.views import FigureView, InputView
from sitelog.refusal import Refusal
from sitelog.trade import index
from sitelog.trade.catalogue import Answer, Value, Verdict


class Sight(Struct, frozen=True):
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


class Eye(Struct, frozen=True):
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
        apart = cache(lambda: self.book.without(self.path))
        drawn = {f.key: self._drawn(f, read, apart) for f in self.check.figures}
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
            evidence=evidence(self.book, self.part, self.stage, self.check, drawn, now),
        )

    # --- figures ---

    def _drawn(self, figure: Figure, read: Mapping[str, Value], apart: Callable[[], Book]) -> Value:
        """What a figure was meant to be, from the facts as they stand but for what this check itself measured."""

        def meant(term: Term) -> Value:
            if term.kind != "fact":
                return read.get(term.name) if term.kind == "figure" else term.value
            fact = self.book.fact(self.part, term.name)
            if fact is None:
                return None
            return apart().now(self.part, term.name) if self.path in fact.rests_on else fact.now

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
        # Falls don't add up: 1:40 and 1:80 are no third fall apart.
        numeric = isinstance(value, (int, float)) and isinstance(meant, (int, float)) and figure.kind != "fall"
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


def _undrawn(figures: tuple[FigureView, ...]) -> str:
    wanting = [f.says for f in figures if f.value is not None and f.difference is None and f.verdict == "unsure"]
    return f"nothing is drawn yet to hold it to: {', '.join(wanting)}" if wanting else ""
