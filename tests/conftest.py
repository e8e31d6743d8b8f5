"""What all tests share: which of them run, on which worker, and the shipped lists, proved once for a worker."""

import gc
import os
from collections.abc import Callable, Iterator
from pathlib import Path
from typing import Any

import pytest
from textual import _wait

from sitelog.checklist import proved
from sitelog.checklist.schema.model import Library
from sitelog.job import lists

READ_OR_PROVED = proved.cached


def pytest_configure(config: pytest.Config) -> None:
    if str(config.option.markexpr) == "long":
        os.environ["SITELOG_LONG"] = "1"
    # A pressed key is waited for in steps of 10 ms, not 20: idle waits were half the time of the stories on screens.
    _wait.SLEEP_GRANULARITY = 1 / 100
    _wait.SLEEP_IDLE = 1 / 400


def pytest_collection_finish() -> None:
    """Eleven thousand collected tests are not searched for garbage again and again: a fifth of the time went there."""
    gc.collect()
    gc.freeze()
    gc.set_threshold(50_000, 20, 50)


@pytest.hookimpl(tryfirst=True)
def pytest_collection_modifyitems(items: list[pytest.Item]) -> None:
    for item in items:
        if "/test_walk" in item.nodeid or (os.environ.get("SITELOG_LONG") and item.get_closest_marker("grows")):
            item.add_marker(pytest.mark.long)


@pytest.hookimpl(optionalhook=True)
def pytest_xdist_make_scheduler(config: pytest.Config, log: Any) -> Any:
    """A worker that is done takes tests from one that is not: the long stories stand together, at the end."""
    from xdist.scheduler import WorkStealingScheduling  # type: ignore[import-untyped]

    return WorkStealingScheduling(config, log)


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
