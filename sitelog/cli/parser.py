"""The command line as argparse reads it, and what it finds wrong said plainly."""

from __future__ import annotations

import argparse
import os
import sys

from sitelog.cli.words import COMMANDS
from sitelog.refusal import Refusal
from sitelog.wording.actions.flags import BY, flag

TYPE_CHECKING = False  # `sitelog --help` must not wait for typing: it costs as much as the help itself
if TYPE_CHECKING:
    from typing import NoReturn

    from sitelog.wording.actions.flags import Flag
    from sitelog.wording.actions.kinds import Command


class _Parser(argparse.ArgumentParser):
    """argparse, but a wrong word is one line like every other refusal."""

    def error(self, message: str) -> NoReturn:
        said = _plainly(message)
        raise Refusal(f"{said}{'' if said.endswith('?') else '.'} See `{self.prog} --help`")


def _plainly(message: str) -> str:
    """What argparse found wrong, as a person would say it."""
    import re  # only where something is wrong

    if found := re.fullmatch(r"argument COMMAND: invalid choice: '(.*)' \(.*\)", message):
        from sitelog.near import closest

        names = [command.name for command in COMMANDS]
        near = closest(found[1], names, 0.5)
        return f"No command {found[1]!r}. " + (f"Did you mean {near}?" if near else f"Commands are {', '.join(names)}")
    if found := re.fullmatch(r"the following arguments are required: (.*)", message):
        return f"Add {found[1]}"
    if found := re.fullmatch(r"argument (\S+): expected one argument", message):
        return f"{found[1]} needs a value after it"
    if found := re.fullmatch(r"argument (\S+): invalid choice: (.*) \(choose from (.*)\)", message):
        choices = found[3].replace("'", "")
        return f"{found[1]} can't be {found[2]}: choose from {choices}"
    return message


# Before the command or after it. A command's own copy has no default, so that it leaves what stood before it.
EVERYWHERE: tuple[Flag, ...] = (
    flag("--ascii", action="store_true", help="plain letters for marks and lines"),
    flag("--plain", action="store_true", help="line by line, for a screen reader or a plain terminal"),
    flag("--json", action="store_true", help="what is said as one JSON object; `sitelog schema` has its shape"),
    flag("-q", "--quiet", action="store_true", help="say nothing but what is wrong"),
)


def _formatter(prog: str) -> argparse.HelpFormatter:
    """argparse's, told how wide the terminal is: to find it out it would load much, at every flag that is added."""
    given = os.environ.get("COLUMNS", "")
    if given.isdecimal() and int(given):
        return argparse.HelpFormatter(prog, width=int(given) - 2)
    try:
        columns = os.get_terminal_size(sys.__stdout__.fileno()).columns  # type: ignore[union-attr]
    except (AttributeError, ValueError, OSError):
        columns = 0
    return argparse.HelpFormatter(prog, width=(columns or 80) - 2)


def parser(wanted: str = "") -> argparse.ArgumentParser:
    """The command line, with the flags of the wanted command only: the others would cost time and are not read.

    Bare `sitelog` opens the chooser on this folder. See `whole_parser` for all of it.
    """
    top, commands = _top()
    for command in [known for known in COMMANDS if known.name == wanted] or COMMANDS:
        sub = _named(commands, command)
        if command.name == wanted:
            _fill(sub, command)
    return top


def whole_parser() -> argparse.ArgumentParser:
    """The command line with the flags of every command: completion and the manual page are made from it."""
    top, commands = _top()
    for command in COMMANDS:
        _fill(_named(commands, command), command)
    return top


def _top() -> tuple[argparse.ArgumentParser, argparse._SubParsersAction[_Parser]]:
    top = _Parser(
        prog="sitelog",
        formatter_class=_formatter,
        description="Steps a foreman roof carpenter through a roofing job, from first stage to handover pack.",
        epilog="`sitelog` on its own lists the jobs in this folder. Example: sitelog sample site",
    )
    for names, how in EVERYWHERE:
        top.add_argument(*names, **how)
    top.add_argument(*BY[0], **BY[1])
    top.add_argument("--version", action="store_true", help="print the version")
    top.set_defaults(act="screen:choose", by="", checklists=[], command="")
    # Told its own name, argparse need not write a usage line to find it out, which loads much.
    return top, top.add_subparsers(prog="sitelog", metavar="COMMAND", title="commands", parser_class=_Parser)


def _named(commands: argparse._SubParsersAction[_Parser], command: Command) -> _Parser:
    sub = commands.add_parser(
        command.name,
        help=command.does,
        description=f"{command.does[0].upper()}{command.does[1:]}.",
        epilog=f"Example: {command.example}",
        formatter_class=_formatter,
    )
    sub.set_defaults(act=command.act, command=command.name)
    return sub


def _fill(sub: _Parser, command: Command) -> None:
    """Its own flags, then those that every command has."""
    for names, how in command.flags:
        sub.add_argument(*names, **(how | {"default": argparse.SUPPRESS} if names == BY[0] else how))
    for names, how in EVERYWHERE:
        sub.add_argument(*names, **(how | {"default": argparse.SUPPRESS}))
