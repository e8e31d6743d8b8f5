"""How a box or parapet gutter is stepped down to its outlet, and whether it carries the rain."""

from msgspec import Struct

from sitelog.calculators.catalogue import (
    MOST_ROWS,
    Inputs,
    Outcome,
    Output,
    Result,
    Row,
    Verdict,
    Working,
    calculator,
    field,
)
from sitelog.calculators.coverings.coursing import whole
from sitelog.calculators.coverings.sheet_metals import CODE, METAL, THICKNESS, Largest, Least, metal_of
from sitelog.calculators.decks.flat_rule import FALL, flat
from sitelog.calculators.decks.gutter_flow import LONGEST, capacity, flow, left_by_a_bend, water_depth
from sitelog.left_out import given_or
from sitelog.quantities.quantity import show_fall
from sitelog.quantities.rounding import as_typed, as_worked, places
from sitelog.refusal import Refusal

_STAND_IN = 300.0  # mm; a trade page on old gutters
_DRIP = 50  # mm; a lead porch case and a handbook page (read)
_DUST = 1e-9


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


class GutterInputs(Inputs):
    """What `gutter` takes: lengths in mm."""

    length: float = field("length", "level, from head to outlet", over=0)
    fall: float = FALL
    metal: str = METAL
    code: int | None = CODE
    thickness: float | None = THICKNESS
    drip: float | None = field(
        "length", "height of each step; 50 in lead, 65 in copper", default=None, over=0, high=300
    )
    sole: float = field("length", "clear width of the sole", over=0)
    depth: float = field("length", "from the sole up to the lowest upstand, at the head", default=150, over=0)
    roof_area: float | None = field(
        "number", "length x (plan width + half the rise)", default=None, over=0, high=1e5, unit="m2"
    )
    bend: float | None = field("length", "from the outlet to the nearest bend; 0 if none", default=None)
    rainfall: float | None = field(
        "number", "l/s per m2; 0.042 is 150 mm per hour", default=None, over=0, unit="l/s/m2"
    )


@calculator(
    "gutter",
    GutterInputs,
    branch="decks",
    does="Box or parapet gutter: steps, depths and how much it carries",
    results=(
        Output("bays", "", "bays between drips"),
        Output("bay_length", "mm", "length of each bay"),
        Output("drip", "mm", "height of each step"),
        Output("rise", "mm", "rise of the sole, outlet to head"),
        Output("depth_head", "mm", "depth at the head"),
        Output("depth_outlet", "mm", "depth at the outlet"),
        Output(
            "levels",
            "",
            "levels of the sole above the outlet",
            (
                Output("n", "", "drip"),
                Output("at", "mm", "mark, from the outlet"),
                Output("foot", "mm", "foot of drip"),
                Output("top", "mm", "top of drip"),
            ),
        ),
        Output("water_depth", "mm", "design depth of water"),
        Output("capacity", "l/s", "capacity"),
        Output("flow", "l/s", "flow off the roof"),
    ),
    basis="geometry; fall of lead by a handbook page, of copper from memory; capacity by BS EN 12056-3, from memory",
    definition=(
        "The gutter falls one way, to an outlet at its end, under level upstands. So it is shallowest at the "
        "head, and depth is measured there. In levels, 0 is the outlet and the last is the head; neither is a "
        "step. The fall is the finished one. Capacity is for a level gutter as deep as at the head, less the "
        "effect of a bend. Flow is the area, length x (plan width + half the rise), times the rain. Pass or fail "
        "is on the fall. Lead needs at least 1:80. For copper the figure is from memory, so there is no pass or "
        "fail: agree the fall with the coppersmith. If capacity is less than flow, the answer is too close to "
        "call and never OUT, because the formula is from memory. Outlets and overflow are not sized here."
    ),
    example="length=6000 fall=1:80 metal=lead code=7 sole=300 depth=150 roof_area=70 rainfall=0.042",
)
def gutter(given: GutterInputs) -> Outcome:
    """Levels and depths in mm, flows in l/s. Raises Refusal for a depth all freeboard, or rain without a roof."""
    slope = flat("gutter", given.fall)
    sheet = metal_of("gutter", given.metal, given.code, given.thickness)
    largest = sheet.piece("gutter", "gutter", None)
    drip = given_or(given.drip, sheet.drip)
    working = Working()
    steps = _stepped(working, given.length, slope, drip, largest)
    rise = steps.rise
    outlet = working.step("depth_outlet", "depth_head + rise", depth_head=given.depth, rise=rise)
    water = water_depth(working, given.depth)
    carries, sent = (
        capacity(working, given.length, given.sole, water, left_by_a_bend(given.bend)),
        flow(working, given.roof_area, given.rainfall),
    )
    results: dict[str, Result] = {
        "bays": steps.bays,
        "bay_length": steps.bay,
        "drip": drip,
        "rise": rise,
        "depth_head": given.depth,
        "depth_outlet": outlet,
        "levels": steps.levels(),
        "water_depth": water,
    }
    results |= {name: rate for name, rate in (("capacity", carries), ("flow", sent)) if rate is not None}
    return Outcome(
        results,
        working,
        verdict=_verdict(slope, sheet.least, carries, sent),
        notes=(
            *_on_fall(slope, sheet.least),
            *_rain(carries, sent),
            *_sizes(given.sole, drip, sheet.drip, largest),
            _on_bend(given.bend),
            (
                "Outlets and overflow are not sized here: ask the designer. The overflow must carry more than all "
                "outlets together, and discharge where it is seen (NHBC Standards 2024, 7.2.22)"
            ),
        ),
    )


