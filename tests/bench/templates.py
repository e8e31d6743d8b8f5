"""A former's template on tiles of A4, and as DXF, against the same on one long sheet."""

from sitelog.calculators.index import find
from sitelog.reports.templates import pdf
from sitelog.reports.templates.bars import Bars
from sitelog.reports.templates.dxf import dxf
from sitelog.reports.templates.index import templates_of
from sitelog.reports.templates.sheets import Heading
from sitelog.reports.templates.tiles import tiles
from tests.bench.row import Row, against

ROUNDS = 7
HEADING = Heading("Kiln Lane", "Stair dormer", "29 Nov 2026 07:30", "0" * 20)


def rows() -> list[Row]:
    """The libraries are loaded once before."""
    former = templates_of(find("formers")(radius=900.0, sheet=18.0, former=170.0, count=7, pitch=45.0))[0]

    def long() -> bytes:
        return pdf.long(former, HEADING, Bars())

    return [
        against(
            "a former's template on tiles of A4",
            lambda: pdf.tiled(tiles(former, "a4"), HEADING, Bars()),
            long,
            rounds=ROUNDS,
            allowed=12.0,
        ),
        against("the same as DXF", lambda: dxf(former, HEADING, Bars()), long, rounds=ROUNDS, allowed=12.0),
    ]
