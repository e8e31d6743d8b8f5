"""The equal pieces that a former is cut in from boards."""

from sitelog.calculators.catalogue import MOST_ROWS, Output, Working
from sitelog.calculators.coverings.coursing import whole
from sitelog.calculators.curves.formers.curve import Curves
from sitelog.calculators.curves.formers.inputs import FormersInputs
from sitelog.quantities.rounding import as_typed
from sitelog.refusal import Refusal

PIECES = (
    Output("angle", "deg", "Whole angle of the former's edge"),
    Output("segment_angle", "deg", "Largest piece that fits the board"),
    Output("pieces", "", "Pieces in a layer"),
    Output("angle_each", "deg", "Angle of each piece"),
    Output("chord_out", "mm", "Long points of each piece"),
    Output("board_used", "mm", "Width of board each uses"),
    Output("joint_mitre_from_square", "deg", "Mitre at each joint, from square"),
    Output("foot_cut_from_joint", "deg", "Level foot, from a joint's cut"),
)


def told_pieces(working: Working, given: FormersInputs, curves: Curves) -> dict[str, float]:
    """PIECES, in mm and degrees; Refusal for a board that no piece fits on, or too many pieces."""
    board = given.board or 0.0
    if board <= given.former:
        raise Refusal(
            f"formers: board is {as_typed(board)}; it must be wider than the former is deep, {as_typed(given.former)}"
        )
    angle = working.note("angle", "turn from end to end of the former's edge", 2 * curves.turn(curves.former), "deg")
    rings = {"former_radius": curves.former, "inside_radius": curves.inside}
    if curves.former - board <= 0:
        largest = working.note("segment_angle", "half a circle fits the board", min(angle, 180.0), "deg")
    else:
        fits = working.step("fits", "2 * acos((former_radius - board) / inside_radius)", "deg", **rings, board=board)
        largest = working.note("segment_angle", "that, or the whole edge", min(fits, angle), "deg")
    count = whole(angle / largest)
    if count > MOST_ROWS:
        raise Refusal(f"formers: board is {as_typed(board)}; that is {count} pieces. Use a wider board")
    working.note("pieces", "rounded up to whole pieces", count, "")
    each = working.step("angle_each", "angle / pieces", "deg", angle=angle, pieces=count)
    chord = working.step(
        "chord_out", "2 * former_radius * sin(angle_each / 2)", former_radius=curves.former, angle_each=each
    )
    used = working.step("board_used", "former_radius - inside_radius * cos(angle_each / 2)", **rings, angle_each=each)
    return {
        "angle": angle,
        "segment_angle": largest,
        "pieces": count,
        "angle_each": each,
        "chord_out": chord,
        "board_used": used,
        "joint_mitre_from_square": working.step("joint_mitre_from_square", "angle_each / 2", "deg", angle_each=each),
        "foot_cut_from_joint": working.step("foot_cut_from_joint", "90 - angle / 2", "deg", angle=angle),
    }
