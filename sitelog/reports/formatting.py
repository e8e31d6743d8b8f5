"""How the pack tells a figure, a check, a limit and a name; what has gone stale is never told as a figure."""

import re
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from datetime import datetime, timedelta, timezone, tzinfo
from functools import cached_property

from sitelog.calculators import index, sheet
from sitelog.calculators.catalogue import Value
from sitelog.checklist.schema.model import Library, Limit
from sitelog.job.facts.evidence import shown
from sitelog.job.facts.fact import AS_MEANT, MEANT
from sitelog.job.facts.sums import unit_of
from sitelog.job.log.entry import Entry
from sitelog.job.log.values import from_plain
from sitelog.job.photos.keeping import Shown
from sitelog.job.photos.photo import in_words, names_of
from sitelog.job.state.marks import CHECK, state_word
from sitelog.job.state.views import CheckView, FigureView
from sitelog.quantities.quantity import Item, show, show_length
from sitelog.reports.citations import bracketed, cited, source_numbers
from sitelog.reports.phrases import PATH, RULE, called, choice_label, joined, name_of, short_name
from sitelog.reports.sketches import Sketch, sketches
from sitelog.reports.staleness import Staleness
from sitelog.text import clock, text_if, written_day

WITHHELD = "OUT OF DATE, not shown"


