"""A cut roof said block by block, line by line: what stands, the next block, and what the blocks come to."""

from collections.abc import Callable

from sitelog.lines.talk import Talk
from sitelog.quantities.quantity import Units
from sitelog.refusal import Refusal
from sitelog.text import text_if
from sitelog.wording.building.blocks import DROP, built_on, examples, roof_in, said_in
from sitelog.wording.building.telling import lines_in_full, row_of

FIRST = (
    "Type the main roof: length x width, pitch, and any side that isn't a slope, such as main 9000x6000 40 BC gable."
)
NEXT = f"Type the next block, or {DROP} and the name of one, such as {DROP} wing. Press Enter when the roof is whole."
OPEN = "Press Enter to leave it blank until you know it."


def ask_building(talk: Talk, says: str, text: str, units: Units, keep: Callable[[str], object]) -> str:
    """Ask for block after block until an empty line; `keep` is given the text after each. Left on `back`.

    `text` is what stands from before; one that can't be read is left out.
    """
    talk.say(f"{says}.")
    try:
        roof_in(text)
    except Refusal:
        text = ""
    _tell(talk, text, units)
    while True:
        said = talk.ask(f"{NEXT if text else f'{FIRST} {OPEN}'} Type ? for examples.", _hearing(text), examples())
        if said is None:
            return text
        text = said
        keep(text)
        _tell(talk, text, units)


def _hearing(text: str) -> Callable[[str], str | None]:
    def hear(line: str) -> str | None:
        return built_on(text, line) if line else None

    return hear


def _tell(talk: Talk, text: str, units: Units) -> None:
    """What stands, block by block, then the corners and the lines that result."""
    roof = roof_in(text)
    if roof is None:
        talk.say("No block yet.")
        return
    for name, said in said_in(text).items():
        row = row_of(said, units)
        talk.say(f"{row}{text_if(name not in row.lower(), f' ({name})')}")
    talk.say(f"Corners: {', '.join(roof.plates.points)}.", *lines_in_full(roof))
