"""The yard's pages of the pack: the cutting list by section, what to buy, and the same as files for other programs."""

import csv
import io

import pytest

from sitelog.calculators.index import find
from sitelog.calculators.timber import stock
from sitelog.calculators.timber.members import Member, read_members
from sitelog.job.actions import actions
from sitelog.job.buying import buy, totals, write_plan
from sitelog.job.members import Line, members
from sitelog.job.sources import KERF, Terms
from sitelog.quantities.quantity import Section as Timber
from sitelog.refusal import Refusal
from sitelog.reports.formats.html import html
from sitelog.reports.formats.text import text
from sitelog.reports.model import Section, Table, Words
from sitelog.reports.timber.entries import all_lines
from sitelog.reports.timber.sheets import HEADS, cutting, saw_sheets
from tests.reports.site import SIDES, Site
from tests.shipped import library


@pytest.fixture(scope="module")
def built() -> Site:
    site = Site()
    site.up_to("main.first-pair", {"main.plates.sides": SIDES})
    return site


def sections(site: Site) -> dict[str, Section]:
    return {one.id: one for one in cutting(site.state, all_lines(site.state, library()))}


def tables(section: Section) -> list[Table]:
    return [block for block in section.blocks if isinstance(block, Table)]


def words(section: Section) -> str:
    return " ".join(block.text for block in section.blocks if isinstance(block, Words))


def rows_of(section: Section) -> list[tuple[str, ...]]:
    return [row for one in tables(section) if one.heads == HEADS for row in one.rows]


def test_the_list_is_parted_by_section_and_tells_each_piece_once(built: Site) -> None:
    section = sections(built)["main-cutting"]
    led = [block.text.split(":")[0] for block in section.blocks if isinstance(block, Words) and block.strong]
    assert led == ["38x225", "47x150", "47x225", "50x100", "Left off the list, and why"]
    lines = members(built.state, library(), "main")
    counted = sum(int(row[0]) for row in rows_of(section))
    assert counted == sum(line.member.count for line in lines if line.member) == sum(t.count for t in totals(lines))


def test_a_total_is_of_every_piece_that_may_be_ordered() -> None:
    """By hand: 3 of 4000 and 2 of 1500 are 15000 mm; 3 of 12 kg and 2 of 4.5 kg are 45 kg. Stale ones are not in it."""
    rafter = Timber(47, 150)
    lines = [
        Line("main", "common", "Common", "built", Member("common", rafter, 4000, 3, mass=12)),
        Line("main", "short", "Short", "drawn", Member("short", rafter, 1500, 2, mass=4.5)),
        Line("main", "old", "Old", "stale", Member("old", rafter, 5000, 7, mass=20)),
    ]
    (total,) = totals(lines)
    assert (total.section, total.count, total.length, total.mass) == (rafter, 5, 15000, 45)


def test_the_saw_cuts_as_wide_as_the_calculator_has_it_unless_somebody_says_so() -> None:
    """4 mm (common practice)."""
    kerf = next(wanted for wanted in find("stock").inputs if wanted.name == "kerf")
    assert KERF == kerf.default == 4.0


def test_left_and_right_of_a_piece_are_a_row_each_under_one_setting_of_the_saw(built: Site) -> None:
    section = sections(built)["main-cutting"]
    jacks = [one for one in tables(section) if one.caption.startswith("Saw: head plumb 35.0°, edge 50.")]
    assert jacks and {row[1] for one in jacks for row in one.rows} == {"Jack, left", "Jack, right"}
    for one in jacks:
        left, right = ([row[2] for row in one.rows if row[1] == f"Jack, {hand}"] for hand in ("left", "right"))
        assert left == right and one.rows[0][1] == "Jack, left"


