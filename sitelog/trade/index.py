"""Where each calculator is found: the list that the command line, the screens and the help all read."""

from functools import cache
from importlib import import_module

from sitelog.refusal import Refusal
from sitelog.trade.catalogue import Calculator

# Each calculator and its module in this room, in the order of the help. One is imported when it is asked for: to
# import them all costs more than to work any.
WHERE: dict[str, str] = {
    "levels": "setting_out",
    "centres": "centres",
    "twist": "setting_out",
    "string": "setting_out",
    "tape": "taping",
    "squareness": "squareness",
    "common": "rafters",
    "commons": "centres",
    "birdsmouth": "birdsmouth",
    "hip": "hips",
    "jacks": "jacks",
    "valley": "valley",
    "purlin": "purlin",
    "roof": "roof",
    "ridge": "ridge",
    "flat-top": "flat_top",
    "opening": "openings",
    "scarf": "scarf",
    "arc": "arcs",
    "rib": "ribs",
    "barrel": "barrels",
    "eyebrow": "eyebrows",
    "ordinates": "ordinates",
    "slope-marks": "slope_marks",
    "sheet-bend": "sheet_bend",
    "ventilation": "decks",
    "firrings": "firrings",
    "hipped-falls": "falls",
    "gutter": "gutters",
    "headlap": "headlaps",
    "gauge": "coverings",
    "cover": "coverings",
    "load-change": "coverings",
    "metal-bays": "metal",
    "grp-deck": "grp",
    "deck-boards": "deck_boards",
    "mass": "timber",
    "laps": "centres",
    "stock": "stock",
}


def calculators() -> dict[str, Calculator]:
    """Every calculator by name, in the order of the help."""
    return {name: find(name) for name in WHERE}


@cache
def find(name: str) -> Calculator:
    """The calculator of that name; Refusal with the nearest name if there is none."""
    if name in WHERE:
        for value in vars(import_module(f"sitelog.trade.{WHERE[name]}")).values():
            if isinstance(value, Calculator) and value.name == name:
                return value
        raise LookupError(f"{WHERE[name]} has no calculator {name}")
    import difflib

    near = difflib.get_close_matches(name, WHERE, 1)
    hint = f"did you mean {near[0]}?" if near else f"choose from: {', '.join(WHERE)}"
    raise Refusal(f"no calculator is called {name!r}; {hint}")
