"""A list with `each` in it follows its part's roof: as drawn, as taped, and when a line comes or goes."""

import math
import pickle
from collections.abc import Mapping
from pathlib import Path

import pytest

from sitelog import kept
from sitelog.checklist.load import load
from sitelog.checklist.schema.model import Library
from sitelog.geometry.building.named import roof_of
from sitelog.job.facts.cache import EvaluationCache
from sitelog.job.log.entry_index import EntryIndex
from sitelog.job.show import to_json
from sitelog.job.state.replay import replay, state_of
from sitelog.refusal import Refusal
from tests.checklist.small import write
from tests.checklist.small_roof import CUT_ROOF
from tests.job.roof import Desk

L = "main 9000x6000 40; wing off CD 0 from D 4000x4000 40 end gable"


@pytest.fixture(scope="module")
def library(tmp_path_factory: pytest.TempPathFactory) -> Library:
    return load(shipped=write(tmp_path_factory.mktemp("lists"), **{"cut-roof": CUT_ROOF}))


def begun(library: Library, building: str) -> Desk:
    """A job with one cut roof, its first stage signed."""
    desk = Desk(library, ("main", "Roof", "cut-roof", {"building": building} if building else {}))
    desk.answer("job.start.moisture", {"value": "15"}).answer("job.start.drawings").sign("job.start")
    return desk.answer("main.finish.covering", {"value": "slates"})


def tape(desk: Desk, building: str, moved: Mapping[str, tuple[float, float]] | None = None) -> Desk:
    """Every side and tie between the corners as drawn, but for those that are elsewhere [mm]."""
    roof = roof_of(building)
    points = {**roof.plates.points, **(moved or {})}
    every = (*roof.of("sides"), *roof.of("ties"))
    texts = {one.id.replace("-", "_"): f"{math.dist(*(points[end] for end in one.between)):.1f}" for one in every}
    return desk.answer("main.plates.taped", texts)


def test_each_hip_valley_and_block_has_its_own_checks_in_the_order_of_work(library: Library) -> None:
    desk = begun(library, L)
    assert [stage.path for stage in desk.state.order if stage.part == "main"][1:] == [
        "main.plates", "main.main-ridge", "main.main-hips", "main.wing-ridge", "main.valley-ce-ef", "main.last",
    ]  # fmt: skip
    valley = desk.check("main.valley-ce-ef.line")
    assert valley.figures[0].drawn == pytest.approx(3288.8, abs=0.1)
    assert desk.state.parts[1].form == "cut-roof"


def test_a_valley_waits_for_both_of_its_slopes(library: Library) -> None:
    desk = tape(begun(library, L), L).sign("main.plates").answer("main.main-ridge.run", {"value": "3000"})
    assert desk.check("main.valley-ce-ef.line").blocked.startswith("main.wing-ridge.run must be done first")
    assert not desk.answer("main.wing-ridge.run", {"value": "2000"}).check("main.valley-ce-ef.line").blocked


def test_every_figure_follows_the_plates_as_taped(library: Library) -> None:
    """By hand: the wing 40 wider from end to end has its ridge 20 further over, and its valley as much longer."""
    desk = tape(begun(library, L), L).sign("main.plates").answer("main.wing-ridge.run", {"value": "2000"})
    tape(desk, L, {"E": (4040.0, 6000.0), "F": (4040.0, 10000.0)})
    run = desk.check("main.wing-ridge.run")
    assert run.state == "stale" and run.figures[0].drawn == pytest.approx(2020, abs=0.2)
    assert desk.state.facts["main.valley_ce_ef_length"].now == pytest.approx(3288.8 * 2020 / 2000, abs=0.5)


def test_a_line_that_comes_by_measuring_is_said_and_asked_about(library: Library) -> None:
    """Drawn square, four hips meet in a point; 400 longer one way, a ridge comes between two pairs of them."""
    text = "main 6000x6000 40"
    desk = tape(begun(library, text), text, {"B": (6400.0, 0.0), "C": (6400.0, 6000.0)})
    assert desk.state.roof_changes == ("Roof: as measured there is more than drawn: Ridge AB-CD",)
    assert desk.check("main.main-ridge.ridge-ab-cd-level").state == "open"
    assert to_json(desk.state)["roof_changes"] == list(desk.state.roof_changes)


def test_a_roof_that_cant_be_read_is_said_first(library: Library, monkeypatch: pytest.MonkeyPatch) -> None:
    def unread(*_: object) -> None:
        raise Refusal("building: 'tower' isn't a block")

    monkeypatch.setattr("sitelog.job.facts.written_out.roof_of", unread)
    (told,) = begun(library, L).state.roof_changes
    assert told.startswith("Roof: its roof can't be read, so its stages are missing.")
    assert told.endswith("'tower' isn't a block")


def test_what_was_answered_of_a_line_that_goes_is_told_in_its_words(library: Library) -> None:
    text = "main 6200x6000 40"
    desk = tape(begun(library, text), text).sign("main.plates")
    desk.answer("main.main-ridge.ridge-ab-cd-level", {"value": "2"})
    tape(desk, text, {"B": (6000.0, 0.0), "C": (6000.0, 6000.0)})
    assert desk.state.roof_changes == ("Roof: as measured these aren't there: Ridge AB-CD",)
    assert [(one.path, one.ask, one.answer) for one in desk.state.earlier] == [
        ("main.main-ridge.ridge-ab-cd-level", "Ridge AB-CD: fall from end to end, mm", "2 mm")
    ]


def test_a_list_kept_from_the_last_look_follows_the_plates_there_and_back(library: Library) -> None:
    """Square as drawn, then longer one way, then as drawn once more: what is kept shows what a fresh look would."""
    text = "main 6000x6000 40"
    desk = begun(library, text)
    longer: dict[str, tuple[float, float]] = {"B": (6400.0, 0.0), "C": (6400.0, 6000.0)}
    tape(tape(tape(desk, text), text, longer), text).sign("main.plates")
    begins = next(number for number, entry in enumerate(desk.entries) if entry.part == "main")
    own, cache, changes = library, EvaluationCache(), []
    for count in range(begins, len(desk.entries) + 1):
        state = state_of(own, EntryIndex.of(desk.entries[:count]), cache)
        assert state == replay(library, desk.entries[:count])
        changes.append(bool(state.roof_changes))
        own, cache = pickle.loads(pickle.dumps((own, cache)))  # as the next start finds it
    assert changes[-4:] == [False, True, False, False]


def test_a_stage_has_no_more_than_nine_checks_whatever_the_roof(library: Library) -> None:
    order = begun(library, "main octagon 6000 40").state.order
    stages = [stage for stage in order if stage.stage.id.startswith("main-hips")]
    assert [len(stage.checks) for stage in stages] == [8, 8]
    assert [stage.stage.title for stage in stages] == ["Main roof: hips", "Main roof: hips (2)"]


def test_a_roof_that_is_not_said_yet_has_no_lines(library: Library) -> None:
    order = begun(library, "").state.order
    assert [stage.stage.id for stage in order if stage.part == "main"] == ["finish", "plates", "last"]


def test_a_list_with_each_is_kept_proved(library: Library, kept_on_disk: Path) -> None:
    kept.keep("key", library)
    assert kept.find("key") == library
