"""`sitelog verify`: what is wrong with a job's file, its photos and what a pack told of it, one line each."""

import argparse
from collections.abc import Iterator
from contextlib import suppress
from datetime import datetime
from pathlib import Path
from string import hexdigits

from msgspec import Struct

from sitelog.cli.script.tell import tell
from sitelog.job.log.record_code import CODE_LENGTHS, as_printed
from sitelog.job.machine.memory import machines_own
from sitelog.job.storage.copies import counted
from sitelog.job.storage.file import JobFile
from sitelog.job.storage.verify import Proof, proved
from sitelog.refusal import DONE, PROBLEM, Refusal
from sitelog.text import text_between
from sitelog.wording.prompts.rescuing import copy_offers

SHORT = "This code is an older, shorter one: it shows a slip or a lost entry, but not what somebody changed with skill"


def verify(options: argparse.Namespace) -> int:
    """1 where something is wrong. What only lies beside the job is told, and is no fault of it.

    What is told is of the file as it was found. Only then, and if all that was saved is well, what a killed program
    left in a journal goes into it; a line of this device's that broke off was never saved, and is taken off.
    """
    file, code = Path(options.file), _code(options)
    proof = proved(file, datetime.now().astimezone(), code)
    faults = [*proof.faults, *_lacks(file, proof)]
    if code and not faults and not proof.leads:
        faults = [_unproved(options.file, code, proof.packed)]
    beside = [*proof.odd, *_copies(options.file)]
    led = text_between(", and give the record code ", code, "")
    sound = [f"{options.file}: all entries and photos are as they were saved{led}"]
    if code and len(code) < CODE_LENGTHS[0]:
        sound.append(SHORT)

    def data(said: list[str]) -> Struct:
        from sitelog.cli.script.shapes import Verified

        return Verified(said=said, good=not faults, faults=list(faults), beside=beside)

    tell(options, [*faults, *beside, *([] if faults else sound)], data)
    if proof.behind and faults == proof.faults:
        _fold_in(file)
    return PROBLEM if faults else DONE


def _fold_in(file: Path) -> None:
    """Unless another has the job, or the disk is full: then it stays where it is."""
    from sitelog.cli.keep.job_file import fold_in

    with suppress(Refusal):
        fold_in(file)


def _unproved(file: str, code: str, packed: bool) -> str:
    """What to say where the record code can't be worked again from the entries."""
    if packed:
        return (
            f"{file} has a pack with record code {code}, but its entries don't give that code: some were changed or"
            " taken out since. Get the copy it was made from, and join it: sitelog merge"
        )
    return (
        f"No record code {code} in {file}: check it against the pack."
        " If it is right, this is another job's file, or entries are missing from its end"
    )


def _copies(file: str) -> Iterator[str]:
    """The copies that lie beside it, as far as they and it can be read."""
    with suppress(Refusal):
        yield from copy_offers(counted(Path(file)), file)


def _lacks(file: Path, proof: Proof) -> list[str]:
    """What was saved on this machine and isn't in it, in a line; of a file that can't be read nothing."""
    known = {end.digest for end in machines_own().ends(proof.job, file.resolve())}
    if proof.job and known <= proof.ends:
        return []
    try:
        with JobFile.open(file, read_only=True, memory=machines_own()) as job:
            return [job.lacks] if job.lacks else []
    except Refusal:
        return []


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
