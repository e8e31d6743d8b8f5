"""The figures of a check and the limits that they are held to, as its tables have them."""

import re
from typing import get_args

from sitelog.checklist.loader.members import each
from sitelog.checklist.schema import grammar
from sitelog.checklist.schema.instruments import ReadWith, suited
from sitelog.checklist.schema.kinds import KINDS, UNITS
from sitelog.checklist.schema.model import (
    CheckKind,
    Figure,
    Limit,
    Origin,
    Rule,
)
from sitelog.checklist.schema.table import Table
from sitelog.checklist.schema.terms import Operand, Term
from sitelog.quantities.quantity import Kind


def unit_of(table: Table, kind: Kind) -> str:
    """The unit as told, "" being none; where it is left out, the kind's own."""
    if table.data.get("unit") == "":
        table.elsewhere("unit")
        return ""
    return table.text("unit") if "unit" in table.data else UNITS.get(kind, "")


def figures_of(table: Table, kind: CheckKind, ask: str, sets: str) -> tuple[Figure, ...]:
    """The figure tables; or the one figure that a measure tells in its own keys, under the key "value"."""
    if isinstance(table.data.get("figure"), list):
        table.elsewhere("drawn", "unit", "optional", "exact")
        read_with = _read_with(table)
        return tuple(_figure(row, read_with) for row in table.tables("figure"))
    figure_kind = table.word("figure", KINDS, "length", need=kind == "measure")
    unit = unit_of(table, figure_kind)
    drawn, optional, exact = _drawn(table, figure_kind), table.flag("optional"), table.flag("exact")
    read_with = _read_with(table)
    if kind != "measure":
        return ()
    return (Figure("value", figure_kind, ask, unit, drawn, sets, optional, exact=exact, read_with=read_with),)


def _read_with(table: Table) -> ReadWith:
    return table.word("read_with", get_args(ReadWith)[1:], "")


def _figure(table: Table, read_with: ReadWith) -> Figure:
    """The figure; what it is read with is its check's where it says nothing itself."""
    kind = table.word("kind", KINDS, "length", need=True)
    figure = Figure(
        key=table.name("key", grammar.NAME, need=True),
        kind=kind,
        says=table.text("says", need=True),
        unit=unit_of(table, kind),
        drawn=_drawn(table, kind),
        sets=table.name("sets", grammar.NAME),
        optional=table.flag("optional"),
        limit=limit_of(table),
        exact=table.flag("exact"),
        agreed_by=table.text("agreed_by"),
        each=each(table),
        when=table.condition("when"),
        read_with=_read_with(table) or suited(read_with, kind),
    )
    table.close()
    return figure


def _drawn(table: Table, kind: Kind) -> Operand | None:
    """The operand; for a fall also text as 1:80, which is kept as a ratio."""
    value = table.data.get("drawn")
    if kind != "fall" or not isinstance(value, str) or ":" not in value:
        return table.operand("drawn")
    fall = table.quantity("drawn", kind)
    return Operand("is", (Term("value", value=fall),)) if isinstance(fall, float) else None


def limit_of(table: Table) -> Limit | None:
    """The limit of a check or a figure; None where its table has none."""
    inner = table.table("limit")
    if inner is None:
        return None
    of = _other_figure(inner)
    limit = Limit(
        rule=inner.word("rule", get_args(Rule), "within", need=True),
        amount=None if of else _amount(inner),
        origin=inner.word("origin", get_args(Origin), "house", need=True),
        source=inner.text("source", need=True),
        says=inner.text("says"),
        of=of,
        unless=inner.text("unless"),
    )
    inner.close()
    return limit


def _other_figure(table: Table) -> Operand | None:
    """What the limit is where it is no number of its own: a fact as @pitch, a figure as =outlets, a sum of them."""
    value = table.data.get("amount")
    return table.operand("amount") if isinstance(value, str) and re.search("[@=]", value) else None


def _amount(table: Table) -> float:
    """A number; or a fall as 1:80, which is kept as a ratio."""
    if isinstance(table.data.get("amount"), str):
        fall = table.quantity("amount", "fall")
        return fall if isinstance(fall, float) else 0.0
    return table.number("amount", need=True) or 0.0
