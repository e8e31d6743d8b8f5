"""What a pattern rafter that was tried in its place says of the rest: their length, and the pitch of their cuts."""

from sitelog.calculators.catalogue import Inputs, Outcome, Output, Result, Working, calculator, field
from sitelog.calculators.rafters.birdsmouth import DEEPEST
from sitelog.calculators.timber.stick import RAFTER
from sitelog.geometry.vectors import asin_deg
from sitelog.left_out import given_or
from sitelog.quantities.quantity import Section
from sitelog.quantities.rounding import as_typed, as_worked, short
from sitelog.refusal import Refusal

STEEPEST = 75.0  # degrees: a rafter over that is none


class PatternInputs(Inputs):
    """What `pattern` takes: lengths in mm, angles in degrees."""

    length: float = field("length", "of the list: corner of the birdsmouth to the head's cut, along the line", over=0)
    pitch: float = field("pitch", "of the list: plumb cut, from square")
    section: Section = field("section", "thickness x depth", default=RAFTER)
    birdsmouth: float = field("fraction", "its depth, as a fraction of the rafter's", default=DEEPEST, under=1)
    gap_top: float = field("length", "gap at the ridge, level, at the cut's top", default=0)
    gap_bottom: float = field("length", "gap at the ridge, level, at the cut's bottom", default=0)
    heel: float = field("length", "gap at the heel: birdsmouth off the plate, head on the ridge", default=0)
    cut_length: float | None = field("length", "its own length, if it wasn't cut to the list's", default=None, over=0)
    cut_pitch: float | None = field("pitch", "its own plumb cut, if it wasn't cut to the list's", default=None)


@calculator(
    "pattern",
    PatternInputs,
    branch="rafters",
    does="A pattern rafter tried in place: corrected length and cuts",
    results=(
        Output("length_change", "mm", "Longer than the pattern"),
        Output("length", "mm", "Length to cut, on the line"),
        Output("pitch_change", "deg", "Steeper than the pattern"),
        Output("plumb_cut_from_square", "deg", "Plumb cut, from square"),
        Output("seat_cut_from_square", "deg", "Seat cut, from square"),
        Output("run", "mm", "Plate's edge to ridge's face"),
        Output("run_change", "mm", "That run, longer than the list's"),
        Output("head_height", "mm", "Top at the ridge over plate"),
        Output("turned", "deg", "Lay steeper than it was cut"),
    ),
    basis="geometry: a rafter between a plate and the plumb face of a ridge",
    definition=(
        "The pattern is tried with its seat's corner on the level of the plate, and its top at the ridge where the "
        "tops will be. Gaps are level. Open at the top, the pattern is steeper than it was cut; open at the "
        "bottom, flatter. Open all the way it is short. With the head on the ridge and the birdsmouth off the plate "
        "it is long. The line runs through the birdsmouth's corner, along the rafter. The rest are cut from the "
        "plate's edge to the ridge's face, tops where the pattern's was. Cut nothing else before one fits. Give "
        "the length and the plumb cut of a second pattern as cut_length and cut_pitch; length and pitch stay those "
        "of the list."
    ),
    example="length=3639 pitch=35 gap_top=4 gap_bottom=1",
)
def pattern(given: PatternInputs) -> Outcome:
    """Lengths in mm, cuts in degrees. Refusal for gaps of a rafter that wasn't pushed home, or wider than its cut.

    Source: geometry; by its definition alone.
    """
    if given.heel > 0 and min(given.gap_top, given.gap_bottom) > 0:
        raise Refusal("pattern: it touches neither plate nor ridge. Push it home, then read gap_top, gap_bottom, heel")
    working = Working()
    cut_length, cut_pitch = given_or(given.cut_length, given.length), given_or(given.cut_pitch, given.pitch)
    plumb_cut = working.step("cut", "depth / cos(pitch)", depth=given.section.depth, pitch=cut_pitch)
    turned = _turned(working, given, plumb_cut)
    lies = working.step("lies_at", "pitch + turned", "deg", pitch=cut_pitch, turned=turned)
    if not 0 < lies < STEEPEST:
        raise Refusal(f"pattern: with these gaps it is at {as_worked(lies)} degrees. Read gap_top, gap_bottom again")
    depth = given.section.depth
    over = working.step("over_the_line", "depth * (1 - birdsmouth)", depth=depth, birdsmouth=given.birdsmouth)
    up_the_cut = working.step("up_the_cut", "over_the_line / cos(pitch)", over_the_line=over, pitch=cut_pitch)
    lying = {"length": cut_length, "lies_at": lies, "up_the_cut": up_the_cut, "turned": turned}
    gaps = {"gap_top": given.gap_top, "heel": given.heel}
    run = working.step("run", "length * cos(lies_at) - up_the_cut * sin(turned) + gap_top - heel", **lying, **gaps)
    if run <= 0:
        raise Refusal(f"pattern: heel is {as_typed(given.heel)}; that leaves no run. Read it again")
    height = working.step("head_height", "length * sin(lies_at) + up_the_cut * cos(turned)", **lying)
    where = {"run": run, "head_height": height, "over_the_line": over}
    sight = "atan2(head_height, run) - asin(over_the_line / hypot(run, head_height))"
    pitch = working.step("plumb_cut_from_square", sight, "deg", **where)
    length = working.step("length", "run / cos(plumb_cut_from_square)", run=run, plumb_cut_from_square=pitch)
    of_list = {"run": run, "length": given.length, "pitch": given.pitch}
    results: dict[str, Result] = {
        "length_change": length - cut_length,
        "length": length,
        "pitch_change": pitch - cut_pitch,
        "plumb_cut_from_square": pitch,
        "seat_cut_from_square": 90 - pitch,
        "run": run,
        "run_change": working.step("run_change", "run - length * cos(pitch)", **of_list),
        "head_height": height,
        "turned": turned,
    }
    return Outcome(
        results, working, notes=(_misread(plumb_cut), "Cut one to these and try it: the rest follow that one")
    )


def _turned(working: Working, given: PatternInputs, cut: float) -> float:
    """How much steeper the pattern lies than it was cut [deg]; Refusal of gaps that differ by the cut [mm] or more."""
    opened = abs(given.gap_top - given.gap_bottom)
    if opened >= cut:
        raise Refusal(f"pattern: gap_top and gap_bottom differ by {as_typed(opened)}; the cut is {as_worked(cut)} long")
    gaps = {"gap_top": given.gap_top, "gap_bottom": given.gap_bottom}
    return working.step("turned", "asin((gap_top - gap_bottom) / cut)", "deg", **gaps, cut=cut)


def _misread(cut: float) -> str:
    """What a gap that is read wrong does to the cuts, over a plumb cut of that length [mm]."""
    return f"A gap misread by 1 mm turns the cuts by {short(asin_deg(min(1 / cut, 1.0)), 1)} degrees"
