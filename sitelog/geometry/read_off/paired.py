"""Marks of jacks in pairs: from the corner of each hip and valley alike on both its slopes, and the rest between."""

import math
from collections.abc import Iterator

from sitelog.geometry.spacings import inside
from sitelog.geometry.surface.clipping import SAME
from sitelog.geometry.surface.surface import Surface

PAIRS = "pairs"  # the way of setting out
Span = tuple[float, float]  # two places along a slope [mm]
WITHIN = 10.0  # mm that a bay may be over the spacing, so that plates out by no more have as many jacks both sides


def paired_marks(found: Surface, slope: int, ends: Span, spacing: float, thickness: float) -> list[float]:
    """Places [mm] along a slope between its ends: jacks from the foot of each hip and valley, then what is between.

    Where a hip or valley ends stands a common. Where two run over one another the hip's jacks are the valley's too. The
    rest goes from its first end at the spacing.
    """
    runs = list(_runs(found, slope))
    spans = [(min(run), max(run)) for run in runs]
    marks = [mark for nth, run in enumerate(runs) for mark in _jacks(run, spans[:nth], spacing, thickness)]
    marks += _commons(runs, spans, ends, spacing, thickness)
    return _sorted(marks + _with_heads([head for _, head in runs], marks, spans, spacing))


def _commons(runs: list[Span], spans: list[Span], ends: Span, spacing: float, thickness: float) -> list[float]:
    """What is between hips and valleys, with its ends; none at the foot of one."""
    marks: list[float] = []
    for start, end in _left(spans, *ends):
        marks += [start, *(start + mark for mark in _between(end - start, spacing, thickness)), end]
    return [mark for mark in marks if all(abs(mark - foot) > SAME for foot, _ in runs)]


def _with_heads(heads: list[float], marks: list[float], spans: list[Span], spacing: float) -> list[float]:
    """The heads of hips and valleys; of one that another line runs past only where the bay would be too wide."""
    crossed = [head for head in heads if _is_within(head, spans, -SAME)]
    clear = [head for head in heads if head not in crossed]
    return clear + [head for head in crossed if _is_wanted(head, marks + clear, spacing)]


def _jacks(run: Span, before: list[Span], spacing: float, thickness: float) -> list[float]:
    """From the foot of a hip or valley towards its head, without those over which an earlier one runs."""
    foot, head = run
    way = 1.0 if head > foot else -1.0
    marks = [foot + way * mark for mark in _between(abs(head - foot), spacing, thickness)]
    return [mark for mark in marks if not _is_within(mark, before, SAME)]


def _is_within(mark: float, spans: list[Span], more: float) -> bool:
    """Whether it is in one of the spans, each so much longer [mm] at both ends."""
    return any(low - more < mark < high + more for low, high in spans)


def _is_wanted(head: float, marks: list[float], spacing: float) -> bool:
    """Whether the bay over a head that another line runs past would be too wide without a rafter there."""
    before = max((mark for mark in marks if mark < head), default=-math.inf)
    after = min((mark for mark in marks if mark > head), default=math.inf)
    return after - before > spacing + WITHIN


def _runs(found: Surface, slope: int) -> Iterator[Span]:
    """Where the foot and the head of each hip and valley off the plates are along the slope [mm]."""
    own = found.slopes[slope]
    for line in sorted(found.lines, key=lambda line: line.kind):  # hips, then valleys
        foot, head = found.points[line.start], found.points[line.end]
        if line.kind in ("hip", "valley") and slope in line.between and foot.walls:
            yield own.flat(*foot.at[:2])[0], own.flat(*head.at[:2])[0]


def _between(room: float, spacing: float, thickness: float) -> list[float]:
    """From one end, both left out; a last that would touch the other end goes midway, as `jacks` has it."""
    marks = inside(room, spacing, "first", WITHIN)
    if marks and spacing >= 2 * thickness and room - marks[-1] < thickness:
        marks[-1] = ([0.0, *marks][-2] + room) / 2
    return marks


def _left(taken: list[Span], first: float, last: float) -> Iterator[Span]:
    """What of the slope no hip and no valley runs over [mm]."""
    at = first
    for start, end in sorted(taken):
        if start - at > SAME:
            yield at, start
        at = max(at, end)
    if last - at > SAME:
        yield at, last


def _sorted(marks: list[float]) -> list[float]:
    """In order, those of one place once."""
    found: list[float] = []
    for mark in sorted(marks):
        if not found or mark - found[-1] > SAME:
            found.append(mark)
    return found
