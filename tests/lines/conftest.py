"""A roof brought to its plates, and the shipped checklists."""

from pathlib import Path

import pytest

from sitelog.checklist.schema.model import Library
from tests import shipped
from tests.tui.site import Watch, brought_to


@pytest.fixture(scope="session")
def library() -> Library:
    return shipped.library()


@pytest.fixture
def watch() -> Watch:
    return Watch(2.0)


@pytest.fixture
def plates(tmp_path: Path, library: Library) -> Path:
    """A roof of 9 m by 6 m whose plates are next."""
    return brought_to(tmp_path, library, "main.plates")
