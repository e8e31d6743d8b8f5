"""The worst of many hostile files of a mebibyte, from the command to its refusal, against half a second."""

from collections.abc import Iterator
from pathlib import Path
from tempfile import TemporaryDirectory
from time import perf_counter

from tests.bench.row import Row
from tests.checklist.small import HIPPED, write
from tests.hostile.fronts import say
from tests.hostile.jobs import job
from tests.hostile.mebibytes import JOBS, JOURNALS, LISTS, journal_of

MOST_MS = 500.0
COMMANDS = ("show", "verify")


def rows() -> list[Row]:
    """The worst job, journal and checklist, each with its name."""
    with TemporaryDirectory() as folder:
        good = job(Path(folder), str)
        say("show", good)  # what a first start compiles is no cost of the file
        return [
            Row(f"{what}: {name}", ms, MOST_MS, ms / MOST_MS, 1.0)
            for what, found in (
                ("a job", _jobs(Path(folder))),
                ("a journal", _journals(good)),
                ("a list", _lists(Path(folder))),
            )
            for ms, name in [max(found)]
        ]


def _jobs(folder: Path) -> Iterator[tuple[float, str]]:
    file = folder / "bad.json"
    for name, text in JOBS.items():
        file.write_text(text, encoding="utf-8")
        for command in COMMANDS:
            yield _ms(command, file), f"{name}, {command}"


def _journals(file: Path) -> Iterator[tuple[float, str]]:
    journal = file.with_name(f"{file.name}.files") / "journal"
    journal.parent.mkdir(exist_ok=True)
    for name, raw in JOURNALS.items():
        journal.write_bytes(journal_of(file, raw))
        yield _ms("verify", file), name


def _lists(folder: Path) -> Iterator[tuple[float, str]]:
    write(folder, hipped=HIPPED)
    say("lint", folder / "hipped.toml")
    for name, text in LISTS.items():
        (folder / "hipped.toml").write_text(text, encoding="utf-8")
        yield _ms("lint", folder / "hipped.toml"), name


def _ms(*words: str | Path) -> float:
    """The best of three: another program may have had the machine."""
    times = []
    for _ in range(3):
        start = perf_counter()
        say(*words)
        times.append((perf_counter() - start) * 1000)
    return min(times)
