"""The covering slope by slope: areas with their overhangs, courses, slates or tiles, cuts and battens."""

from typing import Any

from sitelog.calculators.catalogue import Output, Row
from sitelog.calculators.coverings.coursing import whole
from sitelog.calculators.surface.inputs import ReadInputs
from sitelog.geometry.read_off.covering import Course, courses, covered
from sitelog.geometry.read_off.openings import Opening
from sitelog.geometry.surface.surface import Surface
from sitelog.refusal import Refusal

COVERING = (
    Output("name", "", "Slope"),
    Output("area", "m2", "Area with overhangs, less openings"),
    Output("eaves", "mm", "Eaves"),
    Output("verges", "mm", "Verges"),
    Output("courses", "", "Courses"),
    Output("battens", "mm", "Battens"),
    Output("cuts", "", "Cut ends at hips and valleys"),
    Output("tiles", "", "Slates or tiles"),
    Output("weight", "kg", "Weight"),
)
M2 = 1e6


def covered_surface(given: ReadInputs, found: Surface) -> Surface:
    """The surface of the covering; the roof's own where it has no overhangs. Refusal for cover without a gauge."""
    if given.gauge is None and (given.cover_width is not None or given.unit_mass is not None):
        raise Refusal("surface: with cover_width= or unit_mass= also give gauge=")
    if given.unit_mass is not None and given.cover_width is None:
        raise Refusal("surface: with unit_mass= also give cover_width=")
    return covered(found.plan, given.overhang, given.verge) if given.overhang or given.verge else found


def covering_rows(given: ReadInputs, cover: Surface, openings: list[Opening]) -> tuple[list[Row], list[dict[str, Any]]]:
    """A row a slope, and the courses with their parts [mm] for scripts and drawings."""
    every = courses(cover, given.gauge) if given.gauge is not None else []
    rows: list[Row] = []
    for slope, rings in enumerate(cover.rings):
        if rings:
            own = [course for course in every if course.slope == slope]
            rows.append(_row(given, cover, slope, own, openings))
    shapes = [
        {
            "slope": cover.slopes[course.slope].name,
            "n": course.n,
            "up": course.up,
            "parts": [list(part) for part in course.parts],
            "cuts": course.cuts,
            "batten": course.batten,
        }
        for course in every
    ]
    return rows, shapes


def _row(given: ReadInputs, cover: Surface, slope: int, own: list[Course], openings: list[Opening]) -> Row:
    holes = sum(one.width * one.height for one in openings if one.slope == slope)
    return {
        "name": cover.slopes[slope].name,
        "area": (cover.area(slope) - holes) / M2,
        "eaves": _length(cover, slope, "eaves"),
        "verges": _length(cover, slope, "verge"),
        **_counted(given, own),
    }


def _counted(given: ReadInputs, own: list[Course]) -> Row:
    """What its courses come to; None where no gauge, width or weight was given."""
    row: Row = dict.fromkeys(("courses", "battens", "cuts", "tiles", "weight"))
    if own:
        row |= {"courses": len(own), "battens": sum(course.batten for course in own)}
        row["cuts"] = sum(course.cuts for course in own)
    if own and given.cover_width is not None:
        tiles = sum(_tiles(given, course) for course in own)
        row |= {"tiles": tiles, "weight": tiles * given.unit_mass if given.unit_mass is not None else None}
    return row


def _tiles(given: ReadInputs, course: Course) -> int:
    width = given.cover_width or 1.0
    return sum(whole((last - first) / width) for first, last in course.parts)


def _length(cover: Surface, slope: int, kind: str) -> float:
    return sum(line.length for line in cover.lines if line.kind == kind and line.between[0] == slope)
