"""A dormer's line through the sheet of the main slope, against level lines met with planes, and cuts by vectors."""

import math

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from sitelog.calculators.ask import ask
from sitelog.calculators.catalogue import Answer, Value
from sitelog.calculators.curves.barrels import barrel
from sitelog.calculators.curves.eyebrows import eyebrow
from sitelog.calculators.curves.slope_marks import slope_marks
from sitelog.refusal import Refusal
from tests.calculators.results import as_printed, cell, figure, rows

# Worked by points where lines meet planes, and apart from that by closed forms; typed here as a person types them.
WORKED = (
    (
        "barrel radius=900 pitch=30 spacing=300 deck=18",
        "deck_shift 31.177  deck_shift_level 36.000  off_if_thickness_added -13.177  rows[0].back_cut_from_square 0.0"
        "  rows[1].back_cut_from_square 40.203  rows[2].back_cut_from_square 54.736  rows[3].back_cut_from_square 60.0",
    ),
    (
        "barrel radius=900 pitch=45 spacing=300 deck=18",
        "deck_shift 18.000  off_if_thickness_added 0.000  rows[3].back_cut_from_square 45.0  deck_shift_level 25.456",
    ),
    (
        "barrel chord=1800 rise=450 pitch=60 spacing=300 deck=25 inside=105 below=190",
        "deck_shift 14.434  off_if_thickness_added 10.566  rows[0].back_cut_from_square 17.46"
        "  rows[1].back_cut_from_square 25.02  rows[2].back_cut_from_square 28.81  rows[3].back_cut_from_square 30.00"
        "  ceiling_rows[0].at 135.29  ceiling_rows[0].along_slope 109.70  ceiling_rows[3].at 900"
        "  ceiling_rows[3].height 345  ceiling_rows[3].along_slope 508.07",
    ),
    (
        "eyebrow width=3000 rise=600 pitch=35 spacing=500 deck=18 inside=60 below=180",
        "rows[0].back_cut_from_square 55.00  rows[3].back_cut_from_square 55.00  rows[1].back_cut_from_square 46.67"
        "  rows[2].back_cut_from_square 46.67  ceiling_rows[0].height -60  ceiling_rows[0].along_slope 152.46"
        "  ceiling_rows[1].at 500  ceiling_rows[1].height 54.66  ceiling_rows[1].along_slope 352.37",
    ),
    (
        "eyebrow width=2600 rise=420 split=0.4 pitch=55 spacing=520 deck=12",
        "deck_shift 8.402  rows[2].at 780  rows[2].back_cut_from_square 27.72",
    ),
    (
        "slope-marks chord=1800 rise=600 pitch=30 sheet=18 deck=18 rafter=150 first=100 spacing=400",
        "rafter_zero 31.177  face_cut_from_square 60  rows[0].n 1  rows[0].left_deck 225.08  rows[0].left 256.26"
        "  rows[0].left_under 516.07  rows[0].right_deck 368.74  rows[0].right 399.92  rows[0].right_under 659.73"
        "  rows[2].n 3  rows[2].left_deck 1163.42  rows[2].left 1194.60  rows[2].left_under 1454.41",
    ),
    (
        "slope-marks chord=3000 rise=600 split=0.5 pitch=50 deck=18 rafter=150 first=300 spacing=600",
        "rafter_zero 15.104  rows[1].n 2  rows[1].left_deck 526.75  rows[1].left 541.85  rows[1].left_under 667.72"
        "  rows[1].right_deck 567.36",
    ),
)


@pytest.mark.parametrize(("typed", "printed"), WORKED, ids=[typed for typed, _ in WORKED])
def test_the_lines_through_a_sheet_come_out_at_their_worked_values(typed: str, printed: str) -> None:
    name, *pairs = typed.split()
    as_printed(ask(name, dict(pair.split("=", 1) for pair in pairs)), printed)


class Slope:
    """The main slope in space: x across, y back, z up, its top through the origin."""

    def __init__(self, pitch: float) -> None:
        turn = math.radians(pitch)
        self.up = np.array([0.0, math.cos(turn), math.sin(turn)])
        self.normal = np.array([0.0, -math.sin(turn), math.cos(turn)])

    def met(self, at: float, height: float, under: float) -> np.ndarray:
        """Where the level line straight back at that place meets the face so far under the top."""
        start = np.array([at, 0.0, height])
        back = (np.dot(-under * self.normal, self.normal) - np.dot(start, self.normal)) / self.normal[1]
        return np.array([at, back, height])

    def along(self, point: np.ndarray) -> float:
        return float(np.dot(point, self.up))

    def lean(self, tangent: np.ndarray) -> float:
        """Of a cut that holds this direction of the curve and the level line back, from square to the slope.

        The line on the slope has the same run and height as the curve; the cut is the plane through both.
        """
        on_slope = tangent + np.array([0.0, tangent[2] / math.tan(math.asin(self.up[2])), 0.0])
        face = np.cross(on_slope, [0.0, 1.0, 0.0])
        return math.degrees(math.asin(abs(np.dot(face, self.normal)) / np.linalg.norm(face)))


