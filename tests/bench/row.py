"""One measured cost, and the way to measure it: in turns with its floor, so that both meet the same machine."""

import gc
import os
import subprocess
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from statistics import median
from time import perf_counter


@dataclass(frozen=True)
class Row:
    """A cost, the floor it stands on, their ratio, and the ratio that is allowed (0: none is set)."""

    what: str
    measured: float
    floor: float
    ratio: float
    allowed: float
    unit: str = "ms"

    @property
    def kept(self) -> bool:
        return not self.allowed or self.ratio <= self.allowed

    def __str__(self) -> str:
        limit = f"at most {self.allowed:4.1f}  {'kept' if self.kept else 'NOT KEPT'}" if self.allowed else ""
        costs = f"{self.measured:9.2f} {self.unit}{self.floor:9.2f} {self.unit}"
        return f"{self.what:<52}{costs}{self.ratio:7.2f} x  {limit}".rstrip()


def against(what: str, act: Callable[[], object], floor: Callable[[], object], *, rounds: int, allowed: float) -> Row:
    """The medians of both, run in turns, once unmeasured before."""
    act()
    floor()
    times = [(_time(act), _time(floor)) for _ in range(rounds)]
    measured, least = median(a for a, _ in times), median(b for _, b in times)
    return Row(what, measured, least, measured / least, allowed)


def started(
    what: str, command: Sequence[str], floor: Sequence[str], *, rounds: int, allowed: float, before: Sequence[str] = ()
) -> Row:
    """The same of two programs from their start to their end, in the processor's time: others' work is not in it.

    `before` is a third that is run, and not counted, before each.
    """
    times = [_spent_after(before, command, floor) for _ in range(rounds + 1)][1:]
    measured, least = median(a for a, _ in times), median(b for _, b in times)
    return Row(what, measured, least, measured / least, allowed)


def _spent_after(before: Sequence[str], command: Sequence[str], floor: Sequence[str]) -> tuple[float, float]:
    if before:
        _spent(before)
    return _spent(command), _spent(floor)


def _spent(command: Sequence[str]) -> float:
    # As it is installed, compiled once: a setting of this machine must not have every start compile it anew.
    env = {name: value for name, value in os.environ.items() if name != "PYTHONDONTWRITEBYTECODE"}
    with subprocess.Popen(command, stdout=subprocess.DEVNULL, env=env) as program:
        _, status, spent = os.wait4(program.pid, 0)
        program.returncode = os.waitstatus_to_exitcode(status)
    if program.returncode > 1:  # 1 is a problem found in the job, as there is in the sample
        raise RuntimeError(f"{command} ended with {program.returncode}")
    return (spent.ru_utime + spent.ru_stime) * 1000


def _time(act: Callable[[], object]) -> float:
    gc.collect()
    start = perf_counter()
    act()
    return (perf_counter() - start) * 1000
