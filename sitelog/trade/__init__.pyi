"""Made from the calculators by `python -m tests.stubs`: what each function takes and gives."""

from collections.abc import Sequence
from typing import Any, Literal

from sitelog.calculators.catalogue import Answer, Row
from sitelog.quantities.quantity import Cut, Price, Section, Tie

class Worked:
    answer: Answer

class LevelsWorked(Worked):
    high_point: str
    # Highest point
    range: float
    # mm: Highest to lowest
    uncertainty: float
    # mm: Good to
    packing: list[Row]
    # Packing

def levels(
    *,
    readings: Sequence[float],
    # mm: one reading for each point, in order
    kind: Literal["staff", "height"] = ...,
    # level readings (less is higher), or heights
    points: str = ...,
    # names of the points, with commas; 1, 2, 3 if left out
    tolerance: float = ...,
    # mm: limit allowed; leave out for no pass or fail
    reading: float = ...,
    # mm: how far out one reading may be
) -> LevelsWorked:
    """Level readings: how far out, and the packing at each point. Raises Refusal of figures that are missing, unknown or can't be."""

class CentresWorked(Worked):
    rows: list[Row]
    # Marks
    count: int
    # How many
    last_bay: float
    # mm: Last bay

def centres(
    *,
    length: float,
    # mm: length of the plate, wall or deck, end to end
    spacing: float,
    # mm: widest centre to centre, along the plate
    first: float = ...,
    # mm: from the start to the first centre
    last: float = ...,
    # mm: from the last centre to the end
    thickness: float = ...,
    # mm: thickness of one member
) -> CentresWorked:
    """Set out members at a spacing: how many, and the mark of each. Raises Refusal of figures that are missing, unknown or can't be."""

class TwistWorked(Worked):
    wind: float
    # mm: Twist across the pair
    wind_angle: float
    # deg: Angle of twist
    wind_per_metre: float
    # mm: Twist per metre up
    uncertainty: float
    # mm: Good to

def twist(
    *,
    spacing: float,
    # mm: between the two, where the straightedge bears
    fall_foot: float,
    # mm: across the pair at the foot; left high is +
    fall_head: float,
    # mm: across the pair at the head; left high is +
    length: float,
    # mm: along the rafter, from the foot reading to the head reading
    tolerance: float = ...,
    # mm: limit allowed; leave out for no pass or fail
    reading: float = ...,
    # mm: how far out one reading may be
) -> TwistWorked:
    """Twist between two rafters: fall across them at foot and head. Raises Refusal of figures that are missing, unknown or can't be."""

class StringWorked(Worked):
    bow: float
    # mm: Bow (+ the same way as the offsets)
    station: float
    # mm: Where, from the first end
    ratio: float
    # Length over bow
    uncertainty: float
    # mm: Good to
    stations: list[Row]
    # Points

def string(
    *,
    offsets: Sequence[float],
    # mm: offsets from the line at equal spaces, both ends included
    length: float,
    # mm: end to end
    tolerance: float = ...,
    # mm: limit allowed; leave out for no pass or fail
    reading: float = ...,
    # mm: how far out one reading may be
) -> StringWorked:
    """How straight a ridge, hip, plate or fascia is, from a string line. Raises Refusal of figures that are missing, unknown or can't be."""

class TapeWorked(Worked):
    limit_of_error: float
    # mm: Tape may be out
    uncertainty: float
    # mm: Reading may be out
    difference: float
    # mm: Difference from nominal
    pass_to: float
    # mm: Passes up to
    fail_from: float
    # mm: Fails from

def tape(
    *,
    length: float,
    # mm: length taped
    class_: Literal["I", "II", "III"] = ...,
    # class printed on the blade
    start: Literal["hook", "mark"] = ...,
    # measured from the hook, or mark to mark
    measured: float = ...,
    # mm: what you measured
    nominal: float = ...,
    # mm: what it should be
    tolerance: float = ...,
    # mm: limit allowed; leave out for no pass or fail
    reading: float = ...,
    # mm: how far out one reading may be
    off_temperature: float = ...,
    # C: how far the temperature is off 20, in degrees C
) -> TapeWorked:
    """How far out a tape may be, and what a reading with it can show. Raises Refusal of figures that are missing, unknown or can't be."""

class SquarenessWorked(Worked):
    diagonal_difference: float
    # mm: Diagonals differ by
    uncertainty: float
    # mm: Good to
    out_of_square: float
    # mm: Worst corner out of square
    worst_corner: str
    # Worst corner
    angle_a: float
    # deg: Angle at A
    angle_b: float
    # deg: Angle at B
    angle_c: float
    # deg: Angle at C
    angle_d: float
    # deg: Angle at D
    area: float
    # m2: Area
    misclosure: float
    # mm: Worst length: out by
    standard_residual: float
    # doubt of the worst length
    suspect: str | None
    # Length in doubt
    residual_ab: float
    # mm: AB out by
    residual_bc: float
    # mm: BC out by
    residual_cd: float
    # mm: CD out by
    residual_da: float
    # mm: DA out by
    residual_ac: float
    # mm: AC out by
    residual_bd: float
    # mm: BD out by
    a_x: float
    # mm: Corner A, x
    a_y: float
    # mm: Corner A, y
    b_x: float
    # mm: Corner B, x
    b_y: float
    # mm: Corner B, y
    c_x: float
    # mm: Corner C, x
    c_y: float
    # mm: Corner C, y
    d_x: float
    # mm: Corner D, x
    d_y: float
    # mm: Corner D, y
    lengths: list[Row]
    # Lengths
    points: list[Row]
    # More points

def squareness(
    *,
    ab: float,
    # mm: plate AB, outside corners
    bc: float,
    # mm: plate BC, outside corners
    cd: float,
    # mm: plate CD, outside corners
    da: float,
    # mm: plate DA, outside corners
    ac: float,
    # mm: diagonal AC, outside corners
    bd: float,
    # mm: diagonal BD, outside corners
    ties: Sequence[Tie] = ...,
    # mm: more lengths between named points
    tape: Literal["I", "II", "III"] = ...,
    # class of the tape
    tolerance: float = ...,
    # mm: most the diagonals may differ by
    reading: float = ...,
    # mm: how far out a reading may be
) -> SquarenessWorked:
    """Check four plates for square, and whether the tape readings agree. Raises Refusal of figures that are missing, unknown or can't be."""

class CommonWorked(Worked):
    rise: float
    # mm: Rise of the measuring line
    length_on_line: float
    # mm: Length to ridge centre or table
    ridge_deduction: float
    # mm: Deduct for half the ridge
    length_to_ridge: float
    # mm: Length to face of ridge or table
    plumb_cut_from_square: float
    # deg: Plumb cut, from square
    seat_cut_from_square: float
    # deg: Seat cut, from square
    plumb_cut_length: float
    # mm: Plumb cut: shallowest ridge
    birdsmouth_depth: float
    # mm: Birdsmouth, square to edge
    seat_length: float
    # mm: Seat of the birdsmouth
    heel_plumb: float
    # mm: Plumb face of the birdsmouth
    height_above_plate: float
    # mm: Seat to top edge, plumb
    tail_length: float
    # mm: Tail along the line
    overall_length: float
    # mm: Long point to long point
    order_length: float
    # mm: Stock length to order
    mass: float
    # kg: Weight as cut, C24

def common(
    *,
    run: float,
    # mm: level, plate's outer edge to the centre of the ridge, or to the table
    pitch: float = ...,
    # degrees: pitch of the rafter; or give the rise
    rise: float = ...,
    # mm: rise of the measuring line, instead of the pitch
    section: Section = ...,
    # mm: thickness x depth
    ridge: float = ...,
    # mm: thickness of the ridge
    plate: float = ...,
    # mm: width of the wall plate
    overhang: float = ...,
    # mm: level, from the plate's face out to the plumb cut of the tail
    birdsmouth: float = ...,
    # its depth, as a fraction of the rafter's
    tied: Literal["yes", "joists", "ties", "no", "not told"] = ...,
    # what ties the eaves at every pair?
) -> CommonWorked:
    """A common rafter: lengths, cuts, birdsmouth and what to order. Raises Refusal of figures that are missing, unknown or can't be."""

class CommonsWorked(Worked):
    rows: list[Row]
    # Commons
    count: int
    # How many
    last_bay: float
    # mm: Last bay
    smallest_gap: float
    # mm: Smallest gap
    plumb_cut_from_square: float
    # deg: Plumb cut, from square

def commons(
    *,
    first: float,
    # mm: along the plate, from its corner to the first common's centre
    last: float,
    # mm: the same to the last common's centre; the same as the first if there is only one
    run: float,
    # mm: run of the first, plate's outer edge to the centre of the ridge
    pitch: float,
    # degrees: pitch of the slope, up a common
    spacing: float,
    # mm: widest centre to centre, along the plate
    run_last: float = ...,
    # mm: run of the last; the same as the first if left out
    ridge: float = ...,
    # mm: thickness of the timber their heads butt against
    thickness: float = ...,
    # mm: thickness of one member
    set_out: Literal["first", "last", "middle", "evened"] = ...,
    # from the first, from the last, from the middle, or evened?
    within: float = ...,
    # mm: how far a bay may be over the spacing before it needs one more
) -> CommonsWorked:
    """Full common rafters of a slope, from end to end of the ridge: marks and lengths. Raises Refusal of figures that are missing, unknown or can't be."""

class BirdsmouthWorked(Worked):
    depth: float
    # mm: Depth, square to the edge
    seat: float
    # mm: Level seat
    heel: float
    # mm: Plumb face
    height_above_plate: float
    # mm: Seat to top edge, plumb
    fraction: float
    # Fraction of the rafter's depth

def birdsmouth(
    *,
    pitch: float,
    # degrees: slope of the rafter to level
    section: Section = ...,
    # mm: thickness x depth of the rafter
    plate: float = ...,
    # mm: width of the wall plate
    tied: Literal["yes", "joists", "ties", "no", "not told"] = ...,
    # what ties the eaves at every pair?
    fraction: float = ...,
    # depth, as a fraction of the rafter's; 1/3 if left out
    seat: float = ...,
    # mm: level seat to cut, instead of the fraction
) -> BirdsmouthWorked:
    """A birdsmouth: depth, seat and heel against the one-third limit. Raises Refusal of figures that are missing, unknown or can't be."""

