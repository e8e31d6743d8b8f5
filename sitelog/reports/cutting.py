"""The cutting list and the order as rows of words, for the pack, the screen and the command line alike."""

from collections.abc import Iterable, Iterator, Sequence
from contextlib import suppress
from itertools import groupby
from textwrap import wrap

from msgspec import Struct

from sitelog.calculators import index, sheet
from sitelog.calculators.timber.members import End, Member, write_members
from sitelog.checklist.schema.model import Library
from sitelog.job.buying import Purchase, buy, ordered, totals, write_plan
from sitelog.job.facts.schema import JOB
from sitelog.job.members import Beside, Line, members
from sitelog.job.state.views import State
from sitelog.quantities.quantity import Units, show, show_length
from sitelog.quantities.rounding import places
from sitelog.refusal import Refusal
from sitelog.reports.formatting import WITHHELD, called
from sitelog.reports.model import Block, Items, Section, Table, Words
from sitelog.text import clean

HEADS = ("Member", "Length", "How many", "Cuts (from square)", "Mark and notes", "kg each", "Based on")
SHARES = (7, 3, 4, 8, 4, 3, 4)
ABOVE = "as above"
MOST_NAMED = 3  # figures named of those that are still off the drawing
MARK = "Mark at"  # how the calculators call a mark on the plate
LONG_POINT = (
    "Lengths are from long point to long point. Left or right: the side the long point is on,"
    " looking up the timber from its foot."
)
FROM_HERE = "Check each length on the roof before you cut. The engineer gives sections and joints."


class Entry(Struct, frozen=True):
    """A line of the list in words; left and right hands of one piece are told together."""

    key: str
    line: Line
    what: str
    section: str
    length: str
    count: str
    cuts: str
    more: str
    mass: str
    stands: str

    @property
    def row(self) -> tuple[str, ...]:
        """The cells of its row, in the order of HEADS."""
        return self.what, self.length, self.count, self.cuts, self.more, self.mass, self.stands


def all_lines(state: State, library: Library, part: str = "") -> tuple[Line, ...]:
    """The lines of one part, or of every part of the roof in their order. Refusal for a part that is not there."""
    known = [one.id for one in state.parts if one.id != JOB]
    if part and part not in known:
        raise Refusal(f"{clean(part, most=40)!r} isn't a part of this job. Parts are {', '.join(known)}")
    return tuple(line for one in known if part in ("", one) for line in members(state, library, one))


def entries(lines: Sequence[Line], state: State) -> list[Entry]:
    """The lines in words, in their order."""
    found: list[Entry] = []
    for _, alike in groupby(lines, key=_alike):
        group = [*alike]
        found.append(_entry(f"{len(found)}", group, state))
    return found


def _alike(line: Line) -> tuple[object, ...]:
    one = line.member
    return (line.part, line.id, one.part, one.length) if one else (line.part, line.id, line.refusal, 0)


def _entry(key: str, group: Sequence[Line], state: State) -> Entry:
    line, one, units = group[0], group[0].member, state.units
    if one is None:
        return Entry(key, line, line.says, "", "", "", "", line.refusal, "", "left off the list")
    if line.standing == "stale":
        return Entry(
            key,
            line,
            one.part,
            str(one.section),
            WITHHELD,
            "",
            "",
            "",
            "",
            f"do again first: {'; '.join(called(state, path) or path for path in line.waits)}",
        )
    return Entry(
        key,
        line,
        one.part,
        str(one.section),
        show_length(one.length, units),
        _count([other.member for other in group if other.member]),
        cuts(one, units),
        "; ".join(
            f"{told.says[:1].lower()}{told.says[1:]} {show(told.unit, told.value, units)}" for told in line.shows
        ),
        "" if one.mass is None else places(one.mass, 1),
        _stands(line, state),
    )


def _beside(told: Beside, units: Units) -> str:
    if told.says.startswith(MARK):
        return f"at {show_length(told.value, units)}"  # type: ignore[arg-type]
    return f"{told.says[:1].lower()}{told.says[1:]} {show(told.unit, told.value, units)}"


