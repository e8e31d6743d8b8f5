"""The rafter in section: head, birdsmouth and tail to one scale, the plain length between broken out."""

from collections.abc import Iterator
from dataclasses import dataclass
from math import cos, radians, sin, tan

from sitelog.drawing.model import Drawing, Line, Point, Words
from sitelog.drawing.pen import DrawnAnswer, box
from sitelog.quantities.quantity import show_angle, show_section
from sitelog.quantities.rounding import places

KEPT = 2.4  # depths of rafter shown beyond the birdsmouth and below the head
GAP = 0.5  # depths between the broken ends
PLATE_DEPTH = 75.0  # mm, where nobody says: the plate's depth is not measured here


def common(answer: DrawnAnswer) -> Iterator[Drawing]:
    """The plate's top outer edge at 0,0, the ridge on the right; mm."""
    rafter = _Rafter.of(answer)
    yield Drawing(
        "Common rafter: section, length broken out",
        tuple(_lines(rafter)),
        tuple(_words(rafter, answer)),
        tuple(_says(answer)),
    )


def birdsmouth(answer: DrawnAnswer) -> Iterator[Drawing]:
    """The foot of the rafter on its plate, broken off both ways; the plate's top outer edge at 0,0; mm."""
    slope, depth = radians(answer.taken("pitch")), answer.section().depth
    heel, seat, above = answer.number("heel"), answer.number("seat"), answer.number("height_above_plate")
    plate, reach = answer.taken("plate"), 1.5 * depth

    def end(x: float, *, top: bool) -> Point:
        """On the square end through the measuring line at x."""
        off = depth - answer.number("depth") if top else -answer.number("depth")
        return x - off * sin(slope), x * tan(slope) + off * cos(slope)

    right = max(plate, seat) + reach
    notch = ((0.0, -heel), (0.0, 0.0), (seat, 0.0)) if seat else ((0.0, 0.0),)
    low, high = (end(-reach, top=False), end(-reach, top=True)), (end(right, top=False), end(right, top=True))
    lines = (
        box(0.0, -PLATE_DEPTH, plate, 0.0),
        Line((low[1], low[0], *notch, high[0], high[1], low[1]), "bold"),
        Line(low, "thin"),
        Line(high, "thin"),
        Line(((0.0, 0.0), (0.0, above)), "thin"),
    )
    told = (
        f"birdsmouth {answer.of('depth')} deep\nseat {answer.of('seat')}, heel {answer.of('heel')}\n"
        f"plate {answer.size('plate')}"
    )
    words = (
        Words((plate + 0.2 * depth, -PLATE_DEPTH / 2), told, "start"),
        Words((-0.2 * depth, above + 0.3 * depth), f"{answer.of('height_above_plate')} seat to top", "end"),
        Words((right, high[1][1] + 0.2 * depth), f"pitch {answer.size('pitch')}", "end"),
    )
    says = (
        f"section {show_section(answer.section())}, pitch {answer.size('pitch')}",
        f"birdsmouth {answer.of('depth')} square to the edge, {places(answer.number('fraction'), 2)} of the depth",
        f"seat {answer.of('seat')}, heel {answer.of('heel')},"
        f" seat to top edge {answer.of('height_above_plate')}, plumb",
        f"plate {answer.size('plate')} wide",
    )
    yield Drawing("Birdsmouth on its plate", lines, words, says)


@dataclass(frozen=True)
class _Rafter:
    """What is drawn, mm and degrees; `out` is the length along the slope that is left out between the breaks."""

    pitch: float
    depth: float
    plate: float
    overhang: float
    ridge: float
    run: float
    seat: float
    heel: float  # plumb, underside of the rafter to the measuring line
    above: float  # plumb, measuring line to the top edge
    bird: float
    tail: float
    line: float
    to_ridge: float
    broken_at: float  # along the slope from the plate's edge
    out: float

    @classmethod
    def of(cls, answer: DrawnAnswer) -> "_Rafter":
        def given(name: str) -> float:
            return answer.given(name) or 0.0

        result, depth = answer.number, answer.section().depth
        pitch = result("plumb_cut_from_square")
        seat = result("seat_length")
        broken_at = (max(seat, given("plate")) / cos(radians(pitch))) + KEPT * depth
        out = result("length_to_ridge") - broken_at - (KEPT + GAP) * depth
        return cls(
            pitch=pitch,
            depth=depth,
            plate=given("plate"),
            overhang=given("overhang"),
            ridge=given("ridge"),
            run=given("run"),
            seat=seat,
            heel=result("heel_plumb"),
            above=result("height_above_plate"),
            bird=result("birdsmouth_depth"),
            tail=result("tail_length"),
            line=result("length_on_line"),
            to_ridge=result("length_to_ridge"),
            broken_at=broken_at,
            out=max(out, 0.0),
        )

    @property
    def head_x(self) -> float:
        """Where the plumb cut of the head stands on the sheet."""
        return self.run - self.ridge / 2 - self.out * cos(radians(self.pitch))

    def on_line(self, x: float) -> float:
        """The height of the measuring line on the sheet: shifting the head along it leaves it one line."""
        return x * tan(radians(self.pitch))

    def under(self, x: float) -> Point:
        return x, self.on_line(x) - self.heel

    def top(self, x: float) -> Point:
        return x, self.on_line(x) + self.above

    def square(self, along: float) -> tuple[Point, Point]:
        """The ends of a cut square across the rafter that crosses the measuring line there."""
        slope = radians(self.pitch)
        x, y = along * cos(slope), along * sin(slope)
        below, over = self.bird, self.depth - self.bird
        return (x + below * sin(slope), y - below * cos(slope)), (
            x - over * sin(slope),
            y + over * cos(slope),
        )