class PatternWorked(Worked):
    length_change: float
    # mm: Longer than the pattern
    length: float
    # mm: Length to cut, on the line
    pitch_change: float
    # deg: Steeper than the pattern
    plumb_cut_from_square: float
    # deg: Plumb cut, from square
    seat_cut_from_square: float
    # deg: Seat cut, from square
    run: float
    # mm: Plate's edge to ridge's face
    run_change: float
    # mm: That run, longer than the list's
    head_height: float
    # mm: Top at the ridge over plate
    turned: float
    # deg: Lay steeper than it was cut

def pattern(
    *,
    length: float,
    # mm: of the list: corner of the birdsmouth to the head's cut, along the line
    pitch: float,
    # degrees: of the list: plumb cut, from square
    section: Section = ...,
    # mm: thickness x depth
    birdsmouth: float = ...,
    # its depth, as a fraction of the rafter's
    gap_top: float = ...,
    # mm: gap at the ridge, level, at the cut's top
    gap_bottom: float = ...,
    # mm: gap at the ridge, level, at the cut's bottom
    heel: float = ...,
    # mm: gap at the heel: birdsmouth off the plate, head on the ridge
    cut_length: float = ...,
    # mm: its own length, if it wasn't cut to the list's
    cut_pitch: float = ...,
    # degrees: its own plumb cut, if it wasn't cut to the list's
) -> PatternWorked:
    """A pattern rafter tried in place: corrected length and cuts. Raises Refusal of figures that are missing, unknown or can't be."""

class HipWorked(Worked):
    plan_angle_1: float
    # deg: Plan angle to plate 1
    plan_angle_2: float
    # deg: Plan angle to plate 2
    hip_pitch: float
    # deg: Pitch of the hip
    run: float
    # mm: Level run of the hip
    rise: float
    # mm: Rise of the measuring line
    length_on_line: float
    # mm: Length to ridge centre or table
    ridge_deduction: float
    # mm: Deduct for half the ridge
    plumb_cut_from_square: float
    # deg: Plumb cut, from square
    seat_cut_from_square: float
    # deg: Seat cut, from square
    edge_bevel_1_from_square: float
    # deg: Edge bevel 1, from square
    edge_bevel_2_from_square: float
    # deg: Edge bevel 2, from square
    saw_tilt_1: float
    # deg: Saw tilt 1 (cutting on the plumb line)
    saw_tilt_2: float
    # deg: Saw tilt 2 (cutting on the plumb line)
    backing_1: float
    # deg: Backing on side 1
    backing_2: float
    # deg: Backing on side 2
    dihedral: float
    # deg: Angle between slopes, inside
    drop_1: float
    # mm: Drop for side 1, plumb
    drop_2: float
    # mm: Drop for side 2, plumb
    height_above_plate: float
    # mm: Seat to top edge, dropped
    birdsmouth_depth: float
    # mm: Birdsmouth, square to edge
    seat_length: float
    # mm: Seat of the birdsmouth
    tail_length: float
    # mm: Tail along the line
    overall_length: float
    # mm: Long point to long point
    order_length: float
    # mm: Stock length to order
    mass: float
    # kg: Weight as cut, C24

def hip(
    *,
    pitch: float,
    # degrees: pitch of side 1, on your left as you look at the corner from outside
    run: float,
    # mm: run of side 1's common, plate's edge to centre of ridge or to table
    corner: float = ...,
    # degrees: inside angle between the plates, on plan
    pitch2: float = ...,
    # degrees: pitch of side 2, on your right; the same as side 1 if left out
    section: Section = ...,
    # mm: thickness x depth
    ridge: float = ...,
    # mm: thickness of the ridge
    ridge_side: int = ...,
    # which side the ridge runs along, 1 or 2
    overhang: float = ...,
    # mm: level, square to plate 1, out to the plumb cut of the tail
    common_height_above_plate: float = ...,
    # mm: seat to top of the commons, plumb, for the seat
    plate: float = ...,
    # mm: width of the wall plates, for the seat
    head: Literal["ridge", "table"] = ...,
    # does its head meet a ridge, or the corner of a table?
    heel: Literal["v", "clipped"] = ...,
    # is it cut to both plates, or square? v if left out
) -> HipWorked:
    """A hip rafter at any corner: lengths, cuts, backing or drop. Raises Refusal of figures that are missing, unknown or can't be."""

class JacksWorked(Worked):
    rows: list[Row]
    # Jacks
    difference: float
    # mm: Difference, each to the next
    edge_bevel_from_square: float
    # deg: Edge bevel, from square
    saw_tilt: float
    # deg: Saw tilt on the plumb line
    plumb_cut_from_square: float
    # deg: Plumb cut, from square
    pairs: int
    # How many of each hand
    smallest_gap: float
    # mm: Smallest gap, the full common with them
    common_at: float
    # mm: Full common's mark, from the corner

def jacks(
    *,
    pitch: float,
    # degrees: pitch of side 1, on your left as you look at the corner from outside
    spacing: float,
    # mm: centre to centre along the plate
    run: float,
    # mm: run of a full common on that side, to the centre of the ridge
    corner: float = ...,
    # degrees: inside angle between the plates, on plan
    pitch2: float = ...,
    # degrees: pitch of side 2, on your right; the same as side 1 if left out
    side: int = ...,
    # which side they are on: 1 on the left from outside, 2 on the right
    first: float = ...,
    # mm: from the corner to the first centre; by set_out if left out
    hip_thickness: float = ...,
    # mm: thickness of the hip or valley
    thickness: float = ...,
    # mm: thickness of the jack
    on: Literal["hip", "valley"] = ...,
    # are they cut against a hip or a valley?
    set_out: Literal["first", "last", "middle", "evened"] = ...,
    # from the corner (first), from the full common (last), from the middle, or evened?
    within: float = ...,
    # mm: how far a bay may be over the spacing before it needs one more
    past: float = ...,
    # mm: of each past the measuring line, tail and plumb cut; for its length over all
) -> JacksWorked:
    """Jack rafters on one side of a hip or valley: lengths and cuts. Raises Refusal of figures that are missing, unknown or can't be."""

class ValleyWorked(Worked):
    plan_angle_1: float
    # deg: Plan angle to plate 1
    plan_angle_2: float
    # deg: Plan angle to plate 2
    hip_pitch: float
    # deg: Pitch of the valley
    run: float
    # mm: Level run of the valley
    rise: float
    # mm: Rise of the measuring line
    length_on_line: float
    # mm: Length to centre of ridge
    ridge_deduction: float
    # mm: Deduct for half the ridge
    plumb_cut_from_square: float
    # deg: Plumb cut, from square
    seat_cut_from_square: float
    # deg: Seat cut, from square
    edge_bevel_1_from_square: float
    # deg: Edge bevel 1, from square
    edge_bevel_2_from_square: float
    # deg: Edge bevel 2, from square
    saw_tilt_1: float
    # deg: Saw tilt 1 (cutting on the plumb line)
    saw_tilt_2: float
    # deg: Saw tilt 2 (cutting on the plumb line)
    backing_1: float
    # deg: Hollow on side 1
    backing_2: float
    # deg: Hollow on side 2
    dihedral: float
    # deg: Angle between slopes, from above
    drop_1: float
    # mm: Arris below slope 1, plumb
    drop_2: float
    # mm: Arris below slope 2, plumb
    height_above_plate: float
    # mm: Seat to top edge, square
    birdsmouth_depth: float
    # mm: Birdsmouth, square to edge
    seat_length: float
    # mm: Seat of the birdsmouth
    tail_length: float
    # mm: Tail along the line
    overall_length: float
    # mm: Long point to long point
    order_length: float
    # mm: Stock length to order
    mass: float
    # kg: Weight as cut, C24
    overall_on_centre: float
    # mm: On its centre, cut to cut
    tail_past_1: float
    # mm: Tail: face 1 further down by
    tail_past_2: float
    # mm: Tail: face 2 further down by
    ridge_bevel_1_from_square: float
    # deg: Head: edge bevel to ridge 1, from square
    ridge_tilt_1: float
    # deg: Head: saw tilt to ridge 1
    ridge_bevel_2_from_square: float
    # deg: Head: edge bevel to ridge 2, from square
    ridge_tilt_2: float
    # deg: Head: saw tilt to ridge 2

def valley(
    *,
    pitch: float,
    # degrees: pitch of side 1, on your left as you look at the corner from outside
    run: float,
    # mm: run of side 1's common, plate's edge to centre of ridge or to table
    corner: float = ...,
    # degrees: angle between the plates at the internal corner, seen from outside
    pitch2: float = ...,
    # degrees: pitch of side 2, on your right; the same as side 1 if left out
    section: Section = ...,
    # mm: thickness x depth
    ridge: float = ...,
    # mm: thickness of the ridge
    ridge_side: int = ...,
    # which side the ridge runs along, 1 or 2
    overhang: float = ...,
    # mm: level, square to plate 1, out to the plumb cut of the tail
    common_height_above_plate: float = ...,
    # mm: seat to top of the commons, plumb, for the seat
) -> ValleyWorked:
    """A valley rafter at any internal corner: lengths, cuts, hollow. Raises Refusal of figures that are missing, unknown or can't be."""

class LaidValleyWorked(Worked):
    plan_angle: float
    # deg: Plan angle to the main plate
    slope_angle: float
    # deg: On the main slope, from level
    length_on_line: float
    # mm: Plates' corner to the wing's ridge
    tail_length: float
    # mm: Tail along the line
    head_bevel_from_square: float
    # deg: Board's head, from square
    foot_bevel_from_square: float
    # deg: Board's foot, from square
    outer_edge: float
    # mm: Board's edge on the line
    inner_edge: float
    # mm: Its other edge
    overall_length: float
    # mm: Long point to long point
    toe_back: float
    # mm: Jacks' toes, in from the line
    board_least: float
    # mm: Width that bears a whole foot
    jack_off: float
    # mm: Off each jack's length to the line
    foot_cut_from_square: float
    # deg: Jack's foot on its side, from square
    foot_edge_from_square: float
    # deg: Jack's foot on its edge, from square
    foot_saw_tilt: float
    # deg: Saw tilt on the side's line
    foot_length: float
    # mm: Foot, on the jack's side

