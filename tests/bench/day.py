"""A day at the keyboard, a hipped house from the first page to the printed pack: its keys, and seconds by a model."""

import asyncio
from dataclasses import dataclass
from pathlib import Path
from tempfile import TemporaryDirectory

from tests.day.house import ORCHARD
from tests.day.keys import THINKING
from tests.day.person import a_day

DEAREST = 12  # pages and checks that are printed, those that take the most keys


@dataclass(frozen=True)
class Told:
    """A line that sets no limit: tests/day holds the counts."""

    words: str
    kept: bool = True

    def __str__(self) -> str:
        return self.words


def rows() -> list[Told]:
    """The day, its six figures of the plates, and where its keys go."""
    with TemporaryDirectory() as folder:
        person = asyncio.run(a_day(Path(folder), ORCHARD))
    six = f"six figures of the plates and their verdict: {person.six.seconds + THINKING:.1f} s by the model"
    return [Told(str(person.spent)), Told(six), *map(Told, person.spent.table().splitlines()[:DEAREST])]
