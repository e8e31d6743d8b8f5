"""What ties the rafter feet is asked where birdsmouths are decided, in every form that has common rafters.

LABC guidance after the TRADA span tables: a third of the depth, for a rafter held at the eaves by a ceiling tie.
"""

import pytest

from sitelog.job.actions import actions
from sitelog.job.cautions.due import latest, stopped
from sitelog.job.log.entry import Draft
from sitelog.job.show import to_json
from tests.forms.seen import check
from tests.reports.site import Site
from tests.reports.test_no_caution_dropped import ROOFS
from tests.shipped import library

LIBRARY = library()
STAGES = {
    "hipped": "first-pair",
    "gabled": "first-pair",
    "table-top": "first-pair",
    "parapet-gutter": "feet",
    "cut-roof": "timber",
}
ELSEWHERE = ("table-top", "cut-roof")  # the common rafter is worked at another stage, or from plates not taped yet


def site_of(form: str) -> Site:
    return Site(parts=[("main", "Roof", form, ROOFS[form])])


def tied(site: Site, form: str, value: str) -> None:
    """As copies joined late may hold it: the holds before it are still open."""
    site.do(Draft(act="answer", part="main", check=f"{STAGES[form]}.eaves-tied", value={"value": value}))


def cautions(site: Site, form: str) -> set[str]:
    return {one["id"] for one in to_json(site.state)["cautions"] if one["stage"] == f"main.{STAGES[form]}"}


def test_every_form_that_cuts_common_rafters_or_birdsmouths_asks_before_it_works_them() -> None:
    asking = {}
    for form in LIBRARY.lists:
        for stage in LIBRARY.stages(form) if form != "job" else ():
            calculators = [one.calculator for one in stage.checks]
            if {"common", "birdsmouth"} & set(calculators) and form not in asking:
                asking[form] = stage.id
                ids = [one.id for one in stage.checks]
                assert ids.index("eaves-tied") < min(
                    calculators.index(one) for one in ("common", "birdsmouth") if one in calculators
                )
    assert asking == STAGES


@pytest.mark.parametrize(("tie", "verdict"), [("joists", "pass"), ("ties", "pass"), ("no", "unsure")])
@pytest.mark.parametrize("form", STAGES)
def test_a_third_passes_only_where_something_ties_the_feet(form: str, tie: str, verdict: str) -> None:
    site = site_of(form)
    sums = ["birdsmouth"] if form in ELSEWHERE else ["birdsmouth", "common"]
    assert [check(site, f"{STAGES[form]}.{name}").verdict for name in sums] == ["unsure"] * len(sums), "nobody has said"
    tied(site, form, tie)
    assert [check(site, f"{STAGES[form]}.{name}").verdict for name in sums] == [verdict] * len(sums)


@pytest.mark.parametrize("form", STAGES)
def test_feet_that_nothing_ties_go_to_the_engineer_and_stop_the_work(form: str) -> None:
    site = site_of(form)
    assert "untied-eaves" not in cautions(site, form)
    tied(site, form, "joists")
    assert "untied-eaves" not in cautions(site, form)
    tied(site, form, "no")
    assert {"untied-eaves", "notch-engineer"} <= cautions(site, form)
    site.do(actions.read_caution(site.state, LIBRARY, "untied-eaves", "nobody has said"))
    stage = site.state.stage(f"main.{STAGES[form]}")
    assert stage
    why = stopped(stage.path, stage.cautions, latest(site.state.readings))
    assert why.startswith("Rafter feet without a tie: STOPPED, M. Reed read nobody has said")


@pytest.mark.parametrize("act", ["skip", "release"])
@pytest.mark.parametrize("form", STAGES)
def test_where_the_question_is_let_go_no_third_passes_and_the_engineer_is_still_asked(form: str, act: str) -> None:
    site = site_of(form)
    site.do(Draft(act=act, part="main", check=f"{STAGES[form]}.eaves-tied", note="drawing not here"))  # type: ignore[arg-type]
    assert check(site, f"{STAGES[form]}.birdsmouth").verdict == "unsure"
    assert {"untied-eaves", "notch-engineer"} <= cautions(site, form)


def test_what_the_drawing_says_may_still_be_given_when_the_part_is_set_up() -> None:
    """As scripts did before the question was a check."""
    site = Site(more={"eaves_tied": "yes"})
    assert check(site, "first-pair.birdsmouth").verdict == "pass"


@pytest.mark.parametrize(("tie", "verdict", "asked"), [("joists", "pass", False), ("no", "unsure", True)])
def test_a_dormer_is_asked_what_ties_its_own_feet(tie: str, verdict: str, asked: bool) -> None:
    """What ties the main roof's holds none of the dormer's: an untied one spreads its cheeks."""
    roof = {**ROOFS["cut-roof"], "building": "main 9000x6000 40; dormer off AB 3500 from A 1500x900 30 cheek 600"}
    site = Site(parts=[("main", "Roof", "cut-roof", roof)])
    tied(site, "cut-roof", "joists")
    assert check(site, "dormer.common").verdict == "unsure", "nobody has said"
    site.do(Draft(act="answer", part="main", check="dormer.tied", value={"value": tie}))
    assert check(site, "dormer.common").verdict == verdict
    assert (site.state.check("main.dormer.untied") is not None) == asked
