"""Each drawing point by point against its calculator's numbers, and against geometry worked another way."""

import math
from itertools import pairwise

import pytest

from sitelog.calculators.catalogue import Answer
from sitelog.drawing.model import Drawing
from sitelog.quantities.quantity import show_length
from tests.calculators.results import cell, column, corners, figure, row_of, rows
from tests.drawing.drawn import drawn, has, has_line, points

CURVES = (
    ("arc", "chord=2400 rise=600 spacing=300"),
    ("arc", "radius=1500 rise=1500 count=10"),
    ("barrel", "radius=900 pitch=40 spacing=150 sheet=18"),
    ("barrel", "chord=2400 rise=600 pitch=50 spacing=200"),
    ("eyebrow", "width=3000 rise=600 split=0.5 pitch=55 spacing=250"),
    ("eyebrow", "width=4000 rise=500 split=0.3 pitch=50 spacing=400"),
)


@pytest.mark.parametrize(("name", "words"), CURVES)
def test_every_station_of_a_curve_stands_on_its_line_and_has_its_ordinate(name: str, words: str) -> None:
    answer, made = drawn(name, words)
    for drawing, size in zip(made, ("height", "along_slope"), strict=False):
        for at, up in zip(column(answer, "rows", "at"), column(answer, "rows", size), strict=True):
            assert has(drawing, at, up, "bold")
            assert up <= 0 or has_line(drawing, (at, 0.0), (at, up), "thin")


@pytest.mark.parametrize(
    ("name", "words", "half", "radius"),
    [
        ("arc", "chord=2400 rise=600 spacing=300", 1200.0, 1500.0),  # 1200^2 + 900^2 = 1500^2
        ("arc", "chord=1800 rise=900 spacing=200", 900.0, 900.0),
        ("barrel", "radius=900 pitch=40 spacing=150 sheet=18", 900.0, 900.0),
    ],
)
def test_every_point_of_an_arc_is_its_radius_from_its_centre(name: str, words: str, half: float, radius: float) -> None:
    """x^2 + y^2 = r^2 about the centre that Pythagoras puts under the middle of the chord."""
    below = math.sqrt(radius**2 - half**2)
    _, made = drawn(name, words)
    for x, y in points(made[0], "bold"):
        assert math.hypot(x - half, y + below) == pytest.approx(radius, abs=1e-6)


@pytest.mark.parametrize("stroke", ["bold", "hidden"])
def test_a_barrel_meets_the_slope_in_an_ellipse_outside_and_inside_its_sheet(stroke: str) -> None:
    """A level cylinder cut by a plane at 40 degrees: x^2 / r^2 + y^2 / (r / sin 40)^2 = 1, r less the sheet inside."""
    radius = 900.0 if stroke == "bold" else 900.0 - 18.0
    _, made = drawn("barrel", "radius=900 pitch=40 spacing=150 sheet=18")
    for x, y in points(made[1], "bold" if stroke == "bold" else "hidden"):
        assert ((x - 900) / radius) ** 2 + (y * math.sin(math.radians(40)) / radius) ** 2 == pytest.approx(1, abs=1e-9)


def test_the_inner_line_of_a_barrel_stands_on_its_own_stations() -> None:
    answer, made = drawn("barrel")
    for row in rows(answer, "inner_rows"):
        assert has(made[1], cell(row, "at"), cell(row, "along_slope"), "hidden")


THROUGH = (
    ("barrel", "chord=1800 rise=450 pitch=60 spacing=300 deck=25 inside=105 below=190"),
    ("eyebrow", "width=3000 rise=600 pitch=35 spacing=500 deck=18 inside=60 below=180"),
)


@pytest.mark.parametrize(("name", "words"), THROUGH)
def test_the_lines_through_a_sheet_are_drawn_on_their_stations_and_one_above_the_other(name: str, words: str) -> None:
    answer, (*_, cut, ceiling) = drawn(name, words)
    for row in rows(answer, "rows"):
        assert has(cut, cell(row, "at"), cell(row, "along_slope"), "bold")
    for row in rows(answer, "lower_rows"):
        assert has(cut, cell(row, "at"), cell(row, "along_slope"), "hidden")
    for row in rows(answer, "ceiling_rows"):
        assert has(ceiling, cell(row, "at"), cell(row, "along_slope"), "bold")
    (top,) = [line for line in cut.lines if line.stroke == "bold"]
    (low,) = [line for line in cut.lines if line.stroke == "hidden"]
    for (x, y), (x_low, y_low) in zip(top.points, low.points, strict=True):
        assert (x_low, y_low - y) == pytest.approx((x, figure(answer, "deck_shift")))


