"""A job as plain data for other programs, as its JSON has it: the keys stay for ever, new ones may come.

Lengths are mm, angles degrees, nothing is rounded; a section is "47x150"; a time is ISO 8601 in UTC.
"""

from typing import Any

from msgspec import Struct

from sitelog.calculators.catalogue import Verdict
from sitelog.checklist.schema.model import CheckKind
from sitelog.job.state.views import CheckState, StageState

Plain = Any  # a figure, words, rows of them, or None where there is none


class LimitData(Struct, frozen=True):
    """What a figure is held to: its rule, how far it may be out, where that comes from, and how it is said."""

    rule: str
    amount: float | None
    origin: str
    says: str


class FigureData(Struct, frozen=True):
    """One figure of a check. It is entered as `KEY=VALUE`; the one figure of a check also as `VALUE` alone."""

    key: str
    says: str
    kind: str
    unit: str
    optional: bool
    example: str  # a value as it may be typed
    drawn: Plain
    value: Plain
    difference: float | None
    uncertainty: float | None  # U of the tape, in the same unit
    verdict: Verdict | None


class ChoiceData(Struct, frozen=True):
    """One answer that can be chosen: the word to give, and what people see."""

    id: str
    label: str


class AnswerData(Struct, frozen=True):
    """Another answer than the one in force, as it was entered."""

    value: Plain
    by: str
    at: str
    device: str


class CorrectionData(AnswerData, frozen=True):
    """An answer that was corrected, and why."""

    reason: str


class CheckData(Struct, frozen=True):
    """A check as it stands. `type` is what to give `sitelog record` after its path, with figures to replace."""

    id: str
    path: str
    ask: str
    kind: CheckKind
    state: CheckState
    value: Plain
    verdict: Verdict | None
    drawn: Plain
    tolerance: float | None
    limits: dict[str, LimitData]
    figures: list[FigureData]
    choices: list[ChoiceData]
    inputs: dict[str, Plain]  # what its sum is worked from, by name: the `points` of levels, the spacing of jacks
    photo: bool  # it wants a photo: photo=FILE
    type: list[str]
    blocked: str  # why it can't be answered now, or ""
    refusal: str  # why it can't be judged or worked out yet, or ""
    by: str
    at: str
    instrument: str
    late: bool
    at_once: bool
    doubted: bool
    rivals: list[AnswerData]
    corrections: list[CorrectionData]


class StageData(Struct, frozen=True):
    """A stage and its checks; `hold` is one that must be signed before what follows."""

    id: str
    path: str
    title: str
    state: StageState
    hold: bool
    blocked: str
    checks: list[CheckData]


class PartData(Struct, frozen=True):
    """A part of the roof, or the job's own first and last stages as the part "job"."""

    id: str
    form: str
    stages: list[StageData]


class GaugeData(Struct, frozen=True):
    """One number that a caution asks for, and the readings that stop the work: from one up, or under one."""

    key: str
    unit: str
    stop_from: float | None
    stop_under: float | None


class CautionData(Struct, frozen=True):
    """A caution at a stage where it applies. `answered_by` is "" while nobody has; `type` is an answer to it."""

    id: str
    stage: str
    title: str
    hurts: str
    do: str
    ask: str
    kind: str
    choices: list[str]
    stop_on: list[str]  # the answers that stop the work
    numbers: list[GaugeData]  # those that it asks for, in the order to type them
    stops: bool
    stopped: bool  # the last answer is one that stops the work
    answered_by: str
    type: str


class FactData(Struct, frozen=True):
    """A named figure of a part: as drawn, and as built where it is known."""

    drawn: Plain
    built: Plain
    unit: str
    says: str
    drawable: bool  # the drawing may give it: `sitelog draw FILE PART NAME=VALUE`


class InstructionData(Struct, frozen=True):
    """Work that was asked beyond the drawing."""

    id: str
    text: str
    who: str
    day: str
    hours: str
    timber: str
    path: str
    by: str
    at: str
    undone: bool


class SnagData(Struct, frozen=True):
    """Something to put right."""

    id: str
    text: str
    path: str
    who: str
    due: str
    by: str
    at: str
    open: bool


class ReleaseData(Struct, frozen=True):
    """What was carried on with as it is, and the state and figure that it had."""

    path: str
    reason: str
    was: str
    by: str
    at: str


class DeferralData(Struct, frozen=True):
    """A check left till a later stage."""

    path: str
    until: str
    reason: str
    by: str
    at: str
    open: bool


class InstrumentData(Struct, frozen=True):
    """A tape, level or meter on the list."""

    id: str
    kind: str
    grade: str
    doubted: bool
    by: str
    at: str
    why: str


class EarlierData(Struct, frozen=True):
    """An answer to a check that the job's lists no longer ask."""

    path: str
    ask: str
    answer: str
    by: str
    at: str
    note: str
    value: Plain


class PhotoData(Struct, frozen=True, omit_defaults=True):
    """A photo: how it stands on the disk, and its file where one is kept."""

    path: str
    name: str
    stands: str
    by: str
    at: str
    file: str = ""
    size: int = 0
    whole: bool | None = None


class JobData(Struct, frozen=True):
    """A whole job as it stands: what `sitelog show --json` prints."""

    title: str
    parts: list[PartData]
    facts: dict[str, FactData]
    instructions: list[InstructionData]
    snags: list[SnagData]
    releases: list[ReleaseData]
    deferrals: list[DeferralData]
    instruments: list[InstrumentData]
    earlier: list[EarlierData]
    photos: list[PhotoData]
    cautions: list[CautionData]
    stale: list[str]
    pointed_hips: list[str]
    roof_changes: list[str]
    entries: int
    head: str
    next: str
    replies: list[str] = []  # lines: a reply that lies beside the job, and how to enter it
    copies: list[str] = []  # lines: a copy of the job that lies beside it, what it has, and how to join it
