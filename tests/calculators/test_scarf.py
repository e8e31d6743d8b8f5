"""The wedged scarf: three times the depth, and two halves that fill the timber but for the wedges' gap."""

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from numpy.typing import NDArray

from sitelog.calculators.ask import ask
from sitelog.calculators.catalogue import Answer
from sitelog.calculators.timber.scarf import scarf
from sitelog.refusal import Refusal
from tests.calculators.formulas import prove_working
from tests.calculators.results import as_printed, column, figure, figures, rows

Array = NDArray[np.float64]
SIZES = {"depth": st.floats(90, 300), "ratio": st.floats(2, 6), "wedge": st.floats(5, 25)}
SHARES = {"nib": st.floats(0.12, 0.3), "hook": st.floats(0.04, 0.15)}
INCH = 25.4


def half(answer: Answer) -> Array:
    return np.column_stack([column(answer, "outline", "x"), column(answer, "outline", "y")])


def turned(points: Array, answer: Answer, depth: float) -> Array:
    """End for end, top edge down: half a turn about the middle of the joint."""
    return np.array([figure(answer, "joint_length"), depth]) - points


def area(points: Array) -> float:
    x, y = points.T
    return float(np.sum(x * np.roll(y, -1) - np.roll(x, -1) * y)) / 2


def inside(points: Array, places: Array) -> NDArray[np.bool_]:
    """Whether each place is in the outline: how often a line from it to the right crosses the edge."""
    odd = np.zeros(len(places), dtype=bool)
    for (x1, y1), (x2, y2) in zip(points, np.roll(points, -1, axis=0), strict=True):
        between = (y1 > places[:, 1]) != (y2 > places[:, 1])
        with np.errstate(divide="ignore", invalid="ignore"):
            at = x1 + (places[:, 1] - y1) * (x2 - x1) / (y2 - y1)
        odd ^= between & (places[:, 0] < at)
    return odd


def gap(answer: Answer, depth: float) -> Array:
    """The wedges' gap as a box about the middle of the joint, laid along the splay."""
    angle = -np.radians(figure(answer, "splay_from_edge"))
    along, square = np.array([np.cos(angle), np.sin(angle)]), np.array([-np.sin(angle), np.cos(angle)])
    long, high = figure(answer, "wedge") / 2, figure(answer, "hook") / 2
    middle = np.array([figure(answer, "joint_length"), depth]) / 2
    signs = ((-1, -1), (1, -1), (1, 1), (-1, 1))
    return np.array([middle + one * long * along + other * high * square for one, other in signs])


@pytest.mark.parametrize(("depth", "length"), [(220, 660), (9 * INCH, 27 * INCH), (100, 300)])
def test_a_scarf_is_three_times_as_long_as_the_timber_is_deep(depth: float, length: float) -> None:
    """Common practice: depth 220, 660; 9 in, 27 in."""
    assert figure(scarf(depth=depth), "joint_length") == pytest.approx(length)


def test_nine_inches_typed_is_27_inches_of_joint() -> None:
    assert figure(ask("scarf", {"depth": "9in"}), "joint_length") == pytest.approx(27 * INCH)


def test_a_220_deep_half_comes_out_as_worked_by_hand() -> None:
    """Nib 55, hook 27.5; 110 in 660 is 9.462 degrees, and 27.5 in root(660^2 + 110^2) 2.356 more: 11.818.

    Middle 330, 110. Hook square: 13.75 x (sin, cos) = 2.82, 13.46. Half the gap along: 10 x (cos, -sin) = 9.79, -2.05.
    """
    answer = scarf(depth=220)
    assert figures(answer, "nib", "hook", "wedge") == [55, 27.5, 20]
    assert figure(answer, "splay_from_edge") == pytest.approx(11.818, abs=2e-3)
    by_hand = [
        (0, 0),
        (660, 0),
        (660, 55),
        (330 + 9.79 + 2.82, 110 - 2.05 + 13.46),
        (330 + 9.79 - 2.82, 110 - 2.05 - 13.46),
        (0, 165),
        (0, 220),
    ]
    assert half(answer) == pytest.approx(np.array(by_hand), abs=0.02)
    assert figure(answer, "depth_left") == pytest.approx(94.49, abs=0.02)


@given(**SIZES, **SHARES, seed=st.integers(0, 2**32 - 1))
@settings(max_examples=60, deadline=None)
def test_one_half_turned_end_for_end_fits_the_other_and_leaves_the_wedges_gap_only(
    depth: float, ratio: float, wedge: float, nib: float, hook: float, seed: int
) -> None:
    answer = scarf(depth=depth, ratio=ratio, wedge=wedge, nib=nib, hook=hook)
    one, slot = half(answer), gap(answer, depth)
    other = turned(one, answer, depth)
    whole = np.array([figure(answer, "joint_length"), depth])
    assert area(one) == pytest.approx(area(other))
    assert area(one) + area(other) + area(slot) == pytest.approx(whole.prod())
    places = np.random.default_rng(seed).random((400, 2)) * whole
    # Near the gap too, where it is small beside the joint.
    places = np.vstack([places, slot.mean(axis=0) + (places[:200] / whole - 0.5) * np.ptp(slot, axis=0) * 1.5])
    filled = sum(inside(points, places).astype(int) for points in (one, other, slot))
    assert np.all(filled == 1)
    prove_working(answer, rel=1e-8)


