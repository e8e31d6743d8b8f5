"""The plan of a part's roof, hipped or gabled, as it stands over the roof as drawn."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from math import hypot
from typing import Literal

from sitelog.calculators.rafters.outlines import outline, pitches_of
from sitelog.drawing.model import Anchor, Drawing, Line, Point, Stroke, Words
from sitelog.drawing.points import centre, middle, share, square_foot
from sitelog.geometry.roof_lines import CORNERS, SIDES, Four, RoofLines, true_slopes
from sitelog.geometry.vectors import meeting_point, slope_over
from sitelog.job.facts.fact import Fact
from sitelog.job.state.views import State
from sitelog.quantities.quantity import show_angle, show_length
from sitelog.refusal import Refusal

SIX = (*SIDES, "ac", "bd")
MEMBERS = {  # what is bold while a stage is in hand; a stage not named here has nothing of its own on plan
    "plates": "sides",
    "first-pair": "pair",
    "ridge": "ridge",
    "hip-lines": "hips",
    "hips": "hips",
    "jacks": "hips",
}
CLEAR = 0.03  # of the longer way over the plates: how far words stand off a line
ENDS: tuple[Anchor, Anchor] = ("end", "start")  # how words stand beside P and beside Q: away from the middle
UPRIGHT = 90.0  # deg: a gable
LEVEL = 0.5  # mm: a ridge that falls less is told as level


def roof_plan(state: State, part: str, *, stage: str = "") -> Drawing | None:
    """The plates, hips and ridge [mm], A at 0,0 and B along x: solid where built, dotted as drawn.

    `stage` is the id or path of the stage in hand; its members are bold. A part without hips is gabled over BC and DA.
    None where the part has no ridge over four plates, or the figures that are known make none.
    """
    facts = _Facts(state, part)
    if facts.get("ridge") is None:
        return None
    drawn, _ = _roof(facts, "drawn")
    built, refusal = _roof(facts, "now") if any(map(facts.built, SIX)) else (None, "")
    best = built or drawn
    if best is None:
        return None
    bold = MEMBERS.get(stage.rpartition(".")[2], "")
    feet = [Line((foot.top, foot.at), "thin") for foot in _feet(best, facts)]
    lines = [*feet, *_drawn_lines(drawn, facts), *_built_lines(built, facts), *_bold_lines(best, bold)]
    title = next((view.title for view in state.parts if view.id == part), part)
    says = [*_says(best, facts), *_feet_say(best, facts)]
    if refusal:
        says.append(f"as measured: {refusal}")
    return Drawing(f"{title}: plan, seen from above", tuple(lines), tuple(_words(best, facts)), tuple(says))


@dataclass(frozen=True)
class _Facts:
    """The facts of one part, and how their figures are told."""

    state: State
    part: str

    def get(self, name: str) -> Fact | None:
        return self.state.facts.get(f"{self.part}.{name}")

    def number(self, name: str, side: Literal["drawn", "now"]) -> float | None:
        fact = self.get(name)
        value = fact and (fact.drawn if side == "drawn" else fact.now)
        if not isinstance(value, (int, float)):
            return None
        return float(value)

    @property
    def hipped(self) -> bool:
        return self.get("hip_a") is not None

    def built(self, name: str) -> bool:
        fact = self.get(name)
        return fact is not None and fact.built is not None

    def told(self, name: str, between: str) -> str:
        """`8996 (drawn 9000)` where a figure was built otherwise, `9000 drawn` where it is not built yet."""
        now, drawn = self.number(name, "now"), self.number(name, "drawn")
        if now is None:
            return "-"
        size = show_length(now, self.state.units)
        if not self.built(name):
            return f"{size}{between}drawn"
        if drawn is None or show_length(drawn, self.state.units) == size:
            return size
        meant = f"drawn {show_length(drawn, self.state.units)}"
        if between == "\n":
            return f"{size}{between}{meant}"
        return f"{size}{between}({meant})"


def gabled(corners: Sequence[tuple[float, float]], pitches: Four) -> RoofLines:
    """The ridge [mm] where the slopes over AB and CD meet, from the face of gable DA, P, to that of BC, Q.

    Refusal where they meet nowhere.
    """
    a, b, c, d = ((x, y, 0.0) for x, y in corners)
    slopes = slope_over(a, b, pitches[0]), slope_over(c, d, pitches[2])
    p, q = (meeting_point(*slopes, slope_over(*gable, UPRIGHT)) for gable in ((d, a), (b, c)))
    if p is None or q is None or p[2] <= 0 or q[2] <= 0:
        raise Refusal("roof: these slopes never meet. Check the lengths and pitches")
    return RoofLines((a, b, c, d), p, q, (3, 1))


def _roof(facts: _Facts, side: Literal["drawn", "now"]) -> tuple[RoofLines | None, str]:
    """The roof's lines from one side of the facts, or why there are none."""
    every = facts.number("pitch", side)
    own = [facts.number(f"pitch_{plate}", side) for plate in SIDES]
    try:
        pitches = pitches_of("roof", every, *own)
        corners, _ = outline("roof", tuple(facts.number(name, side) for name in SIX), None, None)
        return (true_slopes if facts.hipped else gabled)(corners, pitches), ""
    except Refusal as refusal:
        return None, refusal.message


