"""Each danger is named at the step where it bites, in every form; where its figures and its stops stand is said.

The places are common practice, but where a line beside a table names print.
"""

import pytest

from sitelog.checklist.schema.guidance import Caution
from sitelog.checklist.schema.model import Stage
from sitelog.job.actions import actions
from sitelog.job.cautions.answers import Answered, answer_of, stops
from sitelog.job.facts.sums import holds
from sitelog.refusal import Refusal
from tests.reports.site import Site
from tests.shipped import library

LIBRARY = library()
FORMS = sorted(form for form in LIBRARY.lists if form != "job")
LEADS = [name for name in LIBRARY.finishes if name.startswith("lead")]
COPPERS = [name for name in LIBRARY.finishes if name.startswith("copper")]
OLD_ROOF = ["existing", "tied"]


def stage_of(form: str, name: str) -> Stage:
    stages = LIBRARY.stages(form) if form != "job" else iter(LIBRARY.lists["job"].stages)
    return next(stage for stage in stages if stage.id == name)


def at(form: str, name: str, **facts: str | float) -> set[str]:
    """The cautions of a stage and of its checks, as these facts stand, and those of a finish chosen there."""
    stage = stage_of(form, name)
    named = {*stage.cautions, *(c for check in stage.checks if holds(check.when, facts.get) for c in check.cautions)}
    named |= {
        c for choice in facts.values() if choice in LIBRARY.finishes for c in LIBRARY.finishes[str(choice)].cautions
    }
    return {caution for caution in named if holds(LIBRARY.cautions[caution].when, facts.get)}


def of_stage(form: str, name: str) -> set[str]:
    """The cautions of a stage and of all its checks, whatever the facts."""
    stage = stage_of(form, name)
    return {*stage.cautions, *(caution for check in stage.checks for caution in check.cautions)}


def somewhere(form: str) -> set[str]:
    return {caution for stage in LIBRARY.stages(form) for caution in of_stage(form, stage.id)}


# --- where somebody first climbs --------------------------------------------------------------------------------------

CLIMBS = {
    "barrel-dormer": "opening",
    "cut-roof": "plates",
    "eyebrow-dormer": "opening",
    "firred-deck": "joists",
    "gabled": "plates",
    "hipped": "plates",
    "parapet-gutter": "seats",
    "table-top": "plates",
}


def test_every_form_has_a_stage_where_somebody_first_climbs() -> None:
    paper = {"finish", "flat-finish", "make-up", "soffit", "plate-joints"}  # the last two not on every roof
    first = {form: next(s.id for s in LIBRARY.stages(form) if s.id not in paper) for form in FORMS}
    assert first == CLIMBS


@pytest.mark.parametrize("danger", ["open-edge", "ladder", "fragile", "lone-work", "people-below", "weather-wind"])
@pytest.mark.parametrize("form", FORMS)
def test_falls_ladders_fragile_places_lone_work_people_below_and_wind_come_with_the_first_climb(
    form: str, danger: str
) -> None:
    assert danger in at(form, CLIMBS[form], works="new")
    assert danger in at(form, CLIMBS[form]), "nor does it wait till somebody has said what work it is"


def test_who_marks_an_open_ceiling_s_trimmer_climbs_first() -> None:
    climb = {"open-edge", "ladder", "fragile", "lone-work", "people-below", "weather-wind"}
    assert climb | {"open-ceiling"} <= at("barrel-dormer", "soffit", ceiling="through", works="new")
    assert "open-ceiling" not in at("barrel-dormer", "soffit", ceiling="closed")


