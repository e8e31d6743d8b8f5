"""Tablets in one folder that a real program keeps the same on each: nothing that was confirmed is lost.

What is copied, in what order, and what becomes of two files of one name is the program's own doing here.
"""

import os
import random
import signal
import subprocess
import sys
from collections.abc import Iterator
from contextlib import contextmanager
from datetime import timedelta
from pathlib import Path

import pytest
from tinydb import TinyDB

from sitelog.job.log.entry import Author, Draft, Entry, seal
from sitelog.job.machine.memory import Memory
from sitelog.job.photos.keeping import keep, look, stands
from sitelog.job.storage.copies import ASIDE, found, join_beside
from sitelog.job.storage.disk import beside
from sitelog.job.storage.file import JobFile
from sitelog.job.storage.verify import verify
from tests.job.logs import SEVEN, START
from tests.job.pictures import png
from tests.job.synced import PROGRAM, WHY_NOT, Engine, brought_together, engines
from tests.job.test_apart import KILLED
from tests.length import long

pytestmark = [long, pytest.mark.skipif(PROGRAM is None, reason=WHY_NOT)]

NAME = "barn.json"


class Tablet:
    """One device with its clock and its memory, and the program over its folder."""

    def __init__(self, name: str, engine: Engine, memory: Memory) -> None:
        self.name, self.engine, self.memory = name, engine, memory
        self.clock = timedelta(0)
        self.open: JobFile | None = None

    @property
    def job(self) -> Path:
        return self.engine.folder / NAME


class Site:
    """The tablets of a site, and every entry that one of them confirmed."""

    def __init__(self, place: Path, made: list[Engine]) -> None:
        self.tablets = [Tablet(e.folder.name, e, Memory(place / f"{e.folder.name}.state")) for e in made]
        self.confirmed: dict[str, Entry] = {}
        self.conflicts = self.aside = self.minute = 0
        first = self.tablets[0]
        start = seal(START, self.author(first), None)
        JobFile.create(first.job, [start], memory=first.memory).close()
        self.confirmed[start.id] = start
        self.meet()

    def author(self, tablet: Tablet) -> Author:
        self.minute += 1
        return Author("A. Foreman", tablet.name, SEVEN + timedelta(minutes=self.minute) + tablet.clock)

    def meet(self) -> None:
        brought_together([tablet.engine for tablet in self.tablets])
        self.conflicts += sum("conflict" in name and ASIDE not in name for name in self.tablets[0].engine.files())

    def enter(self, tablet: Tablet, value: dict[str, object] | None = None) -> None:
        if tablet.open is None:
            tablet.open = JobFile.open(tablet.job, author=self.author(tablet), memory=tablet.memory)
            tablet.open.recall()
        entries = tablet.open.entries
        before = next((entry for entry in reversed(entries) if entry.device == tablet.name), None)
        draft = Draft(act="note", note=f"{self.minute}", value=value or {})
        entry = seal(draft, self.author(tablet), before, entries[-1].id)
        tablet.open.append([entry])
        self.confirmed[entry.id] = entry

    def shut(self, tablet: Tablet) -> None:
        if tablet.open:
            tablet.open.close()
            tablet.open = None

    def die(self, tablet: Tablet) -> None:
        if tablet.open:
            tablet.open.let_go()
            tablet.open = None

    def at_last(self) -> None:
        """All in reach, all joined: nothing is lost, and every file is the same."""
        for tablet in self.tablets:
            self.shut(tablet)
            tablet.engine.in_reach()
        for _ in range(6):
            self.meet()
            for tablet in self.tablets:
                self.aside += len(join_beside(tablet.job, memory=tablet.memory).aside)
            self.meet()
            if not any(found(tablet.job, self.held(tablet)) for tablet in self.tablets):
                break
        assert len({tablet.job.read_bytes() for tablet in self.tablets}) == 1
        for tablet in self.tablets:
            held = {entry.id: entry for entry in self.held(tablet)}
            assert not self.confirmed.keys() - held.keys(), tablet.name
            assert all(held[id] == entry for id, entry in self.confirmed.items())
            assert verify(tablet.job) == []
            assert found(tablet.job, self.held(tablet)) == []
            with TinyDB(tablet.job) as plain:
                assert {doc["id"] for doc in plain.table("entries")} == held.keys()

    def held(self, tablet: Tablet) -> list[Entry]:
        with JobFile.open(tablet.job, read_only=True) as file:
            return file.entries


