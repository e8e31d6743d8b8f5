"""The tables of a list made into the model. One with faults is made too, so that all faults are told."""

import re
from collections.abc import Iterable, Mapping
from typing import get_args

from msgspec import Struct

from sitelog.checklist.loader.figures import figures_of, limit_of, unit_of
from sitelog.checklist.loader.members import each, member
from sitelog.checklist.schema import grammar
from sitelog.checklist.schema.guidance import Finish
from sitelog.checklist.schema.kinds import KINDS
from sitelog.checklist.schema.model import (
    Check,
    CheckKind,
    Checklist,
    Choice,
    FactSpec,
    Source,
    Stage,
    Standing,
    Sum,
    Taker,
)
from sitelog.checklist.schema.table import Table
from sitelog.quantities import slips
from sitelog.quantities.quantity import Kind
from sitelog.quantities.slips import Usual

CHECK_KINDS: tuple[CheckKind, ...] = get_args(CheckKind)
SOURCE_ID = re.compile(r"[a-z][a-z0-9.-]*")


def checklist(table: Table, finishes: Mapping[str, Finish], known: Mapping[str, Source]) -> Checklist:
    """A whole list, with the choices of `finishes = "slopes"` filled in. `known` are all files' sources."""
    sums = tuple(_sum(row) for row in table.tables("sum"))
    trades = _trades(table.tables("trade"))
    built = Checklist(
        id=table.name("id", need=True),
        title=table.text("title", need=True),
        form=table.name("form", need=True),
        stages=tuple(_stage(row, finishes, trades) for row in table.tables("stage", need=True)),
        facts=tuple(_fact(row) for row in table.tables("fact")),
        sums=sums,
        sources=_cited(table, known),
        file=table.spot.document.file,
        digest=table.spot.document.digest,
        members=tuple(member(row, sums) for row in table.tables("member")),
        trades=trades.conditional,
    )
    table.close()
    return built


def sources(table: Table) -> tuple[Source, ...]:
    """The sources that a file names."""
    return tuple(_source(row) for row in table.tables("source"))


def _cited(table: Table, known: Mapping[str, Source]) -> dict[str, Source]:
    """The sources that the list may cite: its own (their faults are told already), then any file's."""
    table.elsewhere("source")
    own = sources(Table(table.spot, table.data, faults=[]))
    return {**known, **{source.id: source for source in own}}


def _source(table: Table) -> Source:
    source = Source(
        id=table.name("id", SOURCE_ID, need=True),
        title=table.text("title", need=True),
        locator=table.text("locator"),
        year=table.plain("year"),
        how=table.word("how", get_args(Standing), "memory", need=True),
    )
    table.close()
    return source


def _fact(table: Table) -> FactSpec:
    kind = table.word("kind", KINDS, "text", need=True)
    default = table.plain("default")
    if default:
        table.quantity("default", kind)
    fact = FactSpec(
        name=table.name("name", grammar.NAME, need=True),
        kind=kind,
        says=table.text("says", need=True),
        unit=unit_of(table, kind),
        asked=table.flag("asked"),
        default=default,
        least=table.plain("least"),
        worked=table.operand("worked"),
        choices=table.texts("choices"),
        usual=_usual(table, kind),
        each=each(table),
        gathers=table.plain("gathers"),
    )
    table.close()
    return fact


def _usual(table: Table, kind: Kind) -> Usual | None:
    """The two ends, as text of the fact's kind: usual = ["200", "90m"]."""
    ends = [table.read(kind, text, "usual") for text in table.texts("usual")]
    if "usual" not in table.data:
        return None
    numbers = sorted(end for end in ends if isinstance(end, float))
    if kind not in slips.ASKED:
        table.wrong(f"usual is for {', '.join(slips.ASKED)}; a {kind} is never asked about", "usual")
    elif len(ends) != 2:
        table.wrong(f"usual has {len(ends)} figure{'s' * (len(ends) != 1)}; give the smallest and the largest", "usual")
    return Usual(*numbers) if len(numbers) == 2 else None


