"""The sample jobs by name: the usual one where none is named, and a copy that is there is never written over."""

import json
import shutil
from pathlib import Path

import pytest

from sitelog.job.log.entry import Draft, seal
from sitelog.job.storage.copies import found
from tests.cli.conftest import Say
from tests.job.logs import START, after, author, log, saved


@pytest.fixture(autouse=True)
def empty_folder(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.chdir(tmp_path)


@pytest.mark.parametrize(
    ("words", "opened"),
    [
        ((), "sample-site/kiln-lane.json"),
        (("site",), "site/kiln-lane.json"),
        (("mill-yard",), "sample-site/mill-yard.json"),
        (("site", "mill-yard"), "site/mill-yard.json"),
    ],
)
def test_one_of_the_samples_is_opened_and_both_are_copied(say: Say, words: tuple[str, ...], opened: str) -> None:
    said = say("sample", *words)
    assert (said.code, said.out.strip()) == (0, opened)
    assert sorted(file.name for file in Path(opened).parent.iterdir()) == ["kiln-lane.json", "mill-yard.json"]


def test_a_folder_with_one_sample_keeps_it_and_gets_the_other(say: Say, tmp_path: Path) -> None:
    (tmp_path / "site").mkdir()
    (tmp_path / "site" / "kiln-lane.json").write_text("as it was left")
    assert say("sample", "site", "mill-yard").code == 0
    assert (tmp_path / "site" / "kiln-lane.json").read_text() == "as it was left"
    assert (tmp_path / "site" / "mill-yard.json").is_file()


@pytest.mark.parametrize("again", ["site", "second"])
def test_a_sample_made_again_is_no_older_copy_of_the_one_thrown_away(say: Say, tmp_path: Path, again: str) -> None:
    assert say("sample", "site").code == 0
    assert say("note", "site/kiln-lane.json", "day", "Slates are late", "--by", "M. Reed").code == 0
    (tmp_path / "site").rename(tmp_path / "old")
    assert "older copy" not in say("verify", "old/kiln-lane.json").out
    shutil.rmtree(tmp_path / "old")
    assert say("sample", again).code == 0
    said = say("verify", f"{again}/kiln-lane.json")
    assert (said.code, "older copy" in said.out) == (0, False)


def test_another_name_is_refused_and_nothing_is_copied(say: Say, tmp_path: Path) -> None:
    said = say("sample", "site", "mill-lane")
    assert said.refused_in_one_line and "kiln-lane, mill-yard" in said.err
    assert not list(tmp_path.iterdir())


def test_the_sample_jobs_are_no_copies_of_each_other(say: Say, tmp_path: Path) -> None:
    folder = tmp_path / "site"
    assert say("sample", str(folder)).code == 0
    ids = [json.loads(file.read_text(encoding="utf-8"))["job"]["1"]["id"] for file in folder.glob("*.json")]
    assert len(ids) == len(set(ids)) == 2
    assert "copy" not in say("show", str(folder / "kiln-lane.json")).out.splitlines()[-1]


def test_another_job_of_the_same_id_is_no_copy(tmp_path: Path) -> None:
    barn = log(3)
    start = seal(Draft(act="start", value={**START.value, "title": "Shed"}), author(), None, "")
    assert start.id == barn[0].id, "begun in the same moment on the same device"
    saved(tmp_path / "barn.json", barn)
    saved(tmp_path / "shed.json", [start, after([start])])
    assert found(tmp_path / "barn.json", barn) == []
