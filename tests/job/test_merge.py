"""Copies of a job that went on apart become one: a set union, whatever was joined first, and nothing is lost."""

import os
import random
import shutil
import subprocess
import sys
from itertools import permutations
from pathlib import Path

import msgspec
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from sitelog.job.actions import actions
from sitelog.job.actions.sealing import sealed
from sitelog.job.log.entry import Draft, Entry, ends, seal
from sitelog.job.log.record_code import record_code as head
from sitelog.job.log.union import joined
from sitelog.job.state.replay import replay
from sitelog.job.storage.file import JobFile
from sitelog.job.storage.format import seals, tables
from sitelog.job.storage.merge import merge, merge_scratch
from sitelog.job.storage.verify import verify
from sitelog.refusal import DAMAGED, HELD, NOT_SAVED, USAGE, Refusal
from tests.job.logs import after, author, log, saved, tree
from tests.job.roof import LIBRARY, SIDES, Desk, anew

START = log(5, "tablet01", "phone-02")


def went_on(start: list[Entry], count: int, device: str, minutes: float = 60) -> list[Entry]:
    """The entries and so many more, by one device."""
    made = list(start)
    for number in range(count):
        before = [e for e in made if e.device == device]
        draft = Draft(act="note", note=f"{device} {number} {minutes:g}")
        made.append(seal(draft, author(device, minutes + number), before[-1] if before else None, made[-1].id))
    return made


# Two tablets, a phone, and one tablet whose file was copied and went on twice.
COPIES = {
    "tablet.json": went_on(START, 3, "tablet01"),
    "phone.json": went_on(START, 2, "phone-02"),
    "laptop.json": went_on(START[:4], 4, "laptop-3"),
    "again.json": went_on(START, 4, "tablet01", 60.5),
}
EVERYTHING = joined((), [entry for entries in COPIES.values() for entry in entries])


@pytest.fixture
def copies(tmp_path: Path) -> list[Path]:
    for name, entries in COPIES.items():
        (tmp_path / name.removesuffix(".json")).mkdir()
        saved(tmp_path / name.removesuffix(".json") / name, entries)
    return [tmp_path / name.removesuffix(".json") / name for name in COPIES]


def test_copies_join_to_the_same_bytes_in_whatever_order(copies: list[Path], tmp_path: Path) -> None:
    seen = set()
    for number, order in enumerate(permutations(copies)):
        target = Path(shutil.copy(order[0], tmp_path / f"{number}.json"))
        if number % 2:
            assert merge(target, order[1:]) == len(EVERYTHING) - len(COPIES[order[0].name])
        else:
            assert sum(merge(target, [copy]) for copy in order[1:]) == len(EVERYTHING) - len(COPIES[order[0].name])
        seen.add(target.read_bytes())
        assert verify(target) == []
    assert seen == {msgspec.json.encode(tables(EVERYTHING))}
    assert {copy.name: copy.read_bytes() for copy in copies} == {
        name: msgspec.json.encode(tables(entries)) for name, entries in COPIES.items()
    }


@settings(deadline=None, max_examples=60)
@given(
    st.lists(st.tuples(st.integers(0, 3), st.sampled_from(["tablet01", "phone-02", "laptop-3"])), max_size=24),
    st.data(),
)
def test_the_union_of_any_copies_is_sound_and_one_whichever_comes_first(
    acts_: list[tuple[int, str]], data: st.DataObject
) -> None:
    """Up to four copies, each added to on any device, now and then one joined to another on the way."""
    apart = [list(START) for _ in range(4)]
    for minute, (which, device) in enumerate(acts_):
        if minute % 7 == 6:
            apart[which] = joined(apart[which], apart[(which + 1) % 4])
        apart[which] = joined(apart[which], went_on(apart[which], 1, device, 60 + minute)[-1:])
    order = data.draw(st.permutations(apart))
    together, other = joined((), START), joined((), START)
    for one, two in zip(apart, order, strict=True):
        together, other = joined(together, one), joined(other, two)
    assert together == other
    assert head(ends(together)) == head(ends(other[::-1]))
    by_digest = {e.digest(): e for e in together}
    followed = {e.prev for e in together}
    true_ends = {d for d in by_digest if d not in followed}
    assert {e.digest() for found in ends(together).values() for e in found} == true_ends
    sealed_ = {
        d
        for seal_ in seals(together).values()
        for d in [seal_["digest"], *(s["digest"] for s in seal_.get("also", []))]
    }
    assert sealed_ == true_ends


