"""A cut roof as a gang says it, block by block, over its plates as taped: every line, slope and block by its name."""

import math
from collections.abc import Mapping, Sequence

from sitelog.calculators.catalogue import Outcome, Output, Result, Row, Working, calculator, field
from sitelog.calculators.setting_out.plates import weighed
from sitelog.calculators.setting_out.verdicts import CLASSES
from sitelog.calculators.surface import measured
from sitelog.calculators.surface.any_roof import (
    SURFACE_ROWS,
    TIMBER_ROWS,
    TOTALS,
    cautions_of,
    changes,
    notes_on,
    read_off,
)
from sitelog.calculators.surface.level_pieces import (
    COLLAR_PIECES,
    PURLIN_PIECES,
    STRUT_PIECES,
    CutInputs,
    collar_pieces,
    purlin_pieces,
    strut_pieces,
)
from sitelog.calculators.surface.named_rows import BLOCKS, LINES, SIDES, block_rows, line_rows, longest_hip, side_rows
from sitelog.calculators.surface.named_slopes import EDGES, SLOPES, edge_rows, slope_rows, with_more_pitches
from sitelog.calculators.surface.slope_rafters import HANDS, KINDS, SLOPE_RAFTERS, Tried, place_of, slope_rafter_rows
from sitelog.calculators.surface.timbers import rafters_of
from sitelog.geometry.building.named import Roof, roof_of
from sitelog.geometry.plan_ties import fitted_points
from sitelog.geometry.read_off.rafters import Rafter
from sitelog.quantities.quantity import Tie
from sitelog.refusal import Refusal

TIMBERS = ("rafters", "purlins", "struts", "collars")


class BuildingInputs(CutInputs):
    """What `building` takes: the blocks of a roof in words, its plates as taped, and what is to be read off it; mm."""

    building: str = field(
        "text", "main roof and what is built on, as main 9000x6000 40; wing off CD 0 from D 4000x4000 40"
    )
    ties: Sequence[Tie] | None = field("ties", "taped sides and ties, to fit the plates to", default=None)
    tape: str = field("choice", "class of the tape", default="II", choices=tuple(CLASSES))
    carried: str = field("text", "lean-tos and dormers as taped, as lean-to left 1798; dormer front 1495", default="")
    timber: str = field("choice", "which timbers are listed as they are cut", default="rafters", choices=TIMBERS)
    slope: str | None = field("text", "slope whose timbers are listed, such as slope-ab", default=None)
    rafter: str = field("choice", "which of them", default="common", choices=KINDS)
    hand: str = field("choice", "which hand of them", default="any", choices=HANDS)
    tried_pitch: float | None = field("pitch", "pitch to cut them at, as the pattern gave it", default=None)
    tried_over: float = field("offset", "their run, longer than drawn, as the pattern gave it", default=0)