@contextmanager
def site(place: Path, *names: str, copies: int = 10) -> Iterator[Site]:
    with engines(place, names, copies) as made:
        yield Site(place, made)


def apart(site: Site) -> None:
    for tablet in site.tablets:
        tablet.engine.apart()


def test_two_go_on_out_of_reach_and_are_joined_with_their_photos(tmp_path: Path) -> None:
    (tmp_path / "strap.png").write_bytes(png())
    picture = look(tmp_path / "strap.png")
    with site(tmp_path, "tablet-1", "tablet-2") as work:
        first, second = work.tablets
        apart(work)
        for tablet in (first, second):
            for _ in range(3):
                work.enter(tablet)
            work.shut(tablet)
        row = {"hash": picture.photo.hash, "type": picture.photo.type, "size": picture.photo.size, "name": "strap.png"}
        keep(beside(second.job), [picture])
        work.enter(second, {"photos": [row]})
        work.at_last()
        assert work.conflicts, "both wrote the file: the program keeps one of the two under a name of its own"
        assert stands(beside(first.job), picture.photo) == "there"


def test_a_conflict_copy_that_alone_has_entries_is_joined_and_put_aside(tmp_path: Path) -> None:
    """As an older program leaves them, which had no journal for each device."""
    with site(tmp_path, "tablet-1", "tablet-2") as work:
        apart(work)
        for tablet in work.tablets:
            for _ in range(2):
                work.enter(tablet)
            work.shut(tablet)
            for journal in beside(tablet.job).glob("journal*"):
                journal.unlink()
        work.at_last()
        assert work.aside
        kept = list((beside(work.tablets[0].job) / "copies").glob(f"{ASIDE}*conflict*"))
        assert kept, "put aside, and brought to the others there"


def test_a_program_that_keeps_no_copies_at_all_loses_nothing_either(tmp_path: Path) -> None:
    with site(tmp_path, "tablet-1", "tablet-2", copies=0) as work:
        apart(work)
        for tablet in work.tablets:
            work.enter(tablet)
            work.shut(tablet)
        work.at_last()
        assert not work.conflicts


def test_two_have_it_open_in_reach_of_each_other(tmp_path: Path) -> None:
    with site(tmp_path, "tablet-1", "tablet-2") as work:
        for _ in range(3):
            for tablet in work.tablets:
                work.enter(tablet)
            work.meet()
        apart(work)
        for tablet in work.tablets:
            work.enter(tablet)
        work.at_last()


def test_two_have_it_open_and_both_are_killed(tmp_path: Path) -> None:
    with site(tmp_path, "tablet-1", "tablet-2") as work:
        for tablet in work.tablets:
            words = [sys.executable, "-c", KILLED, tablet.name, str(tablet.job), str(tablet.memory.folder)]
            said = subprocess.run(words, stdout=subprocess.PIPE, text=True, check=False)
            assert said.returncode == -signal.SIGKILL
            by_id = {entry.id: entry for entry in work.held(tablet)}
            work.confirmed |= {id: by_id[id] for id in said.stdout.split()}
        assert len(work.confirmed) == 9
        work.at_last()


@pytest.mark.parametrize("seed", range(3))
def test_three_by_chance_and_one_clock_a_day_out(tmp_path: Path, monkeypatch: pytest.MonkeyPatch, seed: int) -> None:
    monkeypatch.setattr(os, "fsync", lambda _: None)
    chance = random.Random(seed)
    with site(tmp_path, "tablet-1", "tablet-2", "phone-03") as work:
        chance.choice(work.tablets).clock = timedelta(days=chance.choice((-1, 1)))
        for _ in range(8):
            for tablet in work.tablets:
                chance.choice((tablet.engine.apart, tablet.engine.in_reach))()
            for _ in range(6):
                tablet = chance.choice(work.tablets)
                chance.choice((work.enter, work.enter, work.enter, work.shut, work.die))(tablet)
                tablet.engine.order("db/scan?folder=site")
        work.at_last()
