"""The `[[member]]` tables of a list: what timber its part is made of, and where each length and cut comes from."""

from collections.abc import Iterator, Mapping, Sequence
from typing import Literal, get_args

from sitelog.checklist.schema import grammar
from sitelog.checklist.schema.members import EndSpec, JointSpec, MemberSpec, Shown, Taken
from sitelog.checklist.schema.model import Sum
from sitelog.checklist.schema.table import Table, hint
from sitelog.checklist.schema.terms import Operand, Term
from sitelog.geometry.building.named import EACH

Hand = Literal["", "left", "right", "pair"]
HANDS: tuple[Hand, ...] = get_args(Hand)
ONE_PIECE = Operand("is", (Term("value", value=1.0),))
ONE = Taken(ONE_PIECE)


def member(table: Table, sums: Sequence[Sum]) -> MemberSpec:
    """One member. `sum = "hip-a"` runs the calculator of that sum of the list with its inputs."""
    calculator, inputs = _run(table, {row.id: row for row in sums})
    built = MemberSpec(
        id=table.name("id", need=True),
        says=table.text("says", need=True),
        section=table.operand("section"),
        length=_taken(table, "length"),
        adds=table.operand("adds"),
        count=_taken(table, "count") or ONE,
        calculator=calculator,
        inputs=inputs,
        head=_end(table, "head"),
        foot=_end(table, "foot"),
        shows=tuple(_shown(row) for row in table.tables("shows")),
        grade=table.operand("grade"),
        when=table.condition("when"),
        left_out=table.text("left_out"),
        thin=_taken(table, "thin"),
        thick=_taken(table, "thick"),
        tried=table.text("tried"),
        after=tuple(table.text("after").split()),
        nested=table.flag("nested"),
        stick=table.operand("stick"),
        joint=_joint(table),
        each=each(table),
    )
    table.close()
    return built


def each(table: Table) -> tuple[str, ...]:
    """The words of `each = "hips valleys"`: of what the roof may have several of."""
    words = tuple(table.text("each").split())
    for word in words:
        if word not in EACH:
            table.wrong(f"each can't be {word!r}; {hint(word, EACH)}", "each")
    return words


def _run(table: Table, sums: Mapping[str, Sum]) -> tuple[str, Mapping[str, Operand]]:
    named = table.text("sum")
    if not named:
        return table.text("calculator"), table.operands("inputs")
    table.elsewhere("calculator", "inputs")
    if "calculator" in table.data or "inputs" in table.data:
        table.wrong("sum and calculator are both given; name the one or the other", "sum")
    if named not in sums:
        table.wrong(f"this list doesn't have a sum called {named}; {hint(named, [*sums])}", "sum")
        return "", {}
    return sums[named].calculator, sums[named].inputs


def _taken(table: Table, key: str) -> Taken | None:
    if key in table.data and grammar.is_path(table.data[key]):
        return Taken(path=table.text(key))
    operand = table.operand(key)
    return Taken(operand) if operand else None


def _end(table: Table, key: str) -> EndSpec:
    inner = table.table(key)
    if inner is None:
        return EndSpec()
    hand_of = _path(inner, "hand")
    end = EndSpec(
        cut=_taken(inner, "cut"),
        seat=_taken(inner, "seat"),
        bevel=_taken(inner, "bevel"),
        bevel_2=_taken(inner, "bevel_2"),
        tilt=_taken(inner, "tilt"),
        tilt_2=_taken(inner, "tilt_2"),
        hand="" if hand_of else inner.word("hand", HANDS, ""),
        hand_of=hand_of,
        called=inner.text("called"),
    )
    inner.close()
    return end


def _joint(table: Table) -> JointSpec | None:
    inner = table.table("joint")
    if inner is None:
        return None
    lap, pieces, when = inner.operand("lap"), inner.operand("pieces"), inner.condition("when")
    inner.close()
    if lap is None:
        table.wrong("joint doesn't have lap: give what one joint laps", "joint")
        return None
    return JointSpec(lap, pieces or ONE_PIECE, when)


def _path(table: Table, key: str) -> str:
    """The path of a column of rows; nothing where a plain word stands there."""
    value = table.data.get(key)
    return table.text(key) if isinstance(value, str) and "." in value and grammar.is_path(value) else ""


def _shown(table: Table) -> Shown:
    shown = Shown(of=table.text("of", need=True), when=table.condition("when"))
    table.close()
    return shown


def takings(member: MemberSpec) -> Iterator[tuple[tuple[str, ...], Taken]]:
    """Every figure that a member takes from somewhere, with the keys it stands under."""
    if member.length:
        yield ("length",), member.length
    yield ("count",), member.count
    if member.thin:
        yield ("thin",), member.thin
    if member.thick:
        yield ("thick",), member.thick
    for end, spec in (("head", member.head), ("foot", member.foot)):
        yield from (((end, name), taken) for name, taken in spec.figures.items())


def operands(member: MemberSpec) -> Iterator[tuple[tuple[str, ...], Operand]]:
    """Every operand of a member, those of its calculator's inputs with them, and the keys that each stands under."""
    for name, operand in member.inputs.items():
        yield ("inputs", name), operand
    for key in ("section", "adds", "grade", "stick"):
        operand = getattr(member, key)
        if operand:
            yield (key,), operand
    if member.joint:
        yield ("joint", "lap"), member.joint.lap
        yield ("joint", "pieces"), member.joint.pieces
    for keys, taken in takings(member):
        if taken.operand:
            yield keys, taken.operand
