"""Whatever the facts, no caution is lost: each that applies is answered, or still to be read, or unread in the pack."""

from collections.abc import Iterator, Mapping

import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st

from sitelog.calculators.catalogue import Value
from sitelog.checklist.schema.guidance import Caution
from sitelog.checklist.schema.model import Check, Stage
from sitelog.job.actions import actions
from sitelog.job.cautions.due import due
from sitelog.job.facts.schema import stages_of
from sitelog.job.facts.sums import holds
from sitelog.job.log.entry import Draft
from sitelog.job.show import to_json
from sitelog.job.state.views import StageView, State
from sitelog.reports.pack import trades
from tests.job.roof import going_on
from tests.reports.site import Site
from tests.shipped import library

LIBRARY = library()
FIGURES = {"length": "9000", "width": "6000", "pitch": "35", "design_mass": "70"}
ROOFS: Mapping[str, Mapping[str, str]] = {
    "hipped": FIGURES,
    "gabled": FIGURES,
    "table-top": FIGURES,
    "cut-roof": {"building": "main 9000x6000 40; wing off CD 0 from D 4000x4000 40 end gable", "design_mass": "60"},
    "firred-deck": {"length": "5200", "width": "3000", "fall": "1:40", "thin": "20", "design_mass": "3"},
    "parapet-gutter": {"length": "7200", "run": "3000", "pitch": "35", "gutter_run": "6000", "behind": "20"},
}


def choices(form: str) -> Iterator[tuple[str, Check]]:
    """The questions whose answer is a fact: each with its stage."""
    for stage in stages_of(LIBRARY, form):
        yield from ((stage.id, check) for check in stage.checks if check.kind == "choice" and check.choices)


def site_with(form: str, chosen: Mapping[str, str]) -> Site:
    """A job with those answers by `stage.check`, given in any order, as copies joined late may hold them."""
    site = Site(parts=[("main", "Roof", form, ROOFS[form])])
    for name, choice in chosen.items():
        part = "job" if name.startswith("before.") else "main"
        site.do(Draft(act="answer", part=part, check=name, value={"value": choice}))
    return site


def look(state: State, part: str, name: str) -> Value:
    own = state.facts.get(f"{part}.{name}") or state.facts.get(f"job.{name.removeprefix('job.')}")
    return own.now if own else None


def names(state: State, stage: StageView, form: Stage) -> Iterator[str]:
    """What a reader of the lists would look for at a stage: its own, its checks', what they chose and worked out."""
    yield from form.cautions
    for view in stage.shown:
        yield from view.check.cautions
        yield from view.answer.cautions if view.answer else ()
        if view.check.finishes and isinstance(view.value, str) and view.value in LIBRARY.finishes:
            yield from LIBRARY.finishes[view.value].cautions


def wanted(state: State) -> Iterator[tuple[StageView, Caution]]:
    for stage in state.order:
        for name in names(state, stage, stage.stage):
            caution = LIBRARY.cautions.get(name)
            if caution and holds(caution.when, lambda fact, part=stage.part: look(state, part, fact)):  # type: ignore[misc]
                yield stage, caution


@st.composite
def jobs(draw: st.DrawFn) -> Site:
    form = draw(st.sampled_from(list(ROOFS)))
    chosen: dict[str, str] = {}
    for owner in ("job", form):
        for stage, check in choices(owner):
            if owner != "job" or stage == "before":
                picked = draw(st.none() | st.sampled_from([choice.id for choice in check.choices]))
                chosen |= {f"{stage}.{check.id}": picked} if picked else {}
    site = site_with(form, chosen)
    asked = {one.id: one for _, one in wanted(site.state)}
    for name in draw(st.lists(st.sampled_from(sorted(asked)), unique=True, max_size=6)):
        site.do(actions.read_caution(site.state, LIBRARY, name, going_on(asked[name].question)))
    return site


