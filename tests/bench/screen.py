"""The screens, against an empty Textual app: first paint, and a cursor key to the screen.

In this process and without a terminal, so that the terminal's own speed is left out of both sides.
"""

import asyncio
from collections.abc import Callable
from pathlib import Path
from statistics import median, quantiles
from tempfile import TemporaryDirectory
from time import perf_counter

from textual.app import App, ComposeResult
from textual.widgets import OptionList

from sitelog.tui.app import SitelogApp
from tests.bench.jobs import grown
from tests.bench.row import Row

SIZE = (80, 24)
ROUNDS, PRESSES = 5, 60
PAINT, KEY_MEDIAN, KEY_P95 = 1.6, 4.0, 8.0


class Empty(App[None]):
    """The floor: a list of two rows and nothing else."""

    def compose(self) -> ComposeResult:
        yield OptionList("one", "two", markup=False)


def rows() -> list[Row]:
    """First paint of a job of 1,000 entries; a cursor key at 100 and at 10,000."""
    with TemporaryDirectory() as folder:
        files = {count: grown(Path(folder), count) for count in (100, 1_000, 10_000)}

        def job(count: int) -> Callable[[], App[int]]:
            return lambda: SitelogApp(folder=Path(folder), file=files[count], by="M. Reed")

        paint = _turns(job(1_000), first_paint, "first paint, a job of 1,000 entries", PAINT)
        keys = [row for count in (100, 10_000) for row in _keys(job(count), count)]
        return [paint, *keys]


def _turns(make: Callable[[], App[int]], act: Callable[[App[object]], float], what: str, allowed: float) -> Row:
    times = [(act(make()), act(Empty())) for _ in range(ROUNDS + 1)][1:]  # type: ignore[arg-type]
    ours, floor = median(a for a, _ in times), median(b for _, b in times)
    return Row(what, ours, floor, ours / floor, allowed)


def first_paint(app: App[object]) -> float:
    """Milliseconds from making the app to its first whole screen."""

    async def go() -> float:
        start = perf_counter()
        async with app.run_test(size=SIZE) as pilot:
            await pilot.pause()
            return (perf_counter() - start) * 1000

    return asyncio.run(go())


def _keys(make: Callable[[], App[int]], count: int) -> list[Row]:
    ours, floor = _presses(make(), ["1"]), _presses(Empty(), [])  # type: ignore[arg-type]
    pairs = (("median", median(ours), median(floor), KEY_MEDIAN), ("p95", _p95(ours), _p95(floor), KEY_P95))
    return [Row(f"a cursor key, {name}, at {count:,}", a, b, a / b, allowed) for name, a, b, allowed in pairs]


def _p95(times: list[float]) -> float:
    return quantiles(times, n=20)[-1]


def _presses(app: App[object], before: list[str]) -> list[float]:
    """Milliseconds of each cursor key until the screen has settled."""

    async def go() -> list[float]:
        async with app.run_test(size=SIZE) as pilot:
            await pilot.press(*before)
            await pilot.pause()
            times = []
            for number in range(PRESSES):
                start = perf_counter()
                await pilot.press("down" if number % 2 else "up")
                times.append((perf_counter() - start) * 1000)
            return times

    return asyncio.run(go())
