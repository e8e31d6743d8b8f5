"""The strip at the foot of a stage: the check under the cursor told whole, or the stage, and its cautions."""

from collections.abc import Sequence

from sitelog.checklist.model import Caution
from sitelog.job.views import CheckView, StageView, State
from sitelog.trade.sheet import scalar
from sitelog.tui.told import counted, in_words, label, limit_text, value_text, when


def stage_line(stage: StageView, state: State) -> str:
    """The stage in one line: how far it is, and what in it is not as it should be."""
    shown = stage.shown
    settled = sum(c.state in ("done", "released", "not applicable") for c in shown)
    words = [f"{settled} of {len(shown)} done"]
    for name in ("out", "unsure", "stale", "snagged", "deferred"):
        count = sum(c.state == name for c in shown)
        if count:
            words.append(f"{count} {name}")
    if state.releases:
        words.append(f"{len(state.releases)} released in the job")
    if stage.stage.hold and stage.state not in ("signed", "released"):
        words.append("hold at the end")
    return f"{state.order.index(stage) + 1} {stage.stage.title}   {' · '.join(words)}"


def stage_lines(stage: StageView, state: State) -> list[str]:
    """The strip while the cursor stands on the stage's closing row."""
    lines = [stage.stage.title, stage.stage.why and f"Why: {stage.stage.why}", in_words(stage.blocked, state)]
    if stage.by:
        reason = f": {stage.reason}" if stage.reason else ""
        lines.append(f"{stage.state.capitalize()} by {stage.by}, {when(stage.at)}{reason}")
    return [line for line in lines if line]


def caution_lines(stage: StageView, due: Sequence[Caution]) -> list[str]:
    """One line of the cautions still to read, one of those in force."""
    read = [c.title for c in stage.cautions if c not in due]
    unread = f"! Cautions to read (o): {'; '.join(c.title for c in due)}" if due else ""
    return [line for line in (unread, f"Cautions read: {'; '.join(read)}" if read else "") if line]


def strip_lines(view: CheckView, state: State) -> list[str]:
    """The strip while the cursor stands on a check: drawn, built, limit; why; what stands against it; who and when."""
    lines = [_figures_line(view, state), view.check.why and f"Why: {view.check.why}"]
    if view.refusal:
        lines.append(in_words(view.refusal, state))
    if view.stale_because:
        lines.append(f"Stale: {', '.join(view.stale_because)} changed since; do it again")
    if view.blocked:
        lines.append(in_words(view.blocked, state))
    if view.by:
        lines.append(_who(view))
    lines += [f"Snag {snag.id}, open: {snag.text}" for snag in state.open_snags if snag.path == view.path]
    if view.note:
        lines.append(f"Note: {view.note}")
    return [line for line in lines if line]


def _figures_line(view: CheckView, state: State) -> str:
    parts = []
    if len(view.figures) == 1:
        figure = view.figures[0]
        parts.append(f"drawn {value_text(figure.unit, figure.drawn, state.units)}")
        parts.append(f"built {value_text(figure.unit, figure.value, state.units)}")
        if figure.difference is not None:
            parts.append(f"apart {value_text(figure.unit, figure.difference, state.units)}")
    elif view.answer:
        for path in view.check.shows:
            drawn = scalar(view.answer_drawn, path, state.units) if view.answer_drawn else ""
            built = scalar(view.answer, path, state.units)
            parts.append(f"{label(view.answer.calculator, path)} {built}{f' (drawn {drawn})' if drawn else ''}")
    parts.append(limit_text(view, state))
    return "   ".join(part for part in parts if part)


def _who(view: CheckView) -> str:
    words = [f"{view.by}, {when(view.at)}"]
    if view.instrument:
        words.append(f"with {view.instrument}")
    for flag, word in (
        (view.late, "entered late"),
        (view.at_once, "ticked at once"),
        (view.doubted, "instrument since marked bad"),
    ):
        if flag:
            words.append(word)
    if len(view.history) > 1:
        words.append(counted(len(view.history), "entry", "entries"))
    return " · ".join(words)
