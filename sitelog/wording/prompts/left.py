"""What somebody else typed and did not enter: told to who is there now, who keeps it for them or throws it away."""

from collections.abc import Iterator

from sitelog.job.job import Job
from sitelog.wording.formatting import name_of
from sitelog.wording.prompts.drafts import Drafts, Typed

THROW_AWAY = "Throw it away"


def left_by(drafts: Drafts) -> dict[str, list[Typed]]:
    """What others left, by their names."""
    found: dict[str, list[Typed]] = {}
    for typed in drafts.of_others():
        found.setdefault(typed.by, []).append(typed)
    return found


def left_title(by: str) -> str:
    """What is said above it."""
    return f"{by} typed this and didn't save it"


def left_lines(found: list[Typed], job: Job) -> Iterator[str]:
    """A line for each form: what it is, where, and what was typed."""
    for typed in found:
        form, _, at = typed.form.rpartition(" ")
        caution = job.library.cautions.get(at)
        where = caution.title if caution else name_of(at, job.state)
        yield f"{form.capitalize() or 'Figures'}, {where}: {'; '.join(typed.texts.values())}"


def left_choices(by: str) -> tuple[str, str]:
    """What can be done with it: the first loses nothing."""
    return f"Keep it for {by}", THROW_AWAY
