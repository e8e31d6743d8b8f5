"""The lists that a job's parts go by: one whose roof is said block by block has its own, written out for that roof."""

from collections.abc import Mapping

from msgspec import Struct

from sitelog.checklist.schema.model import Checklist, Library
from sitelog.job.facts.fact import Inputs
from sitelog.job.facts.given import given
from sitelog.job.log.entry_index import EntryIndex


class OwnLists(Struct, frozen=True):
    """The lists with those of such parts among them, under forms of their own, and what people gave.

    `drawn` are those parts' lists over the plates as drawn, by form, and `changes` a line for each part whose lines
    aren't all those drawn.
    """

    library: Library
    forms: Mapping[str, str]
    given: Inputs
    own: Mapping[str, Checklist]
    drawn: Mapping[str, Checklist]
    changes: Mapping[str, str]  # by part


def own_lists(
    library: Library, forms: Mapping[str, str], entry_index: EntryIndex, before: Inputs | None = None
) -> OwnLists:
    """Every part's list. One whose form has nothing for each line of a roof has that of its form.

    `before` is what was given when they were last gone through by the same library.
    """
    listed = {part: library.lists[form] for part, form in forms.items() if form in library.lists}
    each = {part: whole for part, whole in listed.items() if whole.has_each}
    if not each:
        return OwnLists(library, forms, given(library, forms, entry_index, before), {}, {}, {})
    from sitelog.job.facts.written_out import written_out  # the geometry of roofs comes with it

    return written_out(library, forms, each, entry_index)
