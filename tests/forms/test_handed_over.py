"""What a trade gets to set out from follows from the checks that hand over to it, whatever the form of the part."""

import pytest

from sitelog.refusal import Refusal
from sitelog.reports.model import Table
from sitelog.reports.pack import trades
from sitelog.wording.handover import handed
from tests.forms.dormers import BARREL, EYEBROW
from tests.forms.test_firred_deck import DECK
from tests.forms.test_gabled import DRAWN as GABLED
from tests.forms.test_parapet_gutter import DRAWN as GUTTER
from tests.forms.test_table_top import DRAWN as TABLE_TOP
from tests.forms.test_table_top import FINISH, STAFF
from tests.reports.site import Site


@pytest.fixture(scope="module")
def gabled() -> Site:
    site = Site(form="gabled", more=GABLED)
    site.up_to("", {"main.plates.levels": {"readings": "1402,1403,1401,1402,1404,1402"}})
    return site


@pytest.fixture(scope="module")
def table_top() -> Site:
    site = Site(form="table-top", more=TABLE_TOP, pitch="45")
    levels = {"main.plates.levels": STAFF, "main.frame.levels": STAFF}
    site.up_to("", {"main.set-out.under": {"value": "none"}, **levels, **FINISH})
    return site


def table(site: Site, to: str, section: str, caption: str) -> Table | None:
    blocks = [block for one in site.pack(to).rest if one.id == section for block in one.blocks]
    return next((block for block in blocks if isinstance(block, Table) and block.caption == caption), None)


def test_a_tiler_gets_the_two_slopes_of_a_gabled_roof_at_both_gables(gabled: Site) -> None:
    found = table(gabled, "tiler", "main-measured", "For the tiler")
    assert found is not None
    assert [row[0] for row in found.rows] == ["AB", "CD"]
    assert found.rows[0][1].startswith("P ") and "\nQ " in found.rows[0][1]
    assert "9500" in found.rows[0][2], "9000 and a verge of 250 at each end"


def test_a_tiler_gets_the_verges_of_a_gabled_roof_and_no_hips(gabled: Site) -> None:
    verges = table(gabled, "tiler", "main-measured", "Verges and gable ladders")
    assert verges is not None and {row[0] for row in verges.rows} >= {"AB", "CD"}
    assert table(gabled, "tiler", "main-worked", "Hip lines") is None


def test_whoever_lines_the_flat_gets_the_table_that_stands_and_not_the_slopes(table_top: Site) -> None:
    stands = table(table_top, "leadworker", "main-measured", "Studs and table frame")
    assert stands is not None
    assert [row[0] for row in stands.rows] == ["AB", "BC", "CD", "DA", "AC", "BD"]
    assert stands.rows[0][1].startswith("5000")
    heads = {}
    for to in ("leadworker", "tiler"):
        blocks = [block for leaf in table_top.pack(to).brief for block in leaf.blocks]
        heads[to] = [block.heads[0] for block in blocks if isinstance(block, Table)]
    assert "Slope" not in heads["leadworker"] and "Slope" in heads["tiler"]


def test_the_tiler_of_a_table_top_gets_its_hips_up_to_the_table(table_top: Site) -> None:
    """2000 up, and 2000 in from either plate: each hip is 2000 times the root of three."""
    hips = table(table_top, "tiler", "main-worked", "Hip lines")
    assert hips is not None
    assert [row[1].split()[0] for row in hips.rows] == [f"{2000 * 3**0.5:.0f}"] * 4


WHO = {"leadworker", "coppersmith", "laminator"}
FIGURES = {"firred-deck": DECK, "parapet-gutter": GUTTER, "barrel-dormer": BARREL, "eyebrow-dormer": EYEBROW}
# Who lays what was chosen (common practice), and who else takes something over of that part.
LAID = [
    ("firred-deck", "lead-code-7", ("leadworker", "tiler")),
    ("firred-deck", "copper-06", ("coppersmith",)),
    ("firred-deck", "grp", ("laminator",)),
    ("parapet-gutter", "lead-code-8", ("leadworker", "tiler")),
    ("parapet-gutter", "copper-07", ("coppersmith", "tiler")),
    ("parapet-gutter", "grp", ("laminator", "tiler")),
    ("barrel-dormer", "lead-code-6", ("leadworker", "tiler")),
    ("barrel-dormer", "copper-06", ("coppersmith", "tiler")),
    ("eyebrow-dormer", "grp", ("laminator", "tiler")),
    ("eyebrow-dormer", "plain-tiles", ("tiler", "leadworker")),  # lead soakers under the tiles
]


@pytest.mark.parametrize(("form", "lining", "taken"), LAID)
def test_a_part_is_handed_to_whoever_lays_the_lining_that_was_chosen(
    form: str, lining: str, taken: tuple[str, ...]
) -> None:
    site = Site(parts=[("main", "Part", form, FIGURES[form])])
    site.up_to("main.finish.lining")
    assert not WHO.intersection(trades(site.state)), "before it is chosen nobody is"
    site.answer("main.finish.lining", {"value": lining})
    assert set(trades(site.state)) == set(taken)
    site.answer("main.finish.lining", {"value": "lead-code-5" if "grp" in lining else "grp"})
    left = set(taken) & WHO - {"laminator"} if "grp" not in lining else {"laminator"}
    assert not left.intersection(trades(site.state)), "another choice, another trade"


def test_a_pack_for_a_trade_that_lays_nothing_here_is_refused_with_those_that_do() -> None:
    site = Site(parts=[("main", "Part", "firred-deck", DECK)])
    site.up_to("main.finish.lining")
    site.answer("main.finish.lining", {"value": "copper-06"})
    with pytest.raises(Refusal, match=r"'leadworker' isn't a trade on this job. Type one of: coppersmith"):
        site.pack("leadworker")
    assert "main.finish.lining" in {view.path for view in handed(site.state, "coppersmith")}
