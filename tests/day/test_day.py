"""A house by keyboard from the first page to the printed pack, in no more keys and caution screens than are allowed."""

from dataclasses import replace
from pathlib import Path

import pytest

from sitelog.job.state.views import CheckView, State
from sitelog.job.storage.verify import verify
from tests.day.house import LONG_BARN, ORCHARD, House
from tests.day.keys import THINKING
from tests.day.person import SIX, Person, a_day
from tests.shipped import library
from tests.tui.site import begin, brought_to, opened

SIX_FIGURES = {"ab": "9001", "bc": "6002", "cd": "8999", "da": "6001", "ac": "10818", "bd": "10815"}
NINE_METRES = replace(ORCHARD, read={"plates.sides": SIX_FIGURES})
KEYS, CAUTIONS, SIX_SECONDS = 1_300, 12, 25.0
SIZES = [(80, 24), (140, 40), (60, 20), (45, 70)]


def found(state: State, path: str) -> CheckView:
    view = state.check(path)
    assert view is not None, path
    return view


def assert_whole(folder: Path, house: House, person: Person) -> None:
    """All that the day was to hold is in the record, and the pack is there."""
    state, job = person.state, person.job
    assert state is not None and job is not None
    assert state.handed_over
    assert (state.snags, state.releases) == ((), ())
    assert not person.left
    assert [check.path for check in state.checks() if check.state not in ("done", "not applicable")] == []
    check, note = house.noted
    assert note in [entry.note for entry in found(state, f"main.{check}").history]
    (wrong,) = house.wrong
    assert [entry.act for entry in found(state, f"main.{wrong}").history].count("answer") == 2
    assert [entry.act for entry in job.entries].count("void") == 1
    assert len(found(state, "main.first-pair.braced").photos) == 1
    (file,) = folder.glob("*.json")
    assert verify(file) == []
    assert list(folder.glob("*.pdf"))


async def test_six_figures_of_the_plates_and_their_verdict_take_25_seconds_by_the_model(
    tmp_path: Path,
) -> None:
    async with opened(brought_to(tmp_path, library(), "main.plates")) as walker:
        await begin(walker, SIX)
        person = Person(walker.app, walker.pilot, NINE_METRES)
        person.where = SIX
        await person.step()
        await walker.pilot.pause()
        assert found(walker.app.state, SIX).state == "done"
        assert person.spent.seconds + THINKING <= SIX_SECONDS


@pytest.mark.long
@pytest.mark.parametrize("size", SIZES, ids=lambda size: "x".join(map(str, size)))
async def test_a_hipped_house_takes_no_more_keys_and_cautions_than_allowed(
    tmp_path: Path, size: tuple[int, int]
) -> None:
    person = await a_day(tmp_path, ORCHARD, size)
    assert_whole(tmp_path, ORCHARD, person)
    assert person.spent.pressed <= KEYS, person.spent.table()
    assert person.spent.cautions <= CAUTIONS, person.spent.table()
    assert person.six.seconds + THINKING <= SIX_SECONDS, "the six figures, and a look at their verdict"


@pytest.mark.long
async def test_a_longer_steeper_house_takes_no_more_than_a_twentieth_more(tmp_path: Path) -> None:
    person = await a_day(tmp_path, LONG_BARN)
    assert_whole(tmp_path, LONG_BARN, person)
    assert person.spent.pressed <= KEYS * 1.05, person.spent.table()
    assert person.spent.cautions <= CAUTIONS, person.spent.table()