def _lines(rafter: _Rafter) -> Iterator[Line]:
    plate = ((0.0, 0.0), (rafter.plate, 0.0), (rafter.plate, -PLATE_DEPTH), (0.0, -PLATE_DEPTH))
    yield Line(plate, "built", closed=True)
    foot = (*_tail(rafter), *_notch(rafter))
    head = (rafter.under(rafter.head_x), rafter.top(rafter.head_x))
    if rafter.out > 0:
        below, over = rafter.square(rafter.broken_at)
        after_below, after_over = rafter.square(rafter.broken_at + GAP * rafter.depth)
        yield Line((over, *foot, below), "bold")
        yield Line((after_below, *head, after_over), "bold")
        yield Line((over, below), "thin")
        yield Line((after_over, after_below), "thin")
    else:
        yield Line((*foot, *head), "bold", closed=True)
    if rafter.ridge > 0:
        left, right = rafter.head_x, rafter.head_x + rafter.ridge
        low, high = head[0][1] - 0.3 * rafter.depth, head[1][1]
        yield Line(((left, low), (left, high), (right, high), (right, low)), "built", closed=True)
    centre = rafter.head_x + rafter.ridge / 2
    yield Line(((0.0, 0.0), (centre, rafter.on_line(centre))), "hidden")  # the measuring line
    yield Line(((0.0, 0.0), rafter.top(0.0)), "thin")


def _tail(rafter: _Rafter) -> tuple[Point, ...]:
    """From the top edge down the tail's plumb cut; a rafter without one ends plumb over the plate's edge."""
    if rafter.overhang > 0:
        return (rafter.top(-rafter.overhang), rafter.under(-rafter.overhang))
    return (rafter.top(0.0),)


def _notch(rafter: _Rafter) -> tuple[Point, ...]:
    """Heel, corner and seat of the birdsmouth, so far as there is one."""
    heel = (rafter.under(0.0),) if rafter.overhang > 0 and rafter.bird > 0 else ()
    return (*heel, (0.0, 0.0), *(((rafter.seat, 0.0),) if rafter.bird > 0 else ()))


def _words(rafter: _Rafter, answer: DrawnAnswer) -> list[Words]:
    mm = answer.mm
    clear = 0.35 * rafter.depth
    slope = radians(rafter.pitch)
    middle = (rafter.broken_at + GAP * rafter.depth / 2) * cos(slope) if rafter.out > 0 else rafter.head_x / 2
    seat = ""
    if rafter.bird > 0:
        seat = f"\nbirdsmouth {mm(rafter.bird)} deep\nseat {mm(rafter.seat)}, heel {mm(rafter.heel)}"
    head, below = rafter.top(rafter.head_x), rafter.under(middle)
    words = [
        Words((head[0] - clear, head[1] + clear), f"plumb cut {show_angle(rafter.pitch)}", "end"),
        Words(
            (below[0] + 1.2 * clear, below[1] - clear / 2),
            f"{mm(rafter.line)} to centre\n{mm(rafter.to_ridge)} to face"
            if rafter.ridge > 0
            else f"{mm(rafter.line)} on line",
            "start",
        ),
        Words((rafter.plate + clear / 2, -PLATE_DEPTH), f"plate {mm(rafter.plate)}{seat}", "start"),
        Words((-clear / 2, rafter.top(0.0)[1] + clear / 2), f"{mm(rafter.above)} seat to top", "end"),
    ]
    if rafter.ridge > 0:
        beside = (rafter.head_x + rafter.ridge + clear / 2, rafter.on_line(rafter.head_x))
        words.append(Words(beside, f"ridge\n{mm(rafter.ridge)}", "start"))
    if rafter.overhang > 0:
        under = (-rafter.overhang, rafter.under(-rafter.overhang)[1] - clear)
        words.append(Words(under, f"tail {mm(rafter.tail)}\nlevel {mm(rafter.overhang)}"))
    return words


def _says(answer: DrawnAnswer) -> Iterator[str]:
    yield f"section {show_section(answer.section())}"
    ridge = answer.given("ridge")
    to_centre = " to centre of ridge" if ridge else ""  # a table has none
    yield f"run {answer.size('run')}, {'' if ridge else 'from the '}plate's outer edge{to_centre}"
    thick = f", ridge {answer.size('ridge')} thick" if ridge else ""
    yield f"plate {answer.size('plate')} wide{thick}"
    if answer.given("overhang"):
        yield f"overhang {answer.size('overhang')}, level"
    for name, says in (
        ("length_on_line", f"length on line{to_centre}"),
        *([("length_to_ridge", "length on line to face of ridge")] if ridge else []),
        ("plumb_cut_from_square", "plumb cut from square"),
        ("seat_cut_from_square", "seat cut from square"),
        ("birdsmouth_depth", "birdsmouth, square to the edge"),
        ("seat_length", "seat"),
        ("heel_plumb", "heel, plumb"),
        ("height_above_plate", "seat to top edge, plumb"),
        ("tail_length", "tail along the line"),
    ):
        if answer.has(name):
            yield f"{says} {answer.of(name)}"