@calculator(
    "building",
    BuildingInputs,
    branch="rafters",
    does="A cut roof said block by block: plates, lines, slopes, rafters",
    results=(
        *TOTALS,
        Output("misclosure", "mm", "Worst taped length: out by"),
        Output("least_pitch", "deg", "Flattest slope"),
        Output("span", "mm", "Widest span"),
        Output("longest_slope", "mm", "Longest slope, top to tail"),
        Output("covered", "m2", "Area of the slopes with overhangs"),
        Output("longest_plate", "mm", "Longest plate"),
        Output("longest_hip", "mm", "Longest hip, tail to top"),
        Output("round", "", "Corners and middles, in order"),
        Output("hip_feet", "", "Hips off the plates"),
        Output("gables", "", "Gables, whole or under a half-hip"),
        Output("purlin_rows", "", "Rows of purlins"),
        Output("collar_rows", "", "Rows of collars"),
        Output("sides", "", "Sides and ties to tape", SIDES),
        Output("blocks", "", "Blocks", BLOCKS),
        Output("named_slopes", "", "Slopes by name", SLOPES),
        Output("named_lines", "", "Hips, valleys and ridges by name", LINES),
        Output("edges", "", "Verges and abutments by name", EDGES),
        Output("slope_rafters", "", "Rafters of one slope", SLOPE_RAFTERS),
        Output("slope_purlins", "", "Purlins of one slope, piece by piece", PURLIN_PIECES),
        Output("slope_struts", "", "Struts of one slope", STRUT_PIECES),
        Output("cut_collars", "", "Collars, each as it is cut", COLLAR_PIECES),
        *SURFACE_ROWS,
        *TIMBER_ROWS,
    ),
    basis="geometry; plates as the least-squares fit of their taped lengths",
    definition=(
        "Begin with the main roof: its length, width and pitch, then any side that isn't a hip: BC gable, BC against, "
        "BC half-hip 1200 50, CD 35, CD mansard 70 2000 30 (lower pitch, height of the break, upper pitch), or main "
        "octagon 6000 40. Its corners are A, B, C, D, anticlockwise from above; each block has the next letters. Then "
        "add: wing off CD 1000 from D 4000x4000 40 end gable; bay off AB 3000 from A 3000x900 40 splay 45, with level "
        "for a level ridge; lean-to off BC 500 from B 3000x2000 15 plate -900; dormer off AB 3000 from A 1800x1200 35 "
        "cheek 900 end gable (its width, how far in its face is, how high its plates are over the slope there); "
        "sprockets 600 25; purlins 1500; collars 1800. A wing has a left, an end and a right, as you face its end: "
        "wing2 off wing.left 500 from end ... A plate in line with another at the same pitch is one plate. Tape every "
        "side and tie, and the corners are moved to fit; all else follows. Of a lean-to tape left and right out from "
        "the wall as you face it, wide along it, rise from its outer plate up to its wall plate; of a dormer front and "
        "back between its plates, in from the main plate to its face, up from the main plates to its own; of both "
        "along from the corner they were said from: carried= takes them; their slopes follow. With slope= only that "
        "slope's rafters are listed, long point to long point with their tails, and cut to what a pattern gave with "
        "tried_pitch= and tried_over=; with timber= its purlins or struts, or "
        "the collars of every pair. A purlin over longest= is spliced over a strut; a dormer or lean-to has none."
    ),
    example="building='main 9000x6000 40; wing off CD 0 from D 4000x4000 40 end gable' spacing=400",
)
def building(given: BuildingInputs) -> Outcome:
    """Lengths in mm, angles in degrees, areas in m2, volume in m3.

    Refusal, by the block's name, for what can't be; and for taped lengths that leave a corner loose.
    """
    drawn = roof_of(given.building)
    lengths = tuple(weighed(given.ties, given.tape)) if given.ties else ()
    if len(lengths) > measured.MOST_TIES:
        raise Refusal(f"ties: {len(lengths)} lengths; give at most {measured.MOST_TIES}")
    fit = fitted_points(drawn.plates.points, lengths) if lengths else None
    roof = roof_of(given.building, lengths, given.carried)
    heights = {"purlins": given.purlins or roof.purlins or None, "collars": _collars(given, roof)}
    given = BuildingInputs(**{**vars(given), **heights})
    working = Working()
    results, shapes, told = read_off(working, _without_timbers(given), roof.found, roof.dormers)
    results.pop("short_lines")
    results |= _named(given, roof, drawn, results["covering"])
    results |= _listed(given, roof)
    results["lengths"] = measured.length_rows(given.ties, fit)
    results["misclosure"] = max(map(abs, fit.residuals)) if fit else None
    shapes["corners"] = [{"corner": name} for name in roof.found.plan.points]
    notes = (
        *measured.doubts(given.ties, fit, given.tape),
        *changes(drawn.found, roof.found),
        *(note for note in notes_on(roof.found) if "shows in more than one place" not in note),
        *told,
    )
    return Outcome(results, working, cautions=cautions_of(given, roof.found), notes=notes, shapes=shapes)


