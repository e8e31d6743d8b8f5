"""The ways out of a measure that is out, in words: what to do, and what that moves in hips, jacks and courses."""

from collections.abc import Iterator, Sequence

from sitelog.checklist.schema.model import Library
from sitelog.job.remedies.offered import remedies
from sitelog.job.remedies.remedy import Act, Remedy, Shift
from sitelog.job.state.views import CheckView, State
from sitelog.quantities.quantity import Units
from sitelog.text import stepped, text_after
from sitelog.wording.formatting import value_text
from sitelog.wording.result import columned_at, result_lines, shown_lines

THIRD = 1 / 3  # of the rafter's depth: the deepest birdsmouth without the engineer (LABC, after the TRADA span tables)
NEAREST = 0.5  # mm: what moves by less is told as 0
LONGER, HIGHER = ("shorter", "longer"), ("lower", "higher")
HEAD = "Before you choose: what each way moves from the drawing (+ is longer)."


def remedy_lines(view: CheckView, state: State, library: Library) -> list[str]:
    """Each way with what it moves beneath it, an empty line at the end; none where the program has no way to work."""
    lines = [line for way in remedies(state, library, view) for line in _told(way, view, state.units)]
    if not lines:
        return []
    return [HEAD, *lines, ""]


def ways_lines(view: CheckView, state: State, library: Library, width: int) -> list[str]:
    """What stands above the verdict and the ways on, `width` columns wide: what each way moves, then the results."""
    row = columned_at(width + 4)
    told = remedy_lines(view, state, library)
    if not told or view.refusal:
        return result_lines(view, state, rows=False, row=row)
    return [*(part for line in told for part in stepped(line, width, 2)), *shown_lines(view, state.units, row)]


def _told(way: Remedy, view: CheckView, units: Units) -> Iterator[str]:
    yield f"- {_SAYS[way.kind](way, view, units)}"
    moved = "; ".join(f"{', '.join(groups)} {by}" for by, groups in _alike(way, units).items())
    told = "; ".join(filter(None, (moved, _courses(way, units), _changes(way, units))))
    if told:
        yield f"  {told}"


def _changes(way: Remedy, units: Units) -> str:
    """How many timbers change by over what they are cut to, and which of them most; "" where no group moves at all."""
    still = all(max(abs(shift.least), abs(shift.most)) < NEAREST for shift in way.shifts)
    if way.changes is None or (still and not way.changes.count):
        return ""
    told = way.changes
    verb = "change" if told.count > 1 else "changes"
    over = f"{told.count or 'none'} of {told.of} {verb} by over {value_text('mm', told.over, units)}"
    most = (f"{one.name}: {_size(one.before, units)} to {_size(one.after, units)}" for one in told.most)
    return "; ".join((over, *most))


def _courses(way: Remedy, units: Units) -> str:
    if way.courses is None:
        return ""
    return f"courses run out {_size(way.courses, units)}"


def _alike(way: Remedy, units: Units) -> dict[str, list[str]]:
    """The groups that move by as much, under how much that is."""
    found: dict[str, list[str]] = {}
    for shift in way.shifts:
        found.setdefault(_span(shift, units), []).append(shift.group)
    return found


def _span(shift: Shift, units: Units) -> str:
    """`+3`, or `-3 to +5` where they differ."""
    ends = dict.fromkeys(_signed(end, units) for end in (shift.least, shift.most))
    return " to ".join(ends)


def _signed(by: float, units: Units) -> str:
    if abs(by) < NEAREST:
        return "0"
    return f"{'-+'[by > 0]}{_size(by, units)}"


def _size(by: float, units: Units) -> str:
    """To a whole mm: nobody cuts or pushes to less."""
    return value_text("mm", float(round(abs(by))), units).removesuffix(" mm")


def _acts(way: Remedy, units: Units) -> str:
    """`C 18, D 18`."""
    return _listed(way.acts, units)


def _listed(acts: Sequence[Act], units: Units) -> str:
    return ", ".join(f"{act.what} {_size(act.by, units)}" for act in acts)


def _rack(way: Remedy, _view: CheckView, units: Units) -> str:
    ways: dict[str, list[Act]] = {}
    for act in way.acts:
        ways.setdefault(act.to if " " in act.to else f"towards {act.to}", []).append(act)
    pushed = "; ".join(f"push {_listed(acts, units)} {to}" for to, acts in ways.items())
    return f"Rack it: {pushed}"


def _move(way: Remedy, view: CheckView, units: Units) -> str:
    """Corners are moved; a size is made longer or shorter, a height higher or lower."""
    if view.check.calculator:
        return f"Set it to the drawing: move {_acts(way, units)}"
    heights = {figure.says for figure in view.figures if figure.kind == "offset"}
    words = {act.what: HIGHER if act.what in heights else LONGER for act in way.acts}
    made = (f"{act.what} {_size(act.by, units)} {words[act.what][act.by > 0]}" for act in way.acts)
    return f"Set it to the drawing: {', '.join(made)}"


def _as_built(_way: Remedy, _view: CheckView, _units: Units) -> str:
    return "Leave it and cut to as-built"


def _pack(way: Remedy, view: CheckView, units: Units) -> str:
    if view.check.calculator == "levels":
        return f"Pack up to the highest point: {_acts(way, units)}"
    return f"Pack up to the string: {_at(way, units)}"


def _ease(way: Remedy, view: CheckView, units: Units) -> str:
    if view.check.calculator != "levels":
        return f"Ease down to the string: {_at(way, units)}"
    return f"Ease the seats down to the lowest point: {_acts(way, units)}{text_after('. ', _seat(way, units))}"


def _at(way: Remedy, units: Units) -> str:
    """`7 at 1600`."""
    return ", ".join(f"{_size(act.by, units)} at {_size(float(act.what), units)}" for act in way.acts)


def _seat(way: Remedy, units: Units) -> str:
    """The deepest birdsmouth, and whose word it needs past a third."""
    if way.seat is None:
        return ""
    deep, depth = way.seat
    said = f"Deepest birdsmouth {_size(deep, units)} of {_size(depth, units)}"
    if deep > depth * THIRD:
        return f"{said}: over a third, so ask the engineer first"
    return said


def _lift(way: Remedy, _view: CheckView, units: Units) -> str:
    made = (f"{_size(act.by, units)} {HIGHER[act.by > 0]} by the {act.what}" for act in way.acts)
    return f"Set the ridge so that the pitch is as drawn: {', '.join(made)}"


def _turn(way: Remedy, _view: CheckView, units: Units) -> str:
    (act,) = way.acts
    low, high = ("left", "right")[:: (-1, 1)[act.by < 0]]
    by = _size(act.by, units)
    return f"Bring the two into line: raise the {low} head {by}, or pack the {high} foot {by}"


def _level(way: Remedy, _view: CheckView, units: Units) -> str:
    (act,) = way.acts
    low, high = ("PQ", "QP")[act.by > 0]
    by = _size(act.by, units)
    return f"Level the ridge: raise {low} {by}, or lower {high} {by}"


_SAYS = {
    "rack": _rack,
    "move": _move,
    "as-built": _as_built,
    "pack": _pack,
    "ease": _ease,
    "lift": _lift,
    "turn": _turn,
    "level": _level,
}
