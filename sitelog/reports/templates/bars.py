"""What a printer does to a sheet, from the two bars of 100 mm on it, and what is done about it."""

from dataclasses import dataclass

from sitelog.quantities.quantity import read
from sitelog.quantities.rounding import places
from sitelog.refusal import Refusal

BAR = 100.0  # mm, each way
MOST = 0.03  # of it that a printer may be off
NEAREST = 0.0005  # of it: nobody reads a bar closer


@dataclass(frozen=True)
class Bars:
    """What the bar across and the bar up the sheet read on a sheet without a correction [mm]."""

    across: float = BAR
    up: float = BAR

    @property
    def factors(self) -> tuple[float, float]:
        """By how much a sheet is made larger across and up, so that it comes out true."""
        return BAR / self.across, BAR / self.up

    @property
    def says(self) -> str:
        """The correction, as the sheets have it."""
        if (self.across, self.up) == (BAR, BAR):
            return "no correction"
        return (
            f"corrected {_percent(BAR / self.across - 1)} across, {_percent(BAR / self.up - 1)} up"
            f" (bars read {places(self.across, 2)} and {places(self.up, 2)})"
        )

    @property
    def off(self) -> str:
        """By how much the printer is off each way."""
        ways = zip(("across", "up"), (self.across, self.up), strict=True)
        return f"The printer is off by {', '.join(f'{_percent(size / BAR - 1)} {way}' for way, size in ways)}"


def _percent(share: float) -> str:
    if abs(share) < NEAREST / 10:
        return "0%"
    return f"{'+' if share > 0 else '-'}{places(abs(share) * 100, 2)}%"


def bars(across: str, up: str) -> Bars:
    """Both readings as they were typed. Refusal for one that isn't a length, or is more than MOST off."""
    found = {}
    for name, typed in (("across", across), ("up", up)):
        size = read("length", typed, name=f"bar {name}")
        assert isinstance(size, float)
        if abs(size / BAR - 1) > MOST + 1e-9:
            raise Refusal(
                f"Bar {name} reads {places(size, 2)}: over 3% off 100. Print at 100% with no scaling, measure again "
                "and type both, such as --bars 99.4 100.2"
            )
        found[name] = size
    return Bars(**found)
