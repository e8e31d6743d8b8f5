"""Where a level ceiling under a dormer's curve comes out in the main roof, and the trimmer that it ends at."""

from sitelog.calculators.catalogue import Outcome, Output, Row, Working, calculator, field
from sitelog.calculators.curves.ceilings import CARRIES, HEIGHT, ZERO, Ceiling, CeilingInputs
from sitelog.geometry.vectors import cos_deg
from sitelog.quantities.rounding import as_worked


class SoffitInputs(CeilingInputs):
    """What `soffit` takes: lengths in mm, angles in degrees."""

    stance: str = field(
        "choice", "is the trimmer square to the slope, or plumb?", default="square", choices=("square", "plumb")
    )
    meet: str = field(
        "choice",
        "does the ceiling run through under the trimmer, or start at the rafters' tops?",
        default="underside",
        choices=("underside", "top"),
    )


@calculator(
    "soffit",
    SoffitInputs,
    branch="curves",
    does="A level ceiling under a curved dormer: where the trimmer goes",
    results=(
        HEIGHT,
        Output("soffit_radius", "mm", "Radius of the ceiling"),
        Output("soffit_width", "mm", "Ceiling's width at springing"),
        Output("top_along", "mm", "Rafters' tops, up the slope"),
        Output("top_back", "mm", "Rafters' tops, level back"),
        Output("underside_along", "mm", "Undersides, up the slope"),
        Output("underside_back", "mm", "Undersides, level back"),
        Output("front_level", "mm", "Trimmer's front, level from zero"),
        Output(
            "faces",
            "",
            "Trimmer on the side of a rafter",
            (
                Output("n", "", "Face (0 front)"),
                Output("top_along", "mm", "Top edge, up the slope"),
                Output("top_back", "mm", "Top edge, level back"),
                Output("under_along", "mm", "Bottom edge, up the slope"),
                Output("under_back", "mm", "Bottom edge, level back"),
            ),
        ),
    ),
    basis="geometry: the level of the ceiling's crown cut by the planes of the rafters' edges",
    definition=(
        (
            "The ceiling is the outside curve less sheet, former and lining, square to it, and runs level back from "
            "its crown. It is for a head of one arc, not for an eyebrow. "
        )
        + ZERO
        + (
            "Face 0 is the trimmer's front, towards the dormer; the others are the backs of its layers. With meet "
            "underside the trimmer's lowest front arris is at the ceiling's level, and the ceiling runs straight "
            "through. With meet top the trimmer starts where that level comes out at the rafters' tops: it hangs "
            "under the ceiling and a bulkhead follows. Level from the zero is the front's mark on the top edge, "
            "laid level: it is what an opening has above the zero. How far the rafters beside are doubled isn't "
            "worked out here."
        )
    ),
    example="radius=900 sheet=18 former=75 lining=15 pitch=40 rafter=150 deck=18",
)
def soffit(given: SoffitInputs) -> Outcome:
    """Lengths in mm. Refusal where the layers leave no ceiling, or a slope so flat that it hardly meets one.

    Source: geometry; by its definition alone.
    """
    working = Working()
    ceiling = given.ceiling("soffit", working)
    height = ceiling.curve.rise
    layers = {"sheet": given.sheet, "former": given.former, "lining": given.lining}
    radius = working.step("soffit_radius", "radius - sheet - former - lining", radius=ceiling.outside.radius, **layers)
    width = working.step(
        "soffit_width",
        "2 * sqrt(soffit_height * (2 * soffit_radius - soffit_height))",
        soffit_height=height,
        soffit_radius=radius,
    )
    level = {"soffit_height": height, "pitch": given.pitch, "deck": given.deck}
    top = working.step("top_along", "soffit_height / sin(pitch) + deck / tan(pitch)", **level)
    top_back = working.step("top_back", "soffit_height / tan(pitch) + deck / sin(pitch)", **level)
    level |= {"rafter": given.rafter}
    under = working.step("underside_along", "soffit_height / sin(pitch) + (deck + rafter) / tan(pitch)", **level)
    under_back = working.step("underside_back", "soffit_height / tan(pitch) + (deck + rafter) / sin(pitch)", **level)
    faces = _faces(working, given, ceiling, top, under)
    front = {"front_along": float(faces[0]["top_along"] or 0.0), "pitch": given.pitch}
    return Outcome(
        {
            "soffit_height": height,
            "soffit_radius": radius,
            "soffit_width": width,
            "top_along": top,
            "top_back": top_back,
            "underside_along": under,
            "underside_back": under_back,
            "front_level": working.step("front_level", "front_along * cos(pitch)", **front),
            "faces": faces,
        },
        working,
        notes=(*_hangs(given), CARRIES),
    )


def _faces(working: Working, given: SoffitInputs, ceiling: Ceiling, top: float, under: float) -> list[Row]:
    """The trimmer's front, through the point of `meet`, and the back of each layer."""
    plumb = given.stance == "plumb"
    step, apart = given.trimmer, 0.0
    if plumb:
        turned = {"pitch": given.pitch}
        step = working.step("layer_up_the_slope", "trimmer / cos(pitch)", trimmer=given.trimmer, **turned)
        apart = working.step("top_edge_further_up", "rafter * tan(pitch)", rafter=given.rafter, **turned)
    front = under + apart if given.meet == "underside" else top
    marks = [front + n * step for n in range(given.layers + 1)]
    return [{"n": n, **ceiling.place(mark, mark - apart)} for n, mark in enumerate(marks)]


def _hangs(given: SoffitInputs) -> tuple[str, ...]:
    """How far the trimmer hangs under the ceiling, where it starts at the rafters' tops."""
    if given.meet != "top":
        return ()
    deep = given.rafter / cos_deg(given.pitch) if given.stance == "plumb" else given.rafter * cos_deg(given.pitch)
    return (f"The trimmer hangs {as_worked(deep)} under the ceiling: a bulkhead follows it",)
