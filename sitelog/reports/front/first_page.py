"""What stands on the first page: all that is not as it should be, what was let go first, and whether it is signed."""

from dataclasses import dataclass

from sitelog.job.cautions.due import unread
from sitelog.reports.formatting import Formatter
from sitelog.reports.front.amiss import FINDERS, Rows
from sitelog.reports.model import Items, Section
from sitelog.reports.phrases import joined
from sitelog.text import text_between

# In the order of the page. What keeps the job from being signed is told in its heading as well.
KINDS = (
    ("pointed", "Hips to check against the table's corner", False),
    ("roof", "Lines of the roof that changed once it was taped", False),
    ("released", "Carried on as it is", False),
    ("out", "Out of tolerance", True),
    ("unsure", "Too close to call", True),
    ("snags", "Snags open", False),
    ("stale", "Out of date: a figure changed after this was done", True),
    ("rivals", "Two different answers", False),
    ("stopped", "Stop work: the last reading says so", True),
    ("unread", "Cautions not read", False),
    ("deferred", "Left till later", True),
    ("open", "Not checked", True),
    ("aside", "Not applicable", False),
    ("unsigned", "Stages not signed", True),
    ("returned", "Points sent back", False),
    ("changed", "Newer checklists than this job uses", False),
    ("once", "Ticked within a second of the one before", False),
    ("late", "Recorded more than 15 minutes late", False),
    ("doubted", "Measured with a tool later marked bad", False),
    ("photos", "Photos missing or changed", False),
)
COUNTED = {"pointed": "hips to check", "roof": "roofs changed", "unsure": "too close to call", "stale": "out of date",
           "rivals": "two answers",
           "stopped": "stop work", "unread": "cautions not read", "deferred": "left till later", "open": "not checked",
           "aside": "not applicable", "unsigned": "stages not signed", "returned": "sent back",
           "changed": "newer checklists",
           "once": "ticked at once", "late": "late", "doubted": "bad tool",
           "photos": "photos missing"}  # fmt: skip

SELDOM = ("pointed", "roof")  # told only where there is one


@dataclass(frozen=True)
class FirstPage:
    """The rows of each kind, by its id in KINDS."""

    rows: dict[str, Rows]
    unread_stops: int
    signature: str

    @property
    def sections(self) -> tuple[Section, ...]:
        """A section for each kind that has rows, in the order of the page."""
        found = []
        for id, title, _ in KINDS:
            if self.rows[id]:
                items = Items(tuple((row.head, row.lines) for row in self.rows[id]))
                found.append(Section(id, title, (items,)))
        return tuple(found)

    @property
    def counts(self) -> tuple[tuple[str, int], ...]:
        """What is counted under the heading, and how many: every kind, hips to check only where there are any."""
        kinds = (id for id, _, _ in KINDS if id not in SELDOM or self.rows[id])
        return tuple((COUNTED.get(id, id), len(self.rows[id])) for id in kinds)

    @property
    def reasons(self) -> tuple[str, ...]:
        """What keeps the handover from being signed, or should have."""
        found = [(COUNTED.get(id, id), len(self.rows[id])) for id, _, stops in KINDS if stops]
        found.append(("cautions still to read before handover", self.unread_stops))
        return tuple(f"{what} {count}" for what, count in found if count)

    @property
    def signed(self) -> bool:
        """Whether the last stages are signed and nothing keeps that from counting."""
        return bool(self.signature) and not self.reasons

    @property
    def standing(self) -> str:
        """The heading: signed, and by whom, or why not."""
        if self.signed:
            return f"SIGNED {self.signature}. A typed name shows who typed it."
        why = joined(self.reasons) or "waiting for the handover signature"
        since = text_between(" It was signed ", self.signature, ", but that signature no longer counts.")
        return f"NOT SIGNED: {why}.{since}"


def first_page(tell: Formatter) -> FirstPage:
    """All that is not as it should be in a job, by kind."""
    rows = {kind: tuple(find(tell)) for kind, find in FINDERS.items()}
    unread_stops = sum(asked.caution.stops for asked in unread(tell.state.order, tell.state))
    return FirstPage(rows, unread_stops, _signature(tell))


def _signature(tell: Formatter) -> str:
    """Who signed the last stages, and when; "" before the job is handed over."""
    if not tell.state.handed_over:
        return ""
    last = [stage for stage in tell.state.order if stage.stage.place == "last"]
    return joined(f"by {stage.by}, {tell.when(stage.at)}" for stage in last if stage.by)
