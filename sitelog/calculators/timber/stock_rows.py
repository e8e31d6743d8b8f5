"""What the answer of `stock` has in it: what to buy, what is sawn from which stick, what is over, and what to know."""

from collections import Counter
from collections.abc import Iterable, Iterator, Sequence
from itertools import groupby

from sitelog.calculators.catalogue import Output, Row, Working
from sitelog.calculators.timber.cutting.order import Sawn
from sitelog.calculators.timber.cutting.supply import PARTS
from sitelog.calculators.timber.planning import SOLVER, Planned, solver
from sitelog.calculators.timber.weights import DENSITY, GUIDELINE_KG, timber_mass
from sitelog.quantities.rounding import as_typed, places

SECTION = Output("section", "", "section")
CUTS = Output("cuts", "", "pieces in mm")
STOPPED = "stopped early: this is the best plan found until then"
OFFCUT = Output("offcut", "mm", "offcut")
BUY = (SECTION, Output("stock_length", "mm", "stock length"), Output("count", "", "how many"))
FROM_SITE = (SECTION, Output("length", "mm", "length"), CUTS, OFFCUT)
PLAN = (Output("n", "", "stick"), *BUY[:2], CUTS, OFFCUT)
OFFCUTS = (SECTION, Output("length", "mm", "length"), Output("count", "", "how many"))
PACKS = (
    *BUY[:2],
    Output("pack", "", "in a pack"),
    Output("packs", "", "packs"),
    Output("spare", "", "spare lengths"),
)


