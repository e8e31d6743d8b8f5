"""The words of the command line: one table of commands, read by argparse, the help and the tests of the docs."""

from __future__ import annotations

import argparse

from sitelog.refusal import Refusal

# `sitelog --help` must not wait for typing or dataclasses: together they cost as much as the help itself.
TYPE_CHECKING = False
if TYPE_CHECKING:
    from typing import Any, NoReturn

    Flag = tuple[tuple[str, ...], dict[str, Any]]


def _flag(*names: str, **how: Any) -> Flag:
    return names, how


FILE = _flag("file", metavar="FILE", help="the job's file, such as kiln-lane.json")
BY = _flag("--by", metavar="NAME", help="your name, for the record")
PATH = _flag("path", metavar="PART.STAGE.CHECK", help="the check's code; run `sitelog show FILE` to see them")
STAGE = _flag("path", metavar="PART.STAGE", help="the stage's code; run `sitelog show FILE` to see them")
NOTE = _flag("--note", metavar="TEXT", default="", help="a note to go with it")
REASON = _flag("--reason", metavar="TEXT", default="", help="why; it goes in the pack")
INSTRUMENT = _flag("--instrument", metavar="ID", default="", help="the tape or level used, as listed")
WHOLE = _flag(
    "--whole", action="store_true", help="keep time, place and camera details in the photos (normally removed)"
)
DONE = _flag("--done", metavar="TIME", default="", help="when it happened, if not now: 07:30, or 2026-11-25T07:30")
LISTS = _flag(
    "--checklists",
    metavar="DIR",
    action="append",
    default=[],
    help="your firm's own checklists, added to those supplied; a folder `checklists` next to the job needs no flag",
)


PLAIN = _flag(
    "--plain",
    action="store_true",
    default=argparse.SUPPRESS,
    help="line by line, for a screen reader or a plain terminal; you can also put it before the command",
)


class Command:
    """A command: what it does, an example, and the function (`module:function` in this room) that does it."""

    def __init__(self, name: str, does: str, example: str, act: str, flags: tuple[Flag, ...] = ()) -> None:
        self.name = name
        self.does = does
        self.example = example
        self.act = act
        self.flags = flags


