"""An answer to a check: what was typed is read in its kind and proved, and kept with the evidence it rests on.

Beside its evidence (see evidence.py) it keeps "@instrument", what it was read with, and "@was", the ids of the
answers that it replaces. One that corrects an answer keeps the reason as its note.
"""

import re
from collections.abc import Mapping, Sequence
from typing import Any

from msgspec.structs import replace

from sitelog.calculators.catalogue import LIMITS, Value
from sitelog.checklist.schema.model import Figure, Library
from sitelog.checklist.schema.usual import of_figure
from sitelog.job.actions.made_up import made_up, one_made_up
from sitelog.job.actions.naming import check_at, event_time, free, nearest, on, one_of, said
from sitelog.job.facts.facts import FactResolver
from sitelog.job.facts.given import in_force, settings, with_answer
from sitelog.job.log.entry import Draft, Entry
from sitelog.job.log.values import to_plain
from sitelog.job.photos.photo import Photo, kept, noted
from sitelog.job.state.corrections import ReasonWanted, wants_reason
from sitelog.job.state.evaluation import CheckEvaluator, Evaluation
from sitelog.job.state.record_views import Instrument, grade_of
from sitelog.job.state.views import CheckView, State
from sitelog.quantities.quantity import read
from sitelog.quantities.rounding import as_typed
from sitelog.quantities.slips import question
from sitelog.refusal import PROBLEM, Refusal
from sitelog.text import clean, text_between

Photos = Mapping[str, Any]  # as `kept` gives them

LAST = "~"  # sorts after every entry's id


def answer(
    state: State,
    library: Library,
    path: str,
    texts: Mapping[str, str],
    *,
    note: str = "",
    instrument: str = "",
    photos: Sequence[Photo] = (),
) -> Draft:
    """The check at `path` answered with what was typed, by key: `value` where there is one thing to say.

    A tick and a sum to accept take nothing. `note` is the reason where it corrects an answer. `photos` are kept
    before this is entered (photos.py); `photo` is the name of one that is not. See `done_at` for one of earlier.
    Refusal: a check that is barred or does not apply, a figure that is missing, unknown, unreadable or impossible.
    ReasonWanted: a correction without a reason, once nothing else bars it.
    """
    view = free(state, check_at(state, path))
    if view.blocked:
        raise Refusal(f"{path} can't be done yet. {view.blocked}", code=PROBLEM)
    values = _ANSWERS[view.check.kind](view, texts, kept(photos))
    for figure in view.check.figures:
        _no_slip(state, library, view, figure, texts.get(figure.key, ""))
    tool = _instrument(state, instrument)
    if tool:
        values["@instrument"] = tool.id
    standing = in_force(view.history)
    if standing is not None:
        values["@was"] = [standing.id, *(rival.id for rival in view.rivals)]
    evaluation = _proved(state, library, view, values, grade_of(tool))
    if standing is not None and not _says_why(note) and wants_reason(view, standing, values):
        raise ReasonWanted(f"{path} was answered by {standing.by}: add a reason for changing it")
    part, check = on(path)
    return Draft(
        act="answer",
        part=part,
        check=check,
        value=values | dict(evaluation.evidence),
        note=clean(note, lines=True),
    )


def done_at(draft: Draft, done: str) -> Draft:
    """The same, of what happened then: ISO with its offset, or "" for now. Refusal if that is no time."""
    return replace(draft, done=event_time(done))


def _says_why(note: str) -> bool:
    return any(map(str.isalnum, clean(note)))


def seen(state: State, library: Library, view: CheckView, values: Mapping[str, Any], grade: str | None) -> Evaluation:
    """The check as it will stand once this answer is in; `grade` is the class of the tape, "" for another tool."""
    stage = next(stage.stage for stage in state.order if stage.path == f"{view.part}.{view.stage}")
    entry = Entry(
        id=LAST, at="", offset=0, by="", device="", seq=0, prev="", act="answer",
        part=view.part, check=f"{view.stage}.{view.check.id}", value=dict(values),
    )  # fmt: skip
    given = with_answer(state.given, settings(library, view.check, entry), view.path)
    resolver = FactResolver(state.with_own(library), state.forms, given)
    return CheckEvaluator(resolver, view.part, stage, view.check, values, grade).see()


