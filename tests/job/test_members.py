"""The cutting list of a roof as built: to the piece, against the same roof drawn again in vectors with numpy."""

import shutil
from collections import Counter, defaultdict
from collections.abc import Iterator
from dataclasses import dataclass
from math import cos, hypot, radians, sin, tan
from pathlib import Path

import numpy as np
import numpy.typing as npt
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from sitelog.calculators.catalogue import Answer
from sitelog.calculators.rafters.jacks import jacks
from sitelog.calculators.rafters.roof import roof
from sitelog.calculators.setting_out.centres import centres, commons, laps
from sitelog.calculators.setting_out.squareness import squareness
from sitelog.calculators.timber.weights import mass
from sitelog.job.job import Job
from sitelog.job.members import Line, members
from sitelog.job.state.views import State
from tests.reports.site import Site
from tests.shipped import library

Vector = npt.NDArray[np.float64]
SAMPLE = Path(__file__).parent.parent.parent / "sample_site" / "kiln-lane.json"
UP: Vector = np.array([0.0, 0.0, 1.0])
SIDES = ("ab", "bc", "cd", "da")
# The sample's plates as read off the tape, and its timbers (sample_site/make.py).
TAPE = {"ab": 8996.0, "bc": 6003.0, "cd": 9007.0, "da": 6002.0, "ac": 10826.0, "bd": 10813.0}
PITCH, SPACING, THICK, RIDGE, DEEP, OVERHANG = 35.0, 400.0, 47.0, 38.0, 150.0, 300.0


@pytest.fixture(scope="module")
def sample(tmp_path_factory: pytest.TempPathFactory) -> State:
    file = tmp_path_factory.mktemp("sample") / "job.json"
    shutil.copy(SAMPLE, file)
    with Job.open(file, library(), read_only=True) as job:
        return job.state


@pytest.fixture(scope="module")
def lines(sample: State) -> tuple[Line, ...]:
    return members(sample, library(), "main")


# --- the same roof, drawn again -----------------------------------------------------------------------------------


@dataclass
class Plate:
    """One plate: its corner, its direction, the way into the building, and the plane of its slope."""

    corner: Vector
    end: Vector
    pitch: float

    @property
    def along(self) -> Vector:
        way: Vector = (self.end - self.corner) / np.linalg.norm(self.end - self.corner)
        return way

    @property
    def inward(self) -> Vector:
        return np.cross(UP, self.along)

    @property
    def normal(self) -> Vector:
        """Of the slope: square to the plate and to a rafter."""
        up = cos(radians(self.pitch)) * self.inward + sin(radians(self.pitch)) * UP
        return np.cross(self.along, up)

    def at(self, mark: float) -> Vector:
        return self.corner + mark * self.along

    def foot(self, point: Vector) -> float:
        """How far along the plate the point lies."""
        return float(np.dot(point - self.corner, self.along))

    def run(self, mark: float, through: Vector, square: Vector) -> float:
        """Level, from the mark, square to the plate, to the upright plane through a point with that level normal."""
        return float(np.dot(through - self.at(mark), square) / np.dot(self.inward, square))


def drawn(corners: list[Vector], pitch: float) -> tuple[list[Plate], Vector, Vector]:
    """The plates, and P and Q, where three slopes meet: solved as planes."""
    plates = [Plate(corners[n], corners[(n + 1) % 4], pitch) for n in range(4)]

    def meeting(*three: int) -> Vector:
        normals = np.array([plates[n].normal for n in three])
        return np.linalg.solve(normals, np.array([np.dot(plates[n].normal, plates[n].corner) for n in three]))

    return plates, meeting(3, 0, 2), meeting(0, 1, 2)


def walked(first: float, end: float) -> list[float]:
    """Marks from the first on, a spacing each, short of the end; the last midway where it would touch that."""
    marks = [first]
    while marks[-1] + SPACING < end - 1e-6:
        marks.append(marks[-1] + SPACING)
    if end - marks[-1] < THICK and len(marks) > 1:
        marks[-1] = (marks[-2] + end) / 2
    return marks


