"""Worked values, by vectors, surfaces and planes rather than the trade's short formulas, to the digits as printed.

Each is typed as a person types it, and asked of Python and of the command line. A figure is held to half of its last
digit. A scarf of three times the depth is common practice; a tape's limit is of SI 2016/1153, Schedule 1I.
"""

import json
from typing import Any

import pytest

from sitelog.calculators.ask import as_json, ask
from sitelog.cli.calc import calc

OVER_35 = "pitch=35deg run=3m ridge=38mm"
OVER_100 = "corner=100 pitch=35 pitch2=40 run=3000"
PLATES = "ab=9000 bc=6000 cd=9010 da=6005 ac=10830 bd=10812"
WORKED = (
    (
        f"common {OVER_35} section=47x150",
        "rise 2100.62  length_on_line 3662.32  ridge_deduction 23.19  birdsmouth_depth 50  seat_length 87.17"
        "  heel_plumb 61.04  height_above_plate 122.08",
    ),
    (
        f"hip {OVER_35}",
        "hip_pitch 26.341  run 4242.64  length_on_line 4734.20  backing_1 23.927  backing_2 23.927  dihedral 132.145"
        "  edge_bevel_1_from_square 48.134  edge_bevel_2_from_square 48.134",
    ),
    (
        "jacks pitch=35 run=3000 spacing=1m",
        "difference 1220.8  edge_bevel_from_square 50.677  saw_tilt 45",
    ),
    ("purlin pitch=35", "edge_bevel_from_square 39.323  face_bevel_from_square 29.838"),
    (
        f"hip {OVER_100}",
        "plan_angle_1 56.138  plan_angle_2 43.862  hip_pitch 30.175  run 3612.81  length_on_line 4179.12"
        "  backing_1 18.639  backing_2 27.610  dihedral 133.751",
    ),
    (f"jacks {OVER_100} spacing=1000 side=1", "saw_tilt 56.138  difference 1819.3"),
    (f"jacks {OVER_100} spacing=1000 side=2", "saw_tilt 43.862  difference 1254.6"),
    (
        "roof length=9000 width=6000 pitch=35",
        "ridge_length 3000  hips.a.length 4734.20  hips.b.length 4734.20  hips.c.length 4734.20  hips.d.length 4734.20",
    ),
    (
        "flat-top length=9000 width=6000 pitch=35 rise=1400",
        "sides.ab.length 5001.19  sides.bc.length 2001.19  top.a.hip_length 3155.20  top.c.hip_length 3155.20",
    ),
    (
        f"roof {PLATES} pitch=35 keep=pitch",
        "ridge_length 3002.33  ridge_fall 0.59  hips.a.length 4738.93  hips.b.length 4729.71  hips.c.length 4739.73"
        "  hips.d.length 4735.25",
    ),
    ("opening level_depth=1800 pitch=40 level_width=1153 spacing=400", "slope_length 2349.73"),
    ("arc chord=2.4m rise=600", "radius 1500  angle 106.26  arc_length 2781.89"),
    ("rib radius=900 depth=75 board=150", "segment_angle 49.24  segments 4  mitre_from_square 22.5"),
    ("barrel radius=900 pitch=40", "semi_axis_up_slope 1400.15  ridge_back 1072.58"),
    ("eyebrow width=3000 rise=600 split=0.5", "crown_radius 1087.50  wing_radius 1087.50  tangent_angle 43.603"),
    ("firrings span=3600 fall=1:40 thin=20", "thick_end 110"),
    ("hipped-falls length=6000 width=3600 fall=1:60 thin=20", "centre_height 50  diagonal 2545.58"),
    ("gauge slope=4870 unit_length=265 headlap=65", "courses 49  gauge 99.39"),
    ("scarf depth=220", "joint_length 660"),
    ("scarf depth=9in", "joint_length 685.8"),
    ("tape class=II length=4200", "limit_of_error 1.5"),
)
worked = pytest.mark.parametrize(("typed", "printed"), WORKED, ids=[typed for typed, _ in WORKED])


def at(results: dict[str, Any], path: str) -> float:
    """The figure at a path such as `hips.a.length`; rows are picked by their first column."""
    name, *rest = path.split(".")
    if not rest:
        return float(results[name])
    [row] = [row for row in results[name] if next(iter(row.values())) == rest[0]]
    return float(row[rest[1]])


def as_printed(results: dict[str, Any], printed: str) -> None:
    for one in printed.split("  "):
        path, figure = one.split()
        _, _, decimals = figure.partition(".")
        half = 0.5 * 10 ** -len(decimals)
        assert at(results, path) == pytest.approx(float(figure), abs=half * (1 + 1e-6), rel=0), path


@worked
def test_a_worked_value_comes_back_to_its_last_digit(typed: str, printed: str) -> None:
    name, *pairs = typed.split()
    as_printed(dict(ask(name, dict(pair.split("=", 1) for pair in pairs)).results), printed)


@worked
def test_the_command_line_prints_it_unrounded(typed: str, printed: str, capsys: pytest.CaptureFixture[str]) -> None:
    name, *pairs = typed.split()
    assert calc([*typed.split(), "--json"]) == 0
    told = json.loads(capsys.readouterr().out)
    as_printed(told["results"], printed)
    assert told == json.loads(json.dumps(as_json(ask(name, dict(pair.split("=", 1) for pair in pairs)))))


def test_nine_inches_of_depth_want_27_of_scarf() -> None:
    """27 in = 685.8 mm."""
    assert ask("scarf", {"depth": "9in"}).results["joint_length"] == pytest.approx(27 * 25.4)
