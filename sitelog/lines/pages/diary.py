"""The site diary, a day at a time."""

from datetime import date

from sitelog.job.state.record_views import DiaryDay
from sitelog.lines.photos import attach_to_day
from sitelog.lines.session import LineSession
from sitelog.lines.talk import lines
from sitelog.wording.diary import day_lines, days, page_of
from sitelog.wording.entries import local_time, what
from sitelog.wording.prompts import prompts

PHOTO = "attach a photo"


def journal(session: LineSession, path: str) -> str:
    """The day as it was logged, then what is written on it, or another day. Goes on until it is left."""
    today = session.today
    known = days(session.state, today)
    at = known.index(today)
    while True:
        page = page_of(session.state, known[at])
        session.talk.say("", f"{date.fromisoformat(page.day):%A %d %B %Y}, day {at + 1} of {len(known)}")
        _say_day(session, page)
        keys = list(prompts.DIARY)
        rows = [*(f"write: {prompts.diary_label(key)}" for key in keys), PHOTO]
        moves = [step for step in (-1, 1) if 0 <= at + step < len(known)]
        rows += ["the day before" if step < 0 else "the day after" for step in moves]
        said = session.talk.pick("The site diary.", rows)
        if said < len(keys):
            _write(session, page, keys[said])
        elif rows[said] != PHOTO:
            at += moves[said - len(keys) - 1]
        elif attach_to_day(session, page.day):
            session.talk.say("Added to the site diary.")


def _say_day(session: LineSession, page: DiaryDay) -> None:
    logged = [entry for entry in page.entries if entry.act != "diary"]
    session.talk.say(*(f"{local_time(entry)} {what(entry, session.state)}. {entry.by}" for entry in logged))
    session.talk.say(*lines(day_lines(page)), *([] if logged else ["Nothing recorded this day."]))


def _write(session: LineSession, page: DiaryDay, key: str) -> None:
    if session.do(lambda: prompts.diary(page, key)):
        session.talk.say(f"{prompts.diary_label(key).capitalize()} is in the site diary.")
