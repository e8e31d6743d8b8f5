"""The cutting list as the saw takes it: pieces that are the same are one line, in the order in which a saw is set."""

import re
from collections import defaultdict
from collections.abc import Iterable, Iterator, Sequence

from msgspec import Struct
from msgspec.structs import replace

from sitelog.calculators.timber.members import HANDS, End, Hand, Member
from sitelog.job.facts.moves import CUTTING, SAME_LENGTH
from sitelog.job.facts.schema import JOB
from sitelog.job.facts.trial import Trial
from sitelog.job.members import Line, Standing
from sitelog.job.state.record_views import Alike, Tally
from sitelog.job.state.views import State
from sitelog.quantities.quantity import Section
from sitelog.quantities.rounding import places

SETTING = 0.1  # degrees: a saw can't be set finer
SEEN = 0.5  # mm: a spread that rounding to the mm may show
LETTERS = "[A-HJ-NP-Z]{1,2}"  # of one corner or of a side's two; a line lies between two sides, as AB-CD
SLOPE = rf"{LETTERS}(?: (?:upper|lower|side|sprocket)\b)?"  # of a mansard's two, a bay's square one, a sprocket
SIDE = re.compile(rf" ?\b{SLOPE}(?:-{SLOPE})?\b")
AFTER = re.compile(r",| (?:on|at|of|to)\b")


class Piece(Struct, frozen=True):
    """Pieces of one line of the list in a batch: the mark to write on each, and its mark on the plate [mm] if any."""

    line: Line
    mark: str
    at: float | None = None


class Batch(Struct, frozen=True):
    """Pieces cut at one setting to one stop.

    `length` [mm] is the stop, from long point to long point: that of the shortest, so that none is too long for its
    place; `spread` [mm] is what the longest has more, and so the widest gap. `tally` is what is done of them.
    """

    alike: Alike
    section: Section
    length: float
    spread: float
    head: End
    foot: End
    hand: Hand
    standing: Standing
    pieces: tuple[Piece, ...]
    cut: int = 0
    up: int = 0
    spoiled: int = 0

    @property
    def trial(self) -> Trial | None:
        """Where the first of them is tried, if it is."""
        return self.pieces[0].line.trial

    @property
    def count(self) -> int:
        """How many are wanted."""
        return sum(piece.line.member.count for piece in self.pieces if piece.line.member)

    @property
    def good(self) -> int:
        """How many are cut and not spoiled."""
        return self.cut - self.spoiled

    @property
    def short(self) -> int:
        """How many are still to be cut."""
        return max(self.count - self.good, 0)

    @property
    def key(self) -> str:
        """What a person types to name it, with its part: `main common 4112`."""
        return " ".join(filter(None, (self.alike.part, self.alike.what.lower(), places(self.length, 0), self.hand)))


def same_length(state: State) -> float:
    """How near [mm] lengths must be to be cut as one: the job's own figure, else that of the house."""
    fact = state.facts.get(f"{JOB}.{SAME_LENGTH}")
    if fact and isinstance(fact.now, (int, float)):
        return float(fact.now)
    return CUTTING


def batches(lines: Iterable[Line], tallies: Sequence[Tally] = (), same: float = CUTTING) -> list[Batch]:
    """The good lines as batches, in the order of section, blade tilt, mitre, hand, then length from long to short.

    A length within `same` [mm] of the longest of a batch is one of it; never where a cut differs by what a saw can be
    set to. What stands on the drawing is kept from what stands on the roof, and what is tried first from what isn't.
    """
    alike: dict[tuple[Alike, Standing, Trial | None], list[Line]] = defaultdict(list)
    for line in lines:
        if line.good and line.member:
            alike[_alike(line, line.member), line.standing, line.trial].append(line)
    found = [_batch(key, standing, near) for (key, standing, _), group in alike.items() for near in _near(group, same)]
    return list(_counted(sorted(found, key=_setting), tallies, same))


def not_wanted(found: Sequence[Batch], tallies: Iterable[Tally], same: float = CUTTING) -> list[Tally]:
    """What was cut to a length or an angle that no batch has any more."""
    return [one for one in tallies if one.cut - one.spoiled > 0 and not any(_of(one, batch, same) for batch in found)]


def still_short(lines: Iterable[Line], found: Iterable[Batch]) -> tuple[Line, ...]:
    """The lines with what is cut already taken off them; a line of which all is cut goes."""
    done: dict[int, int] = {}
    for batch in found:
        left = max(batch.good, 0)
        for piece in batch.pieces:
            count = piece.line.member.count if piece.line.member else 0
            done[id(piece.line)] = min(left, count)
            left -= done[id(piece.line)]
    return tuple(short for line in lines if (short := _less(line, done.get(id(line), 0))) is not None)


