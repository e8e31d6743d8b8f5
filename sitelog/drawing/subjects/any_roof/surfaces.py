"""Any roof: its plan, each slope laid flat with rafters or courses, and sections across its ridges.

Sizes that would be on each other are on sheets of their own, so that each is legible on a small screen.
"""

from collections.abc import Iterator, Mapping, Sequence
from math import hypot
from statistics import fmean
from typing import Any

from sitelog.drawing.model import Drawing, Line, Point, Words
from sitelog.drawing.pen import DrawnAnswer, Sheet, series, up_for
from sitelog.drawing.points import middle
from sitelog.drawing.subjects.any_roof.batches import batches
from sitelog.drawing.subjects.any_roof.corners import EDGES, corner_plan, plan
from sitelog.drawing.subjects.any_roof.sections import cut_through, ridges_to_cut
from sitelog.drawing.subjects.any_roof.struts import struts
from sitelog.quantities.quantity import show_angle

Shown = Mapping[str, Any]  # a row with its points, as scripts have it
SIZED = (  # the sheets of the plan, and the lines that have their sizes on each
    ("plates and verges", EDGES),
    ("hips and valleys", ("hip", "valley", "level valley")),
    ("ridges, breaks and steps", ("ridge", "break", "step")),
)


def surface(answer: DrawnAnswer) -> Iterator[Drawing]:
    """The plan, each slope laid flat, with rafters, courses, purlins and struts where they were asked for; sections."""
    yield from _plans(answer)
    for slope in answer.shapes("slopes"):
        yield from _flat(answer, slope)
    for under, rafters in _by_slope(answer, "slopes", "rafters"):
        yield _rafters(answer, under, rafters)
    for cover, courses in _by_slope(answer, "covering", "courses"):
        yield _courses(answer, cover, courses)
    yield from struts(answer)
    for ridge in ridges_to_cut(answer.shapes("lines"), answer.points()):
        yield _section(answer, ridge)


def building(answer: DrawnAnswer) -> Iterator[Drawing]:
    """The plan with its corners by letter and the sizes of its plates, then all that `surface` draws."""
    yield corner_plan(answer)
    yield from surface(answer)


def _by_slope(answer: DrawnAnswer, slopes: str, members: str) -> Iterator[tuple[Shown, list[Shown]]]:
    """Each slope with the rows of another result that are on it, where there are any."""
    for slope in answer.shapes(slopes):
        own: list[Shown] = [row for row in answer.shapes(members) if row["slope"] == slope["name"]]
        if own:
            yield slope, own


# --- plans --------------------------------------------------------------------------------------------------------


def _plans(answer: DrawnAnswer) -> Iterator[Drawing]:
    """The whole plan with the names of its slopes, then its sizes by kinds of lines."""
    lines, at = answer.shapes("lines"), answer.points()
    named = [Words(_inside(slope["outline"]), slope["name"], series="slopes") for slope in answer.shapes("slopes")]
    yield plan(answer, named, "slopes")
    for title, kinds in SIZED:
        wanted = [line for line in lines if line["kind"] in kinds]
        words = [Words(middle(at[line["from"]], at[line["to"]]), _size(answer, line)) for line in wanted]
        for sheet in batches(words, list(at.values())):
            yield plan(answer, sheet, f"{title}, lengths on the line")


def _size(answer: DrawnAnswer, line: Shown) -> str:
    length = answer.mm(line["length"])
    if line["kind"] in EDGES:
        return f"{line['between'][0]} {length}"
    return length


def _inside(outline: Sequence[Sequence[float]]) -> Point:
    """A point of an outline's middle for its name."""
    xs, ys, _ = zip(*outline, strict=True)
    return fmean(xs), fmean(ys)


# --- slopes laid flat ---------------------------------------------------------------------------------------------


def _rings(slope: Shown) -> list[list[Point]]:
    rings = [slope["flat"], *(more["flat"] for more in slope["more"])]
    return [[(x, y) for x, y in ring] for ring in rings]


def _flat(answer: DrawnAnswer, slope: Shown) -> Iterator[Drawing]:
    """The outline of a slope, the length of each of its edges beside it."""
    words = []
    for ring in _rings(slope):
        for start, end in zip(ring, [*ring[1:], ring[0]], strict=True):
            words.append(Words(middle(start, end), answer.mm(hypot(end[0] - start[0], end[1] - start[1]))))
    sizes = ", ".join(word.text for word in words)
    says = (f"slope {slope['name']}, pitch {show_angle(slope['pitch'])}: edges in turn {sizes}",)
    for batch in batches(words, [point for ring in _rings(slope) for point in ring]):
        sheet = _outline(slope)
        sheet.put(*batch)
        yield sheet.drawing(f"Slope {slope['name']} laid flat: its edges", says)


