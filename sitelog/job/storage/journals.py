"""The journals beside a job: one for each device, written by it alone, read and joined by all.

A program that brings a folder up to date between devices so has nothing to fight over: no two write one file.
"""

import os
import re
from collections.abc import Collection, Sequence
from contextlib import suppress
from pathlib import Path

from sitelog.job.log.entry import Author, Entry
from sitelog.job.log.union import joined, new_in
from sitelog.job.storage.disk import sync_folder
from sitelog.job.storage.format import Seals
from sitelog.job.storage.journal import BROKEN, Journal
from sitelog.job.storage.lines import Left

JOURNAL = "journal"  # of a program that knew one for all devices; `journal.DEVICE` is a device's own
LONG = 1 << 18  # bytes: a journal of one device alone is begun anew past them
_NOT = (BROKEN, "journal.new")
_BEGINS = b'{"journal":'
_ANOTHER = re.compile(r"\.|[0-9a-f]{64}\.|copies$|(typed|(own-)?lists)\.json")  # of what else stands there


class Beside:
    """One journal as it was read, and what it is called where it is told."""

    def __init__(self, journal: Journal, left: Left) -> None:
        self.journal = journal
        self.left = left
        self.name = journal.path.name

    @property
    def own(self) -> bool:
        """Does it go by the name of one device? Then it need not go on from the file that stands beside it."""
        return self.name != JOURNAL


class Journals:
    """All of one job. What a device enters goes to its own; the others are read."""

    def __init__(self, files: Path) -> None:
        self._files = files
        self._read: dict[str, Beside] = {}
        self._own: Journal | None = None
        self._used = False  # has anything been entered into the own one?
        self._written: list[Entry] = []  # all that stands in it

    def read(self) -> list[Beside]:
        """What stands in each, in order of their names; `Refusal` 2 or 3 if one can't be read at all."""
        found = {}
        if self._own and _is_other(self._own):
            self._own.close()
        for path in self._paths():
            journal = Journal(path)
            if self._own and self._own.path == path:
                journal = self._own
            left = journal.read()
            if left is not None:
                found[path.name] = Beside(journal, left)
        self._read = found
        if self._own:
            self._settle_own(self._own)
        return list(found.values())

    def _settle_own(self, own: Journal) -> None:
        """What was put in place of the own one is joined with what was written to it, and it is begun anew."""
        beside = self._read.get(own.path.name)
        there: list[Entry] = []
        if beside:
            there = joined((), beside.left.entries)
        if new_in(there, self._written):
            own.close()
        self._written = joined(self._written, there)

    @property
    def size(self) -> int:
        """Bytes that were written here."""
        if self._own:
            return self._own.size
        return 0

    @property
    def unsettled(self) -> bool:
        """Is there one to be put right once the file holds what is in it: `settle` does so."""
        return any(beside.journal.there and self._passes(beside) for beside in self._read.values()) or (
            self._own is not None and self._own.unsure
        )

    def own_of(self, author: Author | None, known: Collection[str]) -> None:
        """Who enters from here on; where nobody is told, the device that is known, if it is alone."""
        if author:
            self._begin_own(author.device)
        elif len(known) == 1:
            self._begin_own(*known)

    def _begin_own(self, device: str) -> None:
        name = f"{JOURNAL}.{device}"
        beside = self._read.get(name)
        if beside:
            self._own, self._written = beside.journal, joined((), beside.left.entries)
        else:
            self._own, self._written = Journal(self._files / name), []

    def changed(self) -> bool:
        """Is any another than the one last read or written here, or gone, or new? OSError where that can't be told."""
        known = {name: beside.journal for name, beside in self._read.items()}
        if self._own and self._own.there:
            known[self._own.path.name] = self._own
        there = {path.name for path in self._paths()}
        return there != {name for name, journal in known.items() if journal.there} or any(
            journal.changed() for journal in known.values()
        )

    def replaced(self) -> bool:
        """Does another file stand where a line was just written, or may it?"""
        return self._own is not None and _is_other(self._own)

    def add(self, job: str, seals: Seals, fresh: Sequence[Entry]) -> None:
        """Bring one save to the disk, into the journal of the device that enters; `Refusal` 4 if it is not there."""
        if not self._used:
            self._begin_own(fresh[0].device)
        assert self._own is not None
        self._used = True
        self._own.add(job, seals, self._written, fresh)
        self._written += fresh

    def settle(self, job: str, seals: Seals) -> None:
        """Put right what is not as it should be, as the file holds by now all that could be read beside it.

        What `_passes` is taken away, and what was never confirmed out of the own one.
        """
        if self._own is not None:
            self._own.renew(job, seals, self._written)
        for beside in self._read.values():
            if self._passes(beside):
                beside.journal.drop()

    def _passes(self, beside: Beside) -> bool:
        """Is it to be taken away? One without a device's name, a damaged one, a copy that has nothing of its own."""
        if not beside.own or beside.left.fault or beside.left.spoilt:
            return True
        entries = beside.left.entries
        name = f"{JOURNAL}.{entries[0].device}" if entries else beside.name
        if beside.name == name or name not in self._read:
            return False
        there = {entry.id: entry for entry in self._read[name].left.entries}
        return all(there.get(entry.id) == entry for entry in entries)

    def drop_held(self, path: Path, devices: Collection[str]) -> None:
        """Take a long one away that the file at `path`, as it was found, holds all of, where no other device is in it.

        Where another has, it stays for ever: that one's file may come in place of this, and not hold what is in it.
        """
        if len(devices) == 1 and self._read.keys() == {f"{JOURNAL}.{device}" for device in devices}:
            (beside,) = self._read.values()
            with suppress(OSError):
                if beside.journal.path.stat().st_size > LONG:
                    sync_folder(path.parent)  # the file's name may not be on the disk yet
                    beside.journal.drop()

    def close(self) -> None:
        """Write no more."""
        if self._own:
            self._own.close()

    def _paths(self) -> list[Path]:
        """Whatever a program that copies them has made of their names."""
        try:
            with os.scandir(self._files) as rows:
                names = [row.name for row in rows if _is_journal(row)]
        except (FileNotFoundError, NotADirectoryError):
            return []
        return [self._files / name for name in sorted(names)]


def _is_journal(row: "os.DirEntry[str]") -> bool:
    """By its name, or by how it begins."""
    if row.name.startswith(JOURNAL):
        return not row.name.startswith(_NOT)
    if _ANOTHER.match(row.name) or not row.is_file(follow_symlinks=False):
        return False
    with suppress(OSError), open(row.path, "rb") as file:  # noqa: PTH123 - a row is no path
        return file.read(len(_BEGINS)) == _BEGINS
    return False


def _is_other(journal: Journal) -> bool:
    try:
        return journal.changed()
    except OSError:
        return True
