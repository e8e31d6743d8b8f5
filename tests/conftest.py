"""What all tests share: which of them run, on which worker, and the shipped lists, proved once for a worker."""

import asyncio
import gc
import os
import sys
from collections.abc import Callable, Iterator
from contextlib import suppress
from functools import cache
from importlib import import_module
from itertools import count
from pathlib import Path
from tempfile import TemporaryDirectory
from typing import Any

import pytest
from textual import _wait

from sitelog import kept
from sitelog.checklist import load
from sitelog.checklist.proved import Lists
from sitelog.checklist.schema.model import Library
from sitelog.checklist.schema.shipped import shipped_folder, toml_files
from tests import shipped

ROOT = Path(__file__).parent.parent
NUMBERS = count()
REAL = {name: getattr(kept, name) for name in ("cached", "find", "keep")}


def pytest_configure(config: pytest.Config) -> None:
    if str(config.option.markexpr) == "long":
        os.environ["SITELOG_LONG"] = "1"
    # A pressed key is waited for in steps of 10 ms, not 20: idle waits were half the time of the stories on screens.
    _wait.SLEEP_GRANULARITY = 1 / 100
    _wait.SLEEP_IDLE = 1 / 400
    # What is compiled is kept, whatever the environment says: else each worker and each program that a test starts
    # compiles all of it once more.
    sys.dont_write_bytecode = False
    os.environ.pop("PYTHONDONTWRITEBYTECODE", None)
    gc.disable()  # until all is collected: what is imported stays
    keep_in_memory()


@pytest.hookimpl(tryfirst=True)
def pytest_collection(session: pytest.Session) -> None:
    """Each worker begins at another file, so that it compiles a share of them and finds the others compiled."""
    worker = getattr(session.config, "workerinput", None)
    if not worker:
        return
    paths = [Path(argument.partition("::")[0]).resolve() for argument in session.config.args]
    files = [file for path in paths for file in ([path] if path.is_file() else sorted(path.rglob("*.py")))]
    ours = [file for file in files if file.name == "conftest.py"]
    tests = [file for file in files if file.name.startswith("test_")]
    first = len(tests) * int(worker["workerid"].removeprefix("gw")) // worker["workercount"]
    for file in ours + tests[first:] + tests[:first]:
        with suppress(Exception, pytest.skip.Exception):  # told where it is collected
            import_module(".".join(file.relative_to(ROOT).with_suffix("").parts))


def pytest_collection_finish() -> None:
    """Eleven thousand collected tests are not searched for garbage again and again: a fifth of the time went there."""
    gc.enable()
    gc.collect()
    gc.freeze()
    gc.set_threshold(50_000, 20, 50)


@pytest.hookimpl(tryfirst=True)
def pytest_collection_modifyitems(items: list[pytest.Item]) -> None:
    for item in items:
        if "/test_walk" in item.nodeid or (os.environ.get("SITELOG_LONG") and item.get_closest_marker("grows")):
            item.add_marker(pytest.mark.long)


@pytest.hookimpl(optionalhook=True)
def pytest_xdist_make_scheduler(config: pytest.Config, log: Any) -> Any:
    """A worker that is done takes tests from one that is not: the long stories stand together, at the end."""
    from xdist.scheduler import WorkStealingScheduling  # type: ignore[import-untyped]

    return WorkStealingScheduling(config, log)


def keep_in_memory() -> None:
    """Every program that a test starts in this process takes the lists that an earlier one has proved.

    And the shipped lists, which stay as they are, are held to all rules once. States are not kept: a test may have
    changed what they are worked with. What is kept on the disk has tests of its own.
    """
    known: dict[str, Library] = {}

    def remembered(key: str, make: Callable[[], Library]) -> Library:
        if key not in known:
            known[key] = make()
        return known[key]

    ours, alone = toml_files(shipped_folder()), load._alone
    once = cache(lambda: alone(ours))
    load._alone = lambda base: once() if [*base] == [*ours] else alone(base)
    kept.cached = remembered  # type: ignore[assignment]
    kept.find = lambda key: None
    kept.keep = lambda key, what: None


@pytest.fixture(scope="session", autouse=True)
def kept_by_others() -> Iterator[None]:
    """Programs started beside this one keep what they prove in a folder of the tests."""
    with pytest.MonkeyPatch.context() as patch, TemporaryDirectory() as place:
        patch.setenv("XDG_CACHE_HOME", place)
        yield


@pytest.fixture(scope="session", autouse=True)
def quick_screens() -> Iterator[None]:
    """The stylesheets are read once for all the programs of this process that show screens, not twice for each.

    A screen without a terminal is painted when a story looks at it, not after each key. And what has nothing to do is
    not waited for: a message to each widget, after each key, only to hear that it was read.
    """
    from textual._compositor import Compositor
    from textual.css.stylesheet import Stylesheet
    from textual.pilot import Pilot

    read, known = Stylesheet._parse_rules, {}

    def remembered(sheet: Stylesheet, css: str, *place: Any, **more: Any) -> Any:
        key = (css, place, tuple(more.items()), tuple(sheet._variables.items()))
        if key not in known:
            known[key] = read(sheet, css, *place, **more)
        return known[key]

    wait = Pilot._wait_for_screen

    async def waited(pilot: Pilot[Any], timeout: float = 30.0) -> bool:
        screens = pilot.app.screen_stack[-1:]
        pumps = [pilot.app, *(pump for screen in screens for pump in screen.walk_children(with_self=True))]
        if screens and all(is_waiting(pump._message_queue) for pump in pumps):
            await asyncio.sleep(0)
            return True
        return await wait(pilot, timeout)

    def unpainted(compositor: Compositor, **_: object) -> None:
        compositor._dirty_regions.clear()

    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(Stylesheet, "_parse_rules", remembered)
        patch.setattr(Compositor, "render_update", unpainted)
        patch.setattr(Pilot, "_wait_for_screen", waited)
        yield


def is_waiting(queue: Any) -> bool:
    """Whether all that was put in has been dealt with: who takes it out stands waiting for more."""
    readers = getattr(getattr(queue, "ready_event", None), "_waiters", ())
    return bool(queue.empty()) and any(not reader.done() for reader in readers)


@pytest.fixture(autouse=True)
def own_state(tmp_path_factory: pytest.TempPathFactory, monkeypatch: pytest.MonkeyPatch) -> None:
    """What a machine keeps outside a job's folder is a test's own, also of the programs that it starts."""
    monkeypatch.setenv("XDG_STATE_HOME", str(tmp_path_factory.getbasetemp() / f"state-{next(NUMBERS)}"))
    monkeypatch.setenv("LC_ALL", "C.UTF-8")


@pytest.fixture
def kept_on_disk(monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> Path:
    """For tests of what is kept from one start to the next: the folder in which it is."""
    monkeypatch.setenv("XDG_CACHE_HOME", str(tmp_path / "kept"))
    for name, real in REAL.items():
        monkeypatch.setattr(kept, name, real)
    return tmp_path / "kept" / "sitelog"


@pytest.fixture
def lists_known(request: pytest.FixtureRequest, monkeypatch: pytest.MonkeyPatch) -> Path:
    """The same where the program's own lists need no proof: it takes longer than all else, and has tests of its own."""
    library = shipped.library()
    place: Path = request.getfixturevalue("kept_on_disk")
    prove, key = Lists._proved, Lists().key
    monkeypatch.setattr(Lists, "_proved", lambda lists: library if lists.key == key else prove(lists))
    return place
