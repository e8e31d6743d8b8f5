"""Sticks of a roof with unlike pitches: put where it stands, each timber's marks are on what it is cut to.

A rafter is put on its slope at its mark, its head's centre on what it meets; then every other point of its top edge,
on its long face and its short one, has to be half a timber off the line there, or on the board.
"""

import math
from collections.abc import Iterator

import numpy as np
import pytest

from sitelog.calculators.catalogue import Answer, Row
from sitelog.calculators.setting_out.plates import weighed
from sitelog.geometry.building.named import Roof, roof_of
from sitelog.geometry.surface.lines import RoofLine
from sitelog.geometry.vectors import Vector
from sitelog.job.members import Line
from sitelog.job.sticks import MemberStick, stick_for, sticks
from sitelog.quantities.quantity import show_length
from sitelog.refusal import Refusal
from tests.calculators.results import cell, figure, rows
from tests.forms.test_cut_roof import taped
from tests.length import long
from tests.reports.site import Site
from tests.shipped import library

pytestmark = long  # the whole roof is walked up to its first pair

TEXT = (
    "main 9000x6000 40 BC 50; wing off CD 1100 from D 4000x4000 45 end gable; "
    "wing2 off DA 2100 from A 1900x1500 35 end gable; "
    "lean-to off AB 1000 from A 3000x2000 15 plate -1200; dormer off AB 5500 from A 1500x900 35 cheek 600"
)
LAID = ("da-jk", "da-lm")
HALF = {"hip": 25.0, "valley": 25.0, "ridge": 19.0, "step": 0.0}  # of what it is cut to [mm]
THICK, BOARD = 50.0, 25.0  # rafters and hips came 50 thick
Array = np.ndarray


@pytest.fixture(scope="module")
def site() -> Site:
    made = Site(parts=[("main", "Main roof", "cut-roof", {"building": TEXT, "design_mass": "70"})])
    laid = {f"main.{stage}.valley-{one}-made": {"value": "laid"} for one in LAID for stage in ("timber", "timber-2")}
    made.up_to("main.main-first-pair", {**laid, **taped(TEXT)})
    return made


@pytest.fixture(scope="module")
def roof(site: Site) -> Roof:
    ties = site.state.facts["main.taped"].now
    return roof_of(TEXT, tuple(weighed(ties, "II")))  # type: ignore[arg-type]


@pytest.fixture(scope="module")
def found(site: Site) -> tuple[MemberStick, ...]:
    return sticks(site.state, library(), "main")


@pytest.fixture(scope="module")
def marked(site: Site, found: tuple[MemberStick, ...]) -> list[tuple[Line, Answer]]:
    """Each line of the list with its stick; not the last bit in a corner, nor one that is cut to two timbers."""
    marks, bits = [], 0
    for line in (line for stick in found for line in stick.lines):
        try:
            marks.append((line, stick_for(site.state, library(), line)))
        except Refusal as refusal:
            assert any(why in refusal.message for why in ("short side", "two timbers")), line
            bits += 1
    assert bits <= 2
    return marks


def test_every_member_of_a_roof_with_unlike_pitches_has_its_stick(found: tuple[MemberStick, ...]) -> None:
    assert {(one.says, one.why) for one in found if not one.answer} == set()
    kinds = {one.lines[0].id.partition("-slope-")[0] for one in found}
    assert {"commons", "others"} < kinds
    for both in ("hip-jack", "valley-jack"):
        assert {f"{both}-left", f"{both}-right"} < kinds
    assert any(kind.startswith("cripple") for kind in kinds)
    named = {one.answer.inputs["kind"]: one.answer.inputs["foot"] for one in found if one.answer}
    assert {"hip", "valley", "valley-board"} < set(named)


def test_the_numbers_on_a_stick_are_those_of_the_list(marked: list[tuple[Line, Answer]]) -> None:
    """Of every line; a cut square to a tenth of a degree is marked square."""
    for line, answer in marked:
        assert line.member
        assert show_length(figure(answer, "overall_length")) == show_length(line.member.length), line.member.part
        for end, cuts in (("head", line.member.head), ("tail", line.member.foot)):
            for cheek, bevel, tilt in ((1, cuts.bevel, cuts.tilt), (2, cuts.bevel_2, cuts.tilt_2)):
                if bevel > 0.1:
                    assert figure(answer, f"{end}_bevel_{cheek}_from_square") == pytest.approx(bevel, abs=1e-6)
                    assert figure(answer, f"{end}_tilt_{cheek}") == pytest.approx(tilt, abs=1e-6)
        if line.member.foot.seat:
            assert figure(answer, "seat_cut_from_square") == pytest.approx(line.member.foot.seat, abs=1e-6)
        for shown in line.shows:
            if shown.says.startswith(("Drop", "Backing")):
                assert isinstance(shown.value, float)
                side = "1" if "1" in shown.says else "2"
                named = "drop" if shown.says.startswith("Drop") else "backing"
                assert figure(answer, f"{named}_{side}") == pytest.approx(shown.value, abs=1e-6)


def test_each_rafter_s_marks_are_on_what_it_is_cut_to(marked: list[tuple[Line, Answer]], roof: Roof) -> None:
    seen: set[tuple[str, str]] = set()
    for line, answer in marked:
        if line.row and "-slope-" in line.id and not is_at_a_point(roof, line):
            seen |= set(Stood(roof, line, answer).held())
    assert seen == {
        ("head", "hip"), ("head", "ridge"), ("head", "step"), ("tail", "valley"), ("tail", "plate"), ("tail", "board"),
    }  # fmt: skip


