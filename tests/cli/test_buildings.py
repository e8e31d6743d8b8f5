"""A roof said block by block, as a figure of `sitelog new` and `sitelog draw`: quoted, checked, refused in one line."""

from pathlib import Path

import pytest

from tests.cli.conftest import Say

L = "main 9000x6000 40; wing off CD 0 from D 4000x4000 40 end gable"
NEW = ("--title", "Mill barn", "--part", "main:cut-roof", "--by", "M. Reed")


@pytest.fixture
def file(tmp_path: Path) -> str:
    return str(tmp_path / "barn.json")


def test_a_roof_in_quotes_sets_the_job_up_and_can_be_drawn_again(say: Say, file: str) -> None:
    assert say("new", file, *NEW, f"main.building={L}").code == 0
    assert L in say("show", file, "--json").out
    said = say("draw", file, "main", "building=main 9000x6000 40; wing off AB", "--by", "M. Reed")
    assert (said.code, said.refused_in_one_line) == (2, True)
    assert "wing: its distance is missing" in said.err
    assert say("draw", file, "main", "building=main 9500x6000 40", "--by", "M. Reed").code == 0


@pytest.mark.parametrize(
    ("figures", "says"),
    [
        (
            ["main.building=main 9000x6000 40; wing off CE 0 from D 4000x4000 40"],
            "building: wing: CE isn't a side to build on; the sides are AB, BC, CD, DA",
        ),
        (["main.building=main 9x6 40"], "If it is metres, type 9m"),
        (
            ["main.building=main", "9000x6000", "40"],
            "Put one of several words in quotes: 'main.building=main 9000x6000 40'",
        ),
    ],
)
def test_a_roof_that_cant_be_is_refused_and_no_job_is_made(say: Say, file: str, figures: list[str], says: str) -> None:
    said = say("new", file, *NEW, *figures)
    assert (said.code, said.refused_in_one_line) == (2, True), said
    assert says in said.err
    assert not Path(file).exists()
