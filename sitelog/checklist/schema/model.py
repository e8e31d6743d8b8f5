"""What a checklist is, once it has been loaded and proved: frozen objects, no files."""

from collections.abc import Iterable, Iterator, Mapping
from typing import Literal

from msgspec import Struct, field
from msgspec.structs import replace

from sitelog.checklist.schema.guidance import Caution, Finish
from sitelog.checklist.schema.instruments import ReadWith
from sitelog.checklist.schema.members import MemberSpec
from sitelog.checklist.schema.terms import Condition, Operand
from sitelog.quantities.quantity import Kind
from sitelog.quantities.slips import Usual
from sitelog.text import goes_on

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
    each: tuple[str, ...] = ()  # words of EACH: it is asked once for each such side or line of the roof
    when: Condition | None = None  # it is asked only while that holds
    read_with: ReadWith = ""  # the kind of instrument; "" in lists from before it was said: a tape


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
    tip: str = ""  # how it is done alone or in less time: common practice, never a rule
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
    gives: Mapping[str, str] = field(default_factory=dict)  # facts that its sum's results become: fact to result
    lost: str = ""  # of a list kept from an earlier day: why its sum can't be worked any more
    each: tuple[str, ...] = ()  # words of EACH: it is asked once for each such line of the roof
    of: str = ""  # the block or the line that its stage is for, as people call it; "" where `ask` says it, or none

    @property
    def ask_in_full(self) -> str:
        """The question where its stage isn't beside it: `Valley CD-EF: string from foot to head`."""
        if not self.of:
            return self.ask
        return f"{self.of}: {goes_on(self.ask)}"

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
    each: tuple[str, ...] = ()  # words of EACH: it comes once for each such line or block of the roof

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
    each: tuple[str, ...] = ()  # words of EACH: there is one for each such line, under its name
    gathers: str = ""  # the fact of each side and tie, or of each valley, that this one holds together


class Sum(Struct, frozen=True):
    """A calculator whose results are facts too: `gives` maps a fact to a result's path (`hips.a.length`)."""

    id: str
    calculator: str
    inputs: Mapping[str, Operand]
    gives: Mapping[str, str]
    when: Condition | None = None
    each: tuple[str, ...] = ()  # words of EACH: it is worked once for each such line or block
    of: str = ""  # the line or block that it is worked for, as people call it


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

    @property
    def has_each(self) -> bool:
        """Whether anything in it hangs on what a roof has several of."""
        checks = (check for stage in self.stages for check in stage.checks)
        return any(row.each for rows in (self.stages, self.facts, self.sums, self.members, checks) for row in rows)


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

    def only(self, forms: Iterable[str]) -> "Library":
        """The same for a job with parts of these forms alone: the other lists, and the texts as shipped, are left out.

        A firm's own texts stay: a job of an earlier day is read by them too.
        """
        wanted = {"job", *forms}
        lists = {form: listed for form, listed in self.lists.items() if form in wanted}
        return replace(self, lists=lists, files=tuple(file for file in self.files if file.firm))

    def forms(self) -> tuple[str, ...]:
        """The forms that a part can have."""
        return tuple(form for form in self.lists if form != "job")
