"""What a foreman does to a check besides answering it: each asks for its words, then enters the act.

Each gives True when something was entered. `path` is a check's or a stage's.
"""

from collections.abc import Callable
from typing import Any

from sitelog.job import acts
from sitelog.job.entry import Draft
from sitelog.job.views import StageView
from sitelog.refusal import Refusal
from sitelog.telling.entries import what
from sitelog.tui.ask import Question, ask_words
from sitelog.tui.page import Page

SIGNATURE = "A typed name is a simple signature."


async def named(page: Page[Any]) -> bool:
    """True once there is a name to enter under, in a job that can be entered into; asks for it when there is none."""
    if page.site.read_only:
        page.say(f"To read only: {page.site.read_only}")
        return False
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
    if not _can(page, lambda: acts.skip(page.site.state, path, "why")):
        return False
    reason = await _words(page, "Not applicable", "Why does this check not apply here?", "reason")
    return bool(reason) and page.site.attempt(lambda: acts.skip(page.site.state, path, reason))


async def snag(page: Page[Any], path: str, start: str = "") -> bool:
    if not await named(page):
        return False

    def draft(answers: list[str]) -> Draft:
        text, who, due = answers
        return acts.snag(page.site.state, path, text, who=who, due=due)

    answers = await ask_words(
        page,
        Question("Snag", "What is wrong?", "snag", start=start),
        Question("Snag", "Who puts it right?", "who", optional=True),
        Question("Snag", "By when? A date such as 2026-12-04.", "by when", optional=True),
        prove=draft,
    )
    return answers is not None and page.site.attempt(lambda: draft(answers))


async def release(page: Page[Any], path: str) -> bool:
    """The foreman who goes on afterwards does so under the name of before."""
    if not _can(page, lambda: acts.release(page.site.state, path, "why")) or not await named(page):
        return False
    answers = await ask_words(
        page,
        Question("Release as it is", "Why is it let go? The reason goes into the pack.", "reason"),
        Question("Release as it is", f"By whom? {SIGNATURE}", "name", start=page.site.by),
        prove=lambda answers: acts.release(page.site.state, path, answers[0]),
    )
    if answers is None:
        return False
    reason, name = answers
    return _as(page, name, lambda: acts.release(page.site.state, path, reason))


async def defer(page: Page[Any], path: str) -> bool:
    stages = {str(number): stage for number, stage in enumerate(page.site.state.order, 1)}
    at = next((int(number) for number, stage in stages.items() if stage.path == _stage_of(path)), 0)
    later = {number: stage for number, stage in stages.items() if int(number) > at}
    if not later:
        page.say("No stage comes after this: do it, snag it or release it.")
        return False
    if not _can(page, lambda: acts.defer(page.site.state, path, stages[str(len(stages))].path, "why")):
        return False
    if not await named(page):
        return False

    def draft(answers: list[str]) -> Draft:
        until, reason = answers
        if until not in later:
            raise Refusal(f"Stage is {until!r}: give the number of one that comes later, such as {next(iter(later))}.")
        return acts.defer(page.site.state, path, later[until].path, reason)

    names = ", ".join(f"{number} {stage.stage.short or stage.stage.title}" for number, stage in later.items())
    answers = await ask_words(
        page,
        Question("Later", f"At which stage does it come back? {names}", "number"),
        Question("Later", "Why can it wait?", "reason"),
        prove=draft,
    )
    return answers is not None and page.site.attempt(lambda: draft(answers))


async def sign(page: Page[Any], stage: StageView) -> bool:
    """What is still open is told before anybody types a name."""
    if not _can(page, lambda: acts.sign(page.site.state, stage.path)) or not await named(page):
        return False
    question = Question(
        f"Sign {stage.stage.title}",
        f"Your name, as {stage.stage.signer}. {SIGNATURE}",
        "name",
        start=page.site.by,
    )
    words = await ask_words(page, question)
    return words is not None and _as(page, words[0], lambda: acts.sign(page.site.state, stage.path))


async def undo(page: Page[Any]) -> bool:
    job = page.site.job
    if not job or not _can(page, lambda: acts.undo(page.site.state, job.entries)) or not await named(page):
        return False
    gone = acts.undo(page.site.state, job.entries).value["id"]
    told = next(what(entry, page.site.state) for entry in job.entries if entry.id == gone)
    done = page.site.attempt(lambda: acts.undo(page.site.state, job.entries))
    if done:
        page.say(f"Taken back: {told}. The record keeps both.")
    return done


def _stage_of(path: str) -> str:
    return ".".join(path.split(".")[:2])


def _can(page: Page[Any], draft: Callable[[], Draft]) -> bool:
    """True if that could be entered as things stand; else it is told before anybody types a word."""
    try:
        draft()
    except Refusal as refusal:
        page.say(refusal.message)
        return False
    return True


def _as(page: Page[Any], name: str, draft: Callable[[], Draft]) -> bool:
    """Enter it under that name, and go on under the name of before."""
    before, page.site.by = page.site.by, name
    done = page.site.attempt(draft)
    page.site.by = before or name
    page.show_title()
    return done


async def _words(page: Page[Any], title: str, asks: str, label: str) -> str:
    """One answer; "" when it was left."""
    if not await named(page):
        return ""
    words = await ask_words(page, Question(title, asks, label))
    return words[0] if words else ""