def is_at_a_point(roof: Roof, line: Line) -> bool:
    """A crown's common, at the end of a ridge that isn't its slope's; or one to fit at a verge."""
    slope = line.id.partition("-slope-")[2].upper()
    ridged = any(one.kind == "ridge" and slope in roof.found.line_name(one).split("-") for one in roof.found.lines)
    return (line.id.startswith("commons") and not ridged) or line.id == "others-slope-ef"


class Stood:
    """A rafter's stick put on its slope: its points by how far they are in from the wall and along it [mm]."""

    def __init__(self, roof: Roof, line: Line, answer: Answer) -> None:
        assert line.row
        self.roof, self.says, self.row = roof, line.says, line.row
        name = "slope-" + line.id.partition("-slope-")[2]
        self.place = next(one.place for one in roof.of("slopes") if one.id == name)
        self.slope = roof.found.slopes[self.place]
        right = 1 if answer.inputs["hand"] == "right" else -1
        self.across = {"long": right * THICK / 2, "short": -right * THICK / 2, "centre": 0.0, "face": 0.0}
        self.marks = [row for row in rows(answer, "rows") if str(row["point"]).endswith("-top")]
        self.kind = self.headed(line.id)
        self.shift, self.top = self.shifted()
        foot = next(row for row in self.marks if row["point"] == "tail-top" and row["line"] in ("centre", "face"))
        self.foot = self.met("valley", self.at(foot, self.shift)) if self.row["foot_on"] != "plate" else None

    def headed(self, named: str) -> str:
        """What its head meets."""
        if named.startswith(("hip-jack", "cripple")):
            return "hip"
        return "step" if named.startswith("others") else "ridge"

    def at(self, mark: Row, shift: float) -> Array:
        """A mark on plan, where the stick's point 0 is so far in from the wall."""
        start, along, inward = (np.array(one) for one in (self.slope.start, self.slope.along, self.slope.inward))
        into = shift - cell(mark, "at") * math.cos(math.radians(self.slope.pitch))
        found: Array = start[:2] + along * (cell(self.row, "at") + self.across[str(mark["line"])]) + inward * into
        return found

    def off(self, met: RoofLine, at: Array) -> float:
        """How far a point is from a line of the roof on plan, plus on its left [mm]."""
        start, end = (np.array(one[:2]) for one in self.ends(met))
        way = (end - start) / np.linalg.norm(end - start)
        return float(way[0] * (at - start)[1] - way[1] * (at - start)[0])

    def met(self, kind: str, at: Array) -> RoofLine:
        """The nearest line of that kind on its slope."""
        of_slope = [line for line in self.roof.found.lines if line.kind == kind and self.place in line.between]
        return min(of_slope, key=lambda line: _from_stretch(*self.ends(line), at))

    def ends(self, line: RoofLine) -> tuple[Vector, Vector]:
        """Both ends of a line of the roof [mm]."""
        return self.roof.found.points[line.start].at, self.roof.found.points[line.end].at

    def shifted(self) -> tuple[float, RoofLine]:
        """Where its head's centre is half of what it meets short of the line, and that line."""
        head = next(row for row in self.marks if row["point"] == "head-top" and row["line"] in ("centre", "face"))
        reached = []
        for line in self.roof.found.lines:
            if line.kind == self.kind and self.place in line.between:
                low, high = (self.off(line, self.at(head, shift)) for shift in (0.0, 1000.0))
                if abs(high - low) < 1.0:  # it runs up the slope, as a rafter does
                    continue
                short = min((way * HALF[self.kind] - low) / (high - low) * 1000 for way in (1, -1))
                if short > 1.0:
                    reached.append((short, line))
        return min(reached, key=lambda one: one[0])

    def held(self) -> Iterator[tuple[str, str]]:
        """What each point of its top edge was held to."""
        for mark in self.marks:
            point = self.at(mark, self.shift)
            if mark["point"] == "head-top":
                assert abs(self.off(self.top, point)) == pytest.approx(HALF[self.kind], abs=0.6), self.says
                yield "head", self.kind
            elif mark["point"] == "plate-top":
                assert self.slope.height(*point) == pytest.approx(self.slope.up, abs=1.0), self.says
                yield "tail", "plate"
            elif self.row["foot_on"] != "plate":
                yield self.footed(point)

    def footed(self, point: Array) -> tuple[str, str]:
        """Its foot on a valley rafter's face, or on the board over the other slope."""
        line = self.foot
        assert line
        other = self.roof.found.slopes[next(one for one in line.between if one != self.place)]
        over = self.slope.height(*point) - other.height(*point)
        if self.row["foot_on"] == "board":
            assert over * math.cos(math.radians(other.pitch)) == pytest.approx(BOARD, abs=0.6), self.says
            return "tail", "board"
        assert over > 0 and abs(self.off(line, point)) == pytest.approx(HALF["valley"], abs=0.6), self.says
        return "tail", "valley"


def _from_stretch(start: Vector, end: Vector, at: Array) -> float:
    """How far a point of the plan is from a line between two points [mm]."""
    one, two = np.array(start[:2]), np.array(end[:2])
    share = min(max((at - one) @ (two - one) / ((two - one) @ (two - one)), 0), 1)
    return float(np.linalg.norm(at - one - share * (two - one)))
