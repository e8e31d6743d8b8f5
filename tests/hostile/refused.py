"""A file that is no job, put before every front that takes one: refused in one line, and left as it was."""

from pathlib import Path

from sitelog.tui.app import SitelogApp
from tests.hostile.fronts import BARRED, say
from tests.tui.seen import lines

LOOKS = ("show", "verify", "read", "order", "drawings")
COMMANDS = (
    *((command,) for command in LOOKS),
    ("--plain", "open"),
    ("draw", "main", "pitch=40"),
    ("sign", "main.plates"),
    ("record", "main.plates.laps", "5"),
    ("undo",),
    ("note", "main.plates", "words"),
    ("handover", "--to", "tiler"),
)


def refused(file: Path, *told: str) -> None:
    """Every command refuses it by one line that has one of the words in it, with no control in it."""
    before = file.read_bytes() if file.is_file() and file.stat().st_size < 1 << 24 else None
    beside = sorted(file.parent.iterdir())
    for words in COMMANDS:
        command = words[0]
        said = say(*put(words, file))
        line = said.out + said.err  # `verify` finds a problem and prints it; the others refuse
        assert said.code in (1, 2, 3), (command, said)
        assert line.count("\n") == 1 or command == "verify", (command, said)  # it tells all that it finds
        assert not BARRED.search(line), (command, said)
        assert command == "verify" or any(word in line for word in told), (command, said)
    assert before is None or file.read_bytes() == before
    left = [path for path in file.parent.iterdir() if path not in beside and not path.name.endswith(".files")]
    assert not left, "nothing is left beside it"


def put(words: tuple[str, ...], file: Path) -> list[str | Path]:
    """The command with the file in its place, and a name where one is wanted."""
    at = 2 if words[0] == "--plain" else 1
    who = () if words[0] in LOOKS else ("--by", "M. Reed")
    return [*words[:at], file, *words[at:], *who]


async def refused_by_the_screens(file: Path, *told: str) -> None:
    """Named, it ends the program with the reason; in the list of jobs it is a row that says why, or none."""
    app = SitelogApp(folder=file.parent, file=file, by="M. Reed", device="testbed1")
    async with app.run_test(size=(80, 24)) as pilot:
        await pilot.pause()
        await app.workers.wait_for_complete()
        await pilot.pause()
    assert app.return_value in (2, 3), file
    app = SitelogApp(folder=file.parent, by="M. Reed", device="testbed1")
    async with app.run_test(size=(80, 24)) as pilot:
        await pilot.pause()
        await pilot.press("enter")
        await pilot.pause()
        seen = "\n".join(lines(app))
        assert not BARRED.search(seen), file
        assert any(word in seen for word in told), seen
    assert app.return_code in (0, None), "it goes on"


def not_merged(good: Path, bad: Path) -> None:
    """It is not joined to a good job either, and that stays as it was."""
    before = good.read_bytes()
    said = say("merge", good, bad)
    assert said.code in (1, 2, 3), said
    assert said.in_one_line, said
    assert good.read_bytes() == before
