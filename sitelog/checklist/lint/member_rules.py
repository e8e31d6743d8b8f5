"""A member must say what it is cut from and how long, and take its figures from what its calculator gives."""

from collections.abc import Iterator

from sitelog.calculators.catalogue import Calculator
from sitelog.calculators.index import calculators
from sitelog.checklist.lint.context import LintContext
from sitelog.checklist.lint.rules import Rule
from sitelog.checklist.loader.members import takings
from sitelog.checklist.schema.document import Fault, Spot
from sitelog.checklist.schema.kinds import output, unsuited
from sitelog.checklist.schema.members import MemberSpec
from sitelog.checklist.schema.table import hint
from sitelog.checklist.schema.terms import Operand
from sitelog.checklist.scoped import OF_PATTERN
from sitelog.quantities.quantity import Kind, read
from sitelog.refusal import Refusal

# Of the results that may be taken for them; every cut is in degrees.
UNITS = {"length": "mm", "thin": "mm", "thick": "mm", "count": ""}


def members_are_whole(context: LintContext) -> Iterator[Fault]:
    """A member has a section and a length, or says why the list can't hold it; a taper has both its ends."""
    for listed in context.lists:
        for spot, member in listed.members():
            missing = [key for key in ("section", "length") if getattr(member, key) is None]
            if missing and not member.left_out:
                right = "give it, or say with left_out why the list can't hold it"
                yield spot.fault(f"member {member.id} doesn't have {' or '.join(missing)}; {right}")
            elif (member.thin is None) != (member.thick is None):
                yield spot.fault(f"member {member.id} tapers and has one end; give thin and thick, or neither")
            elif member.left_out and len(missing) < 2:
                wrong = f"member {member.id} is left out and has a length; take one of them out"
                yield spot.at("left_out").fault(wrong)


def members_are_tried_at_a_check(context: LintContext) -> Iterator[Fault]:
    """The check where the first of a member is tried is one of its list."""
    for listed in context.lists:
        known = {f"{stage.id}.{check.id}" for _, stage, check in listed.checks()}
        known |= {f"@{fact.name}" for _, fact in listed.facts() if fact.name.startswith(OF_PATTERN)}
        for spot, member in listed.members():
            for key, names in (("tried", (member.tried,)), ("after", member.after)):
                for name in filter(None, names):
                    if name not in known:
                        yield spot.at(key).fault(f"tried at a check that is not there, {name}; {hint(name, [*known])}")


def members_are_suited(context: LintContext) -> Iterator[Fault]:
    """What a member's section, lengths, count and cuts are taken from is of their kind."""
    for listed in context.lists:
        known = context.known(listed)
        for spot, member in listed.members():
            for keys, operand, kind in _said(member):
                for name, given, right in unsuited(operand, kind, known):
                    yield spot.at(*keys).fault(f"{keys[-1]} takes {right}, and {name} is {given}; give what suits it")
                if operand.word == "is" and operand.terms[0].kind == "value":
                    yield from _misread(spot.at(*keys), keys[-1], kind, operand.terms[0].value)


def _said(member: MemberSpec) -> Iterator[tuple[tuple[str, ...], Operand, Kind]]:
    """Every operand of a member, by the keys it stands under, with the kind that it must be."""
    wanted: list[tuple[str, Operand | None, Kind]] = [
        ("section", member.section, "section"),
        ("adds", member.adds, "offset"),
        ("grade", member.grade, "choice"),
        ("stick", member.stick, "section"),
    ]
    for key, operand, kind in wanted:
        if operand:
            yield (key,), operand, kind
    if member.joint:
        yield ("joint", "lap"), member.joint.lap, "length"
        yield ("joint", "pieces"), member.joint.pieces, "count"
    for keys, taken in takings(member):
        if taken.operand:
            yield keys, taken.operand, _kind(keys)


def _kind(keys: tuple[str, ...]) -> Kind:
    if keys == ("count",):
        return "count"
    return "length" if keys[-1] in UNITS else "angle"


def _misread(spot: Spot, name: str, kind: Kind, value: float | str) -> Iterator[Fault]:
    try:
        read(kind, value if isinstance(value, str) else f"{value:.12g}", name=name)
    except Refusal as refusal:
        yield spot.fault(refusal.message)


def member_results_are_known(context: LintContext) -> Iterator[Fault]:
    """Every result that a member takes is one of its calculator's, in the unit of what it is taken for."""
    for listed in context.lists:
        for spot, member in listed.members():
            for keys, path, taken_for in _paths(member):
                wrong = _wrong(member, path, taken_for)
                if wrong:
                    yield spot.at(*keys).fault(wrong)


def _paths(member: MemberSpec) -> Iterator[tuple[tuple[str | int, ...], str, tuple[str, ...]]]:
    """Every path of a result that a member names: the keys it stands under, and those of what it is taken for."""
    yield from ((keys, taken.path, keys) for keys, taken in takings(member) if taken.path)
    ends = (("head", member.head), ("foot", member.foot))
    yield from (((key, "hand"), end.hand_of, ()) for key, end in ends if end.hand_of)
    yield from ((("shows", place, "of"), shown.of, ()) for place, shown in enumerate(member.shows))


def _wrong(member: MemberSpec, path: str, keys: tuple[str, ...]) -> str:
    """What is wrong with a result's path, or nothing; an unknown calculator is told by its own rule."""
    if not member.calculator:
        return f"{path} isn't the result of a calculator; name one, name a sum, or write a fact as @{path}"
    calculator = calculators().get(member.calculator)
    if not calculator:
        return ""
    return _wrong_result(calculator, member, path, keys)


def _wrong_result(calculator: Calculator, member: MemberSpec, path: str, keys: tuple[str, ...]) -> str:
    try:
        found = output(calculator, path)
    except Refusal as refusal:
        return refusal.message
    if found.columns:
        return f"{path} is rows; say which of their columns, as {path}.{found.columns[-1].name}"
    rows = row_of(calculator, path)
    if rows and rows != (row_of(calculator, member.length.path) if member.length else ""):
        return f"{path} is of a row, and the member's length is not; take its length from {rows} too"
    if not keys:
        return ""
    unit = UNITS.get(keys[-1], "deg")
    wrong = f"{keys[-1]} takes {unit or 'a count'}, and {path} is in {found.unit or 'pieces'}"
    if found.unit == unit:
        return ""
    return wrong


def row_of(calculator: Calculator, path: str) -> str:
    """The rows that a path names a column of, as `rows` of `rows.at`; "" where it names one value."""
    name, *steps = path.split(".")
    columns = next((result.columns for result in calculator.results if result.name == name), ())
    if columns and len(steps) == 1:
        return name
    return ""


RULES: tuple[Rule, ...] = (
    members_are_whole,
    members_are_tried_at_a_check,
    members_are_suited,
    member_results_are_known,
)
