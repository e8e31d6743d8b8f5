"""An opening in a slope for a dormer or rooflight: its length up the slope, its trimmers, and the rafters it cuts."""

import math

from sitelog.calculators.catalogue import Inputs, Outcome, Output, Row, Working, calculator, field
from sitelog.calculators.rafters.hip_cuts import FLATTEST, STEEPEST
from sitelog.calculators.setting_out.centres import check_gap
from sitelog.geometry.vectors import cos_deg
from sitelog.quantities.rounding import as_typed, as_worked
from sitelog.refusal import Refusal

# Rafters cut at most, and rafters added for it. Mindham, Roof Construction and Loft Conversion, 4th edition, Fig 3.18b.
ADDED = ((0, 0), (2, 2), (4, 4))
ENGINEER = (
    "the engineer sizes trimmers, hangers and the rafters beside them: they carry the main roof, the dormer's "
    "frame and its cladding (NHBC Standards 2022, 7.2.13)"
)
CHEEKS = "put a dormer's cheek studs on a doubled rafter or joist (NHBC Standards 2022, 7.2.13)"


class OpeningInputs(Inputs):
    """What `opening` takes: lengths in mm, angles in degrees."""

    pitch: float = field("pitch", "pitch of the slope the opening is in", low=FLATTEST, high=STEEPEST)
    level_width: float = field("length", "clear between the trimming rafters", over=0)
    level_depth: float = field("length", "clear between the trimmers, measured level", over=0)
    spacing: float = field("length", "spacing of the rafters, centre to centre", over=0)
    thickness: float = field("length", "thickness of a rafter", default=47, over=0)
    trimmer: float = field("length", "thickness of one trimmer", default=47, over=0)
    doubled: int = field("count", "trimmers side by side, at head and at foot", default=2, low=1, high=4)
    run: float | None = field("length", "level, plate's outer edge to the centre of the ridge", default=None, over=0)
    foot: float | None = field("length", "level, plate's outer edge to the foot of the opening", default=None, over=0)


@calculator(
    "opening",
    OpeningInputs,
    branch="rafters",
    does="An opening in a slope: its size, trimmers, rafters cut and added",
    results=(
        Output("slope_length", "mm", "Clear up the slope"),
        Output("cut_out", "mm", "Cut out of each rafter"),
        Output("between_rafters", "mm", "Clear between rafters left"),
        Output("rafters_cut", "", "Rafters cut"),
        Output("rafters_added", "", "Rafters added, both sides"),
        Output(
            "trimmers",
            "",
            "Trimmers",
            (Output("where", "", "Where"), Output("count", "", "Count"), Output("length", "mm", "Length")),
        ),
        Output(
            "trimmed_rafters",
            "",
            "Trimmed rafters",
            (Output("where", "", "Where"), Output("count", "", "Count"), Output("length", "mm", "Length on the line")),
        ),
    ),
    basis="geometry; rafters added: Mindham, Roof Construction and Loft Conversion, 4th edition, Fig 3.18b",
    definition=(
        "Sizes are clear between the trimmers and between the trimming rafters, which are moved to suit. "
        "Trimmers are square to the slope, hung between the trimming rafters. The fewest rafters are cut: set "
        "out from the face of one that stays. Trimmed rafters are measured on the measuring line, from the "
        "plate's top outer edge to the trimmer, and from the trimmer to the centre of the ridge. foot is level, "
        "to where the opening meets that line. If 1 or 2 rafters are cut, add one each side; if 3 or 4, two each "
        "side (Mindham, Fig 3.18b), on the sides away from the opening."
    ),
    example="pitch=40 level_width=1153 level_depth=1800 spacing=400 run=3600 foot=900",
)
def opening(given: OpeningInputs) -> Outcome:
    """Lengths in mm, and how many. Refusal for rafters with no gap, or an opening past the plate or the ridge."""
    check_gap("opening", given.thickness, given.spacing)
    working = Working()
    slope = working.step("slope_length", "level_depth / cos(pitch)", level_depth=given.level_depth, pitch=given.pitch)
    cut_out = working.step(
        "cut_out",
        "slope_length + 2 * doubled * trimmer",
        slope_length=slope,
        doubled=given.doubled,
        trimmer=given.trimmer,
    )
    cut, between = _cut(working, given.level_width, given.spacing, given.thickness)
    added = next((more for most, more in ADDED if cut <= most), None)
    lengths = _trimmed(working, given)
    return Outcome(
        {
            "slope_length": slope,
            "cut_out": cut_out,
            "between_rafters": between,
            "rafters_cut": cut,
            "rafters_added": added,
            "trimmers": [_row(where, given.doubled, given.level_width) for where in ("head", "foot")],
            "trimmed_rafters": [_row(where, cut, lengths.get(where)) for where in ("head", "foot") if cut],
        },
        working,
        notes=(*_notes(cut, given.level_width, between), *_head_note(lengths)),
    )


def _row(where: str, count: int, length: float | None) -> Row:
    return {"where": where, "count": count, "length": length}


def _cut(working: Working, width: float, spacing: float, thickness: float) -> tuple[int, float]:
    """The fewest rafters that stand in the width [mm], and the clear width [mm] between the two that stay."""
    cut = max(math.ceil((width + thickness) / spacing - 1e-9) - 1, 0)
    working.note("rafters_cut", "those within the width, set out from the face of one that stays", cut, "")
    between = working.step(
        "between_rafters",
        "(rafters_cut + 1) * spacing - thickness",
        rafters_cut=cut,
        spacing=spacing,
        thickness=thickness,
    )
    return cut, between


def _trimmed(working: Working, given: OpeningInputs) -> dict[str, float]:
    """What is left of each cut rafter [mm] at foot and head, if run and foot are given."""
    pitch, depth, run, foot = given.pitch, given.level_depth, given.run, given.foot
    trimmers = given.doubled * given.trimmer
    if run is None and foot is None:
        return {}
    if run is None or foot is None:
        raise Refusal("opening: give both run= and foot=, or neither")
    numbers = {"foot": foot, "trimmers": trimmers, "pitch": pitch}
    lower = working.step("foot_length", "foot / cos(pitch) - trimmers", **numbers)
    upper = working.step(
        "head_length",
        "(run - foot - level_depth) / cos(pitch) - trimmers",
        run=run,
        level_depth=depth,
        **numbers,
    )
    if lower <= 0:
        raise Refusal(
            f"opening: foot is {as_typed(foot)}, which leaves no room for the trimmer above the plate; it must "
            f"be over {as_worked(trimmers * cos_deg(pitch))}"
        )
    if upper <= 0:
        raise Refusal(
            f"opening: {as_typed(depth)} deep from a foot {as_typed(foot)} in, with its trimmer, it reaches the "
            f"ridge at {as_typed(run)}. Make it shorter up the slope, or move it down"
        )
    return {"foot": lower, "head": upper}


def _notes(cut: int, width: float, between: float) -> tuple[str, ...]:
    said = []
    if cut > ADDED[-1][0]:
        said.append(
            f"{cut} rafters cut: the rule for added rafters stops at {ADDED[-1][0]}. Don't cut any until the "
            "engineer's detail is on site"
        )
    if between - width > 0.5:
        said.append(
            f"the rafters that stay are {as_worked(between - width)} mm further apart than the opening: move a "
            f"trimming rafter to the opening, or make the trimmers {as_worked(between)} long"
        )
    return (*said, ENGINEER, CHEEKS)


def _head_note(lengths: dict[str, float]) -> tuple[str, ...]:
    if not lengths:
        return ()
    return ("the length at the head is to the centre of the ridge: deduct for the ridge as for a common rafter",)
