"""A roof cut off by a flat: where its table comes over the plates, the hips up to it, and how far off its walls are."""

import math

from msgspec import Struct

from sitelog.calculators.catalogue import Inputs, Outcome, Output, Result, Row, Working, calculator, field
from sitelog.calculators.outline import outline_output, outline_rows
from sitelog.calculators.rafters import table_heads
from sitelog.calculators.rafters.outlines import OutlineInputs, PitchesInputs, outline, pitches_of
from sitelog.calculators.rafters.table_heads import HeadInputs, HipHead, TableSide, storey_heights
from sitelog.calculators.setting_out.verdicts import CLASSES
from sitelog.geometry.roof_lines import CORNERS, SIDES, Four, Hip, RoofLines, true_slopes
from sitelog.geometry.vectors import Vector, minus, plus, size, times
from sitelog.quantities.rounding import as_worked
from sitelog.refusal import Refusal
from sitelog.text import text_if

OUT_OF_SQUARE = 10.0  # mm between the table's diagonals, over which a person is told
TOP = (
    Output("corner", "", "Over corner"),
    Output("x", "mm", "X"),
    Output("y", "mm", "Y"),
    Output("hip_length", "mm", "Hip on the line"),
    Output("hip_pitch", "deg", "Pitch of hip"),
    Output("hip_run", "mm", "Level run of hip"),
)
EDGE = (
    Output("side", "", "Side"),
    Output("length", "mm", "Length of the table"),
    Output("offset_in", "mm", "In from the plate"),
    Output("wall", "mm", "Wall, in"),
    Output("off_wall", "mm", "Wall to table"),
    Output("finished_wall", "mm", "Finished wall, in"),
    Output("wall_to_table", "mm", "Finished wall to table"),
)


class Table(Struct, frozen=True):
    """The flat at its rise [mm] over the plates: its corners over A to D, and how far [mm] it is in from each plate."""

    lines: RoofLines
    rise: float
    offsets: Four

    def hip(self, corner: int) -> Vector:
        """The hip from its plate corner up to the table."""
        whole = self.lines.hip(corner).line
        return times(self.rise / whole[2], whole)

    def corner(self, corner: int) -> Vector:
        """The table's corner over that of the plates [mm]."""
        return plus(self.lines.corners[corner], self.hip(corner))

    def diagonal(self, start: int, end: int) -> float:
        """From one corner of the table to another [mm]."""
        return size(minus(self.corner(start), self.corner(end)))


class TableInputs(Inputs):
    """Where the table is, and the walls under it: mm."""

    rise: float | None = field(
        "length", "from the plates' top outer edge up to the underside of the table", default=None, over=0
    )
    run: float | None = field(
        "length", "level, from plate AB in to the table; instead of the rise", default=None, over=0
    )
    wall_ab: float | None = field("length", "wall under the table, in from plate AB", default=None)
    wall_bc: float | None = field("length", "wall under the table, in from plate BC", default=None)
    wall_cd: float | None = field("length", "wall under the table, in from plate CD", default=None)
    wall_da: float | None = field("length", "wall under the table, in from plate DA", default=None)

    @property
    def walls(self) -> tuple[float | None, ...]:
        """How far each wall is in from its plate [mm], in the order of SIDES, where it was given."""
        return self.wall_ab, self.wall_bc, self.wall_cd, self.wall_da


class JudgedWalls(Inputs):
    """By these two walls were once judged. They are still taken, so that what was written for them still runs."""

    tolerance: float | None = field("length", "not used: walls are distances, with no pass or fail", default=None)
    tape: str = field("choice", "not used: walls have no pass or fail", default="II", choices=tuple(CLASSES))


class FlatTopInputs(OutlineInputs, PitchesInputs, TableInputs, HeadInputs, JudgedWalls):
    """What `flat-top` takes: lengths in mm, angles in degrees."""


@calculator(
    "flat-top",
    FlatTopInputs,
    branch="rafters",
    does="A hipped roof cut off by a flat: the table and its hips",
    results=(
        Output("rise", "mm", "Rise to under the table"),
        Output("top", "", "Table, corner by corner", TOP),
        Output("sides", "", "Table, side by side", EDGE),
        Output("diagonal_ac", "mm", "Table, diagonal A to C"),
        Output("diagonal_bd", "mm", "Table, diagonal B to D"),
        *table_heads.HEIGHTS,
        Output("elevation", "", "Rafter set out on the floor, by side", table_heads.ELEVATION),
        Output("heads", "", "Hip heads, hollowed over the corner", table_heads.HEADS),
        Output("clips", "", "Or the table's corners clipped", table_heads.CLIPS),
        outline_output("Outline of the table, n as A to D"),
    ),
    basis="geometry; plates as the least-squares fit of their six lengths",
    definition=(
        "The table is where the slopes, up from the plates' top outer edges at their pitches, reach the rise. A "
        "is at 0,0, B along x, ABCD anticlockwise from above. `in` is level and square to the plate. A run in is "
        "from AB and sets the rise for all sides. Hips are on the measuring line, from plate to table. Walls "
        "need not be central: wall to table is plus if the table is further in. Heights are above the finished "
        "floor, or above the upper plate if no floor is given. A hip meets the corner of the table point on. "
        "Either its head is hollowed, with a cheek on each edge of the table and both long arrises past the "
        "centre, or the table's corner is cut off square to the hip, far enough back for all of a square head to "
        "bear. Side 1 of a corner is the edge on its left from outside."
    ),
    example="length=9000 width=6000 pitch=35 rise=1400 wall_ab=2000 wall_cd=2000",
)
def flat_top(given: FlatTopInputs) -> Outcome:
    """The table and all that is cut to it. Refusal for a rise over the ridge, or an outline that doesn't close."""
    pitches = pitches_of("flat-top", given.pitch, *given.own_pitches)
    corners, doubts = outline("flat-top", given.six, given.length, given.width)
    working = Working()
    rise = _rise(working, given.rise, given.run, pitches[0])
    table = _table(working, true_slopes(corners, pitches, "flat-top"), pitches, rise)
    heights = storey_heights(working, given, table.rise)
    sides = [TableSide(*side) for side in zip(SIDES, pitches, table.offsets, strict=True)]
    return Outcome(
        {
            **_told(working, table, given.walls, given.wall_lining),
            **heights,
            "elevation": [side.rafter(working, given, heights["table_height"]) for side in sides],
            **_heads(working, table, given.hip_thickness),
        },
        working,
        notes=(*doubts, *_notes(table, heights["stud_length"])),
        basis=text_if(given.length is not None, "geometry"),
    )


