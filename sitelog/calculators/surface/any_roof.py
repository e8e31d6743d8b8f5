"""Any roof over any plan: slopes, lines, points, timbers and covering, all read off one surface."""

from collections.abc import Iterator

from sitelog.calculators.catalogue import Outcome, Output, Result, Row, Shape, Working, calculator
from sitelog.calculators.surface import coverings, measured, shown, struts, timbers
from sitelog.calculators.surface.inputs import ReadInputs, SurfaceInputs
from sitelog.geometry.surface.plan_text import read_plan
from sitelog.geometry.surface.planned import planned
from sitelog.geometry.surface.short_lines import come_and_gone, short_lines
from sitelog.geometry.surface.surface import Surface, surface
from sitelog.quantities.quantity import show_angle
from sitelog.quantities.rounding import as_worked

SHORT = (
    Output("line", "", "Short line"),
    Output("length", "mm", "Length"),
    Output("slope", "", "Lift slope"),
    Output("lift", "deg", "By"),
)
# What `building` tells of its roof as well.
TOTALS = (
    Output("plan_area", "m2", "Area on plan"),
    Output("area", "m2", "Area of the slopes"),
    Output("volume", "m3", "Volume under it"),
)
SURFACE_ROWS = (
    Output("points", "", "Points", shown.POINTS),
    Output("slopes", "", "Slopes", shown.SLOPES),
    Output("lines", "", "Lines", shown.LINES),
    Output("sheds", "", "Slopes that drain on to others", shown.SHEDS),
)
TIMBER_ROWS = (
    Output("lengths", "", "Taped lengths", measured.LENGTHS),
    Output("rafters", "", "Rafters", timbers.RAFTERS),
    Output("cuts", "", "Cuts of the rafters", timbers.CUTS),
    Output("purlins", "", "Purlins", timbers.PURLINS),
    Output("struts", "", "Struts", struts.STRUTS),
    Output("collars", "", "Collars", timbers.COLLARS),
    Output("covering", "", "Covering", coverings.COVERING),
)
MOST_NAMED = 6  # lines named in a note


@calculator(
    "surface",
    SurfaceInputs,
    branch="rafters",
    does="Any roof over any plan: slopes, lines, rafters, covering",
    results=(
        *TOTALS,
        *SURFACE_ROWS,
        Output("short_lines", "", "Short lines, and how to lose them", SHORT),
        *TIMBER_ROWS,
    ),
    basis="geometry; plates as the least-squares fit of their taped lengths",
    definition=(
        "The plan is points in mm, then blocks, each with its walls anticlockwise from above: AB 40 is a slope at 40 "
        "degrees over the wall from A to B, AB 40 +300 from a plate 300 up, AB gable and AB against stop the block "
        "upright, AB gable in 1000 sets it in, XY =AB takes AB's plane, XY gable =AB is in AB's line. A wall named "
        "twice in a block gives the lower of two planes. A block is under all its planes and inside all its wall "
        "lines; the roof is the highest of its blocks. In place of blocks give one loop: loop AB 40, BC 40, ...; "
        "one that turns in is split into blocks where a second way of working it out agrees. "
        "Lengths are on the measuring line, between the points where lines meet. A hip, valley or ridge is where two "
        "slopes meet, a step where one block is higher than another on a line of the plan. Rafters are upright to "
        "their wall, every spacing from its first point, or from where the origin is square to it; set out from the "
        "last, the middle or evened they share each slope, with one at both its ends; in pairs those of both slopes of "
        "a hip or valley stand opposite, from its foot, and the bay that closes up is at most 10 over the spacing. One "
        "of which nothing is left on its short side is left out. Less hips and ridge takes off "
        "half of each. Struts part a purlin into equal bays, none at its ends; each is in the upright plane "
        "square to its wall, and its length is on its middle line. Volume is over the datum. Areas of openings "
        "are taken off the covering alone."
    ),
    example=(
        "plan='A 0,0; B 9000,0; C 9000,6000; D 4000,6000; E 4000,10000; F 0,10000; main AB 40, BC 40, CD 40, FA 40; "
        "wing AB 40, DE 40, EF gable, FA 40' spacing=400 purlins=1200 struts=1800 collars=1500 overhang=300 verge=100 "
        "gauge=300 cover_width=300"
    ),
)
def any_roof(given: SurfaceInputs) -> Outcome:
    """Lengths and places in mm, angles in degrees, areas in m2, volume in m3.

    Refusal, by name, for a point, a wall, a block or an opening that can't be, and for lengths that make no shape.
    """
    typed = read_plan(given.plan)
    fit = measured.fitted(typed.points, given.ties, given.tape)
    found = surface(planned(typed, fit.points if fit else None))
    drawn = surface(planned(typed)) if fit else found
    working = Working()
    results, shapes, told = read_off(working, given, found)
    results["lengths"] = measured.length_rows(given.ties, fit)
    notes = (*measured.doubts(given.ties, fit, given.tape), *changes(drawn, found), *notes_on(found), *told)
    return Outcome(results, working, cautions=cautions_of(given, found), notes=notes, shapes=shapes)


