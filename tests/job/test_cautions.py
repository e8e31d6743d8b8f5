"""No caution is dropped: each that applies is in the state; what an answer stops, and what one answer settles."""

import pytest
from msgspec.structs import replace

from sitelog.checklist.load import load
from sitelog.checklist.model import Caution, Gauge, Question
from sitelog.job import acts
from sitelog.job.cautions import stopped
from sitelog.job.readings import answer_of, kept_answer, stops
from sitelog.job.show import to_json
from sitelog.refusal import Refusal
from tests.handover.site import Site
from tests.job.roof import LIBRARY, Desk

WIND = Question(
    "Wind now", "number", readings=(Gauge("mean", "mph", 23), Gauge("gust", "mph", 35, least="mean")), settles="wind"
)
RESIN = Question("Temperature of the deck", "number", "deg C", stop_from=35, stop_under=5)
CALL = Question("Who is within call", "name", stop_on=("nobody",))
PLACE = Question("Where is the shade", "place")


@pytest.mark.parametrize(
    ("question", "text", "stopping"),
    [
        (WIND, "12 18", False),
        (WIND, "23, 30", True),
        (WIND, "20 gusting 35 mph", True),
        (WIND, "mean 12mph gust 18mph", False),
        (RESIN, "4.9", True),
        (RESIN, "5", False),
        (RESIN, "35", True),
        (CALL, "Nobody.", True),
        (CALL, "April Reed", False),
        (PLACE, "behind the hut, May Street", False),
    ],
)
def test_an_answer_stops_below_a_low_figure_above_a_high_one_and_at_a_word(
    question: Question, text: str, stopping: bool
) -> None:
    assert stops(question, answer_of(question, text)) is stopping


@pytest.mark.parametrize(
    ("question", "text", "says"),
    [
        (WIND, "12", "give 2 numbers, mean, then gust"),
        (WIND, "gust 18 mean 12", "give 2 numbers"),
        (WIND, "18 12", "gust 12 is less than mean 18"),
        (PLACE, "November", "no place"),
        (PLACE, "in Nov 2026", "no place"),
        (PLACE, "xx", "no place"),
        (CALL, "yes", "no name"),
    ],
)
def test_what_is_no_answer_is_refused(question: Question, text: str, says: str) -> None:
    with pytest.raises(Refusal, match=says):
        answer_of(question, text)


def test_a_lone_wind_kept_when_one_number_was_asked_is_held_to_the_lowest_stop() -> None:
    assert stops(WIND, kept_answer(30)) and not stops(WIND, kept_answer(22))


def test_one_answer_settles_all_that_ask_about_the_same_each_by_its_own_figures() -> None:
    low = replace(WIND, readings=(Gauge("mean", "mph", 17), Gauge("gust", "mph", 26, least="mean")))
    two = [Caution(name, name, "hurts", "do", "ask", asked) for name, asked in (("edge", WIND), ("wind", low))]
    known = {**LIBRARY.cautions, **{one.id: one for one in two}}
    library = replace(LIBRARY, cautions=known)
    desk = Desk(library).to_plates()
    desk.do(acts.read_caution(desk.state, library, "edge", "18 20"))
    assert stopped([two[0]], {"wind": desk.state.readings[-1]}) == ""
    stage = desk.state.stage("main.plates")
    assert stage is not None and "wind: stopped at mean 18 mph" in stage.blocked


def test_work_on_an_existing_building_keeps_asbestos_and_bats() -> None:
    site = Site()
    site.answer("job.before.works", {"value": "existing"})
    told = [one for one in to_json(site.state)["cautions"] if one["stage"] == "job.before"]
    assert {"asbestos", "bats-birds", "scaffold"} <= {one["id"] for one in told}
    assert all(one["answered_by"] == "" for one in told)
    site.do(acts.read_caution(site.state, load(), "asbestos", "seen, none here"))
    (one,) = (one for one in to_json(site.state)["cautions"] if one["id"] == "asbestos")
    assert one == {"id": "asbestos", "stage": "job.before", "stops": True, "answered_by": "M. Reed"}