def laid_valley(
    *,
    pitch: float,
    # degrees: pitch of the main roof, which the boards lie on
    run: float,
    # mm: run of the wing's common, plate's edge to centre of ridge
    corner: float = ...,
    # degrees: angle between the plates at the internal corner, seen from outside
    pitch2: float = ...,
    # degrees: pitch of the wing; the same as the main if left out
    board: Section = ...,
    # mm: boards, thickness x width
    section: Section = ...,
    # mm: the wing's rafters, thickness x depth
    overhang: float = ...,
    # mm: level, square to the wing's plate, out to the end of the boards
) -> LaidValleyWorked:
    """A valley laid on boards: the boards, and the jacks' feet on them. Raises Refusal of figures that are missing, unknown or can't be."""

class PurlinWorked(Worked):
    edge_bevel_from_square: float
    # deg: Edge bevel, from square
    face_bevel_from_square: float
    # deg: Face bevel, from square
    saw_tilt_on_face: float
    # deg: Saw tilt (cutting on the face mark)

def purlin(
    *,
    pitch: float,
    # degrees: pitch of side 1, on your left as you look at the corner from outside
    corner: float = ...,
    # degrees: inside angle between the plates, on plan
    pitch2: float = ...,
    # degrees: pitch of side 2, on your right; the same as side 1 if left out
    side: int = ...,
    # which side the purlin is on: 1 on the left from outside, 2 on the right
) -> PurlinWorked:
    """A purlin cut to a hip at any corner: edge and face bevels. Raises Refusal of figures that are missing, unknown or can't be."""

class SticksWorked(Worked):
    overall_length: float
    # mm: Long point to long point
    overall_on_centre: float
    # mm: On its centre, cut to cut
    plumb_cut_from_square: float
    # deg: Plumb or face cut, from square
    plumb_in_100: float
    # That cut, back in 100 across
    seat_cut_from_square: float
    # deg: Seat or foot cut, from square
    head_bevel_1_from_square: float
    # deg: Head: edge bevel 1, from square
    head_tilt_1: float
    # deg: Head: saw tilt 1 on the plumb line
    head_bevel_2_from_square: float
    # deg: Head: edge bevel 2, from square
    head_tilt_2: float
    # deg: Head: saw tilt 2 on the plumb line
    tail_bevel_1_from_square: float
    # deg: Tail: edge bevel 1, from square
    tail_tilt_1: float
    # deg: Tail: saw tilt 1 on the plumb line
    tail_bevel_2_from_square: float
    # deg: Tail: edge bevel 2, from square
    tail_tilt_2: float
    # deg: Tail: saw tilt 2 on the plumb line
    backing_1: float
    # deg: Backing, or a valley's hollow, side 1
    backing_2: float
    # deg: Backing, or a valley's hollow, side 2
    drop_1: float
    # mm: Arris off its slope, side 1, plumb
    drop_2: float
    # mm: Arris off its slope, side 2, plumb
    rows: list[Row]
    # Marks, in the order you mark them
    jacks: Any
    # Jacks' centres on the hip's top edge

def sticks(
    *,
    pitch: float = ...,
    # degrees: pitch, of side 1 at a corner
    run: float = ...,
    # mm: of the common, plate's edge to centre of ridge or table
    ridge: float = ...,
    # mm: thickness of the ridge
    section: Section = ...,
    # mm: thickness x depth; 47x150, a hip or valley 47x225
    overhang: float = ...,
    # mm: level, square to its plate, out to the plumb cut of the tail
    birdsmouth: float = ...,
    # its depth, as a fraction of the rafter's
    plate: float = ...,
    # mm: width of the wall plate; a birdsmouth's seat is cut no longer
    tied: Literal["yes", "joists", "ties", "no", "not told"] = ...,
    # what ties the eaves at every pair?
    common_height_above_plate: float = ...,
    # mm: seat to top of the commons, plumb; from the birdsmouth if left out
    corner: float = ...,
    # degrees: angle between the plates, on plan
    pitch2: float = ...,
    # degrees: pitch of side 2; the same as side 1 if left out
    ridge_side: int = ...,
    # which side the ridge runs along, 1 or 2
    head: Literal["pointed", "hollow", "square"] = ...,
    # of a hip: pointed at a ridge, hollow at a table, or square?
    heel: Literal["v", "clipped"] = ...,
    # of a hip: cut to both plates, or square?
    top: Literal["dropped", "backed"] = ...,
    # of a hip: dropped, or backed?
    side: int = ...,
    # which side of the corner: 1 on the left from outside, 2 on the right
    at: float = ...,
    # mm: of a jack or cripple: its centre, along the plate from the corner
    jacks: Sequence[float] = ...,
    # mm: of a hip: centres of its jacks along plate 1, from the corner
    jacks2: Sequence[float] = ...,
    # mm: the same along plate 2; as plate 1 if left out
    hip_thickness: float = ...,
    # mm: thickness of the hip or valley it meets
    on: Literal["hip", "valley", "laid"] = ...,
    # is the jack cut against a hip, a valley or the board of a laid valley?
    board: float = ...,
    # mm: thickness of the board of a laid valley
    between: float = ...,
    # mm: of a cripple: along the plate, the hip's corner to the valley's
    length: float = ...,
    # mm: of a timber without a plate, over all
    head_cut: float = ...,
    # degrees: of a straight timber: across the face, from square
    tail_cut: float = ...,
    # degrees: the same at its tail
    ends: Literal["same", "towards"] = ...,
    # of a straight timber: do its two cuts lean one way, or towards each other?
    bevel: float = ...,
    # degrees: across its thickness at the head, from square
    tail_bevel: float = ...,
    # degrees: of a rafter: across its thickness at the tail, from square
    hand: Literal["left", "right"] = ...,
    # of a rafter: its long face, seen from its foot
    head_hand: Literal["left", "right"] = ...,
    # the side its head's long point is on; as its long face if left out
    tail_hand: Literal["left", "right"] = ...,
    # the side its foot's long point is on; as its long face if left out
    foot: Literal["plate", "plumb", "board"] = ...,
    # of a rafter: foot on a plate, plumb, or on a board?
    head_on: Literal["hip", "valley", "square"] = ...,
    # a purlin's head is cut to
    tail_on: Literal["hip", "valley", "square"] = ...,
    # a purlin's tail is cut to
    long_edge: Literal["top", "bottom", "across"] = ...,
    # of a strut or collar: edge its long points are on; across: its head's on top, its tail's on the bottom
    marks: Sequence[float] = ...,
    # mm: of a ridge: centres of its commons from the head
    thin: float = ...,
    # mm: of a firring: its thin end
    thick: float = ...,
    # mm: of a firring: its thick end, at its long point
    radius: float = ...,
    # mm: of a rib: radius of its outside edge
    rib_depth: float = ...,
    # mm: of a rib: how deep it is
    arc: float = ...,
    # degrees: of a rib: the angle of one segment
    ratio: float = ...,
    # of a scarf: its length over its depth
    wedge: float = ...,
    # mm: of a scarf: the gap for the wedges, along
    left: float = ...,
    # mm: of a firring: its thin end to its cut, on its left arris
    middle: float = ...,
    # mm: the same on its centre
    right: float = ...,
    # mm: the same on its right arris
    turn_across: float = ...,
    # mm: where that cut changes direction: across from its centre, plus to the right
    turn_along: float = ...,
    # mm: and how far from its thin end
    bevel2: float = ...,
    # degrees: of that cut next to the right arris, where bevel is for the left
    point_back: float = ...,
    # mm: of a diagonal: its thin end's arrises behind its tip
    kind: Literal["common", "hip", "jack", "valley", "valley-board", "cripple", "rafter", "straight", "ridge", "purlin", "strut", "collar", "firring", "rib", "scarf"] = ...,
    # what is it?
    zero: Literal["head", "tail"] = ...,
    # does the tape hook at the head or the tail?
    nick: float = ...,
    # mm: how far outside that end it hooks
) -> SticksWorked:
    """Running sizes of one timber on the bench, from where the tape hooks. Raises Refusal of figures that are missing, unknown or can't be."""

class RoofWorked(Worked):
    ridge_p: Row
    # mm: End P of the ridge
    ridge_q: Row
    # mm: End Q of the ridge
    ridge_along: str
    # Slopes that meet at the ridge
    ridge_length: float
    # mm: Ridge, centre to centre
    ridge_fall: float
    # mm: Ridge falls, end to end
    hips: list[Row]
    # Hips
    slopes: list[Row]
    # Slopes
    feet: list[Row]
    # Plumb below the ends of the ridge
    choice_height: float
    # mm: True or level: difference in height
    choice_length: float
    # mm: True or level: difference in a length
    choice_pitch: float
    # deg: True or level: difference in a pitch

def roof(
    *,
    ab: float = ...,
    # mm: plate AB, outside
    bc: float = ...,
    # mm: plate BC, outside
    cd: float = ...,
    # mm: plate CD, outside
    da: float = ...,
    # mm: plate DA, outside
    ac: float = ...,
    # mm: diagonal AC
    bd: float = ...,
    # mm: diagonal BD
    length: float = ...,
    # mm: length of AB, if the plates are square; in place of the six lengths
    width: float = ...,
    # mm: length of BC, if the plates are square
    pitch: float = ...,
    # degrees: pitch of every slope without one of its own
    pitch_ab: float = ...,
    # degrees: pitch of the slope over AB
    pitch_bc: float = ...,
    # degrees: pitch of the slope over BC
    pitch_cd: float = ...,
    # degrees: pitch of the slope over CD
    pitch_da: float = ...,
    # degrees: pitch of the slope over DA
    keep: Literal["pitch", "ridge"] = ...,
    # keep the pitches true, or keep the ridge level
) -> RoofWorked:
    """A hipped roof over four plates as measured: ridge, hips, commons. Raises Refusal of figures that are missing, unknown or can't be."""

