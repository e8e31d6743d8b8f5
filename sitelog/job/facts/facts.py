"""What is known of each part: as drawn, as built, and what follows from both, worked only when it is asked for."""

from collections.abc import Iterable, Iterator, Mapping, Sequence
from contextlib import contextmanager

from sitelog.calculators import index
from sitelog.calculators.catalogue import Answer, Value
from sitelog.checklist.schema.model import FactSpec, Library, Sum
from sitelog.checklist.schema.terms import Operand, Term
from sitelog.job.facts.fact import Fact, Inputs, Setting
from sitelog.job.facts.given import with_answer
from sitelog.job.facts.schema import JOB, PartSchema, known
from sitelog.job.facts.sums import feed, holds, work
from sitelog.job.facts.working import FactWork, Side, in_kind
from sitelog.job.log.values import same
from sitelog.job.state.views import State
from sitelog.refusal import Refusal
from sitelog.text import text_after

DEEPEST = 40  # facts, each worked from the next: twice what any shipped list comes to
_NEEDS = "needs "
_ASKS = ("add ", "give ", "also give ")  # how a calculator asks for an input that it can't do without
Key = tuple[str, str]  # part and name of a fact
SumKey = tuple[str, str, Side]  # part and id of a sum, and the side that it is worked from


class FactResolver:
    """The facts of a job. `forms` is the form of each part by its id, the job's own part "job" with them.

    Each fact is worked once, on the drawn side from drawn figures, on the built side from the figures as they stand.
    A fact that would rest on itself is taken as unknown there: a checklist that says so is refused when it is loaded.
    `reads` says of each fact which facts were looked at to work it, near and far, itself with them.
    """

    def __init__(
        self, library: Library, forms: Mapping[str, str], given: Inputs, known: dict[str, PartSchema] | None = None,
        facts: dict[Key, Fact] | None = None, reads: dict[Key, frozenset[Key]] | None = None,
    ) -> None:  # fmt: skip
        self.library = library
        self.forms = {JOB: JOB} | dict(forms)
        self.given = given
        # What the lists and forms alone decide: it may be kept from one look to the next.
        self._known: dict[str, PartSchema] = {} if known is None else known
        self.facts: dict[Key, Fact] = {} if facts is None else facts  # as they were worked before, if still good
        self.reads: dict[Key, frozenset[Key]] = {} if reads is None else reads
        self._keys: dict[Key, Key] = {}  # by who looks for it: a part and the name that its list says
        self._under: set[Key] = set()
        self._sums: dict[SumKey, tuple[Answer | None, str]] = {}
        self._sum_reads: dict[SumKey, frozenset[Key]] = {}
        self._open: list[set[Key]] = []  # what is being read, the innermost last

    @classmethod
    def of(cls, library: Library, state: State) -> "FactResolver":
        """The facts of a state, as they were worked there."""
        facts = {fact.key: fact for fact in state.facts.values()}
        return cls(
            state.with_own(library), state.forms, state.given, None, facts, {key: frozenset({key}) for key in facts}
        )

    def without(self, path: str) -> "FactResolver":
        """The facts as they would stand without the answer to that check; what is read there counts as read here."""
        apart = FactResolver(self.library, self.forms, with_answer(self.given, (), path), self._known)
        apart._open = self._open
        return apart

    def known(self, part: str) -> PartSchema:
        """What the lists say of the facts of that part."""
        if part not in self._known:
            self._known[part] = known(self.library, part, self.forms[part])
        return self._known[part]

    # --- a fact, and what was read to work it ---------------------------------------------------------------------

    def fact(self, part: str, name: str) -> Fact | None:
        """The fact as a part's list names it: its own, or the job's (`job.x`, or `x` that the part has none of)."""
        key = self._keys.get((part, name)) or self._key(part, name)
        if key not in self.facts:
            spec = self.known(key[0]).specs.get(key[1])
            if spec is None or key in self._under or len(self._under) > DEEPEST:
                self._read({key})
                return None
            self._work(key, spec)
        self._read(self.reads[key])
        return self.facts[key]

    def _key(self, part: str, name: str) -> Key:
        of_job = name.startswith("job.") or name not in self.known(part).specs
        key = (JOB if of_job else part), name.removeprefix("job.")
        self._keys[part, name] = key
        return key

    def _work(self, key: Key, spec: FactSpec) -> None:
        part, name = key
        self._under.add(key)
        try:
            with self.reading() as read_for_it:
                work = FactWork(self, part, spec, self._sum_for(part, name), self._setting(part, name))
                self.facts[key] = work.fact()
        finally:
            self._under.discard(key)
        self.reads[key] = frozenset(read_for_it | {key})

    @contextmanager
    def reading(self) -> Iterator[set[Key]]:
        """The facts that are looked at within, near and far."""
        found: set[Key] = set()
        self._open.append(found)
        try:
            yield found
        finally:
            self._open.pop()

    def _read(self, keys: Iterable[Key]) -> None:
        if self._open:
            self._open[-1].update(keys)

    def now(self, part: str, name: str) -> Value:
        """The figure of a fact that sums read, in mm, degrees or words; None while it is not known."""
        fact = self.fact(part, name)
        if not fact:
            return None
        return fact.now

    def all(self, part: str) -> list[Fact]:
        """Every fact of a part."""
        return self.named(part, self.known(part).specs)

    def named(self, part: str, names: Iterable[str]) -> list[Fact]:
        """The facts of those names, without those that the part doesn't know."""
        return [fact for name in names if (fact := self.fact(part, name))]

    def below(self, part: str, name: str) -> list[Fact]:
        """The facts that a fact of that part is worked from as things stand; none of one that is given."""
        spec = self.known(part).specs.get(name)
        if not spec:
            return []
        return FactWork(self, part, spec, self._sum_for(part, name), None).below()

    def awaited(self, part: str, name: str) -> list[Fact]:
        """Those of them that must be measured, if they can be, before anything is cut to it."""
        spec = self.known(part).specs.get(name)
        if not spec:
            return []
        return FactWork(self, part, spec, self._sum_for(part, name), None).awaited()

    def is_given(self, part: str, operand: Operand, side: Side = "now") -> bool:
        """Whether an operand is a figure that somebody gave, and not worked out."""
        if operand.word not in ("is", "thickness", "depth", "section"):
            return False
        facts = self.named(part, (term.name for term in operand.terms if term.kind == "fact"))
        return all(fact.typed if side == "now" else fact.drawn_typed for fact in facts)

    def term(self, part: str, term: Term, side: Side = "now") -> Value:
        """A term's value where no figure of a check is at hand; None while it is not known."""
        if term.kind == "value":
            return term.value
        fact = self.fact(part, term.name) if term.kind == "fact" else None
        if fact is None:
            return None
        if side == "drawn":
            return fact.drawn
        return fact.now

    # --- the sums of the lists ------------------------------------------------------------------------------------

    def answers(self, part: str) -> Iterator[tuple[Sum, Answer | None, str]]:
        """Each sum of a part's list that is in force, with its answer from the facts as they stand or why there is
        none."""
        form = self.library.lists.get(self.forms[part])
        for listed in form.sums if form else ():
            if holds(listed.when, lambda fact: self.now(part, fact)):
                yield listed, *self.answer(part, listed, "now")

    def answer(self, part: str, listed: Sum, side: Side) -> tuple[Answer | None, str]:
        """What a sum of the part's list gives, worked once; None and a line where it can't be worked."""
        key = (part, listed.id, side)
        if key not in self._sums:
            with self.reading() as read_for_it:
                self._sums[key] = self._run(part, listed, side)
            self._sum_reads[key] = frozenset(read_for_it)
        self._read(self._sum_reads[key])
        return self._sums[key]

    def _run(self, part: str, listed: Sum, side: Side) -> tuple[Answer | None, str]:
        def look(term: Term) -> Value:
            return self.term(part, term, side)

        try:
            values, wanted = feed(index.find(listed.calculator), listed.inputs, look)
        except Refusal as refusal:
            return None, refusal.message
        if wanted:
            return None, self.needs(part, wanted)
        answer, why = work(listed.calculator, values)
        if why:
            terms = (term for operand in listed.inputs.values() for term in operand.terms)
            missing = [term.name for term in terms if look(term) is None]
            why = self.why(part, why, missing)
        return answer, why

    def _sum_for(self, part: str, name: str) -> Sum | None:
        """The sum that gives the fact as things stand: the first whose condition holds."""
        sums = self.known(part).sums.get(name, ())
        return next((listed for listed in sums if holds(listed.when, lambda fact: self.now(part, fact))), None)

    def no_sum(self, part: str, name: str) -> str:
        """Why no sum gives the fact as things stand. "" if none ever does."""
        conditions = [listed.when for listed in self.known(part).sums.get(name, ()) if listed.when]
        facts = dict.fromkeys(clause.fact for when in conditions for clause in when.clauses)
        waits = [fact for fact in facts if self.now(part, fact) is None]
        if waits:
            return self.needs(part, waits)
        told = ", ".join(f"{fact} {self.now(part, fact)}" for fact in facts)
        return text_after("can't be worked out with ", told)

    def needs(self, part: str, names: Iterable[str]) -> str:
        """That those figures must be known first, each in words, and where it is measured."""
        return f"{_NEEDS}{'; '.join(dict.fromkeys(self._needed(part, name) for name in names))}"

    def why(self, part: str, refusal: str, wanted: Sequence[str]) -> str:
        """Why a sum refuses. Where it asks for an input, the figures that are wanted say which, in words."""
        if not wanted:
            return refusal
        needs = self.needs(part, wanted)
        if refusal.startswith(_ASKS):
            return needs
        return f"{refusal}; it {needs}"

    def _needed(self, part: str, name: str) -> str:
        fact = self.fact(part, name)
        if fact is None:
            return name
        if fact.setters:
            return f"{fact.says} (at {' or '.join(fact.setters)})"
        if fact.refusal.startswith(_NEEDS):
            return fact.refusal.removeprefix(_NEEDS)
        return f"{fact.says} ({fact.refusal or 'off the drawing'})"

    # --- what answers set -----------------------------------------------------------------------------------------

    def _setting(self, part: str, name: str) -> Setting | None:
        """The latest answer that sets the fact and whose check applies; a measured one before what a finish brings."""
        rows = self.given.set.get((part, name), ())
        found = [setting for setting in rows if self.applies(part, setting.path)]
        own = [setting for setting in found if not setting.brought]
        return max(own or found, key=lambda setting: setting.id, default=None)

    def awaits_word(self, part: str, name: str, setting: Setting) -> bool:
        """Whether it waits for somebody's word: a finish brings it so, or it was typed over what a finish brings."""
        if setting.agreed:
            return False
        spec = self.known(part).specs[name]
        for other in self.given.set.get((part, name), ()):
            if other.brought and self.applies(part, other.path):
                brought, _ = in_kind(spec, other.value)
                if not other.agreed or not same(brought, setting.value):
                    return True
        return False

    def unagreed(self, part: str, name: str) -> Iterator[str]:
        """The checks that apply and can agree the figures that a fact waits for."""
        fact = self.fact(part, name)
        if fact is None or not fact.unagreed:
            return
        below = self.below(part, name)
        for other in below:
            yield from self.unagreed(*other.key)
        if not below:
            yield from (path for path in self.known(part).agreed_at.get(name, ()) if self.applies(part, path))

    def applies(self, part: str, path: str) -> bool:
        """Whether the check at that path is asked as things are."""
        conditions = self.known(part).conditions.get(path, ())
        return all(holds(condition, lambda name: self.now(part, name)) for condition in conditions)

    def finishes(self, part: str) -> list[tuple[str, str]]:
        """The finishes chosen in a part, each with the path of the check that chose it."""
        return [
            (choice, path)
            for path, choice in self.given.chosen.items()
            if path.startswith(f"{part}.") and self.applies(part, path)
        ]
