"""One measured cost, and the way to measure it: in turns with its floor, so that both meet the same machine."""

import gc
from collections.abc import Callable
from dataclasses import dataclass
from statistics import median
from time import perf_counter


@dataclass(frozen=True)
class Row:
    """A cost in ms, the floor it stands on in ms, their ratio, and the ratio that is allowed (0: none is set)."""

    what: str
    measured: float
    floor: float
    ratio: float
    allowed: float

    @property
    def kept(self) -> bool:
        return not self.allowed or self.ratio <= self.allowed

    def __str__(self) -> str:
        limit = f"at most {self.allowed:4.1f}  {'kept' if self.kept else 'NOT KEPT'}" if self.allowed else ""
        return f"{self.what:<52}{self.measured:9.2f} ms{self.floor:9.2f} ms{self.ratio:7.2f} x  {limit}".rstrip()


def against(what: str, act: Callable[[], object], floor: Callable[[], object], *, rounds: int, allowed: float) -> Row:
    """The medians of both, run in turns, once unmeasured before."""
    act()
    floor()
    times = [(_time(act), _time(floor)) for _ in range(rounds)]
    measured, least = median(a for a, _ in times), median(b for _, b in times)
    return Row(what, measured, least, measured / least, allowed)


def _time(act: Callable[[], object]) -> float:
    gc.collect()
    start = perf_counter()
    act()
    return (perf_counter() - start) * 1000
