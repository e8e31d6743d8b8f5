"""The sample job with somebody else's words in it, sealed as if they had been entered: the chain is whole."""

import re
from collections.abc import Callable, Mapping
from datetime import datetime, timedelta
from pathlib import Path
from typing import Any

from sitelog.checklist.schema.shipped import sample_folder
from sitelog.job.log.entry import Author, Draft, Entry, seal
from sitelog.job.storage.file import JobFile
from tests import shipped

Change = Callable[[str], str]
Number = Callable[[float], object]

# By act, the keys that join one thing in the record to another: changed, the words would not be reached. None: all.
JOINTS = {
    "start": ("units",),
    "pin": None,
    "part": ("id", "form"),
    "snag": ("id",),
    "close": None,
    "void": None,
    "read": ("id",),
    "instrument": ("id",),
    "doubt": None,
    "defer": ("until",),
    "accept": ("point",),
    "diary": ("day",),
}
# What is chosen decides what is asked.
CHOSEN = {
    f"{stage.id}.{check.id}"
    for one in shipped.library().lists.values()
    for stage in one.stages
    for check in stage.checks
    if check.kind == "choice"
}

FIGURE = re.compile(r"\d+[x/]\d+|C\d\d|I{1,3}")  # a section, a share, a class: without them nothing follows


def sample() -> list[Entry]:
    with JobFile.open(sample_folder() / "kiln-lane.json", read_only=True) as file:
        return list(file.entries)


def changed(change: Change, *, joints: bool = False, number: Number = lambda one: one) -> list[Entry]:
    """The sample's entries with every word of a person changed; with `joints`, all that joins them, too."""
    made: list[Entry] = []
    for entry in sample():
        moment = datetime.fromisoformat(entry.at) + timedelta(minutes=entry.offset)
        keep = () if joints else JOINTS.get(entry.act, ())
        joined = () if joints else (*(keep or ()), "@")  # "@": the evidence of an answer
        whole = keep is None or (entry.check in CHOSEN and not joints)
        value = dict(entry.value) if whole else _changed(entry.value, change, number, joined)
        draft = Draft(
            act=entry.act,
            part=entry.part,
            check=entry.check,
            value=value,
            note=change(entry.note) if entry.note else "",
            done=entry.done,
        )
        before = made[-1] if made else None
        made.append(seal(draft, Author(change(entry.by), entry.device, moment), before, before.id if before else ""))
    return made


def _changed(value: Mapping[str, Any], change: Change, number: Number, keep: tuple[str, ...]) -> dict[str, Any]:
    return {key: one if key.startswith(keep) else _in(one, change, number) for key, one in value.items()}


def _in(one: Any, change: Change, number: Number) -> Any:
    if isinstance(one, str):
        return one if FIGURE.fullmatch(one) else change(one)
    if isinstance(one, list):
        return [_in(each, change, number) for each in one]
    if isinstance(one, dict):
        return {key: _in(each, change, number) for key, each in one.items()}
    return number(one) if isinstance(one, int | float) and not isinstance(one, bool) else one


def job(folder: Path, change: Change, *, joints: bool = False, number: Number = lambda one: one) -> Path:
    """A whole, well-sealed job file with those words."""
    file = folder / "job.json"
    entries = changed(change, joints=joints, number=number)
    JobFile.create(file, entries, author=Author("M. Reed", "testbed1", datetime.fromisoformat(entries[-1].at))).close()
    return file
