"""A job that is brought to lists that ask less still shows every answer, whichever check is gone."""

import json
from functools import cache
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from sitelog.checklist.schema.model import Library
from sitelog.checklist.schema.shipped import sample_folder
from sitelog.cli.page import page
from sitelog.job.actions.sealing import sealed
from sitelog.job.job import Job, seen
from sitelog.job.lists import in_force, update
from sitelog.job.log.entry import Act, Draft, Entry
from sitelog.job.log.entry_index import EntryIndex
from sitelog.job.show import to_json
from sitelog.reports.formats.text import text
from sitelog.reports.pack import make
from sitelog.wording.entries import what
from sitelog.wording.formatting import name_of
from tests.job.lists import every_check, without
from tests.job.logs import SEVEN, author
from tests.shipped import library

JOBS = [sample_folder() / "kiln-lane.json", *sorted((Path(__file__).parent.parent / "old_jobs").glob("*.json"))]


@cache
def entries(file: Path) -> list[Entry]:
    with Job.open(file, library(), read_only=True) as job:
        return job.entries


def brought_to(newest: Library, file: Path, *more: Draft) -> list[Entry]:
    """The job's entries, more of them, and the act that brings it to those lists."""
    acts = [*more, update(newest, EntryIndex.of(entries(file)))]
    return [*entries(file), *sealed(acts, author("tablet09", 9e6), entries(file))]


@settings(max_examples=30, deadline=None)
@given(st.data())
def test_whichever_check_is_gone_its_answer_is_shown_by_every_front(data: st.DataObject) -> None:
    file = data.draw(st.sampled_from(JOBS))
    before = seen(library(), entries(file))
    own = in_force(library(), EntryIndex.of(entries(file)))
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
    pack = text(make(state, in_force(newest, EntryIndex.of(made)), "tiler", SEVEN))
    assert "Earlier checks" in pack or "EARLIER CHECKS" in pack
    assert state.earlier[0].answer.split()[0] in pack


RIDGE = "main.ridge"


def without_ridge() -> Library:
    return without(library(), ("hipped", "ridge", ""))


def on_ridge(act: Act, note: str = "", **value: str) -> Draft:
    return Draft(act=act, part="main", check="ridge", value=value, note=note)


@pytest.mark.parametrize(
    ("entry", "told"),
    [
        (on_ridge("snag", id="40", text="ridge split at B"), "snag 40: ridge split at B"),
        (on_ridge("release", "crane booked", was="unsigned"), "released: crane booked"),
        (on_ridge("skip", "steel ridge"), "not applicable: steel ridge"),
        (on_ridge("defer", "no ties yet", until="main.hips"), "left till later: no ties yet"),
        (on_ridge("sign"), "signed"),
    ],
)
def test_what_was_said_to_a_whole_stage_that_is_gone_is_shown_by_every_front(entry: Draft, told: str) -> None:
    made = brought_to(without_ridge(), JOBS[0], entry)
    state = seen(without_ridge(), made)
    (stage,) = (one for one in seen(library(), entries(JOBS[0])).order if one.path == RIDGE)
    (gone,) = (one for one in state.earlier if (one.path, one.answer) == (RIDGE, told))
    assert (gone.ask, gone.by) == (stage.stage.title, "A. Foreman")
    assert any(RIDGE in line and gone.ask in line and told in line for line in page(state))
    assert {"path": RIDGE, "ask": gone.ask, "answer": told}.items() <= to_json(state)["earlier"][-1].items()
    assert name_of(RIDGE, state) == gone.ask
    pack = make(state, in_force(without_ridge(), EntryIndex.of(made)), "tiler", SEVEN)
    assert told in repr(next(one for one in pack.rest if one.title == "Earlier checks"))


def test_of_a_stage_that_is_gone_only_how_it_was_closed_last_counts() -> None:
    acts = [on_ridge("sign"), on_ridge("release", "signed too soon", was="done")]
    state = seen(without_ridge(), brought_to(without_ridge(), JOBS[0], *acts))
    assert [one.answer for one in state.earlier if one.path == RIDGE] == ["released: signed too soon"]


def test_a_stage_that_stays_is_no_earlier_one() -> None:
    release = Draft(act="release", part="main", check="tiler", value={"was": "unsigned"}, note="tiler is here")
    state = seen(without_ridge(), brought_to(without_ridge(), JOBS[0], release))
    assert "main.tiler" not in [one.path for one in state.earlier]


def test_a_job_goes_by_the_newest_lists_once_it_is_brought_to_them(tmp_path: Path) -> None:
    file = tmp_path / "job.json"
    file.write_bytes(JOBS[0].read_bytes())
    newest = without(library(), ("hipped", "ridge", "crowns"))
    with Job.open(file, newest) as job:
        job.update_lists(author("tablet09", 9e6))
        assert job.newest is newest and job.state.changed_lists == ()
        assert job.library == newest.only(part.form for part in job.state.parts)
        assert job.state.check("main.ridge.crowns") is None
        assert [one.path for one in job.state.earlier] == ["main.ridge.crowns"]
