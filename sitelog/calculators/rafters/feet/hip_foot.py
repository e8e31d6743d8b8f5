"""A hip where it meets the corner of the plates: its cheeks or the clipped corner, its heights, dummies and strings."""

from sitelog.calculators.catalogue import Outcome, Output, Working, calculator, field
from sitelog.calculators.rafters.hip_cuts import SAW, SIDES, CornerInputs, is_past_saw
from sitelog.calculators.timber.stick import RAFTER
from sitelog.geometry.hip_line import HipLine, Side
from sitelog.quantities.quantity import Section
from sitelog.quantities.rounding import as_typed, as_worked, places
from sitelog.refusal import Refusal

FOOT = (
    "Inside a parapet the foot is a point, its tip on the centre in the corner; over a plate the heel is hollow, its "
    "deepest line on the centre at the corner; a tail under fascias is a point at the same angles"
)


class HipFootInputs(CornerInputs):
    """What `hip-foot` takes: lengths in mm, angles in degrees."""

    thickness: float = field("length", "thickness of the hip", default=47, over=0)
    common_height_above_plate: float | None = field("length", "seat to top of the commons, plumb", default=None, over=0)
    common: Section = field("section", "of the commons and dummies, thickness x depth", default=RAFTER)
    overhang: float | None = field("length", "level, square to plate 1, out to the plumb cut", default=None, over=0)
    dummy_run: float | None = field("length", "level run of side 1's dummy rafter", default=None, over=0)
    dummy_thickness: float = field("length", "thickness of a dummy", default=47, over=0)

    @property
    def met(self) -> HipLine:
        """The hip's line. Refusal where it leads away from a side's commons."""
        line = self.line
        for side in SIDES:
            angle = line.plan_angle(side)
            if angle >= 90 - 1e-9:
                raise Refusal(
                    f"hip-foot: at {places(angle, 1)} degrees on plan the hip runs away from side {side}'s commons. "
                    "Check corner=, pitch= and pitch2="
                )
        return line


def _of_sides(name: str, unit: str, says: str) -> tuple[Output, ...]:
    """A result of each side."""
    return tuple(Output(name.replace("_k", f"_{side}"), unit, says.replace("#", str(side))) for side in SIDES)


@calculator(
    "hip-foot",
    HipFootInputs,
    branch="rafters",
    does="A hip's foot at the plates' corner: cheeks, clip, dummies, strings",
    results=(
        *_of_sides("plan_angle_k", "deg", "Plan angle to plate #"),
        Output("hip_pitch", "deg", "Pitch of the hip"),
        *_of_sides("bevel_k_from_square", "deg", "V: bevel # on the top edge"),
        *_of_sides("saw_tilt_k", "deg", "V: saw tilt # on the face"),
        *_of_sides("v_back_k", "mm", "V: arris # further up, level"),
        *_of_sides("v_back_along_k", "mm", "V: arris # further up, along"),
        Output("clip_back", "mm", "Clip: corner to cut, level"),
        Output("clip_along", "mm", "Clip: corner to cut, along"),
        *_of_sides("clip_mark_k", "mm", "Clip: mark on plate #"),
        Output("clip_width", "mm", "Clip: width of the cut"),
        Output("height_at_corner", "mm", "Seat to top at the corner"),
        Output("height_at_clip", "mm", "Seat to top at the clip"),
        Output("tail_run", "mm", "Tail, level"),
        Output("tail_along", "mm", "Tail, along the hip"),
        Output("overhang_2", "mm", "Overhang of side 2"),
        Output("dummy_run_2", "mm", "Run of side 2's dummy"),
        *_of_sides("dummy_length_k", "mm", "Dummy #, on the line"),
        *_of_sides("dummy_seat_k", "mm", "Dummy #, seat"),
        Output("string_height", "mm", "Strings over the plate"),
        Output("string_cross_run", "mm", "Strings cross, level"),
        Output("string_cross_length", "mm", "Strings cross, along the hip"),
        *_of_sides("dummy_nearest_k", "mm", "Nearest dummy on plate #"),
    ),
    basis="geometry: upright planes through the plates' top outer edges",
    definition=(
        "Side 1 is on your left as you look at the corner from outside. The cuts fit two upright planes through the "
        "plates' top outer edges; inside a parapet these are the faces of the boards. Either cut a V: each cheek runs "
        "along its own plate. " + FOOT + ". Or clip: cut the plates' corner, or fix a block across the boards, square "
        "to the hip on plan, no further back than all of the hip needs to bear, and cut heel or foot square; "
        "start the seat there, and inside a parapet the hip is that much shorter. Marks on plates are from the corner. "
        "Heights are for a hip dropped by the larger drop: at the clip it is as high as the commons. A dummy is a "
        "short common with the true foot, pitch and a plumb head at its run: strings from dummy to dummy, parallel to "
        "the plates, cross over the hip's centre. The nearest dummy is the centre's place at which it clears the "
        "hip's face. Work each corner out by itself."
    ),
    example="pitch=35 common_height_above_plate=122.077 overhang=300 dummy_run=600",
)
def hip_foot(given: HipFootInputs) -> Outcome:
    """Lengths in mm, angles in degrees. Refusal where the hip leads away from one side, or its drop takes it all.

    Source: geometry; by its definition alone.
    """
    working = Working()
    line = given.met
    found = _told_line(working, line)
    found |= _told_v(working, found, given.thickness)
    found |= _told_clip(working, found, given.thickness)
    if given.common_height_above_plate is not None:
        found |= _told_heights(working, found, given.common_height_above_plate)
    if given.overhang is not None:
        found |= _told_tail(working, found, given.overhang)
    if given.dummy_run is not None:
        found |= _told_dummies(working, found, given, given.dummy_run)
    return Outcome({**found}, working, cautions=("hip-engineer",), notes=_notes(found))


