"""Roofs of several shapes, each gone through to where all its timbers are worked. Lengths by hand, from triangles.

Plates are taped to the millimetre, so that lengths are within 3.
"""

import math

import pytest

from sitelog.job.batches import batches
from sitelog.job.members import Line, members
from tests.forms.test_cut_roof import site, taped
from tests.reports.site import Site
from tests.shipped import library

SHAPES = {
    "T": "main 12000x6000 35; wing off AB 4000 from A 4000x3000 45 end gable",
    "bay": "main 9000x6000 40; bay off AB 3000 from A 3000x900 40 splay 45",
    "level bay": "main 9000x6000 40; bay off AB 3000 from A 3000x900 40 splay 45 level",
    "mansard": "main 9000x6000 40 AB mansard 70 2000 30 CD mansard 70 2000 30 BC gable DA gable",
    "octagon": "main octagon 6000 40",
    "half-hip": "main 9000x6000 40 BC half-hip 1200 DA half-hip 1200 50",
}
WORKED = "main.restraint.straps"  # after every block's own stages
FORTY = math.radians(40)


def walked(shape: str, stop: str = WORKED) -> Site:
    made = site(SHAPES[shape])
    made.up_to(stop, taped(SHAPES[shape]))
    assert made.state.next == stop
    return made


def listed(made: Site, *starts: str) -> list[Line]:
    """Members whose ids start so; every one is worked, from plates as taped."""
    found = [line for line in members(made.state, library(), "main") if line.id != "hip-tails"]  # left out, with why
    assert not [line.id for line in found if line.member is None or line.standing != "built"]
    aside = [view.path for view in made.state.checks() if view.state == "not applicable"]
    assert not [path for path in aside if not path.endswith(".levels")], aside  # eight readings, and more corners
    return [line for line in found if line.id.startswith(starts)]


def lengths(lines: list[Line]) -> list[float]:
    return sorted(line.member.length for line in lines if line.member for _ in range(line.member.count))


def fact(made: Site, name: str) -> float:
    value = made.state.facts[f"main.{name}"].now
    assert isinstance(value, float)
    return value


def test_the_valleys_of_a_t_at_two_pitches_meet_where_the_wing_is_as_high() -> None:
    """Half of 4000 at 45 is 2000 up: 2000 out across the wing and 2000 / tan 35 in along the main slope."""
    made = walked("T")
    assert len(listed(made, "valley-valley")) == 2
    into = 2000 / math.tan(math.radians(35))
    for valley in ("valley_ab_ef", "valley_ab_gh"):
        assert fact(made, f"{valley}_length") == pytest.approx(math.hypot(2000, into, 2000), abs=3)
    assert fact(made, "ridge_ef_gh_length") == pytest.approx(3000 + into, abs=3)


def test_a_bay_whose_splays_run_on_climbs_over_the_main_ridge_and_says_so() -> None:
    """By hand: splays at 45 from 3000 apart meet half way, 1500 in from E, at 1500 x sqrt 2 up each slope's run."""
    made = walked("bay")
    assert len(listed(made, "hip-hip-ef-fg", "hip-hip-fg-gh")) == 2
    assert len(listed(made, "hip-between")) == 3 and len(listed(made, "valley-valley")) == 2


def test_a_bay_with_a_level_ridge_has_it_at_half_its_width() -> None:
    """Half of 3000 at 40; its valleys at 45 on plan. Both sides alike, though the tape parts plates from corners."""
    made = walked("level bay")
    rise = 1500 * math.tan(FORTY)
    for side in ("e", "h"):
        assert fact(made, f"valley_ab_{side}_side_length") == pytest.approx(math.hypot(1500, 1500, rise), abs=3)
    assert len(listed(made, "valley-valley", "valley-between")) == 2 and len(listed(made, "ridge-")) == 2


def test_a_mansard_has_plates_under_its_slopes_alone_and_rafters_from_the_break() -> None:
    """2000 up at 70, then 30 to the middle: by hand one each 400 along 9000, and one at its end."""
    made = walked("mansard")
    assert [line.id for line in listed(made, "plate-")] == ["plate-a-b", "plate-c-d"]
    upper = (3000 - 2000 / math.tan(math.radians(70)) - 19) / math.cos(math.radians(30))
    plumb = 150 * math.tan(math.radians(30))
    for slope in ("ab", "cd"):
        rafters = lengths(listed(made, f"others-slope-{slope}-upper"))
        assert rafters == pytest.approx([upper + plumb] * len(rafters), abs=3) and len(rafters) == 24
    marks = [piece.mark for batch in batches(members(made.state, library(), "main")) for piece in batch.pieces]
    assert {"AB upper 1", "AB lower 1", "CD upper 24"} <= set(marks), "a lower rafter is never marked as an upper one"


def test_the_eight_hips_of_an_octagon_are_alike() -> None:
    """Corner to middle is 3000 over the cosine of 22.5 degrees on plan, 3000 x tan 40 up."""
    made = walked("octagon")
    assert len(listed(made, "hip-hip")) == 8
    across = 3000 / math.cos(math.radians(22.5))
    for hip in ("ab_bc", "de_ef", "gh_ha"):
        assert fact(made, f"hip_{hip}_length") == pytest.approx(math.hypot(across, 3000 * math.tan(FORTY)), abs=3)


def test_a_half_hip_has_a_short_plate_up_on_its_wall() -> None:
    """1200 up, each end of the plate is 1200 / tan 40 in from the eaves; its hips go on from there to the ridge."""
    made = walked("half-hip")
    plates = {line.id: line.member.length for line in listed(made, "plate-") if line.member}
    assert plates["plate-b-c"] == pytest.approx(6000 - 2 * 1200 / math.tan(FORTY), abs=3)
    rise = 3000 * math.tan(FORTY) - 1200
    run = rise / math.tan(FORTY)
    assert fact(made, "hip_ab_bc_length") == pytest.approx(math.hypot(run, run, rise), abs=3)


@pytest.mark.long
@pytest.mark.parametrize("shape", SHAPES)
def test_each_shape_goes_on_to_the_signed_handover(shape: str) -> None:
    made = site(SHAPES[shape])
    made.up_to("", taped(SHAPES[shape]))
    assert made.state.handed_over and not made.state.stale
