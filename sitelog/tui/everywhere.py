"""What is done everywhere, whatever is open: light or dark, help, all commands, undo, copying, and leaving."""

import os
from typing import ClassVar

from textual.app import App
from textual.binding import Binding, BindingType
from textual.widgets import Input

from sitelog.refusal import NOT_SAVED
from sitelog.text import clean, text_if
from sitelog.tui.host import Host
from sitelog.tui.keys import LEAVE_HELP, keys_of
from sitelog.tui.registry import screen
from sitelog.tui.themes import DAY, VAN
from sitelog.tui.widgets.over import OverPage
from sitelog.tui.widgets.page import Page

TAKE_BACK = "Nothing entered here to undo. Press esc, then u, to undo the last entry."
NO_CLIPBOARD = ("dumb", "linux")  # terminals that would print the letters meant for the clipboard


class Everywhere(Host, App[int]):
    """The keys of the program itself."""

    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("ctrl+q", "quit", show=False),
        Binding("ctrl+c", "stop", show=False, priority=True),
        Binding("f1", "help", show=False, priority=True),
        Binding("ctrl+p", "acts", show=False, priority=True),
        Binding("ctrl+z", "take_back", show=False, priority=True),
    ]
    plain = False  # with NO_COLOR there is one theme
    stopping = False  # once ctrl+c has said that it leaves when it is pressed again

    def action_theme(self) -> None:
        """Light or dark; with NO_COLOR there is only one."""
        if not self.plain:
            self.theme = VAN.name if self.theme == DAY.name else DAY.name

    def action_help(self) -> None:
        """What every key does, over whatever is open; there it says how to leave."""
        if isinstance(self.screen, Page) and self.screen.PLACE == "help":
            self.tell(LEAVE_HELP)
        else:
            self.push_screen(screen("help", self._place()))

    async def action_acts(self) -> None:
        """All commands, on a page that has them."""
        if isinstance(self.screen, Page) and any(key.act == "acts" for key in keys_of(self.screen.PLACE)):
            await self.run_action("acts", self.screen)
        else:
            self.tell("All commands are listed on a job's page: press a there.")

    def copy_to_clipboard(self, text: str) -> None:
        """The words that are marked, cleaned as they are on the screen. A console that can't copy isn't asked to."""
        if os.environ.get("TERM") in NO_CLIPBOARD:
            self._clipboard = clean(text, lines=True)
        else:
            super().copy_to_clipboard(clean(text, lines=True))

    async def action_stop(self) -> None:
        """Copy what is marked, and leave when it is pressed once more: many press it to copy, or by mistake."""
        if self.stopping:
            await self.action_quit()
            return
        if marked := self._marked():
            self.copy_to_clipboard(marked)
        self.stopping = True
        keeps = isinstance(self.screen, Page | OverPage) and self.screen.keeps_typed
        copied, kept = text_if(marked, "Copied. "), text_if(keeps, " What you typed is kept.")
        self._say_on_top(f"{copied}Press ctrl-C again to quit.{kept}")

    def _marked(self) -> str:
        field = self.focused
        if isinstance(field, Input) and field.selected_text:
            return field.selected_text
        return self.screen.get_selected_text() or ""

    def _say_on_top(self, words: str) -> None:
        if isinstance(self.screen, Page | OverPage):
            self.screen.say(words)

    async def action_take_back(self) -> None:
        """What u does, where a page has that key; in a form it says where to find it."""
        key = next((key for key in keys_of(self._place()) if key.shown == "u"), None)
        if key:
            await self.run_action(key.act, self.screen)
        else:
            self._say_on_top(TAKE_BACK)

    def _place(self) -> str:
        return self.screen.place_of_keys() if isinstance(self.screen, Page) else "field"

    async def action_quit(self) -> None:
        """Leave the program, once what can't be saved has been told."""
        if self.may_leave():
            code = NOT_SAVED if self.lost() else 0
            self.exit(code, message=self.leave() or None)
