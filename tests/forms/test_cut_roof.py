"""A cut roof said block by block goes through its own stages: each block, hip and valley in the order of work.

Sizes and readings are invented for the demo.
"""

import math
from collections.abc import Mapping

import pytest

from sitelog.geometry.building.named import roof_of
from sitelog.job.members import Line, members
from tests.forms.seen import check
from tests.reports.site import Site
from tests.shipped import library

ROOF = (
    "main 9000x6000 40 BC half-hip 1200; wing off CD 0 from D 4000x4000 40 end gable; "
    "lean-to off AB 2000 from A 3000x2000 15 plate -1200; dormer off AB 6000 from A 1500x900 35 cheek 600; purlins 1200"
)
OUT_OF_SQUARE = {"B": (9006.0, -4.0), "C": (9002.0, 6008.0), "F": (4008.0, 10004.0)}  # mm, of three corners


def taped(text: str, moved: Mapping[str, tuple[float, float]] | None = None) -> dict[str, Mapping[str, str]]:
    """What the tape reads over corners as drawn, but for those that are elsewhere."""
    roof = roof_of(text)
    points = {**roof.plates.points, **(moved or {})}

    def lengths(each: str) -> dict[str, str]:
        return {
            one.id.replace("-", "_"): f"{math.dist(*(points[end] for end in one.between)):.0f}" for one in roof.of(each)
        }

    return {"main.plates.sides": lengths("sides"), "main.plates.ties": lengths("ties")}


def site(text: str = ROOF) -> Site:
    return Site(parts=[("main", "Main roof", "cut-roof", {"building": text, "design_mass": "70"})])


@pytest.fixture(scope="module")
def paired() -> Site:
    """Taped out of square, and the first pair of the main roof up."""
    made = site()
    made.up_to("main.main-first-pair.twist", taped(ROOF, OUT_OF_SQUARE))
    return made


def test_stages_come_block_by_block_with_dormers_and_lean_tos_after(paired: Site) -> None:
    own = [stage.stage.id for stage in paired.state.order if stage.part == "main"]
    assert own == [
        "finish", "plate-joints", "plates", "timber", "level", "main-first-pair", "main-ridge", "main-hips",
        "main-hips-2", "main-jacks", "wing-first-pair", "wing-ridge", "valley-ce-ef", "lean-to", "dormer",
        "valley-ab-pq", "valley-ab-mn", "gables", "purlins", "restraint", "eaves", "slopes", "tiler",
    ]  # fmt: skip
    assert max(len(stage.checks) for stage in paired.state.order) <= 9


def test_what_was_taped_out_of_square_goes_into_every_figure(paired: Site) -> None:
    ties = check(paired, "plates.ties")
    assert ties.verdict == "unsure", "a diagonal is 9 off, within what a tape may read wrong of 10"
    assert ties.answer and ties.answer.results["misclosure"] < 2  # type: ignore[operator]
    fact = paired.state.facts["main.valley_ce_ef_length"]
    assert fact.measured and fact.now != fact.drawn
    drawn, now = (float(value) for value in (fact.drawn, fact.now))  # type: ignore[arg-type]
    assert abs(now - drawn) < 15
    assert check(paired, "valley-ce-ef.string").figures[0].drawn == pytest.approx(now)
    assert not paired.state.roof_changes


def test_the_engineer_is_asked_before_hips_valleys_purlins_and_a_cut_main_roof(paired: Site) -> None:
    named = {
        stage.stage.id: {caution.id for caution in stage.cautions}
        for stage in paired.state.order
        if stage.part == "main"
    }
    assert "hip-engineer" in named["timber"] & named["valley-ce-ef"] & named["main-hips"]
    assert "cut-members" in named["dormer"] and {"joint-engineer", "notch-engineer"} <= named["purlins"]


def test_the_first_common_of_each_pitch_is_a_pattern() -> None:
    """AB at 40 and CD at 35 share the ridge; BC at 50 is a pitch of its own: its common by hand, rise over sine."""
    made = site("main 9000x6000 40 BC 50 CD 35; dormer off AB 3500 from A 1500x900 30 cheek 600")
    found = {view.path: view for view in made.state.checks() if view.check.calculator == "pattern"}
    assert list(found) == [
        "main.main-first-pair.pattern", "main.main-first-pair.pattern-other", "main.main-other-pitch.slope-bc-pattern",
        "main.dormer.pattern",
    ]  # fmt: skip
    rise = 6000 / (1 / math.tan(math.radians(40)) + 1 / math.tan(math.radians(35)))
    end = found["main.main-other-pitch.slope-bc-pattern"].answer
    assert end and end.results["length"] == pytest.approx(rise / math.sin(math.radians(50)))
    one, other = (found[f"main.main-first-pair.{name}"].answer for name in ("pattern", "pattern-other"))
    assert one and other
    for answer, pitch in ((one, math.radians(40)), (other, math.radians(35))):
        assert answer.results["length"] == pytest.approx(rise / math.sin(pitch) - 38 / 2 / math.cos(pitch))


