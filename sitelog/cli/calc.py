"""`sitelog calc`: the calculators from the command line, with their help and their working."""

from __future__ import annotations

import stat
from collections.abc import Collection, Sequence
from itertools import groupby
from pathlib import Path
from typing import TYPE_CHECKING

from sitelog.calculators.catalogue import Answer, Calculator, Input, Value
from sitelog.cli.script.standard_input import words as with_input
from sitelog.cli.script.tell import print_json
from sitelog.quantities.rounding import as_typed
from sitelog.refusal import DONE, Refusal
from sitelog.text import clean

if TYPE_CHECKING:
    from sitelog.cli.script.shapes import CalculatorData

MOST_BYTES = 1 << 20  # of a file of members
HELP = {"--help", "-h"}
FLAGS = ("--json", "--working", "--drawing", "--help", "-h", "--ascii", "--plain")


def calc(words: Sequence[str]) -> int:
    """List, explain or work a calculator.

    Raises Refusal for an unknown calculator, flag or input, or a value that can't be.
    """
    words = with_input(words)
    flags = {word for word in words if word.startswith("-")}
    rest = [word for word in words if not word.startswith("-")]
    for flag in sorted(flags.difference(FLAGS)):
        raise Refusal(f"calc: {flag!r} isn't an option here; choose from: --json, --working, --drawing, --help")
    if not rest or flags & HELP:
        _explain(rest[:1], flags)
    else:
        _print_answer(_worked(rest[0], rest[1:]), flags)
    return DONE


def _explain(named: Sequence[str], flags: Collection[str]) -> None:
    """What a calculator takes and gives, or without a name the list of all."""
    from sitelog.calculators.index import calculators, find

    found = [find(name) for name in named]
    if "--json" in flags:
        print_json([_data(one) for one in found or calculators().values()])
    elif found:
        print("\n".join(line for one in found for line in _help(one)))
    else:
        print("\n".join(_listing(with_usage=not HELP.isdisjoint(flags))))


def _worked(name: str, words: Sequence[str]) -> Answer:
    from sitelog.calculators.ask import ask

    texts = _pairs(name, words)
    if name != "stock":
        return ask(name, texts)
    from sitelog.cli.watching import watching

    standing = _members(texts) if "members" in texts else {}
    with watching():
        return ask(name, texts, standing)


def _print_answer(answer: Answer, flags: Collection[str]) -> None:
    if "--json" in flags:
        _print_json(answer)
        return
    _print_text(answer, working="--working" in flags)
    if "--drawing" in flags:
        _print_drawings(answer)


def _pairs(name: str, words: Sequence[str]) -> dict[str, str]:
    pairs: dict[str, str] = {}
    for word in words:
        key, equals, value = word.partition("=")
        if not equals:
            raise Refusal(f"{name}: {word!r} needs a name and =, such as {find_example(name)}")
        if key in pairs:
            raise Refusal(f"{name}: {key} is there twice; give it once")
        pairs[key] = value
    return pairs


def _members(texts: dict[str, str]) -> dict[str, Value]:
    """The cuts of `members=FILE`, taken out of the texts: a calculator reads no files, so its file is read here."""
    from sitelog.calculators.timber.members import cuts_of, read_members

    file = texts.pop("members")
    if "cuts" in texts:
        raise Refusal("stock: give cuts= or members=, not both")
    return {"cuts": cuts_of(read_members(_text_of(Path(file))))}


def _text_of(path: Path) -> str:
    named = f"stock: members is '{clean(str(path), most=200)}'"
    try:
        if not stat.S_ISREG(path.stat().st_mode):
            raise Refusal(f"{named}, which isn't a plain file. Give a CSV file")
        with path.open("rb") as file:
            raw = file.read(MOST_BYTES + 1)
        if len(raw) > MOST_BYTES:
            raise Refusal(f"{named}, which is over 1 MB; a list of members is a few hundred lines")
        return raw.decode("utf-8-sig")
    except UnicodeDecodeError:
        raise Refusal(f"{named}, which isn't UTF-8. Save it as CSV in UTF-8") from None
    except (OSError, ValueError) as error:
        reason = error.strerror if isinstance(error, OSError) else None
        raise Refusal(
            f"{named}, which can't be read ({reason or 'a name that no file can have'}). Give a CSV file"
        ) from None


def find_example(name: str) -> str:
    """The first input of a calculator's example, such as run=3000."""
    import shlex

    from sitelog.calculators.index import find

    return shlex.split(find(name).example)[0]


