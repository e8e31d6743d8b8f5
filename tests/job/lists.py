"""The lists of a program of another day: some check of today is not among them."""

from collections.abc import Iterator

from msgspec.structs import replace

from sitelog.checklist.model import Library

Place = tuple[str, str, str]  # form, stage, check


def every_check(library: Library) -> Iterator[Place]:
    for form, one in library.lists.items():
        yield from ((form, stage.id, check.id) for stage in one.stages for check in stage.checks)


def without(library: Library, *places: Place) -> Library:
    """The same lists, those checks taken out of them."""
    lists = dict(library.lists)
    for form in {form for form, _, _ in places}:
        gone = {(stage, check) for other, stage, check in places if other == form}
        stages = (replace(s, checks=tuple(c for c in s.checks if (s.id, c.id) not in gone)) for s in lists[form].stages)
        lists[form] = replace(lists[form], stages=tuple(stages), digest="0" * 64)
    digests = {**library.digests, **{lists[form].id: "0" * 64 for form, _, _ in places}}
    return replace(library, lists=lists, digests=digests)