TWICE = went_on(START, 2, "tablet01")
TREES = [
    EVERYTHING,
    [*went_on(START, 1, "tablet01"), *went_on(START, 2, "tablet01", 60.2), *went_on(START, 3, "tablet01", 60.5)],
    [*went_on(TWICE, 1, "tablet01", 70), *went_on(TWICE, 2, "tablet01", 70.5), *went_on(START, 1, "tablet01", 60.5)],
    [*went_on(START, 1, "tablet01"), *went_on(START, 1, "tablet01", 60.2), *went_on(START, 2, "laptop-3", 60.4),
     *went_on(START, 3, "laptop-3", 60.6)],
]  # fmt: skip


@pytest.mark.parametrize(("tree", "others"), list(zip(TREES, (1, 2, 2, 1), strict=True)))
def test_where_copies_parted_on_one_device_a_changed_or_missing_entry_is_told_and_no_other_suspected(
    tmp_path: Path, tree: list[Entry], others: int
) -> None:
    job, entries = tmp_path / "barn.json", joined((), tree)
    good = msgspec.json.decode(msgspec.json.encode(tables(entries)))
    assert len(good["job"]["1"]["seals"]["tablet01"]["also"]) == others
    for number, entry in enumerate(entries, 1):
        found = msgspec.json.decode(msgspec.json.encode(good))
        found["entries"][str(number)]["note"] = "changed"
        job.write_bytes(msgspec.json.encode(found))
        (fault,) = verify(job)
        assert fault.startswith(f"Entry {entry.id} (") and fault.endswith("it has been changed since it was entered.")
        del found["entries"][str(number)]
        job.write_bytes(msgspec.json.encode(found))
        fault, *more = verify(job)
        # It is named by its number, or by the entry that follows it and no other.
        followers = [f"Entry {e.id} (" for e in entries if e.prev == entry.digest()]
        assert fault.startswith((f"Number {entry.seq} from device {entry.device} is missing", *followers)), fault
        assert "missing" in fault
        assert len(more) == (entry.act == "start"), "without its start it does not begin as a job does"


def test_where_copies_parted_an_entry_that_was_changed_is_told_beside_one_that_is_missing(tmp_path: Path) -> None:
    """Two copies went on with three entries each: in one the first is changed, in the other the second is missing."""
    one, other = went_on(START, 3, "tablet01")[5:], went_on(START, 3, "tablet01", 60.5)[5:]
    entries = joined((), [*START, *one, *other])
    found = msgspec.json.decode(msgspec.json.encode(tables(entries)))
    found["entries"][str(1 + entries.index(one[0]))]["note"] = "changed"
    del found["entries"][str(1 + entries.index(other[1]))]
    job = tmp_path / "barn.json"
    job.write_bytes(msgspec.json.encode(found))
    changed, *_, missing = verify(job)
    assert changed.startswith(f"Entry {one[0].id} (") and changed.endswith("has been changed since it was entered.")
    assert missing.startswith(f"Entry {other[2].id} (") and missing.endswith("the entry before it is missing.")


def test_joining_takes_what_stands_beside_a_copy_too(tmp_path: Path) -> None:
    one, other = tmp_path / "one.json", tmp_path / "other.json"
    saved(one, START)
    saved(other, START)
    file = JobFile.open(other)
    added = after(START)
    file.append([added])
    assert merge(one, [other]) == 1
    assert JobFile.open(one, read_only=True).entries == [*START, added]
    assert merge(one, [other, other, one]) == 0
    file.close()


def test_what_is_no_copy_of_the_job_is_refused_and_nothing_is_written(tmp_path: Path) -> None:
    job = saved(tmp_path / "barn.json", START)
    (tmp_path / "other").mkdir()
    other = tmp_path / "other" / "mill.json"

    def refused(raw: bytes, code: int, says: str) -> None:
        other.write_bytes(raw)
        before = tree(tmp_path)
        for act in (lambda: merge(job, [other]), lambda: merge_scratch(job, other)):
            with pytest.raises(Refusal, match=says) as caught:
                act()
            assert caught.value.code == code
            assert tree(tmp_path) == before

    good = msgspec.json.encode(tables(START))
    refused(msgspec.json.encode(tables(log(3, "phone-02"))), USAGE, "mill.json is a different job from barn.json")
    refused(good[:-5], DAMAGED, "mill.json is damaged")
    refused(good.replace(b'"format":1', b'"format":2'), USAGE, "mill.json can't be joined: .* newer sitelog")
    changed = [*START[:2], msgspec.structs.replace(START[2], note="other"), *START[3:]]
    refused(msgspec.json.encode(tables(changed)), DAMAGED, f"Two different entries have the id {START[2].id}")
    with pytest.raises(Refusal, match="No job file"):
        merge(job, [tmp_path / "none"])
    with JobFile.open(job), pytest.raises(Refusal, match="already") as held:
        merge(job, [job])
    assert held.value.code == HELD


