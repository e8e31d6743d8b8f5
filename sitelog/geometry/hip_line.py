"""The line in which two roof slopes meet over a corner of the plates, and every angle cut to it.

A hip and a valley over plates at the same angle with the same pitches are the same line, one standing out and
one lying in, so both are worked from this. Worked by planes: any corner, any two pitches.
"""

from functools import cached_property
from typing import Literal

from msgspec import Struct

from sitelog.geometry.vectors import (
    UP,
    Plane,
    Vector,
    angle_between,
    angle_between_lines,
    atan2_deg,
    cos_deg,
    cross,
    dot,
    level,
    minus,
    plus,
    sin_deg,
    slope_over,
    times,
    unit,
)

Side = Literal[1, 2]
ORIGIN: Vector = (0.0, 0.0, 0.0)


class HipLine(Struct, frozen=True, dict=True):
    """Two slopes over a corner [deg, over 0 and under 180], at their pitches [deg].

    The corner is the origin. Side 2's plate runs off along x and side 1's to the left of it, as they lie to
    an eye outside the corner that looks at it. All directions are of unit length; all angles are in degrees.
    """

    corner: float
    pitch_1: float
    pitch_2: float

    def pitch(self, side: Side) -> float:
        """The side's pitch [deg]."""
        if side == 1:
            return self.pitch_1
        return self.pitch_2

    def plate(self, side: Side) -> Vector:
        """The plate's direction, away from the corner."""
        if side == 1:
            return (cos_deg(self.corner), sin_deg(self.corner), 0.0)
        return (1.0, 0.0, 0.0)

    def inward(self, side: Side) -> Vector:
        """The run of the side's common rafters: level, square to the plate, into the building."""
        x, y, _ = self.plate(side)
        if side == 1:
            return (y, -x, 0.0)
        return (-y, x, 0.0)

    def rafter(self, side: Side) -> Vector:
        """Up the side's common rafters."""
        return plus(times(cos_deg(self.pitch(side)), self.inward(side)), times(sin_deg(self.pitch(side)), UP))

    def slope(self, side: Side) -> Plane:
        """The plane of the side's slope, through the top outer edge of its plate."""
        # The outline is walked with the building on the left: in along side 1, out along side 2.
        if side == 1:
            return slope_over(self.plate(1), ORIGIN, self.pitch_1)
        return slope_over(ORIGIN, self.plate(2), self.pitch_2)

    @cached_property
    def up(self) -> Vector:
        """Up the hip: along both slopes at once."""
        along = unit(cross(self.slope(1).normal, self.slope(2).normal))
        if along[2] > 0:
            return along
        return times(-1, along)

    @cached_property
    def on_plan(self) -> Vector:
        """Up the hip as it shows on plan."""
        return unit(level(self.up))

    @cached_property
    def square_up(self) -> Vector:
        """Square to the hip in its own upright plane: the way the top edge of an unbacked hip faces."""
        return unit(minus(UP, times(dot(UP, self.up), self.up)))

    def across(self, side: Side) -> Vector:
        """Level and square to the hip, towards the side: the way its upright face on that side looks."""
        if side == 1:
            return cross(UP, self.on_plan)
        return cross(self.on_plan, UP)

    @property
    def pitch_of_hip(self) -> float:
        """The hip's pitch [deg]."""
        return atan2_deg(self.up[2], dot(self.up, self.on_plan))

    def plan_angle(self, side: Side) -> float:
        """Between hip and plate on plan. Over 90 the hip leads away from that side's rafters."""
        return angle_between(self.on_plan, self.plate(side))

    def backing(self, side: Side) -> float:
        """From the top edge of an unbacked hip down to the slope, seen along it; minus where it goes up."""
        normal = self.slope(side).normal
        return atan2_deg(dot(normal, self.across(side)), dot(normal, self.square_up))

    def drop(self, side: Side, thickness: float) -> float:
        """How far [mm, plumb] an arris of an unbacked hip of that thickness stands over the side's slope."""
        x, y, _ = times(thickness / 2, self.across(side))
        return -self.slope(side).height_over(x, y)

    def saw_tilt(self, side: Side) -> float:
        """Of the blade for a cut along the upright plane of the side's commons, the plumb line followed on the face.

        It is also the tilt for the side's jacks against the hip's face, followed on the face of the jack.
        """
        return angle_between_lines(self.plate(side), self.on_plan)

    def run_to(self, side: Side, at: float, face: float) -> float:
        """How far up the line from the corner, level [mm], a timber square to the plate `at` mm along it meets a face.

        The face is that of the hip or valley, `face` mm off its centre towards the plate, minus beyond it.
        """
        plan = self.plan_angle(side)
        return (at - face * sin_deg(plan)) / cos_deg(plan)

    def jack_length(self, side: Side, at: float, face: float) -> float:
        """Along a rafter of the side [mm], `at` mm along its plate from the corner, to the hip's face.

        `face` is how far [mm] that upright face stands from the hip's centre line towards the side. Only for
        a side whose plan angle is under 90: over that the rafter never meets the line.
        """
        across = self.across(side)
        return (at * dot(self.plate(side), across) - face) / -dot(self.rafter(side), across)
