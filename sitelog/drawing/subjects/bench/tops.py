"""The top of a hip or a valley: backed, dropped or hollowed, in words, and cut square across under both slopes."""

from collections.abc import Iterator
from math import radians, tan

from sitelog.calculators.sticks.inputs import section_of
from sitelog.drawing.model import Drawing, Line, Words
from sitelog.drawing.pen import DrawnAnswer, Sheet
from sitelog.quantities.quantity import Section, show_angle

SIDES = ((1, 1), (2, -1))
SHOWN, UNDER = 4.0, 0.8  # thicknesses of each slope, and of the timber under its top
ALIKE = 0.5  # mm


def top_of(answer: DrawnAnswer) -> Iterator[str]:
    """What is done to its top; nothing of another timber."""
    if not answer.has("backing_1"):
        return
    one, two = (show_angle(answer.number(f"backing_{side}")) for side, _ in SIDES)
    drops = {side: answer.number(f"drop_{side}") for side, _ in SIDES}
    if answer.word("kind") == "valley":
        yield f"left square, slopes are {answer.mm(drops[1])} over arris 1, {answer.mm(drops[2])} over arris 2"
        yield f"to hollow it: {one} on side 1, {two} on side 2"
    elif answer.word("top") == "backed":
        yield f"back it {one} on side 1, {two} on side 2, from the centre"
    else:
        higher = max(drops, key=lambda side: drops[side])
        yield f"dropped {answer.mm(drops[higher])}, plumb: arris {higher} in its slope"
        under = drops[higher] - drops[3 - higher]
        if under > ALIKE:
            yield f"arris {3 - higher} is {answer.mm(under)} under its slope: pack it, or back the hip"


def tops(answer: DrawnAnswer, called: str) -> Iterator[Drawing]:
    """Cut square across, looking up it: its top at the centre at 0,0, side 1 on the left, both slopes as they lie."""
    if answer.has("backing_1"):
        yield _drawn(answer, called)


def _drawn(answer: DrawnAnswer, called: str) -> Drawing:
    given = answer.worked.inputs.get("section")
    thick = section_of(answer.word("kind"), given if isinstance(given, Section) else None).thickness
    backing = {side: answer.number(f"backing_{side}") for side, _ in SIDES}
    half, low, far = thick / 2, -UNDER * thick, SHOWN * thick
    centre, top = _edge(answer, half, backing)
    sheet = Sheet.new()
    sheet.put(Line(((-half, low), (-half, top[1]), (0.0, centre), (half, top[2]), (half, low)), "bold"))
    sheet.put(Line(((-half, low), (half, low)), "hidden"))
    says = [f"{answer.mm(thick)} thick"]
    up = 1 if answer.word("kind") == "valley" else -1
    for side, way in SIDES:
        end = -way * far, up * far * tan(radians(backing[side]))
        words = f"slope {side}: {show_angle(backing[side])}\nfrom square across"
        says.append(words.replace("\n", " "))
        sheet.put(Line(((0.0, 0.0), end), "thin"), Words(end, words, "end" if way > 0 else "start"))
    sheet.put(Words((0.0, (low + centre) / 2), says[0].replace(" ", "\n")))
    return sheet.drawing(f"{called}: its top, cut square across, looking up it", says)


def _edge(answer: DrawnAnswer, half: float, backing: dict[int, float]) -> tuple[float, dict[int, float]]:
    """How high over the line its top is, square to it [mm]: on its centre, and at each face."""
    if answer.word("kind") == "valley":
        return 0.0, dict.fromkeys(backing, 0.0)
    if answer.word("top") == "backed":
        return 0.0, {side: -half * tan(radians(angle)) for side, angle in backing.items()}
    down = -half * tan(radians(max(backing.values())))
    return down, dict.fromkeys(backing, down)
