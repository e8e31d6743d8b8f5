"""The birdsmouth that sits a rafter on its plate, and the third of the depth it may take."""

from msgspec import Struct

from sitelog.calculators.catalogue import Inputs, Outcome, Output, Verdict, Working, calculator, field
from sitelog.calculators.timber.stick import RAFTER
from sitelog.geometry.vectors import sin_deg
from sitelog.left_out import given_or
from sitelog.quantities.quantity import Section
from sitelog.quantities.rounding import as_typed, as_worked
from sitelog.refusal import Refusal

DEEPEST = 1 / 3  # of the rafter's depth, for a rafter tied at the eaves
NOTCH_SOURCE = "deepest birdsmouth a third of the depth: LABC guidance after the TRADA span tables"
PLATE = field("length", "width of the wall plate", default=100, over=0)
HELD = ("yes", "joists", "ties")  # and by what, where it is said
TIED = field(
    "choice",
    "what ties the eaves at every pair?",
    default=None,
    choices=(*HELD, "no", "not told"),
    unsaid="not told",
)


class Birdsmouth(Struct, frozen=True):
    """A birdsmouth as it is cut, mm. `wanted` is the depth asked for, `depth` that or what covers the plate.

    `fraction` is its depth over the rafter's, `pitch` in degrees, `tied` one of the input's choices or None.
    """

    wanted: float
    depth: float
    seat: float
    heel: float
    height_above_plate: float
    fraction: float
    pitch: float
    plate: float
    tied: str | None

    @property
    def verdict(self) -> Verdict | None:
        """The third is for tied eaves, so nothing is passed before it is told that they are."""
        if self.depth == 0:
            return "pass"
        if self.fraction > DEEPEST + 1e-9:
            return "fail"
        if self.tied is None:
            return None
        return "pass" if self.tied in HELD else "unsure"

    @property
    def cautions(self) -> tuple[str, ...]:
        """The ids of what is to be known before it is cut."""
        if self.verdict not in ("fail", "unsure"):
            return ()
        return ("notch-engineer",)

    @property
    def notes(self) -> tuple[str, ...]:
        """What a person should know of this birdsmouth, a line each."""
        if self.depth == 0:
            return ("no birdsmouth: the measuring line is the underside of the rafter, at the plate's edge",)
        said = []
        if self.fraction > DEEPEST + 1e-9:
            said.append(
                f"the birdsmouth takes {self.fraction:.1%} of the depth, more than a third:"
                " ask the engineer before you cut"
            )
        if self.depth < self.wanted:
            said.append(
                f"{as_worked(self.wanted)} deep would make a seat of "
                f"{as_worked(self.wanted / sin_deg(self.pitch))} on a plate of {as_typed(self.plate)}: cut it "
                f"{as_worked(self.depth)} deep, and the seat is as wide as the plate"
            )
        if self.tied in (None, "not told"):
            said.append("a third is only for eaves that are tied: say what ties them, or give tied=yes or tied=no")
        if self.tied == "no":
            said.append("a third is only for eaves that are tied, and these are not: ask the engineer")
        return tuple(said)


def cut_birdsmouth(
    working: Working, name: str, section: Section, pitch: float, wanted: float, plate: float, tied: str | None
) -> Birdsmouth:
    """The birdsmouth `wanted` mm deep, square to the edge, or as deep as its seat covers the plate [mm].

    Refusal if the one wanted takes the whole rafter or more.
    """
    if wanted >= section.depth - 1e-9:
        raise Refusal(
            f"{name}: a birdsmouth {as_worked(wanted)} mm deep is deeper than the {as_typed(section.depth)} "
            f"rafter allows; a third is {as_worked(section.depth / 3)}"
        )
    covers = working.step("depth_over_plate", "plate * sin(pitch)", plate=plate, pitch=pitch)
    depth = working.note("birdsmouth_depth", "the smaller of the two", min(wanted, covers))
    seat = working.step("seat", "birdsmouth_depth / sin(pitch)", birdsmouth_depth=depth, pitch=pitch)
    heel = working.step("heel", "birdsmouth_depth / cos(pitch)", birdsmouth_depth=depth, pitch=pitch)
    above = working.step(
        "height_above_plate",
        "(depth - birdsmouth_depth) / cos(pitch)",
        depth=section.depth,
        birdsmouth_depth=depth,
        pitch=pitch,
    )
    return Birdsmouth(wanted, depth, seat, heel, above, depth / section.depth, pitch, plate, tied)


class BirdsmouthInputs(Inputs):
    """What `birdsmouth` takes: lengths in mm, angles in degrees."""

    section: Section = field("section", "thickness x depth of the rafter", default=RAFTER)
    pitch: float = field("pitch", "slope of the rafter to level")
    plate: float = PLATE
    tied: str | None = TIED
    fraction: float | None = field("fraction", "depth, as a fraction of the rafter's; 1/3 if left out", default=None)
    seat: float | None = field("length", "level seat to cut, instead of the fraction", default=None, over=0)


@calculator(
    "birdsmouth",
    BirdsmouthInputs,
    branch="rafters",
    does="A birdsmouth: depth, seat and heel against the one-third limit",
    results=(
        Output("depth", "mm", "Depth, square to the edge"),
        Output("seat", "mm", "Level seat"),
        Output("heel", "mm", "Plumb face"),
        Output("height_above_plate", "mm", "Seat to top edge, plumb"),
        Output("fraction", "", "Fraction of the rafter's depth"),
    ),
    basis=f"geometry; {NOTCH_SOURCE}",
    definition=(
        "Depth is square to the rafter's edge, from the underside to the corner of the birdsmouth. The seat is "
        "level from that corner and the heel is plumb. If the seat would be longer than the plate is wide, the "
        "depth is reduced until the seat is as wide as the plate. A third of the depth is the most for a rafter "
        "held at the eaves by a ceiling tie (LABC guidance after the TRADA span tables). Deeper than that, or "
        "with nothing to tie the eaves, ask the engineer. With tied left out, nothing is passed or failed."
    ),
    example="section=47x150 pitch=35 plate=100 tied=yes",
)
def birdsmouth(given: BirdsmouthInputs) -> Outcome:
    """Depth, seat and heel in mm. Refusal for both a fraction and a seat, or for one that takes the whole rafter."""
    if given.fraction is not None and given.seat is not None:
        raise Refusal("birdsmouth: give fraction= or seat=, not both")
    working = Working()
    if given.seat is None:
        share = given_or(given.fraction, DEEPEST)
        wanted = working.step("depth_wanted", "fraction * depth", fraction=share, depth=given.section.depth)
    else:
        wanted = working.step("depth_wanted", "seat * sin(pitch)", seat=given.seat, pitch=given.pitch)
    notch = cut_birdsmouth(working, "birdsmouth", given.section, given.pitch, wanted, given.plate, given.tied)
    numbers = {"birdsmouth_depth": notch.depth, "depth": given.section.depth}
    share = working.step("fraction", "birdsmouth_depth / depth", "", **numbers)
    return Outcome(
        {
            "depth": notch.depth,
            "seat": notch.seat,
            "heel": notch.heel,
            "height_above_plate": notch.height_above_plate,
            "fraction": share,
        },
        working,
        verdict=notch.verdict,
        cautions=notch.cautions,
        notes=notch.notes,
    )
