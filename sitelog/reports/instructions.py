"""Work that was asked beyond the drawing: a list for the record, and a sheet of its own for each to be signed."""

from collections.abc import Iterator

from sitelog.job.state.record_views import Instruction
from sitelog.reports.formatting import Formatter, joined
from sitelog.reports.model import Block, Leaf, Section, Shot, Shots, Table, Words

TITLE = "Instructions beyond the drawing"
BLANK = "to be agreed"  # what nobody has said yet
TERMS = "This work is not on the drawing. Sign to confirm that it was asked for; the price is agreed between the firms."
LINE = "____________"  # to be written on
SIGNATURE = "A typed name shows who typed it, and no more."


def section(tell: Formatter) -> Iterator[Section]:
    """Every instruction of the job in one table; none for a job without."""
    rows = tuple(
        (
            one.id,
            joined([f"TAKEN BACK: {one.text}" if one.undone else one.text, tell.called(one.path)], "\n"),
            f"{one.who}\n{tell.day(one.day)}",
            one.hours,
            joined([one.timber, _photos(one)], "\n"),
            f"{one.by}\n{tell.when(one.at)}",
        )
        for one in tell.state.instructions
    )
    if rows:
        heads = ("No", "What was asked, where", "By whom, when", "Hours", "Timber, photos", "Entered by")
        yield Section("instructions", TITLE, (Table(heads, rows, (1, 7, 5, 2, 5, 4)),))


def sheet(tell: Formatter, one: Instruction) -> Leaf:
    """The sheet of one instruction: what, where, by whom, when, what it takes, and room for two signatures."""
    return Leaf(f"Instruction {one.id}", tuple(_blocks(tell, one)))


def _blocks(tell: Formatter, one: Instruction) -> Iterator[Block]:
    rows = (
        ("What was asked", one.text),
        ("Where", tell.called(one.path) or "The job"),
        ("Asked by", one.who),
        ("Asked on", tell.day(one.day)),
        ("Hours", one.hours or BLANK),
        ("Timber and fixings", one.timber or BLANK),
        ("Photos", _photos(one) or "none"),
        ("Entered by", f"{one.by} (typed name), {tell.when(one.at)}"),
    )
    yield Table(("Instruction", ""), rows, (3, 9))
    there = {shown.taken.photo for shown in tell.album if shown.stand == "there"}
    shots = tuple(Shot(photo.file, one.text, photo.name) for photo in one.photos if photo in there)
    if shots:
        yield Shots(shots)
    yield Words(TERMS, strong=True)
    signed = ((one.who, LINE, LINE, LINE), ("For the carpenters", LINE, LINE, LINE))
    yield Table(("Signed", "Name", "Signature", "Date"), signed, (4, 4, 5, 3))
    yield Words(SIGNATURE)


def _photos(one: Instruction) -> str:
    return joined([*(photo.name for photo in one.photos), one.photo])
