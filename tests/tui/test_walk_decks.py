"""A deck alone, and a parapet gutter alone, by keyboard from an empty folder to the handover. Figures are invented."""

from collections.abc import Callable
from datetime import datetime
from pathlib import Path

from tests.tui.walker import CHOSEN, READ, alone

SIZE = (80, 24)
DECK = {
    "title": "Mill Lane, link",
    "by": "M. Reed",
    "1.form": "firred-deck",
    "1.length": "6000",
    "1.width": "3600",
    "1.design_mass": "35.7",
}
DECK_READ = READ | {
    "joists.levels": {"readings": "1402,1403,1401,1402,1404,1403,1402,1402,1403"},
    "joists.straps": {"spacing": "1800", "length": "1200"},
    "firrings.rim": {"readings": "1382,1383,1381,1382,1382,1383,1382,1382"},
    "cover.shared": {"readings": "1362,1363,1361,1362,1362,1363,1362,1362"},
    "bays.drips": {"step": "55"},
    "deck.thick": {"value": "18"},
    "deck.gaps": {"wall": "15", "edge": "5"},
    "deck.ends": {"bearing": "23", "stagger": "600"},
    "deck.fixings": {"edge": "145", "field": "280", "long": "60"},
    "deck.dry-lead": {"value": "17"},
    "edges.upstand": {"value": "160"},
    "edges.slope": {"value": "240"},
    "edges.gaps": {"clear": "60", "gap": "25"},
}
GUTTER = {
    "title": "Mill Lane, front",
    "by": "M. Reed",
    "1.form": "parapet-gutter",
    "1.length": "7200",
    "1.run": "3000",
    "1.pitch": "35",
    "1.gutter_run": "6000",
    "1.sole": "310",
}
GUTTER_READ = READ | {
    "finish.rain": {"area": "40", "rain": "0.042"},
    "seats.levels": {"readings": "1402,1403,1401,1402,1402"},
    "seats.joints": {"crossed": "5", "between": "2"},
    "seats.scarf": {"nib": "25", "wedge": "20"},
    "sole.drips": {"step": "55", "bay": "2990"},
    "sole.boards": {"thick": "20", "gap": "4"},
    "outlets.overflow": {"outlets": "79", "overflow": "120"},
    "outlets.overflow-carries": {"outlets": "2.0", "overflow": "2.6"},
    "outlets.sill": {"value": "30"},
    "outlets.upstand": {"value": "160"},
    "outlets.lay-board": {"value": "240"},
    "cover.log": {"readings": "1400,1350,1300,1250,1200,1150"},
}


async def test_a_deck_alone_reaches_the_signed_handover_by_keyboard(
    tmp_path: Path, clock: Callable[[], datetime]
) -> None:
    """In lead, code 7, to all four edges, over a cold deck."""
    state = await alone(tmp_path, clock, DECK, DECK_READ, CHOSEN | {"finish.lining": 3, "finish.falls": 3})
    assert state.facts["main.lining"].now == "lead-code-7"


async def test_a_parapet_gutter_alone_reaches_the_signed_handover_by_keyboard(
    tmp_path: Path, clock: Callable[[], datetime]
) -> None:
    """In lead, code 8, its plates scarfed, its falls proved by a level log."""
    state = await alone(tmp_path, clock, GUTTER, GUTTER_READ, CHOSEN | {"finish.lining": 5, "seats.made": 3})
    assert state.facts["main.lining"].now == "lead-code-8"
    assert state.check("main.seats.scarf") is not None