COMMANDS: tuple[Command, ...] = (
    Command(
        "new",
        "start a job; with no FILE it asks you on screen",
        'sitelog new kiln-lane.json --title "Kiln Lane, plot 3" --part main:hipped main.length=9000 main.width=6000 '
        'main.pitch=35 --by "M. Reed"',
        "keep:new",
        (
            _flag(
                "file",
                metavar="FILE",
                nargs="?",
                default="",
                help="name for the new file",
            ),
            _flag("figures", metavar="PART.FACT=VALUE", nargs="*", help="drawing figures of the parts"),
            _flag("--title", metavar="TEXT", default="", help="name of the job"),
            _flag("--place", metavar="TEXT", default="", help="address of the job"),
            _flag(
                "--part",
                metavar="ID:FORM[:TITLE]",
                action="append",
                default=[],
                help="a part of the roof and its type, such as main:hipped; once for each part",
            ),
            _flag(
                "--units", choices=("metric", "imperial"), default="metric", help="show lengths in metric or imperial"
            ),
            PLAIN,
            BY,
            LISTS,
        ),
    ),
    Command(
        "open",
        "open a job on the screen",
        "sitelog open kiln-lane.json",
        "screen:open_job",
        (FILE, PLAIN, BY, LISTS),
    ),
    Command(
        "sample",
        "copy the sample site into DIR and open it",
        "sitelog sample site",
        "screen:sample",
        (
            _flag(
                "folder",
                metavar="DIR",
                nargs="?",
                default="sample-site",
                help="a folder; if it is there already it is opened, not overwritten",
            ),
            PLAIN,
        ),
    ),
    Command(
        "show",
        "print the job so far",
        "sitelog show kiln-lane.json --json",
        "keep:show",
        (FILE, _flag("--json", action="store_true", help="one JSON object"), LISTS),
    ),
    Command(
        "record",
        "record the answer to a check",
        "sitelog record kiln-lane.json main.plates.sides ab=8996 bc=6003 cd=9001 da=6002 ac=10819 bd=10808 "
        '--by "M. Reed"',
        "keep:record",
        (
            FILE,
            PATH,
            _flag(
                "values",
                metavar="VALUE",
                nargs="*",
                help="the answer, or name=value for each of several figures; photo=FILE[,FILE] adds photos",
            ),
            BY,
            WHOLE,
            NOTE,
            INSTRUMENT,
            DONE,
            LISTS,
        ),
    ),
    Command(
        "draw",
        "change a part's drawing figures",
        'sitelog draw kiln-lane.json main pitch=37 --by "M. Reed"',
        "keep:draw",
        (
            FILE,
            _flag("part", metavar="PART", help="the part's short name"),
            _flag("figures", metavar="FACT=VALUE", nargs="*", help="figures from the drawing, such as pitch=37"),
            BY,
            LISTS,
        ),
    ),
    Command(
        "undo",
        "undo the last entry (it stays in the record)",
        'sitelog undo kiln-lane.json --by "M. Reed"',
        "keep:undo",
        (FILE, BY, LISTS),
    ),
    Command(
        "sign",
        "sign a finished stage",
        'sitelog sign kiln-lane.json main.plates --by "M. Reed"',
        "keep:sign",
        (FILE, STAGE, BY, LISTS),
    ),
    Command(
        "release",
        "carry on with a check or stage as it is, with your name and a reason",
        'sitelog release kiln-lane.json main.first-pair.twist --reason "packed at the head" --by "M. Reed"',
        "keep:release",
        (FILE, _flag("path", metavar="PART.STAGE[.CHECK]", help="the check or stage"), REASON, BY, LISTS),
    ),
    Command(
        "snag",
        "raise a snag, or close one",
        'sitelog snag kiln-lane.json main.plates.sides "corner C 11 out" --who "A. Dunn" --by "M. Reed"',
        "keep:snag",
        (
            FILE,
            _flag("path", metavar="PATH", nargs="?", default="", help="where it was found"),
            _flag("text", metavar="TEXT", nargs="?", default="", help="what is wrong"),
            _flag("--who", metavar="NAME", default="", help="who will fix it"),
            _flag("--due", metavar="DATE", default="", help="fix by what date, such as 2026-12-04"),
            _flag("--close", metavar="N", default="", help="the number of a snag that has been fixed"),
            BY,
            LISTS,
        ),
    ),
    Command(
        "skip",
        "mark a check not applicable, with the reason",
        'sitelog skip kiln-lane.json main.plates.ties --reason "steel ring beam" --by "M. Reed"',
        "keep:skip",
        (FILE, PATH, REASON, BY, LISTS),
    ),
    Command(
        "defer",
        "leave a check until a later stage",
        'sitelog defer kiln-lane.json main.plates.ties --until main.hips --reason "ties not on site" --by "M. Reed"',
        "keep:defer",
        (
            FILE,
            PATH,
            _flag("--until", metavar="PART.STAGE", default="", help="the stage to do it at"),
            REASON,
            BY,
            LISTS,
        ),
    ),
    Command(
        "read",
        "answer a caution; with no id, list the ones for the current stage",
        'sitelog read kiln-lane.json weather-wind 12 --by "M. Reed"',
        "keep:read",
        (
            FILE,
            _flag("caution", metavar="CAUTION", nargs="?", default="", help="its name, such as weather-wind"),
            _flag(
                "answer",
                metavar="ANSWER",
                nargs="?",
                default="",
                help="what it asks for: a reading, a name, a place",
            ),
            _flag(
                "--at",
                metavar="STAGE",
                default="",
                help="the stage it is for, such as deck.joists; the current one if left out",
            ),
            BY,
            LISTS,
        ),
    ),
    Command(
        "note",
        "add a note to a check, a stage or the site diary",
        'sitelog note kiln-lane.json main.plates "bedded on the long wall first" --by "M. Reed"',
        "keep:note",
        (
            FILE,
            _flag("path", metavar="PATH", help="a check or a stage, or `day` for the site diary"),
            _flag("text", metavar="TEXT", nargs="?", default="", help="the note; optional with photos"),
            _flag("--photo", metavar="FILE[,FILE]", default="", help="photos to add"),
            BY,
            WHOLE,
            LISTS,
        ),
    ),
    Command(
        "instrument",
        "add a tape or level, or mark one bad",
        'sitelog instrument kiln-lane.json T2 tape II --by "M. Reed"',
        "keep:instrument",
        (
            FILE,
            _flag("id", metavar="ID", help="the name on it, such as T2"),
            _flag("kind", metavar="KIND", nargs="?", default="", help="tape, level, rule, moisture meter ..."),
            _flag("grade", metavar="CLASS", nargs="?", default="", help="I, II or III for a tape"),
            _flag("--bad", action="store_true", help="it reads wrong: flag everything measured with it"),
            REASON,
            BY,
            LISTS,
        ),
    ),
    Command(
        "verify",
        "check that no entry or photo has been changed or lost",
        "sitelog verify kiln-lane.json --head 0123456789ab",
        "prove:verify",
        (FILE, _flag("--head", metavar="CODE", help="the record code on a pack, to check the record still matches it")),
    ),
    Command(
        "lists",
        "see what newer checklists would change in a job, and use them",
        'sitelog lists kiln-lane.json --update --by "M. Reed"',
        "lists:lists",
        (FILE, _flag("--update", action="store_true", help="use the newest checklists from here on"), BY, LISTS),
    ),
    Command(
        "merge",
        "join two copies of a job that were both worked on",
        "sitelog merge kiln-lane.json tablet/kiln-lane.json",
        "merge:merge",
        (
            FILE,
            _flag("copies", metavar="COPY", nargs="*", help="copies of the same job; they are not changed"),
            _flag("--driver", action="store_true", help="as a merge driver of git: merge --driver %%O %%A %%B"),
            LISTS,
        ),
    ),
    Command(
        "order",
        "cutting list as built, and the timber to buy",
        "sitelog order kiln-lane.json main",
        "order:order",
        (
            FILE,
            _flag("part", metavar="PART", nargs="?", default="", help="one part; all of them if left out"),
            _flag("--buy", action="store_true", help="only what to buy, and how to cut each length"),
            _flag("--csv", action="store_true", help="for a spreadsheet: the members, or with --buy what to buy"),
            _flag("--json", action="store_true", help="one JSON object"),
            _flag("--lengths", metavar="LENGTHS", default="", help="stock lengths on offer, such as 3600,4200,4800"),
            _flag("--kerf", metavar="LENGTH", default="", help="width of the saw cut; 4 mm if left out"),
            _flag("--prices", metavar="PRICES", default="", help="such as 47x150:4800:21.60,47x150:5400:25"),
            LISTS,
        ),
    ),
    Command(
        "drawings",
        "print the drawings, or save them as SVG files",
        "sitelog drawings kiln-lane.json main --svg drawings",
        "drawings:drawings",
        (
            FILE,
            _flag("part", metavar="PART", nargs="?", default="", help="a part, or a check as PART.STAGE.CHECK"),
            _flag("--svg", metavar="DIR", default="", help="folder for the SVG files, one for each drawing"),
            LISTS,
        ),
    ),
    Command(
        "handover",
        "make the pack for the next trade",
        "sitelog handover kiln-lane.json --to tiler --out pack",
        "pack:handover",
        (
            FILE,
            _flag("--to", metavar="TRADE", default="", help="who it is for, such as tiler"),
            _flag("--out", metavar="DIR", default="", help="folder for the pack; next to the job if left out"),
            BY,
            LISTS,
        ),
    ),
    Command(
        "calc",
        "run a calculator; with no name, list them all",
        "sitelog calc common run=3000 pitch=35 --working",
        "calc:calc",
    ),
    Command(
        "lint",
        "check your checklist files and list the faults",
        "sitelog lint our-checklists/",
        "lists:lint",
        (_flag("paths", metavar="PATH", nargs="+", help="a checklist or a folder of them"),),
    ),
)


