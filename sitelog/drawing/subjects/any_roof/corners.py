"""The plan of any roof; of a cut roof with its corners by letter and the length of each plate: what it is set up by."""

from collections.abc import Iterator, Mapping, Sequence
from math import dist

from sitelog.calculators.catalogue import Row
from sitelog.drawing.model import Drawing, Line, Point, Stroke, Words
from sitelog.drawing.pen import DrawnAnswer, Sheet, figure
from sitelog.drawing.points import middle
from sitelog.quantities.quantity import show_angle

EDGES = ("eaves", "verge", "abutment")
STROKES: Mapping[str, Stroke] = {"ridge": "bold", "hip": "bold"}
OUT = 0.03  # of the plate's length, from it to its size


def plan(answer: DrawnAnswer, words: Sequence[Words], title: str, first: Sequence[str] = ()) -> Drawing:
    """Every line of a roof on plan, with words on it; `first` is told before its lines and slopes."""
    sheet, at = Sheet.new(), answer.points()
    for line in answer.shapes("lines"):
        stroke: Stroke = "built" if line["kind"] in EDGES else STROKES.get(line["kind"], "thin")
        sheet.put(Line((at[line["from"]], at[line["to"]]), stroke))
    sheet.put(*words)
    return sheet.drawing(f"Roof: plan, {title}", (*first, *_says(answer)))


def _says(answer: DrawnAnswer) -> Iterator[str]:
    for line in answer.shapes("lines"):
        name = "-".join(line["between"])
        yield f"{line['kind']} {name} {answer.mm(line['length'])}, pitch {show_angle(line['pitch'])}"
    for slope in answer.shapes("slopes"):
        yield f"slope {slope['name']}, pitch {show_angle(slope['pitch'])}"


def corner_plan(answer: DrawnAnswer) -> Drawing:
    """The plan of an answer of `building`: the letter at each corner, and outside each plate its length."""
    at = answer.points()
    names = [row["corner"] for row in answer.shapes("corners")]
    corners = [Words(at[name], name) for name in names if name in at]
    plates = [(row, ends) for row in answer.rows("sides") if (ends := _ends(row)) and set(ends) <= set(at)]
    says = [f"plate {row['name']} {answer.mm(figure(row, 'length'))}" for row, _ in plates]
    return plan(answer, [*corners, *_sizes(answer, at, plates)], "corners and plates", says)


def _ends(row: Row) -> tuple[str, str] | None:
    """The corners of a plate, `AB` or `A-B2`; None of a tie, `A to C`."""
    name = str(row["name"])
    if " " in name:
        return None
    first, dash, other = name.partition("-")
    return (first, other) if dash else (name[0], name[1])


def _sizes(
    answer: DrawnAnswer, at: Mapping[str, Point], plates: Sequence[tuple[Row, tuple[str, str]]]
) -> Iterator[Words]:
    for row, (start, end) in plates:
        length = dist(at[start], at[end])
        out = (at[end][1] - at[start][1]) / length, (at[start][0] - at[end][0]) / length
        beside = middle(at[start], at[end])
        text = answer.mm(figure(row, "length"))
        if abs(out[1]) > abs(out[0]):
            yield Words(beside, text, beside="above" if out[1] > 0 else "below")
        else:
            beside = beside[0] + OUT * length * out[0], beside[1]
            yield Words(beside, text, "start" if out[0] > 0 else "end")
