"""What is known of each part: as drawn, as built, and what follows from both, worked only when it is asked for."""

from collections.abc import Iterable, Iterator, Mapping
from contextlib import contextmanager
from typing import Literal

from sitelog.calculators import index
from sitelog.calculators.catalogue import Answer, Value
from sitelog.checklist.schema.model import FactSpec, Library, Operand, Sum, Term
from sitelog.job.facts.given import with_answer
from sitelog.job.facts.schema import JOB, PartSchema, known
from sitelog.job.facts.sums import feed, holds, result, unknown, work, worth
from sitelog.job.log.values import from_plain, same, to_plain
from sitelog.job.state.views import Fact, Inputs, Setting, State, Whence
from sitelog.quantities.quantity import read
from sitelog.refusal import Refusal

Side = Literal["drawn", "now"]
DEEPEST = 40  # facts, each worked from the next: twice what any shipped list comes to
Key = tuple[str, str]  # part and name of a fact


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
        self._known: dict[str, PartSchema] = (
            {} if known is None else known
        )  # by the lists and forms alone: it may be kept
        self.facts: dict[Key, Fact] = {} if facts is None else facts  # as they were worked before, if still good
        self.reads: dict[Key, frozenset[Key]] = {} if reads is None else reads
        self._under: set[Key] = set()
        self._sums: dict[tuple[str, str, Side], tuple[Answer | None, str]] = {}
        self._sum_reads: dict[tuple[str, str, Side], frozenset[Key]] = {}
        self._open: list[set[Key]] = []  # what is being read, the innermost last

    @classmethod
    def of(cls, library: Library, state: State) -> "FactResolver":
        """The facts of a state, as they were worked there."""
        facts = {fact.key: fact for fact in state.facts.values()}
        forms = {part.id: part.form for part in state.parts}
        return cls(library, forms, state.given, None, facts, {key: frozenset({key}) for key in facts})

    def without(self, path: str) -> "FactResolver":
        """The facts as they would stand without the answer to that check; what is read there counts as read here."""
        apart = FactResolver(self.library, self.forms, with_answer(self.given, (), path), self._known)
        apart._open = self._open
        return apart

    def known(self, part: str) -> PartSchema:
        if part not in self._known:
            self._known[part] = known(self.library, part, self.forms[part])
        return self._known[part]

    def fact(self, part: str, name: str) -> Fact | None:
        """The fact as a part's list names it: its own, or the job's (`job.x`, or `x` that the part has none of)."""
        if name.startswith("job."):
            part, name = JOB, name.removeprefix("job.")
        elif name not in self.known(part).specs:
            part = JOB
        key = (part, name)
        if key not in self.facts:
            spec = self.known(part).specs.get(name)
            if spec is None or key in self._under or len(self._under) > DEEPEST:
                self._read({key})
                return None
            self._under.add(key)
            try:
                with self.reading() as read_for_it:
                    self.facts[key] = self._work(part, spec)
            finally:
                self._under.discard(key)
            self.reads[key] = frozenset(read_for_it | {key})
        self._read(self.reads[key])
        return self.facts[key]

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
        fact = self.fact(part, name)
        return fact.now if fact else None

    def all(self, part: str) -> list[Fact]:
        """Every fact of a part."""
        return self.named(part, self.known(part).specs)

    def named(self, part: str, names: Iterable[str]) -> list[Fact]:
        return [fact for name in names if (fact := self.fact(part, name))]

    # --- one fact -------------------------------------------------------------------------------------------------

    def _work(self, part: str, spec: FactSpec) -> Fact:
        known = self.known(part)
        one = self._sum_for(part, spec.name)
        setting = self._setting(part, spec.name)
        drawn, drawn_refusal = self._drawn(part, spec, one)
        below = self._below(part, spec, one) if setting is None else []
        built, refusal = self._built(part, spec, one, setting, below)
        if setting is not None and drawn is None and not setting.measured:
            drawn = built
        return Fact(
            name=f"{part}.{spec.name}",
            says=spec.says,
            unit=spec.unit,
            kind=spec.kind,
            drawn=drawn,
            built=built,
            set_by=setting.path if setting else one.id if one else "",
            at=setting.at if setting else "",
            choices=spec.choices,
            least=spec.least,
            usual=spec.usual,
            asked=spec.asked,
            drawable=spec.asked
            or (
                spec.name in known.own
                and not known.setters.get(spec.name)
                and spec.worked is None
                and spec.name not in known.sums
            ),
            setters=known.setters.get(spec.name, ()),
            rests_on=frozenset({setting.path} if setting else {p for f in below for p in f.rests_on}),
            measured=setting.measured if setting else any(f.measured for f in below),
            drawn_typed=self._drawn_typed(part, spec, setting),
            built_typed=self._given(part, spec.worked, "now") if setting is None else True,
            whence=self._whence(part, spec, one, setting),
            unagreed=self._unagreed(part, spec.name, setting) if setting else any(f.unagreed for f in below),
            who=setting.who if setting else "",
            refusal="" if built is not None else refusal or (drawn_refusal if drawn is None else ""),
        )

    def _drawn(self, part: str, spec: FactSpec, one: Sum | None) -> tuple[Value, str]:
        raw = self.given.drawn.get((part, spec.name))
        if raw is not None:
            value = from_plain(spec.kind, raw)
            return value, f"the drawing figure {str(raw)[:40]} isn't a {spec.kind}" if value is None else ""
        value, refusal = self._derived(part, spec, one, "drawn")
        if value is None and spec.default:
            return _read(spec, spec.default)
        return value, refusal

    def _whence(self, part: str, spec: FactSpec, one: Sum | None, setting: Setting | None) -> Whence:
        """What the drawn figure is by; of one that is worked out, what all that it follows from are by."""
        if (part, spec.name) in self.given.drawn:
            return "usual" if (part, spec.name) in self.given.usual else "drawn"
        if setting is not None and setting.brought:
            return setting.whence
        under = {fact.whence for fact in self._below(part, spec, one) if fact.drawn is not None}
        return under.pop() if len(under) == 1 else "usual" if spec.default and not under else "drawn"

    def _drawn_typed(self, part: str, spec: FactSpec, setting: Setting | None) -> bool:
        """Whether the drawn figure was given: by the drawing, by a default, or by a finish or a choice."""
        if (part, spec.name) in self.given.drawn or (setting is not None and not setting.measured):
            return True
        if spec.worked is None and spec.name not in self.known(part).sums:
            return True
        return self._given(part, spec.worked, "drawn")

    def _given(self, part: str, operand: Operand | None, side: Side) -> bool:
        return operand is not None and self.is_given(part, operand, side)

    def is_given(self, part: str, operand: Operand, side: Side = "now") -> bool:
        """Whether an operand is a figure that somebody gave, and not worked out."""
        if operand.word not in ("is", "thickness", "depth", "section"):
            return False
        facts = self.named(part, (term.name for term in operand.terms if term.kind == "fact"))
        return all(fact.typed if side == "now" else fact.drawn_typed for fact in facts)

    def _built(
        self, part: str, spec: FactSpec, one: Sum | None, setting: Setting | None, below: list[Fact]
    ) -> tuple[Value, str]:
        if setting is not None:
            return _in_kind(spec, setting.value)
        if any(f.measured or (f.built is not None and not same(to_plain(f.built), to_plain(f.drawn))) for f in below):
            return self._derived(part, spec, one, "now")
        return None, ""

    def below(self, part: str, name: str) -> list[Fact]:
        """The facts that a fact of that part is worked from as things stand; none of one that is given."""
        spec = self.known(part).specs.get(name)
        return self._below(part, spec, self._sum_for(part, name)) if spec else []

    def _below(self, part: str, spec: FactSpec, one: Sum | None) -> list[Fact]:
        """The facts that a worked fact stands on, those of its sum's condition with them."""
        operands = [spec.worked] if spec.worked else list(one.inputs.values()) if one else []
        names = [term.name for operand in operands for term in operand.terms if term.kind == "fact"]
        if one and one.when:
            names += [clause.fact for clause in one.when.clauses]
        return self.named(part, names)

    def _derived(self, part: str, spec: FactSpec, one: Sum | None, side: Side) -> tuple[Value, str]:
        if spec.worked is not None:
            return self._worked(part, spec.worked, side)
        if one is None:
            return None, self._no_sum(part, spec.name)
        answer, refusal_line = self._sum(part, one, side)
        found = result(answer, one.gives[spec.name]) if answer else None
        if found is None and answer and not refusal_line:
            refusal_line = next(iter(answer.notes), "")  # why it gives none
        return (found if isinstance(found, (int, float, str)) else None), refusal_line

    def _worked(self, part: str, operand: Operand, side: Side) -> tuple[Value, str]:
        def look(term: Term) -> Value:
            return self.term(part, term, side)

        try:
            value = worth(operand, look)
        except Refusal as refusal:
            return None, refusal.message
        return value, f"waiting for {', '.join(unknown(operand, look))}" if value is None else ""

    def _sum_for(self, part: str, name: str) -> Sum | None:
        """The sum that gives the fact as things stand: the first whose condition holds."""
        sums = self.known(part).sums.get(name, ())
        return next((one for one in sums if holds(one.when, lambda fact: self.now(part, fact))), None)

    def _no_sum(self, part: str, name: str) -> str:
        """Why no sum gives the fact as things stand. "" if none ever does."""
        conditions = [one.when for one in self.known(part).sums.get(name, ()) if one.when]
        facts = {clause.fact: None for when in conditions for clause in when.clauses}
        waits = [fact for fact in facts if self.now(part, fact) is None]
        if waits:
            return f"waiting for {', '.join(waits)}"
        return (
            f"can't be worked out with {', '.join(f'{fact} {self.now(part, fact)}' for fact in facts)}" if facts else ""
        )

    def answers(self, part: str) -> Iterator[tuple[Sum, Answer | None, str]]:
        """Each sum of a part's list that is in force, with its answer from the facts as they stand or why there is
        none."""
        listed = self.library.lists.get(self.forms[part])
        for one in listed.sums if listed else ():
            if holds(one.when, lambda fact: self.now(part, fact)):
                yield one, *self._sum(part, one, "now")

    def _sum(self, part: str, one: Sum, side: Side) -> tuple[Answer | None, str]:
        key = (part, one.id, side)
        if key not in self._sums:
            with self.reading() as read_for_it:
                self._sums[key] = self._run(part, one, side)
            self._sum_reads[key] = frozenset(read_for_it)
        self._read(self._sum_reads[key])
        return self._sums[key]

    def _run(self, part: str, one: Sum, side: Side) -> tuple[Answer | None, str]:
        try:
            values, wanted = feed(index.find(one.calculator), one.inputs, lambda term: self.term(part, term, side))
        except Refusal as refusal:
            return None, refusal.message
        if wanted:
            return None, f"{one.id} is waiting for {', '.join(wanted)}"
        answer, refusal_line = work(one.calculator, values)
        wanted = tuple(t.name for o in one.inputs.values() for t in o.terms if self.term(part, t, side) is None)
        return (
            answer,
            f"{refusal_line}; {one.id} is waiting for {', '.join(wanted)}" if wanted and refusal_line else refusal_line,
        )

    def term(self, part: str, term: Term, side: Side = "now") -> Value:
        """A term's value where no figure of a check is at hand."""
        if term.kind == "value":
            return term.value
        fact = self.fact(part, term.name) if term.kind == "fact" else None
        if fact is None:
            return None
        return fact.drawn if side == "drawn" else fact.now

    # --- what answers set -----------------------------------------------------------------------------------------

    def _setting(self, part: str, name: str) -> Setting | None:
        """The latest answer that sets the fact and whose check applies; a measured one before what a finish brings."""
        found = [s for s in self.given.set.get((part, name), ()) if self._applies(part, s.path)]
        own = [s for s in found if not s.brought]
        return max(own or found, key=lambda s: s.id, default=None)

    def _unagreed(self, part: str, name: str, setting: Setting) -> bool:
        """Whether it waits for somebody's word: a finish brings it so, or it was typed over what a finish brings."""
        if setting.agreed:
            return False
        rows = self.given.set.get((part, name), ())
        spec = self.known(part).specs[name]
        brought = [s for s in rows if s.brought and self._applies(part, s.path)]
        return not all(s.agreed and same(_in_kind(spec, s.value)[0], setting.value) for s in brought)

    def unagreed(self, part: str, name: str) -> Iterator[str]:
        """The checks that apply and can agree the figures that a fact waits for."""
        fact = self.fact(part, name)
        if fact is None or not fact.unagreed:
            return
        below = self.below(part, name)
        for one in below:
            yield from self.unagreed(*one.key)
        if not below:
            yield from (path for path in self.known(part).agreed_at.get(name, ()) if self._applies(part, path))

    def _applies(self, part: str, path: str) -> bool:
        conditions = self.known(part).conditions.get(path, ())
        return all(holds(condition, lambda name: self.now(part, name)) for condition in conditions)

    def finishes(self, part: str) -> list[tuple[str, str]]:
        """The finishes chosen in a part, each with the path of the check that chose it."""
        return [
            (choice, path)
            for path, choice in self.given.chosen.items()
            if path.startswith(f"{part}.") and self._applies(part, path)
        ]


def _in_kind(spec: FactSpec, value: Value) -> tuple[Value, str]:
    """A choice or words that stand for a figure, as that figure."""
    if not isinstance(value, str) or spec.kind in ("choice", "text"):
        return value, ""
    return _read(spec, value)


def _read(spec: FactSpec, text: str) -> tuple[Value, str]:
    try:
        return read(spec.kind, text, name=spec.says), ""
    except Refusal as refusal:
        return None, refusal.message
