"""The types of `sitelog.trade`, made from the calculators: `python -m tests.stubs` writes them again."""

import shlex
from collections.abc import Iterator
from pathlib import Path
from textwrap import wrap

import sitelog.trade
from sitelog.calculators.ask import ask
from sitelog.calculators.catalogue import Answer, Calculator, Input, Output
from sitelog.calculators.index import calculators
from sitelog.trade.worked import MAY_BE_NONE, unit_of

FILE = Path(sitelog.trade.__file__).with_suffix(".pyi")
HEAD = '''"""Made from the calculators by `python -m tests.stubs`: what each function takes and gives."""

from collections.abc import Sequence
from typing import Any, Literal

from sitelog.calculators.catalogue import Answer, Row
from sitelog.quantities.quantity import Cut, Price, Section, Tie

class Worked:
    answer: Answer
'''
TAKES = {
    "count": "int",
    "text": "str",
    "section": "Section",
    "lengths": "Sequence[float]",
    "offsets": "Sequence[float]",
    "ties": "Sequence[Tie]",
    "cuts": "Sequence[Cut]",
    "prices": "Sequence[Price]",
}  # by kind; every other is a number


def stub() -> str:
    """The whole file."""
    return HEAD + "\n".join(line for one in calculators().values() for line in _calculator(one)) + "\n"


def _calculator(one: Calculator) -> Iterator[str]:
    example = ask(one.name, dict(word.partition("=")[::2] for word in shlex.split(one.example)))
    name = one.name.replace("-", "_")
    shape = "".join(word.capitalize() for word in one.name.split("-"))
    yield ""
    yield f"class {shape}Worked(Worked):"
    for output in one.results:
        yield f"    {output.name}: {_gives(one, output, example)}"
        yield from _remark(f"{output.unit + ': ' if output.unit else ''}{output.says}", "    ")
    yield ""
    yield f"def {name}("
    yield "    *,"
    for given in sorted(one.inputs, key=lambda given: not given.required):
        yield f"    {given.attribute}: {_takes(given)}{'' if given.required else ' = ...'},"
        unit = unit_of(given)
        yield from _remark(f"{unit + ': ' if unit else ''}{given.says}", "    ")
    yield f") -> {shape}Worked:"
    yield f'    """{one.does}. Raises Refusal of figures that are missing, unknown or can\'t be."""'


def _remark(words: str, indent: str) -> Iterator[str]:
    for line in wrap(words, 110):
        yield f"{indent}# {line}"


def _takes(given: Input) -> str:
    if given.choices:
        return f"Literal[{', '.join(map(_quoted, given.choices))}]"
    return TAKES.get(given.kind, "float")


def _quoted(word: str) -> str:
    return f'"{word}"'


def _gives(one: Calculator, output: Output, example: Answer) -> str:
    found = example.results.get(output.name)
    if output.columns:
        return "list[Row]" if isinstance(found, list) else "Row" if isinstance(found, dict) else "Any"
    if (one.name, output.name) in MAY_BE_NONE:
        return "float | None" if output.unit else "str | None"
    return {int: "int", str: "str"}.get(type(found), "float") if not output.unit else "float"


if __name__ == "__main__":
    FILE.write_text(stub(), encoding="utf-8")
