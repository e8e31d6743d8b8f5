"""A job kept by script: what each command does, what it refuses, and that a refusal leaves the file as it was."""

import json
import os
from datetime import datetime, timedelta
from pathlib import Path
from typing import Any

import pytest

from tests.cli.conftest import NEW, Say

BY = ("--by", "M. Reed")
PLATES = ("ab=8996", "bc=6003", "cd=9007", "da=6002", "ac=10826", "bd=10813")


def shown(say: Say, job: str) -> dict[str, Any]:
    said = say("show", job, "--json")
    assert said.code == 0
    found: dict[str, Any] = json.loads(said.out)
    return found


def check_in(state: dict[str, Any], path: str) -> dict[str, Any]:
    part_id, stage_id, check_id = path.split(".")
    part = next(p for p in state["parts"] if p["id"] == part_id)
    stage = next(s for s in part["stages"] if s["id"] == stage_id)
    found: dict[str, Any] = next(c for c in stage["checks"] if c["id"] == check_id)
    return found


def past(say: Say, job: str, *stages: str) -> None:
    for stage in stages:
        assert say("release", job, stage, "--reason", "not looked at in this test", *BY).code == 0


def test_a_new_job_starts_at_its_first_check(say: Say, job: str) -> None:
    state = shown(say, job)
    assert state["title"] == "Test roof"
    assert state["next"] == "job.before.works"
    assert set(state) == {
        "title", "parts", "facts", "instructions", "snags", "releases", "deferrals", "instruments", "earlier",
        "photos", "cautions", "stale", "pointed_hips", "roof_changes", "entries", "head", "next", "replies", "copies",
    }  # fmt: skip
    assert state["facts"]["main.ab"] == {
        "drawn": 9000.0, "built": None, "unit": "mm", "says": "Plate AB, front", "drawable": False
    }  # fmt: skip


def test_plates_out_of_square_change_each_of_the_four_hips(say: Say, job: str) -> None:
    past(say, job, "job.before", "main.finish")
    assert say("record", job, "main.plates.sides", *PLATES, *BY).code == 1
    state = shown(say, job)
    sides = check_in(state, "main.plates.sides")
    assert sides["state"] == "out"
    assert sides["value"]["ab"] == 8996.0
    hips = [state["facts"][f"main.hip_{corner}"] for corner in "abcd"]
    assert len({round(hip["built"], 3) for hip in hips}) == 4
    assert all(abs(hip["drawn"] - 4734.196) < 0.001 for hip in hips)


def yesterday() -> str:
    """In the morning: in the past at any hour at which the tests may run."""
    return f"{datetime.now().astimezone().date() - timedelta(days=1)}T07:30"


def test_a_hold_can_be_read_but_not_answered_until_it_is_signed_or_released(say: Say, job: str) -> None:
    said = say("record", job, "main.plates.sides", *PLATES, *BY)
    assert said.code == 1
    assert said.refused_in_one_line
    assert "Sign job.before first" in said.err


def test_undo_takes_back_the_last_entry_and_keeps_it_in_the_record(say: Say, job: str) -> None:
    before = shown(say, job)
    say("record", job, "job.before.works", "new", *BY)
    assert check_in(shown(say, job), "job.before.works")["state"] == "done"
    assert say("undo", job, *BY).code == 0
    after = shown(say, job)
    assert check_in(after, "job.before.works")["state"] == "open"
    assert after["entries"] == before["entries"] + 2


def test_the_twist_cannot_be_passed_in_silence(say: Say, job: str) -> None:
    past(say, job, "job.before", "main.finish", "main.plates")
    twist = ("spacing=400", "fall_foot=1.0", "fall_head=6.5", "length=3450")
    say("record", job, "main.first-pair.twist", *twist, *BY)
    said = say("sign", job, "main.first-pair", *BY)
    assert said.code == 1
    assert "twist" in said.err or "can't be signed" in said.err
    assert say("release", job, "main.first-pair.twist", *BY).code == 2
    assert say("release", job, "main.first-pair.twist", "--reason", "packed at the head", *BY).code == 0
    assert shown(say, job)["releases"][-1]["reason"] == "packed at the head"


