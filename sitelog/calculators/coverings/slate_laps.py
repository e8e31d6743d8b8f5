"""Printed headlaps of natural slates by size, pitch and exposure: suppliers' tables after BS 5534, at second hand."""

from typing import Literal

from msgspec import Struct

Rain = Literal["moderate", "severe"]

WET = 56.5  # l/m2 in one spell, from which a site is severe; the tables' own bound
LONGEST = {"moderate": 9000.0, "severe": 6000.0}  # mm of rafter that the laps are for; the third supplier's note
FLAT = 30.0  # deg, at which and under which a longer rafter falls short of them; the first supplier's note

_A = "slate supplier's table, after BS 5534 since 2003"
_B = "another supplier's, after BS 5534-1:1997"
_C = "a third supplier's, after BS 5534:2014"


class Laps(Struct, frozen=True):
    """One table's row of a size: each pitch [deg] from which a lap [mm] holds."""

    table: str
    rows: tuple[tuple[float, float], ...]

    @property
    def from_pitch(self) -> float:
        """The least pitch that is tabled, degrees."""
        return self.rows[0][0]

    def at(self, pitch: float) -> float:
        """The lap of the nearest row that is no steeper, mm; the pitch must not be under the least."""
        return [lap for row, lap in self.rows if row <= pitch][-1]


def _laps(table: str, pitches: str, laps: str) -> Laps:
    return Laps(table, tuple(zip(map(float, pitches.split()), map(float, laps.split()), strict=True)))


_ALL = "20 22.5 25 27.5 30 35 40 45"
_FROM_22, _FROM_25, _FROM_27, _FROM_30, _FROM_35 = (
    _ALL[_ALL.index(one) :] for one in ("22.5", "25", "27.5", "30", "35")
)
_SMALL_A = _laps(_A, _FROM_30, "80 70 60 55")
_SMALL_C = _laps(_C, _FROM_30, "80 70 60 55")
_SMALL_SEVERE = _laps(_A, _FROM_30, "100 90 80 70")

# Length x width [mm] of the slates that some table has.
SLATES: dict[tuple[float, float], dict[Rain, tuple[Laps, ...]]] = {
    (600, 300): {
        "moderate": (_laps(_A, _FROM_25, "95 85 80 70 60 55"),),
        "severe": (_laps(_A, _FROM_30, "120 110 90 85"), _laps(_B, _FROM_30, "100 90 80 70")),
    },
    (500, 300): {
        "moderate": (_laps(_A, _ALL, "115 105 95 85 80 70 60 55"),),
        "severe": (_laps(_A, _FROM_22, "130 120 110 100 90 80 70"),),
    },
    (500, 250): {
        "moderate": (
            _laps(_A, _FROM_25, "100 85 80 70 60 55"),
            _laps(_B, _FROM_25, "95 85 80 70 60 55"),
            _laps(_C, _FROM_25, "95 85 80 70 60 55"),
        ),
        "severe": (_laps(_A, _FROM_30, "120 105 100 95"), _laps(_B, _FROM_27, "110 100 90 80 70")),
    },
    (450, 220): {"moderate": (_SMALL_A, _SMALL_C), "severe": (_laps(_A, _FROM_30, "130 125 110 110"),)},
    (400, 250): {"moderate": (_SMALL_A, _laps(_B, _FROM_30, "80 70 60 55"), _SMALL_C), "severe": (_SMALL_SEVERE,)},
    (400, 220): {"moderate": (_SMALL_A, _SMALL_C), "severe": (_SMALL_SEVERE,)},
    (400, 200): {
        "moderate": (_SMALL_A, _laps(_B, _FROM_30, "80 70 60 55"), _SMALL_C),
        "severe": (_laps(_A, _FROM_35, "110 105 100"),),
    },
    (350, 200): {"moderate": (_SMALL_A, _SMALL_C), "severe": (_SMALL_SEVERE,)},
    (300, 200): {"moderate": (_SMALL_A, _SMALL_C), "severe": (_SMALL_SEVERE,)},
}