class SurfaceWorked(Worked):
    plan_area: float
    # m2: Area on plan
    area: float
    # m2: Area of the slopes
    volume: float
    # m3: Volume under it
    points: list[Row]
    # Points
    slopes: list[Row]
    # Slopes
    lines: list[Row]
    # Lines
    sheds: list[Row]
    # Slopes that drain on to others
    short_lines: list[Row]
    # Short lines, and how to lose them
    lengths: list[Row]
    # Taped lengths
    rafters: list[Row]
    # Rafters
    cuts: list[Row]
    # Cuts of the rafters
    purlins: list[Row]
    # Purlins
    struts: list[Row]
    # Struts
    collars: list[Row]
    # Collars
    covering: list[Row]
    # Covering

def surface(
    *,
    plan: str,
    # points, then blocks of walls, as A 0,0; B 9000,0; main AB 40, BC gable
    ties: Sequence[Tie] = ...,
    # mm: taped lengths between points, to fit the plan to
    tape: Literal["I", "II", "III"] = ...,
    # class of the tape
    spacing: float = ...,
    # mm: rafters, centre to centre; none if left out
    origin: str = ...,
    # corner that the spacing starts from; each wall's first if left out
    set_out: Literal["first", "last", "middle", "evened", "pairs"] = ...,
    # on each slope: from its first end, its last, its middle, evened, or jacks in pairs?
    laid: str = ...,
    # blocks laid on the others: their valleys are boards
    board: float = ...,
    # mm: thickness of the boards of laid valleys
    openings: str = ...,
    # openings: AB 3000,1000 900x1200; ...
    section: Section = ...,
    # mm: rafters, thickness x depth
    hip_section: Section = ...,
    # mm: hips and valleys, thickness x depth
    ridge: float = ...,
    # mm: thickness of the ridge
    purlins: Sequence[float] = ...,
    # mm: heights of purlins over the datum
    collars: Sequence[float] = ...,
    # mm: heights of collars over the datum
    struts: float = ...,
    # mm: struts along a purlin, the most; none if left out
    strut_head: float = ...,
    # mm: plumb from the measuring line to the heads of struts
    strut_foot: float = ...,
    # mm: height over the datum of what struts stand on
    strut_in: float = ...,
    # mm: level, plate line to the middle of struts' feet; plumb if left out
    overhang: float = ...,
    # mm: covering past the plates at the eaves, level
    verge: float = ...,
    # mm: covering past the gables
    gauge: float = ...,
    # mm: gauge of the courses; none if left out
    cover_width: float = ...,
    # mm: cover width of one slate or tile
    unit_mass: float = ...,
    # kg: weight of one slate or tile
) -> SurfaceWorked:
    """Any roof over any plan: slopes, lines, rafters, covering. Raises Refusal of figures that are missing, unknown or can't be."""

class BuildingWorked(Worked):
    plan_area: float
    # m2: Area on plan
    area: float
    # m2: Area of the slopes
    volume: float
    # m3: Volume under it
    misclosure: float | None
    # mm: Worst taped length: out by
    least_pitch: float
    # deg: Flattest slope
    span: float
    # mm: Widest span
    longest_slope: float
    # mm: Longest slope, top to tail
    covered: float
    # m2: Area of the slopes with overhangs
    longest_plate: float
    # mm: Longest plate
    longest_hip: float
    # mm: Longest hip, tail to top
    round: str
    # Corners and middles, in order
    hip_feet: int
    # Hips off the plates
    gables: int
    # Gables, whole or under a half-hip
    purlin_rows: int
    # Rows of purlins
    collar_rows: int
    # Rows of collars
    sides: list[Row]
    # Sides and ties to tape
    blocks: list[Row]
    # Blocks
    named_slopes: list[Row]
    # Slopes by name
    named_lines: list[Row]
    # Hips, valleys and ridges by name
    edges: list[Row]
    # Verges and abutments by name
    slope_rafters: list[Row]
    # Rafters of one slope
    slope_purlins: list[Row]
    # Purlins of one slope, piece by piece
    slope_struts: list[Row]
    # Struts of one slope
    cut_collars: list[Row]
    # Collars, each as it is cut
    points: list[Row]
    # Points
    slopes: list[Row]
    # Slopes
    lines: list[Row]
    # Lines
    sheds: list[Row]
    # Slopes that drain on to others
    lengths: list[Row]
    # Taped lengths
    rafters: list[Row]
    # Rafters
    cuts: list[Row]
    # Cuts of the rafters
    purlins: list[Row]
    # Purlins
    struts: list[Row]
    # Struts
    collars: list[Row]
    # Collars
    covering: list[Row]
    # Covering

def building(
    *,
    building: str,
    # main roof and what is built on, as main 9000x6000 40; wing off CD 0 from D 4000x4000 40
    spacing: float = ...,
    # mm: rafters, centre to centre; none if left out
    origin: str = ...,
    # corner that the spacing starts from; each wall's first if left out
    set_out: Literal["first", "last", "middle", "evened", "pairs"] = ...,
    # on each slope: from its first end, its last, its middle, evened, or jacks in pairs?
    laid: str = ...,
    # blocks laid on the others: their valleys are boards
    board: float = ...,
    # mm: thickness of the boards of laid valleys
    openings: str = ...,
    # openings: AB 3000,1000 900x1200; ...
    section: Section = ...,
    # mm: rafters, thickness x depth
    hip_section: Section = ...,
    # mm: hips and valleys, thickness x depth
    ridge: float = ...,
    # mm: thickness of the ridge
    purlins: Sequence[float] = ...,
    # mm: heights of purlins over the datum
    collars: Sequence[float] = ...,
    # mm: heights of collars over the datum
    struts: float = ...,
    # mm: struts along a purlin, the most; none if left out
    strut_head: float = ...,
    # mm: plumb from the measuring line to the heads of struts
    strut_foot: float = ...,
    # mm: height over the datum of what struts stand on
    strut_in: float = ...,
    # mm: level, plate line to the middle of struts' feet; plumb if left out
    overhang: float = ...,
    # mm: covering past the plates at the eaves, level
    verge: float = ...,
    # mm: covering past the gables
    gauge: float = ...,
    # mm: gauge of the courses; none if left out
    cover_width: float = ...,
    # mm: cover width of one slate or tile
    unit_mass: float = ...,
    # kg: weight of one slate or tile
    purlin_section: Section = ...,
    # mm: purlins, thickness x depth
    strut_section: Section = ...,
    # mm: struts, thickness x depth
    seat_to_top: float = ...,
    # mm: seat to top of the rafters, plumb, for struts
    strut_off: float = ...,
    # mm: struts' feet further in than their heads, level; 0 if plumb
    longest: float = ...,
    # mm: longest piece of a purlin; a longer one is spliced
    splice: float = ...,
    # mm: length of a purlin's splice, half of it past the strut each way
    collar_every: int = ...,
    # collars on each pair, each second, each third
    ties: Sequence[Tie] = ...,
    # mm: taped sides and ties, to fit the plates to
    tape: Literal["I", "II", "III"] = ...,
    # class of the tape
    carried: str = ...,
    # lean-tos and dormers as taped, as lean-to left 1798; dormer front 1495
    timber: Literal["rafters", "purlins", "struts", "collars"] = ...,
    # which timbers are listed as they are cut
    slope: str = ...,
    # slope whose timbers are listed, such as slope-ab
    rafter: Literal["common", "hip jack", "valley jack", "cripple", "other"] = ...,
    # which of them
    hand: Literal["any", "left", "right"] = ...,
    # which hand of them
    tried_pitch: float = ...,
    # degrees: pitch to cut them at, as the pattern gave it
    tried_over: float = ...,
    # mm: their run, longer than drawn, as the pattern gave it
) -> BuildingWorked:
    """A cut roof said block by block: plates, lines, slopes, rafters. Raises Refusal of figures that are missing, unknown or can't be."""

class TiesWorked(Worked):
    sides: int
    # Sides to tape
    count: int
    # Ties to tape
    take: list[Row]
    # Lengths to tape
    lengths: list[Row]
    # Taped lengths
    points: list[Row]
    # Points
    misclosure: float
    # mm: Worst length: out by

def ties(
    *,
    plan: str,
    # points, then blocks of walls, as A 0,0; B 9000,0; main AB 40, BC gable
    ties: Sequence[Tie] = ...,
    # mm: taped lengths between points, to fit the plan to
    tape: Literal["I", "II", "III"] = ...,
    # class of the tape
) -> TiesWorked:
    """Which lengths to tape over a plan of any shape, and where its points are. Raises Refusal of figures that are missing, unknown or can't be."""

class RidgeWorked(Worked):
    rise: float
    # mm: Rise of the measuring line
    ridge_length: float
    # mm: Ridge, centre to centre
    allowance: float
    # mm: Added at each hipped end
    cut_length: float
    # mm: Cut length
    order_length: float
    # mm: Stock length to order

def ridge(
    *,
    length: float,
    # mm: length of the plates along the ridge, AB and CD
    width: float,
    # mm: length of the plates across it, BC and DA
    pitch: float = ...,
    # degrees: pitch of every slope without one of its own
    pitch_ab: float = ...,
    # degrees: pitch of the slope over AB
    pitch_bc: float = ...,
    # degrees: pitch of the slope over BC
    pitch_cd: float = ...,
    # degrees: pitch of the slope over CD
    pitch_da: float = ...,
    # degrees: pitch of the slope over DA
    hips: int = ...,
    # how many hipped ends: 2, 1 (over BC) or 0
    thickness: float = ...,
    # mm: thickness of the common rafters
) -> RidgeWorked:
    """The ridge over square plates, hipped or gabled: length and cut length. Raises Refusal of figures that are missing, unknown or can't be."""

