"""How long the tests run: `python -m pytest` in minutes, `-m long` what takes longer, and the rest at full length.

A test that is marked `long` is left out by default. One marked `grows` always runs: short by default, at full length
with `-m long`, by `LONG`.
"""

import os

import pytest

LONG = bool(os.environ.get("SITELOG_LONG"))  # set for the workers too, by tests/conftest.py
long = pytest.mark.long
grows = pytest.mark.grows
