"""Which figures are likely a slip: typed without a unit, and such as no roof has. One table for every front.

A slip is asked about, never refused for good: the same figure is taken once it is typed with its unit. The bounds are
the house's own judgement of what is worth asking; a checklist may set others for a fact of its own.
"""

import re
from collections.abc import Callable

from msgspec import Struct

from sitelog.quantities.measure import plain
from sitelog.quantities.quantity import Kind, Value, before, read
from sitelog.quantities.rounding import as_typed
from sitelog.refusal import Refusal
from sitelog.text import text_if


class Usual(Struct, frozen=True):
    """From least to most a figure is taken as it is typed: mm, degrees, or a fall as rise over run."""

    least: float
    most: float

    def has(self, value: float) -> bool:
        """Nothing at all is the same in every unit, so it is always usual."""
        return value == 0 or self.least <= value <= self.most


USUAL = {
    "span": Usual(300, 60_000),  # plates, runs, slopes, hips, decks
    "reach": Usual(10, 20_000),  # rises, openings, distances in from a plate
    "size": Usual(2, 3_000),  # of a timber, a tile, an overhang
    "spacing": Usual(100, 1_200),  # of rafters, joists, firrings, bearers
    "station": Usual(10, 1_200),  # of heights along a curve
    "stock": Usual(300, 15_000),  # lengths of timber that are sold
    "piece": Usual(50, 60_000),  # a piece of timber, a length that is taped
    "pitch": Usual(0, 75),
    "fall": Usual(1 / 500, 1 / 10),
}
OF_KIND: dict[Kind, str] = {"pitch": "pitch", "fall": "fall", "ties": "span", "cuts": "piece", "prices": "stock"}
ASKED: tuple[Kind, ...] = ("length", "pitch", "fall")  # the kinds of facts that are
# The names of facts and inputs that are lengths; with a dot, an input of one calculator or a figure of one check.
# What isn't here is small by nature, or may be anything, and is never asked about.
NAMES: dict[str, tuple[str, ...]] = {
    "span": (
        "length", "width", "run", "run_last", "span", "slope", "eaves", "hip", "hip_cut", "rafter_cut", "ridge",
        "ab", "bc", "cd", "da", "ac", "bd", "flat", "top", "gutter_run", "over_plates", "ends", "chord",
        "outside_chord", "diagonals.aq", "diagonals.cp", "diagonals.ab", "diagonals.cd",
    ),
    "reach": (
        "rise", "rib_rise", "crown_rise", "outside_rise", "radius", "cheek", "crown_length", "rib_crown_up", "girth",
        "opening_width", "opening_depth", "opening_slope", "opening_foot", "level_width", "level_depth", "foot",
        "wall", "bare", "in", "stud", "gable_rafter", "bay_length", "lining_max_bay", "tangent_at", "square.left",
        "bend", "gap.head", "gap.foot", "pattern.cut_length", "commons.first", "commons.last", "metal-bays.length",
        "metal-bays.girth", "dummy_run", "grp-deck.sheet_length", "grp-deck.sheet_width",
    ),
    "size": (
        "overhang", "verge", "plate", "plate_width", "plate_thickness", "thickness", "ridge_thickness", "ridge_board",
        "ridge_depth", "rafter_thickness", "hip_thickness", "joist_thickness", "diagonal_thickness",
        "trimmer_thickness", "trimmer", "joist", "rib_depth", "depth", "board", "sole", "sheet", "deck", "layer",
        "cover_headlap", "headlap", "unit_length", "unit_width", "cover_unit_length", "cover_unit_width", "cover_width",
        "gauge", "max_gauge", "min_gauge",
        "former", "soffit.rafter", "bulkhead.rafter", "slope-marks.rafter", "formers.slot",
        "common_height_above_plate", "common.ridge", "commons.ridge", "hip.ridge", "valley.ridge", "sticks.ridge",
        "surface.ridge",
        "flat-top.sole",
    ),
    "spacing": ("spacing", "deck_spacing", "rib_spacing", "firring_spacing", "bearers"),
    "station": ("station", "arc.spacing", "barrel.spacing", "eyebrow.spacing", "ordinates.spacing"),
    "stock": ("stock.lengths", "laps.longest"),
    "piece": ("mass.length", "tape.length", "tape.measured", "tape.nominal", "stock.usable"),
    "": ("gutter.thickness", "metal-bays.thickness", "gauge.eaves", "gauge.top"),  # of sheet metal; small by nature
}  # fmt: skip
_RANGE = {name: called for called, names in NAMES.items() for name in names}
_SIDE = r"[-_](?:[a-d]|ab|bc|cd|da|ac|bd|drawn)(?=\.|$)"  # slope_ab is a slope, gap-a.head a gap.head
_BARE = r"\+?(?:\d+(?:\.\d+)?|\.\d+)"
_SAID = 120  # letters of what is offered
_FALL = r"1 *: *(\d+(?:\.\d+)?|\.\d+)"


