"""What a foreman does to a check besides answering it: each asks for its words, then enters the act.

Each gives True when something was entered. `path` is a check's or a stage's.
"""

from collections.abc import Callable
from typing import Any

from sitelog.job.state.corrections import ReasonWanted
from sitelog.job.state.views import CheckView, StageView
from sitelog.refusal import Refusal
from sitelog.tui.dialogs.ask import ask_words
from sitelog.tui.widgets.page import Page
from sitelog.wording.entries import what
from sitelog.wording.prompts import correcting, prompts
from sitelog.wording.prompts.asking import WAY_ON, with_way_on
from sitelog.wording.prompts.correcting import typed_again
from sitelog.wording.prompts.prompts import Prompt


async def named(page: Page[Any]) -> bool:
    """True once there is a name to enter under, in a job that can be entered into; asks for it when there is none."""
    if page.site.read_only:
        page.say(f"Read only: {page.site.read_only}")
        return False
    return bool(page.site.by) or await ask_name(page)


async def ask_name(page: Page[Any]) -> bool:
    """Ask who is there now; False when that was left."""
    words = await ask_words(page, prompts.name(page.site.by))
    if words:
        page.site.by = words[0]
        page.show_title()
    return bool(words)


async def do(page: Page[Any], prompt_of: Callable[[], Prompt], way_on: str = "") -> bool:
    """Ask what the prompt asks, and enter the act; what bars it is told before anybody types a word.

    `way_on` says after that which key leads on.
    """
    try:
        prompt = prompt_of()
        prompt.prove()
    except Refusal as refusal:
        page.say(with_way_on(refusal.message, way_on))
        return False
    if not await named(page):
        return False
    if prompt.signed:  # by whoever is there now: asking for a name may have changed it
        prompt = prompt_of()
    words = await ask_words(page, *prompt.questions, prove=prompt.make, form=prompt.form)
    if words is None:
        return False
    # The foreman who goes on after a signature does so under the name of before.
    before, page.site.by = page.site.by, words[-1] if prompt.signed else page.site.by
    done = page.site.attempt(lambda: prompt.make(words))
    page.site.by = before or words[-1]
    if done:
        page.site.drafts.drop(prompt.form)
    page.show_title()
    return done


async def ask(page: Page[Any], name: str, path: str) -> bool:
    """Ask what the action of that name asks, and do it to the check or stage at that path."""
    return await do(page, lambda: prompts.ASKED[name](here(page, path)))


def here(page: Page[Any], path: str) -> prompts.Here:
    """That check or stage as the job stands now, and who is there."""
    return prompts.Here(page.site.state, path, page.site.by, page.site.job)


async def snag(page: Page[Any], path: str, start: str = "") -> bool:
    """Raise a snag; `start` is offered as what is wrong."""
    return await do(page, lambda: prompts.snag(here(page, path), start))


async def sign(page: Page[Any], stage: StageView) -> bool:
    """Sign a stage under the name that is typed."""
    return await do(page, lambda: prompts.sign(page.site.state, stage, page.site.by), WAY_ON)


async def why_anew(page: Page[Any], view: CheckView, prove: Callable[[], object]) -> str | None:
    """The reason, where this corrects an answer: asked only once nothing else bars it. None if that was left."""
    try:
        prove()
    except ReasonWanted:
        question = correcting.why_anew(view, page.site.state)
        words = await ask_words(
            page,
            question,
            prove=lambda answers: correcting.reason_anew(view, answers[0]),
            form=correcting.reason_form(view.path),
        )
        if not words:
            return None
        return correcting.reason_anew(view, words[0])
    except Refusal:
        pass  # told as it is entered
    return ""


async def undo(page: Page[Any]) -> str:
    """Take the last entry back; both stay in the record. Gives the path it was at, "" where nothing was taken back.

    What it answered is kept as typed, so that the form of its check offers it.
    """
    job = page.site.job
    if not job:
        return ""
    try:
        draft, entry = prompts.undone(page.site.state, job.entries)
    except Refusal as refusal:
        page.say(refusal.message)
        return ""
    if not await named(page):
        return ""
    told, view = what(entry, page.site.state), page.site.state.check(entry.path)
    if not page.site.enter(draft):
        return ""
    if view and entry.act == "answer":
        page.site.drafts.keep(view.path, typed_again(view))
    page.say(f"Undone: {told}. Both stay in the record.")
    return entry.path