def through(answer: Answer, slope: Slope, deck: float, below: float) -> None:
    """Each row of each line is where the level line at its height meets its face of the roof."""
    for name, under in (("rows", 0.0), ("lower_rows", deck), ("ceiling_rows", below)):
        for row in rows(answer, name):
            point = slope.met(cell(row, "at"), cell(row, "height"), under)
            assert cell(row, "along_slope") == pytest.approx(slope.along(point), abs=1e-6)
            assert cell(row, "back") == pytest.approx(point[1], abs=1e-6)
    for top, low in zip(rows(answer, "rows"), rows(answer, "lower_rows"), strict=True):
        assert (low["at"], low["height"]) == (top["at"], top["height"])
        shift = cell(low, "along_slope") - cell(top, "along_slope")
        assert shift == pytest.approx(figure(answer, "deck_shift"), abs=1e-6)
        assert cell(low, "back") - cell(top, "back") == pytest.approx(figure(answer, "deck_shift_level"), abs=1e-6)
    assert figure(answer, "off_if_thickness_added") == pytest.approx(deck - figure(answer, "deck_shift"), abs=1e-6)


decks, pitches = st.floats(6, 40), st.floats(12, 60)


@given(radius=st.floats(400, 3000), share=st.floats(0.3, 1.0), pitch=pitches, deck=decks, below=st.floats(0, 300))
@settings(max_examples=40)
def test_a_barrel_comes_through_its_sheet_where_lines_meet_planes(
    radius: float, share: float, pitch: float, deck: float, below: float
) -> None:
    rise = share * radius
    answer = barrel(radius=radius, rise=rise, pitch=pitch, spacing=radius / 3, deck=deck, inside=rise / 4, below=below)
    slope = Slope(pitch)
    through(answer, slope, deck, below)
    half = cell(rows(answer, "rows")[-1], "at") / 2
    for row in rows(answer, "rows"):
        off, up = cell(row, "at") - half, cell(row, "height") + radius - rise
        assert math.hypot(off, up) == pytest.approx(radius)
        lean = slope.lean(np.array([up, 0.0, -off]))  # a circle runs square to its radius
        assert cell(row, "back_cut_from_square") == pytest.approx(lean, abs=1e-3)
    for row in rows(answer, "ceiling_rows"):
        assert math.hypot(cell(row, "at") - half, cell(row, "height") + radius - rise) == pytest.approx(
            radius - rise / 4, rel=1e-7
        )
    ends = [cell(rows(answer, "ceiling_rows")[n], "height") for n in (0, -1)]
    assert ends == pytest.approx([0, 0], abs=1e-3)


@given(
    width=st.floats(1200, 6000), flat=st.floats(0.1, 0.4), split=st.floats(0.3, 0.7), pitch=pitches, deck=decks,
    below=st.floats(0, 300),
)  # fmt: skip
@settings(max_examples=40)
def test_an_eyebrow_comes_through_its_sheet_where_lines_meet_planes(
    width: float, flat: float, split: float, pitch: float, deck: float, below: float
) -> None:
    rise = flat * width
    inside = rise / 4
    answer = eyebrow(
        width=width, rise=rise, split=split, pitch=pitch, spacing=width / 11, deck=deck, inside=inside, below=below
    )
    slope = Slope(pitch)
    through(answer, slope, deck, below)
    crown, wing = figure(answer, "crown_radius"), figure(answer, "wing_radius")
    meets = figure(answer, "tangent_at")
    centres = {"left": (0.0, wing), "crown": (width / 2, rise - crown), "right": (width, wing)}

    def arc_at(at: float, bound: float) -> str:
        return "left" if at < bound else "right" if at > width - bound else "crown"

    for row in rows(answer, "rows"):
        at, height = cell(row, "at"), cell(row, "height")
        x, y = centres[arc_at(at, meets)]
        tangent = np.array([y - height, 0.0, at - x])
        assert cell(row, "back_cut_from_square") == pytest.approx(slope.lean(tangent), abs=1e-3)
    joint = width / 2 - (width / 2 - meets) * (crown - inside) / crown  # on the same radius of the crown
    for row in rows(answer, "ceiling_rows"):
        at, height = cell(row, "at"), cell(row, "height")
        part = arc_at(at, joint)
        radius = crown - inside if part == "crown" else wing + inside
        x, y = centres[part]
        assert math.hypot(at - x, height - y) == pytest.approx(radius, rel=1e-9)
    assert cell(rows(answer, "ceiling_rows")[0], "height") == pytest.approx(-inside)


