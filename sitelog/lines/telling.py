"""What is said of the stage and of the check that one stands on."""

from collections.abc import Iterator, Sequence

from sitelog.checklist.schema.guidance import Caution
from sitelog.job.state.marks import state_word
from sitelog.job.state.views import CheckView, StageView, State
from sitelog.text import text_after
from sitelog.wording.flags import flags
from sitelog.wording.formatting import KIND_WORDS, row_figures
from sitelog.wording.strip import closing_ask, read_line, stage_line, stage_lines, strip_lines, unread_line


def stage_told(stage: StageView, state: State) -> Iterator[str]:
    """The stage, and each of its checks with its number; the last is its signature."""
    part = next((part.title for part in state.parts if part.id == stage.part != "job"), "")
    yield ""
    yield f"Stage {stage_line(stage, state)}{text_after('. ', part)}"
    yield from (f"{number} {_row(view, state)}" for number, view in enumerate(stage.shown, 1))
    yield f"{len(stage.shown) + 1} {_closing(stage)}"


def here_told(stage: StageView, view: CheckView | None, state: State, due: Sequence[Caution]) -> Iterator[str]:
    """The check told whole, or without one the signature of the stage; then which of its cautions are read."""
    yield ""
    unread = unread_line(due)
    if view:
        number = stage.shown.index(view) + 1
        yield f"Check {number} of {len(stage.shown)}: {view.check.ask}. {_stands(view)}."
        yield from strip_lines(view, state, unread)
    else:
        yield from stage_lines(stage, state, unread)
        yield _closing(stage)
    if done := read_line(stage, due):
        yield done


def _stands(view: CheckView) -> str:
    word = state_word(view)
    if view.state == "open":
        return f"{word}, {KIND_WORDS[view.check.kind]}"
    return word


def _row(view: CheckView, state: State) -> str:
    figures = row_figures(view, state.units)
    stands = ", ".join([_stands(view), *(flag.words for flag in flags(view))])
    return f"{stands}: {view.check.ask}{text_after('. ', figures)}"


def _closing(stage: StageView) -> str:
    """The stage's last row: its hold or its signature."""
    if stage.by:
        return f"{stage.state}, by {stage.by}"
    return f"{closing_ask(stage)}. {stage.stage.signer} signs"
