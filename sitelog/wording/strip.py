"""The strip at the foot of a stage: the check under the cursor told whole, or the stage, and its cautions."""

from collections.abc import Iterator, Sequence

from sitelog.calculators.sheet import scalar
from sitelog.checklist.schema.guidance import Caution
from sitelog.job.photos.photo import in_words as photos_in_words
from sitelog.job.state.corrections import Correction, corrections
from sitelog.job.state.marks import CHECK
from sitelog.job.state.views import CheckState, CheckView, StageView, State
from sitelog.text import counted, text_after, text_between, text_if
from sitelog.wording.entries import answered, what
from sitelog.wording.flags import AT_ONCE, LATE, flags
from sitelog.wording.formatting import close_call, in_words, label, limit_text, meant_words, value_text, when
from sitelog.wording.result import tip_text

NOT_SETTLED: tuple[CheckState, ...] = ("out", "unsure", "stale", "snagged", "deferred")
AT_A_TIME = 3  # cautions that are named to be read; past that nobody reads them


def closing_ask(stage: StageView) -> str:
    """What the last row of a stage asks: its hold, or its signature."""
    if stage.stage.hold:
        return "HOLD: sign here before going on"
    return "Stage complete"


def stage_line(stage: StageView, state: State) -> str:
    """The stage in one line: how far it is, and what in it is not as it should be."""
    settled = sum(view.state in ("done", "released", "not applicable") for view in stage.shown)
    words = [f"{settled} of {len(stage.shown)} done"]
    words += [f"{count} {word}" for count, word in _not_right(stage.shown) if count]
    if state.releases:
        words.append(f"{len(state.releases)} carried on as is (whole job)")
    if stage.stage.hold and stage.state not in ("signed", "released"):
        words.append("HOLD: sign before going on")
    return f"{state.order.index(stage) + 1} {stage.stage.title}   {' · '.join(words)}"


def _not_right(views: Sequence[CheckView]) -> Iterator[tuple[int, str]]:
    """How many checks are not as they should be, with the word for it, kind by kind."""
    yield from ((sum(view.state == name for view in views), CHECK[name].word) for name in NOT_SETTLED)
    yield sum(bool(view.rivals) for view in views), "with two different answers"
    yield sum(view.doubted for view in views), "measured with a bad tool"


def stage_lines(stage: StageView, state: State, unread: str = "") -> list[str]:
    """The strip while the cursor stands on the stage's closing row."""
    why = text_after("Why: ", stage.stage.why)
    asked = asked_lines(stage.part, state) if any(view.check.finishes for view in stage.checks) else []
    lines = [stage.stage.title, unread, in_words(stage.blocked, state), why, *asked]
    if stage.by:
        reason = text_after(": ", stage.reason)
        lines.append(f"{stage.state.capitalize()} by {stage.by}, {when(stage.at)}{reason}")
    return [line for line in lines if line]


def asked_lines(part: str, state: State) -> list[str]:
    """What the finishes of other parts ask of this one, a line for each finish."""
    found: dict[str, list[str]] = {}
    for title, asked in state.asked_of(part):
        found.setdefault(f"Needed by {title} ({asked.finish})", []).append(asked.ask.says)
    return [f"{by}: {'; '.join(says)}" for by, says in found.items()]


def unread_line(due: Sequence[Caution]) -> str:
    """What is to be read, three at a time: the next stand here as these are answered."""
    if not due:
        return ""
    return f"! Cautions to read (o): {first_titles(due)}"


def first_titles(cautions: Sequence[Caution]) -> str:
    """The first three of the cautions, and how many more there are."""
    more = text_if(len(cautions) > AT_A_TIME, f", then {len(cautions) - AT_A_TIME} more")
    return f"{'; '.join(caution.title for caution in cautions[:AT_A_TIME])}{more}"


def read_line(stage: StageView, due: Sequence[Caution]) -> str:
    """The cautions of the stage that have been read; "" if none."""
    read = [caution.title for caution in stage.cautions if caution not in due]
    if not read:
        return ""
    return f"Cautions read: {'; '.join(read)}"


