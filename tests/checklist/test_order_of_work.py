"""The order of the checks, held as truths of the trade: what has to be known or done before what (common practice)."""

import pytest

from tests.shipped import library

FORMS = {form: one for form, one in library().lists.items() if form != "job"}
PLACES = {
    form: [f"{stage.id}.{check.id}" for stage in one.stages for check in stage.checks] for form, one in FORMS.items()
}

# A truth, then what comes first and what after it; it is held in every form that has both, and in these at least.
ORDERS = [
    ("openings before commons", "openings.wanted", "ridge.spacing", {"hipped", "gabled"}),
    ("collars and binders before commons", "openings.binders", "ridge.spacing", {"hipped", "gabled"}),
    ("what is fixed for good before braces come out", "restraint.binders", "restraint.temporary", {"hipped", "gabled"}),
    ("openings before commons", "openings.wanted", "commons.spacing", {"table-top"}),
    ("an opening is measured once its rafters are in", "ridge.spacing", "trimming.size", {"hipped", "gabled"}),
    ("delivered sizes before the common", "first-pair.sizes", "first-pair.common", {"hipped", "gabled", "table-top"}),
    ("delivered sizes before the common", "timber.sizes", "first-pair.common", {"cut-roof"}),
    ("ridge depth before a pattern is cut", "first-pair.ridge-depth", "first-pair.pattern", {"hipped", "cut-roof"}),
    ("a pattern before the first pair is stood", "first-pair.pattern", "first-pair.stood", {"hipped", "cut-roof"}),
    ("braces once there is a pair", "first-pair.stood", "first-pair.braced", {"hipped", "gabled", "table-top"}),
    ("bracing once the frame is up", "first-pair.stood", "restraint.bracing", {"hipped", "gabled", "cut-roof"}),
    ("crowns before nailing", "ridge.crowns", "ridge.tied", {"hipped", "gabled"}),
    ("crowns before nailing", "ridge.crowns", "ridge.pairs", {"cut-roof"}),
    ("crowns before nailing", "commons.crowns", "commons.tied", {"table-top"}),
    ("crowns before they are straightened", "ridge.crowns", "ridge.plane", {"hipped", "gabled", "cut-roof"}),
    ("backed or dropped before a hip is cut", "hips.top", "hips.lengths", {"hipped", "table-top"}),
    ("backed or dropped before hips are fixed", "hips.top", "hips.fixed", {"hipped", "table-top"}),
    ("backed or dropped before a hip is cut", "timber.top", "hips.cuts", {"cut-roof"}),
    ("the ladder's designer before the ladder", "verges.far-out", "verges.noggings", {"gabled"}),
    ("ladders before what hangs on them", "verges.noggings", "verges.overhang", {"gabled"}),
    ("ladders before what hangs on them", "verges.noggings", "verges.line", {"gabled"}),
    ("ladders first", "gables.ladder", "gables.straps", {"cut-roof"}),
    ("tails to a line before the fascia", "eaves.overhang", "eaves.fascia-ab", {"hipped", "gabled", "table-top"}),
    ("tails to a line before the fascia", "eaves.overhang", "eaves.fascia", {"cut-roof"}),
    ("hip lines before hips", "hip-lines.line-a", "hips.lengths", {"hipped", "table-top"}),
    ("hips before their jacks", "hips.fixed", "jacks.paired", {"hipped", "table-top"}),
    ("permanent bracing before temporary comes out", "restraint.bracing", "restraint.temporary", {"hipped", "gabled"}),
    ("covered only once it has been seen", "restraint.inspector", "tiler.underlay", {"hipped", "gabled", "cut-roof"}),
]  # fmt: skip


@pytest.mark.parametrize(("truth", "first", "after", "forms"), ORDERS)
def test_what_comes_first_is_asked_first(truth: str, first: str, after: str, forms: set[str]) -> None:
    both = {form for form, places in PLACES.items() if first in places and after in places}
    assert forms <= both, "a check has gone: say so here"
    assert not [form for form in both if PLACES[form].index(first) > PLACES[form].index(after)], truth


def test_a_pair_is_two_rafters_opposite_each_other() -> None:
    """What is measured between neighbours, a spacing apart, is no pair: twist is level across the two."""
    asked = [check for one in FORMS.values() for stage in one.stages for check in stage.checks]
    twist = [check for check in asked if check.calculator == "twist"]
    assert twist and not [check.ask for check in twist if "pair" in check.ask.lower()]
    pairs = [check for check in asked if check.ask.startswith("First pair") and check.id == "stood"]
    assert len(pairs) >= 3
    for check in pairs:
        pitches = [figure.says for figure in check.figures if figure.kind == "pitch"]
        assert len(pitches) == 2, "one rafter on each slope"


