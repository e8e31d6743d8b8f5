"""What timber to buy for a list of cuts, and what to saw from each stick."""

from collections import Counter
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from itertools import groupby

from sitelog.quantity import Cut, Price, Section
from sitelog.refusal import Refusal
from sitelog.trade.catalogue import Input, Outcome, Output, Row, Working, calculator
from sitelog.trade.cutting import Order, Plan, Sawn
from sitelog.trade.stick import STOCK_LENGTHS
from sitelog.trade.timber import DENSITY, GUIDELINE_KG, timber_mass

SOLVER = "highspy>=1.8,<2"  # as the extra `order` in pyproject.toml has it
PARTS = 10  # of a millimetre: every length is worked to the nearest tenth
CENTS = 100  # of the money that prices are in
MOST_PIECES = 2_000
MOST_LENGTHS = 100  # different ones, of one section
LONGEST = 15_000.0  # mm; more than an ordinary lorry's bed carries (judgement)
USABLE = 600.0  # mm; a noggin between rafters at 600 centres comes out of it (common practice)


@dataclass(frozen=True)
class Lot:
    """One section: what is wanted of it, in tenths of a millimetre, and its plan."""

    section: Section
    order: Order
    plan: Plan
    least_length: int
    priced: bool


@calculator(
    "stock",
    branch="timber",
    does="What timber to buy for a list of cuts, and what to saw from each stick",
    inputs=(
        Input("cuts", "cuts", "the pieces, as section:length:count"),
        Input("kerf", "length", "what one cut of the saw takes", default=4.0, high=20),
        Input(
            "lengths", "lengths", "stock lengths; 1800 to 7200 by 300 if left out", optional=True, over=0, high=LONGEST
        ),
        Input("prices", "prices", "price of a stick, as section:length:price; the cheapest is sought", optional=True),
        Input("trim", "length", "taken off each stick first, to square its ends", default=0.0, high=1000),
        Input("usable", "length", "an offcut of this length is kept", default=USABLE, over=0),
    ),
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
        Output("waste_percent", "%", "bought and in no piece"),
        Output("bound", "mm", "least length of any plan"),
        Output("gap", "%", "bought over the least length"),
        Output("cost", "", "cost at the prices given"),
    ),
    basis="geometry; the least length by linear programming (Gilmore and Gomory, 1961)",
    definition=(
        "n pieces come out of a stick when they and the n - 1 cuts between them, each a kerf wide, are no longer than"
        " it is; the cut that frees the last takes what is left up to a kerf. Pieces lie long point to long point and"
        " every length is worked to 0.1 mm. The least length is proved by the linear programme: no plan from these"
        " stock lengths buys less. With prices a section is bought only in the lengths that are priced (of those, in"
        " `lengths` if given), as cheaply as can be, which need not be the least length. A piece longer than any stick"
        " is refused: a joint in it is the engineer's. At the command line members=FILE.csv stands for the cuts."
    ),
    example="cuts=47x150:3780:14,47x150:2260:9,47x225:4950:4 lengths=3600,4200,4800,5400,6000",
)
def stock(
    *,
    cuts: Sequence[Cut],
    kerf: float,
    lengths: Sequence[float] | None,
    prices: Sequence[Price] | None,
    trim: float,
    usable: float,
) -> Outcome:
    priced = _priced(prices or ())
    lots = [
        _lot(section, wanted, _sticks(section, lengths, priced), kerf, trim)
        for section, wanted in _wanted(cuts).items()
    ]
    sawn = [(lot, stick) for lot in lots for stick in lot.plan.sticks]
    w = Working()
    told = _told(w, lots, trim)
    cost = sum(lot.plan.cost for lot in lots) / CENTS if priced else None
    plan = [_row(n, lot, stick, trim) for n, (lot, stick) in enumerate(sawn, 1)]
    return Outcome(
        {"buy": _bought(lots, trim), "plan": plan, "offcuts": _kept(lots, usable), **told, "cost": cost},
        w,
        cautions=("heavy-lift",) if _heaviest(sawn, trim)[0] > GUIDELINE_KG[0] else (),
        notes=(*_nearness(lots), *_lifting(sawn, trim)),
    )


