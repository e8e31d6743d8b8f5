"""What was measured for the next trade, stage by stage, with a row for each side or corner that the checklist names."""

from collections.abc import Iterator

from sitelog.geometry.roof_lines import CORNERS, SIDES
from sitelog.job.facts.fact import AS_MEANT, MEANT
from sitelog.job.state.views import CheckView, FigureView, PartView, StageView
from sitelog.reports.formatting import WITHHELD, Formatter
from sitelog.reports.model import Block, Table, Words
from sitelog.reports.phrases import joined

PLACES = (*SIDES, "ac", "bd", *CORNERS)  # a figure's key begins with the place where it was taken: `ab`, `ab_p`, `c`
MOST = 5  # columns of figures that a page takes side by side


def handed_over(tell: Formatter, part: PartView, to: str) -> Iterator[tuple[StageView, tuple[CheckView, ...]]]:
    """The stages of a part with the checks of each that this trade takes over, or any trade for ""."""
    for stage in part.stages:
        if stage.applies:
            yield stage, tuple(view for view in stage.shown if to in view.trades or (view.trades and not to))


def measured(tell: Formatter, part: PartView, to: str) -> Iterator[Block]:
    """A table for each stage in which figures were read at two places or more, and what must be known of them."""
    for stage, views in handed_over(tell, part, to):
        for places in (PLACES[:-4], PLACES[-4:]):
            columns = [view for view in views if len(_places(view, places)) > 1]
            for first in range(0, len(columns), MOST):
                yield _table(tell, stage, columns[first : first + MOST], places)
            yield from rests_on(tell, columns)


def _places(view: CheckView, places: tuple[str, ...]) -> set[str]:
    return {place for place in map(_place, view.figures) if place in places}


def _place(figure: FigureView) -> str:
    return figure.key.partition("_")[0]


def _table(tell: Formatter, stage: StageView, views: list[CheckView], places: tuple[str, ...]) -> Table:
    there = {place for view in views for place in _places(view, places)}
    rows = tuple(
        (place.upper(), *(_figures(tell, view, place) for view in views)) for place in places if place in there
    )
    heads = ("", *(view.check.ask for view in views))
    return Table(heads, rows, (2, *(6 for _ in views)), caption=stage.stage.title)


def _figures(tell: Formatter, view: CheckView, place: str) -> str:
    """A check's figures of one place, a line each: as read, or as drawn where nobody has read them."""
    own = [figure for figure in view.figures if _place(figure) == place]
    if own and (view.path in tell.stale_paths):
        return WITHHELD
    return "\n".join(joined([_end(figure), _read(tell, view, figure)], " ") for figure in own)


def _end(figure: FigureView) -> str:
    """Which end of its place: `P` of `ab_p`, `foot` of `da_foot`."""
    end = figure.key.partition("_")[2].replace("_", " ")
    if len(end) == 1:
        return end.upper()
    return end


def _read(tell: Formatter, view: CheckView, figure: FigureView) -> str:
    if figure.value is not None:
        told, spec = tell.read_figure(view, figure), view.check.figure(figure.key)
        # What came as it was worked is told over what stands on the drawing.
        if spec and spec.sets and told.endswith(tuple(f" {by}" for by in AS_MEANT.values())):
            return tell.fact(view.part, spec.sets)
        return told
    if figure.drawn is None or tell.stale_drawn(view, figure.key):
        return "not measured"
    return f"{tell.figure(figure.unit, figure.drawn, typed=figure.drawn_typed)} {MEANT[figure.whence]}"


def rests_on(tell: Formatter, views: list[CheckView]) -> Iterator[Block]:
    """What must be known of the checks that figures rest on: one that was let go, is out, or is doubted."""
    paths = {path for view in views for fact in tell.facts_under(view) for path in fact.rests_on}
    found = [view for view in tell.state.checks() if view.path in paths and (view.state != "done" or view.doubted)]
    if found:
        said = "; ".join(f"{tell.called(view.path)} ({tell.how(view).replace(chr(10), ', ')})" for view in found)
        yield Words(f"These figures use {said}.", strong=True)
