"""What every calculator takes and gives, typed out by hand: whoever scripts them is owed these very names.

An input with `=` stands at that value if it is left out. Rows have at least the columns that stand in brackets, the
first of which picks a row.
"""

import re
import shlex
from collections.abc import Iterator
from dataclasses import dataclass

import pytest

from sitelog.calculators.ask import ask
from sitelog.calculators.catalogue import Result
from sitelog.calculators.index import find


@dataclass(frozen=True)
class Promise:
    """The names a calculator keeps to. `verdict` is whether its worked example is judged."""

    name: str
    inputs: str
    results: str
    verdict: bool = False
    typed: str = ""  # its own example if nothing else

    @property
    def defaults(self) -> dict[str, str]:
        return dict(word.split("=", 1) for word in self.inputs.split() if "=" in word)


SIX = "ab bc cd da ac bd"
FOUR_PITCHES = "pitch pitch_ab pitch_bc pitch_cd pitch_da"
SIX_CORNERS = "a_x a_y b_x b_y c_x c_y d_x d_y angle_a angle_b angle_c angle_d"
POINT = "(x y z)"
HIP = (
    "plan_angle_1 plan_angle_2 hip_pitch run rise length_on_line ridge_deduction plumb_cut_from_square"
    " seat_cut_from_square edge_bevel_1_from_square edge_bevel_2_from_square saw_tilt_1 saw_tilt_2 backing_1 backing_2"
    " dihedral drop_1 drop_2 overall_length order_length mass"
)
LINE = "(at height along_slope back)"
CUT_LINE = "(at height along_slope back back_cut_from_square)"
THROUGH = f"deck_shift deck_shift_level off_if_thickness_added lower_rows{LINE} ceiling_rows{LINE}"
PROMISES = (
    # Setting out and measuring
    Promise(
        "squareness",
        f"{SIX} ties tape=II tolerance=10",
        f"{SIX_CORNERS} diagonal_difference residual_ab residual_bc residual_cd residual_da residual_ac residual_bd"
        " misclosure standard_residual suspect out_of_square area",
        verdict=True,
    ),
    Promise("corner", "first second across", "angle out_of_square across_if_square across_off"),
    Promise("levels", "readings kind=staff tolerance", "high_point range packing(point reading packing)", verdict=True),
    Promise("twist", "spacing fall_foot fall_head length tolerance", "wind wind_angle wind_per_metre", verdict=True),
    Promise("string", "offsets length tolerance", "bow station ratio", verdict=True),
    Promise("tape", "length class=II measured nominal tolerance", "limit_of_error", verdict=True),
    # Rafters and roof lines
    Promise(
        "common",
        "run pitch rise section=47x150 ridge=0 plate=100 overhang=0 birdsmouth=1/3 tied",
        "rise length_on_line ridge_deduction length_to_ridge plumb_cut_from_square seat_cut_from_square"
        " birdsmouth_depth seat_length heel_plumb height_above_plate tail_length overall_length order_length mass",
        verdict=True,
    ),
    Promise("hip", "corner=90 pitch pitch2 run section ridge=0 common_height_above_plate heel", HIP),
    Promise("valley", "corner=90 pitch pitch2 run section ridge=0 common_height_above_plate", HIP),
    Promise(
        "laid-valley",
        "corner=90 pitch pitch2 run board=25x200 section=47x150 overhang=0",
        "plan_angle slope_angle length_on_line tail_length head_bevel_from_square foot_bevel_from_square outer_edge"
        " inner_edge overall_length toe_back board_least jack_off foot_cut_from_square foot_edge_from_square"
        " foot_saw_tilt foot_length",
    ),
    Promise(
        "jacks",
        "corner=90 pitch pitch2 side=1 spacing first run hip_thickness thickness on=hip",
        "rows(n at length_centre length_long_point length_short_point) difference edge_bevel_from_square saw_tilt"
        " plumb_cut_from_square pairs common_at",
    ),
    Promise(
        "sticks",
        "kind=common pitch run ridge=0 section overhang=0 birdsmouth=1/3 common_height_above_plate corner=90 pitch2"
        " ridge_side=1 head=pointed heel=v side=1 at hip_thickness=47 zero=head nick=0"
        " left middle right turn_across turn_along bevel2 point_back=0",
        "rows(line point at down) overall_length",
    ),
    Promise("purlin", "corner=90 pitch pitch2 side=1", "edge_bevel_from_square face_bevel_from_square"),
    Promise(
        "roof",
        f"{SIX} length width {FOUR_PITCHES} keep=pitch",
        f"ridge_p{POINT} ridge_q{POINT} ridge_length ridge_fall"
        " hips(corner length pitch run plan_angle_1 plan_angle_2)"
        " slopes(side common_shortest common_longest pitch_at_p pitch_at_q)",
    ),
    Promise("ridge", f"length width {FOUR_PITCHES} hips=2", "ridge_length cut_length"),
    Promise(
        "birdsmouth", "section pitch plate tied fraction=1/3 seat", "depth seat heel height_above_plate", verdict=True
    ),
    Promise(
        "opening",
        "pitch level_width level_depth spacing trimmer doubled=2",
        "slope_length trimmers(where count length) trimmed_rafters(where count length) rafters_cut",
    ),
    Promise(
        "flat-top",
        f"{SIX} length width {FOUR_PITCHES} rise run section=47x150 birdsmouth=1/3 hip_thickness=47 floor=0 finish=0"
        " sole=47 head_plates=2 plate_thickness=47 lining=0 wall_lining=0 trimmers=2 trimmer=47",
        "top(corner x y hip_length hip_pitch) sides(side length offset_in finished_wall wall_to_table) diagonal_ac"
        " diagonal_bd elevation(side height_above_plate seat_length plumb_cut_in rafter_length plumb_cut_length"
        " top_at_cut foot_at_cut foot_below_table trimmer_back_in) table_height ceiling_height stud_top stud_length"
        " heads(corner side plan_angle bevel_from_square saw_tilt past_level past_along)"
        " clips(corner clip_back mark_1 mark_2 clip_width past_along hip_length)",
    ),
    Promise(
        "hip-foot",
        "corner=90 pitch pitch2 thickness=47 common_height_above_plate common=47x150 overhang dummy_run"
        " dummy_thickness=47",
        "plan_angle_1 plan_angle_2 hip_pitch bevel_1_from_square bevel_2_from_square saw_tilt_1 saw_tilt_2 v_back_1"
        " v_back_2 v_back_along_1 v_back_along_2 clip_back clip_along clip_mark_1 clip_mark_2 clip_width"
        " height_at_corner height_at_clip tail_run tail_along overhang_2 dummy_run_2 dummy_length_1 dummy_length_2"
        " dummy_seat_1 dummy_seat_2 string_height string_cross_run string_cross_length dummy_nearest_1 dummy_nearest_2",
    ),
    Promise(
        "scarf",
        "depth ratio=3 wedge=20 nib=1/4 hook=1/8 thickness=47 taper=1:12 drive=40 screw=edge cover=20",
        "joint_length wedge hook nib splay_from_edge depth_left outline(n x y) positions(point x y) wedge_thin"
        " wedge_at_face wedge_thick wedge_length screws(n edge x y start_x through into length from_square)",
    ),
    # Curved work
    Promise("arc", "chord rise radius spacing count", "radius centre_below_chord angle arc_length rows(at height)"),
    Promise(
        "rib",
        "radius depth board arc=180 lap=0.5",
        "segment_angle segments chord_out chord_in mitre_from_square layers board_length",
    ),
    Promise(
        "barrel",
        "radius chord rise pitch spacing sheet deck inside below",
        f"rows{CUT_LINE} inner_rows{LINE} semi_axis_across semi_axis_up_slope ridge_back {THROUGH}",
    ),
    Promise("eyebrow", "width rise split=0.5 pitch spacing", f"crown_radius wing_radius tangent_angle rows{CUT_LINE}"),
    Promise(
        "eyebrow",
        "width rise split=0.5 pitch spacing deck inside below",
        f"crown_radius wing_radius tangent_angle rows{CUT_LINE} {THROUGH}",
        typed="width=3000 rise=600 pitch=55 spacing=250 deck=18 inside=60 below=180",
    ),
    Promise(
        "ordinates",
        "chord rise split pitch sheet=0 spacing readings tolerance",
        "worst station worked rows(at worked read off)",
        verdict=True,
    ),
    Promise(
        "slope-marks",
        "chord rise split pitch sheet=0 first spacing thickness=47 deck=0 rafter",
        "rafters highest crown_up steepest_bevel_from_square rafter_zero off_if_thickness_added face_cut_from_square"
        " rows(n at left right bevel_from_square left_deck right_deck left_under right_under)",
    ),
    Promise(
        "formers",
        "radius chord rise sheet=0 lining=0 bearer=47x75 stance=square count spacing end slot joint=flush former board"
        " pitch face=0 noggin",
        "bearer_radius former_radius inside_radius ceiling_radius ceiling_width ceiling_height girth count centres"
        " former_width left_under_slot face_area"
        " bearers(n girth at height lean length_top long_point short_point side_cut_from_square top_cut_from_square"
        " saw_tilt_side saw_tilt_top hand)"
        " slots(n mouth_left_x mouth_left_y mouth_right_x mouth_right_y floor_left_x floor_left_y floor_right_x"
        " floor_right_y depth_left depth_right)"
        " noggins(n length_top length_bottom left_mitre_from_square right_mitre_from_square)"
        " angle segment_angle pieces angle_each chord_out board_used joint_mitre_from_square foot_cut_from_joint"
        " joints(n lean out_x out_y in_x in_y) outline(n x y)",
    ),
    Promise(
        "soffit",
        "radius chord rise sheet=0 former=0 lining=0 pitch rafter deck=0 trimmer=47 layers=2 stance=square"
        " meet=underside",
        "soffit_height soffit_radius soffit_width top_along top_back underside_along underside_back"
        " faces(n top_along top_back under_along under_back)",
    ),
    Promise(
        "bulkhead",
        "radius chord rise sheet=0 former=0 lining=0 pitch rafter deck=0 trimmer=47 layers=2 steps=2 heights"
        " spacing=300",
        "soffit_height trimmers(step place height under_along under_back from_at to_at length most_drop"
        " rafter_between) hangers(n at step length foot_cut_from_square) head_cut_from_square",
    ),
    Promise("sheet-bend", "radius thickness grain", "layers minimum_radius source", verdict=True),
    # Decks, falls and gutters
    Promise(
        "firrings",
        "span fall kind thin spacing laid=along length joist=47 clear=0",
        "thick_end thin_end count rows(n at thickness)",
    ),
    Promise(
        "hipped-falls",
        f"length width {SIX} fall thin spacing diagonal_thickness stick kerf=4",
        "centre_height ridge_length ridge_p_x ridge_p_y ridge_p_height ridge_q_x ridge_q_y ridge_q_height"
        " diagonal diagonal_length diagonal_thin_end diagonal_thick_end diagonal_backing diagonal_drop"
        " diagonals(corner plan_length length thin_end thick_end outer_bevel_from_square outer_back inner_past_1"
        " inner_bevel_1_from_square inner_past_2 inner_bevel_2_from_square backing drop length_overall thick_long)"
        " rows(n side at length_left length_centre length_right long_point bevel_left_from_square"
        " bevel_right_from_square break_across break_along thin_end thick_left thick_centre thick_right thick_long"
        " length cut_length thick_end bevel_from_square break_left_from_square break_right_from_square hand"
        " nested_with)"
        " nest_pairs nest_singles nests(long short depth)",
    ),
    Promise(
        "gutter",
        "length fall metal code thickness drip sole roof_area bend rainfall",
        "bays bay_length drip levels(n at foot top) depth_head depth_outlet capacity flow",
        verdict=True,
    ),
    Promise(
        "ventilation",
        "kind pitch span length insulation=ceiling",
        "eaves_gap eaves_area high_gap high_area air_space sources(figure source)",
    ),
    # Coverings and finish
    Promise(
        "gauge",
        "slope unit_length headlap max_gauge eaves=0 top=0",
        "courses gauge marks(n mark_at) resulting_lap",
        verdict=True,
    ),
    Promise(
        "headlap",
        "covering pitch exposure unit_length unit_width least least_lap headlap gauge rafter who",
        "least_pitch least_headlap largest_gauge tables(table from_pitch lap)",
        verdict=True,
    ),
    Promise("load-change", "mass design_mass", "mass_change mass_change_percent", verdict=True),
    Promise("cover", "area length slope gauge cover_width waste=0", "units batten_run mass"),
    Promise(
        "metal-bays",
        "metal code use length girth temperature_range",
        "bays bay_length bay_girth movement mass_each mass_all",
    ),
    Promise(
        "grp-deck",
        "length width fall",
        "sheets rows(n first between last) rules(rule figure source) questions(n ask wanted)",
        verdict=True,
    ),
    Promise(
        "deck-boards",
        "length width thickness=18 under=other",
        "wall_gap square_gap edge_centres field_centres fixing_length sources(figure source standing)",
    ),
    # Timber
    Promise("mass", "section length grade=C24 density count=1", "mass_each mass_all"),
)
promises = pytest.mark.parametrize("one", PROMISES, ids=lambda one: one.name)


