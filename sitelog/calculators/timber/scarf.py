"""The hooked and wedged scarf: one timber made of two, each half the other turned end for end."""

from msgspec import Struct

from sitelog.calculators.catalogue import Inputs, Outcome, Output, Row, Working, calculator, field
from sitelog.calculators.outline import outline_output, outline_rows
from sitelog.geometry.vectors import cos_deg, sin_deg
from sitelog.quantities.rounding import as_typed, as_worked
from sitelog.refusal import Refusal

RATIO, NIB, HOOK = 3.0, 1 / 4, 1 / 8  # x depth; common practice over a support, nib and hook from memory
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
    def positions(self) -> list[Row]:
        """Where the pair of wedges goes through, and where each screw crosses the splay."""
        first = [self.on_upper(self.bearing * part) for part in (1 / 3, 2 / 3)]
        screws = [*first, *(self.turned(point) for point in reversed(first))]
        named = [("wedge", (self.length / 2, self.depth / 2)), *((f"screw {n}", at) for n, at in enumerate(screws, 1))]
        return [{"point": name, "x": x, "y": y} for name, (x, y) in named]


class ScarfInputs(Inputs):
    """What `scarf` takes: lengths in mm."""

    depth: float = field("length", "depth of the timber, on the face where the joint shows", over=0, high=1000)
    ratio: float = field(
        "number", "length over depth: 3 over a support; an old book 12, bolted 6", default=RATIO, low=2, high=10
    )
    wedge: float = field("length", "gap for the pair of wedges, along the splay", default=20, over=0)
    nib: float = field("fraction", "square end, as a fraction of the depth", default=NIB, over=0, under=0.5)
    hook: float = field("fraction", "step of the splay, as a fraction of the depth", default=HOOK, over=0)


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
    ),
    basis=f"common practice over a support: three times the depth; {OLD_PRINT}; nib and hook from memory",
    definition=(
        "Both halves are the same shape, one turned end for end with its top edge down. x is along the timber "
        "from the shoulder to the nose, y is up from the bottom edge. The splay falls from nib to nib. Half way "
        "it steps up square by the hook, and between the two hooks is the gap for a pair of folding wedges. "
        "Drive the wedges and both shoulders pull tight. A screw is marked where it crosses the splay. This only "
        "sets out the joint: the engineer says what it can carry."
    ),
    example="depth=220",
)
def scarf(given: ScarfInputs) -> Outcome:
    """Lengths and places in mm, the splay in degrees. Refusal where nibs, hook and wedge leave too little timber."""
    if 2 * given.nib + given.hook >= 1:
        raise Refusal(
            f"scarf: two nibs of {as_typed(given.nib)} and a hook of {as_typed(given.hook)} of the depth leave no room "
            "for the splay. Together they must be under the whole depth"
        )
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
            "outline": outline_rows(half.outline),
            "positions": half.positions,
        },
        working,
        cautions=("joint-engineer",),
        notes=_notes(given.ratio, half.length),
    )


def _half(working: Working, given: ScarfInputs) -> Scarf:
    depth = given.depth
    length = working.step("joint_length", "ratio * depth", ratio=given.ratio, depth=depth)
    nib = working.step("nib", "share * depth", share=given.nib, depth=depth)
    hook = working.step("hook", "share * depth", share=given.hook, depth=depth)
    numbers = {"depth": depth, "nib": nib, "joint_length": length, "hook": hook}
    splay = working.step(
        "splay_from_edge",
        "atan2(depth - 2 * nib, joint_length) + asin(hook / hypot(depth - 2 * nib, joint_length))",
        "deg",
        **numbers,
    )
    return Scarf(depth, length, nib, hook, given.wedge, splay)


def _notes(ratio: float, length: float) -> tuple[str, ...]:
    said = [
        f"the two timbers together must be {as_worked(length)} mm longer than the finished one",
        f"three times the depth is common practice for a joint over a support; {OLD_PRINT}",
        (
            "put it over a support (common practice). Screws and wedges only hold it shut: the engineer says what it "
            "can carry"
        ),
    ]
    if ratio < RATIO:
        said.insert(0, f"shorter than {as_typed(RATIO)} times the depth, which is common practice")
    return tuple(said)
