"""The tables of README.md that are made from the program: `python -m tests.docs` writes them anew."""

from pathlib import Path

from sitelog.cli.words import COMMANDS
from sitelog.trade.index import calculators

README = Path(__file__).parent.parent / "README.md"


def tables() -> dict[str, list[str]]:
    """Each table's name and its rows."""
    return {
        "commands": ["| command | what it does |", "|---|---|", *(f"| `{c.name}` | {c.does} |" for c in COMMANDS)],
        "calculators": [
            "| calculator | branch | what it does |",
            "|---|---|---|",
            *(f"| `{c.name}` | {c.branch} | {c.does} |" for c in calculators().values()),
        ],
    }


def written(text: str) -> str:
    """The text with its tables as they should be."""
    for name, rows in tables().items():
        block = "\n".join([f"<!-- {name} -->", *rows, f"<!-- /{name} -->"])
        before, _, rest = text.partition(f"<!-- {name} -->")
        text = before + block + rest.partition(f"<!-- /{name} -->")[2]
    return text


if __name__ == "__main__":
    README.write_text(written(README.read_text(encoding="utf-8")), encoding="utf-8")