# Every caution, and one place where it bites: a new one has its row here. Common practice, as is all this page.
BITES = {
    "phase-plan": ("job", "before"),
    "party-wall": ("job", "before"),
    "scaffold": ("job", "before"),
    "overhead-lines": ("job", "before"),
    "asbestos": ("job", "before"),
    "bats-birds": ("job", "before"),
    "droppings": ("job", "before"),
    "old-services": ("job", "before"),
    "old-lead": ("barrel-dormer", "opening"),
    "open-edge": ("hipped", "plates"),
    "people-below": ("hipped", "plates"),
    "ladder": ("hipped", "plates"),
    "weather-wind": ("hipped", "plates"),
    "fragile": ("hipped", "plates"),
    "lone-work": ("hipped", "jacks"),
    "slip-wet": ("hipped", "tiler"),
    "hot-day": ("hipped", "tiler"),
    "heavy-lift": ("hipped", "ridge"),
    "lift-plan": ("hipped", "hips"),
    "crane": ("hipped", "hips"),
    "part-built": ("hipped", "first-pair"),
    "gable-free": ("gabled", "gables"),
    "saw-dust": ("barrel-dormer", "template"),
    "treated-timber": ("barrel-dormer", "template"),
    "vibration": ("gabled", "gables"),
    "power-tools": ("barrel-dormer", "ribs"),
    "nail-gun": ("firred-deck", "deck"),
    "hot-tools": ("firred-deck", "deck"),
    "silica-dust": ("hipped", "tiler"),
    "lead-health": ("parapet-gutter", "cover"),
    "hot-work": ("parapet-gutter", "cover"),
    "copper-runoff": ("firred-deck", "finish"),
    "grp-resin": ("firred-deck", "cover"),
    "resin-temperature": ("firred-deck", "cover"),
    "wind-sheets": ("firred-deck", "cover"),
    "wind-tiles": ("hipped", "tiler"),
    "load-both-sides": ("job", "handover"),
    "joint-engineer": ("barrel-dormer", "template"),
    "notch-engineer": ("firred-deck", "joists"),
    "untied-eaves": ("gabled", "first-pair"),
    "open-ceiling": ("barrel-dormer", "soffit"),
    "cut-members": ("barrel-dormer", "opening"),
    "load-change": ("hipped", "finish"),
    "plate-refer": ("hipped", "plates"),
    "hip-engineer": ("hipped", "plates"),
    "seat-engineer": ("parapet-gutter", "feet"),
    "table-engineer": ("table-top", "frame"),
    "vent-check": ("hipped", "eaves"),
}


def test_every_caution_has_a_place_where_it_bites() -> None:
    assert set(BITES) == set(LIBRARY.cautions)
    assert [name for name, (form, stage) in BITES.items() if name not in of_stage(form, stage)] == []


# --- heat -------------------------------------------------------------------------------------------------------------

# The last stage before the lining is laid, or the flashings are dressed.
LAID = {
    "barrel-dormer": ["next"],
    "cut-roof": ["tiler"],
    "eyebrow-dormer": ["next"],
    "firred-deck": ["cover"],
    "gabled": ["tiler"],
    "hipped": ["tiler"],
    "parapet-gutter": ["cover"],
    "table-top": ["cover", "tiler"],
}


@pytest.mark.parametrize("lining", [*LEADS, *COPPERS, "grp"])
@pytest.mark.parametrize("form", FORMS)
def test_flame_hot_air_and_sparks_come_with_lead_copper_and_resin_on_every_roof_deck_and_gutter(
    form: str, lining: str
) -> None:
    """NFRC, Safe system of work for gas torches: to dry a deck with a torch is hot work too."""
    assert all("hot-work" in at(form, stage, lining=lining) for stage in LAID[form])


def test_no_lining_goes_on_without_a_look_at_flame_and_sparks() -> None:
    """Metals and resin are all there are so far; a felt that is torched on comes as a hot tool."""
    when = LIBRARY.cautions["hot-work"].when
    linings = [name for name, finish in LIBRARY.finishes.items() if "slopes" not in finish.serves]
    assert linings and all(holds(when, {"lining": name}.get) for name in linings)


@pytest.mark.parametrize("danger", ["lead-health", "grp-resin", "resin-temperature"])
@pytest.mark.parametrize("form", FORMS)
def test_what_gets_into_the_body_and_what_won_t_set_come_where_the_lining_is_laid(form: str, danger: str) -> None:
    lining = "lead-code-5" if danger == "lead-health" else "grp"
    assert all(danger in at(form, stage, lining=lining) for stage in LAID[form])


def test_the_temperature_of_a_deck_stops_nobody_who_only_boards_it() -> None:
    """It comes once the resin is next, so that a cold morning doesn't bar the carpenter."""
    for form in FORMS:
        elsewhere = {s.id for s in LIBRARY.stages(form)} - set(LAID[form])
        assert not [name for name in elsewhere if "resin-temperature" in at(form, name, lining="grp")]


@pytest.mark.parametrize("danger", ["wind-tiles", "silica-dust", "slip-wet"])
@pytest.mark.parametrize("form", ["cut-roof", "gabled", "hipped", "table-top"])
def test_tiles_bring_wind_stone_dust_and_a_slippery_slope_where_they_are_laid(form: str, danger: str) -> None:
    assert danger in at(form, "tiler")


@pytest.mark.parametrize("form", ["firred-deck", "parapet-gutter", "table-top"])
def test_sheets_and_rolls_are_a_sail_where_a_deck_or_a_gutter_is_lined(form: str) -> None:
    assert "wind-sheets" in at(form, "cover")


