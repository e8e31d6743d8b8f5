"""A plan for each section of an order, by the solver or as at a saw bench, with those who look on told whose it is."""

from collections.abc import Callable, Iterable
from importlib.util import find_spec
from pathlib import Path

from msgspec import Struct
from msgspec.structs import replace

from sitelog.calculators.timber.cutting.demand import Lot, check_room
from sitelog.calculators.timber.cutting.hand import hand_plan
from sitelog.calculators.timber.cutting.order import Order, Plan, Sawn
from sitelog.calculators.timber.cutting.packs import in_packs
from sitelog.calculators.timber.cutting.supply import CENTS, PARTS
from sitelog.calculators.timber.cutting.watch import Progress, Watch, current_watch, watched_by
from sitelog.quantities.rounding import places
from sitelog.refusal import Refusal

SOLVER = "highspy>=1.8,<2"  # as the extra `order` in pyproject.toml has it


class Planned(Struct, frozen=True):
    """A lot with its plan, and the least length in parts that any plan buys."""

    lot: Lot
    plan: Plan
    least_length: int

    @property
    def bought(self) -> list[Sawn]:
        """The sticks that come from the yard."""
        return [one for one in self.plan.sticks if not one.on_site]

    @property
    def on_site(self) -> list[Sawn]:
        """The sticks that are there already."""
        return [one for one in self.plan.sticks if one.on_site]


class _Named(Watch):
    """Tells whose order it is."""

    def __init__(self, behind: Watch, lot: Lot) -> None:
        self.behind, self.lot = behind, lot

    def hear(self, progress: Progress) -> None:
        """With the section and what its costs are in."""
        self.behind.hear(replace(progress, subject=str(self.lot.section), priced=self.lot.priced))

    def should_stop(self) -> bool:
        """When the one behind it would."""
        return self.behind.should_stop()


def planned(lots: Iterable[Lot]) -> list[Planned]:
    """By the solver; as at a saw bench where it is not installed. Refusal for a piece that no stick is left for."""
    least, plan = solver() or (lambda order: hand_plan(order).bound, hand_plan)
    return [_planned(lot, least, plan) for lot in lots]


def solver() -> tuple[Callable[[Order], int], Callable[[Order], Plan]] | None:
    """The bound of an order and its plan; None where the solver is not installed."""
    try:
        from sitelog.calculators.timber.cutting.solve import least, plan
    except ModuleNotFoundError as missing:
        if missing.name not in ("highspy", "numpy"):
            raise
        return None
    return least, plan


def which_solver() -> str:
    """Which one is installed, without loading it: where it stands, and since when. "" where none is."""
    found = find_spec("highspy")
    if not found or not found.origin:
        return ""
    return f"{found.origin} {Path(found.origin).stat().st_mtime_ns}"


def told(progress: Progress) -> str:
    """How far a plan is, in one line: the best so far, and what none can be under."""
    best, least = (_amount(cost, progress.priced) for cost in (progress.cost, progress.bound))
    return f"{progress.subject}: {best} so far{f', at least {least}' if progress.bound else ''}"


def _amount(cost: int, priced: bool) -> str:
    if priced:
        return places(cost / CENTS, 2)
    return f"{places(cost / PARTS / 1000, 1)} m"


def _planned(lot: Lot, least: Callable[[Order], int], plan: Callable[[Order], Plan]) -> Planned:
    with watched_by(_Named(current_watch(), lot)):
        made = in_packs(lot.order, lot.packs, plan) if lot.packs else plan(lot.order)
    _check_held(lot, made)
    return Planned(lot, made, least(lot.by_length) if lot.priced else made.bound)


def _check_held(lot: Lot, made: Plan) -> None:
    """Refusal for a piece longer than any sold that found no stick on site."""
    missed = [one.pieces[0] for one in made.sticks if not one.on_site and one.stick == lot.none_such]
    if not missed:
        return
    if made.stopped:
        raise Refusal(f"stock: stopped before there was a stick for every {lot.section}. Let it work on")
    check_room(lot.section, missed[0], round(lot.longest_sold * PARTS), on_site=True)
