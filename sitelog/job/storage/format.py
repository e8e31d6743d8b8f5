"""What stands in a job file: two tables, both worked out from the entries: same entries, same bytes."""

import re
from collections.abc import Iterator, Mapping, Sequence
from itertools import pairwise
from typing import Any, cast

import msgspec
from msgspec import Struct

from sitelog.job.log.entry import ACTS, Act, Entry, Offset, alike, ends, in_order
from sitelog.job.storage.store import Tables
from sitelog.refusal import DAMAGED, Refusal
from sitelog.text import clean

Seals = dict[str, dict[str, Any]]

FORMAT = 1

_KINDS: dict[object, str] = {  # of a key of an entry
    int: "a whole number",
    str: "words",
    dict[str, Any]: "a table",
    Offset: "a clock's minutes east of UTC",
}

# Milliseconds (to the year 2128, so that a next one always fits), device, number.
_ID = re.compile(r"[0-4][0-9]{12}-[A-Za-z0-9_-]{1,40}-[0-9]{6,}")


class Contents(Struct, frozen=True):
    """The entries of a job file in order of their ids, and why it must not be written ("" if it may).

    `seals` are those of the file itself, and `since` the entries that stand beside it: in it, too, if the last writer
    was killed at the end of a fold.
    `mend` says what is wrong with what stands beside it: it must not be written then but by `sitelog merge`. `told`
    says what can't be read there and bars nothing.
    """

    entries: list[Entry]
    read_only: str
    seals: Seals
    since: tuple[Entry, ...] = ()
    mend: str = ""
    told: str = ""


def tables(entries: Sequence[Entry]) -> Tables:
    """The file's tables for entries in order of their ids.

    Table `job` is one document: what the start entry says, and the seal of each device's last entry. Document
    numbers mean nothing; they follow the order.
    """
    return {
        "job": {"1": job_document(entries)},
        "entries": {str(number): entry for number, entry in enumerate(entries, 1)},
    }


def job_document(entries: Sequence[Entry]) -> dict[str, Any]:
    """The one document of table `job`; `Refusal` 3 if the first entry does not start a job."""
    first = entries[0] if entries else None
    if first is None or first.act != "start":
        raise Refusal("the first entry doesn't start a job", code=DAMAGED)
    said = {key: first.value.get(key) for key in ("title", "place", "units")}
    if not all(isinstance(text, str) for text in said.values()):
        raise Refusal("the start entry needs a title, a place and `units`", code=DAMAGED)
    return {"format": FORMAT, "id": first.id, **said, "seals": seals(entries)}


def seals(entries: Sequence[Entry]) -> Seals:
    """For each device the number and digest of its last entry: no entry follows that would vouch for it.

    Where a device's chain has more than one end, the others stand under `also`.
    """
    return {device: _seal(*last) for device, last in sorted(ends(entries).items())}


def _seal(*last: Entry) -> dict[str, Any]:
    *others, end = ({"seq": entry.seq, "digest": entry.digest()} for entry in last)
    if others:
        return {**end, "also": others}
    return end


class _Tables(Struct):
    job: dict[str, Any]
    entries: dict[str, Entry]


def as_written(raw: bytes) -> Contents | None:
    """The job in a file's bytes, where they are to the last one what this program writes of its entries; else None.

    So nothing in them is unknown, damaged or there twice, and none of it is looked for.
    """
    try:
        entries = in_order(msgspec.json.decode(raw, type=_Tables).entries.values())
        _once_each(entries)
        made = tables(entries)
        if msgspec.json.encode(made) == raw and all(is_id(entry.id) for entry in entries):
            return Contents(entries, "", made["job"]["1"]["seals"])
    except (Refusal, ValueError, RecursionError):
        pass
    return None


def contents(found: Tables, name: str) -> Contents:
    """Tables as entries; `Refusal` 3 if they are no job.

    What this program does not know is kept out of its hands: it reads such a file and never writes it.
    """
    job = heading(found, name)
    newer = is_newer(job)
    try:
        entries = in_order(entry_of(doc) for doc in found.get("entries", {}).values())
        _once_each(entries)
        made = tables(entries)
    except Refusal as error:
        what = "is damaged"
        if newer:
            what = f"was written by a newer sitelog (format {job['format']})"
        raise Refusal(f"{name} {what}: {error.message}.", code=DAMAGED) from None
    return Contents(entries, next(_strange(found, made, newer), ""), made["job"]["1"]["seals"])


