"""Cutting plans, against published optima, every plan of small orders tried by hand, and what holds for any plan."""

import json
import subprocess
import sys
import tomllib
from collections import Counter
from pathlib import Path
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from sitelog.calculators.ask import ask
from sitelog.calculators.catalogue import Answer
from sitelog.calculators.index import find
from sitelog.calculators.timber.cutting.order import Order, Plan
from sitelog.calculators.timber.stick import STOCK_LENGTHS
from sitelog.calculators.timber.stock import SOLVER
from sitelog.quantities.quantity import Cut, Price, Section
from sitelog.refusal import Refusal
from tests.calculators.hard_sets import every_way
from tests.cli.conftest import Say, say

__all__ = ["say"]

programme = pytest.importorskip(
    "sitelog.calculators.timber.cutting.solve", reason="highspy is not installed (extra `order`)", exc_type=ImportError
)

RAFTER, HIP = Section(47, 150), Section(47, 225)
FEW = dict.fromkeys(range(3_000, 6_001, 600), 0)

# Wanted, stock as length to cost, and the least cost.
PUBLISHED: list[tuple[str, dict[int, int], dict[int, int], int]] = [
    (
        # A paper machine's reels 5600 wide, 13 widths: 73 reels, 0.401 % waste. The example of the article "Cutting
        # stock problem", Wikipedia (from memory; the waste is worked from the figures below).
        "reels of 5600",
        {1380: 22, 1520: 25, 1560: 12, 1710: 14, 1820: 18, 1880: 18, 1930: 20, 2000: 10, 2050: 12, 2100: 14, 2140: 16,
         2150: 18, 2200: 20},
        {5600: 1},
        73,
    ),
    (
        # Reels of 100 in: linear programme 452.25, so 453. V. Chvátal, "Linear Programming", 1983, chapter 13
        # (from memory).
        "reels of 100 in",
        {45: 97, 36: 610, 31: 395, 14: 211},
        {100: 1},
        453,
    ),
    (
        # Three stock lengths with prices 6, 7, 10: 170. P. C. Gilmore and R. E. Gomory, "A linear programming
        # approach to the cutting-stock problem", Operations Research 9, 1961, the worked example (from memory).
        "three stock lengths",
        {2: 20, 3: 10, 4: 20},
        {5: 6, 6: 7, 9: 10},
        170,
    ),
]  # fmt: skip


@pytest.mark.parametrize(("wanted", "stock", "cost"), [row[1:] for row in PUBLISHED], ids=[row[0] for row in PUBLISHED])
def test_a_published_order_is_cut_for_its_published_least(
    wanted: dict[int, int], stock: dict[int, int], cost: int
) -> None:
    found = programme.plan(Order(wanted, stock, 0))
    assert (found.cost, found.bound, found.least) == (cost, cost, True)
    assert sound(Order(wanted, stock, 0), found)


def test_the_published_waste_of_73_reels() -> None:
    _, wanted, _, reels = PUBLISHED[0]
    waste = 1 - sum(length * count for length, count in wanted.items()) / (reels * 5600)
    assert round(waste * 100, 3) == 0.401


def sound(order: Order, plan: Plan) -> bool:
    """Every piece once, no stick over its length with the cuts between its pieces, the cost the sum of the sticks."""
    pieces = Counter(piece for stick in plan.sticks for piece in stick.pieces)
    return (
        pieces == Counter(order.wanted)
        and all(sum(one.pieces) + order.kerf * (len(one.pieces) - 1) <= one.stick for one in plan.sticks)
        and plan.cost == sum(order.stock[one.stick] for one in plan.sticks)
    )


def least_of_all(order: Order) -> int:
    """The cheapest of every way to share the pieces, each share from the cheapest stick that holds it."""

    def cost(share: list[int]) -> float:
        taken = sum(share) + order.kerf * (len(share) - 1)
        return min((price for stick, price in order.stock.items() if stick >= taken), default=float("inf"))

    pieces = [piece for piece, count in order.wanted.items() for _ in range(count)]
    return int(min(sum(map(cost, shares)) for shares in every_way(pieces)))


