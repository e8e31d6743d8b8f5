"""The sticks of a job for the bench: one page a pattern, its drawings, its marks, and what else it serves."""

from collections.abc import Iterator, Sequence

from sitelog.checklist.schema.model import Library
from sitelog.drawing.index import drawings_of
from sitelog.drawing.model import Drawing
from sitelog.drawing.subjects.bench.on_the_hip import JACKS
from sitelog.job.facts.schema import JOB
from sitelog.job.members import Line
from sitelog.job.state.views import PartView, State
from sitelog.job.sticks import NEAR, MemberStick, sticks
from sitelog.quantities.quantity import Units, show_length
from sitelog.reports.model import Block, Leaf, Table, Words
from sitelog.reports.sketches import Sketch, marks_at_corners
from sitelog.reports.timber.entries import cuts
from sitelog.reports.timber.sheets import FROM_HERE
from sitelog.text import text_if

LISTED = ("Cut to this pattern", "Length", "How many", "Marks past the head: further by")
MIRRORED = (
    "Drawn for the left hand, its head on the left. For the right hand put the head on the right, the same edge and "
    "the long face up: the marks are the same."
)
HELD = "Held: cut one only, try it, and enter its gaps. The rest are cut to what they give."
AFTER = "Held: cut none till the pattern is tried. Then print this page again."
PATTERN = "The first of a batch is the pattern: try it before you cut the rest."


def stick_sketches(state: State, library: Library, part: str) -> tuple[Sketch, ...]:
    """Every drawing of every stick of a part, or why there is none."""
    return tuple(sketch for one in sticks(state, library, part) for sketch in drawn(one, state.units))


def drawn(stick: MemberStick, units: Units) -> Iterator[Sketch]:
    """The drawings of one stick; what else is cut to it is told with the first."""
    if stick.answer is None:
        yield Sketch(stick.says, None, stick.why)
        return
    for number, made in enumerate(drawings_of(stick.answer, units)):
        more = (*made.says, *_others(stick, units)) if number == 0 else made.says
        yield Sketch(stick.says, Drawing(f"{stick.says}. {made.title}", made.lines, made.words, more, made.up))


def _others(stick: MemberStick, units: Units) -> Iterator[str]:
    """How many are cut to the pattern, and the lengths of those that differ only in that."""
    counts: dict[str, int] = {}
    for line in stick.lines:
        if line.member:
            length = show_length(line.member.length, units)
            counts[length] = counts.get(length, 0) + line.member.count
    yield f"in the list: {', '.join(f'{count} of {length}' for length, count in counts.items())}"


def stick_leaves(state: State, library: Library, part: str = "") -> tuple[Leaf, ...]:
    """A page for each stick of one part or of all, and one for the marks along the plates of each corner."""
    parts = [one for one in state.parts if one.id != JOB and part in ("", one.id)]
    return tuple(leaf for one in parts for leaf in _leaves(state, library, one))


def _leaves(state: State, library: Library, part: PartView) -> Iterator[Leaf]:
    found = sticks(state, library, part.id)
    for stick, mirrored in _with_the_other_hand(found):
        yield Leaf(f"{part.title}: {_called(stick, mirrored)}", tuple(_blocks(stick, mirrored, state.units)), part.id)
    for sketch in marks_at_corners(state, library, part.id):
        if sketch.drawing:
            told = Table(("Marks, from the corner",), tuple((said,) for said in sketch.drawing.says))
            hip = (made for stick in found if _is_at(stick, sketch) for made in _up_the_hip(stick, state.units))
            yield Leaf(f"{part.title}: {sketch.name}", (sketch.drawing, told, *hip), part.id)


def _with_the_other_hand(found: Sequence[MemberStick]) -> Iterator[tuple[MemberStick, MemberStick | None]]:
    """Each stick, a left and a right one together where they are one pattern in a mirror."""
    waiting = list(found)
    while waiting:
        stick = waiting.pop(0)
        mirrored = next((other for other in waiting if stick.is_mirrored_by(other)), None)
        if mirrored:
            waiting.remove(mirrored)
        yield stick, mirrored


def _called(stick: MemberStick, mirrored: MemberStick | None) -> str:
    """A stick in the title of its page; for both hands with how many of each."""
    if mirrored is None:
        return stick.says
    return f"{stick.lines[0].says}, {stick.count} {stick.hand}, {mirrored.count} {mirrored.hand}"


def _is_at(stick: MemberStick, corner: Sketch) -> bool:
    return stick.lines[0].id == f"hip-{corner.name[-1].lower()}"


def _up_the_hip(stick: MemberStick, units: Units) -> Iterator[Drawing]:
    """A hip with its jacks' marks: it goes with those of its corner."""
    if stick.answer:
        yield from (made for made in drawings_of(stick.answer, units) if JACKS in made.title)


def _blocks(stick: MemberStick, mirrored: MemberStick | None, units: Units) -> Iterator[Block]:
    first = stick.lines[0].member
    assert first
    said = cuts(first, units)
    yield Words(f"{first.section}, {show_length(first.length, units)}. {said[:1].upper()}{said[1:]}.")
    if stick.answer is None:
        yield Words(f"It can't be drawn yet: {stick.why}.", strong=True)
        return
    made = [one for one in drawings_of(stick.answer, units) if JACKS not in one.title]
    yield from made
    marks = tuple((said,) for said in made[0].says if said[:1].isdigit())
    yield Table(("Marks, in this order",), marks)
    if mirrored:
        yield Words(MIRRORED, strong=True)
    rows = tuple(
        _row(line, text_if(mirrored, f", {hand.hand}"), first.length, units)
        for hand in filter(None, (stick, mirrored))
        for line in hand.lines
    )
    yield Table(LISTED, rows, (6, 2, 2, 4))
    yield Words(f"{_try_first(stick)} {FROM_HERE}", strong=True)


def _try_first(stick: MemberStick) -> str:
    trial = stick.lines[0].trial
    if trial and trial.held:
        return HELD if trial.of_itself else AFTER
    return PATTERN


def _row(line: Line, hand: str, first_mm: float, units: Units) -> tuple[str, ...]:
    """One line of the list, with its hand, and how much further along its marks are than those of the pattern."""
    assert line.member
    further = line.member.length - first_mm
    size = show_length(abs(further), units) if abs(further) > NEAR else ""
    other = (line.row or {}).get("nested_with")
    nested = f", ripped head to foot with {other}" if other else ""
    return (
        f"{line.member.part}{hand}{nested}",
        show_length(line.member.length, units),
        str(line.member.count),
        f"{'-' * (further < -NEAR)}{size}",
    )
