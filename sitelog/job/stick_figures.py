"""What `sticks` is asked for a line of the cutting list: the figures of the same answer that the list is made of."""

from collections.abc import Callable, Iterator, Sequence
from math import cos, radians

from sitelog.calculators.catalogue import Answer, Row, Value
from sitelog.calculators.timber.members import Member
from sitelog.job.batches import SETTING
from sitelog.job.members import Line
from sitelog.quantities.quantity import Section
from sitelog.refusal import Refusal

Figures = dict[str, Value]
EVEN = 0.01  # mm
HALVES = {"left": 1, "right": 2}  # of a diagonal firring, as you look in from its corner
ROUNDED = 0.5  # mm
TWO_CUTS = "its long point is cut to two timbers: mark it by its length in the list, and fit it there"
HANDS_OF_ROW = {"hand": "hand", "head_hand": "head_hand", "tail_hand": "foot_hand"}


def hand_of_line(line: Line) -> str:
    """Left or right, of a line of the list that has a hand."""
    if not line.member:
        return ""
    return line.member.head.hand or line.member.foot.hand


def candidates(line: Line, member: Member, lines: Sequence[Line], rafter: Answer | None) -> Iterator[Figures]:
    """The figures for its stick; more than one where the list doesn't say how its head is cut."""
    by_calculator: dict[str, Callable[[Line, Answer, Answer | None], Iterator[Figures]]] = {
        "common": _own_common,
        "commons": _common,
        "jacks": _jack,
        "hip": _hip,
        "valley": _valley,
        "laid-valley": _valley_board,
        "rib": _rib,
        "hipped-falls": _to_the_edges,
        "building": _of_building,
    }
    calculator = line.answer.calculator if line.answer else ""
    if line.answer and calculator in by_calculator:
        jacks = _jacks_on(line, lines)
        for figures in by_calculator[calculator](line, line.answer, rafter):
            yield {"section": member.section, **figures, **jacks}
    elif any(shown.says == "Thin end" for shown in line.shows):
        yield _firring(line, member)
    elif member.foot.seat and rafter:
        yield {"section": member.section, **_whole_common(rafter)}
    else:
        yield _straight(line, member, lines)


def _seat(rafter: Answer | None) -> Figures:
    """Height above the plate and overhang, as the part's common has them."""
    if rafter is None:
        raise Refusal("the common rafter isn't worked out yet: enter its figures first")
    height = rafter.results["height_above_plate"]
    return {"common_height_above_plate": number(height), "overhang": number(rafter.inputs["overhang"])}


def _height_at(pitch: float, rafter: Answer | None) -> float:
    """Seat to top edge [mm] at that pitch, over a birdsmouth as deep as the part's common has."""
    height = number(_seat(rafter)["common_height_above_plate"])
    of_common = number(rafter.results["plumb_cut_from_square"]) if rafter else pitch
    return height * cos(radians(of_common)) / cos(radians(pitch))


def number(value: object) -> float:
    assert isinstance(value, (int, float))
    return float(value)


def _common(line: Line, answer: Answer, rafter: Answer | None) -> Iterator[Figures]:
    row, pitch = line.row or {}, number(answer.inputs["pitch"])
    run = number(row["run"])
    deducted = run - number(row["length_to_ridge"]) * cos(radians(pitch))
    figures: Figures = {"kind": "common", "pitch": pitch, "run": run, "ridge": max(2 * deducted, 0.0)}
    yield {**figures, **_seat(rafter), "common_height_above_plate": _height_at(pitch, rafter)}


def _of_building(line: Line, answer: Answer, rafter: Answer | None) -> Iterator[Figures]:
    """A timber of a roof said block by block: a rafter of a slope, a purlin, a strut or a collar."""
    row, timber = line.row or {}, str(answer.inputs["timber"])
    if timber == "rafters":
        yield from _of_slope(line, answer, rafter)
        return
    figures: Figures = {"length": row["length"], "head_cut": row["head_cut"], "tail_cut": row["foot_cut"]}
    if timber == "purlins":
        more = {"bevel": "head_bevel", "tail_bevel": "foot_bevel", "head_on": "head_on", "tail_on": "foot_on"}
        yield {"kind": "purlin", **figures, **{name: row[of] for name, of in more.items()}}
    elif timber == "struts":
        yield {"kind": "strut", **figures, "long_edge": row["long_edge"]}
    else:
        yield {"kind": "collar", **figures, "long_edge": "bottom"}


