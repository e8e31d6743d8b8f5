"""The lists of a program of another day: some check of today is not among them."""

from collections.abc import Iterator
from pathlib import Path

from msgspec.structs import replace

from sitelog.checklist.schema.model import Library
from sitelog.job.job import Job
from sitelog.job.log.entry import Draft
from tests.job.logs import author

Place = tuple[str, str, str]  # form, stage, check


def every_check(library: Library) -> Iterator[Place]:
    for form, one in library.lists.items():
        yield from ((form, stage.id, check.id) for stage in one.stages for check in stage.checks)


def without(library: Library, *places: Place) -> Library:
    """The same lists, those checks taken out of them; where no check is named, the whole stage."""
    lists = dict(library.lists)
    for form in {form for form, _, _ in places}:
        gone = {(stage, check) for other, stage, check in places if other == form}
        kept = (s for s in lists[form].stages if (s.id, "") not in gone)
        stages = (replace(s, checks=tuple(c for c in s.checks if (s.id, c.id) not in gone)) for s in kept)
        lists[form] = replace(lists[form], stages=tuple(stages), digest="0" * 64)
    digests = {**library.digests, **{lists[form].id: "0" * 64 for form, _, _ in places}}
    return replace(library, lists=lists, digests=digests)


def released_then_gone(file: Path, library: Library) -> Library:
    """The job's ridge is let go whole; it then goes by the lists given, which have no such stage."""
    newest = without(library, ("hipped", "ridge", ""))
    with Job.open(file, library) as job:
        job.do(
            Draft(act="release", part="main", check="ridge", value={"was": "unsigned"}, note="crane booked"), author()
        )
    with Job.open(file, newest) as job:
        job.update_lists(author())
    return newest
