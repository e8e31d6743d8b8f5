"""The same answers give the same entries, said line by line or typed on the screens."""

import shutil
from collections.abc import Iterator
from pathlib import Path

import pytest

from sitelog.checklist.schema.model import Library
from sitelog.job.log.entry import Entry
from sitelog.job.storage.file import JobFile
from sitelog.lines.session import LineSession
from tests.length import long
from tests.lines.acts import Answer, Bad, Change, Deed, Diary, Pack, PutRight, Sign, Taken, Undo, Way
from tests.lines.by_keys import done
from tests.lines.by_lines import said
from tests.lines.listener import ScriptedInput, walked
from tests.tui.site import Watch, opened

SIDES = {"ab": "8996", "bc": "6003", "cd": "9001", "da": "6002", "ac": "10819", "bd": "10808"}
SQUARE = {"ab": "9001", "bc": "6001", "cd": "9001", "da": "6001", "ac": "10818", "bd": "10817"}
ACTS = (
    Answer("main.plates.sides", SIDES, tool="T1", new_tool=("tape", "II")),
    Way("main.plates.sides", 2),
    Answer("main.plates.sides", SQUARE, tool="T1", open=True),
    Answer("main.plates.levels", {"readings": "1402,1403,1415,1402,1404,1403,1402,1402"}),
    Way("main.plates.levels", 2, ("", "A. Dunn", "2026-12-04")),
    Deed("later", "main.plates.straps", ("7", "straps are not on the site")),
    Answer("main.plates.span"),
    Answer("main.plates.straps", {"spacing": "1800", "fixing": "120"}, tool="T1"),
    Undo(),
    Undo(),
    Answer("main.plates.straps", {"spacing": "1.8m", "fixing": "120"}, tool="T1"),
    Answer("main.plates.span"),
    Answer("main.plates.laps", {"value": "2"}),
    Way("main.plates.laps", 3, ("short plate used up, engineer has seen it", "")),
    Answer("main.plates.hip-loads", choice=2),
    Answer("main.plates.hip-loads", choice=1, again=True, why="the carpenter of the frame says so"),
    Answer("main.plates.ties", words="IMG 12, 13"),
    Deed("not applicable", "main.plates.ends", ("a steel ring beam",)),
    Undo(),
    Answer("main.plates.ends"),
    Deed("note", "main.plates.ends", ("bedded on the long wall first",)),
    Deed("photo", "main.plates.ends", ("IMG 14", "the ends before they are brushed", "")),
    Deed("snag", "main.plates.ends", ("mortar is soft at C", "", "")),
    Diary("weather", "dry, wind getting up at two"),
    Diary("text", "the crane is booked for Thursday"),
    Change("main.pitch", "36"),
    PutRight("2"),
    Bad("T1", "the hook is bent"),
    Sign("main.plates", "T. Vale"),
    Deed("release", "main.first-pair", ("the engineer has seen it stand", "")),
    Pack(),
    Taken("main.plates.sides", name="B. Marl"),
    Taken("main.plates.levels", name="B. Marl", why="no packing at C"),
    Undo(),
)


@long
async def test_the_same_answers_give_the_same_entries_by_keys_and_by_lines(
    plates: Path, tmp_path: Path, library: Library, watch: Watch, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Ids, times, devices and hashes aside."""
    monkeypatch.setattr("sitelog.tui.app.HELD_SECONDS", 0.0)
    other = tmp_path / "lines" / plates.name
    other.parent.mkdir()
    shutil.copy(plates, other)
    by_lines(other, library, watch)
    async with opened(plates) as walker:
        for act in ACTS:
            await done(act, walker)
    keys, lines = record(plates), record(other)
    for one, two in zip(keys, lines, strict=False):
        assert one == two
    assert len(keys) == len(lines)
    assert {path for act, part, path, *_ in keys if act in ("sign", "release") and part == "main"} >= {
        "plates",
        "first-pair",
    }
    assert {act for act, *_ in keys} >= {
        *("answer", "skip", "defer", "snag", "close", "release", "sign", "note", "diary", "read"),
        *("instrument", "doubt", "drawn", "handover", "accept", "void"),
    }


def by_lines(file: Path, library: Library, watch: Watch) -> None:
    acts = iter(ACTS)

    def more(session: LineSession) -> Iterator[str]:
        act = next(acts, None)
        return said(act, session.state) if act else iter(())

    listener = ScriptedInput(more=more)
    walked(file, library, listener, watch)


def record(file: Path) -> list[tuple[object, ...]]:
    """The entries without what differs from one day and machine to the next; an entry that is named, by its number."""
    entries = JobFile.open(file, read_only=True).entries
    number = {entry.id: f"entry {n}" for n, entry in enumerate(entries)}
    return [(e.act, e.part, e.check, _value(e, number), e.note, e.by, e.done) for e in entries]


def _value(entry: Entry, number: dict[str, str]) -> object:
    def told(value: object) -> object:
        if isinstance(value, list):
            return [told(one) for one in value]
        return number.get(value, value) if isinstance(value, str) else value

    return {key: told(value) for key, value in entry.value.items() if key not in ("head", "ends")}
