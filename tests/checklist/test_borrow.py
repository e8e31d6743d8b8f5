"""A list may take stages, facts and sums over from another, so that a thing of the trade is said once."""

from pathlib import Path

import pytest

from sitelog.checklist.load import lint, load
from tests.checklist.small import HIPPED, changed, write

TRADE = '\n[[trade]]\nlike = "hipped"\nnames = ["tiler"]\n'
GABLED = """\
id = "gabled"
title = "Gabled roof"
form = "gabled"

[[fact]]
like = "hipped"
names = ["length", "width", "pitch", "ac"]

[[fact]]
name = "verge"
kind = "length"
says = "Overhang at the verge"
asked = true

[[sum]]
like = "hipped"
names = ["common"]

[[stage]]
like = "hipped.plates"
title = "Wall plates of a gabled roof"

[[stage.check]]
id = "verge"
ask = "Verge past the gable, mm"
kind = "measure"
figure = "length"
drawn = "@verge"
sources = ["told"]
"""


def test_a_stage_that_is_like_another_s_has_its_checks_and_then_its_own(tmp_path: Path) -> None:
    library = load(shipped=write(tmp_path, gabled=GABLED + TRADE))
    hipped, gabled = (library.lists[form].stages[0] for form in ("hipped", "gabled"))
    assert gabled.title == "Wall plates of a gabled roof"
    assert gabled.hold == hipped.hold and gabled.cautions == hipped.cautions
    assert gabled.checks[:-1] == hipped.checks
    assert gabled.checks[-1].id == "verge"


def test_who_takes_a_borrowed_check_over_hangs_on_the_trades_of_the_list_that_borrows_it(tmp_path: Path) -> None:
    library = load(shipped=write(tmp_path, gabled=GABLED))
    takers = {form: library.lists[form].stages[0].checks[1].hands_over_to[0] for form in ("hipped", "gabled")}
    assert {form: (one.trade, one.when is None) for form, one in takers.items()} == {
        "hipped": ("tiler", False),
        "gabled": ("tiler", True),
    }


def test_facts_and_sums_are_taken_by_name(tmp_path: Path) -> None:
    gabled = load(shipped=write(tmp_path, gabled=GABLED)).lists["gabled"]
    assert [fact.name for fact in gabled.facts] == ["length", "width", "pitch", "ac", "verge"]
    assert [one.id for one in gabled.sums] == ["common"]


def test_checks_may_be_left_out_and_one_of_the_same_id_stands_in_its_place(tmp_path: Path) -> None:
    text = GABLED.replace('title = "Wall plates of a gabled roof"', 'without = ["straps"]').replace(
        '[[stage.check]]\nid = "verge"', '[[stage.check]]\nid = "levels"'
    )
    whole = write(tmp_path, gabled=text)
    hipped, gabled = (load(shipped=whole).lists[form].stages[0] for form in ("hipped", "gabled"))
    ids = [check.id for check in hipped.checks if check.id != "straps"]
    assert [check.id for check in gabled.checks] == (ids if "levels" in ids else [*ids, "levels"])
    assert next(check for check in gabled.checks if check.id == "levels").ask == "Verge past the gable, mm"


def test_what_a_list_takes_over_is_part_of_its_digest(tmp_path: Path) -> None:
    before = load(shipped=write(tmp_path / "a", gabled=GABLED)).digests
    changed_list = changed("hipped", 'title = "Wall plates"', 'title = "Plates"')
    after = load(shipped=write(tmp_path / "b", gabled=GABLED, hipped=changed_list)).digests
    assert before["gabled"] != after["gabled"]
    assert before["job"] == after["job"]


def test_a_fault_of_what_is_taken_over_is_told_where_it_stands(tmp_path: Path) -> None:
    broken = changed("hipped", 'drawn = "@ac"', 'drawn = "@af"')
    faults = lint([tmp_path], shipped=write(tmp_path, gabled=GABLED, hipped=broken))
    line = broken.splitlines().index('  drawn = "@af"') + 1
    told = [fault for fault in faults if "@af" in fault]
    assert told and all(fault.startswith(f"{tmp_path / 'hipped.toml'}:{line}: unknown fact @af") for fault in told)


@pytest.mark.parametrize(
    ("old", "new", "line", "told"),
    [
        ('"hipped.plates"', '"hiped.plates"', '"hiped.plates"', "no list hiped to borrow from; did you mean hipped?"),
        (
            '"hipped.plates"',
            '"hipped.plate"',
            '"hipped.plate"',
            "no stage 'plate' in that list; did you mean plates?",
        ),
        ('"ac"]', '"af"]', '"af"]', "no fact af in that list; there are ac"),
        ('["common"]', '["comon"]', '["comon"]', "no sum comon in that list; did you mean common?"),
        ('names = ["common"]', 'nam = ["common"]', "[[sum]]", "a borrowed sum has like"),
        (
            'title = "Wall plates of a gabled roof"',
            'without = ["side"]',
            "without",
            "no check side to leave out; did you mean sides?",
        ),
    ],
)
def test_what_can_t_be_taken_over_is_told_with_the_nearest_name(
    tmp_path: Path, old: str, new: str, line: str, told: str
) -> None:
    text = GABLED.replace(old, new)
    faults = lint([tmp_path / "gabled.toml"], shipped=write(tmp_path, gabled=text))
    at = next(n for n, one in enumerate(text.splitlines(), 1) if line in one)
    assert any(fault.startswith(f"{tmp_path / 'gabled.toml'}:{at}: {told}") for fault in faults), faults


