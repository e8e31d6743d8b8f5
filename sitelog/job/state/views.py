"""What a job looks like from outside: the state that the fold gives, and that screens, pack and command line show.

Frozen, whole, and the only shape in which a job's state leaves this room.
"""

from collections.abc import Iterator, Mapping
from typing import Any, Literal, get_args

from msgspec import Struct, field

from sitelog.calculators.catalogue import Answer, Value, Verdict
from sitelog.checklist.schema.model import Ask, Caution, Check, Limit, Stage
from sitelog.job.log.entry import Entry
from sitelog.job.photos.photo import Photo
from sitelog.quantities.quantity import Kind, Units
from sitelog.quantities.slips import Usual

CheckState = Literal["open", "done", "out", "unsure", "snagged", "released", "not applicable", "stale", "deferred"]
Origin = Literal["built", "drawn", "usual", "read", "given", "default", "none"]  # of a calculator's input
# What a figure is meant to be by: a drawing, or what follows from it; the list's own figure; a finish's in print, or
# from memory.
Whence = Literal["drawn", "usual", "published", "memory"]
MEANT: Mapping[Whence, str] = {one: one for one in get_args(Whence)} | {"memory": "from memory"}
AS_MEANT: Mapping[Whence, str] = {one: f"as {one}" for one in get_args(Whence)} | {"memory": "from memory"}
StageState = Literal["open", "waiting", "done", "signed", "released"]


class Fact(Struct, frozen=True):
    """A named figure or choice of a part. `now` is what later sums read: built where there is one, else drawn."""

    name: str  # "main.ab"
    says: str
    unit: str
    kind: Kind
    drawn: Value
    built: Value
    set_by: str = ""  # path of the check that measured it, or the id of the sum that worked it
    at: str = ""
    choices: tuple[str, ...] = ()
    least: str = ""  # the design figure of its part that it is never less than
    asked: bool = False  # entered when the part is set up, as drawn
    drawable: bool = False  # a drawing may give it: it follows from no other fact, and no finish brings it
    setters: tuple[str, ...] = ()  # paths of the checks that can set it
    rests_on: frozenset[str] = frozenset()  # paths of the checks whose answers it comes from, near or far
    measured: bool = False  # a tape stands somewhere under it; False for a choice or a figure off the drawing
    refusal: str = ""  # why the sum that gives it can't be worked as the facts stand
    drawn_typed: bool = False  # somebody gave the drawn figure as it is shown: no sum gave it
    built_typed: bool = False
    usual: Usual | None = None  # as the list says; else as slips.py has it
    whence: Whence = "drawn"  # what the drawn figure is by
    unagreed: bool = False  # it comes from a finish's figure that judges nothing until somebody agrees it by name
    who: str = ""  # who agreed it, or what document says it

    @property
    def key(self) -> tuple[str, str]:
        """Its part and its own name."""
        part, _, name = self.name.partition(".")
        return part, name

    @property
    def now(self) -> Value:
        return self.drawn if self.built is None else self.built

    @property
    def typed(self) -> bool:
        """Whether what it is now is a figure that somebody gave, to be shown with every digit."""
        return self.drawn_typed if self.built is None else self.built_typed

    @property
    def origin(self) -> Literal["drawn", "usual", "built", "none"]:
        if self.built is not None:
            return "built"
        return "none" if self.drawn is None else "usual" if self.whence == "usual" else "drawn"


class Setting(Struct, frozen=True):
    """What one answer sets a fact to."""

    path: str  # the check
    id: str  # the answer's entry
    value: Value
    at: str
    measured: bool  # off a tape; False for a choice or words
    brought: bool = False  # a chosen finish brings it: what a check sets of its own comes before it
    agreed: bool = True  # False while it waits for somebody's word
    who: str = ""  # who agreed it, or what document of the maker's says it
    whence: Whence = "drawn"  # of what a finish brings, whether it was published or is from memory


