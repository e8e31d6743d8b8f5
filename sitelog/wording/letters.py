"""The plain letters for a terminal that has no others."""

import unicodedata

PLAIN = str.maketrans(
    {
        "·": "-",
        "–": "-",
        "—": "-",
        "…": "...",
        "°": " deg",
        "×": "x",
        "²": "2",
        "√": "v",
        "›": ">",
        "≥": ">=",
        "≤": "<=",
    }
)
# The marks of marks.py, what people type, and what comes off a phone's keyboard.
_MORE = str.maketrans(
    {
        "■": "#", "─": "-", "Δ": "*", "»": "/", "☐": "[ ]", "“": '"', "”": '"', "‘": "'", "’": "'", "′": "'", "″": '"',
        "−": "-", "‑": "-", "½": " 1/2", "¼": " 1/4", "¾": " 3/4", "±": "+/-", "£": "GBP ", "€": "EUR ", "§": "s.",
        "ß": "ss", "ø": "o", "Ø": "O", "æ": "ae", "Æ": "AE", "œ": "oe", "Œ": "OE", "ł": "l", "Ł": "L", "đ": "d",
    }
)  # fmt: skip


def in_plain_letters(text: str, coding: str = "ascii") -> str:
    """The text in letters that the coding takes; `?` for one that has no likeness among them."""
    return "".join(letter if _takes(letter, coding) else _plain(letter) for letter in text)


def _takes(letter: str, coding: str) -> bool:
    try:
        return bool(letter.encode(coding))
    except (UnicodeEncodeError, LookupError):
        return False


def _plain(letter: str) -> str:
    """Told in ASCII; of an accented letter the letter."""
    told = letter.translate(PLAIN).translate(_MORE)
    if told.isascii():
        return told
    bare = unicodedata.normalize("NFKD", told).encode("ascii", "ignore").decode()
    return bare or "?"
