"""Slopes of a building as whoever covers them sets them out, and the edges that are flashed, by their ids."""

import math
from collections.abc import Iterator, Mapping

from sitelog.calculators.catalogue import Output, Result, Row, Value
from sitelog.geometry.building.named import Named, Roof
from sitelog.geometry.vectors import cos_deg, sin_deg, tan_deg

SLOPES = (
    Output("slope", "", "Slope"),
    Output("name", "", "Name"),
    Output("block", "", "Block"),
    Output("pitch", "deg", "Pitch"),
    Output("eaves", "mm", "Eaves"),
    Output("length", "mm", "Plate to top, up the slope"),
    Output("to_tail", "mm", "Top to tail"),
    Output("area", "m2", "Area"),
    Output("tails", "mm", "Eaves, tail to tail"),
    Output("top", "mm", "Along its top"),
    Output("shortest", "mm", "Top to tail, shortest"),
    Output("covered", "m2", "Area with its overhang"),
    Output("run", "mm", "Run, plate to top"),
    Output("own_pitch", "", "Of another pitch than its block's pair"),
)
EDGES = (
    Output("line", "", "Line"),
    Output("name", "", "Name"),
    Output("block", "", "Block"),
    Output("length", "mm", "Length"),
)
TOPS = ("ridge", "abutment", "step", "break", "level valley")  # lines that can be the top of a slope
LEAST_CLIMB = 1.0  # deg: an edge that climbs less runs along the slope
LEVEL = 0.1  # of a line's length along the slope: one that climbs more than this isn't a top
SAME_PITCH = 0.05  # deg: as slopes are shown
M2 = 1e6


def slope_rows(roof: Roof, overhang: float, covering: Result, blocks: list[Row]) -> list[Row]:
    """Each slope that shows: pitch [deg], lengths [mm], areas [m2].

    `overhang` is how far its tail is past the plate, level [mm]; `covering` has the eaves of each slope with that, and
    `blocks` the pitches of each block's first pair. What is covered goes on under the overhang of a higher block: a
    lean-to up to its wall, a slope up to a dormer's cheek.
    """
    rows = covering if isinstance(covering, list) else []
    tails_of = {str(row["name"]): float(row["eaves"] or 0) for row in rows}
    pairs = {str(row["block"]): (row["pitch_1"], row["pitch_2"]) for row in blocks}
    return [
        {**_slope_row(roof, one, overhang, tails_of), "own_pitch": _own_pitch(roof, one, pairs[one.block])}
        for one in roof.of("slopes")
    ]


def _own_pitch(roof: Roof, one: Named, pair: tuple[Value, Value]) -> str:
    """Whether neither of its block's first pair is at its pitch, so that it has a pattern of its own: yes or no."""
    pitch = roof.found.slopes[one.place].pitch
    alike = any(isinstance(other, float) and abs(pitch - other) <= SAME_PITCH for other in pair)
    return "no" if alike or one.name.endswith("sprocket") else "yes"


def _slope_row(roof: Roof, one: Named, overhang: float, tails_of: Mapping[str, float]) -> Row:
    slope, found = roof.found.slopes[one.place], roof.found
    heights = [up for ring in found.flat(one.place) for _, up in ring]
    eaves = math.fsum(line.length for line in found.lines if line.kind == "eaves" and line.between[0] == one.place)
    length = max(heights) - min(heights)
    tail = overhang / cos_deg(slope.pitch) if eaves else 0.0
    tops = list(_tops(roof, one.place))
    tails = tails_of.get(slope.name) or eaves
    return {
        "slope": one.id,
        "name": one.name,
        "block": one.block,
        "pitch": slope.pitch,
        "eaves": eaves,
        "length": length,
        "to_tail": length + tail,
        "area": found.area(one.place) / M2,
        "tails": tails,
        "top": math.fsum(long for long, _ in tops),
        "shortest": min((low for _, low in tops), default=max(heights)) - min(heights) + tail,
        "run": length * cos_deg(slope.pitch),
        "covered": (found.area(one.place) + tail * (eaves + tails) / 2) / M2,
    }


def _tops(roof: Roof, place: int) -> Iterator[tuple[float, float]]:
    """The lines along a slope's top: their lengths, and how far up the slope the lower end is [mm].

    Each ridge is one; a wall, a step or a break only where it is as high as the slope goes.
    """
    slope, found = roof.found.slopes[place], roof.found
    highest = max(up for ring in found.flat(place) for _, up in ring)
    for line in found.lines:
        if line.kind in TOPS and place in line.between:
            (x, low), (x_end, high) = (slope.flat(*found.points[end].at[:2]) for end in (line.start, line.end))
            climbs = abs(high - low)
            is_level = climbs <= LEVEL * abs(x_end - x)
            if is_level and (line.kind == "ridge" or max(low, high) >= highest - 1.0):
                yield line.length, min(low, high)


def edge_rows(roof: Roof, overhang: float) -> list[Row]:
    """Each verge, and each line where a slope stops against a wall or a higher block: with its tail [mm]."""
    return [
        {"line": one.id, "name": one.name, "block": one.block, "length": _with_tail(roof, one, overhang)}
        for each in ("verges", "abutments")
        for one in roof.of(each)
    ]


def _with_tail(roof: Roof, one: Named, overhang: float) -> float:
    """The length [mm]; of one that comes down to the plate, with what of it is past that."""
    line = roof.found.lines[one.place]
    slope, foot = roof.found.slopes[line.between[0]], roof.found.points[line.start].at[2]
    if line.kind == "step" or line.pitch < LEAST_CLIMB or foot > slope.up + 1.0:
        return line.length
    return line.length + overhang / sin_deg(line.pitch) * tan_deg(slope.pitch)


def with_more_pitches(blocks: list[Row], slopes: list[Row]) -> list[Row]:
    """Each block, and whether it has slopes at a pitch of their own: yes or no."""
    more = {row["block"] for row in slopes if row["own_pitch"] == "yes"}
    return [{**row, "more_pitches": "yes" if row["block"] in more else "no"} for row in blocks]
