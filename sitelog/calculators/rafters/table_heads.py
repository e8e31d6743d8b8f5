"""What is cut at a table: each side's rafter as it is drawn on the floor, and the hips' heads at its corners."""

from msgspec import Struct

from sitelog.calculators.catalogue import Inputs, Output, Row, Working, field
from sitelog.calculators.rafters.birdsmouth import DEEPEST
from sitelog.calculators.timber.stick import RAFTER
from sitelog.geometry.roof_lines import Hip
from sitelog.geometry.vectors import atan_deg, cos_deg, settled, sin_deg, tan_deg
from sitelog.quantities.quantity import Section
from sitelog.quantities.rounding import as_worked
from sitelog.refusal import Refusal


class HeadInputs(Inputs):
    """The timbers at a table, and the storey under it: mm."""

    section: Section = field("section", "section of the rafters, thickness x depth", default=RAFTER)
    birdsmouth: float = field("fraction", "its depth, as a fraction of the rafter's", default=DEEPEST, under=1)
    hip_thickness: float = field("length", "thickness of the hips", default=47, over=0)
    floor: float = field("length", "plumb, from the finished floor up to the top of the upper plate", default=0)
    finish: float = field("length", "thickness of the floor finish, above the structural floor", default=0)
    sole: float = field("length", "thickness of the studs' sole plate", default=47)
    head_plates: int = field("count", "plates between studs and table", default=2)
    plate_thickness: float = field("length", "of one head plate", default=47)
    lining: float = field("length", "total thickness of lining under the table", default=0)
    wall_lining: float = field("length", "thickness of board and dabs on the walls under it", default=0)
    trimmers: int = field("count", "trimmers side by side at the rafters' heads", default=2)
    trimmer: float = field("length", "thickness of one trimmer", default=47)


HEIGHTS = (
    Output("table_height", "mm", "Underside of the table, above the floor"),
    Output("ceiling_height", "mm", "Ceiling, above the floor"),
    Output("stud_top", "mm", "Top of the studs, above the floor"),
    Output("stud_length", "mm", "Studs, sole plate to head plate"),
)
ELEVATION = (
    Output("side", "", "Side"),
    Output("height_above_plate", "mm", "Seat to top edge, plumb"),
    Output("seat_length", "mm", "Seat of the birdsmouth"),
    Output("plumb_cut_in", "mm", "Head's plumb cut, in from the plate"),
    Output("rafter_length", "mm", "Rafter length on the line"),
    Output("plumb_cut_length", "mm", "Plumb cut, top to foot"),
    Output("top_at_cut", "mm", "Top of the cut, above the floor"),
    Output("foot_at_cut", "mm", "Foot of the cut, above the floor"),
    Output("foot_below_table", "mm", "Foot of the cut, below the table"),
    Output("trimmer_back_in", "mm", "Last trimmer's inner face, in"),
)
HEADS = (
    Output("corner", "", "Corner"),
    Output("side", "", "Cheek on side"),
    Output("plan_angle", "deg", "Hip to the table's edge, on plan"),
    Output("bevel_from_square", "deg", "Bevel on the top edge, from square"),
    Output("saw_tilt", "deg", "Saw tilt on the face"),
    Output("past_level", "mm", "Arris past the centre, level"),
    Output("past_along", "mm", "Arris past the centre, along the hip"),
)
CLIPS = (
    Output("corner", "", "Corner"),
    Output("clip_back", "mm", "Table's corner back to the cut, level"),
    Output("mark_1", "mm", "Mark on side 1, from the corner"),
    Output("mark_2", "mm", "Mark on side 2, from the corner"),
    Output("clip_width", "mm", "Width of the cut"),
    Output("past_along", "mm", "Hip longer by, along the hip"),
    Output("hip_length", "mm", "Hip on the line, to the cut"),
)


def storey_heights(working: Working, given: HeadInputs, rise: float) -> dict[str, float]:
    """HEIGHTS [mm] over the finished floor, the table's underside at its rise [mm] over the plates."""
    table = working.step("table_height", "floor + rise", floor=given.floor, rise=rise)
    ceiling = working.step("ceiling_height", "table_height - lining", table_height=table, lining=given.lining)
    top = working.step(
        "stud_top",
        "table_height - head_plates * plate_thickness",
        table_height=table,
        head_plates=given.head_plates,
        plate_thickness=given.plate_thickness,
    )
    stud = working.step("stud_length", "stud_top + finish - sole", stud_top=top, finish=given.finish, sole=given.sole)
    return {"table_height": table, "ceiling_height": ceiling, "stud_top": top, "stud_length": stud}


