"""Tablets in one synced folder, by chance: nothing that was confirmed is lost, and the same entries are the same bytes.

The folder of each is brought up to date with a store between them, file by file, as such programs do: what changed on
one side alone is copied; what changed on both is a conflict, where one takes the name and the other is kept under
another name beside it. Tablets are apart for a while, die with the job open, are put back to an older folder, have
their folder renamed, and clocks that jump by a day. The disk is one in memory, where the system has one.
"""

import json
import os
import random
import shutil
import signal
import subprocess
import sys
from collections.abc import Iterator
from contextlib import suppress
from dataclasses import dataclass, field
from datetime import timedelta
from pathlib import Path
from tempfile import TemporaryDirectory

import pytest
from tinydb import TinyDB

from sitelog.job.log.entry import Author, Draft, Entry, seal
from sitelog.job.machine.memory import Memory
from sitelog.job.storage.copies import found, join_beside, settle
from sitelog.job.storage.disk import beside
from sitelog.job.storage.file import JobFile
from sitelog.job.storage.verify import verify
from tests.job.logs import SEVEN, START
from tests.length import LONG, grows

DEVICES = ("tablet-1", "tablet-2", "phone-03")
STEPS = 24
NAME = "barn.json"

IN_MEMORY = Path("/dev/shm")
AT_ONCE = 250  # schedules of one test

Files = dict[str, bytes]


def shared(folder: Path) -> Files:
    """The files that such a program brings from one tablet to another: no copies, nothing that is being written."""
    found: Files = {}
    for within in ("", f"{NAME}.files"):
        place = folder / within
        with suppress(FileNotFoundError), os.scandir(place) as rows:
            for row in rows:
                if row.is_file() and not row.name.startswith("."):
                    with open(row.path, "rb") as file:  # noqa: PTH123 - a row is no path
                        found[os.path.join(within, row.name)] = file.read()  # noqa: PTH118 - nor is its name
    return found


@dataclass
class Tablet:
    """One device: its folder, what it had when it was last brought up to date, and the job where it is open."""

    name: str
    folder: Path
    memory: Memory
    base: Files = field(default_factory=dict)
    open: JobFile | None = None
    clock: timedelta = timedelta(0)
    older: Files | None = None

    @property
    def job(self) -> Path:
        return self.folder / NAME

    def put(self, files: Files, there: Files) -> None:
        """These files and no others stand in the folder now, each renamed over what was there."""
        for name in there.keys() - files.keys():
            (self.folder / name).unlink()
        for name, raw in files.items():
            if there.get(name) != raw:
                place = self.folder / name
                place.parent.mkdir(exist_ok=True)
                place.with_name(f".{place.name}.sync").write_bytes(raw)
                place.with_name(f".{place.name}.sync").replace(place)


def ids_in(job: Path) -> set[str]:
    """The entries that the file alone has, as plain TinyDB finds them."""
    if LONG:  # the same, in a tenth of the time
        return {doc["id"] for doc in json.loads(job.read_bytes())["entries"].values()}
    with TinyDB(job) as plain:
        return {doc["id"] for doc in plain.table("entries")}


