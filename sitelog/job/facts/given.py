"""What people gave for facts: design figures, and what the answers in force set."""

from collections.abc import Iterable, Iterator, Mapping, Sequence
from typing import Any

from sitelog.checklist.schema.model import Check, Library
from sitelog.job.facts.schema import stages_of
from sitelog.job.log.entry import Entry
from sitelog.job.log.entry_index import DECIDES, EntryIndex
from sitelog.job.log.values import from_plain
from sitelog.job.state.views import Inputs, Setting, Whence

Set = tuple[tuple[str, str], Setting]  # (part, fact) and what it is set to


def decided(entries: Sequence[Entry]) -> Entry | None:
    """The entry that says how a check stands: its last answer, skip, deferral or release."""
    return next((e for e in reversed(entries) if e.act in DECIDES), None)


def in_force(entries: Sequence[Entry]) -> Entry | None:
    """The answer that counts: the last one, unless the check was set aside as not applicable since."""
    for entry in reversed(entries):
        if entry.act == "answer":
            return entry
        if entry.act == "skip":
            return None
    return None


def given(library: Library, forms: Mapping[str, str], entry_index: EntryIndex) -> Inputs:
    """All that was given, from every entry in force."""
    found: dict[tuple[str, str], list[Setting]] = {}
    chosen: dict[str, str] = {}
    for part, form in forms.items():
        for stage in stages_of(library, form):
            for check in stage.checks:
                path = f"{part}.{stage.id}.{check.id}"
                answer = in_force(entry_index.on(path))
                if answer is not None:
                    if check.finishes and answer.value.get("value") in library.finishes:
                        chosen[path] = answer.value["value"]
                    for key, setting in settings(library, check, answer):
                        found.setdefault(key, []).append(setting)
    drawn = {(part, name): raw for part, facts in entry_index.drawn.items() for name, raw in facts.items()}
    usual = frozenset((part, name) for part, names in entry_index.usual.items() for name in names)
    return Inputs(drawn, {key: tuple(rows) for key, rows in found.items()}, chosen, usual)


def with_answer(given: Inputs, sets: Iterable[Set], path: str) -> Inputs:
    """What would be given if the check at that path set these instead of what it sets now."""
    found = {key: tuple(s for s in rows if s.path != path) for key, rows in given.set.items()}
    for key, setting in sets:
        found[key] = (*found.get(key, ()), setting)
    return Inputs(given.drawn, found, given.chosen, given.usual)


def named(words: Any) -> str:
    """Who or what is named in these words; "" where they name nobody, as a dash does."""
    return words if isinstance(words, str) and any(map(str.isalnum, words)) else ""


def settings(library: Library, check: Check, entry: Entry) -> Iterator[Set]:
    """What an answer sets: its figures, its choice or words, and what a chosen finish brings."""
    part, path, value = entry.part, entry.path, entry.value

    def setting(worth: Any, measured: bool, **more: Any) -> Setting:
        return Setting(path, entry.id, worth, entry.at, measured, **more)

    for figure in check.figures:
        read = from_plain(figure.kind, value.get(figure.key)) if figure.sets else None
        if read is not None:
            who = named(value.get(figure.agreed_by or (figure.limit.unless if figure.limit else "")))
            yield (part, figure.sets), setting(read, True, agreed=bool(who) or not figure.agreed_by, who=who)
    word = value.get("value")
    if not isinstance(word, str) or check.kind not in ("choice", "note"):
        return
    if check.sets:
        yield (part, check.sets), setting(word, False)
    if check.finishes and word in library.finishes:
        for fact in library.finishes[word].facts:
            source = library.sources.get(fact.source)
            whence: Whence = "memory" if source and source.how == "memory" else "published"
            agreed = whence == "published" and not fact.agree
            yield (part, fact.name), setting(fact.value, False, brought=True, agreed=agreed, whence=whence)
