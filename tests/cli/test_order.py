"""`sitelog order` by script: the list, the plan, a file for a spreadsheet, and refusals of one line."""

import json
import shutil
import subprocess
import sys
from pathlib import Path

import pytest

from sitelog.calculators.timber.members import read_members

SAMPLE = Path(__file__).parent.parent.parent / "sample_site" / "kiln-lane.json"


@pytest.fixture(scope="module")
def job(tmp_path_factory: pytest.TempPathFactory) -> Path:
    file = tmp_path_factory.mktemp("order") / "kiln-lane.json"
    shutil.copy(SAMPLE, file)
    return file


def order(file: Path, *words: str) -> "subprocess.CompletedProcess[str]":
    return subprocess.run(
        [sys.executable, "-m", "sitelog", "order", str(file), *words], capture_output=True, text=True, check=False
    )


def test_the_list_and_the_plan_are_printed_and_the_job_is_only_read(job: Path) -> None:
    before = job.read_bytes()
    done = order(job, "main")
    assert done.returncode == 1, "trimmers are the engineer's, so the order is not whole"
    assert "47x150: 76 pieces, 217.3 m" in done.stdout
    assert "Trimmers, trimmed rafters and extra rafters: the largest is worked at its" in done.stdout
    assert "To buy" in done.stdout and "Cutting plan" in done.stdout
    assert all(len(line) <= 80 for line in done.stdout.splitlines())
    assert done.stderr == ""
    assert job.read_bytes() == before


def test_the_files_are_for_other_programs(job: Path) -> None:
    members = order(job, "--csv")
    roof = [one for one in read_members(members.stdout) if one.part.startswith("main: ")]
    assert len(roof) == 4 + 18 + 2 + 56 + 4 + 1
    assert members.stderr.startswith("sitelog: left off this file: Trimmers, trimmed rafters and extra rafters")
    bought = order(job, "--csv", "--buy").stdout.splitlines()
    assert bought[0] == "section,stock_length,count"
    assert "47x225,5400,4" in bought


def test_json_has_the_same_unrounded(job: Path) -> None:
    done = order(job, "main", "--json", "--lengths", "4200,4800,5400,6000", "--kerf", "3")
    whole = json.loads(done.stdout)
    assert sum(one.get("count", 0) for one in whole["members"]) == sum(one["count"] for one in whole["totals"]) == 89
    assert {row["stock_length"] for row in whole["stock"]["results"]["buy"]} <= {4200, 4800, 5400, 6000}
    assert whole["stock"]["inputs"]["kerf"] == 3


def test_what_is_on_site_and_what_the_yard_sells_are_in_the_order(job: Path, tmp_path: Path) -> None:
    here = tmp_path / "kiln-lane.json"
    shutil.copy(job, here)
    (tmp_path / "yard.toml").write_text(
        "[47x150]\nlengths = [4200, 4800]\n[47x225]\nlengths = [4800]\n[38x225]\nlengths = [3600]\n", encoding="utf-8"
    )
    whole = json.loads(order(here, "main", "--json", "--on-site", "47x225:5400:4,47x150:4000:2").stdout)
    assert whole["yard"] == "yard.toml"
    assert {row["stock_length"] for row in whole["stock"]["results"]["buy"]} <= {3600, 4200, 4800}
    taken = [(row["section"], row["length"]) for row in whole["stock"]["results"]["from_site"]]
    assert taken == [("47x150", 4000.0)] * 2 + [("47x225", 5400.0)] * 4, "no hip goes in 4800: all are on site"
    assert any(one.startswith("Plate AB") for one in whole["unsold"])
    (tmp_path / "other.toml").write_text("[47x150]\nlength = [4200]\n", encoding="utf-8")
    refused = order(here, "--buy", "--yard", str(tmp_path / "other.toml"))
    assert (refused.returncode, refused.stdout) == (2, "")
    assert refused.stderr == "sitelog: other.toml, 47x150: 'length' isn't known here. Did you mean lengths?\n"


def test_a_yard_file_to_fill_in_has_every_section_of_the_job(job: Path, tmp_path: Path) -> None:
    made = order(job, "--new-yard")
    assert made.returncode == 0
    (tmp_path / "new.toml").write_text(made.stdout, encoding="utf-8")
    usual, by_file = (
        json.loads(order(job, "--json", *words).stdout) for words in ((), ("--yard", str(tmp_path / "new.toml")))
    )
    assert by_file["unsold"] == []
    assert by_file["stock"]["results"]["buy"] == usual["stock"]["results"]["buy"]


@pytest.mark.parametrize(
    ("words", "told"),
    [
        (("mian",), "'mian' isn't a part of this job. Parts are main, dormer, deck, gutter"),
        (("--csv", "--json"), "give one of --csv, --batches and --json"),
        (("--buy", "--kerf", "wide"), "kerf: 'wide'"),
        (("--buy", "--kerf", "200"), "kerf is 200; it must be at most 20"),
        (("--buy", "--prices", "47x150:4800:21"), "no price for 50x100"),
        (("--buy", "--on-site", "47x150:3000"), "on_site: '47x150:3000' isn't section:length:count"),
        (("--buy", "--yard", "none.toml"), "none.toml: can't be read (No such file or directory)"),
    ],
)
def test_what_can_not_be_is_refused_in_one_line(job: Path, words: tuple[str, ...], told: str) -> None:
    done = order(job, *words)
    assert (done.returncode, done.stdout) == (2, "")
    assert done.stderr.startswith("sitelog: ") and done.stderr.count("\n") == 1
    assert told in done.stderr
