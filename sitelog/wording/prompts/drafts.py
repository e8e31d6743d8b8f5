"""What was typed into a form and not yet entered: kept on the disk, so that leaving or a crash loses nothing."""

from collections.abc import Mapping
from contextlib import suppress
from pathlib import Path
from typing import Self

import msgspec

from sitelog.job.storage.disk import job_of, load, put
from sitelog.refusal import Refusal
from sitelog.text import clean

LONGEST = 4_000  # letters of a field: a roof said block by block, a list of what is on site


class Drafts:
    """Half-filled forms by their name: a small file, there while one is half filled, or memory only.

    It is no record: only the form it came from reads it, and a file that can't be read or written is passed over.
    """

    def __init__(self, file: Path | None, like: Path | None = None) -> None:
        self._file, self._like = file, like  # whose readers may read it
        self._forms: dict[str, dict[str, str]] = {}
        if self._file:
            try:
                self._forms = msgspec.json.decode(load(self._file)[0], type=dict[str, dict[str, str]])
            except (Refusal, msgspec.MsgspecError, UnicodeDecodeError):
                self._forms = {}

    @classmethod
    def of_job(cls, files: Path) -> Self:
        """The forms of a job, by the path of their check; `files` is the job's own folder."""
        return cls(files / "typed.json", job_of(files))

    @classmethod
    def of_new_job(cls, folder: Path) -> Self:
        """The form of a job that is to be set up in that folder, and has none of its own yet."""
        return cls(folder / ".sitelog-new-job")

    def typed(self, path: str) -> dict[str, str]:
        """What was typed for that form the last time, by field."""
        return {key: clean(text, most=LONGEST) for key, text in self._forms.get(path, {}).items()}

    def keep(self, path: str, texts: Mapping[str, str], *, empty: bool = False) -> None:
        """`empty` keeps what was left empty, too, where that says something."""
        self._forms[path] = {key: text for key, text in texts.items() if text or empty}
        self._write()

    def drop(self, path: str) -> None:
        """Forget it: it has been entered."""
        if self._forms.pop(path, None) is not None:
            self._write()

    def _write(self) -> None:
        if not self._file:
            return
        with suppress(OSError, Refusal):
            if self._forms:
                put(self._file, msgspec.json.encode(self._forms), self._like, synced=False)
            else:
                self._file.unlink(missing_ok=True)