def _of_slope(line: Line, answer: Answer, rafter: Answer | None) -> Iterator[Figures]:
    """A rafter of a roof said block by block, by its row: on a plate its seat and tail are the part's common's.

    Tops meet at hips and valleys, so seat to top is one height over all plates, whatever the slope's pitch.
    """
    row, as_measured = line.row or {}, answer.inputs["section"]  # the list's lengths are for timber as it came
    figures: Figures = {
        "kind": "rafter",
        "section": as_measured,
        "pitch": number(row["head_cut"]),
        "length": number(row["length"]),
    }
    if row["foot_on"] == "plate":
        figures |= {**_seat(rafter), "overhang": answer.inputs["overhang"]}
    bevels = {name: number(row[f"{end}_bevel"]) for name, end in (("bevel", "head"), ("tail_bevel", "foot"))}
    skewed: Figures = {name: bevel for name, bevel in bevels.items() if bevel >= SETTING}
    if skewed:
        figures |= {**skewed, **{name: row[of] for name, of in HANDS_OF_ROW.items()}}
    if row["foot_on"] == "board":
        figures["tail_cut"] = row["foot_cut"]
    yield {**figures, "foot": row["foot_on"]}


def _whole_common(rafter: Answer) -> Figures:
    names = ("run", "ridge")
    given: Figures = {name: rafter.inputs[name] for name in names if name in rafter.inputs}
    return {"kind": "common", "pitch": rafter.results["plumb_cut_from_square"], **given, **_seat(rafter)}  # type: ignore[dict-item]


def _own_common(line: Line, answer: Answer, rafter: Answer | None) -> Iterator[Figures]:
    """A common that has a sum of its own, such as a dummy."""
    yield _whole_common(answer)


def _jack(line: Line, answer: Answer, rafter: Answer | None) -> Iterator[Figures]:
    """Side 1's, left-handed, or turned round for the other hand: with its side's pitch first, as `jacks` has it."""
    names = ("corner", "pitch", "pitch2", "side", "hip_thickness", "on", "run")
    figures: Figures = {name: answer.inputs[name] for name in names if name in answer.inputs}
    hand = hand_of_line(line)
    wanted = 1 if hand == "left" else 2
    if hand and wanted != figures.get("side", 1):
        first, second = figures["pitch"], figures.get("pitch2", figures["pitch"])
        figures |= {"side": wanted, "pitch": second, "pitch2": first}
    at, as_measured = number((line.row or {})["at"]), answer.inputs.get("thickness")
    if line.member and as_measured is not None:  # the list's lengths are for timber as thick as was measured
        figures["section"] = Section(number(as_measured), line.member.section.depth)
    height = _height_at(number(answer.inputs["pitch"]), rafter)
    yield {"kind": "jack", **figures, "at": at, **_seat(rafter), "common_height_above_plate": height}


def _hip(line: Line, answer: Answer, rafter: Answer | None) -> Iterator[Figures]:
    """As its sum has it: its head pointed at a ridge, else hollow over a table's corner, or square on a clipped one."""
    names = ("corner", "pitch", "pitch2", "run", "ridge", "ridge_side", "overhang", "heel", "common_height_above_plate")
    figures: Figures = {name: answer.inputs[name] for name in names if name in answer.inputs} | _footed(answer)
    backed = any(shown.says.startswith("Backing") for shown in line.shows)
    for head in ("pointed", "hollow", "square"):
        yield {"kind": "hip", **figures, "head": head, "top": "backed" if backed else "dropped"}


def _footed(answer: Answer) -> Figures:
    """Plumb, of one whose sum has no plate for it."""
    return {} if answer.inputs.get("common_height_above_plate") else {"foot": "plumb"}


def _valley(line: Line, answer: Answer, rafter: Answer | None) -> Iterator[Figures]:
    names = ("corner", "pitch", "pitch2", "run", "ridge", "ridge_side", "overhang", "common_height_above_plate")
    yield {
        "kind": "valley",
        **{name: answer.inputs[name] for name in names if name in answer.inputs},
        **_footed(answer),
    }


def _valley_board(line: Line, answer: Answer, rafter: Answer | None) -> Iterator[Figures]:
    names = ("corner", "pitch", "pitch2", "run", "overhang")
    yield {"kind": "valley-board", **{name: answer.inputs[name] for name in names if name in answer.inputs}}


