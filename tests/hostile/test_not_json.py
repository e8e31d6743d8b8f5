"""Names that stand twice, nesting without end, bytes that are no text, half characters, one endless line."""

import json
from pathlib import Path

import pytest

from tests.hostile.fronts import say
from tests.hostile.jobs import job
from tests.hostile.refused import not_merged, refused, refused_by_the_screens

JOB = '{"job":{"1":{"format":1,"id":"x","title":"t","place":"p","units":"metric","seals":{}}},"entries":%s}'
TEXTS: dict[str, bytes] = {
    "a name twice at the top": b'{"job":{},"job":{},"entries":{}}',
    "a name twice deep down": (JOB % '{"1":{"id":"a","id":"b"}}').encode(),
    "lists within lists": b"[" * 100_000 + b"]" * 100_000,
    "tables within tables": b'{"a":' * 100_000 + b"1" + b"}" * 100_000,
    "tables within a value": (JOB % ('{"1":' + '{"v":' * 5_000 + "1" + "}" * 5_000 + "}")).encode(),
    "not a table": b"[1, 2, 3]",
    "a bare word": b"nothing",
    "a number": b"1e999",
    "empty": b"",
    "spaces": b"   \n  ",
    "cut in the middle": (JOB % '{"1":{"id":"176').encode()[:-1],
    "two values": b"{}{}",
    "a comment": b'// a job\n{"job":{}}',
    "bytes that are no UTF-8": b'{"job":{"1":{"title":"\xff\xfe"}}}',
    "an overlong slash": b'{"job":{"1":{"title":"\xc0\xaf"}}}',
    "half a character, as bytes": b'{"job":{"1":{"title":"\xed\xa0\x80"}}}',
    "UTF-16": '{"job":{}}'.encode("utf-16"),
    "a byte order mark": b"\xef\xbb\xbf" + (JOB % "{}").encode(),
    "nulls": b"\x00" * 4096,
    "pretended newer, with no entry": b'{"job":{"1":{"format":99}},"entries":{"1":{}}}',
    "entries that are a list": (JOB % "[]").encode(),
    "an entry that is a number": (JOB % '{"1":7}').encode(),
    "a document number that is none": (JOB % '{"one":{}}').encode(),
}


@pytest.mark.parametrize("raw", TEXTS.values(), ids=TEXTS)
def test_a_file_that_is_no_job_is_refused_in_one_line_and_left(tmp_path: Path, raw: bytes) -> None:
    file = tmp_path / "bad.json"
    file.write_bytes(raw)
    refused(file, "bad.json")


@pytest.mark.parametrize("raw", TEXTS.values(), ids=TEXTS)
async def test_the_screens_say_why_and_do_not_fall_over(tmp_path: Path, raw: bytes) -> None:
    (tmp_path / "bad.json").write_bytes(raw)
    await refused_by_the_screens(tmp_path / "bad.json", "bad.json", "No jobs here.")
    assert (tmp_path / "bad.json").read_bytes() == raw


def test_none_of_them_is_joined_to_a_good_job(tmp_path: Path) -> None:
    (tmp_path / "good").mkdir()
    good = job(tmp_path / "good", lambda words: words)
    for number, raw in enumerate(TEXTS.values()):
        bad = tmp_path / f"bad-{number}.json"
        bad.write_bytes(raw)
        not_merged(good, bad)


def test_half_a_character_escaped_in_a_text_is_refused_or_told_and_never_falls_over(tmp_path: Path) -> None:
    file = job(tmp_path, lambda words: words)
    raw = file.read_bytes().replace(b"north side", b"north \\ud800 side", 1)
    file.write_bytes(raw)
    for command in ("show", "verify"):
        said = say(command, file)
        assert said.code in (1, 3), said
        said.out.encode()
    assert file.read_bytes() == raw


def test_one_line_of_a_hundred_mebibytes_is_refused(tmp_path: Path) -> None:
    file = tmp_path / "bad.json"
    with file.open("wb") as out:
        for _ in range(100):
            out.write(b"x" * (1 << 20))
    said = say("show", file)
    assert (said.code, said.in_one_line) == (3, True), said


def test_a_file_with_a_hole_larger_than_any_job_is_refused_unread(tmp_path: Path) -> None:
    file = tmp_path / "bad.json"
    with file.open("wb") as out:
        out.truncate(1 << 40)
    refused(file, "too large")


@pytest.mark.parametrize("deep", [50, 500, 5_000])
def test_a_value_nested_deep_in_a_well_sealed_entry_shows_without_falling_over(tmp_path: Path, deep: int) -> None:
    """As deep as the reader of JSON takes it; deeper is refused."""
    file = tmp_path / "deep.json"
    whole = json.loads(job(tmp_path, lambda words: words).read_text())
    text = json.dumps(whole).replace('"AB 8996"', "1")
    nest = '{"v":' * deep + "1" + "}" * deep
    file.write_text(text.replace('"note": ""', f'"note": "", "more": {nest}', 1))
    said = say("show", file)
    assert said.code in (0, 3), said
    assert said.err.count("\n") <= 1