def _count(group: Sequence[Member]) -> str:
    count = sum(one.count for one in group)
    hands = [f"{one.count} {one.head.hand or one.foot.hand}" for one in group if one.head.hand or one.foot.hand]
    return f"{count}: {', '.join(hands)}" if hands else str(count)


def _stands(line: Line, state: State) -> str:
    """Built; or what is still off the drawing, in the words of the facts."""
    if line.standing != "drawn":
        return "built"
    facts = (state.facts.get(f"{line.part}.{name}") or state.facts.get(f"{JOB}.{name}") for name in line.waits)
    says = [fact.says if fact else name for fact, name in zip(facts, line.waits, strict=True)]
    more = f", and {len(says) - MOST_NAMED} more" if len(says) > MOST_NAMED else ""
    return f"drawn: {'; '.join(says[:MOST_NAMED])}{more}"


def cuts(member: Member, units: Units) -> str:
    """Both ends in words; "square" where nothing else is said of either."""
    ends = (("head", _end(member.head, units)), ("foot", _end(member.foot, units)))
    return "; ".join(f"{name} {said}" for name, said in ends if said) or "square"


def _end(end: End, units: Units) -> str:
    pairs = ((end.called, end.cut, 0.0), ("edge", end.bevel, end.bevel_2), ("tilt", end.tilt, end.tilt_2))
    said = [f"{name} {_both(first, second, units)}" for name, first, second in pairs if first]
    if end.seat:
        said.append(f"seat {_both(end.seat, 0.0, units)}")
    return ", ".join(said)


def _both(first: float, second: float, units: Units) -> str:
    """Of two cheeks, or of one where they are cut alike."""
    near, far = show("deg", first, units), show("deg", second, units)
    if not second:
        return near
    return f"{near} both" if near == far else f"{near} and {far}"


# --- plain lines --------------------------------------------------------------------------------------------------

WIDTH = 80
PLAIN_HEAD = f"  {'member':<31} {'length':>9} {'how many':<18} {'kg':>6} {'mark':>8}"


def plain(lines: Sequence[Line], state: State) -> Iterator[str]:
    """The list as lines of 80 columns: what changes from row to row in columns, cuts and standing where they change."""
    found = entries(lines, state)
    listed = [entry for entry in found if entry.line.member]
    for section in dict.fromkeys(entry.section for entry in listed):
        yield ""
        yield _total(section, lines)
        yield PLAIN_HEAD
        yield from _rows([entry for entry in listed if entry.section == section], state.units)
    left = [entry for entry in found if not entry.line.member]
    if left:
        yield ""
        yield "left off the list, and why"
        for entry in left:
            yield from _wrapped(f"{entry.what}: {entry.more}")


def _rows(section: Sequence[Entry], units: Units) -> Iterator[str]:
    """The rows of one section, under their cuts and standing wherever these change."""
    before = ("", "")
    for entry in section:
        if (entry.cuts, entry.stands) != before:
            yield from _wrapped(f"{entry.cuts or WITHHELD} ({entry.stands})")
        before = (entry.cuts, entry.stands)
        yield from _row(entry, units)


def _row(entry: Entry, units: Units) -> Iterator[str]:
    mark = next((_beside(told, units) for told in entry.line.shows if told.says.startswith(MARK)), "")
    length = "withheld" if entry.line.standing == "stale" else entry.length
    yield f"  {entry.what[:31]:<31} {length:>9} {entry.count:<18} {entry.mass:>6} {mark:>8}".rstrip()
    if entry.more and not mark:
        yield from _wrapped(f"  {entry.more}")


def introduced() -> list[str]:
    """What is said before the list."""
    return wrap(f"{LONG_POINT} {FROM_HERE}", WIDTH)


def _wrapped(words: str) -> list[str]:
    return wrap(words, WIDTH, initial_indent="    ", subsequent_indent="      ")


# --- the pack -----------------------------------------------------------------------------------------------------


