"""A file that is no job, put before every command that takes one: refused in one line, and left as it was."""

from pathlib import Path

from tests.hostile.fronts import BARRED, say

COMMANDS = (
    ("show",),
    ("verify",),
    ("record", "main.plates.laps", "5"),
    ("undo",),
    ("note", "main.plates", "words"),
    ("handover", "--to", "tiler"),
)


def refused(file: Path, *told: str) -> None:
    """Every command refuses it by one line that has one of the words in it, with no control in it."""
    before = file.read_bytes() if file.is_file() and file.stat().st_size < 1 << 24 else None
    beside = sorted(file.parent.iterdir())
    for command, *more in COMMANDS:
        who = () if command in ("show", "verify") else ("--by", "M. Reed")
        said = say(command, file, *more, *who)
        line = said.out + said.err  # `verify` finds a problem and prints it; the others refuse
        assert said.code in (1, 2, 3), (command, said)
        assert line.count("\n") == 1 or command == "verify", (command, said)  # it tells all that it finds
        assert not BARRED.search(line), (command, said)
        assert command == "verify" or any(word in line for word in told), (command, said)
    assert before is None or file.read_bytes() == before
    left = [path for path in file.parent.iterdir() if path not in beside and not path.name.endswith(".files")]
    assert not left, "nothing is left beside it"


def not_merged(good: Path, bad: Path) -> None:
    """It is not joined to a good job either, and that stays as it was."""
    before = good.read_bytes()
    said = say("merge", good, bad)
    assert said.code in (1, 2, 3), said
    assert said.in_one_line, said
    assert good.read_bytes() == before