def test_an_eyebrow_is_two_circles_that_meet_in_one_tangent() -> None:
    """Crown about a centre on the middle line, wings about centres plumb over the ends: each point is on its own."""
    width, rise, split = 4000.0, 500.0, 0.3
    answer, made = drawn("eyebrow", f"width={width} rise={rise} split={split} spacing=400")
    crown, wing = figure(answer, "crown_radius"), figure(answer, "wing_radius")
    for x, y in points(made[0], "bold"):
        if abs(x - width / 2) <= split * width / 2:
            assert math.hypot(x - width / 2, y - (rise - crown)) == pytest.approx(crown, abs=1e-6)
        else:
            assert math.hypot(x - (0 if x < width / 2 else width), y - wing) == pytest.approx(wing, abs=1e-6)
    assert has(made[0], 0, 0, "bold") and has(made[0], width, 0, "bold")


def test_a_rib_segment_lies_on_its_board_and_the_whole_rib_is_of_such_segments() -> None:
    answer, (segment, whole) = drawn("rib")
    for row in rows(answer, "outline"):
        assert has(segment, cell(row, "x"), cell(row, "y"), "bold")
    long, board = figure(answer, "chord_out"), 150.0
    assert all(-1e-6 <= x <= long + 1e-6 and -1e-6 <= y <= board for x, y in points(segment, "bold"))
    assert max(x for x, _ in points(segment, "bold")) == pytest.approx(long)
    for x, y in points(whole, "bold"):
        assert math.hypot(x, y) == pytest.approx(900) or math.hypot(x, y) == pytest.approx(825)
    for n in range(5):  # four segments of a half circle: a joint each 45 degrees, on a line to the centre
        way = (math.cos(math.radians(45 * n)), math.sin(math.radians(45 * n)))
        assert has_line(whole, (900 * way[0], 900 * way[1]), (825 * way[0], 825 * way[1]), "built")
    for n in range(4):  # those of the second layer half a segment on
        way = (math.cos(math.radians(22.5 + 45 * n)), math.sin(math.radians(22.5 + 45 * n)))
        assert has_line(whole, (900 * way[0], 900 * way[1]), (825 * way[0], 825 * way[1]), "hidden")


FORMERS = (
    "radius=900 sheet=18 lining=15 former=170 count=7 pitch=45 board=300",
    "chord=1800 rise=450 sheet=12 stance=plumb former=160 spacing=400 pitch=35 face=250 board=320",
)


@pytest.mark.parametrize("words", FORMERS)
def test_a_former_is_drawn_by_its_outline_with_each_bearer_in_its_slot(words: str) -> None:
    answer, (whole, slot, end) = drawn("formers", words)
    for row in rows(answer, "outline"):
        assert has(whole, cell(row, "x"), cell(row, "y"), "bold")
    bearers = [line.points for line in whole.lines if line.stroke == "built"]
    for four, row, bearer in zip(bearers, rows(answer, "slots"), rows(answer, "bearers"), strict=True):
        left, top_left, top_right, right = four
        assert math.dist(top_left, top_right) == pytest.approx(47) and math.dist(left, top_left) == pytest.approx(75)
        assert (top_left[1] + top_right[1]) / 2 == pytest.approx(cell(bearer, "height"))
        # A flush bearer sits on the floor of its slot.
        assert left == pytest.approx((cell(row, "floor_left_x"), cell(row, "floor_left_y")), abs=1e-6)
        assert right == pytest.approx((cell(row, "floor_right_x"), cell(row, "floor_right_y")), abs=1e-6)
    for joint in rows(answer, "joints"):
        ends = [(cell(joint, f"{where}_x"), cell(joint, f"{where}_y")) for where in ("out", "in")]
        assert has_line(whole, ends[0], ends[1], "hidden")
    second = rows(answer, "slots")[1]
    side = [(cell(second, f"{name}_x"), cell(second, f"{name}_y")) for name in ("mouth_left", "floor_left")]
    assert has_line(slot, side[0], side[1], "bold")
    bearer = rows(answer, "bearers")[1]
    (cut,) = [line.points for line in end.lines if line.stroke == "bold"]
    assert max(x for x, _ in cut) == pytest.approx(cell(bearer, "long_point"))
    for (x1, y1), (x2, y2), name in (
        (cut[0], cut[1], "side_cut_from_square"), (cut[1], cut[2], "top_cut_from_square")
    ):  # fmt: skip
        assert math.degrees(math.atan2(abs(x2 - x1), y2 - y1)) == pytest.approx(cell(bearer, name))


@pytest.mark.parametrize("stance", ["square", "plumb"])
def test_a_trimmer_is_drawn_between_its_marks_and_its_ceiling_runs_to_it(stance: str) -> None:
    words = f"radius=900 sheet=18 former=75 lining=15 pitch=40 rafter=150 deck=18 stance={stance}"
    answer, (section, side) = drawn("soffit", words)
    turn = math.radians(40)
    for row in rows(answer, "faces"):
        top, under = cell(row, "top_along"), cell(row, "under_along")
        assert has_line(side, (under, 0.0), (top, 150.0), "bold")
        ends = [
            (s * math.cos(turn) + u * math.sin(turn), s * math.sin(turn) - u * math.cos(turn))
            for s, u in ((top, 18), (under, 168))
        ]
        assert has_line(section, ends[0], ends[1], "bold")
    assert has(section, figure(answer, "underside_back"), 792.0, "bold") and has(section, 0.0, 0.0, "built")