small = st.dictionaries(st.integers(1, 20), st.integers(1, 3), min_size=1, max_size=4).filter(
    lambda wanted: sum(wanted.values()) <= 7
)


@given(small, st.dictionaries(st.integers(20, 45), st.integers(10, 60), min_size=1, max_size=4), st.integers(0, 3))
@settings(max_examples=150, deadline=None)
def test_no_way_at_all_to_share_a_small_order_is_cheaper(
    wanted: dict[int, int], stock: dict[int, int], kerf: int
) -> None:
    order = Order(wanted, stock, kerf)
    plan, least = programme.plan(order), least_of_all(order)
    assert sound(order, plan)
    assert plan.bound <= least
    assert plan.cost == least
    assert plan.least


@given(
    st.dictionaries(st.integers(400, 6_000), st.integers(1, 12), min_size=1, max_size=12),
    st.sampled_from([FEW, dict.fromkeys(STOCK_LENGTHS, 0), {6_000: 0}, {4_217: 0, 6_101: 0}]),
    st.integers(0, 10),
)
@settings(max_examples=30, deadline=None)
def test_every_piece_is_cut_once_from_sticks_that_hold_it_and_none_undercuts_the_bound(
    wanted: dict[int, int], lengths: dict[int, int], kerf: int
) -> None:
    order = Order(wanted, {length: length for length in lengths}, kerf)
    plan = programme.plan(order)
    assert sound(order, plan)
    assert sum(length * count for length, count in wanted.items()) <= plan.bound <= plan.cost


def test_the_bound_takes_no_piece_more_often_than_it_is_wanted() -> None:
    """One piece of 3 out of 10: three would share the stick, and there is but one."""
    assert programme.plan(Order({3: 1}, {10: 10, 11: 11}, 0)).bound == 10


def test_a_plan_over_the_bound_is_called_the_least_only_after_the_whole_search(monkeypatch: pytest.MonkeyPatch) -> None:
    """Nine of 2260 go in pairs and one is left over, which the linear programme halves."""
    order = Order({3780: 14, 2260: 9}, {length: length for length in range(3_600, 6_001, 600)}, 4)
    searched = programme.plan(order)
    assert searched.least
    assert searched.cost == searched.bound + 1_200
    monkeypatch.setattr("sitelog.calculators.timber.cutting.near.LOOKED_AT", 1)
    assert programme.plan(order).bound == searched.bound
    assert not programme.plan(order).least


# A hundred pieces of twelve lengths, six stock lengths, 4 mm: invented.
HUNDRED = {4962: 4, 4721: 6, 3662: 22, 3290: 8, 2918: 8, 2546: 8, 2174: 8, 1802: 8, 1430: 8, 1058: 8, 686: 8, 553: 4}


def test_a_roof_of_a_hundred_pieces_is_within_a_hundredth_of_the_bound() -> None:
    order = Order(HUNDRED, {length: length for length in FEW}, 4)
    plan = programme.plan(order)
    assert sum(HUNDRED.values()) == 100
    assert sound(order, plan)
    assert plan.cost <= 1.01 * plan.bound
    assert programme.plan(order) == plan
    assert programme.least(order) == plan.bound


def cut(*cuts: tuple[Section, float, int], **given: Any) -> Answer:
    return find("stock")(cuts=tuple(Cut(*one) for one in cuts), **given)


def rows(answer: Answer, name: str) -> list[dict[str, Any]]:
    found = answer.results[name]
    assert isinstance(found, list)
    return found