def level(vector: Vector) -> Vector:
    flat = vector * np.array([1.0, 1.0, 0.0])
    unit: Vector = flat / np.linalg.norm(flat)
    return unit


PAST = OVERHANG / cos(radians(PITCH)) + DEEP * tan(radians(PITCH))  # the tail, and the depth of the plumb cut


@dataclass
class Drawn:
    """The sample's roof as built, and every rafter on it walked and measured."""

    plates: list[Plate]
    p: Vector
    q: Vector

    def commons(self, side: int) -> Iterator[float]:
        """Overall lengths of the full commons, the slope walked from P's foot; of an end, its one common."""
        plate = self.plates[side]
        if side in (1, 3):
            top = self.q if side == 1 else self.p
            run = plate.run(plate.foot(top), top, plate.inward) - THICK / 2
            yield run / cos(radians(PITCH)) + PAST
            return
        square = np.cross(UP, level(self.q - self.p))
        face = self.p - np.sign(np.dot(square, plate.inward)) * square * RIDGE / 2
        start, end = plate.foot(self.p), plate.foot(self.q)
        way = np.sign(end - start)
        for mark in [*walked(0.0, abs(end - start)), abs(end - start)]:
            yield plate.run(start + way * mark, face, square) / cos(radians(PITCH)) + PAST

    def jacks(self, corner: int, side: int) -> Iterator[tuple[float, str]]:
        """Overall length to the long point, and its hand, of the jacks on a side of a corner's hip."""
        plate = self.plates[side]
        top = self.p if corner in (0, 3) else self.q
        here = self.plates[corner].corner
        square = np.cross(UP, level(top - here))
        towards = np.sign(np.dot(square, plate.at(0.5 * plate.foot(plate.end)) - here))
        face = here + towards * square * THICK / 2
        from_corner = side == corner
        far, room = plate.foot(plate.end), plate.foot(top)
        for away in walked(SPACING, room if from_corner else far - room):
            mark = away if from_corner else far - away
            runs = {offset: plate.run(mark + offset, face, square) for offset in (-THICK / 2, THICK / 2)}
            long = max(runs, key=lambda offset: runs[offset])
            # Up the rafter from its foot, the right hand is inward x up.
            hand = "right" if np.dot(long * plate.along, np.cross(plate.inward, UP)) > 0 else "left"
            yield runs[long] / cos(radians(PITCH)) + PAST, hand

    def hip(self, corner: int) -> float:
        """Overall length: from the fascias' meeting below the corner to the ridge's face, and the plumb cut's depth."""
        here, top = self.plates[corner].corner, self.p if corner in (0, 3) else self.q
        long = self.plates[0 if corner in (0, 1) else 2]
        line = top - here
        to_face = np.dot(line, long.inward) - RIDGE / 2  # the ridge runs along the long plate
        at_face = here + line * to_face / np.dot(line, long.inward)
        tail = here - line * OVERHANG / np.dot(line, long.inward)
        pitch = line[2] / hypot(line[0], line[1])
        return float(np.linalg.norm(at_face - tail) + 225.0 * pitch)


@pytest.fixture(scope="module")
def again() -> Drawn:
    """Drawn over the corners that the six lengths give; tests/calculators/test_squareness.py proves those."""
    fitted = squareness(**TAPE).results
    corners = [np.array([fitted[f"{name}_x"], fitted[f"{name}_y"], 0.0]) for name in "abcd"]
    return Drawn(*drawn(corners, PITCH))


def lengths(lines: tuple[Line, ...], id: str, hand: str = "") -> list[float]:
    return sorted(
        length
        for line in lines
        if line.id == id and line.member and line.member.head.hand == hand
        for length in [line.member.length] * line.member.count
    )


# --- the sample, to the piece -------------------------------------------------------------------------------------


@pytest.mark.parametrize(("id", "side"), [("commons-ab", 0), ("commons-cd", 2), ("crown-bc", 1), ("crown-da", 3)])
def test_the_commons_of_every_slope_are_those_drawn(lines: tuple[Line, ...], again: Drawn, id: str, side: int) -> None:
    assert lengths(lines, id) == pytest.approx(sorted(again.commons(side)), abs=1e-6)