class Slip(Refusal):
    """A figure that is asked about before it is taken.

    `likely` is what to type for what was probably meant, "" where nothing is likely; `question` asks whether it was.
    """

    def __init__(self, name: str, shown: str, kept: str, likely: str = "", meant: str = "") -> None:
        """`kept` is what to type for the figure as it was typed, `meant` the likely one as it is said."""
        says = [likely, kept] if likely else [kept]
        if sum(map(len, says)) > _SAID:  # a long list: its first figure that isn't usual says how
            says = [figure.replace(" ", "") for figure in (meant, shown)[-len(says) :]]
        super().__init__(f"{before(name)}{shown}? Type {', or '.join(says)} if you mean it")
        self.likely = likely
        self.kept = kept
        self.question = text_if(likely, f"{shown}? Did you mean {meant}?")


def usual(kind: Kind, *names: str) -> Usual | None:
    """What a figure of that kind usually is, by the first of its names that is known; None where it may be anything."""
    called = OF_KIND.get(kind, "")
    if kind in ("length", "lengths"):
        called = range_of(*names)
    return USUAL.get(called)


def range_of(*names: str) -> str:
    """The range of USUAL that a length is of, by the first of its names that is known; "" where it may be anything."""
    known = (of for name in names for of in (name, stem(name)))
    return next((_RANGE[of] for of in known if of in _RANGE), "")


def stem(name: str) -> str:
    """The name without the corner or the side that it is of."""
    return re.sub(_SIDE, "", name)


def typed(kind: Kind, text: str, within: Usual | None, *, name: str = "") -> Value:
    """What a person typed, as `quantity.read` gives it. Slip if it has no unit and isn't usual."""
    value = read(kind, text, name=name)
    question(kind, text, within, name=name)
    return value


def question(kind: Kind, text: str, within: Usual | None, *, name: str = "") -> None:
    """Slip if a figure that can be read has no unit and isn't usual; nothing else is wrong with it."""
    if within is None:
        return
    slip = _OF_KIND.get(kind, _length)(text.strip(), within, name)
    if slip:
        raise slip


def _pitch(text: str, within: Usual, name: str) -> Slip | None:
    bare = _bare(text)
    if not bare or within.has(float(bare)):
        return None
    return Slip(name, f"{bare} degrees", f"{bare}deg")


def _fall(text: str, within: Usual, name: str) -> Slip | None:
    found = re.fullmatch(_FALL, plain(text))
    if not found or within.has(1 / float(found[1])):
        return None
    run = float(found[1])
    likely = next((f"1:{as_typed(other)}" for other in (run * 10, run / 10) if within.has(1 / other)), "")
    return Slip(name, f"1:{found[1]}", f"1 in {found[1]}", likely, likely)


def _length(text: str, within: Usual, name: str) -> Slip | None:
    """Of one length, or of the first in a list that isn't usual; what is to be typed is the whole list again."""
    items = [item.split(":") for item in text.split(",")]  # a tie is point:length, a piece section:length:count
    bare = [_bare(item[len(item) // 2]) for item in items]
    odd = [figure for figure in bare if figure and not within.has(float(figure))]
    if not odd:
        return None
    metres = all(within.has(float(figure) * 1000) for figure in odd)
    likely = _again(items, bare, odd, "m") if metres else ""
    return Slip(name, f"{odd[0]} mm", _again(items, bare, odd, "mm"), likely, f"{odd[0]} m")


def _again(items: list[list[str]], bare: list[str], odd: list[str], unit: str) -> str:
    """The list with that unit where it isn't usual. Of lengths alone, either all have a unit or none has."""
    other = text_if(len(items[0]) == 1, "mm")
    units = {figure: unit if figure in odd else other for figure in bare} | {"": ""}
    return ",".join(_in_unit(item, units[figure]) for item, figure in zip(items, bare, strict=True))


def _in_unit(item: list[str], unit: str) -> str:
    at = len(item) // 2
    return ":".join([*item[:at], f"{item[at].strip()}{unit}", *item[at + 1 :]])


def _bare(text: str) -> str:
    """The figure if it is one without a unit, else nothing."""
    figure = plain(text)
    if not re.fullmatch(_BARE, figure):
        return ""
    return figure


_OF_KIND: dict[Kind, Callable[[str, Usual, str], Slip | None]] = {"pitch": _pitch, "fall": _fall}
