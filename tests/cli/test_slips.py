"""Figures that are likely slips, typed to a command: refused with both readings, and nothing is entered."""

import shutil
from pathlib import Path

import pytest

from tests.cli.conftest import NEW, Say
from tests.cli.test_keep import BY, PLATES, check_in, past, shown

SAMPLE = Path(__file__).parent.parent.parent / "sample_site" / "kiln-lane.json"

CALC = [
    (("common", "run=3.0", "pitch=35"), "run: 3.0 mm? Type 3.0m, or 3.0mm if you mean it"),
    (("common", "run=3000", "pitch=80"), "pitch: 80 degrees? Type 80deg if you mean it"),
    (
        ("stock", "cuts=47x150:4870:2", "lengths=3.6,4.2"),
        "lengths: 3.6 mm? Type 3.6m,4.2m, or 3.6mm,4.2mm if you mean it",
    ),
    (("firrings", "span=3600", "fall=1:6", "thin=20"), "fall: 1:6? Type 1:60, or 1 in 6 if you mean it"),
    (("centres", "length=3600", "spacing=0.4"), "spacing: 0.4 mm? Type 0.4m, or 0.4mm if you mean it"),
]


@pytest.mark.parametrize(("words", "says"), CALC)
def test_a_sum_is_not_worked_with_what_no_roof_has(say: Say, words: tuple[str, ...], says: str) -> None:
    said = say("calc", *words)
    assert (said.code, said.refused_in_one_line) == (2, True), said
    assert says in said.err


def test_a_sum_is_worked_with_either_reading_once_its_unit_is_typed(say: Say) -> None:
    assert say("calc", "common", "run=3m", "pitch=35").out == say("calc", "common", "run=3000", "pitch=35").out
    assert say("calc", "common", "run=3mm", "pitch=35", "tied=yes").code in (0, 2)
    assert "if you mean it" not in say("calc", "common", "run=3mm", "pitch=35").err


@pytest.mark.parametrize(
    ("figure", "says"),
    [
        ("main.length=9", "9 mm? Type 9m, or 9mm if you mean it"),
        ("main.pitch=76", "76 degrees? Type 76deg if you mean it"),
        ("main.spacing=4000", "4000 mm? Type 4000mm if you mean it"),
        ("main.overhang=0.3", "0.3 mm? Type 0.3m, or 0.3mm if you mean it"),
    ],
)
def test_no_job_is_made_nine_millimetres_long(say: Say, tmp_path: Path, figure: str, says: str) -> None:
    file = tmp_path / "new.json"
    given = [word for word in NEW if word.partition("=")[0] != figure.partition("=")[0]]
    said = say("new", str(file), *given, figure, *BY)
    assert (said.code, said.refused_in_one_line) == (2, True), said
    assert figure.partition("=")[0] in said.err
    assert says in said.err
    assert not file.exists()
    meant = says.partition("Type ")[2].partition(" ")[0].rstrip(",")
    assert say("new", str(file), *given, f"{figure.partition('=')[0]}={meant}", *BY).code == 0


def test_a_default_of_the_list_is_never_asked_about_and_a_drawn_figure_is(say: Say, job: str) -> None:
    said = say("draw", job, "main", "width=6", *BY)
    assert (said.code, said.refused_in_one_line) == (2, True), said
    assert "6 mm? Type 6m, or 6mm if you mean it" in said.err
    assert shown(say, job)["facts"]["main.width"]["drawn"] == 6000.0
    assert say("draw", job, "main", "width=6.2m", *BY).code == 0
    assert say("draw", job, "main", "width=6mm", "length=9mm", *BY).code == 0
    assert shown(say, job)["facts"]["main.width"]["drawn"] == 6.0


def test_a_measured_side_is_asked_about_and_nothing_is_entered(say: Say, job: str) -> None:
    past(say, job, "job.before", "main.finish")
    entries = shown(say, job)["entries"]
    said = say("record", job, "main.plates.sides", "ab=8.996", *PLATES[1:], *BY)
    assert (said.code, said.refused_in_one_line) == (2, True), said
    assert "8.996 mm? Type 8.996m, or 8.996mm if you mean it" in said.err
    assert shown(say, job)["entries"] == entries
    assert say("record", job, "main.plates.sides", "ab=8.996m", *PLATES[1:], *BY).code == 1
    assert check_in(shown(say, job), "main.plates.sides")["value"]["ab"] == 8996.0


def test_a_small_reading_that_is_meant_goes_in_unasked(say: Say, job: str) -> None:
    past(say, job, "job.before", "main.finish", "main.plates")
    twist = ("spacing=400", "fall_foot=1", "fall_head=2", "length=3450")
    assert say("record", job, "main.first-pair.twist", *twist, *BY).code == 0


@pytest.mark.parametrize(
    ("words", "says"),
    [
        (("--lengths", "4.8,5.4"), "lengths: 4.8 mm? Type 4.8m,5.4m, or 4.8mm,5.4mm if you mean it"),
        (("--prices", "47x150:4.8:21.60"), "4.8 mm? Type 47x150:4.8m:21.60, or 47x150:4.8mm:21.60 if you mean it"),
    ],
)
def test_an_order_is_not_planned_from_sticks_of_a_few_millimetres(
    say: Say, tmp_path: Path, words: tuple[str, ...], says: str
) -> None:
    job = shutil.copy(SAMPLE, tmp_path / "kiln-lane.json")
    said = say("order", str(job), *words, "--buy")
    assert (said.code, said.refused_in_one_line) == (2, True), said
    assert says in said.err