def entry_of(doc: dict[str, Any]) -> Entry:
    """A document as an entry, acts of a newer program included; `Refusal` 3 names the entry and the fault."""
    act = doc.get("act")
    try:
        known = not isinstance(act, str) or act in ACTS
        entry = msgspec.convert(doc if known else {**doc, "act": "note"}, Entry)
    except msgspec.ValidationError:
        raise Refusal(f"entry {_called(doc)}: {_misfit(doc, known)}", code=DAMAGED) from None
    if not is_id(entry.id):
        raise Refusal(f"entry {_called(doc)}: its id isn't one of sitelog's", code=DAMAGED)
    if known:
        return entry
    return msgspec.structs.replace(entry, act=cast(Act, act))


def _called(doc: dict[str, Any]) -> str:
    return clean(str(doc.get("id", "without an id")), most=60)


def _misfit(doc: dict[str, Any], known: bool) -> str:
    """What of a document does not make an entry, in our own words. `known` is false for an act of a newer program."""
    fields = msgspec.structs.fields(Entry)
    missing = next((field.name for field in fields if field.required and field.name not in doc), "")
    if missing:
        return f"its '{missing}' is missing"
    unknown = () if known else ("act",)
    looked = [field for field in fields if field.name in doc and field.name not in unknown]
    wrong = next(field for field in looked if not _fits(doc[field.name], field.type))
    return f"its '{wrong.name}' isn't {_KINDS.get(wrong.type, 'one this program knows')}"


def _fits(value: object, kind: object) -> bool:
    try:
        msgspec.convert(value, kind)
    except msgspec.ValidationError:
        return False
    return True


def is_id(text: str) -> bool:
    """Does it sort by time, as every entry's id?"""
    return _ID.fullmatch(text) is not None


def heading(found: Tables, name: str) -> dict[str, Any]:
    """The document of table `job`; `Refusal` 3 if it is not one or names no format."""
    docs = list(found.get("job", {}).values())
    if len(docs) != 1:
        raise Refusal(f"{name} is damaged or not a job: its table 'job' isn't one document.", code=DAMAGED)
    job: dict[str, Any] = docs[0]
    if type(job.get("format")) is not int or job["format"] < 1:
        raise Refusal(f"{name} is damaged or not a job: it doesn't say its format.", code=DAMAGED)
    return job


def is_newer(job: Mapping[str, Any]) -> bool:
    """Was it written by a program with a newer format than this one's?"""
    return bool(job["format"] > FORMAT)


def _once_each(entries: Sequence[Entry]) -> None:
    for before, entry in pairwise(entries):
        if before.id == entry.id and (before == entry or not alike(before, entry)):
            raise Refusal(f"entry {entry.id} is in it twice", code=DAMAGED)


def _strange(found: Tables, made: Tables, newer: bool) -> Iterator[str]:
    """Every reason not to write over what was found."""
    if newer:
        yield "it was written by a newer sitelog"
    for entry in made["entries"].values():
        if entry.act not in ACTS:
            yield f"it has an entry from a newer sitelog, '{clean(entry.act, most=40)}'"
    if found.keys() != made.keys():
        yield "it has a table that no job has"
    if not _same(found["entries"], made["entries"]):
        yield "its entries have something this sitelog doesn't know"
    if next(iter(found["job"].values())) != made["job"]["1"]:
        yield "its heading or its last entries have been changed since they were saved"


def _same(found: dict[str, Any], made: dict[str, Entry]) -> bool:
    """Do documents and entries say the same? Bytes tell that of our own layout, and cost a quarter."""
    if msgspec.json.encode(found) == msgspec.json.encode(made):
        return True
    docs = sorted(found.values(), key=lambda doc: str(doc["id"]))
    return docs == [msgspec.to_builtins(entry) for entry in made.values()]
