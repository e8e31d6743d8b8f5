"""What a checklist is, once it has been loaded and proved: frozen objects, no files."""

from collections.abc import Iterable, Iterator, Mapping
from typing import Literal

from msgspec import Struct, field

from sitelog.quantities.quantity import Kind
from sitelog.quantities.slips import Usual

CheckKind = Literal["tick", "choice", "measure", "calculate", "note", "photo", "sign"]
Origin = Literal["published", "borrowed", "house"]
Rule = Literal["within", "most", "least", "over"]
FLOORS: tuple[Rule, ...] = ("least", "over")  # the rules that a larger figure is safe by
Standing = Literal["read", "second hand", "derived", "memory", "judgement"]
OF_ALL = ("cautions", "finishes")  # what is told of every list


class Source(Struct, frozen=True):
    """Where a figure or a rule stands in print, and whether it was read there, read of elsewhere, or is remembered."""

    id: str
    title: str
    locator: str
    year: str
    how: Standing


class Term(Struct, frozen=True):
    """One term of an operand: a fact (`@ab`, `@job.site`), a figure of its check (`=head`), or a value."""

    kind: Literal["fact", "figure", "value"]
    name: str = ""
    value: float | str = 0.0


class Operand(Struct, frozen=True):
    """A value in the closed grammar of the checklists: `@ab`, `half @width`, `minus @hip_a =head =foot`.

    `thickness @section` and `depth @section` take a section apart, `section @thickness @depth` makes one.
    """

    word: Literal["is", "half", "hypot", "minus", "plus", "thickness", "depth", "section"]
    terms: tuple[Term, ...]


class Clause(Struct, frozen=True):
    """`fact is value`, `fact in a b c`, `fact over 25`, `fact under 25`; `negated` for `not`."""

    fact: str
    word: Literal["is", "in", "over", "under"]
    values: tuple[str, ...]
    negated: bool = False


class Condition(Struct, frozen=True):
    """All clauses (`and`), or any (`or`); the two are not mixed."""

    clauses: tuple[Clause, ...]
    any: bool = False


class Limit(Struct, frozen=True):
    """`within` the drawn figure (or nought) by the amount, at `most` or `least` it, or `over` it; in the figure's unit.

    Where it is another figure, `of` says which, `says` names it, and `amount` is None until it is seen against the
    facts. It stays None, and `unagreed`, while that figure waits for somebody's word.
    """

    rule: Rule
    amount: float | None
    origin: Origin
    source: str
    says: str = ""
    of: Operand | None = None
    unagreed: bool = False
    unless: str = ""  # the figure of the check, words, that names who or what says otherwise


class Figure(Struct, frozen=True):
    """One number that a measure asks for. A check with one figure has the key "value"."""

    key: str
    kind: Kind
    says: str
    unit: str = "mm"
    drawn: Operand | None = None
    sets: str = ""
    optional: bool = False
    limit: Limit | None = None  # where it differs from the check's own
    exact: bool = False  # agreed, off print or off a drawing: no tape read it, so nothing is uncertain in it
    agreed_by: str = ""  # the figure of the check, words, that names who agreed it


class Choice(Struct, frozen=True):
    """One answer of a choice: the word that is kept, and what is shown."""

    id: str
    label: str


class Taker(Struct, frozen=True):
    """A trade that takes something over, while its condition holds if it has one."""

    trade: str
    when: Condition | None = None


class Check(Struct, frozen=True):
    """One thing to answer at a stage."""

    id: str
    ask: str
    kind: CheckKind
    why: str = ""
    figures: tuple[Figure, ...] = ()
    choices: tuple[Choice, ...] = ()
    finishes: str = ""  # the choices are the finishes for this (slopes, ...); choosing one sets its facts
    sets: str = ""  # the fact that a choice or a note becomes
    limit: Limit | None = None
    calculator: str = ""
    inputs: Mapping[str, Operand] = field(default_factory=dict)
    shows: tuple[str, ...] = ()  # results that stand in the check's row; the first is held to the limit
    cautions: tuple[str, ...] = ()
    when: Condition | None = None
    needs: tuple[str, ...] = ()  # ids of checks in the same stage, or stage.check, answered first
    photo: bool = False
    three_ways: bool = False  # out of limit here asks: put right, snag or release (the twist hold)
    hands_over_to: tuple[Taker, ...] = ()  # each with its own condition, or its trade's in the list
    sources: tuple[str, ...] = ()
    lost: str = ""  # of a list kept from an earlier day: why its sum can't be worked any more

    @property
    def evidence(self) -> bool:
        """True when the answer leaves more than somebody's word."""
        return self.kind != "tick" or self.photo

    def figure(self, key: str) -> Figure | None:
        """The figure of that key; None if it has none."""
        return next((figure for figure in self.figures if figure.key == key), None)


