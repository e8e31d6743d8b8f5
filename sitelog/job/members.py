"""The cutting list of a part: every member with its length and cuts, and whether those stand on what was built."""

from collections.abc import Iterator, Mapping
from typing import Literal

from msgspec import Struct
from msgspec.structs import replace

from sitelog.calculators import index
from sitelog.calculators.catalogue import Answer, Row, Value
from sitelog.calculators.timber.joined import Joint
from sitelog.calculators.timber.members import End, Hand, Member
from sitelog.calculators.timber.weights import DENSITY, ripped_from, timber_mass
from sitelog.checklist.loader.members import operands
from sitelog.checklist.schema.kinds import output
from sitelog.checklist.schema.members import EndSpec, MemberSpec, Taken
from sitelog.checklist.schema.model import Library
from sitelog.checklist.schema.terms import Condition, Operand, Term
from sitelog.job.facts.facts import FactResolver
from sitelog.job.facts.sums import feed, holds, picked, unknown, work, worth
from sitelog.job.facts.trial import Trial, leaves, trial_of
from sitelog.job.state.views import State
from sitelog.quantities.quantity import Section, read
from sitelog.refusal import Refusal

Standing = Literal["built", "drawn", "stale", "none"]
WHOLE: tuple[Hand, ...] = ("",)
HALVES: tuple[Hand, ...] = ("left", "right")
Trials = Mapping[tuple[str, tuple[str, ...]], Trial | None]  # by the checks where one is tried, and after
HAND: dict[str, Hand] = {hand: hand for hand in HALVES}


class Beside(Struct, frozen=True):
    """A figure told beside a member: what it is, and its unit."""

    says: str
    value: Value
    unit: str


class Line(Struct, frozen=True):
    """One line of the list: members alike in all, or why there is none (`refusal`, and then no `member`).

    `built`: every figure under it that can be measured has been; `drawn`: not all, and `waits` names those that have
    not; `stale`: it rests on checks that are stale, named in `waits`, and is not to be cut to.
    """

    part: str
    id: str
    says: str
    standing: Standing
    member: Member | None = None
    waits: tuple[str, ...] = ()
    shows: tuple[Beside, ...] = ()
    refusal: str = ""
    number: str = ""  # of its row, where the list has several: from the corner that its mark is taken from
    nested: tuple[float, float] | None = None  # thin and thick end [mm], where two are ripped from one stick
    stick: Section | None = None  # what all of a taper are ripped from, where that is said
    answer: Answer | None = None  # of its calculator, and the row of it that this line is; for the stick
    row: Row | None = None
    joint: Joint | None = None  # of one that is joined of several
    trial: Trial | None = None  # where the first of them is tried, if it is

    @property
    def good(self) -> bool:
        """Whether it may be ordered and cut."""
        return self.member is not None and self.standing != "stale"


def members(state: State, library: Library, part: str) -> tuple[Line, ...]:
    """The lines of a part's list, in the order of its checklist; none for a part whose list names no members."""
    resolver = FactResolver.of(library, state)
    listed = resolver.library.lists.get(resolver.forms.get(part, ""))
    checks = {check.path: check for check in state.checks()}
    stale = frozenset(path for path, check in checks.items() if check.state == "stale" or check.stale_because)
    waited = {(spec.tried, spec.after): spec for spec in listed.members} if listed else {}
    trials = {names: trial_of(resolver, checks, part, spec) for names, spec in waited.items()}
    return lines_of(resolver, part, stale, trials)


def lines_of(
    resolver: FactResolver, part: str, stale: frozenset[str] = frozenset(), trials: Trials | None = None
) -> tuple[Line, ...]:
    """The same from these facts alone, as they stand or would be."""
    listed = resolver.library.lists.get(resolver.forms.get(part, ""))
    specs = listed.members if listed else ()
    waited = [(spec, (trials or {}).get((spec.tried, spec.after))) for spec in specs]
    return tuple(line for spec, trial in waited for line in _MemberLines(resolver, part, spec, stale, trial).lines())