@pytest.mark.parametrize("corner", range(4))
def test_the_jacks_of_every_corner_are_those_drawn_one_of_each_hand(
    lines: tuple[Line, ...], again: Drawn, corner: int
) -> None:
    both: dict[str, list[float]] = defaultdict(list)
    for side in (corner, (corner - 1) % 4):
        for length, hand in again.jacks(corner, side):
            both[hand].append(length)
    assert set(both) == {"left", "right"}
    for hand, drawn_lengths in both.items():
        assert lengths(lines, f"jacks-{'abcd'[corner]}", hand) == pytest.approx(sorted(drawn_lengths), abs=1e-6)


def test_hips_and_ridge_are_those_drawn(lines: tuple[Line, ...], again: Drawn) -> None:
    for corner, name in enumerate("abcd"):
        assert lengths(lines, f"hip-{name}") == pytest.approx([again.hip(corner)], abs=1e-6)
    assert lengths(lines, "ridge") == pytest.approx([float(np.linalg.norm(again.q - again.p)) + THICK], abs=1e-6)


def test_plates_lie_lapped_from_corner_to_corner(lines: tuple[Line, ...]) -> None:
    for side in SIDES:
        pieces = lengths(lines, f"plate-{side}")
        assert sum(pieces) - 100 * (len(pieces) - 1) == pytest.approx(TAPE[side])
        assert max(pieces) <= 4800


def test_nothing_is_in_the_list_but_what_was_drawn(lines: tuple[Line, ...], again: Drawn) -> None:
    """Rafters on the roof, walked: 9 pairs of commons, a common at each end, 7 pairs of jacks at each corner."""
    rafters = sum(line.member.count for line in lines if line.member and str(line.member.section) == "47x150")
    jacks_drawn = sum(1 for c in range(4) for s in (c, (c - 1) % 4) for _ in again.jacks(c, s))
    assert rafters == sum(1 for side in range(4) for _ in again.commons(side)) + jacks_drawn == 18 + 2 + 56
    rest = Counter(str(line.member.section) for line in lines if line.member)
    assert rest["47x225"] == 4 and rest["38x225"] == 1


def test_every_mass_is_the_calculator_s(lines: tuple[Line, ...]) -> None:
    assert sum(line.member is not None for line in lines) > 20
    for line in lines:
        if line.member:
            one = line.member
            told = mass(section=one.section, length=one.length, count=one.count, grade="C24")
            assert one.mass == pytest.approx(told.results["mass_each"], rel=1e-12)


# --- what a line stands on ----------------------------------------------------------------------------------------


def by_id(state: State) -> dict[str, Line]:
    return {line.id: line for line in members(state, library(), "main")}


def test_a_line_says_what_is_still_off_the_drawing() -> None:
    site = Site()
    assert by_id(site.state)["commons-ab"].standing == "drawn"
    assert set(by_id(site.state)["plate-ab"].waits) == {"ab"}
    assert by_id(site.state)["jacks-a"].waits == (
        *("ab", "ac", "bc", "bd", "cd", "da", "first_a"),
        *("hip_thickness", "rafter_thickness", "ridge_thickness", "span"),
    )


def test_a_line_is_built_once_all_under_it_is_measured(sample: State) -> None:
    found = by_id(sample)
    assert found["commons-ab"].standing == found["hip-c"].standing == found["ridge"].standing == "built"
    assert (found["jacks-a"].standing, found["jacks-a"].waits) == ("drawn", ("first_a",))


def test_what_the_list_can_not_hold_is_said(sample: State) -> None:
    assert by_id(Site().state)["openings"].refusal == "needs Openings cut into this roof (at main.openings.any)"
    assert by_id(sample)["openings"].refusal.startswith("the largest is worked at its check")


# --- a slope is filled --------------------------------------------------------------------------------------------

