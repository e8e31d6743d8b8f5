"""A table-top roof alone, by keyboard, from an empty folder to the signed handover. The figures are invented."""

from collections.abc import Callable
from datetime import datetime
from pathlib import Path

from tests.tui.walker import CHOSEN, READ, alone

SIZE = (80, 24)
DESIGN = {
    "title": "Quarry House",
    "by": "M. Reed",
    "1.form": "table-top",
    "1.length": "9000",
    "1.width": "6600",
    "1.pitch": "45",
    "1.rise": "2000",
    "1.design_mass": "40",
    "1.flat_mass": "35.7",
}
STAFF = {"readings": "1402,1403,1401,1402,1404,1403,1402,1402"}
SEEN = READ | {
    "set-out.bare": dict.fromkeys(("ab", "bc", "cd", "da"), "1974.5"),  # 10 of dab and 15.5 of board short of 2000
    "frame.levels": STAFF,
    "frame.plumb": {"plumb": "1", "spacing": "400"},
    "frame.doubled": {"lap": "800"},
    "first-pair.ridge-depth": {"depth": "195"},
    "joists.levels": {"readings": "1402,1403,1401,1402,1404,1403,1402,1402,1403"},
    "firrings.rim": STAFF,
    "cover.shared": STAFF,
    "bays.drips": {"step": "55"},
    "deck.thick": {"value": "18"},
    "deck.gaps": {"wall": "15", "edge": "5"},
    "deck.ends": {"bearing": "23", "stagger": "600"},
    "deck.fixings": {"edge": "145", "field": "280", "long": "60"},
    "deck.dry-lead": {"value": "17"},
    "edges.upstand": {"value": "160"},
    "edges.gaps": {"clear": "60", "gap": "25"},
}
PICKED = {"flat-finish.lining": 3, "flat-finish.falls": 3}  # the number of the choice: lead, code 7; to all four edges


async def test_a_table_top_alone_reaches_the_signed_handover_by_keyboard(
    tmp_path: Path, clock: Callable[[], datetime]
) -> None:
    """Slates on the slopes, lead on the flat, which falls to all four edges; bare walls under the table."""
    facts = (await alone(tmp_path, clock, DESIGN, SEEN, CHOSEN | PICKED)).facts
    assert (facts["main.covering"].now, facts["main.lining"].now) == ("slates-500x250", "lead-code-7")
