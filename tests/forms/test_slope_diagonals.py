"""A slope's diagonals are held to its own corners, worked here by vectors, and not to each other alone.

Sizes are invented.
"""

import copy
import math
from collections.abc import Mapping

import pytest

from tests.forms.seen import check
from tests.reports.site import Site

PLATES: Mapping[str, str] = {"length": "9000", "width": "6000", "pitch": "40", "overhang": "300", "design_mass": "40"}
MORE: Mapping[str, Mapping[str, str]] = {
    "gabled": {"verge": "250", "eaves_tied": "yes"},
    "hipped": {},
    "table-top": {"rise": "1500", "flat_mass": "36"},
}
RISE = math.tan(math.radians(40))
FACE = (
    19.0  # half the ridge: where the slope ends, and a hip's line comes to its face as far along it as off its middle
)
TABLE = 1500 / RISE  # from the plates, level, to the table
# Of slope CD, from the middle of the plates: its foot at C, the top corner far from it, and the keys of both diagonals.
CORNERS = {
    "gabled": ((4750, -3300, -300 * RISE), (-4750, -FACE, (3000 - FACE) * RISE), ("cd", "cd_other")),
    "hipped": ((4800, -3300, -300 * RISE), (-1500 - FACE, -FACE, (3000 - FACE) * RISE), ("cp", "dq")),
    "table-top": ((4800, -3300, -300 * RISE), (TABLE - 4500, TABLE - 3000, 1500), ("cd", "cd_other")),
}


@pytest.mark.parametrize("form", CORNERS)
def test_equal_diagonals_that_are_not_the_slopes_own_are_out(form: str) -> None:
    foot, top, keys = CORNERS[form]
    site = Site(form=form, more={**PLATES, **MORE[form]})
    site.up_to("main.tiler.diagonals")
    figures = {one.key: one for one in check(site, "tiler.diagonals").figures}
    assert figures[keys[0]].drawn == pytest.approx(math.dist(foot, top), abs=1)
    right = dict.fromkeys(figures, f"{math.dist(foot, top):.0f}")
    long = right | dict.fromkeys(keys, f"{math.dist(foot, top) + 60:.0f}")
    for readings, verdict in ((right, "done"), (long, "out")):
        judged = copy.copy(site)
        judged.answer("main.tiler.diagonals", readings)
        assert check(judged, "tiler.diagonals").state == verdict
