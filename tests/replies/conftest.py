"""A desk with one pack made for the tiler, on a disk of its own."""

from collections.abc import Iterator
from pathlib import Path

import pytest

from tests.replies.desk import Desk


@pytest.fixture
def desk(tmp_path: Path) -> Iterator[Desk]:
    made = Desk(tmp_path / "kiln-lane.json")
    made.drawings("R-101 A")
    made.hand_over()
    yield made
    made.job.close()
