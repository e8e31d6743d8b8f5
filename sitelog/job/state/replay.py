"""The state of a job: what follows from the checklists and the entries, and from nothing else."""

from collections.abc import Iterable, Iterator, Mapping, Sequence

from msgspec.structs import replace

from sitelog.checklist.schema.model import Library
from sitelog.job.cautions.asked import asked
from sitelog.job.cautions.due import latest
from sitelog.job.facts.cache import EvaluationCache
from sitelog.job.facts.own_lists import OwnLists, own_lists
from sitelog.job.lists import before
from sitelog.job.log.entry import Entry
from sitelog.job.log.entry_index import EntryIndex
from sitelog.job.log.record_code import code_of, digests_of
from sitelog.job.state import records
from sitelog.job.state.earlier import earlier
from sitelog.job.state.order import PASSED, barred, in_order, judged_by, next_path, part_view
from sitelog.job.state.pointed import pointed_hips
from sitelog.job.state.record_views import Snag
from sitelog.job.state.standing import CheckContext
from sitelog.job.state.views import PartView, StageView, State


def replay(library: Library, entries: Iterable[Entry]) -> State:
    """The state that follows from the entries, in whatever order they come. Pure; nothing in an entry is refused."""
    return state_of(library, EntryIndex.of(entries))


def state_of(
    library: Library, entry_index: EntryIndex, kept: EvaluationCache | None = None, newest: Library | None = None
) -> State:
    """The state that follows from entries sorted already, by the lists that the job goes by.

    `newest` are those that it could be brought to, if they are others.
    `kept` holds what was seen last, and is brought up to date: a fact is worked and a check looked at again only when
    an entry was added or taken back that it can hang on.
    """
    if kept is None:
        kept = EvaluationCache()
    newest = newest or library
    titles = records.titles(library, entry_index)
    forms = {part: form for part, (_, form) in titles.items()}
    lists = own_lists(library, forms, entry_index, kept)
    library, gave = lists.library, lists.given
    resolver = kept.resolver(library, lists.forms, gave)
    snags, readings = records.snags(entry_index), records.readings(library, entry_index)
    instruments = records.instruments(entry_index)
    stages = kept.stages_for(judged_by(entry_index, gave.chosen))
    parted = entry_index.all_parted()
    site = CheckContext(resolver, entry_index, _by_path(snags), instruments, kept.checks, parted, stages)
    last_read = latest(readings)
    parts = [part_view(library, site, part, title, form, last_read) for part, (title, form) in titles.items()]
    order = barred(in_order(parts))
    deferrals = records.deferrals(entry_index, order)
    facts = {fact.name: fact for part in titles for fact in resolver.all(part)}
    heading = records.heading(entry_index)
    ends = digests_of(entry_index.ends)
    return State(
        id=heading.id,
        title=heading.title,
        place=heading.place,
        units=heading.units,
        parts=_with(parts, order),
        order=tuple(order),
        facts=facts,
        snags=snags,
        releases=records.releases(entry_index),
        deferrals=deferrals,
        readings=readings,
        instruments=instruments,
        diary=records.diary(entry_index),
        points=records.points(entry_index),
        changed_lists=records.changed_lists(newest, entry_index),
        entries=entry_index.count,
        head=code_of(ends),
        ends=ends,
        next=next_path(order, deferrals),
        handed_over=_handed_over(order),
        last=entry_index.last,
        packs=records.packs(entry_index),
        instructions=records.instructions(entry_index),
        tallies=records.tallies(entry_index),
        given=gave,
        asked=tuple(request for part in titles for request in asked(library, resolver, part)),
        earlier=earlier(
            entry_index, _paths(parts), _knowing(lists, before(newest, entry_index)), lists.forms, heading.units
        ),
        pointed=tuple(pointed_hips(parts, order, facts)),
        own_lists=lists.own,
        roof_changes=tuple(f"{titles[part][0]}: {told}" for part, told in lists.changes.items()),
    )


def _knowing(lists: OwnLists, libraries: Iterable[Library]) -> Iterator[Library]:
    """Those that know what was asked: of a line that went as measured, the lists over the plates as drawn."""
    if lists.drawn:
        yield replace(lists.library, lists={**lists.library.lists, **lists.drawn})
    yield from libraries


def _handed_over(order: Sequence[StageView]) -> bool:
    """Whether every last stage of the job is signed or released."""
    last = [stage for stage in order if stage.stage.place == "last"]
    return bool(last) and all(stage.state in PASSED for stage in last)


def _paths(parts: Sequence[PartView]) -> frozenset[str]:
    """The paths of every stage and check that the lists have, those that don't apply with them."""
    stages = [stage for part in parts for stage in part.stages]
    checks = (check.path for stage in stages for check in stage.checks)
    return frozenset((*(stage.path for stage in stages), *checks))


def _by_path(snags: Sequence[Snag]) -> dict[str, list[Snag]]:
    found: dict[str, list[Snag]] = {}
    for snag in snags:
        if snag.open and snag.path:
            found.setdefault(snag.path, []).append(snag)
    return found


def _with(parts: Sequence[PartView], order: Sequence[StageView]) -> tuple[PartView, ...]:
    """The parts, with their stages as the order of work left them."""
    stages: Mapping[str, StageView] = {stage.path: stage for stage in order}
    return tuple(replace(part, stages=tuple(stages.get(stage.path, stage) for stage in part.stages)) for part in parts)
