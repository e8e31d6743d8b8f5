"""A TOML table read key by key: what is missing, mistyped or unknown is noted, and reading goes on."""

import math
import re
import unicodedata
from collections.abc import Callable, Mapping, Sequence
from typing import Any, TypeVar

from sitelog.checklist.schema import grammar
from sitelog.checklist.schema.document import Fault, Spot
from sitelog.checklist.schema.terms import Condition, Operand
from sitelog.near import closest
from sitelog.quantities.quantity import Kind, Value, read
from sitelog.refusal import Refusal
from sitelog.text import MOST, clean

T = TypeVar("T")
Word = TypeVar("Word", bound=str)
# No list comes near these bounds; past them a file is something else, and proving it would take long.
MOST_ITEMS = 500
MOST_HINTS = 200
_TYPES = {
    bool: "true or false",
    str: "text",
    int: "a number",
    float: "a number",
    list: "a list",
    dict: "a table",
}


def hint(word: str, known: Sequence[str]) -> str:
    """How a refusal of a name goes on: the nearest name, or the names there are."""
    near = closest(word[:60], known) if len(known) <= MOST_ITEMS else ""
    if near:
        return f"did you mean {near}?"
    if not known:
        return "there are none"
    return f"there are {', '.join(sorted(known)[:12])}"


