"""The common rafter in section: head, birdsmouth and tail to one scale, with the plain length between broken out."""

from collections.abc import Iterator
from dataclasses import dataclass
from math import cos, radians, sin, tan

from sitelog.handover.lines import Drawing, Line, Point, Words
from sitelog.job.views import State
from sitelog.quantity import Section, show_angle, show_length, show_section
from sitelog.refusal import Refusal
from sitelog.trade import index
from sitelog.trade.catalogue import Answer, Value

FACTS = {  # inputs of the calculator `common`, and the facts of a part that they are
    "run": "run",
    "pitch": "pitch",
    "section": "section",
    "ridge": "ridge_thickness",
    "plate": "plate_width",
    "overhang": "overhang",
    "birdsmouth": "birdsmouth",
}
KEPT = 2.4  # depths of rafter shown beyond the birdsmouth and below the head
GAP = 0.5  # depths between the broken ends
PLATE_DEPTH = 75.0  # mm, where nobody says: the plate's depth is not measured here


def rafter_section(state: State, part: str) -> Drawing | None:
    """The common rafter [mm], the plate's top outer edge at 0,0, the ridge on the right.

    Sizes are the calculator's, from the facts as they stand. None where they are missing or it refuses.
    """
    answer = _answer(state, part)
    if answer is None:
        return None
    rafter = _Rafter.of(answer)
    title = next((p.title for p in state.parts if p.id == part), part)
    return Drawing(
        f"{title}: common rafter, length broken out",
        tuple(_lines(rafter)),
        tuple(_words(rafter, state)),
        tuple(_says(answer, state)),
    )


def _answer(state: State, part: str) -> Answer | None:
    """What the part's own check of the common rafter gives, else the same sum from the facts."""
    for view in state.checks():
        if view.part == part and view.check.calculator == "common" and view.answer is not None:
            return view.answer
    facts = {name: state.facts.get(f"{part}.{fact}") for name, fact in FACTS.items()}
    given: dict[str, Value] = {name: fact.now for name, fact in facts.items() if fact and fact.now is not None}
    try:
        return index.find("common")(**given) if {"run", "pitch"} <= given.keys() else None
    except Refusal:
        return None


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
    def of(cls, answer: Answer) -> "_Rafter":
        def result(name: str) -> float:
            value = answer.results[name]
            return float(value) if isinstance(value, (int, float)) else 0.0

        def given(name: str) -> float:
            value = answer.inputs.get(name)
            return float(value) if isinstance(value, (int, float)) else 0.0

        section = answer.inputs["section"]
        depth = section.depth if isinstance(section, Section) else 0.0
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


def _lines(r: _Rafter) -> Iterator[Line]:
    plate = ((0.0, 0.0), (r.plate, 0.0), (r.plate, -PLATE_DEPTH), (0.0, -PLATE_DEPTH))
    yield Line(plate, "built", closed=True)
    foot = (*_tail(r), *_notch(r))
    head = (r.under(r.head_x), r.top(r.head_x))
    if r.out > 0:
        below, over = r.square(r.broken_at)
        after_below, after_over = r.square(r.broken_at + GAP * r.depth)
        yield Line((over, *foot, below), "bold")
        yield Line((after_below, *head, after_over), "bold")
        yield Line((over, below), "thin")
        yield Line((after_over, after_below), "thin")
    else:
        yield Line((*foot, *head), "bold", closed=True)
    if r.ridge > 0:
        left, right = r.head_x, r.head_x + r.ridge
        low, high = head[0][1] - 0.3 * r.depth, head[1][1]
        yield Line(((left, low), (left, high), (right, high), (right, low)), "built", closed=True)
    centre = r.head_x + r.ridge / 2
    yield Line(((0.0, 0.0), (centre, r.on_line(centre))), "hidden")  # the measuring line
    yield Line(((0.0, 0.0), r.top(0.0)), "thin")


def _tail(r: _Rafter) -> tuple[Point, ...]:
    """From the top edge down the tail's plumb cut; a rafter without one ends plumb over the plate's edge."""
    return (r.top(-r.overhang), r.under(-r.overhang)) if r.overhang > 0 else (r.top(0.0),)


def _notch(r: _Rafter) -> tuple[Point, ...]:
    """Heel, corner and seat of the birdsmouth, so far as there is one."""
    heel = (r.under(0.0),) if r.overhang > 0 and r.bird > 0 else ()
    return (*heel, (0.0, 0.0), *(((r.seat, 0.0),) if r.bird > 0 else ()))


def _words(r: _Rafter, state: State) -> list[Words]:
    def mm(value: float) -> str:
        return show_length(value, state.units)

    clear = 0.35 * r.depth
    slope = radians(r.pitch)
    middle = (r.broken_at + GAP * r.depth / 2) * cos(slope) if r.out > 0 else r.head_x / 2
    seat = f"\nbirdsmouth {mm(r.bird)} deep\nseat {mm(r.seat)}, heel {mm(r.heel)}" if r.bird > 0 else ""
    head, below = r.top(r.head_x), r.under(middle)
    words = [
        Words((head[0] - clear, head[1] + clear), f"plumb cut {show_angle(r.pitch)}", "end"),
        Words(
            (below[0] + 1.2 * clear, below[1] - clear / 2),
            f"{mm(r.line)} to centre\n{mm(r.to_ridge)} to face",
            "start",
        ),
        Words((r.plate + clear / 2, -PLATE_DEPTH), f"plate {mm(r.plate)}{seat}", "start"),
        Words((-clear / 2, r.top(0.0)[1] + clear / 2), f"{mm(r.above)} seat to top", "end"),
    ]
    if r.ridge > 0:
        beside = (r.head_x + r.ridge + clear / 2, r.on_line(r.head_x))
        words.append(Words(beside, f"ridge\n{mm(r.ridge)}", "start"))
    if r.overhang > 0:
        under = (-r.overhang, r.under(-r.overhang)[1] - clear)
        words.append(Words(under, f"tail {mm(r.tail)}\nlevel {mm(r.overhang)}"))
    return words


def _says(answer: Answer, state: State) -> list[str]:
    section = answer.inputs["section"]
    said = [f"section {show_section(section)}"] if isinstance(section, Section) else []
    run = answer.inputs["run"]
    if isinstance(run, (int, float)):
        said.append(f"run {show_length(run, state.units)}, plate's outer edge to centre of ridge")
    for name, says in (
        ("length_on_line", "length on line to centre of ridge"),
        ("length_to_ridge", "length on line to face of ridge"),
        ("plumb_cut_from_square", "plumb cut from square"),
        ("seat_cut_from_square", "seat cut from square"),
        ("birdsmouth_depth", "birdsmouth, square to the edge"),
        ("seat_length", "seat"),
        ("heel_plumb", "heel, plumb"),
        ("height_above_plate", "seat to top edge, plumb"),
        ("tail_length", "tail along the line"),
    ):
        value = answer.results.get(name)
        if isinstance(value, (int, float)):
            told = show_angle(value) if answer.units[name] == "deg" else show_length(value, state.units)
            said.append(f"{says} {told}")
    return said
