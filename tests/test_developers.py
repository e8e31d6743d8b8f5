"""What can be added, and where, is in DEVELOPERS.md and the pages it names as the program has it; examples run."""

import inspect
import re
import sys
from collections import defaultdict
from collections.abc import Iterator
from importlib.util import find_spec
from pathlib import Path
from types import ModuleType
from typing import get_args, get_type_hints

import pytest

from sitelog.calculators import index
from sitelog.checklist.load import load
from sitelog.checklist.loader import gather
from sitelog.checklist.schema import guidance, members, model, terms
from sitelog.checklist.schema.table import Table
from sitelog.job.log.entry import ACTS, Entry
from sitelog.refusal import Refusal
from tests import docs, test_rooms
from tests.calculators import test_catalogue
from tests.checklist.small import FILES, write

ROOT = docs.DEVELOPERS.parent
TEXT = docs.DEVELOPERS.read_text(encoding="utf-8")
LISTS = docs.LISTS.read_text(encoding="utf-8")
JOB = (ROOT / "sitelog/job/README.md").read_text(encoding="utf-8")
TESTS = (ROOT / "tests/README.md").read_text(encoding="utf-8")
Keys = dict[str, set[str]]


def section(title: str, text: str = TEXT) -> str:
    """What is under a heading, to the next of its level or above."""
    level, _, _ = title.partition(" ")
    found = re.search(rf"^{re.escape(title)}$\n(.*?)(?=^#{{1,{len(level)}}} |\Z)", text, flags=re.M | re.S)
    assert found, title
    return found[1]


def rows(part: str, header: str) -> list[list[str]]:
    """The cells of each row of the table with that header."""
    _, _, table = part.partition(f"{header}\n")
    assert table, header
    lines = table.split("\n\n")[0].splitlines()[1:]
    return [[cell.strip() for cell in line.strip("|").split("|")] for line in lines]


def names(cell: str) -> list[str]:
    return re.findall(r"`([^`\n]+)`", cell)


def first_names(part: str, header: str) -> list[str]:
    return [name for row in rows(part, header) for name in names(row[0])]


def blocks(part: str, language: str) -> list[str]:
    return re.findall(rf"^```{language}\n(.*?)^```", part, flags=re.M | re.S)


# --- tables -----------------------------------------------------------------------------------------------------------


def test_the_tables_made_from_the_program_are_as_it_is() -> None:
    assert docs.written(LISTS, docs.lists_tables()) == LISTS, "run `python -m tests.docs`"


def test_the_page_for_developers_is_read_in_one_sitting() -> None:
    assert len(TEXT.encode()) <= 12_288


def test_every_act_is_told_in_its_order_and_no_other() -> None:
    assert first_names(JOB, "| act | value, and what it means |") == list(ACTS)


def test_every_key_of_an_entry_is_told() -> None:
    told = first_names(JOB, "| key of an entry | what it holds |")
    assert sorted(told) == sorted(Entry.__struct_fields__)


def test_every_room_is_told_from_the_ground_up() -> None:
    assert first_names(section("## Rooms"), "| room | decides | may know |") == list(test_rooms.ROOMS)


def looked_for(monkeypatch: pytest.MonkeyPatch) -> Keys:
    """The keys that the loader asks for in each table while it reads the shipped checklists."""
    found: Keys = defaultdict(set)
    close = Table.close

    def noting(table: Table) -> None:
        found[told_as(table)] |= set(table.asked)
        close(table)

    monkeypatch.setattr(Table, "close", noting)
    load()
    return dict(found)


def told_as(table: Table) -> str:
    """A table's name in DEVELOPERS.md: its path; the file's sort at the top; alike for what is alike everywhere."""
    path = ".".join(key for key in table.spot.place if isinstance(key, str))
    return (
        path.rpartition(".")[2] if path.endswith(("limit", "source")) else path or gather.sort_of(table.spot.document)
    )


def test_every_key_that_the_loader_knows_is_told_and_no_other(monkeypatch: pytest.MonkeyPatch) -> None:
    told: Keys = defaultdict(set)
    for table, keys, _ in rows(LISTS, "| table | keys | what they say |"):
        told[names(table)[0]] |= set(names(keys))
    assert dict(told) == looked_for(monkeypatch)


def words_of(owner: type, key: str) -> tuple[str, ...]:
    hint = get_type_hints(owner)[key]
    assert hint is not str
    return get_args(hint)