def test_hangers_are_drawn_from_their_trimmers_to_the_ceiling_and_trimmers_between_their_ends() -> None:
    answer, (elevation, side) = drawn("bulkhead")
    heights = {row["step"]: cell(row, "height") for row in rows(answer, "trimmers")}
    for row in rows(answer, "trimmers"):
        start, end, front = (cell(row, name) for name in ("from_at", "to_at", "under_along"))
        height = cell(row, "height")
        assert has_line(elevation, (start, height), (end, height), "built")
        assert has_line(side, (front, 0.0), (front, 150.0), "bold")
        assert has_line(side, (front + 94, 0.0), (front + 94, 150.0), "bold")  # two layers of 47
    for row in rows(answer, "hangers"):
        at, top = cell(row, "at"), heights[row["step"]]
        assert has_line(elevation, (at, top), (at, top - cell(row, "length")), "built")
        assert math.hypot(at - 900, top - cell(row, "length")) == pytest.approx(792)


FLAT = (
    "length=9000 width=6000 pitch=35 rise=1400",
    "ab=9000 bc=6000 cd=9010 da=6005 ac=10830 bd=10812 pitch=35 rise=1400",
)


@pytest.mark.parametrize("words", FLAT)
def test_the_table_is_drawn_corner_by_corner_with_a_hip_to_each_and_its_offsets_square_in(words: str) -> None:
    answer, (plan, *others) = drawn("flat-top", words)
    sections = [one for one in others if "section" in one.title]
    top = [(cell(row, "x"), cell(row, "y")) for row in rows(answer, "top")]
    plates = plan.lines[0].points
    for corner, table, row in zip(plates, top, rows(answer, "top"), strict=True):
        assert has(plan, *table, "bold") and has_line(plan, corner, table, "built")
        assert math.hypot(math.dist(corner, table), 1400) == pytest.approx(cell(row, "hip_length"))
    for (a, b), row in zip(pairwise([*plates, plates[0]]), rows(answer, "sides"), strict=True):
        off = [line for line in plan.lines if line.stroke == "thin" and _square_to(a, b, line.points, top)]
        assert any(math.dist(*line.points) == pytest.approx(cell(row, "offset_in")) for line in off)
    assert has_line(plan, top[0], top[2]) and math.dist(top[0], top[2]) == pytest.approx(figure(answer, "diagonal_ac"))
    (section,) = sections
    run = cell(rows(answer, "sides")[0], "offset_in")
    assert has_line(section, (0.0, 0.0), (run, 1400.0), "bold") and run == pytest.approx(
        1400 / math.tan(math.radians(35))
    )
    assert has_line(section, (run - cell(rows(answer, "top")[0], "hip_run"), 0.0), (run, 1400.0), "hidden")


def _square_to(
    a: tuple[float, float], b: tuple[float, float], ends: tuple[tuple[float, float], ...], top: object
) -> bool:
    if len(ends) != 2:
        return False
    along, out = (b[0] - a[0], b[1] - a[1]), (ends[1][0] - ends[0][0], ends[1][1] - ends[0][1])
    size = math.hypot(*along)
    on = abs(along[0] * (ends[0][1] - a[1]) - along[1] * (ends[0][0] - a[0])) / size
    return on < 1e-6 and abs(along[0] * out[0] + along[1] * out[1]) < 1e-3 * size


def test_slopes_of_unequal_pitch_have_a_section_each() -> None:
    answer, made = drawn("flat-top", "length=9000 width=6000 pitch=35 pitch_bc=50 rise=1400")
    sections = [one for one in made if "section" in one.title]
    assert [section.title for section in sections] == [
        "Table-top: section through slope AB, CD, DA, the hip dashed",
        "Table-top: section through slope BC, the hip dashed",
    ]
    for section, side in zip(sections, (0, 1), strict=True):
        assert has_line(section, (0.0, 0.0), (cell(rows(answer, "sides")[side], "offset_in"), 1400.0), "bold")


UNEQUAL = (
    "length=8400 width=6600 pitch_ab=45 pitch_cd=45 pitch_bc=60 pitch_da=60 run=1200 section=47x200"
    " floor=300 finish=20 lining=40 trimmers=3"
)


def cut(kind: str) -> tuple[Answer, list[Drawing]]:
    answer, made = drawn("flat-top", UNEQUAL)
    return answer, [one for one in made if kind in one.title]


