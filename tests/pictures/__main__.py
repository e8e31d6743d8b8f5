"""Walks a copy of the sample site by keyboard and keeps a picture of each screen that the README shows."""

import asyncio
import re
import shutil
from collections.abc import Awaitable, Callable
from datetime import UTC, datetime, timedelta
from pathlib import Path
from tempfile import TemporaryDirectory

from sitelog.checklist.schema.shipped import sample_folder
from sitelog.tui.app import SitelogApp
from sitelog.tui.dialogs.caution import CautionPage
from tests.tui.site import stand_on
from tests.tui.walker import Walker

HERE = Path(__file__).parent
SMALL, WIDE = (80, 24), (140, 40)
Story = Callable[[Walker], Awaitable[None]]


async def _cautions(walker: Walker) -> None:
    """Answer the cautions that stand in the way."""
    await walker.pilot.pause()
    while isinstance(walker.app.screen, CautionPage):
        await walker.step()
        await walker.pilot.pause()


async def job(walker: Walker) -> None:
    await walker.press("1", "o")
    await _cautions(walker)


async def van(walker: Walker) -> None:
    await job(walker)
    await walker.press("t")


async def caution(walker: Walker) -> None:
    await walker.press("1", "o")
    while walker.app.screen.caution_id != "ladder":  # type: ignore[attr-defined]
        await walker.step()
        await walker.pilot.pause()
    await walker.type("front, at B, tied at the")


async def working(walker: Walker) -> None:
    await job(walker)
    await stand_on(walker, "main.hip-lines.hip-a")
    await walker.press("enter", "w", *["pagedown"] * 2)


async def _measured(walker: Walker, path: str, *figures: str) -> None:
    await job(walker)
    await stand_on(walker, path)
    await walker.press("m")
    await _cautions(walker)
    for figure in figures[:-1]:
        await walker.type(figure, "enter")
    await walker.type(figures[-1])


async def plates(walker: Walker) -> None:
    await _measured(walker, "main.plates.sides", "8996", "6003", "9007", "6002", "10826", "10813")


async def twist(walker: Walker) -> None:
    await _measured(walker, "main.first-pair.twist", "400", "1.0", "6.5", "3450", "L1")
    await walker.press("enter")
    await walker.pilot.pause()
    await walker.type("1", "enter")  # why it is measured again


async def handover(walker: Walker) -> None:
    await walker.press("1", "h")


PICTURES: tuple[tuple[str, tuple[int, int], Story], ...] = (
    ("job-wide", WIDE, job),
    ("plates", SMALL, plates),
    ("twist", SMALL, twist),
    ("working", SMALL, working),
    ("caution", SMALL, caution),
    ("handover", SMALL, handover),
    ("van", SMALL, van),
)


async def picture(name: str, size: tuple[int, int], story: Story) -> None:
    now = datetime(2026, 11, 25, 7, 52, tzinfo=UTC)

    def clock() -> datetime:
        nonlocal now
        now += timedelta(milliseconds=500)
        return now

    with TemporaryDirectory() as folder:
        file = Path(shutil.copy(sample_folder() / "kiln-lane.json", folder))
        app = SitelogApp(folder=Path(folder), file=file, clock=clock, device="pictures")
        async with app.run_test(size=size) as pilot:
            await pilot.pause()
            await story(Walker(app, pilot))
            await pilot.pause()
            (HERE / f"{name}.svg").write_text(alone(app.export_screenshot()), encoding="utf-8")


HEAD = 32  # the height of the window's bar in an exported picture, which is cut off


def alone(svg: str) -> str:
    """The picture in a plain frame, without fonts from elsewhere: any fixed-width font will do."""
    svg = re.sub(r"@font-face \{.*?\}", "", svg, flags=re.S).replace("Fira Code", "DejaVu Sans Mono")
    svg = re.sub(r'<g transform="translate\(26,22\)">.*?</g>', "", svg, flags=re.S)
    svg = re.sub(r'<text class="[^"]*-title".*?</text>', "", svg, flags=re.S)
    wide, high = map(float, re.findall(r'viewBox="0 0 (\S+) (\S+)"', svg)[0])
    frame = (
        f'<rect fill="none" stroke="#808080" x="1" y="{HEAD + 1}" width="{wide - 2:g}" height="{high - HEAD - 2:g}"/>'
    )
    svg = re.sub(r'viewBox="[^"]*"', f'viewBox="0 {HEAD} {wide:g} {high - HEAD:g}"', svg, count=1)
    return re.sub(r'<rect fill="[^"]*" stroke="rgba[^>]*/>', frame, svg, count=1)


def main() -> None:
    for name, size, story in PICTURES:
        asyncio.run(picture(name, size, story))


if __name__ == "__main__":
    main()
