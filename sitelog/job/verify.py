"""Whether a job file is what was entered: each entry's shape, its place in its chain, and the heading."""

import json
import re
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from itertools import pairwise
from pathlib import Path
from typing import Any

import msgspec

from sitelog.job.disk import named
from sitelog.job.entry import FIRST, Entry, digest_of
from sitelog.job.file import advice
from sitelog.job.format import entry_of, heading, is_newer, job_document, tables
from sitelog.job.store import Tables, WholeFile, parse
from sitelog.refusal import DAMAGED, Refusal
from sitelog.text import clean


@dataclass(frozen=True)
class _Link:
    """An entry with the digest of the document it came from."""

    entry: Entry
    digest: str

    def __str__(self) -> str:
        entry = self.entry
        what = f"{clean(entry.act, most=40)} {clean(entry.path, most=80)}".strip()
        return f"Entry {clean(entry.id, most=60)} ({what}, by {clean(entry.by, most=60)})"


def verify(path: str | Path) -> list[str]:
    """What is wrong with the job file, one line each, the first wrong entry first; [] if it is sound.

    A cut tail shows against the heading, but someone who rewrites the heading too can hide it: only the head
    code given to the next trade tells then. `Refusal` 2 if there is no such file or no right to it.
    """
    store = WholeFile(path)
    name = named(store.path)
    try:
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
    return _faults(found, job) or list(_layout(found, job, raw, name))


def _faults(found: Tables, job: Mapping[str, Any]) -> list[str]:
    links: list[_Link] = []
    faults: list[str] = []
    for doc in found.get("entries", {}).values():
        try:
            links.append(_Link(entry_of(doc), digest_of(doc)))
        except Refusal as refusal:
            faults.append(f"{refusal.message[:1].upper()}{refusal.message[1:]}.")
    links.sort(key=lambda link: link.entry.id)
    seals = job.get("seals")
    faults += _names(links)
    faults += _twice(links)
    faults += _chains(links, seals if isinstance(seals, dict) else {})
    faults += _heading(job, [link.entry for link in links])
    return faults


def _names(links: Sequence[_Link]) -> Iterator[str]:
    for link in links:
        entry = link.entry
        if entry.id[13:] != f"-{entry.device}-{entry.seq:06d}":
            device = clean(entry.device, most=40)
            yield f"{link}: its id is not that of number {entry.seq} of device {device}."


def _twice(links: Sequence[_Link]) -> Iterator[str]:
    for before, link in pairwise(links):
        if before.entry.id == link.entry.id:
            yield f"{link}: it stands in the file twice."


def _chains(links: Sequence[_Link], seals: Mapping[str, Any]) -> Iterator[str]:
    chains: dict[str, list[_Link]] = {}
    for link in links:
        chains.setdefault(link.entry.device, []).append(link)
    for device, chain in chains.items():
        chain.sort(key=lambda link: link.entry.seq)
        yield from _gaps(device, chain)
        yield from _order(chain)
        yield from _changed(device, chain, seals.get(device))
    for device in seals.keys() - chains.keys():
        yield f"Every entry of device {clean(device, most=40)} is missing: the heading counts them."


def _gaps(device: str, chain: Sequence[_Link]) -> Iterator[str]:
    wanted = 1
    for link in chain:
        seq = link.entry.seq
        if seq > wanted:
            yield f"{_missing(wanted, seq - 1, device)} before entry {link.entry.id}."
        elif seq < wanted:
            yield f"{link}: number {seq} of its device stands there twice."
        wanted = seq + 1


def _order(chain: Sequence[_Link]) -> Iterator[str]:
    for before, link in pairwise(chain):
        if link.entry.id < before.entry.id and link.entry.seq > before.entry.seq:
            yield f"{link}: it follows {before.entry.id} but its id sorts before it."


def _changed(device: str, chain: Sequence[_Link], seal: object) -> Iterator[str]:
    """The entries that their followers, or for the last one the seal, don't vouch for."""
    last = chain[-1]
    sealed = seal if isinstance(seal, dict) else {}
    counted = sealed.get("seq")
    cut = isinstance(counted, int) and counted > last.entry.seq
    if isinstance(counted, int) and cut:
        yield f"{_missing(last.entry.seq + 1, counted, device)} at the end: the heading counts them."
    vouched = [_vouched(link, follower) for link, follower in pairwise(chain)]
    vouched.append(cut or sealed == {"seq": last.entry.seq, "digest": last.digest})
    if chain[0].entry.seq == 1 and chain[0].entry.prev != FIRST:
        vouched[0] = False
    in_doubt = []
    for at, link in enumerate(chain):
        if not vouched[at] and all(vouched[at + 1 : at + 2]):
            yield f"{link}: it is not as it was entered."
        elif not vouched[at]:
            in_doubt.append(link)
    for link in in_doubt:
        yield f"{link}: nothing vouches for it, as the entry after it was changed."


def _vouched(link: _Link, follower: _Link) -> bool:
    if follower.entry.seq != link.entry.seq + 1:
        return True  # told as a gap already
    return follower.entry.prev == link.digest


def _missing(first: int, last: int, device: str) -> str:
    numbers = f"Number {first}" if first == last else f"Numbers {first} to {last}"
    verb = "is" if first == last else "are"
    return f"{numbers} of device {clean(device, most=40)} {verb} missing"


def _heading(job: Mapping[str, Any], entries: Sequence[Entry]) -> Iterator[str]:
    try:
        wanted = job_document(entries)
    except Refusal as refusal:
        yield f"The log does not begin as a job does: {refusal.message}."
        return
    for key in ("id", "title", "place", "units"):
        if job.get(key) != wanted[key]:
            said = clean(str(job.get(key)), most=60)
            yield f"The heading says {key} '{said}', the start entry says '{clean(wanted[key], most=60)}'."
    strange = sorted(job.keys() - wanted.keys())
    if strange and not is_newer(job):
        yield f"The heading holds '{clean(strange[0], most=40)}', which is none of its keys."


def _layout(found: Tables, job: Mapping[str, Any], raw: bytes, name: str) -> Iterator[str]:
    """The bytes around the entries, which no chain covers."""
    if is_newer(job):
        yield f"{name} was written by a newer sitelog (format {job['format']}): only that one can vouch for it."
        return
    entries = sorted((entry_of(doc) for doc in found["entries"].values()), key=lambda entry: entry.id)
    wanted = msgspec.json.encode(tables(entries))
    if wanted != raw:
        at = next((n for n, (a, b) in enumerate(zip(wanted, raw, strict=False), 1) if a != b), len(wanted))
        yield f"{name} was changed at byte {at}, outside the entries: each of them is as it was entered."


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
    return f" It is in or after entry {ids[-1]}." if ids else ""
