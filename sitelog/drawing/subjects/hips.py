"""A hip or valley: its line from the side, and the marks of its two cuts on the top edge of its head."""

from collections.abc import Iterator
from math import radians, tan

from sitelog.drawing.model import Drawing, Line, Point, Words, above_where
from sitelog.drawing.pen import DrawnAnswer, Sheet, across, upright
from sitelog.drawing.points import middle
from sitelog.quantities.quantity import show_section
from sitelog.text import text_if

BACK = 3.0  # thicknesses of timber shown behind the head
STEEPEST = 85.0  # deg: a bevel that leads along the timber is told and not drawn


def hip(answer: DrawnAnswer) -> Iterator[Drawing]:
    """Its line from the side, and the marks of its two cuts."""
    yield from _both(answer, "Hip")


def valley(answer: DrawnAnswer) -> Iterator[Drawing]:
    """Its line from the side, and the marks of its two cuts."""
    yield from _both(answer, "Valley")


def _both(answer: DrawnAnswer, name: str) -> Iterator[Drawing]:
    yield _line(answer, name)
    if answer.has("edge_bevel_1_from_square"):  # none at a table, whose corner it is cut over
        yield _head(answer, name)


def _line(answer: DrawnAnswer, name: str) -> Drawing:
    """From the side: the corner of the plates at 0,0, the ridge's centre, or the table's corner, at run and rise."""
    run, rise = answer.number("run"), answer.number("rise")
    tick = run * 0.012
    sheet = Sheet.new()
    sheet.put(Line(((0.0, 0.0), (run, rise)), "bold"))
    sheet.put(across(0.0, run, -2 * tick, f"level run {answer.of('run')}", tick=tick, beside="below"))
    sheet.put(upright(run + 2 * tick, 0.0, rise, f"rise\n{answer.of('rise')}", tick=tick, anchor="start"))
    x, y = middle((0.0, 0.0), (run, rise))
    line, face = answer.of("length_on_line"), _to_face(answer)
    told = [f"{line} to centre", f"{face} to face"] if face else [f"{line} on line"]
    sheet.put(Words((x - 2 * tick, y + 2 * tick), "\n".join(told), "end"))
    sheet.put(Words((run, rise), f"plumb cut {answer.of('plumb_cut_from_square')}", "end", beside="above"))
    sheet.put(Words((run * 0.6, rise * 0.15), f"pitch {answer.of('hip_pitch')}\n{show_section(answer.section())}"))
    return sheet.drawing(
        f"{name}: from the side, on its line",
        (
            *_says(answer, LENGTHS),
            f"on the line{text_if(face, ' to the centre of the ridge')} {line}",
            *([f"on the line to the ridge's face {face}"] if face else []),
        ),
    )


def _to_face(answer: DrawnAnswer) -> str:
    """The length to the face of the ridge; "" where there is none: against a table nothing is taken off."""
    off = answer.number("ridge_deduction")
    if not off:
        return ""
    return answer.mm(answer.number("length_on_line") - off)


def _head(answer: DrawnAnswer, name: str) -> Drawing:
    """Square down on the top edge: the end of its centre line at 0,0, the timber behind it; side 1 is above."""
    thick = answer.section().thickness
    bevels = [answer.number(f"edge_bevel_{side}_from_square") for side in (1, 2)]
    faces = [_mark(bevel, way * thick / 2) for bevel, way in zip(bevels, (1, -1), strict=True)]
    says: list[str] = []
    back = -BACK * thick + min(x for x, _ in faces)
    sheet = Sheet.new()
    sheet.put(Line(((back, thick / 2), faces[0], (0.0, 0.0), faces[1], (back, -thick / 2)), "bold"))
    sheet.put(Line(((back, 0.0), (0.0, 0.0)), "hidden"), Line(((back, -thick / 2), (back, thick / 2)), "thin"))
    for side, face, bevel in zip((1, 2), faces, bevels, strict=True):
        sheet.put(Line(((face[0], 0.0), face), "thin"))  # square across the timber: the bevel is from it
        from_square = answer.of(f"edge_bevel_{side}_from_square")
        told = f"side {side}: bevel {from_square} from square, {answer.mm(abs(face[0]))} back"
        says.append(told)
        sheet.put(Words((face[0], face[1]), told, "middle", beside=above_where(side == 1)))
        if bevel > STEEPEST:
            sheet.put(Words(face, "not to scale"))
    sheet.put(Words((back - thick * 0.15, 0.0), f"{answer.mm(thick)}\nthick", "end"))
    tilts = "\n".join(f"tilt {side} {answer.of(f'saw_tilt_{side}')}" for side in (1, 2))
    sheet.put(Words((thick * 0.3, 0.0), tilts, "start"))
    return sheet.drawing(f"{name}: head, square down on its top edge", (*_says(answer, CUTS), *says))


def _mark(bevel: float, off: float) -> Point:
    """Where a cut from the end of the centre line reaches a face `off` mm from it."""
    return -abs(off) * tan(radians(min(bevel, STEEPEST))), off


LENGTHS = (
    ("run", "level run"),
    ("rise", "rise"),
    ("hip_pitch", "pitch"),
    ("plumb_cut_from_square", "plumb cut from square"),
    ("drop_1", "drop 1, plumb"),
    ("drop_2", "drop 2, plumb"),
    ("tail_length", "tail"),
    ("overall_length", "over all"),
    ("overall_on_centre", "over all on its centre"),
    ("tail_past_1", "tail, face 1 further down by"),
    ("tail_past_2", "tail, face 2 further down by"),
)
CUTS = (
    ("edge_bevel_1_from_square", "edge bevel 1 from square"),
    ("edge_bevel_2_from_square", "edge bevel 2 from square"),
    ("saw_tilt_1", "saw tilt 1"),
    ("saw_tilt_2", "saw tilt 2"),
    ("backing_1", "backing 1"),
    ("backing_2", "backing 2"),
)


def _says(answer: DrawnAnswer, names: tuple[tuple[str, str], ...]) -> Iterator[str]:
    yield f"section {show_section(answer.section())}"
    yield from (f"{says} {answer.of(name)}" for name, says in names if answer.has(name))
