"""The second sample through the keyboard and line by line: from where it stands to the signed handover."""

import shutil
from collections.abc import Iterator
from pathlib import Path

import pytest

from sitelog.checklist.schema.model import Library
from sitelog.checklist.schema.shipped import sample_folder
from sitelog.job.storage.verify import verify
from sitelog.lines.session import LineSession
from sitelog.tui.app import SitelogApp
from sitelog.tui.pages.job import JobPage
from tests.lines.listener import ScriptedInput, figures, next_thing, walked
from tests.tui.site import Watch
from tests.tui.walker import CHOSEN, READ, Walker

# What the tape reads where it isn't as drawn; made up.
VALLEYS = ("ce-ef", "ab-pq", "ab-mn")
SEEN = {
    "wing-first-pair.ridge-depth": {"depth": "200"},
    "wing-first-pair.twist": {"fall_foot": "1", "fall_head": "1"},
    "wing-ridge.ridge-ef-ga-line": {"offsets": "0,1,1,1,0"},
    "lean-to.flashing": {"value": "150"},
    "gables.gable-fg-straps": {"spacing": "1800", "crossed": "3"},
    "purlins.figures": {"bearing": "100", "notch": "0"},
    "purlins.bearing": {"value": "110"},
    **{f"valley-{one}.channel": {"width": "125"} for one in VALLEYS},
    "dormer.plates": {"fall": "1", "front": "1500", "back": "1501"},
}
SITE = READ | SEEN


@pytest.fixture
def sample(tmp_path: Path) -> Path:
    return Path(shutil.copy(sample_folder() / "mill-yard.json", tmp_path))


@pytest.mark.long
async def test_it_walks_on_to_the_signed_handover_by_keyboard(sample: Path) -> None:
    app = SitelogApp(folder=sample.parent, file=sample, clock=Watch(2.0), device="walker01")
    async with app.run_test(size=(80, 24)) as pilot:
        walker = Walker(app, pilot, SITE, CHOSEN)
        await walker.walk(lambda: isinstance(app.screen, JobPage) and not app.state.next, most=900)
        assert app.state.handed_over and not app.state.stale
        assert [snag.id for snag in app.state.open_snags] == ["1"]
        assert [one.path for one in app.state.releases] == ["roof.plates.ties", "roof.main-ridge.ridge-ab-ce-line"]
    assert verify(sample) == []


@pytest.mark.long
def test_it_walks_on_to_the_signed_handover_line_by_line(sample: Path, library: Library) -> None:
    found: list[bool] = []

    def more(session: LineSession) -> Iterator[str]:
        found.append(session.state.handed_over)
        view = session.state.check(session.state.next)
        read = SEEN.get(view.path.partition(".")[2]) if view else None
        if view and read and view.state not in ("out", "unsure"):
            yield from ("next", "do", *figures(view, read))
        else:
            yield from next_thing(session)

    assert walked(sample, library, ScriptedInput(more=more), Watch(2.0)) == 0
    assert found[-1] and verify(sample) == []
