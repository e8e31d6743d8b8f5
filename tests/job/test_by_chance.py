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

from sitelog.job import acts
from sitelog.job.entry import Draft, Entry, Hand
from sitelog.job.fold import fold
from sitelog.job.job import Job
from sitelog.job.merge import merge
from sitelog.job.verify import verify
from sitelog.job.views import State
from sitelog.refusal import Refusal
from tests.job.roof import LIBRARY, OUT_OF_SQUARE, SIDES
from tests.job.test_fold import shown
from tests.job.test_job import FIGURES, HAND, later

LONG = bool(os.environ.get("SITELOG_LONG"))
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
        self.before: list[State] = []  # the state before each act that undo can still take back

    def passed(self, stage: str) -> bool:
        """Has the stage been signed or let go, and has nobody taken that back?"""
        gone = {e.value["id"] for e in self.confirmed if e.act == "void"}
        return any(e.act in ("sign", "release") and e.path == stage and e.id not in gone for e in self.confirmed)


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
        Job.create(first, LIBRARY, HAND, title="Barn", place="Field", units="metric", parts=parts).close()
        shutil.copy(first, self.path("phone"))
        for device in DEVICES:
            self.jobs[device] = Job.open(self.path(device), LIBRARY)
            self.models[device] = Model(self.jobs[device].entries)

    def path(self, device: str) -> Path:
        (self.folder / device).mkdir(exist_ok=True)
        return self.folder / device / "barn.json"

    def hand(self, device: str) -> Hand:
        self.minute += 1
        return Hand("A. Foreman", device, later(self.minute).now)

    def enter(self, device: str, draft: Draft) -> None:
        job, model = self.jobs[device], self.models[device]
        before, held = job.state, {e.id for e in job.entries}
        job.do(draft, self.hand(device))
        fresh = [entry for entry in job.entries if entry.id not in held]
        assert [(e.act, e.part, e.check) for e in fresh] == [(draft.act, draft.part, draft.check)]
        model.confirmed += fresh
        model.before.append(before)

    @rule(device=st.sampled_from(DEVICES), path=st.sampled_from(list(TEXTS)), which=st.integers(0, 1))
    def answer(self, device: str, path: str, which: int) -> None:
        job, texts = self.jobs[device], TEXTS[path]
        try:
            draft = acts.answer(job.state, LIBRARY, path, texts[which % len(texts)])
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
            draft = acts.sign(job.state, stage)
        except Refusal:
            return
        view = job.state.stage(stage)
        assert view is not None
        answered = {e.path for e in self.models[device].confirmed if e.act in ("answer", "release", "skip")}
        assert all(check.path in answered for check in view.shown), "a stage was signed with a check nobody looked at"
        self.enter(device, draft)

    @rule(device=st.sampled_from(DEVICES), stage=st.sampled_from(STAGES))
    def release(self, device: str, stage: str) -> None:
        try:
            draft = acts.release(self.jobs[device].state, stage, "agreed with the engineer")
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
                    self.enter(device, acts.answer(state, LIBRARY, path, TEXTS[path][0]))
                elif state.stage(path) is not None:
                    self.enter(device, acts.sign(state, path))
            except Refusal:
                return

    @rule(device=st.sampled_from(DEVICES))
    def snag(self, device: str) -> None:
        self.enter(device, acts.snag(self.jobs[device].state, "main.plates.straps", "one strap loose"))

    @rule(device=st.sampled_from(DEVICES))
    def undo(self, device: str) -> None:
        job, model = self.jobs[device], self.models[device]
        if not model.before:
            return
        wanted = model.before.pop()
        kept = list(model.before)
        self.enter(device, acts.undo(job.state, job.entries))
        model.before = kept
        assert shown(job.state) == shown(wanted)

    @rule(device=st.sampled_from(DEVICES))
    def shut_and_open(self, device: str) -> None:
        self.jobs[device].close()
        assert not (self.path(device).parent / "barn.json.files" / "journal").exists()
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
        self.jobs[device].file.fold()

    def other(self, device: str) -> str:
        return DEVICES[1 - DEVICES.index(device)]

    def met(self, device: str) -> None:
        """Both copies' entries are in this one now; what was entered apart is not undone in turn."""
        model = self.models[device]
        known = {e.id for e in model.confirmed}
        model.confirmed += [e for e in self.models[self.other(device)].confirmed if e.id not in known]
        model.before.clear()

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
        self.jobs[other].file.fold()
        shutil.copy(self.path(other), self.path(device))
        job, model = self.jobs[device], self.models[device]
        job.do(acts.note(job.state, "main", "seen"), self.hand(device))
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
                assert reader.state == job.state == fold(LIBRARY, model.confirmed)
            assert verify(self.path(device)) == []

    def teardown(self) -> None:
        for job in getattr(self, "jobs", {}).values():
            job.close()
        if hasattr(self, "folder"):
            shutil.rmtree(self.folder)


def test_whatever_is_done_nothing_is_lost_and_no_hold_is_passed_unsigned(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(os, "fsync", lambda _: None)  # power cuts are looked at elsewhere
    run_state_machine_as_test(
        TwoTablets,
        settings=settings(max_examples=400 if LONG else 12, stateful_step_count=60 if LONG else 25, deadline=None),
    )
