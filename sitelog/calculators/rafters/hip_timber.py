"""What a hip and a valley as timbers ask and give alike: lengths and cuts, drop, seat, tail, and the stick to buy."""

from msgspec.structs import replace

from sitelog.calculators.catalogue import Input, Output, Working
from sitelog.calculators.rafters.birdsmouth import DEEPEST
from sitelog.calculators.rafters.hip_cuts import CORNER, CUTS, LINE, PITCH, PITCH_2, SIDES, side_of, told_line
from sitelog.calculators.timber.stick import HIP, OUTPUTS, Stick, overall_length, stick
from sitelog.geometry.hip_line import HipLine
from sitelog.geometry.vectors import sin_deg
from sitelog.quantities.quantity import Section
from sitelog.quantities.rounding import as_typed, as_worked, at_least
from sitelog.refusal import Refusal

INPUTS = (
    CORNER,
    PITCH,
    PITCH_2,
    Input("run", "length", "run of side 1's common, plate's edge to centre of ridge or to table", over=0),
    Input("section", "section", "thickness x depth", default=HIP),
    Input("ridge", "length", "thickness of the ridge", default=0),
    Input("ridge_side", "count", "which side the ridge runs along, 1 or 2", default=1),
    Input("overhang", "length", "level, square to plate 1, out to the plumb cut of the tail", default=0),
    Input(
        "common_height_above_plate", "length", "seat to top of the commons, plumb, for the seat", optional=True, over=0
    ),
)
RESULTS = (
    *LINE,
    *CUTS,
    Output("drop_1", "mm", "Drop for side 1, plumb"),
    Output("drop_2", "mm", "Drop for side 2, plumb"),
    Output("height_above_plate", "mm", "Seat to top edge, dropped"),
    Output("birdsmouth_depth", "mm", "Birdsmouth, square to edge"),
    Output("seat_length", "mm", "Seat of the birdsmouth"),
    Output("tail_length", "mm", "Tail along the line"),
    *OUTPUTS,
)


def told_lengths(w: Working, name: str, line: HipLine, run: float, ridge: float, ridge_side: float) -> dict[str, float]:
    """LINE, with a ridge [mm thick] taken off; Refusal if that leaves none of it."""
    lengths = told_line(w, line, run, ridge, side_of(name, "ridge_side", ridge_side))
    if lengths["ridge_deduction"] >= lengths["length_on_line"]:
        raise Refusal(f"{name}: a ridge {as_typed(ridge)} thick leaves no {name}. Check run= and ridge=")
    return lengths


def told_drops(w: Working, line: HipLine, thickness: float) -> dict[str, float]:
    """How far [mm, plumb] each arris of a square hip stands over its slope; minus where it stands under.

    The slope stands as far over the arris of a valley as thick: the same line, the slopes on its other sides.
    """
    return {
        f"drop_{side}": w.step(
            f"drop_{side}",
            f"thickness / 2 * tan(hip_pitch) / tan(plan_angle_{side})",
            **{
                "thickness": thickness,
                "hip_pitch": line.pitch_of_hip,
                f"plan_angle_{side}": line.plan_angle(side),
            },
        )
        for side in SIDES
    }


def told_seat(w: Working, name: str, line: HipLine, section: Section, height: float) -> dict[str, float]:
    """The seat [mm] that leaves that height [mm, plumb] over the plate; Refusal if the timber hangs clear of it."""
    pitch = line.pitch_of_hip
    depth = w.step(
        "birdsmouth_depth",
        "depth - height_above_plate * cos(hip_pitch)",
        depth=section.depth,
        height_above_plate=height,
        hip_pitch=pitch,
    )
    if depth < 0:
        raise Refusal(
            f"{name}: {as_typed(section.depth)} deep, it sits {as_worked(-depth)} clear of the plate. Make it "
            f"{as_worked(at_least(section.depth - depth))} deep, or pack it up"
        )
    seat = w.step(
        "seat_length",
        "birdsmouth_depth / sin(hip_pitch)",
        birdsmouth_depth=depth,
        hip_pitch=pitch,
    )
    return {"height_above_plate": height, "birdsmouth_depth": depth, "seat_length": seat}


def told_stick(
    w: Working, line: HipLine, section: Section, lengths: dict[str, float], overhang: float
) -> tuple[float, Stick]:
    """The tail [mm], out to where the two fascias meet, and the stick to buy."""
    on_line, off = lengths["length_on_line"], lengths["ridge_deduction"]
    tail = w.step(
        "tail_length",
        "overhang / sin(plan_angle_1) / cos(hip_pitch)",
        overhang=overhang,
        plan_angle_1=line.plan_angle(1),
        hip_pitch=line.pitch_of_hip,
    )
    to_ridge = w.step(
        "length_to_ridge",
        "length_on_line - ridge_deduction",
        length_on_line=on_line,
        ridge_deduction=off,
    )
    return tail, stick(w, section, overall_length(w, section, line.pitch_of_hip, to_ridge, tail))


def notched_too_deep(name: str, section: Section, seat: dict[str, float]) -> tuple[tuple[str, ...], tuple[str, ...]]:
    """Cautions and notes on a seat over a third of the depth, which is for eaves that a ceiling tie holds."""
    if seat.get("birdsmouth_depth", 0.0) <= section.depth * DEEPEST + 1e-9:
        return (), ()
    said = f"the seat takes more than a third of the {name}'s depth: ask the engineer before you cut"
    return ("notch-engineer",), (said,)


def past_the_plates(line: HipLine, section: Section, seat: dict[str, float], plate: float | None) -> tuple[str, ...]:
    """The note on a seat that runs past plates that wide [mm], square across; none where no plate was given."""
    if plate is None or "seat_length" not in seat:
        return ()
    # Level along the hip, from the outside corner until it has left the second of two plates of one width.
    over = max(plate / sin_deg(line.plan_angle(side)) for side in SIDES)
    if seat["seat_length"] <= over + 1e-9:
        return ()
    deep = section.depth - seat["birdsmouth_depth"] + over * sin_deg(line.pitch_of_hip)
    return (
        f"the seat is {as_worked(seat['seat_length'])} long and the plates are only {as_worked(over)} along the "
        f"hip; a hip {as_worked(deep)} deep would fit them. Before you cut, agree the section or what carries "
        "the seat",
    )


def in_own_words(outputs: tuple[Output, ...], says: dict[str, str]) -> tuple[Output, ...]:
    """The same results, those named said in other words."""
    return tuple(replace(one, says=says.get(one.name, one.says)) for one in outputs)
