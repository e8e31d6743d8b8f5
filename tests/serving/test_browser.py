"""The screens in a real browser: a phone upright and a desk, taps and keys, a reload, two at once, a wrong code."""

import json
import os
import re
import socket
import subprocess
import sys
import time
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from functools import partial
from pathlib import Path
from typing import Any

import pyte
import pytest

from sitelog.cli.run import run
from tests.cli.test_script import answer_to
from tests.length import long
from tests.replies.browser import Tab, found, tab

pytestmark = [
    long,
    pytest.mark.skipif(not found(), reason="no browser on this machine: apt-get install chromium"),
]
BY = ("--by", "M. Reed")
SIZES = ((390, 844), (1280, 800))
SECONDS = 90.0  # that a screen is waited for before the test gives up
SIDES = {
    "AB, front": "5400",
    "BC": "4200",
    "CD, back": "5400",
    "DA": "4200",
    "diagonal AC": "6841",
    "diagonal BD": "6841",
}
# The terminal draws on a canvas, so what is sent to it is heard on its wire.
HEAR = """
window.heard = '';
window.WebSocket = class extends window.WebSocket {
  constructor(...given) {
    super(...given);
    window.size = new URL(given[0]).searchParams;
    this.addEventListener('message', told => {
      if (told.data instanceof ArrayBuffer) window.heard += new TextDecoder().decode(told.data);
    });
  }
};
"""


