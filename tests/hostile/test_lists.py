"""Checklists that loop, grow without end or lie: refused with file and line, and a job is not opened by them."""

from pathlib import Path

import pytest

from sitelog.tui.app import SitelogApp
from tests.checklist.small import changed, write
from tests.hostile.fronts import BARRED, say
from tests.hostile.jobs import job
from tests.length import long

LOOPS = {
    "a fact worked from itself": changed("hipped", 'worked = "hypot @length @width"', 'worked = "plus @ac 1"'),
    "a stage like itself": changed(
        "hipped", '[[stage]]\nid = "plates"', '[[stage]]\nlike = "hipped.plates"\nid = "plates"'
    ),
    "needs in a circle": changed("hipped", 'id = "sides"\n', 'id = "sides"\nneeds = ["sides"]\n'),
    "a control in an ask": changed("hipped", "Four sides and two diagonals", "Four\\u001b[2J sides"),
    "a turned word in a title": changed("hipped", 'title = "Wall plates"', 'title = "Wall \\u202eplates"'),
    "a number beyond all reason": changed("hipped", "amount = 10,", "amount = 1e308,"),
    "not a number": changed("hipped", "amount = 10,", "amount = nan,"),
    "code in an operand": changed("hipped", 'worked = "hypot @length @width"', "worked = \"__import__('os')\""),
    "thousands of facts": changed("hipped", 'id = "hipped"\n', 'id = "hipped"\n')
    + "".join(f'\n[[fact]]\nname = "f{n}"\nkind = "length"\nsays = "x"\nworked = "@f{n + 1}"\n' for n in range(3000)),
    "one endless line": changed("hipped", 'title = "Wall plates"', f'title = "{"x" * 200_000}"'),
    "one dotted key without end": "a" + ".a" * 5_000 + " = 1\n",
    "tables nested without end": "x = " + "[" * 5_000 + "]" * 5_000 + "\n",
}


ALIKE = ("needs in a circle", "a turned word in a title", "a number beyond all reason", "a stage like itself")
TRIED = [pytest.param(text, id=name, marks=[long] * (name in ALIKE)) for name, text in LOOPS.items()]


@pytest.mark.parametrize("text", TRIED)
def test_a_list_that_loops_or_lies_is_told_by_file_and_line(tmp_path: Path, text: str) -> None:
    folder = write(tmp_path / "lists", hipped=text)
    said = say("lint", folder / "hipped.toml")
    assert said.code == 1, said
    told = [line for line in (said.out + said.err).splitlines() if line]
    assert any("hipped.toml:" in line for line in told)
    assert not BARRED.search(said.out + said.err)


@pytest.mark.parametrize(
    "name", [pytest.param("a fact worked from itself", marks=long), "one endless line", "tables nested without end"]
)
async def test_a_job_beside_such_a_list_is_refused_in_one_line_and_stays_as_it_was(tmp_path: Path, name: str) -> None:
    file = job(tmp_path, lambda words: words)
    before = file.read_bytes()
    write(tmp_path / "checklists", hipped=LOOPS[name])
    for words in (("show", file), ("--plain", "open", file, "--by", "M. Reed")):
        said = say(*words)
        assert said.code == 2, said
        assert said.in_one_line, said
    app = SitelogApp(folder=file.parent, file=file, by="M. Reed", device="testbed1")
    async with app.run_test(size=(80, 24)) as pilot:
        await pilot.pause()
        await app.workers.wait_for_complete()
        await pilot.pause()
    assert app.return_value == 2
    assert file.read_bytes() == before


def test_what_was_kept_from_an_earlier_start_and_forged_is_not_believed(tmp_path: Path, lists_known: Path) -> None:
    file = job(tmp_path, lambda words: words)
    first = say("show", file)
    for one in lists_known.iterdir():
        one.write_bytes(b"0000cos\nsystem\n(S'exit 7'\ntR.")
    assert say("show", file) == first