def typed(one: Promise) -> dict[str, str]:
    return dict(pair.split("=", 1) for pair in shlex.split(one.typed or find(one.name).example))


def promised(results: str) -> Iterator[tuple[str, list[str]]]:
    """Each result, and its columns if it is rows."""
    for found in re.finditer(r"(\w+)(?:\(([^)]*)\))?", results):
        yield found[1], (found[2] or "").split()


def rows(result: Result) -> list[dict[str, float | int | str | None]]:
    return result if isinstance(result, list) else [result] if isinstance(result, dict) else []


@promises
def test_the_inputs_have_the_names_that_were_promised(one: Promise) -> None:
    assert {word.split("=")[0] for word in one.inputs.split()} <= {i.name for i in find(one.name).inputs}


@promises
def test_nothing_must_be_given_that_was_not_promised(one: Promise) -> None:
    names = {word.split("=")[0] for word in one.inputs.split()}
    assert {i.name for i in find(one.name).inputs if i.required} <= names


@promises
def test_an_input_left_out_stands_at_the_value_that_was_promised(one: Promise) -> None:
    for name, default in one.defaults.items():
        without = {key: text for key, text in typed(one).items() if key != name}
        assert ask(one.name, without).results == ask(one.name, {**without, name: default}).results, name


@promises
def test_the_results_have_the_names_and_the_columns_that_were_promised(one: Promise) -> None:
    answer = ask(one.name, typed(one))
    for name, columns in promised(one.results):
        assert name in answer.results, name
        given = rows(answer.results[name])
        assert bool(given) == bool(columns), name
        for row in given:
            assert set(columns) <= set(row), name
        if columns and isinstance(answer.results[name], list):
            assert next(iter(given[0])) == columns[0], name


