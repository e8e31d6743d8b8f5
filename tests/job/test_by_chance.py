"""A job driven by chance on two devices, held to a small model that knows nothing of how it is kept.

The model is a list of what was confirmed on each device's copy, and the order of the holds.
"""

import os
import shutil
from pathlib import Path
from tempfile import mkdtemp

import pytest
from hypothesis import settings
from hypothesis import strategies as st
from hypothesis.stateful import (
    Bundle,
    RuleBasedStateMachine,
    initialize,
    invariant,
    precondition,
    rule,
    run_state_machine_as_test,
)

from sitelog.job.actions import actions
from sitelog.job.actions.setup import JobSetup
from sitelog.job.job import Job
from sitelog.job.log.entry import Author, Draft, Entry
from sitelog.job.state.replay import replay
from sitelog.job.state.views import State
from sitelog.job.storage.merge import merge
from sitelog.job.storage.verify import verify
from sitelog.refusal import Refusal
from tests.job.roof import LIBRARY, OUT_OF_SQUARE, SIDES, clearing
from tests.job.test_fold import shown
from tests.job.test_job import FIGURES, HAND, later
from tests.length import LONG, grows

HOLDS = ["job.start", "main.finish", "main.plates"]
STAGES = ["job.start", "main.finish", "main.plates", "main.hips", "main.tiler"]
TEXTS: dict[str, list[dict[str, str]]] = {
    "job.start.drawings": [{"value": "A-101"}, {"value": "A-102"}],
    "job.start.moisture": [{"value": "17"}, {"value": "31"}],
    "main.finish.covering": [{"value": "slates"}, {"value": "tiles"}],
    "main.plates.sides": [SIDES, OUT_OF_SQUARE],
    "main.plates.straps": [{"value": "1850"}, {"value": "2400"}],
    "main.plates.span": [{"left": "6001"}, {"left": "6030"}],
    "main.plates.treated": [{}],
    "main.hips.cutting": [{}],
    "main.hips.gap": [{"head": "400", "foot": "400", "gap": "3920"}],
    "main.hips.level": [{"value": "35"}, {"value": "38"}],
    "main.tiler.hooks": [{"value": "hook"}],
}  # fmt: skip
DEVICES = ("tablet1", "phone")


class Model:
    """One device's copy: what was confirmed there, in the order in which it was."""

    def __init__(self, entries: list[Entry]) -> None:
        self.confirmed = list(entries)
        self.done: list[tuple[State, Draft]] = []  # each act that undo can still take back, and the state before it

    def standing(self, *acts: str) -> list[Entry]:
        """The entries of these acts that nobody has taken back, in order."""
        gone = {e.value["id"] for e in self.confirmed if e.act == "void"}
        return sorted((e for e in self.confirmed if e.act in acts and e.id not in gone), key=lambda e: e.id)

    def passed(self, stage: str) -> bool:
        """Has the stage been signed or let go, and has nobody taken that back?"""
        return any(e.path == stage for e in self.standing("sign", "release"))

    def snagged(self, path: str) -> bool:
        closed = {e.value["entry"] for e in self.standing("close")}
        return any(e.path == path and e.id not in closed for e in self.standing("snag"))

    def settled(self, stage: str, check: str) -> bool:
        """Was it answered, set aside, let go by itself or with its stage, or is a snag open on it?"""
        path = f"{stage}.{check}"
        last = next((e for e in reversed(self.standing("answer", "skip", "defer", "release")) if e.path == path), None)
        with_stage = (e for e in self.standing("release") if e.path == stage and check in e.value["checks"])
        let_go = any(last is None or last.id < e.id for e in with_stage)
        return let_go or self.snagged(path) or (last is not None and last.act != "defer")


