"""What people gave for facts: design figures, and what the answers in force set."""

from collections import defaultdict
from collections.abc import Iterable, Iterator, Mapping, Sequence
from typing import Any

from sitelog.calculators import index
from sitelog.checklist.schema.guidance import Finish
from sitelog.checklist.schema.model import Check, Library
from sitelog.job.facts.fact import Inputs, Setting, Whence
from sitelog.job.facts.schema import checks_of
from sitelog.job.facts.sums import result, work
from sitelog.job.log.entry import Entry
from sitelog.job.log.entry_index import DECIDES, EntryIndex
from sitelog.job.log.parts import mapping
from sitelog.job.log.values import from_plain

Set = tuple[tuple[str, str], Setting]  # (part, fact) and what it is set to


def decided(entries: Sequence[Entry]) -> Entry | None:
    """The entry that says how a check stands: its last answer, skip, deferral or release."""
    return next((entry for entry in reversed(entries) if entry.act in DECIDES), None)


def in_force(entries: Sequence[Entry]) -> Entry | None:
    """The answer that counts: the last one, unless the check was set aside as not applicable since."""
    for entry in reversed(entries):
        if entry.act == "answer":
            return entry
        if entry.act == "skip":
            return None
    return None


def given(library: Library, forms: Mapping[str, str], entry_index: EntryIndex, before: Inputs | None = None) -> Inputs:
    """All that was given, by every answer in force. What a sum gave `before`, by the same library, stands."""
    worked = _by_answer(before)
    found: defaultdict[tuple[str, str], list[Setting]] = defaultdict(list)
    chosen: dict[str, str] = {}
    for path, check, answer in _answered(library, forms, entry_index):
        if check.finishes and answer.value.get("value") in library.finishes:
            chosen[path] = answer.value["value"]
        for key, setting in _sets(library, check, answer, worked):
            found[key].append(setting)
    drawn = {(part, name): raw for part, facts in entry_index.drawn.items() for name, raw in facts.items()}
    usual = frozenset((part, name) for part, names in entry_index.usual.items() for name in names)
    return Inputs(drawn, {key: tuple(rows) for key, rows in found.items()}, chosen, usual)


def _sets(
    library: Library, check: Check, answer: Entry, worked: Mapping[tuple[str, str], Sequence[Set]]
) -> Iterable[Set]:
    """What the answer sets, as it was worked before where a sum gives it."""
    known = worked.get((answer.path, answer.id)) if check.gives else None
    return known or settings(library, check, answer)


def _by_answer(before: Inputs | None) -> Mapping[tuple[str, str], Sequence[Set]]:
    """What each answer set, by the path of its check and its id."""
    found: defaultdict[tuple[str, str], list[Set]] = defaultdict(list)
    if before is None:
        return found
    for key, rows in before.set.items():
        for setting in rows:
            found[setting.path, setting.id].append((key, setting))
    return found


def _answered(
    library: Library, forms: Mapping[str, str], entry_index: EntryIndex
) -> Iterator[tuple[str, Check, Entry]]:
    """Each check with an answer in force, by its path."""
    for part, form in forms.items():
        for path, _, check in checks_of(library, part, form):
            answer = in_force(entry_index.on(path))
            if answer is not None:
                yield path, check, answer


def with_answer(given: Inputs, sets: Iterable[Set], path: str) -> Inputs:
    """What would be given if the check at that path set these instead of what it sets now."""
    found = {key: tuple(setting for setting in rows if setting.path != path) for key, rows in given.set.items()}
    for key, setting in sets:
        found[key] = (*found.get(key, ()), setting)
    return Inputs(given.drawn, found, given.chosen, given.usual)


def named(words: Any) -> str:
    """Who or what is named in these words; "" where they name nobody, as a dash does."""
    if isinstance(words, str) and any(map(str.isalnum, words)):
        return words
    return ""


def settings(library: Library, check: Check, entry: Entry) -> Iterator[Set]:
    """What an answer sets: its figures, what its sum gives, its choice or words, and what a chosen finish brings."""
    yield from _figures(check, entry)
    yield from _worked(check, entry)
    word = entry.value.get("value")
    if not isinstance(word, str) or check.kind not in ("choice", "note"):
        return
    if check.sets:
        yield (entry.part, check.sets), Setting(entry.path, entry.id, word, entry.at, measured=False)
    if check.finishes and word in library.finishes:
        yield from _brought(library, library.finishes[word], entry)


def _figures(check: Check, entry: Entry) -> Iterator[Set]:
    """The figures that were read, each with whoever agreed it."""
    for figure in check.figures:
        if not figure.sets:
            continue
        read = from_plain(figure.kind, entry.value.get(figure.key))
        if read is None:
            continue
        unless = figure.limit.unless if figure.limit else ""
        who = named(entry.value.get(figure.agreed_by or unless))
        agreed = bool(who) or not figure.agreed_by
        setting = Setting(entry.path, entry.id, read, entry.at, measured=True, agreed=agreed, who=who)
        yield (entry.part, figure.sets), setting


def _worked(check: Check, entry: Entry) -> Iterator[Set]:
    """What the check's sum gives of the figures that were read and the inputs that the answer keeps beside them.

    So it is of the timber that was tried, whatever its part has come to since.
    """
    if not check.gives:
        return
    kept = {**mapping(entry.value.get("@inputs")), **entry.value}
    kinds = {wanted.name: wanted.kind for wanted in index.find(check.calculator).inputs}
    inputs = {name: from_plain(kind, kept.get(name)) for name, kind in kinds.items()}
    answer, _ = work(check.calculator, {name: value for name, value in inputs.items() if value is not None})
    if answer is None:
        return
    for fact, path in check.gives.items():
        found = result(answer, path)
        if isinstance(found, (int, float)):  # less than SAME is no change: what fits as it was cut changes nothing
            yield (entry.part, fact), Setting(entry.path, entry.id, round(found, 6), entry.at, measured=True)


def _brought(library: Library, finish: Finish, entry: Entry) -> Iterator[Set]:
    """The facts of a finish. One from memory waits for somebody's word, as does one that is to be agreed."""
    for fact in finish.facts:
        source = library.sources.get(fact.source)
        whence: Whence = "memory" if source and source.how == "memory" else "published"
        agreed = whence == "published" and not fact.agree
        setting = Setting(
            entry.path, entry.id, fact.value, entry.at, measured=False, brought=True, agreed=agreed, whence=whence
        )
        yield (entry.part, fact.name), setting
