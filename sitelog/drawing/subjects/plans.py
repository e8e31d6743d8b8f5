"""Plans seen from above: four plates with their diagonals, the hipped roof over them, the ridge over square plates."""

from collections.abc import Iterator, Mapping
from math import hypot

from sitelog.calculators.catalogue import Row
from sitelog.calculators.rafters.outlines import outline
from sitelog.drawing.model import Drawing, Line, Point, Words, below_where, rightward
from sitelog.drawing.pen import DrawnAnswer, Sheet, figure
from sitelog.drawing.points import centre, distance, middle, share
from sitelog.geometry.roof_lines import CORNERS, SIDES
from sitelog.geometry.vectors import cos_deg, sin_deg, tan_deg
from sitelog.quantities.quantity import show_angle

Corners = Mapping[str, Point]
CLEAR = 0.03  # of the longer way over the plates: how far words stand off a line
DIAGONALS = ("ac", "bd")


def squareness(answer: DrawnAnswer) -> Iterator[Drawing]:
    """Four plates and both diagonals as they were taped: A at 0,0, B along x."""
    at = {name: (answer.number(f"{name}_x"), answer.number(f"{name}_y")) for name in CORNERS}
    sheet = Sheet.new()
    plates(sheet, at, {side: answer.size(side) for side in SIDES})
    for name in DIAGONALS:
        sheet.put(Line((at[name[0]], at[name[1]]), "thin"))
        # Each on its own half of its line: the two cross in the middle.
        sheet.put(Words(share(at[name[0]], at[name[1]], 0.25), f"{name.upper()} {answer.size(name)}"))
    for name in CORNERS:
        sheet.put(Words(share(at[name], centre(at), 0.2), answer.of(f"angle_{name}")))
    says = [
        *(f"plate {name.upper()} {answer.size(name)}" for name in SIDES),
        *(f"diagonal {name.upper()} {answer.size(name)}" for name in DIAGONALS),
        *(f"corner {name.upper()} {answer.of(f'angle_{name}')}" for name in CORNERS),
        f"diagonals {answer.of('diagonal_difference')} apart",
    ]
    yield sheet.drawing("Plates and diagonals, seen from above", tuple(says))


def corner(answer: DrawnAnswer) -> Iterator[Drawing]:
    """One corner by its three lengths, at 0,0: its first side to the left, inside it above."""
    angle, first, second = answer.number("angle"), answer.taken("first"), answer.taken("second")
    here, left, up = (0.0, 0.0), (-first, 0.0), (-second * cos_deg(angle), second * sin_deg(angle))
    clear = CLEAR * max(first, second)
    sheet = Sheet.new()
    sheet.put(Line((left, here, up), "built"), Line((left, up), "thin"))
    sheet.put(Words(middle(left, here), f"first {answer.size('first')}", beside="below"))
    sheet.put(Words((up[0] / 2 + clear, up[1] / 2), f"second\n{answer.size('second')}", "start"))
    sheet.put(Words(middle(left, up), f"across\n{answer.size('across')}", "end"))
    sheet.put(Words(share(here, middle(left, up), 0.3), answer.of("angle"), "end"))
    says = (
        *(f"{name} {answer.size(name)}" for name in ("first", "second", "across")),
        f"corner {answer.of('angle')}, {answer.of('out_of_square')} out of square",
        f"{answer.of('across_if_square')} across if it were square",
    )
    yield sheet.drawing("One corner, seen from above", says)


def roof(answer: DrawnAnswer) -> Iterator[Drawing]:
    """The plates with hips and ridge, lengths on the line; A at 0,0, B along x."""
    at = corners(answer, "roof")
    ends = {end: _xy(answer, f"ridge_{end}") for end in "pq"}
    sheet = Sheet.new()
    plates(sheet, at, {side: answer.mm(length(at, side)) for side in SIDES})
    sheet.put(Line((ends["p"], ends["q"]), "bold"))
    says = [f"plate {side.upper()} {answer.mm(length(at, side))}" for side in SIDES]
    for row in answer.rows("hips"):
        sheet.put(_hip(answer, row, at, ends))
        name, size = str(row["corner"]).upper(), answer.mm(figure(row, "length"))
        pitch, run = show_angle(figure(row, "pitch")), answer.mm(figure(row, "run"))
        says.append(f"hip {name} {size}, pitch {pitch}, level run {run}")
    top = middle(ends["p"], ends["q"])
    sheet.put(Words(top, f"ridge {answer.of('ridge_length')}", beside="above"))
    says.append(f"ridge {answer.of('ridge_length')}, falling {answer.of('ridge_fall')}")
    for row in answer.rows("slopes"):
        longest = answer.mm(figure(row, "common_longest"))
        side = str(row["side"])
        if side.upper() in str(answer.worked.results["ridge_along"]):
            sheet.put(Words(share(middle(at[side[0]], at[side[1]]), top, 0.45), f"common {longest}"))
        says.append(f"longest common on slope {side.upper()} {longest}")
    yield sheet.drawing("Roof: plan, lengths on the line", tuple(says))


