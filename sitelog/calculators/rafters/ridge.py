"""The ridge over square plates: how long between the hips, and how long to cut it."""

from sitelog.calculators.catalogue import Inputs, Outcome, Output, Working, calculator, field
from sitelog.calculators.rafters.outlines import PitchesInputs, pitches_of
from sitelog.calculators.timber.stick import STOCK_LENGTHS, order_length
from sitelog.quantities.rounding import as_typed
from sitelog.refusal import Refusal

JOINT = "common practice: half a common's thickness past the last pair's centre at each hipped end"
GABLE = 90.0


class SquarePlates(Inputs):
    """Plates square to each other: mm."""

    length: float = field("length", "length of the plates along the ridge, AB and CD", over=0)
    width: float = field("length", "length of the plates across it, BC and DA", over=0)


class RidgeInputs(SquarePlates, PitchesInputs):
    """What `ridge` takes: lengths in mm, angles in degrees."""

    hips: int = field("count", "how many hipped ends: 2, 1 (over BC) or 0", default=2, high=2)
    thickness: float = field("length", "thickness of the common rafters", default=47)


@calculator(
    "ridge",
    RidgeInputs,
    branch="rafters",
    does="The ridge over square plates, hipped or gabled: length and cut length",
    results=(
        Output("rise", "mm", "Rise of the measuring line"),
        Output("ridge_length", "mm", "Ridge, centre to centre"),
        Output("allowance", "mm", "Added at each hipped end"),
        Output("cut_length", "mm", "Cut length"),
        Output("order_length", "mm", "Stock length to order"),
    ),
    basis=f"geometry; {JOINT}",
    definition=(
        "Length is between the points where the measuring lines of hips and commons meet, or to the outer face "
        "of the plate at a gable. The cut length adds half a common's thickness at each hipped end, so the last "
        "pair bears fully and the common of the hipped end butts the ridge (common practice). Nothing is added "
        "at a gable: add for the wall or the ladder as drawn."
    ),
    example="length=9000 width=6000 pitch=35",
)
def ridge(given: RidgeInputs) -> Outcome:
    # A gable is an upright slope: it takes no run, and its pitch is not asked.
    """Lengths in mm. Refusal where a slope has no pitch, or where the hips leave no ridge."""
    end_bc = GABLE if given.hips < 1 else given.pitch_bc
    end_da = GABLE if given.hips < 2 else given.pitch_da
    ab, bc, cd, da = pitches_of("ridge", given.pitch, given.pitch_ab, end_bc, given.pitch_cd, end_da)
    working = Working()
    rise = working.step(
        "rise",
        "width / (1 / tan(pitch_ab) + 1 / tan(pitch_cd))",
        width=given.width,
        pitch_ab=ab,
        pitch_cd=cd,
    )
    ends = {
        f"end_run_{side}": working.step(
            f"end_run_{side}",
            f"rise / tan(pitch_{side})",
            rise=rise,
            **{f"pitch_{side}": own},
        )
        for side, own in (("bc", bc), ("da", da))
        if own != GABLE
    }
    long = working.step(
        "ridge_length",
        " - ".join(("length", *ends)),
        length=given.length,
        **ends,
    )
    if long < 1e-6:
        raise Refusal(
            f"ridge: plates {as_typed(given.length)} long leave no ridge between the hips. Unless it is a pyramid, the "
            "ridge runs the other way: swap length and width, or use roof"
        )
    cut = working.step(
        "cut_length",
        "ridge_length + hips * thickness / 2",
        ridge_length=long,
        hips=given.hips,
        thickness=given.thickness,
    )
    order = order_length(cut)
    return Outcome(
        {
            "rise": rise,
            "ridge_length": long,
            "allowance": given.thickness / 2 if given.hips else 0.0,
            "cut_length": cut,
            "order_length": order,
        },
        working,
        cautions=() if order else ("joint-engineer",),
        notes=() if order else (f"longer than {STOCK_LENGTHS[-1]} mm: joint it where the engineer agrees",),
    )
