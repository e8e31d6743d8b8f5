"""What one part's finish asks of another shows in both: a roof in slates and lead, with a curved head in copper.

The job is invented; that no water runs off copper on to zinc is a materials handbook's (see the list of finishes).
"""

import copy

import pytest

from sitelog.job.facts.cache import EvaluationCache
from sitelog.job.log.entry_index import EntryIndex
from sitelog.job.state.replay import replay, state_of
from sitelog.reports.formats.text import text
from sitelog.wording.strip import asked_lines, strip_lines
from tests.reports.site import Site
from tests.shipped import library

ROOF = ("main", "Main roof", "hipped", {"length": "9000", "width": "6000", "pitch": "40", "design_mass": "40"})
DORMER = ("dormer", "Dormer", "barrel-dormer", {"radius": "900", "pitch": "40", "cheek_depth": "1500"})
RUNOFF = "No water off copper on to zinc, galvanised steel or plain aluminium; lead and stainless are safe"


def site() -> Site:
    needed = {f.name for f in library().lists["barrel-dormer"].facts if f.asked}
    dormer = (*DORMER[:3], {name: value for name, value in DORMER[3].items() if name in needed})
    made = Site(parts=[ROOF, dormer])
    made.up_to("main.finish.covering")
    made.answer("main.finish.covering", {"value": "slates-500x250"})
    made.answer("main.finish.lining", {"value": "lead-code-5"})
    return made


@pytest.fixture(scope="module")
def before() -> Site:
    """The roof's finish chosen, the dormer's not yet."""
    return site()


@pytest.fixture(scope="module")
def copper(before: Site) -> Site:
    made = copy.copy(before)
    made.answer("dormer.finish.lining", {"value": "copper-06"})
    return made


def cautions(site: Site, path: str) -> set[str]:
    stage = site.state.stage(path)
    assert stage is not None
    return {caution.id for caution in stage.cautions}


def asks(site: Site, part: str) -> dict[str, str]:
    """What is asked of a part, and the part that asks it."""
    return {one.ask.says: title for title, one in site.state.asked_of(part)}


def test_water_off_copper_is_asked_of_the_roof_below_it(copper: Site) -> None:
    assert asks(copper, "main")[RUNOFF] == "Dormer"
    assert RUNOFF not in asks(copper, "dormer"), "a part's own finish is no other part's"
    assert RUNOFF not in asks(copper, "job")


def test_lead_asks_of_the_copper_that_it_meets_and_of_what_stands_against_it(before: Site) -> None:
    asked = asks(before, "dormer")
    assert asked["Water off it may run on to copper, not on to zinc, galvanised steel or aluminium"] == "Main roof"
    assert asked["Lay board 225 up a tiled slope beside the lead"] == "Main roof"
    assert any(says.startswith("Weighs 25.4 kg") for says in asked)
    assert asks(before, "main") == {}


def test_the_caution_is_raised_in_both_parts(before: Site, copper: Site) -> None:
    assert "copper-runoff" not in cautions(before, "main.finish") | cautions(before, "dormer.finish")
    assert "copper-runoff" in cautions(copper, "dormer.finish")
    assert "copper-runoff" in cautions(copper, "main.finish")
    assert "copper-runoff" not in cautions(copper, "main.plates"), "it is read where a finish is chosen"


def test_another_finish_takes_it_back(copper: Site) -> None:
    made = copy.copy(copper)
    made.answer("dormer.finish.lining", {"value": "grp"})
    assert RUNOFF not in asks(made, "main")
    assert "copper-runoff" not in cautions(made, "main.finish")


def test_a_part_kept_from_the_last_look_hears_what_another_chose(before: Site, copper: Site) -> None:
    """What is brought up to date is what is folded anew, though no entry was made in the part that is asked."""
    kept = EvaluationCache()
    state_of(library(), EntryIndex.of(before.entries), kept)
    assert state_of(library(), EntryIndex.of(copper.entries), kept) == replay(library(), copper.entries)


def test_it_is_told_where_the_finish_is_chosen_and_in_the_pack(copper: Site) -> None:
    covering = copper.state.check("main.finish.covering")
    plates = copper.state.check("main.plates.sides")
    assert covering is not None and plates is not None
    (line,) = asked_lines("main", copper.state)
    assert line.startswith(f"Needed by Dormer (Copper, 0.6 mm, rolls or seams): {RUNOFF}")
    assert line in strip_lines(covering, copper.state)
    assert line not in strip_lines(plates, copper.state)
    finish = next(one for one in copper.pack().rest if one.id == "main-finish")
    assert "Dormer: Copper, 0.6 mm" in str(finish) and RUNOFF in str(finish)
    assert "Needed by" in text(copper.pack())


def test_a_job_of_one_part_is_asked_nothing() -> None:
    made = Site()
    made.up_to("main.finish.exposure")
    assert made.state.asked == ()
