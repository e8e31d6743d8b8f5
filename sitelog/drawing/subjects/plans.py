"""Plans seen from above: four plates with their diagonals, the hipped roof over them, the ridge over square plates."""

from collections.abc import Iterator, Mapping
from math import hypot

from sitelog.calculators.rafters.outlines import outline
from sitelog.drawing.model import Drawing, Line, Point, Words
from sitelog.drawing.pen import DrawnAnswer, Sheet, figure, middle
from sitelog.geometry.roof_lines import CORNERS, SIDES
from sitelog.quantities.quantity import show_angle

Corners = Mapping[str, Point]
CLEAR = 0.03  # of the longer way over the plates: how far words stand off a line
DIAGONALS = ("ac", "bd")


def squareness(t: DrawnAnswer) -> Iterator[Drawing]:
    at = {name: (t.number(f"{name}_x"), t.number(f"{name}_y")) for name in CORNERS}
    sheet = Sheet.new()
    plates(sheet, at, {side: t.size(side) for side in SIDES})
    for name in DIAGONALS:
        sheet.put(Line((at[name[0]], at[name[1]]), "thin"))
        # Each on its own half of its line: the two cross in the middle.
        sheet.put(Words(share(at[name[0]], at[name[1]], 0.25), f"{name.upper()} {t.size(name)}"))
    for name in CORNERS:
        sheet.put(Words(share(at[name], centre(at), 0.2), t.of(f"angle_{name}")))
    says = [
        *(f"{'plate' if one in SIDES else 'diagonal'} {one.upper()} {t.size(one)}" for one in (*SIDES, *DIAGONALS)),
        *(f"corner {name.upper()} {t.of(f'angle_{name}')}" for name in CORNERS),
        f"diagonals {t.of('diagonal_difference')} apart",
    ]
    yield sheet.drawing("Plates and diagonals, seen from above", tuple(says))


def roof(t: DrawnAnswer) -> Iterator[Drawing]:
    at = corners(t, "roof")
    ends = {end: _xy(t, f"ridge_{end}") for end in "pq"}
    sheet = Sheet.new()
    plates(sheet, at, {side: t.mm(length(at, side)) for side in SIDES})
    sheet.put(Line((ends["p"], ends["q"]), "bold"))
    says = [f"plate {side.upper()} {t.mm(length(at, side))}" for side in SIDES]
    clear = CLEAR * max(hypot(*at["c"]), hypot(*at["b"]))
    for row in t.rows("hips"):
        name = str(row["corner"])
        # A hip rises to the end of the ridge that is its level run away.
        end = min("pq", key=lambda one: abs(_far(at[name], ends[one]) - figure(row, "run")))
        sheet.put(Line((at[name], ends[end]), "built"))
        x, y = share(at[name], ends[end], 0.45)
        inward = x < centre(at)[0]
        sheet.put(
            Words((x + (clear if inward else -clear), y), t.mm(figure(row, "length")), "start" if inward else "end")
        )
        says.append(
            f"hip {name.upper()} {t.mm(figure(row, 'length'))}, pitch {show_angle(figure(row, 'pitch'))},"
            f" level run {t.mm(figure(row, 'run'))}"
        )
    x, y = middle(ends["p"], ends["q"])
    sheet.put(Words((x, y), f"ridge {t.of('ridge_length')}", beside="above"))
    says.append(f"ridge {t.of('ridge_length')}, falling {t.of('ridge_fall')}")
    for row in t.rows("slopes"):
        longest = t.mm(figure(row, "common_longest"))
        side = str(row["side"])
        if side.upper() in str(t.answer.results["ridge_along"]):
            sheet.put(Words(share(middle(at[side[0]], at[side[1]]), (x, y), 0.45), f"common {longest}"))
        says.append(f"longest common on slope {side.upper()} {longest}")
    yield sheet.drawing("Roof: plan, lengths on the line", tuple(says))


