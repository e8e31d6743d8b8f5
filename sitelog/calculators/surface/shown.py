"""The roof's surface as rows for people, and as shapes with their points for scripts and drawings."""

from typing import Any

from sitelog.calculators.catalogue import Output, Row, Shape, Working
from sitelog.geometry.surface.surface import Surface
from sitelog.geometry.vectors import Vector

POINTS = (Output("point", "", "Point"), *(Output(axis, "mm", axis.upper()) for axis in "xyz"))
SLOPES = (
    Output("name", "", "Slope"),
    Output("pitch", "deg", "Pitch"),
    Output("area", "m2", "Area"),
    Output("plan_area", "m2", "On plan"),
)
LINES = (
    Output("between", "", "Between"),
    Output("kind", "", "Line"),
    Output("from", "", "From"),
    Output("to", "", "To"),
    Output("length", "mm", "Length"),
    Output("plan_length", "mm", "On plan"),
    Output("pitch", "deg", "Pitch"),
    Output("dihedral", "deg", "Angle between slopes"),
)
SHEDS = (
    Output("slope", "", "Slope"),
    Output("onto", "", "Drains on to"),
    Output("over", "", "Over its"),
    Output("length", "mm", "Length"),
)
M2, M3 = 1e6, 1e9  # mm2 and mm3 of one


def point_rows(found: Surface) -> list[Row]:
    """Every point of the roof [mm]."""
    return [{"point": point.name, **dict(zip("xyz", point.at, strict=True))} for point in found.points]


def slope_rows(working: Working, found: Surface) -> list[Row]:
    """Each slope that shows: pitch [deg], areas [m2]."""
    rows: list[Row] = []
    for place, slope in enumerate(found.slopes):
        if found.rings[place]:
            on_plan = working.note(f"plan_area_{slope.name}", "of its outline", found.plan_areas[place] / M2, "m2")
            area = working.step(
                f"area_{slope.name}", "plan_area / cos(pitch)", "m2", plan_area=on_plan, pitch=slope.pitch
            )
            rows.append({"name": slope.name, "pitch": slope.pitch, "area": area, "plan_area": on_plan})
    return rows


def line_rows(working: Working, found: Surface) -> list[Row]:
    """Each line with its two points: lengths [mm], pitch and the angle between its slopes [deg]."""
    rows: list[Row] = []
    for line in found.lines:
        name = found.line_name(line)
        start, end = found.points[line.start], found.points[line.end]
        length = working.step(
            f"{line.kind} {name}", "hypot(run, rise)", run=line.plan_length, rise=abs(end.at[2] - start.at[2])
        )
        rows.append(
            {
                "between": name,
                "kind": line.kind,
                "from": start.name,
                "to": end.name,
                "length": length,
                "plan_length": line.plan_length,
                "pitch": line.pitch,
                "dihedral": line.dihedral,
            }
        )
    return rows


def shed_rows(found: Surface) -> list[Row]:
    """Which slope drains over a line on to another, and the line's length [mm]."""
    return [
        {
            "slope": found.slopes[one.slope].name,
            "onto": found.slopes[one.onto].name,
            "over": one.kind,
            "length": one.length,
        }
        for one in found.sheds
    ]


# --- with their points --------------------------------------------------------------------------------------------


def surface_shapes(found: Surface, slopes: list[Row], lines: list[Row]) -> dict[str, Shape]:
    """Points by name, slopes with their outlines in space and laid flat, and lines with their slopes: plain lists."""
    shown = [place for place, rings in enumerate(found.rings) if rings]
    between = [[found.slopes[place].name for place in line.between] for line in found.lines]
    walls = [line.wall for line in found.lines]
    return {
        "points": {point.name: list(point.at) for point in found.points},
        "slopes": [{**row, **outlines(found, place)} for row, place in zip(slopes, shown, strict=True)],
        "lines": [
            {**row, "between": names, "wall": wall} for row, names, wall in zip(lines, between, walls, strict=True)
        ],
    }


def outlines(found: Surface, slope: int) -> dict[str, Any]:
    """The largest outline of a slope in space and laid flat [mm]; `more` has its other parts, and its holes."""
    rings = [as_lists(ring) for ring in found.outline(slope)]
    flat = [[list(point) for point in ring] for ring in found.flat(slope)]
    more = [{"outline": ring, "flat": laid} for ring, laid in zip(rings[1:], flat[1:], strict=True)]
    return {"outline": rings[0], "flat": flat[0], "more": more}


def as_lists(ring: list[Vector]) -> list[list[float]]:
    """Points as lists, as JSON has them."""
    return [list(point) for point in ring]