# --- lines --------------------------------------------------------------------------------------------------------


def _plan(roof: RoofLines) -> dict[str, Point]:
    """The points of the plan: corners a to d, ridge ends p and q."""
    points = {**dict(zip(CORNERS, roof.corners, strict=True)), "p": roof.p, "q": roof.q}
    return {name: (point[0], point[1]) for name, point in points.items()}


def _hip_ends(roof: RoofLines, corner: int) -> tuple[Point, Point]:
    """The corner, and the end of the ridge that its hip rises to."""
    x, y, _ = roof.corners[corner]
    along = roof.hip(corner).line
    return (x, y), (x + along[0], y + along[1])


@dataclass(frozen=True)
class _Foot:
    """An end of a hipped ridge: where it is plumb over a long plate, `along` mm from the plate's first corner."""

    name: str
    top: Point
    at: Point
    along: float

    def told(self, side: str, state: State) -> str:
        return f"{self.name} {show_length(self.along, state.units)} from {side[0].upper()}"


def _feet(roof: RoofLines, facts: _Facts) -> list[_Foot]:
    """Both ends of the ridge over the first of the plates that run along it; none of a gabled roof."""
    if not facts.hipped:
        return []
    at, side = _plan(roof), roof.long_sides[0]
    return [
        _Foot(
            name.upper(),
            at[name],
            square_foot(at[name], at[side[0]], at[side[1]]),
            roof.along(SIDES.index(side), point),
        )
        for name, point in (("p", roof.p), ("q", roof.q))
    ]


def _drawn_lines(roof: RoofLines | None, facts: _Facts) -> Iterator[Line]:
    if roof is None:
        return
    at = _plan(roof)
    yield Line(tuple(at[name] for name in CORNERS), "drawn", closed=True)
    yield from _tops(roof, "drawn", facts)


def _tops(roof: RoofLines, stroke: Stroke, facts: _Facts) -> Iterator[Line]:
    at = _plan(roof)
    yield from (Line(_hip_ends(roof, corner), stroke) for corner in range(4) if facts.hipped)
    yield Line((at["p"], at["q"]), stroke)


def _built_lines(roof: RoofLines | None, facts: _Facts) -> Iterator[Line]:
    """Each plate that was measured, and, once all were, the hips and ridge that follow from them."""
    if roof is None:
        return
    at = _plan(roof)
    yield from (Line((at[side[0]], at[side[1]]), "built") for side in SIDES if facts.built(side))
    if all(facts.built(name) for name in SIX):
        yield from _tops(roof, "built", facts)


def _bold_lines(roof: RoofLines, members: str) -> Iterator[Line]:
    at = _plan(roof)
    if members == "sides":
        yield Line(tuple(at[name] for name in CORNERS), "bold", closed=True)
    elif members == "hips":
        yield from (Line(_hip_ends(roof, corner), "bold") for corner in range(4))
    elif members == "ridge":
        yield Line((at["p"], at["q"]), "bold")
    elif members == "pair":
        feet = [square_foot(at["p"], at[side[0]], at[side[1]]) for side in roof.long_sides]
        yield Line((feet[0], at["p"], feet[1]), "bold")


# --- words --------------------------------------------------------------------------------------------------------


