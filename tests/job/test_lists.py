"""A job goes by the lists that it was begun with: whatever a later program asks, no answer loses its question."""

import hashlib
import json
from pathlib import Path
from typing import Any

import pytest
from hypothesis import HealthCheck, assume, given, settings
from msgspec.structs import replace

from sitelog.calculators.catalogue import field
from sitelog.calculators.index import find
from sitelog.checklist.load import load
from sitelog.checklist.loader import pinned
from sitelog.checklist.loader.pinned import from_texts
from sitelog.checklist.schema.model import Library
from sitelog.checklist.schema.shipped import sample_folder, shipped_folder
from sitelog.cli.page import page
from sitelog.job.actions import actions
from sitelog.job.actions.sealing import sealed
from sitelog.job.actions.setup import JobSetup, start
from sitelog.job.job import Job, seen
from sitelog.job.lists import in_force
from sitelog.job.log.entry import Draft, Entry
from sitelog.job.log.entry_index import EntryIndex
from sitelog.job.show import to_json
from sitelog.job.state.replay import replay
from tests.checklist.small import FILES
from tests.checklist.test_mutation import mutated, swapped
from tests.job.lists import without
from tests.job.logs import author
from tests.reports.site import Site
from tests.shipped import library

SQUARE_TO = 'limit = { rule = "within", amount = 10, origin = "house", source = "house-square" }\n'
CROWNS = ("hipped", "ridge", "crowns")
SAMPLE = sample_folder() / "kiln-lane.json"
OLD = Path(__file__).parent.parent / "old_jobs" / "kiln-lane.json"


@pytest.mark.parametrize(
    ("file", "asked"),
    [(SAMPLE, "Check every rafter is crown up (bow upwards)"), (OLD, "Crowns are up on every rafter")],
    ids=["lists in the job", "digests only"],
)
def test_a_program_that_asks_less_shows_the_answer_with_its_own_question(
    file: Path, asked: str, tmp_path: Path
) -> None:
    alone = tmp_path / "copy.json"
    alone.write_bytes(file.read_bytes())
    with Job.open(alone, without(library(), CROWNS), read_only=True) as job:
        view = job.state.check("main.ridge.crowns")
        assert view is not None and view.state == "done"
        assert view.check.ask == asked


def test_the_job_is_told_that_there_are_newer_lists() -> None:
    with Job.open(SAMPLE, without(library(), CROWNS), read_only=True) as job:
        assert job.state.changed_lists == ("hipped",)
    with Job.open(SAMPLE, library(), read_only=True) as job:
        assert job.state.changed_lists == ()


def test_a_list_that_the_job_does_not_use_may_change_unsaid() -> None:
    site = Site()
    other = replace(library(), digests={**library().digests, "eyebrow-dormer": "0" * 64})
    assert seen(other, site.entries).changed_lists == ()
    assert in_force(other, EntryIndex.of(site.entries)) is other


def test_a_firms_own_list_that_is_lost_is_still_in_the_job(tmp_path: Path) -> None:
    firm = tmp_path / "checklists"
    firm.mkdir()
    text = (shipped_folder() / "hipped.toml").read_text(encoding="utf-8")
    ours = text.replace('id = "hipped"', 'id = "ours"', 1).replace('form = "hipped"', 'form = "ours"', 1)
    (firm / "ours.toml").write_text(ours)
    with_firm = load([firm])
    site_file = tmp_path / "job.json"
    figures = {"length": "9000", "width": "6000", "pitch": "35", "design_mass": "70"}
    setup = JobSetup(title="T", place="P", units="metric", parts=[("main", "M", "ours", figures)])
    with Job.create(site_file, with_firm, author(), setup) as job:
        job.do(actions.answer(job.state, job.library, "job.before.works", {"value": "new"}), author(minutes=5))
    with Job.open(site_file, library(), read_only=True) as job:
        assert "ours" in job.library.lists
        assert job.state.stage("main.plates") is not None


def test_the_lists_of_an_earlier_day_are_those_that_its_digests_name() -> None:
    with Job.open(OLD, library(), read_only=True) as job:
        pins = next(entry.value for entry in job.entries if entry.act == "pin")
        used = job.library.used_by(part.form for part in job.state.parts)
        assert used and used == {name: pins[name] for name in used}