class _MemberLines(Struct, frozen=True):
    """One member of the checklist, over the facts of its part."""

    resolver: FactResolver
    part: str
    spec: MemberSpec
    stale: frozenset[str]
    trial: Trial | None = None

    def lines(self) -> Iterator[Line]:
        if not holds(self.spec.when, self._now):
            waits = self._unknown(self.spec.when)
            if waits:
                yield self._none(self.resolver.needs(self.part, waits))
            return
        if self.spec.left_out:
            yield self._none(self.spec.left_out)
            return
        try:
            yield from self._worked()
        except Refusal as refusal:
            yield self._none(refusal.message)

    def _worked(self) -> Iterator[Line]:
        answer = self._answer()
        rows = self._rows(answer)
        stands: tuple[Standing, tuple[str, ...]] | None = None  # the same for each of them
        for row in rows:
            number = str(next(iter(row.values()))) if row and len(rows) > 1 else ""
            for member in self._members(answer, row, number):
                standing, waits = stands = stands or self._standing()
                told = tuple(self._told(answer, row))
                nested = self._taper(answer, row) if self.spec.nested else None
                own = (self.part, self.spec.id, self.spec.says, standing, member, waits, told)
                line = Line(*own, number=number, nested=nested, answer=answer, row=row, trial=self.trial)
                yield replace(line, stick=self._stick(), joint=self._joint())

    def _none(self, why: str) -> Line:
        return Line(self.part, self.spec.id, self.spec.says, "none", refusal=why)

    def _now(self, name: str) -> Value:
        return self.resolver.now(self.part, name)

    def _look(self, term: Term) -> Value:
        return self.resolver.term(self.part, term)

    def _unknown(self, when: Condition | None) -> list[str]:
        """The facts that a condition waits for; none where it can't hold any more, whatever they are."""
        if not when:
            return []
        known = [replace(when, clauses=(one,)) for one in when.clauses if self._now(one.fact) is not None]
        if not when.any and not all(holds(one, self._now) for one in known):
            return []
        return [clause.fact for clause in when.clauses if self._now(clause.fact) is None]

    # --- what it is worked from ---

    def _answer(self) -> Answer | None:
        if not self.spec.calculator:
            return None
        values, wanted = feed(index.find(self.spec.calculator), self.spec.inputs, self._look)
        if wanted:
            raise Refusal(self.resolver.needs(self.part, wanted))
        answer, refusal = work(self.spec.calculator, values)
        if answer is None:
            raise Refusal(refusal)
        return answer

    def _rows(self, answer: Answer | None) -> list[Row | None]:
        """The rows that its length is a column of; else one that is none."""
        path = self.spec.length.path if self.spec.length else ""
        held = answer.results.get(path.split(".")[0]) if answer else None
        if isinstance(held, list) and path.count(".") == 1:
            return [*held]
        return [None]

    def _taken(self, taken: Taken, answer: Answer | None, row: Row | None) -> Value:
        if taken.operand:
            return self._worth(taken.operand)
        if not answer:
            return None
        return picked(answer, taken.path, row)

    def _worth(self, operand: Operand) -> Value:
        value = worth(operand, self._look)
        if value is None:
            raise Refusal(self.resolver.needs(self.part, unknown(operand, self._look)))
        return value

    def _number(self, what: str, value: Value) -> float:
        if not isinstance(value, (int, float)):
            raise Refusal(f"{what} came out as {'nothing' if value is None else value}; it must be a number")
        return float(value)

    # --- the members ---

    def _members(self, answer: Answer | None, row: Row | None, number: str) -> Iterator[Member]:
        spec = self.spec
        count = self._number("count", self._taken(spec.count, answer, row))
        if count < 1:
            return
        length = self._number("length", self._taken(spec.length, answer, row) if spec.length else None)
        if spec.adds:
            length += self._number("adds", self._worth(spec.adds))
        section = solid = self._section()
        taper = self._taper(answer, row)
        if taper:
            solid = Section(section.thickness, sum(taper) / 2)
            section = self._ripped_from(section, max(taper))
        mass = timber_mass(solid, length, self._density())
        said = f"{spec.says}, {number}" if number else spec.says
        hands = HALVES if "pair" in (spec.head.hand, spec.foot.hand) else WHOLE
        for hand in hands:
            head, foot = (self._end(end, hand, answer, row) for end in (spec.head, spec.foot))
            yield Member(said, section, length, int(count / len(hands)), head, foot, mass)

    def _taper(self, answer: Answer | None, row: Row | None) -> tuple[float, float] | None:
        """How thick [mm] it is at its thin and its thick end; None of what does not taper."""
        if self.spec.thin is None or self.spec.thick is None:
            return None
        thin = self._number("thin", self._taken(self.spec.thin, answer, row))
        return thin, self._number("thick", self._taken(self.spec.thick, answer, row))

    def _stick(self) -> Section | None:
        value = worth(self.spec.stick, self._look) if self.spec.stick else None
        return value if isinstance(value, Section) else None

    def _joint(self) -> Joint | None:
        """How it is joined, where its list says so."""
        joint = self.spec.joint
        if joint is None or not holds(joint.when, self._now):
            return None
        lap, pieces = self._number("lap", self._worth(joint.lap)), self._number("pieces", self._worth(joint.pieces))
        return Joint(lap, int(pieces))

    def _ripped_from(self, section: Section, thick: float) -> Section:
        """The stick that is said, where the taper's thick end [mm] is within it; else the next that a yard keeps."""
        stick = self._stick()
        if stick and thick <= stick.depth:
            return stick
        return ripped_from(section.thickness, thick)

    def _section(self) -> Section:
        value = self._worth(self.spec.section) if self.spec.section else None
        if isinstance(value, str):
            value = read("section", value, name=self.spec.says)
        if not isinstance(value, Section):
            raise Refusal(f"its section came out as {value}; it must be thickness x depth, such as 47x150")
        return value

    def _density(self) -> float:
        """kg/m3 of its strength class; C24 where the list names none, as the calculators of rafters take it."""
        grade = str(self._worth(self.spec.grade)) if self.spec.grade else "C24"
        if grade not in DENSITY:
            raise Refusal(f"its grade is {grade}; we have the density of {', '.join(DENSITY)} only")
        return DENSITY[grade]

    def _end(self, end: EndSpec, half: Hand, answer: Answer | None, row: Row | None) -> End:
        figures = {name: self._number(name, self._taken(taken, answer, row)) for name, taken in end.figures.items()}
        hand = half if end.hand == "pair" else end.hand
        if answer and end.hand_of:
            hand = HAND.get(str(picked(answer, end.hand_of, row)), "")
        return End(**figures, hand=hand, called=end.called or "plumb")

    def _told(self, answer: Answer | None, row: Row | None) -> Iterator[Beside]:
        taper = self._taper(answer, row)
        if taper:
            yield Beside("Rip to", taper[1], "mm")
            yield Beside("Thin end", taper[0], "mm")
        for shown in self.spec.shows:
            if answer and holds(shown.when, self._now):
                found = output(index.find(self.spec.calculator), shown.of)
                value = picked(answer, shown.of, row)
                if value is not None:
                    yield Beside(found.says, value, found.unit)

    # --- what it stands on ---

    def _standing(self) -> tuple[Standing, tuple[str, ...]]:
        drawn, checks = leaves(self.resolver, self.part, self._names(), self.trial)
        stale = tuple(sorted(checks & self.stale))
        if stale:
            return "stale", stale
        if drawn:
            return ("drawn", tuple(sorted(drawn)))
        return ("built", ())

    def _names(self) -> set[str]:
        said = (operand for keys, operand in operands(self.spec) if keys[0] != "joint")
        return {term.name for operand in said for term in operand.terms if term.kind == "fact"}