@pytest.mark.parametrize("finish", LIBRARY.finishes)
def test_a_finish_is_agreed_on_paper_and_asks_nothing_there_that_bites_on_the_roof(finish: str) -> None:
    roof = {"hot-work", "wind-tiles", "wind-sheets", "silica-dust", "slip-wet", "heavy-lift", "resin-temperature"}
    assert not roof & set(LIBRARY.finishes[finish].cautions)


@pytest.mark.parametrize(
    ("cladding", "danger"), [("lead", "lead-health"), ("copper", "copper-runoff"), ("grp", "grp-resin")]
)
def test_a_cheek_clad_in_metal_or_resin_brings_what_its_roof_does_not(cladding: str, danger: str) -> None:
    found = at("barrel-dormer", "next", lining="plain-tiles", cheek_cladding=cladding)
    assert {"hot-work", danger} <= found


TOOLS = ["torch", "hot-air", "grinder", "several"]
# Where a carpenter cuts steel, bolts, blocks or an old roof, or dries and seals a deck: common practice.
HOT_STAGES = {
    "barrel-dormer": ["opening", "deck"],
    "cut-roof": ["plates", "restraint", "eaves"],
    "eyebrow-dormer": ["opening", "deck", "battens"],
    "firred-deck": ["joists", "deck", "edges"],
    "gabled": ["plates", "openings", "bearing", "trimming", "gables", "restraint", "eaves"],
    "hipped": ["plates", "openings", "trimming", "restraint", "eaves"],
    "parapet-gutter": ["seats", "sole", "outlets"],
    "table-top": ["plates", "frame", "openings", "trimming", "deck", "edges", "restraint", "eaves"],
}


def test_which_hot_tools_come_is_asked_before_the_start_of_any_job() -> None:
    (asked,) = (check for check in stage_of("job", "before").checks if check.id == "hot-tools")
    assert [choice.id for choice in asked.choices] == ["none", *TOOLS] and asked.when is None


@pytest.mark.parametrize("tool", TOOLS)
@pytest.mark.parametrize("form", FORMS)
def test_a_torch_hot_air_or_a_grinder_is_hot_work_wherever_it_is_used_in_every_form(form: str, tool: str) -> None:
    """Torch-on felt on a deck; hot air at its seams; a grinder at straps, bolts and tiles; whatever the lining is."""
    assert all("hot-tools" in at(form, stage, hot_tools=tool) for stage in HOT_STAGES[form])
    assert all("hot-work" in at(form, stage, hot_tools=tool, lining="plain-tiles") for stage in LAID[form])


@pytest.mark.parametrize("form", FORMS)
def test_where_no_hot_tool_comes_none_is_asked_about(form: str) -> None:
    for stage in LIBRARY.stages(form):
        assert not {"hot-tools", "hot-work"} & at(form, stage.id, hot_tools="none"), stage.id


def test_where_nobody_says_which_hot_tools_come_each_stage_that_may_use_one_asks() -> None:
    site = Site(parts=[("deck", "Deck", "firred-deck", {})])
    site.do(actions.release(site.state, "job.before.hot-tools", "nobody knew"))
    named = {s.stage.id for s in site.state.order if "hot-tools" in [one.id for one in s.cautions]}
    assert named == set(HOT_STAGES["firred-deck"])


@pytest.mark.parametrize("works", ["existing", "tied"])
@pytest.mark.parametrize("form", FORMS)
def test_old_lead_is_asked_about_where_somebody_first_climbs_to_strip_it(form: str, works: str) -> None:
    assert "old-lead" in at(form, CLIMBS[form], works=works)
    assert "old-lead" not in at(form, CLIMBS[form], works="new")


def test_tiles_alone_bring_no_flame() -> None:
    assert "hot-work" not in at("eyebrow-dormer", "next", lining="plain-tiles")


# --- tools, timber and lifts ------------------------------------------------------------------------------------------


@pytest.mark.parametrize("form", ["barrel-dormer", "eyebrow-dormer", "firred-deck", "table-top"])
def test_nail_guns_come_with_every_deck(form: str) -> None:
    assert "nail-gun" in of_stage(form, "deck")


@pytest.mark.parametrize("danger", ["nail-gun", "saw-dust", "treated-timber", "vibration", "crane", "heavy-lift"])
@pytest.mark.parametrize("form", FORMS)
def test_guns_saws_treated_timber_shaking_tools_cranes_and_weights_come_in_every_form(form: str, danger: str) -> None:
    assert danger in somewhere(form)


