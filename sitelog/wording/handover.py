"""What is handed to the next trade, in words: how it stands, each point, and what they said of it."""

from collections.abc import Collection, Sequence

from sitelog.job.replies.points import changed_since, numbered, standing
from sitelog.job.state.marks import CHECK, state_word
from sitelog.job.state.record_views import Point
from sitelog.job.state.views import CheckView, State
from sitelog.reports.front.first_page import FirstPage
from sitelog.text import text_after, text_if
from sitelog.wording.formatting import day, row_figures

_WORD = {True: "accepted", False: "sent back"}
NOBODY = "Nothing to hand over yet. Choose the finish for each part first."


def handed(state: State, to: str) -> list[CheckView]:
    """The points for a trade, in the order of their numbers in its pack."""
    return list(numbered(state, to))


def standing_lines(first: FirstPage, state: State, to: str) -> list[str]:
    """How the job stands for that trade, and how many points it has accepted."""
    taken = {path for path, point in standing(state).items() if point.accepted}
    points = handed(state, to)
    return [
        first.standing,
        f"{sum(view.path in taken for view in points)} of {len(points)} points accepted by the {to}.",
    ]


def amiss(view: CheckView, lines: Sequence[str]) -> Sequence[str]:
    """Of the pack's lines of a check that is out or unsure, those of the figures that are; else its sum's headline."""
    found = [line for line in lines if line.endswith((f" {CHECK['out'].word}", f" {CHECK['unsure'].word}"))]
    read = sum(figure.value is not None for figure in view.figures)
    at = len(view.figures) if read else 0
    return found or lines[at : at + 1] or lines[:1]


def stands(view: CheckView, state: State) -> str:
    """How the check of a point stands: its figures, and who measured it."""
    figures = row_figures(view, state.units)
    return ", ".join(filter(None, (state_word(view), figures, view.by)))


def said(point: Point | None, still: Collection[str]) -> str:
    """What the next trade said of a point; "" while they have not, "changed" if it isn't `still` as it was then."""
    if point is None:
        return ""
    if point.point not in still:
        return "changed"
    return _WORD[point.accepted]


def said_whole(point: Point, state: State) -> tuple[str, str]:
    """What they said, and who, when, off which pack and why; with that the point has changed since."""
    code = text_after(", record code ", point.head)
    since = text_if(changed_since(state, point), ". Changed since: hand over again")
    when = day(point.day or point.at)
    return _WORD[point.accepted].capitalize(), f"{point.by}, {when}{code}{since}{text_after('. ', point.note)}"
