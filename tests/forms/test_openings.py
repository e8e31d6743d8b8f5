"""The stages of openings, which every form with rafters shares: they drive trimmers, rafters cut and rafters added.

Openings are invented for the demo.
"""

import math

import pytest

from sitelog.job.state.views import CheckView
from tests.forms import seen
from tests.reports.site import Site


def check(site: Site, name: str) -> CheckView:
    stage = "openings" if name in ("any", "wanted", "opening") else "trimming"
    return seen.check(site, f"{stage}.{name}")


@pytest.fixture(scope="module")
def framed() -> Site:
    """A hipped job that stands before its openings, every figure as drawn."""
    site = Site(pitch="40")
    site.up_to("main.openings.any")
    site.answer("main.openings.any", {"value": "some"})
    return site


def opened(framed: Site, width: str, depth: str = "900", foot: str = "900") -> Site:
    import copy

    site = copy.copy(framed)
    site.answer("main.openings.wanted", {"width": width, "depth": depth, "foot": foot, "trimmer": "47"})
    return site


@pytest.mark.parametrize(
    ("width", "cut", "added", "asked"),
    [  # Rafters of 47 (the walk's 50) at 400: n of them cut leave (n + 1) x 400 - 50 clear. Added: Mindham, Fig 3.18b.
        ("350", 0, 0, ""),
        ("750", 1, 2, "rafters"),
        ("1150", 2, 2, "rafters"),
        ("1151", 3, 4, "rafters-wide"),
        ("1950", 4, 4, "rafters-wide"),
    ],
)
def test_the_width_of_the_opening_says_how_many_rafters_are_cut_and_added(
    framed: Site, width: str, cut: int, added: int, asked: str
) -> None:
    site = opened(framed, width)
    assert (site.state.facts["main.opening_cut"].now, site.state.facts["main.opening_added"].now) == (cut, added)
    seen = [name for name in ("rafters", "rafters-wide") if site.state.check(f"main.trimming.{name}")]
    assert seen == ([asked] if asked else [])


def test_the_opening_up_the_slope_is_its_level_depth_over_the_cosine_of_the_pitch(framed: Site) -> None:
    site = opened(framed, "1150", "1200")
    length = next(f for f in check(site, "size").figures if f.key == "length")
    assert length.drawn == pytest.approx(1200 / math.cos(math.radians(40)))


def test_three_rafters_cut_and_two_added_is_out(framed: Site) -> None:
    site = opened(framed, "1500")
    site.answer("main.trimming.rafters-wide", {"cut": "3", "added": "2"})
    assert check(site, "rafters-wide").state == "out"


def test_an_opening_made_wider_reopens_what_hung_on_it(framed: Site) -> None:
    site = opened(framed, "1150")
    site.answer("main.openings.opening")
    site.answer("main.trimming.rafters", {"cut": "2", "added": "2"})
    site.answer("main.openings.wanted", {"width": "1500", "depth": "900", "foot": "900", "trimmer": "47"})
    assert check(site, "opening").state == "stale"
    assert check(site, "rafters-wide").state == "open" and site.state.check("main.trimming.rafters") is None


def test_an_opening_that_reaches_the_ridge_is_refused_in_words(framed: Site) -> None:
    site = opened(framed, "1150", "2500")
    assert "reaches the ridge at 3000" in check(site, "opening").refusal