def test_a_list_takes_nothing_from_itself_and_nothing_at_third_hand(tmp_path: Path) -> None:
    itself = GABLED.replace('"hipped.plates"', '"gabled.plates"')
    third = GABLED.replace('id = "gabled"', 'id = "mono"').replace('form = "gabled"', 'form = "mono"')
    third = third.replace('"hipped.plates"', '"gabled.plates"')
    write(tmp_path, gabled=itself)
    assert any("no list gabled to borrow from" in fault for fault in lint([tmp_path], shipped=tmp_path))
    write(tmp_path, gabled=GABLED, mono=third)
    assert any("no stage 'plates' in that list" in fault for fault in lint([tmp_path], shipped=tmp_path))


def test_a_form_may_have_its_own_finish_instead_of_the_job_s(tmp_path: Path) -> None:
    own = """
[[stage]]
id = "finish"
title = "Finish of the deck"

[[stage.check]]
id = "lining"
ask = "Lead, copper or GRP"
kind = "choice"
choices = [{ id = "lead", label = "Lead" }, { id = "grp", label = "GRP" }]
sources = ["told"]
"""
    library = load(shipped=write(tmp_path, gabled=GABLED + own))
    assert [stage.id for stage in library.stages("hipped")] == ["finish", "plates", *_rest(HIPPED)]
    assert [stage.title for stage in library.stages("gabled")][-1] == "Finish of the deck"
    assert [stage.id for stage in library.stages("gabled")] == ["plates", "finish"]


def _rest(text: str) -> list[str]:
    import tomllib

    return [stage["id"] for stage in tomllib.loads(text)["stage"][1:]]


LIKE = """
[[stage]]
id = "ends"
title = "Ends"
short = "ends"

[[stage.check]]
id = "straps"
like = "hipped.plates.straps"
ask = "Straps at the gables"
needs = ["plates.sides"]
"""


def test_a_check_that_is_like_another_s_says_only_what_differs(tmp_path: Path) -> None:
    library = load(shipped=write(tmp_path, gabled=GABLED + LIKE))
    there = next(check for check in library.lists["hipped"].stages[0].checks if check.id == "straps")
    here = library.lists["gabled"].stages[-1].checks[0]
    assert here.ask == "Straps at the gables" != there.ask
    assert (here.kind, here.cautions, here.sources) == (there.kind, there.cautions, there.sources)


@pytest.mark.parametrize(
    ("like", "says"),
    [
        ("hipped.plates.strops", "no check 'plates.strops' in that list; give list.stage.check, as hipped.ridge.joint"),
        ("hipped.roof.straps", "no check 'roof.straps' in that list"),
        ("hippd.plates.straps", "no list hippd to borrow from"),
    ],
)
def test_a_check_that_is_like_none_is_told_with_what_to_type(tmp_path: Path, like: str, says: str) -> None:
    text = GABLED + LIKE.replace("hipped.plates.straps", like)
    assert any(says in fault for fault in lint([tmp_path], shipped=write(tmp_path, gabled=text)))


FIGURES = """
[[stage]]
id = "bays"
title = "Bays"
short = "bays"

[[stage.check]]
id = "falls"
ask = "Drop of each bay, mm"
kind = "measure"
sources = ["told"]

  [[stage.check.figure]]
  key = "one"
  kind = "offset"
  says = "bay 1"

  [[stage.check.figure]]
  key = "two"
  like = "one"
  says = "bay 2"
  optional = true
"""


def test_a_figure_that_is_like_another_of_its_check_says_only_what_differs(tmp_path: Path) -> None:
    gabled = load(shipped=write(tmp_path, gabled=GABLED + FIGURES)).lists["gabled"]
    one, two = gabled.stages[-1].checks[0].figures
    assert (two.key, two.says, two.optional, two.kind) == ("two", "bay 2", True, one.kind)
    spelt = FIGURES.replace('like = "one"', 'like = "won"')
    faults = lint([tmp_path], shipped=write(tmp_path, gabled=GABLED + spelt))
    assert any("no figure 'won' in this check; did you mean one?" in fault for fault in faults)


def test_one_name_may_stand_for_several_trades(tmp_path: Path) -> None:
    group = '\n[[trade]]\nid = "roofers"\nstands_for = ["tiler", "leadworker"]\n'
    text = GABLED.replace('sources = ["told"]', 'sources = ["told"]\nhands_over_to = ["roofers"]')
    gabled = load(shipped=write(tmp_path, gabled=text + group)).lists["gabled"]
    assert [taker.trade for taker in gabled.stages[0].checks[-1].hands_over_to] == ["tiler", "leadworker"]
    assert gabled.trades == ()
