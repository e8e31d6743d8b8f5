"""The yard's pages of the pack: the cutting list by section, what to buy, and the same as files for other programs."""

import csv
import io

import pytest

from sitelog.calculators.index import find
from sitelog.calculators.timber import stock
from sitelog.calculators.timber.members import Member, read_members
from sitelog.job.actions import actions
from sitelog.job.buying import KERF, buy, totals, write_plan
from sitelog.job.members import Line, members
from sitelog.quantities.quantity import Section as Timber
from sitelog.refusal import Refusal
from sitelog.reports.cutting import HEADS, all_lines, cutting, entries
from sitelog.reports.formats.html import html
from sitelog.reports.formats.text import text
from sitelog.reports.model import Section, Table, Words
from tests.reports.site import SIDES, Site, library


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


def test_the_list_is_parted_by_section_and_tells_each_piece_once(built: Site) -> None:
    lists = tables(sections(built)["main-cutting"])
    assert [one.caption.split(":")[0] for one in lists] == ["50x100", "47x150", "47x225", "38x225"]
    assert all(one.heads == HEADS for one in lists)
    lines = members(built.state, library(), "main")
    counted = sum(int(row[2].split(":")[0]) for one in lists for row in one.rows)
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


def test_both_hands_of_a_piece_stand_in_one_row(built: Site) -> None:
    found = {one.what: one for one in entries(members(built.state, library(), "main"), built.state)}
    assert found["Jack at A, 1"].count == "2: 1 left, 1 right"
    assert found["Common on AB, 1"].count == "1"
    assert found["Jack at A, 1"].cuts.startswith("head plumb 35.0°, edge 50.")


def test_what_to_buy_covers_every_piece(built: Site) -> None:
    order = sections(built)["order"]
    bought, plan = tables(order)
    assert [bought.caption, plan.caption] == ["To buy", "Cutting plan"]
    sticks = sum(int(row[-1]) for row in bought.rows)
    assert sticks == len(plan.rows)
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
    told = [row for one in tables(sections(site)["main-cutting"]) for row in one.rows if row[0] == "Hip at A"]
    assert told[0][1] == "OUT OF DATE, not shown" and told[0][3:6] == ("", "", "")
    order = words(sections(site)["order"])
    assert "rests on a stale figure: " in order or "Nothing can be ordered yet" in order


def test_a_piece_longer_than_any_stick_is_left_to_the_engineer(built: Site) -> None:
    lines = members(built.state, library(), "main")
    purchase = buy(lines, lengths=(4800.0,))
    assert [line.id for line in purchase.special] == ["hip-a", "hip-b", "hip-c", "hip-d"]
    with pytest.raises(Refusal, match="Nothing can be ordered yet"):
        buy([line for line in lines if not line.good])


def test_without_the_solver_the_pack_says_what_to_install(built: Site, monkeypatch: pytest.MonkeyPatch) -> None:
    from sitelog.job import buying

    def missing(*_: object) -> tuple[None, str]:
        return None, f'stock needs a solver that is not installed; run: pip install "{stock.SOLVER}"'

    monkeypatch.setattr(buying, "work", missing)
    assert 'run: pip install "highspy' in words(sections(built)["order"])
    assert [name for name, _ in built.pack().files] == ["members.csv"]
