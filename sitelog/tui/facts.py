"""Every figure of the job: as drawn, as built, how far apart, and who says so."""

from collections.abc import Iterable
from typing import ClassVar

from textual import on, work
from textual.binding import BindingType

from sitelog.job.views import Asked, Fact, State
from sitelog.telling.deeds import change
from sitelog.telling.told import counted, day, in_words, value_text
from sitelog.tui import deeds
from sitelog.tui.keys import bindings
from sitelog.tui.list_page import ListPage
from sitelog.tui.listing import Cell, Listing, Row, heading, row

ASKED = "asked "  # opens the key of a row that says what another part's finish asks


class FactsPage(ListPage[None]):
    """A figure off the drawing can be changed here; any other is measured or worked, and says where."""

    PLACE = "facts"
    BINDINGS: ClassVar[list[BindingType]] = bindings("facts")
    HEADING = " Figures, drawn and built"
    HEAD = (Cell(""), Cell("drawn", 11, right=True), Cell("built", 11, right=True), Cell("apart", 9, right=True))

    def rows(self) -> Iterable[Row]:
        state = self.site.state
        for part in state.parts:
            facts = [fact for name, fact in state.facts.items() if name.startswith(f"{part.id}.")]
            if facts:
                yield heading(part.title)
                yield from (_row(fact, state) for fact in facts)
            yield from (
                row(f"{ASKED}{state.asked.index(one)}", Cell(f"Asked by {title}: {one.ask.says}"))
                for title, one in state.asked_of(part.id)
            )

    def told(self, key: str) -> Iterable[tuple[str, str]]:
        asked = self._asked(key)
        return self._told_asked(asked) if asked else self._told_fact(key)

    def _asked(self, key: str) -> Asked | None:
        """What another part's finish asks, if that is what the row says."""
        return self.site.state.asked[int(key.removeprefix(ASKED))] if key.startswith(ASKED) else None

    def _told_asked(self, asked: Asked) -> Iterable[tuple[str, str]]:
        sources = self.site.job.library.sources if self.site.job else {}
        source = sources.get(asked.ask.source)
        title = next(part.title for part in self.site.state.parts if part.id == asked.by)
        return [
            ("", asked.ask.says),
            ("Asked by", f"{title}: {asked.finish}, of {asked.ask.topic}"),
            ("Source", f"{source.title}: {source.locator} ({source.how})" if source else asked.ask.source),
            ("Chosen at", _ask(asked.path, self.site.state)),
        ]

    def _told_fact(self, key: str) -> Iterable[tuple[str, str]]:
        fact, state = self.site.state.facts[key], self.site.state
        told = [("", fact.says)]
        if fact.set_by and fact.built is not None:
            told.append(("Built", f"{_source(fact, state)}{', ' + day(fact.at) if fact.at else ''}"))
        if fact.refusal:
            told.append(("Not worked", in_words(fact.refusal, state)))
        if fact.asked or fact.drawable:
            told.append(("Drawn", "off the drawing; enter changes it"))
        elif fact.setters:
            told.append(("Set at", "; ".join(_ask(path, state) for path in fact.setters)))
        else:
            told.append(("Worked", f"from other figures{', by ' + fact.set_by if fact.set_by else ''}"))
        return told

    @on(Listing.OptionSelected)
    @work
    async def action_change(self) -> None:
        fact = self.site.state.facts.get(self.listing.key)
        if fact is None:
            self.say(
                "It follows from the finish of another part. g goes there." if self._asked(self.listing.key) else ""
            )
            return
        if not (fact.asked or fact.drawable):
            self.say(self._elsewhere(fact))
            return
        if await deeds.do(self, lambda: change(self.site.state, fact)):
            stale = len(self.site.state.stale)
            more = f" {counted(stale, 'check is', 'checks are')} stale now." if stale else ""
            self.say(f"{fact.says}: drawn again.{more}")

    def _elsewhere(self, fact: Fact) -> str:
        if fact.setters:
            return f"It is set at: {_ask(fact.setters[0], self.site.state)}. g goes there."
        return "It is worked from other figures; change those."

    def action_go(self) -> None:
        asked = self._asked(self.listing.key)
        if asked:
            self.go_to(asked.path)
            return
        fact = self.site.state.facts.get(self.listing.key)
        paths = [fact.set_by, *fact.setters] if fact else []
        found = next((path for path in paths if self.site.state.check(path)), None)
        if found:
            self.go_to(found)
        else:
            self.say("No check that applies sets this figure.")


def _row(fact: Fact, state: State) -> Row:
    apart = ""
    if isinstance(fact.drawn, (int, float)) and isinstance(fact.built, (int, float)) and fact.kind != "fall":
        apart = value_text(fact.unit, fact.built - fact.drawn, state.units)
    return row(
        fact.name,
        Cell(fact.says),
        Cell(value_text(fact.unit, fact.drawn, state.units), 11, right=True),
        Cell(value_text(fact.unit, fact.built, state.units), 11, right=True),
        Cell(apart, 9, right=True),
    )


def _source(fact: Fact, state: State) -> str:
    return _ask(fact.set_by, state) if "." in fact.set_by else f"worked, by {fact.set_by}"


def _ask(path: str, state: State) -> str:
    view = state.check(path)
    return view.check.ask if view else path
