"""What a cursor key writes to the terminal: little enough for a slow line. Counted in bytes, not in time."""

from pathlib import Path
from typing import ClassVar

import pyte
import pytest
from textual._compositor import Compositor
from textual.drivers.headless_driver import HeadlessDriver

from sitelog.tui.moved import INDEX, REVERSE
from tests.bench.jobs import sample_copy
from tests.tui.every_page import over
from tests.tui.seen import lines

MOST = 2_000
PAINT = Compositor.render_update


class Wire(HeadlessDriver):
    """A terminal that is painted, and heard."""

    heard: ClassVar[list[str]] = []

    @property
    def is_headless(self) -> bool:
        """One without a head is never painted."""
        return False

    def write(self, data: str) -> None:
        self.heard.append(data)


@pytest.fixture(autouse=True)
def wired(monkeypatch: pytest.MonkeyPatch) -> None:
    Wire.heard.clear()
    monkeypatch.setattr(Compositor, "render_update", PAINT)
    monkeypatch.setenv("COLORTERM", "truecolor")  # the longest colours there are
    monkeypatch.setattr("textual.constants.DRIVER", f"{Wire.__module__}:{Wire.__name__}")


@pytest.mark.parametrize("size", [(80, 24), (45, 70)])
async def test_no_arrow_writes_over_two_thousand_bytes_where_the_list_scrolls_or_not(
    tmp_path: Path, size: tuple[int, int]
) -> None:
    """A list that doesn't fit, or gets more room or less from what is told beneath it: the terminal moves its rows."""
    app, told = over(sample_copy(tmp_path)), {}
    screen = pyte.Screen(*size)
    terminal = pyte.Stream(screen)
    async with app.run_test(headless=False, size=size) as pilot:
        await pilot.pause()
        await pilot.press("1")
        await pilot.pause()
        terminal.feed("".join(Wire.heard).replace("\n", "\r\n"))
        for number, key in enumerate(["up"] * 8 + ["down"] * 8):
            Wire.heard.clear()
            await pilot.press(key)
            await pilot.pause()
            told[number, key] = "".join(Wire.heard)
            terminal.feed(told[number, key])
            assert screen.display == lines(app), (number, key)
    assert max(len(written.encode()) for written in told.values()) <= MOST
    assert min(len(written) for written in told.values()) > 0
    scrolled = "".join(told.values())
    assert INDEX in scrolled
    assert REVERSE in scrolled
