"""Typed text in, an answer out: the one way from `key=value` to a calculator, and from an answer to JSON."""

from collections.abc import Iterable, Mapping

from msgspec.structs import replace

from sitelog.calculators.catalogue import Answer, Calculator, Input
from sitelog.calculators.index import find
from sitelog.near import closest, did_you_mean
from sitelog.quantities import slips
from sitelog.quantities.quantity import Cut, Item, Price, Section, Tie, Value
from sitelog.refusal import Refusal
from sitelog.text import clean

Plain = float | int | str | None | list[float | str]


def ask(
    name: str,
    texts: Mapping[str, str] | Iterable[tuple[str, str]],
    standing: Mapping[str, Value] | None = None,
) -> Answer:
    """The answer of the calculator `name` to inputs as a person types them.

    `standing` are values already in mm, degrees and counts (the job's own tape, its plates) for inputs that
    the texts leave out; what the calculator does not take is passed over. Raises Refusal, in one line, for an
    unknown calculator, an unknown or repeated input, unreadable text, and all the calculator refuses.
    """
    calculator = find(name)
    known = {i.name for i in calculator.inputs}
    values = {key: value for key, value in (standing or {}).items() if key in known}
    typed: set[str] = set()
    for key, text in texts.items() if isinstance(texts, Mapping) else texts:
        if key in typed:
            raise Refusal(f"{name}: {key} is there twice; give it once")
        typed.add(key)
        values[key] = input_value(calculator, _input(calculator, key), text)
    answer = calculator(**values)
    return replace(answer, notes=(*_nominal(answer), *answer.notes))


def as_json(answer: Answer) -> dict[str, object]:
    """The answer in plain types, unrounded: mm, degrees, m2, kg, l/s; a section, a tie and a cut as text."""
    return {
        "calculator": answer.calculator,
        "inputs": {name: _plain(value) for name, value in answer.inputs.items()},
        "results": {**answer.results, **answer.shapes},
        "units": {name: unit if isinstance(unit, str) else dict(unit) for name, unit in answer.units.items()},
        "verdict": answer.verdict,
        "cautions": list(answer.cautions),
        "basis": answer.basis,
    }


def _input(calculator: Calculator, key: str) -> Input:
    for known in calculator.inputs:
        if known.name == key:
            return known
    names = [i.name for i in calculator.inputs]
    near = closest(key, names)
    hint = did_you_mean(near, f"choose from: {', '.join(names)}")
    raise Refusal(f"{calculator.name} doesn't have a figure called {key[:40]!r}; {hint}")


def input_value(calculator: Calculator, given: Input, text: str) -> Value:
    """What a person typed for an input. Refusal if it can't be read, Slip if it has no unit and no roof has it."""
    if given.kind == "choice":
        return _choice(given, text)
    usual = slips.usual(given.kind, f"{calculator.name}.{given.name}", given.name)
    return slips.typed(given.kind, text, usual, name=given.name)


def _choice(wanted: Input, text: str) -> str:
    # A class of tape or a grade means the same in capitals or not.
    for word in wanted.choices:
        if word.lower() == text.strip().lower():
            return word
    raise Refusal(f"{wanted.name} is '{clean(text[:100], most=40)}'; it must be one of {', '.join(wanted.choices)}")


def _nominal(answer: Answer) -> Iterable[str]:
    sections = dict.fromkeys(section for value in answer.inputs.values() for section in _sections(value))
    for section in sections:
        if section.nominal:
            yield f"{section.nominal} is used as {section}, regularised"


def _sections(value: Value) -> Iterable[Section]:
    if isinstance(value, Section):
        yield value
    elif isinstance(value, tuple):
        yield from (item.section for item in value if isinstance(item, (Cut, Price)))


def _plain(value: Value) -> Plain:
    if isinstance(value, Section):
        return str(value)
    if isinstance(value, tuple):
        return [_plain_item(item) for item in value]
    return value


def _plain_item(item: Item) -> float | str:
    if isinstance(item, Tie):
        return f"{item.start}-{item.end}:{item.length:.12g}"
    if isinstance(item, (Cut, Price)):
        return str(item)
    return item
