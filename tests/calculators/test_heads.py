"""A dormer's curve as it was cut and as it is marked on the rafters, against circles, and cylinders met by planes."""

import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from sitelog.calculators.catalogue import Value
from sitelog.calculators.curves.barrels import barrel
from sitelog.calculators.curves.eyebrows import eyebrow
from sitelog.calculators.curves.ordinates import ordinates
from sitelog.calculators.curves.slope_marks import slope_marks
from sitelog.refusal import Refusal
from tests.calculators.results import column, figure, rows

chords = st.floats(1_200, 4_000)
shares = st.floats(0.15, 0.45)  # rise over chord
pitches = st.floats(20, 65)
splits = st.floats(0.3, 0.7)
sheets = st.sampled_from([0.0, 9.0, 18.0, 24.0])


def parallel(points: np.ndarray, by: float) -> np.ndarray:
    """The points of a curve moved `by` to its right-hand side, which is down where it runs to the right."""
    along = np.gradient(points, axis=0)
    along /= np.linalg.norm(along, axis=1)[:, None]
    return points + by * np.column_stack([along[:, 1], -along[:, 0]])


def outside(chord: float, rise: float, split: float | None) -> np.ndarray:
    """The outside of the head in many points, struck from its centres with a turning trammel."""
    if split is None:
        radius = (chord * chord / 4 + rise * rise) / (2 * rise)
        half = math.acos((radius - rise) / radius) if rise <= radius else math.pi / 2
        turn = np.linspace(-half, half, 8_001)
        return np.column_stack([chord / 2 + radius * np.sin(turn), rise - radius + radius * np.cos(turn)])
    meet = 2 * math.atan(rise / (chord / 2))
    crown, wing = (share * chord / 2 / math.sin(meet) for share in (split, 1 - split))
    out = np.linspace(0, meet, 4_001)
    left = np.column_stack([wing * np.sin(out), wing - wing * np.cos(out)])
    over = np.linspace(-meet, meet, 8_001)[1:-1]
    top = np.column_stack([chord / 2 + crown * np.sin(over), rise - crown + crown * np.cos(over)])
    return np.vstack([left, top, left[::-1] * [-1, 1] + [chord, 0]])


@given(chord=chords, share=shares, split=st.none() | splits, sheet=sheets)
def test_ribs_lie_a_sheet_inside_the_line_square_to_it_everywhere(
    chord: float, share: float, split: float | None, sheet: float
) -> None:
    rise = share * chord
    face = parallel(outside(chord, rise, split), sheet)
    spacing = chord / 9
    marks = chord / 2 + spacing * np.arange(-3, 4)
    meant = np.interp(marks, face[:, 0], face[:, 1])
    more: dict[str, Value] = {} if split is None else {"split": split}
    answer = ordinates(chord=chord, rise=rise, sheet=sheet, spacing=spacing, readings=reads(stations_of(
        chord, rise, split, sheet, spacing)), **more)  # fmt: skip
    found = dict(zip(column(answer, "rows", "at"), column(answer, "rows", "worked"), strict=True))
    for mark, height in zip(marks, meant, strict=True):
        nearest = min(found, key=lambda at: abs(at - mark))
        if height > 1:
            assert found[nearest] == pytest.approx(height, abs=0.05)


def stations_of(chord: float, rise: float, split: float | None, sheet: float, spacing: float) -> int:
    """How many stations the calculator asks for: it says so to whoever reads too few."""
    more: dict[str, Value] = {} if split is None else {"split": split}
    with pytest.raises(Refusal, match="ordinates: 2 readings") as told:
        ordinates(chord=chord, rise=rise, sheet=sheet, spacing=spacing, readings=(1.0, 1.0), **more)
    return int(str(told.value).split(" readings for ")[1].split()[0])


def reads(count: int) -> tuple[float, ...]:
    return (100.0,) * count


def test_an_arc_over_1800_rising_600_is_read_where_pythagoras_puts_it() -> None:
    """By hand: radius (900^2 + 600^2) / 1200 = 975, centre 375 down; 300 out sqrt(975^2 - 300^2) - 375 = 552.70."""
    answer = ordinates(chord=1800, rise=600, spacing=300, readings=(394.0, 552.0, 600.0, 553.0, 399.0), tolerance=3)
    assert column(answer, "rows", "worked") == pytest.approx([393.52, 552.70, 600.0, 552.70, 393.52], abs=0.01)
    assert (figure(answer, "worst"), figure(answer, "station")) == pytest.approx((5.48, 1500.0), abs=0.01)
    assert answer.verdict == "fail"


@pytest.mark.parametrize(
    ("read", "verdict"),
    # At 600 off the middle the arc falls 600 in sqrt(975^2 - 600^2) = 768.5: U = 2 sqrt((1 + 0.781^2) / 3) = 1.46.
    [(393.5, "pass"), (395.0, "pass"), (395.1, "unsure"), (397.9, "unsure"), (398.0, "fail"), (389.0, "fail")],
)
def test_a_station_is_good_to_its_reading_and_its_mark(read: float, verdict: str) -> None:
    answer = ordinates(chord=1800, rise=600, spacing=300, readings=(393.5, 552.7, 600, 552.7, read), tolerance=3)
    assert answer.verdict == verdict