def test_a_rafter_laid_down_seats_on_its_plate_and_stands_at_the_table_by_the_numbers_of_its_side() -> None:
    answer, made = cut("rafter laid down")
    assert [one.title.partition("slope ")[2][:6] for one in made] == ["AB, CD", "BC, DA"]
    for drawing, side, pitch in zip(made, ("ab", "bc"), (45, 60), strict=True):
        row = row_of(answer, "elevation", side=side)
        inn, floor = cell(row, "plumb_cut_in"), 300.0
        top, foot = cell(row, "top_at_cut") - floor, cell(row, "foot_at_cut") - floor
        assert has_line(drawing, (inn, top), (inn, foot), "bold")
        assert has_line(drawing, (0.0, 0.0), (cell(row, "seat_length"), 0.0), "bold")
        assert has_line(drawing, (cell(row, "seat_length"), 0.0), (inn, foot), "bold", within=1e-6)
        assert has_line(drawing, (0.0, 0.0), (inn, 1200.0), "hidden")  # the table is 1200 up: 45 degrees over 1200 in
        assert math.dist((0, 0), (inn, 1200)) == pytest.approx(cell(row, "rafter_length"))
        # From any point of the top edge square down to the underside it is as deep as it was ordered.
        slope = math.tan(math.radians(pitch))
        under = [y - slope * x for x, y in drawing.lines[0].points]
        assert (max(under) - min(under)) * math.cos(math.radians(pitch)) == pytest.approx(200)
        assert has(drawing, cell(row, "trimmer_back_in"), top, "built")
        assert sum(line.stroke == "built" for line in drawing.lines) == 3


def test_studs_stand_from_their_sole_to_the_head_plates_under_the_table() -> None:
    answer, (drawing,) = cut("studs under it")
    top, stud = figure(answer, "stud_top"), figure(answer, "stud_length")
    heights = sorted({y for line in drawing.lines if line.stroke == "bold" and line.closed for _, y in line.points})
    assert heights == pytest.approx([top - stud, top])
    assert heights == pytest.approx(
        [-20 + 47, 1500 - 2 * 47]
    )  # the sole on the structural floor, 20 under the finished
    built = [y for line in drawing.lines if line.stroke == "built" for _, y in line.points]
    assert (min(built), max(built)) == pytest.approx((-20, figure(answer, "table_height")))


def test_no_stud_is_drawn_where_none_is_left() -> None:
    _, made = drawn("flat-top", "length=9000 width=6000 pitch=35 rise=100")
    (drawing,) = [one for one in made if "studs under it" in one.title]
    assert not any(line.stroke == "bold" and line.closed for line in drawing.lines)


def test_a_hollow_head_is_cut_from_its_centre_past_it_on_both_arrises_by_its_bevels() -> None:
    answer, made = cut("hollow head")
    assert [one.title.partition("corner ")[2][:4] for one in made] == ["A, C", "B, D"]
    for drawing, corner in zip(made, "ab", strict=True):
        cheeks = [row for row in rows(answer, "heads") if row["corner"] == corner]
        for row, way in zip(cheeks, (1, -1), strict=True):
            past = cell(row, "past_along")
            assert has_line(drawing, (0.0, 0.0), (past, way * 23.5), "bold")
            bevel = math.degrees(math.atan2(past, 23.5))
            assert bevel == pytest.approx(cell(row, "bevel_from_square"))


def test_a_clipped_corner_is_cut_between_its_marks_square_to_the_hip_and_the_whole_head_stands_on_the_cut() -> None:
    answer, made = cut("clipped")
    assert [one.title.partition("corner ")[2][:4] for one in made] == ["A, C", "B, D"]
    for drawing, corner in zip(made, "ab", strict=True):
        row = row_of(answer, "clips", corner=corner)
        back = cell(row, "clip_back")
        (line,) = [one for one in drawing.lines if one.stroke == "bold" and not one.closed]
        (x1, y1), (x2, y2) = line.points
        assert (x1, x2) == pytest.approx((back, back))
        assert math.hypot(x1, y1) == pytest.approx(cell(row, "mark_1")) and y1 > 23.5 - 1e-6
        assert math.hypot(x2, y2) == pytest.approx(cell(row, "mark_2")) and y2 < -23.5 + 1e-6
        assert y1 - y2 == pytest.approx(cell(row, "clip_width"))
        assert has_line(drawing, (back, 23.5), (back, -23.5), "bold")
        # The two edges of the table stand square to each other, as these plates do.
        assert x1 * x2 + y1 * y2 == pytest.approx(0, abs=1e-6)


def test_a_taper_is_thin_at_the_low_end_and_thick_at_the_high_one_and_lies_at_every_joist() -> None:
    answer, (side, plan) = drawn("firrings", "span=3600 fall=1:40 thin=20 length=5000")
    for corner in ((0, 0), (3600, 0), (3600, 110), (0, 20)):  # 3600 at 1:40 is 90 over 20
        assert has(side, *corner, "bold")
    for n in range(figure_count := int(figure(answer, "count"))):
        x = min(23.5 + 400.0 * n, 5000.0 - 23.5)
        assert has_line(plan, (x, 0.0), (x, 3600.0), "thin")
    assert figure_count == 14


def test_firrings_across_stand_at_their_marks_as_thick_as_they_are() -> None:
    answer, (side, plan) = drawn("firrings")
    for row in rows(answer, "rows"):
        at, thick = cell(row, "at"), cell(row, "thickness")
        assert has_line(side, (at, 0.0), (at, thick), "bold") and thick == pytest.approx(38 + at / 40)
        assert has_line(plan, (0.0, at), (3600.0, at), "thin")