def test_what_is_to_be_known_of_an_answer_stands_beside_it(say: Say, job: str) -> None:
    """Entered late, measured with what was marked bad since: in the page and in the data."""
    past(say, job, "job.before", "main.finish")
    assert say("instrument", job, "T2", "tape", "II", *BY).code == 0
    assert say("record", job, "main.plates.sides", *PLATES, "--instrument", "T2", "--done", yesterday(), *BY).code == 1
    said = say("instrument", job, "T2", "--bad", *BY)
    assert (said.code, said.refused_in_one_line) == (2, True)
    assert "add a reason: --reason" in said.err
    assert say("instrument", job, "T2", "--bad", "--reason", "hook bent", *BY).code == 0
    page = say("show", job).out
    (line,) = (line for line in page.splitlines() if " plates.sides " in line)
    assert line.endswith("; T2 later marked bad; recorded late]")
    assert "tool T2 marked bad: hook bent (M. Reed)" in page
    state = shown(say, job)
    sides = check_in(state, "main.plates.sides")
    assert (sides["late"], sides["doubted"], sides["at_once"], sides["rivals"]) == (True, True, False, [])
    assert [(i["id"], i["why"]) for i in state["instruments"]] == [("T2", "hook bent")]


BAD_RECORDS = [
    (("main.plates.sids", "ab=1"), "sids"),
    (("main.plates",), "main.plates"),
    (("nowhere.plates.sides", "ab=1"), "nowhere"),
    (("job.before.works",), "works"),
    (("job.before.works", "yes"), "yes"),
    (("job.before.moisture", "soon"), "soon"),
    (("job.before.moisture", "nan"), "nan"),
    (("job.before.scaffold", "rail=-1000", "gap=400"), "-1000"),
    (("job.before.moisture", "3", "4"), "check needs one"),
    (("job.before.scaffold", "1000"), "rail"),
    (("job.before.scaffold", "rail=1000"), "gap"),
    (("job.before.scaffold", "rail=1000", "gap=400", "gop=1"), "gop"),
    (("job.before.scaffold", "rail=1000", "rail=1001", "gap=400"), "rail"),
    (("job.before.scaffold", "rail=2,4m", "gap=400"), "2,4m"),
    (("job.before.scaffold", "rail=9**9**9", "gap=400"), "9**9**9"),
    (("job.before.drawings", "   "), "drawings"),
    (("job.before.works", "new", "--instrument", "T9"), "T9"),
]


@pytest.mark.parametrize(("words", "names"), BAD_RECORDS, ids=lambda w: " ".join(w) if isinstance(w, tuple) else "")
def test_a_bad_answer_is_one_line_that_names_it_and_the_file_is_untouched(
    say: Say, job: str, words: tuple[str, ...], names: str
) -> None:
    before = Path(job).read_bytes()
    said = say("record", job, *words, *BY)
    assert (said.code, said.refused_in_one_line) == (2, True), said
    assert names in said.err
    assert Path(job).read_bytes() == before


def test_figures_that_can_not_close_are_refused_and_nothing_is_kept(say: Say, job: str) -> None:
    past(say, job, "job.before", "main.finish")
    before = Path(job).read_bytes()
    said = say(
        "record", job, "main.plates.sides", "ab=9000", "bc=6000", "cd=9000", "da=6000", "ac=20000", "bd=10817", *BY
    )
    assert (said.code, said.refused_in_one_line) == (2, True), said
    assert Path(job).read_bytes() == before


def test_nothing_is_entered_without_a_name(say: Say, job: str) -> None:
    assert say("record", job, "job.before.works", "new").refused_in_one_line
    assert say("record", job, "job.before.works", "new", "--by", "  ").refused_in_one_line


BAD_NEWS = [
    (["--title", "T"], "--part"),
    (["--part", "main:hipped"], "--title"),
    ([*NEW, "--part", "main:hipped"], "twice"),
    (["--title", "T", "--part", "main"], "main:hipped"),
    (["--title", "T", "--part", "main:pyramid"], "pyramid"),
    ([*NEW, "main.length=9000"], "twice"),
    ([*NEW, "main.lenght=1"], "lenght"),
    ([*NEW, "other.length=1"], "other"),
    (["--title", "T", "--part", "main:hipped", "main.length=9000", "main.width=6000", "main.pitch=95"], "95"),
    (["--title", "T", "--part", "main:hipped", "main.length=long"], "long"),
    ([*NEW, "nonsense"], "nonsense"),
    (["--title", "T", "--part", "main:hipped", "main.length=6000", "main.width=9000"], "longer"),
]


@pytest.mark.parametrize(("words", "names"), BAD_NEWS, ids=lambda w: w[-1] if isinstance(w, list) else "")
def test_a_job_that_can_not_be_set_up_is_not_begun(say: Say, tmp_path: Path, words: list[str], names: str) -> None:
    file = tmp_path / "bad.json"
    said = say("new", str(file), *words, *BY)
    assert (said.code, said.refused_in_one_line) == (2, True), said
    assert names in said.err
    assert not file.exists()


