"""The metals a roof is lined with: mass, movement, and how large a piece may be.

The largest pieces of lead are from memory of the joint-spacing tables that go with BS 6915:2001+A1, the lesser figure
where two were told; those of copper are read in another country's code. A figure from memory guides, and never fails
anything.
"""

from typing import Literal

from msgspec import Struct
from msgspec.structs import replace

from sitelog.calculators.catalogue import field
from sitelog.quantities.rounding import as_typed
from sitelog.refusal import Refusal

Standing = Literal["read", "memory"]

_LEAD_TABLES = "BS 6915:2001+A1, joint spacing"
_COPPER_BAYS = "another country's copper code, based on CP 143-12:1970"


class Largest(Struct, frozen=True):
    """The largest piece [mm]: `girth` across, or round a gutter, and `length` between drips or laps."""

    girth: float
    length: float
    source: str = _LEAD_TABLES
    standing: Standing = "memory"


class Least(Struct, frozen=True):
    """The flattest finished fall of a sole, as a ratio, where it comes from, and who has the last word on it."""

    fall: float
    source: str
    trade: str
    standing: Standing


class Metal(Struct, frozen=True):
    """A sheet: kg/m2, growth per K, and the largest piece for each use; `steep` is for pitches over 60 degrees."""

    label: str
    mass: float
    mass_source: str
    mass_standing: str
    growth: float
    largest: dict[str, Largest]
    least: Least
    drip: float  # mm, the step that its finish asks for
    steep: float | None = None

    def piece(self, calculator: str, use: str, pitch: float | None) -> Largest:
        """The largest piece for a use; pitched over 60 degrees, or at a pitch not told, the lesser length.

        Refusal for a use that the sheet is not laid in.
        """
        if use not in self.largest:
            raise Refusal(
                f"{calculator}: {self.label} is for {' and '.join(self.largest)} roofs only, so not use={use}"
            )
        found = self.largest[use]
        if use == "pitched" and self.steep is not None and (pitch is None or pitch > 60):
            return Largest(found.girth, self.steep)
        return found


_LEAD_FALL = Least(1 / 80, "a handbook page on lead gutters", "leadworker", "read")
_COPPER_FALL = Least(1 / 60, "CP 143-12:1970, from memory", "coppersmith", "memory")


def _lead(code: int, mass: float, **sizes: tuple[float, float]) -> Metal:
    """Growth 29e-6 a K (read; 26e-6 to 29e-6 seen); mass by BS EN 12588's table as trade pages list it (read).

    Code 6 is printed as 30.10; 30.05 is its 2.65 mm at 11340 kg/m3, the usual handbook figure.
    """
    largest = {use: Largest(*size) for use, size in sizes.items()}
    steep = min(sizes["pitched"][1], 2250.0)
    standing = "memory" if code == 6 else "read"
    return Metal(f"lead code {code}", mass, "BS EN 12588 code table", standing, 29e-6, largest, _LEAD_FALL, 50, steep)


def _copper(thickness: float, mass: float) -> Metal:
    """Growth 17e-6 a K (read); mass by the copper trade association's publication 156, 2002, p. 2 (read)."""
    bay = Largest(600, 1800, _COPPER_BAYS, "read")
    uses = ("flat", "pitched", "gutter", "cladding")
    source = "Copper roofing in detail, 2002"
    return Metal(
        f"copper {as_typed(thickness)} mm", mass, source, "read", 17e-6, dict.fromkeys(uses, bay), _COPPER_FALL, 65
    )


def _long_strip(thickness: float, mass: float) -> Metal:
    """Copper in one length down the slope, under sliding clips; another country's code of practice, 15.4.2.3 (read)."""
    strip = Largest(500, 10_000, "another country's copper code, 15.4.2.3", "read")
    return replace(
        _copper(thickness, mass),
        label=f"copper {as_typed(thickness)} mm, long strip",
        largest={"flat": strip, "pitched": strip},
    )


LEAD = {
    4: _lead(4, 20.41, flat=(500, 1500), pitched=(500, 1500), gutter=(750, 1500), cladding=(500, 1500)),
    5: _lead(5, 25.40, flat=(600, 2000), pitched=(600, 2000), gutter=(800, 2000), cladding=(600, 2000)),
    6: _lead(6, 30.05, flat=(675, 2250), pitched=(675, 2250), gutter=(850, 2250), cladding=(600, 2000)),
    7: _lead(7, 35.72, flat=(675, 2500), pitched=(675, 2400), gutter=(900, 2500), cladding=(650, 2250)),
    8: _lead(8, 40.26, flat=(700, 3000), pitched=(750, 2500), gutter=(1000, 3000), cladding=(700, 2250)),
}
COPPER = {0.6: _copper(0.6, 5.45), 0.7: _copper(0.7, 6.35)}
# A finish is chosen by these names; each says code or thickness with the metal.
_NAMED = {f"lead-code-{code}": metal for code, metal in LEAD.items()} | {
    "copper-06": COPPER[0.6],
    "copper-07": COPPER[0.7],
    "copper-long-strip": _long_strip(0.6, 5.45),
}

METAL = field("choice", "lead (give code) or copper (give thickness)", choices=("lead", "copper", *_NAMED))
CODE = field("count", "code of lead, 4 to 8", default=None)
THICKNESS = field("length", "thickness of copper, 0.6 if left out", default=None)


def metal_of(calculator: str, metal: str, code: int | None, thickness: float | None) -> Metal:
    """The sheet that is meant; Refusal if code or thickness is none that is kept, or not of that metal."""
    if metal in _NAMED and (code, thickness) == (None, None):
        return _NAMED[metal]
    if metal == "lead" and thickness is None:
        return _lead_of(calculator, code)
    if metal == "copper" and code is None:
        return _copper_of(calculator, thickness or 0.6)
    raise Refusal(f"{calculator}: give code= with metal=lead, or thickness= with metal=copper, not both")


def _lead_of(calculator: str, code: int | None) -> Metal:
    if code is None or code not in LEAD:
        given = "is left out" if code is None else f"is {code}"
        raise Refusal(f"{calculator}: code {given}; give code=4, 5, 6, 7 or 8")
    return LEAD[code]


def _copper_of(calculator: str, thickness: float) -> Metal:
    if thickness not in COPPER:
        raise Refusal(f"{calculator}: thickness is {as_typed(thickness)}; for copper give thickness=0.6 or 0.7")
    return COPPER[thickness]
