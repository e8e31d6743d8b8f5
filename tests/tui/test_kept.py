"""The sample's screens at their sizes and in both themes are those that were looked at, letter by letter."""

import time

import pytest

from tests.length import long
from tests.tui.kept import SIZES, UPRIGHT, file_of, walked

pytestmark = pytest.mark.skipif(not hasattr(time, "tzset"), reason="the clock of the machine can't be set here")


@pytest.mark.parametrize(
    ("size", "theme"),
    [
        (SIZES[0], "day"),
        (UPRIGHT, "day"),
        *(pytest.param(size, "day", marks=long) for size in SIZES[1:]),
        *(pytest.param(size, "van", marks=long) for size in SIZES),
    ],
)
def test_the_screens_of_the_sample_are_the_kept_ones(size: tuple[int, int], theme: str) -> None:
    kept = file_of(size).read_text(encoding="utf-8").split("=== ")[1:]
    now = "".join(walked(size, theme)).split("=== ")[1:]
    changed = [one.partition("\n")[0] for one, other in zip(now, kept, strict=False) if one != other]
    changed += [one.partition("\n")[0] for one in now[len(kept) :]]
    told = "look at each; if it is meant, `python -m tests.tui.kept` keeps it"
    assert not changed and len(now) == len(kept), f"other screens than kept: {', '.join(changed)}; {told}"