def _proved(
    state: State, library: Library, view: CheckView, values: Mapping[str, Any], grade: str | None
) -> Evaluation:
    """The same. Refusal if its sum can't be worked from these figures."""
    evaluation = seen(state, library, view, values, grade)
    if view.check.kind == "calculate" and evaluation.answer is None:
        raise Refusal(f"{view.path} can't be signed off yet: {evaluation.refusal or 'it has not been worked out'}")
    if evaluation.refusal and view.check.calculator and not evaluation.wanted:
        raise Refusal(f"{view.path}: {evaluation.refusal}")
    return evaluation


def _instrument(state: State, name: str) -> Instrument | None:
    """The tool of that name; None where none is named. Refusal of one that is not known, or marked bad."""
    if not name.strip():
        return None
    tool = state.instruments[one_of(name.strip(), state.instruments, "tool")]
    if tool.doubted:
        raise Refusal(f"{tool.id} is marked bad. Measure again with another {tool.kind or 'tool'}")
    return tool


# --- each kind of check ---


def _measure(view: CheckView, texts: Mapping[str, str], photos: Photos) -> dict[str, Any]:
    """Every figure read in its kind. A bare yes is no measurement."""
    _figures_named(view, texts)
    typed = {figure.key for figure in view.check.figures if texts.get(figure.key, "").strip()}
    missing = [figure for figure in view.check.figures if not figure.optional and figure.key not in typed]
    if missing:
        wanted = ", ".join(f"{figure.key}{_in_brackets(figure.says)}" for figure in missing)
        raise Refusal(f"{view.path} still needs {wanted}: type {_examples(view, missing)}")
    figures = [figure for figure in view.check.figures if figure.key in typed]
    values = {figure.key: to_plain(_value(view, figure, texts[figure.key])) for figure in figures}
    return values | _photo(texts, photos)


def _in_brackets(says: str) -> str:
    return text_between(" (", says, ")")


def _examples(view: CheckView, figures: Sequence[Figure]) -> str:
    """Each figure as it is typed, made up: "head=500 foot=500"."""
    return " ".join(f"{figure.key}={one_made_up(view, figure)}" for figure in figures)


def figure_value(state: State, library: Library, view: CheckView, figure: Figure, text: str) -> Value:
    """What was typed for a figure, in its kind. Refusal if it can't be read or can't be, Slip if it is likely one."""
    value = _value(view, figure, text)
    _no_slip(state, library, view, figure, text)
    return value


def _no_slip(state: State, library: Library, view: CheckView, figure: Figure, text: str) -> None:
    if text.strip():
        form = state.forms[view.part]
        question(
            figure.kind,
            text,
            of_figure(state.with_own(library), form, view.check, figure),
            name=figure.says or figure.key,
        )


def _value(view: CheckView, figure: Figure, text: str) -> Value:
    name = figure.says or figure.key
    value = read(figure.kind, text, name=name, like=lambda: made_up(view, figure))
    low, high = LIMITS.get(figure.kind, (float("-inf"), float("inf")))
    for size in value if isinstance(value, tuple) else (value,):
        if isinstance(size, (int, float)) and not low <= size <= high:
            raise Refusal(f"{name} is {as_typed(size)}; it must be {as_typed(low)} to {as_typed(high)}")
    return value


def _tick(view: CheckView, texts: Mapping[str, str], photos: Photos) -> dict[str, Any]:
    _nothing_typed(texts, "It is a tick")
    if view.state == "done":
        raise Refusal(f"{view.path} was already ticked by {view.by}. Undo takes a tick off")
    found = _photo(texts, photos)
    if view.check.photo and not found:
        raise Refusal(f"{view.path} needs a photo: add photo=FILE")
    return found


