"""How a check stands: open, done, out, unsure, snagged, released, not applicable, stale or deferred."""

from collections.abc import Sequence
from typing import Any

from msgspec import Struct, field
from msgspec.structs import replace

from sitelog.checklist.schema.instruments import ASSUMED, INSTRUMENTS, TAPED
from sitelog.checklist.schema.model import Check, Stage
from sitelog.checklist.schema.terms import Condition
from sitelog.job.facts.cache import CachedCheck, CachedStage
from sitelog.job.facts.evidence import changed
from sitelog.job.facts.facts import FactResolver
from sitelog.job.facts.given import decided, in_force
from sitelog.job.facts.sums import holds
from sitelog.job.log.entry import Entry
from sitelog.job.log.entry_index import EntryIndex, timed
from sitelog.job.photos.photo import name_only, photos_of
from sitelog.job.state.evaluation import CheckEvaluator, Evaluation
from sitelog.job.state.record_views import Instrument, Snag, grade_of
from sitelog.job.state.views import CheckState, CheckView

LATE_S = 15 * 60
AT_ONCE_S = 1.0
SETTLED: tuple[CheckState, ...] = ("done", "snagged", "released", "not applicable")


class CheckContext(Struct, frozen=True):
    """What the checks of a job are judged by: its facts, its entries, its open snags and its instruments.

    `seen` and `stages` have what was looked at before, and are brought up to date.
    """

    resolver: FactResolver
    entry_index: EntryIndex
    snags: dict[str, list[Snag]] = field(default_factory=dict)  # open ones, by path
    instruments: dict[str, Instrument] = field(default_factory=dict)
    seen: dict[str, CachedCheck] = field(default_factory=dict)  # by path
    parted: tuple[str, ...] = ()  # the devices on which copies went on apart
    stages: dict[str, CachedStage] = field(default_factory=dict)  # by path

    def check(self, part: str, stage: Stage, check: Check, let_go: Entry | None) -> CheckView:
        """The check as it stands; `let_go` is the release of its stage that is in force."""
        path = f"{part}.{stage.id}.{check.id}"
        history = self.entry_index.on(path)
        answer = in_force(history)
        tool = self.instruments.get(_tool(answer))
        before = self.entry_index.before.get(answer.id) if answer else None
        ids = tuple(entry.id for entry in history)
        cache_key = (ids, let_go, tool, before, self.snags.get(path), self.parted)
        if path not in self.seen or self.seen[path].cache_key != cache_key:
            with self.resolver.reading() as reads:
                view = self._look(path, part, stage, check, let_go, tool)
            self.seen[path] = CachedCheck(cache_key, frozenset(reads), view)
        return self.seen[path].view

    def _look(
        self, path: str, part: str, stage: Stage, check: Check, let_go: Entry | None, tool: Instrument | None
    ) -> CheckView:
        check = self._asked(part, check)
        history = self.entry_index.on(path)
        last, answer = decided(history), in_force(history)
        evaluation = self._evaluated(part, stage, check, answer, tool)
        stale = changed(self.resolver, part, check, answer.value, evaluation.evidence) if answer else ()
        view = CheckView(
            path=path,
            part=part,
            stage=stage.id,
            check=check,
            state=self._state(path, last, evaluation, stale, let_go),
            applies=self._applies(part, stage, check),
            blocked="",
            figures=evaluation.figures,
            inputs=evaluation.inputs,
            answer=evaluation.answer,
            answer_drawn=evaluation.answer_drawn,
            refusal=evaluation.refusal,
            limit=evaluation.limit,
            verdict=evaluation.verdict if answer or check.kind == "calculate" else None,
            value=evaluation.value,
            note=_last_note(history),
            stale_because=stale,
            history=tuple(history),
            doubted=bool(tool and tool.doubted),
            trades=self._trades(part, check),
        )
        decisive = last or answer
        if decisive:
            view = replace(view, by=decisive.by, at=decisive.at)
        if answer:
            return self._answered(view, answer)
        return view

    def _asked(self, part: str, check: Check) -> Check:
        """The check with the figures that are asked as the facts stand."""
        figures = tuple(figure for figure in check.figures if self._holds(part, figure.when))
        return check if len(figures) == len(check.figures) else replace(check, figures=figures)

    def _evaluated(
        self, part: str, stage: Stage, check: Check, answer: Entry | None, tool: Instrument | None
    ) -> Evaluation:
        values = answer.value if answer else None
        return CheckEvaluator(self.resolver, part, stage, check, values, grade_of(tool)).see()

    def _trades(self, part: str, check: Check) -> tuple[str, ...]:
        """The trades that take over with this check, as the facts stand."""
        return tuple(taker.trade for taker in check.hands_over_to if self._holds(part, taker.when))

    def _answered(self, view: CheckView, answer: Entry) -> CheckView:
        """The check with what is told of the answer in force: its instrument, its time, its photos, its rivals."""
        return replace(
            view,
            instrument=_tool(answer) or _assumed(view.check),
            late=late(answer),
            at_once=view.check.kind == "tick" and self._at_once(answer),
            photos=photos_of(answer.value),
            photo_name=name_only(answer.value),
            rivals=self._rivals(answer, view.history),
        )

    def _applies(self, part: str, stage: Stage, check: Check) -> bool:
        return self._holds(part, stage.when) and self._holds(part, check.when)

    def aside(self, path: str) -> bool:
        """Whether the check at that path was set aside or let go, by itself or with its stage."""
        last = decided(self.entry_index.on(path))
        if last is not None and last.act in ("skip", "release"):
            return True
        on_stage = self.entry_index.on(path.rpartition(".")[0])
        return any(entry.act == "release" and _covers(entry, path) for entry in on_stage)

    def _holds(self, part: str, when: Condition | None) -> bool:
        return holds(when, lambda name: self.resolver.now(part, name))

    def _state(
        self, path: str, last: Entry | None, evaluation: Evaluation, stale: Sequence[str], let_go: Entry | None
    ) -> CheckState:
        base = _base(last, evaluation, stale)
        snags = self.snags.get(path, ())
        if base == "done" and last is not None:
            return "snagged" if any(snag.entry > last.id for snag in snags) else "done"
        if base in ("not applicable", "released"):
            return base
        if _is_let_go(path, last, let_go):
            return "released"
        if base != "stale" and snags:
            return "snagged"
        return base

    def _at_once(self, answer: Entry) -> bool:
        before = self.entry_index.before.get(answer.id)
        return before is not None and 0 <= seconds(before.at, answer.at) < AT_ONCE_S

    def _rivals(self, answer: Entry, history: Sequence[Entry]) -> tuple[Entry, ...]:
        answers = [entry for entry in history if entry.act == "answer"]
        if all(entry.device == answer.device for entry in answers) and answer.device not in self.parted:
            return ()
        return self.entry_index.rivals(answer, answers)


