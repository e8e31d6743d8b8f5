"""What timber to buy for a list of cuts, and what to saw from each stick."""

from collections import Counter
from collections.abc import Callable, Iterable, Iterator, Sequence
from itertools import groupby

from msgspec import Struct

from sitelog.calculators.catalogue import Inputs, Outcome, Output, Row, Working, calculator, field
from sitelog.calculators.timber.cutting.demand import CENTS, LONGEST, PARTS, Lot, lots_of
from sitelog.calculators.timber.cutting.hand import hand_plan
from sitelog.calculators.timber.cutting.order import Order, Plan
from sitelog.calculators.timber.weights import DENSITY, GUIDELINE_KG, timber_mass
from sitelog.quantities.quantity import Cut, Price
from sitelog.quantities.rounding import as_typed, places

SOLVER = "highspy>=1.8,<2"  # as the extra `order` in pyproject.toml has it
USABLE = 600.0  # mm; a noggin between rafters at 600 centres comes out of it (common practice)


class Planned(Struct, frozen=True):
    """A lot with its plan, and the least length in parts that any plan buys."""

    lot: Lot
    plan: Plan
    least_length: int


class StockInputs(Inputs):
    """What `stock` takes: lengths in mm."""

    cuts: Sequence[Cut] = field("cuts", "pieces, as section:length:count")
    kerf: float = field("length", "width of the saw cut", default=4.0, high=20)
    lengths: Sequence[float] | None = field(
        "lengths", "stock lengths; 1800 to 7200 by 300 if left out", default=None, over=0, high=LONGEST
    )
    prices: Sequence[Price] | None = field(
        "prices", "prices, as section:length:price; it then finds the cheapest", default=None
    )
    trim: float = field("length", "taken off each length first, to square its ends", default=0.0, high=1000)
    usable: float = field("length", "offcuts this long or longer are kept", default=USABLE, over=0)


@calculator(
    "stock",
    StockInputs,
    branch="timber",
    does="What timber to buy for a list of cuts, and how to cut each length",
    results=(
        Output(
            "buy",
            "",
            "to buy",
            (
                Output("section", "", "section"),
                Output("stock_length", "mm", "stock length"),
                Output("count", "", "how many"),
            ),
        ),
        Output(
            "plan",
            "",
            "cutting plan",
            (
                Output("n", "", "stick"),
                Output("section", "", "section"),
                Output("stock_length", "mm", "stock length"),
                Output("cuts", "", "pieces in mm"),
                Output("offcut", "mm", "offcut"),
            ),
        ),
        Output(
            "offcuts",
            "",
            "offcuts to keep",
            (Output("section", "", "section"), Output("length", "mm", "length"), Output("count", "", "how many")),
        ),
        Output("length_bought", "mm", "length bought"),
        Output("waste_percent", "%", "waste"),
        Output("bound", "mm", "shortest total possible"),
        Output("gap", "%", "over the shortest possible"),
        Output("cost", "", "cost at the prices given"),
    ),
    basis="geometry; the shortest total by linear programming (Gilmore and Gomory, 1961)",
    definition=(
        "Pieces fit a stock length if they and the saw cuts between them add up to no more than it. "
        "Pieces are long point to long point, and every length is worked out to 0.1 mm. Linear programming gives "
        "the shortest total: no plan from these stock lengths can buy less. With prices, a section is bought "
        "only in lengths that have a price (and are in `lengths`, if you give it), as cheaply as possible, which "
        "may not be the shortest total. A piece longer than any stock length is refused: ask the engineer about "
        "a joint. On the command line you can give members=FILE.csv instead of cuts."
    ),
    example="cuts=47x150:3780:14,47x150:2260:9,47x225:4950:4 lengths=3600,4200,4800,5400,6000",
)
def stock(given: StockInputs) -> Outcome:
    """Lengths in mm. Raises Refusal as `lots_of` does."""
    planned = _planned(lots_of(given.cuts, given.lengths, given.prices, given.kerf, given.trim))
    working = Working()
    lifting = tuple(_lifting(planned))
    return Outcome(
        {
            "buy": [*_bought(planned)],
            "plan": [*_sawn(planned)],
            "offcuts": [*_kept(planned, given.usable)],
            **_told(working, planned),
            "cost": sum(lot_plan.plan.cost for lot_plan in planned) / CENTS if given.prices else None,
        },
        working,
        cautions=("heavy-lift",) if lifting else (),
        notes=(*_nearness(planned), *lifting),
    )


def _planned(lots: Iterable[Lot]) -> list[Planned]:
    """By the solver; as at a saw bench where it is not installed."""
    least, plan = _solver() or (lambda order: hand_plan(order).bound, hand_plan)
    plans = [(lot, plan(lot.order)) for lot in lots]
    return [Planned(lot, made, least(lot.by_length) if lot.priced else made.bound) for lot, made in plans]


