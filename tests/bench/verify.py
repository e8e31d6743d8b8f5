"""A long record proved: against reading the same bytes as JSON, and the memory that a program takes which does it."""

import json
import subprocess
import sys
from collections.abc import Iterator
from datetime import timedelta
from pathlib import Path
from tempfile import TemporaryDirectory

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
        return [row, held(file)]


def held(file: Path) -> Told:
    """The most memory that a program takes which proves the record."""
    peak = peak_mb(file)
    return Told(
        f"memory of it: {peak} MB, at most {MOST_MB}  {'kept' if peak <= MOST_MB else 'NOT KEPT'}", peak <= MOST_MB
    )


def peak_mb(file: Path) -> int:
    """Of `sitelog verify` in a process of its own."""
    words = f"from sitelog.cli.run import run; assert run(['verify', {str(file)!r}]) == 0; {PEAK}"
    ended = subprocess.run([sys.executable, "-c", words], capture_output=True, text=True, check=True)
    return int(ended.stdout.split()[-1]) // 1024


def written(file: Path, count: int) -> Path:
    """A sound job of so many entries by two devices, ten seconds apart, written without holding them."""
    ends: dict[str, Entry] = {}
    first = None
    rows = file.with_suffix(".rows")
    with rows.open("wb") as out:
        for number, entry in enumerate(_entries(count, ends), 1):
            first = first or entry
            out.write(b'%s"%d":%s' % (b"," if number > 1 else b"", number, msgspec.json.encode(entry)))
    seals = {device: {"seq": end.seq, "digest": end.digest()} for device, end in sorted(ends.items())}
    job = {**job_document([first] if first else []), "seals": seals}
    file.write_bytes(b'{"job":{"1":%s},"entries":{%s}}' % (msgspec.json.encode(job), rows.read_bytes()))
    rows.unlink()
    return file


def _entries(count: int, ends: dict[str, Entry]) -> Iterator[Entry]:
    for number in range(count):
        device = DEVICES[number % len(DEVICES)]
        before = ends.get(device)
        seq = before.seq + 1 if before else 1
        now = SEVEN + timedelta(seconds=10 * number)
        ends[device] = Entry(
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
        yield ends[device]
