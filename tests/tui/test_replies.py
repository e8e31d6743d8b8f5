"""The next trade's replies on the screen: offered at opening, and off paper by the numbers of the points."""

from collections.abc import Iterator
from pathlib import Path

import pytest

from sitelog.job.replies.reply import written
from sitelog.tui.app import SitelogApp
from tests.replies.desk import Desk
from tests.tui.conftest import DEVICE
from tests.tui.seen import text, typed


@pytest.fixture
def over(tmp_path: Path) -> Iterator[SitelogApp]:
    """The program over a job with a pack, and a reply to it in the same folder."""
    desk = Desk(tmp_path / "kiln-lane.json")
    desk.hand_over()
    reply = desk.reply((1, 2), {3: "no room for a stack"})
    desk.drawings("R-101 B")
    desk.job.close()
    (tmp_path / "Reply (1).TXT").write_text(written(reply), encoding="utf-8")
    yield SitelogApp(folder=tmp_path, file=desk.job.file.path, by="M. Reed", clock=lambda: desk.now, device=DEVICE)


async def test_a_reply_is_offered_at_opening_and_paper_is_entered_by_number(over: SitelogApp) -> None:
    async with over.run_test(size=(80, 24)) as pilot:
        await pilot.pause()
        await pilot.press("1")
        await pilot.pause()
        seen = text(over)
        assert "Replies: 1 found" in seen and "J. Dunn, tiler, 2 Mar 2026" in seen and "2 accepted, 1 sent back" in seen
        assert "Point 3 sent back: no room for a stack" in seen and "Point 1 changed since that pack." in seen
        assert not over.state.points, "nothing is entered by itself"
        await pilot.press("enter")
        await pilot.pause()
        assert "Entered: 2 accepted, 1 sent back." in text(over) and "Replies: 0 found" in text(over)
        assert {point.by for point in over.state.points} == {"J. Dunn"} and over.by == "M. Reed"
        await pilot.press("enter", *typed("4-6"), "enter", *typed("7 loose"), "enter", "enter", *typed("P. Slater"))
        await pilot.press("enter")
        await pilot.pause()
        assert [point.by for point in over.state.points[3:]] == ["P. Slater"] * 4 and over.by == "M. Reed"
        assert [snag.text for snag in over.state.open_snags] == [
            "Point 3 sent back: no room for a stack",
            "Point 7 sent back: loose",
        ]
        await pilot.press("b", "h", "space")
        await pilot.pause()
        assert "changed" in text(over) and "accepted" in text(over)
