"""Photos from the screens: read and copied beside the screen's own work, so that it never waits for a slow card."""

import asyncio
from typing import Any

from sitelog.job.actions import actions
from sitelog.job.photos.choosing import Chosen, offered
from sitelog.job.photos.keeping import Picture, keep, look
from sitelog.refusal import Refusal
from sitelog.tui.dialogs import prompted
from sitelog.tui.dialogs.ask import ask_words
from sitelog.tui.widgets.page import Page
from sitelog.wording.prompts import attaching
from sitelog.wording.prompts.attaching import DraftOf, TextDraftOf


async def enter(page: Page[Any], found: Chosen, whole: bool, draft_of: DraftOf) -> bool:
    """Look at the pictures, prove the act, copy them, and only then enter it; False if any of that was refused."""
    site, job = page.site, page.site.job
    if job is None:
        return False
    if found.sources:
        page.say(attaching.copying(found))
    try:
        pictures = await asyncio.to_thread(_looked_at, found, whole)
        photos = [picture.photo for picture in pictures]
        told = attaching.shown_before(site.state, draft_of(photos, found.name), photos)
        if told and not await _shows_both(page, told):
            return False
        await asyncio.to_thread(keep, job.file.files, pictures)
    except Refusal as refusal:
        site.tell(refusal.message)
        return False
    # Proved once more: something else may have been entered while it was copied.
    return site.job is job and site.attempt(lambda: draft_of(photos, found.name))


def _looked_at(found: Chosen, whole: bool) -> list[Picture]:
    return [look(source, whole=whole) for source in found.sources]


async def _shows_both(page: Page[Any], told: str) -> bool:
    """Whether somebody says that the photo serves this check, too."""
    words = await ask_words(page, attaching.twice(told), prove=lambda answers: attaching.agreed(answers[0]))
    if words is None:
        page.say("Nothing saved. Choose another photo.")
    return words is not None


async def note(page: Page[Any], path: str) -> bool:
    """Photos on a check or a stage, with words if there are any."""
    return await _attach(
        page,
        lambda text, photos, name: actions.note(page.site.state, path, text, photos=photos, photo=name),
        form=f"photo {path}",
    )


async def diary(page: Page[Any], day: str) -> bool:
    """Photos on the diary's page of a day (ISO), with words if there are any."""
    return await _attach(
        page, lambda text, photos, name: attaching.on_page(day, text, photos, name), form=f"photo {day}"
    )


async def _attach(page: Page[Any], draft_of: TextDraftOf, form: str) -> bool:
    job = page.site.job
    if job is None or not await prompted.named(page):
        return False
    file, offers = job.file.path, offered(job.file.path.parent)
    words = await ask_words(
        page,
        *attaching.questions(offers),
        prove=lambda answers: attaching.chosen(answers[0], file, offers),
        form=form,
    )
    if words is None:
        return False
    typed, text, keeps = words
    entered = await enter(
        page,
        attaching.chosen(typed, file, offers),
        attaching.keeps(keeps),
        lambda photos, name: draft_of(text, photos, name),
    )
    if entered:
        page.site.drafts.drop(form)
    return entered
