"""The ends of a cut roof's ridges have a template where hips meet. Places are by hand, of roofs that are invented."""

import re
from collections.abc import Mapping

import pytest

from sitelog.job.members import members
from sitelog.reports.templates.model import Template
from sitelog.reports.templates.part import part_templates
from sitelog.reports.templates.ridge_ends import ridge_ends
from tests.forms.test_cut_roof import OUT_OF_SQUARE, site, taped
from tests.reports.site import Site
from tests.shipped import library

HALF = 47 / 2  # of a common: the ridge is cut so far past the last pair's centre


def ends(made: Site) -> Mapping[str, Template]:
    """The templates of ridge ends, by what they are of; one that serves for several is under its first."""
    ready = part_templates(made.state, library(), "main").ready
    return {template.title.removesuffix(": end"): template for template in ready if template.title.endswith(": end")}


def centres(template: Template) -> list[float]:
    """The plumb lines of the pairs on the ridge's face [mm from its end], off the drawing itself."""
    lines = [line.curve.points() for line in template.lines if line.layer == "mark"]
    return sorted(ring[0][0] for ring in lines if ring[0][0] == ring[-1][0] and ring[0][1] == 0)


def test_both_ends_of_a_plain_ridge_have_their_last_two_pairs() -> None:
    """By hand: 3000 of ridge from DA is 7 bays of 400 and one of 200, which is at BC."""
    found = ends(site("main 9000x6000 40"))
    assert set(found) == {"Ridge AB-CD at BC", "Ridge AB-CD at DA"}
    assert centres(found["Ridge AB-CD at DA"]) == pytest.approx([HALF, HALF + 400], abs=0.1)
    assert centres(found["Ridge AB-CD at BC"]) == pytest.approx([HALF, HALF + 200], abs=0.1)
    high = {
        round(y) for line in found["Ridge AB-CD at DA"].lines for _, y in line.curve.points() if line.layer == "cut"
    }
    assert high == {0, -225}, "as deep as the ridge"


def test_an_end_with_its_hips_turned_in_by_a_wing_has_one_for_each_face_that_differs() -> None:
    """The ridge of an L at 40 degrees ends at 3000 over GA, where the hip at A and the broken one to the wing meet; its
    wing's ridge ends at a valley and at a gable, and has none."""
    found = ends(site("main 9000x6000 40; wing off CD 0 from D 4000x4000 40 end gable"))
    named = " ".join([*found, *(line for template in found.values() for line in template.says)])
    assert set(re.findall(r"Ridge (\S+ at \S+?),? ", f"{named} ")) == {"AB-CE at BC", "AB-CE at GA"}


def test_a_wings_and_a_dormers_hipped_ends_have_theirs() -> None:
    """By hand: the last pair stands at the hips' point; the next is at the spacing, or nearer where a bay closes up."""
    made = site(
        "main 9000x6000 40; wing off CD 2000 from D 4000x3000 35 end hip; dormer off AB 3200 from A 1800x1200 35 cheek "
        "500 end hip"
    )
    found = ends(made)
    assert {"Ridge EF-GH at FG", "Ridge JK-LM at KL"} <= set(found)
    for template in found.values():
        first, second = centres(template)
        assert first == pytest.approx(HALF, abs=0.1) and 47 <= second - first <= 410


def test_a_roof_between_gables_has_none() -> None:
    assert not ends(site("main 9000x6000 40 BC gable DA gable"))


def test_over_plates_as_taped_marks_are_those_of_the_list() -> None:
    """Each bay on the face to AB is that of the list, by the marks along the plate [mm], within the plates' lean."""
    made = site("main 9000x6000 40")
    made.up_to("main.timber", taped("main 9000x6000 40", OUT_OF_SQUARE))
    lines = members(made.state, library(), "main")
    marks = sorted(float(str(line.row["at"])) for line in lines if line.id == "commons-slope-ab" and line.row)
    found = {end.says: end for end in ridge_ends(lines) if "face to CD" not in end.says}
    assert len(found) == 2
    for says, end in found.items():
        own = [marks[0], marks[1]] if " DA" in says else [marks[-1], marks[-2]]
        places = end.answer.inputs["marks"]
        assert isinstance(places, tuple)
        assert places[1] - places[0] == pytest.approx(abs(own[1] - own[0]), abs=1.0)  # type: ignore[operator]
