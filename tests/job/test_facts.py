"""What is known of a roof: as drawn, as built, and what follows."""

import pytest
from msgspec.structs import replace

from sitelog.checklist.schema.grammar import condition, operand
from sitelog.checklist.schema.model import FactSpec, Sum
from sitelog.job.actions import actions
from sitelog.job.log.entry import Draft
from sitelog.refusal import Refusal
from tests.job.roof import HIPPED, LIBRARY, OUT_OF_SQUARE, SIDES, Desk


def test_a_design_figure_stands_until_a_tape_says_otherwise() -> None:
    desk = Desk().to_plates()
    before = desk.state.facts["main.ab"]
    assert (before.now, before.origin) == (9000.0, "drawn")
    after = desk.answer("main.plates.sides", OUT_OF_SQUARE).state.facts["main.cd"]
    assert (after.drawn, after.built, after.origin, after.set_by) == (9000.0, 9010.0, "built", "main.plates.sides")


# Hips of plates 9000, 6000, 9010, 6005, 10830, 10812 at 35 degrees with every slope a true plane, worked by the
# meeting of planes over the adjusted corners, and not by the trade's formulas; 4734.20 is 3000 x sqrt(2 + tan^2 35).
@pytest.mark.parametrize(("corner", "built"), [("a", 4738.93), ("b", 4729.71), ("c", 4739.73), ("d", 4735.25)])
def test_plates_out_of_square_change_every_hip(corner: str, built: float) -> None:
    hip = Desk().to_plates().answer("main.plates.sides", OUT_OF_SQUARE).state.facts[f"main.hip_{corner}"]
    assert hip.drawn == pytest.approx(4734.20, abs=0.01)
    assert hip.built == pytest.approx(built, abs=0.01)
    assert hip.set_by == "roof"
    assert hip.rests_on == {"main.plates.sides"}


def test_a_sum_of_drawn_figures_alone_is_not_called_built() -> None:
    hip = Desk().state.facts["main.hip_a"]
    assert (hip.built, hip.origin) == (None, "drawn")


def test_a_chosen_finish_brings_its_facts_and_another_choice_changes_them() -> None:
    desk = Desk().to_plates("slates")
    lap = desk.state.facts["main.cover_headlap"]
    assert (lap.now, lap.origin) == (80.0, "built")
    desk.answer("main.finish.covering", {"value": "tiles"})
    assert desk.state.facts["main.cover_headlap"].now == 65.0


def test_a_measured_headlap_comes_before_the_one_a_finish_brings_while_its_check_applies() -> None:
    desk = Desk().to_hips("tiles").answer("main.tiler.lap", {"value": "75"})
    assert desk.state.facts["main.cover_headlap"].now == 75.0
    desk.answer("main.finish.covering", {"value": "slates"})
    assert desk.state.facts["main.cover_headlap"].now == 80.0
    desk.answer("main.finish.covering", {"value": "tiles"})
    assert desk.state.facts["main.cover_headlap"].now == 75.0


def test_a_choice_does_not_make_a_drawn_sum_built() -> None:
    specs = (*HIPPED.facts, FactSpec("twice_lap", "length", "Twice the lap", worked=operand("plus @cover_headlap @ab")))
    library = replace(LIBRARY, lists={**LIBRARY.lists, "hipped": replace(HIPPED, facts=specs)})
    fact = Desk(library).to_plates("slates").state.facts["main.twice_lap"]
    assert (fact.now, fact.origin) == (9080.0, "drawn")


def test_what_waits_for_a_figure_is_unknown_and_says_for_which() -> None:
    desk = Desk(LIBRARY, ("main", "Main roof", "hipped", {"length": "9000", "width": "6000"}))
    hip = desk.state.facts["main.hip_a"]
    assert hip.now is None
    assert "pitch" in hip.refusal