def _words(roof: RoofLines, facts: _Facts) -> Iterator[Words]:
    at = _plan(roof)
    clear = CLEAR * max(hypot(at["c"][0], at["c"][1]), hypot(at["b"][0], at["b"][1]))
    for name in CORNERS:
        yield Words(_off(at[name], centre(at), -1.2 * clear), name.upper())
    for side in SIDES:
        yield _side_words(side, at[side[0]], at[side[1]], clear, facts)
    if facts.hipped:
        yield from _hip_words(roof, centre(at), clear, facts)
        yield from _foot_words(roof, clear, facts)
    x, y = middle(at["p"], at["q"])
    yield Words((x, y + clear), f"ridge {_bare(facts.told('ridge', ' '))}".removesuffix(" drawn"))
    pitch = facts.number("pitch", "now")
    if pitch is not None:
        for side in roof.long_sides:
            yield Words(share(middle(at[side[0]], at[side[1]]), (x, y), 0.4), show_angle(pitch))


def _hip_words(roof: RoofLines, inside: Point, clear: float, facts: _Facts) -> Iterator[Words]:
    """Each hip's length beside it, on the side of the roof's middle."""
    for place, name in enumerate(CORNERS):
        foot, head = _hip_ends(roof, place)
        x, y = share(foot, head, 0.45)
        inward = 1 if inside[0] > x else -1
        told = _bare(facts.told(f"hip_{name}", " ").replace(" drawn", ""))
        yield Words((x + inward * clear, y), told, "start" if inward > 0 else "end")


def _foot_words(roof: RoofLines, clear: float, facts: _Facts) -> Iterator[Words]:
    """Each end of the ridge by its name, and how far from the plate's first corner it is plumb over the plate."""
    side = roof.long_sides[0]
    for foot, anchor, way in zip(_feet(roof, facts), ENDS, (-1, 1), strict=False):
        x, y = share(foot.at, foot.top, 0.12)
        yield Words((x + way * 0.3 * clear, y), foot.told(side, facts.state), anchor)
        yield Words((foot.top[0] + way * 1.5 * clear, foot.top[1]), foot.name)


def _bare(told: str) -> str:
    """A figure without what was drawn."""
    return told.partition(" (")[0]


def _side_words(side: str, start: Point, end: Point, clear: float, facts: _Facts) -> Words:
    """A side's length outside its plate: under or over a side that lies across, beside one that runs up."""
    x, y = share(start, end, 0.5)
    along, up = end[0] - start[0], end[1] - start[1]
    size = hypot(along, up)
    out = (x + up / size * 1.3 * clear, y - along / size * 1.3 * clear)  # anticlockwise: outside is on the right
    if abs(along) >= abs(up):
        return Words(out, f"{side.upper()} {facts.told(side, ' ')}")
    between = "\n"
    return Words(out, f"{side.upper()} {facts.told(side, between)}", "start" if up > 0 else "end")


def _off(point: Point, towards: Point, by: float) -> Point:
    dx, dy = towards[0] - point[0], towards[1] - point[1]
    size = hypot(dx, dy) or 1.0
    return point[0] + dx / size * by, point[1] + dy / size * by


# --- the same in words --------------------------------------------------------------------------------------------


def _feet_say(roof: RoofLines, facts: _Facts) -> Iterator[str]:
    side = roof.long_sides[0]
    yield from (f"{foot.told(side, facts.state)}, plumb over {side.upper()}" for foot in _feet(roof, facts))


def _says(roof: RoofLines, facts: _Facts) -> Iterator[str]:
    for name in SIX:
        kind = "plate" if name in SIDES else "diagonal"
        yield f"{kind} {name.upper()} {facts.told(name, ' ')}"
    for name in CORNERS if facts.hipped else ():
        yield f"hip {name.upper()} {facts.told(f'hip_{name}', ' ')}"
    yield f"ridge {facts.told('ridge', ' ')}"
    if roof.fall >= LEVEL:
        high = "P" if roof.p[2] > roof.q[2] else "Q"
        yield f"true slopes meet {show_length(roof.fall, facts.state.units)} higher at {high}"
    for place, name in enumerate(CORNERS):
        yield f"corner {name.upper()} {show_angle(roof.hip(place).angle)}"
    pitch = facts.number("pitch", "now")
    if pitch is not None:
        yield f"pitch {show_angle(pitch)} {'as built' if facts.built('pitch') else 'as drawn'}"