@pytest.mark.parametrize(("long", "wide"), [(6000.0, 3600.0), (3000.0, 4200.0), (3600.0, 3600.0)])
def test_a_hipped_deck_has_its_firrings_on_all_four_edges_up_to_the_diagonals_faces(long: float, wide: float) -> None:
    """Four planes at one fall: a point is as high as it is far from the nearest edge, at most half the shorter way."""
    answer, (plan, section) = drawn("hipped-falls", f"length={long} width={wide} fall=1:60 thin=20 spacing=600")
    half = min(long, wide) / 2
    for row in rows(answer, "rows"):
        at, reach = cell(row, "at"), cell(row, "length_centre")
        foot, head = {
            "ab": ((at, 0.0), (at, reach)),
            "bc": ((long, at), (long - reach, at)),
            "cd": ((long - at, wide), (long - at, wide - reach)),
            "da": ((0.0, wide - at), (reach, wide - at)),
        }[str(row["side"])]
        assert has_line(plan, foot, head, "thin")
        assert min(head[0], long - head[0], head[1], wide - head[1]) == pytest.approx(reach)
    for x in (0.0, long):
        for y in (0.0, wide):
            top = (half if x == 0 else long - half, half if y == 0 else wide - half)
            assert has_line(plan, (x, y), top, "bold") and math.dist((x, y), top) == pytest.approx(half * math.sqrt(2))
    assert has(section, half, 20 + half / 60, "bold") and has(section, 0, 20, "bold") and has(section, 2 * half, 20)


def test_a_skew_deck_is_drawn_on_its_taped_corners_with_its_ridge_as_it_runs() -> None:
    answer, (plan, _) = drawn(
        "hipped-falls", "ab=6000 bc=3490 cd=6331 da=3601 ac=7154 bd=7064 fall=1:40 thin=20 spacing=600"
    )
    p, q = ((figure(answer, f"ridge_{end}_x"), figure(answer, f"ridge_{end}_y")) for end in "pq")
    assert has_line(plan, p, q, "bold")
    a, b, c, d = plan.lines[0].points
    for corner, end in ((a, p), (b, q), (c, q), (d, p)):
        assert has_line(plan, corner, end, "bold")
    assert math.dist(a, c) == pytest.approx(7154, abs=1) and math.dist(b, d) == pytest.approx(7064, abs=1)


def test_the_sole_of_a_gutter_steps_at_each_drip_and_its_upstands_are_level() -> None:
    answer, (along,) = drawn("gutter")
    for row in rows(answer, "levels"):
        assert has(along, cell(row, "at"), cell(row, "foot"), "bold") and has(
            along, cell(row, "at"), cell(row, "top"), "bold"
        )
    top = figure(answer, "rise") + figure(answer, "depth_head")
    assert has_line(along, (0.0, top), (6000.0, top), "built") and top == pytest.approx(figure(answer, "depth_outlet"))
    for low, high in pairwise(rows(answer, "levels")):
        water = figure(answer, "water_depth")
        assert has_line(
            along, (cell(low, "at"), cell(low, "top") + water), (cell(high, "at"), cell(high, "foot") + water)
        )


def test_a_scarf_is_its_outline_and_its_other_half_is_the_same_turned_end_for_end() -> None:
    answer, (half, wedges) = drawn("scarf")
    for row in rows(answer, "outline"):
        x, y = cell(row, "x"), cell(row, "y")
        assert has(half, x, y, "bold") and has(half, 660 - x, 220 - y, "hidden")
    for row in rows(answer, "screws"):
        edge = 220.0 if row["edge"] == "top" else 0.0
        assert has_line(half, (cell(row, "start_x"), edge), (cell(row, "x"), cell(row, "y")), "built")
        assert has(half, cell(row, "x"), 20.0 if row["edge"] == "top" else 200.0, "built")  # 20 from the far edge
    thin, head = figure(answer, "wedge_thin"), figure(answer, "wedge_thick")
    assert has_line(wedges, (47.0, 0.0), (47.0, thin), "bold") and has_line(wedges, (-40.0, 0.0), (-40.0, head), "bold")
    assert has_line(wedges, (0.0, 20.0), (0.0, 20.0 - thin), "bold")  # the other, from the far side


JACKS = (("side=1 on=hip", -1), ("side=2 on=hip", 1), ("side=1 on=valley", -1), ("side=2 on=valley", 1))


