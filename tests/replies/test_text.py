"""A reply as text: what a messenger does to it changes nothing, and whatever else is changed shows."""

from collections.abc import Callable
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st
from msgspec.structs import replace

from sitelog.job.replies.plain import counted, one_line
from sitelog.job.replies.reply import NOT_WHOLE, Reply, in_ranges, numbers_in, read_reply, summed, written
from sitelog.refusal import Refusal

REPLY = summed(
    Reply(
        job="1794814260000-tablet01-000001",
        title="Kiln Lane, plot 3",
        code="9c24465c6685ee7a78da",
        to="tiler",
        count=30,
        print="3b449572",
        by="J. O'Dunn",
        day="2026-11-30",
        accepted=(1, 2, 3, 4, 5, 6, 8, 10, 11, 12, 30),
        back=((7, 'gap at the hip\'s foot, 12 mm - "see photo" 2...'), (9, "batten 1 loose; 3 -- not 4 -- nails")),
    )
)
TEXT = written(REPLY)


def test_a_reply_is_a_few_lines_that_a_person_can_read() -> None:
    assert TEXT.splitlines()[7:] == [
        "[on 2026-11-30]",
        "[accepted 1-6, 8, 10-12, 30]",
        '[back 7: gap at the hip\'s foot, 12 mm - "see photo" 2...]',
        "[back 9: batten 1 loose; 3 -- not 4 -- nails]",
        f"[sum {REPLY.sum}]",
    ]
    assert read_reply(TEXT) == REPLY


MESSENGERS: dict[str, Callable[[str], str]] = {
    "line ends": lambda text: text.replace("\n", "\r\n"),
    "one line": lambda text: text.replace("\n", " "),
    "joined": lambda text: text.replace("\n", ""),
    "empty lines between": lambda text: text.replace("\n", "\n\n"),
    "folded at every word": lambda text: text.replace(" ", "\n"),
    "spaces at the ends": lambda text: text.replace("\n", "   \n "),
    "spaces that don't break": lambda text: text.replace(" ", "\xa0"),
    "curled quotes": lambda text: text.replace("'", "\u2019").replace(' "', " \u201c").replace('"', "\u201d"),
    "long dashes": lambda text: text.replace("--", "\u2014").replace(" - ", " \u2013 "),
    "an ellipsis": lambda text: text.replace("...", "\u2026"),
    "words before and after": lambda text: f"Morning Mick, as agreed:\n\n{text}\nSent from the van",
    "quoted in a mail": lambda text: "On Monday J. Dunn wrote:\n" + "".join(f"> {line}\n" for line in text.split("\n")),
    "quoted twice": lambda text: "".join(f">> {line}\n" for line in text.split("\n")),
    "folded and quoted": lambda text: "".join(f"> {word}\n" for word in text.split()),
    "pasted twice": lambda text: f"{text}\n\n{text}",
    "a mark of byte order": lambda text: f"\ufeff{text}",
    "in capitals where it is ours": lambda text: text.replace("[sitelog reply]", "[Sitelog reply]"),
}


@pytest.mark.parametrize("messenger", MESSENGERS)
def test_what_a_messenger_does_to_a_reply_changes_none_of_its_answers(messenger: str) -> None:
    read = read_reply(MESSENGERS[messenger](TEXT))
    assert (read.sum, read.accepted, read.by.replace("\u2019", "'")) == (REPLY.sum, REPLY.accepted, REPLY.by)
    assert [(number, counted(words)) for number, words in read.back] == [
        (number, counted(words)) for number, words in REPLY.back
    ]


ALTERED = {
    "another number": ("[accepted 1-6, 8", "[accepted 1-7, 8"),
    "another name": ("J. O'Dunn", "J. O'Gunn"),
    "another word": ("12 mm", "2 mm"),
    "a point more": ("[back 7", "[back 13: no]\n[back 7"),
    "another day": ("2026-11-30", "2026-11-29"),
    "another pack": ("9c24465c", "9c24465d"),
    "a field less": ("[for tiler]\n", ""),
    "its end cut off": (f"[sum {REPLY.sum}]", ""),
    "half its sum": (REPLY.sum, REPLY.sum[:8]),
    "its start gone": ("[sitelog reply]", ""),
    "a bracket gone": ("nails]", "nails"),
}


@pytest.mark.parametrize("what", ALTERED)
def test_a_reply_that_was_altered_is_refused_in_one_line(what: str) -> None:
    was, put = ALTERED[what]
    assert was in TEXT
    with pytest.raises(Refusal) as refused:
        read_reply(TEXT.replace(was, put))
    assert (refused.value.message, refused.value.code) == (NOT_WHOLE, 1)


@pytest.mark.parametrize("text", ["", "ok by me", "[ ]", "accepted 1-12", "{}", "\x00\x01"])
def test_what_is_no_reply_is_told_apart_from_one_that_was_altered(text: str) -> None:
    with pytest.raises(Refusal, match=r"No reply in it\. Give the reply file, or paste the text from \[sit"):
        read_reply(text)


def test_two_replies_in_one_text_and_a_whole_chat_are_refused() -> None:
    other = written(replace(REPLY, by="A. Shaw"))
    with pytest.raises(Refusal, match=r"several replies in it\. Enter one at a time"):
        read_reply(TEXT + other)
    with pytest.raises(Refusal, match="too long for a reply"):
        read_reply("x" * 200_000 + TEXT)


# A sum that holds does not make a reply of what no form writes.
NO_FORM_WRITES: dict[str, dict[str, Any]] = {
    "a point twice": {"accepted": (1, 7)},
    "a point that the pack does not have": {"accepted": (31,)},
    "no answer": {"accepted": (), "back": ()},
    "no word why": {"back": ((7, "'"),)},
    "no name": {"by": ""},
    "a code of no length": {"code": "9c24"},
    "no day": {"day": "soon"},
    "more points than a pack has": {"count": 10**9},
}


@pytest.mark.parametrize("what", NO_FORM_WRITES)
def test_a_sum_that_holds_does_not_make_a_reply_of_what_no_form_writes(what: str) -> None:
    with pytest.raises(Refusal) as refused:
        read_reply(written(replace(REPLY, **NO_FORM_WRITES[what])))
    assert refused.value.message == NOT_WHOLE


@given(st.text(max_size=60), st.text(max_size=60))
def test_whatever_is_typed_comes_back_as_it_was_but_for_brackets_and_line_breaks(name: str, why: str) -> None:
    text = written(replace(REPLY, by=f"J {name}", back=((7, f"w {why}"),)))
    read = read_reply(text.encode("utf-8", "replace").decode())
    assert read.accepted == REPLY.accepted and [number for number, _ in read.back] == [7]
    assert "[" not in read.by + read.back[0][1] and "\n" not in read.by + read.back[0][1]


@given(st.sets(st.integers(1, 200), min_size=1))
def test_numbers_are_written_as_people_write_them_and_read_back(numbers: set[int]) -> None:
    assert set(numbers_in(in_ranges(numbers))) == numbers


def test_one_line_keeps_words_and_takes_brackets_for_round_ones() -> None:
    assert one_line(" gap\n\tat [C]\u200b \u00a0 12 ") == "gap at (C) 12"
