"""An answer to a check: what was typed is read in its kind and proved, and kept with the evidence it rests on.

Beside its evidence (see evidence.py) it keeps "@instrument", what it was read with, and "@was", the ids of the
answers that it replaces. One that corrects an answer keeps the reason as its note.
"""

from collections.abc import Mapping, Sequence
from typing import Any

from sitelog.checklist.model import Figure, Library, Stage
from sitelog.checklist.usual import of_figure
from sitelog.job.corrections import ReasonWanted, wants_reason
from sitelog.job.entry import Draft, Entry
from sitelog.job.facts import Book
from sitelog.job.given import in_force, settings, with_answer
from sitelog.job.photo import Photo, kept
from sitelog.job.plain import to_plain
from sitelog.job.sight import Eye, Sight
from sitelog.job.views import CheckView, State
from sitelog.job.words import check_at, event_time, free, nearest, on, one_of, said
from sitelog.quantity import read
from sitelog.refusal import Refusal
from sitelog.rounding import as_typed
from sitelog.slips import question
from sitelog.text import clean
from sitelog.trade.catalogue import LIMITS, Value

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
    done: str = "",
    photos: Sequence[Photo] = (),
) -> Draft:
    """The check at `path` answered with what was typed, by key: `value` where there is one thing to say.

    A tick and a sum to accept take nothing. `note` is the reason where it corrects an answer. `photos` are kept
    before this is entered (photos.py); `photo` is the name of one that is not. `done` is when it happened, ISO with its
    offset, if not now.
    Refusal: a check that is barred or does not apply, a figure that is missing, unknown, unreadable or impossible.
    ReasonWanted: a correction without a reason, once nothing else bars it.
    """
    view = free(state, check_at(state, path))
    if view.blocked:
        raise Refusal(f"{path} waits: {view.blocked}")
    stage = next(s.stage for s in state.order if s.path == f"{view.part}.{view.stage}")
    values = _ANSWERS[view.check.kind](view, texts, kept(photos))
    for figure in view.check.figures:
        _no_slip(state, library, view, figure, texts.get(figure.key, ""))
    tool = _instrument(state, instrument)
    if tool:
        values["@instrument"] = tool
    standing = in_force(view.history)
    if standing is not None:
        values["@was"] = [standing.id, *(rival.id for rival in view.rivals)]
    sight = _proved(state, library, stage, view, values, state.instruments[tool].grade if tool else None)
    if standing is not None and not any(map(str.isalnum, clean(note))) and wants_reason(view, standing, values):
        raise ReasonWanted(f"{path} was answered by {standing.by}: say in a note why it is answered anew")
    part, check = on(path)
    return Draft(
        act="answer",
        part=part,
        check=check,
        value=values | dict(sight.evidence),
        note=clean(note, lines=True),
        done=event_time(done),
    )


def seen(
    state: State, library: Library, stage: Stage, view: CheckView, values: Mapping[str, Any], grade: str | None
) -> Sight:
    """The check as it will stand once this answer is in."""
    entry = Entry(
        id=LAST, at="", offset=0, by="", device="", seq=0, prev="", act="answer",
        part=view.part, check=f"{view.stage}.{view.check.id}", value=dict(values),
    )  # fmt: skip
    given = with_answer(state.given, settings(library, view.check, entry), view.path)
    book = Book(library, {part.id: part.form for part in state.parts}, given)
    return Eye(book, view.part, stage, view.check, values, grade).see()


def _proved(
    state: State, library: Library, stage: Stage, view: CheckView, values: Mapping[str, Any], grade: str | None
) -> Sight:
    """The same. Refusal if its sum can't be worked from these figures."""
    sight = seen(state, library, stage, view, values, grade)
    if view.check.kind == "calculate" and sight.answer is None:
        raise Refusal(f"{view.path} can't be accepted yet: {sight.refusal or 'its sum is not worked'}")
    if sight.refusal and view.check.calculator and not sight.wanted:
        raise Refusal(f"{view.path}: {sight.refusal}")
    return sight