@pytest.mark.parametrize(("words", "way"), JACKS)
def test_every_jack_is_drawn_to_both_its_points_at_its_mark_and_all_lie_on_one_face(words: str, way: int) -> None:
    """Side 1 is on the left from outside, so its marks run left from the corner. Long points lie on one straight line:
    the face of the hip, developed, at the jacks' own edge bevel."""
    answer, (drawing,) = drawn("jacks", f"pitch=35 spacing=400 run=3000 {words}")
    hip = "hip" in words
    whole = 3000 / math.cos(math.radians(35))
    ends = []
    for row in rows(answer, "rows"):
        at, long, short = (cell(row, name) for name in ("at", "length_long_point", "length_short_point"))
        inner, outer = way * (at - 23.5), way * (at + 23.5)
        sides = (
            [(outer, 0.0, long), (inner, 0.0, short)]
            if hip
            else [(inner, whole, whole - long), (outer, whole, whole - short)]
        )
        for x, foot, head in sides:
            assert has_line(drawing, (x, foot), (x, head), "built")
        ends += [(abs(x), head) for x, _, head in sides]
    slope = math.degrees(
        math.atan2(max(y for _, y in ends) - min(y for _, y in ends), max(x for x, _ in ends) - min(x for x, _ in ends))
    )
    assert slope == pytest.approx(figure(answer, "edge_bevel_from_square"))


def test_a_jack_over_all_is_drawn_from_its_long_point_to_the_end_of_its_tail_under_the_plate() -> None:
    answer, (drawing,) = drawn("jacks", "pitch=35 spacing=400 run=3000 past=470mm side=2")
    for row in rows(answer, "rows"):
        outer, long = cell(row, "at") + 23.5, cell(row, "length_long_point")
        assert cell(row, "length_overall") == pytest.approx(long + 470)
        assert has_line(drawing, (outer, -470.0), (outer, long), "built")
    assert any("cut lengths over all: at 400 946" in said for said in drawing.says)


def test_an_opening_is_clear_between_its_trimmers_and_each_cut_rafter_is_what_is_left_of_it() -> None:
    answer, (drawing,) = drawn("opening")
    high = figure(answer, "slope_length")
    for corner in ((0, 0), (1153, 0), (1153, high), (0, high)):
        assert has(drawing, *corner, "bold")
    assert high == pytest.approx(1800 / math.cos(math.radians(40)))
    lengths = {row["where"]: cell(row, "length") for row in rows(answer, "trimmed_rafters")}
    for n in (1, 2):
        left = 400.0 * n - 47
        assert has_line(drawing, (left, -94 - lengths["foot"]), (left, -94.0))
        assert has_line(drawing, (left, high + 94), (left, high + 94 + lengths["head"]))
    assert -94 - lengths["foot"] == pytest.approx(
        -900 / math.cos(math.radians(40))
    )  # the plate, 900 level from the foot


@pytest.mark.parametrize("more", ["", " zero=tail nick=20"])
def test_the_jacks_of_a_hip_are_marked_on_both_faces_where_the_tape_says(more: str) -> None:
    """Drawn from the head's furthest point, whichever end the tape hooks at."""
    words = "kind=hip corner=100 pitch=35 pitch2=40 run=3000 common_height_above_plate=122 overhang=300"
    answer, made = drawn("sticks", f"{words} jacks=400,800,1200,1600 jacks2=500,900{more}")
    strip = next(one for one in made if "jacks' centres" in one.title)
    whole, nick = figure(answer, "overall_length"), 20 if more else 0
    marks = rows(answer, "jacks")
    assert [row["face_2"] is None for row in marks] == [False, False, True, True]
    for row in marks:
        for name, y in (("face_1", 23.5), ("face_2", -23.5)):
            if row[name] is not None:
                at = cell(row, name)
                x = whole - (at - nick) if more else at
                assert has_line(strip, (x, y), (x, 4 * y), "built")
                assert any(block.text == f"{at:.0f}" and block.at == (x, 4 * y) for block in strip.words)
                assert any("jack" in said and f"{row['n']} at {at:.0f}" in said for said in strip.says)


def test_a_hip_runs_from_the_corner_to_the_ridge_and_its_head_is_marked_at_both_bevels() -> None:
    answer, (line, head) = drawn("hip", "corner=100 pitch=35 pitch2=40 run=3000 section=47x225")
    run, rise = figure(answer, "run"), figure(answer, "rise")
    assert has_line(line, (0.0, 0.0), (run, rise), "bold") and math.hypot(run, rise) == pytest.approx(
        4179.12, abs=0.005
    )
    for side, off in ((1, 23.5), (2, -23.5)):
        back = 23.5 * math.tan(math.radians(figure(answer, f"edge_bevel_{side}_from_square")))
        assert has_line(head, (0.0, 0.0), (-back, off), "bold")


def test_a_roof_is_drawn_on_its_corners_with_its_hips_to_the_ends_of_its_ridge() -> None:
    answer, (plan,) = drawn("roof")
    measured = (9000.0, 6000.0, 9010.0, 6005.0, 10830.0, 10812.0)
    ends = [answer.results[name] for name in ("ridge_p", "ridge_q")]
    ridge = [(float(end["x"] or 0), float(end["y"] or 0)) for end in ends if isinstance(end, dict)]
    assert has_line(plan, ridge[0], ridge[1], "bold")
    for (x, y), row in zip(corners(*measured).values(), rows(answer, "hips"), strict=True):
        assert any(
            has_line(plan, (x, y), end, "built") and math.dist((x, y), end) == pytest.approx(cell(row, "run"))
            for end in ridge
        )


