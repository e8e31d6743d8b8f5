"""The cutting list and the order as rows of words, for the pack, the screen and the command line alike."""

from collections.abc import Iterable, Iterator, Sequence
from contextlib import suppress
from itertools import groupby
from textwrap import wrap

from msgspec import Struct

from sitelog.calculators import index, sheet
from sitelog.calculators.timber.members import End, Member, write_members
from sitelog.checklist.schema.model import Library
from sitelog.job.batches import SEEN, Batch, batches, same_length, still_short
from sitelog.job.buying import Purchase, buy, ordered, totals, write_plan
from sitelog.job.facts.schema import JOB
from sitelog.job.members import Beside, Line, Standing, members
from sitelog.job.state.views import State
from sitelog.quantities.quantity import Units, show, show_length
from sitelog.quantities.rounding import places
from sitelog.refusal import Refusal
from sitelog.reports.formatting import WITHHELD, called
from sitelog.reports.model import Block, Items, Section, Table, Words
from sitelog.text import clean

HEADS = ("Timber", "Length", "How many", "Cuts (from square)", "Marks and notes", "kg each", "Based on")
SHARES = (5, 3, 3, 8, 7, 3, 4)
ABOVE = "as above"
MOST_NAMED = 3  # figures named of those that are still off the drawing
MARK = "Mark"  # how the calculators call a mark on the plate
LONG_POINT = (
    "Lengths are from long point to long point. Left or right: the side the long point is on,"
    " looking up the timber from its foot."
)
FROM_HERE = "Check each length on the roof before you cut. The engineer gives sections and joints."


class Entry(Struct, frozen=True):
    """A line of the list in words: a batch of pieces that are the same, or a line that is left off and why."""

    key: str
    part: str
    standing: Standing
    what: str
    section: str
    length: str
    count: str
    cuts: str
    marks: str
    more: str
    mass: str
    stands: str
    batch: Batch | None = None

    @property
    def row(self) -> tuple[str, ...]:
        """The cells of its row, in the order of HEADS."""
        notes = "; ".join(filter(None, (self.marks, self.more)))
        return self.what, self.length, self.count, self.cuts, notes, self.mass, self.stands


def all_lines(state: State, library: Library, part: str = "") -> tuple[Line, ...]:
    """The lines of one part, or of every part of the roof in their order. Refusal for a part that is not there."""
    known = [one.id for one in state.parts if one.id != JOB]
    if part and part not in known:
        raise Refusal(f"{clean(part, most=40)!r} isn't a part of this job. Parts are {', '.join(known)}")
    return tuple(line for one in known if part in ("", one) for line in members(state, library, one))


def entries(lines: Sequence[Line], state: State) -> list[Entry]:
    """The lines in words: batches as a saw is set for them, then what is out of date, then what is left off."""
    found = [_of_batch(f"{number}", batch, state) for number, batch in enumerate(counted(lines, state), 1)]
    bad = [line for line in lines if not line.good]
    for line in sorted(bad, key=lambda one: one.member is None):
        found.append(_not_good(f"{len(found) + 1}", line, state))
    return found


def counted(lines: Iterable[Line], state: State) -> list[Batch]:
    """The batches of the lines, with what has been cut of them."""
    return batches(lines, state.tallies, same_length(state))


def to_order(lines: Sequence[Line], state: State) -> tuple[Line, ...]:
    """What is still to be cut of the lines: an order asks for no more."""
    return still_short(lines, counted(lines, state))


def _not_good(key: str, line: Line, state: State) -> Entry:
    """A line that is not to be cut: it rests on what is out of date, or there is no member."""
    if line.member is None:
        return Entry(key, line.part, "none", line.says, "", "", "", "", "", line.refusal, "", "left off the list")
    again = f"do again first: {'; '.join(called(state, path) or path for path in line.waits)}"
    section = str(line.member.section)
    return Entry(key, line.part, "stale", line.member.part, section, WITHHELD, "", "", "", "", "", again)


def _of_batch(key: str, batch: Batch, state: State) -> Entry:
    line = batch.pieces[0].line
    member = line.member
    assert member is not None
    units = state.units
    told = [_beside(one, units) for one in line.shows if not one.says.startswith(MARK)]
    if batch.spread >= SEEN:
        told.insert(0, f"within {show_length(batch.spread, units)}: one length for all, that the widest gap")
    if batch.cut or batch.up or batch.spoiled:
        told.insert(0, progress(batch))
    return Entry(
        key,
        line.part,
        batch.standing,
        f"{batch.alike.what}, {batch.hand}" if batch.hand else batch.alike.what,
        str(batch.section),
        show_length(batch.length, units),
        str(batch.count),
        cuts(member, units),
        marks(batch),
        "; ".join(told),
        "" if member.mass is None else places(member.mass, 1),
        _stands([piece.line for piece in batch.pieces], state),
        batch,
    )


def progress(batch: Batch) -> str:
    """How far a batch is: `cut 12, up 6, spoiled 1, short 7`."""
    told = (("cut", batch.cut), ("up", batch.up), ("spoiled", batch.spoiled), ("short", batch.short))
    return ", ".join(f"{word} {count}" for word, count in told if count or word in ("cut", "short"))