def _hip(answer: DrawnAnswer, row: Row, at: Corners, ends: Corners) -> tuple[Line, Words]:
    """A hip, which rises to the end of the ridge that is its level run away, and its length inside it."""
    corner = at[str(row["corner"])]
    end = min(ends.values(), key=lambda top: abs(distance(corner, top) - figure(row, "run")))
    x, y = share(corner, end, 0.45)
    inward = x < centre(at)[0]
    clear = _clear(at)
    size = answer.mm(figure(row, "length"))
    words = Words((x + (clear if inward else -clear), y), size, rightward(inward))
    return Line((corner, end), "built"), words


def ridge(answer: DrawnAnswer) -> Iterator[Drawing]:
    """The ridge over square plates: A at 0,0, B along x; one hipped end is that over BC."""
    long, wide, hips = answer.taken("length"), answer.taken("width"), int(answer.taken("hips", 0))
    at = {"a": (0.0, 0.0), "b": (long, 0.0), "c": (long, wide), "d": (0.0, wide)}
    rise = answer.number("rise")
    ab, bc, da = (_run(answer, side, rise) for side in ("ab", "bc", "da"))
    start, end = (da if hips > 1 else 0.0, ab), (long - bc if hips > 0 else long, ab)
    sheet = Sheet.new()
    plates(sheet, at, {side: answer.mm(length(at, side)) for side in SIDES})
    sheet.put(Line((start, end), "bold"))
    if hips > 1:
        sheet.put(Line((at["a"], start), "built"), Line((at["d"], start), "built"))
    if hips > 0:
        sheet.put(Line((at["b"], end), "built"), Line((at["c"], end), "built"))
    sheet.put(Words(middle(start, end), f"ridge {answer.of('ridge_length')}", beside="above"))
    sheet.put(Words(middle(start, end), f"cut {answer.of('cut_length')}", beside="below"))
    says = (
        *(f"plate {side.upper()} {answer.mm(length(at, side))}" for side in SIDES),
        f"ridge {answer.of('ridge_length')} centre to centre, cut {answer.of('cut_length')}",
        f"{answer.mm(ab)} in from plate AB, {answer.of('rise')} over the plates",
    )
    yield sheet.drawing("Ridge: plan", says)


def _run(answer: DrawnAnswer, side: str, rise: float) -> float:
    """Level run [mm] of the slope over a side up to the ridge."""
    pitch = answer.given(f"pitch_{side}") or answer.given("pitch")
    if not pitch:
        return 0.0
    return rise / tan_deg(pitch)


def _xy(answer: DrawnAnswer, name: str) -> Point:
    row = answer.worked.results[name]
    assert isinstance(row, dict)
    return figure(row, "x"), figure(row, "y")


# --- shared with other plans --------------------------------------------------------------------------------------


def corners(answer: DrawnAnswer, calculator: str) -> dict[str, Point]:
    """The plates' corners [mm] as the calculator itself sees them: A at 0,0, B along x."""
    six = tuple(answer.given(name) for name in (*SIDES, *DIAGONALS))
    found, _ = outline(calculator, six, answer.given("length"), answer.given("width"))
    return dict(zip(CORNERS, found, strict=True))


def plates(sheet: Sheet, at: Corners, sizes: Mapping[str, str]) -> None:
    """The plates with their corners' letters and each side's size outside it."""
    sheet.put(Line(tuple(at[name] for name in CORNERS), "built", closed=True))
    clear = _clear(at)
    for name in CORNERS:
        x, y = at[name]
        right = x > centre(at)[0]
        sheet.put(Words((x + (clear if right else -clear), y), name.upper(), rightward(right)))
    for side, size in sizes.items():
        sheet.put(_side(side, size, at))


def _side(side: str, size: str, at: Corners) -> Words:
    """A side's size outside it: over or under one that lies across, beside one that runs up."""
    start, end = at[side[0]], at[side[1]]
    x, y = middle(start, end)
    along, up = end[0] - start[0], end[1] - start[1]
    if abs(along) >= abs(up):
        return Words((x, y), f"{side.upper()} {size}", beside=below_where(along > 0))
    clear = _clear(at)
    return Words((x + (clear if up > 0 else -clear), y), f"{side.upper()}\n{size}", rightward(up > 0))


def _clear(at: Corners) -> float:
    return CLEAR * max(hypot(*at["c"]), hypot(*at["b"]))


def length(at: Corners, side: str) -> float:
    """How long a side or diagonal of the plates is [mm]: "ab", "ac"."""
    return distance(at[side[0]], at[side[1]])