def test_a_hips_foot_is_drawn_to_its_marks_and_its_strings_cross_over_its_centre() -> None:
    words = "corner=100 pitch=35 pitch2=40 thickness=63 common_height_above_plate=110 overhang=300 dummy_run=600"
    answer, (v, clip, side, strings) = drawn("hip-foot", words)
    for n, way in ((1, 1), (2, -1)):
        back, mark = figure(answer, f"v_back_{n}"), figure(answer, f"clip_mark_{n}")
        angle = math.radians(figure(answer, f"plan_angle_{n}"))
        assert has_line(v, (0.0, 0.0), (back, way * 31.5), "bold")
        assert math.atan2(31.5, back) == pytest.approx(angle)  # the cheek runs along its plate
        assert has(clip, mark * math.cos(angle), way * mark * math.sin(angle), "bold")
        assert mark * math.cos(angle) == pytest.approx(figure(answer, "clip_back"))
        near = figure(answer, f"dummy_nearest_{n}")
        run = 600.0 if n == 1 else figure(answer, "dummy_run_2")
        foot = (near * math.cos(angle), way * near * math.sin(angle))
        head = (foot[0] + run * math.sin(angle), foot[1] - way * run * math.cos(angle))
        assert has_line(strings, foot, head, "bold")
        # Its near face, half a dummy to the corner's side, is clear of the hip's face by nothing at the head.
        assert abs(head[1] - way * 23.5 * math.sin(angle)) == pytest.approx(31.5)
    assert has_line(clip, (figure(answer, "clip_back"), 31.5), (figure(answer, "clip_back"), -31.5), "bold")
    assert has(strings, figure(answer, "string_cross_run"), 0.0, "thin")
    slope = math.tan(math.radians(figure(answer, "hip_pitch")))
    for x, y in points(side, "bold"):
        assert y == pytest.approx(figure(answer, "height_at_corner") + x * slope)


@pytest.mark.parametrize(("hips", "start", "end"), [(2, 3000.0, 6000.0), (1, 0.0, 6000.0), (0, 0.0, 9000.0)])
def test_a_ridge_runs_to_the_face_of_a_gable_and_to_the_meeting_of_its_hips(
    hips: int, start: float, end: float
) -> None:
    answer, (plan,) = drawn("ridge", f"length=9000 width=6000 pitch=35 hips={hips}")
    assert has_line(plan, (start, 3000.0), (end, 3000.0), "bold") and end - start == pytest.approx(
        figure(answer, "ridge_length")
    )


def test_plates_as_measured_stand_on_the_fitted_corners() -> None:
    answer, (plan,) = drawn("squareness")
    for name in "abcd":
        assert has(plan, figure(answer, f"{name}_x"), figure(answer, f"{name}_y"), "built")


def test_a_birdsmouth_is_as_deep_and_as_wide_as_it_is_cut() -> None:
    answer, (drawing,) = drawn("birdsmouth")
    assert has_line(drawing, (0.0, 0.0), (figure(answer, "seat"), 0.0), "bold")
    assert has_line(drawing, (0.0, -figure(answer, "heel")), (0.0, 0.0), "bold")
    edge = drawing.lines[1].points
    assert math.dist(edge[0], edge[1]) == pytest.approx(150)  # square across the rafter


def test_a_head_as_read_stands_at_what_was_read_over_the_curve_that_was_worked() -> None:
    answer, (drawing,) = drawn("ordinates")
    for row in rows(answer, "rows"):
        assert has_line(drawing, (cell(row, "at"), 0.0), (cell(row, "at"), cell(row, "read")), "thin")
    for x, y in points(drawing, "bold"):  # 1800 by 600: radius (900^2 + 600^2) / 1200
        assert math.hypot(x - 900, y - 600 + 975) == pytest.approx(975, abs=1e-6)


def test_each_face_of_the_rafters_has_its_marks_on_a_line_of_the_same_shape() -> None:
    answer, made = drawn("slope-marks")
    lines = [next(line.points for line in drawing.lines if line.stroke == "bold") for drawing in made]
    for drawing, after in zip(made, ("", "_deck", "_under"), strict=True):
        for row in rows(answer, "rows"):
            for side, way in (("left", -1), ("right", 1)):
                shown = [words for words in drawing.words if words.series == side + after]
                assert (cell(row, "at") + way * 23.5, cell(row, side + after)) in [words.at for words in shown]
    turn = math.tan(math.radians(40))
    for line, further in zip(lines, (18 / turn, 0.0, 168 / turn), strict=True):
        for (x, y), (x_on, y_on) in zip(line, lines[1], strict=True):
            assert (x, y) == pytest.approx((x_on, y_on + further))


