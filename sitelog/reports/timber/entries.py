"""The cutting list in words: a batch of pieces that are the same is one entry, for every front alike."""

from collections.abc import Iterable, Iterator, Sequence
from itertools import groupby

from msgspec import Struct

from sitelog.calculators.setting_out.spaced import TOO_NEAR
from sitelog.calculators.timber.members import End, Member
from sitelog.checklist.schema.model import Library
from sitelog.job.batches import SEEN, Batch, Piece, batches, not_wanted, same_length, still_short
from sitelog.job.facts.schema import JOB
from sitelog.job.facts.trial import Corrected, Trial
from sitelog.job.members import Beside, Line, Standing, members
from sitelog.job.state.record_views import Tally
from sitelog.job.state.views import State
from sitelog.quantities.quantity import Units, show, show_length
from sitelog.quantities.rounding import places
from sitelog.refusal import Refusal
from sitelog.reports.formatting import WITHHELD
from sitelog.reports.phrases import called, joined, name_of
from sitelog.text import clean, text_if

MOST_NAMED = 3  # figures named of those that are still off the drawing
MARK = "Mark"  # how the calculators call a mark on the plate


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
    def trial(self) -> str:
        """`held` till one is tried, `corrected` as tried, or `tried`; "" where none is."""
        return self.batch.trial.word if self.batch and self.batch.trial else ""


def all_lines(state: State, library: Library, part: str = "") -> tuple[Line, ...]:
    """The lines of one part, or of every part of the roof in their order. Refusal for a part that is not there."""
    known = [one.id for one in state.parts if one.id != JOB]
    if part and part not in known:
        raise Refusal(f"{clean(part, most=40)!r} isn't a part of this job. Parts are {', '.join(known)}")
    return tuple(line for one in known if part in ("", one) for line in members(state, library, one))


def entries(lines: Sequence[Line], state: State) -> list[Entry]:
    """The lines in words: batches as a saw is set for them, what is out of date, what is left off, what was cut before.

    The last is what was counted of a length or an angle that the list has no more.
    """
    listed = counted(lines, state)
    found = [_of_batch(f"{number}", batch, state) for number, batch in enumerate(listed, 1)]
    bad = [line for line in lines if not line.good]
    for line in sorted(bad, key=lambda one: one.member is None):
        found.append(_not_good(f"{len(found) + 1}", line, state))
    parts = {line.part for line in lines}
    for one in not_wanted(listed, state.tallies, same_length(state)):
        if one.alike.part in parts:
            found.append(_of_before(f"{len(found) + 1}", one, state))
    return found


def _of_before(key: str, one: Tally, state: State) -> Entry:
    """Pieces that were cut to what the list has no more."""
    alike = one.alike
    length = show_length(one.length, state.units)
    what = " ".join(filter(None, (alike.what, length, alike.hand, alike.section)))
    why = f"{one.cut - one.spoiled} cut to a length or an angle that has changed. Try them before you use them."
    return Entry(key, alike.part, "none", what, "", "", "", "", "", why, "", "cut before")


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
        "; ".join(_beside_batch(batch, line, units)),
        "" if member.mass is None else places(member.mass, 1),
        stands_on([piece.line for piece in batch.pieces], state),
        batch,
    )


def _beside_batch(batch: Batch, line: Line, units: Units) -> list[str]:
    """How far it is, its widest gap, what goes with its first piece, and what was corrected as one was tried."""
    told = [_beside(one, units) for one in line.shows if not one.says.startswith(MARK)]
    told += [_changed(one, units) for one in line.trial.corrected] if line.trial else []
    if batch.spread >= SEEN:
        told.insert(0, f"all cut to the shortest: widest gap {show_length(batch.spread, units)}")
    if batch.cut or batch.up or batch.spoiled:
        told.insert(0, progress(batch))
    return told


def by_setting(section: Sequence[Entry], state: State) -> Iterator[tuple[str, list[Entry]]]:
    """The entries of each setting of the saw, under its angles and what they stand on together."""
    for (cuts_told, *_), group in groupby(section, key=lambda entry: (entry.cuts, entry.standing, entry.trial)):
        alike = list(group)
        pieces = [piece.line for entry in alike if entry.batch for piece in entry.batch.pieces]
        stands = stands_on(pieces, state) if pieces else "; ".join(entry.stands for entry in alike)
        yield f"{cuts_told or WITHHELD} ({stands})", alike


def progress(batch: Batch) -> str:
    """How far a batch is: `cut 12, up 6, spoiled 1, short 7`."""
    told = (("cut", batch.cut), ("up", batch.up), ("spoiled", batch.spoiled), ("short", batch.short))
    return ", ".join(f"{word} {count}" for word, count in told if count or word in ("cut", "short"))