def _solver() -> tuple[Callable[[Order], int], Callable[[Order], Plan]] | None:
    """The bound of an order and its plan; None where the solver is not installed."""
    try:
        from sitelog.calculators.timber.cutting.solve import least, plan
    except ModuleNotFoundError as missing:
        if missing.name not in ("highspy", "numpy"):
            raise
        return None
    return least, plan


def _told(working: Working, planned: Sequence[Planned]) -> dict[str, float]:
    """The lengths of all sections together, and the least that could be bought."""
    pieces = sum(sum(stick.pieces) for lot_plan in planned for stick in lot_plan.plan.sticks) / PARTS
    length = sum(stick.stick + lot_plan.lot.trim for lot_plan in planned for stick in lot_plan.plan.sticks) / PARTS
    working.note("length_of_pieces", "each piece once", pieces)
    working.note("length_bought", "each length to buy", length)
    waste = working.step(
        "waste_percent",
        "(length_bought - length_of_pieces) / length_bought * 100",
        "%",
        length_bought=length,
        length_of_pieces=pieces,
    )
    bound = working.note(
        "bound",
        (
            "from the linear programme: the shortest total that these stock lengths can add up to and still hold "
            "every piece"
        ),
        sum(lot_plan.least_length for lot_plan in planned) / PARTS,
    )
    gap = working.step(
        "gap",
        "(length_bought - bound) / bound * 100",
        "%",
        length_bought=length,
        bound=bound,
    )
    return {"length_bought": length, "waste_percent": waste, "bound": bound, "gap": gap}


def _bought(planned: Iterable[Planned]) -> Iterator[Row]:
    """The order for the merchant, the longest first in each section."""
    for lot_plan in planned:
        for length, alike in groupby(map(lot_plan.lot.stock_length, lot_plan.plan.sticks)):
            yield {"section": str(lot_plan.lot.section), "stock_length": length, "count": len(list(alike))}


def _sawn(planned: Iterable[Planned]) -> Iterator[Row]:
    sticks = ((lot_plan.lot, stick) for lot_plan in planned for stick in lot_plan.plan.sticks)
    for n, (lot, stick) in enumerate(sticks, 1):
        yield {
            "n": n,
            "section": str(lot.section),
            "stock_length": lot.stock_length(stick),
            "cuts": " + ".join(_counted(stick.pieces)),
            "offcut": lot.offcut(stick),
        }


def _counted(pieces: Iterable[int]) -> Iterator[str]:
    """As they are sawn: `4870`, or `3 x 1200` for alike ones."""
    for piece, alike in groupby(pieces):
        count = len(list(alike))
        yield f"{count} x {as_typed(piece / PARTS)}" if count > 1 else as_typed(piece / PARTS)


def _kept(planned: Iterable[Planned], usable: float) -> Iterator[Row]:
    """The offcuts long enough to keep, the longest first in each section."""
    for lot_plan in planned:
        found = Counter(map(lot_plan.lot.offcut, lot_plan.plan.sticks))
        for length in sorted(found, reverse=True):
            if length >= usable:
                yield {"section": str(lot_plan.lot.section), "length": length, "count": found[length]}


def _nearness(planned: Sequence[Planned]) -> Iterator[str]:
    """How near the plan is to the best there can be, and whether that is proved."""
    priced = any(lot_plan.lot.priced for lot_plan in planned)
    plans = [lot_plan.plan for lot_plan in planned]
    cost, bound = sum(plan.cost for plan in plans), sum(max(plan.bound, plan.cost * plan.least) for plan in plans)
    if any(plan.stopped for plan in plans):
        yield "stopped early: this is the best plan found until then"
    if cost == bound:
        yield f"no other plan from these lengths {'is cheaper' if priced else 'buys less'}"
    elif priced:
        yield f"another plan may be cheaper, by at most {(cost - bound) / cost * 100:.2g} %"
    else:
        over = f"{as_typed((cost - bound) / PARTS)} mm ({(cost - bound) / cost * 100:.2g} %)"
        yield f"another plan may buy less, by at most {over}"
    if not _solver():
        yield f'cut the longest first; a solver finds shorter plans: pip install "{SOLVER}"'


def _lifting(planned: Iterable[Planned]) -> Iterator[str]:
    """The heaviest stick, if one person should not be asked to lift it."""
    mass, stick = max(
        (timber_mass(lot_plan.lot.section, length, DENSITY["C24"]), f"{lot_plan.lot.section} of {as_typed(length)}")
        for lot_plan in planned
        for length in map(lot_plan.lot.stock_length, lot_plan.plan.sticks)
    )
    if mass > GUIDELINE_KG[0]:
        yield f"heaviest length to unload: {stick}, is {places(mass, 0)} kg dry in C24; wet it is about a fifth more"