class HipFootWorked(Worked):
    plan_angle_1: float
    # deg: Plan angle to plate 1
    plan_angle_2: float
    # deg: Plan angle to plate 2
    hip_pitch: float
    # deg: Pitch of the hip
    bevel_1_from_square: float
    # deg: V: bevel 1 on the top edge
    bevel_2_from_square: float
    # deg: V: bevel 2 on the top edge
    saw_tilt_1: float
    # deg: V: saw tilt 1 on the face
    saw_tilt_2: float
    # deg: V: saw tilt 2 on the face
    v_back_1: float
    # mm: V: arris 1 further up, level
    v_back_2: float
    # mm: V: arris 2 further up, level
    v_back_along_1: float
    # mm: V: arris 1 further up, along
    v_back_along_2: float
    # mm: V: arris 2 further up, along
    clip_back: float
    # mm: Clip: corner to cut, level
    clip_along: float
    # mm: Clip: corner to cut, along
    clip_mark_1: float
    # mm: Clip: mark on plate 1
    clip_mark_2: float
    # mm: Clip: mark on plate 2
    clip_width: float
    # mm: Clip: width of the cut
    height_at_corner: float
    # mm: Seat to top at the corner
    height_at_clip: float
    # mm: Seat to top at the clip
    tail_run: float
    # mm: Tail, level
    tail_along: float
    # mm: Tail, along the hip
    overhang_2: float
    # mm: Overhang of side 2
    dummy_run_2: float
    # mm: Run of side 2's dummy
    dummy_length_1: float
    # mm: Dummy 1, on the line
    dummy_length_2: float
    # mm: Dummy 2, on the line
    dummy_seat_1: float
    # mm: Dummy 1, seat
    dummy_seat_2: float
    # mm: Dummy 2, seat
    string_height: float
    # mm: Strings over the plate
    string_cross_run: float
    # mm: Strings cross, level
    string_cross_length: float
    # mm: Strings cross, along the hip
    dummy_nearest_1: float
    # mm: Nearest dummy on plate 1
    dummy_nearest_2: float
    # mm: Nearest dummy on plate 2

def hip_foot(
    *,
    pitch: float,
    # degrees: pitch of side 1, on your left as you look at the corner from outside
    corner: float = ...,
    # degrees: inside angle between the plates, on plan
    pitch2: float = ...,
    # degrees: pitch of side 2, on your right; the same as side 1 if left out
    thickness: float = ...,
    # mm: thickness of the hip
    common_height_above_plate: float = ...,
    # mm: seat to top of the commons, plumb
    common: Section = ...,
    # mm: of the commons and dummies, thickness x depth
    overhang: float = ...,
    # mm: level, square to plate 1, out to the plumb cut
    dummy_run: float = ...,
    # mm: level run of side 1's dummy rafter
    dummy_thickness: float = ...,
    # mm: thickness of a dummy
) -> HipFootWorked:
    """A hip's foot at the plates' corner: cheeks, clip, dummies, strings. Raises Refusal of figures that are missing, unknown or can't be."""

class FlatTopWorked(Worked):
    rise: float
    # mm: Rise to under the table
    top: list[Row]
    # Table, corner by corner
    sides: list[Row]
    # Table, side by side
    diagonal_ac: float
    # mm: Table, diagonal A to C
    diagonal_bd: float
    # mm: Table, diagonal B to D
    table_height: float
    # mm: Underside of the table, above the floor
    ceiling_height: float
    # mm: Ceiling, above the floor
    stud_top: float
    # mm: Top of the studs, above the floor
    stud_length: float
    # mm: Studs, sole plate to head plate
    elevation: list[Row]
    # Rafter set out on the floor, by side
    heads: list[Row]
    # Hip heads, hollowed over the corner
    clips: list[Row]
    # Or the table's corners clipped
    outline: list[Row]
    # Outline of the table, n as A to D

def flat_top(
    *,
    ab: float = ...,
    # mm: plate AB, outside
    bc: float = ...,
    # mm: plate BC, outside
    cd: float = ...,
    # mm: plate CD, outside
    da: float = ...,
    # mm: plate DA, outside
    ac: float = ...,
    # mm: diagonal AC
    bd: float = ...,
    # mm: diagonal BD
    length: float = ...,
    # mm: length of AB, if the plates are square; in place of the six lengths
    width: float = ...,
    # mm: length of BC, if the plates are square
    pitch: float = ...,
    # degrees: pitch of every slope without one of its own
    pitch_ab: float = ...,
    # degrees: pitch of the slope over AB
    pitch_bc: float = ...,
    # degrees: pitch of the slope over BC
    pitch_cd: float = ...,
    # degrees: pitch of the slope over CD
    pitch_da: float = ...,
    # degrees: pitch of the slope over DA
    rise: float = ...,
    # mm: from the plates' top outer edge up to the underside of the table
    run: float = ...,
    # mm: level, from plate AB in to the table; instead of the rise
    wall_ab: float = ...,
    # mm: wall under the table, in from plate AB
    wall_bc: float = ...,
    # mm: wall under the table, in from plate BC
    wall_cd: float = ...,
    # mm: wall under the table, in from plate CD
    wall_da: float = ...,
    # mm: wall under the table, in from plate DA
    section: Section = ...,
    # mm: section of the rafters, thickness x depth
    birdsmouth: float = ...,
    # its depth, as a fraction of the rafter's
    hip_thickness: float = ...,
    # mm: thickness of the hips
    floor: float = ...,
    # mm: plumb, from the finished floor up to the top of the upper plate
    finish: float = ...,
    # mm: thickness of the floor finish, above the structural floor
    sole: float = ...,
    # mm: thickness of the studs' sole plate
    head_plates: int = ...,
    # plates between studs and table
    plate_thickness: float = ...,
    # mm: of one head plate
    lining: float = ...,
    # mm: total thickness of lining under the table
    wall_lining: float = ...,
    # mm: thickness of board and dabs on the walls under it
    trimmers: int = ...,
    # trimmers side by side at the rafters' heads
    trimmer: float = ...,
    # mm: thickness of one trimmer
    tolerance: float = ...,
    # mm: not used: walls are distances, with no pass or fail
    tape: Literal["I", "II", "III"] = ...,
    # not used: walls have no pass or fail
) -> FlatTopWorked:
    """A hipped roof cut off by a flat: the table and its hips. Raises Refusal of figures that are missing, unknown or can't be."""

class OpeningWorked(Worked):
    slope_length: float
    # mm: Clear up the slope
    cut_out: float
    # mm: Cut out of each rafter
    between_rafters: float
    # mm: Clear between rafters left
    rafters_cut: int
    # Rafters cut
    rafters_added: int
    # Rafters added, both sides
    trimmers: list[Row]
    # Trimmers
    trimmed_rafters: list[Row]
    # Trimmed rafters

def opening(
    *,
    pitch: float,
    # degrees: pitch of the slope the opening is in
    level_width: float,
    # mm: clear between the trimming rafters
    level_depth: float,
    # mm: clear between the trimmers, measured level
    spacing: float,
    # mm: spacing of the rafters, centre to centre
    thickness: float = ...,
    # mm: thickness of a rafter
    trimmer: float = ...,
    # mm: thickness of one trimmer
    doubled: int = ...,
    # trimmers side by side, at head and at foot
    run: float = ...,
    # mm: level, plate's outer edge to the centre of the ridge
    foot: float = ...,
    # mm: level, plate's outer edge to the foot of the opening
) -> OpeningWorked:
    """An opening in a slope: its size, trimmers, rafters cut and added. Raises Refusal of figures that are missing, unknown or can't be."""

class ScarfWorked(Worked):
    joint_length: float
    # mm: Length of the joint
    wedge: float
    # mm: Gap for the wedges, along
    hook: float
    # mm: Gap for the wedges, across
    nib: float
    # mm: Square nib at each end
    splay_from_edge: float
    # deg: Splay, from the timber's edge
    depth_left: float
    # mm: Timber left at the hook
    wedge_thin: float
    # mm: Wedge at its tip
    wedge_at_face: float
    # mm: Wedge at the timber's face
    wedge_thick: float
    # mm: Wedge at its head
    wedge_length: float
    # mm: Length of a wedge
    outline: list[Row]
    # Outline of one half, points in order
    positions: list[Row]
    # Wedge and screws
    screws: list[Row]
    # Screws

def scarf(
    *,
    depth: float,
    # mm: depth of the timber, on the face where the joint shows
    ratio: float = ...,
    # length over depth: 3 over a support; an old book 12, bolted 6
    wedge: float = ...,
    # mm: gap for the pair of wedges, along the splay
    nib: float = ...,
    # square end, as a share of the depth or in mm
    hook: float = ...,
    # step of the splay, as a fraction of the depth
    thickness: float = ...,
    # mm: thickness of the timber, which the wedges are driven across
    taper: float = ...,
    # rise over run: taper of a wedge: 1:12 is common practice
    drive: float = ...,
    # mm: length of a wedge left out to drive, then saw off
    screw: Literal["edge", "splay"] = ...,
    # are the screws square to the edge, or to the splay?
    cover: float = ...,
    # mm: how far a screw's tip is from the far edge
) -> ScarfWorked:
    """A wedged scarf to join two timbers: length, outline, wedge, screws. Raises Refusal of figures that are missing, unknown or can't be."""

class ArcWorked(Worked):
    radius: float
    # mm: radius
    chord: float
    # mm: chord
    rise: float
    # mm: rise
    centre_below_chord: float
    # mm: centre below the chord
    angle: float
    # deg: angle at the centre
    arc_length: float
    # mm: length along the arc
    area: float
    # m2: between arc and chord
    rows: list[Row]
    # heights

def arc(
    *,
    chord: float = ...,
    # mm: level, from end to end
    rise: float = ...,
    # mm: middle of the chord up to the crown
    radius: float = ...,
    # mm: of the circle
    spacing: float = ...,
    # mm: spacing of the heights, out from the middle
    count: int = ...,
    # how many equal spaces along the chord, instead of spacing; 8 if left out
) -> ArcWorked:
    """Radius, length and heights of an arc, from two of chord, rise and radius. Raises Refusal of figures that are missing, unknown or can't be."""

class RibWorked(Worked):
    segment_angle: float
    # deg: largest segment that fits the board
    segments: int
    # segments in a layer
    angle_each: float
    # deg: angle of each segment
    chord_out: float
    # mm: chord of the outside edge
    chord_in: float
    # mm: chord of the inside edge
    mitre_from_square: float
    # deg: mitre at each end, from square
    board_used: float
    # mm: width of board each uses
    layers: int
    # layers with staggered joints
    lap_length: float
    # mm: joints apart, along the outside edge
    pieces: int
    # segments to cut for one rib
    board_length: float
    # m: board for one rib
    pieces_all: int
    # segments to cut for all ribs
    outline: list[Row]
    # one segment on its board

