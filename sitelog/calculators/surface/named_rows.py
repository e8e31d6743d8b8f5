"""What a building has several of, as rows by their ids: sides and ties, blocks, hips, valleys and ridges."""

import math
from collections.abc import Sequence

from sitelog.calculators.catalogue import Output, Row
from sitelog.geometry.building.named import Named, Roof, slope_words
from sitelog.geometry.building.placing import lean_to_pitch
from sitelog.geometry.building.plates import CARRIED, Block
from sitelog.geometry.building.said import LEAN_TO
from sitelog.geometry.building.walls import dormer_plate
from sitelog.geometry.surface.lines import RoofLine
from sitelog.geometry.surface.walls import Point
from sitelog.geometry.vectors import Vector, angle_between, tan_deg
from sitelog.refusal import Refusal

SIDES = (
    Output("side", "", "Side"),
    Output("name", "", "Between"),
    Output("drawn", "mm", "As drawn"),
    Output("length", "mm", "Length"),
    Output("plate", "mm", "Plate on it"),
)
BLOCKS = (
    Output("block", "", "Block"),
    Output("slope_1", "", "One slope"),
    Output("slope_2", "", "Other"),
    Output("pitch_1", "deg", "Pitch"),
    Output("pitch_2", "deg", "Pitch of the other slope"),
    Output("run_1", "mm", "Run"),
    Output("run_2", "mm", "Run of the other slope"),
    Output("rise", "mm", "Rise"),
    Output("ridge", "mm", "Ridge"),
    Output("height", "mm", "Top over the main plates"),
    Output("two_pitches", "", "Two pitches"),
    Output("more_pitches", "", "Slopes at another pitch than those two"),
    Output("wide", "mm", "Width as drawn"),
    Output("out", "mm", "Projection or set-in as drawn"),
    Output("along", "mm", "From its corner as drawn"),
    Output("up", "mm", "Height as drawn"),
)
LINES = (
    Output("line", "", "Line"),
    Output("name", "", "Name"),
    Output("block", "", "Block"),
    Output("length", "mm", "Length"),
    Output("plan_length", "mm", "On plan"),
    Output("pitch", "deg", "Pitch"),
    Output("rise", "mm", "Rise"),
    Output("dihedral", "deg", "Angle between slopes"),
    Output("corner", "deg", "Angle between the plates"),
    Output("pitch_1", "deg", "Pitch of one slope"),
    Output("pitch_2", "deg", "Pitch of the other slope"),
    Output("run_1", "mm", "Run"),
    Output("pitch_under", "deg", "Pitch of the roof below"),
    Output("pitch_over", "deg", "Pitch of the block built on"),
    Output("run_over", "mm", "Run of the block built on"),
    Output("ridge_side", "", "Side its ridge runs along"),
    Output("foot_on", "", "What its foot is on"),
    Output("foot", "mm", "Foot over the main plates"),
    Output("head", "mm", "Head over the main plates"),
    Output("tail", "", "Tail past its foot"),
)
IN_LINE = 5.0  # mm off a side: eaves no further are its own
SAME_PITCH = 0.05  # deg: as slopes are shown
ON_PLATE = 5.0  # mm: a foot no further from its plates is on them, though plates as taped part the two
AT = 2.0  # mm


def side_rows(roof: Roof, drawn: Roof) -> list[Row]:
    """Each side and tie between corners as drawn and as it is [mm]."""
    rows: list[Row] = []
    now = roof.found.plan.points
    for one in (*drawn.of("sides"), *drawn.of("ties")):
        start, end = one.between
        length = math.dist(now[start], now[end])
        drawn_length = math.dist(drawn.plates.points[start], drawn.plates.points[end])
        plate = _plate_on(roof, now[start], now[end])
        rows.append({"side": one.id, "name": one.name, "drawn": drawn_length, "length": length, "plate": plate})
    return rows


