"""What is left of a text when a messenger has been at it: the part of it that a reply's sum is worked over."""

import hashlib
import re
import unicodedata
from collections.abc import Iterable

SUM_LENGTH = 16  # hex digits
# A messenger breaks and joins lines, curls quotes, lengthens dashes and takes * _ ~ for bold: none of that counts.
# The same lists stand in sitelog/reports/formats/reply_form.js, and a test holds the two together.
SPACE = r"\x00-\x20\x7f-\xa0\xad\u1680\u180e\u2000-\u200f\u2028-\u202f\u205f-\u206f\u3000\ufe00-\ufe0f\ufeff"
MARKS = r"\"'*\\_`~\xab\xb4\xbb\u2018-\u201f\u2032-\u2037\u2039\u203a"
DASH = r"\u2010-\u2015\u2212\ufe58\ufe63\uff0d"
_SPACES = f"[{SPACE}]+"
_UNCOUNTED = f"[{SPACE}{MARKS}]+"
_DASHES = f"[-{DASH}]+"

MOST = 100_000  # letters of a text in which a reply is looked for


def one_line(text: str) -> str:
    """Words as a reply holds them: one line without square brackets, which are the reply's own."""
    told = unicodedata.normalize("NFC", text).replace("[", "(").replace("]", ")")
    return re.sub(_SPACES, " ", told).strip(" ")


def counted(text: str) -> str:
    """What counts of a text: no spaces, no quotes, one kind of dash."""
    told = re.sub(_UNCOUNTED, "", unicodedata.normalize("NFC", text)).replace("\u2026", "...")
    return re.sub(_DASHES, "-", told)


def sum_of(fields: Iterable[str]) -> str:
    """The sum of a reply's fields: the start of a SHA-256 over what counts of them. It is no proof against a forger."""
    told = "\n".join(map(counted, fields))
    return hashlib.sha256(told.encode()).hexdigest()[:SUM_LENGTH]