def roof_as_given(inputs: Mapping[str, object]) -> Roof:
    """The roof of an answer of `building`, by its inputs: over its plates as taped, with what was taped on them."""
    ties = inputs.get("ties")
    taped = tuple(weighed(ties, str(inputs["tape"]))) if isinstance(ties, tuple) else ()
    return roof_of(str(inputs["building"]), taped, str(inputs["carried"]))


def rafters_as_given(inputs: Mapping[str, object]) -> list[Rafter]:
    """Every rafter of that roof as it is set out there."""
    given, roof = BuildingInputs(**inputs), roof_as_given(inputs)  # type: ignore[arg-type]
    return rafters_of(given, roof.found, [], later=roof.dormers)


def _without_timbers(given: BuildingInputs) -> BuildingInputs:
    """The same with nothing laid out on it, where one slope's rafters are wanted."""
    if given.slope is None and given.timber != "collars":
        return given
    names = (
        "spacing",
        "openings",
        "laid",
        "collars",
        "purlins",
        "struts",
        "strut_in",
        "gauge",
        "cover_width",
        "unit_mass",
    )
    lengths = ("overhang", "verge", "strut_head", "strut_foot")
    return BuildingInputs(**{**vars(given), **dict.fromkeys(names), **dict.fromkeys(lengths, 0.0)})


def _listed(given: BuildingInputs, roof: Roof) -> dict[str, Result]:
    """The timbers that are wanted as they are cut; no rows of the rest. Refusal for what isn't told of them."""
    rows: dict[str, Result] = {"slope_rafters": [], "slope_purlins": [], "slope_struts": [], "cut_collars": []}
    if given.timber == "collars":
        return {**rows, "cut_collars": collar_pieces(given, roof)}
    if given.slope is None:
        return rows
    if given.timber != "rafters":
        made = {"purlins": purlin_pieces, "struts": strut_pieces}[given.timber]
        return {**rows, f"slope_{given.timber}": made(given, roof, place_of(roof, given.slope))}
    if given.spacing is None:
        raise Refusal("building: with slope= also give spacing=, such as spacing=400")
    tried = Tried(given.tried_pitch, given.tried_over)
    return {**rows, "slope_rafters": slope_rafter_rows(given, roof, given.slope, given.rafter, given.hand, tried)}


def _collars(given: BuildingInputs, roof: Roof) -> Sequence[float] | None:
    """Collars lie from rafter to rafter: without a spacing there are none to lie on."""
    return given.collars or (roof.collars if given.spacing is not None else None) or None


def _named(given: BuildingInputs, roof: Roof, drawn: Roof, covering: Result) -> dict[str, Result]:
    """What is told of the whole roof, and what it has several of."""
    found = roof.found
    blocks = block_rows(roof, drawn)
    sides, lines = side_rows(roof, drawn), line_rows(roof)
    slopes = slope_rows(roof, given.overhang, covering, blocks)
    return {
        "least_pitch": min(_of_each(slopes, "pitch")),
        "span": max(map(sum, zip(_of_each(blocks, "run_1"), _of_each(blocks, "run_2"), strict=True))),
        "longest_slope": max(_of_each(slopes, "to_tail")),
        "covered": math.fsum(_of_each(slopes, "covered")),
        "round": ",".join(point for start, end in roof.plates.ring for point in (start, f"{start}{end}")),
        "hip_feet": sum(line.kind == "hip" and bool(found.points[line.start].walls) for line in found.lines),
        "gables": len(roof.of("gables")),
        "purlin_rows": len(roof.purlins),
        "collar_rows": len(roof.collars),
        "longest_plate": max((float(row["plate"] or 0) for row in sides), default=0.0),
        "longest_hip": longest_hip(roof, lines, given.overhang, given.hip_section.depth if given.hip_section else 0.0),
        "sides": sides,
        "blocks": with_more_pitches(blocks, slopes),
        "named_slopes": slopes,
        "named_lines": lines,
        "edges": edge_rows(roof, given.overhang),
    }


def _of_each(rows: Sequence[Row], column: str) -> list[float]:
    return [float(row[column] or 0) for row in rows]
