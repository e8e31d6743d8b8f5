"""One stick of timber to buy for one piece: the stock length it comes out of, and what it weighs."""

from msgspec import Struct

from sitelog.calculators.catalogue import Output, Working
from sitelog.calculators.timber.weights import DENSITY, lifting_caution
from sitelog.quantities.quantity import Section
from sitelog.quantities.rounding import as_worked

STOCK_LENGTHS = tuple(range(1800, 7201, 300))  # mm; the lengths a merchant keeps (common practice)
RAFTER = Section(47, 150)  # a rafter if nobody says another
HIP = Section(47, 225)  # a hip over such rafters: deep enough for the whole plumb cut of its jacks
LITTLE_TO_SPARE = 20  # mm; under this the ends can't be squared off twice (common practice)
OUTPUTS = (
    Output("overall_length", "mm", "Long point to long point"),
    Output("order_length", "mm", "Stock length to order"),
    Output("mass", "kg", "Weight as cut, C24"),
)


class Stick(Struct, frozen=True):
    """A piece `overall` mm long, long point to long point; `order` is None when no stock length holds it."""

    overall: float
    order: float | None
    mass: float

    @property
    def results(self) -> dict[str, float | None]:
        """The values of OUTPUTS: mm, mm and kg."""
        return {"overall_length": self.overall, "order_length": self.order, "mass": self.mass}

    @property
    def cautions(self) -> tuple[str, ...]:
        """The ids of what is to be known before it is ordered or carried."""
        joint = ("joint-engineer",) if self.order is None else ()
        return (*joint, *lifting_caution(self.mass))

    @property
    def notes(self) -> tuple[str, ...]:
        """What a person should know of the stick, a line each."""
        if self.order is None:
            return (
                f"longer than the longest stock length, {STOCK_LENGTHS[-1]} mm: order it specially, or agree a "
                "joint with the engineer first",
            )
        spare = self.order - self.overall
        if spare < LITTLE_TO_SPARE:
            return (
                f"only {as_worked(spare)} mm to spare in {as_worked(self.order)}: measure the stick"
                " before you square its ends",
            )
        return ()


def order_length(overall: float) -> float | None:
    """The next stock length [mm] that holds a piece [mm]; None if none does."""
    return next((float(stock) for stock in STOCK_LENGTHS if stock >= overall), None)


def overall_length(
    working: Working, section: Section, pitch: float, to_ridge: float, tail: float, name: str = "overall_length"
) -> float:
    """Long point to long point [mm] of a rafter cut plumb at head and tail, the whole of its depth."""
    return working.step(
        name,
        "length_to_ridge + tail_length + depth * tan(plumb_cut)",
        length_to_ridge=to_ridge,
        tail_length=tail,
        depth=section.depth,
        plumb_cut=pitch,
    )


def stick(working: Working, section: Section, overall: float) -> Stick:
    """The stick for a piece `overall` mm long, told as two steps of the working.

    The mass is of the cut piece in C24 at its mean density, dry (BS EN 338:2016, Table 1).
    """
    order = order_length(overall)
    if order is not None:
        working.note("order_length", "the next stock length that holds it", order)
    mass = working.step(
        "mass",
        "thickness / 1000 * depth / 1000 * overall_length / 1000 * density",
        "kg",
        thickness=section.thickness,
        depth=section.depth,
        overall_length=overall,
        density=DENSITY["C24"],
    )
    return Stick(overall, order, mass)
