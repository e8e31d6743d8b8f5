"""Work that was asked beyond the drawing: a list for the record, and a sheet of its own for each to be signed."""

from collections.abc import Iterator

from sitelog.job.state.record_views import Instruction
from sitelog.reports.formatting import Formatter
from sitelog.reports.model import Block, Leaf, Section, Shot, Shots, Table, Words
from sitelog.reports.phrases import joined

TITLE = "Instructions beyond the drawing"
BLANK = "to be agreed"  # what nobody has said yet
TERMS = "This work is not on the drawing. Sign to confirm that it was asked for; the price is agreed between the firms."
LINE = "____________"  # to be written on
SIGNATURE = "A typed name shows who typed it, and no more."


def section(tell: Formatter) -> Iterator[Section]:
    """Every instruction of the job in one table; none for a job without."""
    rows = tuple(
        (
            instruction.id,
            joined(
                [
                    f"TAKEN BACK: {instruction.text}" if instruction.undone else instruction.text,
                    tell.called(instruction.path),
                ],
                "\n",
            ),
            f"{instruction.who}\n{tell.day(instruction.day)}",
            instruction.hours,
            joined([instruction.timber, _photos(instruction)], "\n"),
            f"{instruction.by}\n{tell.when(instruction.at)}",
        )
        for instruction in tell.state.instructions
    )
    if rows:
        heads = ("No", "What was asked, where", "By whom, when", "Hours", "Timber, photos", "Entered by")
        yield Section("instructions", TITLE, (Table(heads, rows, (1, 7, 5, 2, 5, 4)),))


def sheet(tell: Formatter, instruction: Instruction) -> Leaf:
    """The sheet of one instruction: what, where, by whom, when, what it takes, and room for two signatures."""
    return Leaf(f"Instruction {instruction.id}", tuple(_blocks(tell, instruction)))


def _blocks(tell: Formatter, instruction: Instruction) -> Iterator[Block]:
    rows = (
        ("What was asked", instruction.text),
        ("Where", tell.called(instruction.path) or "The job"),
        ("Asked by", instruction.who),
        ("Asked on", tell.day(instruction.day)),
        ("Hours", instruction.hours or BLANK),
        ("Timber and fixings", instruction.timber or BLANK),
        ("Photos", _photos(instruction) or "none"),
        ("Entered by", f"{instruction.by} (typed name), {tell.when(instruction.at)}"),
    )
    yield Table(("Instruction", ""), rows, (3, 9))
    there = {shown.taken.photo for shown in tell.album if shown.stand == "there"}
    shots = tuple(Shot(photo.file, instruction.text, photo.name) for photo in instruction.photos if photo in there)
    if shots:
        yield Shots(shots)
    yield Words(TERMS, strong=True)
    signed = ((instruction.who, LINE, LINE, LINE), ("For the carpenters", LINE, LINE, LINE))
    yield Table(("Signed", "Name", "Signature", "Date"), signed, (4, 4, 5, 3))
    yield Words(SIGNATURE)


def _photos(instruction: Instruction) -> str:
    return joined([*(photo.name for photo in instruction.photos), instruction.photo])
