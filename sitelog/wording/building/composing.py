"""A block's line made of what is typed in its form, and what the form holds for what was said of a block."""

from collections.abc import Callable, Mapping, Sequence

from sitelog.geometry.building.said import (
    BAY,
    COLLARS,
    DORMER,
    LEAN_TO,
    MAIN,
    PURLINS,
    SIDES,
    SPROCKETS,
    WING,
    Said,
    Side,
)
from sitelog.quantities.rounding import to_type_again
from sitelog.text import text_after
from sitelog.wording.building.fields import EIGHT, MAIN_SIDES, as_word

SLOPE = ("", "slope", "hip")


def line_of(kind: str, name: str, answers: Mapping[str, str]) -> str:
    """The block as it is typed. Figures are read, and refused, where that line is."""
    return " ".join(word for word in (name, *_LINES[kind](answers)) if word)


def kind_of(said: Said) -> str:
    """The kind of form that a block was said with."""
    return EIGHT if said.shape else said.kind


def typed_of(said: Said) -> dict[str, str]:
    """What the fields of a block's form hold for what was said of it."""
    typed = _sizes_of(said) | _covers_of(said)
    if said.place:
        typed |= {"side": said.place.side, "distance": to_type_again(said.place.distance), "corner": said.place.corner}
    if said.kind == BAY:
        typed |= {"splay": to_type_again(said.splay), "ridge": "level" if said.level else "climbs"}
    more = {"pitch": said.pitch, "cheek": said.cheek, "plate": said.plate, "top": said.top}
    return typed | {key: to_type_again(value) for key, value in more.items() if value}


def _covers_of(said: Said) -> dict[str, str]:
    """What stands on the sides; of an octagon or a hexagon all of them in one field."""
    if said.shape:
        return {"covers": " ".join(f"{name} {side.said()}" for name, side in said.sides.items())}
    usual = Side("slope", said.pitch)
    return {name: "slope" if side == usual else side.said() for name, side in said.sides.items()}


def _sizes_of(said: Said) -> dict[str, str]:
    if said.heights:
        return {"heights": " ".join(map(to_type_again, said.heights))}
    if said.shape:
        return {"shape": said.shape, "across": to_type_again(said.size[0])}
    names = {MAIN: ("length", "width"), SPROCKETS: ("length",)}.get(said.kind, ("width", "out"))
    return {name: to_type_again(size) for name, size in zip(names, said.size, strict=False)}


# --- the line of each kind -------------------------------------------------------------------------------------------


def _place(given: Mapping[str, str]) -> list[str]:
    return ["off", as_word(given["side"]), as_word(given["distance"]), "from", as_word(given["corner"])]


def _by(given: Mapping[str, str], first: str, other: str) -> str:
    return f"{as_word(given[first])}x{as_word(given[other])}"


def _cover(given: Mapping[str, str], name: str, usual: Sequence[str] = SLOPE) -> str:
    words = " ".join(given[name].lower().replace("half hip", "half-hip").split())
    return "" if words in usual else f"{name} {words}"


def _after(word: str, given: Mapping[str, str], usual: str = "") -> str:
    figure = as_word(given[word])
    return text_after(f"{word} ", figure if figure != usual else "")


def _main_line(given: Mapping[str, str]) -> list[str]:
    return [_by(given, "length", "width"), as_word(given["pitch"]), *(_cover(given, side) for side in MAIN_SIDES)]


def _octagon_line(given: Mapping[str, str]) -> list[str]:
    return [given["shape"], as_word(given["across"]), as_word(given["pitch"]), given["covers"]]


def _wing_line(given: Mapping[str, str]) -> list[str]:
    covers = (_cover(given, side) for side in SIDES)
    return [*_place(given), _by(given, "width", "out"), as_word(given["pitch"]), *covers, _after("plate", given, "0")]


def _bay_line(given: Mapping[str, str]) -> list[str]:
    size = [_by(given, "width", "out"), as_word(given["pitch"]), _after("splay", given)]
    level = given["ridge"].lower()
    return [*_place(given), *size, level if level != "climbs" else "", _after("plate", given, "0")]


def _lean_to_line(given: Mapping[str, str]) -> list[str]:
    plate = f"plate {as_word(given['plate'])}"
    return [*_place(given), _by(given, "width", "out"), as_word(given["pitch"]), _after("top", given), plate]


def _dormer_line(given: Mapping[str, str]) -> list[str]:
    size = [_by(given, "width", "out"), as_word(given["pitch"]), _after("cheek", given)]
    return [*_place(given), *size, _cover(given, "end", ("", "gable"))]


_LINES: dict[str, Callable[[Mapping[str, str]], list[str]]] = {
    MAIN: _main_line,
    EIGHT: _octagon_line,
    WING: _wing_line,
    BAY: _bay_line,
    LEAN_TO: _lean_to_line,
    DORMER: _dormer_line,
    SPROCKETS: lambda given: [as_word(given["length"]), as_word(given["pitch"])],
    PURLINS: lambda given: given["heights"].split(),
    COLLARS: lambda given: given["heights"].split(),
}
