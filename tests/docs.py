"""The tables of README.md and checklists/README.md made from the program: `python -m tests.docs` writes them again."""

import inspect
from collections.abc import Iterator, Mapping
from itertools import groupby
from pathlib import Path

from sitelog.calculators.index import calculators
from sitelog.checklist.load import LINT
from sitelog.checklist.schema.kinds import UNITS
from sitelog.cli.words import COMMANDS
from sitelog.quantities.quantity import ACCEPTS

README = Path(__file__).parent.parent / "README.md"
DEVELOPERS = README.with_name("DEVELOPERS.md")
LISTS = README.parent / "checklists" / "README.md"

Tables = Mapping[str, list[str]]


def tables() -> Tables:
    """Each made part of README.md by its name, with its lines."""
    names = ", ".join(command.name for command in COMMANDS)
    return {"commands": [f"Commands: {names}."], "calculators": [f"Calculators: {'; '.join(_by_branch())}."]}


def _by_branch() -> Iterator[str]:
    """Each branch of the trade with its calculators, as a line of README.md names them."""
    by_branch: dict[str, list[str]] = {}
    for one in calculators().values():
        by_branch.setdefault(one.branch, []).append(one.name)
    for branch, names in by_branch.items():
        yield f"{branch}: {', '.join(names)}"


def lists_tables() -> Tables:
    """Those of checklists/README.md: the kinds of quantity, and what lint holds, by the module that holds it."""
    return {
        "kinds": [
            "| kind | unit | what is typed |",
            "|---|---|---|",
            *(f"| `{kind}` | {UNITS.get(kind, '')} | {words} |" for kind, words in ACCEPTS.items()),
        ],
        "rules": ["| file | rules |", "|---|---|", *_rules()],
    }


def _rules() -> list[str]:
    by_file = groupby(LINT, key=lambda rule: Path(inspect.getfile(rule)).name)
    return [f"| `{name}` | {'; '.join(rule.__name__.replace('_', ' ') for rule in rules)} |" for name, rules in by_file]


def written(text: str, made: Tables | None = None) -> str:
    """The text with its tables as they should be: those of README.md, or those that are given."""
    for name, rows in (tables() if made is None else made).items():
        block = "\n".join([f"<!-- {name} -->", *rows, f"<!-- /{name} -->"])
        before, _, rest = text.partition(f"<!-- {name} -->")
        text = before + block + rest.partition(f"<!-- /{name} -->")[2]
    return text


if __name__ == "__main__":
    for page, made in ((README, tables()), (LISTS, lists_tables())):
        page.write_text(written(page.read_text(encoding="utf-8"), made), encoding="utf-8")