def strip_lines(view: CheckView, state: State, unread: str = "") -> list[str]:
    """The strip while the cursor stands on a check. What matters most comes first: a small screen cuts off the end."""
    anew = corrections(view)
    lines = (
        _figures_line(view, state),
        unread,
        *_against(view, state),
        _who(view) if view.by else "",
        _corrected(anew, state),
        *(asked_lines(view.part, state) if view.check.finishes else []),
        text_after("Why: ", view.check.why),
        tip_text(view.check),
        _note(view, anew),
        _photos(view),
    )
    return [line for line in lines if line]


def _against(view: CheckView, state: State) -> list[str]:
    """What keeps the check from being good, or makes it doubtful; "" for what does not."""
    return [
        in_words(view.refusal, state),
        *(close_call(figure, state.units) for figure in view.figures),
        _unjudged(view),
        _stale(view, state),
        _bad(view, state),
        in_words(view.blocked, state),
        *(f"Snag {snag.id}, open: {snag.text}" for snag in state.open_snags if snag.path == view.path),
        *(f"{rival.by} answered differently: {what(rival, state)}" for rival in view.rivals),
    ]


def _note(view: CheckView, anew: Sequence[Correction]) -> str:
    """The note on the check, where it is not the reason of a correction, which has a line of its own."""
    is_reason = bool(anew) and view.note == anew[-1].now.note
    return text_if(view.note and not is_reason, f"Note: {view.note}")


def _unjudged(view: CheckView) -> str:
    """Why a sum that was accepted is not good by its own rule, and the keys that lead on."""
    if view.check.kind != "calculate" or view.state not in ("out", "unsure") or not view.answer:
        return ""
    why = "".join(f"{note[:1].upper()}{note[1:]}. " for note in view.answer.notes)
    return f"{why}Press f to change a figure it uses, s to snag it, or r to carry on as it is"


def _corrected(found: Sequence[Correction], state: State) -> str:
    """What the answer in force took the place of, and why."""
    if not found:
        return ""
    last, before = found[-1], len(found) - 1
    more = text_if(before, f" ({counted(before, 'correction', 'corrections')} before that)")
    return f"Changed: {last.reason}{more}. Was {answered(last.was, state)}, by {last.was.by}"


def _photos(view: CheckView) -> str:
    """The photos of the check, of its answer and of the notes on it."""
    told = dict.fromkeys(filter(None, (photos_in_words(entry.value) for entry in view.history)))
    words = "; ".join(told)
    return f"{words[:1].upper()}{words[1:]}"


def _stale(view: CheckView, state: State) -> str:
    known = (state.facts.get(name) or state.facts.get(f"{view.part}.{name}") for name in view.stale_because)
    says = [fact.says if fact else name for fact, name in zip(known, view.stale_because, strict=True)]
    if not says:
        return ""
    return f"Out of date, do it again. What changed: {'; '.join(says)}"


def _bad(view: CheckView, state: State) -> str:
    if not view.doubted:
        return ""
    tool = state.instruments[view.instrument]
    return f"Measured with {tool.id}, later marked bad by {tool.by}: {tool.why}"


def _figures_line(view: CheckView, state: State) -> str:
    parts = []
    if len(view.figures) == 1:
        figure = view.figures[0]
        parts.append(meant_words(figure, state.units))
        parts.append(f"built {value_text(figure.unit, figure.value, state.units, typed=True)}")
        if figure.difference is not None:
            parts.append(f"difference {value_text(figure.unit, figure.difference, state.units)}")
    elif view.answer:
        for path in view.check.shows:
            drawn = ""
            if view.answer_drawn:
                drawn = scalar(view.answer_drawn, path, state.units)
            built = scalar(view.answer, path, state.units)
            parts.append(f"{label(view.answer.calculator, path)} {built}{text_between(' (drawn ', drawn, ')')}")
    parts.append(limit_text(view, state))
    return "   ".join(part for part in parts if part)


def _who(view: CheckView) -> str:
    words = [f"{view.by}, {when(view.at)}"]
    if view.instrument:
        words.append(f"with {view.instrument}")
    # Of the others the strip has a line of its own.
    words += [flag.words for flag in flags(view) if flag in (AT_ONCE, LATE)]
    if len(view.history) > 1:
        words.append(counted(len(view.history), "entry", "entries"))
    return " · ".join(words)
