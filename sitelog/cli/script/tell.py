"""What a command says when it is done: lines, or with --json the same and more as one object."""

import argparse
from collections.abc import Callable, Iterable

from msgspec import Struct


def tell(options: argparse.Namespace, lines: Iterable[str], data: Callable[[list[str]], Struct]) -> None:
    """Print the lines; with --json what `data` makes of them. It is not called without, so that it may import."""
    said = list(lines)
    if options.json:
        print_json(data(said))
    elif said:
        print("\n".join(said))


def tell_made(options: argparse.Namespace, paths: Iterable[object], *further: str) -> None:
    """The files that were written, then what is said of them."""
    files = list(map(str, paths))

    def data(said: list[str]) -> Struct:
        from sitelog.cli.script.shapes import Made

        return Made(said=said, files=files)

    tell(options, [*files, *further], data)


def print_json(data: object) -> None:
    """One object on one line, all that a terminal would obey escaped."""
    import json

    import msgspec

    print(json.dumps(msgspec.to_builtins(data)))
