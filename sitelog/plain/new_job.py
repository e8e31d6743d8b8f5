"""A new job line by line: its title, its parts and their figures as drawn."""

from collections.abc import Callable, Mapping, Sequence
from pathlib import Path

from sitelog.checklist.model import FactSpec, Library
from sitelog.job.entry import Hand
from sitelog.job.job import Job
from sitelog.plain.talk import Talk
from sitelog.refusal import Refusal
from sitelog.telling.setting_up import (
    HINTS,
    asked,
    figure_fault,
    file_name,
    head_fault,
    id_fault,
    takes,
    units_of,
    with_ending,
)

Part = tuple[str, str, str, Mapping[str, str]]


def new_job(talk: Talk, folder: Path, library: Library, hand_of: Callable[[str], Hand], *, by: str) -> Job:
    """Ask what a new job wants, and make its file in the folder. `hand_of` gives the hand of a name.

    Left on `back`: nothing is made. A refusal of the whole is said, and all is asked again.
    """
    while True:
        talk.say("A new job.")
        title = _head(talk, folder, "title", "Title.")
        place = _head(talk, folder, "place", "Place.")
        name = by or _head(talk, folder, "by", "Your name.")
        units = units_of(_head(talk, folder, "units", "Units.", "metric")) or "metric"
        parts = _parts(talk, library)
        file = _head(talk, folder, "file", "File.", file_name(title, folder))
        if talk.pick("Set the job up?", ["yes", "no, say it all again"]):
            continue
        try:
            return Job.create(
                folder / with_ending(file), library, hand_of(name), title=title, place=place, units=units, parts=parts
            )
        except Refusal as refusal:
            talk.refuse(refusal.message)


def _head(talk: Talk, folder: Path, key: str, ask: str, usual: str = "") -> str:
    return _asked(talk, f"{ask} {HINTS[key]}", lambda text: head_fault(key, text, folder), usual)


def _asked(talk: Talk, ask: str, fault_of: Callable[[str], str], usual: str = "") -> str:
    """An answer without fault; an empty line takes what is usual, where something is."""

    def hear(text: str) -> str:
        fault = fault_of(text or usual)
        if fault:
            raise Refusal(fault)
        return text or usual

    return talk.ask(f"{ask}{f' An empty line takes {usual}.' if usual else ''}", hear, (ask,))


def _parts(talk: Talk, library: Library) -> list[Part]:
    parts = [_part(talk, library, ())]
    while talk.pick("Is that the whole roof?", ["yes", "no, there is one more part"]):
        parts.append(_part(talk, library, [part[0] for part in parts]))
    return parts


def _part(talk: Talk, library: Library, taken: Sequence[str]) -> Part:
    forms = library.forms()
    number = len(taken) + 1
    form = forms[talk.pick(f"The form of part {number}.", forms)]
    usual = "main" if number == 1 else f"{form}-{number}"

    def fault(text: str) -> str:
        return id_fault(text) or (f"Short name is '{text}': another part has it." if text in taken else "")

    short = _asked(talk, "Short name: small letters, digits and hyphens.", fault, usual)
    title = _asked(talk, "What is it called?", lambda text: "", "Main roof" if number == 1 else form.capitalize())
    figures = {spec.name: _figure(talk, spec) for spec in asked(library, form)}
    return short, title, form, {name: text for name, text in figures.items() if text}


def _figure(talk: Talk, spec: FactSpec) -> str:
    """A figure off the drawing; one that the list has no usual figure for may be left open."""
    ask = f"{spec.says}. Say {takes(spec)}."
    if not spec.default:
        ask += " An empty line leaves it open till it is known."
    return _asked(talk, ask, lambda text: figure_fault(spec, text), spec.default)