def cutting(state: State, lines: Sequence[Line]) -> Iterator[Section]:
    """The cutting list of every part that has one, and what to buy for all of them."""
    for part in state.parts:
        own = [line for line in lines if line.part == part.id]
        if own:
            yield Section(f"{part.id}-cutting", f"{part.title}: cutting list", tuple(_list(own, state)))
    if lines:
        yield Section("order", "Timber to order", tuple(_order(lines, state.units)))


def _list(lines: Sequence[Line], state: State) -> Iterator[Block]:
    yield Words(f"{LONG_POINT} {FROM_HERE}")
    found = entries(lines, state)
    listed = [one for one in found if one.line.member]
    for section in dict.fromkeys(one.section for one in listed):
        own = [one for one in listed if one.section == section]
        yield Table(HEADS, tuple(_sparse(own)), SHARES, caption=_total(section, lines))
    left = tuple((one.what, (one.more,)) for one in found if not one.line.member)
    if left:
        yield Words("Left off the list, and why:", strong=True)
        yield Items(left)


def _sparse(rows: Iterable[Entry]) -> Iterator[tuple[str, ...]]:
    """Rows whose cuts and standing are told once, as long as they stay the same."""
    cuts_before = stands_before = ""
    for one in rows:
        yield (*one.row[:3], _again(one.cuts, cuts_before), one.more, one.mass, _again(one.stands, stands_before))
        cuts_before, stands_before = one.cuts, one.stands


def _again(said: str, before: str) -> str:
    return ABOVE if said == before and len(said) > len(ABOVE) else said


def _total(section: str, lines: Sequence[Line]) -> str:
    for one in totals(lines):
        if str(one.section) == section:
            return told_total(str(one.section), one.count, one.length, one.mass)
    return section


def told_total(section: str, count: int, length_mm: float, mass: float) -> str:
    """One section's pieces together."""
    return (
        f"{section}: {count} piece{'s' if count != 1 else ''}, {places(length_mm / 1000, 1)} m,"
        f" {places(mass, 0)} kg dry"
    )


def _order(lines: Sequence[Line], units: Units) -> Iterator[Block]:
    try:
        purchase = buy(lines)
    except Refusal as refusal:
        yield Words(f"Can't work out what to buy: {refusal.message}.", strong=True)
        return
    yield from (Words(said, strong=True) for said in not_bought(purchase))
    results = {one.name: one for one in index.find("stock").results}
    for name in ("buy", "plan"):
        rows = purchase.answer.results[name]
        assert isinstance(rows, list)
        one = sheet.table(results[name], rows, units)
        yield Table(one.header, one.rows, caption=results[name].says.capitalize())
    waste = show("", purchase.answer.results["waste_percent"])  # type: ignore[arg-type]
    yield Words(f"Waste: {waste} %. Lengths are rounded up to the mm.")
    yield from (Words(f"{note[:1].upper()}{note[1:]}.") for note in purchase.answer.notes)


def not_bought(purchase: Purchase) -> Iterator[str]:
    """What the order leaves out, a line each kind; and which sticks of it are ripped in two."""
    special = dict.fromkeys(line.member.part for line in purchase.special if line.member)
    if special:
        yield f"Longer than any stock length, so not ordered. Ask the engineer about a joint: {', '.join(special)}."
    for stale in (True, False):
        left = dict.fromkeys(line.says for line in purchase.left if (line.standing == "stale") == stale)
        if left:
            why = "a figure it uses is out of date" if stale else "see the list for what is needed"
            yield f"Not ordered, {why}: {', '.join(left)}."
    for section, count in purchase.pairs:
        pieces = f"{count} pieces of {section} are each" if count != 1 else f"1 piece of {section} is"
        yield f"{pieces} ripped into two firrings, head to foot, one saw cut between them."


def files(lines: Sequence[Line]) -> Iterator[tuple[str, str]]:
    """The lists that go with the pack for other programs: the members, and what to buy where that can be worked."""
    if made := ordered(lines, by_part=len({line.part for line in lines}) > 1):
        yield "members.csv", write_members(made)
        with suppress(Refusal):  # the page says why
            yield "order.csv", write_plan(buy(lines))
