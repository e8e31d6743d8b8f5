"""The longest stories first, so that no worker is left alone with one at the end."""

import pytest


def pytest_collection_modifyitems(items: list[pytest.Item]) -> None:
    items.sort(key=lambda item: "test_walk" not in item.nodeid)