def _jacks_on(line: Line, lines: Sequence[Line]) -> Figures:
    """The centres of the jacks [mm] along both plates of a hip's corner, from the corner: one figure serves both."""
    corner = line.id.removeprefix("hip-")
    own = [one for one in lines if one.id == f"jacks-{corner}" and one.row]
    places = dict.fromkeys(number((one.row or {})["at"]) for one in own)
    if line.id.startswith("hip-") and places:
        return {"jacks": tuple(places)}
    return {}


def _rib(line: Line, answer: Answer, rafter: Answer | None) -> Iterator[Figures]:
    arc = number(answer.results["angle_each"])
    yield {"kind": "rib", "radius": answer.inputs["radius"], "rib_depth": answer.inputs["depth"], "arc": arc}


def _to_the_edges(line: Line, answer: Answer, rafter: Answer | None) -> Iterator[Figures]:
    """A firring of a deck that falls to all edges, or one of its diagonals, as the tape runs in from the edge."""
    row, thin = line.row or {}, number((line.row or {})["thin_end"])
    if "corner" in row:
        yield _diagonal(row)
        return
    turns = row["break_along"] is not None
    yield {
        "kind": "firring",
        "zero": "tail",
        "length": row["long_point"],
        "thin": thin,
        "thick": row["thick_long"],
        "left": row["length_left"],
        "middle": row["length_centre"],
        "right": row["length_right"],
        "turn_across": row["break_across"],
        "turn_along": row["break_along"],
        "bevel": row["bevel_left_from_square" if turns else "bevel_from_square"],
        "bevel2": row["bevel_right_from_square"] if turns else None,
    }


def _diagonal(row: Row) -> Figures:
    """Along its top: its point in the corner, and at P or Q the cuts of both its halves, edge before on the left."""
    top = number(row["length"]) / number(row["plan_length"])
    ends = {side: number(row["length"]) + number(row[f"inner_past_{half}"]) * top for side, half in HALVES.items()}
    return {
        "kind": "firring",
        "zero": "tail",
        "length": row["length_overall"],
        "thin": row["thin_end"],
        "thick": row["thick_long"],
        **ends,
        "middle": row["length"],
        "bevel": row["inner_bevel_1_from_square"],
        "bevel2": row["inner_bevel_2_from_square"],
        "tail_bevel": row["outer_bevel_from_square"],
        "point_back": number(row["outer_back"]) * top,
    }


def _firring(line: Line, member: Member) -> Figures:
    thick, thin = (next(number(one.value) for one in line.shows if one.says == says) for says in ("Rip to", "Thin end"))
    return {
        "kind": "firring",
        "section": member.section,
        "length": member.length,
        "thin": thin,
        "thick": thick,
        "bevel": member.head.bevel,
    }


def _straight(line: Line, member: Member, lines: Sequence[Line]) -> Figures:
    """By its length and the cuts of the list; the ridge between two hipped ends with its commons marked."""
    figures: Figures = {"section": member.section, "length": member.length}
    marks = _on_the_ridge(member, lines) if line.id == "ridge" else ()
    if marks:
        return {"kind": "ridge", **figures, "marks": marks}
    cuts: Figures = {"head_cut": member.head.cut, "tail_cut": member.foot.cut, "bevel": member.head.bevel}
    if "length_bottom" in (line.row or {}) and _is_shorter_beneath(line.row or {}):
        cuts["ends"] = "towards"
    return {"kind": "straight", **figures, **cuts}


def _is_shorter_beneath(row: Row) -> bool:
    """Whether a noggin between bearers has its two mitres lean towards each other: its top is the longer."""
    bottom = row["length_bottom"]
    return bottom is None or number(row["length_top"]) - number(bottom) > EVEN


def _on_the_ridge(member: Member, lines: Sequence[Line]) -> tuple[float, ...]:
    """Centres [mm] of the first slope's commons from the ridge's end; none where its ends aren't both hips'."""
    places = [number(line.row["at"]) for line in lines if line.id == "commons-ab" and line.row]
    hipped = any(line.answer and line.answer.calculator == "hip" for line in lines)
    if len(places) < 2 or not hipped:
        return ()
    past = (member.length - abs(places[-1] - places[0])) / 2
    return tuple(past + abs(place - places[0]) for place in places)