def cautions_of(given: ReadInputs, found: Surface) -> tuple[str, ...]:
    """What the engineer must say of: what carries hips and valleys, and what purlins and collars are for."""
    carried = ("hip-engineer",) if any(line.kind in ("hip", "valley") for line in found.lines) else ()
    return (*carried, "untied-eaves") if given.purlins or given.collars else carried


def read_off(
    working: Working, given: ReadInputs, found: Surface, later: tuple[str, ...] = ()
) -> tuple[dict[str, Result], dict[str, Shape], tuple[str, ...]]:
    """All that is read off a surface, as results, as shapes and in words: areas [m2], lines, timbers, covering [mm]."""
    results, shapes = _read(working, found)
    timber_results, timber_shapes, told = _timbers(given, found, later)
    return results | timber_results, shapes | timber_shapes, told


def _read(working: Working, found: Surface) -> tuple[dict[str, Result], dict[str, Shape]]:
    """What is read off the surface itself."""
    slopes, lines = shown.slope_rows(working, found), shown.line_rows(working, found)
    results: dict[str, Result] = {
        "plan_area": working.note("plan_area", "of all slopes on plan", found.plan_area / shown.M2, "m2"),
        "area": working.note("area", "of all slopes", sum(float(row["area"] or 0) for row in slopes), "m2"),
        "volume": working.note("volume", "each slope's area by its mean height", found.volume / shown.M3, "m3"),
        "points": shown.point_rows(found),
        "slopes": slopes,
        "lines": lines,
        "sheds": shown.shed_rows(found),
        "short_lines": _short_rows(found),
    }
    return results, shown.surface_shapes(found, slopes, lines)


def _timbers(
    given: ReadInputs, found: Surface, later: tuple[str, ...]
) -> tuple[dict[str, Result], dict[str, Shape], tuple[str, ...]]:
    """Rafters, level members, struts and the covering, and what is to be known of them."""
    openings = timbers.openings_of(given, found)
    drawn = timbers.rafters_of(given, found, openings, later=later)
    every = timbers.left_of(given, drawn)
    rafters = timbers.rafter_rows(given, found, every)
    level = timbers.level_rows(given, found, every)
    laid = level["purlins"][1]
    under = struts.struts_of(given, found, laid)
    level["struts"] = struts.strut_rows(found, under), under
    cover = coverings.covered_surface(given, found)
    covering, courses = coverings.covering_rows(given, cover, openings)
    results: dict[str, Result] = {"rafters": rafters, "cuts": timbers.cut_rows(found, every), "covering": covering}
    shapes: dict[str, Shape] = {"rafters": timbers.rafter_shapes(rafters, every), "courses": courses}
    for name, (rows, members) in level.items():
        results[name] = rows
        shapes[name] = [
            {**row, "from": list(one.start), "to": list(one.end)} for row, one in zip(rows, members, strict=True)
        ]
    shown_covering = [place for place, rings in enumerate(cover.rings) if rings]
    shapes["covering"] = [
        {**row, **shown.outlines(cover, place)} for row, place in zip(covering, shown_covering, strict=True)
    ]
    shapes["openings"] = [
        {"slope": found.slopes[one.slope].name, "flat": [list(point) for point in one.ring]} for one in openings
    ]
    told = timbers.told_of_tails(given, found, drawn)
    return results, shapes, (*told, *struts.told_of_struts(found, under, laid))


def _short_rows(found: Surface) -> list[Row]:
    return [
        {
            "line": found.line_name(found.lines[one.line]),
            "length": found.lines[one.line].length,
            "slope": found.slopes[one.slope].name,
            "lift": one.lift,
        }
        for one in short_lines(found)
    ]


def changes(drawn: Surface, found: Surface) -> Iterator[str]:
    """What came or went because of what was measured."""
    come, gone = come_and_gone(drawn, found)
    if come:
        yield f"as measured there is more than drawn: {_named(come)}. Check what depends on these lines"
    if gone:
        yield f"as measured these aren't there: {_named(gone)}. Check what depends on these lines"


def _named(lines: list[str]) -> str:
    more = f" and {len(lines) - MOST_NAMED} more" if len(lines) > MOST_NAMED else ""
    return ", ".join(lines[:MOST_NAMED]) + more


def notes_on(found: Surface) -> Iterator[str]:
    """What to doubt in a roof, and what to look after."""
    yield from found.plan.doubts
    if found.hidden:
        yield f"nothing shows of {', '.join(found.hidden)}: other blocks are higher there"
    for slope in found.in_parts:
        yield f"{slope} shows in more than one place: if that's wrong, add the wall that stops its block"
    for one in short_lines(found):
        line = found.lines[one.line]
        way = "lift" if one.lift > 0 else "lower"
        yield (
            f"{line.kind} {found.line_name(line)} is only {as_worked(line.length)} mm long: {way} the pitch of "
            f"{found.slopes[one.slope].name} by {show_angle(abs(one.lift), typed=True)} to lose it"
        )
    for line in found.lines:
        if line.kind == "level valley":
            yield f"level valley {found.line_name(line)}: water stays in it. Give it a gutter with a fall"
