"""The cutting list as lines of 80 columns, for the command line."""

from collections.abc import Iterator, Sequence
from textwrap import wrap

from sitelog.job.members import Line
from sitelog.job.state.views import State
from sitelog.reports.timber.entries import Entry, by_setting, entries, set_out
from sitelog.reports.timber.sheets import FROM_HERE, LONG_POINT, total

WIDTH = 80
PLAIN_HEAD = f"  {'no.':>4} {'timber':<22} {'length':>9} {'kg':>6}  marks"


def introduced() -> list[str]:
    """What is said before the list."""
    return wrap(f"{LONG_POINT} {FROM_HERE}", WIDTH)


def plain(lines: Sequence[Line], state: State) -> Iterator[str]:
    """The list as lines of 80 columns: what changes from row to row in columns, cuts and standing where they change."""
    found = entries(lines, state)
    listed = [entry for entry in found if entry.section]
    for section in dict.fromkeys(entry.section for entry in listed):
        yield ""
        yield total(section, lines)
        yield PLAIN_HEAD
        yield from _rows([entry for entry in listed if entry.section == section], state)
    for lead, told in set_out(lines, state.units):
        yield ""
        yield from _wrapped(f"{lead}: {told}")
    yield from _left_off([entry for entry in found if not entry.section])


def _left_off(left: Sequence[Entry]) -> Iterator[str]:
    if left:
        yield ""
        yield "left off the list, and why"
    for entry in left:
        yield from _wrapped(f"{entry.what}: {entry.more}")


def _rows(section: Sequence[Entry], state: State) -> Iterator[str]:
    """The rows of one section, under their cuts, and what those of one setting stand on together."""
    for told, alike in by_setting(section, state):
        yield from _wrapped(told)
        for entry in alike:
            yield from _row(entry)


def _row(entry: Entry) -> Iterator[str]:
    length = "withheld" if entry.standing == "stale" else entry.length
    lead = f"  {entry.count:>4} {entry.what[:22]:<22} {length:>9} {entry.mass:>6}  "
    first, *others = wrap(entry.marks, WIDTH - len(lead)) or [""]
    yield f"{lead}{first}".rstrip()
    yield from (f"{'':{len(lead)}}{more}" for more in others)
    if entry.more:
        yield from _wrapped(f"  {entry.more}")


def _wrapped(words: str) -> list[str]:
    return wrap(words, WIDTH, initial_indent="    ", subsequent_indent="      ")
