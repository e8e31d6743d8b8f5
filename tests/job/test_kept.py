"""What is kept between two looks at the sample job: whatever is entered next, it shows what a fresh look would."""

import pickle
import random
from collections.abc import Mapping, Sequence
from datetime import datetime, timedelta
from pathlib import Path
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from sitelog.checklist.proved import Lists
from sitelog.checklist.schema.shipped import sample_folder
from sitelog.job.actions import actions
from sitelog.job.facts.cache import EvaluationCache
from sitelog.job.facts.facts import FactResolver, Key
from sitelog.job.job import Job
from sitelog.job.log.entry import Author, Draft, Entry, seal
from sitelog.job.log.entry_index import EntryIndex
from sitelog.job.machine import shelf
from sitelog.job.state.replay import replay, state_of
from sitelog.job.state.views import State
from sitelog.job.storage.file import JobFile
from sitelog.refusal import Refusal
from tests import shipped
from tests.length import LONG, grows, long

LIBRARY = shipped.library()
with JobFile.open(sample_folder() / "kiln-lane.json", read_only=True) as _file:
    SAMPLE = tuple(_file.entries)
ONCE = ("start", "pin", "part", "handover", "accept")  # what later entries don't repeat
AGAIN = [entry for entry in SAMPLE if entry.act not in ONCE]
DEVICES = (SAMPLE[-1].device, "TABLET02")

BY_ACT = {str(act): [entry for entry in AGAIN if entry.act == act] for act in {entry.act for entry in AGAIN}}
WHOLE = replay(LIBRARY, SAMPLE)
PATHS = [(check.part, f"{check.stage}.{check.check.id}") for check in WHOLE.checks()]
FORMS = {part.id: part.form for part in WHOLE.parts}
STAGES = [(stage.part, stage.stage.id) for stage in WHOLE.order]
TOOLS = [entry.value["id"] for entry in BY_ACT["instrument"]]

again = st.sampled_from([*BY_ACT, *["answer"] * 8]).flatmap(lambda act: st.sampled_from(BY_ACT[act]))
on_a_check = st.tuples(st.sampled_from(["skip", "defer", "release", "snag", "note"]), st.sampled_from(PATHS))
on_a_stage = st.tuples(st.sampled_from(["release", "sign", "snag"]), st.sampled_from(STAGES))
doubt = st.sampled_from(TOOLS)
acts = st.one_of(
    st.tuples(st.just("again"), again, st.sampled_from([1.0, 0.998, 1.2])),
    st.tuples(st.just("on"), st.one_of(on_a_check, on_a_stage)),
    st.tuples(st.just("doubt"), doubt),
    st.tuples(st.just("void"), st.integers(1, 30)),
)
how = st.tuples(
    st.sampled_from(DEVICES),
    st.booleans(),
    st.sampled_from([0.5, 60.0]),
    st.booleans(),
    st.sampled_from([False, False, True]),
)


