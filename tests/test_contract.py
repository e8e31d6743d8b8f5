"""What scripts rely on for ever: old names of modules, types that mypy can check, and one kind of refusal."""

import subprocess
import sys
from importlib.resources import files
from pathlib import Path

import pytest

from sitelog.calculators import index
from sitelog.refusal import Refusal
from sitelog.trade.index import find

SCRIPT = """from sitelog.calculators.index import find
from sitelog.refusal import Refusal
from sitelog.trade.index import find as by_the_old_name

try:
    answer = find("common")(run=3000.0, pitch=35.0)
except Refusal as refusal:
    print(refusal.message)
else:
    print(round(float(str(answer.results["length_on_line"])), 1), answer.units["length_on_line"])
assert by_the_old_name("common") == find("common")
"""


def test_a_script_that_finds_a_calculator_by_the_old_name_gets_the_same_one() -> None:
    assert find("common") is index.find("common")


def test_the_package_says_that_it_is_typed() -> None:
    assert files("sitelog").joinpath("py.typed").is_file()


def test_a_script_passes_strict_types_and_runs(tmp_path: Path) -> None:
    script = tmp_path / "script.py"
    script.write_text(SCRIPT, encoding="utf-8")
    cache = f"--cache-dir={tmp_path}"
    checked = subprocess.run([sys.executable, "-m", "mypy", "--strict", cache, script], capture_output=True, text=True)
    assert checked.returncode == 0, checked.stdout
    ran = subprocess.run([sys.executable, script], capture_output=True, text=True, check=True)
    assert ran.stdout == "3662.3 mm\n"  # 3000 / cos 35, by hand


@pytest.mark.parametrize("inputs", [{"run": -1.0, "pitch": 35.0}, {"run": 3000.0}, {"runs": 3000.0, "pitch": 35.0}])
def test_what_a_calculator_can_t_work_is_a_refusal_in_one_line(inputs: dict[str, float]) -> None:
    with pytest.raises(Refusal) as refused:
        index.find("common")(**inputs)
    assert "\n" not in refused.value.message