def _parts(mm: float) -> int:
    return round(mm * PARTS)


def _wanted(cuts: Sequence[Cut]) -> dict[Section, dict[int, int]]:
    """Counts by length for each section, nominal and metric names of one size together."""
    wanted: dict[Section, dict[int, int]] = {}
    for cut in cuts:
        if not _parts(cut.length):
            raise Refusal(f"stock: cuts has a {cut.section} of {cut.length:g} mm; a piece is at least 0.1 mm long")
        if cut.count % 1:
            raise Refusal(f"stock: cuts has {cut.count:g} of {cut.section}:{cut.length:g}; count is a whole number")
        of_section = wanted.setdefault(_plain(cut.section), {})
        of_section[_parts(cut.length)] = of_section.get(_parts(cut.length), 0) + cut.count
    if not wanted:
        raise Refusal("stock: cuts has no piece; give at least one as section:length:count")
    if (pieces := sum(cut.count for cut in cuts)) > MOST_PIECES:
        raise Refusal(f"stock: cuts has {pieces} pieces; at most {MOST_PIECES} are worked at once")
    for section, of_section in wanted.items():
        if len(of_section) > MOST_LENGTHS:
            raise Refusal(
                f"stock: cuts has {len(of_section)} lengths of {section}; at most {MOST_LENGTHS} are worked at once"
            )
    return wanted


def _plain(section: Section) -> Section:
    return Section(section.thickness, section.depth)


def _priced(prices: Sequence[Price]) -> dict[Section, dict[int, int]]:
    """What a stick costs in hundredths, by section and length."""
    priced: dict[Section, dict[int, int]] = {}
    for price in prices:
        if not 0 < price.length <= LONGEST:
            raise Refusal(
                f"stock: prices has a stick of {price.length:g} mm; it must be over 0 and at most {LONGEST:g}"
            )
        if not 0.01 <= price.each < 1e9:
            raise Refusal(f"stock: prices has {price.each:g} for {price.section}:{price.length:g}; it is at least 0.01")
        of_section = priced.setdefault(_plain(price.section), {})
        if of_section.setdefault(_parts(price.length), each := round(price.each * CENTS)) != each:
            raise Refusal(f"stock: prices has two for {price.section}:{price.length:g}; give one")
    return priced


def _sticks(
    section: Section, lengths: Sequence[float] | None, priced: Mapping[Section, Mapping[int, int]]
) -> dict[int, int]:
    """The stock lengths of the section, with what one costs: its price, or its own length without prices."""
    kept = [_parts(mm) for mm in (STOCK_LENGTHS if lengths is None else lengths)]
    if not priced:
        return {length: length for length in kept if length}
    if section not in priced:
        raise Refusal(f"stock: prices has none for {section}; price each section or leave prices out")
    sticks = {length: each for length, each in priced[section].items() if lengths is None or length in kept}
    if not sticks:
        raise Refusal(f"stock: prices has none for {section} at any of the lengths given")
    return sticks


def _lot(section: Section, wanted: Mapping[int, int], sticks: Mapping[int, int], kerf: float, trim: float) -> Lot:
    room = max(sticks) - _parts(trim)
    if max(wanted) > room:
        raise Refusal(
            f"stock: cuts has a {section} of {max(wanted) / PARTS:g} and the longest stick gives {room / PARTS:g} mm: a"
            " joint in it is the engineer's to decide; else name a longer stock length"
        )
    squared = {length - _parts(trim): cost for length, cost in sticks.items() if length > _parts(trim)}
    order = Order(wanted, squared, _parts(kerf))
    by_length = Order(wanted, {length: length + _parts(trim) for length in squared}, order.kerf)
    try:
        from sitelog.trade.programme import least, plan
    except ModuleNotFoundError as missing:
        if missing.name not in ("highspy", "numpy"):
            raise
        raise Refusal(f'stock needs a solver that is not installed; run: pip install "{SOLVER}"') from None
    found = plan(order)
    priced = order != by_length
    return Lot(section, order, found, least(by_length) if priced else found.bound, priced)