def last_of(entries: Sequence[Entry], *acts: str) -> Entry | None:
    """The last entry of one of those acts; None if there is none."""
    return next((entry for entry in reversed(entries) if entry.act in acts), None)


STATE_AFTER: dict[str, CheckState] = {"skip": "not applicable", "defer": "deferred", "release": "released"}


def _base(last: Entry | None, evaluation: Evaluation, stale: Sequence[str]) -> CheckState:
    """How it stands by its own last entry, whatever was said of its stage."""
    if last is None:
        return "open"
    if last.act in STATE_AFTER:
        return STATE_AFTER[last.act]
    if stale:
        return "stale"
    if evaluation.verdict == "fail":
        return "out"
    return "unsure" if evaluation.verdict == "unsure" else "done"


def _last_note(history: Sequence[Entry]) -> str:
    return next((entry.note for entry in reversed(history) if entry.note), "")


def _is_let_go(path: str, last: Entry | None, let_go: Entry | None) -> bool:
    """Whether the release of its stage lets the check go: nothing was entered for it since."""
    if let_go is None or (last and last.id >= let_go.id):
        return False
    return _covers(let_go, path)


def _covers(let_go: Entry, path: str) -> bool:
    """A stage's release lets go of the checks that it names: those that were open when it was entered."""
    named: Any = let_go.value.get("checks")
    return not isinstance(named, (list, dict)) or path.rpartition(".")[2] in named


def _tool(answer: Entry | None) -> str:
    """The id of what it was measured with, or ""."""
    if not answer:
        return ""
    return str(answer.value.get("@instrument", ""))


def _assumed(check: Check) -> str:
    """What it was measured with where nobody said: the tape of the usual class, else what the list has."""
    taped = any(
        figure.kind in TAPED and not figure.exact and figure.read_with in ("", "tape") for figure in check.figures
    )
    if taped:
        return f"class {ASSUMED} assumed"
    told = (figure.read_with for figure in check.figures if figure.read_with and not figure.exact)
    return " and ".join(dict.fromkeys(INSTRUMENTS[name].says for name in told))


def late(entry: Entry) -> bool:
    """True when it was entered more than a quarter of an hour after it happened."""
    return bool(entry.done) and seconds(entry.done, entry.at) > LATE_S


def seconds(start: str, end: str) -> float:
    """From one ISO moment to another; nought if either is none."""
    before, after = timed(start), timed(end)
    if before and after:
        return (after - before).total_seconds()
    return 0.0