# Pieces of one length, kerf, stock length; pieces that one stick gives, and the offcut. Worked by hand.
HELD = [
    (2400, 0, 4800, 2, 0),
    (2398, 4, 4800, 2, 0),  # 2 x 2398 + one cut: nothing is left to saw off
    (2399, 4, 4800, 1, 2397),  # 2 x 2399 + 4 = 4802
    (2397, 4, 4800, 2, 0),  # 2 mm left, less than the blade takes
    (2396, 4, 4800, 2, 0),  # 4 mm left, all sawdust
    (2395, 4, 4800, 2, 2),  # 4800 - 4790 - 2 x 4
    (1197, 4, 4800, 4, 0),  # 4 x 1197 + 3 x 4
    (1195, 4, 4800, 4, 4),
    (3657.6, 4, 3657.6, 1, 0),  # 12 ft out of 12 ft
    (1199.95, 0.05, 2400, 2, 0),  # to the nearest tenth: two of 1200.0 (rounded half to even: 11999.5 to 12000)
]


@pytest.mark.parametrize(("piece", "kerf", "stick", "number", "offcut"), HELD)
def test_a_stick_holds_its_pieces_and_the_cuts_between_them(
    piece: float, kerf: float, stick: float, number: int, offcut: float
) -> None:
    answer = cut((RAFTER, piece, number), kerf=kerf, lengths=(float(stick),))
    assert rows(answer, "buy") == [{"section": "47x150", "stock_length": stick, "count": 1}]
    assert rows(answer, "plan")[0]["offcut"] == pytest.approx(offcut, abs=0.11)
    more = cut((RAFTER, piece, number + 1), kerf=kerf, lengths=(float(stick),))
    assert sum(row["count"] for row in rows(more, "buy")) == 2


def test_each_section_is_bought_by_itself_and_one_size_by_any_name_together() -> None:
    answer = cut((RAFTER, 2000, 2), (HIP, 2000, 1), (Section(47, 150, "2x6"), 2000, 1), lengths=(6100.0,))
    assert rows(answer, "buy") == [
        {"section": "47x150", "stock_length": 6100.0, "count": 1},
        {"section": "47x225", "stock_length": 6100.0, "count": 1},
    ]
    assert [row["cuts"] for row in rows(answer, "plan")] == ["3 x 2000", "2000"]
    assert [row["n"] for row in rows(answer, "plan")] == [1, 2]


def test_the_figures_add_up() -> None:
    answer = cut((RAFTER, 3000, 2), (RAFTER, 1000, 1), lengths=(7200.0, 4200.0))
    # 2 x 3000 + 1000 + 3 x 4 = 7012 out of 7200.
    assert rows(answer, "plan") == [
        {"n": 1, "section": "47x150", "stock_length": 7200.0, "cuts": "2 x 3000 + 1000", "offcut": 188.0}
    ]
    assert answer.results["length_bought"] == answer.results["bound"] == 7200.0
    assert answer.results["waste_percent"] == pytest.approx(100 * 200 / 7200)
    assert answer.results["gap"] == 0.0
    assert answer.results["cost"] is None
    assert answer.notes[0] == "no other plan from these lengths buys less"


def test_a_least_plan_in_feet_is_over_it_by_nothing() -> None:
    """12 ft is 3657.6 mm, which three times over is no exact number in floating point."""
    assert cut((RAFTER, 3657.6, 3), lengths=(3657.6,)).results["gap"] == 0.0


def test_the_ends_of_a_stick_are_squared_before_it_is_shared_out() -> None:
    given: dict[str, Any] = {"lengths": (4800.0, 5100.0), "kerf": 0.0}
    assert rows(cut((RAFTER, 2400, 2), **given), "buy")[0]["stock_length"] == 4800
    squared = cut((RAFTER, 2400, 2), trim=20.0, **given)
    assert rows(squared, "buy")[0]["stock_length"] == 5100
    assert rows(squared, "plan")[0]["offcut"] == 280  # 5100 - 20 - 4800
    assert squared.results["length_bought"] == squared.results["bound"] == 5100


def test_offcuts_long_enough_are_kept_the_longest_first() -> None:
    answer = cut((RAFTER, 3000, 1), (RAFTER, 3500, 2), lengths=(4200.0,), kerf=0.0)
    assert rows(answer, "offcuts") == [
        {"section": "47x150", "length": 1200.0, "count": 1},
        {"section": "47x150", "length": 700.0, "count": 2},
    ]
    assert rows(cut((RAFTER, 3500, 2), lengths=(4200.0,), kerf=0.0, usable=700.1), "offcuts") == []


