"""The templates that a part of a job has as it is built, with the figures of its own checks and list."""

from sitelog.checklist.schema.shipped import sample_folder
from sitelog.job.job import Job
from sitelog.job.members import members
from sitelog.job.sticks import sticks
from sitelog.reports.templates.model import Arc, Template
from sitelog.reports.templates.part import PartTemplates, part_templates
from tests.forms.dormers import dormer
from tests.forms.seen import check
from tests.forms.test_parapet_gutter import site as gutter
from tests.reports.site import Site
from tests.shipped import library
from tests.templates.made import nearest


def of(site: Site, part: str = "dormer") -> PartTemplates:
    return part_templates(site.state, library(), part)


def named(found: PartTemplates, words: str) -> Template:
    return next(template for template in found.ready if words in template.title)


def radii(template: Template) -> set[float]:
    return {
        round(line.curve.across, 3) for line in template.lines if line.layer == "cut" and isinstance(line.curve, Arc)
    }


def number(site: Site, path: str, name: str) -> float:
    answer = check(site, path, part="dormer").answer
    assert answer is not None
    return float(str(answer.results[name]))


def test_a_dormer_on_ribs_has_its_segment_its_whole_rib_and_its_line_as_built() -> None:
    """The cheeks stand 1895 and 1896 on the square; the ribs are struck 18 inside the outside's radius."""
    site = dormer("barrel-dormer", "lead-code-5", "ribs.batten")
    found = of(site)
    titles = " | ".join(template.title for template in found.ready)
    for words in ("one segment of the rib", "whole rib", "line on the main slope, both faces"):
        assert words.casefold() in titles.casefold(), titles
    answer = check(site, "template.rib", part="dormer").answer
    assert answer is not None
    assert max(radii(named(found, "ne segment of the rib"))) == round(float(str(answer.inputs["radius"])), 3)


def test_a_dormer_on_formers_has_its_former_by_the_radius_of_its_check() -> None:
    site = dormer("barrel-dormer", "lead-code-5", "formers.heights", on_formers=True)
    former = named(of(site), "Former with its slots")
    wanted = {round(number(site, "formers.struck", name), 3) for name in ("former_radius", "inside_radius")}
    assert radii(former) == wanted


def test_an_eyebrow_has_its_face_its_line_and_a_segment_of_crown_and_of_wing() -> None:
    found = of(dormer("eyebrow-dormer", "lead-code-5", "ribs.crown-line"))
    titles = [template.title for template in found.ready]
    assert sum("one segment of the rib" in title for title in titles) == 2, titles
    assert any("curve at the face" in title for title in titles), titles


def test_a_scarfed_plate_has_its_scarf_and_one_in_one_length_has_none() -> None:
    scarfed = of(gutter("main.seats.scarf", main__seats__made="scarfed"), "main")
    half = named(scarfed, "Scarf, one half")
    assert nearest((300.0, 0.0), [point for line in half.lines for point in line.curve.points()]) < 1e-6
    assert not [one for one in of(gutter("main.feet.common"), "main").ready if "Scarf" in one.title]


def test_a_foot_and_its_stick_in_the_cutting_list_say_the_same() -> None:
    """The seat to the bottom edge and the tail are those of the stick, which is held to the length in the list."""
    with Job.open(sample_folder() / "kiln-lane.json", library, read_only=True) as job:
        found = part_templates(job.state, job.library, "main")
        stick = next(one for one in sticks(job.state, job.library, "main") if one.says == "Common on AB")
        assert any(line.says == "Common on AB" and line.good for line in members(job.state, job.library, "main"))
    foot = named(found, "Common on AB: birdsmouth and tail")
    assert stick.answer is not None
    rows = stick.answer.results["rows"]
    assert isinstance(rows, list)
    marks = {str(row["point"]): (float(str(row["at"])), -float(str(row["down"]))) for row in rows}
    zero = marks["plate-top"][0]
    points = [point for line in foot.lines for point in line.curve.points()]
    for name in ("corner", "seat-end", "heel-bottom", "tail-top", "tail-bottom"):
        at, down = marks[name]
        assert nearest((at - zero, down), points) < 1e-6


def test_what_rests_on_the_drawing_names_what_is_not_measured_yet() -> None:
    drawn = of(Site(), "main")
    foot = named(drawn, "Common on AB: birdsmouth")
    assert foot.basis == "AS DRAWN" and "Plate AB, front" in foot.drawn
