"""The first pair of one block of a cut roof at another pitch than drawn: its ridge set, or its timbers cut to it."""

import math
from collections.abc import Iterator, Mapping

from sitelog.checklist.schema.model import Library
from sitelog.job.batches import same_length
from sitelog.job.facts.facts import FactResolver
from sitelog.job.remedies.changes import changes
from sitelog.job.remedies.lengths import cut_at, lengths, shifts
from sitelog.job.remedies.read import NOT_GOOD, drawn_by, fact, number
from sitelog.job.remedies.remedy import Act, Remedy
from sitelog.job.state.views import CheckView, FigureView, State

ONE, OTHER = "_pitch_1", "_pitch_2"  # the ends of the facts of a block's two pitches, after its name


def is_of_block(view: CheckView) -> bool:
    """Whether its two pitches are those of one block."""
    return _block(view) != ""


def of_pair(state: State, library: Library, view: CheckView) -> Iterator[Remedy]:
    """The ridge set to the height, or every rafter of the block cut to the pitch that the pair has.

    On plan the rafters stay: the other slopes of the block and its hips are cut to the same pattern.
    """
    resolver, block = FactResolver.of(library, state), _block(view)
    built = {drawn_by(view.check, figure.key): figure for figure in view.figures if figure.unit == "deg"}
    acts = tuple(act for name, figure in built.items() for act in _lifted(resolver, view.part, name, figure))
    if not acts:
        return
    yield Remedy("lift", acts, passes=True)
    pitches = {name.removeprefix(block): number(figure.value) or 0.0 for name, figure in built.items()}
    before = lengths(resolver, view.part)
    after = lengths(cut_at(resolver, view.part, _patterns(resolver, view.part, block, pitches)), view.part)
    yield Remedy("as-built", (), shifts(before, after), changes(before, after, same_length(state)))


def _block(view: CheckView) -> str:
    """The name of the block, as its facts begin; "" of a check that isn't of both its pitches."""
    names = [drawn_by(view.check, figure.key) for figure in view.figures if figure.unit == "deg"]
    block = next((name.removesuffix(ONE) for name in names if name.endswith(ONE)), "")
    return block if block and names == [f"{block}{ONE}", f"{block}{OTHER}"] else ""


def _lifted(resolver: FactResolver, part: str, name: str, figure: FigureView) -> Iterator[Act]:
    """How far the ridge is to be raised by a rafter whose pitch is out, or too near to call [mm]."""
    run, drawn, built = (
        fact(resolver, part, name.replace("_pitch_", "_run_")),
        number(figure.drawn),
        number(figure.value),
    )
    if figure.verdict in NOT_GOOD and run is not None and drawn is not None and built is not None:
        yield Act(figure.says, run * (math.tan(math.radians(drawn)) - math.tan(math.radians(built))))


def _patterns(resolver: FactResolver, part: str, block: str, built: Mapping[str, float]) -> dict[str, float]:
    """The pitches to cut at [deg]: of slopes alike one, midway between the two rafters."""
    if resolver.now(part, f"{block}_two_pitches") == "yes":
        return {f"{block}_first_pitch": built[ONE], f"{block}_other_pitch": built[OTHER]}
    return {f"{block}_first_pitch": sum(built.values()) / len(built)}
