"""Text to millimetres, degrees and back: the one grammar for what people type, and the only door to pint."""

from dataclasses import dataclass
from typing import Literal

Units = Literal["metric", "imperial"]


@dataclass(frozen=True)
class Section:
    """A timber section, thickness x depth in mm. `nominal` keeps a nominal inch name such as 2x6, if it was given so."""

    thickness: float
    depth: float
    nominal: str = ""

    def __str__(self) -> str:
        return f"{self.thickness:g}x{self.depth:g}"


@dataclass(frozen=True)
class Tie:
    """A measured length in mm between two named points."""

    start: str
    end: str
    length: float
