"""A check whose sum gives facts, and a member of which one is tried first: what lint holds, and what each is called."""

import re
from pathlib import Path

import pytest

from sitelog.checklist.each import expanded
from sitelog.checklist.load import Faults, load
from sitelog.geometry.building.named import roof_of
from tests.checklist.small import FILES, write
from tests.checklist.small_roof import CUT_ROOF

README = Path(__file__).parents[2] / "checklists" / "README.md"
SIDES = 'inputs = { tape = "II" }\n'
MEMBER = '[[member]]\nid = "commons"\nsays = "Common"\nsection = "47x150"\nlength = 3600\ntried = "plates.sides"\n\n'
GIVES = 'gives = { ac = "diagonal_difference" }\n'


def written(old: str, new: str) -> str:
    """The small list with a check that gives a fact and a member that is tried there, and this changed."""
    text = FILES["hipped"].replace(SIDES, SIDES + GIVES, 1).replace("[[stage]]", f"{MEMBER}[[stage]]", 1)
    assert old in text
    return text.replace(old, new, 1)


@pytest.mark.parametrize(
    ("old", "new", "fault"),
    [
        (
            '"diagonal_difference" }',
            '"diagonal_diference" }',
            "squareness doesn't give diagonal_diference; did you mean",
        ),
        ('"diagonal_difference" }', '"lengths" }', "lengths is rows, but it must be one value"),
        ("gives = { ac", "gives = { ad", "sets an unknown fact, ad; there are ac, "),
        ("gives = { ac", "gives = { pitch", "sets pitch, a pitch, from an offset; set a fact of the same kind"),
        (SIDES, 'inputs = { tape = "II", tolerance = "@ac" }\n', "these facts depend on each other: ac from ac"),
        (
            'kind = "photo"\n',
            f'kind = "photo"\n{GIVES}',
            "gives can't be on a photo; take it out or make this a measure",
        ),
        (
            'tried = "plates.sides"',
            'after = "plates.sides plates.side"',
            "tried at a check that is not there, plates.side;",
        ),
        ("plates.sides", "plates.side", "tried at a check that is not there, plates.side; did you mean plates.sides?"),
    ],
)
def test_a_list_gives_facts_that_are_there_and_no_circle(tmp_path: Path, old: str, new: str, fault: str) -> None:
    assert load(shipped=write(tmp_path / "good", hipped=written("[[stage]]", "[[stage]]")))
    with pytest.raises(Faults) as refused:
        load(shipped=write(tmp_path / "bad", hipped=written(old, new)))
    assert any(fault in one for one in refused.value.faults), refused.value.faults


def test_the_example_of_a_pattern_is_without_fault(tmp_path: Path) -> None:
    blocks = re.findall(r"```toml\n(.*?)```", README.read_text(encoding="utf-8"), re.DOTALL)
    example = next(block for block in blocks if 'name = "tried_pitch"' in block)
    facts = "".join(
        f'[[fact]]\nname = "{name}"\nkind = "{kind}"\nsays = "x"\nasked = true\n\n'
        for name, kind in (("run", "length"), ("section", "section"), ("rafter_cut", "length"))
    )
    given, _, check = example.partition("[[stage.check]]")
    stage = f'[[stage]]\nid = "first-pair"\ntitle = "First pair"\n\n[[stage.check]]{check}'
    text = FILES["hipped"] + facts + given + stage.replace("house-fit", "told")
    assert load(shipped=write(tmp_path, hipped=text)).lists["hipped"].members[0].tried == "first-pair.pattern"


@pytest.mark.parametrize(
    ("each", "tried", "names"),
    [
        ("slopes", "ridge.run", {"main-ridge.run", "wing-ridge.run"}),
        ("hips", "hips.line", {"main-hips.hip-ab-bc-line", "main-hips.hip-bc-cd-line"}),
        ("slopes", "last.photo", {"last.photo"}),
    ],
)
def test_each_member_is_tried_at_the_check_of_its_own_line_or_block(
    tmp_path: Path, each: str, tried: str, names: set[str]
) -> None:
    member = MEMBER.replace("plates.sides", tried) + f'each = "{each}"\n\n'
    text = CUT_ROOF.replace("[[stage]]", f"{member.replace(chr(10) * 2, chr(10), 1)}[[stage]]", 1)
    listed = load(shipped=write(tmp_path, **{"cut-roof": text})).lists["cut-roof"]
    whole = expanded(listed, roof_of("main 9000x6000 40 DA gable; wing off CD 0 from D 4000x4000 40 end gable"))
    asked = {f"{stage.id}.{check.id}" for stage in whole.stages for check in stage.checks}
    found = {one.tried for one in whole.members}
    assert names <= found <= asked
