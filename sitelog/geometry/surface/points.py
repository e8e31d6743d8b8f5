"""The points of a roof: corners of slopes in space, named by the plate's corner or by the slopes that meet there."""

from collections.abc import Mapping, Sequence

from msgspec import Struct

from sitelog.geometry.surface.clipping import EVEN, SAME
from sitelog.geometry.surface.outlines import Outline
from sitelog.geometry.surface.walls import Plan, Point
from sitelog.geometry.vectors import Vector

Place = tuple[int, int]  # a corner of the map, and a slope that has it


class RoofPoint(Struct, frozen=True):
    """A point [mm] of the roof, the slopes that meet in it by their places, and the walls it lies on."""

    name: str
    at: Vector
    slopes: tuple[int, ...]
    walls: tuple[str, ...]


def roof_points(
    plan: Plan, corners: Sequence[Point], rings: Sequence[Sequence[Outline]]
) -> tuple[list[RoofPoint], dict[Place, int]]:
    """Every point, and the place among them of each corner of each slope.

    Slopes at different heights over one corner, as at the foot of a step, have a point each.
    """
    walls_at = _walls_at(rings)
    slopes_at: dict[int, list[tuple[float, int]]] = {}
    for corner, slope in walls_at:
        slopes_at.setdefault(corner, []).append((plan.slopes[slope].height(*corners[corner]), slope))
    taken: dict[str, int] = {}
    found: list[RoofPoint] = []
    places: dict[Place, int] = {}
    for corner, heights in slopes_at.items():
        for level, group in enumerate(_levels(heights)):
            slopes = tuple(sorted(slope for _, slope in group))
            walls = tuple(dict.fromkeys(wall for slope in slopes for wall in walls_at[corner, slope]))
            name = _name(plan, corners[corner] if not level else None, slopes, walls)
            taken[name] = taken.get(name, 0) + 1
            if taken[name] > 1:
                name = f"{name} {taken[name]}"
            places.update({(corner, slope): len(found) for slope in slopes})
            found.append(RoofPoint(name, (*corners[corner], group[0][0]), slopes, walls))
    return found, places


def _walls_at(rings: Sequence[Sequence[Outline]]) -> dict[Place, list[str]]:
    """The walls that each slope's edges at each of its corners lie on."""
    walls: dict[Place, list[str]] = {}
    for slope, own in enumerate(rings):
        for ring in own:
            for place, edge in enumerate(ring):
                walls.setdefault((edge.start, slope), []).extend(filter(None, (edge.wall, ring[place - 1].wall)))
    return walls


def _levels(heights: Sequence[tuple[float, int]]) -> list[list[tuple[float, int]]]:
    """Slopes over one corner parted by height, from the lowest."""
    groups: list[list[tuple[float, int]]] = []
    for height, slope in sorted(heights):
        if groups and height - groups[-1][-1][0] <= 2 * EVEN:
            groups[-1].append((height, slope))
        else:
            groups.append([(height, slope)])
    return groups


def _name(plan: Plan, at: Point | None, slopes: Sequence[int], walls: Sequence[str]) -> str:
    """The plate's corner there, or the slopes that meet and the walls that they end at."""
    corner = _plate_corner(plan.points, at) if at else ""
    return corner or "-".join([*(plan.slopes[slope].name for slope in slopes), *_others(plan, slopes, walls)])


def _plate_corner(points: Mapping[str, Point], at: Point) -> str:
    near = (name for name, (x, y) in points.items() if abs(x - at[0]) <= 2 * SAME and abs(y - at[1]) <= 2 * SAME)
    return next(near, "")


def _others(plan: Plan, slopes: Sequence[int], walls: Sequence[str]) -> list[str]:
    """The walls at a point that none of its slopes rises from."""
    own = {plan.slopes[slope].wall for slope in slopes}
    return [wall for wall in walls if wall not in own]
