"""A curved head in lead on ribs and on formers, an eyebrow in plain tiles: by keyboard from nothing to the handover."""

from collections.abc import Callable, Mapping
from datetime import datetime
from pathlib import Path

import pytest

from tests import shipped
from tests.forms.dormers import BARREL, EYEBROW, READ_BARREL, READ_EYEBROW, READ_FORMERS
from tests.tui.walker import READ, alone


def number(use: str, finish: str) -> int:
    """The key of a finish in the list of those for that use."""
    names = [one.id for one in shipped.library().finishes.values() if use in one.serves]
    return names.index(finish) + 1


@pytest.mark.parametrize(
    ("form", "use", "lining", "drawn", "read"),
    [
        pytest.param("barrel-dormer", "curves", "lead-code-5", BARREL, READ_BARREL, marks=pytest.mark.long),
        ("barrel-dormer", "curves", "lead-code-5", BARREL, READ_FORMERS),
        ("eyebrow-dormer", "eyebrows", "plain-tiles", EYEBROW, READ_EYEBROW),
    ],
)
async def test_a_dormer_alone_is_set_up_and_reaches_the_signed_handover_by_keyboard_alone(
    form: str,
    use: str,
    lining: str,
    drawn: Mapping[str, str],
    read: Mapping[str, Mapping[str, str]],
    tmp_path: Path,
    clock: Callable[[], datetime],
) -> None:
    design = {"title": "Long Lane, plot 2", "by": "M. Reed", "1.form": form, "1.id": "dormer", "1.title": "Dormer"}
    figures = {f"1.{name}": figure for name, figure in drawn.items()}
    chosen = {"finish.lining": number(use, lining), "make-up.curve": 1 if read is READ_FORMERS else 2}
    state = await alone(tmp_path, clock, design | figures, READ | dict(read), chosen)
    assert (state.title, state.facts["dormer.lining"].now) == ("Long Lane, plot 2", lining)
