"""Rafter, hip, jack, arc and ellipse against print: tables, textbooks, worked examples, the source in each row."""

import math
import re
import tomllib
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest

from sitelog.calculators.catalogue import Answer
from sitelog.calculators.curves.arcs import arc
from sitelog.calculators.curves.barrels import barrel
from sitelog.calculators.rafters.common import common
from sitelog.calculators.rafters.hips import hip
from sitelog.calculators.rafters.jacks import jacks
from sitelog.geometry.vectors import atan_deg, tan_deg
from tests.calculators.results import cell, figure, rows

TABLE = Path(__file__).parent.parent / "reference" / "rafter_values.toml"
ROWS: list[dict[str, Any]] = tomllib.loads(TABLE.read_text(encoding="utf-8"))["value"]
FOOT, INCH, CENTIMETRE, METRE = 304.8, 25.4, 10.0, 1000.0

# Rows that these calculators don't answer, each with the reason.
PLATES = "corners of plates, answered by squareness"
VALLEYS = "runs of a valley between two ridges"
ELSEWHERE = {
    **dict.fromkeys(("drm-x", "drm-cos"), "an arc from its length and chord, which only trial and error finds"),
    "ell-mh": "a rule of thumb for the perimeter, where the true one is worked",
    "ell-sector": "the area of part of an ellipse, which no line on a slope wants",
    **dict.fromkeys(("square-6-8", "square-15-20", "square-3-4"), PLATES),
    **dict.fromkeys(("quad-192-area", "quad-192-circum", "quad-234-resid", "quad-300-area"), PLATES),
    **dict.fromkeys(("quad-300-circum", "quad-432-resid", "quad-936-area"), PLATES),
    "mill-ridge-gable": VALLEYS,
    "dih-j8": "slope against wall, which is the pitch given and a right angle",
}


def pitch_of(row: dict[str, float]) -> float:
    """The pitch of a row [deg], given in degrees or as a rise in inches to a foot of run."""
    return row["pitch_deg"] if "pitch_deg" in row else atan_deg(row["rise_in_per_ft"] / 12)


def common_to(unit: float, run: float) -> Callable[[dict[str, float]], float]:
    """Length of a common over a run, both in that unit [mm each]."""
    return lambda row: figure(common(run=run * unit, pitch=pitch_of(row)), "length_on_line") / unit


def hip_to(unit: float, run: float, name: str = "length_on_line") -> Callable[[dict[str, float]], float]:
    """A length of a regular hip over a common run, both in that unit [mm each]."""
    return lambda row: figure(hip(run=run * unit, pitch=pitch_of(row)), name) / unit


def jack_step(unit: float, spacing: str) -> Callable[[dict[str, float]], float]:
    def step(row: dict[str, float]) -> float:
        apart = row[spacing] * unit
        return figure(jacks(pitch=pitch_of(row), spacing=apart, run=10 * apart), "difference") / unit

    return step


def shortest_jack(row: dict[str, float]) -> float:
    """To the centre line of the hip, as the table has it: a hip of no thickness."""
    apart = row["spacing_in"] * INCH
    answer = jacks(pitch=pitch_of(row), spacing=apart, run=10 * apart, hip_thickness=0)
    return cell(rows(answer, "rows")[0], "length_centre") / INCH


def against_twelve(angle_from_square: float) -> float:
    """The figure on a square against 12 for a mark at that angle: the tangent from the edge."""
    return 12 * tan_deg(90 - angle_from_square)


def side_cut_of_jack(row: dict[str, float]) -> float:
    answer = jacks(pitch=pitch_of(row), spacing=400, run=3000)
    return against_twelve(figure(answer, "edge_bevel_from_square"))


def side_cut_of_hip(row: dict[str, float]) -> float:
    return against_twelve(figure(hip(pitch=pitch_of(row), run=3000), "edge_bevel_1_from_square"))


def slope_of_hip(row: dict[str, float]) -> float:
    return 12 * tan_deg(figure(hip(pitch=pitch_of(row), run=3000), "hip_pitch"))


