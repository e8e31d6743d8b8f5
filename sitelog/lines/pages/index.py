"""Which page an action opens."""

from collections.abc import Callable

from sitelog.lines.pages.diary import journal
from sitelog.lines.pages.figures import facts
from sitelog.lines.pages.lists import lists
from sitelog.lines.pages.looking_up import drawing, find, sources
from sitelog.lines.pages.snags import snags
from sitelog.lines.pages.timber import timber
from sitelog.lines.pages.tools import instruments
from sitelog.lines.photos import photos
from sitelog.lines.session import LineSession


def calculators(session: LineSession, path: str) -> str:
    """Any calculator, with what is known of the part in hand."""
    from sitelog.lines.pages.calculators import work

    work(session, path.partition(".")[0])
    return ""


def handover(session: LineSession, path: str) -> str:
    """The points for the next trade, and the pack."""
    from sitelog.lines.pages.handover import hand_over

    return hand_over(session)


def replies(session: LineSession, path: str) -> str:
    """The next trade's replies, and answers from paper."""
    from sitelog.lines.pages.replies import replies

    return replies(session, path)


def templates(session: LineSession, path: str) -> str:
    """The full-size templates of the part in hand."""
    from sitelog.lines.pages.templates import choose

    return choose(session, path)


# The page that an action opens, by its name in the table of actions.
PAGES: dict[str, Callable[[LineSession, str], str]] = {
    "drawing": drawing,
    "facts": facts,
    "sources": sources,
    "templates": templates,
    "timber": timber,
    "photos": photos,
    "calculators": calculators,
    "journal": journal,
    "snags": snags,
    "instruments": instruments,
    "lists": lists,
    "handover": handover,
    "replies": replies,
    "find": find,
}