class Stage(Struct, frozen=True):
    """Checks that are done together and signed once."""

    id: str
    title: str
    checks: tuple[Check, ...]
    short: str = ""  # one or two words for the line of stages
    hold: bool = False
    why: str = ""
    cautions: tuple[str, ...] = ()
    when: Condition | None = None
    place: Literal["first", "part", "last"] = "part"  # job list only: before, once in each, after all parts
    signer: str = "foreman"

    def check(self, check_id: str) -> Check | None:
        """The check of that id; None if it has none."""
        return next((check for check in self.checks if check.id == check_id), None)


class FactSpec(Struct, frozen=True):
    """A named figure or choice of a part. `asked` ones are entered when the part is set up, as drawn."""

    name: str
    kind: Kind
    says: str
    unit: str = "mm"
    asked: bool = False
    default: str = ""  # text, read by kind
    least: str = ""  # the asked fact that this one is never less than
    worked: Operand | None = None  # worked from other facts, drawn from drawn and built from built
    choices: tuple[str, ...] = ()
    usual: Usual | None = None  # what is typed without a unit and lies outside is asked about; else as slips.py has it


class Sum(Struct, frozen=True):
    """A calculator whose results are facts too: `gives` maps a fact to a result's path (`hips.a.length`)."""

    id: str
    calculator: str
    inputs: Mapping[str, Operand]
    gives: Mapping[str, str]
    when: Condition | None = None


class Taken(Struct, frozen=True):
    """Where a figure of a member comes from: an operand, or the path of a result of its calculator."""

    operand: Operand | None = None
    path: str = ""


class EndSpec(Struct, frozen=True):
    """The cuts of one end of a member, from square; left out, a square cut. `pair` is half of each hand."""

    cut: Taken | None = None  # across the face: the plumb cut
    seat: Taken | None = None  # of the birdsmouth there
    bevel: Taken | None = None  # across the top edge
    bevel_2: Taken | None = None  # the other cheek, where both sides are cut
    tilt: Taken | None = None  # of the saw, following the plumb line on the face
    tilt_2: Taken | None = None
    hand: Literal["", "left", "right", "pair"] = ""
    called: str = ""  # the cut across the face, where it is no plumb cut

    @property
    def figures(self) -> Mapping[str, Taken]:
        """The cuts that are given, by name."""
        cuts = {name: getattr(self, name) for name in ("cut", "seat", "bevel", "bevel_2", "tilt", "tilt_2")}
        return {name: taken for name, taken in cuts.items() if taken}


class Shown(Struct, frozen=True):
    """A result told beside a member, where its condition holds: its mark on the plate, the backing of a hip."""

    of: str
    when: Condition | None = None


class MemberSpec(Struct, frozen=True):
    """A kind of timber of the part, for the cutting list and the order.

    A length taken from a column of rows (`rows.length_long_point`) is a member for each row. `left_out` says in its
    place what the list can't hold, and why.
    """

    id: str
    says: str
    section: Operand | None = None
    length: Taken | None = None
    adds: Operand | None = None  # to each length: a tail, a lap, a bearing
    count: Taken = Taken(Operand("is", (Term("value", value=1.0),)))
    calculator: str = ""
    inputs: Mapping[str, Operand] = field(default_factory=dict)
    head: EndSpec = EndSpec()
    foot: EndSpec = EndSpec()
    shows: tuple[Shown, ...] = ()
    grade: Operand | None = None  # strength class, for the mass
    when: Condition | None = None
    left_out: str = ""
    thin: Taken | None = None  # a taper's two ends: it is ripped from the yard's next section over the thick one
    thick: Taken | None = None
    nested: bool = False  # two are ripped head to foot from one stick where that takes less timber


class Checklist(Struct, frozen=True):
    """What is asked of one form of roof or deck, or of the job round all parts."""

    id: str
    title: str
    form: str  # "job" for the list that wraps all parts
    stages: tuple[Stage, ...]
    facts: tuple[FactSpec, ...]
    sums: tuple[Sum, ...]
    sources: Mapping[str, Source]
    file: str
    digest: str  # SHA-256 of the text, pinned in the job
    members: tuple[MemberSpec, ...] = ()
    trades: tuple[Taker, ...] = ()  # the conditions under which trades come, wherever a check names them


