"""The answer to a caution: read from what a person typed, told in words, and whether it stops the work."""

import re
from collections.abc import Iterable, Sequence

from sitelog.checklist.schema.guidance import Gauge, Question
from sitelog.job.actions.naming import IDLE, one_of, said
from sitelog.quantities.quantity import read
from sitelog.quantities.rounding import as_typed
from sitelog.refusal import Refusal

Answered = float | str | tuple[float, ...] | None  # several numbers where the question asks for several

_MONTHS = {"january", "february", "march", "april", "may", "june",
           "july", "august", "september", "october", "november", "december"}  # fmt: skip
_DAYS = {"monday", "tuesday", "wednesday", "thursday", "friday", "saturday", "sunday"}
_TIMES = {*_MONTHS, *_DAYS, *(name[:3] for name in _MONTHS | _DAYS), "sept", "today", "tomorrow", "now", "later",
          "morning", "afternoon", "am", "pm"}  # fmt: skip
_BETWEEN = {"a", "in", "on", "at", "the", "of", "this", "next", "last", "not", "please"}


def answer_of(question: Question, text: str) -> float | str | tuple[float, ...]:
    """What a person typed, as it is kept. Refusal of what is no answer: a bare yes, or a month where a place is."""
    if not text.strip():
        raise Refusal(f"{_asked(question)} nothing typed. {to_say(question)}")
    if question.readings:
        return _several(question, text)
    if question.kind == "number":
        return _number(question, text)
    if question.kind == "choice":
        return one_of(text.strip(), question.choices, _asked(question))
    return _words(question, text)


def _words(question: Question, text: str) -> str:
    words = said(text, f"{_asked(question)} nothing typed. {to_say(question)}")
    if _same(words) in map(_same, question.stop_on):
        return words
    # May and April are people, too: a month is refused only where a place is asked for.
    idle = IDLE | _BETWEEN | (_TIMES if question.kind == "place" else set())
    empty = all(word in idle or word.isdecimal() for word in re.findall(r"\w+", words.casefold()))
    if empty or len({letter for letter in words.casefold() if letter.isalnum()}) < 2:
        raise Refusal(f"{_asked(question)} {words!r} isn't a {question.kind}. {to_say(question)}")
    return words


def _asked(question: Question) -> str:
    if question.ask.endswith("?"):
        return question.ask
    return f"{question.ask}:"


def to_say(question: Question) -> str:
    """What would be an answer, with an example."""
    if question.readings:
        return f"Type {len(question.readings)} numbers, {in_turn(question)}, such as 12 18"
    if question.kind == "choice":
        return f"Type one of: {', '.join(question.choices)}"
    return {
        "number": "Type the reading, such as 12",
        "name": "Say who, for example: M. Reed",
        "place": "Say where it is, for example: north gable, boarded",
    }[question.kind]


def example(question: Question) -> str:
    """An answer as it would be typed on the command line."""
    if question.readings:
        return f'"{" ".join(["12", "18", "0"][: len(question.readings)])}"'
    examples = {"number": "12", "name": '"M. Reed"', "place": '"north gable, boarded"'}
    return examples.get(question.kind) or question.choices[0]


def _same(words: str) -> str:
    return words.casefold().strip(" .!")


def in_turn(question: Question) -> str:
    """The readings of a question that asks several, in the order to give them: "mean, then gust"."""
    return ", then ".join(gauge.key.replace("_", " ") for gauge in question.readings)


def _several(question: Question, text: str) -> tuple[float, ...]:
    """The numbers in turn; their names, their units and a word between may stand with them: "12 gusting 18 mph"."""
    gauges = question.readings
    units = {word for gauge in gauges for word in gauge.unit.casefold().split()}
    may_stand_between = {*units, "and"}
    found: list[float] = []
    for word in re.split(r"[\s,;:/=]+", text.casefold().strip(" .,;")):
        bare = _without_unit(word, units)
        if any(map(str.isdecimal, bare)):
            found.append(_number(question, bare))
        elif word not in may_stand_between and not _names_next(gauges, len(found), word):
            raise Refusal(f"{_asked(question)} {to_say(question)}")
    if len(found) != len(gauges):
        raise Refusal(f"{_asked(question)} {to_say(question)}")
    _refuse_less_than_least(question, found)
    return tuple(found)


def _number(question: Question, text: str) -> float:
    value = read("number", text, name=question.ask)
    assert isinstance(value, (int, float))
    return value


def _without_unit(word: str, units: Iterable[str]) -> str:
    """The figure of "12mph"; a word that starts with no figure as it is."""
    if not word[:1].isdecimal():
        return word
    return next((word.removesuffix(unit) for unit in units if word.endswith(unit)), word)


def _refuse_less_than_least(question: Question, found: Sequence[float]) -> None:
    """Refusal where one is less than another that it can't be less than, as a gust than the mean."""
    values = dict(zip((gauge.key for gauge in question.readings), found, strict=True))
    for gauge in question.readings:
        if gauge.least and values[gauge.key] < values[gauge.least]:
            less = f"{gauge.key} {as_typed(values[gauge.key])} is less than {gauge.least}"
            raise Refusal(f"{_asked(question)} {less} {as_typed(values[gauge.least])}. Type {in_turn(question)}")


def _names_next(gauges: Sequence[Gauge], place: int, word: str) -> bool:
    """True for the name of the number that comes next, or a form of it: gusts, gusting."""
    return place < len(gauges) and word.startswith(gauges[place].key.partition("_")[0])


def kept_answer(kept: object) -> Answered:
    """An answer as an entry keeps it; None for what is none."""
    if isinstance(kept, (int, float, str)):
        return kept
    if isinstance(kept, list) and all(isinstance(value, (int, float)) for value in kept):
        return tuple(map(float, kept))
    return None


def stops(question: Question, answer: Answered) -> bool:
    """True when the answer to a caution is one that stops the work."""
    if isinstance(answer, str):
        in_own_words = question.kind != "choice" and _same(answer) in map(_same, question.stop_on)
        return answer in question.stop_on or in_own_words
    return any(_stops(gauge, value) for gauge, value in _paired(question, answer))


def _paired(question: Question, answer: Answered) -> list[tuple[Gauge, float]]:
    """Each number with what it was asked for. A lone one of a time when only one was asked may have been any."""
    if answer is None or isinstance(answer, str):
        return []
    if not isinstance(answer, tuple):
        return [(gauge, answer) for gauge in question.gauges]
    return list(zip(question.gauges, answer, strict=False))


def _stops(gauge: Gauge, value: float) -> bool:
    over = gauge.stop_from is not None and value >= gauge.stop_from
    return over or (gauge.stop_under is not None and value < gauge.stop_under)


def answer_words(question: Question | None, answer: Answered) -> str:
    """The answer as it is told: "12 mph", "mean 12 mph, gust 18 mph", or its own words."""
    if answer is None or isinstance(answer, str):
        return answer or ""
    gauges = question.gauges if question else ()
    if not isinstance(answer, tuple):
        return f"{as_typed(answer)} {question.unit if question else ''}".strip()
    if len(gauges) != len(answer):
        return ", ".join(map(as_typed, answer))
    told = [
        f"{gauge.key.replace('_', ' ')} {as_typed(value)} {gauge.unit}"
        for gauge, value in zip(gauges, answer, strict=True)
    ]
    return ", ".join(map(str.strip, told))
