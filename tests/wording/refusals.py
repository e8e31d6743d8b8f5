"""Every refusal that the table provokes, as a page to be read: what was typed, then what the program says."""

import json
import os
import re
import shlex
import shutil
from collections.abc import Iterator
from contextlib import contextmanager
from datetime import UTC, datetime
from pathlib import Path
from tempfile import TemporaryDirectory
from typing import Any
from unittest.mock import patch

import msgspec
from msgspec.structs import replace

from sitelog.checklist.load import lint
from sitelog.checklist.schema.model import Library
from sitelog.checklist.schema.shipped import sample_folder
from sitelog.job.job import Job
from sitelog.job.log.entry import Author
from sitelog.job.machine.memory import machines_own
from sitelog.job.replies.reply import Reply, written
from sitelog.job.storage.disk import beside
from sitelog.job.storage.file import JobFile
from sitelog.job.storage.format import tables
from sitelog.lines.talk import Talk
from sitelog.quantities.quantity import read
from sitelog.refusal import Refusal
from tests import shipped
from tests.checklist import test_rules as rules
from tests.checklist.small import changed, write
from tests.hostile.fronts import say
from tests.job.logs import log, saved
from tests.job.pictures import JPEG
from tests.lines.listener import ScriptedInput, walked
from tests.test_quantity import REFUSES
from tests.tui.kept import at_greenwich
from tests.wording.typed import COMMANDS, LINES

FILE = Path(__file__).with_name("refusals.txt")
JOB = "kiln-lane.json"
NOON = datetime(2026, 11, 25, 12, tzinfo=UTC)
BROKEN = (rules.KEYS, rules.IDS, rules.TEXTS, rules.FACTS, rules.SHAPES, rules.NAMES, rules.SUMS, rules.CIRCLES)
LONGEST = 90  # letters of what was typed that the page shows


def page() -> str:
    """The whole page; groups of rows, each of them what was typed and what is said to it."""
    told = [f"== {title}\n\n" + "".join(f"{typed}\n    {said}\n" for typed, said in rows) for title, rows in groups()]
    return "\n".join(told)


def groups() -> Iterator[tuple[str, list[tuple[str, str]]]]:
    library = shipped.library()
    with a_site() as folder:
        shutil.copy(folder / JOB, folder / "heard.json")
        with opened_once(library):
            for title, lines in COMMANDS.items():
                rows = [line.strip().replace(" J", f" {JOB}") for line in lines.strip().splitlines()]
                yield title, [(f"sitelog {row}", commanded(row, folder)) for row in rows]
        yield "Line by line", [*heard(folder / "heard.json", library)]
    yield "Figures", [*figures()]
    yield "Faults that lint finds", [*faults()]


@contextmanager
def opened_once(library: Library) -> Iterator[None]:
    """The lists are read once, and the sample opened once: what is refused changes nothing."""
    opened: dict[bool, Job] = {}
    really = Job.open

    def open(file: Path, *given: Any, read_only: bool = False, **more: Any) -> Job:
        if file.name != JOB:
            return really(file, *given, read_only=read_only, **more)
        if read_only not in opened:
            opened[read_only] = really(file, *given, read_only=read_only, **more)
        return opened[read_only]

    with (
        patch.object(Job, "open", open),
        patch.object(Job, "__exit__", lambda job, *_: None),
        # First, so that lines.py takes the true one when it is imported, and has it again afterwards.
        patch("sitelog.cli.lines.lists_for", lambda *_: lambda: library),
        patch("sitelog.cli.keep.job_file.lists_for", lambda *_: lambda: library),
        patch("sitelog.cli.keep.new.lists_for", lambda *_: lambda: library),
    ):
        yield
    for job in opened.values():
        job.close()


@contextmanager
def a_site() -> Iterator[Path]:
    """A folder with the sample, and all that stands around it; the program runs in it as one device."""
    with TemporaryDirectory() as name, at_greenwich(), patch.dict(os.environ, SITELOG_DEVICE="testbed1", COLUMNS="80"):
        folder, before = Path(name), Path.cwd()
        os.chdir(folder)
        try:
            with laid_out(folder):
                yield folder
        finally:
            os.chdir(before)


