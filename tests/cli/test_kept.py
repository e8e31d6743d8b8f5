"""What is kept from one start to the next is told as if it were worked anew, before an entry and after it."""

import shutil
from pathlib import Path

import pytest

from sitelog import kept
from sitelog.checklist.schema.shipped import sample_folder
from tests.hostile.fronts import say

RECORD = ("main.plates.sides", "--by", "M. Reed", "--note", "taped again", "ab=8990", "bc=6002", "cd=8991", "da=6001")
TIES = ("ac=10802", "bd=10803")


@pytest.mark.parametrize("words", [("show",), ("order",), ("order", "--csv"), ("drawings",), ("drawings", "main")])
def test_the_second_time_a_command_tells_what_it_told_the_first(
    words: tuple[str, ...], tmp_path: Path, kept_on_disk: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    file = shutil.copy(sample_folder() / "kiln-lane.json", tmp_path)
    command = (words[0], file, *words[1:])
    said = [say(*command), say(*command)]
    assert any(kept_on_disk.iterdir())
    assert say("record", file, *RECORD, *TIES).code == 0
    said += [say(*command), say(*command)]
    monkeypatch.setattr(kept, "find", lambda _: None)
    assert say(*command) == said[3] == said[2] != said[1] == said[0]