def _plate_on(roof: Roof, start: Point, end: Point) -> float:
    """How long [mm] a plate is on a side: under its eaves, up on it at a half-hip; none under a gable."""
    long = math.dist(start, end)
    way = (end[0] - start[0]) / long, (end[1] - start[1]) / long
    found = 0.0
    for line in roof.found.lines:
        if line.kind == "eaves":
            ends = [_beside(start, way, roof.found.points[point].at) for point in (line.start, line.end)]
            if max(abs(off) for _, off in ends) < IN_LINE:
                low, high = sorted(min(max(along, 0.0), long) for along, _ in ends)
                found += high - low
    return found


def _beside(start: Point, way: Point, at: Vector) -> tuple[float, float]:
    """How far [mm] along a side a point is on plan, and how far off it."""
    dx, dy = at[0] - start[0], at[1] - start[1]
    return dx * way[0] + dy * way[1], dx * way[1] - dy * way[0]


def line_rows(roof: Roof) -> list[Row]:
    """Each hip, valley and ridge with what its own sums are fed with: mm and degrees."""
    return [_line_row(roof, one) for one in roof.of("lines")]


def _line_row(roof: Roof, one: Named) -> Row:
    line = roof.found.lines[one.place]
    sides = sides_of_line(roof, line)
    first, other = (roof.found.slopes[slope] for slope in sides)
    foot, head = (roof.found.points[end].at for end in (line.start, line.end))
    apart = angle_between((*first.inward, 0.0), (*other.inward, 0.0))
    rise = head[2] - foot[2]
    return {
        "line": one.id,
        "name": one.name,
        "block": one.block,
        "length": line.length,
        "plan_length": line.plan_length,
        "pitch": line.pitch,
        "rise": rise,
        "dihedral": line.dihedral,
        "corner": 180 - apart,
        "pitch_1": first.pitch,
        "pitch_2": other.pitch,
        "run_1": rise / tan_deg(first.pitch),
        **_under_and_over(roof, one, rise),
        "ridge_side": _ridge_side(roof, line, sides),
        "foot_on": "plate" if _is_on_plates(roof, foot, sides) else "roof",
        "foot": foot[2],
        "head": head[2],
        "tail": "yes" if _has_tail(roof, one, line) else "no",
    }


def longest_hip(roof: Roof, rows: Sequence[Row], overhang: float, depth: float) -> float:
    """The longest hip [mm], from long point to long point of one so deep [mm], with its tail; 0 without any."""
    hips = {one.id for one in roof.of("hips")}
    return max((_over_all(row, overhang, depth) for row in rows if row["line"] in hips), default=0.0)


def _over_all(row: Row, overhang: float, depth: float) -> float:
    """A hip's length [mm] over all: on plan it goes on past its foot as its slopes do."""
    length, run, pitch = (float(row[name] or 0) for name in ("length", "run_1", "pitch"))
    square = length + depth * tan_deg(pitch)
    if row["tail"] == "yes":
        return square + length * overhang / run
    return square


def _has_tail(roof: Roof, one: Named, line: RoofLine) -> bool:
    """Whether a rafter on it can run out past its foot: not over the cheek of a dormer, where the main rafters are."""
    over_cheek = line.kind == "valley" and one.block in roof.dormers
    return bool(roof.found.points[line.start].walls) and not over_cheek


def _under_and_over(roof: Roof, one: Named, rise: float) -> Row:
    """Of a valley between two blocks, as if the later were laid on the other: pitches [deg], run [mm]; else None."""
    over = [slope for slope in roof.found.lines[one.place].between if roof.block_of[slope] == one.block]
    under = [slope for slope in roof.found.lines[one.place].between if roof.block_of[slope] != one.block]
    if not over or not under:
        return {"pitch_under": None, "pitch_over": None, "run_over": None}
    pitch = roof.found.slopes[over[0]].pitch
    return {
        "pitch_under": roof.found.slopes[under[0]].pitch,
        "pitch_over": pitch,
        "run_over": rise / tan_deg(pitch),
    }


def sides_of_line(roof: Roof, line: RoofLine) -> tuple[int, int]:
    """The line's two slopes, that on the left first as you look at its foot from outside."""
    found = roof.found
    start, end = found.points[line.start].at, found.points[line.end].at
    way = end[0] - start[0], end[1] - start[1]
    one, two = line.between
    left = way[0] * found.slopes[one].inward[1] - way[1] * found.slopes[one].inward[0]
    # Looking in up a hip, the slope on the left rises to the right; looking in up a valley, that on the left does not.
    rises_right = left < 0
    return (one, two) if rises_right == (line.kind == "hip") else (two, one)


