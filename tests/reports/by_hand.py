"""A job's state put together by hand, so that the pack and the drawings are tested without the record behind them."""

from collections.abc import Mapping

from sitelog.calculators import index
from sitelog.calculators.catalogue import Row, Value
from sitelog.job.facts.fact import Fact
from sitelog.job.state.views import PartView, State
from sitelog.quantities.quantity import Section
from sitelog.refusal import Refusal

DRAWN = {
    "ab": 9000.0,
    "bc": 6000.0,
    "cd": 9000.0,
    "da": 6000.0,
    "ac": 10816.6538,
    "bd": 10816.6538,
}
# Four plates as a tape might give them: BC and AB a little off, the six lengths agreeing to a few mm.
BUILT = {"ab": 8996.0, "bc": 6003.0, "cd": 9001.0, "da": 6002.0, "ac": 10819.0, "bd": 10818.0}
# As the calculator's own example: the values stand in the project's list of worked values.
ASKEW = {"ab": 9000.0, "bc": 6000.0, "cd": 9010.0, "da": 6005.0, "ac": 10830.0, "bd": 10812.0}
RAFTER: dict[str, Value] = {
    "run": 3000.0,
    "section": Section(47, 150),
    "ridge_thickness": 38.0,
    "plate_width": 100.0,
    "overhang": 300.0,
    "birdsmouth": 1 / 3,
}


def rows(value: object) -> list[Row]:
    assert isinstance(value, list)
    return value


def hipped_facts(built: Mapping[str, float] | None = None, **rafter: Value) -> dict[str, Fact]:
    """The facts of a hipped part "main", 9000 x 6000 at 35 degrees as drawn."""
    facts: dict[str, Fact] = {}
    built = built or {}

    def add(name: str, drawn: Value, now: Value = None, unit: str = "mm") -> None:
        facts[f"main.{name}"] = Fact(f"main.{name}", name, unit, "length", drawn, now)

    for name, drawn in DRAWN.items():
        add(name, drawn, built.get(name))
    add("pitch", 35.0, unit="deg")
    roof = index.find("roof")
    meant = roof(**DRAWN, pitch=35.0)
    try:
        stands = roof(**{**DRAWN, **built}, pitch=35.0) if built else None
    except Refusal:
        stands = None
    for place, corner in enumerate("abcd"):
        now = rows(stands.results["hips"])[place]["length"] if stands else None
        add(f"hip_{corner}", rows(meant.results["hips"])[place]["length"], now)
    ridge = stands.results["ridge_length"] if stands else None
    add("ridge", 3000.0, ridge if isinstance(ridge, float) else None)
    for name, value in (RAFTER | rafter).items():
        add(name, value)
    return facts


def state(facts: Mapping[str, Fact], parts: tuple[PartView, ...] = ()) -> State:
    return State(
        id="job",
        title="Kiln Lane, plot 3",
        place="Kiln Lane",
        units="metric",
        parts=parts or (PartView("main", "Main roof", "hipped", ()),),
        order=tuple(stage for part in parts for stage in part.stages),
        facts=facts,
        snags=(),
        releases=(),
        deferrals=(),
        readings=(),
        instruments={},
        diary=(),
        points=(),
        changed_lists=(),
        entries=1,
        head="0123456789ab",
        next="",
        handed_over=False,
    )