def _instrument(state: State, name: str) -> str:
    if not name.strip():
        return ""
    tool = state.instruments[one_of(name.strip(), state.instruments, "instrument")]
    if tool.doubted:
        raise Refusal(f"{tool.id} is marked bad: measure with another {tool.kind or 'instrument'}")
    return tool.id


# --- each kind of check ---


def _measure(view: CheckView, texts: Mapping[str, str], photos: Photos) -> dict[str, Any]:
    """Every figure read in its kind. A bare yes is no measurement."""
    figures = {figure.key: figure for figure in view.check.figures}
    _known(view, texts, figures)
    missing = [f for key, f in figures.items() if not f.optional and not texts.get(key, "").strip()]
    if missing:
        wanted = ", ".join(f"{f.key} ({f.says})" if f.says else f.key for f in missing)
        raise Refusal(f"{view.path} is measured: it wants {wanted}")
    values = {key: to_plain(_value(f, texts[key])) for key, f in figures.items() if texts.get(key, "").strip()}
    return values | _photo(texts, photos)


def figure_value(state: State, library: Library, view: CheckView, figure: Figure, text: str) -> Value:
    """What was typed for a figure, in its kind. Refusal if it can't be read or can't be, Slip if it is likely one."""
    value = _value(figure, text)
    _no_slip(state, library, view, figure, text)
    return value


def _no_slip(state: State, library: Library, view: CheckView, figure: Figure, text: str) -> None:
    if text.strip():
        form = next(part.form for part in state.parts if part.id == view.part)
        question(figure.kind, text, of_figure(library, form, view.check, figure), name=figure.says or figure.key)


def _value(figure: Figure, text: str) -> Value:
    name = figure.says or figure.key
    value = read(figure.kind, text, name=name)
    low, high = LIMITS.get(figure.kind, (float("-inf"), float("inf")))
    for size in value if isinstance(value, tuple) else (value,):
        if isinstance(size, (int, float)) and not low <= size <= high:
            raise Refusal(f"{name} is {as_typed(size)}; it must be from {as_typed(low)} to {as_typed(high)}")
    return value


def _tick(view: CheckView, texts: Mapping[str, str], photos: Photos) -> dict[str, Any]:
    _known(view, texts, ())
    if view.state == "done":
        raise Refusal(f"{view.path} is ticked already, by {view.by}; undo takes a tick back")
    found = _photo(texts, photos)
    if view.check.photo and not found:
        raise Refusal(f"{view.path} wants a photo: give photo=FILE")
    return found


def _choice(view: CheckView, texts: Mapping[str, str], photos: Photos) -> dict[str, Any]:
    _known(view, texts, ("value",))
    choices = [choice.id for choice in view.check.choices]
    word = texts.get("value", "").strip()
    if not word:
        raise Refusal(f"{view.path} wants a choice: {', '.join(choices)}")
    return {"value": one_of(word, choices, f"{view.path}:")} | _photo(texts, photos)


def _note(view: CheckView, texts: Mapping[str, str], photos: Photos) -> dict[str, Any]:
    _known(view, texts, ("value",))
    return {"value": said(texts.get("value", ""), f"{view.path} wants words", lines=True)} | _photo(texts, photos)


def _photo_check(view: CheckView, texts: Mapping[str, str], photos: Photos) -> dict[str, Any]:
    _known(view, texts, ("value",))
    name = texts.get("photo", "") or texts.get("value", "")
    if photos and not name.strip():
        return dict(photos)
    return {"photo": said(name, f"{view.path} wants a photo")} | dict(photos)


def _calculate(view: CheckView, texts: Mapping[str, str], photos: Photos) -> dict[str, Any]:
    _known(view, texts, ())
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


def _known(view: CheckView, texts: Mapping[str, str], keys: Any) -> None:
    known = [*keys, "photo"]
    for key in texts:
        if key not in known:
            said_of = f"{view.path} is a {view.check.kind} and takes no {clean(key, most=40)!r}"
            raise Refusal(f"{said_of}; {nearest(key, keys)}" if keys else f"{said_of}; it takes none")


def _photo(texts: Mapping[str, str], photos: Photos) -> dict[str, Any]:
    name = clean(texts.get("photo", ""))
    return ({"photo": name} if name else {}) | dict(photos)
