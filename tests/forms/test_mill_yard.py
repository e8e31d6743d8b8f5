"""The second sample, an L said block by block: made the same each time, sound, and its timbers counted another way.

Rafters are walked over planes laid on the plates as taped (walked.py), at the marks of the list: each has its length
there and none is missing. Where they stand is held to what a gang wants of it: opposite one another at each hip and
valley, and no bay over 400, but for the one that closes up.
"""

import math
import shutil
import subprocess
import sys
from collections.abc import Iterator
from itertools import pairwise
from pathlib import Path

import numpy as np
import pytest
from msgspec import Struct

from sitelog.checklist.schema.shipped import sample_folder
from sitelog.job.job import Job
from sitelog.job.members import Line, members
from sitelog.job.storage.verify import verify
from sitelog.reports.timber.entries import set_out
from tests import shipped
from tests.forms import walked
from tests.forms.walked import COS, RISE, SLOPES, Piece

SAMPLE = sample_folder() / "mill-yard.json"
TAIL = 300 / COS + 150 * RISE  # the overhang up the slope, and the plumb cut of a rafter of 150
LEVEL = ("purlin", "strut")
BAY = 410  # the one that closes up may be 10 mm over the spacing
HIP = np.arctan(RISE / math.sqrt(2))  # pitch of a hip at a square corner
HIP_TAIL = 300 * math.sqrt(2) / np.cos(HIP) + 225 * np.tan(HIP)  # and the plumb cut of a hip of 225
HIP_AT_RIDGE = 19 * math.sqrt(2) / np.cos(HIP)
NO_TAIL = 225 * np.tan(HIP) - HIP_AT_RIDGE


class Listed(Struct, frozen=True):
    """A rafter on the list."""

    kind: str
    slope: str
    at: float
    length: float


@pytest.fixture(scope="module")
def lines(tmp_path_factory: pytest.TempPathFactory) -> tuple[Line, ...]:
    """The cutting list of the sample."""
    file = Path(shutil.copy(SAMPLE, tmp_path_factory.mktemp("sample") / "job.json"))
    with Job.open(file, shipped.library(), read_only=True) as job:
        return members(job.state, shipped.library(), "roof")


@pytest.fixture(scope="module")
def rafters(lines: tuple[Line, ...]) -> list[Listed]:
    """Each rafter on the list."""
    found = []
    for line in lines:
        kind, _, slope = line.id.partition("-slope-")
        if line.member and slope and kind not in LEVEL:
            assert line.member.count == 1
            found.append(Listed(kind, slope.upper(), float(line.shows[0].value), line.member.length))  # type: ignore[arg-type]
    return found


def test_the_main_roof_and_the_wing_do_not_wait_for_the_lean_to_and_the_dormer(lines: tuple[Line, ...]) -> None:
    """Those aren't taped yet."""
    drawn = {line.id.rpartition("-")[2] for line in lines if line.standing == "drawn" and "-slope-" in line.id}
    assert drawn == {"jk", "mn", "pq"}


def marks(rafters: list[Listed], slope: str) -> list[float]:
    return sorted({one.at for one in rafters if one.slope == slope})


def cut_length(slope: str, at: float, piece: Piece) -> float:
    """Long point to long point: half of what it is cut to off each end, half its thickness more on its long side."""
    length = (piece.high - piece.low) / COS
    for end, (left, right) in zip(("low", "high"), walked.leans(slope, at, piece), strict=True):
        level = abs(left) < 0.1 or abs(right) < 0.1
        peak = end == "high" and left > 0.1 and right < -0.1
        lean = 0.0 if level or peak else float(np.nanmean((left, right)))
        length += abs(lean) / COS * 23.5
        if not level:
            length -= 23.5 * math.hypot(1, lean) / COS  # half a hip or valley, or the pair at the ridge's end
        elif end == "high" and not 895 < piece.high < 905:  # half a ridge; a dormer's face takes nothing off
            length -= 19 / COS
    return float(length + (TAIL if piece.low < 5 else 150 * RISE))


def test_the_sample_is_what_its_script_makes(tmp_path: Path) -> None:
    folder = SAMPLE.parent
    said = (
        f"import sys; sys.path.insert(0, {str(folder)!r}); import make; from pathlib import Path; "
        f"make.make(Path({str(tmp_path / SAMPLE.name)!r}), make.MILL_YARD, make.MILL_DAYS)"
    )
    subprocess.run([sys.executable, "-c", said], check=True)
    assert (tmp_path / SAMPLE.name).read_bytes() == SAMPLE.read_bytes()
    assert verify(SAMPLE) == []


