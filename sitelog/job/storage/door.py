"""Whether a job may be made or written in its place, and what is swept out of the way before."""

import os
import re
from contextlib import suppress
from pathlib import Path

from sitelog.job.storage.disk import beside, is_link, named, reason, sweep
from sitelog.job.storage.format import Contents
from sitelog.job.storage.store import WholeFile
from sitelog.refusal import NOT_SAVED, USAGE, Refusal
from sitelog.text import clean


def sweep_job(path: Path) -> None:
    """Remove what was begun and killed, in the names of this program and of earlier ones."""
    sweep(path.parent, path.name)
    sweep(beside(path))
    for left in (path.with_name(f".{path.name}.saving"), beside(path) / "journal.new", beside(path) / "typed.new"):
        with suppress(OSError):
            left.unlink()


# What a killed program leaves that had not made its job yet: none of it is record.
_LEFT = r"\.|(lock|journal\.new|(own-)?lists\.json(\.\d+)?)$"


def must_be_free(path: Path, again: bool = False) -> None:
    """`Refusal` 2 if the name of a job to be made is taken, by a job or what belongs to one; 4 if that can't be told.

    `again`: what stands beside is its own.
    """
    try:
        _must_be_free(path, again)
    except OSError as error:
        raise Refusal(f"Not saved: {named(path)}: {reason(error)}.", code=NOT_SAVED) from error


def _must_be_free(path: Path, again: bool) -> None:
    if path.exists() or path.is_symlink():
        raise Refusal(f"{named(path)} already exists. Choose another name.", code=USAGE)
    if not path.parent.is_dir():
        raise Refusal(f"No folder called {clean(str(path.parent))}.", code=USAGE)
    folder = beside(path)
    if not again and folder.exists() and not all(re.match(_LEFT, found.name) for found in folder.iterdir()):
        raise Refusal(f"{named(folder)} already exists, from another job. Choose another name.", code=USAGE)


def gone(path: Path) -> str:
    """Where nothing stands under that name, that in one line; or ""."""
    if os.path.lexists(path):
        return ""
    if not os.path.lexists(path.parent):
        return f"The folder {named(path.parent)} was moved, renamed or deleted"
    return f"{named(path)} was moved, renamed or deleted"


def unmake(store: WholeFile) -> None:
    """Remove what was made of a job that could not be saved; what another put there since is left."""
    with suppress(OSError):
        if not store.changed():
            store.path.unlink()
    with suppress(OSError):
        beside(store.path).rmdir()


def why_not(found: Contents, mend: bool) -> str:
    """Why what was read may not be written, or "". One whose journal does not fit may, with `mend`."""
    return found.read_only or ("" if mend else found.mend)


def barred(path: Path) -> str:
    """Why a job may not be written, or "". A write-protected file could be replaced, but was protected for a reason."""
    if path.parent.name == "copies":
        return "this is a backup copy. Save it under a new name to carry on from it"
    files = beside(path)
    for place in (files, files / "copies"):
        if is_link(place):
            return f"{named(place)} beside it is a shortcut. Remove it"
    for place in (path, path.parent):
        if not os.access(place, os.W_OK):
            return f"you don't have permission to write {named(place)}"
    return ""
