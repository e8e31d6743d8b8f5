"""The stick of each member of the cutting list: fed by the same answer as the list, and held to its length there."""

from collections.abc import Callable, Iterator, Mapping, Sequence
from math import cos, radians

from msgspec import Struct

from sitelog.calculators import index
from sitelog.calculators.catalogue import Answer, Result, Value
from sitelog.calculators.timber.members import ANGLES, Member
from sitelog.checklist.schema.model import Library
from sitelog.job.batches import SETTING
from sitelog.job.facts.facts import FactResolver
from sitelog.job.members import Line, members
from sitelog.job.state.views import State
from sitelog.quantities.quantity import Section
from sitelog.quantities.rounding import as_worked
from sitelog.refusal import Refusal
from sitelog.text import text_between

Figures = dict[str, Value]
NEAR = 0.5  # mm between a stick and the list: more, and one of them is wrong
HANDS_OF_ROW = {"hand": "hand", "head_hand": "head_hand", "tail_hand": "foot_hand"}
OUT_OF_DATE = "a figure it uses is out of date: do its checks again first"


class MemberStick(Struct, frozen=True):
    """How one pattern of the list is marked: `lines` are all that are cut to it, the pattern first.

    `answer` is that of `sticks` for the first; None where there is none, and then `why`.
    """

    lines: tuple[Line, ...]
    answer: Answer | None
    why: str = ""

    @property
    def hand(self) -> str:
        """Left or right, of one that has a hand."""
        return _hand(self.lines[0])

    @property
    def count(self) -> int:
        """How many are cut to it."""
        return sum(line.member.count for line in self.lines if line.member)

    @property
    def says(self) -> str:
        """What it is, with its hand."""
        return f"{self.lines[0].says}{text_between(', ', self.hand, ' hand')}"

    def is_mirrored_by(self, other: "MemberStick") -> bool:
        """Whether another is the same timber for the other hand: every mark the same, within NEAR, and every angle."""
        if self.answer is None or other.answer is None or {self.hand, other.hand} != {"left", "right"}:
            return False
        if self.lines[0].id != other.lines[0].id:
            return False
        return _is_alike(self.answer.results, other.answer.results)


def _is_alike(results: Mapping[str, Result], other: Mapping[str, Result]) -> bool:
    """Whether two sticks have the same angles [deg] and the same marks [mm]."""
    names = {name for name, size in results.items() if isinstance(size, float)}
    if names != {name for name, size in other.items() if isinstance(size, float)}:
        return False
    angles = all(abs(_number(results[name]) - _number(other[name])) < NEAR / 10 for name in names)
    return (
        angles
        and _marks(results).keys() == _marks(other).keys()
        and all(abs(place - _marks(other)[mark]) <= NEAR for mark, place in _marks(results).items())
    )


def _marks(results: Mapping[str, Result]) -> dict[tuple[str, str, str], float]:
    """Each place of each mark of a stick [mm], by its line and its point."""
    found = results["rows"]
    assert isinstance(found, list)
    return {(str(row["line"]), str(row["point"]), way): _number(row[way]) for row in found for way in ("at", "down")}


def sticks(state: State, library: Library, part: str) -> tuple[MemberStick, ...]:
    """A stick for each kind of member of a part and each hand, in the order of its list; none for what is left off."""
    lines = [line for line in members(state, library, part) if line.member]
    rafter = _common_of(state, library, part)
    kinds = sorted(lines, key=lambda line: (_places(lines).index(line.id), _hand(line)))
    return tuple(_member_stick(group, lines, rafter) for group in _patterns(kinds))


def _patterns(lines: Sequence[Line]) -> list[tuple[Line, ...]]:
    """The lines that one pattern serves: of one member and hand, every cut the same as a saw can be set."""
    found: list[list[Line]] = []
    for line in lines:
        same = next((group for group in found if _is_cut_alike(group[0], line)), None)
        if same is None:
            found.append([line])
        else:
            same.append(line)
    return [tuple(group) for group in found]


def _is_cut_alike(one: Line, other: Line) -> bool:
    if one.id != other.id or _hand(one) != _hand(other) or one.member is None or other.member is None:
        return False
    angles = zip(_angles(one.member), _angles(other.member), strict=True)
    return all(abs(angle - with_it) <= SETTING for angle, with_it in angles)


def _angles(member: Member) -> list[float]:
    return [getattr(end, name) for end in (member.head, member.foot) for name in ANGLES]


def stick_for(state: State, library: Library, line: Line) -> Answer:
    """The answer of `sticks` for one line of the list as the job is now. Refusal as from `stick_of`."""
    lines = [member_line for member_line in members(state, library, line.part) if member_line.member]
    return stick_of(line, lines, _common_of(state, library, line.part))


def _places(lines: Sequence[Line]) -> list[str]:
    return [*dict.fromkeys(line.id for line in lines)]


def _hand(line: Line) -> str:
    if not line.member:
        return ""
    return line.member.head.hand or line.member.foot.hand


def _common_of(state: State, library: Library, part: str) -> Answer | None:
    """The answer of the part's own common rafter: its seat and its tail are those of every rafter of the part."""
    answers = FactResolver.of(library, state).answers(part)
    return next((answer for listed, answer, _ in answers if listed.calculator == "common" and answer), None)


def _member_stick(group: tuple[Line, ...], lines: Sequence[Line], rafter: Answer | None) -> MemberStick:
    """The first that can be marked is the pattern of all."""
    why = ""
    for line in group:
        try:
            answer = stick_of(line, lines, rafter)
        except Refusal as refusal:
            why = why or refusal.message.removeprefix("sticks: ").partition(". Check ")[0]
        else:
            return MemberStick((line, *(other for other in group if other is not line)), answer)
    return MemberStick(group, None, why)


