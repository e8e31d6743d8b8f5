"""What a timber weighs, and when that is more than one person should be asked to lift."""

from sitelog.calculators.catalogue import Inputs, Outcome, Output, Working, calculator, field
from sitelog.quantities.quantity import Section
from sitelog.quantities.reading import NOMINAL_DEPTH
from sitelog.quantities.rounding import as_typed, as_worked
from sitelog.refusal import Refusal

DENSITY = {"C16": 370.0, "C24": 420.0}  # kg/m3, mean; BS EN 338:2016, Table 1
# Guideline filter weights held close at elbow to knuckle height, for women and for men. They say when to stop
# and assess; they are not limits, and the law sets none. HSE INDG143 (rev 4), lifting figure, from memory.
GUIDELINE_KG = (16.0, 25.0)


def lifting_caution(mass: float) -> tuple[str, ...]:
    """The id of the caution on a piece that heavy [kg], if it is over the lower guideline filter for one person."""
    if mass > GUIDELINE_KG[0]:
        return ("heavy-lift",)
    return ()


def timber_mass(section: Section, length_mm: float, density: float) -> float:
    """Mass [kg] of a timber: section and length in mm, density in kg/m3."""
    return section.thickness * section.depth * length_mm * density / 1e9


def ripped_from(thickness: float, thick: float) -> Section:
    """The yard's section that a taper so thick [mm] at its thick end is ripped from; Refusal if none is so deep.

    Depths that merchants keep: common practice, from memory.
    """
    deep = sorted(NOMINAL_DEPTH.values())
    for depth in deep:
        if thick <= depth + 1e-6:
            return Section(thickness, float(depth))
    raise Refusal(f"{as_worked(thick)} at the thick end; the deepest stock section is {deep[-1]}. Build it up")


class MassInputs(Inputs):
    """What `mass` takes: lengths in mm."""

    section: Section = field("section", "thickness x depth")
    length: float = field("length", "length of one piece", over=0)
    grade: str = field("choice", "strength class stamped on it", default="C24", choices=tuple(DENSITY))
    density: float | None = field(
        "number", "density in kg/m3, instead of the grade's", default=None, over=0, high=2000, unit="kg/m3"
    )
    count: int = field("count", "how many pieces", default=1, low=1)


@calculator(
    "mass",
    MassInputs,
    branch="timber",
    does="Weight of a timber, and whether one person can lift it",
    results=(
        Output("mass_per_metre", "kg", "Weight per metre"),
        Output("mass_each", "kg", "Weight of one piece"),
        Output("mass_all", "kg", "Total weight"),
    ),
    basis="BS EN 338:2016, Table 1, mean density",
    definition=(
        "Section times length times the mean density of the strength class: C16 370, C24 420 kg/m3 (BS EN "
        "338:2016, Table 1). That is for dry timber: allow about a fifth more when wet (judgement). A piece over "
        "the guideline filters of 16 kg for women and 25 kg for men (HSE INDG143, from memory) is marked. They "
        "are not limits: they show when to plan the lift."
    ),
    example="section=47x225 length=5100 grade=C24",
)
def mass(given: MassInputs) -> Outcome:
    """Weights in kg, dry."""
    working = Working()
    each_metre = working.step(
        "mass_per_metre",
        "thickness / 1000 * depth / 1000 * density",
        "kg",
        thickness=given.section.thickness,
        depth=given.section.depth,
        density=given.density or DENSITY[given.grade],
    )
    each = working.step(
        "mass_each",
        "mass_per_metre * length / 1000",
        "kg",
        mass_per_metre=each_metre,
        length=given.length,
    )
    every = working.step("mass_all", "count * mass_each", "kg", count=given.count, mass_each=each)
    return Outcome(
        {"mass_per_metre": each_metre, "mass_each": each, "mass_all": every},
        working,
        cautions=lifting_caution(each),
        notes=_lifting(each, given.count),
        basis="density as typed" if given.density else f"BS EN 338:2016, Table 1, {given.grade} mean density",
    )


def _lifting(each: float, count: int) -> tuple[str, ...]:
    wet = "dry weight; allow about a fifth more when wet"
    over = [kg for kg in GUIDELINE_KG if each > kg]
    if not over:
        return (wet,)
    piece = "the piece is" if count == 1 else "each piece is"
    return (
        wet,
        (
            f"{piece} over the {' and the '.join(f'{as_typed(kg)} kg' for kg in over)} guideline filter for one "
            "person: plan the lift (it is not a legal limit)"
        ),
    )