def _outline(slope: Shown) -> Sheet:
    sheet = Sheet.new()
    for ring in _rings(slope):
        sheet.put(Line(tuple(ring), "bold", closed=True))
    return sheet


def _rafters(answer: DrawnAnswer, slope: Shown, own: Sequence[Shown]) -> Drawing:
    """Rafters on their slope, marks under their feet and lengths over their heads."""
    sheet = _outline(slope)
    for opening in answer.shapes("openings"):
        if opening["slope"] == slope["name"]:
            sheet.put(Line(tuple((x, y) for x, y in opening["flat"]), "built", closed=True))
    feet: list[tuple[Point, str]] = []
    heads: list[tuple[Point, str]] = []
    low = min(y for ring in _rings(slope) for _, y in ring)
    for rafter in own:
        foot = _up_slope(slope, rafter["from"])
        head = rafter["at"], foot + rafter["length"]
        sheet.put(Line(((rafter["at"], foot), head), "thin"))
        feet.append(((rafter["at"], low), answer.mm(rafter["at"])))
        heads.append(((rafter["at"], foot + 0.6 * rafter["length"]), answer.mm(rafter["length"])))
    sheet.put(*series("marks", list(dict(feet).items()), "below"), *series("lengths", heads))
    says = [
        f"at {answer.mm(rafter['at'])} {rafter['kind']}, {rafter['foot']} to {rafter['head']},"
        f" {answer.mm(rafter['length'])}"
        for rafter in own
    ]
    title = f"Slope {slope['name']} laid flat: rafters, marks along the wall, lengths on the line"
    return sheet.drawing(title, (f"slope {slope['name']}", *says))


def _up_slope(slope: Shown, at: Sequence[float]) -> float:
    """How far up the slope a point in space is, by its height and that of a corner which is known laid flat."""
    (*_, z), (_, y) = slope["outline"][0], slope["flat"][0]
    other = max(range(len(slope["flat"])), key=lambda place: abs(slope["flat"][place][1] - y))
    rise, run = slope["outline"][other][2] - z, slope["flat"][other][1] - y
    return float(y + (at[2] - z) * run / rise)


def _courses(answer: DrawnAnswer, slope: Shown, own: Sequence[Shown]) -> Drawing:
    """The covering's outline with the lower edge of each course, and how far up each is."""
    sheet = _outline(slope)
    low = min(y for ring in _rings(slope) for _, y in ring)
    left = min(x for ring in _rings(slope) for x, _ in ring)
    marks = []
    for course in own:
        for first, last in course["parts"]:
            sheet.put(Line(((first, course["up"]), (last, course["up"])), "thin"))
        marks.append(((left, course["up"]), f"{course['n']}: {answer.mm(course['up'] - low)}"))
    sheet.put(*series("courses", marks, anchors=["end"] * len(marks)))
    says = [
        f"course {course['n']}, {answer.mm(course['up'] - low)} up, batten {answer.mm(course['batten'])}"
        for course in own
    ]
    title = f"Slope {slope['name']} laid flat: courses, up from the lower edge"
    return sheet.drawing(title, (f"slope {slope['name']}", *says))


# --- sections -----------------------------------------------------------------------------------------------------


def _section(answer: DrawnAnswer, ridge: Shown) -> Drawing:
    """Upright through the middle of a ridge, square to it; heights over the datum."""
    at = answer.points()
    pieces = cut_through(answer.shapes("slopes"), at[ridge["from"]], at[ridge["to"]])
    sheet = Sheet.new()
    heights: dict[Point, str] = {}
    for _, start, end in pieces:
        sheet.put(Line((start, end), "bold"))
        for point in (start, end):
            heights[point] = answer.mm(point[1])
        sheet.put(Line(((start[0], 0.0), start), "hidden"))
    left, right = min(start[0] for _, start, _ in pieces), max(end[0] for _, _, end in pieces)
    sheet.put(Line(((left, 0.0), (right, 0.0)), "thin"))
    sheet.put(*series("heights", list(heights.items()), "above"))
    sheet.put(Words(((left + right) / 2, 0.0), answer.mm(right - left), beside="below"))
    name = "-".join(ridge["between"])
    says = (
        f"section through ridge {name}, {answer.mm(right - left)} across",
        *(
            f"slope {slope} from {answer.mm(start[1])} to {answer.mm(end[1])} in {answer.mm(end[0] - start[0])}"
            for slope, start, end in pieces
        ),
    )
    high = max(point[1] for point in heights)
    return sheet.drawing(f"Roof: section through ridge {name}", says, up_for(right - left, high))
