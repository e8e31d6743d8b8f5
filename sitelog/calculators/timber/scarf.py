"""The hooked and wedged scarf: one timber made of two, each half the other turned end for end."""

from msgspec import Struct

from sitelog.calculators.catalogue import Inputs, Outcome, Output, Row, Working, calculator, field
from sitelog.calculators.outline import outline_output, outline_rows
from sitelog.geometry.vectors import cos_deg, sin_deg, tan_deg
from sitelog.quantities.rounding import as_typed, as_worked
from sitelog.refusal import Refusal

RATIO, NIB, HOOK = 3.0, 1 / 4, 1 / 8  # x depth; common practice over a support, nib and hook from memory
TAPER, DRIVE, COVER = 1 / 12, 40.0, 20.0  # of a wedge; mm to drive it by; mm from a screw's tip to the far edge
ORDER = (
    "Square a line on both timbers. Cut the first, pin it over the second, string or sight both in line, and scribe",
    "Cut on the fat side of the line, off it by less than half the saw's width",
    "Drive the wedges from both sides in turn, then the screws (common practice)",
)
# Notes on Building Construction, Part I (title from memory), and Chambers's Encyclopaedia, Carpentry, both read: old.
OLD_PRINT = "an old book gives 12 times the depth in softwood, 6 bolted, 4 bolted and indented"
Point = tuple[float, float]


class Scarf(Struct, frozen=True):
    """One half, mm and degrees: x along the timber from its shoulder, y up from its bottom edge.

    The splay falls from under the shoulder's nib to the nib at the nose. At its middle it steps up by the hook, which
    stands the wedge's gap past the other half's.
    """

    depth: float
    length: float
    nib: float
    hook: float
    wedge: float
    splay: float

    @property
    def _along(self) -> float:
        """From nib to nib along the splay: a right angle to the hook."""
        return self.length * cos_deg(self.splay) + (self.depth - 2 * self.nib) * sin_deg(self.splay)

    @property
    def bearing(self) -> float:
        """Along the splay, how far the halves bear on either side of the wedge."""
        return (self._along - self.wedge) / 2

    @property
    def depth_left(self) -> float:
        """Under the foot of the hook, where the half is weakest before its shoulder."""
        return self.on_upper(self.bearing + self.wedge)[1]

    def on_upper(self, along: float) -> Point:
        """A point of the splay, so far along it from under the shoulder."""
        return (along * cos_deg(self.splay), self.depth - self.nib - along * sin_deg(self.splay))

    def turned(self, point: Point) -> Point:
        """The same place of the other half: end for end, with what was the top edge below."""
        return (self.length - point[0], self.depth - point[1])

    @property
    def outline(self) -> tuple[Point, ...]:
        """Round the half, anticlockwise, from the bottom under the shoulder; the timber goes on behind x = 0."""
        return (
            (0.0, 0.0),
            (self.length, 0.0),
            (self.length, self.nib),
            self.turned(self.on_upper(self.bearing)),
            self.on_upper(self.bearing + self.wedge),
            (0.0, self.depth - self.nib),
            (0.0, self.depth),
        )

    @property
    def crossings(self) -> list[Point]:
        """Where the screws cross the splay, from the shoulder on: at the thirds of each half of it."""
        first = [self.on_upper(self.bearing * part) for part in (1 / 3, 2 / 3)]
        return [*first, *(self.turned(point) for point in reversed(first))]

    @property
    def positions(self) -> list[Row]:
        """Where the pair of wedges goes through, and where each screw crosses the splay."""
        screws = [(f"screw {n}", at) for n, at in enumerate(self.crossings, 1)]
        named = [("wedge", (self.length / 2, self.depth / 2)), *screws]
        return [{"point": name, "x": x, "y": y} for name, (x, y) in named]

    def screws(self, lean: float, cover: float) -> list[Row]:
        """Each screw, leaning so far from square to the edge [deg], its tip so far from the other edge [mm].

        The first two go in from the top and the last two from the bottom: through the thin part into the thick.
        """
        rows: list[Row] = []
        for n, (x, y) in enumerate(self.crossings, 1):
            top = n <= 2
            thin, thick = (self.depth - y, y) if top else (y, self.depth - y)
            through, into = thin / cos_deg(lean), (thick - cover) / cos_deg(lean)
            rows.append(
                {
                    "n": n,
                    "edge": "top" if top else "bottom",
                    "x": x,
                    "y": y,
                    "start_x": x + thin * tan_deg(lean) * (1 if top else -1),
                    "through": through,
                    "into": into,
                    "length": through + into,
                    "from_square": lean,
                }
            )
        return rows


