"""Which photos are offered to be attached, and which of them was meant."""

import os
import re
from collections.abc import Sequence
from pathlib import Path

from msgspec import Struct

from sitelog.job.photos.keeping import ENDINGS, FOLDER
from sitelog.refusal import Refusal
from sitelog.text import clean

OFFERED = 9  # newest pictures, so that one digit picks one


class Chosen(Struct, frozen=True):
    """What somebody meant by what they typed: pictures to be attached, and names that are names only."""

    sources: tuple[Path, ...] = ()
    name: str = ""


def offered(folder: Path, most: int = OFFERED) -> tuple[Path, ...]:
    """The newest pictures, by the ends of their names, in the job's folder and in `photos` under it; newest first."""
    found: list[tuple[int, Path]] = []
    for place in (folder, folder / FOLDER):
        try:
            with os.scandir(place) as rows:
                for row in rows:
                    if row.name.lower().endswith(ENDINGS) and row.is_file(follow_symlinks=False):
                        found.append((row.stat(follow_symlinks=False).st_mtime_ns, Path(row.path)))
        except OSError:
            continue
    return tuple(path for _, path in sorted(found, key=lambda row: (-row[0], row[1]))[:most])


def choose(text: str, folders: Sequence[Path], offers: Sequence[Path] = ()) -> Chosen:
    """What was typed as pictures: numbers of those offered, files with commas between, or names of photos only.

    A file is looked for in each folder and in its `photos`. Words with a / or \\ in them are a file and nothing else:
    Refusal if there is none.
    """
    words = text.strip()
    numbers = re.split(r"[\s,]+", words)
    if all(number.isascii() and number.isdecimal() and 0 < int(number[:9]) <= len(offers) for number in numbers):
        return Chosen(tuple(dict.fromkeys(offers[int(number) - 1] for number in numbers)))
    alone = _file(words, folders)
    if alone:
        return Chosen((alone,))
    found: list[Path] = []
    names: list[str] = []
    for word in filter(None, map(str.strip, words.split(","))):
        path = _file(word, folders)
        if path:
            found.append(path)
        elif re.search(r"[/\\]", word):
            raise Refusal(f"No file called {clean(word, most=200)}.")
        else:
            names.append(word)
    return Chosen(tuple(dict.fromkeys(found)), ", ".join(names))


def _file(word: str, folders: Sequence[Path]) -> Path | None:
    """The file of that name, if there is one. A terminal puts quotes round a file that is dragged into it."""
    bare = _without_quotes(word)
    if not bare:
        return None
    try:
        return next(filter(os.path.lexists, _places(Path(bare).expanduser(), folders)), None)
    except (OSError, ValueError, RuntimeError):
        return None


def _without_quotes(word: str) -> str:
    quoted = len(word) > 1 and word[0] == word[-1] and word[0] in "'\""
    if quoted:
        return word[1:-1]
    return word


def _places(typed: Path, folders: Sequence[Path]) -> list[Path]:
    """Where a file of that name is looked for: in each folder, and among its photos."""
    if typed.is_absolute():
        return [typed]
    return [place / typed for folder in folders for place in (folder, folder / FOLDER)]
