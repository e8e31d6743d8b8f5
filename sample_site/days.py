"""A day on the sample site: each act a few minutes after the one before, under the name of whoever did it."""

from collections.abc import Callable
from datetime import datetime, timedelta, timezone

from sitelog.job.actions import actions
from sitelog.job.job import Job
from sitelog.job.log.entry import Author, Draft

REED, DUNN, VALE = "M. Reed", "A. Dunn", "T. Vale"
UTC = timezone(timedelta(0))


class Day:
    """One day on the sample site: each act a few minutes after the one before."""

    def __init__(self, job: Job, day: int, hour: int = 7) -> None:
        self.job = job
        self.now = datetime(2026, 11, day, hour, 31, 20, tzinfo=UTC)

    def do(self, by: str, make: Callable[[], Draft | list[Draft]], minutes: float = 4) -> None:
        self.now += timedelta(minutes=minutes)
        self.job.do(make(), Author(by=by, device="sample01", now=self.now))

    def answer(
        self,
        path: str,
        by: str = REED,
        *,
        note: str = "",
        tool: str = "",
        done: str = "",
        minutes: float = 4,
        **texts: str,
    ) -> None:
        self.do(
            by,
            lambda: actions.done_at(
                actions.answer(self.job.state, self.job.library, path, texts, note=note, instrument=tool), done
            ),
            minutes,
        )

    def read(self, caution: str, text: str, by: str = REED, at: str = "") -> None:
        self.do(by, lambda: actions.read_caution(self.job.state, self.job.library, caution, text, at=at), 1)

    def sign(self, path: str, by: str = REED) -> None:
        self.do(by, lambda: actions.sign(self.job.state, path), 6)

    def skip(self, path: str, reason: str, by: str = REED) -> None:
        self.do(by, lambda: actions.skip(self.job.state, path, reason))

    def defer(self, path: str, until: str, reason: str, by: str = REED) -> None:
        self.do(by, lambda: actions.defer(self.job.state, path, until, reason))

    def diary(self, by: str = REED, **fields: str) -> None:
        self.now = self.now.replace(hour=16, minute=20)
        self.do(by, lambda: actions.diary(self.now.date().isoformat(), **fields))
