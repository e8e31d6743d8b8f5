"""Where each calculator is found: the list that the command line, the screens and the help all read."""

import difflib
from functools import cache
from importlib import import_module

from sitelog.refusal import Refusal
from sitelog.trade.catalogue import Calculator

MODULES = (
    "setting_out",
    "taping",
    "squareness",
    "rafters",
    "birdsmouth",
    "hips",
    "jacks",
    "valley",
    "purlin",
    "roof",
    "ridge",
    "flat_top",
    "openings",
    "scarf",
    "arcs",
    "ribs",
    "barrels",
    "eyebrows",
    "sheet_bend",
    "decks",
    "firrings",
    "falls",
    "gutters",
    "coverings",
    "metal",
    "grp",
    "timber",
)


@cache
def calculators() -> dict[str, Calculator]:
    """Every calculator by name, in the order of the modules."""
    found: dict[str, Calculator] = {}
    for module in MODULES:
        for value in vars(import_module(f"sitelog.trade.{module}")).values():
            if isinstance(value, Calculator):
                found[value.name] = value
    return found


def find(name: str) -> Calculator:
    """The calculator of that name; Refusal with the nearest name if there is none."""
    known = calculators()
    if name in known:
        return known[name]
    near = difflib.get_close_matches(name, known, 1)
    hint = f"did you mean {near[0]}?" if near else f"there are {', '.join(known)}"
    raise Refusal(f"no calculator is called {name!r}; {hint}")
