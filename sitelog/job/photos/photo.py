"""What an entry says of a photo that is kept beside the job, and how much of a hostile one is believed."""

import re
from collections.abc import Iterator, Mapping, Sequence
from typing import Any

from msgspec import Struct, to_builtins

from sitelog.job.log.parts import items
from sitelog.job.photos.picture.names import EXTENSION, Kind
from sitelog.quantities.rounding import places
from sitelog.refusal import Refusal
from sitelog.text import clean

MOST_AT_ONCE = 12  # photos of one entry
NAME = 120  # letters of a name that are kept

_HASH = r"[0-9a-f]{64}"
_DEVICES = r"(?i)(con|prn|aux|nul|com[0-9¹²³]|lpt[0-9¹²³])(\..*)?"


class Photo(Struct, frozen=True, omit_defaults=True):
    """A picture in the job's folder. `name` is what it was called where it came from, and is nowhere a file's name."""

    hash: str  # SHA-256 of the bytes that are kept, in hex
    type: Kind
    size: int  # bytes
    name: str
    whole: bool = False  # its time, place and camera were kept in it, as somebody asked

    @property
    def file(self) -> str:
        """What it is called on the disk: its hash and its kind, and nothing that anybody typed."""
        return f"{self.hash}.{EXTENSION[self.type]}"

    @property
    def told_size(self) -> str:
        """`3.1 MB`, `12 kB`."""
        if self.size >= 100_000:
            return f"{places(self.size / 1e6, 1)} MB"
        return f"{-(-self.size // 1000)} kB"


def bare_name(name: str) -> str:
    """The name without any folder or drive, and cleaned; "" if nothing is left of it."""
    return clean(re.split(r"[/\\:]", name)[-1], most=NAME).strip(" .")


def is_device(name: str) -> bool:
    """Is it the name of a device on some systems, whatever folder or ending it has?"""
    return re.fullmatch(_DEVICES, bare_name(name)) is not None


def photos_of(value: Mapping[str, Any]) -> tuple[Photo, ...]:
    """The photos that an entry's value names. One that is not as it should be is left out: `faults_of` names it."""
    return tuple(found for found, _ in _rows(value) if found)


def names_of(value: Mapping[str, Any]) -> str:
    """The names of an entry's photos, kept or not, with commas between."""
    return ", ".join(filter(None, (*(photo.name for photo in photos_of(value)), name_only(value))))


def in_words(value: Mapping[str, Any]) -> str:
    """The photos of an entry's value as they are told: `photo IMG_2201, a name only, not attached`."""
    names, name = [photo.name for photo in photos_of(value)], name_only(value)
    told: list[str] = []
    if names:
        word = "photos" if len(names) > 1 else "photo"
        told.append(f"{word} {', '.join(names)}")
    if name:
        told.append(f"photo {name} (camera number only, no photo attached)")
    return "; ".join(told)


def name_only(value: Mapping[str, Any]) -> str:
    """The name of a photo that was typed and of which no file is kept, or ""."""
    name = value.get("photo", "")
    if not isinstance(name, str):
        return ""
    return clean(name)


def noted(name: str) -> dict[str, str]:
    """A photo of which only the name is kept, as an entry's value has it; nothing where there is none."""
    if not name:
        return {}
    return {"photo": name}


def faults_of(value: Mapping[str, Any]) -> Iterator[str]:
    """What is wrong with the photos of an entry's value, each in words that go on from the entry."""
    yield from (fault for _, fault in _rows(value) if fault)


def kept(photos: Sequence[Photo]) -> dict[str, Any]:
    """The photos as an entry's value keeps them; nothing where there are none. Refusal if there are too many."""
    if len(photos) > MOST_AT_ONCE:
        raise Refusal(f"{len(photos)} photos is too many at once. Add up to {MOST_AT_ONCE}")
    if not photos:
        return {}
    return {"photos": [to_builtins(photo) for photo in dict.fromkeys(photos)]}


def _rows(value: Mapping[str, Any]) -> Iterator[tuple[Photo | None, str]]:
    for row in items(value.get("photos")):
        fault = _fault(row)
        yield (None, fault) if fault else (Photo(**row), "")


_KINDS = {"hash": str, "type": str, "size": int, "name": str, "whole": bool}


def _fault(row: Any) -> str:
    """Why that is no photo, or "". Nothing of it has been used for a path before this was asked."""
    if not isinstance(row, dict):
        return "one of its photos isn't a record"
    called = clean(str(row.get("name", "")), most=60)
    wrong = _wrong_keys(row)
    if wrong:
        return f"the record of its photo '{called}' is wrong: {', '.join(wrong)[:60]}"
    if not re.fullmatch(_HASH, row["hash"]):
        return f"its photo '{called}' has a hash that isn't 64 hex digits, so no file can be matched"
    if row["type"] not in EXTENSION:
        return f"its photo '{called}' is a type that can't be kept: {clean(row['type'], most=40)}"
    if row["name"] != bare_name(row["name"]):
        return f"its photo '{called}' has a name that leads out of its folder, or can't be shown"
    if row["size"] <= 0:
        return f"its photo '{called}' doesn't have a size"
    return ""


def _wrong_keys(row: Mapping[str, Any]) -> list[str]:
    """The keys that are not a photo's, that are of another kind, and that are missing."""
    strange = [key for key in row if key not in _KINDS]
    of_another_kind = [key for key, kind in _KINDS.items() if key in row and type(row[key]) is not kind]
    missing = [key for key in _KINDS if key != "whole" and key not in row]
    return [*strange, *of_another_kind, *missing]