def marks(batch: Batch) -> str:
    """The mark to write on each piece, runs of them together: `AB 1 to 9, CD 1 to 9`."""
    found = [(piece.mark, piece.line.member.count if piece.line.member else 0) for piece in batch.pieces]
    if len(found) == 1 and found[0][0] == batch.alike.what and batch.count > 1:
        return f"1 to {batch.count}"
    told = []
    for side, group in groupby(found, key=lambda one: one[0].rpartition(" ")[0] if one[0][-1].isdigit() else one[0]):
        members = list(group)
        numbers = [int(mark.rpartition(" ")[2]) for mark, _ in members if mark[-1].isdigit()]
        told += [f"{side} {run}" for run in _runs(numbers)] or [_numbered(*members[0])]
    return ", ".join(told)


def _numbered(mark: str, count: int) -> str:
    return f"{mark} 1 to {count}" if count > 1 else mark


def _runs(numbers: Sequence[int]) -> list[str]:
    """Runs of numbers in words: 1, 2, 3, 5 are `1 to 3` and `5`."""
    runs: list[list[int]] = []
    for number in sorted(numbers):
        if runs and number == runs[-1][-1] + 1:
            runs[-1].append(number)
        else:
            runs.append([number])
    return [f"{run[0]} to {run[-1]}" if len(run) > 1 else f"{run[0]}" for run in runs]


def _beside(told: Beside, units: Units) -> str:
    return f"{told.says[:1].lower()}{told.says[1:]} {show(told.unit, told.value, units)}"


def _stands(lines: Sequence[Line], state: State) -> str:
    """Built; or what is still off the drawing, in the words of the facts."""
    if lines[0].standing != "drawn":
        return "built"
    waits = dict.fromkeys((line.part, name) for line in lines for name in line.waits)
    facts = {name: state.facts.get(f"{part}.{name}") or state.facts.get(f"{JOB}.{name}") for part, name in waits}
    says = [fact.says if fact else name for name, fact in facts.items()]
    more = f", and {len(says) - MOST_NAMED} more" if len(says) > MOST_NAMED else ""
    return f"drawn: {'; '.join(says[:MOST_NAMED])}{more}"


def set_out(lines: Iterable[Line], units: Units) -> list[tuple[str, str]]:
    """Marks along the plates, by side: each piece's number and how far its middle is from the corner."""
    found: dict[str, dict[str, str]] = {}
    for line in lines:
        at = next((told for told in line.shows if told.says.startswith(MARK)), None)
        if line.good and line.number and at:
            lead = f"{line.says}, from the corner"
            found.setdefault(lead, {})[line.number] = f"{line.number} at {show_length(at.value, units)}"  # type: ignore[arg-type]
    return [(lead, ", ".join(told.values())) for lead, told in found.items()]


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
PLAIN_HEAD = f"  {'no.':>4} {'timber':<22} {'length':>9} {'kg':>6}  marks"


def plain(lines: Sequence[Line], state: State) -> Iterator[str]:
    """The list as lines of 80 columns: what changes from row to row in columns, cuts and standing where they change."""
    found = entries(lines, state)
    listed = [entry for entry in found if entry.section]
    for section in dict.fromkeys(entry.section for entry in listed):
        yield ""
        yield _total(section, lines)
        yield PLAIN_HEAD
        yield from _rows([entry for entry in listed if entry.section == section])
    for lead, told in set_out(lines, state.units):
        yield ""
        yield from _wrapped(f"{lead}: {told}")
    left = [entry for entry in found if not entry.section]
    if left:
        yield ""
        yield "left off the list, and why"
        for entry in left:
            yield from _wrapped(f"{entry.what}: {entry.more}")


def _rows(section: Sequence[Entry]) -> Iterator[str]:
    """The rows of one section, under their cuts, and what those of one setting stand on together."""
    for (cuts_told, _), group in groupby(section, key=lambda entry: (entry.cuts, entry.standing)):
        alike = list(group)
        stands = "; ".join(dict.fromkeys(entry.stands for entry in alike))
        yield from _wrapped(f"{cuts_told or WITHHELD} ({stands})")
        for entry in alike:
            yield from _row(entry)


def _row(entry: Entry) -> Iterator[str]:
    length = "withheld" if entry.standing == "stale" else entry.length
    lead = f"  {entry.count:>4} {entry.what[:22]:<22} {length:>9} {entry.mass:>6}  "
    first, *others = wrap(entry.marks, WIDTH - len(lead)) or [""]
    yield f"{lead}{first}".rstrip()
    yield from (f"{'':{len(lead)}}{more}" for more in others)
    if entry.more:
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
        yield Section("order", "Timber to order", tuple(_order(to_order(lines, state), state.units)))


def _list(lines: Sequence[Line], state: State) -> Iterator[Block]:
    yield Words(f"{LONG_POINT} {FROM_HERE}")
    found = entries(lines, state)
    listed = [one for one in found if one.section]
    for section in dict.fromkeys(one.section for one in listed):
        own = [one for one in listed if one.section == section]
        yield Table(HEADS, tuple(_sparse(own)), SHARES, caption=_total(section, lines))
    if marked := set_out(lines, state.units):
        yield Table(("Marks along the plates", "Number, and its middle from the corner"), tuple(marked), (3, 8))
    left = tuple((one.what, (one.more,)) for one in found if not one.section)
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


def files(lines: Sequence[Line], state: State) -> Iterator[tuple[str, str]]:
    """The lists that go with the pack for other programs: the members, and what to buy where that can be worked."""
    if made := ordered(lines, by_part=len({line.part for line in lines}) > 1):
        yield "members.csv", write_members(made)
        with suppress(Refusal):  # the page says why
            yield "order.csv", write_plan(buy(to_order(lines, state)))
