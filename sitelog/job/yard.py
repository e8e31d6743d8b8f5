"""What a firm's yard sells: `yard.toml`, written by hand, read and proved whole.

    [47x150]
    lengths = [3600, 4200, 4800, 5400]   # mm, or "4.8m" in quotes
    pack = 10                            # sold ten at a time; leave it out where it is sold singly
    price_metre = 4.20                   # for a metre; or price_each, for each length
    long_from = 5400                     # from this length up ...
    long_adds = "10%"                    # ... it costs so much more

    [47x225]
    price_each = { 4800 = 31.50, 5400 = 36 }
    pack = { 4800 = 5 }

Either all sections have a price or none has. The form is our own.
"""

from collections.abc import Iterable
from pathlib import Path

from msgspec import Struct

from sitelog.calculators.timber.stick import STOCK_LENGTHS
from sitelog.checklist.schema.document import Fault, open_document
from sitelog.job.yard_section import SoldSection
from sitelog.quantities.quantity import Cut, Price, Section, read
from sitelog.refusal import Refusal
from sitelog.text import clean

YARD = "yard.toml"
HEAD = """\
# What the yard sells. Save this as yard.toml beside the job. Change the lengths to those that your yard has.
# Take the # off a line to use it. Either every section has a price or none has.
"""
REST = """\
# pack = 10                                   # sold ten at a time; for one length only: pack = { 4800 = 5 }
# price_metre = 4.20                          # price of a metre
# price_each = { 4800 = 21.60, 5400 = 25 }    # or the price of each length
# long_from = 5400                            # from this length up
# long_adds = "10%"                           # it costs so much more
"""
NO_FILE = ("can't be read", "this isn't a plain file", "this is over")  # how faults begin that are of no line


class Yard(Struct, frozen=True):
    """What is sold: a pack of each section and length [mm], and the price of one stick, where there are prices.

    `name` is the file, as it is shown.
    """

    name: str
    sold: tuple[Cut, ...]
    prices: tuple[Price, ...] = ()

    def lengths(self, section: Section) -> list[float]:
        """The lengths [mm] in which it sells that section."""
        return [one.length for one in self.sold if _same(one.section, section)]


def yard_for(files: Path | None) -> Path | None:
    """The yard file of a job, whose own folder is `files`: the one in there, or the firm's beside the job's file."""
    if files is None:
        return None
    return next((path for path in (files / YARD, files.parent / YARD) if path.exists()), None)


def longest_sold(folder: Path) -> float:
    """The longest stick [mm] of the firm's yard file in the folder of its jobs; 0 where there is none to be read."""
    if not (folder / YARD).exists():
        return 0.0
    try:
        return max(one.length for one in read_yard(folder / YARD).sold)
    except Refusal:  # the order says what is wrong in it
        return 0.0


def pattern(sections: Iterable[Section]) -> str:
    """A yard file of those sections to change with a text editor: the usual lengths, and how the rest is written."""
    told = [HEAD]
    for nth, section in enumerate(sections):
        lengths = ", ".join(map(str, STOCK_LENGTHS))
        told.append(f"[{section}]\nlengths = [{lengths}]\n{'' if nth else REST}")
    return "\n".join(told)


def read_yard(path: Path) -> Yard:
    """What the file says. Refusal in one line for its first fault: the section, what is wrong, what to type."""
    found = open_document(path)
    name = clean(path.name, most=60)
    if isinstance(found, Fault):
        at = "" if found.what.startswith(NO_FILE) else f", line {found.line}"
        raise Refusal(f"{name}{at}: {found.what}")
    sold: list[Cut] = []
    prices: list[Price] = []
    for title, table in found.data.items():
        section = _section(name, title, table, sold)
        of_it = SoldSection(f"{name}, {section}", section, table)
        sold += of_it.sold()
        prices += of_it.prices()
    _must_be_whole(name, sold, prices)
    return Yard(name, tuple(sold), tuple(prices))


def _section(name: str, title: str, table: object, sold: Iterable[Cut]) -> Section:
    """The section that a table is of, once."""
    shown = clean(title, most=40)
    if not isinstance(table, dict):
        raise Refusal(f"{name}: {shown} isn't under a section. Type [47x150] on a line of its own, and put it below")
    try:
        section = read("section", title)
    except Refusal:
        raise Refusal(f"{name}: [{shown}] isn't a section. Type thickness x depth, such as [47x150]") from None
    assert isinstance(section, Section)
    plain = Section(section.thickness, section.depth)
    if any(_same(one.section, plain) for one in sold):
        raise Refusal(f"{name}: {plain} is there twice. Put all its lengths under one [{plain}]")
    return plain


def _must_be_whole(name: str, sold: list[Cut], prices: list[Price]) -> None:
    """Refusal where nothing is sold, or some has a price and some has none."""
    if not sold:
        raise Refusal(f"{name} is empty. Type [47x150], and under it lengths = [3600, 4200, 4800]")
    without = next(
        (one.section for one in sold if not any(_same(price.section, one.section) for price in prices)), None
    )
    if prices and without:
        raise Refusal(
            f"{name}, {without}: no price, and other sections have one. Type price_metre = 4.20 under it, or take all"
            " prices out"
        )


def _same(one: Section, other: Section) -> bool:
    return (one.thickness, one.depth) == (other.thickness, other.depth)
