"""Any changed byte and any missing entry is found, and the entry is named."""

import random
from collections.abc import Callable
from datetime import UTC, datetime
from pathlib import Path
from typing import Any

import msgspec
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from sitelog.job.log.entry import Author, Draft, Entry, digest_of, ends, seal
from sitelog.job.log.record_code import code_of, digests_of
from sitelog.job.log.record_code import record_code as head
from sitelog.job.log.union import joined
from sitelog.job.log.witness import leads_to
from sitelog.job.storage.format import tables
from sitelog.job.storage.sound import sound
from sitelog.job.storage.verify import proved, strange, verify
from tests.job.logs import after, log, saved
from tests.length import LONG, grows

Found = dict[str, dict[str, Any]]

DEVICES = ("tablet01", "phone-02")
ENTRIES = log(12, *DEVICES)
HAND = Author("M. Reed", DEVICES[0], datetime(2026, 3, 2, 12, tzinfo=UTC))
GOOD = msgspec.json.encode(tables(ENTRIES))


@pytest.fixture
def job(tmp_path: Path) -> Path:
    return saved(tmp_path / "barn.json", ENTRIES)


def put(job: Path, change: Callable[[Found], None]) -> list[str]:
    """The faults after a change that keeps the file JSON."""
    found = msgspec.json.decode(GOOD)
    change(found)
    job.write_bytes(msgspec.json.encode(found))
    return verify(job)


@pytest.mark.parametrize("count", [1, 2, 3, 40])
@pytest.mark.parametrize("devices", [("tablet01",), DEVICES, ("a", "b", "c")])
def test_a_job_as_it_was_saved_is_sound(tmp_path: Path, count: int, devices: tuple[str, ...]) -> None:
    assert verify(saved(tmp_path / "barn.json", log(count, *devices))) == []


@grows
def test_any_changed_byte_is_found(job: Path) -> None:
    chance = random.Random(1)
    for _ in range(10_000 if LONG else 300):
        at, byte = chance.randrange(len(GOOD)), chance.randrange(256)
        changed = GOOD[:at] + bytes([byte]) + GOOD[at + 1 :]
        job.write_bytes(changed)
        faults = verify(job)
        assert bool(faults) == (changed != GOOD), (at, GOOD[at : at + 1], changed[at : at + 1])
        assert all(fault.isprintable() for fault in faults)


@settings(max_examples=60, deadline=None)
@given(at=st.integers(0, len(GOOD) - 1), bit=st.integers(0, 7))
def test_any_flipped_bit_is_found(tmp_path_factory: pytest.TempPathFactory, at: int, bit: int) -> None:
    job = tmp_path_factory.getbasetemp() / "flipped.json"
    job.write_bytes(GOOD[:at] + bytes([GOOD[at] ^ 1 << bit]) + GOOD[at + 1 :])
    assert verify(job)


@pytest.mark.parametrize("number", range(1, 13))
@pytest.mark.parametrize(
    ("key", "value"),
    [
        ("note", "wetter"),
        ("by", "B. Other"),
        ("at", "2026-03-02T07:00:00.001Z"),
        ("offset", 60),
        ("part", "porch"),
        ("check", "other.check"),
        ("done", "2026-03-01"),
        ("value", {"title": "Long barn", "place": "Upper field", "units": "mm", "value": 4500}),
        ("prev", "f" * 64),
    ],
)
def test_the_entry_that_was_changed_is_the_first_named(job: Path, number: int, key: str, value: Any) -> None:
    entry = ENTRIES[number - 1]
    faults = put(job, lambda found: found["entries"][str(number)].update({key: value}))
    assert faults[0].startswith(f"Entry {entry.id} (")
    assert faults[0].endswith(": it has been changed since it was entered.")


