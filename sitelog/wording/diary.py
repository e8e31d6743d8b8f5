"""The diary in words: its days, and what people wrote on one."""

from sitelog.job.state.record_views import DiaryDay
from sitelog.job.state.views import State
from sitelog.wording.prompts.prompts import DIARY


def days(state: State, today: str) -> list[str]:
    """Every day with something in it, and today, in order (ISO)."""
    return sorted({page.day for page in state.diary} | {today})


def page_of(state: State, day: str) -> DiaryDay:
    """The page of a day, empty where nothing was entered."""
    return next((page for page in state.diary if page.day == day), DiaryDay(day, ()))


def day_lines(page: DiaryDay) -> list[tuple[str, str]]:
    """(first word, words) of what people wrote."""
    told = [(key.capitalize(), getattr(page, key) or "–") for key in DIARY if key != "text"]
    photos = ", ".join(photo.name for photo in page.photos)
    return [*told, *(("Note", words) for words in page.text), *([("Photos", photos)] if photos else [])]
