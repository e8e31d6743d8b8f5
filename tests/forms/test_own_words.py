"""What a check's own words ask for is what it is held to: straps by the storeys, channels by the pitch, purlins by
the engineer.

Sizes are invented; the limits are those of tests/checklist/test_reference.py.
"""

from collections.abc import Mapping
from typing import Any

import pytest

from sitelog.job.log.entry import Draft
from tests.forms.seen import check
from tests.reports.site import Site

WING = "main 9000x6000 {pitch}; wing off CD 0 from D 4000x4000 {pitch} end gable; purlins 1500"


def cut_roof(pitch: int = 40) -> Site:
    drawn = {"building": WING.format(pitch=pitch), "design_mass": "70"}
    return Site(parts=[("main", "Roof", "cut-roof", drawn)])


def answered(site: Site, name: str, value: Mapping[str, Any]) -> str:
    """As copies joined late may hold it: the holds before it are still open. How the check stands then."""
    site.do(Draft(act="answer", part="main", check=name, value=dict(value)))
    return check(site, name).state


@pytest.mark.parametrize(("storeys", "name"), [("low", "straps"), ("tall", "straps-tall")])
@pytest.mark.parametrize("form", ["hipped", "table-top", "cut-roof"])
def test_straps_two_metres_apart_pass_in_a_low_building_alone(form: str, storeys: str, name: str) -> None:
    more = {"length": "9000", "width": "6000", "pitch": "40", "rise": "1500", "flat_mass": "36", "design_mass": "70"}
    site = cut_roof() if form == "cut-roof" else Site(form=form, more=more if form == "table-top" else None)
    where = "gables" if form == "cut-roof" else "restraint"
    answered(site, f"{where}.storeys", {"value": storeys})
    state = answered(site, f"restraint.{name}", {"spacing": 1900.0, "crossed": 3, "turned": 120.0})
    assert state == ("done" if storeys == "low" else "out")


@pytest.mark.parametrize(("pitch", "name", "state"), [(40, "channel", "done"), (25, "channel-flat", "out")])
def test_a_channel_of_110_is_too_narrow_under_30_degrees(pitch: int, name: str, state: str) -> None:
    assert answered(cut_roof(pitch), f"valley-ce-ef.{name}", {"width": 110.0}) == state


def test_a_purlin_is_held_to_the_engineers_bearing_and_notch() -> None:
    site = cut_roof()
    answered(site, "purlins.figures", {"bearing": 100.0, "notch": 15.0})
    for bearing, notch, state in ((80.0, 20.0, "out"), (110.0, 10.0, "done")):
        assert answered(site, "purlins.bearing", {"value": bearing}) == state
        assert answered(site, "purlins.notches", {"value": notch}) == state
    answered(site, "purlins.figures", {"bearing": 100.0, "notch": 0.0})
    assert [answered(site, "purlins.notched", {"value": count}) for count in (2, 0)] == ["out", "done"]
