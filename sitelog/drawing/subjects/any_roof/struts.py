"""Purlins and struts of any roof: where they are on plan, and a section through each kind of strut."""

from collections.abc import Iterator, Mapping, Sequence
from math import hypot, radians, sin, tan
from typing import Any

from sitelog.drawing.model import Drawing, Line, Point, Words
from sitelog.drawing.pen import DrawnAnswer, Sheet, up_for
from sitelog.drawing.points import middle
from sitelog.drawing.subjects.any_roof.batches import batches
from sitelog.drawing.subjects.any_roof.corners import plan
from sitelog.quantities.quantity import show_angle

Shown = Mapping[str, Any]
TICK = 150.0  # mm: how far a strut's mark is drawn to each side of its purlin
ALIKE = 0.5  # mm, and of a degree: struts that are cut as one


def struts(answer: DrawnAnswer) -> Iterator[Drawing]:
    """The plan of the purlins with a mark at each strut, then the sections; nothing without a purlin."""
    if answer.shapes("purlins"):
        yield from _plans(answer)
        yield from (_section(answer, group) for group in _kinds(answer))


# --- on plan ------------------------------------------------------------------------------------------------------


def _plans(answer: DrawnAnswer) -> Iterator[Drawing]:
    own = [Line((_flat(one["from"]), _flat(one["to"])), "bold") for one in answer.shapes("purlins")]
    marks = [line for one in answer.shapes("struts") for line in _mark(answer, one)]
    words = [Words(middle(*line.points), answer.mm(hypot(*_way(line)))) for line in own]
    says = (*_of_purlins(answer), *_of_struts(answer))
    for sheet in batches(words, list(answer.points().values())):
        made = plan(answer, sheet, "purlins and struts", says)
        yield Drawing(made.title, (*made.lines, *own, *marks), made.words, made.says, made.up)


def _flat(at: Sequence[float]) -> Point:
    return at[0], at[1]


def _way(line: Line) -> Point:
    (x, y), (x_end, y_end) = line.points
    return x_end - x, y_end - y


def _mark(answer: DrawnAnswer, strut: Shown) -> Iterator[Line]:
    """Square across its purlin at its head; and a line to its foot, where that isn't plumb under it."""
    head, foot = _flat(strut["to"]), _flat(strut["from"])
    purlin = next(one for one in answer.shapes("purlins") if _is_under(one, strut))
    along = _way(Line((_flat(purlin["from"]), _flat(purlin["to"])), "thin"))
    x, y = (part * TICK / hypot(*along) for part in along)
    yield Line(((head[0] - y, head[1] + x), (head[0] + y, head[1] - x)), "built")
    if hypot(head[0] - foot[0], head[1] - foot[1]) > ALIKE:
        yield Line((head, foot), "hidden")


def _is_under(purlin: Shown, strut: Shown) -> bool:
    own = purlin["slope"] == strut["slope"] and purlin["height"] == strut["height"]
    return bool(own and purlin["at"] <= strut["at"] <= purlin["at"] + purlin["length"])


def _of_purlins(answer: DrawnAnswer) -> Iterator[str]:
    for one in answer.shapes("purlins"):
        yield f"purlin on {one['slope']}, {answer.mm(one['height'])} up: {answer.mm(one['length'])} long"


def _of_struts(answer: DrawnAnswer) -> Iterator[str]:
    for purlin in answer.shapes("purlins"):
        own = [answer.mm(one["along_purlin"]) for one in answer.shapes("struts") if _is_under(purlin, one)]
        if own:
            yield f"struts under {purlin['slope']}, from the purlin's end: {', '.join(own)}"


# --- from the side ------------------------------------------------------------------------------------------------


def _kinds(answer: DrawnAnswer) -> list[list[Shown]]:
    """The struts that are cut alike, under slopes of one pitch."""
    kinds: list[list[Shown]] = []
    for strut in answer.shapes("struts"):
        same = next((kind for kind in kinds if _is_alike(answer, kind[0], strut)), None)
        if same is None:
            kinds.append([strut])
        else:
            same.append(strut)
    return kinds


def _is_alike(answer: DrawnAnswer, one: Shown, other: Shown) -> bool:
    pitches = _slope(answer, one)["pitch"], _slope(answer, other)["pitch"]
    figures = [(one[name], other[name]) for name in ("height", "length", "lean")]
    return all(abs(first - second) < ALIKE for first, second in (*figures, pitches))


def _slope(answer: DrawnAnswer, strut: Shown) -> Shown:
    return next(slope for slope in answer.shapes("slopes") if slope["name"] == strut["slope"])


def _section(answer: DrawnAnswer, alike: Sequence[Shown]) -> Drawing:
    """Square to the wall: x level inwards from the slope's lowest point, y over the datum."""
    strut = alike[0]
    slope = _slope(answer, strut)
    heights = [z for *_, z in slope["outline"]]
    low, rise = min(heights), max(heights) - min(heights)
    run, lean = rise / tan(radians(slope["pitch"])), radians(strut["lean"])
    into = (strut["height"] - low) / tan(radians(slope["pitch"]))
    head, foot = (into, strut["to"][2]), (into + strut["length"] * sin(lean), strut["from"][2])
    sheet = Sheet.new()
    sheet.put(Line(((0.0, low), (run, low + rise)), "built"), Line((foot, head), "bold"))
    sheet.put(Line((head, (into, strut["height"])), "hidden"), Line(((0.0, foot[1]), (run, foot[1])), "thin"))
    length = f"{answer.mm(strut['length'])} on its middle"
    cuts = (
        f"lean {show_angle(strut['lean'])} from plumb",
        f"head cut {show_angle(strut['head_cut_from_square'])}",
        f"foot cut {show_angle(strut['foot_cut_from_square'])}",
    )
    purlin = f"purlin at {answer.mm(strut['height'])}"
    sheet.put(Words((into, strut["height"]), purlin, "end"))
    sheet.put(Words(middle(foot, head), "\n".join((length, *cuts)), "start"))
    sheet.put(Words(foot, f"foot at {answer.mm(foot[1])}", beside="below"))
    names = ", ".join(dict.fromkeys(str(one["slope"]) for one in alike))
    called = "strut" if len(alike) == 1 else "struts"
    says = (f"{len(alike)} {called} under {names}: {length}", purlin, f"foot at {answer.mm(foot[1])}", *cuts)
    across = max(run, foot[0])
    tall = max(low + rise, foot[1]) - min(low, foot[1])
    return sheet.drawing(f"Struts under {names}: section square to the wall", says, up_for(across, tall))