def _stepped(working: Working, length: float, fall: float, drip: float, largest: Largest) -> _Steps:
    working.note("largest_bay", f"{largest.source}, {largest.standing}", largest.length)
    bays = whole(length / largest.length)
    if bays >= MOST_ROWS:
        raise Refusal(f"gutter: length is {as_typed(length)}; that is {bays} bays, and {MOST_ROWS - 1} is the most")
    working.note("bays", "length over the largest bay, rounded up", bays, "")
    bay = working.step("bay_length", "length / bays", length=length, bays=bays)
    steps = _Steps(bays, bay, fall, drip)
    numbers = {"length": length, "fall": fall, "bays": bays, "drip": drip}
    working.step("rise", "length * fall + (bays - 1) * drip", **numbers)
    return steps


def _verdict(fall: float, least: Least, carries: float | None, sent: float | None) -> Verdict | None:
    """On the fall, where its least was read; the capacity is from memory, and only casts doubt."""
    if least.standing == "read" and fall < least.fall - _DUST:
        return "fail"
    if sent is not None and (carries is None or carries < sent):
        return "unsure"
    return "pass" if least.standing == "read" else None


def _on_fall(fall: float, least: Least) -> tuple[str, ...]:
    if least.standing == "memory":
        return (
            f"{show_fall(least.fall)} is the flattest fall we have a figure for ({least.source}), so no pass or fail. "
            f"Agree {show_fall(fall)} with the {least.trade} and note the name",
        )
    if fall < least.fall - _DUST:
        return (
            (f"{show_fall(fall)} is flatter than {show_fall(least.fall)}, the minimum when finished ({least.source})"),
        )
    return ()


def _on_bend(bend: float | None) -> str:
    pages = "one trade page takes off a fifth within 2 m of the outlet, another takes 15 % off for any bend"
    if bend is None:
        return f"No bend is counted: give bend=, or bend=0 if there is none ({pages})"
    if not bend:
        return "No bend is counted"
    return f"Bend {as_typed(bend)} from the outlet: {pages}; the larger is used"


def _rain(carries: float | None, sent: float | None) -> tuple[str, ...]:
    memory = "the formula is from memory of BS EN 12056-3, so ask the designer to confirm it"
    if carries is None:
        return (
            f"The run is over {LONGEST} times the water depth, and there is no figure for that:"
            " add outlets, or ask the designer",
        )
    if sent is None:
        return (f"Capacity is guidance: {memory}",)
    if carries < sent:
        return (
            f"It carries {places(carries, 2)} l/s and {places(sent, 2)} l/s comes: make it wider or deeper, or "
            f"add outlets; {memory}",
        )
    return (f"It carries {places(carries, 2)} l/s and {places(sent, 2)} l/s comes; {memory}",)


def _sizes(sole: float, drip: float, wanted: float, largest: Largest) -> tuple[str, ...]:
    told = []
    if sole < _STAND_IN:
        told.append(f"A sole under {as_typed(_STAND_IN)} is hard to stand in and clear (a trade page on old gutters)")
    if drip < wanted and wanted > _DRIP:
        told.append(f"Drips in copper are {as_typed(wanted)} (CP 143-12:1970, from memory): ask the coppersmith")
    elif drip < wanted:
        told.append(f"Drips are {as_typed(wanted)} in the handbooks, or 40 with an anti-capillary groove (from memory)")
    if largest.standing == "memory":
        told.append(
            f"Bays of at most {as_worked(largest.length)} are from memory of BS 6915's tables: ask the leadworker"
        )
    return tuple(told)