@pytest.mark.parametrize("form", FORMS)
def test_where_a_lift_is_planned_its_crane_is_asked_about(form: str) -> None:
    for stage in LIBRARY.stages(form):
        assert "lift-plan" not in stage.cautions or "crane" in stage.cautions, stage.id


@pytest.mark.parametrize("form", FORMS)
def test_where_timber_is_sawn_its_preservative_is_asked_about(form: str) -> None:
    for stage in LIBRARY.stages(form):
        assert "saw-dust" not in stage.cautions or "treated-timber" in stage.cautions, stage.id


@pytest.mark.parametrize(
    ("form", "stage", "facts"),
    [
        ("barrel-dormer", "opening", {}),
        ("cut-roof", "dormer", {}),
        ("eyebrow-dormer", "opening", {}),
        ("gabled", "openings", {"openings": "some"}),
        ("hipped", "openings", {"openings": "some"}),
        ("table-top", "openings", {"openings": "some"}),
    ],
)
def test_props_and_the_trusses_designer_come_before_a_rafter_is_cut(
    form: str, stage: str, facts: dict[str, str]
) -> None:
    assert "cut-members" in at(form, stage, **facts)


# --- a roof that stands -----------------------------------------------------------------------------------------------

STANDS = ["asbestos", "bats-birds", "droppings", "old-services", "old-lead"]


@pytest.mark.parametrize("danger", STANDS)
@pytest.mark.parametrize("works", OLD_ROOF)
def test_work_on_a_roof_that_stands_or_tied_to_one_brings_what_is_in_it(works: str, danger: str) -> None:
    assert danger in at("job", "before", works=works)
    assert danger in at("barrel-dormer", "opening", works=works)
    assert danger in at("eyebrow-dormer", "opening", works=works)


def test_a_new_building_is_not_asked_about_an_old_roof() -> None:
    assert not set(STANDS) & at("job", "before", works="new")


def test_whether_an_extension_is_tied_to_an_old_roof_is_asked() -> None:
    (works,) = (check for check in stage_of("job", "before").checks if check.id == "works")
    assert [choice.id for choice in works.choices] == ["new", "existing", "tied"]


@pytest.mark.parametrize("check", ["survey", "wildlife"])
@pytest.mark.parametrize("works", OLD_ROOF)
def test_a_survey_and_a_look_for_bats_are_asked_there(works: str, check: str) -> None:
    asked = [one.id for one in stage_of("job", "before").checks if holds(one.when, {"works": works}.get)]
    assert check in asked


def test_a_shared_wall_is_asked_about_before_the_start_of_any_job() -> None:
    """Party Wall etc. Act 1996, sections 1(2) and 3(2): notice of one month or two, for new buildings as well."""
    assert "party-wall" in at("job", "before", works="new")


# --- what stands behind a stop ----------------------------------------------------------------------------------------


def stops_by_an_answer(caution: Caution) -> bool:
    question = caution.question
    figures = [figure for one in question.gauges for figure in (one.stop_from, one.stop_under)]
    return bool(question.stop_on) or any(figure is not None for figure in figures)


def standing(caution: Caution) -> dict[str, str]:
    """What each figure says, and how its source is known."""
    return {says: LIBRARY.sources[source].how for says, source in caution.figures}


@pytest.mark.parametrize("name", LIBRARY.cautions)
def test_a_stop_with_no_print_behind_it_says_that_it_is_a_house_rule(name: str) -> None:
    caution = LIBRARY.cautions[name]
    for says, how in standing(caution).items():
        assert ("house rule" in says.casefold()) == (how == "judgement"), says
    if stops_by_an_answer(caution):
        assert {"read", "second hand", "derived", "judgement"} & set(standing(caution).values()), (
            "from memory alone nothing is stopped"
        )


@pytest.mark.parametrize(
    ("name", "answer"),
    [
        ("weather-wind", "house rule"),  # "no one wind limit is set": a safety article, at second hand
        ("nail-gun", "house rule"),
        ("saw-dust", "house rule"),
        ("heavy-lift", "house rule"),
        ("hot-day", "house rule"),
        ("crane", "house rule"),
        ("cut-members", "house rule"),
        ("people-below", "house rule"),
        ("lone-work", "house rule"),
        ("treated-timber", "house rule"),
        ("party-wall", "house rule"),
    ],
)
def test_these_stop_by_the_house(name: str, answer: str) -> None:
    assert any(answer in says.casefold() for says in standing(LIBRARY.cautions[name]))


