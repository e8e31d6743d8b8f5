"""What is not right in a job, on page 1 of the brief: one line each, the most serious first."""

from collections.abc import Iterator, Sequence

from sitelog.reports.front.amiss import Found
from sitelog.reports.front.first_page import FirstPage
from sitelog.reports.phrases import joined
from sitelog.text import text_if

SINCE = "Carried on, then fixed"
STOP = "STOP"  # how every row of what stops the work begins


MOST_PLACES = 4  # named of one caution


BEFORE_HANDOVER = ": read it before handover"


MOST_LETTERS = 170  # of one of them


# What is wrong, the most serious first; each with the words that lead its lines.
SERIOUS = (
    ("pointed", "Hips"),
    ("out", "OUT"),
    ("unsure", "TOO CLOSE"),
    ("released", "Carried on as it is"),
    ("stale", "OUT OF DATE"),
    ("snags", ""),
    ("rivals", "Two answers"),
    ("returned", "Sent back"),
    ("doubted", "Bad tool"),
    ("photos", "Photo"),
    ("deferred", "Left till later"),
)


def wrong(page: FirstPage) -> Iterator[tuple[tuple[str, str], bool]]:
    """Each thing that is not right in one row, the most serious first, and whether it stops the work."""
    for found in page.rows["stopped"]:
        yield (STOP, _line(found)), True
    for caution, places in _unread_stops(page).items():
        yield (f"{STOP}, not read", f"{caution}{_where(places)}. Read it before handover."), True
    yield from ((row, False) for row in _serious(page))
    rest = [found for found in page.rows["unread"] if not found.head.endswith(BEFORE_HANDOVER)]
    if rest:
        yield ("Cautions not read", f"{len(rest)}: {'; '.join(found.head for found in rest[:3])}"), False


def _serious(page: FirstPage) -> Iterator[tuple[str, str]]:
    """What is not right now, kind by kind; then what was carried on with and has been put right since."""
    for kind, lead in SERIOUS:
        yield from ((lead, _line(found)) for found in page.rows[kind] if not found.past)
    yield from ((SINCE, _line(found)) for found in page.rows["released"] if found.past)


def _unread_stops(page: FirstPage) -> dict[str, list[str]]:
    """Each caution that stops the handover until it is read, with every place at which it is not."""
    stops: dict[str, list[str]] = {}
    for found in page.rows["unread"]:
        if found.head.endswith(BEFORE_HANDOVER):
            title, _, place = found.head.removesuffix(BEFORE_HANDOVER).partition(" (at ")
            stops.setdefault(title, []).extend([place.removesuffix(")")] if place else [])
    return stops


def _where(places: Sequence[str]) -> str:
    """The first of the places, and how many more there are."""
    more = len(places) - MOST_PLACES
    if not places:
        return ""
    return f": {', '.join(places[:MOST_PLACES])}{text_if(more > 0, f' and {more} more')}"


def _line(found: Found) -> str:
    """What is wrong in one line, whole words only."""
    return shortened(f"{found.head}. {joined(found.lines, '; ')}", MOST_LETTERS)


def shortened(text: str, most: int) -> str:
    """The text in at most so many letters, broken after a word and with a sign that more follows."""
    text = " ".join(text.split())
    if len(text) <= most:
        return text
    return f"{text[: most - 2].rsplit(' ', 1)[0].rstrip(',;:. ')} …"