def test_without_stock_lengths_it_is_sold_by_300_from_1800_to_7200() -> None:
    bought = {row["stock_length"] for length in range(300, 7201, 300) for row in rows(cut((RAFTER, length, 1)), "buy")}
    assert bought == set(range(1800, 7201, 300))


def test_with_prices_the_cheapest_is_bought_and_only_what_is_priced() -> None:
    prices = (Price(RAFTER, 3000, 10.0), Price(RAFTER, 6100, 19.0), Price(RAFTER, 4800, 30.0))
    answer = cut((RAFTER, 3000, 2), prices=prices)
    assert rows(answer, "buy") == [{"section": "47x150", "stock_length": 6100.0, "count": 1}]
    assert answer.results["cost"] == 19.0
    assert answer.results["bound"] == 6000.0  # two of 3000 buy less, and cost 20
    assert answer.results["gap"] == pytest.approx(100 / 60)
    assert answer.notes[0] == "no other plan from these lengths is cheaper"
    carried = cut((RAFTER, 3000, 2), prices=prices, lengths=(3000.0, 4800.0))
    assert (carried.results["cost"], carried.results["length_bought"]) == (20.0, 6000.0)


def test_a_longer_stick_is_bought_where_it_is_the_cheaper_one() -> None:
    prices = (Price(RAFTER, 3000, 12.0), Price(RAFTER, 3600, 9.99))
    assert rows(cut((RAFTER, 2900, 1), prices=prices), "buy")[0]["stock_length"] == 3600


def test_a_stick_too_heavy_for_one_is_told_and_one_that_is_not_is_not() -> None:
    """47 x 225 x 7.2 m at 420 kg/m3 is 32.0 kg; 47 x 150 x 1.8 m is 5.3 (BS EN 338:2016, Table 1)."""
    heavy = cut((HIP, 7000, 1))
    assert heavy.cautions == ("heavy-lift",)
    assert "47x225 of 7200, is 32 kg dry" in heavy.notes[-1]
    assert cut((RAFTER, 1700, 1)).cautions == ()


REFUSED: list[tuple[list[tuple[Section, float, int]], dict[str, Any], str]] = [
    ([(RAFTER, 8200, 1)], {}, "a 47x150 of 8200 doesn't fit the longest stock length, which gives 7200 mm"),
    ([(RAFTER, 5000, 1)], {"lengths": (4800.0,)}, "gives 4800 mm. Add a longer one; a joint is the engineer's to"),
    ([(RAFTER, 4800, 1)], {"lengths": (4800.0,), "trim": 5.0}, "longest stock length, which gives 4795 mm"),
    ([(RAFTER, 100, 1)], {"lengths": (500.0,), "trim": 900.0}, "longest stock length, which gives 0 mm"),
    ([], {}, "at least one piece,"),
    ([(RAFTER, 0, 1)], {}, "cuts, 47x150, length is 0; it must be over 0"),
    ([(RAFTER, 0.01, 1)], {}, "a piece must be at least 0.1 mm long"),
    ([(RAFTER, float("nan"), 1)], {}, "cuts, 47x150, length is nan; it must be a finite number"),
    ([(RAFTER, 3000, 0)], {}, "cuts, 47x150, count is 0; it must be over 0"),
    ([(RAFTER, 3000, -2)], {}, "count is -2"),
    ([(RAFTER, 3000, 1.5)], {}, "cuts has 1.5 of 47x150:3000; the count must be a whole number"),  # type: ignore[list-item]
    ([(Section(float("nan"), 150), 3000, 1)], {}, "thickness is nan; it must be a finite number"),
    ([(RAFTER, 3000, 2001)], {}, "cuts has 2001 pieces; give at most 2000"),
    ([(RAFTER, 1000 + n, 1) for n in range(301)], {}, "cuts has 301 lengths of 47x150; give at most 300"),
    ([(RAFTER, 3000, 1)], {"kerf": 21.0}, "kerf is 21; it must be at most 20"),
    ([(RAFTER, 3000, 1)], {"kerf": -1.0}, "kerf is -1"),
    ([(RAFTER, 3000, 1)], {"lengths": (0.0,)}, "lengths is 0; it must be over 0"),
    ([(RAFTER, 3000, 1)], {"lengths": ()}, "longest stock length, which gives 0 mm"),
    ([(RAFTER, 3000, 1)], {"lengths": (0.01,)}, "longest stock length, which gives 0 mm"),
    ([(RAFTER, 3000, 1)], {"lengths": (16_000.0,)}, "lengths is 16000; it must be at most 15000"),
    ([(RAFTER, 3000, 1)], {"prices": (Price(HIP, 3000, 9.0),)}, "price for 47x150. Price every section,"),
    (
        [(RAFTER, 3000, 1)],
        {"prices": (Price(RAFTER, 3000, 9.0),), "lengths": (3300.0,)},
        "at any of the lengths you gave",
    ),
    (
        [(RAFTER, 3000, 1)],
        {"prices": (Price(RAFTER, 3000, 9.0), Price(RAFTER, 3000, 8.0))},
        "two prices for 47x150:3000",
    ),
    ([(RAFTER, 3000, 1)], {"prices": (Price(RAFTER, 3000, 0.001),)}, "it must be at least 0.01"),
    ([(RAFTER, 3000, 1)], {"prices": (Price(RAFTER, 3000, -9.0),)}, "prices, 47x150, price is -9"),
    ([(RAFTER, 3000, 1)], {"prices": (Price(RAFTER, 99_000, 9.0),)}, "prices has a stick of 99000 mm"),
]