def _choice(view: CheckView, texts: Mapping[str, str], photos: Photos) -> dict[str, Any]:
    _known(view, texts, ("value",))
    choices = [choice.id for choice in view.check.choices]
    word = texts.get("value", "").strip()
    if not word:
        raise Refusal(f"{view.path} needs one of: {', '.join(choices)}")
    return {"value": one_of(word, choices, f"{view.path}:")} | _photo(texts, photos)


def _note(view: CheckView, texts: Mapping[str, str], photos: Photos) -> dict[str, Any]:
    _known(view, texts, ("value",))
    return {"value": said(texts.get("value", ""), f"{view.path} needs a few words", lines=True)} | _photo(texts, photos)


def _photo_check(view: CheckView, texts: Mapping[str, str], photos: Photos) -> dict[str, Any]:
    _known(view, texts, ("value",))
    name = texts.get("photo", "") or texts.get("value", "")
    if photos and not name.strip():
        return dict(photos)
    wanted = f"{view.path} needs a photo: type its file, or its number on the camera"
    return {"photo": said(name, wanted), **photos}


def _calculate(view: CheckView, texts: Mapping[str, str], photos: Photos) -> dict[str, Any]:
    _nothing_typed(texts, "There is nothing to type here")
    return _photo(texts, photos)


def _sign(view: CheckView, texts: Mapping[str, str], photos: Photos) -> dict[str, Any]:
    _known(view, texts, ("value",))
    word = clean(texts.get("value", ""))
    return ({"value": word} if word else {}) | _photo(texts, photos)


_ANSWERS = {
    "measure": _measure,
    "tick": _tick,
    "choice": _choice,
    "note": _note,
    "photo": _photo_check,
    "calculate": _calculate,
    "sign": _sign,
}


def _known(view: CheckView, texts: Mapping[str, str], keys: Sequence[str]) -> None:
    for key in texts:
        if key not in (*keys, "photo"):
            raise Refusal(f"{view.path}: type the answer alone, without {clean(key, most=40)}=")


def _nothing_typed(texts: Mapping[str, str], what: str) -> None:
    for key, text in texts.items():
        if key != "photo":
            typed = text if key == "value" else f"{key}={text}"
            raise Refusal(f"{what}: run it again without {clean(typed, most=40)!r}")


def _figures_named(view: CheckView, texts: Mapping[str, str]) -> None:
    """Refusal of a figure that the check doesn't ask for, or of one without its name where it has several."""
    figures = view.check.figures
    keys = [figure.key for figure in figures]
    for key, text in texts.items():
        if key in (*keys, "photo"):
            continue
        if key != "value":
            raise Refusal(f"{view.path} doesn't have a figure called {clean(key, most=40)!r}; {nearest(key, keys)}")
        raise Refusal(named_figures(view, [text]))


def named_figures(view: CheckView, typed: Sequence[str]) -> str:
    """What to type for figures that came without their names: the names, with what was typed where it fits them."""
    figures = [figure for figure in view.check.figures if not figure.optional] or [*view.check.figures]
    if len(figures) == 1:
        return _named_figure(view, figures[0], typed)
    if len(typed) == len(figures):
        pairs = zip(figures, typed, strict=True)
        return f"Name each figure: {' '.join(f'{figure.key}={clean(text, most=20)}' for figure, text in pairs)}"
    return f"This check needs {len(figures)} figures, each with its name: {_examples(view, figures)}"


def _named_figure(view: CheckView, figure: Figure, typed: Sequence[str]) -> str:
    said = _in_brackets(figure.says)
    if figure.key == "value":
        return f"This check needs one figure{said}: type {one_made_up(view, figure)}"
    together = ",".join(" ".join(typed).replace(",", " ").split())
    shown = f"{together[:40]}..." if len(together) > 40 else together
    if not re.fullmatch("[-+0-9.,]+", together):
        shown = one_made_up(view, figure)
    return f"Name the figures: {figure.key}={shown}{said}"


def _photo(texts: Mapping[str, str], photos: Photos) -> dict[str, Any]:
    name = clean(texts.get("photo", ""))
    return noted(name) | dict(photos)
