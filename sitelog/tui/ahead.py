"""Keys that come while a field's Enter is being answered: they wait, and go where the cursor stands then.

A slow line brings several at once; without it a second figure would be typed on to the first.
"""

from collections.abc import Sequence

from textual.events import Key
from textual.widget import Widget

LONGEST = 0.3  # seconds that they wait for an answer that may never come: its page may be gone


class TypedAhead:
    """Whose Enter is being answered, and the keys that have come since."""

    def __init__(self) -> None:
        self._entered: Widget | None = None
        self._keys: list[Key] = []

    def enter(self, focused: Widget | None) -> None:
        """Enter was pressed in that field."""
        self._entered = focused

    def holds(self, key: Key, focused: Widget | None) -> bool:
        """Whether the key waits: the cursor is still in that field, or others wait already."""
        waits = bool(self._keys) or (focused is not None and focused is self._entered)
        if waits:
            self._keys.append(key)
        return waits

    def released(self) -> Sequence[Key]:
        """Those that waited, in their order: the Enter is answered."""
        keys, self._keys, self._entered = self._keys, [], None
        return keys
