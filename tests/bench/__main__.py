"""Run every subject, or those named: each module here with a `rows()`. Ends with 1 if a limit is not kept."""

import os
import pkgutil
import sys
from collections.abc import Callable, Iterator, Sequence
from importlib import import_module
from tempfile import TemporaryDirectory

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
    with TemporaryDirectory() as folder:
        # A machine of its own: what this one remembers of jobs of that name would be looked for in each.
        os.environ.update(XDG_STATE_HOME=f"{folder}/state", XDG_CACHE_HOME=f"{folder}/cache")
        kept = [_printed(there[name], name) for name in wanted or there]
    return 0 if all(kept) else 1


def _printed(rows: Callable[[], Sequence[Row | Told]], name: str) -> bool:
    """Print a subject's rows; whether all their limits are kept."""
    print(name)
    kept = True
    for row in rows():
        print(f"  {row}")
        kept = kept and row.kept
    return kept


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