class Gauge(Struct, frozen=True):
    """One number that a caution asks for, and where it stops the work."""

    key: str = ""  # what it is called where a question takes several: mean, gust
    unit: str = ""
    stop_from: float | None = None  # a reading at or over this stops the work
    stop_under: float | None = None  # a reading under this does
    least: str = ""  # the reading before it that it is never less than


class Question(Struct, frozen=True):
    """What clears a caution: a reading, a name, a place or a choice about this job; never a bare yes."""

    ask: str
    kind: Literal["number", "name", "place", "choice"]
    unit: str = ""
    choices: tuple[str, ...] = ()
    stop_from: float | None = None  # of the one number it asks, as in a gauge
    stop_on: tuple[str, ...] = ()  # choices, or words for a name or a place, that stop the work
    stop_under: float | None = None
    readings: tuple[Gauge, ...] = ()  # the numbers, where it asks several
    settles: str = ""  # what an answer settles, for every caution that asks about the same

    @property
    def gauges(self) -> tuple[Gauge, ...]:
        """The numbers that it asks for, in the order they are given; none where it asks for words."""
        one = (Gauge("", self.unit, self.stop_from, self.stop_under),) if self.kind == "number" else ()
        return self.readings or one


class Caution(Struct, frozen=True):
    """What can hurt somebody, what to do about it, and the question that clears it."""

    id: str
    title: str
    hurts: str
    do: str
    ask: str
    question: Question
    figures: tuple[tuple[str, str], ...] = ()  # (what it says, source id)
    repeat: Literal["daily", "once", "change"] = "daily"
    when: Condition | None = None
    stops: bool = False  # neither its stages nor the handover can be signed while nobody has read it

    @property
    def subject(self) -> str:
        """What its answer settles: its own matter, or one that several cautions ask about."""
        return self.question.settles or self.id

    @property
    def at_each_stage(self) -> bool:
        """True when each stage wants an answer of its own: what it asks changes with the work, and no fact tells."""
        return self.repeat == "change" and self.when is None


class FinishFact(Struct, frozen=True):
    """What a finish sets a fact to. One from memory, or that says `agree`, judges nothing until somebody agrees it."""

    name: str
    kind: Kind
    value: float | str
    source: str
    agree: bool = False


class Ask(Struct, frozen=True):
    """What a finish asks of the part that it is on; `of` others, of every other part of the job as well."""

    topic: str
    says: str
    source: str
    of: Literal["own", "others"] = "own"
    caution: str = ""  # raised in the others too, where they choose their finish


class Finish(Struct, frozen=True):
    """A covering or a lining, with the facts that choosing it sets and what it asks of later work."""

    id: str
    label: str
    serves: tuple[str, ...]  # slopes, flats, curves, eyebrows, linings
    says: str
    cautions: tuple[str, ...]
    facts: tuple[FinishFact, ...]
    asks: tuple[Ask, ...]


class ListFile(Struct, frozen=True):
    """A file of the checklists as it was read: its text, and the SHA-256 of that.

    `id` is the list's, or "cautions" or "finishes". `firm` is one that is not shipped.
    """

    name: str
    digest: str
    text: str
    id: str
    firm: bool = False


def lent_stages(job: Checklist, listed: Checklist) -> Iterator[Stage]:
    """The stages that the job's list puts in a part of that list, which has none of their ids itself."""
    own = {stage.id for stage in listed.stages}
    return (stage for stage in job.stages if stage.place == "part" and stage.id not in own)


class Library(Struct, frozen=True):
    """Every checklist, caution and finish in force, proved together."""

    lists: Mapping[str, Checklist]  # by form
    cautions: Mapping[str, Caution]
    finishes: Mapping[str, Finish]
    sources: Mapping[str, Source]
    digests: Mapping[str, str]  # list id (and "cautions", "finishes") -> SHA-256
    files: tuple[ListFile, ...] = ()  # what all of it was read from: the shipped ones, then a firm's

    def stages(self, form: str) -> Iterator[Stage]:
        """The stages of a part of that form: those the job list puts in each part, then its own.

        A form that has a stage of the same id goes through its own instead.
        """
        yield from lent_stages(self.lists["job"], self.lists[form])
        yield from self.lists[form].stages

    def used_by(self, forms: Iterable[str]) -> dict[str, str]:
        """The digests of what a job with parts of these forms goes by, by id."""
        ids = {self.lists[form].id for form in ("job", *forms) if form in self.lists}
        return {name: digest for name, digest in self.digests.items() if name in ids or name in OF_ALL}

    def forms(self) -> tuple[str, ...]:
        """The forms that a part can have."""
        return tuple(form for form in self.lists if form != "job")
