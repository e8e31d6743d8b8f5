"""The slopes of a part as the next trade sets them out: lengths, area, pitch, and the gauge that each one takes."""

from sitelog.geometry.roof_lines import SIDES
from sitelog.job.state.views import PartView
from sitelog.quantities.rounding import places
from sitelog.reports.brief.cut_roof import BUILDING, named_slopes
from sitelog.reports.brief.set_out import POINT, Roof, Slope, answers_of, set_out, views_of
from sitelog.reports.formatting import Formatter
from sitelog.reports.phrases import joined


def slopes(tell: Formatter, part: PartView) -> tuple[Slope, ...]:
    """Every slope of the part, by its plate; none for a part without slopes."""
    roof = Roof(tell, part, answers_of(tell, part))
    if BUILDING in roof.answers:
        return tuple(named_slopes(roof))
    return tuple(_slope(roof, side) for side in SIDES if roof.fact(f"slope_{side}"))


def _slope(roof: Roof, side: str) -> Slope:
    at_top = _top_fact(roof, side)
    top = 0.0 if at_top == POINT else roof.length(at_top)
    eaves, up = roof.length(f"eaves_{side}"), roof.length(f"slope_{side}")
    wide = None if top is None or eaves is None else (eaves + top) / 2
    return Slope(
        side=side.upper(),
        eaves=roof.told(f"eaves_{side}"),
        top=POINT if at_top == POINT else roof.told(at_top),
        up=joined([roof.told(f"slope_{side}"), _spread(roof, side)], " "),
        area="" if wide is None or up is None else places(wide * up / 1e6, 1),
        pitch=_pitch(roof, side),
        **set_out(roof, up, wide),
    )


def _top_fact(roof: Roof, side: str) -> str:
    """The fact that says how long the slope is at its top, at a ridge or a table; POINT where it comes to one."""
    for name in (f"ridge_{side}", f"flat_{side}"):
        if roof.fact(name):
            return name
    along = None
    if "roof" in roof.answers:
        along = roof.answers["roof"].results.get("ridge_along")
    if along is None:
        return ""
    if side.upper() in str(along).split():
        return "ridge"
    return POINT


def _read(roof: Roof, check: str, side: str) -> list[float]:
    """What was read of the slope in a check of the handover to the tiler, at one end or at both."""
    path = f"{roof.part.id}.tiler.{check}"
    if path in roof.tell.stale_paths:
        return []
    return [
        float(figure.value)
        for view in views_of(roof, "tiler")
        if view.path == path
        for figure in view.figures
        if figure.key.partition("_")[0] == side and isinstance(figure.value, (int, float))
    ]


def _spread(roof: Roof, side: str) -> str:
    """Least and most up the slope where it was read at two ends and they differ."""
    read = _read(roof, "slopes", side)
    if not read or max(read) - min(read) < 0.5:
        return ""
    return f"({roof.tell.figure('mm', min(read))} to {roof.tell.figure('mm', max(read))})"


def _pitch(roof: Roof, side: str) -> str:
    read = _read(roof, "pitches", side)
    if read:
        return joined(dict.fromkeys(roof.tell.figure("deg", value, typed=True) for value in read), " to ")
    return roof.told("pitch")
