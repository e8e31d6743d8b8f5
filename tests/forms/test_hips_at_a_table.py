"""A hip's head at a table: hollow or on a clipped corner; and jobs whose list gave it the pointed head of a ridge.

Sizes are invented.
"""

import copy
from math import cos, radians, tan
from typing import Any

import pytest

from sitelog.checklist.load import load
from sitelog.checklist.schema.shipped import shipped_folder
from sitelog.cli.page import page
from sitelog.job.actions.preview import preview
from sitelog.job.members import members
from sitelog.job.show import to_json
from sitelog.job.state.replay import replay
from sitelog.reports.timber.entries import cuts
from sitelog.wording.recap import standing
from tests.forms.seen import check, now
from tests.forms.test_table_top import DRAWN, FINISH, STAFF, STANDS, plates
from tests.reports import site as sites
from tests.reports.site import Site
from tests.shipped import library

READ = {
    "main.plates.sides": plates(),
    "main.plates.levels": STAFF,
    "main.set-out.under": {"value": "none"},
    "main.frame.sides": STANDS,
    "main.frame.levels": STAFF,
    **FINISH,
}
CUT = "hips were cut with the pointed head for a ridge. Check each against the table's corner"


def made(stop: str) -> Site:
    site = Site(form="table-top", more=DRAWN, pitch="45")
    site.up_to(stop, READ)
    return site


@pytest.fixture(scope="module")
def standing_table() -> Site:
    return made("main.commons.head")


@pytest.fixture(scope="module")
def by_the_old_list() -> Site:
    """A job whose hips were answered by the list of an earlier day."""
    earlier = load(shipped=shipped_folder() / "earlier" / "2026-11-25")
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(sites, "library", lambda: earlier)
        return made("main.hips.gap-b")


@pytest.mark.parametrize(
    ("head", "asked", "other"), [("hollow", "hollow", "clipped"), ("clipped", "clipped", "hollow")]
)
def test_it_is_asked_how_the_hips_meet_the_table_and_that_head_alone_is_worked(
    standing_table: Site, head: str, asked: str, other: str
) -> None:
    site = copy.copy(standing_table)
    site.answer("main.commons.head", {"value": head})
    assert site.state.facts["main.hip_head"].now == head
    assert check(site, f"commons.{asked}").answer is not None
    assert site.state.check(f"main.commons.{other}") is None


@pytest.mark.parametrize("head", ["hollow", "clipped"])
def test_the_length_of_a_hip_is_measured_from_the_clip_where_the_corner_is_clipped(
    standing_table: Site, head: str
) -> None:
    """Square to the hip, the clip is half the thickness over tan of the plan angle back; the hip rises to it."""
    site = copy.copy(standing_table)
    site.up_to("main.hips.lengths", READ | {"main.commons.head": {"value": head}})
    seen, _ = preview(site.state, library(), check(site, "hips.lengths"), {})
    cheeks = [row for row in rows(site, f"commons.{head}", "heads") if row["corner"] == "a"]
    back = now(site, "hip_thickness") / 2 / tan(radians(min(float(row["plan_angle"]) for row in cheeks)))
    longer = back / cos(radians(now(site, "hip_pitch_a"))) if head == "clipped" else 0.0
    length = now(site, "hip_cut_a") + longer
    assert next(one.drawn for one in seen.figures if one.key == "a") == pytest.approx(length, abs=1e-6)
    if head == "clipped":
        clip = next(row for row in rows(site, "commons.clipped", "clips") if row["corner"] == "a")
        assert length == pytest.approx(float(clip["hip_length"]), abs=0.5), "the table stands as it was worked"


def rows(site: Site, name: str, result: str) -> list[dict[str, Any]]:
    answer = check(site, name).answer
    assert answer is not None
    return answer.results[result]  # type: ignore[return-value]


def test_no_hip_of_a_table_is_given_the_pointed_head_of_a_ridge(standing_table: Site) -> None:
    site = copy.copy(standing_table)
    site.up_to("main.hip-lines.hip-b", READ)
    answer = check(site, "hip-lines.hip-a").answer
    assert answer is not None
    assert not any(name.startswith(("edge_bevel", "saw_tilt")) for name in answer.results)
    hips = [one.member for one in members(site.state, library(), "main") if one.id.startswith("hip-") and one.member]
    assert len(hips) == 4
    for hip in hips:
        assert "edge" not in cuts(hip, "metric") and "tilt" not in cuts(hip, "metric")


def test_a_new_job_is_told_nothing_of_pointed_heads(standing_table: Site) -> None:
    assert standing_table.state.pointed == ()


def test_a_job_whose_hips_were_cut_by_an_older_list_is_told_wherever_it_is_opened(by_the_old_list: Site) -> None:
    state = by_the_old_list.state
    assert [CUT in line for line in state.pointed] == [True]
    assert any(CUT in line for line in standing(state))
    assert any(CUT in line for line in page(state))
    assert CUT in to_json(state)["pointed_hips"][0]
    newest = replay(library(), by_the_old_list.entries)
    assert [CUT in line for line in newest.pointed] == [True]
    site = copy.copy(by_the_old_list)
    site.state = newest
    assert any(CUT in f"{block}" for section in site.pack().first for block in section.blocks)
