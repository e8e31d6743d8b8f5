"""A level ceiling where it comes out in the main roof: the section through its crown, and a rafter's side to mark."""

from collections.abc import Iterator, Sequence
from itertools import pairwise

from sitelog.calculators.catalogue import Row
from sitelog.drawing.model import Drawing, Line, Point, Words
from sitelog.drawing.pen import DrawnAnswer, Sheet, figure, series, up_for
from sitelog.geometry.vectors import cos_deg, sin_deg, tan_deg

PAST = 0.12  # of the way to the last face: how far the roof is shown past it
DORMER = 0.35  # of the way back to the trimmer: how much of the dormer's ceiling is shown
SHOWN = 2.0  # depths of rafter shown in front of its first mark


def soffit(answer: DrawnAnswer) -> Iterator[Drawing]:
    """The section with the zero at 0,0, then the side of a rafter with its marks."""
    yield _section(answer)
    faces = answer.rows("faces")
    said = [f"face {row['n']}" for row in faces]
    marks = [(figure(row, "top_along"), figure(row, "under_along")) for row in faces]
    yield rafter_side(answer, "Soffit: side of a rafter, faces of the trimmer", marks, said)


def _section(answer: DrawnAnswer) -> Drawing:
    """x level in from the zero, y up from the springing."""
    height = answer.number("soffit_height")
    faces = answer.rows("faces")
    back = figure(faces[-1], "top_back") * (1 + PAST)
    front = min(figure(faces[0], "under_back"), figure(faces[0], "top_back"))
    sheet = Sheet.new()
    roof(sheet, answer, back)
    sheet.put(Line(((-DORMER * back, 0.0), (back, 0.0)), "thin"))
    ends_at = answer.number("underside_back") if answer.word("meet") == "underside" else answer.number("top_back")
    sheet.put(Line(((-DORMER * back, height), (ends_at, height)), "bold"))
    for first, last in pairwise(faces):
        sheet.put(Line((*_face(answer, first), *reversed(_face(answer, last))), "bold", closed=True))
    tops = f"tops {answer.of('top_along')} up"
    unders = f"undersides {answer.of('underside_along')} up"
    ceiling = f"ceiling {answer.of('soffit_height')} over the springing"
    sheet.put(
        Words((-DORMER * back, height), ceiling, "start", beside="above"),
        Words((front * 0.5, 0.0), "springing", beside="below"),
        Words((0.0, 0.0), "zero", "end", beside="below"),
        Words((_under_the_roof(answer, height * 0.4), height * 0.4), f"{tops}\n{unders}", "start"),
    )
    level = (
        f"meets the rafters' tops {answer.of('top_along')} up the slope, {answer.of('top_back')} level back",
        f"meets their undersides {answer.of('underside_along')} up the slope, {answer.of('underside_back')} level back",
    )
    sizes = f"ceiling's radius {answer.of('soffit_radius')}, {answer.of('soffit_width')} wide at the springing"
    return sheet.drawing(f"Soffit: section through the crown at {answer.size('pitch')}", (ceiling, sizes, tops, *level))


def _under_the_roof(answer: DrawnAnswer, height: float) -> float:
    """How far in [mm] the rafters' undersides are so high over the springing [mm]."""
    pitch, through = answer.taken("pitch"), (answer.taken("deck")) + (answer.taken("rafter"))
    return height / tan_deg(pitch) + through / sin_deg(pitch)


def roof(sheet: Sheet, answer: DrawnAnswer, end: float) -> None:
    """The main slope from the side, cut square at the zero: top of its sheet, tops and undersides of its rafters."""
    pitch, deck, rafter = (answer.given(name) or 0.0 for name in ("pitch", "deck", "rafter"))
    for under in sorted({0.0, deck, deck + rafter}):
        start = (under * sin_deg(pitch), -under * cos_deg(pitch))
        sheet.put(Line((start, (end, end * tan_deg(pitch) - under / cos_deg(pitch))), "built"))
    sheet.put(Line(((0.0, 0.0), start), "thin"))


def _face(answer: DrawnAnswer, row: Row) -> tuple[Point, Point]:
    """A face of the trimmer from the rafters' tops to their undersides."""
    pitch, deck, rafter = (answer.given(name) or 0.0 for name in ("pitch", "deck", "rafter"))
    return (
        (figure(row, "top_back"), figure(row, "top_along") * sin_deg(pitch) - deck * cos_deg(pitch)),
        (figure(row, "under_back"), figure(row, "under_along") * sin_deg(pitch) - (deck + rafter) * cos_deg(pitch)),
    )


Marks = Sequence[tuple[float, float]]  # up the slope on the rafter's top edge, and on its bottom edge [mm]


def rafter_side(answer: DrawnAnswer, title: str, faces: Marks, said: Sequence[str]) -> Drawing:
    """A main rafter laid level: x up the slope from the zero, y up from its bottom edge; a line for each face."""
    deep = answer.taken("rafter")
    tops, unders = [top for top, _ in faces], [under for _, under in faces]
    start, end = min(*tops, *unders) - SHOWN * deep, max(*tops, *unders) + deep
    sheet = Sheet.new()
    sheet.put(Line(((start, 0.0), (end, 0.0)), "built"), Line(((start, deep), (end, deep)), "built"))
    for top, under in zip(tops, unders, strict=True):
        sheet.put(Line(((under, 0.0), (top, deep)), "bold"))
    sheet.put(*series("tops", [((at, deep), answer.mm(at)) for at in tops], "above"))
    sheet.put(*series("unders", [((at, 0.0), answer.mm(at)) for at in unders], "below"))
    sheet.put(
        Words((start, deep), "top edge, from the zero", "start", beside="above"),
        Words((start, 0.0), "bottom edge", "start", beside="below"),
    )
    pairs = [(answer.mm(top), answer.mm(under)) for top, under in zip(tops, unders, strict=True)]
    says = [
        f"{name}: top edge {top}, bottom edge {under} up the slope"
        for name, (top, under) in zip(said, pairs, strict=True)
    ]
    return sheet.drawing(title, says, up_for(end - start, deep))
