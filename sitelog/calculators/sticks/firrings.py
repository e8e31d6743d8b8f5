"""Sticks of firrings, the thin end the tail: with a plain bevel, or with cuts to diagonals and a ridge."""

from sitelog.calculators.catalogue import Working
from sitelog.calculators.sticks.bench import Mark
from sitelog.calculators.sticks.inputs import SticksInputs
from sitelog.calculators.sticks.straight import Straight, lines_of, named_cuts
from sitelog.calculators.timber.stick import RAFTER
from sitelog.quantities.rounding import as_typed
from sitelog.refusal import Refusal

RIP = "Rip the taper to its long point first, then cut the end"


def firring(working: Working, given: SticksInputs) -> Straight:
    """A firring, its thick end the head; `length` and `thick` are at its long point, `down` is from the top there.

    Refusal for one that tapers the wrong way, or whose cuts leave nothing of it.
    """
    length, thin, thick = given.need("length"), given.need("thin"), given.need("thick")
    if thin > thick:
        raise Refusal(f"sticks: thin is {as_typed(thin)}; it must be no more than thick, {as_typed(thick)}")
    rate = working.step("rate", "(thick - thin) / length", "", thick=thick, thin=thin, length=length)
    heads, tails = _bevelled(working, given, length) if given.middle is None else _to_the_plan(given, length)
    marks = [Mark(line, "head-top", along, (length - along) * rate) for line, along in heads.items()]
    marks += [Mark(line, "head-bottom", along, thick) for line, along in heads.items()]
    marks += [Mark(line, "tail-top", along, (length - along) * rate) for line, along in tails.items()]
    marks += [Mark(line, "tail-bottom", along, thick) for line, along in tails.items()]
    return Straight(marks, _angles(given), notes=() if given.middle is None else (RIP,))


def _angles(given: SticksInputs) -> dict[str, float]:
    """The bevels of both its ends [deg]."""
    angles = named_cuts(0.0, given.bevel)
    if given.bevel2 is not None:
        angles |= {"head_bevel_1_from_square": given.bevel, "head_bevel_2_from_square": given.bevel2}
    if given.point_back:
        angles |= {f"tail_bevel_{side}_from_square": given.tail_bevel for side in (1, 2)}
    return angles


def _bevelled(working: Working, given: SticksInputs, length: float) -> tuple[dict[str, float], dict[str, float]]:
    """How far from the thin end each line's head is [mm], and its tail: one straight bevel. Refusal if it takes all."""
    section = given.section or RAFTER
    across = working.step("bevel_back", "thickness * tan(bevel)", thickness=section.thickness, bevel=given.bevel)
    if across >= length:
        raise Refusal(f"sticks: its bevel takes all of a length of {as_typed(length)}. Check length= and bevel=")
    heads = {line: length - off for line, off in lines_of(across)}
    return heads, dict.fromkeys(heads, 0.0)


def _to_the_plan(given: SticksInputs, length: float) -> tuple[dict[str, float], dict[str, float]]:
    """The same by the lengths on its arrises, its centre and where its cut turns, longest first.

    Refusal for one that is longer than its long point, or none of which is left.
    """
    told = {"turn": given.turn_along, "centre": given.middle, "left": given.left, "right": given.right}
    if not given.turn_across:
        told.pop("turn")  # it is on the centre, or there is none
    heads = {line: along for line, along in told.items() if along}
    most = max(heads.values(), default=0.0)
    if not heads or most > length + 0.5:
        raise Refusal(
            f"sticks: {as_typed(most)} on one line, and its long point is at {as_typed(length)}. Check length="
        )
    longest_first = sorted(heads.items(), key=lambda line: -line[1])
    tails = {line: given.point_back if line in ("left", "right") else 0.0 for line, _ in longest_first}
    return dict(longest_first), tails
