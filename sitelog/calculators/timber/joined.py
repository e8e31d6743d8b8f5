"""Timbers that are joined out of several: in how many pieces they are ordered, and how long each is with its joints."""

import math

from msgspec import Struct

NEAR = 1e-6  # mm


class Joint(Struct, frozen=True):
    """How a timber is joined: each piece laps the next by `lap` [mm], and there are at least so many `pieces`."""

    lap: float
    pieces: int = 1

    def count(self, whole: float, longest: float) -> int:
        """The fewest pieces that make a whole [mm] from sticks of that length [mm]; 1 where no stick makes a joint."""
        if whole <= longest + NEAR or longest <= self.lap:
            return self.pieces
        return max(self.pieces, math.ceil((whole - self.lap) / (longest - self.lap) - NEAR))

    def whole_of(self, length: float, count: int) -> float:
        """How long [mm] the whole is that so many pieces of that length [mm] make."""
        return count * length - (count - 1) * self.lap

    def each(self, whole: float, count: int) -> float:
        """How long [mm] each of so many pieces is, all alike."""
        return (whole + (count - 1) * self.lap) / count


class Joined(Struct, frozen=True):
    """What an order takes in pieces: each `length` [mm] long, their joints of `lap` [mm] with them."""

    says: str
    count: int
    length: float
    lap: float