def _told(w: Working, lots: Sequence[Lot], trim: float) -> dict[str, float]:
    """The lengths of all sections together."""
    sticks = [stick for lot in lots for stick in lot.plan.sticks]
    pieces = sum(sum(stick.pieces) for stick in sticks) / PARTS
    length = sum(stick.stick + _parts(trim) for stick in sticks) / PARTS
    w.note("length_of_pieces", "every piece once", pieces)
    w.note("length_bought", "every stick to buy", length)
    waste = w.step(
        "waste_percent",
        "(length_bought - length_of_pieces) / length_bought * 100",
        (length - pieces) / length * 100,
        "%",
        length_bought=length,
        length_of_pieces=pieces,
    )
    bound = w.note(
        "bound",
        "what the pieces are worth at prices under which no stick yields more than its own length, taken up to the"
        " next length that sticks can add to",
        sum(lot.least_length for lot in lots) / PARTS,
    )
    gap = w.step(
        "gap",
        "(length_bought - bound) / bound * 100",
        (length - bound) / bound * 100,
        "%",
        length_bought=length,
        bound=bound,
    )
    return {"length_bought": length, "waste_percent": waste, "bound": bound, "gap": gap}


def _bought(lots: Iterable[Lot], trim: float) -> list[Row]:
    """The order for the merchant, the longest first in each section."""
    return [
        {"section": str(lot.section), "stock_length": (stick + _parts(trim)) / PARTS, "count": len(list(alike))}
        for lot in lots
        for stick, alike in groupby(lot.plan.sticks, key=lambda one: one.stick)
    ]


def _row(n: int, lot: Lot, stick: Sawn, trim: float) -> Row:
    return {
        "n": n,
        "section": str(lot.section),
        "stock_length": (stick.stick + _parts(trim)) / PARTS,
        "cuts": " + ".join(_counted(stick.pieces)),
        "offcut": stick.offcut(lot.order.kerf) / PARTS,
    }


def _counted(pieces: Iterable[int]) -> Iterator[str]:
    """As they are sawn: `4870`, or `3 x 1200` for alike ones."""
    for piece, alike in groupby(pieces):
        count = len(list(alike))
        yield f"{count} x {piece / PARTS:.10g}" if count > 1 else f"{piece / PARTS:.10g}"


def _kept(lots: Iterable[Lot], usable: float) -> list[Row]:
    """The offcuts long enough to keep, the longest first in each section."""
    rows: list[Row] = []
    for lot in lots:
        found = Counter(stick.offcut(lot.order.kerf) for stick in lot.plan.sticks)
        rows += [
            {"section": str(lot.section), "length": length / PARTS, "count": found[length]}
            for length in sorted(found, reverse=True)
            if length >= _parts(usable)
        ]
    return rows


def _nearness(lots: Sequence[Lot]) -> Iterator[str]:
    """How near the plan is to the best there can be."""
    priced = any(lot.priced for lot in lots)
    if all(lot.plan.least for lot in lots):
        yield f"no plan from these sticks {'is cheaper' if priced else 'buys less'}"
    elif priced:
        cost, bound = (sum(costs) for costs in zip(*((lot.plan.cost, lot.plan.bound) for lot in lots), strict=True))
        yield f"no plan from these sticks is more than {(cost - bound) / cost * 100:.2g} % cheaper"


def _heaviest(sawn: Iterable[tuple[Lot, Sawn]], trim: float) -> tuple[float, str]:
    """The mass in kg of the heaviest stick, dry C24, and what it is."""
    return max(
        (timber_mass(lot.section, mm, DENSITY["C24"]), f"{lot.section} of {mm:g}")
        for lot, stick in sawn
        for mm in [(stick.stick + _parts(trim)) / PARTS]
    )


def _lifting(sawn: Iterable[tuple[Lot, Sawn]], trim: float) -> Iterator[str]:
    mass, named = _heaviest(sawn, trim)
    if mass > GUIDELINE_KG[0]:
        yield f"the heaviest stick to unload, {named}, is {mass:.0f} kg dry in C24; wet it is about a fifth more"
