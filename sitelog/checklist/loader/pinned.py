"""Checklists as a job keeps them: loaded whatever they say, by a program that may ask other things today.

A list that was good once goes on loading. What this program does not know any more of it is left out, and a check
whose sum can't be worked any more says so; its figures and answers stay.
"""

from collections.abc import Mapping, Sequence
from pathlib import Path

from msgspec.structs import replace

from sitelog.calculators.catalogue import Calculator
from sitelog.calculators.index import WHERE, find
from sitelog.checklist.load import library
from sitelog.checklist.loader.gather import together
from sitelog.checklist.loader.members import takings
from sitelog.checklist.schema.document import Document, document
from sitelog.checklist.schema.kinds import output, suits
from sitelog.checklist.schema.members import MemberSpec
from sitelog.checklist.schema.model import Check, Checklist, Library, Sum
from sitelog.checklist.schema.terms import Operand
from sitelog.quantities.quantity import Kind
from sitelog.refusal import Refusal

MOST_FILES = 100
Text = tuple[str, str]  # the name of a file, and what stands in it


def from_texts(texts: Sequence[Text]) -> Library:
    """The lists of these files; a later one replaces an earlier by id. Refusal where there is none to go by."""
    opened = [document(Path(name), text.encode("utf-8", "replace")) for name, text in texts[:MOST_FILES]]
    context, _ = together([[read] for read in opened if isinstance(read, Document)])
    if context.job is None:
        raise Refusal("the job doesn't have a checklist it can use")
    found = library(context)
    return replace(found, lists={form: _as_known(listed) for form, listed in found.lists.items()})


def _as_known(listed: Checklist) -> Checklist:
    """The list, with every sum that this program can't work any more taken out of it."""
    return replace(
        listed,
        stages=tuple(replace(stage, checks=tuple(map(_check, stage.checks))) for stage in listed.stages),
        sums=tuple(run for run in map(_sum, listed.sums) if run),
        members=tuple(map(_member, listed.members)),
    )


UPDATE = "update the job to the newest checklists"


def _check(check: Check) -> Check:
    """The check; without its sum, and saying why, where this program can't work it."""
    if not check.calculator:
        if check.inputs or check.shows or check.gives:
            return replace(check, inputs={}, shows=(), gives={})
        return check
    why = _why_lost(check)
    if why:
        return replace(check, calculator="", inputs={}, shows=(), gives={}, lost=f"{why}: {UPDATE}")
    shows = tuple(path for path in check.shows if _gives(check.calculator, path))
    return replace(check, shows=shows, gives=_still_given(check.calculator, check.gives))


def _why_lost(check: Check) -> str:
    """Why this program can't work the sum of the check; nothing where it can."""
    filled = {figure.key: figure.kind for figure in check.figures}
    tolerance = ["tolerance"] if check.limit else []
    lost = _lost(check.calculator, check.inputs, [*filled, *tolerance])
    if lost or _suits(find(check.calculator), filled):
        return lost
    return f"{check.calculator} uses different figures now"


def _sum(run: Sum) -> Sum | None:
    """The sum with what it still gives. What it gave and gives no longer is not known."""
    if _lost(run.calculator, run.inputs, ()):
        return None
    return replace(run, gives=_still_given(run.calculator, run.gives))


def _still_given(calculator: str, gives: Mapping[str, str]) -> dict[str, str]:
    return {fact: path for fact, path in gives.items() if _gives(calculator, path)}


def _member(member: MemberSpec) -> MemberSpec:
    if not member.calculator:
        return member
    lost = _lost(member.calculator, member.inputs, ())
    paths = [*(taken.path for _, taken in takings(member) if taken.path), *(shown.of for shown in member.shows)]
    if lost or not all(_gives(member.calculator, path) for path in paths):
        why = lost or f"{member.calculator} gives different results now"
        return MemberSpec(member.id, member.says, when=member.when, left_out=f"{why}: {UPDATE}")
    return member


def _lost(calculator: str, inputs: Mapping[str, Operand], filled: Sequence[str]) -> str:
    """Why this program can't work that sum, or ""."""
    if calculator not in WHERE:
        return f"the calculator {calculator} has been removed"
    takes = {wanted.name: wanted for wanted in find(calculator).inputs}
    unknown = [name for name in inputs if name not in takes]
    if unknown:
        return f"{calculator} no longer uses {' or '.join(unknown)}"
    missing = [wanted.name for wanted in takes.values() if wanted.required and wanted.name not in (*inputs, *filled)]
    if not missing:
        return ""
    return f"{calculator} now needs {' and '.join(missing)}"


def _suits(calculator: Calculator, figures: Mapping[str, Kind]) -> bool:
    """Are the figures of a check still of the kinds that the calculator takes?"""
    return all(suits(figures[wanted.name], wanted.kind) for wanted in calculator.inputs if wanted.name in figures)


def _gives(calculator: str, path: str) -> bool:
    try:
        output(find(calculator), path)
    except Refusal:
        return False
    return True