@given(chord=chords, share=shares, pitch=pitches)
def test_readings_up_the_slope_are_those_of_the_barrel(chord: float, share: float, pitch: float) -> None:
    rise, spacing = share * chord, chord / 6
    line = column(barrel(chord=chord, rise=rise, pitch=pitch, spacing=spacing), "rows", "along_slope")[1:-1]
    answer = ordinates(chord=chord, rise=rise, pitch=pitch, spacing=spacing, readings=tuple(line), tolerance=5)
    assert figure(answer, "worst") == pytest.approx(0, abs=1e-6)


@given(chord=chords, share=shares, split=splits, pitch=pitches, first=st.floats(30, 400), thick=st.floats(38, 75))
def test_each_edge_is_marked_where_a_level_line_off_the_curve_strikes_the_slope(
    chord: float, share: float, split: float, pitch: float, first: float, thick: float
) -> None:
    """The rafter's edge is walked in space, x across and u up the slope, till its height is that of the curve."""
    rise = share * chord
    curve = outside(chord, rise, split)
    answer = slope_marks(chord=chord, rise=rise, split=split, pitch=pitch, first=first, spacing=400, thickness=thick)
    up = np.linspace(0, 1.001 * rise / math.sin(math.radians(pitch)), 200_001)
    risen = up * math.sin(math.radians(pitch))
    for row in rows(answer, "rows"):
        for edge, side in (("left", -1), ("right", 1)):
            mark = row[edge]
            if isinstance(mark, float):
                assert isinstance(row["at"], float)
                height = np.interp(row["at"] + side * thick / 2, curve[:, 0], curve[:, 1])
                assert mark == pytest.approx(up[np.searchsorted(risen, height)], abs=0.1)


def test_a_barrels_rafters_are_marked_inside_its_sheet_and_their_bevels_joined() -> None:
    """By hand, 18 of sheet inside radius 975: at 376.5, 523.5 off the middle, sqrt(957^2 - 523.5^2) - 375 = 426.12,
    and 426.12 / sin 40 = 662.93; its other edge, 476.5 off, is 454.94, 707.76 up. atan(44.83 / 47) = 43.65.
    """
    answer = slope_marks(chord=1800, rise=600, pitch=40, sheet=18, first=400, spacing=400, thickness=47)
    first = rows(answer, "rows")[0]
    assert first["left"] == pytest.approx(662.93, abs=0.01)
    assert first["right"] == pytest.approx(707.76, abs=0.01)
    assert first["bevel_from_square"] == pytest.approx(43.65, abs=0.01)
    assert figure(answer, "crown_up") == pytest.approx(582 / math.sin(math.radians(40)))


def test_an_edge_the_line_passes_by_has_no_mark() -> None:
    answer = slope_marks(chord=1800, rise=600, pitch=40, first=0, spacing=450, thickness=47)
    ends = [row for row in rows(answer, "rows") if row["left"] is None or row["right"] is None]
    assert [row["at"] for row in ends] == [0, 1800]
    assert all(row["bevel_from_square"] is None for row in ends)


@given(width=chords, share=st.floats(0.1, 0.3), pitch=st.floats(45, 70))
def test_at_its_least_run_a_tiled_crown_is_as_flat_as_tiles_allow(width: float, share: float, pitch: float) -> None:
    """Flattest 35 degrees: Roof Tile Association, Eyebrows. Two straight lines from the face meet on the slope."""
    rise = share * width
    least = figure(eyebrow(width=width, rise=rise, pitch=pitch), "least_run")
    crown = rise + least * math.tan(math.radians(35))
    assert crown == pytest.approx(least * math.tan(math.radians(pitch)))
    answer = eyebrow(width=width, rise=rise, pitch=pitch, run=least)
    assert figure(answer, "crown_pitch") == pytest.approx(35)


@pytest.mark.parametrize(
    ("given", "told"),
    [
        ({"sheet": 600.0}, "ordinates: sheet is 600; it must be under the rise, 600"),
        ({"rise": 950.0}, "ordinates: rise is 950; over half the chord, 900"),
        ({"split": 0.01, "sheet": 12.0}, "ordinates: sheet is 12; it must be under the crown's radius, 10"),
        ({"readings": (1.0, 2.0)}, "2 readings for 5 points; measure at 300, 600, 900, 1200, 1500 from the left end"),
        ({"spacing": 0.5}, "ordinates: spacing is 0.5; that is 3600 points, and 2000"),
    ],
)
def test_readings_that_can_not_be_held_to_a_curve_are_refused(given: dict[str, Value], told: str) -> None:
    with pytest.raises(Refusal, match=told):
        ordinates(**{"chord": 1800, "rise": 600, "spacing": 300, "readings": (1.0,) * 5, **given})


@pytest.mark.parametrize(
    ("given", "told"),
    [
        ({"first": 2000.0}, "no rafter is under the line; first is 2000 and the chord 1800"),
        ({"thickness": 400.0}, "rafters 400 thick at a spacing of 400 leave no gap between them"),
        ({"spacing": 0.5, "thickness": 0.1}, "spacing is 0.5; that is 3601 rafters, and 2000"),
    ],
)
def test_rafters_that_can_not_be_marked_are_refused(given: dict[str, Value], told: str) -> None:
    with pytest.raises(Refusal, match=told):
        slope_marks(**{"chord": 1800, "rise": 600, "pitch": 40, "first": 0, "spacing": 400, **given})


def test_a_tiled_crown_that_would_fall_back_to_the_slope_is_refused() -> None:
    with pytest.raises(Refusal, match="run is 300; the crown's rafter would slope"):
        eyebrow(width=3000, rise=600, pitch=55, run=300)
