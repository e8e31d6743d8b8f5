"""What is to be known of an answer besides its state stands on its row, in every list of every front."""

import io
import shutil
from contextlib import redirect_stdout
from datetime import UTC, datetime, timedelta
from pathlib import Path

import pytest

from sitelog.checklist.schema.model import Library
from sitelog.cli.run import run
from sitelog.job.actions import actions
from sitelog.job.job import Job
from sitelog.job.log.entry import Author
from sitelog.job.storage.merge import merge
from sitelog.reports.model import Table
from sitelog.reports.pack import make
from sitelog.tui.widgets.stages import STATE_WIDTH, Rows
from sitelog.wording.flags import flags
from tests.lines.listener import ScriptedInput
from tests.lines.listener import walked as walked_plain
from tests.tui.site import DEVICE, Watch, brought_to, opened, stand_on

START = datetime(2026, 11, 25, 7, 30, tzinfo=UTC)
SQUARE = {"ab": "9000", "bc": "6000", "cd": "9000", "da": "6000", "ac": "10817", "bd": "10817"}
# The check, what its row says under its state, and what is said where there is room.
BORNE = [
    ("main.plates.sides", "two answers", "two answers differ"),
    ("main.plates.span", "bad tool", "T2 later marked bad"),
    ("main.plates.straps", "late", "recorded late"),
    ("main.plates.ends", "at once", "ticked within a second of the last one"),
]


@pytest.fixture
def flagged(tmp_path: Path, library: Library) -> Path:
    """Plates of which one check bears each mark."""
    file = brought_to(tmp_path, library, "main.plates", lambda job: actions.instrument("T2", "tape", "II"))
    copy = Path(shutil.copy(file, tmp_path / "phone.json"))
    with Job.open(copy, library) as job:
        draft = actions.answer(job.state, library, "main.plates.sides", SQUARE | {"ab": "9002"})
        job.do(draft, Author("A. Dunn", "phone001", START))
    with Job.open(file, library) as job:

        def answer(name: str, after_s: float, *, tool: str = "", done: str = "", **texts: str) -> None:
            draft = actions.answer(job.state, library, f"main.plates.{name}", texts, instrument=tool)
            job.do(actions.done_at(draft, done), Author("M. Reed", DEVICE, START + timedelta(seconds=after_s)))

        answer("sides", 60, **SQUARE)
        answer("span", 120, middle="6000", at_p="6000", at_q="6000", tool="T2")
        answer("straps", 180, spacing="1800", fixing="120", done="2026-11-25T07:10+00:00")
        answer("laps", 240, value="5")
        answer("ends", 240.4)
        job.do(actions.doubt(job.state, "T2", "hook bent"), Author("M. Reed", DEVICE, START + timedelta(seconds=300)))
    merge(file, [copy])
    copy.unlink()
    return file


@pytest.mark.parametrize("size", [(60, 20), (80, 24), (140, 40)], ids=str)
@pytest.mark.parametrize("ascii_only", [False, True], ids=["glyphs", "plain letters"])
async def test_a_row_says_it_under_the_state_wherever_the_cursor_stands(
    flagged: Path, size: tuple[int, int], ascii_only: bool
) -> None:
    async with opened(flagged, size=size, ascii_only=ascii_only) as walker:
        page = await stand_on(walker, "main.plates.hip-loads")
        rows, stage = page.query_one(Rows), page.stage
        assert stage
        for path, short, _ in BORNE:
            at = [view.path for view in stage.shown].index(path)
            told = str(rows.get_option_at_index(at).prompt).split("\n")
            assert told[1].endswith(f" {short}"), path
            assert short.isascii() and len(short) <= STATE_WIDTH


def test_plain_mode_says_it_in_its_list_of_checks(flagged: Path, library: Library) -> None:
    listener = ScriptedInput(["1", "quit"])
    walked_plain(flagged, library, listener, Watch(2.0))
    for path, _, words in BORNE:
        ask = asked(library, path)
        assert any(f", {words}: {ask}" in line for line in listener.heard), path


def test_show_says_it(flagged: Path, library: Library) -> None:
    with redirect_stdout(io.StringIO()) as out:
        assert run(["show", str(flagged)]) == 0
    for path, _, words in BORNE:
        assert any(asked(library, path) in line and words in line for line in out.getvalue().splitlines()), path


def test_the_pack_says_it_in_the_row_of_the_check(flagged: Path, library: Library) -> None:
    """In the pack's own words; which instrument it was stands beside who measured with it."""
    with Job.open(flagged, library, read_only=True) as job:
        pack = make(job.state, library, "tiler", START)
    blocks = [block for section in pack.rest for block in section.blocks]
    rows = {row[0]: row for block in blocks if isinstance(block, Table) and len(block.heads) == 5 for row in block.rows}
    for path, _, words in BORNE:
        stands = rows[asked(library, path)][3].split("\n")
        assert ("measured with a bad tool" if words.startswith("T2") else words) in stands, path


def test_only_the_check_that_earned_a_mark_bears_it(flagged: Path, library: Library) -> None:
    with Job.open(flagged, library, read_only=True) as job:
        borne = {view.path: flags(view) for view in job.state.checks()}
    assert {path: [one.short for one in borne[path]] for path, _, _ in BORNE} == {p: [s] for p, s, _ in BORNE}
    assert sum(map(len, borne.values())) == len(BORNE)


def asked(library: Library, path: str) -> str:
    _, stage, name = path.split(".")
    found = next(one for one in library.lists["hipped"].stages if one.id == stage)
    return next(one.ask for one in found.checks if one.id == name)
