"""The tables of cautions and finishes made into the objects of the model, faults noted as in a list."""

from sitelog.checklist.schema import grammar
from sitelog.checklist.schema.guidance import MONTHS, Ask, Caution, Finish, FinishFact, Gauge, Question
from sitelog.checklist.schema.kinds import KINDS
from sitelog.checklist.schema.table import Table


def cautions(table: Table) -> tuple[Caution, ...]:
    """The cautions of a cautions file."""
    table.elsewhere("source")
    built = tuple(_caution(row) for row in table.tables("caution", need=True))
    table.close()
    return built


def finishes(table: Table) -> tuple[Finish, ...]:
    """The finishes of a finishes file."""
    table.elsewhere("source")
    built = tuple(_finish(row) for row in table.tables("finish", need=True))
    table.close()
    return built


def _caution(table: Table) -> Caution:
    figures: list[tuple[str, str]] = []
    for row in table.tables("figures"):
        figures.append((row.text("says", need=True), row.text("source", need=True)))
        row.close()
    caution = Caution(
        id=table.name("id", need=True),
        title=table.text("title", need=True),
        hurts=table.text("hurts", need=True),
        do=table.text("do", need=True),
        ask=table.text("ask", need=True),
        question=_question(table),
        figures=tuple(figures),
        repeat=table.word("repeat", ("daily", "once", "change"), "daily"),
        when=table.condition("when"),
        stops=table.flag("stops"),
        months=table.texts("months"),
    )
    for month in caution.months:
        if month not in MONTHS:
            table.wrong(f"months can't hold {month!r}; write a month in full and small, as june", "months")
    if caution.months and caution.stops:
        table.wrong("a caution that stops the work is asked all year; take months out", "months")
    table.close()
    return caution


def _question(table: Table) -> Question:
    inner = table.table("question")
    if inner is None:
        if "question" not in table.data:
            table.wrong("question is missing; give what clears the caution: a number, name, place or choice")
        return Question("", "name")
    question = Question(
        ask=inner.text("ask", need=True),
        kind=inner.word("kind", ("number", "name", "place", "choice"), "name", need=True),
        unit=inner.text("unit"),
        choices=inner.texts("choices"),
        stop_from=inner.number("stop_from"),
        stop_on=inner.texts("stop_on"),
        stop_under=inner.number("stop_under"),
        readings=tuple(_gauge(row) for row in inner.tables("readings")),
        settles=inner.name("settles"),
    )
    inner.close()
    return question


def _gauge(table: Table) -> Gauge:
    gauge = Gauge(
        key=table.name("key", grammar.NAME, need=True),
        unit=table.text("unit"),
        stop_from=table.number("stop_from"),
        stop_under=table.number("stop_under"),
        least=table.text("least"),
    )
    table.close()
    return gauge


def _finish(table: Table) -> Finish:
    finish = Finish(
        id=table.name("id", need=True),
        label=table.text("label", need=True),
        serves=table.texts("for"),
        says=table.text("says", need=True),
        cautions=table.texts("cautions", grammar.ID),
        facts=tuple(_finish_fact(row) for row in table.tables("fact")),
        asks=tuple(_ask(row) for row in table.tables("asks")),
    )
    table.close()
    return finish


def _finish_fact(table: Table) -> FinishFact:
    kind = table.word("kind", KINDS, "text", need=True)
    value = table.quantity("value", kind)
    if "value" not in table.data:
        table.wrong(f"value is missing; give the {kind} as text or a number")
    fact = FinishFact(
        name=table.name("name", grammar.NAME, need=True),
        kind=kind,
        value=float(value) if isinstance(value, (int, float)) else table.plain("value"),
        source=table.text("source", need=True),
        agree=table.flag("agree"),
    )
    table.close()
    return fact


def _ask(table: Table) -> Ask:
    ask = Ask(
        topic=table.text("topic", need=True),
        says=table.text("says", need=True),
        source=table.text("source", need=True),
        of=table.word("of", ("own", "others"), "own"),
        caution=table.text("caution"),
    )
    if ask.caution and ask.of == "own":
        table.wrong('caution is raised in other parts; write of = "others", or take it out')
    table.close()
    return ask