def rise_to_a_foot(row: dict[str, float]) -> float:
    answer = common(run=row["run_ft"] * FOOT, rise=row["ridge_height_in"] * INCH)
    return 12 * tan_deg(figure(answer, "plumb_cut_from_square"))


def dihedral(row: dict[str, float]) -> float:
    answer = hip(pitch=row["pitch_deg"], corner=row["plan_corner_deg"], run=3000)
    return figure(answer, "dihedral")


def unequal_hip_run(row: dict[str, float]) -> float:
    pitch, pitch2 = (atan_deg(row["rise_ft"] / row[run]) for run in ("run_side_ft", "run_end_ft"))
    return figure(hip(pitch=pitch, pitch2=pitch2, run=row["run_side_ft"] * FOOT), "run") / FOOT


def pyramid_pitch(row: dict[str, float]) -> float:
    """Hips as long as the eaves: the hip's run is half the diagonal, and its rise the rest of its length."""
    rise = (row["hip"] ** 2 - row["side"] ** 2 / 2) ** 0.5
    answer = common(run=row["side"] / 2 * METRE, rise=rise * METRE)
    return figure(answer, "plumb_cut_from_square")


def japanese_hip(row: dict[str, float]) -> float:
    answer = hip(pitch=atan_deg(row["rise"] / row["common_run"]), run=row["common_run"] * METRE)
    return figure(answer, "length_on_line") / figure(answer, "rise")


def japanese_backing(row: dict[str, float]) -> float:
    return tan_deg(figure(hip(pitch=atan_deg(row["rise"] / row["run"]), run=METRE), "backing_1"))


def arc_of(row: dict[str, float]) -> Answer:
    """The arc of a row, in the row's own unit as mm: from chord, rise, radius, or how far its centre is below."""
    inches = {name.removesuffix("_in"): size * INCH for name, size in row.items() if name.endswith("_in")}
    sizes = {name.removesuffix("_cm"): size * CENTIMETRE for name, size in row.items() if name.endswith("_cm")} | inches
    if "centre_to_chord" in sizes:
        sizes["rise"] = sizes["radius"] - sizes.pop("centre_to_chord")
    return arc(**sizes)


def arc_in(unit: float, name: str) -> Callable[[dict[str, float]], float]:
    return lambda row: figure(arc_of(row), name) / unit


def over_arc_length(name: str) -> Callable[[dict[str, float]], float]:
    """A size of the arc of that angle whose length is 1: any arc of the angle, over its own length."""

    def share(row: dict[str, float]) -> float:
        answer = arc(chord=2 * METRE, rise=METRE * tan_deg(row["angle_deg"] / 4))
        return figure(answer, name) / figure(answer, "arc_length")

    return share


def half_ellipse(a: float, b: float) -> float:
    """Half the way round an ellipse of those semi-axes: the line of a barrel of radius b, pitched so as to reach a."""
    pitch = 90 - math.degrees(math.acos(b / a))
    return figure(barrel(radius=b * METRE, pitch=pitch), "line_length") / METRE


def left_of_the_axis(semi_axis: float, ordinate: float) -> float:
    """What share of its other semi-axis an ellipse still reaches over an ordinate, off a barrel's own rows."""
    answer = barrel(radius=semi_axis * METRE, pitch=40, spacing=ordinate * METRE)
    [row] = [one for one in rows(answer, "rows") if abs(cell(one, "at") - (semi_axis + ordinate) * METRE) < 1e-6]
    return cell(row, "along_slope") / figure(answer, "semi_axis_up_slope")


def major_axis(row: dict[str, float]) -> float:
    return 2 * row["abscissa_from_end"] / (1 - left_of_the_axis(row["minor_axis"] / 2, row["ordinate"]))


def minor_axis(row: dict[str, float]) -> float:
    half = row["major_axis"] / 2
    return 2 * row["ordinate"] / left_of_the_axis(half, half - row["abscissa_from_end"])


