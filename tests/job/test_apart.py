"""Tablets in one synced folder, by chance: nothing that was confirmed is lost, and the same entries are the same bytes.

The folder of each is brought up to date with a store between them, file by file, as such programs do: what changed on
one side alone is copied; what changed on both is a conflict, where one takes the name and the other is kept under
another name beside it. Tablets are apart for a while, die with the job open, are put back to an older folder, have
their folder renamed, and clocks that jump.
"""

import os
import random
import shutil
from dataclasses import dataclass, field
from datetime import timedelta
from pathlib import Path

import pytest
from tinydb import TinyDB

from sitelog.job.log.entry import Author, Draft, Entry, seal
from sitelog.job.machine.memory import Memory
from sitelog.job.storage.file import JobFile
from sitelog.job.storage.merge import join
from sitelog.job.storage.verify import verify
from tests.job.logs import SEVEN, START
from tests.length import LONG, grows

DEVICES = ("tablet-1", "tablet-2", "phone-03")
STEPS = 24
NAME = "barn.json"

Files = dict[str, bytes]


def shared(folder: Path) -> Files:
    """The files that such a program brings from one tablet to another: no copies, nothing that is being written."""
    return {
        str(path.relative_to(folder)): path.read_bytes()
        for path in sorted(folder.rglob("*"))
        if path.is_file() and "copies" not in path.parts and not path.name.startswith(".")
    }


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

    def put(self, files: Files) -> None:
        """These files and no others stand in the folder now, each renamed over what was there."""
        for name in shared(self.folder).keys() - files.keys():
            (self.folder / name).unlink()
        for name, raw in files.items():
            place = self.folder / name
            if not place.exists() or place.read_bytes() != raw:
                place.parent.mkdir(exist_ok=True)
                place.with_name(f".{place.name}.sync").write_bytes(raw)
                place.with_name(f".{place.name}.sync").replace(place)


class World:
    """Some tablets and the store between them, gone through by chance."""

    def __init__(self, place: Path, seed: int) -> None:
        self.chance = random.Random(seed)
        self.store: Files = {}
        self.confirmed: dict[str, Entry] = {}
        self.conflicts = 0
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
        entries = tablet.open.entries
        before = next((entry for entry in reversed(entries) if entry.device == tablet.name), None)
        entry = seal(Draft(act="note", note=f"{self.minute}"), self.author(tablet), before, entries[-1].id)
        tablet.open.append([entry])
        self.confirmed[entry.id] = entry

    def shut(self, tablet: Tablet) -> None:
        if tablet.open is not None:
            tablet.open.close()
            tablet.open = None
            there = {entry.id for entry in JobFile.open(tablet.job, read_only=True).entries}
            with TinyDB(tablet.job) as plain:
                assert {doc["id"] for doc in plain.table("entries")} == there, "the file alone has all that is known"

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
        tablet.put(made)
        tablet.base = dict(made)

    def _set(self, files: Files, name: str, raw: bytes | None) -> None:
        if raw is None:
            files.pop(name, None)
        else:
            files[name] = raw

    def _aside(self, name: str) -> str:
        stem, dot, ending = name.rpartition(".")
        if name == NAME:
            return f"{stem} (in conflict {self.conflicts}){dot}{ending}"
        return f"{name} (in conflict {self.conflicts})"

    def restore(self, tablet: Tablet) -> None:
        """An older folder is put back, as from a backup."""
        if tablet.older is None:
            return
        self.die(tablet)
        tablet.put(tablet.older)  # which then goes to all the others as if it were new

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
        for _ in range(3):
            for tablet in self.tablets:
                self.sync(tablet)
            for tablet in self.tablets:
                copies = [path for path in sorted(tablet.folder.glob("*.json")) if path.name != NAME]
                join(tablet.job, copies, memory=tablet.memory)
        return [tablet.job.read_bytes() for tablet in self.tablets]


@grows
def test_nothing_confirmed_is_lost_and_the_same_entries_are_the_same_bytes(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(os, "fsync", lambda _: None)  # what is looked at here needs no disk
    conflicts = 0
    for seed in range(500 if LONG else 40):
        world = World(tmp_path / "world", seed)
        for _ in range(STEPS):
            world.step()
        files = world.come_together()
        assert len(set(files)) == 1, seed
        held = {entry.id: entry for entry in JobFile.open(world.tablets[0].job, read_only=True).entries}
        lost = world.confirmed.keys() - held.keys()
        assert not lost, (seed, sorted(lost))
        assert all(held[id] == entry for id, entry in world.confirmed.items()), seed
        assert verify(world.tablets[0].job) == [], seed
        conflicts += world.conflicts
        shutil.rmtree(tmp_path / "world")
    assert conflicts > 20
