"""What newer lists change in a check, in words."""

import pytest
from msgspec.structs import replace

from sitelog.checklist.schema.model import Check, Choice, Figure, Library, Limit
from sitelog.job.actions import actions
from sitelog.job.job import Job, seen
from sitelog.job.news import news
from tests.job.lists import without
from tests.job.logs import author
from tests.job.test_earlier import JOBS, entries
from tests.shipped import library


def asking_otherwise(was: Library, check: Check) -> Library:
    """The same lists, with that check of the ridge in place of the one of its id."""
    one = was.lists["hipped"]
    stages = tuple(
        replace(stage, checks=tuple(check if stage.id == "ridge" and c.id == check.id else c for c in stage.checks))
        for stage in one.stages
    )
    return replace(was, lists={**was.lists, "hipped": replace(one, stages=stages, digest="0" * 64)})


MEASURE = Check("crowns", "How high?", "measure", figures=(Figure("value", "offset", ""),))
LIMIT = Limit("within", 5.0, "house", "house-tails")
CHOOSE = Check("crowns", "Which?", "choice", choices=(Choice("a", "oak"), Choice("b", "larch")))
CHANGES = [
    (MEASURE, replace(MEASURE, ask="How low?"), "it asked before: How high?"),
    (MEASURE, replace(MEASURE, limit=LIMIT), "limit within 5 mm, before none"),
    (replace(MEASURE, limit=replace(LIMIT, rule="most", amount=10.0)), replace(MEASURE, limit=LIMIT),
     "limit within 5 mm, before at most 10 mm"),
    (CHOOSE, replace(CHOOSE, choices=(Choice("a", "oak"), Choice("c", "fir"))), "new choice: fir"),
    (CHOOSE, replace(CHOOSE, choices=(Choice("a", "oak"),)), "choice removed: larch"),
    (MEASURE, replace(MEASURE, figures=(Figure("value", "offset", "at the ridge"),)),
     "figure at the ridge, before value"),
    (MEASURE, replace(MEASURE, why="It leaks."),
     "it asks the same; its reason, source or condition has changed"),
]  # fmt: skip


@pytest.mark.parametrize(("was", "now", "words"), CHANGES, ids=[words for _, _, words in CHANGES])
def test_a_check_that_asks_otherwise_says_how(was: Check, now: Check, words: str) -> None:
    own, newest = asking_otherwise(library(), was), asking_otherwise(library(), now)
    (row,) = news(seen(own, entries(JOBS[0])), own, newest).changed
    assert row.path == "main.ridge.crowns"
    assert words in row.what


def test_cautions_and_finishes_that_change_are_named() -> None:
    name, caution = next(iter(library().cautions.items()))
    newest = replace(library(), cautions={**library().cautions, name: replace(caution, do="Stand clear.")}, finishes={})
    found = news(seen(library(), entries(JOBS[0])), library(), newest).beside
    assert ("changed", "caution", caution.title) in found
    assert {("gone", "finish", one.label) for one in library().finishes.values()} <= set(found)


def test_a_check_that_is_gone_keeps_its_snag_and_why_it_was_let_go(tmp_path_factory: pytest.TempPathFactory) -> None:
    file = tmp_path_factory.mktemp("job") / "job.json"
    file.write_bytes(JOBS[0].read_bytes())
    newest = without(library(), ("hipped", "ridge", "crowns"))
    with Job.open(file, library()) as job:
        path = "main.ridge.crowns"
        job.do(actions.snag(job.state, path, "a crown is split", who="", due=""), author("tablet09", 8e6))
        job.do(actions.skip(job.state, path, "no crowns here"), author("tablet09", 8.1e6))
    with Job.open(file, newest) as job:
        job.update_lists(author("tablet09", 9e6))
        told = [one.answer for one in job.state.earlier if one.path == path]
    assert any("a crown is split" in one for one in told)
    assert "not applicable: no crowns here" in told
