"""The shipped checklists, read and proved once for all the tests of a process."""

from functools import cache

from sitelog.checklist.proved import Lists
from sitelog.checklist.schema.model import Library


@cache
def library() -> Library:
    """The lists in force where no folder has others."""
    return Lists()()
