"""How a calculator is fed from facts and figures, worked once for the same inputs, and its results picked out."""

from collections.abc import Callable, Mapping, Sequence
from functools import lru_cache
from math import hypot

from sitelog.calculators import index
from sitelog.calculators.catalogue import Answer, Calculator, Input, Result, Row, Value
from sitelog.calculators.timber.cutting.watch import is_watched
from sitelog.checklist.schema.terms import Clause, Condition, Operand, Term
from sitelog.quantities.quantity import Kind, Section, Tie, read
from sitelog.quantities.rounding import as_typed, to_type_again
from sitelog.refusal import Refusal

Look = Callable[[Term], Value]


@lru_cache(maxsize=8192)
def _worked(name: str, given: tuple[tuple[str, Value], ...]) -> tuple[Answer | None, str]:
    try:
        return index.find(name)(**dict(given)), ""
    except Refusal as refusal:
        return None, refusal.message.removeprefix(f"{name}: ")


def work(name: str, given: Mapping[str, Value]) -> tuple[Answer | None, str]:
    """The answer of the calculator for those inputs, or None and the line that says why it refuses.

    The same inputs are worked once: a state folded again costs no sum twice. But what somebody watches may be stopped,
    and is worked each time.
    """
    if is_watched():
        return _worked.__wrapped__(name, tuple(given.items()))
    return _worked(name, tuple(sorted(given.items())))


def result(answer: Answer, path: str) -> Result:
    """The result at a path such as `ridge_length` or `hips.a.length`; rows are picked by their first column."""
    first, *rest = path.split(".")
    found: Result = answer.results.get(first)
    for step in rest:
        if isinstance(found, list):
            found = next((row for row in found if str(next(iter(row.values()), None)) == step), None)
        elif isinstance(found, dict):
            found = found.get(step)
        else:
            return None
    return found


def unit_of(calculator: Calculator, path: str) -> tuple[str, str]:
    """The unit of a result's path, and what it says."""
    first, *rest = path.split(".")
    output = next((output for output in calculator.results if output.name == first), None)
    if output is None:
        return "", path
    column = next((column for column in output.columns if rest and column.name == rest[-1]), None)
    if column is None:
        return output.unit, output.says
    return column.unit, f"{output.says} {' '.join(rest[:-1])}: {column.says}".replace("  ", " ")


def worth(operand: Operand, look: Look) -> Value:
    """What an operand comes to, or None while a term of it is unknown. Refusal if words stand where a number must."""
    values = [look(term) for term in operand.terms]
    if operand.word in ("laid", "carried"):
        return _OF_BLOCKS[operand.word](operand.terms, values)
    if any(value is None for value in values):
        return None
    if operand.word == "is":
        return values[0]
    if operand.word in ("thickness", "depth"):
        return _side(values[0], operand.word)
    if operand.word == "ties":
        return tuple(_tie(term, value) for term, value in zip(operand.terms, values, strict=True))
    numbers = [_number(value, operand.word) for value in values]
    return _BY_WORD[operand.word](numbers)


_BY_WORD: Mapping[str, Callable[[Sequence[float]], Value]] = {
    "section": lambda numbers: Section(numbers[0], numbers[1]),
    "half": lambda numbers: numbers[0] / 2,
    "hypot": lambda numbers: hypot(*numbers),
    "minus": lambda numbers: numbers[0] - sum(numbers[1:]),
    "plus": sum,
}


def _tie(term: Term, value: Value) -> Tie:
    start, _, end = str(term.value).partition("-")
    return Tie(start, end, _number(value, "ties"))


def _laid(terms: Sequence[Term], values: Sequence[Value]) -> str:
    """The blocks all of whose valleys are said to be laid; one that isn't said yet counts as framed."""
    framed = {term.value for term, value in zip(terms, values, strict=True) if value != "laid"}
    return ",".join(dict.fromkeys(str(term.value) for term in terms if term.value not in framed))