def one_change(chance: random.Random) -> tuple[str, bytes, int]:
    """A change by chance of a file with a start and eleven entries: its kind, the bytes, the entry it changed or 0."""
    kind = chance.choice(("byte", "bit", "left out", "put in", "swapped", "value", "missing", "twice"))
    at, other = sorted(chance.sample(range(len(GOOD)), 2))
    byte = bytes([chance.randrange(256)])
    if kind in ("byte", "bit"):
        byte = byte if kind == "byte" else bytes([GOOD[at] ^ 1 << chance.randrange(8)])
        return kind, GOOD[:at] + byte + GOOD[at + 1 :], 0
    if kind == "left out":
        return kind, GOOD[:at] + GOOD[min(other, at + 40) :], 0
    if kind == "put in":
        return kind, GOOD[:at] + byte + GOOD[at:], 0
    found = msgspec.json.decode(GOOD)
    one, two = (str(number) for number in chance.sample(range(1, 13), 2))
    if kind == "swapped":
        found["entries"][one], found["entries"][two] = found["entries"][two], found["entries"][one]
    elif kind == "missing":
        del found["entries"][one]
    elif kind == "twice":
        found["entries"][one] = found["entries"][two]
    else:
        key = chance.choice(("at", "by", "part", "check", "note", "done", "value", "offset"))
        was = found["entries"][one][key]
        found["entries"][one][key] = {"value": chance.random()} if key == "value" else was + ("x" if was != 0 else 1)
    return kind, msgspec.json.encode(found), int(one) if kind in ("value", "missing") else 0


@grows
def test_every_single_change_made_by_chance_is_found_and_a_changed_entry_is_named_first(job: Path) -> None:
    chance = random.Random(29)
    kinds = set()
    for number in range(10_000 if LONG else 700):
        kind, changed, which = one_change(chance)
        job.write_bytes(changed)
        faults = verify(job)
        assert bool(faults) == (changed != GOOD), (number, kind)
        if kind == "value":
            assert faults[0].startswith(f"Entry {ENTRIES[which - 1].id} ("), (number, faults)
        if kind == "missing":
            assert f"Number {ENTRIES[which - 1].seq} from device {ENTRIES[which - 1].device} is missing" in faults[0]
        kinds.add(kind)
    assert len(kinds) == 8


def missing(found: Found, number: int) -> None:
    del found["entries"][str(number)]


@pytest.mark.parametrize(
    ("number", "says"),
    [
        (2, f"Number 1 from device phone-02 is missing before entry {ENTRIES[3].id}."),
        (5, f"Number 3 from device tablet01 is missing before entry {ENTRIES[6].id}."),
        (12, "Number 6 from device phone-02 is missing at the end, though the file's heading counts them."),
    ],
)
def test_a_missing_entry_is_named_by_its_number(job: Path, number: int, says: str) -> None:
    assert put(job, lambda found: missing(found, number)) == [says]


def test_a_job_without_its_start_does_not_begin_as_a_job(job: Path) -> None:
    assert put(job, lambda found: missing(found, 1)) == [
        f"Number 1 from device tablet01 is missing before entry {ENTRIES[2].id}.",
        "The record doesn't start as a job does: the first entry doesn't start a job.",
    ]


def test_a_device_whose_every_entry_is_missing_is_named(job: Path) -> None:
    def change(found: Found) -> None:
        for number in range(2, 13, 2):
            missing(found, number)

    assert put(job, change) == ["Every entry from device phone-02 is missing, though the file's heading counts them."]


def resealed(found: Found, number: int, **changes: Any) -> None:
    """The entry changed, and the link to it mended in the entry after it."""
    docs = found["entries"]
    docs[str(number)].update(changes)
    docs[str(number + 2)]["prev"] = digest_of(docs[str(number)])


