"""At which line of a TOML text each table, key and item stands, for the reader of TOML keeps no lines."""

import re
from collections.abc import Iterator
from itertools import takewhile

Path = tuple[str | int, ...]

# No table of a checklist stands deeper (a key of a limit of a figure of a check of a stage has nine steps).
DEEPEST = 10
_TOKEN = re.compile(
    r'"""(?:[^\\]|\\.)*?"{3,5}'  # up to two quotes may stand before the closing three
    r"|'''.*?'{3,5}"
    r'|"(?:[^"\\\n]|\\.)*"'
    r"|'[^'\n]*'"
    r"|#[^\n]*"
    r"|[\n\[\]{},=]"
    r"|[^\s\[\]{},=#\"']+",
    re.DOTALL,
)
_ENDS = ("\n", ",", "]", "}", "")


def lines(text: str) -> dict[Path, int]:
    """Line numbers, from 1, by path: `("stage", 0, "check", 2, "ask")`. The text must be good TOML."""
    return _Walk(text).found


def line_of(path: Path, found: dict[Path, int]) -> int:
    """The line of that path, or of the nearest table around it that has one."""
    while path and path not in found:
        path = path[:-1]
    return found.get(path, 1)


def _tokens(text: str) -> Iterator[tuple[str, int]]:
    line, counted = 1, 0
    for match in _TOKEN.finditer(text):
        line += text.count("\n", counted, match.start())
        counted = match.start()
        if not match[0].startswith("#"):
            yield match[0], line


class _Walk:
    """One pass over the tokens; `base` is the table that the last header opened."""

    def __init__(self, text: str) -> None:
        self.tokens = [*_tokens(text.replace("\r\n", "\n"))]
        self.found: dict[Path, int] = {(): 1}
        self.last: dict[Path, int] = {}  # the last item of each array of tables
        self.base: Path = ()
        at = 0
        while at < len(self.tokens):
            word = self.word(at)
            if word in _ENDS:
                at += 1
            elif word == "[":
                at = self.header(at)
            else:
                at = self.pair(at, self.base)

    def word(self, at: int) -> str:
        if at < len(self.tokens):
            return self.tokens[at][0]
        return ""

    def note(self, path: Path, at: int) -> None:
        self.found.setdefault(path, self.tokens[at][1])

    def key(self, at: int, end: str) -> tuple[list[str], int]:
        """The parts of a dotted key, and the place after the `end` that closes it."""
        words = [*takewhile(lambda word: word not in (end, "\n", ""), map(self.word, range(at, len(self.tokens))))]
        parts: list[str] = []
        for word in words:
            parts += [word[1:-1]] if word[0] in "\"'" else [part for part in word.split(".") if part]
        return parts[:DEEPEST], at + len(words) + 1

    def header(self, at: int) -> int:
        many = self.word(at + 1) == "["
        parts, after = self.key(at + 1 + many, "]")
        path: Path = ()
        for place, part in enumerate(parts, 1):
            path += (part,)
            self.note(path, at)
            if many and place == len(parts):
                self.last[path] = self.last.get(path, -1) + 1
            if path in self.last:
                path += (self.last[path],)
            self.note(path, at)
        self.base = path
        return after + many

    def pair(self, at: int, table: Path) -> int:
        parts, after = self.key(at, "=")
        path = table
        for part in parts:
            path += (part,)
            self.note(path, at)
        return self.value(after, path)

    def value(self, at: int, path: Path) -> int:
        """The place after the value that stands at `at`."""
        word = self.word(at)
        if word in ("[", "{") and len(path) >= DEEPEST:
            return self.skip(at)
        if word == "[":
            return self.items(at + 1, path)
        if word == "{":
            return self.pairs(at + 1, path)
        while self.word(at) not in _ENDS:
            at += 1
        return at

    def items(self, at: int, path: Path) -> int:
        item = 0
        while self.word(at) not in ("]", ""):
            if self.word(at) in _ENDS:
                at += 1
                continue
            self.note((*path, item), at)
            at = self.value(at, (*path, item))
            item += 1
        return at + 1

    def pairs(self, at: int, path: Path) -> int:
        while self.word(at) not in ("}", ""):
            at = at + 1 if self.word(at) in _ENDS else self.pair(at, path)
        return at + 1

    def skip(self, at: int) -> int:
        depth = 0
        while at < len(self.tokens):
            depth += (self.word(at) in ("[", "{")) - (self.word(at) in ("]", "}"))
            at += 1
            if not depth:
                break
        return at
