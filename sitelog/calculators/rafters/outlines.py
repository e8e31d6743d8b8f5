"""Four plates and the slopes over them, as the calculators of a whole roof ask for them."""

from sitelog.calculators.catalogue import Inputs, field
from sitelog.calculators.rafters.hip_cuts import FLATTEST, STEEPEST
from sitelog.calculators.setting_out.plates import adjusted, six
from sitelog.geometry.roof_lines import CORNERS, SIDES, Four
from sitelog.quantities.rounding import as_worked
from sitelog.refusal import Refusal


class OutlineInputs(Inputs):
    """Four plates by their six lengths, or by length and width: mm."""

    ab: float | None = field("length", "plate AB, outside", default=None, over=0)
    bc: float | None = field("length", "plate BC, outside", default=None, over=0)
    cd: float | None = field("length", "plate CD, outside", default=None, over=0)
    da: float | None = field("length", "plate DA, outside", default=None, over=0)
    ac: float | None = field("length", "diagonal AC", default=None, over=0)
    bd: float | None = field("length", "diagonal BD", default=None, over=0)
    length: float | None = field(
        "length", "length of AB, if the plates are square; instead of the six", default=None, over=0
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
    found = [every if one is None else one for one in own]
    for side, pitch in zip(SIDES, found, strict=True):
        if pitch is None:
            raise Refusal(f"{calculator} needs a pitch for {side.upper()}: give pitch= or pitch_{side}=")
    ab, bc, cd, da = (one for one in found if one is not None)
    return ab, bc, cd, da


def outline(
    calculator: str, lengths: tuple[float | None, ...], length: float | None, width: float | None
) -> tuple[list[tuple[float, float]], tuple[str, ...]]:
    """Corners A to D [mm] from four sides and two diagonals, or length and width; and what to doubt of them.

    Refusal if it is not the one or the other, whole, or if the six lengths close no outline.
    """
    names = ("ab", "bc", "cd", "da", "ac", "bd")
    missing = [name for name, one in zip(names, lengths, strict=True) if one is None]
    if length is not None and width is not None and len(missing) == 6:
        return [(0.0, 0.0), (length, 0.0), (length, width), (0.0, width)], ()
    if length is not None or width is not None or missing:
        wanted = f"; {', '.join(missing)} missing" if 0 < len(missing) < 6 else ""
        raise Refusal(f"{calculator}: give the six lengths {', '.join(names)}, or length and width{wanted}")
    ab, bc, cd, da, ac, bd = (one for one in lengths if one is not None)
    found = adjusted(six(ab, bc, cd, da, ac, bd), "II")
    misfit = max(map(abs, found.residuals))
    doubts = (
        ()
        if found.agrees
        else ((f"the six lengths don't agree by {as_worked(misfit)} mm. Check them with squareness first"),)
    )
    return [found.points[name.upper()] for name in CORNERS], doubts
