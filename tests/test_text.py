"""What may not come through the one door for words: Unicode 15, and the escape sequences of ECMA-48."""

import unicodedata
from datetime import UTC, datetime

import pytest
from hypothesis import example, given
from hypothesis import strategies as st

from sitelog.left_out import given_or
from sitelog.text import clean, day_and_time, text_after, text_between, text_if

# Unicode Standard Annex 9, table 4 and 2.6: the explicit and implicit directional controls.
BIDI = "\u061c\u200e\u200f\u202a\u202b\u202c\u202d\u202e\u2066\u2067\u2068\u2069"
ZERO_WIDTH = "\u200b\u200c\u200d\u2060\ufeff\u00ad\u180e"
LINES = "\r\n\x0b\x0c\x85\u2028\u2029"
ANY = st.text(st.characters(categories=None), max_size=80)
HARD = st.lists(st.sampled_from([*BIDI, *ZERO_WIDTH, *LINES, "\x1b[2J", "\x9b", "\ud800", "e", "\u0301", " "]))


@given(st.one_of(ANY, HARD.map("".join)), st.booleans())
def test_no_control_bidi_or_zero_width_character_survives(text: str, lines: bool) -> None:
    for character in clean(text, lines=lines):
        allowed = lines and character == "\n"
        assert allowed or unicodedata.category(character) not in ("Cc", "Cs", "Zl", "Zp")
        assert character not in BIDI + ZERO_WIDTH


@given(st.one_of(ANY, HARD.map("".join)), st.integers(2, 90), st.booleans())
@example("a\u0323\u0307" * 40, 11, False)
@example(" \ufeff a", 5, True)
def test_cleaning_what_is_clean_changes_nothing(text: str, most: int, lines: bool) -> None:
    once = clean(text, most=most, lines=lines)
    assert clean(once, most=most, lines=lines) == once
    assert len(once) <= most
    assert unicodedata.is_normalized("NFC", once)
    once.encode("utf-8")


@pytest.mark.parametrize(
    ("text", "kept"),
    [
        ("  north slope ", "north slope"),
        ("tab\tbetween", "tab between"),
        ("two\r\nlines", "two lines"),
        ("\x1b]0;owned\x07note", "]0;ownednote"),
        ("\x9b2Jwiped", "2Jwiped"),
        ("plate\u202egnol", "plategnol"),
        ("pla\u200bte", "plate"),
        ("\ufeffplate", "plate"),
        ("bad\udcff byte", "bad\ufffd byte"),
        ("cafe\u0301", "café"),
        ("35° ½ 47×150 [/2 battens]", "35° ½ 47×150 [/2 battens]"),
        ("木工 плотник", "木工 плотник"),
        ("", ""),
    ],
)
def test_what_a_carpenter_wrote_stays_and_what_drives_a_terminal_goes(text: str, kept: str) -> None:
    assert clean(text) == kept


def test_line_breaks_of_every_sort_become_one_newline_where_lines_are_kept() -> None:
    assert clean("a\r\nb\rc\nd\u2028e\x85f", lines=True) == "a\nb\nc\nd\ne\nf"


def test_a_cut_shows() -> None:
    assert clean("x" * 600) == "x" * 499 + "…"
    assert clean("x" * 500) == "x" * 500


def test_a_flood_of_combining_marks_is_cut_before_it_is_put_in_order() -> None:
    assert len(clean("\u0301\u0323" * 500_000)) == 500


@pytest.mark.parametrize(
    ("text", "shown"),
    [("2026-11-04T07:30", "4 Nov 2026 07:30"), ("2026-11-04 07:30:59.5", "4 Nov 2026 07:30"), ("t\x1b", "t"), ("", "")],
)
def test_a_time_of_a_file_is_shown_as_britons_write_it_and_what_is_none_as_it_is(text: str, shown: str) -> None:
    assert day_and_time(text) == shown


def test_a_time_with_its_offset_is_shown_by_the_clock_on_site() -> None:
    here = datetime(2026, 11, 4, 7, 30, tzinfo=UTC).astimezone()
    assert day_and_time("2026-11-04T07:30:00Z") == f"{here.day} {here:%b %Y %H:%M}"


def test_what_leads_and_ends_a_word_is_left_out_with_the_word() -> None:
    assert (text_if(True, ", hold"), text_if("", ", hold")) == (", hold", "")
    assert (text_after(": ", "wet"), text_after(": ", "")) == (": wet", "")
    assert (text_between(" (", "2 more", ")"), text_between(" (", "", ")")) == (" (2 more)", "")


def test_only_a_figure_that_was_left_out_is_stood_in_for() -> None:
    assert (given_or(None, 25.0), given_or(0.0, 25.0)) == (25.0, 0.0)