def test_a_job_is_never_laid_over_another(say: Say, job: str) -> None:
    before = Path(job).read_bytes()
    assert say("new", job, *NEW, *BY).refused_in_one_line
    assert Path(job).read_bytes() == before


def _missing(file: Path) -> None:
    file.unlink()


def _empty(file: Path) -> None:
    file.write_bytes(b"")


def _cut(file: Path) -> None:
    file.write_bytes(file.read_bytes()[:-40])


def _not_json(file: Path) -> None:
    file.write_text("the back of an offcut")


def _other_json(file: Path) -> None:
    file.write_text('{"job": {"1": {}}, "entries": []}')


def _folder(file: Path) -> None:
    file.unlink()
    file.mkdir()


@pytest.mark.parametrize(
    ("spoil", "code"),
    [(_missing, 2), (_empty, 3), (_cut, 3), (_not_json, 3), (_other_json, 3), (_folder, 2)],
    ids=lambda s: getattr(s, "__name__", ""),
)
@pytest.mark.parametrize("words", [("show",), ("open",), ("verify",), ("undo", *BY)], ids=lambda w: w[0])
def test_a_file_that_is_no_job_is_refused_in_one_line(
    say: Say, job: str, spoil: Any, code: int, words: tuple[str, ...]
) -> None:
    spoil(Path(job))
    said = say(words[0], job, *words[1:])
    assert said.err.count("\n") <= 1
    assert said.code in (code, 1, 3), said
    assert "Traceback" not in said.err
    assert job.rpartition("/")[2] in said.err + said.out


def test_a_newer_file_is_read_and_not_written(say: Say, job: str) -> None:
    text = json.loads(Path(job).read_text())
    table = next(iter(text["job"].values()))
    table["format"] += 1
    Path(job).write_text(json.dumps(text))
    before = Path(job).read_bytes()
    assert say("show", job).code == 0
    said = say("record", job, "job.before.works", "new", *BY)
    assert said.refused_in_one_line
    assert "newer" in said.err
    assert Path(job).read_bytes() == before


@pytest.mark.skipif(os.geteuid() == 0, reason="root reads everything")
def test_a_file_without_rights_is_refused(say: Say, job: str) -> None:
    Path(job).chmod(0)
    assert say("show", job).refused_in_one_line


def test_a_changed_byte_is_found_and_named(say: Say, job: str) -> None:
    say("record", job, "job.before.drawings", "R-101 C", *BY)
    Path(job).write_text(Path(job).read_text().replace("R-101 C", "R-101 D"))
    said = say("verify", job)
    assert said.code == 1
    assert said.out.strip()


