"""The list of members: what each piece of the roof is, its cuts at both ends, and how it is written as a CSV file."""

import csv
import io
from collections.abc import Iterable, Iterator, Mapping
from typing import Literal, get_args

from msgspec import Struct

from sitelog.quantities.quantity import Cut, Kind, Section, Value, read
from sitelog.quantities.rounding import as_typed
from sitelog.refusal import Refusal
from sitelog.text import clean, text_if

Hand = Literal["", "left", "right"]
HANDS: tuple[Hand, ...] = get_args(Hand)
NEEDED = ("part", "section", "length", "count")
ANGLES = ("cut", "seat", "bevel", "bevel_2", "tilt", "tilt_2")  # of an end, in the order of the file
ENDS = ("head", "foot")
COLUMNS = (*NEEDED, *(f"{end}_{cell}" for end in ENDS for cell in (*ANGLES, "hand")), "mass")
UNITS = {"section": "mm", "length": "mm", "mass": "kg"} | {f"{end}_{cell}": "deg" for end in ENDS for cell in ANGLES}
HEADER = tuple(f"{name}_{UNITS[name]}" if name in UNITS else name for name in COLUMNS)  # as it is written
MOST = 2_000
_WITHOUT_UNIT = dict(zip(HEADER, COLUMNS, strict=True))

_LIVE = ("=", "+", "-", "@", "'")  # a spreadsheet takes a cell that starts so for a sum; ' marks it as words


class End(Struct, frozen=True):
    """The cuts of one end, in degrees from square, 0 where there is none.

    `cut` is across the face (the plumb cut), `seat` of the birdsmouth there, `bevel` across the top edge, `tilt` of
    the saw that follows the plumb line; `_2` is the other cheek. `hand` is the side of the long point as seen along
    the member from its foot, top edge up; none where both sides are alike.
    """

    cut: float = 0.0
    seat: float = 0.0
    bevel: float = 0.0
    bevel_2: float = 0.0
    tilt: float = 0.0
    tilt_2: float = 0.0
    hand: Hand = ""
    called: str = "plumb"  # what a person calls the cut across the face; a file has no cell for it

    def __post_init__(self) -> None:
        for name in ANGLES:
            if not 0 <= getattr(self, name) < 90:
                called = name.removesuffix("_2")
                raise Refusal(
                    f"a {called} is {as_typed(getattr(self, name))} degrees from square; it must be at least 0 "
                    "and under 90"
                )
        if self.hand not in HANDS:
            raise Refusal(f"a cut's hand is '{clean(str(self.hand), most=20)}'; it must be left, right or blank")


class Member(Struct, frozen=True):
    """One kind of member: `length` in mm from long point to long point, `count` of them, `mass` in kg of one."""

    part: str
    section: Section
    length: float
    count: int = 1
    head: End = End()
    foot: End = End()
    mass: float | None = None

    def __post_init__(self) -> None:
        for name, number in (("length", self.length), ("count", self.count), ("mass", self.mass)):
            if number is not None and not 0 < number < 1e9:
                raise Refusal(f"a member's {name} is {as_typed(number)}; it must be over 0")


def write_members(members: Iterable[Member]) -> str:
    """The members as CSV, its headings with their units (mm, deg, kg). Words that a spreadsheet would
    take for a sum are marked, and `read_members` takes the mark off."""
    written = io.StringIO()
    writer = csv.writer(written, lineterminator="\n")
    writer.writerow(HEADER)
    for member in members:
        ends = [cell for end in (member.head, member.foot) for cell in _cells(end)]
        mass = "" if member.mass is None else _figure(member.mass)
        writer.writerow((as_words(member.part), member.section, _figure(member.length), member.count, *ends, mass))
    return written.getvalue()


def as_words(text: str) -> str:
    """The text of a cell, marked where a spreadsheet would take it for a sum."""
    if text.startswith(_LIVE):
        return f"'{text}"
    return text


def _cells(end: End) -> tuple[str, ...]:
    """The plumb cut, told though it is square; of the rest those there are."""
    others = (_figure(angle) if (angle := getattr(end, name)) else "" for name in ANGLES[1:])
    return (_figure(end.cut), *others, end.hand)


def _figure(number: float) -> str:
    """To a millionth, and never with an exponent, which `read_members` would not take."""
    return f"{number:.6f}".rstrip("0").rstrip(".")