def stick_of(line: Line, lines: Sequence[Line], rafter: Answer | None) -> Answer:
    """The answer of `sticks` for a line of the list among all of its part. `rafter` is the part's common.

    Refusal for one that is out of date or can't be marked so, or whose marks don't come to the list's length.
    """
    member = line.member
    if member is None or line.standing == "stale":
        raise Refusal(OUT_OF_DATE)
    length = 0.0
    for figures in _candidates(line, member, lines, rafter):
        answer = index.find("sticks")(**figures)
        length = float(str(answer.results["overall_length"]))
        if abs(length - member.length) <= NEAR:
            return answer
    raise Refusal(
        f"its marks come to {as_worked(length)} and the list says {as_worked(member.length)}: "
        "check the list before you cut"
    )


def _candidates(line: Line, member: Member, lines: Sequence[Line], rafter: Answer | None) -> Iterator[Figures]:
    """The figures for its stick; more than one where the list doesn't say how its head is cut."""
    by_calculator: dict[str, Callable[[Line, Answer, Answer | None], Iterator[Figures]]] = {
        "commons": _common,
        "jacks": _jack,
        "hip": _hip,
        "valley": _valley,
        "laid-valley": _valley_board,
        "rib": _rib,
        "building": _of_slope,
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
    return {"common_height_above_plate": _number(height), "overhang": _number(rafter.inputs["overhang"])}


def _number(value: object) -> float:
    assert isinstance(value, (int, float))
    return float(value)


def _common(line: Line, answer: Answer, rafter: Answer | None) -> Iterator[Figures]:
    row, pitch = line.row or {}, _number(answer.inputs["pitch"])
    run = _number(row["run"])
    deducted = run - _number(row["length_to_ridge"]) * cos(radians(pitch))
    yield {"kind": "common", "pitch": pitch, "run": run, "ridge": max(2 * deducted, 0.0), **_seat(rafter)}


def _of_slope(line: Line, answer: Answer, rafter: Answer | None) -> Iterator[Figures]:
    """A rafter of a roof said block by block, by its row: on a plate its seat and tail are the part's common's.

    Tops meet at hips and valleys, so seat to top is one height over all plates, whatever the slope's pitch.
    """
    row, as_measured = line.row or {}, answer.inputs["section"]  # the list's lengths are for timber as it came
    figures: Figures = {
        "kind": "rafter",
        "section": as_measured,
        "pitch": _number(row["head_cut"]),
        "length": _number(row["length"]),
    }
    if row["foot_on"] == "plate":
        figures |= {**_seat(rafter), "overhang": answer.inputs["overhang"]}
    bevels = {name: _number(row[f"{end}_bevel"]) for name, end in (("bevel", "head"), ("tail_bevel", "foot"))}
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


def _jack(line: Line, answer: Answer, rafter: Answer | None) -> Iterator[Figures]:
    """Side 1's, left-handed, or turned round for the other hand: with its side's pitch first, as `jacks` has it."""
    names = ("corner", "pitch", "pitch2", "side", "hip_thickness", "on", "run")
    figures: Figures = {name: answer.inputs[name] for name in names if name in answer.inputs}
    hand = _hand(line)
    wanted = 1 if hand == "left" else 2
    if hand and wanted != figures.get("side", 1):
        first, second = figures["pitch"], figures.get("pitch2", figures["pitch"])
        figures |= {"side": wanted, "pitch": second, "pitch2": first}
    at, as_measured = _number((line.row or {})["at"]), answer.inputs.get("thickness")
    if line.member and as_measured is not None:  # the list's lengths are for timber as thick as was measured
        figures["section"] = Section(_number(as_measured), line.member.section.depth)
    yield {"kind": "jack", **figures, "at": at, **_seat(rafter)}


def _hip(line: Line, answer: Answer, rafter: Answer | None) -> Iterator[Figures]:
    """As its sum has it: its head pointed at a ridge, else hollow over a table's corner, or square on a clipped one."""
    names = ("corner", "pitch", "pitch2", "run", "ridge", "ridge_side", "overhang", "common_height_above_plate")
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
    places = dict.fromkeys(_number((one.row or {})["at"]) for one in own)
    if line.id.startswith("hip-") and places:
        return {"jacks": tuple(places)}
    return {}


def _rib(line: Line, answer: Answer, rafter: Answer | None) -> Iterator[Figures]:
    arc = _number(answer.results["angle_each"])
    yield {"kind": "rib", "radius": answer.inputs["radius"], "rib_depth": answer.inputs["depth"], "arc": arc}


def _firring(line: Line, member: Member) -> Figures:
    thick, thin = (
        next(_number(one.value) for one in line.shows if one.says == says) for says in ("Rip to", "Thin end")
    )
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
    return {"kind": "straight", **figures, **cuts}


def _on_the_ridge(member: Member, lines: Sequence[Line]) -> tuple[float, ...]:
    """Centres [mm] of the first slope's commons from the ridge's end; none where its ends aren't both hips'."""
    places = [_number(line.row["at"]) for line in lines if line.id == "commons-ab" and line.row]
    hipped = any(line.answer and line.answer.calculator == "hip" for line in lines)
    if len(places) < 2 or not hipped:
        return ()
    past = (member.length - abs(places[-1] - places[0])) / 2
    return tuple(past + abs(place - places[0]) for place in places)
