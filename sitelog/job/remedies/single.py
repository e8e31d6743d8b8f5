"""Two rafters in wind, or sizes that are out: set right, or taken into the cuts as they are."""

from collections.abc import Iterator, Mapping

from sitelog.checklist.schema.model import Library
from sitelog.job.batches import same_length
from sitelog.job.remedies.changes import changes
from sitelog.job.remedies.lengths import answered, lengths, shifts, sizes_read, without
from sitelog.job.remedies.read import all_off, result, set_right
from sitelog.job.remedies.remedy import Act, Kind, Remedy
from sitelog.job.state.views import CheckView, State


def of_twist(view: CheckView) -> Iterator[Remedy]:
    """Two rafters in wind: the lower head is raised by all of it, or the other foot is packed."""
    wind = result(view, "wind")
    if wind:
        yield Remedy("turn", (Act("right", wind),), passes=True)


def of_sizes(state: State, library: Library, view: CheckView) -> Iterator[Remedy]:
    """Sizes that the cuts are worked from: each moved to the drawing, or the timbers cut to them as they are."""
    out = all_off(view)
    if not out:
        return
    acts = tuple(Act(figure.says, -out[figure.key]) for figure in view.figures if figure.key in out)
    if not any(figure.sets for figure in view.check.figures):
        yield Remedy("move", acts)
        return
    before = lengths(without(state, library, view), view.part)
    read = sizes_read(view)

    def worked(kind: Kind, acts: tuple[Act, ...], sizes: Mapping[str, float]) -> Remedy:
        after = lengths(answered(state, library, (view, sizes)), view.part)
        return Remedy(kind, acts, shifts(before, after), changes(before, after, same_length(state)))

    yield worked("move", acts, set_right(read, out))
    as_built = worked("as-built", (), read)
    if as_built.shifts:
        yield as_built