def test_the_upper_rafters_of_a_mansard_run_from_the_break() -> None:
    """2000 up at 70, then 30 to the middle of 6000: what is left of the run, by hand, less half the ridge."""
    made = site("main 9000x6000 40 AB mansard 70 2000 30 CD mansard 70 2000 30")
    run = 3000 - 2000 / math.tan(math.radians(70))
    common = check(made, "main-first-pair.common").answer
    assert common
    assert common.results["length_to_ridge"] == pytest.approx((run - 19) / math.cos(math.radians(30)), abs=0.1)


def test_purlins_and_collars_are_asked_about_where_the_roof_has_them() -> None:
    own = [stage.stage.id for stage in site("main 9000x6000 40; collars 1500").state.order]
    assert "collars" in own and "purlins" not in own and "gables" not in own


def test_the_plates_are_cut_from_what_was_taped(paired: Site) -> None:
    found = {line.id: line for line in members(paired.state, library(), "main") if line.id.startswith("plate")}
    assert list(found) == ["plate-a-b", "plate-b-c", "plate-c-e", "plate-e-f", "plate-g-a"]
    assert {line.standing for line in found.values()} == {"built"}
    assert found["plate-a-b"].says == "Plate, with its joints, AB"


def test_a_plain_hipped_roof_has_the_lengths_of_the_form_hipped() -> None:
    """The same roof in both forms: commons, hips and the longest jack off a hip agree to the mm.

    Jacks by both at 400 from the corner.
    """
    text, figures = "main 9000x6000 35", {"length": "9000", "width": "6000", "pitch": "35", "design_mass": "70"}
    said = members(site(text).state, library(), "main")
    other = members(Site(more=figures).state, library(), "main")

    def lengths(lines: tuple[Line, ...], *starts: str) -> list[float]:
        return [line.member.length for line in lines if line.member and line.id.startswith(starts)]

    assert max(lengths(said, "commons")) == pytest.approx(max(lengths(other, "commons")), abs=0.1)
    jacks = sorted(lengths(said, "hip-jack-right-slope-ab"))
    assert jacks == pytest.approx(sorted({round(one, 3) for one in lengths(other, "jacks-a")}), abs=0.1)
    hips, others = lengths(said, "hip-hip"), lengths(other, "hip-")
    assert len(hips) == 4 and hips == pytest.approx(others, abs=0.1)
    ridges = lengths(said, "ridge"), lengths(other, "ridge")
    assert ridges[0] == pytest.approx(ridges[1], abs=0.1)


def test_a_valley_jack_has_its_long_point_on_the_side_towards_the_corner() -> None:
    """Up slope CE the internal corner E is on the left of its jacks, and the valley climbs away to the right: the foot
    is lower on the left. Up slope EF it is the other way round."""
    made = site("main 9000x6000 35; wing off CD 0 from D 4000x4000 35 end gable")
    found = [line for line in members(made.state, library(), "main") if line.id.startswith("valley-jack")]
    assert {line.id for line in found} == {"valley-jack-left-slope-ce", "valley-jack-right-slope-ef"}
    hands = {(line.member.head.hand, line.member.foot.hand) for line in found if line.member}
    assert hands == {("", "left"), ("", "right")}


@pytest.mark.long
@pytest.mark.parametrize(
    "text",
    [
        ROOF,
        "main octagon 6000 40",
        "main 12000x6000 40 BC gable; wing off CD 3000 from D 4000x3000 45; bay off AB 4000 from A 2500x700 40; "
        "collars 1500",
    ],
)
def test_it_goes_on_to_the_signed_handover_and_a_pack(text: str) -> None:
    made = site(text)
    made.up_to("", taped(text))
    assert made.state.handed_over and not made.state.stale
    pack = made.pack()
    assert pack.head
    aside = [view.path for view in made.state.checks() if view.state == "not applicable"]
    assert not [path for path in aside if ".hip-" in path or ".valley-" in path or "first-pair" in path], aside
