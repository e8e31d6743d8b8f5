"""README's two commands install versions that were tried, so that they do the same in a year."""

import re
from importlib.metadata import requires

from packaging.requirements import Requirement
from packaging.version import Version

from tests import docs

PINS = docs.README.parent / "tests" / "constraints.txt"


def pinned() -> dict[str, Version]:
    lines = [line for line in PINS.read_text(encoding="utf-8").splitlines() if line and not line.startswith("#")]
    found = [re.fullmatch(r"([\w.-]+)==([\w.]+)", line) for line in lines]
    assert all(found), "each line pins one version, as name==1.2.3"
    return {plain(one[1]): Version(one[2]) for one in found if one}


def plain(name: str) -> str:
    """A project's name as an index compares it (PEP 503)."""
    return re.sub(r"[-_.]+", "-", name).lower()


def wanted(name: str, extras: frozenset[str]) -> dict[str, list[Requirement]]:
    """All that a project needs, near and far, with those of its extras; by plain name."""
    found: dict[str, list[Requirement]] = {}
    waiting = [(name, extras)]
    seen = set()
    while waiting:
        one, its_extras = waiting.pop()
        if (one, its_extras) in seen:
            continue
        seen.add((one, its_extras))
        for text in requires(one) or []:
            need = Requirement(text)
            if need.marker and not any(need.marker.evaluate({"extra": extra}) for extra in its_extras or {""}):
                continue
            found.setdefault(plain(need.name), []).append(need)
            waiting.append((need.name, frozenset(need.extras)))
    return found


def test_all_that_readme_installs_is_pinned_to_a_version_that_pyproject_allows() -> None:
    pins = pinned()
    needs = wanted("sitelog", frozenset({"", "dev", "order", "sheets", "dxf"}))
    assert needs and not sorted(set(needs) - set(pins))
    for name, those in needs.items():
        assert all(need.specifier.contains(pins[name]) for need in those), (name, those)


def test_readme_installs_by_the_pins() -> None:
    start = docs.README.read_text(encoding="utf-8").partition("## Start")[2].partition("\n## ")[0]
    commands = re.findall(r"```sh\n(.*?)```", start, flags=re.S)
    assert commands and all("-c tests/constraints.txt" in command for command in commands)
