"""What can't be a roof is refused in one line, with the name of the wall, the point or the block."""

import pytest

from sitelog.geometry.surface.surface import surface_of
from sitelog.refusal import Refusal

SQUARE = "A 0,0; B 9000,0; C 9000,6000; D 0,6000;"
U = "A 0,0; B 9000,0; C 9000,6000; D 6000,6000; E 6000,3000; F 3000,3000; G 3000,6000; H 0,6000;"


@pytest.mark.parametrize(
    ("plan", "said"),
    [
        ("", "no block yet"),
        (SQUARE, "no block yet"),
        ("A 0,0; A 1,1; main AB 40", "point A is there twice"),
        ("A 0,x; main AB 40", "point A: 'x' isn't a figure"),
        ("A 0,900000; main AB 40", "point A is 900000 mm away"),
        (SQUARE + "main AB 40, BX 40", "wall BX: X isn't a point"),
        (SQUARE + "main AB 40, BB 40", "wall BB doesn't have a length"),
        (SQUARE + "main AB", "wall AB: '' has nothing after it"),
        (SQUARE + "main AB banana", "wall AB: 'banana' isn't a figure"),
        (SQUARE + "main AB 4, BC 40", "wall AB has a pitch of 4; it must be from 5 to 75"),
        (SQUARE + "main AB 80, BC 40", "wall AB has a pitch of 80"),
        (SQUARE + "main AB 40 in x, BC 40", "wall AB: 'x' isn't a figure"),
        (SQUARE + "main AB gable, BC gable, CD gable, DA gable", "main doesn't have a top"),
        (SQUARE + "main AB 40, BC 40, CD 40", "main runs on for ever: AB, BC, CD don't close it"),
        (SQUARE + "main AB 40, BC 40, CD 40, DA 40; main AB 40", "block main is there twice"),
        (SQUARE + "loop AB 40, BC 40, CD 40, DA 40; main AB 40", "give one loop, or blocks, not both"),
        (SQUARE + "main AB =XY, BC 40, CD 40, DA 40", "wall AB =XY: no wall of that name has a pitch"),
        (SQUARE + "main AB gable =XY, BC 40, CD 40, DA 40", "wall AB gable =XY: there is no wall of that name"),
        (SQUARE + "main AB 40, AB 30, BC 40, CD 40, DA 40", "the slope over AB never gets in"),
        (SQUARE + "main BA 40, CB 40, DC 40, AD 40", "turn in at"),
        (SQUARE + "main AC 40, BD 40, DA 40", "walls AC and BD cross"),
        (SQUARE + "E 4000,200; F 4000,800; main AB 40, BC 40, CD 40, DA 40, EF gable, FE gable", "nothing is inside"),
        ("A 0,0; B 9000,0; C 9000,500; main AB 40, BC 40, CA 40", "the corner at A is 3 degrees"),
        (SQUARE + "M 4500,0; main AM 40, MB 35, BC 40, CD 40, DA 40", "walls AM and MB are in line, at 40 and 35"),
        (SQUARE + "M 4500,3; main AM 40, MB 40, BC 40, CD 40, DA 40", "Write MB =AM if they are one slope"),
        (SQUARE + "loop AB 40, BC 40, DA 40", "loop: wall DA doesn't start where BC ends"),
        (SQUARE + "loop AD 40, DC 40, CB 40, BA 40", "the loop goes clockwise"),
        (SQUARE + "loop AB 40, BD 40, DC 40, CA 40", "walls BD and CA cross"),
        (U + "loop AB 40, BC 40, CD 40, DE 40, EF gable, FG 40, GH 40, HA 40", "its roof don't agree"),
        (U + "loop AB 40, BC 40, CD 40, DE 40, EF 40, FG 40, GH 40, HA 40 +300", "wall HA is raised or set in"),
        ("A 0,0; B 9,0; C 4,4; D 0,9; loop AB 40, BC 40, CD 40, DA gable in 1", "wall DA is raised or set in"),
        ("A1 0,0; A 9,0; B 9,9; 1 2", "'1 2' is neither a point"),
        ("A 0,0; BB 9,0; B 9,9; AB 0,9; main ABB 40", "can be read two ways"),
    ],
)
def test_what_can_t_be_a_roof_is_refused_by_name(plan: str, said: str) -> None:
    with pytest.raises(Refusal) as refused:
        surface_of(plan)
    message = refused.value.message
    assert said in message, message
    assert message.startswith("plan")
    assert "\n" not in message
    assert len(message) < 300


def test_a_slope_under_other_blocks_is_hidden_not_refused() -> None:
    found = surface_of(SQUARE + "main AB 40, BC 40, CD 40, DA 40; over AB 40, BC gable, CD 40, DA gable")
    assert found.hidden == ("BC", "DA")


def test_a_block_without_the_wall_that_stops_it_shows_where_nobody_built() -> None:
    """A skew wing that nothing stops at the main roof's gable comes out past the far eaves too."""
    plan = (
        "A 0,0; B 12000,0; C 12000,6000; D 0,6000; P 4000,6000; Q 8000,6000; R 12000,10000; S 9000,13000;"
        "main AB 30, BC gable, CD 30, DA gable; wing QR 50, RS gable, SP 50, AB 30"
    )
    assert surface_of(plan).in_parts == ("SP",)
    assert surface_of(plan + ", DA gable, BC gable").plan_area < surface_of(plan).plan_area


def test_exact_walls_in_line_with_one_pitch_are_one_slope() -> None:
    found = surface_of(SQUARE + "M 4500,0; main AM 40, MB 40, BC 40, CD 40, DA 40")
    assert [slope.name for slope in found.slopes] == ["AM", "BC", "CD", "DA"]


def test_walls_of_a_loop_a_few_mm_out_of_line_are_asked_about() -> None:
    plan = "A 0,0; B 9000,0; C 9000,6000; D 6000,6000; E 6000,9000; F 3000,9000; G 3000,6004; H 0,6004;"
    walls = "loop AB 40, BC 40, CD 40, DE 40, EF 40, FG 40, GH 40, HA 40"
    found = surface_of(plan + walls)
    assert found.plan.doubts == ("walls CD and GH are 4 mm out of line: write GH =CD if they are one slope",)
    assert surface_of(plan + walls.replace("GH 40", "GH =CD")).plan.doubts == ()
