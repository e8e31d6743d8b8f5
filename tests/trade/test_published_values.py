"""Rafter, hip and jack against print: tables, textbooks, worked examples, the source in each row."""

import re
import tomllib
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest

from sitelog.trade.geometry import atan_deg, tan_deg
from sitelog.trade.hips import hip
from sitelog.trade.jacks import jacks
from sitelog.trade.rafters import common
from tests.trade.results import cell, figure, rows

TABLE = Path(__file__).parent.parent / "reference" / "rafter_values.toml"
ROWS: list[dict[str, Any]] = tomllib.loads(TABLE.read_text(encoding="utf-8"))["value"]
FOOT, INCH, METRE = 304.8, 25.4, 1000.0

# Rows that these calculators don't answer, each with the reason.
ARCS = "arcs and ellipses are not worked from rafters"
PLATES = "corners of plates, answered by squareness"
VALLEYS = "runs of a valley between two ridges"
ELSEWHERE = {
    **dict.fromkeys(("mh-chord", "mh-radius", "mh-E", "mh-phi", "mh-L", "mh-S"), ARCS),
    **dict.fromkeys(("mass-r", "mass-ang", "mass-arc", "mass-seg", "mass2-chord", "mass2-rise"), ARCS),
    **dict.fromkeys(("drm-x", "drm-cos", "ell-scipy", "ell-e08", "ell-AS", "ell-mh", "ell-sector"), ARCS),
    **dict.fromkeys(("ell-ord1", "ell-ord2", "ell-ord3"), ARCS),
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