def gist(state: State) -> object:
    """What a person sees of a job, without when each thing was entered."""
    checks = {
        c.path: (c.state, c.verdict, c.value, c.note, c.stale_because, [f.value for f in c.figures])
        for c in state.checks()
    }
    stages = {s.path: (s.state, s.by, s.reason) for s in state.order}
    facts = {name: (fact.drawn, fact.built) for name, fact in state.facts.items()}
    bad = {name for name, tool in state.instruments.items() if tool.doubted}
    snags = [(s.id, s.text, s.path, s.open) for s in state.snags]
    deferrals = [(d.path, d.until, d.reason, d.open) for d in state.deferrals]
    return checks, stages, facts, snags, deferrals, bad, state.next, state.handed_over


class TwoTablets(RuleBasedStateMachine):
    """Acts by chance; each is either refused or confirmed, and what is confirmed is there for ever."""

    copies = Bundle("copies")

    @initialize()
    def begin(self) -> None:
        self.folder = Path(mkdtemp())
        self.minute = 0.0
        self.jobs: dict[str, Job] = {}
        self.models: dict[str, Model] = {}
        parts = [("main", "Main roof", "hipped", FIGURES)]
        first = self.path("tablet1")
        setup = JobSetup(title="Barn", place="Field", units="metric", parts=parts)
        Job.create(first, LIBRARY, HAND, setup).close()
        shutil.copy(first, self.path("phone"))
        for device in DEVICES:
            self.jobs[device] = Job.open(self.path(device), LIBRARY)
            self.models[device] = Model(self.jobs[device].entries)

    def path(self, device: str) -> Path:
        (self.folder / device).mkdir(exist_ok=True)
        return self.folder / device / "barn.json"

    def author(self, device: str) -> Author:
        self.minute += 1
        return Author("A. Foreman", device, later(self.minute).now)

    def enter(self, device: str, draft: Draft) -> None:
        job, model = self.jobs[device], self.models[device]
        before, held = job.state, {e.id for e in job.entries}
        job.do(draft, self.author(device))
        fresh = [entry for entry in job.entries if entry.id not in held]
        assert [(e.act, e.part, e.check) for e in fresh] == [(draft.act, draft.part, draft.check)]
        model.confirmed += fresh
        model.done.append((before, draft))

    @rule(device=st.sampled_from(DEVICES), path=st.sampled_from(list(TEXTS)), which=st.integers(0, 1))
    def answer(self, device: str, path: str, which: int) -> None:
        job, texts = self.jobs[device], TEXTS[path]
        try:
            draft = actions.answer(job.state, LIBRARY, path, texts[which % len(texts)])
        except Refusal:
            return
        stage = path.rpartition(".")[0]
        for hold in HOLDS:
            if STAGES.index(hold) < STAGES.index(stage):
                assert self.models[device].passed(hold), f"{path} was answered past {hold}"
        self.enter(device, draft)

    @rule(device=st.sampled_from(DEVICES), stage=st.sampled_from(STAGES))
    def sign(self, device: str, stage: str) -> None:
        job = self.jobs[device]
        try:
            draft = actions.sign(job.state, stage)
        except Refusal:
            return
        view = job.state.stage(stage)
        assert view is not None
        unsettled = [c.path for c in view.shown if not self.models[device].settled(stage, c.check.id)]
        assert not unsettled, "a stage was signed with a check that nobody looked at, or that was only put off"
        self.enter(device, draft)

    @rule(device=st.sampled_from(DEVICES), stage=st.sampled_from(STAGES))
    def release(self, device: str, stage: str) -> None:
        try:
            draft = actions.release(self.jobs[device].state, stage, "agreed with the engineer")
        except Refusal:
            return
        self.enter(device, draft)

    @rule(device=st.sampled_from(DEVICES), count=st.integers(1, 6))
    def go_on(self, device: str, count: int) -> None:
        """What is next is done, as a person would do it, so that the work gets somewhere."""
        for _ in range(count):
            state = self.jobs[device].state
            path = state.next
            try:
                if path in TEXTS:
                    self.enter(device, actions.answer(state, LIBRARY, path, TEXTS[path][0]))
                elif state.stage(path) is not None:
                    for read in clearing(state, LIBRARY, path):
                        self.enter(device, read)
                    self.enter(device, actions.sign(self.jobs[device].state, path))
            except Refusal:
                return

    @rule(device=st.sampled_from(DEVICES), path=st.sampled_from(["", *TEXTS]))
    def snag(self, device: str, path: str) -> None:
        try:
            draft = actions.snag(self.jobs[device].state, path, "one strap loose")
        except Refusal:
            return
        self.enter(device, draft)

    @rule(device=st.sampled_from(DEVICES))
    def put_right(self, device: str) -> None:
        state = self.jobs[device].state
        if state.open_snags:
            self.enter(device, actions.close_snag(state, state.open_snags[0].id))

    @rule(device=st.sampled_from(DEVICES), path=st.sampled_from(list(TEXTS)), act=st.sampled_from(["skip", "release"]))
    def let_go(self, device: str, path: str, act: str) -> None:
        state, why = self.jobs[device].state, "steel ring beam"
        try:
            draft = actions.skip(state, path, why) if act == "skip" else actions.release(state, path, why)
        except Refusal:
            return
        self.enter(device, draft)
        view = self.jobs[device].state.check(path)
        assert view and view.note == why

    @rule(device=st.sampled_from(DEVICES), path=st.sampled_from(list(TEXTS)), until=st.sampled_from(STAGES))
    def put_off(self, device: str, path: str, until: str) -> None:
        """What is put off keeps its stage from being signed, and comes back."""
        job = self.jobs[device]
        stage = path.rpartition(".")[0]
        try:
            draft = actions.defer(job.state, path, until, "ties not on site")
        except Refusal:
            return
        assert STAGES.index(until) > STAGES.index(stage), "a check comes back at a later stage"
        self.enter(device, draft)
        if not self.models[device].snagged(path):
            with pytest.raises(Refusal):
                actions.sign(job.state, stage)
            assert [d.until for d in job.state.deferrals if d.open and d.path == path] == [until]

    @rule(device=st.sampled_from(DEVICES), path=st.sampled_from(list(TEXTS)), which=st.integers(0, 1))
    def correct(self, device: str, path: str, which: int) -> None:
        """An answer given anew, with the reason: the old one stays in the record, and the new one names it."""
        job, texts = self.jobs[device], TEXTS[path]
        old = [e for e in self.models[device].standing("answer") if e.path == path]
        view = job.state.check(path)
        if not old or view is None or view.history[-1] != old[-1]:
            return
        try:
            draft = actions.answer(job.state, LIBRARY, path, texts[which % len(texts)], note="read from the wrong end")
        except Refusal:
            return
        self.enter(device, draft)
        view = job.state.check(path)
        assert view and view.history[-1].note == "read from the wrong end"
        assert [e for e in view.history if e.act == "answer"][:-1] == old
        assert old[-1].id in view.history[-1].value["@was"]

    @rule(device=st.sampled_from(DEVICES))
    def mark_bad(self, device: str) -> None:
        state = self.jobs[device].state
        if "T1" not in state.instruments:
            self.enter(device, actions.instrument("T1", "tape", "II"))
        elif not state.instruments["T1"].doubted:
            self.enter(device, actions.doubt(state, "T1", "hook bent"))

    def take_back(self, device: str) -> Draft | None:
        """Undo, and what it took back; the view is the one before."""
        job, model = self.jobs[device], self.models[device]
        if not model.done:
            return None
        *kept, (wanted, draft) = model.done
        self.enter(device, actions.undo(job.state, job.entries))
        model.done = kept
        assert shown(job.state) == shown(wanted)
        return draft

    @rule(device=st.sampled_from(DEVICES))
    def undo(self, device: str) -> None:
        self.take_back(device)

    @rule(device=st.sampled_from(DEVICES))
    def undo_and_do_it_again(self, device: str) -> None:
        """The undoing of an undo is to enter the same once more: all stands as it stood."""
        before = gist(self.jobs[device].state)
        draft = self.take_back(device)
        if draft is not None:
            self.enter(device, draft)
            assert gist(self.jobs[device].state) == before

    @rule(device=st.sampled_from(DEVICES))
    def shut_and_open(self, device: str) -> None:
        self.jobs[device].close()
        self.jobs[device] = Job.open(self.path(device), LIBRARY)

    @rule(device=st.sampled_from(DEVICES))
    def power_cut(self, device: str) -> None:
        """What stands on the disk at this moment is all that there will be."""
        there, saved = self.path(device).parent, self.folder / "saved"
        shutil.copytree(there, saved)
        self.jobs[device].close()
        shutil.rmtree(there)
        saved.rename(there)
        self.jobs[device] = Job.open(self.path(device), LIBRARY)

    @rule(device=st.sampled_from(DEVICES))
    def fold_in(self, device: str) -> None:
        self.jobs[device].file.checkpoint()

    def other(self, device: str) -> str:
        return DEVICES[1 - DEVICES.index(device)]

    def met(self, device: str) -> None:
        """Both copies' entries are in this one now; what was entered apart is not undone in turn."""
        model = self.models[device]
        known = {e.id for e in model.confirmed}
        model.confirmed += [e for e in self.models[self.other(device)].confirmed if e.id not in known]
        model.done.clear()

    @rule(device=st.sampled_from(DEVICES))
    def join(self, device: str) -> None:
        """The same bytes, whichever copy the other is joined to."""
        self.jobs[device].close()
        here, there = self.path(device), self.path(self.other(device))
        mirror = Path(shutil.copy(here, self.folder / "mirror.json"))
        target = Path(shutil.copytree(there.parent, self.folder / "theirs")) / "barn.json"
        merge(target, [mirror])
        merge(here, [there])
        assert target.read_bytes() == here.read_bytes()
        shutil.rmtree(target.parent)
        self.met(device)
        self.jobs[device] = Job.open(here, LIBRARY)

    @rule(device=st.sampled_from(DEVICES))
    def overwritten_underneath(self, device: str) -> None:
        """A sync folder puts the other's file in place of the open one; the next save joins both."""
        other = self.other(device)
        self.jobs[other].file.checkpoint()
        shutil.copy(self.path(other), self.path(device))
        job, model = self.jobs[device], self.models[device]
        job.do(actions.note(job.state, "main", "seen"), self.author(device))
        self.met(device)
        known = {e.id for e in model.confirmed}
        fresh = [e for e in job.entries if e.id not in known]
        assert [e.act for e in fresh] == ["note"]
        model.confirmed += fresh

    @precondition(lambda self: hasattr(self, "jobs"))
    @invariant()
    def nothing_is_lost_and_all_agree(self) -> None:
        for device in DEVICES:
            job, model = self.jobs[device], self.models[device]
            assert job.entries == sorted(model.confirmed, key=lambda e: e.id)
            with Job.open(self.path(device), LIBRARY, read_only=True) as reader:
                assert reader.entries == job.entries
                assert reader.state == job.state == replay(LIBRARY, model.confirmed)
            assert verify(self.path(device)) == []

    def teardown(self) -> None:
        for job in getattr(self, "jobs", {}).values():
            job.close()
        if hasattr(self, "folder"):
            shutil.rmtree(self.folder)


@grows
def test_whatever_is_done_nothing_is_lost_and_no_hold_is_passed_unsigned(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(os, "fsync", lambda _: None)  # power cuts are looked at elsewhere
    run_state_machine_as_test(
        TwoTablets,
        settings=settings(max_examples=250 if LONG else 12, stateful_step_count=60 if LONG else 25, deadline=None),
    )
