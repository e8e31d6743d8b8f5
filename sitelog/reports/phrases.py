"""What the pack and the fronts word alike: the rule of a limit, a choice, the path of a check within a text."""

from collections.abc import Iterable

from sitelog.checklist.schema.model import Check
from sitelog.job.facts.schema import JOB
from sitelog.job.state.views import FigureView, State

PATH = r"\b[a-z0-9-]+(?:\.[a-z0-9-]+){1,2}\b"  # of a check or a stage, within a text
RULE = {"within": "within", "most": "at most", "least": "at least", "over": "more than"}


def choice_label(check: Check, word: object) -> object:
    """The label of a choice; the word itself where the check offers no such choice."""
    return next((choice.label for choice in check.choices if choice.id == word), word)


def name_of(state: State, path: str) -> str:
    """What a check, a stage or a part is called, one that does not apply too; "" for none."""
    view, stage = state.check(path), state.stage(path)
    if view:
        return view.check.ask_in_full
    if stage:
        return stage.stage.title
    for part in state.parts:
        if part.id == path:
            return part.title
        for hidden in part.stages:
            ask = next((view.check.ask_in_full for view in hidden.checks if view.path == path), "")
            if ask:
                return ask
    return ""


def called(state: State, path: str) -> str:
    """What a check, a stage or a part is called, after its part where the roof has several; "" for none."""
    parts = {part.id: part.title for part in state.parts if part.id != JOB}
    name, part = name_of(state, path), parts.get(path.partition(".")[0], "")
    several = len(parts) > 1
    if several and name and part and name != part:
        return f"{part}: {name}"
    return name


def short_name(figure: FigureView) -> str:
    """What a figure is called in a narrow cell; nothing where it is the only one."""
    if figure.key == "value":
        return ""
    if 0 < len(figure.says) <= 26:
        return figure.says
    return figure.key


def joined(parts: Iterable[str], between: str = ", ") -> str:
    """The parts that are not empty, with what stands between them."""
    return between.join(part for part in parts if part)
