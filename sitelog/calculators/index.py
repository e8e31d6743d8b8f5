"""Where each calculator is found: the list that the command line, the screens and the help all read."""

from functools import cache
from importlib import import_module

from sitelog.calculators.catalogue import Calculator
from sitelog.near import closest, did_you_mean
from sitelog.refusal import Refusal

# Each calculator and its module in this folder, in the order of the help. One is imported when it is asked for: to
# import them all costs more than to work any.
WHERE: dict[str, str] = {
    "levels": "setting_out.levels",
    "centres": "setting_out.centres",
    "twist": "setting_out.levels",
    "string": "setting_out.levels",
    "tape": "setting_out.taping",
    "squareness": "setting_out.squareness",
    "common": "rafters.common",
    "commons": "setting_out.centres",
    "birdsmouth": "rafters.birdsmouth",
    "pattern": "rafters.feet.pattern",
    "hip": "rafters.hips",
    "jacks": "rafters.jacks",
    "valley": "rafters.valley",
    "laid-valley": "rafters.valleys.laid",
    "purlin": "rafters.purlin",
    "sticks": "sticks.sticks",
    "roof": "rafters.roof",
    "surface": "surface.any_roof",
    "building": "surface.building",
    "ties": "surface.ties",
    "ridge": "rafters.ridge",
    "hip-foot": "rafters.feet.hip_foot",
    "flat-top": "rafters.flat_top",
    "opening": "rafters.openings",
    "scarf": "timber.scarf",
    "arc": "curves.arcs",
    "rib": "curves.ribs",
    "barrel": "curves.barrels",
    "eyebrow": "curves.eyebrows",
    "ordinates": "curves.ordinates",
    "slope-marks": "curves.slope_marks",
    "formers": "curves.formers.formers",
    "soffit": "curves.soffit",
    "bulkhead": "curves.bulkhead",
    "sheet-bend": "curves.sheet_bend",
    "ventilation": "decks.ventilation",
    "firrings": "decks.firrings",
    "hipped-falls": "decks.falls",
    "gutter": "decks.gutters",
    "headlap": "coverings.headlaps",
    "gauge": "coverings.slopes",
    "cover": "coverings.covers",
    "load-change": "coverings.covers",
    "metal-bays": "coverings.metal",
    "grp-deck": "decks.grp",
    "deck-boards": "decks.deck_boards",
    "mass": "timber.weights",
    "laps": "setting_out.centres",
    "stock": "timber.stock",
    "corner": "setting_out.corner",
}


def calculators() -> dict[str, Calculator]:
    """Every calculator by name, in the order of the help."""
    return {name: find(name) for name in WHERE}


@cache
def find(name: str) -> Calculator:
    """The calculator of that name; Refusal with the nearest name if there is none."""
    if name in WHERE:
        for value in vars(import_module(f"sitelog.calculators.{WHERE[name]}")).values():
            if isinstance(value, Calculator) and value.name == name:
                return value
        raise LookupError(f"{WHERE[name]} doesn't have a calculator {name}")
    near = closest(name, WHERE)
    hint = did_you_mean(near, f"choose from: {', '.join(WHERE)}")
    raise Refusal(f"no calculator is called {name!r}; {hint}")