def marks(batch: Batch) -> str:
    """The mark to write on each piece, runs of them together: `AB 1 to 9, CD 1 to 9`."""
    first = batch.pieces[0]
    if len(batch.pieces) == 1 and first.mark == batch.alike.what and batch.count > 1:
        return f"1 to {batch.count}"
    told: list[str] = []
    for side, group in groupby(batch.pieces, key=_without_number):
        pieces = list(group)
        runs = _runs([int(piece.line.number) for piece in pieces if piece.line.number.isdecimal()])
        told += [f"{side} {run}" for run in runs] or [_numbered(pieces[0])]
    return ", ".join(told)


def _without_number(piece: Piece) -> str:
    number = piece.line.number
    if number.isdecimal():
        return piece.mark.removesuffix(number).strip()
    return piece.mark


def _numbered(piece: Piece) -> str:
    count = piece.line.member.count if piece.line.member else 0
    if count > 1:
        return f"{piece.mark} 1 to {count}"
    return piece.mark


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


def _changed(one: Corrected, units: Units) -> str:
    now, was = show(one.unit, one.now, units), show(one.unit, one.was, units)
    return f"{one.says[:1].lower()}{one.says[1:]} {now}, was {was}"


def stands_on(lines: Sequence[Line], state: State) -> str:
    """Built; or what is still off the drawing, in the words of the facts. First whether one is to be tried, or was."""
    trial = lines[0].trial
    return joined((_tried(trial, state) if trial else "", _built_or_drawn(lines, state)), "; ")


def _tried(trial: Trial, state: State) -> str:
    if not trial.held:
        return "corrected as tried" if trial.corrected else "tried, and fits"
    first = "cut one and try it, at" if trial.of_itself else "cut none till the pattern fits, at"
    return f"held: {first} {name_of(state, trial.path.rpartition('.')[0])}"


def _built_or_drawn(lines: Sequence[Line], state: State) -> str:
    if lines[0].standing != "drawn":
        return "built"
    waits = dict.fromkeys((line.part, name) for line in lines for name in line.waits)
    facts = {name: state.facts.get(f"{part}.{name}") or state.facts.get(f"{JOB}.{name}") for part, name in waits}
    says = [fact.says if fact else name for name, fact in facts.items()]
    more = text_if(len(says) > MOST_NAMED, f", and {len(says) - MOST_NAMED} more")
    return f"drawn: {'; '.join(says[:MOST_NAMED])}{more}"


def set_out(lines: Iterable[Line], units: Units) -> list[tuple[str, str]]:
    """Marks along the plates, by side: each piece's number and how far its middle is from the corner.

    Two that stand nearer than half the spacing are said, with what other ways of setting out would give.
    """
    placed = [(line, at) for line in lines if line.good and line.number and (at := _mark(line))]
    by_hand = _by_hand(placed)
    found: dict[str, dict[str, str]] = {}
    near: dict[str, str] = {}
    for line, at in placed:
        lead = f"{line.says}{_hand(line) if line.says in by_hand else ''}, from the corner"
        found.setdefault(lead, {})[line.number] = f"{line.number} at {_from_corner(at, units)}"
        near[lead] = _too_near(line)
    return [(lead, ", ".join(told.values()) + near[lead]) for lead, told in found.items()]


def _from_corner(at: Beside, units: Units) -> str:
    """A mark along a plate; one on the plate's line carried on behind its corner is past it."""
    assert isinstance(at.value, (int, float))
    return f"{show_length(abs(at.value), units)}{text_if(at.value < 0, ' past the corner')}"


def _by_hand(placed: Iterable[tuple[Line, Beside]]) -> set[str]:
    """What has one number at two marks: its left and right ones are counted each from 1."""
    marks: dict[tuple[str, str], set[object]] = {}
    for line, at in placed:
        marks.setdefault((line.says, line.number), set()).add(at.value)
    return {says for (says, _), values in marks.items() if len(values) > 1}


def _hand(line: Line) -> str:
    hand = line.member and (line.member.head.hand or line.member.foot.hand)
    return f", {hand}" if hand else ""


def _mark(line: Line) -> Beside | None:
    return next((told for told in line.shows if told.says.startswith(MARK)), None)


def _too_near(line: Line) -> str:
    notes = line.answer.notes if line.answer else ()
    return "".join(f". Note: {note}" for note in notes if TOO_NEAR in note)


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
    if near == far:
        return f"{near} both"
    return f"{near} and {far}"
