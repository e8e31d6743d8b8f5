"""A curved head in lead, an eyebrow in plain tiles: by keyboard alone, from an empty folder to the handover."""

from collections.abc import Callable, Mapping
from datetime import UTC, datetime, timedelta
from pathlib import Path

import pytest

from sitelog.checklist.load import load
from sitelog.job.verify import verify
from sitelog.tui.app import SitelogApp
from sitelog.tui.job import JobPage
from tests.forms.dormers import BARREL, EYEBROW, READ_BARREL, READ_EYEBROW
from tests.tui.walker import READ, Walker


@pytest.fixture
def clock() -> Callable[[], datetime]:
    """Two seconds on at every look, from a cold morning."""
    now = [datetime(2026, 11, 25, 7, 52, tzinfo=UTC)]

    def look() -> datetime:
        now[0] += timedelta(seconds=2)
        return now[0]

    return look


def number(use: str, finish: str) -> int:
    """The key of a finish in the list of those for that use."""
    names = [one.id for one in load().finishes.values() if use in one.serves]
    return names.index(finish) + 1


@pytest.mark.parametrize(
    ("form", "use", "lining", "drawn", "read"),
    [
        ("barrel-dormer", "curves", "lead-code-5", BARREL, READ_BARREL),
        ("eyebrow-dormer", "eyebrows", "plain-tiles", EYEBROW, READ_EYEBROW),
    ],
)
async def test_a_dormer_alone_is_set_up_and_reaches_the_signed_handover_by_keyboard_alone(
    form: str,
    use: str,
    lining: str,
    drawn: Mapping[str, str],
    read: Mapping[str, Mapping[str, str]],
    tmp_path: Path,
    clock: Callable[[], datetime],
) -> None:
    app = SitelogApp(folder=tmp_path, clock=clock, device="walker01")
    design = {"title": "Long Lane, plot 2", "by": "M. Reed", "1.form": form, "1.id": "dormer", "1.title": "Dormer"}
    async with app.run_test(size=(80, 24)) as pilot:
        walker = Walker(app, pilot, READ | dict(read), {"finish.lining": number(use, lining)})
        await walker.set_up(design | {f"1.{name}": figure for name, figure in drawn.items()})
        await walker.walk(lambda: isinstance(app.screen, JobPage) and not app.state.next)
        assert app.state.handed_over
        assert (app.state.title, app.state.snags, app.state.releases) == ("Long Lane, plot 2", (), ())
        assert app.state.facts["dormer.lining"].now == lining
    (file,) = tmp_path.glob("*.json")
    assert verify(file) == []
