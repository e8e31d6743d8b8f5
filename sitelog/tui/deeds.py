"""What a foreman does to a check besides answering it: each asks for its words, then enters the act.

Each gives True when something was entered. `path` is a check's or a stage's.
"""

from typing import Any

from sitelog.job import acts
from sitelog.job.views import StageView
from sitelog.refusal import Refusal
from sitelog.tui.ask import Question, ask_words
from sitelog.tui.page import Page

SIGNATURE = "A typed name is a simple signature."


async def named(page: Page[Any]) -> bool:
    """True once there is a name to enter under; asks for it when there is none."""
    return bool(page.site.by) or await ask_name(page)


async def ask_name(page: Page[Any]) -> bool:
    question = Question("Your name", "Who is entering? It stands beside every entry.", "name", start=page.site.by)
    words = await ask_words(page, question)
    if words:
        page.site.by = words[0]
        page.show_title()
    return bool(words)


async def note(page: Page[Any], path: str) -> bool:
    words = await _words(page, "Note", "What is to be remembered of this?", "words")
    return bool(words) and page.site.attempt(lambda: acts.note(page.site.state, path, words))


async def photo(page: Page[Any], path: str) -> bool:
    words = await _words(page, "Photo", "Which photo shows it? Its number or file name.", "photo")
    return bool(words) and page.site.attempt(lambda: acts.note(page.site.state, path, f"photo: {words}"))


async def skip(page: Page[Any], path: str) -> bool:
    reason = await _words(page, "Not applicable", "Why does this check not apply here?", "reason")
    return bool(reason) and page.site.attempt(lambda: acts.skip(page.site.state, path, reason))


async def snag(page: Page[Any], path: str, start: str = "") -> bool:
    if not await named(page):
        return False
    answers = await ask_words(
        page,
        Question("Snag", "What is wrong?", "snag", start=start),
        Question("Snag", "Who puts it right?", "who", optional=True),
        Question("Snag", "By when? A date such as 2026-12-04.", "by when", optional=True),
    )
    if answers is None:
        return False
    text, who, due = answers
    return page.site.attempt(lambda: acts.snag(page.site.state, path, text, who=who, due=due))


async def release(page: Page[Any], path: str) -> bool:
    answers = await ask_words(
        page,
        Question("Release as it is", "Why is it let go? The reason goes into the pack.", "reason"),
        Question("Release as it is", f"By whom? {SIGNATURE}", "name", start=page.site.by),
    )
    if answers is None:
        return False
    reason, page.site.by = answers
    return page.site.attempt(lambda: acts.release(page.site.state, path, reason))


async def defer(page: Page[Any], path: str) -> bool:
    if not await named(page):
        return False
    stages = [stage.path for stage in page.site.state.order]
    later = stages[stages.index(_stage_of(path)) + 1 :]
    answers = await ask_words(
        page,
        Question("Later", f"At which stage does it come back? {', '.join(later)}", "stage"),
        Question("Later", "Why can it wait?", "reason"),
    )
    if answers is None:
        return False
    until, reason = answers
    return page.site.attempt(lambda: acts.defer(page.site.state, path, until, reason))


async def sign(page: Page[Any], stage: StageView) -> bool:
    """What is still open is told before anybody types a name."""
    try:
        acts.sign(page.site.state, stage.path)
    except Refusal as refusal:
        page.say(refusal.message)
        return False
    question = Question(
        f"Sign {stage.stage.title}",
        f"Your name, as {stage.stage.signer}. {SIGNATURE}",
        "name",
        start=page.site.by,
    )
    words = await ask_words(page, question)
    if words is None:
        return False
    page.site.by = words[0]
    return page.site.attempt(lambda: acts.sign(page.site.state, stage.path))


def _stage_of(path: str) -> str:
    return ".".join(path.split(".")[:2])


async def _words(page: Page[Any], title: str, asks: str, label: str) -> str:
    """One answer; "" when it was left."""
    if not await named(page):
        return ""
    words = await ask_words(page, Question(title, asks, label))
    return words[0] if words else ""
