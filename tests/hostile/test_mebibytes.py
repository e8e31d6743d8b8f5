"""A file of a mebibyte that was made to take long is refused in few words, and stays as it was."""

from pathlib import Path

import pytest

from tests.checklist.small import write
from tests.hostile.fronts import BARRED, say
from tests.hostile.jobs import job
from tests.hostile.mebibytes import JOBS, JOURNALS, LISTS, journal_of

FEW = 12_000  # letters: a hundred faults and a line that there are more


@pytest.mark.parametrize("words", [("show",), ("verify",), ("note", "main", "dry", "--by", "M. Reed")], ids=" ".join)
@pytest.mark.parametrize("name", JOBS)
def test_a_job_is_refused(tmp_path: Path, name: str, words: tuple[str, ...]) -> None:
    file = tmp_path / "bad.json"
    file.write_text(JOBS[name], encoding="utf-8")
    command, *more = words
    said = say(command, file, *more)
    told = said.out + said.err
    assert 1 <= said.code <= 4 and told.strip()
    assert len(told) <= FEW and not BARRED.search(told)
    assert command == "verify" or (said.in_one_line and not said.out)
    assert file.read_text(encoding="utf-8") == JOBS[name]


@pytest.mark.parametrize("name", JOURNALS)
def test_what_breaks_a_journal_off_is_told_and_the_job_beside_it_opens(tmp_path: Path, name: str) -> None:
    file = job(tmp_path, str)
    before = file.read_bytes()
    folder = tmp_path / f"{file.name}.files"
    folder.mkdir(exist_ok=True)
    (folder / "journal").write_bytes(journal_of(file, JOURNALS[name]))
    said = say("verify", file)
    assert said.code == 1 and len(said.out) <= FEW
    assert say("show", file).code == 0
    assert file.read_bytes() == before


@pytest.mark.parametrize("name", LISTS)
def test_a_list_is_refused(tmp_path: Path, name: str) -> None:
    write(tmp_path, hipped=LISTS[name])
    said = say("lint", tmp_path / "hipped.toml")
    told = said.out + said.err
    assert said.code in (1, 2) and told.count("\n") == 1 and not BARRED.search(told)
