"""The birdsmouth that sits a rafter on its plate, and the third of the depth it may take."""

from msgspec import Struct

from sitelog.quantity import Section
from sitelog.refusal import Refusal
from sitelog.trade.catalogue import Input, Outcome, Output, Verdict, Working, calculator
from sitelog.trade.geometry import cos_deg, sin_deg
from sitelog.trade.stick import RAFTER

DEEPEST = 1 / 3  # of the rafter's depth, for a rafter tied at the eaves
NOTCH_SOURCE = "deepest birdsmouth a third of the depth: LABC guidance after the TRADA span tables"
PLATE = Input("plate", "length", "width of the wall plate", default=100, over=0)


class Birdsmouth(Struct, frozen=True):
    """A birdsmouth, mm. `fraction` is its depth over the rafter's; `pitch` is in degrees."""

    depth: float
    seat: float
    heel: float
    height_above_plate: float
    fraction: float
    pitch: float

    @property
    def verdict(self) -> Verdict:
        return "pass" if self.fraction <= DEEPEST + 1e-9 else "fail"

    @property
    def cautions(self) -> tuple[str, ...]:
        return ("notch-engineer",) if self.verdict == "fail" else ()

    def notes(self, plate: float) -> tuple[str, ...]:
        said = []
        if self.verdict == "fail":
            said.append(
                f"the birdsmouth takes {self.fraction:.1%} of the depth, over a third: ask the engineer before you cut"
            )
        if self.depth == 0:
            said.append("no birdsmouth: the measuring line is the underside of the rafter, on the plate's edge")
        if self.seat > plate + 1e-9:
            said.append(
                f"the seat runs {self.seat - plate:.0f} mm past the inside of the plate; a birdsmouth"
                f" {plate * sin_deg(self.pitch):.0f} mm deep would cover the plate"
            )
        return tuple(said)


def cut_birdsmouth(w: Working, name: str, section: Section, pitch: float, depth: float) -> Birdsmouth:
    """The birdsmouth `depth` mm deep, square to the edge; Refusal if it takes the whole rafter or more."""
    if depth >= section.depth - 1e-9:
        raise Refusal(
            f"{name}: a birdsmouth {depth:.1f} mm deep goes through a rafter {section.depth:g} deep;"
            f" a third is {section.depth / 3:.1f}"
        )
    seat = w.step("seat", "birdsmouth_depth / sin(pitch)", depth / sin_deg(pitch), birdsmouth_depth=depth, pitch=pitch)
    heel = w.step("heel", "birdsmouth_depth / cos(pitch)", depth / cos_deg(pitch), birdsmouth_depth=depth, pitch=pitch)
    above = w.step(
        "height_above_plate",
        "(depth - birdsmouth_depth) / cos(pitch)",
        (section.depth - depth) / cos_deg(pitch),
        depth=section.depth,
        birdsmouth_depth=depth,
        pitch=pitch,
    )
    return Birdsmouth(depth, seat, heel, above, depth / section.depth, pitch)


@calculator(
    "birdsmouth",
    branch="rafters",
    does="A birdsmouth: depth, seat and heel against the one-third limit",
    inputs=(
        Input("section", "section", "thickness x depth of the rafter", default=RAFTER),
        Input("pitch", "pitch", "slope of the rafter to level"),
        PLATE,
        Input("fraction", "fraction", "depth as a share of the rafter's; 1/3 if left out", optional=True),
        Input("seat", "length", "level seat wanted, instead of the fraction", optional=True, over=0),
    ),
    results=(
        Output("depth", "mm", "Depth, square to the edge"),
        Output("seat", "mm", "Level seat"),
        Output("heel", "mm", "Plumb face"),
        Output("height_above_plate", "mm", "Seat to top edge, plumb"),
        Output("fraction", "", "Share of the rafter's depth"),
    ),
    basis=f"geometry; {NOTCH_SOURCE}",
    definition=(
        "Depth is square to the rafter's edge, from the underside to the corner of the birdsmouth; the seat"
        " is level from that corner, the heel plumb. A third of the depth is the most for a rafter that a"
        " ceiling tie holds at the eaves (LABC guidance after the TRADA span tables); over that, the"
        " engineer is asked."
    ),
    example="section=47x150 pitch=35 plate=100",
)
def birdsmouth(*, section: Section, pitch: float, plate: float, fraction: float | None, seat: float | None) -> Outcome:
    if fraction is not None and seat is not None:
        raise Refusal("birdsmouth: give either the fraction or the seat, not both")
    w = Working()
    if seat is None:
        share = DEEPEST if fraction is None else fraction
        deep = w.step(
            "birdsmouth_depth", "fraction * depth", share * section.depth, fraction=share, depth=section.depth
        )
    else:
        deep = w.step("birdsmouth_depth", "seat * sin(pitch)", seat * sin_deg(pitch), seat=seat, pitch=pitch)
    notch = cut_birdsmouth(w, "birdsmouth", section, pitch, deep)
    share = w.step(
        "fraction", "birdsmouth_depth / depth", notch.fraction, "", birdsmouth_depth=deep, depth=section.depth
    )
    return Outcome(
        {
            "depth": notch.depth,
            "seat": notch.seat,
            "heel": notch.heel,
            "height_above_plate": notch.height_above_plate,
            "fraction": share,
        },
        w,
        verdict=notch.verdict,
        cautions=notch.cautions,
        notes=notch.notes(plate),
    )
