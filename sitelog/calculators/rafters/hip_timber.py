"""What a hip and a valley as timbers ask and give alike: lengths and cuts, drop, seat, tail, and the stick to buy."""

from msgspec import Struct
from msgspec.structs import replace

from sitelog.calculators.catalogue import Output, Result, Working, field
from sitelog.calculators.rafters.birdsmouth import DEEPEST
from sitelog.calculators.rafters.hip_cuts import CUTS, LINE, SIDES, CornerInputs, side_of, told_cuts, told_line
from sitelog.calculators.timber.stick import HIP, OUTPUTS, Stick, overall_length, stick
from sitelog.geometry.hip_line import HipLine
from sitelog.geometry.vectors import sin_deg
from sitelog.quantities.quantity import Section
from sitelog.quantities.rounding import as_typed, as_worked, at_least
from sitelog.refusal import Refusal


class HipTimberInputs(CornerInputs):
    """The timber over a corner, as hip and valley ask for it: lengths in mm, angles in degrees."""

    run: float = field("length", "run of side 1's common, plate's edge to centre of ridge or to table", over=0)
    section: Section = field("section", "thickness x depth", default=HIP)
    ridge: float = field("length", "thickness of the ridge", default=0)
    ridge_side: int = field("count", "which side the ridge runs along, 1 or 2", default=1)
    overhang: float = field("length", "level, square to plate 1, out to the plumb cut of the tail", default=0)
    common_height_above_plate: float | None = field(
        "length", "seat to top of the commons, plumb, for the seat", default=None, over=0
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
HOLLOW = (  # of a valley's tail, beside RESULTS
    Output("overall_on_centre", "mm", "On its centre, cut to cut"),
    Output("tail_past_1", "mm", "Tail: face 1 further down by"),
    Output("tail_past_2", "mm", "Tail: face 2 further down by"),
)


class LineTimber(Struct, frozen=True):
    """A hip or a valley as it is worked: its results, and what of it is told beside them; mm and degrees."""

    results: dict[str, Result]
    drops: dict[str, float]
    seat: dict[str, float]
    too_deep: bool  # a birdsmouth over a third of its depth
    piece: Stick

    @property
    def cautions(self) -> tuple[str, ...]:
        """The ids of what is to be known before it is cut or carried."""
        return ("hip-engineer", *(("notch-engineer",) if self.too_deep else ()), *self.piece.cautions)


def line_timber(
    working: Working, name: str, given: HipTimberInputs, *, dropped: bool, clipped: bool = False
) -> LineTimber:
    """The timber `name` on the line over a corner, with its working; a hip is `dropped` under its slopes, or backed.

    One that isn't dropped is a valley: its tail is hollow. A `clipped` heel starts where the corner is cut off.

    Refusal where the ridge takes all of it, or where it would not come down to the plates.
    """
    line, section = given.line, given.section
    lengths = _lengths(working, name, given)
    cuts = told_cuts(working, line)
    drops = _drops(working, line, section.thickness)
    height = given.common_height_above_plate
    if height is not None and dropped:
        height = _dropped(working, name, height, max(drops.values()))
        if clipped:
            height = working.step("height_at_clip", "height + drop", height=height, drop=max(drops.values()))
    seat = {} if height is None else _seat(working, name, given, height)
    tail, piece = _stick(working, given, lengths, hollow=not dropped)
    return LineTimber(
        {**lengths, **cuts, **drops, **seat, **tail, **piece.results},
        drops,
        seat,
        # A third is for eaves that a ceiling tie holds.
        seat.get("birdsmouth_depth", 0.0) > section.depth * DEEPEST + 1e-9,
        piece,
    )


def notched_too_deep(name: str, made: LineTimber) -> tuple[str, ...]:
    """The note on a seat over a third of the timber's depth."""
    if not made.too_deep:
        return ()
    return (f"the seat takes more than a third of the {name}'s depth: ask the engineer before you cut",)


def _lengths(working: Working, name: str, given: HipTimberInputs) -> dict[str, float]:
    """LINE, with a ridge [mm thick] taken off; Refusal if that leaves none of it."""
    side = side_of(name, "ridge_side", given.ridge_side)
    lengths = told_line(working, given.line, given.run, given.ridge, side)
    if lengths["ridge_deduction"] >= lengths["length_on_line"]:
        raise Refusal(f"{name}: a ridge {as_typed(given.ridge)} thick leaves no {name}. Check run= and ridge=")
    return lengths


def _dropped(working: Working, name: str, commons: float, drop: float) -> float:
    """The height [mm] over the plate of a timber dropped by so much under commons of that height [mm]."""
    height = working.step(
        "height_above_plate",
        "common_height_above_plate - drop",
        common_height_above_plate=commons,
        drop=drop,
    )
    if height <= 0:
        raise Refusal(
            f"{name}: a drop of {as_worked(drop)} is more than the commons' {as_typed(commons)} above the plate: "
            f"back the {name} instead"
        )
    return height


def _drops(working: Working, line: HipLine, thickness: float) -> dict[str, float]:
    """How far [mm, plumb] each arris of a square hip stands over its slope; minus where it stands under.

    The slope stands as far over the arris of a valley as thick: the same line, the slopes on its other sides.
    """
    return {
        f"drop_{side}": working.step(
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


def _seat(working: Working, name: str, given: HipTimberInputs, height: float) -> dict[str, float]:
    """The seat [mm] that leaves that height [mm, plumb] over the plate; Refusal if the timber hangs clear of it."""
    section, pitch = given.section, given.line.pitch_of_hip
    depth = working.step(
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
    seat = working.step(
        "seat_length",
        "birdsmouth_depth / sin(hip_pitch)",
        birdsmouth_depth=depth,
        hip_pitch=pitch,
    )
    return {"height_above_plate": height, "birdsmouth_depth": depth, "seat_length": seat}


def _stick(
    working: Working, given: HipTimberInputs, lengths: dict[str, float], *, hollow: bool
) -> tuple[dict[str, float], Stick]:
    """The tail [mm], out to where the two fascias meet, and the stick to buy; with HOLLOW if its tail is."""
    pitch = given.line.pitch_of_hip
    tail = working.step(
        "tail_length",
        "overhang / sin(plan_angle_1) / cos(hip_pitch)",
        overhang=given.overhang,
        plan_angle_1=lengths["plan_angle_1"],
        hip_pitch=pitch,
    )
    to_ridge = working.step(
        "length_to_ridge",
        "length_on_line - ridge_deduction",
        length_on_line=lengths["length_on_line"],
        ridge_deduction=lengths["ridge_deduction"],
    )
    if not hollow:
        overall = overall_length(working, given.section, pitch, to_ridge, tail)
        return {"tail_length": tail}, stick(working, given.section, overall)
    on_centre = overall_length(working, given.section, pitch, to_ridge, tail, "overall_on_centre")
    past = _hollow(working, given.line, given.section.thickness)
    overall = working.step(
        "overall_length", "overall_on_centre + tail_past", overall_on_centre=on_centre, tail_past=max(past.values())
    )
    return {"tail_length": tail, "overall_on_centre": on_centre, **past}, stick(working, given.section, overall)


def _hollow(working: Working, line: HipLine, thickness: float) -> dict[str, float]:
    """How much further down [mm, along] each face of a valley meets its fascia than the centre does.

    Minus where the line runs away from that side, and its face meets the fascia higher up.
    """
    return {
        f"tail_past_{side}": working.step(
            f"tail_past_{side}",
            f"thickness / 2 / tan(plan_angle_{side}) / cos(hip_pitch)",
            **{
                "thickness": thickness,
                f"plan_angle_{side}": line.plan_angle(side),
                "hip_pitch": line.pitch_of_hip,
            },
        )
        for side in SIDES
    }


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
    return tuple(replace(output, says=says.get(output.name, output.says)) for output in outputs)
