"""`surface` and `ties` as scripts use them, held to the calculators of one corner and one rectangle."""

import json
import math
from typing import Any

import pytest

from sitelog.calculators.ask import as_json, ask
from sitelog.calculators.catalogue import Answer
from sitelog.calculators.index import find
from sitelog.refusal import Refusal
from tests.calculators.results import cell, column, figure, rows

L_POINTS = "A 0,0; B 9000,0; C 9000,6000; D 4000,6000; E 4000,10000; F 0,10000; "
L_ROOF = L_POINTS + "main AB 40, BC 40, CD 40, FA 40; wing AB 40, DE 40, EF gable, FA 40"
HIPPED = "A 0,0; B 9000,0; C 9000,6000; D 0,6000; main AB 35, BC 35, CD 35, DA 35"


def told(plan: str, **more: str) -> dict[str, Any]:
    """What JSON has under `results`."""
    results = as_json(ask("surface", {"plan": plan, **more}))["results"]
    assert isinstance(results, dict)
    return results


def line(found: dict[str, Any], kind: str, *between: str) -> dict[str, Any]:
    [one] = [row for row in found["lines"] if row["kind"] == kind and sorted(row["between"]) == sorted(between)]
    assert isinstance(one, dict)
    return one


# --- the contract -------------------------------------------------------------------------------------------------


def test_scripts_get_points_slopes_lines_and_rafters_as_they_rely_on_them() -> None:
    found = told(L_ROOF, spacing="400")
    assert found["points"]["A"] == [0, 0, 0]
    assert found["points"]["AB-BC-CD"] == pytest.approx([6000, 3000, 3000 * math.tan(math.radians(40))])
    [ab] = [row for row in found["slopes"] if row["name"] == "AB"]
    assert {"name", "pitch", "area", "plan_area", "outline", "flat"} <= set(ab)
    assert ab["plan_area"] == pytest.approx(18.0)
    assert len(ab["outline"]) == len(ab["flat"]) == 4
    assert min(math.hypot(*at) for at in ab["flat"]) == pytest.approx(0, abs=1e-6)
    hip = line(found, "hip", "AB", "BC")
    assert {"kind", "between", "from", "to", "length", "plan_length", "pitch", "dihedral"} <= set(hip)
    assert (hip["from"], hip["to"]) == ("B", "AB-BC-CD")
    [first, *_] = found["rafters"]
    assert {"slope", "at", "kind", "foot", "head", "length", "from", "to"} <= set(first)
    assert first["from"] == pytest.approx([400, 0, 0], abs=1e-6)
    assert found["plan_area"] == pytest.approx(70.0)
    assert json.loads(json.dumps(found, allow_nan=False)) == found


def test_the_outline_laid_flat_is_as_large_as_the_slope() -> None:
    for row in told(L_ROOF)["slopes"]:
        ring = row["flat"]
        twice = sum(a[0] * b[1] - b[0] * a[1] for a, b in zip(ring, [*ring[1:], ring[0]], strict=True))
        assert twice / 2e6 == pytest.approx(row["area"])
        for (_, _, z), (_, up) in zip(row["outline"], ring, strict=True):
            assert z == pytest.approx(up * math.sin(math.radians(row["pitch"])), abs=1e-6)


def test_a_hole_in_a_slope_is_beside_its_outline() -> None:
    dormer = (
        "A 0,0; B 9000,0; C 9000,6000; D 0,6000; P 3500,900; Q 5500,900; R 5500,3000; S 3500,3000;"
        "main AB 45, BC gable, CD 45, DA gable; dormer PQ gable, QR 40 +1800, CD 45, SP 40 +1800"
    )
    [ab] = [row for row in told(dormer)["slopes"] if row["name"] == "AB"]
    assert [len(more["outline"]) for more in ab["more"]] == [6], "its front is two steps, parted under its ridge"
    [step, *_] = [row for row in told(dormer)["lines"] if row["kind"] == "step"]
    assert len(step["between"]) == 2
    assert step["wall"]