@contextmanager
def laid_out(folder: Path) -> Iterator[None]:
    shutil.copy(sample_folder() / JOB, folder / JOB)
    small = msgspec.json.encode(tables(log(3)))  # not the sample: the place of a fault in it moves
    texts = {
        "words.jpg": b"not a photo",
        "cut.jpg": JPEG[:-2],
        "empty.jpg": b"",
        "empty.json": b"",
        "words.json": b"Kiln Lane",
        "list.json": b"[]",
        "cut.json": small[:-100],
        "twice.json": small.replace(b'"entries":', b'"entries":{},"entries":'),
        "no-format.json": b'{"job":{"1":{}},"entries":{}}',
        "no-start.json": b'{"job":{"1":{"format":1}},"entries":{}}',
        "newer.json": (folder / JOB).read_bytes().replace(b'"format":1', b'"format":9', 1),
        "changed.json": small.replace(b"A. Foreman", b"A. Forman", 1),
        "members.csv": b"",
        "empty.csv": b"",
        "header.csv": b"part,section,length,count\n",
        "wrong-header.csv": b"name,size\nA,47x150\n",
        "short-line.csv": b"part,section,length,count\nJ1,47x150\n",
        "angle.csv": b"part,section,length,count,head_cut\nJ1,47x150,3600,2,95\n",
        "not-text.csv": b"\xff\xfe\x00",
        "not-toml.toml": b"id = \n",
    }
    reply = Reply(job="1-a-000001", title="Dale End", code="0" * 20, to="tiler", count=3, print="0" * 8, by="J. Dunn",
                  day="2026-11-24", accepted=(1,))  # fmt: skip
    id = str(json.loads((folder / JOB).read_text(encoding="utf-8"))["job"]["1"]["id"])
    texts |= {
        "altered-reply.txt": written(reply).replace("Dunn", "Gunn").encode(),
        "other-reply.txt": written(reply).encode(),
        "lost-reply.txt": written(replace(reply, job=id)).encode(),
    }
    for name, raw in texts.items():
        (folder / name).write_bytes(raw)
    (folder / "large.jpg").write_bytes(JPEG)
    os.truncate(folder / "large.jpg", 21 << 20)
    for name in ("folder.jpg", "folder.json"):
        (folder / name).mkdir()
    for name in ("pipe.jpg", "pipe.json"):
        os.mkfifo(folder / name)
    (folder / "link.jpg").symlink_to("words.jpg")
    (folder / "circle.json").symlink_to("circle.json")
    saved(folder / "other.json", log(3))
    for name, found in (("torn", b"changed\n"), ("elsewhere", _journal(folder))):
        shutil.copy(folder / JOB, folder / f"{name}.json")
        (folder / f"{name}.json.files").mkdir()
        (folder / f"{name}.json.files" / "journal").write_bytes(found)
    for name in ("open.json", "copied.json"):
        shutil.copy(folder / JOB, folder / name)
    hand = Author(by="A. Foreman", device="tablet01", now=NOON)
    with JobFile.open(folder / "open.json", author=hand, memory=machines_own()):
        yield


def _journal(folder: Path) -> bytes:
    """What stands beside another job while it is open."""
    entries = log(3)
    with JobFile.create(folder / "third.json", entries[:2]) as file:
        file.append(entries[2:])
        return (folder / "third.json.files" / "journal.tablet01").read_bytes()


def commanded(row: str, folder: Path) -> str:
    said = say(*shlex.split(row))
    words = (said.err or said.out).strip().removeprefix("sitelog: ")
    assert said.code, f"taken, not refused: {row}: {words}"
    words = re.sub(r"\(process \d+\)", "(process 4711)", words.replace(str(folder), "FOLDER"))
    return words.replace("\n", "\n    ")


def heard(job: Path, library: Library) -> Iterator[tuple[str, str]]:
    for row in LINES.strip().splitlines():
        typed = [word.strip() for word in row.strip().split("|")]
        yield " | ".join(typed), _last_refusal(job, library, typed)


def _last_refusal(job: Path, library: Library, typed: list[str]) -> str:
    said: list[str] = []

    def refuse(talk: Talk, words: str) -> None:
        said.append(talk.in_words(words))

    (beside(job) / "typed.json").unlink(missing_ok=True)  # nothing of the row before
    listener = ScriptedInput(typed)
    with patch.object(Talk, "refuse", refuse):
        walked(job, library, listener, lambda: NOON)
    asked = [line for line in listener.heard if line.endswith("if you mean it.")]
    assert said or asked, f"taken, not refused: {typed}: {listener.heard[-3:]}"
    return (said or asked)[-1]


def figures() -> Iterator[tuple[str, str]]:
    for kind, text, _ in REFUSES:
        try:
            read(kind, text, name=kind)
        except Refusal as refusal:
            yield f"{kind}: {_short(text)}", refusal.message
        else:
            raise AssertionError(f"taken, not refused: {kind} {text}")


def faults() -> Iterator[tuple[str, str]]:
    for cases in BROKEN:
        for name, old, new, _ in cases:
            with TemporaryDirectory() as place:
                folder = write(Path(place), **{name: changed(name, old, new)})
                said = "\n".join(lint([folder], shipped=folder)).replace(f"{folder}/", "")
                yield f"{name}.toml: {_short(old)} -> {_short(new)}", said.replace("\n", "\n    ")


def _short(text: str) -> str:
    """What was typed, on one line; in quotes where the blanks or the letters in it wouldn't be seen."""
    text = text.replace("\n", " / ")
    text = text if len(text) <= LONGEST else f"{text[:LONGEST]}..."
    return text if text and text == text.strip() and text.isprintable() else repr(text)
