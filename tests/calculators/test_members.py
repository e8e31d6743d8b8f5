"""The list of members as a file: what goes in comes out, and what can't be is told by its line."""

import csv
import io

import pytest
from hypothesis import given
from hypothesis import strategies as st

from sitelog.calculators.timber.members import (
    ANGLES,
    COLUMNS,
    HANDS,
    MOST,
    End,
    Member,
    cuts_of,
    read_members,
    write_members,
)
from sitelog.calculators.timber.members import (
    HEADER as WRITTEN,
)
from sitelog.quantities.quantity import Cut, Section
from sitelog.refusal import Refusal
from sitelog.text import clean

HEADER = "part,section,length,count,head_cut,head_hand,foot_cut,foot_hand,mass"
# Invented.
ROWS = """part,section,length,count,head_cut,head_bevel,head_bevel_2,head_hand,foot_cut,foot_seat,mass
hip a,47x225,4962,1,26.3,48.1,48.2,,26.3,63.7,22.0
jack 1,47x150,3.05m,2,35,50.7,,Right,,,
common,2x6,12ft,10,,,,,,,
"""

numbers = st.floats(0.1, 15_000).map(lambda number: round(number, 6))
sides = st.integers(20, 2_000).map(float)  # two sides under 16 would be nominal inches
angles = st.floats(0, 89).map(lambda deg: round(deg, 6))
ends = st.builds(End, *[angles] * len(ANGLES), st.sampled_from(HANDS))
names = st.text(max_size=40).map(lambda text: clean(text) or "rafter")
members = st.builds(
    Member,
    st.one_of(names, st.sampled_from(["=1+1", "'=1", "''x", "-", "@a", "a,b", 'the "low" one'])),
    st.builds(Section, sides, sides),
    numbers,
    st.integers(1, 999),
    ends,
    ends,
    st.none() | numbers,
)


def test_members_are_read_with_what_is_left_out_square_and_without_a_hand() -> None:
    hip, jack, common = read_members(ROWS)
    head, foot = End(26.3, bevel=48.1, bevel_2=48.2), End(26.3, 63.7)
    assert hip == Member("hip a", Section(47, 225), 4962, 1, head, foot, 22.0)
    assert jack == Member("jack 1", Section(47, 150), 3050, 2, End(35, bevel=50.7, hand="right"))
    assert common == Member("common", Section(47, 150, "2x6"), 3657.6, 10)


def test_the_four_columns_that_are_needed_are_enough_in_any_order() -> None:
    assert read_members("count,length,section,part\n2,3600,47x150,purlin") == (
        Member("purlin", Section(47, 150), 3600, 2),
    )


def test_a_spreadsheet_s_line_ends_and_empty_lines_change_nothing() -> None:
    assert read_members(ROWS.replace("\n", "\r\n")) == read_members(ROWS)
    assert read_members(f"\n{ROWS},,,,,,,,,,\n\n") == read_members(ROWS)


@given(st.lists(members, min_size=1, max_size=5))
def test_what_is_written_is_read_back(given_members: list[Member]) -> None:
    assert read_members(write_members(given_members)) == tuple(given_members)


@given(members)
def test_no_cell_is_a_sum_to_a_spreadsheet(member: Member) -> None:
    rows = list(csv.reader(io.StringIO(write_members([member]))))
    assert rows[0] == list(WRITTEN)
    assert [name for name in rows[0] if "length" in name or "cut" in name] == [
        "length_mm",
        "head_cut_deg",
        "foot_cut_deg",
    ]
    assert not any(cell.startswith(("=", "+", "-", "@")) for cell in rows[1])


def test_the_cuts_are_the_pieces_whatever_their_ends() -> None:
    assert cuts_of(read_members(ROWS))[:2] == (Cut(Section(47, 225), 4962, 1), Cut(Section(47, 150), 3050, 2))


@pytest.mark.parametrize(
    ("text", "told"),
    [
        ("", "the file is empty"),
        (HEADER, "header; add one member"),
        (",".join(COLUMNS), "header; add one member"),
        ("part;section;length;count\na;47x150;3600;1", "line 1: the header is 'part;section"),
        ("part,section,length\na,47x150,3600", "line 1: the header is"),
        ("part,section,length,count,colour\na,47x150,3600,1,red", "line 1: the header is"),
        ("part,part,section,length,count\na,a,47x150,3600,1", "line 1: the header is"),
        (f"{HEADER}\na,47x150,3600", "line 2: it has 3 cells and the header has 9"),
        (f"{HEADER}\na,47x150,3600,1,0,,0,,\nb,47,3600,1,0,,0,,", "line 3: section: '47'"),
        (f"{HEADER}\n,47x150,3600,1,0,,0,,", "line 2: part: nothing typed"),
        (f"{HEADER}\na,,3600,1,0,,0,,", "line 2: section: nothing typed"),
        (f"{HEADER}\na,47x150,nan,1,0,,0,,", "line 2: length: 'nan'"),
        (f"{HEADER}\na,47x150,0,1,0,,0,,", "line 2: a member's length is 0; it must be over 0"),
        (f"{HEADER}\na,47x150,3600,0,0,,0,,", "line 2: a member's count is 0; it must be over 0"),
        (f"{HEADER}\na,47x150,3600,1,90,,0,,", "line 2: a cut is 90 degrees from square; it must be"),
        (f"{HEADER}\na,47x150,3600,1,-5,,0,,", "line 2: a cut is -5 degrees"),
        (f"{HEADER}\na,47x150,3600,1,0,up,0,,", "line 2: head_hand is 'up'; it must be left, right or blank"),
        (f"{HEADER}\na,47x150,3600,1,0,,0,,heavy", "line 2: mass: 'heavy'"),
        (f"{HEADER}\na,47x150,x,1,0,,0,,\nb,47x150,y,1,0,,0,,", '1/2"; 1 more of its lines'),
        (f'{HEADER}\n"a,47x150,3600,1,0,,0,,', "line 2: this isn't a line of a CSV file"),
        (f"{HEADER}\n" + "a,47x150,3600,1,0,,0,,\n" * (MOST + 1), "2001 lines; give at most 2000"),
        (f"{HEADER}\n{'x' * 200_000},47x150,3600,1,0,,0,,", "line 2: this isn't a line of a CSV file"),
        (f"{HEADER}\na,47x150,\x1b[31m,1,0,,0,,", r"length: '\[31m'"),
    ],
)  # fmt: skip
def test_a_file_that_can_not_be_is_refused_by_its_line(text: str, told: str) -> None:
    with pytest.raises(Refusal, match=told) as refused:
        read_members(text)
    assert refused.value.message.startswith("members")
    assert "\n" not in refused.value.message
    assert refused.value.message.isprintable()
    assert len(refused.value.message) < 400


@pytest.mark.parametrize("cut", [-1.0, 90.0, float("nan")])
def test_no_cut_is_upright_or_backward(cut: float) -> None:
    with pytest.raises(Refusal, match="degrees from square"):
        End(cut)


@pytest.mark.parametrize("number", [0, -1, float("nan"), float("inf")])
def test_no_member_is_without_length_or_mass(number: float) -> None:
    with pytest.raises(Refusal, match="a member's length"):
        Member("x", Section(47, 150), number)
    with pytest.raises(Refusal, match="a member's mass"):
        Member("x", Section(47, 150), 3600, mass=number)