def ridge(t: DrawnAnswer) -> Iterator[Drawing]:
    long, wide, hips = t.given("length") or 0.0, t.given("width") or 0.0, int(t.given("hips") or 0)
    at = {"a": (0.0, 0.0), "b": (long, 0.0), "c": (long, wide), "d": (0.0, wide)}
    rise = t.number("rise")
    ab, bc, da = (_run(t, side, rise) for side in ("ab", "bc", "da"))
    start, end = (da if hips > 1 else 0.0, ab), (long - bc if hips > 0 else long, ab)
    sheet = Sheet.new()
    plates(sheet, at, {side: t.mm(length(at, side)) for side in SIDES})
    sheet.put(Line((start, end), "bold"))
    for corner, top in (("a", start), ("d", start), ("b", end), ("c", end)):
        if hips > (1 if top is start else 0):
            sheet.put(Line((at[corner], top), "built"))
    sheet.put(Words(middle(start, end), f"ridge {t.of('ridge_length')}", beside="above"))
    sheet.put(Words(middle(start, end), f"cut {t.of('cut_length')}", beside="below"))
    says = (
        *(f"plate {side.upper()} {t.mm(length(at, side))}" for side in SIDES),
        f"ridge {t.of('ridge_length')} centre to centre, cut {t.of('cut_length')}",
        f"{t.mm(ab)} in from plate AB, {t.of('rise')} over the plates",
    )
    yield sheet.drawing("Ridge: plan", says)


def _run(t: DrawnAnswer, side: str, rise: float) -> float:
    """Level run [mm] of the slope over a side up to the ridge."""
    from sitelog.geometry.vectors import tan_deg

    pitch = t.given(f"pitch_{side}") or t.given("pitch")
    return rise / tan_deg(pitch) if pitch else 0.0


# --- shared with other plans --------------------------------------------------------------------------------------


def corners(t: DrawnAnswer, calculator: str) -> dict[str, Point]:
    """The plates' corners [mm] as the calculator itself sees them: A at 0,0, B along x."""
    six = tuple(t.given(name) for name in (*SIDES, *DIAGONALS))
    found, _ = outline(calculator, six, t.given("length"), t.given("width"))
    return dict(zip(CORNERS, found, strict=True))


def plates(sheet: Sheet, at: Corners, sizes: Mapping[str, str]) -> None:
    """The plates with their corners' letters and each side's size outside it."""
    sheet.put(Line(tuple(at[name] for name in CORNERS), "built", closed=True))
    clear = CLEAR * max(hypot(*at["c"]), hypot(*at["b"]))
    for name in CORNERS:
        x, y = at[name]
        mid = centre(at)
        sheet.put(Words((x + (clear if x > mid[0] else -clear), y), name.upper(), "start" if x > mid[0] else "end"))
    for side, size in sizes.items():
        x, y = middle(at[side[0]], at[side[1]])
        dx, dy = at[side[1]][0] - at[side[0]][0], at[side[1]][1] - at[side[0]][1]
        if abs(dx) >= abs(dy):
            sheet.put(Words((x, y), f"{side.upper()} {size}", beside="below" if dx > 0 else "above"))
        else:
            sheet.put(
                Words((x + (clear if dy > 0 else -clear), y), f"{side.upper()}\n{size}", "start" if dy > 0 else "end")
            )


def centre(at: Corners) -> Point:
    return sum(at[name][0] for name in CORNERS) / 4, sum(at[name][1] for name in CORNERS) / 4


def share(start: Point, end: Point, part: float) -> Point:
    return start[0] + (end[0] - start[0]) * part, start[1] + (end[1] - start[1]) * part


def length(at: Corners, side: str) -> float:
    return _far(at[side[0]], at[side[1]])


def _far(one: Point, other: Point) -> float:
    return hypot(other[0] - one[0], other[1] - one[1])


def _xy(t: DrawnAnswer, name: str) -> Point:
    row = t.answer.results[name]
    assert isinstance(row, dict)
    return figure(row, "x"), figure(row, "y")
