"""`sitelog verify`: what is wrong with a job's file, its photos and what a pack told of it, one line each."""

import argparse
from pathlib import Path
from string import hexdigits

from sitelog.job.log.record_code import CODE_LENGTHS, as_printed, leads_to
from sitelog.job.storage.file import JobFile
from sitelog.job.storage.verify import strange
from sitelog.job.storage.verify import verify as faults_of
from sitelog.refusal import Refusal
from sitelog.text import text_between


def verify(options: argparse.Namespace) -> int:
    """1 where something is wrong. What only lies beside the job is told, and is no fault of it."""
    file, code = Path(options.file), _code(options)
    faults = faults_of(file)
    if code and not faults:
        with JobFile.open(file, read_only=True) as job:
            if not leads_to(job.entries, code):
                faults = [
                    f"No record code {code} in {options.file}: check it against the pack."
                    " If it is right, this is another job's file, or entries are missing from its end"
                ]
    for line in (*faults, *strange(file)):
        print(line)
    if not faults:
        led = text_between(", and the record code ", code, " is in the record")
        print(f"{options.file}: all entries and photos are as they were saved{led}")
    return 1 if faults else 0


def _code(options: argparse.Namespace) -> str:
    """The record code that was named, or "". Refusal of what no pack prints, as from a script with a slip."""
    if options.head is None:
        return ""
    code = as_printed(options.head)
    if not code:
        raise Refusal(f"--head needs the record code from the pack: {_lengths()}")
    if wrong := next((letter for letter in code if letter not in hexdigits), ""):
        raise Refusal(f"{wrong!r} can't be in a record code: it has 0 to 9 and a to f")
    if len(code) not in CODE_LENGTHS:
        raise Refusal(f"A record code has {_lengths()}; you typed {len(code)}")
    return code


def _lengths() -> str:
    older = " or ".join(map(str, CODE_LENGTHS[1:]))
    return f"{CODE_LENGTHS[0]} characters{text_between(' (', older, ' on older packs)')}"
