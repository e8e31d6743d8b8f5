"""How the pack tells a figure, a check, a limit and a name; what has gone stale is never told as a figure."""

import re
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from datetime import datetime, timedelta, timezone, tzinfo
from functools import cached_property

from sitelog.calculators import index, sheet
from sitelog.calculators.catalogue import Value
from sitelog.checklist.schema.model import Figure, Library, Limit
from sitelog.job.facts.evidence import shown
from sitelog.job.facts.fact import AS_MEANT, MEANT, Fact
from sitelog.job.facts.schema import JOB
from sitelog.job.facts.sums import unit_of
from sitelog.job.log.entry import Entry
from sitelog.job.log.values import from_plain
from sitelog.job.photos.keeping import Shown
from sitelog.job.photos.photo import in_words, names_of
from sitelog.job.state.marks import CHECK, state_word
from sitelog.job.state.views import CheckView, FigureView, State
from sitelog.quantities.quantity import show, show_length

_PATH = re.compile(r"\b[a-z0-9-]+(?:\.[a-z0-9-]+){1,2}\b")
WITHHELD = "OUT OF DATE, not shown"
RULE = {"within": "within", "most": "at most", "least": "at least", "over": "more than"}


@dataclass(frozen=True)
class Formatter:
    """Tells the things of one job, in its units; times by the clock on the wall where they were entered."""

    state: State
    library: Library
    zone: tzinfo
    album: tuple[Shown, ...] = ()  # the photos as they stand on the disk

    # --- stale ----------------------------------------------------------------------------------------------------

    @cached_property
    def stale_paths(self) -> frozenset[str]:
        """Checks whose answer rests on a figure that has since changed, whatever has been said of them after."""
        return frozenset(c.path for c in self.state.checks() if c.state == "stale" or c.stale_because)

    def stale_fact(self, fact: Fact | None) -> bool:
        return fact is not None and not self.stale_paths.isdisjoint(fact.rests_on)

    def stale_under(self, view: CheckView) -> tuple[str, ...]:
        """The stale checks under a check's sum, itself among them."""
        facts = [self.state.facts.get(one.fact) for one in view.inputs if one.fact]
        under = {path for fact in facts if fact for path in fact.rests_on} | {view.path}
        return tuple(sorted(under & self.stale_paths))

    def facts_under(self, view: CheckView) -> tuple[Fact, ...]:
        """The facts that a check's sum is fed with, and those that its figures are held to."""
        limits = [limit for limit in (view.limit, *(figure.limit for figure in view.figures)) if limit]
        held = [figure.drawn for figure in view.check.figures] + [limit.of for limit in limits]
        terms = [term for operand in held if operand for term in operand.terms]
        facts = [self._fact(view.part, term.name) for term in terms if term.kind == "fact"]
        facts += [self.state.facts.get(one.fact) for one in view.inputs if one.fact]
        return tuple(fact for fact in facts if fact is not None)

    def stale_drawn(self, view: CheckView, key: str) -> bool:
        """Whether what a figure of the check is held to rests on a stale check."""
        return self._stale_drawn(view, view.check.figure(key))

    def _stale_drawn(self, view: CheckView, figure: Figure | None) -> bool:
        terms = figure.drawn.terms if figure and figure.drawn else ()
        facts = (self._fact(view.part, term.name) for term in terms if term.kind == "fact")
        return any(self.stale_fact(fact) for fact in facts)

    def _fact(self, part: str, name: str) -> Fact | None:
        own = self.state.facts.get(f"{part}.{name}")
        return own or self.state.facts.get(name if name.startswith("job.") else f"job.{name}")

    # --- figures --------------------------------------------------------------------------------------------------

    def figure(self, unit: str, value: Value, *, with_unit: bool = False, typed: bool = False) -> str:
        """A value with its unit; a length in mm without, as on a drawing. `typed` shows every digit of it."""
        if isinstance(value, tuple):
            each = (self.figure(unit, v, typed=typed) if isinstance(v, (int, float)) else show("", (v,)) for v in value)
            return ", ".join(each)
        if unit != "mm" or not isinstance(value, (int, float)):
            return show(unit, value, self.state.units, typed=typed)
        return show_length(value, self.state.units, with_unit=with_unit, typed=typed)

    def fact(self, part: str, name: str) -> str:
        """A fact as it stands, with what was drawn where that is another figure."""
        fact = self._fact(part, name)
        if fact is None or fact.now is None:
            return "-"
        if self.stale_fact(fact):
            return WITHHELD
        now = self.figure(fact.unit, fact.now, typed=fact.typed)
        if fact.built is None:
            return f"{now} {MEANT[fact.whence]}"
        drawn = "" if fact.drawn is None else self.figure(fact.unit, fact.drawn, typed=fact.drawn_typed)
        if drawn == now:
            return f"{now} {AS_MEANT[fact.whence]}"
        return joined([now, drawn and f"({MEANT[fact.whence]} {drawn})"], " ")

    def read_figure(self, view: CheckView, figure: FigureView) -> str:
        """A figure as it was read, with what was meant, how far apart they are, and a verdict that is not good."""
        if figure.value is None:
            return "not measured"
        spec = view.check.figure(figure.key)
        told = [self.figure(figure.unit, figure.value, typed=True)]
        if self._stale_drawn(view, spec):
            return f"{told[0]} (drawn: {WITHHELD})"
        if figure.drawn is not None and isinstance(figure.value, (int, float)):
            told.append(self._meant(figure, told[0]))
        if figure.verdict in ("fail", "unsure"):
            told.append(CHECK["out" if figure.verdict == "fail" else "unsure"].word)
        return " ".join(told)

    def _meant(self, figure: FigureView, told: str) -> str:
        drawn = self.figure(figure.unit, figure.drawn, typed=figure.drawn_typed)
        apart = figure.difference or 0.0
        if drawn == told:
            return AS_MEANT[figure.whence]
        off = self.figure(figure.unit, apart)
        return f"({MEANT[figure.whence]} {drawn}, {'+' if apart > 0 else ''}{off})"

    # --- checks ---------------------------------------------------------------------------------------------------

    def value(self, view: CheckView) -> str:
        """What a check found, a line a figure; no figure of one that is stale."""
        if view.path in self.stale_paths:
            return f"{WITHHELD}: {self.why_stale(view)}"
        if view.check.kind == "calculate":
            under = self.stale_under(view)
            return f"{WITHHELD}: {self.first_again(under)}" if under else "\n".join(self._sums(view))
        read = any(figure.value is not None for figure in view.figures)
        told = [f"{_short(f)} {self.read_figure(view, f)}".strip() for f in view.figures if read]
        if told:
            return "\n".join([*told, *([] if self.stale_under(view) else self._sums(view))])
        return self._words(view)

    def _words(self, view: CheckView) -> str:
        if view.check.kind == "choice":
            return next((c.label for c in view.check.choices if c.id == view.value), str(view.value or ""))
        answer = next((e for e in reversed(view.history) if e.act == "answer"), None)
        photos = in_words(answer.value) if answer else ""
        word = "ticked" if view.check.kind == "tick" and answer else "" if view.value is None else str(view.value)
        return joined([word if not answer or word != names_of(answer.value) else "", photos])

    def was(self, view: CheckView, answer: Entry) -> str:
        """What an answer said that another has taken the place of, a line a figure."""
        kinds = zip(view.figures, view.check.figures, strict=True)
        figures = ((_short(f), f.unit, from_plain(spec.kind, answer.value.get(f.key))) for f, spec in kinds)
        read = [
            f"{short} {self.figure(unit, value, typed=True)}".strip()
            for short, unit, value in figures
            if value is not None
        ]
        word = answer.value.get("value")
        if view.check.kind == "choice":
            word = next((c.label for c in view.check.choices if c.id == word), word)
        words = str(word) if isinstance(word, str) and not read else ""
        return "\n".join(read) or joined([words, in_words(answer.value)]) or "ticked"

    def _sums(self, view: CheckView) -> list[str]:
        answer = view.answer
        if answer is None:
            return [self.in_names(view.refusal)] if view.refusal and view.check.kind == "calculate" else []
        calculator = index.find(answer.calculator)
        rows = (
            (unit_of(calculator, p)[1], sheet.scalar(answer, p, self.state.units)) for p in shown(view.check, answer)
        )
        return [f"{label[:1].lower()}{label[1:]} {text}" for label, text in rows if text]

    def why_stale(self, view: CheckView) -> str:
        changed = [
            fact.says if (fact := self.state.facts.get(name) or self._fact(view.part, name)) else name
            for name in view.stale_because
        ]
        return f"{'; '.join(changed) or 'a figure it used'} changed since"

    def first_again(self, paths: Iterable[str]) -> str:
        """What must be done again before a figure that comes from it can be shown."""
        return f"do again first: {'; '.join(self.called(path) for path in paths)}"

    def how(self, view: CheckView) -> str:
        """The state of a check in a word, and what else must be known of it."""
        stands = state_word(view)
        if view.path in self.stale_paths and view.state != "stale":
            stands = f"{stands}, {CHECK['stale'].word}"
        flags = (
            (view.rivals, "two answers differ"),
            (view.doubted, "measured with a bad tool"),
            (view.at_once, "ticked within a second of the last one"),
            (view.late, "recorded late"),
        )
        return "\n".join([stands, *(word for flag, word in flags if flag)])

    def limits(self, view: CheckView) -> str:
        """The limits of a check and where they come from, once each."""
        found = [self.limit(view.limit, self._unit(view))] if view.limit else []
        found += [self.limit(f.limit, f.unit) for f in view.figures if f.limit and f.limit != view.limit]
        return "\n".join(dict.fromkeys(found))

    def limit(self, limit: Limit, unit: str) -> str:
        """`within 10 mm (house)`; one that is another figure with its name, `at most 35 deg, the roof's pitch`."""
        amount = "" if limit.amount is None else self.figure(unit, limit.amount, with_unit=True, typed=True)
        told = joined([amount, limit.says]) if limit.of else amount
        return f"{RULE[limit.rule]} {told} ({limit.origin})"

    def _unit(self, view: CheckView) -> str:
        if view.check.calculator and view.check.shows:
            return unit_of(index.find(view.check.calculator), view.check.shows[0])[0]
        return view.figures[0].unit if view.figures else ""

    def source(self, source_id: str) -> str:
        """Where something stands in print, and whether it was read there."""
        source = self.library.sources.get(source_id)
        if source is None:
            return source_id
        year = "" if source.year in ("", "undated", "n.d.") else f", {source.year}"
        return f"{source.title}{year}: {source.locator} ({source.how})"

    # --- people and times -----------------------------------------------------------------------------------------

    def who(self, view: CheckView) -> str:
        if not view.by:
            return ""
        done = next((e.done for e in reversed(view.history) if e.act == "answer"), "") if view.late else ""
        return f"{view.by}\n{self.when(view.at)}" + (f"\nof {self.when(done)}" if done else "")

    @cached_property
    def _offsets(self) -> Mapping[str, int]:
        return {entry.at: entry.offset for day in self.state.diary for entry in day.entries}

    def when(self, at: str) -> str:
        """A time of the record by the clock on the wall there; where that is not kept, by the clock here."""
        try:
            moment = datetime.fromisoformat(at)
        except ValueError:
            return at
        offset = self._offsets.get(at)
        if at.endswith("Z") or moment.utcoffset() is None:
            zone = self.zone if offset is None else timezone(timedelta(minutes=offset))
            moment = moment.astimezone(zone)
        return clock(moment)

    def day(self, iso: str) -> str:
        """A day of the record as it is written on site: 4 Dec 2026."""
        try:
            moment = datetime.fromisoformat(iso)
        except ValueError:
            return iso
        return f"{moment.day} {moment:%b %Y}"

    def called(self, path: str) -> str:
        """What a path is called, after its part where the roof has several: nobody who reads a pack knows paths."""
        return called(self.state, path)

    def in_names(self, text: str) -> str:
        """The text with the path of a check or a stage told by what it is called."""
        return _PATH.sub(lambda found: self.called(found[0]) or found[0], text)

    def name(self, path: str) -> str:
        """What a path is called: the check's question, the stage's or part's title."""
        return _name(self.state, path)


def _name(state: State, path: str) -> str:
    view, stage = state.check(path), state.stage(path)
    if view:
        return view.check.ask
    if stage:
        return stage.stage.title
    unasked = (c.check.ask for part in state.parts for one in part.stages for c in one.checks if c.path == path)
    return next(unasked, "") or next((p.title for p in state.parts if p.id == path), "")


def called(state: State, path: str) -> str:
    """What a check, a stage or a part is called, after its part where the roof has several; "" for none."""
    parts = {part.id: part.title for part in state.parts if part.id != JOB}
    name, part = _name(state, path), parts.get(path.partition(".")[0], "")
    return f"{part}: {name}" if name and part and len(parts) > 1 and name != part else name


def clock(moment: datetime) -> str:
    return f"{moment.day} {moment:%b %Y %H:%M}"


def _short(figure: FigureView) -> str:
    """What a figure is called in a narrow cell; nothing where it is the only one."""
    if figure.key == "value":
        return ""
    return figure.says if 0 < len(figure.says) <= 26 else figure.key


def joined(parts: Iterable[str], between: str = ", ") -> str:
    return between.join(part for part in parts if part)
