"""Where each jack meets a hip: running along its top edge, on the face that the jack is nailed to."""

from collections.abc import Sequence
from itertools import zip_longest

from sitelog.calculators.catalogue import Output, Row
from sitelog.calculators.rafters.hip_cuts import SIDES
from sitelog.calculators.sticks.bench import JackMarks, Mark, Rafter, Tape
from sitelog.calculators.sticks.inputs import SticksInputs
from sitelog.geometry.hip_line import Side
from sitelog.left_out import given_or
from sitelog.quantities.rounding import as_typed
from sitelog.refusal import Refusal

ON_THE_HIP = Output(
    "jacks",
    "",
    "Jacks' centres on the hip's top edge",
    (
        Output("n", "", "Jack"),
        Output("face_1", "mm", "Running, on face 1"),
        Output("face_2", "mm", "Running, on face 2"),
    ),
)


def jack_marks(given: SticksInputs, hip: Rafter) -> list[JackMarks]:
    """A pair of marks a jack, from the corner up: on face 1 and on face 2; None where one side has fewer.

    Refusal for a jack that is off the hip.
    """
    if given.jacks is None:
        return []
    both = given.jacks, given_or(given.jacks2, given.jacks)
    one, two = (_on_face(given, hip, side, places) for side, places in zip(SIDES, both, strict=True))
    return [*zip_longest(one, two)]


def _on_face(given: SticksInputs, hip: Rafter, side: Side, places: Sequence[float]) -> list[Mark]:
    face = next(line for line in hip.lines if line.name == f"{side}")
    levels = [given.line.run_to(side, at, abs(face.off)) for at in places]
    for at, level in zip(places, levels, strict=True):
        if not (face.heel or 0.0) < level < face.head:
            raise Refusal(f"sticks: a jack {as_typed(at)} from the corner is off the hip. Check jacks=")
    return [hip.on_top(face.name, f"jack-{nth}", level) for nth, level in enumerate(levels, 1)]


def on_the_hip(pairs: Sequence[JackMarks], tape: Tape) -> list[Row]:
    """The rows of ON_THE_HIP, jack by jack from the corner."""
    return [
        {"n": nth, **{f"face_{side}": tape.at(mark) if mark else None for side, mark in zip((1, 2), pair, strict=True)}}
        for nth, pair in enumerate(pairs, 1)
    ]
