"""A job that is brought to lists that ask less still shows every answer, whichever check is gone."""

import json
from functools import cache
from pathlib import Path

from hypothesis import given, settings
from hypothesis import strategies as st

from sitelog.checklist.model import Library
from sitelog.checklist.shipped import sample_folder
from sitelog.cli.page import page
from sitelog.handover.pack import make
from sitelog.handover.plain import text
from sitelog.job.entry import Entry
from sitelog.job.job import Job, sealed, seen
from sitelog.job.ledger import Ledger
from sitelog.job.lists import in_force, update
from sitelog.job.show import to_json
from sitelog.telling.entries import what
from sitelog.telling.told import name_of
from tests.handover.site import library
from tests.job.lists import every_check, without
from tests.job.logs import SEVEN, hand

JOBS = [sample_folder() / "kiln-lane.json", *sorted((Path(__file__).parent.parent / "old_jobs").glob("*.json"))]


@cache
def entries(file: Path) -> list[Entry]:
    with Job.open(file, library(), read_only=True) as job:
        return job.entries


def brought_to(newest: Library, file: Path) -> list[Entry]:
    """The job's entries, and the act that brings it to those lists."""
    return [*entries(file), *sealed([update(newest, Ledger.of(entries(file)))], hand("tablet09", 9e6), entries(file))]


@settings(max_examples=30, deadline=None)
@given(st.data())
def test_whichever_check_is_gone_its_answer_is_shown_by_every_front(data: st.DataObject) -> None:
    file = data.draw(st.sampled_from(JOBS))
    before = seen(library(), entries(file))
    own = in_force(library(), Ledger.of(entries(file)))
    answered = {view.path: view for view in before.checks() if any(e.act == "answer" for e in view.history)}
    forms = {part.id: part.form for part in before.parts}
    path = data.draw(st.sampled_from(sorted(answered)))
    part, stage, check = path.split(".")
    homes = [one for one in every_check(library()) if one[1:] == (stage, check) and one[0] in (forms[part], "job")]
    newest = without(library(), *homes)
    state = seen(newest, brought_to(newest, file))
    view = answered[path]
    assert state.check(path) is None
    gone = next(one for one in state.earlier if one.path == path)
    assert gone.ask == view.check.ask and gone.by == view.by and gone.at
    assert any(gone.ask in line and gone.answer in line and gone.by in line for line in page(state))
    assert gone.ask in json.dumps(to_json(state)["earlier"], ensure_ascii=False)
    assert name_of(path, state) == view.check.ask
    assert gone.ask in what(next(e for e in reversed(view.history) if e.act == "answer"), state)
    assert own.lists


def test_the_pack_tells_the_answers_whose_checks_are_gone() -> None:
    newest = without(library(), ("hipped", "ridge", "crowns"))
    made = brought_to(newest, JOBS[0])
    state = seen(newest, made)
    pack = text(make(state, in_force(newest, Ledger.of(made)), "tiler", SEVEN))
    assert "Earlier checks" in pack or "EARLIER CHECKS" in pack
    assert state.earlier[0].answer.split()[0] in pack


def test_a_job_goes_by_the_newest_lists_once_it_is_brought_to_them(tmp_path: Path) -> None:
    file = tmp_path / "job.json"
    file.write_bytes(JOBS[0].read_bytes())
    newest = without(library(), ("hipped", "ridge", "crowns"))
    with Job.open(file, newest) as job:
        job.update_lists(hand("tablet09", 9e6))
        assert job.library is newest and job.state.changed_lists == ()
        assert job.state.check("main.ridge.crowns") is None
        assert [one.path for one in job.state.earlier] == ["main.ridge.crowns"]