def rib(
    *,
    radius: float,
    # mm: radius of the outside edge
    depth: float,
    # mm: depth of the finished rib
    board: float,
    # mm: width of the board it is cut from
    arc: float = ...,
    # degrees: angle of the whole rib
    lap: float = ...,
    # how far apart the joints of two layers are, as a fraction of a segment
    ribs: int = ...,
    # alike
) -> RibWorked:
    """A curved rib built up from boards: segments, mitre, layers and boards. Raises Refusal of figures that are missing, unknown or can't be."""

class BarrelWorked(Worked):
    semi_axis_across: float
    # mm: half width of the ellipse
    semi_axis_up_slope: float
    # mm: half height of the ellipse, up the slope
    centre_down_slope: float
    # mm: centre of the ellipse, down the slope
    ridge_up_slope: float
    # mm: crown, up the slope
    ridge_back: float
    # mm: crown, level run back to the slope
    line_length: float
    # mm: length of the line
    flat_crown: float
    # mm: crown flatter than 11 degrees
    deck_shift: float
    # mm: line beneath, further up
    deck_shift_level: float
    # mm: line beneath, level back
    off_if_thickness_added: float
    # mm: if the thickness is added: high, - low
    rows: list[Row]
    # outside line
    inner_rows: list[Row]
    # line inside the sheathing
    lower_rows: list[Row]
    # line beneath the main slope's sheet
    ceiling_rows: list[Row]
    # line at the ceiling

def barrel(
    *,
    pitch: float,
    # degrees: pitch of the main slope
    radius: float = ...,
    # mm: outside radius; on its own it means half a circle
    chord: float = ...,
    # mm: outside width at the springing
    rise: float = ...,
    # mm: from the springing up to the crown, outside
    spacing: float = ...,
    # mm: spacing of the points, out from the middle
    sheet: float = ...,
    # mm: total thickness of the sheathing, inside that line
    deck: float = ...,
    # mm: total thickness of the sheet on the main slope
    inside: float = ...,
    # mm: outside to ceiling, square to the curve: sheet, ribs, lining
    below: float = ...,
    # mm: top of the main slope's sheet to what the ceiling meets, square to the slope
) -> BarrelWorked:
    """Where a barrel dormer meets the main slope, point by point. Raises Refusal of figures that are missing, unknown or can't be."""

class EyebrowWorked(Worked):
    crown_radius: float
    # mm: radius of the crown
    wing_radius: float
    # mm: radius of each wing
    tangent_angle: float
    # deg: angle where the arcs meet
    tangent_at: float
    # mm: where they meet, from the left end
    tangent_height: float
    # mm: height where they meet
    curve_length: float
    # mm: length along the curve
    ridge_back: float
    # mm: crown, level run back to the slope
    crown_pitch: float
    # deg: pitch of the crown's rafter
    least_run: float
    # mm: shortest run of it in plain tiles
    flat_crown: float
    # mm: crown flatter than 11 degrees
    deck_shift: float
    # mm: line beneath, further up
    deck_shift_level: float
    # mm: line beneath, level back
    off_if_thickness_added: float
    # mm: if the thickness is added: high, - low
    rows: list[Row]
    # line
    lower_rows: Any
    # line beneath the main slope's sheet
    ceiling_rows: Any
    # line at the ceiling

def eyebrow(
    *,
    width: float,
    # mm: end to end, level
    rise: float,
    # mm: from the ends up to the crown
    split: float = ...,
    # how much of the half width is in the crown arc
    pitch: float = ...,
    # degrees: pitch of the main slope; leave out for heights only
    spacing: float = ...,
    # mm: spacing of the points, out from the middle
    run: float = ...,
    # mm: level run of the crown's rafter, from the face to the main slope
    deck: float = ...,
    # mm: total thickness of the sheet on the main slope
    inside: float = ...,
    # mm: outside to ceiling, square to the curve: sheet, ribs, lining
    below: float = ...,
    # mm: top of the main slope's sheet to what the ceiling meets, square to the slope
) -> EyebrowWorked:
    """An eyebrow dormer: its arcs, and where it meets the main slope. Raises Refusal of figures that are missing, unknown or can't be."""

class OrdinatesWorked(Worked):
    worst: float
    # mm: Worst point off the curve (+ is high)
    station: float
    # mm: Where, from the left end
    worked: float
    # mm: Should be
    uncertainty: float
    # mm: Good to
    rows: list[Row]
    # Points

def ordinates(
    *,
    chord: float,
    # mm: outside, end to end, level
    rise: float,
    # mm: from the ends up to the crown, outside
    spacing: float,
    # mm: spacing of the points, out from the middle
    readings: Sequence[float],
    # mm: one reading at each point, left to right, without the ends
    split: float = ...,
    # for an eyebrow: how much of the half width is in the crown arc
    pitch: float = ...,
    # degrees: pitch of the slope, for readings up it; leave out for plumb heights
    sheet: float = ...,
    # mm: total thickness of sheathing over the line
    tolerance: float = ...,
    # mm: limit allowed; leave out for no pass or fail
    reading: float = ...,
    # mm: how far out one reading may be
) -> OrdinatesWorked:
    """Check a curved head: heights as measured against the true curve. Raises Refusal of figures that are missing, unknown or can't be."""

class SlopeMarksWorked(Worked):
    rafters: int
    # Rafters it crosses
    highest: float
    # mm: Highest mark, up the slope
    crown_up: float
    # mm: Crown, up the slope
    steepest_bevel_from_square: float
    # deg: Steepest across a rafter, from square
    rafter_zero: float
    # mm: Take off if taped from springing
    off_if_thickness_added: float
    # mm: if the thickness is added: high, - low
    face_cut_from_square: float
    # deg: Down the sides of a rafter
    rows: list[Row]
    # Marks, up the slope

def slope_marks(
    *,
    chord: float,
    # mm: outside, end to end, level
    rise: float,
    # mm: from the ends up to the crown, outside
    pitch: float,
    # degrees: pitch of the main slope
    first: float,
    # mm: level, from the left end to the first rafter's centre
    spacing: float,
    # mm: spacing of the rafters, centre to centre
    split: float = ...,
    # for an eyebrow: how much of the half width is in the crown arc
    sheet: float = ...,
    # mm: total thickness of sheathing over the line
    thickness: float = ...,
    # mm: thickness of a rafter
    deck: float = ...,
    # mm: total thickness of the sheet on the main slope
    rafter: float = ...,
    # mm: depth of the rafters, for marks on the bottom edges
) -> SlopeMarksWorked:
    """Mark a dormer's line on both edges of each main rafter. Raises Refusal of figures that are missing, unknown or can't be."""

class FormersWorked(Worked):
    bearer_radius: float
    # mm: Radius over the bearers
    former_radius: float
    # mm: Radius of the former's edge
    inside_radius: float
    # mm: Radius of its inside edge
    ceiling_radius: float
    # mm: Radius of the ceiling
    ceiling_width: float
    # mm: Ceiling's width at springing
    ceiling_height: float
    # mm: Springing to ceiling's crown
    girth: float
    # mm: Girth over the bearers
    count: int
    # Bearers
    centres: float
    # mm: Centres, along the girth
    former_width: float
    # mm: Former's width at springing
    left_under_slot: float
    # mm: Former left under a slot
    face_area: float
    # m2: Face of one former
    angle: float
    # deg: Whole angle of the former's edge
    segment_angle: float
    # deg: Largest piece that fits the board
    pieces: int
    # Pieces in a layer
    angle_each: float
    # deg: Angle of each piece
    chord_out: float
    # mm: Long points of each piece
    board_used: float
    # mm: Width of board each uses
    joint_mitre_from_square: float
    # deg: Mitre at each joint, from square
    foot_cut_from_joint: float
    # deg: Level foot, from a joint's cut
    bearers: list[Row]
    # Bearers, lengths level
    slots: list[Row]
    # Slots, x from the former's left end
    noggins: list[Row]
    # Noggins, left to right
    joints: list[Row]
    # Joints, x from the former's left end
    outline: list[Row]
    # Round the former, clockwise

def formers(
    *,
    former: float,
    # mm: depth of the former's ring, along the radius
    radius: float = ...,
    # mm: outside radius; on its own it means half a circle
    chord: float = ...,
    # mm: outside width at the springing
    rise: float = ...,
    # mm: from the springing up to the crown, outside
    split: float = ...,
    # not used: an eyebrow is more than one arc
    sheet: float = ...,
    # mm: total thickness of the layers over the bearers
    lining: float = ...,
    # mm: total thickness of the lining under the former, square to it
    board: float = ...,
    # mm: width of board it is cut from; leave out for one whole sheet
    bearer: Section = ...,
    # mm: of a bearer, thickness x depth
    stance: Literal["square", "plumb"] = ...,
    # are the bearers' sides square to the curve, or plumb?
    count: int = ...,
    # how many bearers; or give spacing
    spacing: float = ...,
    # mm: widest centres along the girth; or give count
    end: float = ...,
    # mm: girth from the end of the bearers' curve to the middle of the first; as far out if left out
    slot: float = ...,
    # mm: depth of the slot; the bearer's if left out
    joint: Literal["flush", "proud"] = ...,
    # are bearers flush with the former's edge, or proud of it?
    noggin: float = ...,
    # mm: depth of the noggins; the bearer's if left out
    pitch: float = ...,
    # degrees: pitch of the main slope; leave out for no lengths
    face: float = ...,
    # mm: level, front end of the bearers back to the zero
) -> FormersWorked:
    """A curved dormer on formers: bearers, slots, noggins and the former. Raises Refusal of figures that are missing, unknown or can't be."""

class SoffitWorked(Worked):
    soffit_height: float
    # mm: Springing to ceiling's crown
    soffit_radius: float
    # mm: Radius of the ceiling
    soffit_width: float
    # mm: Ceiling's width at springing
    top_along: float
    # mm: Rafters' tops, up the slope
    top_back: float
    # mm: Rafters' tops, level back
    underside_along: float
    # mm: Undersides, up the slope
    underside_back: float
    # mm: Undersides, level back
    front_level: float
    # mm: Trimmer's front, level from zero
    faces: list[Row]
    # Trimmer on the side of a rafter

