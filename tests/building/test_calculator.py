"""`building` gives each line, side and block by its name, with figures that its own sums are fed with."""

import pytest

from sitelog.calculators.ask import ask
from sitelog.calculators.catalogue import Row
from sitelog.calculators.index import find
from sitelog.drawing.index import drawings_of
from sitelog.geometry.vectors import tan_deg

L = "main 9000x6000 40; wing off CD 0 from D 4000x4000 40 end gable"
UNEQUAL = "main 12000x6000 35; wing off CD 3000 from C 5000x4000 45 left 30"


def rows(answer: object, name: str) -> dict[str, Row]:
    found = answer.results[name]  # type: ignore[attr-defined]
    return {str(next(iter(row.values()))): row for row in found}


def test_each_line_has_what_hip_and_valley_are_fed_with() -> None:
    """`hip` and `valley` fed with the corner, both pitches and the run give the length of the line."""
    lines = rows(ask("building", {"building": UNEQUAL}), "named_lines")
    for line in lines.values():
        if line["line"].startswith(("hip", "valley")):  # type: ignore[union-attr]
            kind = str(line["line"]).partition("-")[0]
            figures = {
                "corner": line["corner"],
                "pitch": line["pitch_1"],
                "pitch2": line["pitch_2"],
                "run": line["run_1"],
            }
            worked = find(kind)(**figures)
            assert worked.results["length_on_line"] == pytest.approx(line["length"])


def test_a_blocks_first_pair_runs_to_its_ridge() -> None:
    """By hand: half the span each way at one pitch; at 45 and 30 over 5 m the ridge is where the two meet."""
    blocks = rows(
        ask("building", {"building": "main 12000x6000 35; wing off CD 3000 from C 5000x4000 45 left 30"}), "blocks"
    )
    assert blocks["main"]["run_1"] == pytest.approx(3000)
    top = 5000 / (1 / tan_deg(45) + 1 / tan_deg(30))
    assert blocks["wing"]["rise"] == pytest.approx(top)
    assert {round(float(blocks["wing"][f"run_{n}"] or 0), 3) for n in (1, 2)} == {
        round(top, 3), round(top / tan_deg(30), 3),
    }  # fmt: skip


def test_taped_sides_and_ties_move_the_plates() -> None:
    """One side taped 40 long over ties that say otherwise: the corners move, and the tape is doubted."""
    drawn = ask("building", {"building": L})
    sides = rows(drawn, "sides")
    assert [side for side in sides if sides[side]["name"] == "AB"] == ["a-b"]
    taped = ",".join(f"{side.upper()}:{row['drawn'] + (40 if side == 'a-b' else 0)}" for side, row in sides.items())  # type: ignore[operator]
    built = ask("building", {"building": L, "ties": taped})
    assert 0 < float(built.results["misclosure"]) < 40  # type: ignore[arg-type]
    assert built.results["area"] != drawn.results["area"]
    assert any("don't agree" in note for note in built.notes)


def test_purlins_and_collars_that_were_said_are_rows() -> None:
    answer = ask("building", {"building": f"{L}; purlins 1200; collars 1500", "spacing": "400"})
    assert answer.results["purlin_rows"] == 1 and answer.results["purlins"] and answer.results["collars"]
    assert answer.cautions == ("hip-engineer", "untied-eaves")


def test_every_corner_is_lettered_on_the_drawn_plan() -> None:
    """The main roof's four, the wing's three more, and the lean-to's four on its wall and its plate."""
    answer = ask("building", {"building": f"{L}; lean-to off AB 2000 from A 3000x2000 15 plate -1200"})
    plan = drawings_of(answer)[0]
    letters = {words.text for words in plan.words if words.text.isalpha()}
    assert letters == set("ABCEFGHJKL")
    sizes = sorted(int(words.text) for words in plan.words if words.text.isdecimal())
    assert sizes == [4000, 4000, 5000, 6000, 9000, 10000], "AB, BC, CE, EF, FG and GA, by hand"
