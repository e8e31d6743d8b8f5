"""What a job looks like from outside: the state that the fold gives, and that screens, pack and command line show.

Frozen, whole, and the only shape in which a job's state leaves this room.
"""

from collections.abc import Iterator, Mapping
from typing import Literal

from msgspec import Struct, field
from msgspec.structs import replace

from sitelog.calculators.catalogue import Answer, Value, Verdict
from sitelog.checklist.schema.guidance import Ask, Caution
from sitelog.checklist.schema.instruments import ReadWith
from sitelog.checklist.schema.model import Check, Checklist, Library, Limit, Stage
from sitelog.job.facts.fact import Fact, Inputs, Whence
from sitelog.job.log.entry import Entry
from sitelog.job.log.record_code import Digests
from sitelog.job.photos.photo import Photo
from sitelog.job.state.record_views import (
    Deferral,
    DiaryDay,
    Earlier,
    Instruction,
    Instrument,
    Made,
    Point,
    Reading,
    Release,
    Snag,
    Tally,
)
from sitelog.quantities.quantity import Units

CheckState = Literal["open", "done", "out", "unsure", "snagged", "released", "not applicable", "stale", "deferred"]
Origin = Literal["built", "drawn", "usual", "read", "given", "default", "none"]  # of a calculator's input
StageState = Literal["open", "waiting", "done", "signed", "released"]


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
    read_with: ReadWith = ""


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
    """A check of a part as it stands: what was answered, what its sum gives, and whether that is good."""

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
    """A stage of a part as it stands, with its checks and the cautions that are read before them."""

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
        """The checks whose conditions hold: the only ones that are shown and counted."""
        return tuple(check for check in self.checks if check.applies)


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
    own_list: str = ""  # the form under which a list of its own stands, where the roof has written it out

    @property
    def list_form(self) -> str:
        """The form by which its list is found."""
        return self.own_list or self.form


class State(Struct, frozen=True):
    """A whole job as its lists and entries have it. Two states are equal when all that is shown of them is."""

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
    ends: Digests = field(default_factory=dict)  # of the devices' chains: what `head` is worked from
    packs: tuple[Made, ...] = ()
    given: Inputs = field(default_factory=lambda: Inputs({}, {}))
    asked: tuple[Asked, ...] = ()
    earlier: tuple[Earlier, ...] = ()
    tallies: tuple[Tally, ...] = ()  # what is cut of the cutting list
    instructions: tuple[Instruction, ...] = ()  # work asked beyond the drawing, by number
    pointed: tuple[str, ...] = ()  # a line for each part whose hips an older list gave another head than fits

    own_lists: Mapping[str, Checklist] = field(default_factory=dict)  # written out for a part's roof, by form
    roof_changes: tuple[str, ...] = ()  # a line for each part whose roof as measured has other lines than drawn

    @property
    def forms(self) -> dict[str, str]:
        """The form of each part, as the library with the parts' own lists has it."""
        return {part.id: part.list_form for part in self.parts}

    def with_own(self, library: Library) -> Library:
        """The library with the lists that are written out for this job's roofs."""
        return replace(library, lists={**library.lists, **self.own_lists}) if self.own_lists else library

    def asked_of(self, part: str) -> Iterator[tuple[str, Asked]]:
        """What the finishes of other parts ask of this one, each with the title of the part that asks."""
        titles = {view.id: view.title for view in self.parts}
        for request in self.asked:
            if request.part == part:
                yield titles.get(request.by, request.by), request

    def checks(self) -> Iterator[CheckView]:
        """Every check that applies, in the order of work."""
        for stage in self.order:
            yield from stage.shown

    def stage(self, path: str) -> StageView | None:
        """The stage at that path ("main.plates"); None if no stage that applies has it."""
        return next((stage for stage in self.order if stage.path == path), None)

    def check(self, path: str) -> CheckView | None:
        """The check at that path ("main.plates.sides"); None if no check that applies has it."""
        return next((check for check in self.checks() if check.path == path), None)

    @property
    def stale(self) -> tuple[str, ...]:
        """The paths of the checks that must be answered again, because a fact under their answer has changed."""
        return tuple(check.path for check in self.checks() if check.state == "stale")

    @property
    def open_snags(self) -> tuple[Snag, ...]:
        """The snags that nobody has closed, in order of entry."""
        return tuple(snag for snag in self.snags if snag.open)
