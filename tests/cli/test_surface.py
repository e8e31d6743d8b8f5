"""`sitelog calc surface` typed as scripts have it."""

import json

import pytest

from tests.cli.conftest import Say

CONTRACT = """A 0,0; B 9000,0; C 9000,6000; D 4000,6000; E 4000,10000; F 0,10000;
        main AB 40, BC 40, CD 40, FA 40; wing AB 40, DE 40, EF gable, FA 40"""


def test_a_plan_over_two_lines_is_read_and_its_answer_is_json(say: Say) -> None:
    said = say("calc", "surface", f"plan={CONTRACT}", "spacing=400", "--json")
    assert said.code == 0, said.err
    told = json.loads(said.out)
    assert told["calculator"] == "surface"
    assert told["results"]["plan_area"] == pytest.approx(70.0)
    assert told["units"]["volume"] == "m3"
    assert {row["kind"] for row in told["results"]["rafters"]} == {"common", "hip jack", "valley jack", "cripple"}


def test_it_is_shown_and_drawn_in_80_columns(say: Say) -> None:
    said = say("calc", "surface", f"plan={CONTRACT}", "spacing=400", "ridge=38", "--drawing")
    assert said.code == 0, said.err
    assert max(map(len, said.out.splitlines())) <= 80
    assert "Roof: section through ridge" in said.out


def test_what_can_t_be_a_roof_is_refused_in_one_line(say: Say) -> None:
    said = say("calc", "surface", "plan=A 0,0; B 9000,0; C 9000,6000; main AB 40, BC 40")
    assert said.code == 2
    assert said.refused_in_one_line
    assert "main runs on for ever" in said.err