@dataclass(frozen=True)
class Formatter(Staleness):
    """Tells the things of one job, in its units; times by the clock on the wall where they were entered."""

    library: Library
    zone: tzinfo
    album: tuple[Shown, ...] = ()  # the photos as they stand on the disk

    @cached_property
    def _sketches(self) -> dict[str, tuple[Sketch, ...]]:
        return {part.id: sketches(self.state, self.library, part.id) for part in self.state.parts}

    def sketches(self, part: str) -> tuple[Sketch, ...]:
        """Every drawing of a part, as brief and record both show it."""
        return self._sketches[part]

    # --- figures --------------------------------------------------------------------------------------------------

    def figure(self, unit: str, value: Value, *, with_unit: bool = False, typed: bool = False) -> str:
        """A value with its unit; a length in mm without, as on a drawing. `typed` shows every digit of it."""
        if isinstance(value, tuple):
            return ", ".join(self._item(unit, item, typed) for item in value)
        if unit != "mm" or not isinstance(value, (int, float)):
            return show(unit, value, self.state.units, typed=typed)
        return show_length(value, self.state.units, with_unit=with_unit, typed=typed)

    def _item(self, unit: str, item: Item, typed: bool) -> str:
        if isinstance(item, (int, float)):
            return self.figure(unit, item, typed=typed)
        return show("", (item,))

    def fact(self, part: str, name: str) -> str:
        """A fact as it stands, with what was drawn where that is another figure."""
        fact = self.fact_of(part, name)
        if fact is None or fact.now is None:
            return "-"
        if self.stale_fact(fact):
            return WITHHELD
        now = self.figure(fact.unit, fact.now, typed=fact.typed)
        if fact.built is None:
            return f"{now} {MEANT[fact.whence]}"
        drawn = ""
        if fact.drawn is not None:
            drawn = self.figure(fact.unit, fact.drawn, typed=fact.drawn_typed)
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
        return f"({MEANT[figure.whence]} {drawn}, {text_if(apart > 0, '+')}{off})"

    # --- checks ---------------------------------------------------------------------------------------------------

    def value(self, view: CheckView) -> str:
        """What a check found, a line a figure; no figure of one that is stale."""
        if view.path in self.stale_paths:
            return f"{WITHHELD}: {self.why_stale(view)}"
        if view.check.kind == "calculate":
            under = self.stale_under(view)
            if under:
                return f"{WITHHELD}: {self.first_again(under)}"
            return "\n".join(self._sums(view))
        if all(figure.value is None for figure in view.figures):
            return self._words(view)
        told = [f"{short_name(figure)} {self.read_figure(view, figure)}".strip() for figure in view.figures]
        if not self.stale_under(view):
            told += self._sums(view)
        return "\n".join(told)

    def _words(self, view: CheckView) -> str:
        """What a check without a figure was answered: the choice, the words, and its photos."""
        if view.check.kind == "choice":
            return str(choice_label(view.check, view.value) or "")
        answer = next((entry for entry in reversed(view.history) if entry.act == "answer"), None)
        word = "" if view.value is None else str(view.value)
        if answer is None:
            return word
        if view.check.kind == "tick":
            word = "ticked"
        return joined(["" if word == names_of(answer.value) else word, in_words(answer.value)])

    def was(self, view: CheckView, answer: Entry) -> str:
        """What an answer said that another has taken the place of, a line a figure."""
        read = []
        for figure, spec in zip(view.figures, view.check.figures, strict=True):
            value = from_plain(spec.kind, answer.value.get(figure.key))
            if value is not None:
                read.append(f"{short_name(figure)} {self.figure(figure.unit, value, typed=True)}".strip())
        if read:
            return "\n".join(read)
        word = answer.value.get("value")
        if view.check.kind == "choice":
            word = choice_label(view.check, word)
        words = word if isinstance(word, str) else ""
        return joined([words, in_words(answer.value)]) or "ticked"

    def _sums(self, view: CheckView) -> list[str]:
        answer = view.answer
        if answer is None:
            if view.refusal and view.check.kind == "calculate":
                return [self.in_names(view.refusal)]
            return []
        calculator = index.find(answer.calculator)
        told = []
        for path in shown(view.check, answer):
            _, label = unit_of(calculator, path)
            text = sheet.scalar(answer, path, self.state.units)
            if text:
                told.append(f"{label[:1].lower()}{label[1:]} {text}")
        return told

    def why_stale(self, view: CheckView) -> str:
        """What has changed since the check was answered."""
        facts = [(name, self.state.facts.get(name) or self.fact_of(view.part, name)) for name in view.stale_because]
        changed = [fact.says if fact else name for name, fact in facts]
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
        for figure in view.figures:
            if figure.limit and figure.limit != view.limit:
                found.append(self.limit(figure.limit, figure.unit))
        return "\n".join(dict.fromkeys(found))

    def limit(self, limit: Limit, unit: str) -> str:
        """`within 10 mm (house)`; one that is another figure with its name, `at most 35 deg, the roof's pitch`."""
        amount = ""
        if limit.amount is not None:
            amount = self.figure(unit, limit.amount, with_unit=True, typed=True)
        told = joined([amount, limit.says]) if limit.of else amount
        return f"{RULE[limit.rule]} {told} ({limit.origin})"

    def _unit(self, view: CheckView) -> str:
        if view.check.calculator and view.check.shows:
            return unit_of(index.find(view.check.calculator), view.check.shows[0])[0]
        if not view.figures:
            return ""
        return view.figures[0].unit

    @cached_property
    def numbers(self) -> Mapping[str, int]:
        """The number of each source that this job names, by its id."""
        return source_numbers(self.state, self.library)

    def source(self, source_id: str) -> str:
        """The number of a source in the list at the end of the record, as `[12]`; its id where it is not there."""
        return bracketed(iter((source_id,)), self.numbers) or source_id

    def sources_of(self, view: CheckView) -> str:
        """The numbers of all that a check and its limits name, as `[3, 12]`."""
        return bracketed(cited(view.check), self.numbers)

    # --- people and times -----------------------------------------------------------------------------------------

    def who(self, view: CheckView) -> str:
        """Who answered a check and when, and when it was done where it was entered late; a line each, or ""."""
        if not view.by:
            return ""
        told = f"{view.by}\n{self.when(view.at)}"
        done = ""
        if view.late:
            done = next((entry.done for entry in reversed(view.history) if entry.act == "answer"), "")
        if done:
            return f"{told}\nof {self.when(done)}"
        return told

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
        return written_day(moment)

    def called(self, path: str) -> str:
        """What a path is called, after its part where the roof has several: nobody who reads a pack knows paths."""
        return called(self.state, path)

    def in_names(self, text: str) -> str:
        """The text with the path of a check or a stage told by what it is called."""
        return re.sub(PATH, lambda found: self.called(found[0]) or found[0], text)

    def name(self, path: str) -> str:
        """What a path is called: the check's question, the stage's or part's title."""
        return name_of(self.state, path)