def soffit(
    *,
    pitch: float,
    # degrees: pitch of the main slope
    rafter: float,
    # mm: depth of the main rafters
    radius: float = ...,
    # mm: outside radius; on its own it means half a circle
    chord: float = ...,
    # mm: outside width at the springing
    rise: float = ...,
    # mm: from the springing up to the crown, outside
    split: float = ...,
    # not used: an eyebrow is more than one arc
    sheet: float = ...,
    # mm: total thickness of the layers over bearers or ribs
    former: float = ...,
    # mm: depth of the former or bearer, square to the curve
    lining: float = ...,
    # mm: total thickness of the lining under it
    deck: float = ...,
    # mm: total thickness of the sheet on the main slope
    trimmer: float = ...,
    # mm: thickness of one trimmer
    layers: int = ...,
    # trimmers side by side
    stance: Literal["square", "plumb"] = ...,
    # is the trimmer square to the slope, or plumb?
    meet: Literal["underside", "top"] = ...,
    # does the ceiling run through under the trimmer, or start at the rafters' tops?
) -> SoffitWorked:
    """A level ceiling under a curved dormer: where the trimmer goes. Raises Refusal of figures that are missing, unknown or can't be."""

class BulkheadWorked(Worked):
    soffit_height: float
    # mm: Springing to ceiling's crown
    trimmers: list[Row]
    # Trimmers
    hangers: list[Row]
    # Hangers
    head_cut_from_square: float
    # deg: Heads of hangers, from square

def bulkhead(
    *,
    pitch: float,
    # degrees: pitch of the main slope
    rafter: float,
    # mm: depth of the main rafters
    radius: float = ...,
    # mm: outside radius; on its own it means half a circle
    chord: float = ...,
    # mm: outside width at the springing
    rise: float = ...,
    # mm: from the springing up to the crown, outside
    split: float = ...,
    # not used: an eyebrow is more than one arc
    sheet: float = ...,
    # mm: total thickness of the layers over bearers or ribs
    former: float = ...,
    # mm: depth of the former or bearer, square to the curve
    lining: float = ...,
    # mm: total thickness of the lining under it
    deck: float = ...,
    # mm: total thickness of the sheet on the main slope
    trimmer: float = ...,
    # mm: thickness of one trimmer
    layers: int = ...,
    # trimmers side by side
    steps: int = ...,
    # steps of equal height, the crown's trimmer first
    heights: Sequence[float] = ...,
    # mm: springing to the underside of each, from the crown down; instead of steps
    spacing: float = ...,
    # mm: spacing of the hangers, out from the middle
) -> BulkheadWorked:
    """A bulkhead round a curved ceiling: stepped trimmers and hangers. Raises Refusal of figures that are missing, unknown or can't be."""

class SheetBendWorked(Worked):
    minimum_radius: float
    # mm: smallest radius for one sheet
    layers: int
    # layers that bend round
    layer_thickness: float
    # mm: thickness of each layer
    layer_minimum_radius: float
    # mm: smallest radius for a layer
    source: str
    # source

def sheet_bend(
    *,
    radius: float,
    # mm: radius of the face it is bent on
    thickness: float,
    # mm: thickness of the finished sheathing
    grain: Literal["across", "along"] = ...,
    # bent across the face grain (grain along the barrel), or along it
) -> SheetBendWorked:
    """Bend plywood round a curve: in one sheet or in layers. Raises Refusal of figures that are missing, unknown or can't be."""

class VentilationWorked(Worked):
    eaves_gap: float
    # mm: gap along each eaves or edge
    eaves_area: float
    # m2: free area, each eaves
    high_gap: float
    # mm: gap at high level
    high_area: float
    # m2: free area, high level
    air_space: float
    # mm: clear air space
    sources: list[Row]
    # where each figure comes from

def ventilation(
    *,
    kind: Literal["cold-pitched", "cold-flat"],
    # cold pitched or cold flat roof
    span: float,
    # mm: level span: plate to plate if pitched, edge to edge if flat
    pitch: float = ...,
    # degrees: pitch of the slope (pitched roofs)
    length: float = ...,
    # mm: length of one eaves; 1 m if left out
    shape: Literal["duo-pitch", "mono-pitch"] = ...,
    # pitched roof: two slopes, or one up to a wall or top edge
    insulation: Literal["ceiling", "rafters"] = ...,
    # pitched roof: insulation level at the ceiling, or along the rafters
) -> VentilationWorked:
    """Ventilation gaps and clear air space of a cold roof. Raises Refusal of figures that are missing, unknown or can't be."""

class FirringsWorked(Worked):
    thick_end: float
    # mm: thickness at the high end
    thin_end: float
    # mm: thickness at the low end
    count: int
    # how many firrings
    rows: list[Row]
    # firrings from the low end

def firrings(
    *,
    span: float,
    # mm: level, from the high end down to the low end
    fall: float,
    # rise over run: such as 1:60
    thin: float,
    # mm: thickness at the low end
    kind: Literal["design", "finished"] = ...,
    # is that the fall as drawn and cut, or as finished?
    spacing: float = ...,
    # mm: spacing of the joists, or of firrings across them
    laid: Literal["along", "across"] = ...,
    # firrings along the joists or across them
    length: float = ...,
    # mm: length of the deck, level, across the fall
    joist: float = ...,
    # mm: thickness of the joists, if laid along them
    clear: float = ...,
    # mm: gap from each end of the deck to the face of the nearest joist
) -> FirringsWorked:
    """Firrings for a deck with one fall, along or across the joists. Raises Refusal of figures that are missing, unknown or can't be."""

class HippedFallsWorked(Worked):
    centre_height: float
    # mm: thickness at its highest
    ridge_length: float
    # mm: ridge in the middle (no timber on it)
    ridge_p_x: float
    # mm: ridge end P, X
    ridge_p_y: float
    # mm: ridge end P, Y
    ridge_p_height: float
    # mm: thickness at P
    ridge_q_x: float
    # mm: ridge end Q, X
    ridge_q_y: float
    # mm: ridge end Q, Y
    ridge_q_height: float
    # mm: thickness at Q
    diagonal: float
    # mm: diagonal firring at A, on plan
    diagonal_length: float
    # mm: diagonal firring at A, along its top
    diagonal_thin_end: float
    # mm: thickness of it at the corner
    diagonal_thick_end: float
    # mm: thickness of it at the ridge
    diagonal_backing: float
    # deg: bevel on its top, each side
    diagonal_drop: float
    # mm: or lower it, if left square
    diagonals: list[Row]
    # diagonal firrings
    count: int
    # firrings square to the edges
    rows: list[Row]
    # firrings square to the edges
    nest_pairs: int
    # pairs cut head to foot from one length
    nest_singles: int
    # firrings cut alone from a length
    nests: list[Row]
    # pairs, by number

def hipped_falls(
    *,
    fall: float,
    # rise over run: such as 1:60
    thin: float,
    # mm: thickness at the low end
    length: float = ...,
    # mm: length of AB, level, if the deck is square; in place of the six lengths
    width: float = ...,
    # mm: length of BC, level, if the deck is square
    ab: float = ...,
    # mm: edge AB, level
    bc: float = ...,
    # mm: edge BC, level
    cd: float = ...,
    # mm: edge CD, level
    da: float = ...,
    # mm: edge DA, level
    ac: float = ...,
    # mm: diagonal AC, level
    bd: float = ...,
    # mm: diagonal BD, level
    kind: Literal["design", "finished"] = ...,
    # is that the fall as drawn and cut, or as finished?
    spacing: float = ...,
    # mm: spacing of the firrings along each edge
    joist: float = ...,
    # mm: thickness of joists and firrings
    diagonal_thickness: float = ...,
    # mm: thickness of the diagonals; the same as joist if left out
    stick: Section = ...,
    # mm: section of the timber they are ripped from
    kerf: float = ...,
    # mm: width of the saw's cut
) -> HippedFallsWorked:
    """Firrings of a deck that falls to all four edges. Raises Refusal of figures that are missing, unknown or can't be."""

class GutterWorked(Worked):
    bays: int
    # bays between drips
    bay_length: float
    # mm: length of each bay
    drip: float
    # mm: height of each step
    rise: float
    # mm: rise of the sole, outlet to head
    depth_head: float
    # mm: depth at the head
    depth_outlet: float
    # mm: depth at the outlet
    levels: list[Row]
    # levels of the sole above the outlet
    water_depth: float
    # mm: design depth of water
    capacity: float
    # l/s: capacity
    flow: float
    # l/s: flow off the roof

def gutter(
    *,
    length: float,
    # mm: level, from head to outlet
    fall: float,
    # rise over run: such as 1:60
    metal: Literal["lead", "copper", "lead-code-4", "lead-code-5", "lead-code-6", "lead-code-7", "lead-code-8", "copper-06", "copper-07", "copper-long-strip"],
    # lead (give code) or copper (give thickness)
    sole: float,
    # mm: clear width of the sole
    code: int = ...,
    # code of lead, 4 to 8
    thickness: float = ...,
    # mm: thickness of copper, 0.6 if left out
    drip: float = ...,
    # mm: height of each step; 50 in lead, 65 in copper
    depth: float = ...,
    # mm: from the sole up to the lowest upstand, at the head
    roof_area: float = ...,
    # m2: length x (plan width + half the rise)
    bend: float = ...,
    # mm: from the outlet to the nearest bend; 0 if none
    rainfall: float = ...,
    # l/s/m2: l/s per m2; 0.042 is 150 mm per hour
) -> GutterWorked:
    """Box or parapet gutter: steps, depths and how much it carries. Raises Refusal of figures that are missing, unknown or can't be."""

class HeadlapWorked(Worked):
    least_pitch: float
    # deg: minimum pitch
    least_headlap: float
    # mm: minimum headlap
    largest_gauge: float
    # mm: maximum gauge with that headlap
    tables: list[Row]
    # what each table gives

