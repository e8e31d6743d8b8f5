"""What is bought for a list by a yard file and by what is on site: lists made up here, worked by hand."""

from pathlib import Path
from typing import Any

import pytest
from msgspec.structs import replace

from sitelog.calculators import index
from sitelog.calculators.timber.joined import Joint
from sitelog.calculators.timber.members import Member
from sitelog.job.buying import Purchase, buy, write_plan
from sitelog.job.members import Line
from sitelog.job.sources import Terms, terms_of
from sitelog.quantities.quantity import Section
from sitelog.refusal import Refusal
from sitelog.reports.model import Table
from sitelog.reports.timber.order import not_bought, order_pages, yard_told

YARD = """
[47x150]
lengths = [3600, 4800]
pack = { 4800 = 5 }
price_metre = 4

[47x100]
lengths = [3600]
price_each = { 3600 = 10 }

[47x225]
lengths = [4800, 6000]
price_metre = 6
long_from = 5400
long_adds = "25%"
"""


@pytest.fixture
def yard(tmp_path: Path) -> Path:
    file = tmp_path / "yard.toml"
    file.write_text(YARD, encoding="utf-8")
    return file


def line(says: str, section: str, length: float, count: int = 1, nested: tuple[float, float] | None = None) -> Line:
    thickness, depth = map(float, section.split("x"))
    return Line("main", says, says, "built", Member(says, Section(thickness, depth), length, count), nested=nested)


def bought(purchase: Purchase) -> list[tuple[Any, ...]]:
    rows = purchase.answer.results["buy"]
    assert isinstance(rows, list)
    return [(row["section"], row["stock_length"], row["count"]) for row in rows]


def test_only_what_the_yard_sells_is_bought_at_its_prices(yard: Path) -> None:
    """3600 of 47x150 is 14.40; 4800 is 19.20, by fives 96. 6000 of 47x225 is 36, and 45 with a quarter more."""
    lines = [line("Common", "47x150", 3500, 2), line("Hip", "47x225", 5500)]
    purchase = buy(lines, Terms(yard=yard))
    assert bought(purchase) == [("47x150", 3600.0, 2), ("47x225", 6000.0, 1)]
    assert purchase.answer.results["cost"] == 2 * 14.40 + 45
    assert [*not_bought(purchase)] == ["The yard's lengths are from yard.toml."]
    assert any(
        "Total 73.80 at the prices in yard.toml." in str(block)
        for block in order_pages(lines, "metric", Terms(yard=yard))[0]
    )


def test_packs_are_in_the_price_and_in_the_file_for_the_yard(yard: Path) -> None:
    purchase = buy([line("Common", "47x150", 4700, 6)], Terms(yard=yard))
    assert purchase.answer.results["cost"] == 2 * 5 * 19.20
    assert write_plan(purchase) == "section,stock_length,count,pack,packs,spare\n47x150,4800,10,5,2,4\n"


def test_prices_that_are_typed_go_before_the_yards_and_lengths_are_of_its_own(yard: Path) -> None:
    lines = [line("Common", "47x150", 3500, 2)]
    typed = terms_of({"prices": "47x150:3600:9,47x150:4800:1", "lengths": "3600", "kerf": "", "on_site": ""}, yard)
    purchase = buy(lines, typed)
    assert (bought(purchase), purchase.answer.results["cost"]) == ([("47x150", 3600.0, 2)], 18.0)
    assert not purchase.priced_by_yard


def test_a_section_that_the_yard_has_not_is_left_off_by_name(yard: Path) -> None:
    lines = [line("Common", "47x150", 3500), line("Ridge", "38x225", 3000), line("Lay board", "38x225", 2000)]
    purchase = buy(lines, Terms(yard=yard))
    assert [one.says for one in purchase.unsold] == ["Ridge", "Lay board"]
    assert [*not_bought(purchase)][1] == (
        "Not in yard.toml, so not ordered: 38x225 (Ridge, Lay board). Add what the yard sells, or buy it elsewhere."
    )
    with pytest.raises(Refusal, match=r"yard\.toml has none of 38x225\. Add what the yard sells of them"):
        buy(lines[1:], Terms(yard=yard))


def on_site(text: str, yard: Path | None = None) -> Terms:
    return terms_of({"on_site": text}, yard)


def test_what_the_yard_has_not_may_be_on_site(yard: Path) -> None:
    lines = [line("Ridge", "38x225", 3000), line("Lay board", "38x225", 2000)]
    purchase = buy(lines, on_site("38x225:3600:1", yard))
    assert [one.says for one in purchase.unsold] == []
    assert [one.says for one in purchase.special] == ["Lay board"], "it is longer than the rest of the stick"
    assert bought(purchase) == []


def test_a_long_piece_is_ordered_as_far_as_sticks_on_site_hold_it() -> None:
    """8200 from 8300 with 90 and the cut between, 8100 from 8190; a second 8200 finds none."""
    lines = [line("Ridge", "47x175", 8200, 2), line("Purlin", "47x175", 8100), line("Block", "47x175", 90)]
    purchase = buy(lines, on_site("47x175:8300:1,47x175:8190:1"))
    held = purchase.answer.results["from_site"]
    assert isinstance(held, list)
    assert sorted(str(row["cuts"]) for row in held) == ["8100", "8200 + 90"]
    assert [(one.says, one.member.count) for one in purchase.special if one.member] == [("Ridge", 1)]
    assert [*not_bought(purchase)] == [
        "Longer than any stock length, so not ordered. Ask the engineer about a joint: Ridge."
    ]