def test_a_head_code_off_a_pack_proves_that_nothing_was_cut_off_since(
    say: Say, job: str, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    early = shown(say, job)["head"]
    say("record", job, "job.before.drawings", "R-101", *BY)
    short = Path(job).read_bytes()
    say("record", job, "job.before.works", "new", *BY)
    code = shown(say, job)["head"]
    say("note", job, "main", "dry", *BY)
    for known in (early, code, f" {code[:4].upper()} {code[4:]}"):
        said = say("verify", job, "--head", known)
        assert said.code == 0
        assert f"the record code {known.replace(' ', '').lower()}" in said.out
    said = say("verify", job, "--head", "0123456789ab")
    assert (said.code, said.out.count("\n")) == (1, 1)
    assert "No record code 0123456789ab" in said.out
    Path(job).write_bytes(short)
    assert say("verify", job, "--head", code).code == 0, "its journal still has them"
    assert Path(job).read_bytes() != short, "and then the file has them too"
    Path(job).write_bytes(short)
    for journal in Path(f"{job}.files").glob("journal*"):
        journal.unlink()
    said = say("verify", job)
    assert (said.code, said.out.count("\n")) == (1, 1), "this machine remembers how it ended"
    assert "2 entries saved on this device can't be found in it" in said.out
    monkeypatch.setenv("XDG_STATE_HOME", str(tmp_path / "another machine"))
    assert say("verify", job).code == 0, "by itself it can't show that its end was cut off"
    assert say("verify", job, "--head", code).code == 1


@pytest.mark.parametrize("nothing", ["", " ", "\t"])
def test_an_empty_head_code_proves_nothing_and_is_refused(say: Say, job: str, nothing: str) -> None:
    """A script whose variable is not set must not be told that its pack still holds."""
    said = say("verify", job, "--head", nothing)
    assert said.refused_in_one_line
    assert "--head needs the" in said.err


def test_a_full_disk_says_not_saved_and_keeps_the_old_file(say: Say, job: str, monkeypatch: pytest.MonkeyPatch) -> None:
    before = Path(job).read_bytes()

    def full(*_: object) -> None:
        raise OSError(28, "No space left on device")

    monkeypatch.setattr(os, "fsync", full)
    said = say("record", job, "job.before.works", "new", *BY)
    monkeypatch.undo()
    assert (said.code, said.refused_in_one_line) == (4, True), said
    assert Path(job).read_bytes() == before


@pytest.mark.parametrize(
    "words", [("--nonsense",), ("nonsense",), ("show",), ("sign", "x.json"), ("calc", "hipp"), ("calc", "hip", "run")]
)
def test_a_wrong_word_is_one_line(say: Say, words: tuple[str, ...]) -> None:
    said = say(*words)
    assert (said.code, said.refused_in_one_line) == (2, True), said


def test_a_value_that_begins_with_a_minus_is_a_value(say: Say, job: str) -> None:
    past(say, job, "job.before", "main.finish", "main.plates", "main.first-pair", "main.ridge")
    assert say("record", job, "main.hip-lines.meeting", "p=2", "q=-1", *BY).code == 0
    assert check_in(shown(say, job), "main.hip-lines.meeting")["value"]["q"] == -1.0


def test_what_was_done_earlier_keeps_both_times(say: Say, job: str) -> None:
    assert say("record", job, "job.before.drawings", "R-101", "--done", yesterday(), *BY).code == 0
    entry = json.loads(Path(job).read_text())["entries"]
    last = list(entry.values())[-1]
    assert last["done"].startswith(yesterday())
    assert last["done"] != last["at"]
    assert say("record", job, "job.before.drawings", "R-101", "--done", "soon", *BY).refused_in_one_line


def test_an_answer_is_corrected_only_with_a_note_and_shown_with_what_it_was(say: Say, job: str) -> None:
    assert say("record", job, "job.before.drawings", "R-101", *BY).code == 0
    said = say("record", job, "job.before.drawings", "R-102", *BY)
    assert said.refused_in_one_line
    assert "job.before.drawings was answered by M. Reed: add a reason for changing it: --note" in said.err
    assert say("record", job, "job.before.drawings", "R-102", "--note", "a later issue", *BY).code == 0
    assert "corrected: job.before.drawings, it was value=R-101 (M. Reed): a later issue" in say("show", job).out
    check = next(c for p in shown(say, job)["parts"] for s in p["stages"] for c in s["checks"] if c["id"] == "drawings")
    assert [(one["value"], one["reason"]) for one in check["corrections"]] == [({"value": "R-101"}, "a later issue")]


def test_the_finish_chosen_decides_what_is_asked_later_and_which_cautions_come(say: Say, job: str) -> None:
    past(say, job, "job.before")

    def asked(covering: str, lining: str) -> tuple[set[str], str]:
        for check, choice in (("covering", covering), ("lining", lining)):
            why = ("--note", "agreed otherwise")  # of the first no reason is wanted, and it is a note
            assert say("record", job, f"main.finish.{check}", choice, *why, *BY).code == 0
        part = next(p for p in shown(say, job)["parts"] if p["id"] == "main")
        return {f"{s['id']}.{c['id']}" for s in part["stages"] for c in s["checks"]}, say("read", job).out

    slates, lead = asked("slates-500x250", "lead-code-5")
    plain, copper = asked("plain-tiles", "copper-06")
    single, grp = asked("interlocking-smooth", "grp")
    assert {"finish.headlap", "tiler.gauge-double"} <= slates
    assert "tiler.gauge-plain" in plain - slates
    assert {"eaves.height-single", "tiler.gauge-single"} <= single - slates - plain
    assert ("Lead gets in" in lead, "Water off copper" in copper, "Resin" in grp) == (True, True, True)
    assert "Lead gets in" not in copper + grp


def test_a_changed_pitch_turns_what_was_worked_from_it_stale_and_the_pack_says_so(
    say: Say, job: str, tmp_path: Path
) -> None:
    past(say, job, "job.before", "main.finish", "main.plates")
    assert say("record", job, "main.first-pair.common", *BY).code == 1, "too close to call with a class II tape"
    assert say("draw", job, "main", "pitch=37", *BY).code == 0
    assert shown(say, job)["stale"] == ["main.first-pair.common"]
    assert say("handover", job, "--to", "tiler", "--out", str(tmp_path / "pack")).code == 1, "not signed"
    text = next((tmp_path / "pack").glob("*-record.txt")).read_text()
    first_page = text.partition("\n\n\n")[0] if "\n\n\n" in text else text[:4000]
    assert "RECORD" in first_page
    assert "Common rafter for the span as built" in first_page