@pytest.mark.parametrize(
    ("change", "says"),
    [
        (lambda f: f["entries"].update({"13": f["entries"]["5"]}), f"{ENTRIES[4].id} .* it is in the file twice"),
        (lambda f: f["entries"]["5"].update(seq=4), f"{ENTRIES[4].id} .* its id isn't that of number 4 from device"),
        (
            lambda f: f["entries"]["5"].update(device="phone-02"),
            f"{ENTRIES[4].id} .* isn't that of number 3 from device",
        ),
        (lambda f: f["entries"]["5"].update(id="x"), "Entry x: its id isn't one of sitelog's"),
        (lambda f: f["entries"]["5"].update(seq="3"), rf"Entry {ENTRIES[4].id}: its 'seq' isn't a whole number"),
        (lambda f: f["entries"]["5"].pop("by"), f"Entry {ENTRIES[4].id}: its 'by' is missing"),
        (lambda f: resealed(f, 5, note="wetter"), f"{ENTRIES[6].id} .* it has been changed since it was entered"),
        (
            lambda f: resealed(f, 5, id=f"0000000000001-{DEVICES[0]}-000003"),
            f"{ENTRIES[4].id[14:]} .* it comes after {ENTRIES[2].id}, but its id says it was earlier",
        ),
        (
            lambda f: f["job"]["1"].update(title="\x1b[2JBarn"),
            "The heading says title '.2JBarn', the start .* 'Long barn'",
        ),
        (lambda f: f["job"]["1"].update(id=""), "The heading says id ''"),
        (lambda f: f["job"]["1"].update(place=None), "The heading says place 'None'"),
        (lambda f: f["job"]["1"].update(colour="red"), "The heading has 'colour', which it should not have"),
        (lambda f: f["job"]["1"].update(format=3), "written by a newer sitelog .format 3.: check it with that one"),
        (lambda f: f["job"]["1"].pop("seals"), f"{ENTRIES[10].id} .* it has been changed since it was entered"),
        (lambda f: f["job"]["1"].update(seals=[1]), f"{ENTRIES[10].id} .* it has been changed since it was entered"),
        (lambda f: f["entries"]["5"].update(act="newer", seq="3"), f"Entry {ENTRIES[4].id}: its 'seq' isn't a whole"),
        (lambda f: f["entries"]["5"].update(act=5), f"Entry {ENTRIES[4].id}: its .act. isn.t one"),
        (
            lambda f: f["job"]["1"]["seals"]["phone-02"].update(seq="9"),
            f"{ENTRIES[11].id} .* changed since it was entered",
        ),
        (lambda f: f["job"]["1"]["seals"]["phone-02"].update(also=["x", 3]), "at byte .* outside the entries"),
        (lambda f: f["job"]["1"]["seals"].update(x={"seq": 1}), "Every entry from device x is missing"),
        (
            lambda f: f["job"]["1"]["seals"]["phone-02"].update(digest="0"),
            f"{ENTRIES[11].id} .* changed since it was entered",
        ),
        (
            lambda f: f["job"]["1"]["seals"]["phone-02"].update(seq=9),
            "Numbers 7 to 9 from device phone-02 are missing",
        ),
        (lambda f: f.update(words={}), "changed at byte .* outside the entries"),
        (lambda f: f.update(entries=dict(reversed(f["entries"].items()))), "changed at byte .* outside the entries"),
    ],
)
def test_each_fault_is_told_in_words(job: Path, change: Callable[[Found], None], says: str) -> None:
    import re

    faults = put(job, change)
    assert any(re.search(says, fault) for fault in faults), faults
    assert all(fault.isprintable() for fault in faults)


@pytest.mark.parametrize(
    ("changed", "at"),
    [(b" " + GOOD, 1), (GOOD[:1] + b" " + GOOD[1:], 2), (GOOD[:-1] + b" }", len(GOOD)), (GOOD + b"\n", len(GOOD))],
)
def test_the_byte_that_was_changed_is_named_the_first_is_1_and_what_is_added_comes_after_the_last(
    job: Path, changed: bytes, at: int
) -> None:
    job.write_bytes(changed)
    assert verify(job) == [
        f"barn.json was changed at byte {at}, outside the entries. The entries are as they were entered."
    ]


def test_a_first_entry_that_follows_another_is_told_though_all_after_it_vouch_for_it(tmp_path: Path) -> None:
    first = msgspec.structs.replace(log(1)[0], prev="f" * 64)
    job = tmp_path / "barn.json"
    job.write_bytes(msgspec.json.encode(tables([first, after([first])])))
    assert [fault.partition(": ")[2] for fault in verify(job)] == ["it has been changed since it was entered."]