@pytest.mark.parametrize("slope", SLOPES)
def test_each_rafter_of_a_slope_is_on_the_list_as_long_as_it_is_there(slope: str, rafters: list[Listed]) -> None:
    """Commons, jacks and cripples, those over and under the dormer, and the dormer's own."""
    own = marks(rafters, slope)
    assert len(own) > 3
    for at in own:
        listed = sorted(one.length for one in rafters if one.slope == slope and one.at == at)
        there = sorted(cut_length(slope, at, piece) for piece in walked.pieces(slope, at))
        assert listed == pytest.approx(there, abs=3), at


@pytest.mark.parametrize("slope", SLOPES)
def test_no_bay_is_over_the_spacing(slope: str, rafters: list[Listed]) -> None:
    first, last = walked.extent(slope)
    places = sorted({first, *marks(rafters, slope), last})
    assert max(after - before for before, after in pairwise(places)) < BAY + 20  # ends are walked by 10 mm


def test_jacks_and_cripples_stand_opposite_at_each_hip_and_valley(rafters: list[Listed]) -> None:
    """Within 1 mm on plan: an end on a hip or a valley is met by one of the other slope."""
    ends = list(_ends_on_lines(rafters))
    assert len(ends) > 60
    for slope, point in ends:
        met = min(math.dist(point, other) for across, other in ends if across != slope)
        assert met < 1, (slope, point)


def _ends_on_lines(rafters: list[Listed]) -> Iterator[tuple[str, tuple[float, float]]]:
    for slope in SLOPES:
        for at in marks(rafters, slope):
            for piece in walked.pieces(slope, at):
                for far, (left, right) in zip((piece.low, piece.high), walked.leans(slope, at, piece), strict=True):
                    if left * right > 0.1:
                        x, y = walked.place(slope, at, far)
                        yield slope, (float(x), float(y))


def test_a_rafter_stands_along_each_verge(rafters: list[Listed]) -> None:
    """At the wing's gable, the dormer's face and both ends of the lean-to."""
    assert marks(rafters, "EF")[-1] == pytest.approx(3600, abs=6) and marks(rafters, "GA")[0] == pytest.approx(0, abs=6)
    assert marks(rafters, "MN")[-1] == pytest.approx(1000) and marks(rafters, "PQ")[0] == pytest.approx(0, abs=1)
    assert marks(rafters, "JK")[0] == pytest.approx(0, abs=1) and marks(rafters, "JK")[-1] == pytest.approx(3000)


def test_the_lean_to_has_a_rafter_every_400_along_its_3000(rafters: list[Listed]) -> None:
    """1800 out at 25 degrees, with a tail of 300 and the plumb cut of 150; both ends of its wall as drawn."""
    pitch = np.radians(25)
    assert marks(rafters, "JK") == pytest.approx([*range(0, 3000, 400), 3000], abs=1)
    found = [one.length for one in rafters if one.slope == "JK"]
    assert found == pytest.approx([2100 / np.cos(pitch) + 150 * np.tan(pitch)] * 9, abs=1)


def test_what_would_miss_the_plate_is_no_jack(rafters: list[Listed]) -> None:
    """At a hip's foot a jack's short side needs 57 from the corner: half its 47, and half the hip's 47 on the skew."""
    for one in rafters:
        if one.kind.startswith("hip-jack"):
            assert one.length > TAIL + 2 * 23.5 / COS


def meet(*names: str) -> np.ndarray:
    """Where three planes meet: x, y and the height over the plates."""
    flat = [
        np.array([float(walked.height(name, np.array(p, float))) for p in ((0, 0), (1, 0), (0, 1))]) for name in names
    ]
    slants = np.array([[h[1] - h[0], h[2] - h[0], -1.0] for h in flat])
    for nth, name in enumerate(names):
        if name in ("FG", "NP"):
            slants[nth, 2] = 0.0  # upright
    return np.linalg.solve(slants, np.array([-h[0] for h in flat]))


def corner(name: str) -> np.ndarray:
    return np.array([*walked.CORNERS[name], 0.0], float)


def over_cheek(along: float) -> np.ndarray:
    """Where a plate of the dormer meets the main slope."""
    return np.array([along, walked.CHEEK / RISE, walked.CHEEK])


