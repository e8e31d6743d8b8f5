"""The roof of a job changed: its blocks with the plan, what that changes, and the entry; what is left is kept."""

from typing import Any

from sitelog.job.facts.fact import Fact
from sitelog.tui.building.page import Over
from sitelog.tui.dialogs import prompted
from sitelog.tui.registry import screen
from sitelog.tui.widgets.page import Page
from sitelog.wording.building.changing import ROOF, Change, change_roof, changes

KEPT = "Not saved. The changed roof is kept here: press Enter to go on with it."


async def changed_roof(page: Page[Any], fact: Fact) -> bool:
    """True when another roof was entered. Call it from a worker."""
    job, state, drafts = page.site.job, page.site.state, page.site.drafts
    part = next(part for part in state.parts if part.id == fact.key[0])
    if job is None:
        return False
    change = Change(state, part.id, job.library.lists[part.form], str(fact.drawn or ""))
    kept = drafts.typed(fact.name)

    def keep(key: str, text: str) -> None:
        kept[key] = text
        drafts.keep(fact.name, kept)

    def take(text: str) -> None:
        keep(ROOF, text)

    def tell(text: str) -> list[tuple[str, str]]:
        return changes(change, text)

    start = kept.get(ROOF) or change.was
    await page.app.push_screen_wait(screen("building", start, state.units, take, kept, keep, Over(tell, change.was)))
    now = kept.get(ROOF) or change.was
    if now == change.was:
        drafts.drop(fact.name)
        return False
    if await prompted.do(page, lambda: change_roof(state, fact, now, tell(now))):
        drafts.drop(fact.name)
        return True
    page.say(KEPT)
    return False