def _is_on_plates(roof: Roof, foot: Vector, sides: tuple[int, int]) -> bool:
    """Whether the plates of both slopes meet there; a valley of a dormer stands on the rafters below its plates."""
    return all(abs(foot[2] - roof.found.slopes[slope].up) < ON_PLATE for slope in sides)


def _ridge_side(roof: Roof, line: RoofLine, sides: tuple[int, int]) -> int:
    """1 or 2: the side that the ridge at its head runs along; 1 where none ends there, as at a point."""
    top = roof.found.points[line.end].at
    for other in roof.found.lines:
        if other.kind == "ridge" and any(
            math.dist(roof.found.points[end].at, top) < AT for end in (other.start, other.end)
        ):
            along = [number for number, slope in enumerate(sides, 1) if slope in other.between]
            if along:
                return along[0]
    return 1


def block_rows(roof: Roof, drawn: Roof) -> list[Row]:
    """Each block with its first pair: two slopes across its ridge or to its point, their runs and rise [mm].

    With a lean-to or a dormer goes what is taped of it, as drawn [mm].
    """
    return [
        {**_block_row(roof, block), **_carried_row(own)}
        for block, own in zip(roof.plates.blocks, drawn.plates.blocks, strict=True)
    ]


def _carried_row(block: Block) -> Row:
    said = block.said
    if said.kind not in CARRIED or said.place is None:
        return dict.fromkeys(("wide", "out", "along", "up"))
    rise = said.size[1] * tan_deg(lean_to_pitch(said)) if said.kind == LEAN_TO else dormer_plate(block)
    return {"wide": said.size[0], "out": said.size[1], "along": said.place.distance, "up": rise}


def _block_row(roof: Roof, block: Block) -> Row:
    first, other, top, ridge = first_pair(roof, block)
    row: Row = {"block": block.name}
    for number, place in ((1, first), (2, other)):
        slope = roof.found.slopes[place]
        row[f"slope_{number}"] = slope_words(slope.name)
        row[f"pitch_{number}"] = slope.pitch
        row[f"run_{number}"] = (top - _foot(roof, place)) / tan_deg(slope.pitch)
    row["rise"] = top - _foot(roof, first)
    two = abs(roof.found.slopes[first].pitch - roof.found.slopes[other].pitch) > SAME_PITCH
    return {**row, "ridge": ridge, "height": top, "two_pitches": "yes" if two else "no"}


def _foot(roof: Roof, place: int) -> float:
    """How high [mm] the foot of a slope is over the main plates: its plate, or the break under a mansard's upper."""
    return min(point[2] for ring in roof.found.outline(place) for point in ring)


def first_pair(roof: Roof, block: Block) -> tuple[int, int, float, float]:
    """Two slopes across, the height of where they meet, and the ridge's length [mm]: nought to a point."""
    ridges = [roof.found.lines[one.place] for one in roof.of("ridges") if one.block == block.name]
    if ridges:
        longest = max(ridges, key=lambda line: line.length)
        first, other = sorted(longest.between)
        top = roof.found.points[longest.start].at[2]
        return first, other, top, math.fsum(line.length for line in ridges)
    own = _slopes_of(roof, block)
    top = max(point[2] for place in own for ring in roof.found.outline(place) for point in ring)
    first = own[0]
    return first, max(own, key=lambda place: _apart(roof, first, place)), top, 0.0


def _slopes_of(roof: Roof, block: Block) -> list[int]:
    """The places of its slopes. Refusal where none of it stands above the roof."""
    own = [one.place for one in roof.of("slopes") if one.block == block.name]
    if not own:
        raise Refusal(f"{block.name}: these figures leave none of it above the roof. Check each, in mm")
    return own


def _apart(roof: Roof, first: int, other: int) -> float:
    slopes = roof.found.slopes
    return angle_between((*slopes[first].inward, 0.0), (*slopes[other].inward, 0.0))