# A firring of 20 to 95.5 over 3020, two together 20 + 95.5 + 4 = 119.5.
RIPPED = [
    (
        2,
        [("47x150", 3600.0, 1)],
        "1 piece of 47x150 is ripped into two firrings, head to foot, one saw cut between them.",
    ),
    (1, [("47x100", 3600.0, 1)], ""),
]


@pytest.mark.parametrize(("count", "found", "says"), RIPPED)
def test_firrings_are_ripped_from_what_the_yard_has(
    yard: Path, count: int, found: list[tuple[str, float, int]], says: str
) -> None:
    """The yard has no 47x125, which is the least for two: they come out of its 150."""
    purchase = buy([line("Firring", "47x100", 3020, count, nested=(20, 95.5))], Terms(yard=yard))
    assert bought(purchase) == found
    assert [*not_bought(purchase)][1:] == ([says] if says else [])


def test_two_firrings_come_out_of_a_stick_that_is_on_site(yard: Path) -> None:
    purchase = buy([line("Firring", "47x100", 3020, 2, nested=(20, 95.5))], on_site("47x125:3100:1", yard))
    assert bought(purchase) == []
    assert [*not_bought(purchase)][1].startswith("1 piece of 47x125 is ripped into two firrings")


def test_a_fault_in_the_yard_file_is_the_orders_own(yard: Path) -> None:
    yard.write_text("[47x150]\nlengths = [4.8]\n", encoding="utf-8")
    lines = [line("Common", "47x150", 3500)]
    with pytest.raises(Refusal, match=r"yard\.toml, 47x150: lengths has '4\.8', which is 4\.8 mm\. Type 4800"):
        buy(lines, Terms(yard=yard))
    (page,), for_the_saw = order_pages(lines, "metric", Terms(yard=yard))
    assert "Can't work out what to buy: yard.toml, 47x150: lengths has '4.8'" in str(page)
    assert for_the_saw == ()


def test_sticks_that_are_sawn_alike_are_one_row_for_the_saw_and_none_for_the_yard(yard: Path) -> None:
    for_the_yard, (plan,) = order_pages([line("Common", "47x150", 3500, 3), line("Hip", "47x225", 5500)], "metric")
    assert isinstance(plan, Table)
    assert [row[:3] for row in plan.rows] == [("1 to 3", "3", "47x150"), ("4", "1", "47x225")]
    assert sum(int(row[1]) for row in plan.rows) == 4
    assert "Cutting plan" not in [block.caption for block in for_the_yard if isinstance(block, Table)]


def test_whose_lengths_they_are_is_said_before_it_is_worked(yard: Path) -> None:
    assert yard_told(None) == "No yard.toml beside the job: the usual lengths are used."
    assert yard_told(yard) == "Yard: yard.toml beside the job."
    assert yard_told(Path("roof.json.files/yard.toml")) == "Yard: yard.toml in the job's own folder."


def joined(says: str, length: float, lap: float, pieces: int = 1) -> Line:
    return replace(line(says, "47x225", length), joint=Joint(lap, pieces))


@pytest.mark.parametrize(
    ("length", "lap", "pieces", "sticks", "each"),
    [
        (9000, 675, 1, [("47x225", 6000.0, 2)], 4837.5),  # by hand: (9000 + 675) / 2
        (14000, 675, 1, [("47x225", 6000.0, 3)], 5116.667),  # (14000 + 2 x 675) / 3
        (5400, 675, 2, [("47x225", 4800.0, 2)], 3037.5),  # to be joined all the same
    ],
)
def test_what_is_joined_is_bought_in_pieces_that_make_its_length_with_their_joints(
    yard: Path, length: float, lap: float, pieces: int, sticks: list[tuple[str, float, int]], each: float
) -> None:
    purchase = buy([joined("Ridge", length, lap, pieces)], Terms(yard=yard))
    assert purchase.special == ()
    assert bought(purchase) == sticks
    made = purchase.joined[0]
    assert made.length == pytest.approx(each, abs=0.001)
    assert made.count * made.length - (made.count - 1) * made.lap == pytest.approx(length)
    told = [one for one in not_bought(purchase) if one.startswith("Ridge")]
    assert told == [f"Ridge: {made.count} pieces of {made.length:.0f} mm, with joints of 675 mm."]


def test_what_one_stick_reaches_is_joined_only_where_that_was_said(yard: Path) -> None:
    purchase = buy([joined("Hip", 5400, 675), line("Ridge", "47x225", 9000)], Terms(yard=yard))
    assert (bought(purchase), purchase.joined) == ([("47x225", 6000.0, 1)], ())
    assert [one.says for one in purchase.special] == ["Ridge"]


def test_a_plate_is_lapped_again_where_the_yards_sticks_are_shorter_than_it_was_told(yard: Path) -> None:
    """By hand: 9000 of plate in two of 4550 by sticks of 6000; by the yard's of 3600 in three of (9000 + 200) / 3."""
    answer = index.find("laps")(length=9000.0, lap=100.0, longest=6000.0)
    plate = replace(line("Plate AB", "47x100", 4550, 2), answer=answer)
    purchase = buy([plate], Terms(yard=yard))
    assert bought(purchase) == [("47x100", 3600.0, 3)]
    assert purchase.joined[0].length == pytest.approx(9200 / 3)
    one_cut = replace(plate, member=Member("Plate AB", Section(47, 100), 4550, 1))  # the other is cut to 4550
    with pytest.raises(Refusal):
        buy([one_cut], Terms(yard=yard))
