"""The words that are held out of all that people see, and what to write for each: one word for one thing."""

import re
from collections.abc import Iterator

BANNED = {
    r"told|tells": "shown, or says",
    r"stands|stood": "is, or as fixed",
    r"wants?|wanted": "needs",
    r"lets? (it |them )?go|let off|let pass": "carries on, gives way, or allowed",
    r"puts? right|mended": "fix",
    r"anew": "again, or changed",
    r"proves?|proved|proof": "check, or test",
    r"nought": "zero, or 0",
    r"(hangs?|hung|rests?) on|go(es)? by": "depends on",
    r"follows? from": "depends on, or sets",
    r"lies|lands|lain": "sits, or is",
    r"last word": "decides",
    r"takes? over": "hands over",
    r"wind (across|over)|of wind": "twist, for two rafters",
    r"mass(es)?": "weight",
    r"per ?cent": "%",
    r"(square|cubic) metres?": "m2 or m3",
    r"kg a|l/s a|mm a|\d a metre": "per",
    r"(?<!at )least(?![ -]squares)": "smallest, lowest, shortest or minimum; or at least",
    r"(?<!there )(is|are|takes?|names?|has) no(?! longer)": "isn't, doesn't, hasn't",
    r"alike": "equal, or the same",
    r"staff": "level readings",
    r"equal stations": "equal spacings",
    r"units?": "tile or slate; or mm, in, kg",
    r"noggings?": "noggin",
    r"no print|by its print|an? (old|older) print": "published, or book",
    r"struck": "set out",
    r"seldom|lacks?|dear": "rarely, needs, costs more",
    r"stale": "out of date",
    r"unsure": "too close to call",
    r"deferr?(ed)?|put off|for later": "left till later",
    r"journal|(?<!site )diary": "site diary",
    r"instruments?": "tool",
    r"of the register": "on the list",
    r"to be read|to read only": "unread, or read-only",
    r"drawn again": "drawing figure",
    r"nothing is (given|said)": "what to type",
    r"head code": "record code",
    r"facts?": "figure",
    r"released": "carried on as it is",
    r"worked from|(length|height|gap|rise|width|thickness) worked(?! out)": "worked out from, or uses",
}


def banned(text: str) -> Iterator[str]:
    """Each banned word in the text, with what to write for it."""
    for words, instead in BANNED.items():
        for found in re.finditer(rf"\b({words})\b", text, re.IGNORECASE):
            yield f"'{found[0]}' in '{text}': write {instead}"
