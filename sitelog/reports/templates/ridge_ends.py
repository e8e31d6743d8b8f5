"""The ends of a cut roof's ridges where hips meet: where rafters stand on each face, from the end, for a template."""

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass

from sitelog.calculators import index
from sitelog.calculators.catalogue import Answer
from sitelog.calculators.setting_out.plates import weighed
from sitelog.geometry.building.named import Named, Roof, roof_of
from sitelog.geometry.surface.lines import RoofLine
from sitelog.job.members import Line
from sitelog.quantities.quantity import Tie

LED = "ridge-"  # the id of a ridge in the cutting list, before its own
SAME_MARK = 0.5  # mm: rafters on both faces no further apart are a pair, and have one mark
HIPS = 2  # that meet at an end with a common of the hipped slope against it


@dataclass(frozen=True)
class RidgeEnd:
    """One face of a ridge at one end, or both where rafters stand in pairs: its stick, the end for its head."""

    says: str
    answer: Answer
    lines: tuple[Line, ...]  # of the cutting list, under its marks


def ridge_ends(lines: Sequence[Line]) -> Iterator[RidgeEnd]:
    """Each end of each ridge of a roof said block by block; none of another form's list."""
    for line in lines:
        if line.member and line.id.startswith(LED):
            yield from _of_ridge(line, [other for other in lines if _is_rafter(other)])


def _is_rafter(line: Line) -> bool:
    answer = line.answer
    return answer is not None and answer.calculator == "building" and answer.inputs["timber"] == "rafters"


def _of_ridge(line: Line, rafters: Sequence[Line]) -> Iterator[RidgeEnd]:
    if not rafters:
        return
    on = {slope.id: _on(rafters, slope.id) for slope in _slopes(_roof(rafters[0].answer), line)}
    own = [rafter for each in on.values() for rafter in each]
    if not own:
        return
    roof = _roof(own[0].answer)
    ridge, slopes = _ridge(roof, line), _slopes(roof, line)
    if ridge is None:
        return
    for end in (ridge.start, ridge.end):
        over = _hipped_slopes(roof, ridge, end)
        if over:
            faces = {slope.name: _places(roof, ridge, slope, end, on[slope.id]) for slope in slopes}
            yield from _faces(line, ridge.length, f"{line.says} at {over}", faces, own)


def _roof(answer: Answer | None) -> Roof:
    """The roof that a rafter of the list was worked on."""
    given = answer.inputs if answer else {}
    ties = [tie for tie in given.get("ties") or () if isinstance(tie, Tie)]  # type: ignore[union-attr]
    taped = tuple(weighed(ties, str(given["tape"]))) if ties else ()
    return roof_of(str(given["building"]), taped, str(given.get("carried") or ""))


def _on(rafters: Iterable[Line], slope: str) -> list[Line]:
    return [rafter for rafter in rafters if rafter.id.endswith(f"-{slope}")]


def _ridge(roof: Roof, line: Line) -> RoofLine | None:
    named = next((one for one in roof.of("ridges") if one.id == line.id.removeprefix(LED)), None)
    return roof.found.lines[named.place] if named else None


def _slopes(roof: Roof, line: Line) -> list[Named]:
    """The two slopes that a ridge is between, by their names."""
    ridge = _ridge(roof, line)
    return [one for one in roof.of("slopes") if ridge and one.place in ridge.between]


def _hipped_slopes(roof: Roof, ridge: RoofLine, end: int) -> str:
    """The slope or slopes between the hips that meet at that end of a ridge; "" where fewer meet there."""
    hips = [line for line in roof.found.lines if line.kind == "hip" and end in (line.start, line.end)]
    over = {slope for line in hips for slope in line.between} - {*ridge.between}
    names = [slope.name for slope in roof.of("slopes") if slope.place in over]
    return " and ".join(names) if len(hips) >= HIPS else ""


def _places(roof: Roof, ridge: RoofLine, slope: Named, end: int, rafters: Sequence[Line]) -> list[float]:
    """How far from that end of the ridge's line its rafters on one slope stand [mm], the nearest first."""
    own = roof.found.slopes[slope.place]
    first, last = (own.flat(*roof.found.points[point].at[:2])[0] for point in (ridge.start, ridge.end))
    start, way = (first, 1.0) if end == ridge.start else (last, -1.0)
    along = way * ridge.length / (last - first)
    marks = [(float(str(line.row["at"])) - start) * along for line in rafters if line.row]
    return _apart(sorted(mark for mark in marks if -SAME_MARK <= mark <= ridge.length + SAME_MARK))


def _apart(places: Iterable[float]) -> list[float]:
    """Each mark once: two rafters may stand at one, over an opening and under it."""
    found: list[float] = []
    for place in places:
        if not found or place - found[-1] > SAME_MARK:
            found.append(place)
    return found


def _faces(
    line: Line, between: float, says: str, faces: dict[str, list[float]], rafters: Sequence[Line]
) -> Iterator[RidgeEnd]:
    """One end: both faces as one where their last two rafters are pairs. The ridge is so long between its ends [mm]."""
    if not line.member or not all(faces.values()):
        return
    one, other = (places[:2] for places in faces.values())
    is_paired = len(one) == len(other) and all(
        abs(place - pair) <= SAME_MARK for place, pair in zip(one, other, strict=True)
    )
    shown = {"": one} if is_paired else {f", face to {name}": places[:2] for name, places in faces.items()}
    for face, places in shown.items():
        yield RidgeEnd(f"{says}{face}", _stick(line, between, places), (line, *rafters))


def _stick(line: Line, between: float, places: Sequence[float]) -> Answer:
    """The ridge with those rafters marked from its head; it is cut half a rafter past the last pair's centre."""
    assert line.member
    past = (line.member.length - between) / 2
    marks = tuple(past + max(place, 0.0) for place in places)
    return index.find("sticks")(kind="ridge", section=line.member.section, length=line.member.length, marks=marks)
