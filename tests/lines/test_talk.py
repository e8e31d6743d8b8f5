"""What goes out is clean, wrapped and plain, whatever stands in the job; what comes in is cleaned before it is kept."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from sitelog.lines.talk import Left, Talk
from sitelog.refusal import Refusal


def talk(*says: str, width: int = 72, plain_letters: bool = False) -> tuple[Talk, list[str]]:
    heard: list[str] = []
    lines = iter(says)
    return Talk(lambda: next(lines), heard.append, width=width, plain_letters=plain_letters), heard


@given(st.text(), st.integers(20, 200))
def test_no_text_drives_the_terminal_and_every_line_fits(words: str, width: int) -> None:
    told, heard = talk(width=width)
    told.say(words)
    for line in heard:
        assert len(line) <= width
        assert not any(letter < " " or "\x7f" <= letter <= "\x9f" or "\u202a" <= letter <= "\u202e" for letter in line)


@given(st.text())
def test_what_is_heard_holds_no_control(words: str) -> None:
    told, _ = talk(words)
    assert all(letter >= " " and not "\x7f" <= letter <= "\x9f" for letter in told.hear())


SAID = [
    ("3 Wall plates   5 of 8 done · 1 out", "3 Wall plates, 5 of 8 done, 1 out"),
    ("  rafter                          47 mm   built", "rafter, 47 mm, built"),
    ("two words", "two words"),
]


@pytest.mark.parametrize(("line", "spoken"), SAID)
def test_columns_are_told_as_commas(line: str, spoken: str) -> None:
    told, heard = talk()
    told.say(line)
    assert heard == [spoken]


def test_plain_letters_are_all_that_a_plain_terminal_gets() -> None:
    told, heard = talk(plain_letters=True)
    told.say("pitch 35° × 2 – 4 m²…")
    assert heard == ["pitch 35 deg x 2 - 4 m2..."]


def test_a_question_is_asked_until_it_is_answered_and_back_leaves_it() -> None:
    def hear(text: str) -> str:
        if text != "yes":
            raise Refusal("Say yes.")
        return text

    told, heard = talk("no", "?", "yes")
    assert told.ask("Well?", hear, ("Only yes will do.",)) == "yes"
    assert heard[:3] == ["Well?", "Say yes.", "Well?"]
    assert heard.count("Well?") == 3
    assert "Only yes will do." in heard
    told, _ = talk("BACK")
    with pytest.raises(Left):
        told.ask("Well?", hear)


@pytest.mark.parametrize("text", ["0", "3", "-1", "one", "", "²", "1.0"])
def test_only_the_number_of_a_row_picks_it(text: str) -> None:
    told, heard = talk(text, "2")
    assert told.pick("Which?", ["one way", "the other"]) == 1
    assert f"{text!r} isn't an answer here: type a number from 1 to 2, or back." in heard