def bought(planned: Iterable[Planned]) -> Iterator[Row]:
    """The order for the merchant, the longest first in each section; of what is sold in packs, all that is in them."""
    for one in planned:
        for stick, used in _used(one):
            pack = one.lot.packs.get(stick, 1)
            yield _stick(one, stick) | {"count": -(-used // pack) * pack}


def packed(planned: Iterable[Planned]) -> Iterator[Row]:
    """How many packs, and how many sticks of them are over."""
    for one in planned:
        for stick, used in _used(one):
            if pack := one.lot.packs.get(stick):
                packs = -(-used // pack)
                yield _stick(one, stick) | {"pack": pack, "packs": packs, "spare": packs * pack - used}


def sawn(planned: Iterable[Planned]) -> Iterator[Row]:
    """What is sawn from each stick that is bought."""
    sticks = ((one, stick) for one in planned for stick in one.bought)
    for n, (one, stick) in enumerate(sticks, 1):
        yield {"n": n, **_stick(one, stick.stick), **_cut(one, stick)}


def from_site(planned: Iterable[Planned]) -> Iterator[Row]:
    """What is sawn from each stick that is on site, the longest first in each section."""
    for one in planned:
        for stick in one.on_site:
            length = one.lot.stock_length(stick.stick)
            yield {"section": str(one.lot.section), "length": length, **_cut(one, stick)}


def kept(planned: Iterable[Planned], usable: float) -> Iterator[Row]:
    """The offcuts long enough to keep, the longest first in each section."""
    for one in planned:
        found = Counter(map(one.lot.offcut, one.plan.sticks))
        for length in sorted(found, reverse=True):
            if length >= usable:
                yield {"section": str(one.lot.section), "length": length, "count": found[length]}


def lengths(working: Working, planned: Sequence[Planned]) -> dict[str, float | None]:
    """The lengths of all sections together, and the least that could be bought."""
    pieces = sum(sum(stick.pieces) for one in planned for stick in one.plan.sticks) / PARTS
    length = sum(float(row["stock_length"] or 0) * int(row["count"] or 0) for row in bought(planned))
    working.note("length_of_pieces", "each piece once", pieces)
    working.note("length_bought", "each length to buy", length)
    waste = _waste(working, planned, length, pieces)
    bound = working.note(
        "bound",
        (
            "from the linear programme: the shortest total that these stock lengths can add up to and still hold "
            "every piece"
        ),
        sum(one.least_length for one in planned) / PARTS,
    )
    return {"length_bought": length, "waste_percent": waste, "bound": bound, "gap": _gap(working, length, bound)}


def _gap(working: Working, length: float, bound: float) -> float | None:
    """How much more is bought than the bound [%]; None where that is nothing and some is bought."""
    if bound:
        return working.step("gap", "(length_bought - bound) / bound * 100", "%", length_bought=length, bound=bound)
    return None if length else working.note("gap", "nothing has to be bought", 0.0, "%")


def _waste(working: Working, planned: Sequence[Planned], length: float, pieces: float) -> float:
    """What is neither piece nor spare stick, of all that is sawn [%]."""
    spare = sum(float(row["stock_length"] or 0) * int(row["spare"] or 0) for row in packed(planned))
    here = sum(float(row["length"] or 0) for row in from_site(planned))
    if not (spare or here):
        formula = "(length_bought - length_of_pieces) / length_bought * 100"
        return working.step("waste_percent", formula, "%", length_bought=length, length_of_pieces=pieces)
    working.note("length_from_site", "each stick from site that is sawn", here)
    working.note("length_spare", "each stick of a pack that is over", spare)
    sawn_up = working.step(
        "length_sawn",
        "length_bought - length_spare + length_from_site",
        length_bought=length,
        length_spare=spare,
        length_from_site=here,
    )
    formula = "(length_sawn - length_of_pieces) / length_sawn * 100"
    return working.step("waste_percent", formula, "%", length_sawn=sawn_up, length_of_pieces=pieces)


def nearness(planned: Sequence[Planned]) -> Iterator[str]:
    """How near the plan is to the best there can be, and whether that is proved."""
    priced = any(one.lot.priced for one in planned)
    plans = [one.plan for one in planned]
    cost, bound = sum(plan.cost for plan in plans), sum(max(plan.bound, plan.cost * plan.least) for plan in plans)
    if any(plan.stopped for plan in plans):
        yield STOPPED
    if cost == bound:
        yield f"no other plan from these lengths {'is cheaper' if priced else 'buys less'}"
    elif priced:
        yield f"another plan may be cheaper, by at most {(cost - bound) / cost * 100:.2g} %"
    else:
        over = f"{as_typed((cost - bound) / PARTS)} mm ({(cost - bound) / cost * 100:.2g} %)"
        yield f"another plan may buy less, by at most {over}"
    if not solver():
        yield f'cut the longest first; a solver finds shorter plans: pip install "{SOLVER}"'


def lifting(planned: Iterable[Planned]) -> Iterator[str]:
    """The heaviest stick to buy, if one person should not be asked to lift it."""
    mass, stick = max(
        (
            (timber_mass(one.lot.section, length, DENSITY["C24"]), f"{one.lot.section} of {as_typed(length)}")
            for one in planned
            for length in (one.lot.stock_length(stick.stick) for stick in one.bought)
        ),
        default=(0.0, ""),
    )
    if mass > GUIDELINE_KG[0]:
        yield f"heaviest length to unload: {stick}, is {places(mass, 0)} kg dry in C24; wet it is about a fifth more"


def _used(one: Planned) -> Iterator[tuple[int, int]]:
    """How many sticks of each length are sawn that are bought."""
    for stick, alike in groupby(one.bought, key=lambda each: each.stick):
        yield stick, len(list(alike))


def _stick(one: Planned, stick: int) -> Row:
    return {"section": str(one.lot.section), "stock_length": one.lot.stock_length(stick)}


def _cut(one: Planned, stick: Sawn) -> Row:
    return {"cuts": " + ".join(_counted(stick.pieces)), "offcut": one.lot.offcut(stick)}


def _counted(pieces: Iterable[int]) -> Iterator[str]:
    """As they are sawn: `4870`, or `3 x 1200` for alike ones."""
    for piece, alike in groupby(pieces):
        count = len(list(alike))
        yield f"{count} x {as_typed(piece / PARTS)}" if count > 1 else as_typed(piece / PARTS)
