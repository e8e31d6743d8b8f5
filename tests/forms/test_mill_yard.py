"""The second sample, an L said block by block: made the same each time, sound, and its timbers counted another way.

Rafters are walked here over planes laid on the plates as taped: the lower of the planes of a block, the higher of the
two blocks. Readings are those of sample_site/cut_roof.py; a mark stands every 400 from a wall's first corner.
"""

import shutil
import subprocess
import sys
from pathlib import Path

import numpy as np
import pytest

from sitelog.checklist.schema.shipped import sample_folder
from sitelog.job.job import Job
from sitelog.job.members import members
from sitelog.job.storage.verify import verify
from sitelog.reports.timber.entries import set_out
from tests import shipped

SAMPLE = sample_folder() / "mill-yard.json"
# Where the corners are by the tape [mm]: the sides and ties read are the distances between them, to the mm.
TAPED = {"A": (0, 0), "B": (10404, -3), "C": (10409, 6203), "E": (4197, 6208), "F": (4203, 9811), "G": (-2, 9804)}
MAIN, WING = ("AB", "BC", "CE", "GA"), ("EF", "GA")
PITCH = np.radians(40)
RISE = np.tan(PITCH)
TAIL = 300 / np.cos(PITCH) + 150 * RISE  # the overhang up the slope, and the plumb cut of a rafter of 150
STEP = 1.0  # mm of plan


@pytest.fixture(scope="module")
def listed(tmp_path_factory: pytest.TempPathFactory) -> list[tuple[str, str, float]]:
    """Kind, slope and length [mm] of each rafter on the list."""
    file = Path(shutil.copy(SAMPLE, tmp_path_factory.mktemp("sample") / "job.json"))
    with Job.open(file, shipped.library(), read_only=True) as job:
        lines = [line for line in members(job.state, shipped.library(), "roof") if line.member and "-slope-" in line.id]
    drawn = {line.id.rpartition("-")[2] for line in lines if line.standing != "built"}
    assert drawn == {"jk", "mn", "pq"}, "the lean-to and the dormer aren't taped yet: the rest doesn't wait for them"
    found = []
    for line in lines:
        kind, _, slope = line.id.partition("-slope-")
        assert line.member
        found += [(kind, slope.upper(), line.member.length)] * line.member.count
    return found


def wall(name: str) -> tuple[np.ndarray, np.ndarray, np.ndarray, float]:
    """Its first corner, the way along it, the way in from it, and its length [mm]."""
    start, end = (np.array(TAPED[corner], float) for corner in name)
    along = (end - start) / np.linalg.norm(end - start)
    return start, along, np.array([-along[1], along[0]]), float(np.linalg.norm(end - start))


def height(name: str, points: np.ndarray) -> np.ndarray:
    """Of a wall's plane over the plates, at points of the plan [mm]."""
    start, _, inward, _ = wall(name)
    found: np.ndarray = (points - start) @ inward * RISE
    return found


def runs(name: str) -> list[tuple[float, float]]:
    """Where each rafter of a slope begins and ends in plan [mm], square in from its wall, walked mm by mm."""
    start, along, inward, _ = wall(name)
    out = np.arange(STEP / 2, 4000, STEP)
    found = []
    for number in range(-12, 27):
        points = start + along * 400 * number + inward * out[:, None]
        main = np.min([height(side, points) for side in MAIN], axis=0)
        wing = np.min([height(side, points) for side in WING], axis=0)
        # The wing goes from its gable, give or take its being out of square, to the ridge of the main roof.
        of_wing = (height("FG", points) > -15 * RISE) & (height("CE", points) < height("AB", points))
        top = np.maximum(main, np.where(of_wing, wing, -1.0))
        own = out[(np.abs(height(name, points) - top) < 1e-6) & (top > 0)]
        if len(own) > 20:
            found.append((own[0] - STEP / 2, own[-1] + STEP / 2))
    return found


def test_the_sample_is_what_its_script_makes(tmp_path: Path) -> None:
    folder = SAMPLE.parent
    said = (
        f"import sys; sys.path.insert(0, {str(folder)!r}); import make; from pathlib import Path; "
        f"make.make(Path({str(tmp_path / SAMPLE.name)!r}), make.MILL_YARD, make.MILL_DAYS)"
    )
    subprocess.run([sys.executable, "-c", said], check=True)
    assert (tmp_path / SAMPLE.name).read_bytes() == SAMPLE.read_bytes()
    assert verify(SAMPLE) == []


@pytest.mark.parametrize("slope", ["BC", "CE", "GA", "EF"])
def test_each_rafter_of_a_slope_is_on_the_list_once(slope: str, listed: list[tuple[str, str, float]]) -> None:
    """Half a ridge of 38 off a common; a hip or valley of 47 and the rafter's long side come to less than 20 an end."""
    own = sorted(length for _, where, length in listed if where == slope)
    lines = sorted((high - low) / np.cos(PITCH) + (TAIL if low < 5 else 150 * RISE) for low, high in runs(slope))
    assert len(own) == len(lines)
    assert own == pytest.approx(lines, abs=40)


@pytest.mark.parametrize("slope, most", [("CE", 3100), ("EF", 2090), ("GA", 2090)])
def test_commons_are_cut_for_the_plates_as_taped(slope: str, most: float, listed: list[tuple[str, str, float]]) -> None:
    """From the wall to half a ridge of 38 short of the ridge; each for its own mark: the walls aren't parallel."""
    commons = sorted(length for kind, where, length in listed if where == slope and kind == "commons")
    whole = [high for low, high in runs(slope) if low < 5 and most < high < most + 20]
    assert commons == pytest.approx(sorted((high - 19) / np.cos(PITCH) + TAIL for high in whole), abs=3)


def test_no_rafter_is_longer_than_the_longest_slope(listed: list[tuple[str, str, float]]) -> None:
    """The one beside a gable out of square runs whole up it: the verge doesn't cut off what stands at 3600 of 3603."""
    longest = 3106 / np.cos(PITCH) + TAIL
    assert max(length for _, _, length in listed) < longest
    assert not [one for one in listed if one[:2] == ("others", "EF")]


def test_the_lean_to_has_a_rafter_every_400_along_its_3000(listed: list[tuple[str, str, float]]) -> None:
    """1800 out at 25 degrees, with a tail of 300 and the plumb cut of 150; both ends of its wall as drawn."""
    pitch = np.radians(25)
    found = [length for _, slope, length in listed if slope == "JK"]
    assert found == pytest.approx([2100 / np.cos(pitch) + 150 * np.tan(pitch)] * len(range(0, 3001, 400)), abs=1)


def test_left_and_right_jacks_of_a_slope_are_set_out_each_by_their_own_marks(tmp_path: Path) -> None:
    """BC is 6206: jacks at 400 to 2800 up its first hip, and at 3200 to 6000 up the other, nothing left out."""
    file = Path(shutil.copy(SAMPLE, tmp_path))
    with Job.open(file, shipped.library(), read_only=True) as job:
        told = dict(set_out(members(job.state, shipped.library(), "roof"), "metric"))
    marks = {lead: [int(mark.split(" at ")[1]) for mark in said.split(", ")] for lead, said in told.items()}
    assert marks["Jack on BC, right, from the corner"] == list(range(400, 2801, 400))
    assert marks["Jack on BC, left, from the corner"] == list(range(3200, 6001, 400))