def headlap(
    *,
    covering: Literal["slates", "plain-tiles", "single-lap", "other"],
    # slates, plain tiles, single-lap tiles, or another by its maker
    pitch: float,
    # degrees: of the rafters
    exposure: Literal["sheltered", "moderate", "severe", "very-severe"],
    # driving rain at the site
    unit_length: float = ...,
    # mm: of the slate or tile
    unit_width: float = ...,
    # mm: of a slate
    least: float = ...,
    # degrees: minimum pitch on the tile's data sheet
    least_lap: float = ...,
    # mm: headlap given with it
    low: float = ...,
    # degrees: lower pitch given for a longer headlap
    low_lap: float = ...,
    # mm: that longer headlap
    headlap: float = ...,
    # mm: to lay
    gauge: float = ...,
    # mm: to lay
    rafter: float = ...,
    # mm: length of the slope
    who: str = ...,
    # maker's document that says otherwise
) -> HeadlapWorked:
    """Minimum pitch, headlap and maximum gauge of slates and tiles, by exposure. Raises Refusal of figures that are missing, unknown or can't be."""

class GaugeWorked(Worked):
    courses: int
    # courses, batten to batten
    gauge: float
    # mm: gauge, the same for every course
    largest_gauge: float
    # mm: largest gauge allowed
    resulting_lap: float
    # mm: headlap at this gauge
    marks: list[Row]
    # mm: batten top edges from eaves

def gauge(
    *,
    slope: float,
    # mm: up the slope, from the first batten (from the eaves edge if you give hang)
    max_gauge: float = ...,
    # mm: largest gauge allowed
    unit_length: float = ...,
    # mm: length of the tile or slate
    headlap: float = ...,
    # mm: smallest headlap
    lap: Literal["single", "double"] = ...,
    # single or double lap; double (slates, plain tiles) if left out with a headlap
    hang: float = ...,
    # mm: from the tail of a slate or tile up to the top edge of its batten
    eaves: float = ...,
    # mm: overhang of the tail past the eaves edge, up the slope
    top: float = ...,
    # mm: top batten, down from the top of the slope (trial: 30 below the apex)
    min_gauge: float = ...,
    # mm: smallest gauge allowed
) -> GaugeWorked:
    """Set out equal courses up a slope. Raises Refusal of figures that are missing, unknown or can't be."""

class CoverWorked(Worked):
    area: float
    # m2: area on the slope
    per_m2: float
    # tiles or slates per m2
    units_on_roof: int
    # tiles or slates on the roof
    units: int
    # tiles or slates to order
    batten_run: float
    # m: length of batten
    mass: float
    # kg: weight of the covering
    mass_per_m2: float
    # weight, kg per m2 of slope
    mass_change_percent: float
    # over the design weight, %

def cover(
    *,
    gauge: float,
    # mm: batten gauge
    cover_width: float,
    # mm: width one slate or tile covers
    area: float = ...,
    # m2: area of all slopes, on the slope
    length: float = ...,
    # mm: length along the eaves
    slope: float = ...,
    # mm: length up the slope
    waste: float = ...,
    # waste for cutting and breakage, as a fraction
    unit_mass: float = ...,
    # kg: weight of one slate or tile
    mass_per_m2: float = ...,
    # kg/m2: weight of the covering
    design_mass: float = ...,
    # kg/m2: weight the roof was designed for
) -> CoverWorked:
    """Tiles or slates for a slope, length of batten, and the weight on the roof. Raises Refusal of figures that are missing, unknown or can't be."""

class LoadChangeWorked(Worked):
    mass_change: float
    # kg/m2: over the design weight
    mass_change_percent: float
    # over the design weight, %

def load_change(
    *,
    mass: float,
    # kg/m2: weight of the covering
    design_mass: float,
    # kg/m2: weight in the design
) -> LoadChangeWorked:
    """How much heavier or lighter a covering is than the roof was designed for. Raises Refusal of figures that are missing, unknown or can't be."""

class MetalBaysWorked(Worked):
    bays: int
    # bays along the length
    bay_length: float
    # mm: length of each bay
    widths: int
    # bays across
    bay_girth: float
    # mm: width or girth of each
    largest_length: float
    # mm: longest bay allowed
    largest_girth: float
    # mm: widest bay allowed
    movement: float
    # mm: movement along a bay
    lap: float
    # mm: lap across the fall
    pieces: int
    # pieces
    mass_each: float
    # kg: weight of a piece, net
    mass_all: float
    # kg: weight of all, net
    sources: list[Row]
    # where each figure comes from

def metal_bays(
    *,
    metal: Literal["lead", "copper", "lead-code-4", "lead-code-5", "lead-code-6", "lead-code-7", "lead-code-8", "copper-06", "copper-07", "copper-long-strip"],
    # lead (give code) or copper (give thickness)
    use: Literal["flat", "pitched", "gutter", "cladding"],
    # where it goes
    length: float,
    # mm: length to cover, down the fall or down the wall
    girth: float,
    # mm: width to cover, across; for a gutter, sole and both sides
    code: int = ...,
    # code of lead, 4 to 8
    thickness: float = ...,
    # mm: thickness of copper, 0.6 if left out
    temperature_range: float = ...,
    # K: from the metal's coldest to its hottest
    pitch: float = ...,
    # degrees: pitch, if it is a pitched roof
) -> MetalBaysWorked:
    """Bays of lead or copper: sizes, movement and weight. Raises Refusal of figures that are missing, unknown or can't be."""

class GrpDeckWorked(Worked):
    area: float
    # m2: area of the deck
    sheets: int
    # boards to open
    sheet_mass: float
    # kg: weight of a board, dry
    rows: list[Row]
    # rows of boards
    rules: list[Row]
    # joints and fixings
    questions: list[Row]
    # before resin goes down

def grp_deck(
    *,
    length: float,
    # mm: length of the deck across its joists, along the boards
    width: float,
    # mm: width of the deck, the way its joists run
    fall: float,
    # rise over run: such as 1:60
    kind: Literal["design", "finished"] = ...,
    # is that the fall as drawn and cut, or as finished?
    spacing: float = ...,
    # mm: joist centres
    sheet_length: float = ...,
    # mm: length of a board
    sheet_width: float = ...,
    # mm: width a board covers
) -> GrpDeckWorked:
    """Boards and joints of a GRP deck, its fall, and the checks for the day. Raises Refusal of figures that are missing, unknown or can't be."""

class DeckBoardsWorked(Worked):
    wall_gap: float
    # mm: smallest gap at walls and upstands
    square_gap: float
    # mm: smallest gap between square edges
    edge_centres: float
    # mm: widest centres, edges and ends
    field_centres: float
    # mm: widest centres, away from edges
    fixing_length: float
    # mm: shortest fixing
    sources: list[Row]
    # where each figure comes from

def deck_boards(
    *,
    length: float,
    # mm: of the deck, one side
    width: float,
    # mm: of the deck, the other side
    thickness: float = ...,
    # mm: of the boards
    under: Literal["other", "resin"] = ...,
    # resin for GRP laid in place
) -> DeckBoardsWorked:
    """Gaps and fixings of the boards of a flat deck. Raises Refusal of figures that are missing, unknown or can't be."""

class MassWorked(Worked):
    mass_per_metre: float
    # kg: Weight per metre
    mass_each: float
    # kg: Weight of one piece
    mass_all: float
    # kg: Total weight

def mass(
    *,
    section: Section,
    # mm: thickness x depth
    length: float,
    # mm: length of one piece
    grade: Literal["C16", "C24"] = ...,
    # strength class stamped on it
    density: float = ...,
    # kg/m3: density in kg/m3, instead of the grade's
    count: int = ...,
    # how many pieces
) -> MassWorked:
    """Weight of a timber, and whether one person can lift it. Raises Refusal of figures that are missing, unknown or can't be."""

class LapsWorked(Worked):
    count: int
    # Lengths
    length_each: float
    # mm: Each length
    joints: int
    # Joints

def laps(
    *,
    length: float,
    # mm: length of the whole member, end to end
    lap: float = ...,
    # mm: lap of one length over the next
    longest: float = ...,
    # mm: the longest you have, or can handle
    pieces: int = ...,
    # lengths, at least
) -> LapsWorked:
    """A long member from lapped lengths: how many, and how long. Raises Refusal of figures that are missing, unknown or can't be."""

class StockWorked(Worked):
    from_site: list[Row]
    # use first, from site
    buy: list[Row]
    # to buy
    packs: list[Row]
    # whole packs
    plan: list[Row]
    # cutting plan
    offcuts: list[Row]
    # offcuts to keep
    length_bought: float
    # mm: length bought
    waste_percent: float
    # %: waste
    bound: float
    # mm: shortest total possible
    gap: float
    # %: over the shortest possible
    cost: float | None
    # price: cost at the prices given

def stock(
    *,
    cuts: Sequence[Cut],
    # mm: pieces, as section:length:count
    kerf: float = ...,
    # mm: width of the saw cut
    lengths: Sequence[float] = ...,
    # mm: stock lengths; 1800 to 7200 by 300 if left out
    prices: Sequence[Price] = ...,
    # mm: prices, as section:length:price; it then finds the cheapest
    trim: float = ...,
    # mm: taken off each length first, to square its ends
    usable: float = ...,
    # mm: offcuts this long or longer are kept
    on_site: Sequence[Cut] = ...,
    # mm: sticks and offcuts on site, as section:length:count; they are used first
    sold: Sequence[Cut] = ...,
    # mm: what is sold in packs, as section:length:number in a pack
) -> StockWorked:
    """What timber to buy for a list of cuts, and how to cut each length. Raises Refusal of figures that are missing, unknown or can't be."""

class CornerWorked(Worked):
    angle: float
    # deg: Angle of the corner
    out_of_square: float
    # mm: Shorter side's end, out of square
    across_if_square: float
    # mm: Across, if it were square
    across_off: float
    # mm: Across, longer than that by

def corner(
    *,
    first: float,
    # mm: corner to the end of one side
    second: float,
    # mm: corner to the end of the other side
    across: float,
    # mm: from end to end
) -> CornerWorked:
    """A corner by three lengths: its angle, and how far out of square. Raises Refusal of figures that are missing, unknown or can't be."""
