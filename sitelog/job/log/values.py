"""Values as an entry keeps them: plain JSON in mm, degrees and words, and back again by kind."""

from collections.abc import Mapping, Sequence
from math import isfinite
from typing import Any

from sitelog.calculators.catalogue import Value
from sitelog.quantities.quantity import Cut, Kind, Price, Section, Tie

SAME = 1e-6  # mm, degrees or the value's own unit: less than this is no change


def to_plain(value: Any) -> Any:
    """A value, a result or rows of results as JSON keeps them; a section is "47x150", a tie [start, end, mm], a cut
    or a price [section, mm, count or price]."""
    if isinstance(value, Section):
        if value.nominal:
            return f"{value}={value.nominal}"
        return str(value)
    if isinstance(value, Tie):
        return [value.start, value.end, value.length]
    if isinstance(value, Cut):
        return [to_plain(value.section), value.length, value.count]
    if isinstance(value, Price):
        return [to_plain(value.section), value.length, value.each]
    if isinstance(value, Mapping):
        return {str(key): to_plain(item) for key, item in value.items()}
    if isinstance(value, (tuple, list)):
        return [to_plain(item) for item in value]
    return value


def from_plain(kind: Kind, raw: Any) -> Value:
    """The value that `to_plain` made. None if it is none of that kind: a checklist may ask otherwise than it did."""
    if raw is None:
        return None
    try:
        return _from_plain(kind, raw)
    except (TypeError, ValueError, OverflowError):
        return None


def _from_plain(kind: Kind, raw: Any) -> Value:
    if kind in ("choice", "text"):
        return _text(raw)
    if kind == "section":
        return _section(raw)
    if kind in ("lengths", "offsets"):
        return tuple(map(_number, _items(raw)))
    if kind in ("ties", "cuts", "prices"):
        return tuple(_item(kind, *_items(row)) for row in _items(raw))
    if kind == "count":
        return int(_number(raw))
    return _number(raw)


def _item(kind: Kind, first: Any, second: Any, third: Any) -> Tie | Cut | Price:
    """A row of three; ValueError or TypeError where it is none of that kind."""
    if kind == "ties":
        return Tie(_text(first), _text(second), _number(third))
    if kind == "cuts":
        return Cut(_section(first), _number(second), int(_number(third)))
    return Price(_section(first), _number(second), _number(third))


def _section(raw: Any) -> Section:
    size, _, nominal = _text(raw).partition("=")
    thickness, depth = size.split("x")
    return Section(_number(float(thickness)), _number(float(depth)), nominal)


def _text(raw: Any) -> str:
    if not isinstance(raw, str):
        raise TypeError
    return raw


def _number(raw: Any) -> float:
    if isinstance(raw, bool) or not isinstance(raw, (int, float)):
        raise TypeError
    if not isfinite(raw):
        raise ValueError
    return float(raw)


def _items(raw: Any) -> list[Any]:
    if not isinstance(raw, (list, tuple)):
        raise TypeError
    return list(raw)


def same(first: Any, other: Any) -> bool:
    """True when two plain values are alike, numbers to within SAME."""
    if isinstance(first, (int, float)) and isinstance(other, (int, float)):
        return abs(first - other) <= SAME
    if isinstance(first, Mapping) and isinstance(other, Mapping):
        return first.keys() == other.keys() and all(same(first[key], other[key]) for key in first)
    if _listed(first) and _listed(other):
        return len(first) == len(other) and all(map(same, first, other))
    return bool(first == other)


def _listed(value: Any) -> bool:
    return isinstance(value, Sequence) and not isinstance(value, str)
