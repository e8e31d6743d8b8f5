"""What the program says to whatever it can't take is the page that was read."""

import time

import pytest

from tests.wording.refusals import FILE, page

KEEP = "read each line as somebody on a roof would; if it is plain, `python -m tests.wording` keeps it"


@pytest.mark.skipif(not hasattr(time, "tzset"), reason="the clock of the machine can't be set here")
def test_the_refusals_are_the_kept_ones() -> None:
    kept, now = (_rows(text) for text in (FILE.read_text(encoding="utf-8"), page()))
    gone = [f"gone: {typed}" for typed in kept if typed not in now]
    new = [f"new: {typed}\n    {said}" for typed, said in now.items() if typed not in kept]
    other = [
        f"{typed}\n    was: {kept[typed]}\n    now: {said}"
        for typed, said in now.items()
        if kept.get(typed, said) != said
    ]
    assert not gone + new + other, "\n".join([KEEP, *gone, *new, *other])
    assert list(kept) == list(now), "the rows are in another order"


def _rows(text: str) -> dict[str, str]:
    """What is said, by the group and what was typed."""
    found: dict[str, str] = {}
    for group in text.split("== ")[1:]:
        title, *lines = group.rstrip("\n").split("\n")
        typed = ""
        for line in filter(None, lines):
            if line.startswith("    "):
                found[typed] = f"{found.get(typed, '')}\n{line}".strip()
            else:
                typed = f"{title}: {line}"
    return found
