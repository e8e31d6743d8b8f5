"""What a check shows: its figures and sums from the facts as they stand and from what was read, and the verdict."""

from collections.abc import Iterator, Mapping, Sequence
from typing import Any

from msgspec import Struct, field

from sitelog.calculators import index
from sitelog.calculators.catalogue import Answer, Value, Verdict
from sitelog.checklist.schema.model import Check, Limit, Stage
from sitelog.job.facts.evidence import evidence, shown, verdict_kept
from sitelog.job.facts.fact import MEANT
from sitelog.job.facts.facts import FactResolver
from sitelog.job.facts.feeding import Feed, Worked
from sitelog.job.facts.sums import result, unit_of
from sitelog.job.facts.working import Side
from sitelog.job.log.parts import mapping
from sitelog.job.log.values import from_plain, same
from sitelog.job.photos.photo import names_of
from sitelog.job.state.figures import FigureReader
from sitelog.job.state.meant import MeantFigures
from sitelog.job.state.verdicts import against, worst
from sitelog.job.state.views import FigureView, InputView
from sitelog.quantities.quantity import show


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
        """Where it stands: "main.plates.sides"."""
        return f"{self.part}.{self.stage.id}.{self.check.id}"

    def see(self) -> Evaluation:
        """The check as it stands."""
        values = self.values or {}
        read = {figure.key: from_plain(figure.kind, values.get(figure.key)) for figure in self.check.figures}
        meant = MeantFigures(self.resolver, self.part, self.path, self.check, read)
        reader = FigureReader(meant, values, self.grade)
        drawn = {figure.key: meant.value(figure.drawn) for figure in self.check.figures}
        limit = meant.limit(self.check.limit)
        figures = tuple(reader.view(figure, drawn[figure.key], limit) for figure in self.check.figures)
        now = self._worked(read, "now", limit)
        waits = self._waits(meant, figures, limit)
        verdict, moving = self._verdict(figures, now, limit), _moving(figures, limit)
        return Evaluation(
            figures=figures,
            inputs=now.inputs,
            answer=now.answer,
            answer_drawn=self._worked(drawn, "drawn", limit).answer,
            refusal=self.check.lost or now.refusal or self._unheld(reader, figures, waits),
            wanted=now.wanted or waits,
            verdict=verdict,
            value=self._value(figures, now.answer),
            limit=limit,
            evidence=evidence(self.resolver, self.part, self.stage, self.check, drawn, now, moving)
            | verdict_kept(verdict),
        )

    def _worked(self, figures: Mapping[str, Value], side: Side, limit: Limit | None) -> Worked:
        """The check's sum from that side; nothing of a check without one."""
        if not self.check.calculator:
            return Worked()
        return Feed(self.resolver, self.part, self.check, figures, self.grade or "", side, limit).work()

    # --- what can't be judged yet ---

    def _waits(self, meant: MeantFigures, figures: Sequence[FigureView], own: Limit | None) -> tuple[str, ...]:
        """The facts that limits are, and that have no value yet or are not agreed."""
        limits = [view.limit for view in figures if view.verdict == "unsure"]
        if self.check.calculator:
            limits.append(own)
        operands = [limit.of for limit in limits if limit and limit.of and limit.amount is None]
        names = dict.fromkeys(name for operand in operands for name in meant.names(operand))
        return tuple(filter(self._is_waited_for, names))

    def _is_waited_for(self, name: str) -> bool:
        fact = self.resolver.fact(self.part, name)
        return fact is None or fact.now is None or fact.unagreed

    def _unheld(self, reader: FigureReader, figures: Sequence[FigureView], waits: Sequence[str]) -> str:
        """What was read and can't be held to anything yet, and why."""
        over = self._typed_over(reader, figures)
        if over:
            return f"{'; '.join(over)}: name who agreed it, or the document"
        if waits:
            return self._waiting(figures, waits)
        undrawn = [view.says for view in figures if view.value is not None and _undrawn(view)]
        if not undrawn:
            return ""
        return f"no drawing figure to check it against: {', '.join(undrawn)}"

    def _waiting(self, figures: Sequence[FigureView], waits: Sequence[str]) -> str:
        """The limit that waits for somebody's word, or for a figure."""
        if any(map(_is_unagreed, figures)):
            paths = dict.fromkeys(path for name in waits for path in self.resolver.unagreed(self.part, name))
            return f"its limit is not agreed yet: name who agreed it, at {' or '.join(paths or [self.path])}"
        return f"its limit {self.resolver.needs(self.part, waits)}"

    def _typed_over(self, reader: FigureReader, figures: Sequence[FigureView]) -> list[str]:
        """Each figure that nobody's name is put to, and what it is."""
        return [
            f"{view.says}, {show(view.unit, view.value, typed=True)}, is {_other(view)}"
            for figure, view in zip(self.check.figures, figures, strict=True)
            if view.value is not None and reader.typed_over(figure, view)
        ]

    # --- verdict and value ---

    def _verdict(self, figures: Sequence[FigureView], worked: Worked, limit: Limit | None) -> Verdict | None:
        """The worst of the figures' own limits, the sum's word, and the sum's first result against the limit."""
        return worst([*(view.verdict for view in figures), *self._of_sum(figures, worked, limit)])

    def _of_sum(self, figures: Sequence[FigureView], worked: Worked, limit: Limit | None) -> Iterator[Verdict | None]:
        answer = worked.answer
        if answer is not None:
            yield answer.verdict
            if limit and self.check.shows and not _judged(answer, worked.inputs):
                yield self._of_shown(figures, answer, limit)
        elif limit and self.check.calculator and (worked.refusal or worked.wanted):
            yield "unsure"

    def _of_shown(self, figures: Sequence[FigureView], answer: Answer, limit: Limit) -> Verdict | None:
        """The verdict on the first result that the check shows."""
        path = self.check.shows[0]
        found = result(answer, path)
        if not isinstance(found, (int, float)):
            return None
        return against(limit, found, 0.0, self._of_result(figures, path))

    def _of_result(self, figures: Sequence[FigureView], path: str) -> float:
        """U of a result: it is taken to be known no better than the worst figure that was read for it, of its kind."""
        unit, _ = unit_of(index.find(self.check.calculator), path)
        return max((view.uncertainty or 0.0 for view in figures if view.unit == unit), default=0.0)

    def _value(self, figures: Sequence[FigureView], answer: Answer | None) -> Value:
        """The headline: the one figure, the choice, the words, or the sum's first result."""
        if self.values is None:
            return None
        if len(figures) == 1 and not isinstance(figures[0].value, tuple):
            return figures[0].value
        if figures or self.check.kind == "calculate":
            return self._headline(answer)
        word = self.values.get("value")
        if isinstance(word, str):
            return word
        return names_of(self.values) or None

    def _headline(self, answer: Answer | None) -> Value:
        """The sum's first result: as it was accepted, else as it is worked now."""
        kept = mapping((self.values or {}).get("@results"))
        paths = shown(self.check, answer) if answer else list(kept)
        found = kept.get(paths[0]) if paths else None
        if found is None and answer and paths:
            found = result(answer, paths[0])
        if not isinstance(found, (int, float, str)):
            return None
        return found


def _other(figure: FigureView) -> str:
    """What a figure is that nobody's name is put to."""
    if same(figure.value, figure.drawn):
        return "from memory" if figure.whence == "memory" else "not agreed yet"
    return f"not the {show(figure.unit, figure.drawn)} {MEANT[figure.whence]}"


def _is_unagreed(figure: FigureView) -> bool:
    return figure.verdict == "unsure" and figure.limit is not None and figure.limit.unagreed


def _undrawn(figure: FigureView) -> bool:
    within = figure.limit is not None and figure.limit.rule == "within"
    return within and figure.verdict == "unsure" and figure.difference is None


def _judged(answer: Answer, inputs: Sequence[InputView]) -> bool:
    """Whether the sum was given a tolerance and has judged itself by it."""
    return answer.verdict is not None and any(view.name == "tolerance" and view.value is not None for view in inputs)


def _moving(figures: Sequence[FigureView], own: Limit | None) -> dict[str, float]:
    """The limits that are other figures, by the key of what they limit: `@` for a sum."""
    limits = {**{view.key: view.limit for view in figures}, "@": own}
    return {key: limit.amount for key, limit in limits.items() if limit and limit.of and limit.amount is not None}