def test_the_line_on_the_rafters_is_an_ellipse_through_its_marks() -> None:
    answer, (drawing,) = drawn("slope-marks", "chord=1800 rise=600 pitch=40 sheet=18 first=100 spacing=400")
    radius, below = 975.0 - 18.0, 375.0
    for row in rows(answer, "rows"):
        for edge, off in (("left", -23.5), ("right", 23.5)):
            x, y = cell(row, "at") + off - 900, cell(row, edge) * math.sin(math.radians(40))
            assert math.hypot(x, y + below) == pytest.approx(radius, abs=1e-6)
    for x, y in points(drawing, "bold"):
        assert math.hypot(x - 900, y * math.sin(math.radians(40)) + below) == pytest.approx(radius, abs=1e-6)


def test_the_plan_of_any_roof_has_each_line_between_its_points_and_each_size_on_some_sheet() -> None:
    answer, made = drawn("surface")
    at = {str(row["point"]): (cell(row, "x"), cell(row, "y")) for row in rows(answer, "points")}
    plans = [one for one in made if one.title.startswith("Roof: plan")]
    shown = {word.text.split()[-1] for plan in plans for word in plan.words}
    for row in rows(answer, "lines"):
        assert all(has_line(plan, at[str(row["from"])], at[str(row["to"])]) for plan in plans)
        assert show_length(cell(row, "length")) in shown


def test_each_slope_is_laid_flat_as_large_as_it_is_with_its_rafters_up_it() -> None:
    answer, made = drawn("surface")
    for row in rows(answer, "slopes"):
        flat = next(one for one in made if one.title == f"Slope {row['name']} laid flat: its edges")
        ring = [*flat.lines[0].points, flat.lines[0].points[0]]
        twice = sum(x0 * y1 - x1 * y0 for (x0, y0), (x1, y1) in pairwise(ring))
        assert twice / 2e6 == pytest.approx(cell(row, "area"))
        rafters = next(one for one in made if one.title.startswith(f"Slope {row['name']} laid flat: rafters"))
        lengths = [math.dist(*line.points) for line in rafters.lines if line.stroke == "thin"]
        own = [cell(one, "length") for one in rows(answer, "rafters") if one["slope"] == row["name"]]
        assert lengths == pytest.approx(own)


def test_a_section_is_as_high_as_its_ridge_and_as_steep_as_its_slopes() -> None:
    """The main ridge of the L at 40 degrees is 3000 tan 40 up."""
    _, made = drawn("surface")
    section = next(one for one in made if one.title == "Roof: section through ridge AB-CD")
    rise = 3000 * math.tan(math.radians(40))
    assert has(section, 0.0, rise, "bold", within=1e-3)
    for line in section.lines:
        if line.stroke == "bold":
            (x0, y0), (x1, y1) = line.points
            assert abs((y1 - y0) / (x1 - x0)) == pytest.approx(math.tan(math.radians(40)))


GABLED = "A 0,0; B 9000,0; C 9000,6000; D 0,6000; main AB 40, BC gable, CD 40, DA gable"


def test_purlins_and_their_struts_are_on_plan_where_they_are() -> None:
    """The example's purlins are 1200 up: 1200 / tan 40 in from each plate; a strut's mark is square across it."""
    answer, made = drawn("surface")
    plans = [one for one in made if one.title == "Roof: plan, purlins and struts"]
    into = 1200 / math.tan(math.radians(40))
    ab = [line for line in plans[0].lines if all(abs(y - into) < 1e-6 for _, y in line.points)]
    assert [math.dist(*line.points) for line in ab] == pytest.approx([9000 - 2 * into])
    marks = [
        line for line in plans[0].lines if line.stroke == "built" and math.dist(*line.points) == pytest.approx(300)
    ]
    under = [cell(row, "along_purlin") for row in rows(answer, "struts") if row["slope"] == "AB"]
    heads = [
        (x0 + x1) / 2 for (x0, y0), (x1, y1) in (mark.points for mark in marks) if abs((y0 + y1) / 2 - into) < 1e-6
    ]
    assert heads == pytest.approx([into + place for place in under])
    shown = {word.text for one in plans for word in one.words}
    assert {show_length(cell(row, "length")) for row in rows(answer, "purlins")} <= shown


def test_a_strut_is_drawn_from_its_foot_to_under_its_purlin_as_long_and_as_steep_as_it_is() -> None:
    """By hand: a purlin 1200 up at 40 is 1430.1 in; heads 250 under it, feet 2500 in and 100 under the plates."""
    answer, made = drawn(
        "surface", f"plan='{GABLED}' purlins=1200 struts=1800 strut_head=250 strut_foot=-100 strut_in=2500"
    )
    section = next(one for one in made if one.title.startswith("Struts under"))
    (foot, head) = next(line.points for line in section.lines if line.stroke == "bold")
    assert head == pytest.approx((1200 / math.tan(math.radians(40)), 950.0))
    assert foot == pytest.approx((2500.0, -100.0))
    strut = rows(answer, "struts")[0]
    assert math.dist(foot, head) == pytest.approx(cell(strut, "length"))
    assert math.degrees(math.atan2(foot[0] - head[0], head[1] - foot[1])) == pytest.approx(cell(strut, "lean"))
    assert any(show_length(cell(strut, "length")) in line for line in section.says)
