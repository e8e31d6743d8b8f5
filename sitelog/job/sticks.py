"""The stick of each member of the cutting list: fed by the same answer as the list, and held to its length there."""

from collections.abc import Mapping, Sequence

from msgspec import Struct

from sitelog.calculators import index
from sitelog.calculators.catalogue import Answer, Result
from sitelog.calculators.timber.members import ANGLES, Member
from sitelog.checklist.schema.model import Library
from sitelog.job.batches import SETTING
from sitelog.job.facts.facts import FactResolver
from sitelog.job.members import Line, members
from sitelog.job.state.views import State
from sitelog.job.stick_figures import candidates, hand_of_line, number
from sitelog.quantities.rounding import as_worked
from sitelog.refusal import Refusal
from sitelog.text import text_between

NEAR = 0.5  # mm between a stick and the list: more, and one of them is wrong
OUT_OF_DATE = "a figure it uses is out of date: do its checks again first"


class MemberStick(Struct, frozen=True):
    """How one pattern of the list is marked: `lines` are all that are cut to it, the pattern first.

    `answer` is that of `sticks` for the first; None where there is none, and then `why`.
    """

    lines: tuple[Line, ...]
    answer: Answer | None
    why: str = ""

    @property
    def hand(self) -> str:
        """Left or right, of one that has a hand."""
        return hand_of_line(self.lines[0])

    @property
    def count(self) -> int:
        """How many are cut to it."""
        return sum(line.member.count for line in self.lines if line.member)

    @property
    def says(self) -> str:
        """What it is, with its hand."""
        return f"{self.lines[0].says}{text_between(', ', self.hand, ' hand')}"

    def is_mirrored_by(self, other: "MemberStick") -> bool:
        """Whether another is the same timber for the other hand: every mark the same, within NEAR, and every angle."""
        if self.answer is None or other.answer is None or {self.hand, other.hand} != {"left", "right"}:
            return False
        if self.lines[0].id != other.lines[0].id:
            return False
        return _is_alike(self.answer.results, other.answer.results)


def _is_alike(results: Mapping[str, Result], other: Mapping[str, Result]) -> bool:
    """Whether two sticks have the same angles [deg] and the same marks [mm]."""
    names = {name for name, size in results.items() if isinstance(size, float)}
    if names != {name for name, size in other.items() if isinstance(size, float)}:
        return False
    angles = all(abs(number(results[name]) - number(other[name])) < NEAR / 10 for name in names)
    return (
        angles
        and _marks(results).keys() == _marks(other).keys()
        and all(abs(place - _marks(other)[mark]) <= NEAR for mark, place in _marks(results).items())
    )


def _marks(results: Mapping[str, Result]) -> dict[tuple[str, str, str], float]:
    """Each place of each mark of a stick [mm], by its line and its point."""
    found = results["rows"]
    assert isinstance(found, list)
    return {(str(row["line"]), str(row["point"]), way): number(row[way]) for row in found for way in ("at", "down")}


def sticks(state: State, library: Library, part: str) -> tuple[MemberStick, ...]:
    """A stick for each kind of member of a part and each hand, in the order of its list; none for what is left off."""
    lines = [line for line in members(state, library, part) if line.member]
    rafter = _common_of(state, library, part)
    kinds = sorted(lines, key=lambda line: (_places(lines).index(line.id), hand_of_line(line)))
    return tuple(_member_stick(group, lines, rafter) for group in _patterns(kinds))


def _patterns(lines: Sequence[Line]) -> list[tuple[Line, ...]]:
    """The lines that one pattern serves: of one member and hand, every cut the same as a saw can be set."""
    found: list[list[Line]] = []
    for line in lines:
        same = next((group for group in found if _is_cut_alike(group[0], line)), None)
        if same is None:
            found.append([line])
        else:
            same.append(line)
    return [tuple(group) for group in found]


def _is_cut_alike(one: Line, other: Line) -> bool:
    if one.id != other.id or hand_of_line(one) != hand_of_line(other) or one.member is None or other.member is None:
        return False
    angles = zip(_angles(one.member), _angles(other.member), strict=True)
    return all(abs(angle - with_it) <= SETTING for angle, with_it in angles)


def _angles(member: Member) -> list[float]:
    return [getattr(end, name) for end in (member.head, member.foot) for name in ANGLES]


def stick_for(state: State, library: Library, line: Line) -> Answer:
    """The answer of `sticks` for one line of the list as the job is now. Refusal as from `stick_of`."""
    lines = [member_line for member_line in members(state, library, line.part) if member_line.member]
    return stick_of(line, lines, _common_of(state, library, line.part))


def _places(lines: Sequence[Line]) -> list[str]:
    return [*dict.fromkeys(line.id for line in lines)]


def _common_of(state: State, library: Library, part: str) -> Answer | None:
    """The answer of the part's own common rafter: its seat and its tail are those of every rafter of the part."""
    answers = FactResolver.of(library, state).answers(part)
    return next((answer for listed, answer, _ in answers if listed.calculator == "common" and answer), None)


def _member_stick(group: tuple[Line, ...], lines: Sequence[Line], rafter: Answer | None) -> MemberStick:
    """The first that can be marked is the pattern of all."""
    why = ""
    for line in group:
        try:
            answer = stick_of(line, lines, rafter)
        except Refusal as refusal:
            why = why or refusal.message.removeprefix("sticks: ").partition(". Check ")[0]
        else:
            return MemberStick((line, *(other for other in group if other is not line)), answer)
    return MemberStick(group, None, why)


def stick_of(line: Line, lines: Sequence[Line], rafter: Answer | None) -> Answer:
    """The answer of `sticks` for a line of the list among all of its part. `rafter` is the part's common.

    Refusal for one that is out of date or can't be marked so, or whose marks don't come to the list's length.
    """
    member = line.member
    if member is None or line.standing == "stale":
        raise Refusal(OUT_OF_DATE)
    length = 0.0
    for figures in candidates(line, member, lines, rafter):
        answer = index.find("sticks")(**figures)
        length = float(str(answer.results["overall_length"]))
        if abs(length - member.length) <= NEAR:
            return answer
    raise Refusal(
        f"its marks come to {as_worked(length)} and the list says {as_worked(member.length)}: "
        "check the list before you cut"
    )