def test_the_wedges_driven_close_the_shoulders() -> None:
    """Pushed back along the splay, away from the wedge, the other half runs into the shoulder; forward, it opens."""
    answer = scarf(depth=220)
    one, slot = half(answer), gap(answer, 220)
    other = turned(one, answer, 220)
    wider = (slot[0] - slot[1]) / np.linalg.norm(slot[0] - slot[1])  # the way its hook goes as the gap widens
    behind = np.array([[-0.2, y] for y in np.linspace(170, 215, 10)])  # in the first timber, behind its shoulder
    assert np.all(inside(other + 0.5 * wider, behind))
    assert not np.any(inside(other - 0.5 * wider, behind))


@given(**SIZES, **SHARES)
@settings(max_examples=30, deadline=None)
def test_screws_and_wedges_stand_alike_seen_from_either_end(
    depth: float, ratio: float, wedge: float, nib: float, hook: float
) -> None:
    answer = scarf(depth=depth, ratio=ratio, wedge=wedge, nib=nib, hook=hook)
    places = np.column_stack([column(answer, "positions", "x"), column(answer, "positions", "y")])
    back = turned(places, answer, depth)
    assert [row["point"] for row in rows(answer, "positions")] == ["wedge", "screw 1", "screw 2", "screw 3", "screw 4"]
    assert places[0] == pytest.approx(back[0])
    assert places[1:] == pytest.approx(back[:0:-1])
    # Each screw has this half on one side of the splay and the other half on the other.
    one, other = half(answer), turned(half(answer), answer, depth)
    a_little_up = np.array([0, 0.01])
    for points, stands, shift in ((one, other, -a_little_up), (other, one, a_little_up)):
        assert np.all(inside(points, places[1:] + shift))
        assert not np.any(inside(stands, places[1:] + shift))


def test_a_joint_is_always_the_engineers() -> None:
    for ratio in (2, 3, 6):
        assert scarf(depth=220, ratio=ratio).cautions == ("joint-engineer",)


def test_a_joint_shorter_than_common_practice_is_told() -> None:
    assert any("shorter than 3 times" in note for note in scarf(depth=220, ratio=2.5).notes)
    assert not any("shorter" in note for note in scarf(depth=220).notes)


@pytest.mark.parametrize(
    ("inputs", "rule"),
    [
        ({"depth": 0}, "over 0"),
        ({"depth": 1200}, "at most 1000"),
        ({"ratio": 1}, "at least 2"),
        ({"wedge": 0}, "over 0"),
        ({"nib": 0.5}, "under 0.5"),
        ({"nib": 0.45, "hook": 0.1}, "leave no room for the splay"),
        ({"nib": 0.4, "hook": 0.19}, "than its nib of 88; give a smaller wedge or hook"),
        ({"wedge": 400}, "a gap of 400 is longer than the bearing either side of it,"),
    ],
)
def test_a_scarf_that_cannot_be_is_refused(inputs: dict[str, float], rule: str) -> None:
    with pytest.raises(Refusal, match=rule):
        scarf(**{"depth": 220, **inputs})


@pytest.mark.parametrize("ratio", [2.5, 3, 6])
def test_beside_the_trades_three_stands_what_an_old_print_wants(ratio: float) -> None:
    """Notes on Building Construction, Part I, in depths of fir: 12 unbolted, 6 bolted, 4 bolted and indented."""
    told = " ".join(scarf(depth=220, ratio=ratio).notes)
    assert "three times the depth is common practice for a joint over a support" in told
    assert "12 times the depth in softwood, 6 bolted, 4 bolted and indented" in told


# --- wedges and screws ----------------------------------------------------------------------------------------------

# Worked by points where lines meet, and apart from that by closed forms; typed here as a person types them.
WORKED = (
    (
        "depth=220",
        "nib 55  splay_from_edge 11.818  hook 27.5  wedge_thin 8.042  wedge_at_face 11.958  wedge_thick 15.292"
        "  wedge_length 87  screws[0].through 77.14  screws[0].into 122.86",
    ),
    (
        "depth=220 nib=47",
        "nib 47  splay_from_edge 13.154  outline[3].x 342.87  outline[3].y 121.11  screws[0].x 105.71"
        "  screws[0].through 71.70  depth_left 94.34",
    ),
    (
        "depth=150 nib=38mm wedge=18 thickness=75 taper=1:10 ratio=4 screw=splay",
        "splay_from_edge 8.808  wedge_thin 5.25  wedge_at_face 12.75  wedge_length 115  screws[0].x 96.56"
        "  screws[0].y 97.04  screws[0].start_x 104.76  screws[0].through 53.59  screws[0].into 77.96"
        "  screws[2].start_x 396.36  screws[2].from_square 8.808",
    ),
)


