"""No caution is dropped: each that applies is in the state; what an answer stops, and what one answer settles."""

from collections.abc import Callable

import pytest
from msgspec.structs import replace

from sitelog.checklist.schema.grammar import condition
from sitelog.checklist.schema.guidance import Caution, Gauge, Question
from sitelog.checklist.schema.model import Check, Choice, Library
from sitelog.job.actions import actions
from sitelog.job.cautions.answers import answer_of, kept_answer, stops
from sitelog.job.cautions.due import due, foremost, latest, stopped
from sitelog.job.log.entry import Act, Draft
from sitelog.job.show import to_json
from sitelog.job.state.views import State
from sitelog.refusal import Refusal
from sitelog.wording.caution import caution_words
from sitelog.wording.prompts.asking import to_read
from tests import shipped
from tests.job.roof import HIPPED, LIBRARY, SIDES, Desk
from tests.job.test_fold import to_handover
from tests.reports.site import Site

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
        (WIND, "18 18", False),  # a steady wind gusts to its mean
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
        (WIND, "12", "2 numbers, mean, then gust"),
        (WIND, "gust 18 mean 12", "Type 2 numbers"),
        (WIND, "18 12", "gust 12 is less than mean 18"),
        (PLACE, "November", "isn't a place"),
        (PLACE, "in Nov 2026", "isn't a place"),
        (PLACE, "xx", "isn't a place"),
        (CALL, "yes", "isn't a name"),
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
    desk.do(actions.read_caution(desk.state, library, "edge", "18 20"))
    stage = desk.state.stage("main.plates")
    assert stage is not None and "wind: STOPPED, A. Foreman read mean 18 mph" in stage.blocked
    assert stopped(stage.path, two[:1], latest(desk.state.readings)) == ""


def test_work_on_an_existing_building_keeps_asbestos_and_bats() -> None:
    site = Site()
    site.answer("job.before.works", {"value": "existing"})
    told = [one for one in to_json(site.state)["cautions"] if one["stage"] == "job.before"]
    assert {"asbestos", "bats-birds", "scaffold"} <= {one["id"] for one in told}
    assert all(one["answered_by"] == "" for one in told)
    site.do(actions.read_caution(site.state, shipped.library(), "asbestos", "seen, none here"))
    (one,) = (one for one in to_json(site.state)["cautions"] if one["id"] == "asbestos")
    assert (one["stage"], one["stops"], one["answered_by"]) == ("job.before", True, "M. Reed")


# --- signing ----------------------------------------------------------------------------------------------------------


def plates_done() -> Desk:
    desk = Desk().to_plates().answer("main.plates.sides", SIDES).answer("main.plates.straps", {"value": "1850"})
    return desk.answer("main.plates.span", {"left": "6001"}).answer("main.plates.treated")


def test_a_stage_is_not_signed_while_nobody_has_read_what_stops_it_and_the_refusal_says_what_to_type() -> None:
    desk = plates_done()
    with pytest.raises(Refusal) as refused:
        actions.sign(desk.state, "main.plates")
    said = refused.value.message
    assert "edge (edge caution), wind (wind caution) not read" in said and "read edge" in said
    desk.do(actions.read_caution(desk.state, LIBRARY, "edge", "B. Mate"))
    assert desk.do(actions.sign(desk.state, "main.plates")).state.stage("main.plates").state == "signed"  # type: ignore[union-attr]


def test_a_stage_that_a_reading_stops_is_not_signed() -> None:
    desk = plates_done()
    desk.do(actions.read_caution(desk.state, LIBRARY, "edge", "B. Mate"))
    desk.do(actions.read_caution(desk.state, LIBRARY, "wind", "31"))
    with pytest.raises(Refusal, match=r"STOPPED, A. Foreman read 31 mph"):
        actions.sign(desk.state, "main.plates")


def test_the_handover_waits_while_any_stage_stands_stopped() -> None:
    desk = to_handover()
    desk.do(actions.read_caution(desk.state, LIBRARY, "wind", "31"))
    assert [one.id for one in to_read(desk.state.order[-1], desk.state, "A. Foreman", "2026-03-02")] == ["wind"]
    with pytest.raises(Refusal, match=r"wind \(wind caution\) STOPS THE WORK"):
        actions.sign(desk.state, "job.handover")
    desk.do(actions.read_caution(desk.state, LIBRARY, "wind", "12"))
    assert desk.sign("job.handover").state.handed_over


# --- one answer a stage -----------------------------------------------------------------------------------------------

NOTCH = Caution(
    "notch", "Notches", "hurts", "do", "ask",
    Question("Notches here", "choice", choices=("none", "cut"), stop_on=("cut",)), repeat="change", stops=True,
)  # fmt: skip