@pytest.mark.parametrize(("keys", "told", "more"), [(2, 2, False), (3, 3, False), (4, 3, True)])
def test_so_many_faults_are_told_and_that_there_are_more(
    job: Path, monkeypatch: pytest.MonkeyPatch, keys: int, told: int, more: bool
) -> None:
    monkeypatch.setattr("sitelog.job.storage.verify.MOST", 3)
    spoilt = dict.fromkeys(("id", "title", "place", "units")[:keys], "other")
    faults = put(job, lambda found: found["job"]["1"].update(spoilt))
    assert [fault.startswith("The heading says ") for fault in faults] == [True] * told + [False] * more
    assert faults[told:] == ["barn.json: more than 3 faults; only the first 3 are shown."] * more


def test_of_many_entries_that_are_none_as_many_are_told(job: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr("sitelog.job.storage.verify.MOST", 3)
    found = msgspec.json.decode(GOOD)
    for doc in found["entries"].values():
        doc["seq"] = "x"
    job.write_bytes(msgspec.json.encode(found))
    faults = verify(job)
    assert [fault.partition(":")[0] for fault in faults] == [*(f"Entry {e.id}" for e in ENTRIES[:3]), "barn.json"]


def test_every_entry_that_is_none_is_told_first(job: Path) -> None:
    def change(found: Found) -> None:
        for number in (5, 7):
            found["entries"][str(number)]["seq"] = "x"

    assert [fault.partition(":")[0] for fault in put(job, change)[:2]] == [
        f"Entry {ENTRIES[4].id}",
        f"Entry {ENTRIES[6].id}",
    ]


def test_what_a_newer_heading_holds_besides_is_no_fault(job: Path) -> None:
    assert put(job, lambda found: found["job"]["1"].update(format=3, colour="red")) == [
        "barn.json was written by a newer sitelog (format 3): check it with that one."
    ]


def test_two_changed_neighbours_are_both_named(job: Path) -> None:
    def change(found: Found) -> None:
        found["entries"]["5"]["note"] = found["entries"]["7"]["note"] = "wetter"

    first, second = put(job, change)
    assert ENTRIES[6].id in first
    assert ENTRIES[4].id in second and "it can't be checked" in second


def test_of_a_job_that_can_not_be_read_nothing_is_called_strange(job: Path) -> None:
    """Which photo is its own can't be said then; that it is damaged is a fault, and told as one."""
    job.write_bytes(GOOD[:-1])
    assert strange(job) == []
    assert verify(job)


def test_where_the_text_breaks_off_is_told(job: Path) -> None:
    at = GOOD.index(b'"check"', GOOD.index(ENTRIES[4].id.encode()))
    for changed in (GOOD[:at], GOOD[:at] + b"\xff" + GOOD[at:], GOOD[:at] + b"}" + GOOD[at:]):
        job.write_bytes(changed)
        (fault,) = verify(job)
        assert f"It is in or after entry {ENTRIES[4].id}." in fault


def test_a_newer_act_breaks_no_chain_that_is_whole(tmp_path: Path) -> None:
    entries = log(3)
    newer = msgspec.structs.replace(entries[1], act="weigh")
    last = msgspec.structs.replace(entries[2], prev=newer.digest())
    job = tmp_path / "barn.json"
    job.write_bytes(msgspec.json.encode(tables([entries[0], newer, last])))
    assert verify(job) == []


def test_a_tail_cut_together_with_its_heading_is_not_shown_by_the_file_alone(job: Path) -> None:
    """Only the head code in the next trade's hands tells."""
    shorter: list[Entry] = ENTRIES[:8]
    job.write_bytes(msgspec.json.encode(tables(shorter)))
    assert verify(job) == []


def test_a_head_code_is_led_to_from_any_entry_and_of_a_joined_job_by_the_pack_that_was_entered() -> None:
    apart = [entry for entry in ENTRIES if entry.device == DEVICES[0]]
    assert [leads_to(ENTRIES, head(ends(ENTRIES[: at + 1]))) for at in range(len(ENTRIES))] == [True] * len(ENTRIES)
    assert not leads_to(ENTRIES[:-1], head(ends(ENTRIES)))
    code = head(ends(apart))
    assert not leads_to(ENTRIES, code), "the other device's entries came between"
    pack = seal(Draft(act="handover", value={"to": "tiler", "head": code}), HAND, apart[-1], ENTRIES[-1].id)
    assert leads_to([*ENTRIES, pack], code)
    assert not leads_to([*ENTRIES, pack], "0123456789ab"), "a pack vouches for its own code only"
    words = seal(Draft(act="note", value={"head": code}), HAND, apart[-1], ENTRIES[-1].id)
    assert not leads_to([*ENTRIES, words], code), "only a pack vouches for a code"


def test_a_code_of_an_older_pack_has_twelve_digits_and_is_led_to_for_ever() -> None:
    code = head(ends(ENTRIES))
    assert (len(code), leads_to(ENTRIES, code[:12])) == (20, True)
    assert not any(leads_to(ENTRIES, code[:length]) for length in (0, 1, 11, 13, 19))
    apart = [entry for entry in ENTRIES if entry.device == DEVICES[0]]
    older = seal(Draft(act="handover", value={"to": "tiler", "head": code[:12]}), HAND, apart[-1], ENTRIES[-1].id)
    assert leads_to([*ENTRIES, older], code[:12])


# --- a pack's code is bound to what was entered ---


def handed_over(entries: list[Entry], device: str = DEVICES[0], keeps_ends: bool = True, **more: Any) -> list[Entry]:
    """The entries, a pack over them, and a note after it."""
    over = digests_of(ends(entries))
    value: dict[str, Any] = {"to": "tiler", "head": code_of(over)}
    if keeps_ends:
        value["ends"] = {device: list(digests) for device, digests in over.items()}
    made = list(entries)
    for draft in (Draft(act="handover", value=value | more), Draft(act="note", note="covered")):
        before = [entry for entry in made if entry.device == device]
        made.append(seal(draft, msgspec.structs.replace(HAND, device=device), before[-1], made[-1].id))
    return made


def rewritten(
    entries: list[Entry], change: Callable[[Entry], Entry | None], new_ends: str = "as they were"
) -> list[Entry]:
    """The record told anew from end to end: entries changed or taken out, and every number and digest mended after."""
    made: list[Entry] = []
    for entry in entries:
        fresh = change(entry)
        if fresh is None:
            continue
        if fresh.act == "handover" and new_ends != "as they were":
            over = {device: list(digests) for device, digests in digests_of(ends(made)).items()}
            value = {key: word for key, word in fresh.value.items() if key != "ends"}
            fresh = msgspec.structs.replace(fresh, value=value | ({"ends": over} if new_ends == "mended" else {}))
        before = [one for one in made if one.device == fresh.device]
        seq = len(before) + 1
        made.append(
            msgspec.structs.replace(
                fresh,
                seq=seq,
                prev=before[-1].digest() if before else fresh.prev,
                id=f"{fresh.id[:13]}-{fresh.device}-{seq:06d}",
            )
        )
    return made


def changed(number: int, **words: Any) -> Callable[[Entry], Entry | None]:
    return lambda entry: msgspec.structs.replace(entry, **words) if entry.id == ENTRIES[number].id else entry


def left_out(number: int) -> Callable[[Entry], Entry | None]:
    return lambda entry: None if entry.id == ENTRIES[number].id else entry


@pytest.mark.parametrize("new_ends", ["as they were", "mended", "left out"])
@pytest.mark.parametrize(
    "change",
    [changed(3, value={"value": 9999.0}), changed(7, by="B. Other"), changed(0, note="x"), left_out(5), left_out(11)],
)
def test_a_record_rewritten_from_end_to_end_no_longer_leads_to_its_packs_code(
    job: Path, change: Callable[[Entry], Entry | None], new_ends: str
) -> None:
    entries = handed_over(ENTRIES)
    code = head(ends(ENTRIES))
    job.write_bytes(msgspec.json.encode(tables(entries)))
    assert (verify(job), leads_to(entries, code)) == ([], True)
    other = rewritten(entries, change, new_ends)
    job.write_bytes(msgspec.json.encode(tables(other)))
    assert not leads_to(other, code)
    faults = verify(job)
    if new_ends == "as they were":
        (fault,) = faults
        assert f"{other[-2].id} (handover, by M. Reed): entries from device " in fault
        assert fault.endswith("that its record code is over were changed or taken out.")
    if new_ends == "mended":
        assert faults == [
            f"Entry {other[-2].id} (handover, by M. Reed): its record code {code} isn't that of the entries it names."
        ]
    if new_ends == "left out":
        assert faults == [], "a file alone can't show it: only the code in the next trade's hands"


def test_what_was_told_as_ever_gives_the_same_record_and_its_code() -> None:
    entries = handed_over(ENTRIES)
    assert rewritten(entries, lambda entry: entry, "mended") == entries
    assert leads_to(rewritten(entries, lambda entry: entry, "left out"), head(ends(ENTRIES)))


@pytest.mark.parametrize("keeps_ends", [True, False])
@pytest.mark.parametrize("known", [0, 3, 6])
def test_a_packs_code_is_worked_again_though_another_device_is_joined_since(known: int, keeps_ends: bool) -> None:
    """The pack knew the first entries of the phone; the others, entered before it, came in later."""
    phone = [entry for entry in ENTRIES if entry.device == DEVICES[1]]
    tablet = [entry for entry in ENTRIES if entry.device == DEVICES[0]]
    packed = handed_over(joined(tablet, phone[:known]), keeps_ends=keeps_ends)
    code = head(ends(joined(tablet, phone[:known])))
    together = joined(packed, phone)
    assert leads_to(together, code)
    assert not leads_to([entry for entry in together if entry != tablet[-1]], code)
    if known:
        assert not leads_to([entry for entry in together if entry != phone[known - 1]], code)


def test_a_pack_that_was_the_first_entry_of_its_device_is_worked_again(tmp_path: Path) -> None:
    tablet = log(4)
    over = head(ends(tablet))
    pack = seal(Draft(act="handover", value={"to": "tiler", "head": over}), HAND, None, tablet[-1].id)
    pack = msgspec.structs.replace(pack, device="laptop-3", id=pack.id.replace("tablet01", "laptop-3"))
    later = after(tablet)
    between = msgspec.structs.replace(later, id=f"{int(pack.id[:13]) - 1:013d}-tablet01-000005")
    assert leads_to([*tablet, between, pack], over)


@pytest.mark.parametrize("kept", [{}, [], "x", {"tablet01": "x"}, {"tablet01": [3]}, None])
def test_ends_that_are_none_prove_nothing(job: Path, kept: Any) -> None:
    entries = handed_over(ENTRIES, ends=kept)
    job.write_bytes(msgspec.json.encode(tables(entries)))
    (fault,) = verify(job)
    assert fault.endswith("isn't that of the entries it names.")


# --- one pass over a sound record ---


def sound_and_looked_through(job: Path, entries: list[Entry]) -> None:
    """The record is proved in one pass, and looked through it has no fault either."""
    job.write_bytes(msgspec.json.encode(tables(entries)))
    assert sound(job.read_bytes()) is not None
    assert verify(job) == []
    saved_job = msgspec.json.decode(job.read_bytes())
    assert chains_whole(saved_job)


def chains_whole(found: Found) -> bool:
    """By the way that names what is wrong."""
    from sitelog.job.log.chains import Link, chains
    from sitelog.job.storage.format import entry_of

    links = [Link(entry_of(doc), digest_of(doc)) for doc in found["entries"].values()]
    return list(chains(links, found["job"]["1"]["seals"])) == []


@pytest.mark.parametrize("count", [1, 2, 9])
def test_a_sound_record_is_proved_in_one_pass(job: Path, count: int) -> None:
    sound_and_looked_through(job, log(count, *DEVICES))
    sound_and_looked_through(job, handed_over(log(count, *DEVICES)[: max(1, count)]))


def parted() -> dict[str, list[Entry]]:
    """Records whose copies went on apart: on one device, with a pack of the first entries, with one of some of them."""
    phone = [entry for entry in ENTRIES if entry.device == DEVICES[1]]
    tablet = [entry for entry in ENTRIES if entry.device == DEVICES[0]]
    return {
        "two ends": joined(ENTRIES, [*ENTRIES[:6], after(ENTRIES[:6])]),
        "late pack": joined(handed_over(ENTRIES[:6]), ENTRIES),
        "pack of less": joined(handed_over(joined(tablet, phone[:2])), phone),
    }


@pytest.mark.parametrize("kind", parted())
def test_a_record_whose_copies_went_on_apart_is_proved_without_holding_it(job: Path, kind: str) -> None:
    sound_and_looked_through(job, parted()[kind])


def test_one_pass_finds_what_a_closer_look_finds(job: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Entries taken out, by chance: the numbers that are missing are told the same both ways, and the odd times too."""
    chance = random.Random(31)
    records = [ENTRIES, log(14, "a", "b", "c"), handed_over(ENTRIES), *parted().values()]
    gaps = 0
    for _ in range(150):
        whole = msgspec.json.decode(msgspec.json.encode(tables(chance.choice(records))))
        docs = [*whole["entries"].values()]
        for _ in range(chance.randrange(1, 4)):
            del docs[chance.randrange(len(docs))]
        whole["entries"] = {str(number): doc for number, doc in enumerate(docs, 1)}
        job.write_bytes(msgspec.json.encode(whole))
        found = sound(job.read_bytes())
        gaps += found is not None and bool(found.gaps)
        quick = proved(job, HAND.now)
        with monkeypatch.context() as patch:
            patch.setattr("sitelog.job.storage.verify.sound", lambda *_: None)
            closer = proved(job, HAND.now)
        assert (quick.faults, sorted(quick.odd)) == (closer.faults, sorted(closer.odd))
        assert quick.faults
    assert gaps > 10, "some were told in one pass"


def test_what_is_not_as_it_is_saved_is_looked_at_more_closely() -> None:
    for raw in (
        b"",
        b"[]",
        b'{"job":{},"entries":{}}',
        b'{"job":{"1":{}},"entries":{"1":{}}}',
        GOOD + b" ",
        b" " + GOOD,
    ):
        assert sound(raw) is None


def test_a_code_is_worked_again_in_the_same_pass(job: Path) -> None:
    job.write_bytes(msgspec.json.encode(tables(handed_over(ENTRIES))))
    for at in range(1, len(ENTRIES) + 1):
        code = head(ends(ENTRIES[:at]))
        assert proved(job, printed=code).leads and proved(job, printed=code[:12]).leads
    no_pack = proved(job, printed="0" * 20)
    assert (no_pack.faults, no_pack.leads, no_pack.packed) == ([], False, False)
    other = rewritten(handed_over(ENTRIES), changed(3, note="x"), "left out")
    job.write_bytes(msgspec.json.encode(tables(other)))
    told = proved(job, printed=head(ends(ENTRIES)))
    assert (told.faults, told.leads, told.packed) == ([], False, True)
    job.write_bytes(GOOD[:-1])
    assert proved(job, printed="0" * 20).faults


@pytest.mark.long
@pytest.mark.parametrize("kind", ["straight", "a number missing", "copies gone apart", "a copy beside it"])
def test_a_record_of_400_000_entries_is_proved_in_400_mb(tmp_path: Path, kind: str) -> None:
    from tests.bench.verify import COUNT, MOST_MB, peak_mb, with_a_copy, with_a_gap, written

    file = written(tmp_path / "long.json", COUNT, branches=2 if kind == "copies gone apart" else 1)
    if kind == "a number missing":
        assert peak_mb(with_a_gap(file), found=1) <= MOST_MB
    elif kind == "a copy beside it":
        assert peak_mb(with_a_copy(file)) <= MOST_MB
    else:
        assert peak_mb(file) <= MOST_MB
