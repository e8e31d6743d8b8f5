"""How a box or parapet gutter is stepped down to its outlet, and whether it carries the rain."""

from msgspec import Struct

from sitelog.refusal import Refusal
from sitelog.trade.catalogue import MOST_ROWS, Input, Outcome, Output, Result, Row, Verdict, Working, calculator
from sitelog.trade.coursing import whole
from sitelog.trade.flat_rule import FALL, flat, verdict_on, warned
from sitelog.trade.gutter_flow import LONGEST, capacity, flow, water_depth
from sitelog.trade.sheet_metals import METAL_INPUTS, Largest, metal_of

_STAND_IN = 300.0  # mm; a trade page on old gutters
_DRIP = 50  # mm; a lead porch case and a handbook page


class _Steps(Struct, frozen=True):
    """The sole, from its outlet: bays of so many mm at a fall, a drip [mm] between each two."""

    bays: int
    bay: float
    fall: float
    drip: float

    @property
    def rise(self) -> float:
        """Outlet up to head [mm]."""
        return self.bays * self.bay * self.fall + (self.bays - 1) * self.drip

    def levels(self) -> list[Row]:
        """The outlet, each drip and the head; the sole below and above the step."""
        rows: list[Row] = []
        for n in range(self.bays + 1):
            foot = n * self.bay * self.fall + max(n - 1, 0) * self.drip
            step = self.drip if 0 < n < self.bays else 0.0
            rows.append({"n": n, "at": n * self.bay, "foot": foot, "top": foot + step})
        return rows


@calculator(
    "gutter",
    branch="decks",
    does="Steps, depths and capacity of a box or parapet gutter",
    inputs=(
        Input("length", "length", "from head to outlet, level", over=0),
        FALL,
        *METAL_INPUTS,
        Input("drip", "length", "height of each step", default=_DRIP, over=0, high=300),
        Input("sole", "length", "clear width of the sole", over=0),
        Input("depth", "length", "sole to lowest upstand at the head", default=150, over=0),
        Input(
            "roof_area", "number", "length x (plan width + half the rise)", optional=True, over=0, high=1e5, unit="m2"
        ),
        Input("rainfall", "number", "0.042 is 150 mm an hour", optional=True, over=0, unit="l/s/m2"),
    ),
    results=(
        Output("bays", "", "bays between drips"),
        Output("bay_length", "mm", "length of each bay"),
        Output("rise", "mm", "sole, outlet up to head"),
        Output("depth_head", "mm", "depth at the head"),
        Output("depth_outlet", "mm", "depth at the outlet"),
        Output(
            "levels",
            "",
            "levels of the sole over the outlet",
            (
                Output("n", "", "drip"),
                Output("at", "mm", "mark at, from outlet"),
                Output("foot", "mm", "foot of drip"),
                Output("top", "mm", "top of drip"),
            ),
        ),
        Output("water_depth", "mm", "design depth of water"),
        Output("capacity", "l/s", "capacity"),
        Output("flow", "l/s", "flow off the roof"),
    ),
    basis="geometry; fall by BS 6229:2018, at second hand; capacity by BS EN 12056-3, from memory",
    definition=(
        "The gutter falls one way to an outlet at its end under level upstands, so it is shallowest at the head, where"
        " depth is taken. In levels 0 is the outlet and the last one the head, neither a step; the fall is the finished"
        " one. Capacity is that of a level gutter no deeper than at the head; flow is the area, length x (plan width +"
        " half the rise), times the rain. The verdict is on the fall; a capacity under the flow makes it unsure and"
        " never OUT, since the formula is from memory."
    ),
    example="length=6000 fall=1:80 metal=lead code=7 sole=300 depth=150 roof_area=70 rainfall=0.042",
)
def gutter(
    *,
    length: float,
    fall: float,
    metal: str,
    code: int | None,
    thickness: float | None,
    drip: float,
    sole: float,
    depth: float,
    roof_area: float | None,
    rainfall: float | None,
) -> Outcome:
    """Levels and depths in mm, flows in l/s. Raises Refusal for a depth all freeboard, or rain without a roof."""
    slope = flat("gutter", fall)
    largest = metal_of("gutter", metal, code, thickness).piece("gutter", "gutter", None)
    w = Working()
    steps = _stepped(w, length, slope, drip, largest)
    rise = steps.rise
    outlet = w.step("depth_outlet", "depth_head + rise", depth + rise, depth_head=depth, rise=rise)
    water = water_depth(w, depth)
    carries, sent = capacity(w, length, sole, water), flow(w, roof_area, rainfall)
    results: dict[str, Result] = {
        "bays": steps.bays,
        "bay_length": steps.bay,
        "rise": rise,
        "depth_head": depth,
        "depth_outlet": outlet,
        "levels": steps.levels(),
        "water_depth": water,
    }
    results |= {name: rate for name, rate in (("capacity", carries), ("flow", sent)) if rate is not None}
    return Outcome(
        results,
        w,
        verdict=_verdict(slope, carries, sent),
        notes=(
            *warned(slope, "finished"),
            *_rain(carries, sent),
            *_sizes(sole, drip, largest),
            "A bend within 2 m of the outlet takes a fifth off the capacity, within 4 m a tenth (a trade page)",
            "Overflow larger than all outlets together, where it is seen (NHBC Standards 2024, 7.2.22)",
        ),
    )


def _stepped(w: Working, length: float, fall: float, drip: float, largest: Largest) -> _Steps:
    w.note("largest_bay", f"{largest.source}, {largest.standing}", largest.length)
    bays = whole(length / largest.length)
    if bays >= MOST_ROWS:
        raise Refusal(f"gutter: length is {length:g}; that is {bays} bays, at most {MOST_ROWS - 1} are set out")
    w.note("bays", "length over the largest bay, made up to a whole number", bays, "")
    bay = w.step("bay_length", "length / bays", length / bays, length=length, bays=bays)
    steps = _Steps(bays, bay, fall, drip)
    numbers = {"length": length, "fall": fall, "bays": bays, "drip": drip}
    w.step("rise", "length * fall + (bays - 1) * drip", steps.rise, **numbers)
    return steps


def _verdict(fall: float, carries: float | None, sent: float | None) -> Verdict:
    on_fall = verdict_on(fall, "finished")
    if on_fall == "pass" and sent is not None and (carries is None or carries < sent):
        return "unsure"
    return on_fall


def _rain(carries: float | None, sent: float | None) -> tuple[str, ...]:
    memory = "the formula is from memory of BS EN 12056-3, so have the designer confirm it"
    if carries is None:
        return (f"A run of over {LONGEST} water depths has no figure here: more outlets, or the designer's sum",)
    if sent is None:
        return (f"Capacity is guidance: {memory}",)
    if carries < sent:
        return (f"{carries:.1f} l/s is under the {sent:.1f} l/s that comes: wider, deeper, or more outlets; {memory}",)
    return (f"It carries {carries:.1f} l/s of the {sent:.1f} l/s that comes; {memory}",)


def _sizes(sole: float, drip: float, largest: Largest) -> tuple[str, ...]:
    told = []
    if sole < _STAND_IN:
        told.append(f"A sole under {_STAND_IN:g} is hard to stand in and to clear (a trade page on old gutters)")
    if drip < _DRIP:
        told.append(f"Drips are {_DRIP:g} in the books; 40 with a groove that stops water climbing (from memory)")
    if largest.standing == "memory":
        told.append(f"Bays of {largest.length:.0f} at most are from memory of BS 6915's tables: ask the leadworker")
    return tuple(told)