ANSWERS: tuple[tuple[str, Callable[[dict[str, float]], float]], ...] = (
    (r"deg\d\d-rafter", common_to(METRE, 1)),
    (r"deg\d\d-hip", hip_to(METRE, 1)),
    (r"deg\d\d-rise", lambda row: figure(common(run=METRE, pitch=pitch_of(row)), "rise") / METRE),
    (r"deg\d\d-short", jack_step(METRE, "spacing_m")),
    (r"sq\d\d-common|army-1[36]|army-unit-8|hod-common-\d+|rad-common-10", common_to(INCH, 12)),
    (r"sq\d\d-hip|nav-hip-8|hod-hip-\d+|rad-hip-6", hip_to(INCH, 12)),
    (r"sq\d\d-jack\d\d", jack_step(INCH, "spacing_in")),
    (r"sq\d\d-sidejack|nav-side-jack-8", side_cut_of_jack),
    (r"sq\d\d-sidehip", side_cut_of_hip),
    (r"audel-jack\d\d-10", shortest_jack),
    (r"hod-hip-slope-10", slope_of_hip),
    (r"cyc-hip-6in", lambda row: figure(hip(pitch=35, run=row["run_in"] * INCH), "run") / INCH),
    (r"nav-common-16ft", lambda row: common_to(INCH, row["span_ft"] * 6)(row)),
    (r"nav-hip-len", lambda row: hip_to(FOOT, row["span_ft"] / 2)(row)),
    (r"nav-valley-len-in", lambda row: hip_to(INCH, row["span_ft"] * 6)(row)),  # a valley's line is a hip's
    (r"army-common-20-8", lambda row: common_to(FOOT, row["run_ft"])(row)),
    (r"army-common-20-8-in", lambda row: common_to(INCH, row["run_ft"] * 12)(row)),
    (r"hod-irr-hiprun", unequal_hip_run),
    (r"mill-rise", rise_to_a_foot),
    (
        r"rad-rise-14",
        lambda row: figure(common(run=row["run_ft"] * FOOT, pitch=pitch_of(row)), "rise") / INCH,
    ),
    (r"tafe-rafter-20", lambda row: common_to(METRE, row["run_m"])(row)),
    (r"dih-(pyr|rhombic|tetra|penta)", dihedral),
    (r"pitch-pyr", pyramid_pitch),
    (r"jap-hip", japanese_hip),
    (r"jap-back", japanese_backing),
    (r"mh-chord", arc_in(INCH, "chord")),
    (r"mh-radius", arc_in(INCH, "radius")),
    (r"mh-E", arc_in(CENTIMETRE, "chord")),
    (r"mh-phi|mass-ang", arc_in(1, "angle")),
    (r"mh-L|mass-arc", arc_in(CENTIMETRE, "arc_length")),
    (r"mh-S|mass-seg", arc_in(1e-4, "area")),  # m2 as cm2
    (r"mass-r", arc_in(CENTIMETRE, "radius")),
    (r"mass2-chord", over_arc_length("chord")),
    (r"mass2-rise", over_arc_length("rise")),
    (r"ell-scipy", lambda row: 2 * half_ellipse(row["a"], row["b"])),
    (r"ell-e08", lambda row: half_ellipse(row["a"], row["b"]) / (math.pi * row["a"])),
    (r"ell-AS", lambda row: half_ellipse(row["a"], row["b"]) / 2),
    (r"ell-ord[12]", major_axis),
    (r"ell-ord3", minor_axis),
)


def answers_to(row_id: str) -> list[Callable[[dict[str, float]], float]]:
    return [answer for pattern, answer in ANSWERS if re.fullmatch(pattern, row_id)]


@pytest.mark.parametrize("row", [row for row in ROWS if row["id"] not in ELSEWHERE], ids=lambda row: row["id"])
def test_a_published_value_comes_out_within_its_own_rounding(row: dict[str, Any]) -> None:
    [answer] = answers_to(row["id"])
    source = f"{row['source']['title']}, {row['source']['locator']}"
    assert answer(row["inputs"]) == pytest.approx(row["expected"], abs=row["tolerance"], rel=0), source


def test_every_published_row_is_answered_or_said_to_belong_elsewhere() -> None:
    ids = [row["id"] for row in ROWS]
    assert len(ids) == len(set(ids)) == 160
    assert set(ELSEWHERE) <= set(ids)
    assert [one for one in ids if (len(answers_to(one)) == 1) == (one in ELSEWHERE)] == []
