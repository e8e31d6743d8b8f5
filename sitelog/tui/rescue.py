"""What is asked where a job is not what it was: shown over the page on top."""

from pathlib import Path

from sitelog.refusal import Refusal
from sitelog.tui.dialogs import prompted
from sitelog.tui.dialogs.ask import ask_words
from sitelog.tui.host import Host
from sitelog.tui.registry import screen
from sitelog.wording.prompts.drafts import Drafts
from sitelog.wording.prompts.rescuing import COPY, COPY_CHOICES, copies_settled, copy_told, place, typed_place, without


async def ask_without(site: Host) -> None:
    """Go on without entries that can't be found, with a reason; left, it is asked again at the next start."""
    page, job = site.page, site.job
    if page and job and await prompted.do(page, lambda: without(job)):
        page.say("Entered: you go on without them.")


async def ask_to_join(site: Host) -> None:
    """Copies of the job that stand beside it: joined, or left as they are; then it is asked again at the next start."""
    page, session = site.page, site.session
    if not page or not session or not any(copy.new for copy in session.copies):
        return
    lines = [f"{copy_told(copy)}." for copy in session.copies]
    if await page.app.push_screen_wait(screen("left", COPY, lines, COPY_CHOICES)):
        try:
            done = session.join_copies()
        except Refusal as refusal:
            page.say(refusal.message)
            return
        site.refresh_pages()
        page.say(" ".join(copies_settled(done)))


async def ask_place(site: Host) -> None:
    """Where to go on with a job whose file is gone, until it is somewhere or that is left."""
    page, session = site.page, site.session
    while page and session and session.job.file.gone():
        words = await ask_words(page, place(session.job, site.folder if site.folder.is_dir() else Path.home()))
        if words is None:
            page.say(f"{session.job.file.gone()}. Nothing you enter can be saved until it is back.")
            return
        try:
            session.carry_on(typed_place(words[0]), site.author())
        except Refusal as refusal:
            site.tell(refusal.message)
            continue
        site.drafts = Drafts.of_job(session.job.file.files)
        site.clear_notices()
        site.refresh_pages()
        site.tell(f"Saved in {session.job.file.path}.")
