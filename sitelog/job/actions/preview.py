"""A check as it would stand with what has been typed so far, for a form that answers while it is filled."""

from collections.abc import Mapping
from typing import Any

from msgspec.structs import replace

from sitelog.checklist.schema.model import Library
from sitelog.job.actions.answers import figure_value, seen
from sitelog.job.log.values import to_plain
from sitelog.job.state.record_views import grade_of
from sitelog.job.state.views import CheckView, State
from sitelog.refusal import Refusal


def preview(
    state: State, library: Library, view: CheckView, texts: Mapping[str, str], instrument: str = ""
) -> tuple[CheckView, str]:
    """The check with the figures that can be read, and why the first of the others can't ("" if there is none).

    Nothing is entered and nothing refused: a form is half filled most of the time.
    """
    values, problem = _read(state, library, view, texts)
    tool = state.instruments.get(instrument.strip())
    evaluation = seen(state, library, view, values, grade_of(tool))
    whole = not problem and all(figure.optional or figure.key in values for figure in view.check.figures)
    would_be = replace(
        view,
        figures=evaluation.figures,
        inputs=evaluation.inputs,
        answer=evaluation.answer,
        answer_drawn=evaluation.answer_drawn,
        refusal=evaluation.refusal if whole else "",
        limit=evaluation.limit,
        verdict=evaluation.verdict if whole else None,
    )
    return would_be, problem


def _read(state: State, library: Library, view: CheckView, texts: Mapping[str, str]) -> tuple[dict[str, Any], str]:
    """The figures that can be read, plain, and why the first of the others can't."""
    values: dict[str, Any] = {}
    problem = ""
    for figure in view.check.figures:
        text = texts.get(figure.key, "").strip()
        if not text:
            continue
        try:
            values[figure.key] = to_plain(figure_value(state, library, view, figure, text))
        except Refusal as refusal:
            problem = problem or refusal.message
    return values, problem
