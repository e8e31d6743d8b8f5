"""The timbers of the sample's dormer, deck and gutter, to the piece: counted and measured again from what was read.

The main roof is counted in test_members.py. Readings are those of sample_site/.
"""

import shutil
from collections import Counter
from pathlib import Path

import numpy as np
import pytest

from sitelog.job.job import Job
from sitelog.job.members import members
from tests import shipped

SAMPLE = Path(__file__).parent.parent.parent / "sample_site" / "kiln-lane.json"
Pieces = Counter[tuple[str, int]]  # section, length to the millimetre


@pytest.fixture(scope="module")
def listed(tmp_path_factory: pytest.TempPathFactory) -> dict[str, Pieces]:
    file = Path(shutil.copy(SAMPLE, tmp_path_factory.mktemp("sample") / "job.json"))
    library = shipped.library()
    found: dict[str, Pieces] = {}
    with Job.open(file, library, read_only=True) as job:
        for part in ("dormer", "deck", "gutter"):
            made = [line.member for line in members(job.state, library, part) if line.member]
            found[part] = Counter()
            for one in made:
                found[part][str(one.section), round(one.length)] += one.count
    return found


def along(length: float, spacing: float, edge: float = 0.0) -> int:
    """Timbers stood one by one from the first's centre, and one at the end however near."""
    at, count = edge, 0
    while at < length - edge - 1e-9:
        count, at = count + 1, at + spacing
    return count + 1


def test_the_deck_has_a_firring_on_every_joist(listed: dict[str, Pieces]) -> None:
    """5200 across, joists of 47 at 400, the first and last 50 off the wall; 3141 the other way; 1 in 40 over 20.

    The thick end of 95.525 is ripped from the next depth that a yard has, 100.
    """
    count = along(5200, 400, 50 + 47 / 2)
    assert 95 < 20 + 3141 / 40 < 100
    assert listed["deck"] == Counter({("47x195", 3141): count, ("47x100", 3141): count})


def test_the_gutter_has_a_rafter_a_bearer_and_two_plates_along_its_wall(listed: dict[str, Pieces]) -> None:
    """Run 3000 to the ridge's centre, ridge 38, board 21 behind the plate: plumb at both ends, at 35 degrees."""
    pitch = np.radians(35)
    up = np.array([np.cos(pitch), np.sin(pitch)])
    head, foot = 3000 - 38 / 2, -21
    top = [np.array([x, x * np.tan(pitch)]) for x in (foot, head)]
    under = [point - np.array([0, 150 / np.cos(pitch)]) for point in top]
    along_it = [float(point @ up) for point in (*top, *under)]
    rafter = max(along_it) - min(along_it)
    assert listed["gutter"] == Counter(
        {
            ("50x100", 7200): 2,
            ("38x150", 3600): 2,  # butted: the yard has no 7200 of it
            ("47x150", round(rafter)): along(7200, 400),
            ("47x75", 310): along(6000, 400),
        }
    )


def test_the_dormer_has_formers_bearers_and_noggins(listed: dict[str, Pieces]) -> None:
    """A circle through what was measured: 1765.5 over the face's plates, the formers 582 high on it; 700 to the slope.

    Bearers of 47 let in flush, square to the curve, at 400 or less along it: top arrises on the circle.
    """
    points = np.array([[-1765.5 / 2, 0.0], [1765.5 / 2, 0.0], [0.0, 582.0]])
    # The circle x^2 + y^2 + dx + ey + f = 0 through three points.
    d, e, f = np.linalg.solve(np.c_[points, np.ones(3)], -(points**2).sum(axis=1))
    radius = float(np.sqrt(d * d / 4 + e * e / 4 - f))
    half = np.arcsin(1765.5 / 2 / radius)
    segments = 1
    while radius - (radius - 170) * np.cos(half / segments) > 300:  # a ring 170 deep must come out of a board of 300
        segments += 1
    first = 47 / 2 / radius
    gaps = int(np.ceil(2 * (half - first) * radius / 400))
    turns = np.linspace(first - half, half - first, gaps + 1)
    arris = np.abs(turns) - np.arcsin(23.5 / radius)  # the one nearer the crown, or just past it
    heights = radius * np.cos(arris) - (radius - 582)
    lengths = 700 + heights / np.tan(np.radians(35))
    noggin = 2 * radius * np.sin((turns[1] - turns[0]) / 2 - np.arcsin(23.5 / radius))
    pieces = Counter({("22x300", round(2 * radius * np.sin(half / segments))): segments * 2 * 2, ("47x100", 700): 2})
    pieces += Counter(("47x75", round(length)) for length in lengths)
    pieces[("47x75", round(noggin))] += gaps * 2
    assert listed["dormer"] == pieces
