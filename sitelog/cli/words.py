"""The commands: those of the table of actions, and those that only the command line has."""

from __future__ import annotations

from sitelog.wording.actions.flags import BY, CHECKLISTS, DONE, FILE, INSTRUMENT, NOTE, PATH, SAME, STAGE, WHOLE, flag
from sitelog.wording.actions.kinds import Command
from sitelog.wording.actions.table import ACTIONS

# As they stand in the help; a command that is not named here stands at its end.
ORDER = (
    *("new", "open", "sample", "show", "record", "draw", "undo", "sign", "release", "snag", "skip", "defer", "read"),
    *("note", "instruct", "instrument", "verify", "lists", "merge", "order", "drawings", "templates", "handover"),
    *("accept", "calc", "lint", "serve", "help", "schema", "completion", "manual"),
)
OWN: tuple[Command, ...] = (
    Command(
        "new",
        "start a job; with no FILE it asks you on screen",
        'sitelog new kiln-lane.json --title "Kiln Lane, plot 3" --part main:hipped main.length=9000 main.width=6000 '
        'main.pitch=35 --by "M. Reed"',
        "keep.new:new",
        (
            flag(
                "file",
                metavar="FILE",
                nargs="?",
                default="",
                help="name for the new file",
            ),
            flag("figures", metavar="PART.FACT=VALUE", nargs="*", help="drawing figures of the parts"),
            flag("--title", metavar="TEXT", default="", help="name of the job"),
            flag("--place", metavar="TEXT", default="", help="address of the job"),
            flag(
                "--part",
                metavar="ID:FORM[:TITLE]",
                action="append",
                default=[],
                help="a part of the roof and its type, such as main:hipped; once for each part",
            ),
            flag(
                "--units", choices=("metric", "imperial"), default="metric", help="show lengths in metric or imperial"
            ),
            BY,
            CHECKLISTS,
        ),
    ),
    Command(
        "open",
        "open a job on the screen, or a folder's list of jobs",
        "sitelog open kiln-lane.json",
        "screen:open_job",
        (flag("file", metavar="FILE|DIR", help="the job's file, or a folder to list its jobs"), BY, CHECKLISTS),
    ),
    Command(
        "sample",
        "copy the sample jobs into DIR and open one of them",
        "sitelog sample mill-yard",
        "screen:sample",
        (
            flag(
                "folder",
                metavar="DIR",
                nargs="?",
                default="sample-site",
                help="a folder; if it is there already it is opened, not overwritten",
            ),
            flag(
                "job",
                metavar="JOB",
                nargs="?",
                default="kiln-lane",
                help="kiln-lane, which is the usual one, or mill-yard, an L with a valley, a lean-to and a dormer",
            ),
        ),
    ),
    Command(
        "show",
        "print the job so far",
        "sitelog show kiln-lane.json --json",
        "keep.show:show",
        (FILE, CHECKLISTS),
    ),
    Command(
        "record",
        "record the answer to a check",
        "sitelog record kiln-lane.json main.plates.sides ab=8996 bc=6003 cd=9001 da=6002 ac=10819 bd=10808 "
        '--by "M. Reed"',
        "keep.record:record",
        (
            FILE,
            PATH,
            flag(
                "values",
                metavar="VALUE",
                nargs="*",
                help="the answer, or name=value for each of several figures; photo=FILE[,FILE] adds photos",
            ),
            BY,
            WHOLE,
            SAME,
            NOTE,
            INSTRUMENT,
            DONE,
            CHECKLISTS,
        ),
    ),
    Command(
        "draw",
        "change a part's drawing figures",
        'sitelog draw kiln-lane.json main pitch=37 --by "M. Reed"',
        "keep.acts:draw",
        (
            FILE,
            flag("part", metavar="PART", help="the part's short name"),
            flag("figures", metavar="FACT=VALUE", nargs="*", help="figures from the drawing, such as pitch=37"),
            BY,
            CHECKLISTS,
        ),
    ),
    Command(
        "sign",
        "sign a finished stage",
        'sitelog sign kiln-lane.json main.plates --by "M. Reed"',
        "keep.acts:sign",
        (FILE, STAGE, BY, CHECKLISTS),
    ),
    Command(
        "verify",
        "check that no entry or photo has been changed or lost",
        "sitelog verify kiln-lane.json --head 0123456789abcdef0123",
        "prove:verify",
        (FILE, flag("--head", metavar="CODE", help="the record code on a pack, to check the record still matches it")),
    ),
    Command(
        "merge",
        "join two copies of a job that were both worked on",
        "sitelog merge kiln-lane.json tablet/kiln-lane.json",
        "merge:merge",
        (
            FILE,
            flag(
                "copies",
                metavar="COPY",
                nargs="*",
                help="copies of the same job; they are not changed. With none, those beside it are joined",
            ),
            flag("--without", metavar="REASON", default="", help="go on without entries that can't be found, and why"),
            BY,
            flag("--driver", action="store_true", help="as a merge driver of git: merge --driver %%O %%A %%B"),
            CHECKLISTS,
        ),
    ),
    Command(
        "lint",
        "check your checklist files and list the faults",
        "sitelog lint our-checklists/",
        "lists:lint",
        (flag("paths", metavar="PATH", nargs="+", help="a checklist or a folder of them"),),
    ),
    Command(
        "serve",
        "show the screens in a browser",
        "sitelog serve site",
        "serving.serve:serve",
        (
            flag("job", metavar="FILE|DIR", nargs="?", default=".", help="a job or a folder; this one if left out"),
            flag("--host", metavar="HOST", default="127.0.0.1", help="this machine's address that others reach it by"),
            flag("--port", metavar="PORT", default="8000", help="8000 if left out"),
        ),
    ),
    Command(
        "help",
        "say how a command is used",
        "sitelog help record",
        "script.shell:helped",
        (flag("of", metavar="COMMAND", nargs="?", default="", help="the command; with none, all are listed"),),
    ),
    Command(
        "schema",
        "print the JSON Schema of what --json prints",
        "sitelog schema show",
        "script.schema:schema",
        (flag("of", metavar="COMMAND", nargs="?", default="", help="the command; with none, all of them"),),
    ),
    Command(
        "completion",
        "print what makes your shell complete these commands",
        "sitelog completion bash > ~/.local/share/bash-completion/completions/sitelog",
        "script.shell:completion",
        (flag("shell", metavar="SHELL", choices=("bash", "zsh", "tcsh"), help="bash, zsh or tcsh"),),
    ),
    Command(
        "manual",
        "print the manual page",
        "sitelog manual > ~/.local/share/man/man1/sitelog.1",
        "script.shell:manual",
    ),
)


def _place(command: Command) -> int:
    if command.name in ORDER:
        return ORDER.index(command.name)
    return len(ORDER)


COMMANDS = tuple(sorted((*(action.command for action in ACTIONS if action.command), *OWN), key=_place))
