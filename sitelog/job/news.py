"""What newer lists would change in a job: the checks that are new, that ask otherwise, and that go."""

from collections.abc import Iterator

from msgspec import Struct

from sitelog.checklist.model import Check, Library
from sitelog.job.known import JOB, stages_of
from sitelog.job.views import State

Rows = tuple[tuple[str, str], ...]  # path of a check, and what it asks


class News(Struct, frozen=True):
    new: Rows
    changed: Rows
    gone: Rows


def news(state: State, own: Library, newest: Library) -> News:
    """A part whose form has no newer list keeps its own, and is left out."""
    forms = {one.id: one.form for one in state.parts if one.form == JOB or one.form in newest.lists}
    before, now = dict(_checks(forms, own)), dict(_checks(forms, newest))
    return News(
        new=tuple((path, check.ask) for path, check in now.items() if path not in before),
        changed=tuple((path, check.ask) for path, check in now.items() if before.get(path, check) != check),
        gone=tuple((path, check.ask) for path, check in before.items() if path not in now),
    )


def _checks(forms: dict[str, str], library: Library) -> Iterator[tuple[str, Check]]:
    for part, form in forms.items():
        for stage in stages_of(library, form):
            yield from ((f"{part}.{stage.id}.{check.id}", check) for check in stage.checks)
