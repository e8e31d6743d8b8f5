"""Whether a job file is what was entered: each entry's shape, its place in its chain, and the heading."""

import json
import re
from collections.abc import Iterator, Mapping, Sequence, Set
from datetime import datetime
from itertools import islice, pairwise
from pathlib import Path
from typing import Any

import msgspec

from sitelog.job.log.chains import Link, chains, loose
from sitelog.job.log.clocks import odd_times
from sitelog.job.log.entry import Entry, digest_of
from sitelog.job.log.values import mapping
from sitelog.job.log.witness import unfit
from sitelog.job.photos import keeping
from sitelog.job.storage.disk import beside, load, named
from sitelog.job.storage.format import entry_of, heading, is_newer, job_document, tables
from sitelog.job.storage.journal import broken
from sitelog.job.storage.journals import Beside
from sitelog.job.storage.lines import unread
from sitelog.job.storage.reading import advice, journals_of, read
from sitelog.job.storage.store import Tables, WholeFile, parse
from sitelog.refusal import DAMAGED, Refusal
from sitelog.text import clean, counted, text_after

MOST = 100  # faults told: past them the file is another, and to find them all would take long


def verify(path: str | Path) -> list[str]:
    """What is wrong with the job file, one line each, the first wrong entry first; [] if it is sound.

    Of more than `MOST` that many are told, and a line that says so.
    A cut tail shows against the heading, but someone who rewrites the heading too can hide it: only the head
    code given to the next trade tells then. `Refusal` 2 if there is no such file or no right to it.
    """
    store = WholeFile(path)
    name = named(store.path)
    try:
        beside = journals_of(store).read()
        raw = store.read_bytes()
    except Refusal as refusal:
        if refusal.code != DAMAGED:
            raise
        return [refusal.message]
    try:
        found = parse(raw, name)
        job = heading(found, name)
    except Refusal as refusal:
        return [f"{refusal.message}{_near(raw)} {advice(store)}"]
    told = list(islice(_wrong(found, job, beside, raw, store), MOST + 1))
    if len(told) <= MOST:
        return told
    return [*told[:MOST], f"{name}: more than {MOST} faults; only the first {MOST} are shown."]


def _wrong(
    found: Tables, job: Mapping[str, Any], journals: Sequence[Beside], raw: bytes, store: WholeFile
) -> Iterator[str]:
    name = named(store.path)
    links, faults = _links(found)
    faults += islice(_faults(links, job), MOST + 1)
    yield from faults or _layout(links, job, raw, name)
    entries = {link.entry.id: link for link in links}
    for journal in journals:
        if not journal.left.job or journal.left.job == job.get("id"):
            for entry in journal.left.entries:
                entries.setdefault(entry.id, Link(entry, entry.digest()))
    for journal in journals:
        yield from _beside(journal, entries, job, name)
    yield from _broken(store.path, entries.keys())
    yield from keeping.faults([link.entry for link in entries.values()], keeping.folder_of(store.path))


def strange(path: str | Path, now: datetime | None = None) -> list[str]:
    """What is odd and no fault of the job, one line each: what stands beside it and is not of it, and by the time that
    it is now, what a clock said that was wrong.
    """
    store = WholeFile(path)
    try:
        entries = read(store).entries
    except Refusal:
        return []
    return [*keeping.strays(entries, keeping.folder_of(store.path)), *(odd_times(entries, now) if now else ())]


def _links(found: Tables) -> tuple[list[Link], list[str]]:
    """The entries in order of their ids, and what is wrong with those that are none: of `MOST` and one at most."""
    links: list[Link] = []
    faults: list[str] = []
    for doc in found.get("entries", {}).values():
        try:
            links.append(Link(entry_of(doc), digest_of(doc)))
        except Refusal as refusal:
            faults.append(f"{refusal.message[:1].upper()}{refusal.message[1:]}.")
            if len(faults) > MOST:
                break
    return sorted(links, key=lambda link: link.entry.id), faults


def _faults(links: Sequence[Link], job: Mapping[str, Any]) -> Iterator[str]:
    yield from _names(links)
    yield from _twice(links)
    yield from chains(links, mapping(job.get("seals")))
    yield from unfit(links)
    yield from _heading(job, [link.entry for link in links])