SCREWS = (
    Output("n", "", "Screw"),
    Output("edge", "", "From the edge"),
    Output("x", "mm", "Crosses the splay at"),
    Output("y", "mm", "Up from the bottom"),
    Output("start_x", "mm", "Starts at"),
    Output("through", "mm", "Through"),
    Output("into", "mm", "Into"),
    Output("length", "mm", "Length"),
    Output("from_square", "deg", "Lean, from square"),
)


class ScarfInputs(Inputs):
    """What `scarf` takes: lengths in mm."""

    depth: float = field("length", "depth of the timber, on the face where the joint shows", over=0, high=1000)
    ratio: float = field(
        "number", "length over depth: 3 over a support; an old book 12, bolted 6", default=RATIO, low=2, high=10
    )
    wedge: float = field("length", "gap for the pair of wedges, along the splay", default=20, over=0)
    nib: float = field("share", "square end, as a share of the depth or in mm", default=NIB, over=0)
    hook: float = field("fraction", "step of the splay, as a fraction of the depth", default=HOOK, over=0)
    thickness: float = field(
        "length", "thickness of the timber, which the wedges are driven across", default=47, over=0
    )
    taper: float = field("fall", "taper of a wedge: 1:12 is common practice", default=TAPER, over=0)
    drive: float = field("length", "length of a wedge left out to drive, then saw off", default=DRIVE)
    screw: str = field(
        "choice", "are the screws square to the edge, or to the splay?", default="edge", choices=("edge", "splay")
    )
    cover: float = field("length", "how far a screw's tip is from the far edge", default=COVER)


@calculator(
    "scarf",
    ScarfInputs,
    branch="rafters",
    does="A wedged scarf to join two timbers: length, outline, wedge, screws",
    results=(
        Output("joint_length", "mm", "Length of the joint"),
        Output("wedge", "mm", "Gap for the wedges, along"),
        Output("hook", "mm", "Gap for the wedges, across"),
        Output("nib", "mm", "Square nib at each end"),
        Output("splay_from_edge", "deg", "Splay, from the timber's edge"),
        Output("depth_left", "mm", "Timber left at the hook"),
        Output("wedge_thin", "mm", "Wedge at its tip"),
        Output("wedge_at_face", "mm", "Wedge at the timber's face"),
        Output("wedge_thick", "mm", "Wedge at its head"),
        Output("wedge_length", "mm", "Length of a wedge"),
        outline_output("Outline of one half, points in order", "From the shoulder", "Up from the bottom"),
        Output(
            "positions",
            "",
            "Wedge and screws",
            (
                Output("point", "", "What"),
                Output("x", "mm", "From the shoulder"),
                Output("y", "mm", "Up from the bottom"),
            ),
        ),
        Output("screws", "", "Screws", SCREWS),
    ),
    basis=f"common practice over a support: three times the depth; {OLD_PRINT}; nib and hook from memory",
    definition=(
        "Both halves are the same shape, one turned end for end with its top edge down. x is along the timber "
        "from the shoulder to the nose, y is up from the bottom edge. The splay falls from nib to nib. Half way "
        "it steps up square by the hook, and between the two hooks is the gap for a pair of folding wedges. "
        "Drive the wedges and both shoulders pull tight. They go across the timber's thickness, one from each side, "
        "and driven home each tip is flush with the far face. A screw goes through the thin part into the thick, its "
        "head in the edge it starts from, and is marked where it crosses the splay. This only "
        "sets out the joint: the engineer says what it can carry."
    ),
    example="depth=220",
)
def scarf(given: ScarfInputs) -> Outcome:
    """Lengths and places in mm, the splay in degrees. Refusal where nibs, hook and wedge leave too little timber."""
    working = Working()
    half = _half(working, given)
    left = working.step(
        "depth_left",
        "depth / 2 - hook / 2 * cos(splay_from_edge) - wedge / 2 * sin(splay_from_edge)",
        depth=given.depth,
        hook=half.hook,
        wedge=given.wedge,
        splay_from_edge=half.splay,
    )
    if given.wedge > half.bearing:
        raise Refusal(
            f"scarf: a gap of {as_typed(given.wedge)} is longer than the bearing either side of it, "
            f"{as_worked(half.bearing)}; give a smaller wedge"
        )
    if left < half.nib:
        raise Refusal(
            f"scarf: a gap of {as_typed(given.wedge)} by {as_worked(half.hook)} leaves less of the "
            f"{as_typed(given.depth)} timber than its nib of {as_worked(half.nib)}; give a smaller wedge or hook"
        )
    return Outcome(
        {
            "joint_length": half.length,
            "wedge": given.wedge,
            "hook": half.hook,
            "nib": half.nib,
            "splay_from_edge": half.splay,
            "depth_left": left,
            **_wedges(working, given),
            "outline": outline_rows(half.outline),
            "positions": half.positions,
            "screws": _screws(half, given),
        },
        working,
        cautions=("joint-engineer",),
        notes=_notes(given.ratio, half.length),
    )