def _sum(table: Table) -> Sum:
    built = Sum(
        id=table.name("id", need=True),
        calculator=table.text("calculator", need=True),
        inputs=table.operands("inputs", need=True),
        gives=table.names("gives"),
        when=table.condition("when"),
        each=each(table),
    )
    table.close()
    return built


class Trades(Struct, frozen=True):
    """The trades of a list that come under a condition, and the names that stand for several trades."""

    conditional: tuple[Taker, ...]
    groups: Mapping[str, tuple[str, ...]]


def _trades(tables: Iterable[Table]) -> Trades:
    conditional: list[Taker] = []
    groups: dict[str, tuple[str, ...]] = {}
    for table in tables:
        name, members = table.name("id", need=True), table.texts("stands_for", grammar.ID)
        condition = table.condition("when")
        if members:
            groups[name] = members
        else:
            conditional.append(Taker(name, condition))
        if ("when" in table.data) == bool(members):
            table.wrong("give a trade `when`, or the trades that a name stands_for: one of the two")
        table.close()
    return Trades(tuple(conditional), groups)


def _takers(table: Table, trades: Trades) -> tuple[Taker, ...]:
    """Who takes a check over: trades by name, each as the list has it, or one with a condition of its own."""
    known = {taker.trade: taker for taker in trades.conditional}
    takers: list[Taker] = []
    for row in table.texts_or_tables("hands_over_to", grammar.ID):
        if isinstance(row, str):
            names = trades.groups.get(row, (row,))
            takers += [known.get(name) or Taker(name) for name in names]
        else:
            takers.append(Taker(row.name("to", need=True), row.condition("when")))
            row.close()
    return tuple(takers)


def _stage(table: Table, finishes: Mapping[str, Finish], trades: Trades) -> Stage:
    stage = Stage(
        id=table.name("id", need=True),
        title=table.text("title", need=True),
        checks=tuple(_check(row, finishes, trades) for row in table.tables("check", need=True)),
        short=table.text("short"),
        hold=table.flag("hold"),
        why=table.text("why"),
        cautions=table.texts("cautions", grammar.ID),
        when=table.condition("when"),
        place=table.word("place", ("first", "part", "last"), "part"),
        signer=table.text("signer") or "foreman",
        each=each(table),
    )
    table.close()
    return stage


def _check(table: Table, finishes: Mapping[str, Finish], trades: Trades) -> Check:
    kind = table.word("kind", CHECK_KINDS, "note", need=True)
    ask = table.text("ask", need=True)
    sets = table.name("sets", grammar.NAME)
    serves = table.text("finishes")
    check = Check(
        id=table.name("id", need=True),
        ask=ask,
        kind=kind,
        why=table.text("why"),
        tip=table.text("tip"),
        figures=figures_of(table, kind, ask, sets),
        choices=_choices(table, serves, finishes),
        finishes=serves,
        sets="" if kind == "measure" else sets,
        limit=limit_of(table),
        calculator=table.text("calculator"),
        inputs=table.operands("inputs"),
        shows=table.texts("shows"),
        gives=table.names("gives"),
        cautions=table.texts("cautions", grammar.ID),
        when=table.condition("when"),
        needs=table.texts("needs"),
        photo=table.flag("photo"),
        three_ways=table.flag("three_ways"),
        hands_over_to=_takers(table, trades),
        sources=table.texts("sources"),
        each=each(table),
    )
    table.close()
    return check


def _choices(table: Table, serves: str, finishes: Mapping[str, Finish]) -> tuple[Choice, ...]:
    if serves:
        table.elsewhere("choices")
        return tuple(Choice(row.id, row.label) for row in finishes.values() if serves in row.serves)
    choices: list[Choice] = []
    for row in table.tables("choices"):
        choices.append(Choice(row.name("id", need=True), row.text("label", need=True)))
        row.close()
    return tuple(choices)
