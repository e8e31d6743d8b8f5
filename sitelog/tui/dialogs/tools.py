"""An instrument that is named at a check and not in the register yet: put into it before the check is entered."""

from typing import Any

from sitelog.tui.dialogs import prompted
from sitelog.tui.widgets.page import Page
from sitelog.wording.prompts.prompts import register as new_tool
from sitelog.wording.prompts.prompts import unknown


async def known_tool(page: Page[Any], name: str) -> bool:
    """True once that instrument is in the register, or none was named; a new one is asked for and entered."""
    name = name.strip()
    if not name or name in page.site.state.instruments:
        return True
    return await prompted.do(page, lambda: unknown(name, page.site.state))


async def register(page: Page[Any], name: str, title: str) -> bool:
    """True once it has been entered, with what it is and its class."""
    return await prompted.do(page, lambda: new_tool(name, title))