@given(st.integers(len(SAMPLE) // 5, len(SAMPLE)), st.lists(st.tuples(acts, how), min_size=1, max_size=12))
@settings(max_examples=250 if LONG else 8, deadline=None)
@grows
def test_what_is_kept_shows_what_a_fresh_look_would(so_far: int, done: list[tuple[Any, ...]]) -> None:
    entries = list(SAMPLE[:so_far])
    library, entry_index, kept = LIBRARY, EntryIndex.of(entries), EvaluationCache()
    state_of(library, entry_index, kept)
    for number, (act, (device, forked, seconds, anew, unseen)) in enumerate(done):
        if anew:  # from the disk, as the next start finds it
            entry_index = EntryIndex.of(entries)
            library, kept = pickle.loads(pickle.dumps((library, kept)))
        draft = _draft(entries, number, *act)
        entries.append(_sealed(entries, draft, device, forked=forked, seconds=seconds))
        if not entry_index.take(entries[-1]):
            entry_index = EntryIndex.of(
                entries
            )  # the ledger is made anew, and what is kept still has to find what changed
        if unseen and number + 1 < len(done):  # what is kept may lie several entries behind
            continue
        assert state_of(library, entry_index, kept) == replay(LIBRARY, entries)


@pytest.mark.parametrize("seed", [0, pytest.param(1, marks=long)])
def test_a_job_started_anew_for_every_act_takes_and_refuses_the_same_and_writes_the_same_bytes(
    seed: int, tmp_path: Path, lists_known: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(shelf, "FEW", 4)  # so that all is kept anew several times
    chance, lists = random.Random(seed), Lists()
    files = [tmp_path / "steady.json", tmp_path / "anew.json"]
    for file in files:
        JobFile.create(file, SAMPLE[: 90 + 80 * seed]).close()
    now = datetime.fromisoformat(SAMPLE[-1].at)
    with Job.open(files[0], LIBRARY) as steady:
        for _ in range(12):
            now += timedelta(seconds=chance.choice([0.5, 60]))
            wanted, author = _wanted(chance, steady.state), Author("A. Ito", "tablet02", now)
            with Job.open(files[1], lists) as anew:
                assert anew.state == steady.state
                assert _done(anew, wanted, author) == _done(steady, wanted, author)
                assert anew.state == steady.state
    assert files[0].read_bytes() == files[1].read_bytes()
    assert len(list(lists_known.iterdir())) > 2


def _wanted(chance: random.Random, state: State) -> tuple[Any, ...]:
    """An act at the next check, or at one by chance, with what was answered there in the sample."""
    path = state.next if chance.random() < 0.5 else f"{'.'.join(chance.choice(PATHS))}"
    texts = next((_texts(entry.value) for entry in AGAIN if entry.path == path and entry.act == "answer"), {})
    return chance.choice(["answer", "answer", "answer", "skip", "defer", "release", "sign", "undo"]), path, texts


def _texts(value: Mapping[str, Any]) -> dict[str, str]:
    return {
        key: str(one) for key, one in value.items() if not key.startswith("@") and isinstance(one, str | int | float)
    }


def _done(job: Job, wanted: tuple[Any, ...], author: Author) -> str:
    act, path, texts = wanted
    state = job.state
    try:
        if act == "answer":
            draft = actions.answer(state, job.library, path, texts, note="read again")
        elif act == "defer":
            draft = actions.defer(state, path, "job.handover", "for a reason")
        elif act == "undo":
            draft = actions.undo(state, job.entries)
        elif act == "sign":
            draft = actions.sign(state, path.rpartition(".")[0])
        else:
            draft = {"skip": actions.skip, "release": actions.release}[act](state, path, "for a reason")
        job.do(draft, author)
    except Refusal as refusal:
        return refusal.message
    return "entered"


def test_only_what_hangs_on_an_answer_is_looked_at_again() -> None:
    entry_index, kept = EntryIndex.of(SAMPLE), EvaluationCache()
    state_of(LIBRARY, entry_index, kept)
    tick = next(e for e in SAMPLE if e.act == "answer" and all(key.startswith("@") for key in e.value))
    checks, stages = dict(kept.checks), dict(kept.stages)
    entry_index.take(_sealed(SAMPLE, Draft(act="answer", part=tick.part, check=tick.check), tick.device))
    state_of(LIBRARY, entry_index, kept)
    assert [path for path, seen in kept.checks.items() if seen is not checks[path]] == [tick.path]
    assert [path for path, seen in kept.stages.items() if seen is not stages[path]] == [tick.path.rpartition(".")[0]]


def test_a_tick_is_no_longer_at_once_when_the_one_before_it_is_taken_back() -> None:
    """Nothing is entered on the check itself."""
    entry_index, kept = EntryIndex.of(SAMPLE), EvaluationCache()
    entries = list(SAMPLE)
    first, second = [e for e in SAMPLE if e.act == "answer" and not e.value][:2]
    ticks = [Draft(act="answer", part=one.part, check=one.check) for one in (first, second)]
    told = []
    for number in range(3):
        draft = ticks[number] if number < 2 else _draft(entries, number, "void", 2)
        entries.append(_sealed(entries, draft, DEVICES[0], seconds=0.5))
        entry_index.take(entries[-1])
        view = state_of(LIBRARY, entry_index, kept).check(second.path)
        told.append(view is not None and view.at_once)
    assert told == [False, True, False]


def test_what_is_read_for_a_sum_counts_as_read_whoever_worked_it_first() -> None:
    def read_for(resolver: FactResolver) -> set[Key]:
        with resolver.reading() as reads:
            assert list(resolver.answers("main"))
        return reads

    resolver = EvaluationCache().resolver(LIBRARY, FORMS, WHOLE.given)
    assert ("main", "length") in read_for(resolver)
    assert read_for(resolver) == read_for(EvaluationCache().resolver(LIBRARY, FORMS, WHOLE.given))


def test_what_is_read_apart_from_an_answer_counts_as_read() -> None:
    """A span is held to what it would be without its own reading."""
    resolver = EvaluationCache().resolver(LIBRARY, FORMS, WHOLE.given)
    with resolver.reading() as reads:
        apart = resolver.without("main.plates.sides").fact("main", "ab")
    assert apart and apart.set_by != "main.plates.sides"
    assert {("main", "ab"), ("main", "length")} <= reads


def _draft(entries: list[Entry], number: int, what: str, *of: Any) -> Draft:
    if what == "again":
        old, scale = of
        return Draft(act=old.act, part=old.part, check=old.check, value=_scaled(old.value, scale), note=old.note)
    if what == "void":
        gone = entries[-of[0]]
        return Draft(act="void", part=gone.part, check=gone.check, value={"id": gone.id})
    if what == "doubt":
        return Draft(act="doubt", value={"id": of[0]}, note="reads short")
    act, (part, check) = of[0]
    value = {"snag": {"id": f"X{number}", "text": "loose"}, "defer": {"until": "job.handover"}}.get(act, {})
    return Draft(act=act, part=part, check=check, value=value, note="for a reason")


def _scaled(value: Mapping[str, Any], scale: float) -> dict[str, Any]:
    return {key: one * scale if isinstance(one, float) else one for key, one in value.items()}


def _sealed(
    entries: Sequence[Entry], draft: Draft, device: str, *, forked: bool = False, seconds: float = 60.0
) -> Entry:
    """The next entry of a device; a forked one goes on from the entry before its last, as a copy would."""
    own = [entry for entry in entries if entry.device == device]
    before = own[-2] if forked and len(own) > 1 else own[-1] if own else None
    when = datetime.fromisoformat(entries[-1].at) + timedelta(seconds=seconds)
    return seal(draft, Author("A. Ito", device, when), before, entries[-1].id)