class TableSide(Struct, frozen=True):
    """One side of the roof: its name, its pitch [deg], and how far the table is in from its plate [mm]."""

    name: str
    pitch: float
    offset: float

    def rafter(self, working: Working, given: HeadInputs, table_height: float) -> Row:
        """The side's rafter as it is drawn on the floor, under a table so high [mm]: a row of ELEVATION."""
        depth = given.section.depth
        height = working.step(
            f"height_above_plate_{self.name}",
            "(1 - birdsmouth) * depth / cos(pitch)",
            birdsmouth=given.birdsmouth,
            depth=depth,
            pitch=self.pitch,
        )
        plumb = working.step(f"plumb_cut_length_{self.name}", "depth / cos(pitch)", depth=depth, pitch=self.pitch)
        below = working.step(
            f"foot_below_table_{self.name}",
            "plumb_cut_length - height_above_plate",
            plumb_cut_length=plumb,
            height_above_plate=height,
        )
        return {
            "side": self.name,
            "height_above_plate": height,
            "seat_length": given.birdsmouth * depth / sin_deg(self.pitch),
            "plumb_cut_in": self.offset,
            "rafter_length": self.offset / cos_deg(self.pitch),
            "plumb_cut_length": plumb,
            "top_at_cut": table_height + height,
            "foot_at_cut": table_height - below,
            "foot_below_table": below,
            "trimmer_back_in": self.offset + given.trimmers * given.trimmer,
        }


class HipHead(Struct, frozen=True):
    """The head of a hip of a thickness and a length [mm] at its corner of the table."""

    hip: Hip
    thickness: float
    length: float

    @property
    def plan_angles(self) -> tuple[float, float]:
        """To the table's edges on side 1 and side 2 [deg]; Refusal where the hip leads away from one of them."""
        angles = settled(self.hip.plan_angle_1), settled(self.hip.plan_angle_2)
        if max(angles) >= 90 - 1e-9:
            raise Refusal(
                f"flat-top: the hip over {self.hip.corner.upper()} is at {as_worked(max(angles))} degrees to an "
                "edge of the table; it must be under 90 on both sides. Bring the pitches nearer to each other"
            )
        return angles

    def cheeks(self, working: Working, sides: tuple[str, str]) -> list[Row]:
        """The hollow head, cut to fit over the table's corner: two rows of HEADS."""
        return [self._cheek(working, side, angle) for side, angle in zip(sides, self.plan_angles, strict=True)]

    def _cheek(self, working: Working, side: str, angle: float) -> Row:
        past = settled(
            working.step(
                f"past_{self.hip.corner}_{side}",
                "hip_thickness / 2 / tan(plan_angle)",
                hip_thickness=self.thickness,
                plan_angle=angle,
            )
        )
        along = past / cos_deg(self.hip.pitch)
        return {
            "corner": self.hip.corner,
            "side": side,
            "plan_angle": angle,
            "bevel_from_square": atan_deg(along / (self.thickness / 2)),
            "saw_tilt": 90 - angle,
            "past_level": past,
            "past_along": along,
        }

    def clip(self, working: Working) -> Row:
        """The corner of the table cut off square to the hip, and the hip's head square: a row of CLIPS."""
        angle_1, angle_2 = self.plan_angles
        back = settled(
            working.step(
                f"clip_back_{self.hip.corner}",
                "hip_thickness / 2 / tan(smaller_plan_angle)",
                hip_thickness=self.thickness,
                smaller_plan_angle=min(angle_1, angle_2),
            )
        )
        along = back / cos_deg(self.hip.pitch)
        return {
            "corner": self.hip.corner,
            "clip_back": back,
            "mark_1": back / cos_deg(angle_1),
            "mark_2": back / cos_deg(angle_2),
            "clip_width": back * (tan_deg(angle_1) + tan_deg(angle_2)),
            "past_along": along,
            "hip_length": self.length + along,
        }