@promises
def test_what_is_promised_to_be_judged_is(one: Promise) -> None:
    verdict = ask(one.name, typed(one)).verdict
    assert (verdict in ("pass", "fail", "unsure")) if one.verdict else verdict is None


@promises
def test_an_angle_of_a_cut_says_whether_it_is_from_square_or_from_the_edge(one: Promise) -> None:
    for output in find(one.name).results:
        for each in (output, *output.columns):
            if each.unit == "deg" and re.search(r"cut|bevel|mitre|splay", each.name):
                assert each.name.endswith(("_from_square", "_from_edge", "_from_joint")), each.name


@pytest.mark.parametrize("side", ["a", "b", "c", "d"])
def test_every_corner_of_a_roof_has_its_hip(side: str) -> None:
    hips = rows(ask("roof", {"length": "9m", "width": "6m", "pitch": "35"}).results["hips"])
    assert side in [row["corner"] for row in hips]


@pytest.mark.parametrize(
    ("typed_so", "warned"),
    [
        ("firrings span=3600 fall=1:100 thin=20 kind=finished", "flatter than 1:80"),
        ("hipped-falls length=6000 width=3600 fall=1:120 thin=20", "flatter than 1:80"),
        ("roof length=9000 width=6000 pitch=35", "both ways are the same"),
        ("roof ab=9000 bc=6000 cd=9010 da=6005 ac=10830 bd=10812 pitch=35", "a level ridge is 0.5 mm off true slopes"),
        ("mass section=2x6 length=3600", "2x6 is used as 47x150, regularised"),
        ("squareness ab=9000 bc=6000 cd=9000 da=6000 ac=10860 bd=10817", "one is wrong, but six can't show which"),
    ],
)
def test_what_a_person_must_know_is_told(typed_so: str, warned: str) -> None:
    name, *pairs = typed_so.split()
    assert any(warned in note for note in ask(name, dict(pair.split("=", 1) for pair in pairs)).notes)


@pytest.mark.parametrize(
    ("typed_so", "caution"),
    [
        ("scarf depth=220", "joint-engineer"),
        ("mass section=47x225 length=5100", "heavy-lift"),
        ("common run=3000 pitch=35 birdsmouth=1/2", "notch-engineer"),
        ("hip run=3000 pitch=35", "hip-engineer"),
        ("cover area=40 gauge=100 cover_width=165 mass_per_m2=64 design_mass=47", "load-change"),
    ],
)
def test_what_can_hurt_is_cautioned(typed_so: str, caution: str) -> None:
    name, *pairs = typed_so.split()
    assert caution in ask(name, dict(pair.split("=", 1) for pair in pairs)).cautions