def test_plates_that_cannot_be_give_no_hips_and_the_rest_is_known_all_the_same() -> None:
    desk = Desk()
    desk.do(Draft(act="drawn", part="main", value={"ac": 20000.0}))  # an older list let a diagonal be drawn
    hip = desk.state.facts["main.hip_a"]
    assert hip.now is None and "together: check" in hip.refusal
    assert desk.state.facts["main.ab"].now == 9000.0


def test_a_figure_that_each_covering_works_its_own_way_follows_the_covering_chosen() -> None:
    pitch = operand("@pitch")
    sums = (
        Sum(
            "of-slates",
            "common",
            {"run": operand(3000), "pitch": pitch},
            {"lift": "rise"},
            condition("covering is slates"),
        ),
        Sum(
            "of-tiles",
            "common",
            {"run": operand(1500), "pitch": pitch},
            {"lift": "rise"},
            condition("covering is tiles"),
        ),
    )
    library = replace(LIBRARY, lists={**LIBRARY.lists, "hipped": replace(HIPPED, sums=sums)})
    desk = Desk(library)
    assert (desk.state.facts["main.lift"].now, desk.state.facts["main.lift"].refusal) == (
        None,
        "needs Covering (at main.finish.covering)",
    )
    # rise = run x tan 35
    assert desk.to_plates("slates").state.facts["main.lift"].now == pytest.approx(2100.62, abs=0.01)
    desk.answer("main.finish.covering", {"value": "tiles"})
    assert desk.state.facts["main.lift"].now == pytest.approx(1050.31, abs=0.01)


def test_a_fact_that_rests_on_itself_is_unknown_and_hangs_nothing() -> None:
    circle = (
        FactSpec("one", "length", "one", worked=operand("half @two")),
        FactSpec("two", "length", "two", worked=operand("half @one")),
    )
    library = replace(LIBRARY, lists={**LIBRARY.lists, "hipped": replace(HIPPED, facts=(*HIPPED.facts, *circle))})
    assert Desk(library).state.facts["main.one"].now is None


def test_the_job_s_facts_are_seen_from_every_part() -> None:
    specs = (*HIPPED.facts, FactSpec("wet", "number", "Wetness", "%", worked=operand("half @job.moisture")))
    library = replace(LIBRARY, lists={**LIBRARY.lists, "hipped": replace(HIPPED, facts=specs)})
    desk = Desk(library)
    desk.answer("job.start.moisture", {"value": "18"})
    assert desk.state.facts["job.moisture"].now == 18.0
    assert desk.state.facts["main.wet"].now == 9.0


def test_the_covering_belongs_to_each_part_and_not_to_the_job() -> None:
    facts = Desk().state.facts
    assert "job.covering" not in facts
    assert facts["main.covering"].setters == ("main.finish.covering",)


def test_new_design_figures_come_from_a_drawing_and_results_do_not() -> None:
    desk = Desk()
    desk.do(actions.draw(desk.state, "main", {"pitch": "40"}))
    assert desk.state.facts["main.pitch"].now == 40.0
    for name in ("hip_a", "ab", "pitsh"):
        with pytest.raises(Refusal, match="figure"):
            actions.draw(desk.state, "main", {name: "40"})


def test_a_figure_is_held_to_the_drawing_and_not_to_itself() -> None:
    figures = {f.key: f for f in Desk().to_plates().answer("main.plates.sides", SIDES | {"ab": "9004"}).check(
        "main.plates.sides").figures}  # fmt: skip
    assert (figures["ab"].drawn, figures["ab"].value, figures["ab"].difference) == (9000.0, 9004.0, 4.0)


def test_a_figure_taken_back_is_drawn_again() -> None:
    desk = Desk().to_plates().answer("main.plates.sides", OUT_OF_SQUARE).undo()
    assert desk.state.facts["main.cd"].origin == "drawn"


def test_a_check_set_aside_sets_nothing() -> None:
    desk = Desk().to_plates().answer("main.plates.sides", OUT_OF_SQUARE)
    desk.do(actions.skip(desk.state, "main.plates.sides", "wrong roof"))
    assert desk.state.facts["main.cd"].origin == "drawn"
