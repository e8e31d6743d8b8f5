"""The checklists that a job goes by: those it was begun with, until it is brought to newer ones.

A `pin` entry holds their digests and, under "@files" and "@texts", the files themselves: name and digest of each, and
each text once. What an older program has pinned holds digests only; those lists are looked for among the shipped ones
of earlier days. Where they can't be had at all a job goes by the newest.
"""

import hashlib
from collections.abc import Iterable, Iterator, Mapping, Sequence
from contextlib import suppress
from functools import lru_cache

from sitelog import kept
from sitelog.checklist.proved import key_of
from sitelog.checklist.schema.model import Library, ListFile
from sitelog.checklist.schema.shipped import earlier_folders, toml_files
from sitelog.job.log.entry import Draft, Entry, said
from sitelog.job.log.entry_index import EntryIndex
from sitelog.refusal import Refusal

Files = tuple[tuple[str, str], ...]  # name and digest of each file, in the order in which one replaces another


def in_force(newest: Library, entry_index: EntryIndex) -> Library:
    """The lists that the job goes by."""
    if entry_index.pinned:
        return _pinned(newest, entry_index, entry_index.pinned[-1])
    return newest


def before(newest: Library, entry_index: EntryIndex) -> Iterator[Library]:
    """The lists that it went by before, the last first; then the newest, and the shipped ones of earlier days."""
    for entry in reversed(entry_index.pinned[:-1]):
        yield _pinned(newest, entry_index, entry)
    yield newest
    yield from _earlier(newest)


def pin(library: Library, held: Iterable[str] = (), keep: Sequence[ListFile] = ()) -> Draft:
    """The act that makes a job go by these lists, with the texts that it does not hold yet.

    `keep` are files of its own that it goes on with, as these lists have none of their id.
    """
    files = (*library.files, *keep)
    texts = {file.digest: file.text for file in files if file.digest not in set(held)}
    digests = dict(library.digests)
    if keep:
        digests = dict(_loaded(tuple((file.name, file.text) for file in files)).digests)
    value = digests | {"@files": [[file.name, file.digest] for file in files], "@texts": texts}
    return Draft(act="pin", value=value if files else digests)


def update(newest: Library, entry_index: EntryIndex) -> Draft:
    """The act that brings a job to the newest lists. A list of its own whose id is not among them stays as it is."""
    ids = {file.id for file in newest.files}
    own = in_force(newest, entry_index)
    forms = {str(entry.value.get("form", "")) for entry in entry_index.parts.values()}
    wanted = {own.lists[form].id for form in forms if form in own.lists and form not in newest.lists}
    return pin(newest, entry_index.texts, [file for file in own.files if file.id in wanted - ids])


def is_kept(entry_index: EntryIndex) -> bool:
    """Does the job itself hold the lists that it goes by?"""
    return bool(entry_index.pinned) and _texts(entry_index, entry_index.pinned[-1]) is not None


def _pinned(newest: Library, entry_index: EntryIndex, entry: Entry) -> Library:
    pins = said(entry.value)
    forms = [str(part.value.get("form", "")) for part in entry_index.parts.values()]
    if not _apart(newest, forms, pins):
        return newest
    texts = _texts(entry_index, entry)
    with suppress(Refusal):
        if texts is not None:
            return _loaded(texts)
    return min((newest, *_earlier(newest)), key=lambda known: _apart(known, forms, pins))


def _apart(library: Library, forms: Iterable[str], pins: Mapping[str, object]) -> int:
    """How many of the lists that the job goes by are other ones in that library, or not there."""
    used = library.used_by(forms)
    there = {form for form in forms if form in library.lists}
    return sum(pins.get(name) != digest for name, digest in used.items()) + len(set(forms) - there)


def _texts(entry_index: EntryIndex, entry: Entry) -> Files | None:
    """Names and texts of the files that the entry pins; None where it pins none, or one is not there whole."""
    named = entry.value.get("@files")
    if not isinstance(named, list) or not named:
        return None
    found = []
    for row in named:
        name, digest = row if isinstance(row, list) and len(row) == 2 else ("", "")
        text = entry_index.texts.get(str(digest))
        if text is None or hashlib.sha256(text.encode("utf-8", "replace")).hexdigest() != digest:
            return None
        found.append((str(name), text))
    return tuple(found)


@lru_cache(maxsize=8)
def _loaded(texts: Files) -> Library:
    return kept.cached(key_of(texts), lambda: _read(texts))


def _read(texts: Files) -> Library:
    from sitelog.checklist.loader.pinned import from_texts  # all that reads and proves lists comes with it

    return from_texts(texts)


def _earlier(newest: Library) -> Iterator[Library]:
    """The shipped lists of each earlier day, with the firm's own of today over them."""
    firm = tuple((file.name, file.text) for file in newest.files if file.firm)
    for folder in earlier_folders():
        shipped = tuple((path.name, path.read_text(encoding="utf-8")) for path in toml_files(folder))
        yield _loaded((*shipped, *firm))
