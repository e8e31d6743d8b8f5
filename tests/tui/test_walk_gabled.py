"""A roof between two gables alone, by keyboard, from an empty folder to the signed handover. Figures are invented."""

from collections.abc import Callable
from datetime import datetime
from pathlib import Path

from tests.tui.walker import CHOSEN, READ, alone

SIZE = (80, 24)
DESIGN = {
    "title": "Mill Lane, plot 5",
    "by": "M. Reed",
    "1.form": "gabled",
    "1.length": "9000",
    "1.width": "6000",
    "1.pitch": "40",
    "1.verge": "320",
    "1.gable_rafter": "150",
    "1.design_mass": "40",
}
SEEN = READ | {
    "plates.levels": {"readings": "1402,1403,1401,1402,1404,1403"},
    "first-pair.sizes": {"rafter": "47"},
    "first-pair.ridge-depth": {"depth": "205"},
    "bearing.seat": {"p": "150", "q": "150", "cured": "9"},
    "verges.noggings": {"spacing": "550", "span": "450"},
    "verges.plane": {"value": "2"},
    "verges.masonry": {"value": "-20"},
    "openings.wanted": {"width": "1140", "depth": "900", "foot": "900", "trimmer": "47"},
    "gables.spacing": {"da": "1800", "bc": "1800"},
    "gables.reach": {"crossed": "3", "turned": "120"},
}
PICKED = {"openings.any": 2, "bearing.carries": 2}  # the number of the choice


async def test_a_gabled_roof_alone_reaches_the_signed_handover_by_keyboard(
    tmp_path: Path, clock: Callable[[], datetime]
) -> None:
    """With a ridge beam, ladders 320 out and a dormer's opening, under slates."""
    await alone(tmp_path, clock, DESIGN, SEEN, CHOSEN | PICKED)