def _beside(found: Beside, there: Mapping[str, Link], job: Mapping[str, Any], name: str) -> Iterator[str]:
    """What is wrong with a journal, whose lines carry sums of their own, and whose entries go on from the others."""
    left, journal = found.left, f"{name}.files/{found.name}"
    if left.job and left.job != job.get("id"):
        yield f"{journal} belongs to another job."
        return
    if said := left.fault or left.spoilt or left.strange:
        yield f"{journal}: {said}."
    yield from _since([Link(entry, entry.digest()) for entry in left.entries], there)
    if left.torn:
        yield f"{journal} stops part-way through its last line. That entry was never confirmed as saved."


def _broken(path: Path, ids: Set[str]) -> Iterator[str]:
    """The journals kept with lines that can't be read, but those whose every entry is in the record by now."""
    for kept in broken(beside(path)):
        called = f"{named(path)}.files/{named(kept)}"
        try:
            raw = load(kept, called)[0]
        except Refusal as refusal:
            yield refusal.message
            continue
        lost = [id for id in unread(raw) if id not in ids]
        named_ids = text_after(": ", ", ".join(id for id in lost if id))
        if lost:
            count = counted(len(lost), "entry", "entries")
            yield f"{called} has {count} that can't be read or found in the record{named_ids}."


def _since(since: Sequence[Link], there: Mapping[str, Link]) -> Iterator[str]:
    """What is wrong with the journal's entries beside all the others that there are."""
    for link in since:
        if there[link.entry.id].digest != link.digest:
            yield f"{link}: its copy in the folder beside the job is different."
    yield from _names(since)
    for link in loose(since, there.values()):
        yield f"{link}: the entry before it is missing."


def _names(links: Sequence[Link]) -> Iterator[str]:
    for link in links:
        entry = link.entry
        if entry.id[13:] != f"-{entry.device}-{entry.seq:06d}":
            device = clean(entry.device, most=40)
            yield f"{link}: its id isn't that of number {entry.seq} from device {device}."


def _twice(links: Sequence[Link]) -> Iterator[str]:
    for before, link in pairwise(links):
        if before.entry.id == link.entry.id:
            yield f"{link}: it is in the file twice."


def _heading(job: Mapping[str, Any], entries: Sequence[Entry]) -> Iterator[str]:
    try:
        wanted = job_document(entries)
    except Refusal as refusal:
        yield f"The record doesn't start as a job does: {refusal.message}."
        return
    for key in ("id", "title", "place", "units"):
        if job.get(key) != wanted[key]:
            said = clean(str(job.get(key)), most=60)
            yield f"The heading says {key} '{said}', the start entry says '{clean(wanted[key], most=60)}'."
    strange = sorted(job.keys() - wanted.keys())
    if strange and not is_newer(job):
        yield f"The heading has '{clean(strange[0], most=40)}', which it should not have."


def _layout(links: Sequence[Link], job: Mapping[str, Any], raw: bytes, name: str) -> Iterator[str]:
    """The bytes around the entries, which no chain covers."""
    if is_newer(job):
        yield f"{name} was written by a newer sitelog (format {job['format']}): check it with that one."
        return
    wanted = msgspec.json.encode(tables([link.entry for link in links]))
    if wanted != raw:
        at = next(
            (place for place, (meant, there) in enumerate(zip(wanted, raw, strict=False), 1) if meant != there),
            len(wanted),
        )
        yield f"{name} was changed at byte {at}, outside the entries. The entries are as they were entered."


def _near(raw: bytes) -> str:
    """Where in the log the text stops being JSON."""
    try:
        text = raw.decode()
        json.loads(text)
    except UnicodeDecodeError as error:
        text = raw[: error.start].decode()
    except json.JSONDecodeError as error:
        text = text[: error.pos]
    except (ValueError, RecursionError):
        return ""
    ids = re.findall(r'"id":"([0-9A-Za-z_-]+)"', text)
    if not ids:
        return ""
    return f" It is in or after entry {ids[-1]}."