class Inputs(Struct, frozen=True, eq=False):
    """What people gave for facts, by (part, fact): design figures as kept (plain), and what answers set."""

    drawn: Mapping[tuple[str, str], Any]
    set: Mapping[tuple[str, str], tuple[Setting, ...]]
    chosen: Mapping[str, str] = field(default_factory=dict)  # path of a check -> the finish that it chose
    usual: frozenset[tuple[str, str]] = frozenset()  # the design figures that are as the list has them

    def __eq__(self, other: object) -> bool:
        """Always: two states that show the same are the same, whichever entries led there."""
        return isinstance(other, Inputs)

    __hash__ = None  # type: ignore[assignment]


class FigureView(Struct, frozen=True):
    """One figure of a measure: what was meant, what was read, how far apart, and whether that can be called."""

    key: str
    says: str
    kind: str
    unit: str
    drawn: Value = None
    value: Value = None
    whence: Whence = "drawn"  # what it was meant to be by
    drawn_typed: bool = False  # no sum gave what was meant: it is shown with every digit
    difference: float | None = None
    uncertainty: float | None = None  # U, same unit
    limit: Limit | None = None
    verdict: Verdict | None = None


class InputView(Struct, frozen=True):
    """One input of a calculator inside its check, and where its value came from."""

    name: str
    says: str
    kind: str
    value: Value
    origin: Origin
    fact: str = ""  # the fact's name if it came from one
    typed: bool = False  # no sum gave it: it is shown with every digit


class CheckView(Struct, frozen=True):
    path: str  # "main.plates.sides"
    part: str
    stage: str
    check: Check
    state: CheckState
    applies: bool  # False when its condition does not hold: not shown, not counted
    blocked: str  # why it can't be answered now, or ""
    figures: tuple[FigureView, ...] = ()
    inputs: tuple[InputView, ...] = ()
    answer: Answer | None = None  # from the facts as they stand, with what was read
    answer_drawn: Answer | None = None  # the same sum from the drawn figures
    refusal: str = ""  # why the sum can't be worked as the facts stand
    limit: Limit | None = None  # the check's own, with its amount as things stand
    verdict: Verdict | None = None
    value: Value = None  # the choice, the words, the headline figure
    by: str = ""
    at: str = ""
    instrument: str = ""
    note: str = ""
    stale_because: tuple[str, ...] = ()  # facts that have changed since it was answered
    history: tuple[Entry, ...] = ()
    late: bool = False
    at_once: bool = False  # ticked within a second of the one before
    doubted: bool = False  # its instrument has since been marked bad
    photos: tuple[Photo, ...] = ()  # of the answer in force; their files are looked for by photos.py
    photo_name: str = ""  # of a photo of it that is a name only
    trades: tuple[str, ...] = ()  # that take it over, as the facts stand
    rivals: tuple[Entry, ...] = ()  # other answers, from another device, that the one in force did not know of


class StageView(Struct, frozen=True):
    path: str  # "main.plates"
    part: str
    stage: Stage
    state: StageState
    applies: bool
    blocked: str  # the hold before it that is neither signed nor released, told in one line, or ""
    checks: tuple[CheckView, ...]
    cautions: tuple[Caution, ...] = ()  # all that apply here as the facts stand, what is read first at the front
    by: str = ""
    at: str = ""
    reason: str = ""

    @property
    def shown(self) -> tuple[CheckView, ...]:
        return tuple(c for c in self.checks if c.applies)


class Asked(Struct, frozen=True):
    """What the finish of a part asks of another."""

    part: str  # that it is asked of
    by: str  # the part whose finish asks it
    finish: str  # as it is called
    path: str  # the check that chose it
    ask: Ask


class PartView(Struct, frozen=True):
    """A part and its stages. The job's own first and last stages stand together in a part "job" of form "job"."""

    id: str
    title: str
    form: str
    stages: tuple[StageView, ...]


class Snag(Struct, frozen=True):
    id: str  # "1", "2", ... in order of entry
    text: str
    path: str
    who: str
    due: str
    by: str
    at: str
    closed_by: str = ""
    closed_at: str = ""
    entry: str = ""  # id of the entry that raised it

    @property
    def open(self) -> bool:
        return not self.closed_at


