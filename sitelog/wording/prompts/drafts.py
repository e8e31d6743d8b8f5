"""What was typed into a form and not yet entered: kept on the disk, so that leaving or a crash loses nothing."""

from collections.abc import Callable, Iterator, Mapping
from contextlib import suppress
from pathlib import Path
from typing import NamedTuple, Self

import msgspec

from sitelog.job.storage.disk import job_of, load, put
from sitelog.refusal import Refusal
from sitelog.text import clean

LONGEST = 4_000  # letters of a field: a roof said block by block, a list of what is on site
OF = "@"  # between the name of a form and of who typed into it


class Typed(NamedTuple):
    """What one person typed into a form and did not enter, by field."""

    by: str
    form: str
    texts: Mapping[str, str]


class Drafts:
    """Half-filled forms by their name: a small file, there while one is half filled, or memory only.

    `by` tells who is there: what somebody typed is shown to nobody else. What was typed under no name is anybody's.
    It is no record: only the form it came from reads it, and a file that can't be read or written is passed over.
    """

    def __init__(self, file: Path | None, like: Path | None = None, by: Callable[[], str] = str) -> None:
        self._file, self._by = file, by
        self._like = like  # whose readers may read it
        self._forms: dict[str, dict[str, str]] = {}
        if self._file:
            try:
                self._forms = msgspec.json.decode(load(self._file)[0], type=dict[str, dict[str, str]])
            except (Refusal, msgspec.MsgspecError, UnicodeDecodeError):
                self._forms = {}

    @classmethod
    def of_job(cls, files: Path, by: Callable[[], str] = str) -> Self:
        """The forms of a job, by the path of their check; `files` is the job's own folder."""
        return cls(files / "typed.json", job_of(files), by)

    @classmethod
    def of_new_job(cls, folder: Path) -> Self:
        """The form of a job that is to be set up in that folder, and has none of its own yet."""
        return cls(folder / ".sitelog-new-job")

    def typed(self, path: str) -> dict[str, str]:
        """What was typed for that form the last time, by field; nothing for one without a name."""
        if not path:
            return {}
        found = self._forms.get(self._own(path), self._forms.get(path, {}))
        return {key: clean(text, most=LONGEST) for key, text in found.items()}

    def keep(self, path: str, texts: Mapping[str, str], *, empty: bool = False) -> None:
        """`empty` keeps what was left empty, too, where that says something."""
        kept = {key: text for key, text in texts.items() if text or empty}
        if not kept:
            self.drop(path)
        elif self._forms.get(self._own(path)) != kept:
            self._forms.pop(path, None)
            self._forms[self._own(path)] = kept
            self._write()

    def drop(self, path: str) -> None:
        """Forget it: it has been entered."""
        held = [key for key in (path, self._own(path)) if self._forms.pop(key, None) is not None]
        if held:
            self._write()

    def of_others(self) -> Iterator[Typed]:
        """What somebody else typed and did not enter, form by form."""
        for key, texts in self._forms.items():
            form, _, by = key.partition(OF)
            said = {field: clean(text, most=LONGEST) for field, text in texts.items() if text.strip()}
            if by and by != self._by() and said:
                yield Typed(by, form, said)

    def throw_away(self, by: str) -> None:
        """Forget all that this person typed."""
        self._forms = {key: texts for key, texts in self._forms.items() if key.partition(OF)[2] != by}
        self._write()

    def _own(self, path: str) -> str:
        return f"{path}{OF}{self._by()}".removesuffix(OF)

    def _write(self) -> None:
        if not self._file:
            return
        with suppress(OSError, Refusal):
            if self._forms:
                put(self._file, msgspec.json.encode(self._forms), self._like, synced=False)
            else:
                self._file.unlink(missing_ok=True)