@pytest.mark.parametrize(("cuts", "more", "told"), REFUSED, ids=[row[2] for row in REFUSED])
def test_an_order_that_can_not_be_is_refused(
    cuts: list[tuple[Section, float, int]], more: dict[str, Any], told: str
) -> None:
    with pytest.raises(Refusal) as refused:
        cut(*cuts, **more)
    assert refused.value.message.startswith("stock: ")
    assert told in refused.value.message
    assert "\n" not in refused.value.message
    assert len(refused.value.message) < 250


def test_the_same_words_give_the_same_plan_in_another_process() -> None:
    words = ["-m", "sitelog", "calc", "stock", f"cuts={','.join(f'47x150:{mm}:{n}' for mm, n in HUNDRED.items())}"]
    told = {
        subprocess.run([sys.executable, *words, "--json"], capture_output=True, check=True).stdout for _ in range(2)
    }
    assert len(told) == 1
    answer = json.loads(told.pop())  # nothing else is printed, whatever the solver would like to say
    assert answer["inputs"]["cuts"][0] == "47x150:4962:4"
    assert answer == json.loads(json.dumps(answer, allow_nan=False))


def test_only_a_plan_loads_the_solver() -> None:
    script = (
        "import sys; from sitelog.calculators.index import calculators, find; calculators()\n"
        "from sitelog.quantities.quantity import Section\n"
        "find('mass')(section=Section(47, 150), length=3000.0)\n"
        "sys.exit(bool({'highspy', 'numpy'} & set(sys.modules)))"
    )
    subprocess.run([sys.executable, "-c", script], check=True)


@pytest.mark.parametrize("missing", ["highspy", "numpy"])
def test_without_the_solver_it_cuts_the_longest_first_and_says_what_to_install(
    monkeypatch: pytest.MonkeyPatch, missing: str
) -> None:
    solver = [name for name in sys.modules if name.startswith("sitelog.calculators.timber.cutting.")]
    for name in solver:
        if name.rpartition(".")[2] in ("solve", "dive", "near", "master", "model", "knapsack"):
            monkeypatch.delitem(sys.modules, name)
    monkeypatch.setitem(sys.modules, missing, None)
    answer = ask("stock", {"cuts": "47x150:3600:2,47x150:1195:4", "lengths": "4800"})
    assert rows(answer, "buy") == [{"section": "47x150", "stock_length": 4800.0, "count": 3}]
    assert [row["cuts"] for row in rows(answer, "plan")] == ["3600 + 1195", "3600 + 1195", "2 x 1195"]
    assert answer.notes == (
        "no other plan from these lengths buys less",
        'cut the longest first; a solver finds shorter plans: pip install "highspy>=1.8,<2"',
    )
    with pytest.raises(Refusal, match="the engineer's"):
        ask("stock", {"cuts": "47x150:8200:2"})