def test_every_earlier_list_goes_on_loading() -> None:
    for folder in (shipped_folder() / "earlier").iterdir():
        texts = [(path.name, path.read_text(encoding="utf-8")) for path in sorted(folder.glob("*.toml"))]
        found = from_texts(texts)
        assert len(found.lists) == sum("stage" in text for _, text in texts) > 7
        assert all(stage.checks for one in found.lists.values() for stage in one.stages)


SMALL = from_texts([(f"{name}.toml", text) for name, text in FILES.items()])


@pytest.mark.parametrize(
    ("was", "now", "says"),
    [
        ('"squareness"', '"gone"', "the calculator gone has been removed"),
        ('pitch = "@pitch"', 'slant = "@pitch"', "common no longer uses slant"),
    ],
)
def test_a_sum_that_is_not_known_any_more_says_so_and_bars_nothing(was: str, now: str, says: str) -> None:
    found = from_texts([(f"{name}.toml", text.replace(was, now)) for name, text in FILES.items()])
    lost = [check.lost for one in found.lists.values() for s in one.stages for check in s.checks if check.lost]
    assert lost and all(
        why.startswith(says) and why.endswith("update the job to the newest checklists") for why in lost
    )
    state = replay(found, job_of(found))
    assert [view.refusal for view in state.checks() if view.check.lost] == lost


@pytest.mark.parametrize("limit", [True, False])
def test_a_tolerance_that_a_sum_begins_to_need_is_the_limit_of_the_check_where_it_has_one(
    limit: bool, monkeypatch: pytest.MonkeyPatch
) -> None:
    class Stricter(find("squareness").takes):  # type: ignore[misc]
        tolerance: float = field("length", "most the diagonals may differ by")

    stricter = replace(find("squareness"), takes=Stricter)
    monkeypatch.setattr(pinned, "find", lambda name: stricter if name == "squareness" else find(name))
    hipped = FILES["hipped"] if limit else FILES["hipped"].replace(SQUARE_TO, "", 1)
    found = from_texts([(f"{name}.toml", text) for name, text in {**FILES, "hipped": hipped}.items()])
    (lost,) = (c.lost for stage in found.lists["hipped"].stages for c in stage.checks if c.id == "sides")
    assert lost == ("" if limit else "squareness now needs tolerance: update the job to the newest checklists")


def job_of(known: Library, **texts: str) -> list[Entry]:
    """A job by the small lists, its first check answered; with other texts in it where those are given."""
    form = known.forms()[0]
    asked = {"length": "9000", "width": "6000", "pitch": "35", "cut_by": "hand"}
    drafts = start(known, JobSetup(title="T", place="P", units="metric", parts=[("main", "M", form, asked)]))
    drafts.append(Draft(act="answer", part="job", check="start.moisture", value={"value": 17.0}))
    if texts:
        named = [[f"{name}.toml", hashlib.sha256(text.encode()).hexdigest(), text] for name, text in texts.items()]
        value = {"@files": [one[:2] for one in named], "@texts": {digest: text for _, digest, text in named}}
        drafts.append(Draft(act="pin", value=value))
    return sealed(drafts, author(), ())


@settings(max_examples=100, deadline=None, suppress_health_check=[HealthCheck.too_slow])
@given(mutated() | swapped())
def test_a_job_opens_whatever_its_own_lists_say(case: tuple[str, str]) -> None:
    name, text = case
    assume(max(text, default=" ") < "\ud800" or text.isascii())
    state = seen(library(), job_of(SMALL, **(FILES | {name: text})))
    assert state.title == "T"
    assert json.dumps(to_json(state))
    assert list(page(state))


def with_pin(value: dict[str, Any]) -> list[Entry]:
    """A small job, and a later word on its lists."""
    site = Site()
    site.up_to("main.plates.sides")
    site.do(Draft(act="pin", value=value))
    return site.entries


HOSTILE: list[dict[str, Any]] = [
    {},
    {"@files": 7, "@texts": 7},
    {"@files": [7, ["a"], ["a", "b", "c"]], "@texts": {"a": 7}},
    {"@files": [["a.toml", "0" * 64]], "@texts": {"0" * 64: "id = 1"}},
    {"hipped": {"a": []}, "@files": [], "@texts": {}},
]


@pytest.mark.parametrize("value", HOSTILE, ids=range(len(HOSTILE)))
def test_a_word_on_the_lists_that_means_nothing_leaves_the_job_open_by_the_newest(value: dict[str, Any]) -> None:
    state = seen(library(), with_pin(value))
    assert state.check("main.plates.sides") is not None
