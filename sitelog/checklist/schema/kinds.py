"""Which unit a kind of figure is told in, and which kinds may stand for each other."""

from collections.abc import Iterator, Mapping
from typing import get_args

from sitelog.calculators.catalogue import Calculator, Output
from sitelog.checklist.schema.terms import Operand
from sitelog.quantities.quantity import FALL, Kind
from sitelog.refusal import Refusal
from sitelog.text import text_if

KINDS: tuple[Kind, ...] = get_args(Kind)
WORDS: tuple[Kind, ...] = ("choice", "text")
# The unit of the kinds that have but one; a count, a number, a fraction or a share may be of anything.
UNITS: Mapping[Kind, str] = {
    **dict.fromkeys(("length", "offset", "lengths", "offsets", "section", "ties", "cuts"), "mm"),
    **dict.fromkeys(("angle", "pitch"), "deg"),
    "fall": FALL,
}
# What may be given where the kind is wanted; the number is held to that kind's limits when it is there.
SUIT: Mapping[Kind, tuple[Kind, ...]] = {
    "length": ("length", "offset"),
    "offset": ("length", "offset"),
    "lengths": ("length", "offset", "lengths", "offsets"),
    "offsets": ("length", "offset", "lengths", "offsets"),
    "angle": ("angle", "pitch"),
    "pitch": ("angle", "pitch"),
    "number": ("number", "count", "fraction", "fall"),
    "fraction": ("number", "fraction", "fall"),
    "share": ("number", "fraction", "share", "length"),
    "fall": ("number", "fraction", "fall"),
    "count": ("count", "number"),
    "choice": ("choice", "text"),
    "text": KINDS,
}


# What an operand of that word comes to, and what its terms are; of the other words both are what is wanted.
MAKES: Mapping[str, tuple[Kind, Kind]] = {
    "thickness": ("length", "section"),
    "depth": ("length", "section"),
    "section": ("section", "length"),
}


def unsuited(operand: Operand, wanted: Kind, kinds: Mapping[str, Kind | None]) -> Iterator[tuple[str, str, str]]:
    """What is said in an operand and does not suit: its name, its kind, and the kind it should be.

    `kinds` has figures under `=key`.
    """
    made, of = MAKES.get(operand.word, (wanted, wanted))
    if not suits(made, wanted):
        yield f"the word {operand.word}", told(made), told(wanted)
        return
    for term in operand.terms:
        name = f"={term.name}" if term.kind == "figure" else term.name
        if term.kind != "value" and not suits(kinds.get(name), of):
            yield term.name, told(kinds.get(name)), told(of)


def suits(given: Kind | None, wanted: Kind) -> bool:
    """True where a value of the one kind may be given for the other, or the kind is not known beforehand."""
    return given is None or given == wanted or given in SUIT.get(wanted, ())


def told(kind: object) -> str:
    """The kind with its article, as a sentence takes it."""
    word = str(kind)
    if word.endswith("s"):
        return word
    article = "an" if word[0] in "ao" else "a"
    return f"{article} {word}"


def unit_of_kind(kind: str) -> str:
    """The unit that a kind of quantity is told in; "" for one that has none, or that may be of anything."""
    return next((unit for known, unit in UNITS.items() if known == kind), "")


def unit_fault(kind: Kind, unit: str) -> str:
    """What is wrong with the unit of a figure of that kind, or nothing."""
    if kind in UNITS:
        if unit == UNITS[kind]:
            return ""
        return f"the kind {kind} is in {UNITS[kind]}, not {unit!r}"
    if kind in WORDS and unit:
        return f"the kind {kind} doesn't have a unit; take out {unit!r}"
    return text_if(unit == "mm", f"the kind {kind} can't be in mm; make it a length or an offset")


def output(calculator: Calculator, path: str) -> Output:
    """What a result's path stands for: `ridge_length`, `ridge_p.x` of a point, `hips.a.length` of a row.

    Raises Refusal with what is wrong and what there is.
    """
    from sitelog.checklist.schema.table import hint

    name, *steps = path.split(".")
    outputs = {result.name: result for result in calculator.results}
    if name not in outputs:
        raise Refusal(f"{calculator.name} doesn't give {name}; {hint(name, [*outputs])}")
    if not steps:
        return outputs[name]
    columns = {result.name: result for result in outputs[name].columns}
    if not columns or len(steps) > 2:
        right = f"say {name}.ROW.{[*columns][-1]}" if columns else f"it is one value, so say {name}"
        raise Refusal(f"{path} isn't a result of {calculator.name}; {right}")
    if steps[-1] not in columns:
        raise Refusal(f"{name} of {calculator.name} doesn't have {steps[-1]}; {hint(steps[-1], [*columns])}")
    return columns[steps[-1]]


def result_kind(result: Output) -> Kind | None:
    """The kind of a result by its unit; none for a bare one, which may be a count or a word."""
    if not result.unit:
        return None
    return _KIND_OF_UNIT.get(result.unit, "number")


_KIND_OF_UNIT: dict[str, Kind] = {"mm": "offset", "deg": "angle"}