class _Parser(argparse.ArgumentParser):
    """argparse, but a wrong word is one line like every other refusal."""

    def error(self, message: str) -> NoReturn:
        said = _plainly(message)
        raise Refusal(f"{said}{'' if said.endswith('?') else '.'} See `{self.prog} --help`")


def _plainly(message: str) -> str:
    """What argparse found wrong, as a person would say it."""
    import re  # only where something is wrong

    if found := re.fullmatch(r"argument COMMAND: invalid choice: '(.*)' \(.*\)", message):
        import difflib

        names = [command.name for command in COMMANDS]
        near = difflib.get_close_matches(found[1], names, 1, 0.5)
        return f"No command {found[1]!r}. " + (f"Did you mean {near[0]}?" if near else f"There are {', '.join(names)}")
    if found := re.fullmatch(r"the following arguments are required: (.*)", message):
        return f"Add {found[1]}"
    if found := re.fullmatch(r"argument (\S+): expected one argument", message):
        return f"{found[1]} needs a value after it"
    if found := re.fullmatch(r"argument (\S+): invalid choice: (.*) \(choose from (.*)\)", message):
        choices = found[3].replace("'", "")
        return f"{found[1]} can't be {found[2]}: choose from {choices}"
    return message


def parser(wanted: str = "") -> argparse.ArgumentParser:
    """The command line, with the flags of the wanted command only: the others would cost time and are not read.

    Bare `sitelog` opens the chooser on this folder.
    """
    top = _Parser(
        prog="sitelog",
        description="Steps a foreman roof carpenter through a roofing job, from first stage to handover pack.",
        epilog="`sitelog` on its own lists the jobs in this folder. Example: sitelog sample site",
    )
    top.add_argument("--ascii", action="store_true", help="plain letters for marks and lines")
    top.add_argument("--plain", action="store_true", help="line by line, for a screen reader or a plain terminal")
    top.add_argument("--version", action="store_true", help="print the version")
    top.set_defaults(act="screen:choose", by="", checklists=[])
    # Told its own name, argparse need not write a usage line to find it out, which loads much.
    commands = top.add_subparsers(prog="sitelog", metavar="COMMAND", title="commands", parser_class=_Parser)
    for command in [one for one in COMMANDS if one.name == wanted] or COMMANDS:
        sub = commands.add_parser(
            command.name,
            help=command.does,
            description=f"{command.does[0].upper()}{command.does[1:]}.",
            epilog=f"Example: {command.example}",
        )
        for names, how in command.flags if command.name == wanted else ():
            sub.add_argument(*names, **how)
        sub.set_defaults(act=command.act)
    return top
