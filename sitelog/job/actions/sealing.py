"""Drafts made entries: the next ones of a device, under somebody's name."""

from collections.abc import Sequence
from datetime import datetime

from msgspec.structs import replace

from sitelog.job.actions.naming import said
from sitelog.job.log.entry import Author, Draft, Entry, seal
from sitelog.refusal import Refusal


def sealed(drafts: Sequence[Draft], author: Author, entries: Sequence[Entry]) -> list[Entry]:
    """The drafts as the next entries of the author's device. Refusal if nobody's name stands for them."""
    return sealed_by([(draft, author) for draft in drafts], entries)


def sealed_by(acts: Sequence[tuple[Draft, Author]], entries: Sequence[Entry]) -> list[Entry]:
    """The same of acts by several hands, each under its own name and time."""
    latest = entries[-1].id if entries else ""
    found: list[Entry] = []
    for draft, author in acts:
        name = said(author.by, "Type your name first")
        if draft.done and datetime.fromisoformat(draft.done) > author.now:
            raise Refusal(f"done: {draft.done} is in the future. Type when it was done")
        of_device = (entry for rows in (found, entries) for entry in reversed(rows) if entry.device == author.device)
        entry = seal(draft, replace(author, by=name), next(of_device, None), latest)
        latest = entry.id
        found.append(entry)
    return found
