"""The order as a page: what is used from site, what to buy at what cost, how each is cut, and what is left out."""

from collections.abc import Iterable, Iterator, Sequence
from itertools import groupby
from pathlib import Path

from sitelog.calculators import index, sheet
from sitelog.job.buying import Purchase, buy
from sitelog.job.members import Line
from sitelog.job.sources import Terms
from sitelog.job.yard import YARD
from sitelog.quantities.quantity import Units, show
from sitelog.quantities.rounding import places
from sitelog.refusal import Refusal
from sitelog.reports.model import Block, Table, Words

FOR_THE_YARD = ("buy", "packs", "from_site")


def order_pages(
    lines: Sequence[Line], units: Units, terms: Terms | None = None
) -> tuple[tuple[Block, ...], tuple[Block, ...]]:
    """What to buy for the lines, for the yard; and how each stick is sawn, for the bench.

    Where it can't be worked the first says why in one line, and the second is empty.
    """
    try:
        purchase = buy(lines, terms)
    except Refusal as refusal:
        return (Words(f"Can't work out what to buy: {refusal.message}.", strong=True),), ()
    plan = _table(purchase, "plan", units)
    return tuple(_for_the_yard(purchase, units)), (Table(*_sticks(plan), caption=plan.caption),) if plan else ()


def _for_the_yard(purchase: Purchase, units: Units) -> Iterator[Block]:
    yield from (Words(said, strong=True) for said in not_bought(purchase, units))
    yield from filter(None, (_table(purchase, name, units) for name in FOR_THE_YARD))
    yield Words(" ".join(_summed(purchase)))
    yield from (Words(f"{note[:1].upper()}{note[1:]}.") for note in purchase.answer.notes)


def _table(purchase: Purchase, name: str, units: Units) -> Table | None:
    """One of the tables of `stock`, if it has a row."""
    rows = purchase.answer.results[name]
    assert isinstance(rows, list)
    if not rows:
        return None
    result = next(result for result in index.find("stock").results if result.name == name)
    shown = sheet.table(result, rows, units)
    return Table(shown.header, shown.rows, caption=result.says.capitalize())


def _sticks(plan: Table) -> tuple[tuple[str, ...], tuple[tuple[str, ...], ...]]:
    """The plan with one row for sticks that are sawn alike: their numbers, how many, and how."""
    rows = []
    for sawn, alike in groupby(plan.rows, key=lambda row: row[1:]):
        numbers = [row[0] for row in alike]
        rows.append((" to ".join(dict.fromkeys((numbers[0], numbers[-1]))), str(len(numbers)), *sawn))
    return (plan.heads[0], "How many", *plan.heads[1:]), tuple(rows)


def _summed(purchase: Purchase) -> Iterator[str]:
    """The cost, where there are prices, and what is wasted."""
    results = purchase.answer.results
    if isinstance(cost := results["cost"], (int, float)):
        whose = f"the prices in {purchase.yard}" if purchase.priced_by_yard else "the prices given"
        yield f"Total {places(cost, 2)} at {whose}{', whole packs counted' if results['packs'] else ''}."
    yield f"Waste: {show('', results['waste_percent'])} %. Lengths are rounded up to the mm."  # type: ignore[arg-type]


def not_bought(purchase: Purchase, units: Units = "metric") -> Iterator[str]:
    """Which yard it is from, what the order leaves out, a line each kind; what it takes in pieces or rips in two."""
    if purchase.yard:
        yield f"The yard's lengths are from {purchase.yard}."
    if special := _named(purchase.special):
        yield f"Longer than any stock length, so not ordered. Ask the engineer about a joint: {special}."
    if purchase.unsold:
        told = "; ".join(_by_section(purchase.unsold))
        yield f"Not in {purchase.yard}, so not ordered: {told}. Add what the yard sells, or buy it elsewhere."
    yield from _left(purchase.left)
    for one in purchase.joined:
        joint = f"with joints of {show('mm', one.lap, units)}" if one.lap else "butted"
        yield f"{one.says}: {one.count} pieces of {show('mm', one.length, units)}, {joint}."
    for section, count in purchase.pairs:
        pieces = f"{count} pieces of {section} are each" if count != 1 else f"1 piece of {section} is"
        yield f"{pieces} ripped into two firrings, head to foot, one saw cut between them."


def _left(lines: Sequence[Line]) -> Iterator[str]:
    """What can't be ordered yet, by why."""
    for stale in (True, False):
        left = dict.fromkeys(line.says for line in lines if (line.standing == "stale") == stale)
        if left:
            why = "a figure it uses is out of date" if stale else "see the list for what is needed"
            yield f"Not ordered, {why}: {', '.join(left)}."


def _by_section(lines: Sequence[Line]) -> Iterator[str]:
    """Each section with its timbers."""
    for section in dict.fromkeys(str(line.member.section) for line in lines if line.member):
        yield f"{section} ({_named(lines, section)})"


def yard_told(yard: Path | None) -> str:
    """Whose lengths an order buys, for a form that is still empty."""
    if yard is None:
        return f"No {YARD} beside the job: the usual lengths are used."
    where = "in the job's own folder" if yard.parent.name.endswith(".files") else "beside the job"
    return f"Yard: {yard.name} {where}."


def _named(lines: Iterable[Line], section: str = "") -> str:
    """The timbers, of that section if one is named, each once."""
    members = [line.member for line in lines if line.member]
    return ", ".join(dict.fromkeys(one.part for one in members if section in ("", str(one.section))))
