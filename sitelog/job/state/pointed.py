"""Hips of a table that were cut by a list of before, which gave them the pointed head of a ridge."""

from collections.abc import Iterator, Mapping, Sequence

from sitelog.job.facts.fact import Fact
from sitelog.job.state.views import CheckView, PartView, StageView

FORM, HEAD = "table-top", "hip_head"
CUT = ("hip-lines.hip-", "hips.gap-")  # checks that an older list asked without asking for the head


def pointed_hips(parts: Sequence[PartView], order: Sequence[StageView], facts: Mapping[str, Fact]) -> Iterator[str]:
    """A line for each part with such hips, cut or still to be cut, until it is said how their heads are."""
    for part in parts:
        head = facts.get(f"{part.id}.{HEAD}")
        if part.form != FORM or (head is not None and head.now is not None):
            continue
        if any(map(_is_cut, (check for stage in order if stage.part == part.id for check in stage.shown))):
            yield (
                f"{part.title}: hips were cut with the pointed head for a ridge. Check each against the table's "
                "corner: it must be hollowed, or the corner clipped"
            )
        elif head is None:
            yield (
                f"{part.title}: this job's list gives hips the pointed head for a ridge. Don't cut to it: at a "
                "table the head is hollowed, or the table's corner is clipped"
            )


def _is_cut(view: CheckView) -> bool:
    """Whether the check was answered, and is one by which hips were cut."""
    _, _, path = view.path.partition(".")
    return bool(view.at) and path.startswith(CUT)
