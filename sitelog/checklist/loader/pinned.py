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
from sitelog.checklist.schema.model import Check, Checklist, Library, MemberSpec, Operand, Sum
from sitelog.quantities.quantity import Kind
from sitelog.refusal import Refusal

MOST_FILES = 100
Text = tuple[str, str]  # the name of a file, and what stands in it


def from_texts(texts: Sequence[Text]) -> Library:
    """The lists of these files; a later one replaces an earlier by id. Refusal where there is none to go by."""
    opened = [document(Path(name), text.encode("utf-8", "replace")) for name, text in texts[:MOST_FILES]]
    context, _ = together([[one] for one in opened if isinstance(one, Document)])
    if context.job is None:
        raise Refusal("the job doesn't have a checklist it can use")
    found = library(context)
    return replace(found, lists={form: _as_known(one) for form, one in found.lists.items()})


def _as_known(one: Checklist) -> Checklist:
    """The list, with every sum that this program can't work any more taken out of it."""
    return replace(
        one,
        stages=tuple(replace(stage, checks=tuple(map(_check, stage.checks))) for stage in one.stages),
        sums=tuple(kept for each in one.sums if (kept := _sum(each))),
        members=tuple(map(_member, one.members)),
    )


def _check(one: Check) -> Check:
    if not one.calculator:
        return replace(one, inputs={}, shows=()) if one.inputs or one.shows else one
    filled = {figure.key: figure.kind for figure in one.figures}
    lost = _lost(one.calculator, one.inputs, [*filled, *(["tolerance"] if one.limit else [])])
    if lost or not _suits(find(one.calculator), filled):
        why = lost or f"{one.calculator} uses different figures now"
        return replace(
            one, calculator="", inputs={}, shows=(), lost=(f"{why}: update the job to the newest checklists")
        )
    return replace(one, shows=tuple(path for path in one.shows if _gives(one.calculator, path)))


def _sum(one: Sum) -> Sum | None:
    """The sum with what it still gives. What it gave and gives no longer is not known."""
    if _lost(one.calculator, one.inputs, ()):
        return None
    return replace(one, gives={fact: path for fact, path in one.gives.items() if _gives(one.calculator, path)})


def _member(one: MemberSpec) -> MemberSpec:
    if not one.calculator:
        return one
    lost = _lost(one.calculator, one.inputs, ())
    paths = [*(taken.path for _, taken in takings(one) if taken.path), *(shown.of for shown in one.shows)]
    if lost or not all(_gives(one.calculator, path) for path in paths):
        why = lost or f"{one.calculator} gives different results now"
        return MemberSpec(one.id, one.says, when=one.when, left_out=(f"{why}: update the job to the newest checklists"))
    return one


def _lost(calculator: str, inputs: Mapping[str, Operand], filled: Sequence[str]) -> str:
    """Why this program can't work that sum, or ""."""
    if calculator not in WHERE:
        return f"the calculator {calculator} has been removed"
    takes = {one.name: one for one in find(calculator).inputs}
    if unknown := [name for name in inputs if name not in takes]:
        return f"{calculator} no longer uses {' or '.join(unknown)}"
    missing = [one.name for one in takes.values() if one.required and one.name not in (*inputs, *filled)]
    return f"{calculator} now needs {' and '.join(missing)}" if missing else ""


def _suits(calculator: Calculator, figures: Mapping[str, Kind]) -> bool:
    """Are the figures of a check still of the kinds that the calculator takes?"""
    return all(suits(figures[one.name], one.kind) for one in calculator.inputs if one.name in figures)


def _gives(calculator: str, path: str) -> bool:
    try:
        output(find(calculator), path)
    except Refusal:
        return False
    return True
