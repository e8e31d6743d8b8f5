"""A long record proved: against reading the same bytes as JSON, and the memory that a program takes which does it."""

import json
import subprocess
import sys
from collections.abc import Iterator
from datetime import timedelta
from pathlib import Path
from tempfile import TemporaryDirectory
from typing import Any

import msgspec

from sitelog.job.log.entry import FIRST, Entry, digest_of
from sitelog.job.storage.format import job_document
from sitelog.job.storage.verify import verify
from tests.bench.day import Told
from tests.bench.row import Row, against
from tests.job.logs import SEVEN, START

COUNT = 400_000
MOST_MB = 400
DEVICES = ("tablet01", "phone-02")
PEAK = "print(open('/proc/self/status').read().split('VmHWM:')[1].split()[0])"  # ru_maxrss counts the parent's, too


def rows() -> list[Row | Told]:
    """The time as a ratio, and the memory."""
    with TemporaryDirectory() as folder:
        file = written(Path(folder) / "long.json", COUNT)
        said = f"{COUNT:,} entries verified, against json.loads"
        row = against(said, lambda: verify(file), lambda: json.loads(file.read_bytes()), rounds=3, allowed=4.0)
        straight, gap = held("memory of it", file), held("with a number missing", with_a_gap(file), found=1)
        apart = held("where copies went on apart", written(file, COUNT, branches=2))
        return [row, straight, gap, apart, held("with a copy beside it", with_a_copy(file))]


def held(what: str, file: Path, *, found: int = 0) -> Told:
    """The most memory that a program takes which proves the record."""
    peak = peak_mb(file, found)
    return Told(f"{what}: {peak} MB, at most {MOST_MB}  {'kept' if peak <= MOST_MB else 'NOT KEPT'}", peak <= MOST_MB)


def peak_mb(file: Path, found: int = 0) -> int:
    """Of `sitelog verify` in a process of its own, which ends with the number `found`."""
    words = f"from sitelog.cli.run import run; assert run(['verify', {str(file)!r}]) == {found}; {PEAK}"
    ended = subprocess.run([sys.executable, "-c", words], capture_output=True, text=True, check=True)
    return int(ended.stdout.split()[-1]) // 1024


def with_a_copy(file: Path) -> Path:
    """The record, and a copy beside it with one entry more."""
    written(file.with_name(f"{file.stem} (1).json"), COUNT + 1)
    return written(file, COUNT)


def with_a_gap(file: Path) -> Path:
    """The record without an entry out of its middle; the rows after it are numbered anew."""
    found = msgspec.json.decode(file.read_bytes(), type=dict[str, dict[str, msgspec.Raw]])
    rows = [*found["entries"].values()]
    del rows[len(rows) // 2]
    gap = file.parent / "gap" / file.name  # by itself: beside the other it would be a copy of it
    gap.parent.mkdir()
    gap.write_bytes(msgspec.json.encode(found | {"entries": {str(at): row for at, row in enumerate(rows, 1)}}))
    return gap


def written(file: Path, count: int, branches: int = 1) -> Path:
    """A sound job of so many entries by two devices, ten seconds apart, written without holding them.

    With more `branches` as many copies of each device went on apart from its first entry, and were joined.
    """
    ends: dict[str, list[Entry]] = {}
    first = None
    rows = file.with_suffix(".rows")
    with rows.open("wb") as out:
        for number, entry in enumerate(_entries(count, ends, branches), 1):
            first = first or entry
            out.write(b'%s"%d":%s' % (b"," if number > 1 else b"", number, msgspec.json.encode(entry)))
    seals = {device: _seal(*last) for device, last in sorted(ends.items())}
    job = {**job_document([first] if first else []), "seals": seals}
    file.write_bytes(b'{"job":{"1":%s},"entries":{%s}}' % (msgspec.json.encode(job), rows.read_bytes()))
    rows.unlink()
    return file


def _entries(count: int, ends: dict[str, list[Entry]], branches: int) -> Iterator[Entry]:
    starts: dict[str, Entry] = {}
    for number in range(count):
        device = DEVICES[number % len(DEVICES)]
        known = ends.setdefault(device, [])
        apart = len(known) < branches and device in starts
        before = starts.get(device) if apart else known[0] if known else None
        seq = before.seq + 1 if before else 1
        now = SEVEN + timedelta(seconds=10 * number)
        entry = Entry(
            id=f"{int(now.timestamp() * 1000):013d}-{device}-{number:08x}-{seq:06d}",
            at=now.isoformat(timespec="milliseconds").replace("+00:00", "Z"),
            offset=0,
            by="A. Foreman",
            device=device,
            seq=seq,
            prev=digest_of(before) if before else FIRST,
            act="note" if number else START.act,
            part="main" if number else "",
            check="plates.sides" if number else "",
            value={} if number else dict(START.value),
            note=f"row {number}: string 3 mm off at the far end" if number else "",
        )
        ends[device] = [*(end for end in known if end is not before), entry]
        starts.setdefault(device, entry)
        yield entry


def _seal(*ends: Entry) -> dict[str, Any]:
    *others, end = ({"seq": entry.seq, "digest": entry.digest()} for entry in ends)
    return {**end, "also": others} if others else end
