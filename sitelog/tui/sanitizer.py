"""The last door to the screen: whatever a widget draws, a field included, no control goes out with it."""

from rich.cells import set_cell_size
from rich.segment import Segment
from textual.color import Color
from textual.filter import LineFilter

from sitelog.text import harmless


class OutputSanitizer(LineFilter):
    """Words are cleaned when they are read and when they are put on a page; this is for any that went past both."""

    def apply(self, segments: list[Segment], background: Color) -> list[Segment]:
        """The segments of a line, each without what a terminal would obey."""
        return [segment if segment.control or segment.text.isprintable() else _cleaned(segment) for segment in segments]


def _cleaned(segment: Segment) -> Segment:
    return Segment(set_cell_size(harmless(segment.text), segment.cell_length), segment.style)