def _half(working: Working, given: ScarfInputs) -> Scarf:
    depth = given.depth
    length = working.step("joint_length", "ratio * depth", ratio=given.ratio, depth=depth)
    nib = _nib(working, given)
    hook = working.step("hook", "share * depth", share=given.hook, depth=depth)
    numbers = {"depth": depth, "nib": nib, "joint_length": length, "hook": hook}
    splay = working.step(
        "splay_from_edge",
        "atan2(depth - 2 * nib, joint_length) + asin(hook / hypot(depth - 2 * nib, joint_length))",
        "deg",
        **numbers,
    )
    return Scarf(depth, length, nib, hook, given.wedge, splay)


def _nib(working: Working, given: ScarfInputs) -> float:
    """The square end [mm]; Refusal where two of them and the hook leave no splay."""
    depth, nib = given.depth, given.nib
    share = nib if nib < 1 else nib / depth
    if share >= 0.5:
        most = "0.5" if nib < 1 else f"half the depth, {as_typed(depth / 2)}"
        raise Refusal(f"scarf: nib is {as_typed(nib)}; it must be under {most}")
    if 2 * share + given.hook >= 1:
        of = "" if nib < 1 else " mm"
        raise Refusal(
            f"scarf: two nibs of {as_typed(nib)}{of} and a hook of {as_typed(given.hook)} of the depth leave no room "
            "for the splay. Together they must be under the whole depth"
        )
    if nib < 1:
        return working.step("nib", "share * depth", share=nib, depth=depth)
    return working.note("nib", "as given, in mm", nib)


def _wedges(working: Working, given: ScarfInputs) -> dict[str, float]:
    """A wedge at its tip, at the face it is driven from and at its head, and its length [mm]; Refusal for no tip."""
    across = given.taper * given.thickness
    if given.wedge <= across:
        raise Refusal(
            f"scarf: wedge is {as_typed(given.wedge)}; it must be over {as_worked(across)}, what a wedge tapers across "
            f"the timber, or it comes to a point. Give a larger wedge= or a flatter taper="
        )
    numbers = {"taper": given.taper, "thickness": given.thickness}
    thin = working.step("wedge_thin", "(wedge - taper * thickness) / 2", wedge=given.wedge, **numbers)
    face = working.step("wedge_at_face", "wedge_thin + taper * thickness", wedge_thin=thin, **numbers)
    long = working.step("wedge_length", "thickness + drive", thickness=given.thickness, drive=given.drive)
    thick = working.step(
        "wedge_thick", "wedge_thin + taper * wedge_length", wedge_thin=thin, taper=given.taper, wedge_length=long
    )
    return {"wedge_thin": thin, "wedge_at_face": face, "wedge_thick": thick, "wedge_length": long}


def _screws(half: Scarf, given: ScarfInputs) -> list[Row]:
    """The rows of SCREWS; Refusal where the cover leaves a screw nothing to hold in."""
    rows = half.screws(half.splay if given.screw == "splay" else 0.0, given.cover)
    if any(float(row["into"] or 0.0) <= 0 for row in rows):
        raise Refusal(f"scarf: cover is {as_typed(given.cover)}; that leaves a screw nothing to hold in. Give less")
    return rows


def _notes(ratio: float, length: float) -> tuple[str, ...]:
    said = [
        f"the two timbers together must be {as_worked(length)} mm longer than the finished one",
        f"three times the depth is common practice for a joint over a support; {OLD_PRINT}",
        (
            "put it over a support (common practice). Screws and wedges only hold it shut: the engineer says what it "
            "can carry"
        ),
    ]
    said += ORDER
    if ratio < RATIO:
        said.insert(0, f"shorter than {as_typed(RATIO)} times the depth, which is common practice")
    return tuple(said)
