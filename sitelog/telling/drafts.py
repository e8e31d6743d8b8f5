"""What was typed into a form and not yet entered: kept beside the job, so that leaving or a crash loses nothing."""

from pathlib import Path

import msgspec


class Drafts:
    """The half-filled forms of one job, by check: a small file in the job's folder, or memory only.

    It is no record: only the form it came from reads it, and a file that can't be read or written is passed over.
    """

    def __init__(self, folder: Path | None) -> None:
        self._file = folder / "typed.json" if folder else None
        self._forms: dict[str, dict[str, str]] = {}
        if self._file:
            try:
                self._forms = msgspec.json.decode(self._file.read_bytes(), type=dict[str, dict[str, str]])
            except (OSError, msgspec.MsgspecError, UnicodeDecodeError):
                self._forms = {}

    def typed(self, path: str) -> dict[str, str]:
        return dict(self._forms.get(path, {}))

    def keep(self, path: str, texts: dict[str, str]) -> None:
        self._forms[path] = {key: text for key, text in texts.items() if text}
        self._write()

    def drop(self, path: str) -> None:
        if self._forms.pop(path, None) is not None:
            self._write()

    def _write(self) -> None:
        if not self._file:
            return
        beside = self._file.with_suffix(".new")
        try:
            self._file.parent.mkdir(exist_ok=True)
            beside.write_bytes(msgspec.json.encode(self._forms))
            beside.replace(self._file)
        except OSError:
            return
