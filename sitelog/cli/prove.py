"""`sitelog verify`: what is wrong with a job's file, its photos and what a pack told of it, one line each."""

import argparse
from pathlib import Path

from sitelog.job.acts import as_printed
from sitelog.job.file import JobFile
from sitelog.job.verify import leads_to, strange
from sitelog.job.verify import verify as faults_of
from sitelog.refusal import Refusal


def verify(options: argparse.Namespace) -> int:
    """1 where something is wrong. What only lies beside the job is told, and is no fault of it."""
    file, code = Path(options.file), _code(options)
    faults = faults_of(file)
    if code and not faults:
        with JobFile.open(file, read_only=True) as job:
            if not leads_to(job.entries, code):
                away = "it is of another job, or was cut off"
                faults = [f"{options.file} does not lead to head code {code[:40]}: {away}"]
    for line in (*faults, *strange(file)):
        print(line)
    if not faults:
        led = f"; the record leads to head code {code}" if code else ""
        print(f"{options.file}: every entry is whole and in its chain, and every photo as it was kept{led}")
    return 1 if faults else 0


def _code(options: argparse.Namespace) -> str:
    """The head code that was named, or "". Refusal for an empty one, as from a script whose variable was not set."""
    if options.head is None:
        return ""
    code = as_printed(options.head)
    if not code:
        raise Refusal("--head is empty: give the head code as it stands in the pack, such as 0123456789ab")
    return code
