"""The templates of the part in hand line by line: told, then made as a file beside the job."""

from pathlib import Path

from sitelog.checklist.schema.model import Library
from sitelog.checklist.schema.shipped import sample_folder
from tests.lines.listener import ScriptedInput, walked
from tests.tui.site import Watch


def test_a_template_is_picked_and_made_by_what_is_typed(tmp_path: Path, library: Library, watch: Watch) -> None:
    file = tmp_path / "kiln-lane.json"
    file.write_bytes((sample_folder() / "kiln-lane.json").read_bytes())
    lines = ["templates", "back", "dormer.formers.struck", "templates", "2", "a5", "", "120", "99.5", "", "quit"]
    listener = ScriptedInput(lines)
    assert walked(file, library, listener, watch) == 0
    heard = "\n".join(listener.heard)
    assert "Former with its slots: 1766 by 602, " in heard
    assert "'a5' isn't one of them" in heard and "Bar across reads 120.00: over 3%" in heard
    assert "kiln-lane-dormer-former-with-its-slots-a4.pdf in " in heard and "off by -0.50% across" in heard
    assert (tmp_path / "kiln-lane-dormer-former-with-its-slots-a4.pdf").stat().st_size > 10_000