def _rise(working: Working, rise: float | None, run: float | None, pitch: float) -> float:
    if rise is not None and run is None:
        return rise
    if run is not None and rise is None:
        return working.step("rise", "run * tan(pitch_ab)", run=run, pitch_ab=pitch)
    raise Refusal("flat-top: give rise= or run_in=" + (text_if(rise is not None, ", not both")))


def _table(working: Working, lines: RoofLines, pitches: Four, rise: float) -> Table:
    """The table at that rise; Refusal if the slopes have met before it."""
    ridge = min(lines.p[2], lines.q[2])
    if rise > ridge - 1e-6:
        raise Refusal(
            f"flat-top: no table is left at a rise of {as_worked(rise)}: these slopes meet at {as_worked(ridge)}"
            ". Give a smaller rise"
        )
    ab, bc, cd, da = (
        working.step(
            f"offset_in_{side}",
            f"rise / tan(pitch_{side})",
            **{"rise": rise, f"pitch_{side}": pitch},
        )
        for side, pitch in zip(SIDES, pitches, strict=True)
    )
    return Table(lines, rise, (ab, bc, cd, da))


def _told(working: Working, table: Table, walls: tuple[float | None, ...], wall_lining: float) -> dict[str, Result]:
    hips = [table.lines.hip(corner) for corner in range(4)]
    corners = [table.corner(corner) for corner in range(4)]
    return {
        "rise": table.rise,
        "sides": [_edge_row(working, table, side, hips, walls[side], wall_lining) for side in range(4)],
        "top": [_top_row(working, table, hips[corner], corner) for corner in range(4)],
        **{
            f"diagonal_{CORNERS[start]}{CORNERS[end]}": working.step(
                f"diagonal_{CORNERS[start]}{CORNERS[end]}",
                "hypot(along, across)",
                along=abs(corners[end][0] - corners[start][0]),
                across=abs(corners[end][1] - corners[start][1]),
            )
            for start, end in ((0, 2), (1, 3))
        },
        "outline": outline_rows((x, y) for x, y, _ in corners),
    }


def _edge_row(
    working: Working, table: Table, side: int, hips: list[Hip], wall: float | None, wall_lining: float
) -> Row:
    """One side of the table: the plate, less what the hip at each end of it has run along it."""
    start, end, offset = hips[side], hips[(side + 1) % 4], table.offsets[side]
    at_start, at_end = f"plan_angle_at_{start.corner}", f"plan_angle_at_{end.corner}"
    length = working.step(
        f"table_{SIDES[side]}",
        f"plate - offset_in / tan({at_start}) - offset_in / tan({at_end})",
        **{
            "plate": size(minus(table.lines.corners[(side + 1) % 4], table.lines.corners[side])),
            "offset_in": offset,
            at_start: start.plan_angle_2,
            at_end: end.plan_angle_1,
        },
    )
    finished = None if wall is None else wall + wall_lining
    return {
        "side": SIDES[side],
        "length": length,
        "offset_in": offset,
        "wall": wall,
        "off_wall": None if wall is None else offset - wall,
        "finished_wall": finished,
        "wall_to_table": None if finished is None else offset - finished,
    }


def _top_row(working: Working, table: Table, hip: Hip, corner: int) -> Row:
    x, y, _ = table.corner(corner)
    line = table.hip(corner)
    run = math.hypot(line[0], line[1])
    length = working.step(f"hip_{hip.corner}", "hypot(hip_run, rise)", hip_run=run, rise=table.rise)
    return {"corner": hip.corner, "x": x, "y": y, "hip_length": length, "hip_pitch": hip.pitch, "hip_run": run}


def _heads(working: Working, table: Table, thickness: float) -> dict[str, Result]:
    heads: list[Row] = []
    clips: list[Row] = []
    for corner in range(4):
        head = HipHead(table.lines.hip(corner), thickness, size(table.hip(corner)))
        heads += head.cheeks(working, (SIDES[corner - 1], SIDES[corner]))
        clips.append(head.clip(working))
    return {"heads": heads, "clips": clips}


def _notes(table: Table, stud: float) -> tuple[str, ...]:
    said = []
    if stud <= 0:
        said.append(f"no room for a stud under this table: {as_worked(-stud)} short. Check the floor and the plates")
    apart = table.diagonal(0, 2) - table.diagonal(1, 3)
    if abs(apart) > OUT_OF_SQUARE:
        said.append(
            f"the table follows the plates: its diagonals differ by {as_worked(abs(apart))} mm. If you make it "
            "square, its edges won't meet the slopes"
        )
    return (
        *said,
        ("the table carries the flat and the heads of all rafters: the engineer designs its frame and posts"),
    )