def _told_line(working: Working, line: HipLine) -> dict[str, float]:
    """The line of the hip [deg]."""
    corner = {"corner": line.corner, "pitch_1": line.pitch_1, "pitch_2": line.pitch_2}
    formula = "atan2(tan(pitch_2) * sin(corner), tan(pitch_1) + tan(pitch_2) * cos(corner))"
    first = working.step("plan_angle_1", formula, "deg", **corner)
    second = working.step("plan_angle_2", "corner - plan_angle_1", "deg", corner=line.corner, plan_angle_1=first)
    pitch = working.step(
        "hip_pitch", "atan(tan(pitch_1) * sin(plan_angle_1))", "deg", pitch_1=line.pitch_1, plan_angle_1=first
    )
    return {"plan_angle_1": first, "plan_angle_2": second, "hip_pitch": pitch}


def _told_v(working: Working, found: dict[str, float], thickness: float) -> dict[str, float]:
    """Both cheeks of the V."""
    told: dict[str, float] = {}
    for side in SIDES:
        angle = {f"plan_angle_{side}": found[f"plan_angle_{side}"]}
        back = working.step(f"v_back_{side}", f"thickness / 2 / tan(plan_angle_{side})", thickness=thickness, **angle)
        along = working.step(
            f"v_back_along_{side}", f"v_back_{side} / cos(hip_pitch)", **{f"v_back_{side}": back}, **_pitch(found)
        )
        bevel = working.step(
            f"bevel_{side}_from_square",
            f"atan2(v_back_along_{side}, thickness / 2)",
            "deg",
            **{f"v_back_along_{side}": along, "thickness": thickness},
        )
        tilt = working.step(f"saw_tilt_{side}", f"90 - plan_angle_{side}", "deg", **angle)
        told |= {f"v_back_{side}": back, f"v_back_along_{side}": along}
        told |= {f"bevel_{side}_from_square": bevel, f"saw_tilt_{side}": tilt}
    return told


def _pitch(found: dict[str, float]) -> dict[str, float]:
    return {"hip_pitch": found["hip_pitch"]}


def _told_clip(working: Working, found: dict[str, float], thickness: float) -> dict[str, float]:
    """The corner cut off square to the hip, or a block across it."""
    angles = {f"plan_angle_{side}": found[f"plan_angle_{side}"] for side in SIDES}
    smaller = min(angles.values())
    back = working.step(
        "clip_back", "thickness / 2 / tan(smaller_plan_angle)", thickness=thickness, smaller_plan_angle=smaller
    )
    along = working.step("clip_along", "clip_back / cos(hip_pitch)", clip_back=back, **_pitch(found))
    told = {"clip_back": back, "clip_along": along}
    for name, angle in angles.items():
        mark = f"clip_mark_{name[-1]}"
        told[mark] = working.step(mark, f"clip_back / cos({name})", clip_back=back, **{name: angle})
    width = "clip_back * (tan(plan_angle_1) + tan(plan_angle_2))"
    told["clip_width"] = working.step("clip_width", width, clip_back=back, **angles)
    return told


