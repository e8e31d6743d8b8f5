"""`sitelog calc` and Python give one answer, to the last digit, and every level has its help."""

import json
import shlex
import subprocess
import sys

import pytest

from sitelog.calculators.ask import as_json, ask
from sitelog.calculators.index import calculators, find
from sitelog.cli.words import COMMANDS
from tests.cli.conftest import Say

NAMES = tuple(calculators())


def example(name: str) -> list[str]:
    return shlex.split(find(name).example)


def worked(name: str) -> bool:
    """False where the example needs a library that is an extra and is not there."""
    if name != "stock":
        return True
    return subprocess.run([sys.executable, "-c", "import highspy"], capture_output=True).returncode == 0


@pytest.mark.parametrize("name", NAMES)
def test_the_command_line_and_python_agree_to_the_last_digit(say: Say, name: str) -> None:
    if not worked(name):
        pytest.skip("the extra `order` is not installed")
    said = say("calc", name, *example(name), "--json")
    assert (said.code, said.err) == (0, "")
    answer = ask(name, dict(pair.split("=", 1) for pair in example(name)))
    assert json.loads(said.out) == json.loads(json.dumps(as_json(answer)))
    assert find(name)(**answer.inputs).results == answer.results
    assert set(json.loads(said.out)) == {"calculator", "inputs", "results", "units", "verdict", "cautions", "basis"}


@pytest.mark.parametrize("name", NAMES)
def test_every_calculator_tells_its_inputs_results_rule_and_an_example(say: Say, name: str) -> None:
    said = say("calc", name, "--help")
    one = find(name)
    assert said.code == 0
    for word in [i.name for i in one.inputs] + [o.name for o in one.results]:
        assert word in said.out
    assert one.basis in said.out
    assert f"Example: sitelog calc {name} {one.example}" in said.out


def test_the_list_has_every_calculator_under_its_branch(say: Say) -> None:
    said = say("calc")
    assert said.code == 0
    rows = [line.split()[0] for line in said.out.splitlines() if line.startswith("  ")]
    assert sorted(rows) == sorted(NAMES)


@pytest.mark.parametrize("command", [c.name for c in COMMANDS])
def test_every_command_has_help_with_an_example(say: Say, command: str) -> None:
    said = say(command, "--help")
    assert said.code == 0
    assert "Example: sitelog" in said.out


BAD = [
    (("common", "run=3000"), "pitch"),
    (("common", "run=3000", "pitch=0"), "pitch"),
    (("common", "run=3000", "pitch=90"), "pitch"),
    (("common", "run=nan", "pitch=35"), "run"),
    (("common", "run=inf", "pitch=35"), "run"),
    (("common", "run=-3000", "pitch=35"), "run"),
    (("common", "run=3000", "run=3001", "pitch=35"), "run"),
    (("common", "run=3000", "pitch=35", "birdsmouth=5/4"), "birdsmouth"),
    (("common", "run=3,5m", "pitch=35"), "run"),
    (("common", "ran=3000", "pitch=35"), "ran"),
    (("common", "3000"), "3000"),
    (("squareness", "ab=9000", "bc=6000", "cd=9000", "da=6000", "ac=59000", "bd=10817"), "check AC"),
    (("jacks", "run=190m", "pitch=35", "spacing=1mm", "hip_thickness=47", "thickness=47"), "jacks"),
    (("roof", "length=9000", "width=6000", "pitch=35", "keep=both"), "keep"),
    (("nothing",), "nothing"),
    (("common", "--loud"), "--loud"),
]


@pytest.mark.parametrize(("words", "names"), BAD, ids=lambda w: " ".join(w) if isinstance(w, tuple) else "")
def test_what_can_not_be_is_one_line_on_stderr_and_nothing_on_stdout(
    say: Say, words: tuple[str, ...], names: str
) -> None:
    said = say("calc", *words)
    assert (said.code, said.refused_in_one_line) == (2, True), said
    assert names in said.err


def test_the_working_is_asked_for(say: Say) -> None:
    without, with_it = (
        say("calc", "common", "run=3000", "pitch=35"),
        say("calc", "common", "run=3000", "pitch=35", "--working"),
    )
    assert "rise = run x tan pitch" in with_it.out
    assert "rise = run x tan pitch" not in without.out


def test_the_program_by_its_command_exits_as_it_says() -> None:
    def code(*words: str) -> int:
        return subprocess.run([sys.executable, "-m", "sitelog", *words], capture_output=True, check=False).returncode

    assert [code("calc", "common", "run=3000", "pitch=35"), code("calc", "common"), code("--help")] == [0, 2, 0]
