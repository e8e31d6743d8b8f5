"""A long job fits a small tablet: what the program holds in memory with 10,000 entries open on the screen."""

import subprocess
import sys
from pathlib import Path

import pytest

from tests.bench.jobs import grown

MOST_MB = 80

LOOK = """
import asyncio, sys
from pathlib import Path
from sitelog.tui.app import SitelogApp

async def look():
    file = Path(sys.argv[1])
    app = SitelogApp(folder=file.parent, file=file, by="M. Reed")
    async with app.run_test(size=(80, 24)) as pilot:
        await pilot.pause()
        await pilot.press("1")
        await pilot.pause()
        held = next(line for line in open("/proc/self/status") if line.startswith("VmRSS"))
        print(app.state.entries, int(held.split()[1]) // 1024)

asyncio.run(look())
"""


@pytest.mark.skipif(not Path("/proc/self/status").exists(), reason="what a process holds can't be read here")
def test_a_job_of_ten_thousand_entries_is_open_in_eighty_megabytes(tmp_path: Path) -> None:
    job = grown(tmp_path, 10_000)
    said = subprocess.run([sys.executable, "-c", LOOK, str(job)], capture_output=True, text=True, check=True).stdout
    entries, held = map(int, said.split())
    assert entries == 10_000
    assert 20 < held <= MOST_MB
