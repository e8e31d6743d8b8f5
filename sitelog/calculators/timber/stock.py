"""What timber to buy for a list of cuts, and what to saw from each stick."""

from collections.abc import Sequence

from sitelog.calculators.catalogue import Inputs, Outcome, Output, Working, calculator, field
from sitelog.calculators.timber import stock_rows
from sitelog.calculators.timber.cutting.demand import CENTS, LONGEST, lots_of
from sitelog.calculators.timber.cutting.supply import Supply
from sitelog.calculators.timber.planning import SOLVER as SOLVER
from sitelog.calculators.timber.planning import planned
from sitelog.quantities.quantity import Cut, Price

USABLE = 600.0  # mm; a noggin between rafters at 600 centres comes out of it (common practice)


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
    on_site: Sequence[Cut] | None = field(
        "cuts", "sticks and offcuts on site, as section:length:count; they are used first", default=None
    )
    sold: Sequence[Cut] | None = field(
        "cuts", "what is sold in packs, as section:length:number in a pack", default=None
    )


@calculator(
    "stock",
    StockInputs,
    branch="timber",
    does="What timber to buy for a list of cuts, and how to cut each length",
    results=(
        Output("from_site", "", "use first, from site", stock_rows.FROM_SITE),
        Output("buy", "", "to buy", stock_rows.BUY),
        Output("packs", "", "whole packs", stock_rows.PACKS),
        Output("plan", "", "cutting plan", stock_rows.PLAN),
        Output("offcuts", "", "offcuts to keep", stock_rows.OFFCUTS),
        Output("length_bought", "mm", "length bought"),
        Output("waste_percent", "%", "waste"),
        Output("bound", "mm", "shortest total possible"),
        Output("gap", "%", "over the shortest possible"),
        Output("cost", "price", "cost at the prices given"),
    ),
    basis="geometry; the shortest total by linear programming (Gilmore and Gomory, 1961)",
    definition=(
        "Pieces fit a stock length if they and the saw cuts between them add up to no more than it. "
        "Pieces are long point to long point, and every length is worked out to 0.1 mm. Linear programming gives "
        "the shortest total: no plan from these stock lengths can buy less. With prices, a section is bought "
        "only in lengths that have a price (and are in `lengths`, if you give it), as cheaply as possible, which "
        "may not be the shortest total. Sticks in `on_site` cost nothing and are used first; `trim` comes off them "
        "too. A section in `sold` is bought only in the lengths there and in whole packs; 1 is sold singly. "
        "A piece longer than any stock length is refused, unless a stick on site holds it: ask the engineer about "
        "a joint. On the command line you can give members=FILE.csv instead of cuts."
    ),
    example="cuts=47x150:3780:14,47x150:2260:9,47x225:4950:4 lengths=3600,4200,4800,5400,6000",
)
def stock(given: StockInputs) -> Outcome:
    """Lengths in mm. Raises Refusal as `lots_of` and `planned` do."""
    supply = Supply(given.lengths, given.prices, given.on_site, given.sold)
    plans = planned(lots_of(given.cuts, supply, given.kerf, given.trim))
    working = Working()
    lifting = tuple(stock_rows.lifting(plans))
    return Outcome(
        {
            "from_site": [*stock_rows.from_site(plans)],
            "buy": [*stock_rows.bought(plans)],
            "packs": [*stock_rows.packed(plans)],
            "plan": [*stock_rows.sawn(plans)],
            "offcuts": [*stock_rows.kept(plans, given.usable)],
            **stock_rows.lengths(working, plans),
            "cost": sum(one.plan.cost for one in plans) / CENTS if given.prices else None,
        },
        working,
        cautions=("heavy-lift",) if lifting else (),
        notes=(*stock_rows.nearness(plans), *lifting),
    )
