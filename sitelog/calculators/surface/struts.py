"""The struts of a roof's purlins as rows. What they and their bearings must be is the engineer's."""

from collections.abc import Sequence

from sitelog.calculators.catalogue import Output, Row
from sitelog.calculators.surface.inputs import ReadInputs
from sitelog.geometry.read_off.level_members import Purlin
from sitelog.geometry.read_off.struts import Bearing, Strut, struts
from sitelog.geometry.surface.surface import Surface
from sitelog.quantities.rounding import as_worked
from sitelog.refusal import Refusal

STRUTS = (
    Output("slope", "", "Slope"),
    Output("height", "mm", "Purlin at"),
    Output("n", "", "Strut"),
    Output("at", "mm", "Mark at, along the wall"),
    Output("along_purlin", "mm", "From the purlin's end"),
    Output("length", "mm", "Length on its middle"),
    Output("lean", "deg", "Lean from plumb"),
    Output("foot_cut_from_square", "deg", "Foot on the level, from square"),
    Output("head_cut_from_square", "deg", "Head to a purlin square to the rafters"),
)
ENGINEER = (
    "the engineer gives the struts' sections and spacing, what they stand on and how they are fixed; a ceiling joist "
    "or a partition isn't a bearing unless the drawing says so"
)


def struts_of(given: ReadInputs, found: Surface, laid: Sequence[Purlin]) -> list[Strut]:
    """Every strut; none without a spacing. Refusal for what is given without it, or without a purlin."""
    if given.struts is None:
        for name in ("strut_foot", "strut_in", "strut_head"):
            if getattr(given, name):
                raise Refusal(f"surface: with {name}= also give struts=, such as struts=1800")
        return []
    if not given.purlins:
        raise Refusal("surface: with struts= also give purlins=, such as purlins=1200")
    return struts(found, laid, Bearing(given.struts, given.strut_head, given.strut_foot, given.strut_in))


def strut_rows(found: Surface, every: Sequence[Strut]) -> list[Row]:
    """Lengths [mm], lean and cuts [deg]."""
    return [
        {
            "slope": found.slopes[one.slope].name,
            "height": one.purlin.height,
            "n": one.n,
            "at": one.at,
            "along_purlin": one.at - one.purlin.first,
            "length": one.length,
            "lean": one.lean,
            "foot_cut_from_square": abs(one.lean),
            "head_cut_from_square": one.head_cut,
        }
        for one in every
    ]


def told_of_struts(found: Surface, every: Sequence[Strut], laid: Sequence[Purlin]) -> tuple[str, ...]:
    """What to know before they are cut: whose they are, and the purlins that have none."""
    if not every:
        return ()
    held = {(one.slope, one.purlin.first, one.purlin.height) for one in every}
    bare = [
        f"{found.slopes[one.slope].name} at {as_worked(one.height)}"
        for one in laid
        if (one.slope, one.first, one.height) not in held
    ]
    short = (f"no strut under {', '.join(bare)}: no longer than the spacing",) if bare else ()
    return (ENGINEER, *short)