def test_pitches_are_read_as_everywhere_and_names_in_any_case() -> None:
    by_ratio = told("a 0,0; b 9m,0; c 9m,6m; d 0,6m; Main ab 8/12, bc 8/12, cd 8/12, da 8/12")
    assert line(by_ratio, "ridge", "AB", "CD")["length"] == pytest.approx(3000)
    assert by_ratio["slopes"][0]["pitch"] == pytest.approx(math.degrees(math.atan(8 / 12)))


@pytest.mark.parametrize(
    ("more", "said"),
    [
        ({"laid": "wing"}, "with laid= also give spacing="),
        ({"openings": "AB 3000,500 900x900"}, "with openings= also give spacing="),
        ({"collars": "1500"}, "with collars= also give spacing="),
        ({"cover_width": "300"}, "also give gauge="),
        ({"unit_mass": "1.2"}, "also give gauge="),
        ({"gauge": "300", "unit_mass": "1.2"}, "also give cover_width="),
        ({"spacing": "400", "origin": "X"}, "origin: X isn't a point"),
        ({"spacing": "400", "laid": "bay"}, "laid: bay isn't a block; did you mean|choose from: main, wing"),
        ({"ties": "A-B:9000"}, "nothing is taped to C"),
        ({"ties": "A-X:9000"}, "X isn't a point"),
    ],
)
def test_what_can_t_be_read_off_is_refused_by_name(more: dict[str, str], said: str) -> None:
    with pytest.raises(Refusal, match=said):
        ask("surface", {"plan": L_ROOF, **more})


# --- measured plates ----------------------------------------------------------------------------------------------

TAPED = "A-B:9000,B-C:6000,C-D:9010,D-A:6005,A-C:10830,B-D:10812"


def test_over_taped_plates_it_is_the_roof_that_roof_makes_of_them() -> None:
    """The same six lengths, as fitted: ridge 3002.33 falling 0.59; hips 4738.93, 4729.71, 4739.73, 4735.25."""
    found = told(HIPPED, ties=TAPED)
    ridge = line(found, "ridge", "AB", "CD")
    assert ridge["length"] == pytest.approx(3002.33, abs=0.005)
    fall = abs(found["points"][ridge["to"]][2] - found["points"][ridge["from"]][2])
    assert fall == pytest.approx(0.59, abs=0.005)
    hips = [("AB", "DA"), ("AB", "BC"), ("BC", "CD"), ("CD", "DA")]
    lengths = [line(found, "hip", *between)["length"] for between in hips]
    assert lengths == pytest.approx([4738.93, 4729.71, 4739.73, 4735.25], abs=0.005)


def test_lines_that_come_of_what_was_measured_are_said() -> None:
    square = "A 0,0; B 6000,0; C 6000,6000; D 0,6000; main AB 40, BC 40, CD 40, DA 40"
    answer = ask("surface", {"plan": square, "ties": "A-B:6000,B-C:6010,C-D:6000,D-A:6010,A-C:8492,B-D:8492"})
    notes = " ".join(answer.notes)
    assert "as measured there is more than drawn: ridge BC-DA" in notes
    assert "ridge BC-DA is only 10 mm long: lift the pitch of" in notes
    assert column(answer, "short_lines", "length") == pytest.approx([10], abs=0.6)


def test_lengths_that_can_t_be_true_are_said() -> None:
    answer = ask("surface", {"plan": HIPPED, "ties": TAPED.replace("10830", "10930")})
    assert any("don't agree" in note for note in answer.notes)


# --- held to what is there for a rectangle and a corner -----------------------------------------------------------


