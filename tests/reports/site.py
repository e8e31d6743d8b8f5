"""A job of one part kept in memory, hipped unless said: shipped lists, entries under invented names, and its state."""

from collections.abc import Mapping, Sequence
from datetime import UTC, datetime, timedelta
from typing import Any

from sitelog.job.actions import actions
from sitelog.job.actions.sealing import sealed
from sitelog.job.actions.setup import JobSetup, start
from sitelog.job.facts.cache import EvaluationCache
from sitelog.job.log.entry import Author, Draft, Entry
from sitelog.job.log.entry_index import EntryIndex
from sitelog.job.state.replay import state_of
from sitelog.job.state.views import FigureView, State
from sitelog.quantities.quantity import Units, show_fall
from sitelog.refusal import Refusal
from sitelog.reports.model import Pack
from sitelog.reports.pack import make
from tests.job.roof import anew, clearing
from tests.shipped import library

BEGIN = datetime(2025, 11, 24, 7, 30, tzinfo=UTC)
# As read off the tape: the diagonals are 11 apart, outside the house limit of 10 but too near it to call.
SIDES = {"ab": "8996", "bc": "6003", "cd": "9001", "da": "6002", "ac": "10819", "bd": "10808"}


class Site:
    """A job to act on; the clock moves seven minutes with every act."""

    def __init__(
        self,
        *,
        title: str = "Kiln Lane, plot 3",
        units: Units = "metric",
        pitch: str = "35",
        form: str = "hipped",
        more: Mapping[str, str] | None = None,
        parts: Sequence[tuple[str, str, str, Mapping[str, str]]] = (),
    ) -> None:
        """`parts` stand in place of the one roof: id, title, form and figures as drawn of each."""
        self.now = BEGIN
        self.entries: list[Entry] = []
        self._sort()
        figures = {"length": "9000", "width": "6000", "pitch": pitch, "design_mass": "70", **(more or {})}
        part = ("main", "Main roof", form, figures)
        self.do(start(library(), JobSetup(title=title, place="Kiln Lane", units=units, parts=parts or [part])))

    def do(self, draft: Draft | Sequence[Draft], by: str = "M. Reed", *, wait_s: float = 420) -> None:
        self.now += timedelta(seconds=wait_s)
        drafts = [draft] if isinstance(draft, Draft) else draft
        made = sealed(drafts, Author(by=by, device="d1", now=self.now), self.entries)
        self.entries = [*self.entries, *made]
        if not all(self._index.take(entry) for entry in made):
            self._sort()
        self.state: State = state_of(library(), self._index, self._cache)

    def _sort(self) -> None:
        self._index, self._cache = EntryIndex.of(self.entries), EvaluationCache()

    def __copy__(self) -> "Site":
        """The same job, to go on with apart from this one."""
        other = Site.__new__(Site)
        other.__dict__.update(self.__dict__, _index=self._index.copy(), _cache=self._cache.copy())
        return other

    def answer(self, path: str, texts: Mapping[str, str] | None = None, **more: Any) -> None:
        wait_s = float(more.pop("wait_s", "420"))
        self.do(anew(self.state, library(), path, texts or {}, **more), wait_s=wait_s)

    def pack(self, to: str = "tiler") -> Pack:
        return make(self.state, library(), to, self.now)

    def up_to(self, stop: str, given: Mapping[str, Mapping[str, str]] | None = None) -> None:
        """Everything before a path done as it comes next: read as drawn where `given` has nothing else."""
        given = given or {}
        while self.state.next not in ("", stop):
            path = self.state.next
            view = self.state.check(path)
            if view is None:
                self.sign(path)
                continue
            texts = given.get(path) or _texts(view.check.kind, view.figures, [c.id for c in view.check.choices])
            try:
                self.answer(path, texts)
            except Refusal:  # a sum that waits for a figure that this roof has not
                self.do(actions.skip(self.state, path, "not on this roof"))
            after = self.state.check(path)
            if after and after.state in ("out", "unsure"):
                self.do(actions.release(self.state, path, "agreed with the designer on site"), "J. Hale")

    def sign(self, path: str) -> None:
        for read in clearing(self.state, library(), path):
            self.do(read)
        self.do(actions.sign(self.state, path))


def _texts(kind: str, figures: Sequence[FigureView], choices: Sequence[str]) -> dict[str, str]:
    if kind == "measure":
        found: dict[str, str] = {}
        for figure in figures:
            found[figure.key] = _text(figure, next(reversed(found.values()), "0"))
        return found
    words = {"choice": choices[0] if choices else "", "note": "drawing R-102, rev B", "photo": "p1.jpg"}
    return {"value": words[kind]} if kind in words else {}


def _text(figure: FigureView, before: str) -> str:
    """As drawn; what is held to the figure before it is read as that one; else what its limit takes easily."""
    if figure.key in ("hang", "offsets"):
        return {"hang": "240", "offsets": "0,1,2,1,0"}[figure.key]
    if figure.kind in ("lengths", "offsets"):
        return "100,101,100,102,100,101,100,101"
    if figure.kind == "fall" and isinstance(figure.drawn, float):
        return show_fall(figure.drawn)
    if isinstance(figure.drawn, (int, float)):
        return f"{figure.drawn:.0f}" if figure.kind == "count" else f"{figure.drawn:.1f}"
    if figure.limit and figure.limit.rule == "within":
        return before if figure.kind == "length" else "0"
    if figure.limit and figure.limit.amount is not None:
        return f"{figure.limit.amount * 1.2:.0f}" if figure.limit.rule == "least" else "0"
    return {"pitch": "35", "angle": "35", "text": "K. Moss, for the firm that lays it"}.get(figure.kind, "50")
