"""A job of one hipped roof on the disk with a pack for the tiler, and replies to it as the form writes them."""

from collections.abc import Mapping, Sequence
from datetime import UTC, date, datetime, timedelta
from pathlib import Path

from sitelog.job.actions import actions
from sitelog.job.actions.setup import JobSetup
from sitelog.job.job import Job
from sitelog.job.log.entry import Author, Draft
from sitelog.job.replies.points import marked, print_of
from sitelog.job.replies.reply import Reply, summed
from sitelog.job.replies.taking import take
from sitelog.job.state.views import State
from sitelog.reports.model import Pack
from sitelog.reports.pack import make
from tests.shipped import library

TITLE = "Kiln Lane, plot 3"
FIGURES = {"length": "9000", "width": "6000", "pitch": "35", "design_mass": "70"}
SEVEN = datetime(2026, 3, 2, 7, 0, tzinfo=UTC)
TODAY = SEVEN.date()


class Desk:
    """The job, and a clock that moves a minute with each act."""

    def __init__(self, file: Path, title: str = TITLE, device: str = "tablet01") -> None:
        self.now, self.device = SEVEN, device
        parts = [("main", "Main roof", "hipped", FIGURES)]
        setup = JobSetup(title=title, place="", units="metric", parts=parts)
        self.job = Job.create(file, library(), self.author("M. Reed"), setup)

    def author(self, by: str) -> Author:
        self.now += timedelta(minutes=1)
        return Author(by=by, device=self.device, now=self.now)

    @property
    def state(self) -> State:
        return self.job.state

    def do(self, draft: Draft | Sequence[Draft], by: str = "M. Reed") -> None:
        self.job.do(draft, self.author(by))

    def hand_over(self, to: str = "tiler") -> str:
        """A pack entered as the program enters it; its record code."""
        code = self.state.head
        self.do(actions.handover(self.state, to, code, marked(self.state, to)))
        return code

    def drawings(self, words: str) -> None:
        """Point 1 of every pack answered: another answer is another point."""
        why = "reissued" if self.state.check("job.before.drawings").by else ""  # type: ignore[union-attr]
        self.do(actions.answer(self.state, library(), "job.before.drawings", {"value": words}, note=why))

    def pack(self) -> Pack:
        """What would be handed over now."""
        return make(self.state, library(), "tiler", self.now)

    def reply(
        self,
        accepted: Sequence[int] = (1, 2),
        back: Mapping[int, str] | None = None,
        *,
        by: str = "J. Dunn",
        day: date = TODAY,
        state: State | None = None,
    ) -> Reply:
        """An answer to the job's last pack, or to the last of an earlier `state`, made when it was as it was then."""
        then = state or self.state
        points = marked(then, "tiler")
        return summed(
            Reply(
                job=then.id,
                title=then.title,
                code=then.packs[-1].head,
                to="tiler",
                count=len(points),
                print=print_of(points),
                by=by,
                day=day.isoformat(),
                accepted=tuple(accepted),
                back=tuple((back or {}).items()),
            )
        )

    def enter(self, reply: Reply) -> tuple[int, ...]:
        """The reply entered; the points that have changed since its pack."""
        found = take(self.job, reply, TODAY)
        self.job.do(found.drafts, self.author(reply.by))
        return found.changed
