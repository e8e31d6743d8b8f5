"""A cut roof said block by block, line by line from its setting up to the signed handover."""

import json
import re
from collections.abc import Iterator
from pathlib import Path

import pytest

from sitelog.checklist.schema.model import Library
from sitelog.job.actions.setup import JobSetup
from sitelog.job.job import Job
from sitelog.job.log.entry import Author
from sitelog.job.storage.verify import verify
from sitelog.lines.session import LineSession
from tests.hostile.fronts import say
from tests.lines.listener import DEVICE, ScriptedInput, figures, next_thing, walked
from tests.tui.site import Watch

ROOF = (
    "main 9000x6000 40 BC gable; wing off CD 0 from D 4000x4000 40 end gable; lean-to off AB 2000 from A 3000x1200 40 "
    "plate -1300; dormer off AB 6000 from A 1500x900 35 cheek 600"
)
# What the tape reads where it isn't as drawn, by how the check's path ends; made up.
READ = {
    "plates.levels": {"readings": ",".join(["1402"] * 12)},
    "timber.sizes": {"rafter": "47", "hip": "47"},
    "ridge-depth": {"depth": "220"},
    "twist": {"fall_foot": "1", "fall_head": "1"},
    "-line": {"offsets": "0,1,1,1,0"},
    "-gap": {"head": "400", "foot": "400"},
    ".channel": {"width": "125"},
    "gable-bc-straps": {"spacing": "1800", "crossed": "3"},
    "gable-fg-straps": {"spacing": "1800", "crossed": "3"},
}


@pytest.mark.long
def test_a_cut_roof_walks_to_the_signed_handover_line_by_line(tmp_path: Path, library: Library, watch: Watch) -> None:
    file = tmp_path / "yard.json"
    parts = [("main", "Main roof", "cut-roof", {"building": ROOF, "design_mass": "70"})]
    setup = JobSetup(title="Yard", place="", units="metric", parts=parts)
    Job.create(file, library, Author("M. Reed", DEVICE, watch()), setup).close()
    found: list[bool] = []

    def more(session: LineSession) -> Iterator[str]:
        found.append(session.state.handed_over)
        view = session.state.check(session.state.next)
        read = next((read for end, read in READ.items() if view and view.path.endswith(end)), None)
        if view and read and view.state not in ("out", "unsure"):
            yield from ("next", "do", *figures(view, read))
        else:
            yield from next_thing(session)

    listener = ScriptedInput(more=more)
    assert walked(file, library, listener, watch) == 0
    assert found[-1] and verify(file) == []
    assert "Valley CE-EF: line, boards and jacks" in listener.text


def test_a_roof_is_changed_line_by_line_and_says_what_comes_and_goes_first(tmp_path: Path) -> None:
    file = tmp_path / "roof.json"
    drawn = ("main.building=main 9000x6000 40", "main.design_mass=55")
    assert say("new", file, "--title", "T", "--part", "main:cut-roof", *drawn, "--by", "M. Reed").code == 0
    told = say("--plain", "open", file, heard="M. Reed\nfacts\n").out
    number = re.search(r"(?m)^(\d+) main, Roof, block by block: drawn 1 block", told)
    assert number
    wing = "wing off CD 0 from D 4000x4000 40 end gable"
    heard = ["M. Reed", "facts", number[1], "1", wing, "", "extension", "q", "q", ""]
    told = say("--plain", "open", file, heard="\n".join(heard)).out
    assert told.index("Comes: Wing, Slope CE") < told.index("drawing figure changed")
    shown = json.loads(say("show", file, "--json").out)
    assert shown["facts"]["main.building"]["drawn"] == f"main 9000x6000 40; {wing}"