def test_a_plan_that_may_be_bettered_says_so_and_by_how_much() -> None:
    """Nine of 2260 go in pairs: the linear programme halves a stick, and here the search above it finds no proof."""
    proved = cut((RAFTER, 3780, 14), (RAFTER, 2260, 9), lengths=tuple(map(float, range(3_600, 6_001, 600))))
    assert proved.notes[0] == "no other plan from these lengths buys less"
    with pytest.MonkeyPatch.context() as patched:
        patched.setattr("sitelog.calculators.timber.cutting.near.LOOKED_AT", 1)
        open_still = cut((RAFTER, 3780, 14), (RAFTER, 2260, 9), lengths=tuple(map(float, range(3_600, 6_001, 600))))
    assert open_still.notes[0].startswith("another plan may buy less, by at most 1200 mm (")


def test_what_it_says_to_install_is_what_the_package_asks_for() -> None:
    project = tomllib.loads((Path(__file__).parents[2] / "pyproject.toml").read_text(encoding="utf-8"))["project"]
    assert project["optional-dependencies"]["order"] == [SOLVER]


# At the command line.

MEMBERS = "\ufeffpart,section,length,count\nhip,47x225,4962,2\njack,47x150,2400,4\ncommon,2x6,2400,2\n"


def test_a_file_of_members_stands_for_the_cuts(say: Say, tmp_path: Path) -> None:
    file = tmp_path / "members.csv"
    file.write_text(MEMBERS, encoding="utf-8")
    by_file = say("calc", "stock", f"members={file}", "lengths=4900,5100")
    by_cuts = say("calc", "stock", "cuts=47x225:4962:2,47x150:2400:4,2x6:2400:2", "lengths=4900,5100")
    assert by_file == by_cuts
    assert by_file.code == 0
    assert "note: 2x6 is used as 47x150, regularised" in by_file.out


def test_a_file_that_is_none_is_refused_in_one_line(say: Say, tmp_path: Path) -> None:
    (tmp_path / "large.csv").write_bytes(b"a" * ((1 << 20) + 1))
    (tmp_path / "latin.csv").write_bytes(b"part,section,length,count\nsparren f\xfcr,47x150,2400,1\n")
    (tmp_path / "short.csv").write_text("part,section,length,count\nhip,47x225,4962\n", encoding="utf-8")
    for name, told in (
        ("none.csv", "which can't be read (No such file"),
        ("", "which isn't a plain file"),
        ("a\0b", "which can't be read"),
        ("large.csv", "which is over 1 MB"),
        ("latin.csv", "which isn't UTF-8"),
        ("short.csv", "members line 2: it has 3 cells and the header has 4"),
    ):
        said = say("calc", "stock", f"members={tmp_path / name}")
        assert said.refused_in_one_line
        assert said.code == 2
        assert told in said.err


def test_cuts_and_members_at_once_are_refused(say: Say) -> None:
    said = say("calc", "stock", "members=x.csv", "cuts=47x150:2400:1")
    assert said.refused_in_one_line
    assert "give cuts= or members=, not both" in said.err


def test_no_other_calculator_takes_members(say: Say) -> None:
    assert say("calc", "mass", "members=x.csv").refused_in_one_line


def test_an_order_written_as_it_is_told_in_the_catalogue_is_read(say: Say) -> None:
    said = say("calc", "stock", "cuts=47x150:12ft:2", "prices=47x150:4.8m:21.60,47x150:5400:25", "--working")
    assert said.code == 0
    assert "43.2" in said.out
    assert "length bought" in said.out
    assert say("calc", "stock", "--help").code == 0
