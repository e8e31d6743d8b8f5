"""What all tests share: which of them run, in what order, and the shipped lists, proved once for a worker.

The longest stories come first, and shared out: pytest-xdist gives each worker a run of tests to begin with.
"""

import os
from collections.abc import Callable, Iterator
from pathlib import Path

import pytest

from sitelog.checklist import proved
from sitelog.checklist.model import Library
from sitelog.job import lists

READ_OR_PROVED = proved.cached


def pytest_configure(config: pytest.Config) -> None:
    if str(config.option.markexpr) == "long":
        os.environ["SITELOG_LONG"] = "1"


@pytest.hookimpl(tryfirst=True)
def pytest_collection_modifyitems(items: list[pytest.Item]) -> None:
    for item in items:
        if "/test_walk" in item.nodeid or (os.environ.get("SITELOG_LONG") and item.get_closest_marker("grows")):
            item.add_marker(pytest.mark.long)
    _shared_out(items)


def _shared_out(items: list[pytest.Item]) -> None:
    workers = int(os.environ.get("PYTEST_XDIST_WORKER_COUNT", "1"))
    long = [item for item in items if "/test_walk" in item.nodeid]
    rest = [item for item in items if "/test_walk" not in item.nodeid]
    first = max(len(items) // workers // 4, 2)  # tests in a worker's first run
    items.clear()
    for worker in range(workers):
        share = long[worker::workers]
        room = max(0, first - len(share))
        items += [*share, *rest[:room]]
        rest = rest[room:]
    items += rest


@pytest.fixture(scope="session", autouse=True)
def lists_proved_once() -> Iterator[None]:
    """Every program that a test starts in this process takes the lists that an earlier one has proved.

    What is kept on the disk between one start and the next has tests of its own.
    """
    known: dict[str, Library] = {}

    def remembered(cache: Path, key: str, make: Callable[[], Library]) -> Library:
        if key not in known:
            known[key] = READ_OR_PROVED(cache, key, make)
        return known[key]

    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(proved, "cached", remembered)
        patch.setattr(lists, "cached", remembered)
        yield


@pytest.fixture
def lists_read_again(monkeypatch: pytest.MonkeyPatch) -> None:
    """For tests of what is kept on the disk: nothing is remembered between one start and the next."""
    monkeypatch.setattr(proved, "cached", READ_OR_PROVED)
    monkeypatch.setattr(lists, "cached", READ_OR_PROVED)