def read_members(text: str) -> tuple[Member, ...]:
    """The members of a CSV file: a header, then a line each.

    A heading may have its unit (`length_mm`). `part`, `section`, `length` and `count` are needed; of the rest what is
    left out is a square cut without a hand, and no mass. Lengths, sections and angles are written as anywhere. Refusal
    names the first line that can't be.
    """
    rows = list(_rows(text))
    if not rows:
        raise Refusal(f"members: the file is empty; its first line must be {','.join(NEEDED)}")
    header = _header(rows[0][1])
    if len(rows) == 1:
        raise Refusal("members: the file has only its header; add one member on each line")
    if len(rows) > MOST + 1:
        raise Refusal(f"members: the file has {len(rows) - 1} lines; give at most {MOST}")
    members, faults = [], []
    for line, cells in rows[1:]:
        try:
            members.append(_member(header, cells))
        except Refusal as refusal:
            faults.append(f"members line {line}: {refusal.message}")
    if faults:
        more = text_if(len(faults) > 1, f"; {len(faults) - 1} more of its lines can't be read either")
        raise Refusal(f"{faults[0]}{more}")
    return tuple(members)


def cuts_of(members: Iterable[Member]) -> tuple[Cut, ...]:
    """What has to be sawn for them."""
    return tuple(Cut(member.section, member.length, member.count) for member in members)


def _rows(text: str) -> Iterator[tuple[int, list[str]]]:
    """Each row that has anything in it, with the number of the line it ends on."""
    reader = csv.reader(io.StringIO(text, newline=""), strict=True)
    try:
        for cells in reader:
            if any(cell.strip() for cell in cells):
                yield reader.line_num, [cell.strip() for cell in cells]
    except csv.Error as error:
        raise Refusal(f"members line {reader.line_num}: this isn't a line of a CSV file ({error})") from None


def _header(cells: list[str]) -> list[str]:
    names = [_WITHOUT_UNIT.get(cell.lower(), cell.lower()) for cell in cells]
    missing = [name for name in NEEDED if name not in names]
    strange = [name for name in names if name not in COLUMNS]
    if missing or strange or len(set(names)) < len(names):
        given = clean(",".join(names)[:200], most=60)
        raise Refusal(
            f"members line 1: the header is '{given}'; it must be {','.join(NEEDED)}, and you can add any of "
            f"{','.join(COLUMNS[4:])}"
        )
    return names


def _member(header: list[str], cells: list[str]) -> Member:
    if len(cells) != len(header):
        raise Refusal(f"it has {len(cells)} cells and the header has {len(header)}; put commas between them")
    row = dict(zip(header, cells, strict=True))
    part = row["part"][1:] if row["part"].startswith("'") and row["part"][1:].startswith(_LIVE) else row["part"]
    head, foot = (_end(row, at) for at in ENDS)
    section = _cell("section", row, "section")
    assert isinstance(section, Section)
    return Member(
        str(read("text", part, name="part")),
        section,
        _number("length", row, "length") or 0.0,
        int(_number("count", row, "count") or 0),
        head,
        foot,
        _number("number", row, "mass"),
    )


def _end(row: Mapping[str, str], at: str) -> End:
    angles = {name: _number("angle", row, f"{at}_{name}") or 0.0 for name in ANGLES}
    cut, seat, bevel, bevel_2, tilt, tilt_2 = (angles[name] for name in ANGLES)
    return End(cut, seat, bevel, bevel_2, tilt, tilt_2, _hand(row, f"{at}_hand"))


def _cell(kind: Kind, row: Mapping[str, str], name: str) -> Value:
    """The value of a cell; None of an empty one that may be."""
    if not row.get(name) and name not in NEEDED:
        return None
    return read(kind, row[name], name=name)


def _number(kind: Kind, row: Mapping[str, str], name: str) -> float | None:
    value = _cell(kind, row, name)
    assert value is None or isinstance(value, (int, float))
    return value


def _hand(row: Mapping[str, str], name: str) -> Hand:
    given = row.get(name, "").lower()
    for hand in HANDS:
        if given == hand:
            return hand
    raise Refusal(f"{name} is '{clean(given[:100], most=20)}'; it must be left, right or blank")
