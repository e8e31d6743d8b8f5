"""What is asked where a job is not what it was: shown over the page on top."""

from pathlib import Path

from sitelog.refusal import Refusal
from sitelog.tui.dialogs import prompted
from sitelog.tui.dialogs.ask import ask_words
from sitelog.tui.host import Host
from sitelog.wording.prompts.drafts import Drafts
from sitelog.wording.prompts.rescuing import place, typed_place, without


async def ask_without(site: Host) -> None:
    """Go on without entries that can't be found, with a reason; left, it is asked again at the next start."""
    page, job = site.page, site.job
    if page and job and await prompted.do(page, lambda: without(job)):
        page.say("Entered: you go on without them.")


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
