"""A hip's foot on plan, cut to a V or on a clipped corner; from the side; and the dummies with their strings."""

from collections.abc import Iterator
from math import cos, radians, sin, tan

from sitelog.drawing.model import Drawing, Line, Point, Words
from sitelog.drawing.pen import DrawnAnswer, Sheet, across, upright
from sitelog.quantities.quantity import show_angle

BEHIND = 2.0  # thicknesses of hip shown up from its foot
ON = 1.5  # of the way to the last mark: how far a plate is shown
SIDES = ((1, 1), (2, -1))  # side 1 above, side 2 below: as somebody outside has them on the left and on the right
LEFT = "side 1 is on the left from outside"


def hip_foot(answer: DrawnAnswer) -> Iterator[Drawing]:
    """The V, the clip, the side where heights are known, and the strings where dummies are."""
    yield _cut_to_a_v(answer)
    yield _clipped(answer)
    if answer.has("height_at_corner"):
        yield _side(answer)
    if answer.has("dummy_run_2"):
        yield _strings(answer)


def _thick(answer: DrawnAnswer) -> float:
    return answer.given("thickness") or 0.0


def _along_plate(answer: DrawnAnswer, side: int, way: int, by: float) -> Point:
    """A point so far along a plate [mm] from the corner at 0,0; the hip runs up along x."""
    angle = radians(answer.number(f"plan_angle_{side}"))
    return by * cos(angle), way * by * sin(angle)


def _cut_to_a_v(answer: DrawnAnswer) -> Drawing:
    """On plan, the corner at 0,0."""
    half = _thick(answer) / 2
    back = {side: answer.number(f"v_back_{side}") for side, _ in SIDES}
    end = max(back.values()) + BEHIND * 2 * half
    sheet = Sheet.new()
    sheet.put(Line(((end, half), (back[1], half), (0.0, 0.0), (back[2], -half), (end, -half)), "bold"))
    sheet.put(Line(((0.0, 0.0), (end, 0.0)), "hidden"))
    says = [LEFT, f"hip {answer.mm(2 * half)} thick, pitch {answer.of('hip_pitch')}"]
    for side, way in SIDES:
        angle = radians(answer.number(f"plan_angle_{side}"))
        far = _along_plate(answer, side, way, max(back.values()) / cos(angle) * ON)
        sheet.put(Line(((0.0, 0.0), far), "built"))
        told = (
            f"side {side}: plan {answer.of(f'plan_angle_{side}')}",
            f"arris {answer.of(f'v_back_along_{side}')} up the hip,\n{answer.of(f'v_back_{side}')} level",
            f"bevel {show_angle(answer.number(f'bevel_{side}_from_square'))},"
            f" tilt {show_angle(answer.number(f'saw_tilt_{side}'))}",
        )
        says += [row.replace("\n", " ") for row in told]
        sheet.put(Words(far, "\n".join(told), "start", beside="above" if way > 0 else "below"))
    sheet.put(Words((end + half * 0.3, 0.0), f"hip {answer.mm(2 * half)}\nthick", "start"))
    return sheet.drawing("Hip foot: cut to a V along both plates, on plan; angles from square", says)


def _clipped(answer: DrawnAnswer) -> Drawing:
    """On plan, the corner at 0,0, cut off square to the hip."""
    half, back = _thick(answer) / 2, answer.number("clip_back")
    end = back + BEHIND * 2 * half
    marks = {side: answer.number(f"clip_mark_{side}") for side, _ in SIDES}
    ends = {side: _along_plate(answer, side, way, marks[side]) for side, way in SIDES}
    sheet = Sheet.new()
    sheet.put(Line(((end, half), (back, half), (back, -half), (end, -half)), "bold", closed=True))
    sheet.put(Line((ends[1], ends[2]), "bold"))
    says = [LEFT, f"hip {answer.mm(2 * half)} thick"]
    for side, way in SIDES:
        x, y = ends[side]
        sheet.put(Line(((0.0, 0.0), (x, y)), "hidden"), Line(((x, y), (x * ON, y * ON)), "built"))
        words = f"side {side}: mark {answer.of(f'clip_mark_{side}')}\nfrom the corner"
        says.append(words.replace("\n", " "))
        sheet.put(Words((x * ON, y * ON), words, "end", beside="above" if way > 0 else "below"))
    cut = f"cut {answer.of('clip_back')} back, level"
    told = f"{cut},\n{answer.of('clip_along')} along the hip,\n{answer.of('clip_width')} wide"
    says.append(told.replace("\n", " "))
    sheet.put(Words((end + half * 0.3, 0.0), told, "start"))
    return sheet.drawing("Hip foot: corner clipped square to the hip, or a block across it, on plan", says)


