"""One door cleans text: a hundred thousand strings through it, and no screen takes words that went past it."""

import asyncio
import os
import unicodedata
from pathlib import Path

from hypothesis import given, settings
from hypothesis import strategies as st

from sitelog.text import clean, harmless
from tests.hostile.fronts import BARRED, line_by_line, packs, pages, spoken
from tests.hostile.jobs import job

MANY = 100_000 if os.environ.get("SITELOG_LONG") else 2_000
ANY = st.text(st.characters(categories=None), max_size=60)


@settings(max_examples=MANY, deadline=None)
@given(ANY)
def test_nothing_that_drives_a_terminal_comes_through_either_door(text: str) -> None:
    for out in (clean(text), clean(text, lines=True), harmless(text)):
        assert not BARRED.search(out)
        assert not [one for one in out if unicodedata.category(one) in ("Cs", "Zl", "Zp")]
        out.encode()
    assert "\n" not in clean(text)
    assert harmless(text).count("\n") == text.count("\n")


def test_every_word_of_a_job_that_is_shown_anywhere_came_through_the_door(tmp_path: Path) -> None:
    """A mark that the door takes away is put between the letters of every word: none may be seen on any front."""
    mark = "\u2060"  # a word joiner: it has no width, so that only the door takes notice of it
    file = job(tmp_path, lambda words: mark.join(words))
    for name, text in (*spoken(file), *line_by_line(file), *packs(file), *asyncio.run(pages(file))):
        assert mark not in text, name
