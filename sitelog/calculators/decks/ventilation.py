"""How much air a cold roof wants, where it comes in and where it goes out."""

from msgspec import Struct

from sitelog.calculators.catalogue import Inputs, Outcome, Output, Result, Row, Working, calculator, field
from sitelog.calculators.sources import SOURCES
from sitelog.quantities.rounding import as_typed
from sitelog.refusal import Refusal

_GUIDE = "BS 5250, as quoted in a manufacturer's guidance"
_MEMORY = "BS 5250, from memory"
_FLATTEST_PITCHED = 10.0  # BS 6229:2018, scope: a flat roof is up to 10 degrees
_WIDEST_FLAT = 10_000.0
_WIDEST_READ = 5_000.0  # mm of span that the 50 of clear space is for

_ALWAYS = "Every bay needs its own air path. No air gets into a bay stopped by a trimmer, hip or valley"
_PITCHED_NOTES = ("With a vapour-open underlay you may need less: only as little as its certificate says in writing",)
_FLAT_NOTES = (
    "Figures marked memory (BS 5250) are guidance, never a limit: use the designer's figure first",
    "LABC Warranty accepts a cold deck only up to 3 m2, otherwise a warm deck. Ask before the deck goes down",
)


class _Air(Struct, frozen=True):
    """One figure in mm, why it applies, and what it rests on; `standing` is "read" or "memory"."""

    gap: float
    why: str
    source: str = _GUIDE
    standing: str = "read"


_NO_HIGH = _Air(0.0, "no opening needed at high level here")


def _along_rafters() -> tuple[_Air, _Air, _Air]:
    """Each eaves, high level, and clear space where the insulation follows the rafters: a manufacturer's guidance."""
    why, source = "insulation along the rafters", "a manufacturer's guidance"
    return _Air(25.0, why, source), _Air(5.0, why, source), _Air(50.0, why, source)


def _pitched(pitch: float | None, span: float, shape: str) -> tuple[_Air, _Air, _Air]:
    """Each eaves, high level, and clear space over a level ceiling. BS 5250 in a manufacturer's guidance."""
    if pitch is None:
        raise Refusal("ventilation: also give pitch=; the openings change at 15 and 35 degrees")
    eaves = _Air(10.0, "pitch over 15") if pitch > 15 else _Air(25.0, "pitch 15 or less")
    wants_high = (
        (shape == "mono-pitch", "a lean-to or mono-pitch"),
        (pitch > 35, "pitch over 35"),
        (span > 10_000, "span over 10 m"),
    )
    why = " and ".join(reason for holds, reason in wants_high if holds)
    clear = _Air(50.0, "over the insulation at the eaves", "BRE and NHBC summaries; a manufacturer's guidance")
    return eaves, _Air(5.0, why) if why else _NO_HIGH, clear


def _flat(pitch: float | None, span: float) -> tuple[_Air, _Air, _Air]:
    """Each of two opposite edges, no high level, and clear space under the deck; only the 50 is read."""
    if pitch is not None and pitch > _FLATTEST_PITCHED:
        raise Refusal(
            f"ventilation: pitch is {as_typed(pitch)}; a flat roof is up to 10. Over that use kind=cold-pitched"
        )
    if span > _WIDEST_FLAT:
        raise Refusal(
            f"ventilation: span is {as_typed(span)}; over 10000 the designer must give the ventilation of a cold "
            "flat roof"
        )
    if span > _WIDEST_READ:
        why = "span 5 m to 10 m"
        return _Air(30.0, why, _MEMORY, "memory"), _NO_HIGH, _Air(60.0, why, _MEMORY, "memory")
    clear = _Air(50.0, "between insulation and deck", "BS 5250:2011, as quoted in a manufacturer's guidance")
    return _Air(25.0, "span up to 5 m", _MEMORY, "memory"), _NO_HIGH, clear


def _wide(span: float) -> tuple[str, ...]:
    """The note on a cold deck wider than what was read covers."""
    if span <= _WIDEST_READ:
        return ()
    return (f"Over {as_typed(_WIDEST_READ)} a cold deck is for the designer: the clear space here is from memory too",)


def _free_area(working: Working, name: str, gap_name: str, gap: float, length: float) -> float:
    """Free area, m2, of a gap in mm along a length in mm."""
    return working.step(name, f"{gap_name} / 1000 * length / 1000", "m2", **{gap_name: gap, "length": length})


class VentilationInputs(Inputs):
    """What `ventilation` takes: lengths in mm, angles in degrees."""

    kind: str = field("choice", "cold pitched or cold flat roof", choices=("cold-pitched", "cold-flat"))
    span: float = field("length", "level span: plate to plate if pitched, edge to edge if flat", over=0)
    pitch: float | None = field("pitch", "pitch of the slope (pitched roofs)", default=None)
    length: float = field("length", "length of one eaves; 1 m if left out", default=1000.0, over=0)
    shape: str = field(
        "choice",
        "pitched roof: two slopes, or one up to a wall or top edge",
        default="duo-pitch",
        choices=("duo-pitch", "mono-pitch"),
    )
    insulation: str = field(
        "choice",
        "pitched roof: insulation level at the ceiling, or along the rafters",
        default="ceiling",
        choices=("ceiling", "rafters"),
    )


@calculator(
    "ventilation",
    VentilationInputs,
    branch="decks",
    does="Ventilation gaps and clear air space of a cold roof",
    results=(
        Output("eaves_gap", "mm", "gap along each eaves or edge"),
        Output("eaves_area", "m2", "free area, each eaves"),
        Output("high_gap", "mm", "gap at high level"),
        Output("high_area", "m2", "free area, high level"),
        Output("air_space", "mm", "clear air space"),
        SOURCES,
    ),
    basis="BS 5250, second hand; each figure names its source",
    definition=(
        "Gaps are continuous and clear of mesh, along each eaves of a pitched roof or two opposite edges of a "
        "flat one. Free area is gap times length, so 10 mm is 10,000 mm2 per m. Keep the clear space above the "
        "insulation. This is guidance: nothing passes or fails by it."
    ),
    example="kind=cold-pitched pitch=40 span=8000 length=9000",
)
def ventilation(given: VentilationInputs) -> Outcome:
    """Gaps and clear space in mm, free areas in m2 over `length`. Raises Refusal where the figures stop."""
    flat = given.kind == "cold-flat"
    if flat:
        eaves, high, clear = _flat(given.pitch, given.span)
    else:
        eaves, high, clear = (
            _along_rafters() if given.insulation == "rafters" else _pitched(given.pitch, given.span, given.shape)
        )
    told = {"eaves_gap": eaves, "high_gap": high, "air_space": clear}
    working = Working()
    gaps: dict[str, Result] = {name: working.note(name, air.why, air.gap) for name, air in told.items()}
    areas: dict[str, Result] = {
        "eaves_area": _free_area(working, "eaves_area", "eaves_gap", eaves.gap, given.length),
        "high_area": _free_area(working, "high_area", "high_gap", high.gap, given.length),
    }
    sources: list[Row] = [
        {"figure": name, "source": air.source, "standing": air.standing} for name, air in told.items() if air.gap
    ]
    return Outcome(
        gaps | areas | {"sources": sources},
        working,
        cautions=("vent-check",) if flat else (),
        notes=(*(_wide(given.span) if flat else ()), *(_FLAT_NOTES if flat else _PITCHED_NOTES), _ALWAYS),
    )
