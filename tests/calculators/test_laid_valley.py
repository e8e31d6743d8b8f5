"""A laid valley drawn again in numpy, from outside: the main plate runs in along x, the wing comes forward of it."""

from dataclasses import dataclass

import numpy as np
import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st
from numpy.typing import NDArray

from sitelog.calculators.rafters.jacks import jacks
from sitelog.calculators.rafters.valley import valley
from sitelog.calculators.rafters.valleys.laid import laid_valley
from sitelog.geometry.read_off.rafters import Marks, rafters
from sitelog.geometry.surface.surface import surface_of
from sitelog.quantities.quantity import Section
from sitelog.refusal import Refusal
from tests.calculators.formulas import prove_working
from tests.calculators.results import cell, figure, rows
from tests.calculators.test_hips import between

Array = NDArray[np.float64]
CORNERS, PITCHES = st.floats(60, 130), st.floats(20, 55)


@dataclass(frozen=True)
class Drawing:
    """The corner of the plates at 0; the main plate carried on is along x, the wing's at the corner's angle from it."""

    corner: float
    main: float
    wing: float

    @property
    def wall(self) -> Array:
        """Along the wing's plate, carried on into the building: the way its ridge runs."""
        return np.array([np.cos(np.radians(self.corner)), np.sin(np.radians(self.corner)), 0.0])

    @property
    def inward(self) -> Array:
        return np.array([self.wall[1], -self.wall[0], 0.0])

    @property
    def under(self) -> Array:
        """Square to the main slope, upwards."""
        return np.array([0.0, -np.sin(np.radians(self.main)), np.cos(np.radians(self.main))])

    @property
    def over(self) -> Array:
        """Square to the wing's slope, upwards."""
        wing = np.radians(self.wing)
        return np.asarray(np.array([0.0, 0.0, np.cos(wing)]) - np.sin(wing) * self.inward)

    def meet(self, on_main: float, on_wing: float, plane: Array, far: float) -> Array:
        """Where a plane so far over the main slope, one so far over the wing's, and a third meet."""
        return np.asarray(np.linalg.solve([self.under, self.over, plane], [on_main, on_wing, far]), dtype=np.float64)


@given(
    corner=CORNERS, main=PITCHES, wing=PITCHES, thick=st.floats(10, 40), depth=st.floats(75, 200),
    run=st.floats(1000, 4000),
)  # fmt: skip
@settings(max_examples=80, deadline=None)
def test_boards_and_feet_are_where_the_planes_meet(
    corner: float, main: float, wing: float, thick: float, depth: float, run: float
) -> None:
    drawing = Drawing(corner, main, wing)
    head = drawing.meet(0.0, 0.0, drawing.inward, run)
    along = head / np.linalg.norm(head)
    assume(along @ drawing.wall > 0.15 and along[0] > 0.15)
    answer = laid_valley(
        corner=corner, pitch=main, pitch2=wing, run=run, board=Section(thick, 100), section=Section(47, depth)
    )
    assert figure(answer, "length_on_line") == pytest.approx(np.linalg.norm(head))
    assert figure(answer, "slope_angle") == pytest.approx(between(along, np.array([1.0, 0.0, 0.0])))
    assert figure(answer, "foot_bevel_from_square") == pytest.approx(90 - figure(answer, "slope_angle"))
    ridge = np.array([*drawing.wall[:2], drawing.wall[1] * np.tan(np.radians(main))])  # on the main slope
    assert figure(answer, "head_bevel_from_square") == pytest.approx(90 - between(along, ridge))
    # Square to the line, in from where it is carried through the board: the toes, and the heels.
    inside = np.cross(along, drawing.under)
    toe, heel = (drawing.meet(thick, -low, along, 0.0) for low in (0.0, depth))
    assert figure(answer, "toe_back") == pytest.approx(float(inside @ toe), abs=1e-6)
    assert figure(answer, "board_least") == pytest.approx(float(inside @ heel), abs=1e-6)
    # On one side of a jack: from the line up to its toe, and along its foot.
    start, toe, heel = (
        drawing.meet(over, -low, drawing.wall, 300.0) for over, low in ((0.0, 0.0), (thick, 0.0), (thick, depth))
    )
    up = np.cross(drawing.wall, drawing.over)
    assert float(up @ (toe - start)) == pytest.approx(figure(answer, "jack_off"), abs=1e-6)
    assert figure(answer, "foot_length") == pytest.approx(np.linalg.norm(heel - toe))
    assert figure(answer, "foot_cut_from_square") == pytest.approx(between(heel - toe, -drawing.over))
    assert figure(answer, "foot_edge_from_square") == pytest.approx(between(along, drawing.wall))
    assert figure(answer, "foot_saw_tilt") == pytest.approx(90 - between(drawing.under, -drawing.wall))
    prove_working(answer, rel=1e-8)


