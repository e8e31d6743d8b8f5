"""`sitelog lint` proves checklists and tells every fault at once; `sitelog lists` brings a job to the newest."""

from __future__ import annotations

import argparse
from collections.abc import Collection, Iterator, Sequence
from pathlib import Path
from typing import TYPE_CHECKING

from msgspec import Struct

from sitelog.checklist.load import lint as faults_of
from sitelog.cli.script.tell import tell
from sitelog.refusal import DONE, PROBLEM

if TYPE_CHECKING:
    from sitelog.job.news import News


def lint(options: argparse.Namespace) -> int:
    """Exit 1 when a fault was found."""
    faults = [str(fault) for fault in faults_of([Path(path) for path in options.paths])]

    def data(said: list[str]) -> Struct:
        from sitelog.cli.script.shapes import Linted

        return Linted(said=said, faults=faults)

    tell(options, faults or [f"{', '.join(options.paths)}: no faults"], data)
    return PROBLEM if faults else DONE


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

    def data(said: list[str]) -> Struct:
        from sitelog.cli.script.shapes import ListRow, Lists

        new, altered, removed = (
            [ListRow(row.path, row.ask, list(row.what)) for row in rows]
            for rows in (found.new, found.changed, found.gone)
        )
        return Lists(said=said, new=new, changed=altered, removed=removed)

    tell(options, [*_told(found, answered), _standing(changed, updated=options.update)], data)
    return DONE


def _standing(changed: Sequence[str], *, updated: bool) -> str:
    """Whether the job goes by the newest lists."""
    if updated:
        return "the job uses the newest checklists from here on"
    if changed:
        return f"newer checklists: {', '.join(changed)}. To use them add --update --by NAME"
    return "the job uses the newest checklists"


def _told(found: News, answered: Collection[str]) -> Iterator[str]:
    """What changes, a line each; of a check that is removed, whether its answer is kept."""
    for word, rows in (("new", found.new), ("changed", found.changed), ("removed", found.gone)):
        for row in rows:
            kept = ["its answer is kept under Earlier checks"] if word == "removed" and row.path in answered else []
            yield "; ".join([f"{word}: {row.path}  {row.ask}", *row.what, *kept])
    for word, kind, name in found.beside:
        yield f"{word}: {kind} {name}"