CLOSED: list[tuple[type, str]] = [
    (model.Check, "kind"),
    (model.Source, "how"),
    (model.Limit, "origin"),
    (model.Limit, "rule"),
    (model.Stage, "place"),
    (guidance.Question, "kind"),
    (guidance.Caution, "repeat"),
    (terms.Operand, "word"),
    (members.EndSpec, "hand"),
    (terms.Clause, "word"),
]


@pytest.mark.parametrize(("owner", "key"), CLOSED, ids=lambda one: getattr(one, "__name__", one))
def test_every_word_of_a_closed_set_is_told(owner: type, key: str) -> None:
    prose = re.sub(r"^```.*?^```$", "", LISTS, flags=re.M | re.S)
    told = {word for span in names(prose) for word in (span, *span.split())}
    assert {*words_of(owner, key)} - {""} <= told  # "" is the word left out


def test_every_test_and_module_that_is_named_is_there() -> None:
    rooms = "sitelog|tests|checklists|sample_site|" + "|".join(test_rooms.ROOMS)
    named = rf"\b(?:{rooms})/[\w/-]+\.\w+"
    paths = set(re.findall(named, TEXT + LISTS + JOB + TESTS))
    missing = [path for path in sorted(paths) if not any((ROOT / at / path).is_file() for at in ("", "sitelog"))]
    made_up = ["sitelog/calculators/setting_out/ladder.py", "tests/calculators/test_ladder.py"]
    assert missing == made_up, "only the example's are made up"


def test_every_module_that_the_set_up_runs_is_there() -> None:
    for name in re.findall(r"python -m (tests\.\w+)", TEXT):
        assert find_spec(name), name


# --- examples ---------------------------------------------------------------------------------------------------------


@pytest.fixture
def ladder(monkeypatch: pytest.MonkeyPatch) -> Iterator[str]:
    """The calculator of the example, added to the catalogue as its steps say; gives the text of its test."""
    code, test = blocks(section("### A calculator"), "python")
    module = ModuleType("sitelog.calculators.setting_out.ladder")
    monkeypatch.setitem(sys.modules, module.__name__, module)
    exec(compile(code, "ladder.py", "exec"), vars(module))
    monkeypatch.setitem(index.WHERE, "ladder", "setting_out.ladder")
    index.find.cache_clear()
    yield test
    index.find.cache_clear()


def test_the_example_of_a_calculator_is_one(ladder: str) -> None:
    one = index.find("ladder")
    held = [test for name, test in inspect.getmembers(test_catalogue, inspect.isfunction) if name.startswith("test_")]
    of_one = [test for test in held if list(inspect.signature(test).parameters) == ["one"]]
    assert len(of_one) > 5
    for test in of_one:
        test(one)
    with pytest.raises(Refusal, match="height"):
        one(height=0.0)


def test_the_example_of_a_calculator_s_test_runs_and_can_fail(ladder: str) -> None:
    space: dict[str, object] = {}
    exec(compile(ladder, "test_ladder.py", "exec"), space)
    tests = [one for name, one in space.items() if name.startswith("test_") and inspect.isfunction(one)]
    assert len(tests) == 1
    tests[0]()
    sys.modules["sitelog.calculators.setting_out.ladder"].__dict__["UP"] = 3.0
    with pytest.raises(AssertionError):
        tests[0]()


def test_the_example_of_a_check_is_without_fault(tmp_path: Path) -> None:
    example, *_ = blocks(LISTS, "toml")
    stage = load(shipped=write(tmp_path, hipped=f"{FILES['hipped']}\n{example}")).lists["hipped"].stages[-1]
    assert stage.checks[-1].id == re.findall(r'^id = "(.+)"$', example, flags=re.M)[0]


def test_the_example_of_members_is_without_fault(tmp_path: Path) -> None:
    *_, example = blocks(LISTS, "toml")
    said = {"section": "section", "grade": "choice", "angle_a": "angle"}
    names = set(re.findall(r"@(\w+)", example)) - {"pitch"}
    choices = {"choice": 'choices = ["C16", "C24"]'}
    facts = "".join(
        f'[[fact]]\nname = "{name}"\nkind = "{(kind := said.get(name, "length"))}"\nsays = "x"\nasked = true\n'
        f"{choices.get(kind, '')}\n"
        for name in sorted(names)
    )
    members = load(shipped=write(tmp_path, hipped=f"{FILES['hipped']}\n{facts}\n{example}")).lists["hipped"].members
    assert [one.id for one in members] == re.findall(r'^id = "(.+)"$', example, flags=re.M)