@pytest.mark.parametrize("pitches", [(35, 35, 35, 35), (30, 45, 40, 50), (40, 40.5, 39, 42)])
def test_over_four_plates_ridge_hips_and_commons_are_those_of_roof(pitches: tuple[float, ...]) -> None:
    walls = ("ab", "bc", "cd", "da")
    own = {f"pitch_{wall}": str(pitch) for wall, pitch in zip(walls, pitches, strict=True)}
    roof = ask("roof", {"length": "9000", "width": "6000", **own})
    plan = "A 0,0; B 9000,0; C 9000,6000; D 0,6000; main "
    found = told(plan + ", ".join(f"{wall.upper()} {pitch}" for wall, pitch in zip(walls, pitches, strict=True)))
    assert line(found, "ridge", "AB", "CD")["length"] == pytest.approx(figure(roof, "ridge_length"))
    for row, between in zip(rows(roof, "hips"), (("DA", "AB"), ("AB", "BC"), ("BC", "CD"), ("CD", "DA")), strict=True):
        hip = line(found, "hip", *between)
        assert hip["length"] == pytest.approx(cell(row, "length"))
        assert hip["pitch"] == pytest.approx(cell(row, "pitch"))
        assert hip["plan_length"] == pytest.approx(cell(row, "run"))


def test_the_angle_between_slopes_over_a_hip_and_a_valley_is_that_of_hip() -> None:
    """35 degrees both sides of a square corner: 132.145, by vectors."""
    found = told(L_ROOF.replace("40,", "35,").replace("40;", "35;").replace("FA 40", "FA 35"))
    by_hip = figure(ask("hip", {"pitch": "35", "run": "3000"}), "dihedral")
    assert by_hip == pytest.approx(132.145, abs=5e-4)
    assert line(found, "hip", "AB", "BC")["dihedral"] == pytest.approx(by_hip)
    assert line(found, "valley", "CD", "DE")["dihedral"] == pytest.approx(by_hip)


@pytest.mark.parametrize(("pitch", "spacing"), [("35", "400"), ("50", "600")])
def test_jacks_on_a_hip_are_those_of_jacks(pitch: str, spacing: str) -> None:
    """From the corner at one spacing on side 2; lengths to the hip's face, edge bevel and tilt."""
    by_corner = ask("jacks", {"pitch": pitch, "spacing": spacing, "run": "3000", "hip_thickness": "50mm", "side": "2"})
    found = told(HIPPED.replace("35", pitch), spacing=spacing, hip_section="50x200", section="47x150")
    own = {row["at"]: row for row in found["rafters"] if row["slope"] == "AB" and row["head"] == "hip AB-DA"}
    for row in rows(by_corner, "rows"):
        if cell(row, "at") in own:
            jack = own[cell(row, "at")]
            assert jack["cut_length"] == pytest.approx(cell(row, "length_centre"))
            assert jack["long_point"] == pytest.approx(cell(row, "length_long_point"))
            assert jack["short_point"] == pytest.approx(cell(row, "length_short_point"))
            assert jack["head_edge_from_square"] == pytest.approx(figure(by_corner, "edge_bevel_from_square"))
            assert jack["head_saw_tilt"] == pytest.approx(figure(by_corner, "saw_tilt"))
            assert jack["head_side_from_square"] == pytest.approx(figure(by_corner, "plumb_cut_from_square"))
    assert len(own) >= 4


def test_jacks_on_a_valley_are_those_of_jacks() -> None:
    """Side 2 of a valley is the slope that goes on to the right from outside: here DE, from D back towards the main."""
    by_corner = ask("jacks", {"pitch": "40", "spacing": "400", "run": "2000", "on": "valley", "hip_thickness": "50mm"})
    found = told(L_ROOF, spacing="400", hip_section="50x200")
    own = {-row["at"]: row for row in found["rafters"] if row["slope"] == "DE" and row["kind"] == "valley jack"}
    compared = [row for row in rows(by_corner, "rows") if cell(row, "at") in own]
    for row in compared:
        assert own[cell(row, "at")]["cut_length"] == pytest.approx(cell(row, "length_centre"))
    assert len(compared) == 4


def test_commons_are_those_of_commons() -> None:
    """Between the ends of the ridge, 3000 to 6000 along AB, half the ridge taken off."""
    by_marks = ask(
        "commons",
        {"first": "3000", "last": "6000", "run": "3000", "pitch": "35", "spacing": "500", "ridge": "38mm"},
    )
    found = told(HIPPED, spacing="500", ridge="38mm")
    own = {row["at"]: row for row in found["rafters"] if row["slope"] == "AB" and row["kind"] == "common"}
    assert sorted(own) == pytest.approx(column(by_marks, "rows", "at"))
    assert [own[at]["cut_length"] for at in sorted(own)] == pytest.approx(column(by_marks, "rows", "length_to_ridge"))