shapes = st.tuples(
    st.floats(5000, 14000), st.floats(3000, 4500), *[st.floats(-60, 60)] * 4, st.floats(15, 60), st.floats(300, 650)
)


@settings(max_examples=60, deadline=None)
@given(shapes, st.floats(150, 300))
def test_commons_and_jacks_fill_every_slope_and_none_stands_twice(
    shape: tuple[float, float, float, float, float, float, float, float], first: float
) -> None:
    """No bay is over a spacing, and no two are nearer than a thickness, over plates of any four corners."""
    length, width, bx, cx, cy, dy, pitch, spacing = shape
    corners = [np.array(xy) for xy in ((0, 0), (length + bx, 0), (length + cx, width + cy), (0, width + dy))]
    sides = {
        name: float(np.linalg.norm(corners[b] - corners[a]))
        for name, a, b in (("ab", 0, 1), ("bc", 1, 2), ("cd", 2, 3), ("da", 3, 0), ("ac", 0, 2), ("bd", 1, 3))
    }
    answer = roof(**sides, pitch=pitch)
    for side in range(4):
        marks = sorted(_marks(answer, corners, side, pitch, spacing, first))
        bays = np.diff(marks)
        assert max(bays) <= spacing + 1e-3
        assert min(bays) >= THICK - 1e-3


def _marks(
    answer: Answer, corners: list[Vector], side: int, pitch: float, spacing: float, first: float
) -> Iterator[float]:
    feet, slope = (row_of(answer, what, SIDES[side]) for what in ("feet", "slopes"))
    ends = ["pq", "q", "qp", "p"][side]
    length = float(np.linalg.norm(corners[(side + 1) % 4] - corners[side]))
    common = commons(
        first=feet[ends[0]], last=feet[ends[-1]], run=slope[f"run_at_{ends[0]}"], run_last=slope[f"run_at_{ends[-1]}"],
        pitch=pitch, spacing=spacing,
    )  # fmt: skip
    yield from (row["at"] for row in common.results["rows"])  # type: ignore[index, union-attr, misc]
    for corner, side_of, from_start in ((side, 2, True), ((side + 1) % 4, 1, False)):
        end = ends[0] if from_start else ends[-1]
        found = jacks(
            corner=row_of(answer, "hips", "abcd"[corner])["angle"], pitch=pitch, side=side_of, spacing=spacing,
            first=first, run=slope[f"run_at_{end}"],
        )  # fmt: skip
        for row in found.results["rows"]:  # type: ignore[union-attr]
            yield row["at"] if from_start else length - row["at"]  # type: ignore[index, misc, operator]


def row_of(answer: Answer, name: str, key: str) -> dict[str, float]:
    return next(row for row in answer.results[name] if next(iter(row.values())) == key)  # type: ignore[union-attr, misc]


@given(st.floats(500, 9000), st.floats(300, 650), st.floats(0, 60), st.floats(0, 60))
def test_centres_stand_at_both_ends_and_leave_no_bay_over_the_spacing(
    length: float, spacing: float, first: float, last: float
) -> None:
    rows = centres(length=length, spacing=spacing, first=first, last=last).results["rows"]
    marks = [row["at"] for row in rows]  # type: ignore[union-attr, index]
    assert marks[0] == pytest.approx(first) and marks[-1] == pytest.approx(length - last)
    bays = np.diff(np.array(marks, dtype=float))
    assert max(bays) <= spacing + 1e-6
    assert min(bays) >= THICK - 1e-6


@given(st.floats(300, 60_000), st.floats(0, 300), st.floats(1800, 7200))
def test_lapped_lengths_reach_from_end_to_end_and_one_fewer_would_not(
    length: float, lap: float, longest: float
) -> None:
    results = laps(length=length, lap=lap, longest=longest).results
    count, each = results["count"], results["length_each"]
    assert isinstance(count, int) and isinstance(each, float)
    assert count * each - (count - 1) * lap == pytest.approx(length)
    assert each <= longest + 1e-6
    assert count == 1 or (count - 1) * longest - (count - 2) * lap < length + 1e-6