def test_the_sheets_for_the_saw_have_a_page_a_section_and_say_to_try_the_first(built: Site) -> None:
    leaves = list(saw_sheets(members(built.state, library(), "main"), built.state))
    assert [leaf.title for leaf in leaves] == [
        *(f"Cutting list, {section}" for section in ("38x225", "47x150", "47x225", "50x100")),
        "Marks along the plates", "Timber to order", "Sticks to saw",
    ]  # fmt: skip
    for leaf in leaves[:4]:
        assert isinstance(leaf.blocks[0], Words)
        assert "The first of each is the pattern: try it before you cut the rest." in leaf.blocks[0].text


def test_what_to_buy_covers_every_piece(built: Site) -> None:
    order = sections(built)["order"]
    bought, plan = tables(order)
    assert [bought.caption, plan.caption] == ["To buy", "Cutting plan"]
    sticks = sum(int(row[-1]) for row in bought.rows)
    assert sticks == sum(int(row[1]) for row in plan.rows)
    assert "Not ordered, see the list for what is needed: Trimmers" in words(order)


def test_both_pages_hold_the_list_and_the_order(built: Site) -> None:
    for page in (html(built.pack()), text(built.pack())):
        assert "main roof: cutting list" in page.lower() and "timber to order" in page.lower()
        assert "Hip at C" in page


def test_the_members_beside_the_pack_are_read_back_and_give_the_same_order(built: Site) -> None:
    files = dict(built.pack().files)
    lines = members(built.state, library(), "main")
    back = read_members(files["members.csv"])
    assert [one.part for one in back] == [line.member.part for line in lines if line.member]
    for one, line in zip(back, (line for line in lines if line.member), strict=True):
        assert line.member and one.length == pytest.approx(line.member.length, abs=1e-6)
        assert (one.head.hand, one.count) == (line.member.head.hand, line.member.count)
        assert one.foot.seat == pytest.approx(line.member.foot.seat, abs=1e-6)
    assert files["order.csv"] == write_plan(buy(lines))
    rows = list(csv.DictReader(io.StringIO(files["order.csv"])))
    length = sum(float(row["stock_length"]) * int(row["count"]) for row in rows)
    assert length == buy(lines).answer.results["length_bought"]


def test_what_rests_on_a_stale_figure_is_withheld_and_not_ordered() -> None:
    """Plates are measured against the drawing; once that changes they are stale, and all that stands on them."""
    site = Site()
    site.up_to("main.first-pair", {"main.plates.sides": SIDES})
    site.do(actions.draw(site.state, "main", {"length": "9100"}))
    lines = {line.id: line for line in members(site.state, library(), "main")}
    assert lines["hip-a"].standing == "stale" and "main.plates.sides" in lines["hip-a"].waits
    assert not lines["hip-a"].good
    pack = site.pack()
    assert "Hip at A" not in dict(pack.files).get("members.csv", "")
    told = [row for row in rows_of(sections(site)["main-cutting"]) if row[1] == "Hip at A"]
    assert told[0][0] == "" and told[0][2:4] == ("OUT OF DATE, not shown", "") and "do again first" in told[0][4]
    order = words(sections(site)["order"])
    assert "rests on a stale figure: " in order or "Nothing can be ordered yet" in order


def test_a_piece_longer_than_any_stick_is_left_to_the_engineer(built: Site) -> None:
    lines = members(built.state, library(), "main")
    purchase = buy(lines, Terms(lengths=(4800.0,)))
    assert [line.id for line in purchase.special] == ["hip-a", "hip-b", "hip-c", "hip-d"]
    with pytest.raises(Refusal, match="Nothing can be ordered yet"):
        buy([line for line in lines if not line.good])


def test_without_the_solver_the_pack_says_what_to_install(built: Site, monkeypatch: pytest.MonkeyPatch) -> None:
    from sitelog.job import buying

    def missing(*_: object) -> tuple[None, str]:
        return None, f'stock needs a solver that is not installed; run: pip install "{stock.SOLVER}"'

    monkeypatch.setattr(buying, "work", missing)
    assert 'run: pip install "highspy' in words(sections(built)["order"])
    assert [name for name, _ in built.pack().files] == ["members.csv", "batches.csv"]