def _less(line: Line, done: int) -> Line | None:
    if line.member is None or not done:
        return line
    left = line.member.count - done
    if not left:
        return None
    return replace(line, member=replace(line.member, count=left))


def kind_of(says: str) -> str:
    """What a member is called without its place: `Common` of `Common on AB`."""
    return SIDE.sub("", AFTER.split(says, maxsplit=1)[0]).strip() or says


def side_of(says: str) -> str:
    """The side or the corner that a member stands on: `AB` of `Common on AB`; "" where it names none."""
    found = SIDE.search(says)
    if not found:
        return ""
    return found.group().strip()


def cuts_of(member: Member) -> str:
    """The angles of both ends to what a saw can be set to, as text that says whether two pieces are the same."""
    return " / ".join(_angles(end) for end in (member.head, member.foot))


def _angles(end: End) -> str:
    angles = (end.cut, end.seat, end.bevel, end.bevel_2, end.tilt, end.tilt_2)
    return " ".join(f"{angle:.1f}" for angle in angles)


def _alike(line: Line, member: Member) -> Alike:
    taper = f" / {line.nested[0]:.1f} to {line.nested[1]:.1f}" if line.nested else ""
    hand = member.head.hand or member.foot.hand
    return Alike(line.part, kind_of(line.says), str(member.section), f"{cuts_of(member)}{taper}", hand)


def _near(group: Iterable[Line], same: float) -> Iterator[list[Line]]:
    """The lines in runs of lengths that are near each other, the longest first."""
    run: list[Line] = []
    longest = 0.0
    for line in sorted(group, key=_length, reverse=True):
        if run and longest - _length(line) > same:
            yield run
            run = []
        if not run:
            longest = _length(line)
        run.append(line)
    if run:
        yield run


def _length(line: Line) -> float:
    if not line.member:
        return 0.0
    return line.member.length


def _batch(alike: Alike, standing: Standing, lines: Sequence[Line]) -> Batch:
    shortest = min(lines, key=_length)
    member = shortest.member
    assert member is not None
    in_list = sorted(lines, key=lambda line: (line.id, int(line.number) if line.number.isdecimal() else 0))
    return Batch(
        alike=alike,
        section=member.section,
        length=member.length,
        spread=max(map(_length, lines)) - member.length,
        head=member.head,
        foot=member.foot,
        hand=member.head.hand or member.foot.hand,
        standing=standing,
        pieces=tuple(_piece(line) for line in in_list),
    )


def _piece(line: Line) -> Piece:
    side = side_of(line.says)
    mark = f"{side} {line.number}".strip() if line.number else f"{kind_of(line.says)} {side}".strip()
    at = next((told.value for told in line.shows if told.says.startswith("Mark")), None)
    return Piece(line, mark, float(at) if isinstance(at, (int, float)) else None)


def _setting(batch: Batch) -> tuple[object, ...]:
    """In which order a saw is set: so that it is changed as seldom as can be."""
    head, foot = batch.head, batch.foot
    tilt = max(head.tilt, head.tilt_2, foot.tilt, foot.tilt_2)
    mitre = max(head.cut, foot.cut)
    section = (batch.section.thickness, batch.section.depth)
    saw = (round(tilt, 1), round(mitre, 1), batch.alike.cuts)
    return (section, saw, batch.standing, HANDS.index(batch.hand), -batch.length, batch.alike.part, batch.alike.what)


def _of(tally: Tally, batch: Batch, same: float) -> bool:
    """Whether what was counted is of the batch: alike, and no further off its lengths than pieces that are the same."""
    return tally.alike == batch.alike and batch.length - same <= tally.length <= batch.length + batch.spread + same


def _counted(found: Sequence[Batch], tallies: Iterable[Tally], same: float) -> Iterator[Batch]:
    """The batches with what was counted of them: each count is of one batch, so that no piece is counted twice."""
    own: dict[int, list[Tally]] = defaultdict(list)
    for tally in tallies:
        places = [place for place, batch in enumerate(found) if _of(tally, batch, same)]
        if places:
            own[min(places, key=lambda place: _off(tally, found[place]))].append(tally)
    for place, batch in enumerate(found):
        yield replace(
            batch,
            cut=sum(tally.cut for tally in own[place]),
            up=sum(tally.up for tally in own[place]),
            spoiled=sum(tally.spoiled for tally in own[place]),
        )


def _off(tally: Tally, batch: Batch) -> tuple[float, bool]:
    """How far [mm] what was counted is off a batch's lengths; as near, what stands on the roof goes first."""
    off = max(batch.length - tally.length, tally.length - batch.length - batch.spread, 0.0)
    return off, batch.standing != "built"