def test_a_roof_cut_off_by_a_flat_has_its_edges_where_the_surface_is_as_high() -> None:
    """Purlins at the table's height are the table's sides: 5001.19 by 2001.19 at 1400 up, by vectors."""
    flat = ask("flat-top", {"length": "9000", "width": "6000", "pitch": "35", "rise": "1400"})
    found = told(HIPPED, purlins="1400")
    sides = {row["slope"].lower(): row["length"] for row in found["purlins"]}
    for row in rows(flat, "sides"):
        assert sides[str(row["side"])] == pytest.approx(cell(row, "length"))
    assert sides["ab"] == pytest.approx(5001.19, abs=0.005)


# --- covering -----------------------------------------------------------------------------------------------------


def test_the_covering_is_counted_slope_by_slope() -> None:
    """By hand on AB of a hipped roof at 45, 9 m by 6: courses of 300 from the eaves, the first 9000 wide: 30 tiles."""
    answer = ask(
        "surface",
        {"plan": HIPPED.replace("35", "45"), "gauge": "300", "cover_width": "300", "unit_mass": "2"},
    )
    [ab] = [row for row in rows(answer, "covering") if row["name"] == "AB"]
    slope = 3000 / math.cos(math.radians(45))
    assert cell(ab, "courses") == math.ceil(slope / 300)
    widths = [9000 - 2 * nth * 300 * math.cos(math.radians(45)) for nth in range(math.ceil(slope / 300))]
    assert cell(ab, "tiles") == sum(math.ceil(width / 300 - 1e-3) for width in widths)
    assert cell(ab, "weight") == 2 * cell(ab, "tiles")
    assert cell(ab, "battens") == pytest.approx(sum(widths), rel=1e-4)
    assert cell(ab, "cuts") == 2 * len(widths)


def test_openings_are_taken_off_the_covering() -> None:
    more = {"plan": HIPPED, "spacing": "400"}
    whole = ask("surface", more)
    holed = ask("surface", {**more, "openings": "AB 4000,500 780x1180"})

    def area(answer: Answer) -> float:
        return cell(next(row for row in rows(answer, "covering") if row["name"] == "AB"), "area")

    assert area(whole) - area(holed) == pytest.approx(0.78 * 1.18)


# --- ties ---------------------------------------------------------------------------------------------------------


def test_ties_says_what_to_tape_and_where_the_points_are() -> None:
    answer = ask("ties", {"plan": L_ROOF})
    assert figure(answer, "count") == 4
    assert [row["over"] for row in rows(answer, "take")] == ["side"] * 6 + ["tie"] * 3 + ["tie, to spare"]
    assert answer.results["misclosure"] is None


def test_a_cripple_is_longer_on_one_face_where_its_hip_and_valley_run_apart() -> None:
    """In the L they do, at 45 each way on plan: twice what one cut gives; side by side (Radford) they give nothing."""
    for row in told(L_ROOF, spacing="400", section="47x150")["rafters"]:
        if row["kind"] == "cripple":
            one = math.tan(math.radians(row["head_edge_from_square"])) * 47
            assert row["long_point"] - row["short_point"] == pytest.approx(2 * one)
    beside = (
        "A 0,0; B 6000,0; C 6000,6000; D 4200,6000; E 4200,12000; F 0,12000;"
        "main AB 30, BC 30, CD 30, FA 30; wing AB 30, DE 30, EF 30, FA 30"
    )
    rafters = told(beside, spacing="300", section="47x150")["rafters"]
    cripples = [row for row in rafters if row["kind"] == "cripple" and row["head"] == "hip BC-CD"]
    assert cripples
    assert all(row["long_point"] == pytest.approx(row["short_point"]) for row in cripples)


def test_it_is_drawn_in_pieces_and_found_by_name() -> None:
    assert find("surface").branch == "rafters"
    assert find("ties").branch == "setting-out"
