"""What text may hold: the one door for words from people and files, on their way to a screen or a record."""

from __future__ import annotations

import re
import unicodedata

TYPE_CHECKING = False  # help does without typing and without dates
if TYPE_CHECKING:
    from datetime import date, datetime

MOST = 500
CUT = "…"

_SURROGATE = "[\ud800-\udfff]"
_OTHER_BREAK = "[\t\r\x0b\x0c\x85\u2028\u2029]"
_BREAK = "\r\n|[\n\r\x0b\x0c\x85\u2028\u2029]"
# Controls (C0, delete, C1) can drive a terminal; bidi controls and marks reorder what is read; the invisible
# make two texts look alike that are not; XML can't hold the non-characters.
_BARRED = (
    "[\x00-\x09\x0b-\x1f\x7f-\x9f"
    "\u061c\u200e\u200f\u202a-\u202e\u2066-\u2069"
    "\u00ad\u180e\u200b-\u200d\u2060-\u2065\u206a-\u206f\ufeff\ufff9-\ufffb\U000e0000-\U000e007f"
    "\ufdd0-\ufdef\ufffe\uffff]"
)


def clean(text: str, *, most: int = MOST, lines: bool = False) -> str:
    """The text as it may be kept and shown: NFC, stripped, at most `most` characters (a cut ends in "…").

    Control, bidi and zero-width characters go. Tabs and line breaks become spaces; line breaks stay as "\\n"
    if `lines`. A lone surrogate becomes U+FFFD. Cleaning what is clean changes nothing.
    """
    if text.isascii() and text.isprintable():  # as most are
        text = text.strip()
        if len(text) <= most:
            return text
        return text[: most - 1].rstrip() + CUT
    text = re.sub(_SURROGATE, "\ufffd", text)
    text = re.sub(_BREAK, "\n" if lines else " ", text).replace("\t", " ")
    # Ordering a flood of combining marks takes the square of their number, so a cut comes before as well.
    text = re.sub(_BARRED, "", text).strip()[: 4 * most]
    text = unicodedata.normalize("NFC", text).strip()
    if len(text) <= most:
        return text
    return text[: most - 1].rstrip() + CUT


def harmless(text: str) -> str:
    """The text, ready written, as it may leave for a terminal: line feeds stay, nothing else there can drive one.

    It is the last door, for whatever went past the first. Any other line break or tab becomes a space, a control,
    bidi or zero-width character goes, a lone surrogate becomes U+FFFD.
    """
    if text.replace("\n", "").isprintable():  # as most is
        return text
    text = re.sub(_SURROGATE, "\ufffd", text)
    return re.sub(_BARRED, "", re.sub(_OTHER_BREAK, " ", text))


def day_and_time(text: str) -> str:
    """A time of a file (ISO 8601) as the clock on site has it: `29 Nov 2026 07:30`; what is none, cleaned."""
    from datetime import datetime

    try:
        moment = datetime.fromisoformat(text)
        here = moment.astimezone() if moment.tzinfo else moment
    except (ValueError, OverflowError):
        return clean(text, most=40)
    return clock(here)


def clock(moment: datetime) -> str:
    """A time as it is written on site: `29 Nov 2026 07:30`."""
    return f"{written_day(moment)} {moment:%H:%M}"


def written_day(day: date) -> str:
    """A day as it is written on site: `29 Nov 2026`."""
    return f"{day.day} {day:%b %Y}"


def text_if(wanted: object, text: str) -> str:
    """The text where it is wanted, else none: a word of a line that may be left out."""
    if wanted:
        return text
    return ""


def text_after(lead: str, text: str) -> str:
    """The text with what leads it, as in ", 2 more"; none where there is no text."""
    return text_between(lead, text, "")


def text_between(lead: str, text: str, tail: str) -> str:
    """The text between what leads it and what ends it, as in " (2 more)"; none where there is no text."""
    if not text:
        return ""
    return f"{lead}{text}{tail}"


def goes_on(text: str) -> str:
    """A line as it goes on after a colon, with a small letter; a first word in capitals stays."""
    if text[1:2].isupper():
        return text
    return text[:1].lower() + text[1:]


def counted(count: int, single: str, several: str = "") -> str:
    """A count and its word: `1 snag`, `2 snags`."""
    word = several or f"{single}s"
    if count == 1:
        word = single
    return f"{count} {word}"


def stepped(line: str, width: int, at: int) -> list[str]:
    """A line folded at `width` columns, its words kept to the right of a dash or a first word of under `at` columns."""
    from textwrap import wrap

    led = line[:at] == "- " or line[:at].endswith("  ")
    return wrap(line, width, subsequent_indent=" " * at * led, break_on_hyphens=False) or [""]
