"""Where the jacks meet a hip, on its top edge: running up it on both faces from where the tape hooks."""

from collections.abc import Iterator

from sitelog.calculators.catalogue import Row
from sitelog.calculators.sticks.inputs import section_of
from sitelog.drawing.model import Beside, Drawing, Line, Point, Words
from sitelog.drawing.pen import DrawnAnswer, Sheet, figure, series
from sitelog.quantities.quantity import Section

WIDE = 8.0  # times as long as it is drawn wide, so that its marks have room
JACKS = "jacks' centres on its top edge"
FACES = (("face_1", 1, "above"), ("face_2", -1, "below"))


def on_the_hip(answer: DrawnAnswer, called: str) -> Iterator[Drawing]:
    """Square down on its top edge, head on the left, face 1 above; x is from the head's furthest point."""
    rows = answer.rows("jacks")
    if rows:
        yield _drawn(answer, rows, called)


def _drawn(answer: DrawnAnswer, rows: list[Row], called: str) -> Drawing:
    given = answer.worked.inputs.get("section")
    half = section_of(answer.word("kind"), given if isinstance(given, Section) else None).thickness / 2
    whole, out = answer.number("overall_length"), 3 * half
    sheet = Sheet.new()
    sheet.put(Line(_edge(answer, half), "bold", closed=True))
    says = []
    for name, way, beside in FACES:
        marks = [(str(row["n"]), figure(row, name)) for row in rows if row.get(name) is not None]
        sheet.put(*_ticks(answer, [at for _, at in marks], way * half, way * (half + out), _beside(beside)))
        named = ", ".join(f"{n} at {answer.mm(at)}" for n, at in marks)
        says.append(f"{name.replace('_', ' ')}, jacks from the corner: {named}")
    heel = next(figure(row, "at") for row in answer.rows() if row["line"] == "centre" and row["point"] == "plate-top")
    x = _from_head(answer, heel)
    sheet.put(Line(((x, half), (x, -half)), "thin"), Words((x, 0.0), f"heel {answer.mm(heel)}"))
    hook = f"tape hooks at the {answer.word('zero')}"
    sheet.put(Words((whole / 2, 0.0), f"top edge; {hook}; jacks' centres"))
    up = max(int(whole / WIDE / (2 * (half + out))), 1)
    return sheet.drawing(f"{called}: {JACKS}, {hook}", (*says, f"heel at {answer.mm(heel)}"), up)


def _ticks(answer: DrawnAnswer, marks: list[float], edge: float, end: float, beside: Beside) -> Iterator[Line | Words]:
    """A line off the edge at each mark of a face, from `edge` to `end` across the timber, with its running size."""
    places = [_from_head(answer, at) for at in marks]
    yield from (Line(((x, edge), (x, end)), "built") for x in places)
    yield from series(beside, [((x, end), answer.mm(at)) for x, at in zip(places, marks, strict=True)], beside)


def _beside(word: str) -> Beside:
    return "above" if word == "above" else "below"


def _edge(answer: DrawnAnswer, half: float) -> tuple[Point, ...]:
    """Round the top edge: both ends on face 1, the centre and face 2."""
    off = {"1": half, "centre": 0.0, "2": -half}
    ends = {
        end: {
            str(row["line"]): (_from_head(answer, figure(row, "at")), off[str(row["line"])])
            for row in answer.rows()
            if row["point"] == f"{end}-top"
        }
        for end in ("head", "tail")
    }
    return (
        *(ends["head"][line] for line in ("1", "centre", "2")),
        *(ends["tail"][line] for line in ("2", "centre", "1")),
    )


def _from_head(answer: DrawnAnswer, at: float) -> float:
    """How far a mark is from the head's furthest point."""
    off = at - (answer.given("nick") or 0.0)
    return off if answer.word("zero") == "head" else answer.number("overall_length") - off
