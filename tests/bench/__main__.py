"""Run every subject, or those named: each module here with a `rows()`. Ends with 1 if a limit is not kept."""

import pkgutil
import sys
from collections.abc import Callable, Iterator, Sequence
from importlib import import_module

from tests import bench
from tests.bench.day import Told
from tests.bench.row import Row


def subjects() -> Iterator[tuple[str, Callable[[], Sequence[Row | Told]]]]:
    """The modules beside this one that have rows, in order of name."""
    for found in pkgutil.iter_modules(bench.__path__):
        if not found.name.startswith("_"):
            rows = getattr(import_module(f"{bench.__name__}.{found.name}"), "rows", None)
            if rows is not None:
                yield found.name, rows


def main(wanted: list[str]) -> int:
    there = dict(subjects())
    if unknown := [name for name in wanted if name not in there]:
        print(f"No subject {unknown[0]}: there are {', '.join(there)}.", file=sys.stderr)
        return 2
    kept = True
    for name in wanted or there:
        print(name)
        for row in there[name]():
            print(f"  {row}")
            kept = kept and row.kept
    return 0 if kept else 1


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
