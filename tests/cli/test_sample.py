"""The sample jobs by name: the usual one where none is named, and a copy that is there is never written over."""

from pathlib import Path

import pytest

from tests.cli.conftest import Say


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


def test_another_name_is_refused_and_nothing_is_copied(say: Say, tmp_path: Path) -> None:
    said = say("sample", "site", "mill-lane")
    assert said.refused_in_one_line and "kiln-lane, mill-yard" in said.err
    assert not list(tmp_path.iterdir())