@pytest.mark.parametrize(
    ("line", "foot", "head", "more"),
    [
        ("hip-hip-ab-ga", corner("A"), meet("AB", "GA", "CE"), HIP_TAIL - HIP_AT_RIDGE),
        ("hip-hip-ab-bc", corner("B"), meet("AB", "BC", "CE"), HIP_TAIL - HIP_AT_RIDGE),
        ("hip-hip-bc-ce", corner("C"), meet("AB", "BC", "CE"), HIP_TAIL - HIP_AT_RIDGE),
        ("hip-between-hip-ce-ga", meet("CE", "GA", "EF"), meet("AB", "GA", "CE"), NO_TAIL),
        # a valley's tail is hollow: its faces meet the fascia half its thickness further down
        ("valley-valley-ce-ef", corner("E"), meet("CE", "EF", "GA"), HIP_TAIL - HIP_AT_RIDGE + 23.5 / np.cos(HIP)),
        ("valley-between-valley-ab-pq", over_cheek(8500), meet("AB", "PQ", "MN"), NO_TAIL),
        ("valley-between-valley-ab-mn", over_cheek(7000), meet("AB", "PQ", "MN"), NO_TAIL),
        ("ridge-ridge-ab-ce", meet("AB", "CE", "GA"), meet("AB", "CE", "BC"), 47),
        ("ridge-ridge-ef-ga", meet("EF", "GA", "CE"), meet("EF", "GA", "FG"), 47),
        ("ridge-ridge-mn-pq", meet("MN", "PQ", "AB"), meet("MN", "PQ", "NP"), 47),
    ],
)  # fmt: skip
def test_hips_valleys_and_ridges_are_as_long_as_from_point_to_point(
    line: str, foot: np.ndarray, head: np.ndarray, more: float, lines: tuple[Line, ...]
) -> None:
    """A hip less half a ridge on the skew, with its tail and plumb cut; a ridge half a rafter past both its ends."""
    [found] = [one.member for one in lines if one.id == line]
    assert found and found.count == 1
    assert found.length == pytest.approx(math.dist(foot, head) + more, abs=4)


@pytest.mark.parametrize(("side", "long"), [("a-b", 10404), ("b-c", 6206), ("c-e", 6212), ("e-f", 3603), ("g-a", 9804)])
def test_plates_are_alike_in_each_side_with_laps_of_their_width(side: str, long: int, lines: tuple[Line, ...]) -> None:
    """The fewest of no more than 6000 that make the side with laps of 100."""
    [found] = [one.member for one in lines if one.id == f"plate-{side}"]
    count = math.ceil((long - 100) / 5900)
    assert found and found.count == count
    assert found.length == pytest.approx((long + 100 * (count - 1)) / count, abs=1)


def test_every_line_of_the_list_is_counted_here(lines: tuple[Line, ...]) -> None:
    assert {line.id for line in lines if line.refusal} == {"hip-tails", "trimmers-dormer"}


def test_jacks_of_a_slope_are_numbered_by_hand_from_each_corner(lines: tuple[Line, ...]) -> None:
    """BC is 6206: jacks at 400 from both its corners, up to its common at 3102."""
    told = dict(set_out(lines, "metric"))

    def placed(hand: str) -> list[int]:
        return [int(mark.split(" at ")[1]) for mark in told[f"Jack on BC, {hand}, from the corner"].split(", ")]

    assert placed("right") == list(range(400, 2801, 400))
    assert placed("left") == [6206 - at for at in range(2800, 399, -400)]


@pytest.mark.parametrize("slope", ["AB", "BC", "CE", "GA", "EF"])
def test_a_slope_s_purlins_and_struts_are_on_the_list(slope: str, lines: tuple[Line, ...]) -> None:
    """Walked mm by mm where the slope is 1300 up. Spliced by 675 over struts at most 1800 apart; a hip takes 33 off an
    end, a valley adds 169 to it."""
    along = np.arange(-4000.0, 12000.0, 1.0)
    own = walked.is_own(slope, along, 1300 / RISE)
    turns = np.flatnonzero(np.diff(np.concatenate(([False], own, [False])).astype(int)))
    whole = turns[1::2] - turns[::2]
    pieces, struts = (
        [line.member.length for line in lines if line.member and line.id == f"{kind}-slope-{slope.lower()}"]
        for kind in LEVEL
    )
    assert len(struts) == sum(-int(-length // 1800) - 1 for length in whole)
    assert max(pieces) <= 4800
    assert sum(pieces) - 675 * (len(pieces) - len(whole)) == pytest.approx(sum(whole), abs=170 * 2 * len(whole))
