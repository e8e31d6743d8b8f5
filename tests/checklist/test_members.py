"""A list says its members; each rule is broken at one place, and the fault stands at that line."""

from pathlib import Path

import pytest

from sitelog.checklist.load import Faults, load
from sitelog.checklist.schema.members import EndSpec, Shown, Taken
from sitelog.checklist.schema.terms import Operand, Term
from tests.checklist.small import HIPPED, write
from tests.checklist.test_borrow import GABLED

MEMBERS = """
[[member]]
id = "commons"
says = "Common"
section = "47x150"
sum = "common"
length = "overall_length"
count = 12
head = { cut = "plumb_cut_from_square" }
foot = { cut = "@pitch", seat = "seat_cut_from_square" }
when = "cut_by is hand"

[[member]]
id = "jacks"
says = "Jack"
section = "section 47 @jack_depth"
calculator = "jacks"
inputs = { run = "half @width", pitch = "@pitch", spacing = 400 }
length = "rows.length_long_point"
adds = "@rafter"
count = 2
head = { cut = 35, bevel = "edge_bevel_from_square", tilt = "saw_tilt", hand = "pair" }
shows = [{ of = "rows.at" }, { of = "pairs", when = "cut_by is hand" }]

[[member]]
id = "trimmers"
says = "Trimmers"
when = "pitch over 20"
left_out = "the engineer's detail has them"

[[fact]]
name = "jack_depth"
kind = "length"
says = "Depth of the jacks"
worked = "depth @delivered"

[[fact]]
name = "delivered"
kind = "section"
says = "Section of the rafters"
asked = true
"""

TEXT = HIPPED + MEMBERS


def test_a_list_says_what_its_part_is_made_of(tmp_path: Path) -> None:
    commons, jacks, trimmers = load(shipped=write(tmp_path, hipped=TEXT)).lists["hipped"].members
    assert (commons.calculator, dict(commons.inputs)) == ("common", dict(_sum(tmp_path)))
    assert commons.length == Taken(path="overall_length")
    assert commons.count == Taken(Operand("is", (Term("value", value=12.0),)))
    assert commons.foot == EndSpec(
        cut=Taken(Operand("is", (Term("fact", "pitch"),))), seat=Taken(path="seat_cut_from_square")
    )
    assert jacks.section == Operand("section", (Term("value", value=47.0), Term("fact", "jack_depth")))
    assert jacks.head.hand == "pair"
    assert jacks.shows[0] == Shown("rows.at") and jacks.shows[1].when is not None
    assert trimmers.left_out and trimmers.length is None


def _sum(tmp_path: Path) -> dict[str, Operand]:
    return dict(load(shipped=tmp_path).lists["hipped"].sums[0].inputs)


