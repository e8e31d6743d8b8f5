"""Each row of the table of actions can be done on the screen, line by line, and by its command."""

import pytest

from sitelog.cli.words import COMMANDS
from sitelog.lines.actions import DOES
from sitelog.lines.pages.index import PAGES
from sitelog.tui.pages.job import JobPage
from sitelog.tui.registry import SCREENS
from sitelog.wording.actions.kinds import Action, Asking, Opening
from sitelog.wording.actions.table import ACTIONS
from sitelog.wording.prompts.prompts import ASKED

each_action = pytest.mark.parametrize("action", ACTIONS, ids=lambda action: action.name)


@each_action
def test_a_key_does_its_action_on_the_page_of_the_job(action: Action) -> None:
    if isinstance(action, Asking):
        assert action.name in ASKED
    elif isinstance(action, Opening):
        assert action.name in SCREENS
    elif action.key and not action.name.startswith("app."):
        assert hasattr(JobPage, f"action_{action.name.partition('(')[0]}")


@each_action
def test_a_word_does_its_action_in_line_mode(action: Action) -> None:
    if action.line:
        assert action.name in {**ASKED, **PAGES, **DOES}


@each_action
def test_a_command_without_a_function_answers_the_prompt_of_its_action(action: Action) -> None:
    command = action.command
    if command and command.act == "keep.acts:asked":
        flags = {names[0].removeprefix("--") for names, _ in command.flags}
        assert isinstance(action, Asking)
        assert {"file", "path", "by", *command.answers} <= flags
        assert command.done.format_map(dict.fromkeys(flags, "x"))


def test_no_two_actions_and_no_two_commands_have_one_name() -> None:
    for names in ([action.name for action in ACTIONS], [command.name for command in COMMANDS]):
        assert len(names) == len(set(names))
