"""Truths that hold of any roof: its mirror image, its double, its two sides changed over, its size in inches."""

import math
import shlex
from collections.abc import Iterator, Mapping

import pytest
from hypothesis import given
from hypothesis import strategies as st

from sitelog.calculators.ask import ask
from sitelog.calculators.catalogue import Answer, Calculator, Result
from sitelog.calculators.index import calculators, find
from sitelog.calculators.rafters.hips import hip
from sitelog.calculators.rafters.jacks import jacks
from sitelog.calculators.rafters.purlin import purlin
from sitelog.calculators.rafters.roof import roof
from sitelog.calculators.rafters.valley import valley
from sitelog.geometry.vectors import tan_deg
from sitelog.quantities.quantity import Section, Tie, Value
from sitelog.refusal import Refusal
from tests.calculators.results import cell, column, figure, rows

CORNERS = st.floats(60, 150)
PITCHES = st.floats(15, 65)
SIDED = ("plan_angle", "saw_tilt", "backing", "drop")
PLAIN = ("hip_pitch", "run", "rise", "length_on_line", "dihedral", "overall_length", "ridge_deduction")


def close(found: float, expected: float) -> bool:
    return math.isclose(found, expected, rel_tol=1e-7, abs_tol=1e-5)


# -- the two sides of a corner changed over


@pytest.mark.parametrize("one", [hip, valley], ids=lambda one: one.name)
@given(CORNERS, PITCHES, PITCHES)
def test_a_corner_seen_in_a_mirror_has_its_sides_changed_over(
    one: Calculator, corner: float, left: float, right: float
) -> None:
    run = 3000.0
    over = run * tan_deg(left) / tan_deg(right)  # the other side's common rises to the same height
    try:
        answer = one(corner=corner, pitch=left, pitch2=right, run=run, ridge=38, ridge_side=1)
        mirrored = one(corner=corner, pitch=right, pitch2=left, run=over, ridge=38, ridge_side=2)
    except Refusal:
        return
    for name in PLAIN:
        assert close(figure(answer, name), figure(mirrored, name)), name
    for name in SIDED:
        assert close(figure(answer, f"{name}_1"), figure(mirrored, f"{name}_2")), name
        assert close(figure(answer, f"{name}_2"), figure(mirrored, f"{name}_1")), name


@given(CORNERS, PITCHES, PITCHES)
def test_jacks_and_purlins_of_one_side_are_those_of_the_other_in_a_mirror(
    corner: float, left: float, right: float
) -> None:
    try:
        answer = jacks(corner=corner, pitch=left, pitch2=right, side=1, run=3000, spacing=400)
        mirrored = jacks(corner=corner, pitch=right, pitch2=left, side=2, run=3000, spacing=400)
    except Refusal:
        return
    for name in ("length_long_point", "length_short_point"):
        assert column(answer, "rows", name) == pytest.approx(column(mirrored, "rows", name))
    assert close(figure(answer, "edge_bevel_from_square"), figure(mirrored, "edge_bevel_from_square"))
    cut = (
        purlin(corner=corner, pitch=left, pitch2=right, side=1),
        purlin(corner=corner, pitch=right, pitch2=left, side=2),
    )
    for name in ("edge_bevel_from_square", "face_bevel_from_square", "saw_tilt_on_face"):
        assert close(figure(cut[0], name), figure(cut[1], name)), name


# -- a roof in a mirror


@given(*[st.integers(-40, 40)] * 4, *[PITCHES] * 4)
def test_a_roof_in_a_mirror_has_its_hips_in_a_mirror(
    east: int, north: int, across: int, along: int, ab: float, bc: float, cd: float, da: float
) -> None:
    a, b, c, d = (0, 0), (9000, 0), (9000 + east, 6000 + north), (along, 6000 + across)
    lengths = {
        "ab": math.dist(a, b),
        "bc": math.dist(b, c),
        "cd": math.dist(c, d),
        "da": math.dist(d, a),
        "ac": math.dist(a, c),
        "bd": math.dist(b, d),
    }
    # In the mirror A changes over with B, and C with D.
    seen = dict(zip(("ab", "da", "cd", "bc", "bd", "ac"), lengths.values(), strict=True))
    answer = roof(**lengths, pitch_ab=ab, pitch_bc=bc, pitch_cd=cd, pitch_da=da)
    mirrored = roof(**seen, pitch_ab=ab, pitch_da=bc, pitch_cd=cd, pitch_bc=da)
    assert close(figure(answer, "ridge_length"), figure(mirrored, "ridge_length"))
    assert close(figure(answer, "ridge_fall"), figure(mirrored, "ridge_fall"))
    there = {row["corner"]: row for row in rows(mirrored, "hips")}
    for row in rows(answer, "hips"):
        other = there[{"a": "b", "b": "a", "c": "d", "d": "c"}[str(row["corner"])]]
        for name in ("length", "pitch", "run"):
            assert close(cell(row, name), cell(other, name)), name
        assert close(cell(row, "plan_angle_1"), cell(other, "plan_angle_2"))