class World:
    """Some tablets and the store between them, gone through by chance."""

    def __init__(self, place: Path, seed: int) -> None:
        self.chance = random.Random(seed)
        self.store: Files = {}
        self.confirmed: dict[str, Entry] = {}
        self.conflicts = self.settled = 0
        self.minute = 0
        devices = DEVICES[: self.chance.choice((2, 2, 3))]
        self.tablets = [Tablet(name, place / name, Memory(place / f"{name}.state")) for name in devices]
        for tablet in self.tablets:
            tablet.folder.mkdir(parents=True)
        first = self.tablets[0]
        start = seal(START, self.author(first), None)
        JobFile.create(first.job, [start], memory=first.memory).close()
        self.confirmed[start.id] = start
        for tablet in self.tablets:
            self.sync(tablet)

    def author(self, tablet: Tablet) -> Author:
        self.minute += 1
        return Author("A. Foreman", tablet.name, SEVEN + timedelta(minutes=self.minute) + tablet.clock)

    # -- what happens --

    def enter(self, tablet: Tablet) -> None:
        if tablet.open is None:
            if not tablet.job.exists():
                return
            tablet.open = JobFile.open(tablet.job, author=self.author(tablet), memory=tablet.memory)
            tablet.open.recall()
            self.look_beside(tablet, tablet.open)
        entries = tablet.open.entries
        before = next((entry for entry in reversed(entries) if entry.device == tablet.name), None)
        entry = seal(Draft(act="note", note=f"{self.minute}"), self.author(tablet), before, entries[-1].id)
        tablet.open.append([entry])
        self.confirmed[entry.id] = entry

    def look_beside(self, tablet: Tablet, job: JobFile) -> None:
        """As the screens do: a copy that holds nothing new is removed, any other joined, or left for another day."""
        join_them = self.chance.random() < 0.5
        self.settled += len(
            settle(job, [copy for copy in found(job.path, job.entries) if copy.spare or join_them]).removed
        )

    def shut(self, tablet: Tablet) -> None:
        if tablet.open is not None:
            tablet.open.close()
            tablet.open = None
            there = {entry.id for entry in JobFile.open(tablet.job, read_only=True).entries}
            assert ids_in(tablet.job) == there, "the file alone has all that is known"

    def die(self, tablet: Tablet) -> None:
        """The battery is empty: what is open is not closed."""
        if tablet.open is not None:
            tablet.open.let_go()
            tablet.open = None

    def rename(self, tablet: Tablet) -> None:
        self.shut(tablet)
        new = tablet.folder.with_name(f"{tablet.folder.name}-moved")
        tablet.folder.rename(new)
        tablet.folder = new

    def back_up(self, tablet: Tablet) -> None:
        tablet.older = shared(tablet.folder)

    def jump(self, tablet: Tablet) -> None:
        tablet.clock = timedelta(days=self.chance.choice((-1, 0, 1)))

    def sync(self, tablet: Tablet) -> None:
        """Both sides brought together; a tablet may be open meanwhile."""
        local, made = shared(tablet.folder), dict(self.store)
        for name in sorted(local.keys() | self.store.keys() | tablet.base.keys()):
            here, there, base = local.get(name), self.store.get(name), tablet.base.get(name)
            if here == there:
                continue
            if here == base:
                continue  # the store's is newer
            if there == base or there is None:
                self._set(made, name, here)
            elif here is not None:
                self.conflicts += 1
                loses = here
                if self.chance.random() < 0.5:
                    loses, made[name] = there, here
                made[self._aside(name)] = loses
        self.store = made
        tablet.put(made, local)
        tablet.base = dict(made)

    def _set(self, files: Files, name: str, raw: bytes | None) -> None:
        if raw is None:
            files.pop(name, None)
        else:
            files[name] = raw

    def _aside(self, name: str) -> str:
        """What is made of a name for the other of two: each program has its own way, in its own language."""
        folder, file = os.path.split(name)
        stem, dot, ending = file.rpartition(".")
        number = self.conflicts
        called = self.chance.choice(
            (f"{stem} (in conflict {number}){dot}{ending}", f"{file} ({number})", f"Kopie {number} von {file}")
        )
        return os.path.join(folder, called)  # noqa: PTH118 - a name in the store is no path

    def restore(self, tablet: Tablet) -> None:
        """An older folder is put back, as from a backup."""
        if tablet.older is None:
            return
        self.die(tablet)
        tablet.put(tablet.older, shared(tablet.folder))  # which then goes to all the others as if it were new

    def step(self) -> None:
        tablet = self.chance.choice(self.tablets)
        acts = (
            *(self.enter,) * 6, *(self.sync,) * 4, *(self.shut,) * 2,
            self.die, self.rename, self.back_up, self.restore, self.jump,
        )  # fmt: skip
        self.chance.choice(acts)(tablet)

    # -- and at the end --

    def come_together(self) -> list[bytes]:
        """Everybody is in reach, opens and closes the job, and joins what stands beside it under another name."""
        for tablet in self.tablets:
            self.die(tablet)
        files: list[bytes] = []
        for _ in range(4):
            for tablet in self.tablets:
                self.sync(tablet)
            for tablet in self.tablets:
                join_beside(tablet.job, memory=tablet.memory)
            files = [tablet.job.read_bytes() for tablet in self.tablets]
            if len(set(files)) == 1 and not any(found(tablet.job, self.held(tablet)) for tablet in self.tablets):
                break
        return files

    def held(self, tablet: Tablet) -> list[Entry]:
        with JobFile.open(tablet.job, read_only=True) as file:
            return file.entries


