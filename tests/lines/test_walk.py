"""The whole sample line by line, from where it stands to the signed handover and the points taken over."""

import shutil
from collections.abc import Iterator
from pathlib import Path

from sitelog.checklist.schema.model import Library
from sitelog.checklist.schema.shipped import sample_folder
from sitelog.job.storage.file import JobFile
from sitelog.job.storage.verify import verify
from sitelog.lines.session import LineSession
from tests.lines.listener import ScriptedInput, next_thing, walked
from tests.tui.site import Watch


def test_the_sample_walks_on_to_the_signed_handover_and_every_point_is_taken_over(
    tmp_path: Path, library: Library, watch: Watch
) -> None:
    sample = Path(shutil.copy(sample_folder() / "kiln-lane.json", tmp_path))
    found: list[object] = []

    def more(session: LineSession) -> Iterator[str]:
        if session.state.next:
            yield from next_thing(session)
        elif not found:
            state = session.state
            found.extend([state.handed_over, [snag.id for snag in state.open_snags], state.open_snags])
            yield from ("hand over", "1", "1")  # to the tiler: the pack
            yield from ("hand over", "1", "2", "1", "1", "T. Vale", "", "2", "2", "gauge rod is missing", "back")
        else:
            found.append(state_of_points(session))
            yield "quit"

    listener = ScriptedInput(more=more)
    assert walked(sample, library, listener, watch) == 0
    assert found[:2] == [True, ["1"]]
    assert found[-1] == [(True, "T. Vale"), (False, "T. Vale")]
    assert verify(sample) == []
    assert {path.suffix for path in tmp_path.glob("kiln-lane-*")} >= {".html", ".txt"}
    last = JobFile.open(sample, read_only=True).entries
    assert [entry.act for entry in last[-4:]] == ["handover", "accept", "accept", "snag"]


def state_of_points(session: LineSession) -> list[tuple[bool, str]]:
    return [(point.accepted, point.by) for point in session.state.points]