def _side(answer: DrawnAnswer) -> Drawing:
    """From the side, on the hip's centre: x level up the hip from the corner, y over the plate; its top alone."""
    corner, clip = answer.number("height_at_corner"), answer.number("height_at_clip")
    back, tail, slope = answer.number("clip_back"), answer.number("tail_run"), tan(radians(answer.number("hip_pitch")))
    start, end = -max(tail, back * 2), max(back * 4, tail)
    tick = (end - start) * 0.012
    sheet = Sheet.new()
    sheet.put(Line(((start, corner + start * slope), (end, corner + end * slope)), "bold"))
    sheet.put(Line(((0.0, 0.0), (end, 0.0)), "built"))
    at_corner, at_clip = f"{answer.of('height_at_corner')} at the corner", f"{answer.of('height_at_clip')} at the clip"
    sheet.put(upright(0.0, 0.0, corner, at_corner, tick=tick, anchor="end"))
    sheet.put(upright(back, 0.0, clip, at_clip, tick=tick, anchor="start"))
    says = [f"seat to top {at_corner}, {at_clip}, {answer.of('clip_back')} further up, level"]
    if tail:
        told = f"tail {answer.of('tail_run')}"
        sheet.put(across(-tail, 0.0, -corner * 0.3, told, tick=tick, beside="below"))
        says.append(f"{told} level, {answer.of('tail_along')} along; side 2's overhang {answer.of('overhang_2')}")
        sheet.put(Words((end, -corner * 0.3), f"overhang of side 2: {answer.of('overhang_2')}", "end", beside="below"))
    return sheet.drawing("Hip foot: top of a dropped hip from the side, on its centre", says)


def _strings(answer: DrawnAnswer) -> Drawing:
    """On plan: each side's nearest dummy from its plate in to its head, the strings over the heads, and the hip."""
    half, cross = _thick(answer) / 2, answer.number("string_cross_run")
    sheet = Sheet.new()
    sheet.put(Line(((0.0, half), (cross * 1.15, half)), "bold"), Line(((0.0, -half), (cross * 1.15, -half)), "bold"))
    runs = {1: answer.given("dummy_run") or 0.0, 2: answer.number("dummy_run_2")}
    says = [LEFT]
    for side, way in SIDES:
        near, run = answer.number(f"dummy_nearest_{side}"), runs[side]
        foot, far = (_along_plate(answer, side, way, by) for by in (near, near * 1.3))
        into = _in_from(answer, side, way, run)
        head = foot[0] + into[0], foot[1] + into[1]
        sheet.put(Line(((0.0, 0.0), far), "built"), Line((foot, head), "bold"))
        sheet.put(Line(((far[0] + into[0], far[1] + into[1]), (cross, 0.0)), "thin"))
        told = [
            f"side {side}: dummy {answer.of(f'dummy_length_{side}')} long",
            f"run {answer.mm(run)}, at least {answer.of(f'dummy_nearest_{side}')}\nfrom the corner",
        ]
        if answer.has(f"dummy_seat_{side}"):
            told.insert(1, f"seat {answer.of(f'dummy_seat_{side}')}")
        says += [row.replace("\n", " ") for row in told]
        sheet.put(Words(far, "\n".join(told), "end", beside="above" if way > 0 else "below"))
    over = f"strings cross at {answer.of('string_cross_run')} level,\n{answer.of('string_cross_length')} along the hip"
    if answer.has("string_height"):
        over = f"{over},\n{answer.of('string_height')} over the plate"
    says.append(over.replace("\n", " "))
    sheet.put(Words((cross * 1.17, 0.0), over, "start"))
    return sheet.drawing("Hip foot: dummies and strings, on plan", says)


def _in_from(answer: DrawnAnswer, side: int, way: int, run: float) -> Point:
    """So far in from a plate, level and square to it [mm]."""
    angle = radians(answer.number(f"plan_angle_{side}"))
    return run * sin(angle), -way * run * cos(angle)
