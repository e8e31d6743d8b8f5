"""A member must say what it is cut from and how long, and take its figures from what its calculator gives."""

from collections.abc import Iterator

from sitelog.calculators.catalogue import Calculator
from sitelog.calculators.index import calculators
from sitelog.checklist.lint.context import LintContext
from sitelog.checklist.lint.rules import Rule
from sitelog.checklist.loader.members import takings
from sitelog.checklist.schema.document import Fault, Spot
from sitelog.checklist.schema.kinds import output, unsuited
from sitelog.checklist.schema.model import MemberSpec, Operand
from sitelog.quantities.quantity import Kind, read
from sitelog.refusal import Refusal

UNITS = {
    "length": "mm",
    "thin": "mm",
    "thick": "mm",
    "count": "",
}  # of the results that may be taken for them; every cut is in degrees


def members_are_whole(context: LintContext) -> Iterator[Fault]:
    for listed in context.lists:
        for spot, one in listed.members():
            missing = [key for key in ("section", "length") if getattr(one, key) is None]
            if missing and not one.left_out:
                right = "give it, or say with left_out why the list can't hold it"
                yield spot.fault(f"member {one.id} doesn't have {' or '.join(missing)}; {right}")
            elif (one.thin is None) != (one.thick is None):
                yield spot.fault(f"member {one.id} tapers and has one end; give thin and thick, or neither")
            elif one.left_out and len(missing) < 2:
                yield spot.at("left_out").fault(f"member {one.id} is left out and has a length; take one of them out")


def members_are_suited(context: LintContext) -> Iterator[Fault]:
    for listed in context.lists:
        known = context.known(listed)
        for spot, one in listed.members():
            wanted: list[tuple[str, Kind]] = [("section", "section"), ("adds", "offset"), ("grade", "choice")]
            said: list[tuple[tuple[str, ...], Operand, Kind]] = [
                ((key,), getattr(one, key), kind) for key, kind in wanted if getattr(one, key)
            ]
            said += [(keys, taken.operand, _kind(keys)) for keys, taken in takings(one) if taken.operand]
            for keys, operand, kind in said:
                for name, given, right in unsuited(operand, kind, known):
                    yield spot.at(*keys).fault(f"{keys[-1]} takes {right}, and {name} is {given}; give what suits it")
                if operand.word == "is" and operand.terms[0].kind == "value":
                    yield from _misread(spot.at(*keys), keys[-1], kind, operand.terms[0].value)


def _kind(keys: tuple[str, ...]) -> Kind:
    return "count" if keys == ("count",) else "length" if keys[-1] in UNITS else "angle"


def _misread(spot: Spot, name: str, kind: Kind, value: float | str) -> Iterator[Fault]:
    try:
        read(kind, value if isinstance(value, str) else f"{value:.12g}", name=name)
    except Refusal as refusal:
        yield spot.fault(refusal.message)


def member_results_are_known(context: LintContext) -> Iterator[Fault]:
    known = calculators()
    for listed in context.lists:
        for spot, one in listed.members():
            paths = [(spot.at(*keys), keys, taken.path) for keys, taken in takings(one) if taken.path]
            paths += [(spot.at("shows", n, "of"), (), shown.of) for n, shown in enumerate(one.shows)]
            for at, keys, path in paths:
                if one.calculator in known:
                    wrong = _wrong(known[one.calculator], one, path, keys)
                    if wrong:
                        yield at.fault(wrong)
                elif not one.calculator:
                    yield at.fault(
                        f"{path} isn't the result of a calculator; name one, name a sum, or write a fact as @{path}"
                    )


def _wrong(calculator: Calculator, one: MemberSpec, path: str, keys: tuple[str, ...]) -> str:
    """What is wrong with a result's path, or nothing."""
    try:
        found = output(calculator, path)
    except Refusal as refusal:
        return refusal.message
    if found.columns:
        return f"{path} is rows; say which of their columns, as {path}.{found.columns[-1].name}"
    rows = row_of(calculator, path)
    if rows and rows != (row_of(calculator, one.length.path) if one.length else ""):
        return f"{path} is of a row, and the member's length is not; take its length from {rows} too"
    unit = UNITS.get(keys[-1], "deg") if keys else found.unit
    return (
        "" if found.unit == unit else f"{keys[-1]} takes {unit or 'a count'}, and {path} is in {found.unit or 'pieces'}"
    )


def row_of(calculator: Calculator, path: str) -> str:
    """The rows that a path names a column of, as `rows` of `rows.at`; "" where it names one value."""
    name, *steps = path.split(".")
    columns = next((one.columns for one in calculator.results if one.name == name), ())
    return name if columns and len(steps) == 1 else ""


RULES: tuple[Rule, ...] = (members_are_whole, members_are_suited, member_results_are_known)