def test_a_file_that_may_not_be_written_is_joined_to_nothing(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    job = saved(tmp_path / "barn.json", START)
    other = saved(tmp_path / "other.json", went_on(START, 1, "phone-02"))
    before = job.read_bytes()
    newer = tmp_path / "newer.json"
    newer.write_bytes(before.replace(b'"format":1', b'"format":2'))
    for act in (lambda: merge(newer, [other]), lambda: merge_scratch(newer, other)):
        with pytest.raises(Refusal, match="newer sitelog"):
            act()

    def full(*_: object) -> None:
        raise OSError(28, "No space left on device")

    monkeypatch.setattr(Path, "write_bytes", full)
    with pytest.raises(Refusal, match="the disk is full") as caught:
        merge_scratch(job, other)
    assert (caught.value.code, job.read_bytes()) == (NOT_SAVED, before)
    monkeypatch.setattr("sitelog.job.storage.store.os.fsync", full)
    with pytest.raises(Refusal, match="the disk is full"):
        merge(job, [other])
    assert job.read_bytes() == before


# --- two answers ---


def apart(one_device: bool) -> tuple[list[Entry], list[Entry]]:
    """Two copies of a roof, in each of which the plates were taped, with other figures."""
    desk = Desk().to_plates()
    copies = []
    for device, more in (("tablet1", 0), ("tablet1" if one_device else "phone", 4)):
        texts = SIDES | {"ab": str(9000 + more)}
        draft = actions.answer(desk.state, LIBRARY, "main.plates.sides", texts)
        copies.append([*desk.entries, *sealed([draft], author(device, 90 + more), desk.entries)])
    return copies[0], copies[1]


@pytest.mark.parametrize("one_device", [False, True])
def test_two_different_answers_are_both_kept_and_flagged_until_a_new_one_knows_both(one_device: bool) -> None:
    one, other = apart(one_device)
    together = joined(one, other)
    state = replay(LIBRARY, together)
    assert state == replay(LIBRARY, joined(other, one))
    view = state.check("main.plates.sides")
    assert view is not None
    assert [(e.value["ab"], len(view.rivals)) for e in view.rivals] == [(9000.0, 1)]
    assert view.figures[0].value == 9004.0
    draft = anew(state, LIBRARY, "main.plates.sides", SIDES | {"ab": "9002"})
    settled = replay(LIBRARY, [*together, *sealed([draft], author("tablet1", 200), together)])
    view = settled.check("main.plates.sides")
    assert view is not None
    assert view.rivals == ()
    assert len(view.history) == 3


def test_the_same_answer_in_both_copies_is_no_conflict() -> None:
    one, other = apart(False)
    same = [*one[:-1], msgspec.structs.replace(other[-1], value=one[-1].value)]
    view = replay(LIBRARY, joined(one, same)).check("main.plates.sides")
    assert view is not None
    assert view.rivals == ()


# --- git ---


def git(folder: Path, *words: str) -> "subprocess.CompletedProcess[str]":
    env = os.environ | {
        "GIT_CONFIG_GLOBAL": os.devnull,
        "GIT_CONFIG_SYSTEM": os.devnull,
        "PYTHONPATH": str(Path(__file__).parents[2]),
    }
    who = ("-c", "user.name=A. Foreman", "-c", "user.email=foreman@example.org")
    return subprocess.run(["git", *who, *words], cwd=folder, env=env, text=True, capture_output=True, check=False)


@pytest.mark.skipif(shutil.which("git") is None, reason="git is not there")
def test_git_merges_two_branches_of_a_job_by_itself(tmp_path: Path) -> None:
    def put(entries: list[Entry], words: str) -> None:
        (tmp_path / "barn.json").write_bytes(msgspec.json.encode(tables(entries)))
        assert git(tmp_path, "commit", "-qam", words).returncode == 0

    assert git(tmp_path, "init", "-q", "-b", "main").returncode == 0
    (tmp_path / ".gitattributes").write_text("*.json merge=sitelog\n")
    program = f'"{sys.executable}" -m sitelog merge --driver %O %A %B'
    git(tmp_path, "config", "merge.sitelog.driver", program)
    (tmp_path / "barn.json").write_bytes(msgspec.json.encode(tables(START)))
    git(tmp_path, "add", "-A")
    put(START, "start") if git(tmp_path, "commit", "-qm", "start").returncode else None
    git(tmp_path, "branch", "phone")
    put(COPIES["tablet.json"], "tablet")
    git(tmp_path, "checkout", "-q", "phone")
    put(COPIES["phone.json"], "phone")
    merged = git(tmp_path, "merge", "-q", "-m", "both", "main")
    assert merged.returncode == 0, merged.stderr
    assert (tmp_path / "barn.json").read_bytes() == msgspec.json.encode(
        tables(joined(COPIES["tablet.json"], COPIES["phone.json"]))
    )
    assert sorted(path.name for path in tmp_path.iterdir()) == [".git", ".gitattributes", "barn.json"]
    assert verify(tmp_path / "barn.json") == []
    # What can't be joined is left to the person, as git does with every conflict.
    git(tmp_path, "checkout", "-q", "-b", "broken", "main")
    (tmp_path / "barn.json").write_text("{}")
    git(tmp_path, "commit", "-qam", "broken")
    assert git(tmp_path, "merge", "-q", "-m", "both", "phone").returncode == 1
    assert "UU barn.json" in git(tmp_path, "status", "--porcelain").stdout


@pytest.mark.long
@pytest.mark.skipif(shutil.which("git") is None, reason="git is not there")
def test_three_devices_that_share_a_job_by_git_lose_nothing_and_end_alike(tmp_path: Path) -> None:
    """Each enters, commits, pulls and pushes when it likes; a pull joins by itself, and all come to the same bytes."""
    chance = random.Random(7)
    devices = ("tablet01", "phone-02", "desk-003")
    shared, first = tmp_path / "shared", tmp_path / devices[0]
    assert git(tmp_path, "init", "-q", "--bare", "-b", "main", str(shared)).returncode == 0
    assert git(tmp_path, "clone", "-q", str(shared), str(first)).returncode == 0
    (first / ".gitattributes").write_text("*.json merge=sitelog\n")
    (first / ".gitignore").write_text("*.files/\n")
    saved(first / "barn.json", START)
    for words in (
        ("checkout", "-q", "-b", "main"),
        ("add", "-A"),
        ("commit", "-qm", "start"),
        ("push", "-q", "origin", "main"),
    ):
        git(first, *words)
    for device in devices[1:]:
        assert git(tmp_path, "clone", "-q", str(shared), device).returncode == 0
    for device in devices:
        git(
            tmp_path / device,
            "config",
            "merge.sitelog.driver",
            f'"{sys.executable}" -m sitelog merge --driver %O %A %B',
        )
    entered = set()
    for minute in range(60):
        device = chance.choice(devices)
        entered.add(noted(tmp_path / device / "barn.json", device, 60 + minute))
        assert git(tmp_path / device, "commit", "-qam", f"note {minute}").returncode == 0
        if chance.random() < 0.4:
            carry(tmp_path / device)
    for device in (*devices, *devices):
        carry(tmp_path / device)
    files = {(tmp_path / device / "barn.json").read_bytes() for device in devices}
    assert len(files) == 1
    for device in devices:
        assert verify(tmp_path / device / "barn.json") == []
    with JobFile.open(first / "barn.json", read_only=True) as file:
        assert {entry.id for entry in file.entries} == {entry.id for entry in START} | entered


def noted(job: Path, device: str, minutes: int) -> str:
    """A note on that device; the id of its entry."""
    with JobFile.open(job) as file:
        before = [entry for entry in file.entries if entry.device == device]
        draft = Draft(act="note", note=f"{device} at {minutes}")
        made = seal(draft, author(device, minutes), before[-1] if before else None, file.entries[-1].id)
        file.append([made])
    return made.id


def carry(folder: Path) -> None:
    """What the others pushed is pulled, and all of it pushed."""
    pulled = git(folder, "pull", "-q", "--no-rebase", "--no-edit", "origin", "main")
    assert pulled.returncode == 0, pulled.stderr
    assert git(folder, "push", "-q", "origin", "HEAD:main").returncode == 0
