"""The walks of whole jobs are long: `python -m pytest` leaves them out, `.ci/run` runs them with `-m long`.

The longest stories come first, and shared out: pytest-xdist gives each worker a run of tests to begin with.
"""

import os

import pytest


@pytest.hookimpl(tryfirst=True)
def pytest_collection_modifyitems(items: list[pytest.Item]) -> None:
    workers = int(os.environ.get("PYTEST_XDIST_WORKER_COUNT", "1"))
    long = [item for item in items if "/test_walk" in item.nodeid]
    for item in long:
        item.add_marker(pytest.mark.long)
    rest = [item for item in items if "/test_walk" not in item.nodeid]
    first = max(len(items) // workers // 4, 2)  # tests in a worker's first run
    items.clear()
    for worker in range(workers):
        share = long[worker::workers]
        room = max(0, first - len(share))
        items += [*share, *rest[:room]]
        rest = rest[room:]
    items += rest
