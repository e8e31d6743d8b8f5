"""The flags and words that several commands take, with their help."""

from __future__ import annotations

# The table of actions is read for `sitelog --help`, which must not wait for typing or dataclasses.
TYPE_CHECKING = False
if TYPE_CHECKING:
    from typing import Any

    Flag = tuple[tuple[str, ...], dict[str, Any]]


def flag(*names: str, **how: Any) -> Flag:
    """A flag or a word of a command, as argparse takes it."""
    return names, how


FILE = flag("file", metavar="FILE", help="the job's file, such as kiln-lane.json")
BY = flag("--by", metavar="NAME", help="your name, for the record")
PATH = flag("path", metavar="PART.STAGE.CHECK", help="the check's code; run `sitelog show FILE` to see them")
STAGE = flag("path", metavar="PART.STAGE", help="the stage's code; run `sitelog show FILE` to see them")
NOTE = flag("--note", metavar="TEXT", default="", help="a note to go with it")
REASON = flag("--reason", metavar="TEXT", default="", help="why; it goes in the pack")
INSTRUMENT = flag("--instrument", metavar="ID", default="", help="the tape or level used, as listed")
WHOLE = flag(
    "--whole", action="store_true", help="keep time, place and camera details in the photos (normally removed)"
)
SAME = flag("--same-photo", action="store_true", help="the photo shows another check already, and this one too")
DONE = flag("--done", metavar="TIME", default="", help="when it happened, if not now: 07:30, or 2026-11-25T07:30")
CHECKLISTS = flag(
    "--checklists",
    metavar="DIR",
    action="append",
    default=[],
    help="your firm's own checklists, added to those supplied; a folder `checklists` next to the job needs no flag",
)