def with_notches() -> Library:
    """The small library, with notches to look for at the plates and at the hips."""
    library = replace(LIBRARY, cautions={**LIBRARY.cautions, "notch": NOTCH})
    named = ("plates", "hips")
    stages = tuple(replace(s, cautions=(*s.cautions, "notch")) if s.id in named else s for s in HIPPED.stages)
    return replace(library, lists={**LIBRARY.lists, "hipped": replace(HIPPED, stages=stages)})


def waiting_at(desk: Desk, path: str) -> bool:
    stage = desk.state.stage(path)
    assert stage is not None
    return "notch" in [one.id for one in due(stage, desk.state, "A. Foreman", "2026-03-02")]


def test_what_may_change_with_the_work_is_answered_for_each_stage_by_itself() -> None:
    desk = Desk(with_notches()).to_plates()
    assert waiting_at(desk, "main.plates") and waiting_at(desk, "main.hips")
    desk.do(actions.read_caution(desk.state, desk.library, "notch", "none"))
    assert not waiting_at(desk, "main.plates"), "an answer with no stage named is for the stage in hand"
    assert waiting_at(desk, "main.hips")
    desk.do(actions.read_caution(desk.state, desk.library, "notch", "cut", at="main.hips"))
    last = latest(desk.state.readings)
    assert stopped("main.hips", [NOTCH], last) and not stopped("main.plates", [NOTCH], last)
    with pytest.raises(Refusal, match=r"main\.tiler doesn't ask notch"):
        actions.read_caution(desk.state, desk.library, "notch", "none", at="main.tiler")


def test_an_answer_of_before_stages_were_named_still_counts_for_all_of_them() -> None:
    desk = Desk(with_notches()).to_plates()
    desk.do(Draft(act="read", value={"id": "notch", "answer": "none"}))
    assert not waiting_at(desk, "main.plates") and not waiting_at(desk, "main.hips")


def test_no_notch_in_the_deck_says_nothing_of_the_main_roof() -> None:
    site = Site(
        parts=(
            ("main", "Main roof", "table-top", {"length": "9000", "width": "6000", "pitch": "35", "design_mass": "70"}),
            ("deck", "Link deck", "firred-deck", {}),
        )
    )
    asked = [one["stage"] for one in to_json(site.state)["cautions"] if one["id"] == "notch-engineer"]
    assert {path.partition(".")[0] for path in asked} == {"main", "deck"}
    site.do(actions.read_caution(site.state, shipped.library(), "notch-engineer", "none", at="deck.joists"))
    answered = {
        one["stage"]: one["answered_by"] for one in to_json(site.state)["cautions"] if one["id"] == "notch-engineer"
    }
    assert answered == {path: "M. Reed" if path == "deck.joists" else "" for path in asked}


# --- what nobody answers is taken for the worse -----------------------------------------------------------------------

AWAY: list[Act] = ["skip", "release"]
OLD_ROOF = {"asbestos", "bats-birds", "old-services", "old-lead", "droppings"}


@pytest.mark.parametrize("act", [actions.skip, actions.release])
def test_where_nobody_says_what_work_it_is_the_old_roof_s_cautions_stay(act: Callable[..., Draft]) -> None:
    """Those that don't stop too: a foreman who waves the question by has said nothing of the droppings."""
    site = Site()
    assert not OLD_ROOF & ids(site.state, "job.before"), "they come with the answer, not before it"
    site.do(act(site.state, "job.before.works", "nobody would say"))
    assert ids(site.state, "job.before") >= OLD_ROOF
    site.answer("job.before.works", {"value": "new"})
    assert not OLD_ROOF & ids(site.state, "job.before")


def test_they_stay_where_the_whole_stage_is_let_go() -> None:
    site = Site()
    site.do(actions.release(site.state, "job.before", "late start"))
    assert ids(site.state, "job.before") >= OLD_ROOF


def test_they_say_which_question_nobody_answered() -> None:
    site = Site()
    caution = shipped.library().cautions["droppings"]
    assert "Why" not in dict(caution_words(caution, shipped.library(), site.state))
    site.do(actions.release(site.state, "job.before.works", "nobody would say"))
    view = site.state.check("job.before.works")
    assert (
        view
        and dict(caution_words(caution, shipped.library(), site.state))["Why"]
        == f"Nobody has answered: {view.check.ask}"
    )


