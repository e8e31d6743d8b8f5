"""Imports run downward only: each room may know itself and the rooms under it, and what is heavy is loaded late."""

import ast
import shutil
import subprocess
import sys
from collections.abc import Iterator
from pathlib import Path

import pytest
from textual.screen import Screen

import sitelog
from sitelog.checklist.schema.shipped import sample_folder
from sitelog.tui.registry import SCREENS, screen_class
from tests.measure import largest_circle

PACKAGE = Path(sitelog.__file__).parent
# From the ground up. `ground` is what stands in no room: what text may hold, and the one error.
ROOMS = (
    "ground",
    "quantities",
    "geometry",
    "calculators",
    "trade",  # the old name of the calculators, for scripts
    "checklist",
    "job",
    "drawing",
    "reports",
    "wording",
    "lines",
    "tui",
    "cli",
)
MODULES = sorted(PACKAGE.rglob("*.py"))
HEAVY = ("textual", "rich", "pint", "tinydb", "asyncio")


def room(parts: tuple[str, ...]) -> str:
    """`("sitelog", "job", "find")` is in `job`; `("sitelog", "refusal")` stands on the ground."""
    return parts[1] if len(parts) > 1 and parts[1] in ROOMS else "ground"


def imported(module: Path) -> Iterator[tuple[str, ...]]:
    """Every name of ours that the module imports, wherever in it."""
    for node in ast.walk(ast.parse(module.read_text(encoding="utf-8"))):
        if isinstance(node, ast.ImportFrom) and node.module and node.level == 0:
            whole = node.module == "sitelog"
            names = [f"{node.module}.{alias.name}" for alias in node.names] if whole else [node.module]
        elif isinstance(node, ast.Import):
            names = [alias.name for alias in node.names]
        else:
            continue
        yield from (tuple(name.split(".")) for name in names if name.split(".")[0] == "sitelog")


def test_a_room_knows_only_the_rooms_under_it() -> None:
    for module in MODULES:
        own = room(("sitelog", *module.relative_to(PACKAGE).parts))
        if module.name == "__main__.py":
            own = "cli"
        for name in imported(module):
            assert ROOMS.index(room(name)) <= ROOMS.index(own), f"{module} imports {'.'.join(name)}"


def test_the_screens_and_line_mode_know_nothing_of_each_other() -> None:
    for module in (PACKAGE / "tui").rglob("*.py"):
        assert "lines" not in {room(name) for name in imported(module)}, f"{module.name}: what both need is in wording"


def test_no_folder_has_more_than_fifteen_files() -> None:
    for folder in {module.parent for module in MODULES}:
        assert len(list(folder.glob("*.py"))) <= 15, f"{folder.relative_to(PACKAGE)}: part it by what its files decide"


def test_no_more_than_three_files_import_each_other_in_a_circle() -> None:
    assert largest_circle(PACKAGE) <= 3


@pytest.mark.parametrize("name", SCREENS)
def test_a_screen_is_found_by_its_name(name: str) -> None:
    assert issubclass(screen_class(name), Screen)


def test_only_the_screens_and_the_command_line_print_ask_or_read_the_clock() -> None:
    clocks = ("datetime.now", "datetime.today", "date.today", "time.time")
    for module in MODULES:
        if room(("sitelog", *module.relative_to(PACKAGE).parts)) in ("tui", "cli") or module.name == "__main__.py":
            continue
        for node in ast.walk(ast.parse(module.read_text(encoding="utf-8"))):
            if isinstance(node, ast.Call):
                assert ast.unparse(node.func) not in ("print", "input", *clocks), f"{module}:{node.lineno}"


LIGHT = [["--help"], ["record", "--help"], ["calc"], ["calc", "common", "run=3000", "pitch=35"]]


@pytest.mark.parametrize("words", LIGHT)
def test_help_and_sums_load_nothing_heavy(words: list[str]) -> None:
    script = (
        "import sys; from sitelog.cli.run import run\n"
        f"try: run({words!r})\nexcept SystemExit: pass\n"
        f"print([name for name in {HEAVY!r} if name in sys.modules], file=sys.stderr)"
    )
    done = subprocess.run([sys.executable, "-c", script], capture_output=True, text=True, check=True)
    assert done.stderr.strip() == "[]"


# What `show` and `record` have no use for once the lists and the state are kept: what reads and proves lists, draws,
# reports or asks, the geometry of roofs, and what other libraries bring along.
UNUSED = (
    *HEAVY,
    *("dataclasses", "inspect", "shutil", "statistics", "tomllib", "typing_extensions"),
    *("sitelog.checklist.load", "sitelog.checklist.lint", "sitelog.checklist.loader", "sitelog.geometry.building"),
    *("sitelog.geometry.surface", "sitelog.drawing", "sitelog.reports.model", "sitelog.lines", "sitelog.tui"),
    *("sitelog.job.actions.actions", "sitelog.job.photos.picture.kinds", "sitelog.job.replies.taking"),
    *("sitelog.wording.prompts", "sitelog.calculators.surface"),
)
RECORD = ["main.hip-lines.meeting", "p=2", "q=0", "--by", "M. Reed", "--note", "again"]


@pytest.mark.parametrize("words", [["show"], ["record", *RECORD]], ids=["show", "record"])
def test_a_command_loads_nothing_that_it_does_not_use(words: list[str], tmp_path: Path) -> None:
    file = shutil.copy(sample_folder() / "kiln-lane.json", tmp_path)
    given = [words[0], file, *words[1:]]
    script = (
        f"import sys; from sitelog.cli.run import run\nrun({given!r})\n"
        f"print([name for name in {UNUSED!r} if name in sys.modules], file=sys.stderr)"
    )
    for _ in range(2):  # the first time the state is worked, and kept
        done = subprocess.run([sys.executable, "-c", script], capture_output=True, text=True, check=True)
    assert done.stderr.strip() == "[]"