@pytest.mark.parametrize(
    ("name", "answer", "goes_on"),
    [
        ("nail-gun", "bump", False),
        ("nail-gun", "one at a time", True),
        ("heavy-lift", 140.0, False),
        ("heavy-lift", 24.0, True),
        ("saw-dust", "in the open, no mask", False),
        ("saw-dust", "in the open, with mask", True),
        ("hot-day", "neither, or too far", False),
        ("hot-day", "both beside the work", True),
        ("weather-wind", (12.0, 22.0), True),
        ("weather-wind", (12.0, 23.0), False),
        ("wind-tiles", (22.0, 34.0), True),  # NFRC, as quoted: no laying from a mean of 23 mph, or gusts of 35
        ("wind-tiles", (23.0, 25.0), False),
        ("wind-tiles", (12.0, 35.0), False),
        ("resin-temperature", 4.0, False),  # a maker's laying guide: between 5 and 35 degrees C
        ("resin-temperature", 5.0, True),
        ("resin-temperature", 36.0, False),
        ("vibration", 399.0, True),
        ("vibration", 400.0, False),
        ("asbestos", "not seen", False),
        ("cut-members", "trussed, no drawing", False),
        ("cut-members", "no props drawn or none up", False),
        ("old-lead", "ground, burnt or dry", False),
        ("old-services", "not traced yet", False),
        ("droppings", "dry, nothing done", False),
        ("treated-timber", "burnt on site", False),
        ("crane", "no plan, or no slinger", False),
        ("party-wall", "nobody has asked", False),
        ("people-below", "Nowhere.", False),
        ("open-edge", "nothing", False),
        ("open-edge", "eaves, north side; rails", True),
        ("fragile", "nothing yet", False),
        ("lone-work", "nobody", False),
        ("hot-work", "nobody", False),
        ("hot-tools", "no permit, or no fire watch", False),
        ("hot-tools", "none here today", True),
    ],
)
def test_the_answers_that_stop_the_work(name: str, answer: Answered, goes_on: bool) -> None:
    assert stops(LIBRARY.cautions[name].question, answer) is not goes_on


def test_a_month_is_no_place_of_shade() -> None:
    with pytest.raises(Refusal, match="November"):
        answer_of(LIBRARY.cautions["hot-day"].question, "November")


def says_of(name: str) -> str:
    caution = LIBRARY.cautions[name]
    return " ".join([caution.do, caution.ask, *(says for says, _ in caution.figures)])


def test_the_only_contractor_draws_up_the_phase_plan() -> None:
    """CDM 2015, regulation 15(5); from memory, as its source says."""
    assert "only contractor" in LIBRARY.cautions["phase-plan"].ask
    assert "client" not in LIBRARY.cautions["phase-plan"].ask
    assert (
        standing(LIBRARY.cautions["phase-plan"])[
            "The only contractor draws up the plan; with several, the principal contractor does"
        ]
        == "memory"
    )


def test_lead_is_watched_over_by_a_doctor_whom_hse_appoints_where_exposure_is_significant() -> None:
    ask = LIBRARY.cautions["lead-health"].ask
    assert "HSE" in ask and "medical inspector" in ask and "significant" in ask


def test_blood_lead_figures_say_when_they_were_read_and_that_they_are_being_changed() -> None:
    """IHBC news of 17 April 2026: HSE consulted on lower ones to 24 May 2026."""
    told = says_of("lead-health")
    assert "read before 2024" in told and "2026" in told and "in force" in told


def test_lightning_has_an_action() -> None:
    """The 30/30 rule, a leisure rule at second hand."""
    assert "lightning" in LIBRARY.cautions["weather-wind"].title
    assert "Thunder: off" in LIBRARY.cautions["weather-wind"].do
    assert "30 minutes" in says_of("weather-wind")


def test_lone_work_cites_what_was_read() -> None:
    """HSG33 on fragile roofs was read; INDG73 was not."""
    figures = LIBRARY.cautions["lone-work"].figures
    assert ("Never alone on a fragile roof", "hse-hsg33") in figures
    assert "indg73" not in LIBRARY.sources


def test_vibration_in_points_follows_from_its_action_value() -> None:
    """Introduction to Health and Safety at Work, 15.2.3: 2.5 and 5.0 m/s2 over 8 hours; points page: 100 and 400."""
    for metres, points in ((2.5, 100), (5.0, 400)):
        assert 2 * metres * metres * 8 == points
    assert LIBRARY.cautions["vibration"].question.stop_from == 400