@pytest.mark.parametrize(
    ("old", "new", "words"),
    [
        ('sum = "common"', 'sum = "comon"', "this list doesn't have a sum called comon; did you mean common?"),
        ('sum = "common"', 'sum = "common"\ncalculator = "common"', "sum and calculator are both given"),
        ('calculator = "jacks"', 'calculator = "jack"', "unknown calculator jack; did you mean jacks?"),
        ("spacing = 400 }", "spacin = 400 }", "jacks doesn't have a figure called spacin; did you mean spacing?"),
        ('run = "half @width", pitch = "@pitch", spacing = 400', "spacing = 400", "jacks needs pitch, run"),
        ("spacing = 400 }", 'spacing = "@pitch" }', "spacing takes a length, and pitch is a pitch"),
        ('"overall_length"', '"overal_length"', "common doesn't give overal_length; did you mean overall_length?"),
        ('"overall_length"', '"@lenth"', "unknown fact @lenth; did you mean length?"),
        ('"rows.length_long_point"', '"rows.length_long"', "rows of jacks doesn't have length_long; did you mean"),
        ('"rows.length_long_point"', '"rows"', "rows is rows; say which of their columns"),
        ('"rows.length_long_point"', '"difference"', "rows.at is of a row, and the member's length is not"),
        ('"overall_length"', '"plumb_cut_from_square"', "length takes mm, and plumb_cut_from_square is in deg"),
        ('cut = "plumb_cut_from_square"', 'cut = "rise"', "cut takes deg, and rise is in mm"),
        ("count = 12", 'count = "rise"', "count takes a count, and rise is in mm"),
        ("count = 12", "count = 1.5", "count: '1.5'"),
        ("count = 12", 'count = "@pitch"', "count takes a count, and pitch is a pitch"),
        ('section = "47x150"', 'section = "47"', "section: '47' isn't"),
        ('section = "47x150"', 'section = "@pitch"', "section takes a section, and pitch is a pitch"),
        (
            'section = "47x150"',
            'section = "depth @delivered"',
            "section takes a section, and the word depth is a length",
        ),
        ('"section 47 @jack_depth"', '"section 47 @pitch"', "section takes a length, and pitch is a pitch"),
        ('"depth @delivered"', '"depth @width"', "@width is a length, but it must be a section"),
        ('"depth @delivered"', '"depth 150"', "depth takes a section that is a fact or a figure"),
        ('adds = "@rafter"', 'adds = "@pitch"', "adds takes an offset, and pitch is a pitch"),
        ('hand = "pair"', 'hand = "both"', "hand can't be 'both'; it is one of "),
        ('seat = "seat', 'seats = "seat', "unknown key 'seats'; did you mean seat?"),
        ('{ of = "rows.at" }', '{ of = "rows.att" }', "rows of jacks doesn't have att; did you mean at?"),
        ('when = "cut_by is hand"\n\n', 'when = "cut is hand"\n\n', "unknown fact cut"),
        ('"pairs", when = "cut_by is hand"', '"pairs", when = "cut_by is foot"', "cut_by is never foot"),
        ('left_out = "the', 'length = 3\nsection = "47x150"\nleft_out = "the', "is left out and has a length"),
        ('length = "overall_length"\n', "", "member commons doesn't have length; give it, or say with left_out why"),
        ('id = "jacks"', 'id = "commons"', "member commons is there already, at line"),
    ],
)
def test_a_fault_of_a_member_is_told_at_its_line(tmp_path: Path, old: str, new: str, words: str) -> None:
    assert TEXT.count(old) == 1
    text = TEXT.replace(old, new)
    with pytest.raises(Faults) as caught:
        load(shipped=write(tmp_path, hipped=text))
    at = [int(fault.split(":")[1]) for fault in caught.value.faults if words in fault]
    assert at, caught.value.faults
    first = TEXT[: TEXT.index(old)].count("\n") + 1
    header = max(n for n, line in enumerate(text.splitlines()[:first], 1) if line.startswith("["))
    assert set(at) & {header, *range(first, first + new.count("\n") + 1)} or old == '"rows.length_long_point"', at


def test_a_result_without_a_calculator_is_told(tmp_path: Path) -> None:
    text = TEXT.replace('sum = "common"\n', "")
    with pytest.raises(Faults) as caught:
        load(shipped=write(tmp_path, hipped=text))
    assert any("overall_length isn't the result of a calculator; name one" in fault for fault in caught.value.faults)


def test_members_are_taken_over_by_id_with_the_sums_of_the_list_that_takes_them(tmp_path: Path) -> None:
    taking = (
        GABLED + '\n[[member]]\nlike = "hipped"\nnames = ["commons"]\n\n[[fact]]\nlike = "hipped"\nnames = ["cut_by"]\n'
    )
    library = load(shipped=write(tmp_path, hipped=TEXT, gabled=taking))
    assert library.lists["gabled"].members == library.lists["hipped"].members[:1]
    without = taking.replace('names = ["common"]', "names = []")
    with pytest.raises(Faults) as caught:
        load(shipped=write(tmp_path, hipped=TEXT, gabled=without))
    line = TEXT[: TEXT.index('sum = "common"')].count("\n") + 1
    assert any(
        f"hipped.toml:{line}: this list doesn't have a sum called common" in fault for fault in caught.value.faults
    )
