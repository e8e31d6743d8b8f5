"""Four plates and the slopes over them, as the calculators of a whole roof ask for them."""

from sitelog.calculators.catalogue import Inputs, field
from sitelog.calculators.rafters.hip_cuts import FLATTEST, STEEPEST
from sitelog.calculators.setting_out.plates import adjusted, six
from sitelog.geometry.roof_lines import CORNERS, SIDES, Four
from sitelog.left_out import given_or
from sitelog.quantities.rounding import as_worked
from sitelog.refusal import Refusal

SIX = ("ab", "bc", "cd", "da", "ac", "bd")  # the plates' sides and diagonals, as they are asked for


class OutlineInputs(Inputs):
    """Four plates by their six lengths, or by length and width: mm."""

    ab: float | None = field("length", "plate AB, outside", default=None, over=0)
    bc: float | None = field("length", "plate BC, outside", default=None, over=0)
    cd: float | None = field("length", "plate CD, outside", default=None, over=0)
    da: float | None = field("length", "plate DA, outside", default=None, over=0)
    ac: float | None = field("length", "diagonal AC", default=None, over=0)
    bd: float | None = field("length", "diagonal BD", default=None, over=0)
    length: float | None = field(
        "length", "length of AB, if the plates are square; in place of the six lengths", default=None, over=0
    )
    width: float | None = field("length", "length of BC, if the plates are square", default=None, over=0)

    @property
    def six(self) -> tuple[float | None, ...]:
        """The four sides and two diagonals [mm], those that were given."""
        return self.ab, self.bc, self.cd, self.da, self.ac, self.bd


class PitchesInputs(Inputs):
    """The pitches of four slopes: degrees, one for all or each its own."""

    pitch: float | None = field(
        "pitch", "pitch of every slope without one of its own", default=None, low=FLATTEST, high=STEEPEST
    )
    pitch_ab: float | None = field("pitch", "pitch of the slope over AB", default=None, low=FLATTEST, high=STEEPEST)
    pitch_bc: float | None = field("pitch", "pitch of the slope over BC", default=None, low=FLATTEST, high=STEEPEST)
    pitch_cd: float | None = field("pitch", "pitch of the slope over CD", default=None, low=FLATTEST, high=STEEPEST)
    pitch_da: float | None = field("pitch", "pitch of the slope over DA", default=None, low=FLATTEST, high=STEEPEST)

    @property
    def own_pitches(self) -> tuple[float | None, ...]:
        """Each slope's own pitch [deg], in the order of SIDES, where it has one."""
        return self.pitch_ab, self.pitch_bc, self.pitch_cd, self.pitch_da


def pitches_of(calculator: str, every: float | None, *own: float | None) -> Four:
    """Pitches [deg] in the order of SIDES: a slope's own, else the common one; Refusal if it has neither."""
    found = []
    for side, own_pitch in zip(SIDES, own, strict=True):
        pitch = given_or(own_pitch, every)
        if pitch is None:
            raise Refusal(f"{calculator} needs a pitch for {side.upper()}: give pitch= or pitch_{side}=")
        found.append(pitch)
    ab, bc, cd, da = found
    return ab, bc, cd, da


def outline(
    calculator: str, lengths: tuple[float | None, ...], length: float | None, width: float | None
) -> tuple[list[tuple[float, float]], tuple[str, ...]]:
    """Corners A to D [mm] from four sides and two diagonals, or length and width; and what to doubt of them.

    Refusal if it is not the one or the other, whole, or if the six lengths close no outline.
    """
    given = [side for side in lengths if side is not None]
    if length is not None and width is not None and not given:
        return [(0.0, 0.0), (length, 0.0), (length, width), (0.0, width)], ()
    if length is not None or width is not None or len(given) < 6:
        asked = f"give the six lengths {', '.join(SIX)}, or length and width"
        raise Refusal(f"{calculator}: {asked}{_missing(lengths)}")
    ab, bc, cd, da, ac, bd = given
    found = adjusted(six(ab, bc, cd, da, ac, bd), "II")
    corners = [found.points[name.upper()] for name in CORNERS]
    if found.agrees:
        return corners, ()
    misfit = as_worked(max(map(abs, found.residuals)))
    return corners, (f"the six lengths don't agree by {misfit} mm. Check them with squareness first",)


def _missing(lengths: tuple[float | None, ...]) -> str:
    """Which of the six are missing, where some are there."""
    missing = [name for name, side in zip(SIX, lengths, strict=True) if side is None]
    if 0 < len(missing) < 6:
        return f"; {', '.join(missing)} missing"
    return ""
