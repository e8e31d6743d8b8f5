"""The handover's row of a check that is out: all its figures that are, as far as a line holds them."""

from pathlib import Path

import pytest

from sitelog.checklist.schema.model import Library
from sitelog.job.actions import actions
from sitelog.tui.pages.handover import HandoverPage
from sitelog.tui.widgets.listing import Cell, laid
from tests.tui.site import brought_to, opened

OUT = {"middle": "6040", "at_p": "6039", "at_q": "6050"}
LEANS = {"ab": "9000", "bc": "6000", "cd": "9000", "da": "6000", "ac": "10850", "bd": "10784"}


@pytest.fixture
def measured_out(tmp_path: Path, library: Library) -> Path:
    """Plates too far apart and not parallel at Q, and leaning so that their diagonals are 66 apart."""
    return brought_to(
        tmp_path,
        library,
        "main.plates",
        lambda job: actions.answer(job.state, library, "main.plates.sides", LEANS),
        lambda job: actions.answer(job.state, library, "main.plates.span", OUT),
    )


ALL = "mid-length, outside faces 6040 (drawn 6000, +40) OUT; at Q, BC end 6050 (drawn 6040, +10) OUT"


@pytest.mark.parametrize(
    ("size", "told"),
    [
        ((60, 20), "mid-length, outside faces 6040 (drawn 6000, +40) OUT; 1 more"),
        ((80, 24), "mid-length, outside faces 6040 (drawn 6000, +40) OUT; 1 more"),
        ((140, 40), ALL),
    ],
    ids=str,
)
async def test_each_figure_that_is_out_stands_in_the_row_and_none_that_is_good(
    measured_out: Path, size: tuple[int, int], told: str
) -> None:
    async with opened(measured_out, size=size) as walker:
        await walker.press("h")
        await walker.pilot.pause()
        page = walker.app.screen
        assert isinstance(page, HandoverPage)
        keys = [row.key for row in page.listing.rows]
        sides, span = (
            " ".join(str(page.listing.get_option_at_index(keys.index(key)).prompt).split())
            for key in ("out 0", "out 1")
        )
        assert span == f"Span at mid-length and at both ends, mm {told}"
        assert sides.endswith("diagonals differ by 66 mm"), "a sum that is out is told by what is held to the limit"


# Three pieces, and what a line of so many columns holds of them.
HELD = [
    (40, "face 1766 OUT; middle 12 OUT; back 9 OUT"),
    (39, "face 1766 OUT; middle 12 OUT; 1 more"),
    (35, "face 1766 OUT; 2 more"),
    (13, "face 1766 OUT; 2 more"),
]


@pytest.mark.parametrize(("width", "told"), HELD)
def test_what_a_line_does_not_hold_is_counted(width: int, told: str) -> None:
    cell = Cell("face 1766 OUT", more=("middle 12 OUT", "back 9 OUT"))
    assert cell.within(width) == told
    assert " ".join(laid((cell,), width)) == told, "a narrow one is wrapped, and nothing is lost"
