"""Whether a job file is what was entered: each entry's shape, its place in its chain, and the heading."""

import json
import re
from collections.abc import Iterator, Mapping, Sequence, Set
from datetime import datetime
from itertools import chain, islice, pairwise
from pathlib import Path
from typing import Any

import msgspec
from msgspec import Struct

from sitelog.job.log.chains import Link, chains, loose
from sitelog.job.log.clocks import odd_times
from sitelog.job.log.entry import Entry, digest_of, is_named
from sitelog.job.log.parts import mapping
from sitelog.job.log.union import joined
from sitelog.job.log.witness import leads_to, packed_as, unfit
from sitelog.job.photos import keeping
from sitelog.job.storage.disk import beside, load, named
from sitelog.job.storage.format import entry_of, heading, is_newer, job_document, tables
from sitelog.job.storage.journal import broken
from sitelog.job.storage.journals import Beside
from sitelog.job.storage.lines import unread
from sitelog.job.storage.reading import advice, journals_of, read
from sitelog.job.storage.sound import Sound, sound
from sitelog.job.storage.store import Tables, WholeFile, parse
from sitelog.refusal import DAMAGED, Refusal
from sitelog.text import clean, counted, text_after

MOST = 100  # faults told: past them the file is another, and to find them all would take long


class Proof(Struct, frozen=True):
    """What is wrong with a job, what is odd and no fault, and whether a pack's code is worked again from its entries.

    `packed` says whether a pack was entered with that code, all the same.
    """

    faults: list[str]
    odd: tuple[str, ...] = ()
    leads: bool = False
    packed: bool = False
    job: str = ""  # its id, and the digests of the ends of its chains; of a record that was proved in one pass
    ends: frozenset[str] = frozenset()
    behind: bool = False  # see _may_be_behind


def verify(path: str | Path) -> list[str]:
    """What is wrong with the job file, one line each, the first wrong entry first; [] if it is sound.

    Of more than `MOST` that many are told, and a line that says so.
    A cut tail shows against the heading, but someone who rewrites the heading too can hide it: only the head
    code given to the next trade tells then. `Refusal` 2 if there is no such file or no right to it.
    """
    return proved(path).faults


def proved(path: str | Path, now: datetime | None = None, printed: str = "") -> Proof:
    """The same, with what is odd by the time that it is now, and with the record code that a pack prints, if any."""
    store = WholeFile(path)
    name, files = named(store.path), keeping.folder_of(store.path)
    try:
        journals = journals_of(store).read()
        raw = store.read_bytes()
    except Refusal as refusal:
        if refusal.code != DAMAGED:
            raise
        return Proof([refusal.message])
    found = None if broken(beside(store.path)) else in_one_pass(raw, journals, now, printed)
    if found:
        faults = _first(chain(found.gaps, keeping.faults(found.with_photos, files)), name)
        odd = (*keeping.strays(found.with_photos, files), *found.odd)
        if found.leads or not printed:
            return Proof(faults, odd, found.leads, job=found.job, ends=found.ends)
    else:
        faults, odd = _looked_through(raw, journals, store), tuple(strange(path, now))
    behind = not found and _may_be_behind(journals, faults)
    if faults or not printed:
        return Proof(faults, odd, behind=behind)
    entries = read(store).entries
    return Proof(faults, odd, leads_to(entries, printed), bool(packed_as(entries, printed)), behind=behind)


def _may_be_behind(journals: Sequence[Beside], faults: Sequence[str]) -> bool:
    """Whether a journal may hold what the file doesn't, and nothing is wrong but lines that broke off."""
    return bool(journals) and set(faults) <= {_torn(journal) for journal in journals}


def in_one_pass(raw: bytes, journals: Sequence[Beside], now: datetime | None = None, printed: str = "") -> Sound | None:
    """The same in one pass, where the journals are as they were written and the file has all that is in them."""
    if not all(journal.left.as_written for journal in journals):
        return None
    entries = {entry.id: entry for journal in journals for entry in journal.left.entries}
    found = sound(raw, now, printed, entries)
    if found and ((journals and found.gaps) or any(journal.left.job not in ("", found.job) for journal in journals)):
        return None
    return found


def _looked_through(raw: bytes, journals: Sequence[Beside], store: WholeFile) -> list[str]:
    """Every fault of a record that is not sound all through, or that a journal stands beside."""
    name = named(store.path)
    try:
        found = parse(raw, name)
        job = heading(found, name)
    except Refusal as refusal:
        return [f"{refusal.message}{_near(raw)} {advice(store)}"]
    return _first(_wrong(found, job, journals, raw, store), name)


def _first(faults: Iterator[str], name: str) -> list[str]:
    """The first so many faults, and that there are more."""
    told = list(islice(faults, MOST + 1))
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
    every = [*links]
    for journal in journals:
        if not journal.left.job or journal.left.job == job.get("id"):
            every += [Link(entry, entry.digest()) for entry in journal.left.entries]
    for journal in journals:
        yield from _beside(journal, links, every, job)
    yield from _broken(store.path, {link.entry.id for link in every})
    yield from keeping.faults([link.entry for link in every], keeping.folder_of(store.path))


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
    return sorted(links, key=lambda link: (link.entry.id, link.digest)), faults


def _faults(links: Sequence[Link], job: Mapping[str, Any]) -> Iterator[str]:
    yield from _names(links)
    yield from _twice(links)
    yield from chains(links, mapping(job.get("seals")))
    yield from unfit(links)
    yield from _heading(job, [link.entry for link in links])


def _beside(found: Beside, links: Sequence[Link], every: Sequence[Link], job: Mapping[str, Any]) -> Iterator[str]:
    """What is wrong with a journal, whose lines carry sums of their own, and whose entries go on from the others."""
    left, journal = found.left, _called(found)
    if left.job and left.job != job.get("id"):
        yield f"{journal} belongs to another job."
        return
    if said := left.fault or left.spoilt or left.strange:
        yield f"{journal}: {said}."
    yield from _since([Link(entry, entry.digest()) for entry in left.entries], links, every)
    if left.torn:
        yield _torn(found)


def _torn(journal: Beside) -> str:
    """What is told of one whose last line broke off."""
    return f"{_called(journal)} stops part-way through its last line. That entry was never confirmed as saved."


def _called(journal: Beside) -> str:
    return f"{named(journal.journal.path.parent)}/{journal.name}"


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


def _since(since: Sequence[Link], links: Sequence[Link], every: Sequence[Link]) -> Iterator[str]:
    """What is wrong with a journal's entries beside those of the file, and beside all that there are."""
    try:
        joined([link.entry for link in links], [link.entry for link in since])
    except Refusal:
        yield from _different(since, links)
    yield from _names(since)
    for link in loose(since, every):
        yield f"{link}: the entry before it is missing."


def _different(since: Sequence[Link], links: Sequence[Link]) -> Iterator[str]:
    there = {link.entry.id: link.digest for link in links}
    for link in since:
        if there.get(link.entry.id, link.digest) != link.digest:
            yield f"{link}: its copy in the folder beside the job is different."


def _names(links: Sequence[Link]) -> Iterator[str]:
    for link in links:
        entry = link.entry
        if not is_named(entry):
            device = clean(entry.device, most=40)
            yield f"{link}: its id isn't that of number {entry.seq} from device {device}."


def _twice(links: Sequence[Link]) -> Iterator[str]:
    for before, link in pairwise(links):
        if before.digest == link.digest:
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
