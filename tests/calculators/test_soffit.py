"""A level ceiling under a curve, against lines drawn in the section and met by numpy."""

import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from sitelog.calculators.ask import ask
from sitelog.calculators.catalogue import Value
from sitelog.calculators.curves.soffit import soffit
from sitelog.refusal import Refusal
from tests.calculators.results import as_printed, cell, figure, rows

# Worked by lines met with planes, and apart from that by closed forms; typed here as a person types them.
WORKED = (
    (
        "radius=900 sheet=18 former=75 lining=15 pitch=40 rafter=150 deck=18",
        "soffit_height 792  top_along 1253.58  top_back 971.87  underside_along 1432.35  underside_back 1205.23"
        "  faces[0].top_along 1432.35  faces[1].top_along 1479.35  faces[2].top_along 1526.35"
        "  faces[0].under_along 1432.35  faces[1].under_along 1479.35  faces[2].under_along 1526.35"
        "  faces[0].top_back 1108.81  faces[1].top_back 1144.82  faces[2].top_back 1180.82",
    ),
    (
        "radius=900 sheet=18 former=75 lining=15 pitch=40 rafter=150 deck=18 stance=plumb meet=top layers=3",
        "faces[0].top_along 1253.58  faces[1].top_along 1314.94  faces[2].top_along 1376.29  faces[3].top_along 1437.65"
        "  faces[0].under_along 1127.72  faces[1].under_along 1189.07  faces[2].under_along 1250.43"
        "  faces[3].under_along 1311.78",
    ),
    (
        "chord=1800 rise=450 sheet=12 former=75 lining=12.5 pitch=22.5 rafter=200 stance=plumb",
        "soffit_height 350.5  soffit_width 1544.05  faces[0].top_along 1481.59  faces[0].under_along 1398.74"
        "  faces[1].top_along 1532.46  faces[1].under_along 1449.62",
    ),
)


@pytest.mark.parametrize(("typed", "printed"), WORKED, ids=[typed for typed, _ in WORKED])
def test_a_soffit_comes_out_at_its_worked_values(typed: str, printed: str) -> None:
    as_printed(ask("soffit", dict(pair.split("=", 1) for pair in typed.split())), printed)


def met(p: np.ndarray, u: np.ndarray, q: np.ndarray, v: np.ndarray) -> np.ndarray:
    """Where the line from p along u meets that from q along v."""
    a, _ = np.linalg.solve(np.column_stack([u, -v]), q - p)
    return np.asarray(p + a * u)


class Section:
    """The section as it is drawn on a board: x level in from the zero, y up from the springing."""

    def __init__(self, pitch: float, deck: float, rafter: float) -> None:
        turn = math.radians(pitch)
        self.up = np.array([math.cos(turn), math.sin(turn)])
        into = np.array([math.sin(turn), -math.cos(turn)])  # square through the roof
        self.top, self.under = deck * into, (deck + rafter) * into  # both edges, from the line through the zero

    def along(self, edge: np.ndarray, point: np.ndarray) -> float:
        return float(np.dot(point - edge, self.up))


LEVEL, PLUMB = np.array([1.0, 0.0]), np.array([0.0, 1.0])


@given(
    radius=st.floats(400, 3000),
    share=st.floats(0.4, 1.0),
    pitch=st.floats(12, 60),
    deck=st.sampled_from([0.0, 18.0, 25.0]),
    rafter=st.floats(95, 300),
    stance=st.sampled_from(["square", "plumb"]),
    meet=st.sampled_from(["underside", "top"]),
    layers=st.integers(1, 4),
)
def test_the_trimmer_stands_where_the_lines_of_the_section_meet(
    radius: float, share: float, pitch: float, deck: float, rafter: float, stance: str, meet: str, layers: int
) -> None:
    rise = share * radius
    answer = soffit(
        radius=radius, rise=rise, sheet=18, former=75, lining=15, pitch=pitch, deck=deck, rafter=rafter,
        stance=stance, meet=meet, layers=layers,
    )  # fmt: skip
    height = rise - 108
    section = Section(pitch, deck, rafter)
    start = np.array([0.0, height])
    top, under = met(section.top, section.up, start, LEVEL), met(section.under, section.up, start, LEVEL)
    assert figure(answer, "top_along") == pytest.approx(section.along(section.top, top))
    assert figure(answer, "top_back") == pytest.approx(top[0])
    assert figure(answer, "underside_along") == pytest.approx(section.along(section.under, under))
    assert figure(answer, "underside_back") == pytest.approx(under[0])
    # The ceiling is a chord of its own circle: half of it, and the centre under the springing, are its radius.
    half, below = figure(answer, "soffit_width") / 2, figure(answer, "soffit_radius") - height
    assert math.hypot(half, below) == pytest.approx(radius - 108) and below == pytest.approx(radius - rise)
    way = PLUMB if stance == "plumb" else np.array([section.up[1], -section.up[0]])
    front = under if meet == "underside" else top
    thick = np.array([-way[1], way[0]]) if stance == "square" else LEVEL
    for n, row in enumerate(rows(answer, "faces")):
        through = front + 47.0 * n * thick
        for edge, name in ((section.top, "top"), (section.under, "under")):
            mark = met(edge, section.up, through, way)
            assert cell(row, f"{name}_along") == pytest.approx(section.along(edge, mark), abs=1e-6)
            assert cell(row, f"{name}_back") == pytest.approx(mark[0], abs=1e-6)
    assert len(rows(answer, "faces")) == layers + 1
    # Level between its mark and the line through the zero, on the rafters' top edge.
    on_top = met(section.top, section.up, front, way)
    assert figure(answer, "front_level") == pytest.approx((on_top - section.top)[0], abs=1e-6)


GIVEN: dict[str, Value] = {"radius": 900.0, "pitch": 40.0, "rafter": 150.0}


@pytest.mark.parametrize(
    ("more", "told"),
    [
        ({"sheet": 500.0, "former": 300.0, "lining": 100.0}, "sheet, former and lining are 900 together"),
        ({"layers": 5}, "layers is 5; it must be at most 4"),
        ({"layers": 0}, "layers is 0; it must be at least 1"),
        ({"split": 0.5}, "split is for an eyebrow, and this is for one arc. Leave out split="),
        ({"rafter": 0.0}, "rafter is 0; it must be over 0"),
        ({"pitch": 0.1}, "before it met so flat a slope"),
        ({"chord": 1800.0, "rise": 600.0}, "you gave all three"),
    ],
)
def test_a_soffit_that_can_not_be_is_refused_in_one_line(more: dict[str, Value], told: str) -> None:
    with pytest.raises(Refusal, match=told) as refusal:
        soffit(**(GIVEN | more))
    assert "\n" not in refusal.value.message


def test_a_trimmer_that_hangs_under_the_ceiling_says_how_far() -> None:
    """By hand: a rafter 150 deep set plumb at 3 in 4 is 150 / 0.8 = 187.5 deep, square 150 x 0.8 = 120."""
    pitch = math.degrees(math.atan(3 / 4))
    for stance, hangs in (("plumb", "188"), ("square", "120")):
        answer = soffit(radius=900, pitch=pitch, rafter=150, stance=stance, meet="top")
        assert any(f"hangs {hangs} under" in note for note in answer.notes)
        assert not any("hangs" in note for note in soffit(radius=900, pitch=pitch, rafter=150, stance=stance).notes)