@pytest.mark.parametrize("act", AWAY)
def test_where_nobody_names_the_lining_each_that_it_may_be_brings_its_cautions(act: Act) -> None:
    site = Site(parts=[("deck", "Deck", "firred-deck", {})])
    site.do(Draft(act=act, part="deck", check="finish.lining", note="client is away"))
    assert {"hot-work", "lead-health", "grp-resin", "resin-temperature"} <= ids(site.state, "deck.cover")
    assert {"copper-runoff", "grp-resin", "lead-health"} <= ids(site.state, "deck.finish")
    site.do(Draft(act="answer", part="deck", check="finish.lining", value={"value": "lead-code-5"}))
    assert "lead-health" in ids(site.state, "deck.cover")
    assert not {"grp-resin", "resin-temperature", "copper-runoff"} & ids(site.state, "deck.cover")


@pytest.mark.parametrize("act", AWAY)
@pytest.mark.parametrize("check", ["restraint.notches", "openings.openings", "finish.covering", "hips", "openings"])
def test_no_caution_goes_with_a_check_or_a_stage_that_is_let_go(check: str, act: Act) -> None:
    site = Site()
    before = {(one["stage"], one["id"]) for one in to_json(site.state)["cautions"]}
    site.do(Draft(act=act, part="main", check=check, note="as agreed"))
    assert before <= {(one["stage"], one["id"]) for one in to_json(site.state)["cautions"]}


def test_what_stops_in_a_stage_that_nobody_asked_for_stops_where_the_question_was_let_go() -> None:
    """Whether there are hips at all is asked at the plates; nobody says, so the stage of the hips is left out."""
    library = with_notches()
    asks = Check(
        "hips", "Are there hips?", "choice", choices=(Choice("some", "Some"), Choice("none", "None")), sets="hips"
    )
    stages = tuple(
        replace(s, checks=(*s.checks, asks), cautions=("edge",)) if s.id == "plates"
        else replace(s, when=condition("hips is some")) if s.id == "hips" else s
        for s in library.lists["hipped"].stages
    )  # fmt: skip
    own = replace(library.lists["hipped"], stages=stages)
    desk = Desk(replace(library, lists={**library.lists, "hipped": own})).to_plates()
    assert not waiting_at(desk, "main.plates") and desk.state.stage("main.hips") is None
    desk.do(actions.skip(desk.state, "main.plates.hips", "not drawn"))
    assert waiting_at(desk, "main.plates")
    desk.answer("main.plates.hips", {"value": "some"})
    assert waiting_at(desk, "main.hips") and not waiting_at(desk, "main.plates")


# --- what ends --------------------------------------------------------------------------------------------------------


def test_a_caution_goes_with_its_cause_and_the_pack_keeps_what_was_read() -> None:
    site = Site()

    def barred_when(works: str) -> str:
        site.do(Draft(act="answer", part="job", check="before.works", value={"value": works}))
        stage = site.state.stage("job.before")
        assert stage and ("asbestos" in ids(site.state, stage.path)) == (works == "existing")
        return stage.blocked

    assert not barred_when("existing")
    site.do(actions.read_caution(site.state, shipped.library(), "asbestos", "not seen"))
    assert not barred_when("new")
    section = next(one for one in site.pack().rest if one.title == "Cautions that apply")
    assert "Asbestos in old roofs (last read" in repr(section) and "M. Reed: not seen)" in repr(section)
    assert "Asbestos" in barred_when("existing"), "what stopped it then stops it again"


def ids(state: State, path: str) -> set[str]:
    return {one["id"] for one in to_json(state)["cautions"] if one["stage"] == path}


def test_what_can_stop_is_named_first_then_what_the_stage_brings_itself() -> None:
    library = shipped.library()
    stage = next(one for one in library.lists["hipped"].stages if one.cautions)
    own = library.cautions[stage.cautions[0]]
    another = next(one for one in library.cautions.values() if one.id not in stage.cautions)
    rest, its_own, can_stop = replace(another, stops=False), replace(own, stops=False), replace(another, stops=True)
    path = f"main.{stage.id}"
    assert foremost(path, stage, [rest, its_own, can_stop], {}) == (can_stop, its_own, rest)


@pytest.mark.parametrize(
    ("today", "asked"), [("2026-02-28", False), ("2026-03-01", True), ("2026-10-31", True), ("2026-11-25", False)]
)
def test_the_sun_is_asked_about_from_march_to_october(today: str, asked: bool) -> None:
    site = Site()
    (tiler,) = (stage for stage in site.state.order if stage.path == "main.tiler")
    assert "hot-day" in [one.id for one in tiler.cautions], "it is to be read all year"
    assert ("hot-day" in [one.id for one in due(tiler, site.state, "M. Reed", today)]) is asked


def test_what_is_asked_in_some_months_stops_no_work() -> None:
    """A caution that stops the work is never left out by the date."""
    seasonal = [one for one in shipped.library().cautions.values() if one.months]
    assert [one.id for one in seasonal] == ["hot-day"]
    assert not any(one.stops for one in seasonal)