def _listing(*, with_usage: bool) -> list[str]:
    from sitelog.calculators.index import calculators

    lines = []
    if with_usage:
        lines += [
            "usage: sitelog calc NAME key=value ... [--json] [--working] [--drawing]",
            "       sitelog calc NAME --help",
            "",
            "Example: sitelog calc common run=3000 pitch=35 --working",
            "",
        ]
    ordered = sorted(calculators().values(), key=lambda listed: _BRANCHES.index(listed.branch))
    for branch, group in groupby(ordered, key=lambda listed: listed.branch):
        lines.append(branch)
        lines += [f"  {listed.name:<13} {listed.does}" for listed in group]
    return lines


_BRANCHES = ("setting-out", "rafters", "curves", "decks", "coverings", "timber")


def _help(calculator: Calculator) -> list[str]:
    results = [f"  {output.name:<28} {output.unit:<6} {output.says}" for output in calculator.results]
    columns = [
        f"    {output.name}.{column.name:<26} {column.unit:<6} {column.says}"
        for output in calculator.results
        for column in output.columns
    ]
    return [
        f"sitelog calc {calculator.name}: {calculator.does}",
        "",
        "inputs",
        *(_input_line(wanted) for wanted in calculator.inputs),
        "",
        "results",
        *results,
        *columns,
        "",
        *calculator.definition.splitlines(),
        f"basis: {calculator.basis}",
        f"Example: sitelog calc {calculator.name} {calculator.example}",
    ]


def _data(one: Calculator) -> CalculatorData:
    """What a calculator takes and gives."""
    from sitelog.cli.script.shapes import CalculatorData, InputData, ResultData

    inputs = [
        InputData(
            name=wanted.name, kind=wanted.kind, says=wanted.says, choices=list(wanted.choices),
            optional=wanted.optional or wanted.default is not None,
        )
        for wanted in one.inputs
    ]  # fmt: skip
    results = [
        ResultData(output.name, output.unit, output.says, [column.name for column in output.columns])
        for output in one.results
    ]
    return CalculatorData(
        name=one.name, branch=one.branch, does=one.does, basis=one.basis, definition=one.definition,
        example=f"sitelog calc {one.name} {one.example}", inputs=inputs, results=results,
    )  # fmt: skip


def _input_line(wanted: Input) -> str:
    facts = [_UNITS.get(wanted.kind, wanted.kind)]
    if wanted.choices:
        facts = ["one of " + ", ".join(wanted.choices)]
    if wanted.default is not None:
        facts.append(f"{_default(wanted)} if left out")
    elif wanted.optional:
        facts.append("optional")
    for words, limit in (("from", wanted.low), ("to", wanted.high), ("over", wanted.over), ("under", wanted.under)):
        if limit is not None:
            facts.append(f"{words} {as_typed(limit)}")
    return f"  {wanted.name:<28} {wanted.says} ({'; '.join(facts)})"


def _default(wanted: Input) -> str:
    """As it would be typed: a third is 1/3."""
    if wanted.kind in ("fraction", "share", "fall") and isinstance(wanted.default, float):
        from fractions import Fraction

        return str(Fraction(wanted.default).limit_denominator(1_000))
    return str(wanted.default)


_UNITS = {
    "length": "mm",
    "offset": "mm, plus or minus",
    "angle": "degrees",
    "pitch": "degrees, 1:1.43 or 8/12",
    "fall": "such as 1:60",
    "section": "such as 47x150",
    "lengths": "mm, a,b,c",
    "offsets": "mm, plus or minus, a,b,c",
    "ties": "such as A-M:4510,B-M:4490",
    "cuts": "such as 47x150:4870:12,47x225:5400:4",
    "prices": "such as 47x150:4800:21.60,47x150:5400:25",
}


def _print_json(answer: Answer) -> None:
    from sitelog.calculators.ask import as_json

    print_json(as_json(answer))


def _print_text(answer: Answer, *, working: bool) -> None:
    from sitelog.calculators import sheet

    print("\n".join(sheet.text(answer, working=working)))


def _print_drawings(answer: Answer) -> None:
    from sitelog.cli.drawn.drawings import pictures
    from sitelog.drawing.index import drawings_of

    made = drawings_of(answer)
    print("\n".join(["", *(pictures(made) if made else [f"{answer.calculator} can't be drawn"])]))