def test_an_old_roof_is_asked_about_only_where_there_is_one() -> None:
    """Surveys, bats and nests: on an existing building or one tied into it."""
    job = library().lists["job"]
    old = [check for stage in job.stages for check in stage.checks if check.id in ("survey", "wildlife")]
    assert len(old) == 2
    for check in old:
        assert check.when and [(one.fact, one.values) for one in check.when.clauses] == [
            ("works", ("existing", "tied"))
        ]


def test_bracing_and_exposure_are_somebody_elses_word() -> None:
    """The list asks for the engineer's bracing and the designer's exposure; it judges neither."""
    for form, one in FORMS.items():
        for stage in one.stages:
            for check in stage.checks:
                if (stage.id, check.id) == ("restraint", "bracing"):
                    assert "engineer" in check.why and check.limit is None, form
    exposure = next(c for s in library().lists["job"].stages for c in s.checks if c.id == "exposure")
    assert "designer" in exposure.why and exposure.limit is None


@pytest.mark.parametrize("form", FORMS)
def test_building_control_the_scaffold_and_the_stacks_are_asked_about_once_each(form: str) -> None:
    """Told before the start, seen before covering; the days since an inspection and where stacks go are cautions'."""
    every = [
        (stage.id, check)
        for one in (library().lists["job"], FORMS[form])
        for stage in one.stages
        for check in stage.checks
    ]
    assert [(stage, check.id) for stage, check in every if "uilding control" in check.ask] == [
        ("before", "building-control"),
        *((stage, check.id) for stage, check in every if check.id == "inspector"),
    ]
    assert sum(check.id == "inspector" for _, check in every) == 1
    scaffold = next(check for _, check in every if check.id == "scaffold")
    assert [figure.key for figure in scaffold.figures] == ["rail", "gap"]
    assert library().cautions["scaffold"].question.stop_from == 8
    (stacked,) = (check for _, check in every if "stack" in check.ask)
    assert [figure.kind for figure in stacked.figures] == ["count"]
    assert library().cautions["load-both-sides"].question.kind == "place"


@pytest.mark.parametrize("form", ["hipped", "table-top", "cut-roof"])
def test_each_hip_is_taped_along_its_string_and_its_pieces_only_where_it_is_joined(form: str) -> None:
    """A hip in one length has no pieces and no gap; four of them are one form, each with its own figure."""
    (hips,) = (stage for stage in FORMS[form].stages if stage.id == "hips")
    gaps = [check for check in hips.checks if check.id.startswith("gap")]
    assert len(gaps) == (1 if form == "cut-roof" else 4)
    for check in gaps:
        assert check.when and [(one.fact, one.values) for one in check.when.clauses] == [
            ("hip_made", ("supported", "free"))
        ]
    taped = hips.check("string" if form == "cut-roof" else "lengths")
    assert taped and taped.when is None
    assert len({str(figure.drawn) for figure in taped.figures}) == len(gaps)


@pytest.mark.parametrize("form", ["hipped", "gabled", "table-top"])
def test_collars_binders_and_hangers_are_asked_about_once_and_are_the_engineers(form: str) -> None:
    """A roof without them is asked nothing more; the cutting list says that it hasn't got them."""
    (openings,) = (stage for stage in FORMS[form].stages if stage.id == "openings")
    (restraint,) = (stage for stage in FORMS[form].stages if stage.id == "restraint")
    asked = openings.check("binders")
    assert asked and asked.kind == "choice" and asked.when is None
    for check in (openings.check("binders-detail"), restraint.check("binders")):
        assert (
            check and check.when and [(one.fact, one.values) for one in check.when.clauses] == [("binders", ("some",))]
        )
    (left_out,) = (member for member in FORMS[form].members if member.id == "binders")
    assert "engineer" in left_out.left_out


@pytest.mark.parametrize("form", ["hipped", "gabled"])
def test_the_ridge_is_held_to_the_drawing_and_never_less_than_the_plumb_cut(form: str) -> None:
    (stage,) = (stage for stage in FORMS[form].stages if stage.id == "first-pair")
    check = stage.check("ridge-depth")
    assert check
    (figure,) = check.figures
    assert figure.drawn and [term.name for term in figure.drawn.terms] == ["ridge_board"]
    assert figure.limit and figure.limit.rule == "least"
    assert figure.limit.of and [term.name for term in figure.limit.of.terms] == ["ridge_depth"]