@given(corner=CORNERS, main=PITCHES, wing=PITCHES, width=st.floats(50, 250))
@settings(max_examples=60, deadline=None)
def test_the_boards_edges_end_on_the_ridges_line_and_on_the_eaves(
    corner: float, main: float, wing: float, width: float
) -> None:
    """Its inner edge is as wide away, on the main slope; where a line there meets both."""
    drawing, run = Drawing(corner, main, wing), 2500.0
    head = drawing.meet(0.0, 0.0, drawing.inward, run)
    along = head / np.linalg.norm(head)
    assume(along @ drawing.wall > 0.25 and along[0] > 0.25)
    inside = np.cross(along, drawing.under)
    top = (run - width * inside @ drawing.inward) / (along @ drawing.inward)
    foot = -width * inside[1] / along[1]
    answer = laid_valley(corner=corner, pitch=main, pitch2=wing, run=run, board=Section(25, width))
    assert figure(answer, "inner_edge") == pytest.approx(top - foot)
    assert figure(answer, "overall_length") == pytest.approx(max(top, np.linalg.norm(head)))


def test_a_regular_laid_valley_by_hand() -> None:
    """45 all round, boards 25 thick, 100 deep: the line rises 1 in root 2 on plan, so on the slope it is 54.736 from
    level. The slopes are 60 apart: toes 25 / tan 60 = 14.43 in, heels 100 / sin 60 = 115.47 further; a jack is
    shorter by 25 / cos 45 / sin 45 = 50. Its foot is level on its side and the saw tilts to the main pitch."""
    answer = laid_valley(pitch=45, run=2000, section=Section(47, 100))
    expected = {
        "slope_angle": 54.736, "head_bevel_from_square": 54.736, "foot_bevel_from_square": 35.264, "toe_back": 14.434,
        "board_least": 129.904, "jack_off": 50.0, "foot_cut_from_square": 45.0, "foot_saw_tilt": 45.0,
        "foot_length": 141.421, "length_on_line": 3464.102,
    }  # fmt: skip
    for name, size in expected.items():
        assert figure(answer, name) == pytest.approx(size, abs=0.001), name


def test_its_line_is_that_of_a_framed_valley_and_its_feet_those_of_the_roof() -> None:
    """Side 1 of `valley` is the wing here; the surface has the same feet on its laid wing, and the same lengths."""
    answer = laid_valley(pitch=40, pitch2=35, run=2000, overhang=300)
    framed = valley(pitch=35, pitch2=40, run=2000, overhang=300)
    for name in ("length_on_line", "tail_length"):
        assert figure(answer, name) == pytest.approx(figure(framed, name))
    found = surface_of(
        "A 0,0; B 12000,0; C 12000,9000; D 8000,9000; E 8000,13000; F 4000,13000; G 4000,9000; H 0,9000;"
        "main AB 40, BC gable, CD 40, HA gable; wing AB 40, DE 35, EF gable, FG 35"
    )
    feet = [
        one for one in rafters(found, Marks(400), laid=["wing"]) if one.foot.name.startswith("laid valley")
        and found.slopes[one.slope].name == "DE"
    ]  # fmt: skip
    assert feet
    for one in feet:
        assert one.foot.cut.side_from_square == pytest.approx(figure(answer, "foot_cut_from_square"))
        assert one.foot.cut.edge_from_square == pytest.approx(figure(answer, "foot_edge_from_square"))
        assert one.foot.cut.saw_tilt == pytest.approx(figure(answer, "foot_saw_tilt"))
    to_the_line = rows(jacks(pitch=35, pitch2=40, spacing=400, run=2000, hip_thickness=0, on="valley"), "rows")
    by_mark = {round(-one.at): one.length for one in feet}
    for row in to_the_line:
        assert by_mark[round(cell(row, "at"))] == pytest.approx(cell(row, "length_centre"))


def test_a_narrow_board_and_a_steep_main_roof_are_told() -> None:
    notes = " ".join(laid_valley(pitch=50, run=2000, board=Section(25, 100)).notes)
    assert "doesn't bear the whole of a foot" in notes
    assert "saw tilt is over 45" in notes
    assert "the engineer gives them" in notes
    assert laid_valley(pitch=50, run=2000).cautions == ("hip-engineer",)


@pytest.mark.parametrize(
    ("figures", "rule"),
    [
        ({"corner": 150.0, "pitch": 10.0, "pitch2": 70.0}, "runs away from the main roof"),
        ({"corner": 150.0, "pitch": 70.0, "pitch2": 10.0}, "runs away from the wing"),
        ({"run": 100.0}, "leaves nothing on its inner edge"),
        ({"run": 0.0}, "over 0"),
        ({"pitch": 0.0}, "at least 0.1"),
    ],
)
def test_a_laid_valley_that_can_not_be_is_refused(figures: dict[str, float], rule: str) -> None:
    with pytest.raises(Refusal, match=rule):
        laid_valley(**{"pitch": 40.0, "run": 3000.0, **figures})
