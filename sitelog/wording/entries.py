"""What an entry says, in one plain line: who, when by the clock on the wall, and what."""

from collections.abc import Callable, Iterator, Mapping
from typing import Any

from sitelog.job.cautions.answers import answer_words, kept_answer
from sitelog.job.log.entry import Entry, said
from sitelog.job.log.entry_index import USUAL, on_the_wall
from sitelog.job.log.parts import items
from sitelog.job.photos.photo import in_words
from sitelog.job.state.record_views import COUNTED
from sitelog.job.state.views import CheckView, State
from sitelog.quantities.quantity import show_length
from sitelog.text import text_after, text_if
from sitelog.wording.formatting import key_words, name_of, value_text


def local_time(entry: Entry) -> str:
    """The hour and minute by the clock of the device that entered it."""
    moment = on_the_wall(entry)
    if not moment:
        return "--:--"
    return f"{moment:%H:%M}"


def what(entry: Entry, state: State) -> str:
    """The act in words, with its values and its note."""
    words = _TELL.get(entry.act, _plain)(entry, state)
    if entry.note and entry.act not in ("note",):
        return f"{words}: {entry.note}"
    return words


def last_act(state: State) -> str:
    """The last act of the job in words; nothing where there is none yet."""
    if not state.last:
        return ""
    return what(state.last, state)


def answered(entry: Entry, state: State) -> str:
    """An answer without its note."""
    view = state.check(entry.path)
    told = "  ".join(filter(None, (*_values(entry.value, view, state), in_words(entry.value))))
    tool = entry.value.get("@instrument")
    name = name_of(entry.path, state)
    words = f"{name}{'' if name.endswith('?') else ':'} {told or 'done'}"
    if tool:
        return f"{words} (with {tool})"
    return words


def _values(value: Mapping[str, Any], view: CheckView | None, state: State) -> list[str]:
    units = {figure.key: figure.unit for figure in view.figures} if view else {}
    labels = {choice.id: choice.label for choice in view.check.choices} if view else {}
    told = []
    for key in filter(_is_figure, value):
        text = labels.get(str(value[key])) or _figure(units.get(key, ""), value[key], state)
        told.append(text if key == "value" else f"{key_words(key)} {text}")
    return told


def _is_figure(key: str) -> bool:
    return not key.startswith("@") and key not in ("photo", "photos")


def _figure(unit: str, worth: Any, state: State) -> str:
    """A value of an entry as it was typed; several, as a list has them, with commas."""
    return value_text(unit, tuple(worth) if isinstance(worth, list) else worth, state.units, typed=True)


def _diary(entry: Entry, state: State) -> str:
    written = (
        str(words) if key == "text" else f"{key}: {words}"
        for key, words in entry.value.items()
        if key not in ("day", "photos")
    )
    return "; ".join(filter(None, (*written, in_words(entry.value))))


def _read(entry: Entry, state: State) -> str:
    name = str(entry.value.get("id", ""))
    known = next((caution for stage in state.order for caution in stage.cautions if caution.id == name), None)
    told = answer_words(known.question if known else None, kept_answer(entry.value.get("answer")))
    return f"caution read, {known.title if known else name}: {told}"


def _drawn(entry: Entry, state: State) -> Iterator[str]:
    usual = items(entry.value.get(USUAL))
    for key, worth in entry.value.items():
        if key == USUAL:
            continue
        fact = state.facts.get(f"{entry.part}.{key}")
        by = text_if(key in usual, " (usual)")
        yield f"{key_words(key)} {_figure(fact.unit if fact else '', worth, state)}{by}"


def _plain(entry: Entry, state: State) -> str:
    return f"{entry.act} {name_of(entry.path, state)}".strip()


def _void(entry: Entry, state: State) -> str:
    where = name_of(entry.path, state)
    return f"undone: {entry.value.get('act', 'an entry')}{text_after(' on ', where)}"


def _accept(entry: Entry, state: State) -> str:
    word = "accepted" if entry.value.get("accepted") else "sent back"
    told = f"{word}, {name_of(str(entry.value.get('point', '')), state)}"
    code = entry.value.get("head")
    if code:
        return f"{told}, record code {code}"
    return told


def _on(word: str) -> Callable[[Entry, State], str]:
    return lambda entry, state: f"{word} {name_of(entry.path, state)}".strip()


def _counted(entry: Entry, state: State) -> str:
    value = entry.value
    length = value.get("length")
    long = show_length(length, state.units) if isinstance(length, (int, float)) else ""
    what = " ".join(filter(None, (str(value.get("what", "")), long, str(value.get("hand", "")))))
    more = ", ".join(f"{name} {value[name]:+d}" for name in COUNTED if isinstance(value.get(name), int))
    return f"{what}: {more}"


_TELL: Mapping[str, Callable[[Entry, State], str]] = {
    "start": lambda entry, state: f"job set up: {entry.value.get('title', '')}",
    "pin": lambda entry, state: f"checklists for this job: {', '.join(map(str, said(entry.value)))}",
    "part": lambda entry, state: f"part: {entry.value.get('title', '')} ({entry.value.get('form', '')})",
    "drawn": lambda entry, state: f"drawn: {', '.join(_drawn(entry, state))}",
    "answer": answered,
    "skip": _on("not applicable,"),
    "defer": lambda entry, state: (
        f"left till later, {name_of(entry.path, state)}, till {name_of(str(entry.value.get('until', '')), state)}"
    ),
    "snag": lambda entry, state: f"snag {entry.value.get('id', '')}: {entry.value.get('text', '')}",
    "close": lambda entry, state: f"snag {entry.value.get('id', '')} closed",
    "release": _on("carried on as it is,"),
    "sign": _on("signed,"),
    "note": lambda entry, state: (
        f"note on {name_of(entry.path, state)}: {'; '.join(filter(None, (entry.note, in_words(entry.value))))}"
    ),
    "instruct": lambda entry, state: f"instruction {entry.value.get('id', '')}: {entry.value.get('text', '')}",
    "tally": lambda entry, state: f"counted, {_counted(entry, state)}",
    "diary": _diary,
    "read": _read,
    "instrument": lambda entry, state: (
        f"tool {entry.value.get('id', '')}: {entry.value.get('kind', '')} {entry.value.get('class', '')}"
    ),
    "doubt": lambda entry, state: f"tool {entry.value.get('id', '')} marked bad",
    "handover": lambda entry, state: (
        f"pack made for {entry.value.get('to', '')}, record code {entry.value.get('head', '')}"
    ),
    "accept": _accept,
    "void": _void,
}
