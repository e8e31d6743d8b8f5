"""`sitelog lint` proves checklists and tells every fault at once; `sitelog lists` brings a job to the newest."""

from __future__ import annotations

import argparse
from collections.abc import Collection, Iterator
from pathlib import Path
from typing import TYPE_CHECKING

from sitelog.checklist.load import lint as faults_of

if TYPE_CHECKING:
    from sitelog.job.news import News


def lint(options: argparse.Namespace) -> int:
    """Exit 1 when a fault was found."""
    faults = faults_of([Path(path) for path in options.paths])
    for fault in faults:
        print(fault)
    if not faults:
        print(f"{', '.join(options.paths)}: no faults")
    return 1 if faults else 0


def lists(options: argparse.Namespace) -> int:
    """What the newest lists would change; with --update the job goes by them from here on."""
    from sitelog.cli.keep.job_file import author, opened
    from sitelog.job.news import news

    with opened(options, read_only=not options.update) as job:
        found = news(job.state, job.library, job.newest)
        changed = job.state.changed_lists
        answered = {view.path for view in job.state.checks() if view.by}
        if options.update:
            job.update_lists(author(options))
    print("".join(f"{line}\n" for line in _told(found, answered)), end="")
    if options.update:
        print("the job uses the newest checklists from here on")
    elif changed:
        print(f"newer checklists: {', '.join(changed)}. To use them add --update --by NAME")
    else:
        print("the job uses the newest checklists")
    return 0


def _told(found: News, answered: Collection[str]) -> Iterator[str]:
    """What changes, a line each; of a check that is removed, whether its answer is kept."""
    for word, rows in (("new", found.new), ("changed", found.changed), ("removed", found.gone)):
        for row in rows:
            kept = ["its answer is kept under Earlier checks"] if word == "removed" and row.path in answered else []
            yield "; ".join([f"{word}: {row.path}  {row.ask}", *row.what, *kept])
    for word, kind, name in found.beside:
        yield f"{word}: {kind} {name}"