# -- twice the size

SHAPES = (
    *("common", "birdsmouth", "hip", "valley", "jacks", "purlin", "roof", "ridge", "flat-top", "opening", "scarf"),
    *("sticks", "arc", "rib", "barrel", "eyebrow", "slope-marks", "firrings", "hipped-falls", "gauge", "mass"),
)
GROWS = {"mm": 2, "m": 2, "m2": 4, "kg": 8, "deg": 1, "": 1}
# What is bought comes in its own lengths; a metre of timber stays a metre.
BOUGHT = ("order_length", "mass_per_metre")


def twice(value: Value, kind: str) -> Value:
    if isinstance(value, Section):
        return Section(2 * value.thickness, 2 * value.depth)
    if isinstance(value, (int, float)) and kind in ("length", "offset"):
        return 2 * value
    return value


def by_unit(answer: Answer) -> Iterator[tuple[str, str, float]]:
    """Every figure of an answer but what is bought, with a name of its own and its unit."""
    for name, result in answer.results.items():
        unit = answer.units[name]
        for place, row in enumerate(table(name, result)):
            for key, value in row.items():
                if isinstance(value, (int, float)) and name not in BOUGHT:
                    yield f"{name} {place} {key}", unit if isinstance(unit, str) else unit[key], value


def table(name: str, result: Result) -> list[Mapping[str, float | int | str | None]]:
    if isinstance(result, list):
        return [*result]
    return [result if isinstance(result, dict) else {name: result}]


@pytest.mark.parametrize("name", SHAPES)
def test_a_roof_of_twice_the_size_has_twice_the_lengths_and_the_same_angles(name: str) -> None:
    one = find(name)
    answer = ask(name, dict(pair.split("=", 1) for pair in shlex.split(one.example)))
    kinds = {i.name: i.kind for i in one.inputs}
    doubled = one(**{key: twice(value, kinds[key]) for key, value in answer.inputs.items()})
    large = {key: value for key, _, value in by_unit(doubled)}
    small = list(by_unit(answer))
    assert len(small) == len(large)
    for key, unit, value in small:
        assert close(large[key], GROWS[unit] * value), key


# -- in feet and inches


@pytest.mark.parametrize("one", calculators().values(), ids=lambda one: one.name)
def test_a_length_in_inches_is_the_same_length_in_millimetres(one: Calculator) -> None:
    texts = dict(pair.split("=", 1) for pair in shlex.split(one.example))
    inches, metric = {}, {}
    for name in (i.name for i in one.inputs if i.kind == "length" and i.name in texts):
        sixteenths = max(round(float(texts[name]) / 25.4 * 16), 1)
        whole, part = divmod(sixteenths, 16)
        inches[name] = f"{whole // 12}' {whole % 12}" + (f' {part}/16"' if part else '"')
        metric[name] = f"{sixteenths * 1.5875:.4f}"
    told, expected = ask(one.name, {**texts, **inches}), ask(one.name, {**texts, **metric})
    assert told.results == expected.results
    assert told.inputs == expected.inputs


def test_a_tie_in_feet_is_the_same_tie() -> None:
    sides = {"ab": "4000", "bc": "3000", "cd": "4000", "da": "3000", "ac": "5000", "bd": "5000"}
    ties = ask("squareness", {**sides, "ties": "A-M:8',B-M:8',C-M:8',D-M:8'"}).inputs["ties"]
    assert ties == tuple(Tie(corner, "M", 2438.4) for corner in "ABCD")