class Table:
    """One table. Every key asked for is known; `close` tells of the rest."""

    def __init__(self, spot: Spot, data: Mapping[str, Any], faults: list[Fault]) -> None:
        self.spot = spot
        self.data = data
        self.faults = faults
        self.asked: list[str] = []

    def wrong(self, what: str, *keys: str | int) -> None:
        """Note a fault of the table, or of a key in it."""
        self.faults.append(self.spot.at(*keys).fault(what))

    def elsewhere(self, *keys: str) -> None:
        """Keys that are right here and are read by another."""
        self.asked += keys

    def close(self) -> None:
        """Note every key that nobody asked for."""
        if len(self.data) > MOST_ITEMS:
            self.wrong(f"this table has {len(self.data)} keys; {MOST_ITEMS} is the most")
            return
        for key in self.data:
            if key not in self.asked:
                near = "take it out"
                if len(self.faults) < MOST_HINTS:
                    near = hint(key, self.asked)
                self.wrong(f"unknown key {clean(key, most=60)!r}; {near}", key)

    def _raw(self, key: str, accepts: type | tuple[type, ...], wanted: str, need: bool) -> Any:
        self.asked.append(key)
        if key not in self.data:
            if need:
                self.wrong(f"{key} is missing; give {wanted}")
            return None
        value = self.data[key]
        if isinstance(value, accepts) and not (isinstance(value, bool) and accepts is not bool):
            return value
        self.wrong(f"{key} is {_TYPES.get(type(value), 'a date')}; give {wanted}", key)
        return None

    def _items(self, key: str, wanted: str, *, need: bool) -> list[Any]:
        items: list[Any] = self._raw(key, list, wanted, need) or []
        if len(items) > MOST_ITEMS:
            self.wrong(f"{key} has {len(items)} items; {MOST_ITEMS} is the most", key)
            return []
        return items

    def text(self, key: str, *, need: bool = False) -> str:
        """Clean text of one line; "" where there is none."""
        return self._text(key, "text", need)

    def _text(self, key: str, wanted: str, need: bool) -> str:
        value = self._raw(key, str, wanted, need)
        if value is None:
            return ""
        return self._clean(value, key)

    def _clean(self, value: str, *keys: str | int) -> str:
        folded = re.sub(r"[ \t\r\n]+", " ", value).strip()
        cleaned = clean(folded)
        if not folded:
            self.wrong(f"{keys[0]} is empty; give text or leave the key out", *keys)
        elif len(folded) > MOST:
            self.wrong(f"{keys[0]} has {len(folded)} characters; {MOST} is the most", *keys)
        elif cleaned not in (folded, unicodedata.normalize("NFC", folded)):
            self.wrong(f"{keys[0]} has control or hidden characters; take them out", *keys)
        return cleaned

    def name(self, key: str, shape: re.Pattern[str] = grammar.ID, *, need: bool = False) -> str:
        """An id: text of one shape; "" where there is none."""
        value = self.text(key, need=need)
        self._shaped(value, shape, key)
        return value

    def _shaped(self, value: str, shape: re.Pattern[str], *keys: str | int) -> None:
        if value and not shape.fullmatch(value):
            joint = "_" if shape is grammar.NAME else "-"
            right = f"small letters, digits and {joint}, a letter first"
            self.wrong(f"{keys[0]} can't be {clean(value, most=60)!r}; it takes {right}", *keys)

    def texts(self, key: str, shape: re.Pattern[str] | None = None) -> tuple[str, ...]:
        """A list of clean texts, of one shape if one is given."""
        found: list[str] = []
        for place, value in enumerate(self._items(key, "a list of texts", need=False)):
            if not isinstance(value, str):
                self.wrong(f"{key} holds {_TYPES.get(type(value), 'a date')}; give texts", key, place)
                continue
            found.append(self._clean(value, key, place))
            if shape:
                self._shaped(found[-1], shape, key, place)
        for text in sorted({text for text in found if found.count(text) > 1}):
            self.wrong(f"{key} says {text!r} twice; once is enough", key)
        return tuple(found)

    def texts_or_tables(self, key: str, shape: re.Pattern[str]) -> list["str | Table"]:
        """A list of clean texts of one shape, and of tables in braces where one says more."""
        found: list[str | Table] = []
        for place, value in enumerate(self._items(key, "a list of texts, or of tables in braces", need=False)):
            if isinstance(value, dict):
                found.append(Table(self.spot.at(key, place), value, self.faults))
            elif isinstance(value, str):
                text = self._clean(value, key, place)
                self._shaped(text, shape, key, place)
                found.append(text)
            else:
                what = _TYPES.get(type(value), "a date")
                self.wrong(f"{key} holds {what}; give texts, or tables in braces", key, place)
        return found

    def word(self, key: str, words: Sequence[Word], otherwise: Word, *, need: bool = False) -> Word:
        """One of the words; where it is none of them, the nearest is told and meant."""
        value = self._text(key, f"one of {', '.join(words)}", need)
        if not value or value in words:
            return next((word for word in words if word == value), otherwise)
        self.wrong(f"{key} can't be {clean(value, most=60)!r}; it is one of {', '.join(words)}", key)
        near = closest(value[:60], words)
        return next((word for word in words if word == near), otherwise)

    def number(self, key: str, *, need: bool = False) -> float | None:
        """A number within bounds; None where there is none."""
        value = self._raw(key, (int, float), "a number", need)
        if value is None:
            return None
        if not (-1e9 <= value <= 1e9 and math.isfinite(value)):
            self.wrong(f"{key} is too large; a thousand million is the most", key)
            return None
        return float(value)

    def flag(self, key: str) -> bool:
        """true or false; False where there is none."""
        return self._raw(key, bool, "true or false", need=False) is True

    def plain(self, key: str) -> str:
        """Text, or a number taken as text."""
        if isinstance(self.data.get(key), (int, float)) and not isinstance(self.data[key], bool):
            number = self.number(key)
            if number is None:
                return ""
            return f"{number:.12g}"
        return self.text(key)

    def quantity(self, key: str, kind: Kind) -> Value:
        """Text or a number read by kind; None where there is none or it can't be read."""
        text = self.plain(key)
        if not text:
            return None
        return self.read(kind, text, key)

    def read(self, kind: Kind, text: str, key: str) -> Value:
        """Text that stands under the key, read by kind; None if it can't be."""
        try:
            return read(kind, text, name=key)
        except Refusal as refusal:
            self.wrong(refusal.message, key)
            return None

    def table(self, key: str) -> "Table | None":
        """A table in braces; None where there is none."""
        value = self._raw(key, dict, "a table in braces", need=False)
        if value is None:
            return None
        return Table(self.spot.at(key), value, self.faults)

    def tables(self, key: str, *, need: bool = False) -> list["Table"]:
        """An array of tables; empty where one of them is no table, so that places stay those of the file."""
        values = self._items(key, f"tables, each under [[{key}]] or in braces", need=need)
        if not all(isinstance(value, dict) for value in values):
            self.wrong(f"{key} has something that isn't a table; give each as a table in braces", key)
            return []
        return [Table(self.spot.at(key, place), value, self.faults) for place, value in enumerate(values)]

    def operand(self, key: str) -> Operand | None:
        """A value in the grammar of operands; None where there is none or it can't be read."""
        self.asked.append(key)
        if key not in self.data:
            return None
        return self._operand(self.data[key], key)

    def operands(self, key: str, *, need: bool = False) -> dict[str, Operand]:
        """A table of operands by name, without those that can't be read."""
        values = self._raw(key, dict, 'a table in braces, as { pitch = "@pitch" }', need) or {}
        read = {name: self._operand(value, key, name) for name, value in values.items()}
        return {clean(name, most=60): value for name, value in read.items() if value}

    def _operand(self, value: object, *keys: str | int) -> Operand | None:
        if isinstance(value, str):
            value = self._clean(value, *keys)
        return self._refused(lambda: grammar.operand(value), *keys)

    def names(self, key: str) -> dict[str, str]:
        """A table of texts by name."""
        inner = self.table(key)
        if not inner:
            return {}
        return {name: inner.text(name) for name in inner.data}

    def condition(self, key: str) -> Condition | None:
        """A condition; None where there is none or it can't be read."""
        text = self.text(key)
        if not text:
            return None
        return self._refused(lambda: grammar.condition(text), key)

    def _refused(self, act: Callable[[], T], *keys: str | int) -> T | None:
        try:
            return act()
        except Refusal as refusal:
            self.wrong(f"{keys[-1]}: {refusal.message}", *keys)
            return None
