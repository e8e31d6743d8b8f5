"""What `--json` prints, by command: `sitelog schema` publishes these shapes. Keys stay for ever, new ones may come."""

from collections.abc import Mapping
from typing import Any

from msgspec import Struct

from sitelog.job.data.shapes import CautionData, CheckData, JobData


class Said(Struct, frozen=True, kw_only=True):
    """The lines that are printed without --json."""

    said: list[str]


class Entered(Said, frozen=True, kw_only=True):
    """An act that is in the record: how many entries that has now, its code, and the path of what is next."""

    entries: int
    head: str
    next: str


class Recorded(Entered, frozen=True, kw_only=True):
    """An answer, and its check as it stands now; None where the job no longer asks it."""

    check: CheckData | None


class Started(Entered, frozen=True, kw_only=True):
    """A new job."""

    file: str
    title: str


class Cautions(Said, frozen=True, kw_only=True):
    """`sitelog read FILE`: the cautions of the stage in hand."""

    cautions: list[CautionData]


class Verified(Said, frozen=True, kw_only=True):
    """Whether the record is as it was saved, and each fault in a line. What only lies beside the job is no fault."""

    good: bool
    faults: list[str]
    beside: list[str]


class Joined(Said, frozen=True, kw_only=True):
    """Copies of a job, joined."""

    added: int
    photos: int
    entries: int
    head: str
    two_answers: list[str]
    faults: list[str]
    aside: list[str] = []  # copies beside the job that were joined, and put into its own folder, under copies
    removed: list[str] = []  # copies beside the job that held nothing new


class ListRow(Struct, frozen=True):
    """A check or stage that newer lists bring, change or no longer have, and what changes of it."""

    path: str
    ask: str
    what: list[str]


class Lists(Said, frozen=True, kw_only=True):
    """What the newest lists would change in a job, or have changed."""

    new: list[ListRow]
    changed: list[ListRow]
    removed: list[ListRow]


class Linted(Said, frozen=True, kw_only=True):
    """The faults of checklists, a line each."""

    faults: list[str]


class Made(Said, frozen=True, kw_only=True):
    """Files that were written."""

    files: list[str]


class Instructed(Made, frozen=True, kw_only=True):
    """Work asked beyond the drawing, by its number, with its sheet to sign."""

    id: str


class HandedOver(Made, frozen=True, kw_only=True):
    """A pack, and whether all of it is signed."""

    to: str
    signed: bool
    standing: str
    counts: dict[str, int]
    head: str


class Order(Struct, frozen=True):
    """The cutting list, and what to buy for it. `refusal` is why that can't be worked out, or ""."""

    members: list[dict[str, Any]]
    batches: list[dict[str, Any]]
    totals: list[dict[str, Any]]
    stock: Any
    special: list[str]
    unsold: list[str]
    nested: list[dict[str, Any]]
    yard: str
    notes: list[str]
    refusal: str


class Counted(Said, frozen=True, kw_only=True):
    """A timber of the cutting list: how many are wanted, and how many were counted."""

    timber: str
    count: int
    cut: int
    up: int
    spoiled: int


class InputData(Struct, frozen=True):
    """What a calculator takes: mm and degrees unless a unit is typed with it."""

    name: str
    kind: str
    says: str
    choices: list[str]
    optional: bool


class ResultData(Struct, frozen=True):
    """What a calculator gives: a figure, or rows with these columns."""

    name: str
    unit: str
    says: str
    columns: list[str]


class CalculatorData(Struct, frozen=True, kw_only=True):
    """A calculator of the list."""

    name: str
    branch: str
    does: str
    basis: str
    definition: str
    example: str
    inputs: list[InputData]
    results: list[ResultData]


class CalcAnswer(Struct, frozen=True):
    """The answer of a calculator, not rounded."""

    calculator: str
    inputs: dict[str, Any]
    results: dict[str, Any]
    units: dict[str, Any]
    verdict: str | None
    cautions: list[str]
    basis: str


SHAPES: Mapping[str, tuple[Any, ...]] = {
    "new": (Started,),
    "sample": (Made,),
    "show": (JobData,),
    "record": (Recorded,),
    "draw": (Entered,),
    "undo": (Entered,),
    "sign": (Entered,),
    "release": (Entered,),
    "snag": (Entered,),
    "skip": (Entered,),
    "defer": (Entered,),
    "read": (Entered, Cautions),
    "note": (Entered,),
    "instruct": (Instructed,),
    "instrument": (Entered,),
    "verify": (Verified,),
    "lists": (Lists,),
    "merge": (Joined,),
    "order": (Order, Made),
    "tally": (Counted,),
    "drawings": (Made,),
    "templates": (Made,),
    "handover": (HandedOver,),
    "accept": (Entered,),
    "lint": (Linted,),
    "calc": (CalcAnswer, list[CalculatorData]),
}
