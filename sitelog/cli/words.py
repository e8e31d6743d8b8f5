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
BY = _flag("--by", metavar="NAME", help="your name, as it will stand in the record")
PATH = _flag("path", metavar="PART.STAGE.CHECK", help="as `sitelog show FILE` lists them")
STAGE = _flag("path", metavar="PART.STAGE", help="as `sitelog show FILE` lists them")
NOTE = _flag("--note", metavar="TEXT", default="", help="words to go with it")
REASON = _flag("--reason", metavar="TEXT", default="", help="why; it goes into the pack")
INSTRUMENT = _flag("--instrument", metavar="ID", default="", help="what it was measured with, from the register")
WHOLE = _flag(
    "--whole", action="store_true", help="keep time, place and camera in the photos; else they are left out of them"
)
DONE = _flag("--done", metavar="TIME", default="", help="when it happened, if not now: 07:30, or 2026-11-25T07:30")
LISTS = _flag(
    "--checklists",
    metavar="DIR",
    action="append",
    default=[],
    help="a firm's own checklists, added to the shipped ones; a folder `checklists` beside the job is found by itself",
)


PLAIN = _flag(
    "--plain",
    action="store_true",
    default=argparse.SUPPRESS,
    help="line by line, for a screen reader or a plain terminal; it may also stand before the command",
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
        "start a job; without FILE it asks on the screen",
        'sitelog new kiln-lane.json --title "Kiln Lane, plot 3" --part main:hipped main.length=9000 main.width=6000 '
        'main.pitch=35 --by "M. Reed"',
        "keep:new",
        (
            _flag(
                "file",
                metavar="FILE",
                nargs="?",
                default="",
                help="the file to make; it must not be there yet",
            ),
            _flag("figures", metavar="PART.FACT=VALUE", nargs="*", help="design figures of the parts"),
            _flag("--title", metavar="TEXT", default="", help="what the job is called"),
            _flag("--place", metavar="TEXT", default="", help="where it is"),
            _flag(
                "--part",
                metavar="ID:FORM[:TITLE]",
                action="append",
                default=[],
                help="a part of the roof and its form, such as main:hipped; give one for each part",
            ),
            _flag("--units", choices=("metric", "imperial"), default="metric", help="how lengths are shown"),
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
                help="a folder; one that is there is opened, not overwritten",
            ),
            PLAIN,
        ),
    ),
    Command(
        "show",
        "the job as it stands",
        "sitelog show kiln-lane.json --json",
        "keep:show",
        (FILE, _flag("--json", action="store_true", help="one JSON object"), LISTS),
    ),
    Command(
        "record",
        "answer a check",
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
                help="one value, or key=value for each of several figures; photo=FILE[,FILE] attaches pictures",
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
        "change design figures of a part",
        'sitelog draw kiln-lane.json main pitch=37 --by "M. Reed"',
        "keep:draw",
        (
            FILE,
            _flag("part", metavar="PART", help="the part's id"),
            _flag("figures", metavar="FACT=VALUE", nargs="*", help="as the drawing has it now"),
            BY,
            LISTS,
        ),
    ),
    Command(
        "undo",
        "take back the last entry, which stays in the record",
        'sitelog undo kiln-lane.json --by "M. Reed"',
        "keep:undo",
        (FILE, BY, LISTS),
    ),
    Command(
        "sign",
        "sign a stage whose checks are settled",
        'sitelog sign kiln-lane.json main.plates --by "M. Reed"',
        "keep:sign",
        (FILE, STAGE, BY, LISTS),
    ),
    Command(
        "release",
        "let a check or a stage go as it is, by name and with a reason",
        'sitelog release kiln-lane.json main.first-pair.twist --reason "packed at the head" --by "M. Reed"',
        "keep:release",
        (FILE, _flag("path", metavar="PART.STAGE[.CHECK]", help="what is let go"), REASON, BY, LISTS),
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
            _flag("--who", metavar="NAME", default="", help="who puts it right"),
            _flag("--due", metavar="DATE", default="", help="by when (ISO)"),
            _flag("--close", metavar="N", default="", help="the number of a snag that has been put right"),
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
        "leave a check till a later stage, with the reason",
        'sitelog defer kiln-lane.json main.plates.ties --until main.hips --reason "ties not on site" --by "M. Reed"',
        "keep:defer",
        (
            FILE,
            PATH,
            _flag("--until", metavar="PART.STAGE", default="", help="the stage at which it comes back"),
            REASON,
            BY,
            LISTS,
        ),
    ),
    Command(
        "read",
        "answer a caution; without an id, list those of the stage in hand",
        'sitelog read kiln-lane.json weather-wind 12 --by "M. Reed"',
        "keep:read",
        (
            FILE,
            _flag("caution", metavar="CAUTION", nargs="?", default="", help="its id"),
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
                help="the stage it is for, such as deck.joists; the one in hand without",
            ),
            BY,
            LISTS,
        ),
    ),
    Command(
        "note",
        "write words on a check, a stage or the day",
        'sitelog note kiln-lane.json main.plates "bedded on the long wall first" --by "M. Reed"',
        "keep:note",
        (
            FILE,
            _flag("path", metavar="PATH", help="a check or a stage, or `day` for the diary"),
            _flag("text", metavar="TEXT", nargs="?", default="", help="the words; with photos it may be left out"),
            _flag("--photo", metavar="FILE[,FILE]", default="", help="pictures to attach"),
            BY,
            WHOLE,
            LISTS,
        ),
    ),
    Command(
        "instrument",
        "enter an instrument in the register, or mark one bad",
        'sitelog instrument kiln-lane.json T2 tape II --by "M. Reed"',
        "keep:instrument",
        (
            FILE,
            _flag("id", metavar="ID", help="what is written on it"),
            _flag("kind", metavar="KIND", nargs="?", default="", help="tape, level, rule, moisture meter ..."),
            _flag("grade", metavar="CLASS", nargs="?", default="", help="I, II or III for a tape"),
            _flag("--bad", action="store_true", help="it reads wrong: flag all that it measured"),
            REASON,
            BY,
            LISTS,
        ),
    ),
    Command(
        "verify",
        "prove that no entry and no photo was changed or lost",
        "sitelog verify kiln-lane.json --head 0123456789ab",
        "prove:verify",
        (FILE, _flag("--head", metavar="CODE", help="a pack's head code, to prove what that pack told")),
    ),
    Command(
        "lists",
        "what newer checklists would change in a job, and bring it to them",
        'sitelog lists kiln-lane.json --update --by "M. Reed"',
        "lists:lists",
        (FILE, _flag("--update", action="store_true", help="go by the newest lists from here on"), BY, LISTS),
    ),
    Command(
        "merge",
        "join copies of a job that went on apart",
        "sitelog merge kiln-lane.json tablet/kiln-lane.json",
        "merge:merge",
        (
            FILE,
            _flag("copies", metavar="COPY", nargs="*", help="copies of the same job; they are only read"),
            _flag("--driver", action="store_true", help="as a merge driver of git: merge --driver %%O %%A %%B"),
            LISTS,
        ),
    ),
    Command(
        "order",
        "the cutting list of a part as built, and the timber to buy for it",
        "sitelog order kiln-lane.json main",
        "order:order",
        (
            FILE,
            _flag("part", metavar="PART", nargs="?", default="", help="one part; all of them if left out"),
            _flag("--buy", action="store_true", help="only what to buy, and what to saw from each stick"),
            _flag("--csv", action="store_true", help="for a spreadsheet: the members, or with --buy what to buy"),
            _flag("--json", action="store_true", help="one JSON object"),
            _flag("--lengths", metavar="LENGTHS", default="", help="stock lengths on offer, such as 3600,4200,4800"),
            _flag("--kerf", metavar="LENGTH", default="", help="what one cut of the saw takes; 4 mm if left out"),
            _flag("--prices", metavar="PRICES", default="", help="such as 47x150:4800:21.60,47x150:5400:25"),
            LISTS,
        ),
    ),
    Command(
        "drawings",
        "the drawings of the parts, in letters or as SVG files",
        "sitelog drawings kiln-lane.json main --svg drawings",
        "drawings:drawings",
        (
            FILE,
            _flag("part", metavar="PART", nargs="?", default="", help="a part, or a check as PART.STAGE.CHECK"),
            _flag("--svg", metavar="DIR", default="", help="a folder: one SVG file a drawing"),
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
            _flag("--to", metavar="TRADE", required=True, help="who it is for, such as tiler"),
            _flag("--out", metavar="DIR", default="", help="where it goes; beside the job if left out"),
            BY,
            LISTS,
        ),
    ),
    Command(
        "calc",
        "work a calculator; without a name, list them",
        "sitelog calc common run=3000 pitch=35 --working",
        "calc:calc",
    ),
    Command(
        "lint",
        "prove checklists; tells every fault with file and line",
        "sitelog lint our-checklists/",
        "lists:lint",
        (_flag("paths", metavar="PATH", nargs="+", help="a checklist or a folder of them"),),
    ),
)


class _Parser(argparse.ArgumentParser):
    """argparse, but a wrong word is one line like every other refusal."""

    def error(self, message: str) -> NoReturn:
        raise Refusal(f"{message} (see `{self.prog} --help`)")


def parser(wanted: str = "") -> argparse.ArgumentParser:
    """The command line, with the flags of the wanted command only: the others would cost time and are not read.

    Bare `sitelog` opens the chooser on this folder.
    """
    top = _Parser(
        prog="sitelog",
        description="Steps a foreman roof carpenter through a roofing job, from first stage to handover pack.",
        epilog="Bare `sitelog` opens the jobs of this folder. Example: sitelog sample site",
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
