"""The state of a job: what follows from the checklists and the entries, and from nothing else."""

from collections.abc import Iterable, Mapping, Sequence

from msgspec import Struct, field
from msgspec.structs import replace

from sitelog.checklist.model import Library
from sitelog.job import records
from sitelog.job.asked import asked
from sitelog.job.entry import Entry, head
from sitelog.job.facts import Book
from sitelog.job.given import given
from sitelog.job.known import Known
from sitelog.job.ledger import Ledger
from sitelog.job.order import PASSED, barred, in_order, next_path, part_view
from sitelog.job.standing import Site
from sitelog.job.views import Fact, PartView, Reading, Snag, StageView, State
from sitelog.quantity import Units


class Kept(Struct):
    """What is kept from one look to the next. It belongs to one library."""

    # Of each part: the mark of the ledger it was seen at, the part, and its facts by (part, name).
    parts: dict[str, tuple[tuple[object, ...], PartView, dict[tuple[str, str], Fact]]] = field(default_factory=dict)
    known: dict[str, Known] = field(default_factory=dict)  # what may be known of each part, by the lists alone

    def copy(self) -> "Kept":
        return Kept(dict(self.parts), self.known)


def fold(library: Library, entries: Iterable[Entry]) -> State:
    """The state that follows from the entries, in whatever order they come. Pure; nothing in an entry is refused."""
    return state_of(library, Ledger.of(entries))


def state_of(library: Library, ledger: Ledger, kept: Kept | None = None) -> State:
    """The state that follows from entries sorted already.

    `kept` holds the parts as they were seen last, and is brought up to date: a part is looked at again only when an
    entry was added or taken back that it can hang on.
    """
    kept = Kept() if kept is None else kept
    titles = records.titles(library, ledger)
    gave = given(library, {part: form for part, (_, form) in titles.items()}, ledger)
    book = Book(library, {part: form for part, (_, form) in titles.items()}, gave, kept.known)
    snags, readings = records.snags(ledger), records.readings(library, ledger)
    instruments = records.instruments(ledger)
    site = Site(book, ledger, _by_path(snags), instruments)
    parts = _parts(library, site, titles, readings, kept)
    order = barred(in_order(parts))
    deferrals = records.deferrals(ledger, order)
    last = [stage for stage in order if stage.stage.place == "last"]
    start = ledger.start.value if ledger.start else {}
    units: Units = "imperial" if start.get("units") == "imperial" else "metric"
    return State(
        id=ledger.start.id if ledger.start else "",
        title=str(start.get("title", "")),
        place=str(start.get("place", "")),
        units=units,
        parts=_with(parts, order),
        order=tuple(order),
        facts={fact.name: fact for part in titles for fact in book.all(part).values()},
        snags=snags,
        releases=records.releases(ledger),
        deferrals=deferrals,
        readings=readings,
        instruments=instruments,
        diary=records.diary(ledger),
        points=records.points(ledger),
        changed_lists=records.changed_lists(library, ledger),
        entries=ledger.count,
        head=head(ledger.ends),
        next=next_path(order, deferrals),
        handed_over=bool(last) and all(stage.state in PASSED for stage in last),
        last=ledger.last,
        packs=records.packs(ledger),
        given=gave,
        asked=tuple(one for part in titles for one in asked(library, book, part)),
    )


def _parts(
    library: Library, site: Site, titles: Mapping[str, tuple[str, str]], readings: Sequence[Reading], kept: Kept
) -> list[PartView]:
    parts = []
    for part, (title, form) in titles.items():
        mark = (*site.ledger.mark(part), asked(library, site.book, part))
        if part in kept.parts and kept.parts[part][0] == mark:
            site.book.keep(kept.parts[part][2])
        else:
            view = part_view(library, site, part, title, form, readings)
            kept.parts[part] = (mark, view, site.book.all(part))
        parts.append(kept.parts[part][1])
    return parts


def _by_path(snags: Sequence[Snag]) -> dict[str, list[Snag]]:
    found: dict[str, list[Snag]] = {}
    for snag in snags:
        if snag.open and snag.path:
            found.setdefault(snag.path, []).append(snag)
    return found


def _with(parts: Sequence[PartView], order: Sequence[StageView]) -> tuple[PartView, ...]:
    """The parts, with their stages as the order of work left them."""
    stages: Mapping[str, StageView] = {stage.path: stage for stage in order}
    return tuple(replace(p, stages=tuple(stages.get(s.path, s) for s in p.stages)) for p in parts)