class Release(Struct, frozen=True):
    path: str
    reason: str
    by: str
    at: str
    was: str  # the state it was in, and the figure


class Deferral(Struct, frozen=True):
    path: str
    until: str
    reason: str
    by: str
    at: str
    open: bool


class Reading(Struct, frozen=True):
    """A caution that was read: by whom, when, and what they answered."""

    caution: str
    answer: float | str | tuple[float, ...] | None
    by: str
    at: str
    stops: bool  # the answer is one that stops the work
    day: str = ""  # local, ISO
    facts: Mapping[str, Any] = field(default_factory=dict)  # what it depends on, as it stood then
    subject: str = ""  # what the answer settles, for every caution that asks about it
    path: str = ""  # the stage that it is for; "" for all


class Instrument(Struct, frozen=True):
    id: str
    kind: str  # tape, level, rule, moisture meter, wind meter ...
    grade: str  # I, II, III for a tape, or ""
    doubted: bool = False  # marked bad, and then by whom, when and why
    by: str = ""
    at: str = ""
    why: str = ""


class DiaryDay(Struct, frozen=True):
    day: str  # ISO date, local
    entries: tuple[Entry, ...]
    weather: str = ""
    people: str = ""
    deliveries: str = ""
    delays: str = ""
    text: tuple[str, ...] = ()
    photos: tuple[Photo, ...] = ()


class Point(Struct, frozen=True):
    """A point handed to the next trade, and what they said of it."""

    point: str
    accepted: bool
    by: str
    at: str
    note: str
    head: str = ""  # the head code of the pack that they took it over from, read off it


class Made(Struct, frozen=True):
    """A pack that was made, for whom, and the head code that is printed in it."""

    to: str
    head: str
    by: str
    at: str


class Earlier(Struct, frozen=True):
    """What was said to a check or a stage that the job's lists have no more, as it was asked and answered."""

    path: str
    ask: str  # the path where no list is known that asked it
    answer: str
    by: str
    at: str
    note: str
    value: Mapping[str, Any]


class State(Struct, frozen=True):
    id: str
    title: str
    place: str
    units: Units
    parts: tuple[PartView, ...]  # the job's own part "job" is first
    order: tuple[StageView, ...]  # the order of work: job first, parts, job last; only stages that apply
    facts: Mapping[str, Fact]
    snags: tuple[Snag, ...]
    releases: tuple[Release, ...]
    deferrals: tuple[Deferral, ...]
    readings: tuple[Reading, ...]
    instruments: Mapping[str, Instrument]
    diary: tuple[DiaryDay, ...]
    points: tuple[Point, ...]
    changed_lists: tuple[str, ...]  # checklists whose text is no longer the pinned one
    entries: int
    head: str
    next: str  # path of the next thing to do: a check, or a stage to sign; "" when all is done
    handed_over: bool
    last: Entry | None = None
    packs: tuple[Made, ...] = ()
    given: Inputs = field(default_factory=lambda: Inputs({}, {}))
    asked: tuple[Asked, ...] = ()
    earlier: tuple[Earlier, ...] = ()
    pointed: tuple[str, ...] = ()  # a line for each part whose hips an older list gave another head than fits

    def asked_of(self, part: str) -> Iterator[tuple[str, Asked]]:
        """What the finishes of other parts ask of this one, each with the title of the part that asks."""
        titles = {one.id: one.title for one in self.parts}
        yield from ((titles.get(one.by, one.by), one) for one in self.asked if one.part == part)

    def checks(self) -> Iterator[CheckView]:
        """Every check that applies, in the order of work."""
        for stage in self.order:
            yield from stage.shown

    def stage(self, path: str) -> StageView | None:
        return next((s for s in self.order if s.path == path), None)

    def check(self, path: str) -> CheckView | None:
        return next((c for c in self.checks() if c.path == path), None)

    @property
    def stale(self) -> tuple[str, ...]:
        return tuple(c.path for c in self.checks() if c.state == "stale")

    @property
    def open_snags(self) -> tuple[Snag, ...]:
        return tuple(s for s in self.snags if s.open)