@pytest.mark.parametrize(("typed", "printed"), WORKED, ids=[typed for typed, _ in WORKED])
def test_a_scarf_comes_out_at_its_worked_values(typed: str, printed: str) -> None:
    answer = ask("scarf", dict(pair.split("=", 1) for pair in typed.split()))
    as_printed(answer, printed)
    assert [row["edge"] for row in rows(answer, "screws")] == ["top", "top", "bottom", "bottom"]


@given(
    depth=st.floats(100, 400), thick=st.floats(35, 100), taper=st.floats(0.02, 0.1), gap=st.floats(12, 30),
    drive=st.floats(0, 80),
)  # fmt: skip
def test_the_two_wedges_fill_the_gap_right_across_the_timber(
    depth: float, thick: float, taper: float, gap: float, drive: float
) -> None:
    answer = scarf(depth=depth, wedge=gap, thickness=thick, taper=taper, drive=drive)
    thin, face, head, long = figures(answer, "wedge_thin", "wedge_at_face", "wedge_thick", "wedge_length")
    assert thin > 0 and long == pytest.approx(thick + drive)
    for into in np.linspace(0, thick, 5):  # from the face that the first is driven from
        first = face + (thin - face) * into / thick
        second = face + (thin - face) * (thick - into) / thick
        assert first + second == pytest.approx(gap)
    assert (head - thin) / long == pytest.approx(taper) == pytest.approx((face - thin) / thick)


@given(
    depth=st.floats(150, 400), ratio=st.floats(3, 6), nib=st.floats(0.15, 0.3) | st.floats(15, 40),
    screw=st.sampled_from(["edge", "splay"]), cover=st.floats(0, 25),
)  # fmt: skip
def test_a_screw_goes_through_the_thin_part_at_the_splay_and_stops_short_of_the_far_edge(
    depth: float, ratio: float, nib: float, screw: str, cover: float
) -> None:
    answer = scarf(depth=depth, ratio=ratio, nib=nib, screw=screw, cover=cover, wedge=12)
    outline = half(answer)
    slopes = {True: (outline[5], outline[4]), False: (outline[3], outline[2])}  # the splay before and after the hook
    for row in rows(answer, "screws"):
        top = row["edge"] == "top"
        start = np.array([row["start_x"], depth if top else 0.0], dtype=float)
        crossing = np.array([row["x"], row["y"]], dtype=float)
        a, b = slopes[top]
        away = (b - a)[0] * (crossing - a)[1] - (b - a)[1] * (crossing - a)[0]
        assert away / np.linalg.norm(b - a) == pytest.approx(0, abs=1e-6), "it crosses on the splay"
        way = (crossing - start) / np.linalg.norm(crossing - start)
        square = [0.0, -1.0 if top else 1.0] if screw == "edge" else np.array([(b - a)[1], -(b - a)[0]])
        along = np.array(square) / np.linalg.norm(square) * (1 if top or screw == "edge" else -1)
        assert way == pytest.approx(along, abs=1e-6)
        assert row["through"] == pytest.approx(np.linalg.norm(crossing - start))
        tip = start + way * float(row["length"] or 0)
        assert tip[1] == pytest.approx(cover if top else depth - cover)
        assert row["through"] + row["into"] == pytest.approx(row["length"])  # type: ignore[operator]
        if screw == "edge":
            assert float(row["through"] or 0) < depth / 2 < float(row["into"] or 0) + cover


@pytest.mark.parametrize(
    ("typed", "told"),
    [
        ("depth=220 wedge=3", "wedge is 3; it must be over 4, what a wedge tapers across"),
        ("depth=220 nib=110", "nib is 110; it must be under half the depth, 110"),
        ("depth=220 nib=0.5", "nib is 0.5; it must be under 0.5"),
        ("depth=220 nib=0.8mm", "nib: '0.8mm' is under 1 mm. Type a share such as 1/4, or a length such as 47mm"),
        ("depth=220 nib=100 hook=0.2", "two nibs of 100 mm and a hook of 0.2"),
        ("depth=220 cover=200", "cover is 200; that leaves a screw nothing to hold in"),
    ],
)
def test_a_scarf_whose_wedges_or_screws_can_not_be_is_refused_in_one_line(typed: str, told: str) -> None:
    with pytest.raises(Refusal, match=told) as refusal:
        ask("scarf", dict(pair.split("=", 1) for pair in typed.split()))
    assert "\n" not in refusal.value.message


def test_a_nib_is_the_same_as_a_share_of_the_depth_or_in_mm() -> None:
    share, mm, typed = (ask("scarf", {"depth": "220", "nib": nib}) for nib in ("1/4", "55", "55mm"))
    assert half(share) == pytest.approx(half(mm)) and half(mm) == pytest.approx(half(typed))