def _told_heights(working: Working, found: dict[str, float], height: float) -> dict[str, float]:
    """Seat to top of a dropped hip [mm], on its centre; Refusal where its drop takes all of it."""
    back = {"clip_back": found["clip_back"], **_pitch(found)}
    drop = working.step("drop", "clip_back * tan(hip_pitch)", **back)
    if drop >= height:
        raise Refusal(
            f"hip-foot: common_height_above_plate is {as_typed(height)}; it must be over the hip's drop, "
            f"{as_worked(drop)}, or back the hip instead"
        )
    corner = working.step(
        "height_at_corner", "common_height_above_plate - drop", common_height_above_plate=height, drop=drop
    )
    up = "height_at_corner + clip_back * tan(hip_pitch)"
    clip = working.step("height_at_clip", up, height_at_corner=corner, **back)
    return {"height_at_corner": corner, "height_at_clip": clip}


def _told_tail(working: Working, found: dict[str, float], overhang: float) -> dict[str, float]:
    """The tail out to where the fascias meet on it, and side 2's overhang that makes them."""
    first, second = ({f"plan_angle_{side}": found[f"plan_angle_{side}"]} for side in SIDES)
    run = working.step("tail_run", "overhang / sin(plan_angle_1)", overhang=overhang, **first)
    along = working.step("tail_along", "tail_run / cos(hip_pitch)", tail_run=run, **_pitch(found))
    other = working.step("overhang_2", "tail_run * sin(plan_angle_2)", tail_run=run, **second)
    return {"tail_run": run, "tail_along": along, "overhang_2": other}


def _told_dummies(working: Working, found: dict[str, float], given: HipFootInputs, run: float) -> dict[str, float]:
    """The dummies of both sides, and where the strings over them cross."""
    pitches = {side: given.line.pitch(side) for side in SIDES}
    run_2 = working.step(
        "dummy_run_2",
        "dummy_run * tan(pitch_1) / tan(pitch_2)",
        dummy_run=run,
        pitch_1=pitches[1],
        pitch_2=pitches[2],
    )
    told = {"dummy_run_2": run_2}
    for side, own in zip(SIDES, (run, run_2), strict=True):
        told |= _told_dummy(working, found, given, side, own)
    first = {"plan_angle_1": found["plan_angle_1"]}
    cross = working.step("string_cross_run", "dummy_run / sin(plan_angle_1)", dummy_run=run, **first)
    told["string_cross_run"] = cross
    told["string_cross_length"] = working.step(
        "string_cross_length", "string_cross_run / cos(hip_pitch)", string_cross_run=cross, **_pitch(found)
    )
    height = given.common_height_above_plate
    if height is not None:
        told["string_height"] = working.step(
            "string_height",
            "common_height_above_plate + dummy_run * tan(pitch_1)",
            common_height_above_plate=height,
            dummy_run=run,
            pitch_1=pitches[1],
        )
    return told


def _told_dummy(
    working: Working, found: dict[str, float], given: HipFootInputs, side: Side, run: float
) -> dict[str, float]:
    """One side's dummy: its length, its seat, and how near the corner it may be. Refusal where it hangs clear."""
    pitch, angle, length = f"pitch_{side}", f"plan_angle_{side}", f"dummy_length_{side}"
    turned = {pitch: given.line.pitch(side)}
    told = {length: working.step(length, f"run / cos({pitch})", run=run, **turned)}
    height = given.common_height_above_plate
    if height is not None:
        seat = working.step(
            f"dummy_seat_{side}",
            f"(depth - height * cos({pitch})) / sin({pitch})",
            depth=given.common.depth,
            height=height,
            **turned,
        )
        if seat < 0:
            raise Refusal(
                f"hip-foot: a common {as_typed(given.common.depth)} deep sits clear of plate {side} at "
                f"{as_typed(height)} above it. Check common= and common_height_above_plate="
            )
        told[f"dummy_seat_{side}"] = seat
    nearest = f"dummy_nearest_{side}"
    told[nearest] = working.step(
        nearest,
        f"run / tan({angle}) + thickness / 2 / sin({angle}) + dummy_thickness / 2",
        run=run,
        thickness=given.thickness,
        dummy_thickness=given.dummy_thickness,
        **{angle: found[angle]},
    )
    return told


def _notes(found: dict[str, float]) -> tuple[str, ...]:
    said = [f"V: {FOOT[0].lower()}{FOOT[1:]}"]
    said += [
        f"Saw tilt {side} is over {SAW} degrees, more than many saws can tilt: finish it by hand"
        for side in SIDES
        if is_past_saw(found[f"saw_tilt_{side}"])
    ]
    return (*said, "What a hip bears on at its foot, and how it is tied, is the engineer's")