@given(
    chord=st.floats(1200, 4000), share=st.floats(0.15, 0.5), split=st.none() | st.floats(0.3, 0.7), pitch=pitches,
    deck=decks, rafter=st.floats(95, 300), first=st.floats(0, 300),
)  # fmt: skip
@settings(max_examples=40)
def test_a_rafter_is_marked_on_its_edges_and_the_sheet_over_them_where_one_level_line_meets_them(
    chord: float, share: float, split: float | None, pitch: float, deck: float, rafter: float, first: float
) -> None:
    rise = share * chord * 0.9
    more: dict[str, Value] = {} if split is None else {"split": split}
    answer = slope_marks(
        chord=chord, rise=rise, pitch=pitch, deck=deck, rafter=rafter, first=first, spacing=400, **more
    )
    bare = slope_marks(chord=chord, rise=rise, pitch=pitch, first=first, spacing=400, **more)
    slope = Slope(pitch)
    for row, plain in zip(rows(answer, "rows"), rows(bare, "rows"), strict=True):
        assert (plain["left_deck"], plain["left_under"]) == (None, None)
        for side in ("left", "right"):
            on_sheet, on_top, under = row[f"{side}_deck"], row[side], row[f"{side}_under"]
            if on_top is None:
                assert (on_sheet, under, plain[side]) == (None, None, None)
                continue
            height = cell(row, f"{side}_deck") * math.sin(math.radians(pitch))
            for mark, depth in ((on_sheet, 0.0), (on_top, deck), (under, deck + rafter)):
                assert mark == pytest.approx(slope.along(slope.met(0.0, height, depth)), abs=1e-6)
            assert plain[side] == pytest.approx(on_sheet)  # without a sheet the line is on the rafters themselves
            assert cell(row, side) - cell(row, f"{side}_deck") == pytest.approx(figure(answer, "rafter_zero"))
    # Down the side of a rafter, from top mark to bottom mark, against the line square through it.
    left = next(row for row in rows(answer, "rows") if row["left"] is not None)
    lean = math.degrees(math.atan2(cell(left, "left_under") - cell(left, "left"), rafter))
    assert figure(answer, "face_cut_from_square") == pytest.approx(lean)


def test_at_45_degrees_every_rafter_mark_is_the_thickness_over_the_mark_on_the_sheet() -> None:
    answer = slope_marks(chord=1800, rise=600, pitch=45, deck=18, first=100, spacing=400)
    for row in rows(answer, "rows"):
        assert cell(row, "left") - cell(row, "left_deck") == pytest.approx(18)
    assert not any("thickness" in note for note in answer.notes)


def test_nothing_of_a_sheet_or_a_ceiling_is_given_where_none_was_asked_for() -> None:
    for answer in (barrel(radius=900, pitch=40), eyebrow(width=3000, rise=600, pitch=55)):
        names = ("deck_shift", "deck_shift_level", "off_if_thickness_added", "lower_rows", "ceiling_rows")
        assert not set(names) & set(answer.results)
    assert rows(eyebrow(width=3000, rise=600), "rows")[3]["back_cut_from_square"] is None


@pytest.mark.parametrize(
    ("deck", "pitch", "told"),
    [
        (18.0, 30.0, "Add 31 for the line beneath, not the 18 thickness: that comes 13 too low"),
        (25.0, 60.0, "Add 14.5 for the line beneath, not the 25 thickness: that comes 10.5 too high"),
        (18.0, 45.0, ""),
        (18.0, 44.0, ""),  # 18.64: within a millimetre
    ],
)
def test_whoever_adds_the_thickness_from_habit_is_told_how_far_off_it_comes(
    deck: float, pitch: float, told: str
) -> None:
    for answer in (barrel(radius=900, pitch=pitch, deck=deck), eyebrow(width=3000, rise=600, pitch=pitch, deck=deck)):
        assert any(told in note for note in answer.notes) if told else not any("thick" in note for note in answer.notes)


@pytest.mark.parametrize(
    ("given", "told"),
    [
        ({"run": 900.0, "deck": 18.0}, "eyebrow: deck is for level lines back; with run= the rafters climb"),
        ({"run": 900.0, "inside": 60.0}, "Leave out inside="),
        ({"pitch": None, "below": 180.0}, "eyebrow: below needs the main slope's pitch"),
        ({"inside": 600.0}, "inside is 600; it must be under the rise, 600"),
        ({"inside": 590.0, "rise": 600.0, "split": 0.2}, "it must be under the crown's radius, 435"),
    ],
)
def test_an_eyebrow_that_can_not_come_through_so_is_refused_in_one_line(given: dict[str, Value], told: str) -> None:
    with pytest.raises(Refusal, match=told) as refusal:
        eyebrow(**{"width": 3000.0, "rise": 600.0, "pitch": 55.0, **given})
    assert "\n" not in refusal.value.message


def test_a_barrel_has_no_ceiling_where_all_of_it_is_taken() -> None:
    with pytest.raises(Refusal, match="barrel: inside is 900; it must be under the rise, 900"):
        barrel(radius=900.0, pitch=40.0, inside=900.0)
