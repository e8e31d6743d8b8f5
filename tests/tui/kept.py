"""The screens of the sample as they were last looked at: `python -m tests.tui.kept` writes them anew.

Each size has one file beside this one, in kept/: every page's text, one under another. What they show is what somebody
looked at and found right, so that a change of them is seen, meant, and looked at again.
"""

import asyncio
import os
import shutil
import time
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from tempfile import TemporaryDirectory

from sitelog.checklist.schema.shipped import sample_folder
from tests.hostile.fronts import pages

SIZES = ((60, 20), (80, 24), (140, 40))
UPRIGHT = (45, 70)  # a phone held upright: its main pages are kept
MAIN = ("RecapPage", "main.plates", "CheckPage", "HandoverPage", "DrawingPage", "FactsPage")
FOLDER = Path(__file__).parent / "kept"


def walked(size: tuple[int, int], theme: str = "day") -> Iterator[str]:
    """Every page of the sample at that size, under its name."""
    with TemporaryDirectory() as folder, at_greenwich():
        file = Path(shutil.copy(sample_folder() / "kiln-lane.json", Path(folder) / "kiln-lane.json"))
        for name, text in asyncio.run(pages(file, size=size, theme=theme, only=MAIN if size == UPRIGHT else ())):
            if size == UPRIGHT and name.endswith(", at its end"):
                continue
            rows = "\n".join(f"|{row.rstrip()}" for row in text.split("\n"))
            yield f"=== {name}\n{rows}\n"


@contextmanager
def at_greenwich() -> Iterator[None]:
    """Times are shown by the clock of the machine: kept screens have one clock."""
    before = os.environ.get("TZ")
    os.environ["TZ"] = "UTC"
    time.tzset()
    try:
        yield
    finally:
        os.environ.pop("TZ") if before is None else os.environ.update(TZ=before)
        time.tzset()


def file_of(size: tuple[int, int]) -> Path:
    return FOLDER / f"{size[0]}x{size[1]}.txt"


if __name__ == "__main__":
    FOLDER.mkdir(exist_ok=True)
    for each in (*SIZES, UPRIGHT):
        file_of(each).write_text("".join(walked(each)), encoding="utf-8")
