"""A ridge that is too long, too short or out of level: set right, or its hips, jacks and commons cut to it."""

import math
from collections.abc import Iterator

from msgspec import Struct
from msgspec.structs import replace

from sitelog.checklist.schema.model import Check, Library
from sitelog.job.facts.facts import FactResolver
from sitelog.job.members import lines_of
from sitelog.job.remedies.lengths import group_of
from sitelog.job.remedies.read import cell, drawn_by, fact
from sitelog.job.remedies.remedy import GROUPS, Act, Group, Remedy, Shift
from sitelog.job.state.views import CheckView, FigureView, State

ENDS = {"p": "ad", "q": "bc"}  # the hips that meet each end
ALONG, FALL = "ridge", "ridge_fall"


class HipVector(Struct, frozen=True):
    """From a plates' corner to its ridge end [mm]: along the ridge, across it, and up."""

    along: float
    across: float
    up: float

    @property
    def length(self) -> float:
        """On the measuring line."""
        return math.hypot(self.along, self.across, self.up)

    def jacks(self, at: float) -> tuple[float, float]:
        """The jacks at that far from the corner [mm], on the side along the ridge and on the hipped end."""
        long, end = at / self.along, at / self.across
        return (
            math.hypot(self.across * long, self.up * long),
            math.hypot(self.along * end, self.up * end),
        )


def of_ridge(state: State, library: Library, view: CheckView) -> Iterator[Remedy]:
    """What the ridge's length and fall can be set to; what the timbers become if all of it is at the worse end."""
    off = {drawn_by(view.check, figure.key): figure for figure in view.figures if figure.verdict in ("fail", "unsure")}
    long, fall = (_by(off.get(name)) for name in (ALONG, FALL))
    if long:
        yield Remedy("move", (Act(off[ALONG].says, -long),), passes=True)
    if fall:
        yield Remedy("level", (Act("Q", fall),), passes=True)
    if long or fall:
        yield Remedy("as-built", (), tuple(_cut_to(FactResolver.of(library, state), view.part, long, fall)))


def _by(figure: FigureView | None) -> float:
    return (figure and figure.difference) or 0.0


def is_of_ridge(check: Check) -> bool:
    """Whether a figure of the check is held to the ridge's own length or fall."""
    return any(drawn_by(check, figure.key) == FALL for figure in check.figures)


def _cut_to(resolver: FactResolver, part: str, long: float, fall: float) -> Iterator[Shift]:
    """How much longer each group becomes; what is at the other end stays, and is 0 among them."""
    high = {"p": max(fall, 0.0), "q": max(-fall, 0.0)}
    moved: dict[Group, list[float]] = {group: [0.0] for group in GROUPS}
    for end, corners in ENDS.items():
        for corner in corners:
            for group, by in _at_corner(resolver, part, corner + end, long, high[end]):
                moved[group].append(by)
    run, rise = fact(resolver, part, "run"), fact(resolver, part, "rafter_rise")
    if run is not None and rise is not None:
        moved["commons"].append(math.hypot(run, rise + abs(fall)) - math.hypot(run, rise))
    yield from (Shift(group, min(by), max(by)) for group, by in moved.items() if len(by) > 1)


def _at_corner(
    resolver: FactResolver, part: str, corner_end: str, long: float, high: float
) -> Iterator[tuple[Group, float]]:
    """The hip of that corner and ridge end (`ap`), and its jacks."""
    corner, end = corner_end[0], corner_end[1]
    now = _hip(resolver, part, corner, end)
    if not now:
        return
    then = replace(now, along=now.along - long, up=now.up + high)
    yield "hips", then.length - now.length
    for at in _marks(resolver, part, corner):
        for new, old in zip(then.jacks(at), now.jacks(at), strict=True):
            yield "jacks", new - old


def _hip(resolver: FactResolver, part: str, corner: str, end: str) -> HipVector | None:
    names = (f"hip_{corner}", f"ridge_height_{end}", f"run_{end}")
    length, up, across = (fact(resolver, part, name) for name in names)
    if length is None or up is None or across is None:
        return None
    return HipVector(math.sqrt(length * length - up * up - across * across), across, up)


def _marks(resolver: FactResolver, part: str, corner: str) -> Iterator[float]:
    """Where its jacks are, from the corner [mm]."""
    for line in lines_of(resolver, part):
        at = cell(line, "at")
        if group_of(line) == "jacks" and line.id.endswith(f"-{corner}") and at:
            yield at