@settings(max_examples=12, deadline=None)
@given(site=jobs())
def test_each_caution_that_holds_is_answered_or_to_be_read_or_unread_in_the_pack(site: Site) -> None:
    state = site.state
    takers = trades(state)
    assume(takers)  # a job that hands nothing over yet has no pack
    pack = repr(site.pack(takers[0]))
    told = {(one["stage"], one["id"]): one["answered_by"] for one in to_json(state)["cautions"]}
    for stage, caution in wanted(state):
        assert (stage.path, caution.id) in told, f"{caution.id} is gone from {stage.path}"
        to_read = [one.id for one in due(stage, state, "A. Newcomer", "2025-06-24")]  # every season's
        assert caution.id in to_read, "somebody new has it to read"
        assert told[stage.path, caution.id] or caution.title in pack, "nobody read it, and the pack is silent"


def at(site: Site, path: str) -> set[str]:
    stage = site.state.stage(path)
    assert stage is not None
    return {one.id for one in stage.cautions}


def test_a_tiled_roof_with_lead_flashings_keeps_hot_work() -> None:
    site = site_with("hipped", {"finish.covering": "plain-tiles", "finish.lining": "lead-code-5"})
    assert {"hot-work", "wind-tiles", "silica-dust", "lead-health"} <= at(site, "main.tiler")
    assert f"{library().cautions['hot-work'].title}: read it before handover" in repr(site.pack())


def test_work_on_an_existing_building_keeps_asbestos_and_bats_in_the_pack() -> None:
    pack = repr(site_with("hipped", {"before.works": "existing"}).pack())
    titles = [library().cautions[name].title for name in ("asbestos", "bats-birds")]
    assert all(f"{title}: read it before handover" in pack for title in titles)


def test_hips_that_are_notched_too_deep_keep_the_engineer() -> None:
    """A birdsmouth over a third of the depth (LABC, after TRADA span tables): the hip is dropped on shallow commons."""
    site = Site(more={"hip_section": "47x225", "section": "47x100"})
    stage = next(s for s in site.state.order if any(c.check.calculator == "hip" for c in s.checks))
    raised = {name for c in stage.checks if c.answer for name in c.answer.cautions}
    assert "notch-engineer" in raised
    assert raised <= at(site, stage.path)
    assert f"{library().cautions['notch-engineer'].title} (at {stage.stage.title}): read it before handover" in repr(
        site.pack()
    )


ONCE_A_DAY = {"wind": "weather-wind", "nearest-edge": "open-edge", "ladder": "ladder", "who-is-near": "lone-work"}


@pytest.mark.parametrize(("subject", "name"), ONCE_A_DAY.items())
@pytest.mark.parametrize("form", ROOFS)
def test_wind_edge_ladder_and_who_is_near_are_asked_once_a_day_whichever_stages_want_them(
    form: str, subject: str, name: str
) -> None:
    site = Site(parts=[("main", "Roof", form, ROOFS[form]), ("deck", "Deck", "firred-deck", ROOFS["firred-deck"])])

    def asking(by: str, day: str) -> set[str]:
        """The stages that would ask it of this person on this day."""
        due_at = ((stage.path, due(stage, site.state, by, day)) for stage in site.state.order)
        return {path for path, found in due_at if subject in (one.subject for one in found)}

    wanting = asking("M. Reed", "2025-11-24")
    assert {path.partition(".")[0] for path in wanting} >= {"main", "deck"}
    site.do(actions.read_caution(site.state, LIBRARY, name, going_on(LIBRARY.cautions[name].question)))
    assert asking("M. Reed", "2025-11-24") == set(), "asked again the same day"
    assert asking("M. Reed", "2025-11-25") == wanting, "not asked the next day"
    assert asking("J. Hale", "2025-11-24") == wanting, "not asked of whoever else goes up"


def test_the_pack_says_of_which_country_its_figures_are() -> None:
    assert "Figures are for Great Britain; elsewhere use local ones." in repr(Site().pack().notice)