@pytest.fixture
def job(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> Path:
    """A hipped house at its plates, the cautions there read today."""
    file = str(tmp_path / "weir.json")
    run(["new", file, "--title", "Weir Cottage", "--part", "main:hipped", "main.length=5400", "main.width=4200",
         "main.pitch=40", *BY])  # fmt: skip
    for stage in ("job.before", "main.finish"):
        run(["release", file, stage, "--reason", "seen on paper", *BY])
    for caution in shown(file, capsys)["cautions"]:
        if caution["stage"] in ("job.before", "main.finish", "main.plates"):
            run(["read", file, caution["id"], answer_to(caution), "--at", caution["stage"], *BY])
    return Path(file)


def shown(file: str, capsys: pytest.CaptureFixture[str]) -> Any:
    capsys.readouterr()
    run(["show", file, "--json"])
    return json.loads(capsys.readouterr().out)


def plates(file: Path, capsys: pytest.CaptureFixture[str]) -> Any:
    parts = shown(str(file), capsys)["parts"]
    checks = (check for part in parts for stage in part["stages"] for check in stage["checks"])
    return next(check for check in checks if check["path"] == "main.plates.sides")


@contextmanager
def served(job: Path, *more: str) -> Iterator[tuple[str, Callable[[], str]]]:
    """The address of a server over a job, and what it has said so far."""
    log = job.parent / "served.txt"
    with socket.create_server(("127.0.0.1", 0)) as free:
        port = str(free.getsockname()[1])
    words = [sys.executable, "-m", "sitelog", "serve", str(job), "--port", port, *more]
    with log.open("w") as out:
        process = subprocess.Popen(words, stdout=out, stderr=out, env=os.environ | {"SITELOG_DEVICE": "served01"})
    try:
        until(lambda: "Open http" in log.read_text(encoding="utf-8"))
        (address,) = re.findall(r"http://\S+:\d+", log.read_text(encoding="utf-8"))
        yield address, lambda: log.read_text(encoding="utf-8")
    finally:
        process.terminate()
        process.wait(30)


def until(true: Callable[[], object]) -> None:
    """Wait till it is true: nothing else tells that a screen is there."""
    end = time.monotonic() + SECONDS
    while not true():
        assert time.monotonic() < end, "it never came"
        time.sleep(0.1)


def come_in(page: Tab, address: str, size: tuple[int, int], by: str = "M. Reed") -> None:
    page.go(address, *size, HEAR)
    until(lambda: page.value("document.readyState == 'complete' && !!document.querySelector('input')"))
    page.click("input")
    page.type(by)
    page.press("Enter", 13, text="\r")


def rows(page: Tab) -> list[str]:
    """What stands on the screen, a row each, as a terminal of its size shows what it was sent."""
    wide, high = page.value("window.size ? [+window.size.get('width'), +window.size.get('height')] : [80, 24]")
    screen = pyte.Screen(wide, high)
    pyte.Stream(screen).feed(str(page.value("window.heard || ''")))
    return list(screen.display)


def sees(page: Tab, words: str) -> None:
    """Wait till those words stand on the screen."""
    until(lambda: any(words in row for row in rows(page)))


def tap(page: Tab, words: str) -> None:
    """A finger on the row with those words."""
    shown = rows(page)
    place = next(number for number, row in enumerate(shown) if words in row)
    y = page.value("document.querySelector('.xterm-screen').clientHeight") / len(shown) * (place + 0.5)
    for kind in ("mousePressed", "mouseReleased"):
        page.call("Input.dispatchMouseEvent", type=kind, x=120, y=y, button="left", clickCount=1)


def enter(page: Tab) -> None:
    time.sleep(0.3)  # sooner than a finger can, it would be taken for a key that is held down
    page.press("Enter", 13, text="\r")


def fill(page: Tab, field: str) -> None:
    """One side, once the cursor is seen to stand in its field; what is to be typed there is told by its name."""
    sees(page, f"{field}: ")
    page.type(SIDES[field])


def go_on(page: Tab) -> None:
    """From the recap to the job: a tap brings the keys to the screen."""
    sees(page, "Press Enter to go on")
    tap(page, "Weir Cottage")
    enter(page)


@pytest.mark.parametrize("size", SIZES, ids=lambda size: f"{size[0]}x{size[1]}")
def test_plates_are_tapped_typed_and_judged_in_a_browser_and_a_reload_loses_nothing(
    job: Path, size: tuple[int, int], capsys: pytest.CaptureFixture[str]
) -> None:
    with served(job) as (address, _), tab(job.parent) as page:
        come_in(page, address, size)
        go_on(page)
        sees(page, "measure")
        tap(page, "Four sides")
        sees(page, "diagonal AC")
        page.picture(job.parent / f"check-{size[0]}.png")
        for side in ("AB, front", "BC"):
            fill(page, side)
            enter(page)
        sees(page, "CD, back: ")
        page.call("Page.reload")
        go_on(page)
        sees(page, "measure")
        enter(page)
        sees(page, "diagonal AC")
        until(lambda: any(row.count(SIDES["AB, front"]) == 2 for row in rows(page)))  # as typed, and as drawn
        page.picture(job.parent / f"again-{size[0]}.png")
        for side in SIDES:  # a reading of before is never taken by Enter
            fill(page, side)
            if side != "diagonal BD":
                enter(page)
        sees(page, "OK")  # judged before it is entered, for the next check then opens by itself
        page.picture(job.parent / f"verdict-{size[0]}.png")
        enter(page)
        sees(page, "Level readings")
        asked = {where for where in page.requests if not where.startswith((address, "data:", "blob:"))}
        assert asked == set(), "no other host is asked"
    kept = plates(job, capsys)
    assert (kept["value"]["ac"], kept["by"]) == (6841.0, "M. Reed")


def test_two_browsers_have_a_name_each_and_the_second_can_only_read(job: Path) -> None:
    with served(job) as (address, _), tab(job.parent) as first:
        come_in(first, address, SIZES[0])
        sees(first, "Weir Cottage")
        (job.parent / "second").mkdir()
        with tab(job.parent / "second") as second:
            come_in(second, address, SIZES[1], "A. Dunn")
            sees(second, "READ ONLY")


def test_a_wrong_code_opens_nothing(job: Path) -> None:
    with served(job, "--host", "0.0.0.0") as (address, said), tab(job.parent) as page:
        page.go(address.replace("0.0.0.0", "127.0.0.1"), *SIZES[0], HEAR)
        until(lambda: page.value("!!document.querySelector('input[name=code]')"))
        (code,) = re.findall(r"browser: (\S+)", said())
        for typed, opens in (("AAAA-AAAA", False), (code, True)):
            page.value("document.querySelector('input[name=by]').value = 'M. Reed'")
            page.value(f"document.querySelector('input[name=code]').value = '{typed}'")
            page.click("button")
            until(partial(page.value, f"!!document.querySelector('.{'textual-terminal' if opens else 'wrong'}')"))


def test_what_was_entered_is_kept_when_the_network_goes(job: Path, capsys: pytest.CaptureFixture[str]) -> None:
    with tab(job.parent) as page:
        with served(job) as (address, _):
            come_in(page, address, SIZES[1])
            go_on(page)
            sees(page, "Four sides")
        until(lambda: page.value("document.body.classList.contains('-closed')"))
        page.picture(job.parent / "closed.png")
    assert shown(str(job), capsys)["next"] == "main.plates.sides"
