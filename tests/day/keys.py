"""What a day at the keyboard costs: its keys, its caution screens, and its seconds as a model reckons them.

The model is the keystroke-level model (Card, Moran and Newell, The keystroke-level model for user performance time with
interactive systems, Communications of the ACM 23(7), 1980): 0.28 s a key for somebody who isn't a typist by trade,
1.35 s of thinking before each answer or command, 0.4 s for the hand to come back to the keys.
"""

from collections import Counter
from dataclasses import dataclass, field

KEY, THINKING, HOMING = 0.28, 1.35, 0.4  # seconds


@dataclass
class Spent:
    """Keys by the page or check that took them, and of them the typed letters; screens of cautions."""

    keys: Counter[str] = field(default_factory=Counter)
    letters: int = 0
    cautions: int = 0
    thoughts: int = 0
    reaches: int = 0  # of the hand, back to the keys from the tape or the camera

    @property
    def pressed(self) -> int:
        """All keys."""
        return self.keys.total()

    @property
    def seconds(self) -> float:
        """By the model."""
        return self.pressed * KEY + self.thoughts * THINKING + self.reaches * HOMING

    def table(self) -> str:
        """What took keys, the most first."""
        return "\n".join(f"{count:5}  {where}" for where, count in self.keys.most_common())

    def __str__(self) -> str:
        minutes, seconds = divmod(round(self.seconds), 60)
        return (
            f"{self.pressed} keys, {self.letters} of them letters and figures; {self.cautions} caution screens; "
            f"{minutes} min {seconds} s by the model, {self.thoughts} thoughts in it"
        )
