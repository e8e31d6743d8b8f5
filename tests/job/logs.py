"""Made-up logs for the tests of the job file: invented names, invented roofs."""

from collections.abc import Iterator
from datetime import UTC, datetime, timedelta
from pathlib import Path

from sitelog.job.log.entry import Author, Draft, Entry, seal
from sitelog.job.storage.file import JobFile

SEVEN = datetime(2026, 3, 2, 7, 0, tzinfo=UTC)
START = Draft(act="start", value={"title": "Long barn", "place": "Upper field", "units": "mm"})


def author(device: str = "tablet01", minutes: float = 0) -> Author:
    return Author("A. Foreman", device, SEVEN + timedelta(minutes=minutes))


def log(count: int, *devices: str, text: str = "") -> list[Entry]:
    """A start and notes on it, by the devices in turn, a minute apart."""
    devices = devices or ("tablet01",)
    made: list[Entry] = []
    last: dict[str, Entry] = {}
    for number in range(count):
        device = devices[number % len(devices)]
        draft = START if number == 0 else _measured(number, text)
        entry = seal(draft, author(device, number), last.get(device), made[-1].id if made else "")
        last[device] = entry
        made.append(entry)
    return made


def after(entries: list[Entry], text: str = "the next") -> Entry:
    """One more note on the first device, an hour on."""
    device = entries[0].device
    before = [entry for entry in entries if entry.device == device][-1]
    return seal(Draft(act="note", note=text), author(device, 60 + len(entries)), before, entries[-1].id)


def saved(path: Path, entries: list[Entry]) -> Path:
    """The job file with these entries, closed."""
    with JobFile.create(path, entries):
        return path


def tree(folder: Path) -> dict[str, bytes]:
    """Every file under a folder."""
    return dict(_files(folder))


def _files(folder: Path) -> Iterator[tuple[str, bytes]]:
    for path in sorted(folder.rglob("*")):
        yield (str(path.relative_to(folder)), path.read_bytes() if path.is_file() else b"")


def _measured(number: int, text: str) -> Draft:
    value = {"value": 4500.5 + number, "@instrument": "tape-1", "read": [number, "½ über"]}
    return Draft(act="answer", part="main", check=f"plates.side-{number}", value=value, note=text)
