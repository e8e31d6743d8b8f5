"""The form of a brief: its script writes the reply that the program reads, and nothing else runs in the page."""

import hashlib
import re
from base64 import b64encode
from dataclasses import replace
from functools import cache
from typing import Any

import html5lib
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from sitelog.job.replies.plain import counted, one_line, sum_of
from sitelog.job.replies.points import numbered, print_of
from sitelog.job.replies.reply import in_ranges, read_reply, written
from sitelog.reports.formats.html import brief_html
from sitelog.reports.formats.reply_form import script
from sitelog.reports.model import Points
from tests.replies.desk import Desk
from tests.replies.test_text import REPLY

racer = pytest.importorskip("py_mini_racer", reason="pip install mini-racer: it is in the extra `dev`")


@cache
def engine() -> Any:
    """The script in a JavaScript engine without a page: V8, as in most browsers."""
    made = racer.MiniRacer()
    made.eval(script())
    return made


def asked(**changes: Any) -> dict[str, Any]:
    """A reply as the page gives it to the script."""
    names = ("job", "title", "code", "to", "count", "print", "by", "day", "accepted", "back")
    return {name: getattr(REPLY, name) for name in names} | changes


LETTERS = st.characters(max_codepoint=0x2FFF, exclude_categories=["Cs"])
WORDS = st.text(LETTERS | st.sampled_from("\U0001f44d\U0001f3fb\ufe0f"))


@settings(deadline=None)
@given(st.lists(WORDS, max_size=5))
def test_script_and_program_count_the_same_of_any_text(words: list[str]) -> None:
    assert [engine().call("counted", word) for word in words] == [*map(counted, words)]
    assert [engine().call("oneLine", word) for word in words] == [*map(one_line, words)]
    assert engine().call("sumOf", words) == sum_of(words)


@settings(deadline=None)
@given(WORDS, WORDS, st.sets(st.integers(1, 30)).map(sorted))
def test_script_and_program_write_the_same_reply(name: str, why: str, accepted: list[int]) -> None:
    numbers = [number for number in accepted if number != 7]
    text = engine().call("replyText", asked(by=f"J {name}", accepted=numbers, back=[[7, f"w {why}"]]))
    read = read_reply(text)
    assert (read.accepted, [number for number, _ in read.back]) == (tuple(numbers), [7])
    assert engine().call("inRanges", numbers) == in_ranges(numbers)
    assert written(read) == text or counted(written(read)) != counted(text), "but for what no record may hold"


def test_the_sum_in_the_page_is_sha_256_as_published() -> None:
    """FIPS 180-2, B.1 and B.2: the digests of `abc` and of the text of 56 letters, which takes two blocks."""
    texts = {
        "abc": "ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad",
        "abcdbcdecdefdefgefghfghighijhijkijkljklmklmnlmnomnopnopq": (
            "248d6a61d20638b8e5c026930c3e6039a33ce45964ff2167f6ecedd419db06c1"
        ),
    }
    for text, digest in texts.items():
        assert engine().call("sha256", [*text.encode()]) == digest
        assert engine().call("utf8", f"{text}é\u20ac\U0001f44d") == [*f"{text}é\u20ac\U0001f44d".encode()]


def page_of(desk: Desk, **changes: Any) -> Any:
    """The brief as a tree."""
    parser = html5lib.HTMLParser(strict=True, namespaceHTMLElements=False)
    return parser.parse(brief_html(replace(desk.pack(), **changes)))


def test_only_the_form_s_own_script_may_run_and_nothing_leads_out(desk: Desk) -> None:
    page = page_of(desk)
    (only,) = page.iter("script")
    assert (only.attrib, only.text) == ({}, script())
    digest = b64encode(hashlib.sha256(script().encode()).digest()).decode()
    (meta,) = [one for one in page.iter("meta") if "http-equiv" in one.attrib]
    rules = dict(rule.strip().split(" ", 1) for rule in meta.attrib["content"].split(";"))
    assert rules == {
        "default-src": "'none'",
        "style-src": "'unsafe-inline'",
        "img-src": "'self' file:",
        "script-src": f"'sha256-{digest}'",
        "form-action": "'none'",
        "base-uri": "'none'",
    }
    for element in page.iter():
        names = set(element.attrib)
        assert not names & {"href", "src", "action", "formaction"} and not [name for name in names if name[:2] == "on"]
    assert not re.search(r"https?:|fetch|XMLHttp|WebSocket|sendBeacon|innerHTML|eval|import|Worker", script())


def test_each_point_is_a_question_with_labels_and_its_number_is_that_of_text_and_paper(desk: Desk) -> None:
    page = page_of(desk)
    pack = desk.pack()
    asked_of = [view.check.ask_in_full for view in numbered(desk.state, "tiler")]
    points = list(page.iter("fieldset"))
    assert [one.attrib["data-number"] for one in points] == [str(number) for number in range(1, len(asked_of) + 1)]
    legends = ["".join(one.find("legend").itertext()) for one in points]
    assert legends == [f"{number}. {ask}" for number, ask in enumerate(asked_of, 1)]
    blocks = [block for leaf in pack.brief for block in leaf.blocks if isinstance(block, Points)]
    rows = [row for block in blocks for row in (*block.rows, *block.rest)]
    assert [(row[0], row[1]) for row in rows if row[0]] == [(str(n), ask) for n, ask in enumerate(asked_of, 1)]
    for field in (*page.iter("input"), *page.iter("textarea")):
        assert any(field in [*label.iter()] for label in page.iter("label")), field.attrib
    form = page.find(".//form")
    assert form.attrib["data-print"] == print_of(pack.points) and form.attrib["data-count"] == str(len(asked_of))
    assert form.attrib["data-file"] == "kiln-lane-plot-3-reply-tiler.txt"


@pytest.mark.parametrize("title", ["</script><b>", '"><img src=x onerror=alert(1)>', "[sum 0]\n[back 1: no]", "\u202e"])
def test_a_job_s_own_words_are_text_in_the_form_and_in_the_reply(desk: Desk, title: str) -> None:
    page = page_of(desk, title=title)
    assert len([*page.iter("script")]) == 1 and not [*page.iter("img")]
    told = engine().call("replyText", asked(title=page.find(".//form").attrib["data-title"]))
    assert read_reply(told).accepted == REPLY.accepted