def _carried(terms: Sequence[Term], values: Sequence[Value]) -> str:
    """What is taped so far of lean-tos and dormers, as `building` takes it."""
    known = ((term.value, value) for term, value in zip(terms, values, strict=True) if value is not None)
    return "; ".join(f"{size} {to_type_again(_number(value, 'carried'))}" for size, value in known)


_OF_BLOCKS: Mapping[str, Callable[[Sequence[Term], Sequence[Value]], Value]] = {"laid": _laid, "carried": _carried}


def _side(value: Value, word: str) -> float:
    if not isinstance(value, Section):
        raise Refusal(f"{word} needs a section and got {value}")
    if word == "thickness":
        return value.thickness
    return value.depth


def _number(value: Value, word: str) -> float:
    if isinstance(value, (int, float)):
        return float(value)
    raise Refusal(f"{word} needs numbers and got {value}")


def holds(condition: Condition | None, look: Callable[[str], Value]) -> bool:
    """True when the condition holds. A fact that is not known yet makes no clause true, `not` neither."""
    if condition is None:
        return True
    found = (_clause(clause, look(clause.fact)) for clause in condition.clauses)
    if condition.any:
        return any(found)
    return all(found)


def _clause(clause: Clause, value: Value) -> bool:
    if value is None:
        return False
    return _true(clause, value) != clause.negated


def _true(clause: Clause, value: Value) -> bool:
    if clause.word in ("is", "in"):
        return any(_alike(value, text) for text in clause.values)
    if not isinstance(value, (int, float)):
        return False
    bound = float(clause.values[0])
    if clause.word == "over":
        return value > bound
    return value < bound


def _alike(value: Value, text: str) -> bool:
    if isinstance(value, (int, float)):
        try:
            return abs(float(value) - float(text)) < 1e-9
        except ValueError:
            return False
    return str(value) == text


@lru_cache(maxsize=1024)
def _text(kind: Kind, text: str) -> Value:
    return read(kind, text)


def fitted(wanted: Input, value: Value) -> Value:
    """The value in the input's own kind: text of a checklist is read, a count is whole."""
    in_words = wanted.kind in ("choice", "text")
    if isinstance(value, str):
        if in_words:
            return value
        return _text(wanted.kind, value)
    if isinstance(value, Section):
        if in_words:
            return str(value)
        return value
    if not isinstance(value, (int, float)):
        return value
    if in_words:
        return as_typed(value)
    if wanted.kind in ("lengths", "offsets"):
        return (float(value),)
    whole = wanted.kind == "count" and float(value).is_integer()
    if whole:
        return int(value)
    return value


def feed(
    calculator: Calculator, operands: Mapping[str, Operand], look: Look
) -> tuple[dict[str, Value], tuple[str, ...]]:
    """The inputs that operands give, and the names of the facts still wanted.

    An unknown fact is wanted unless the calculator can do without that input. Refusal if a value can't be read.
    """
    values: dict[str, Value] = {}
    wanted: list[str] = []
    for name, operand in operands.items():
        into = calculator.input(name)
        value = worth(operand, look)
        if value is not None:
            values[name] = fitted(into, value)
        elif not into.optional:
            wanted += unknown(operand, look, wanted)
    return values, tuple(wanted)


def unknown(operand: Operand, look: Look, besides: Sequence[str] = ()) -> list[str]:
    """The names of an operand's terms that have no value yet."""
    return [term.name for term in operand.terms if look(term) is None and term.name not in besides]


def picked(answer: Answer, path: str, row: Row | None) -> Value:
    """The result at a path; of the row where it names a column of the rows."""
    first, _, column = path.partition(".")
    if isinstance(answer.results.get(first), list) and column and "." not in column:
        if not row:
            return None
        return row.get(column)
    found = result(answer, path)
    if not isinstance(found, (int, float, str)):
        return None
    return found