@pytest.fixture
def place(tmp_path: Path) -> Iterator[Path]:
    """A folder on a disk in memory, where there is one."""
    if not IN_MEMORY.is_dir():
        yield tmp_path
        return
    with TemporaryDirectory(dir=IN_MEMORY) as folder:
        yield Path(folder)


@grows
@pytest.mark.parametrize("first", range(0, 10_000, AT_ONCE) if LONG else [0])
def test_nothing_confirmed_is_lost_and_the_same_entries_are_the_same_bytes(
    place: Path, monkeypatch: pytest.MonkeyPatch, first: int
) -> None:
    monkeypatch.setattr(os, "fsync", lambda _: None)  # what is looked at here needs no disk
    conflicts = removed = 0
    for seed in range(first, first + (AT_ONCE if LONG else 50)):
        world = World(place / "world", seed)
        for _ in range(STEPS):
            world.step()
        files = world.come_together()
        assert len(set(files)) == 1, seed
        held = {entry.id: entry for entry in world.held(world.tablets[0])}
        lost = world.confirmed.keys() - held.keys()
        assert not lost, (seed, sorted(lost))
        assert all(held[id] == entry for id, entry in world.confirmed.items()), seed
        assert verify(world.tablets[0].job) == [], seed
        conflicts, removed = conflicts + world.conflicts, removed + world.settled
        shutil.rmtree(place / "world")
    assert conflicts > 20
    assert removed > 5


KILLED = """
import os, signal, sys
from pathlib import Path
from sitelog.job.log.entry import Draft, seal
from sitelog.job.machine.memory import Memory
from sitelog.job.storage.file import JobFile
from tests.job.logs import author
device, job, state = sys.argv[1:]
file = JobFile.open(job, author=author(device, 60), memory=Memory(Path(state)))
before = None
for number in range(4):
    draft = Draft(act="note", note=f"{device} {number}")
    before = seal(draft, author(device, 60 + number), before, file.entries[-1].id)
    file.append([before])
    print(before.id, flush=True)
os.kill(os.getpid(), signal.SIGKILL)
"""


def test_two_screens_open_on_one_synced_job_both_killed_lose_nothing(place: Path) -> None:
    """Each has entered four notes; what one confirmed is there on both once the folders are brought together."""
    world = World(place / "world", 0)
    first, second = world.tablets[:2]
    confirmed = set()
    for tablet in (first, second):
        words = [sys.executable, "-c", KILLED, tablet.name, str(tablet.job), str(tablet.memory.folder)]
        said = subprocess.run(words, stdout=subprocess.PIPE, text=True, check=False)
        assert said.returncode == -signal.SIGKILL
        confirmed |= set(said.stdout.split())
    assert len(confirmed) == 8
    for tablet in (first, second, first):
        world.sync(tablet)
    for tablet in (first, second):
        assert {entry.id for entry in world.held(tablet)} >= confirmed
        JobFile.open(tablet.job, author=world.author(tablet), memory=tablet.memory).close()
        assert ids_in(tablet.job) >= confirmed
    assert first.job.read_bytes() == second.job.read_bytes()
    assert verify(first.job) == []


def test_no_journal_is_cut_while_another_device_may_lack_what_is_in_it(place: Path) -> None:
    """The file that holds all of it may be replaced by another's, which does not: so each journal stays whole."""
    world = World(place / "world", 0)
    first, second = world.tablets[:2]
    for tablet in (first, second, first):
        world.enter(tablet)
        world.shut(tablet)
        world.sync(tablet)
    theirs = second.job.read_bytes()
    world.enter(first)
    entered = world.held(first)[-1]
    world.shut(first)
    first.job.write_bytes(theirs)
    assert world.held(first)[-1] == entered
    for _ in range(2):
        JobFile.open(first.job, author=world.author(first)).close()
        assert entered.id.encode() in (beside(first.job) / f"journal.{first.name}").read_bytes()
    assert entered.id in ids_in(first.job)
