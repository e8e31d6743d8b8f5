"""A real browser without a window, driven over its own protocol (Chrome DevTools Protocol) by two pipes: no network."""

import json
import os
import shutil
import subprocess
import sys
from base64 import b64decode
from collections.abc import Iterator
from contextlib import contextmanager
from fcntl import F_DUPFD, fcntl
from pathlib import Path
from typing import Any

NAMES = ("chromium", "chromium-browser", "google-chrome", "google-chrome-stable", "chrome")
FLAGS = (
    "--headless=new", "--no-sandbox", "--disable-gpu", "--disable-dev-shm-usage", "--no-first-run",
    "--disable-background-networking", "--disable-component-update", "--disable-sync", "--disable-default-apps",
    "--disable-extensions", "--remote-debugging-pipe",
)  # fmt: skip


# It reads what it is told from 3 and answers on 4.
HAND_ON = "import os, sys; [os.dup2(int(sys.argv[at]), at + 2) for at in (1, 2)]; os.execv(sys.argv[3], sys.argv[3:])"
FIRST_FREE = 10


def found() -> str:
    """The browser of this machine; "" where there is none."""
    return next(filter(None, map(shutil.which, NAMES)), "")


class Tab:
    """One page. `requests` are the addresses that it asked for, `told` what it wrote to its console or was refused."""

    def __init__(self, to: int, out: int) -> None:
        self._to, self._out = to, out
        self._number = 0
        self._rest = b""
        self._session = ""
        self.requests: list[str] = []
        self.told: list[str] = []

    def call(self, method: str, **params: Any) -> dict[str, Any]:
        """What the browser answers. RuntimeError where it refuses."""
        self._number += 1
        number = self._number
        asked = {"id": number, "method": method, "params": params}
        if self._session:
            asked["sessionId"] = self._session
        os.write(self._to, json.dumps(asked).encode() + b"\0")
        while True:
            said = self._message()
            if said.get("id") == number:
                if "error" in said:
                    raise RuntimeError(f"{method}: {said['error']}")
                return dict(said["result"])
            self._heard(said)

    def _message(self) -> dict[str, Any]:
        while b"\0" not in self._rest:
            more = os.read(self._out, 1 << 16)
            if not more:
                raise RuntimeError("the browser has gone")
            self._rest += more
        raw, _, self._rest = self._rest.partition(b"\0")
        return dict(json.loads(raw))

    def _heard(self, said: dict[str, Any]) -> None:
        params = said.get("params", {})
        if said.get("method") == "Network.requestWillBeSent":
            self.requests.append(params["request"]["url"])
        elif said.get("method") == "Log.entryAdded":
            self.told.append(params["entry"]["text"])
        elif said.get("method") in ("Runtime.exceptionThrown", "Runtime.consoleAPICalled"):
            self.told.append(json.dumps(params)[:300])

    def open(self, page: Path, width: int, height: int) -> None:
        """Show a page off the disk in a window of that size."""
        self.go(page.as_uri(), width, height)
        while self.value("document.readyState + location.protocol") != "completefile:":
            pass

    def go(self, address: str, width: int, height: int, first: str = "") -> None:
        """Open an address in a window of that size, in a tab of its own, once a first script has run."""
        self._session = ""
        target = self.call("Target.createTarget", url="about:blank")["targetId"]
        self._session = self.call("Target.attachToTarget", targetId=target, flatten=True)["sessionId"]
        for domain in ("Network", "Log", "Runtime", "Page"):
            self.call(f"{domain}.enable")
        self.call(
            "Emulation.setDeviceMetricsOverride", width=width, height=height, deviceScaleFactor=1, mobile=width < 600
        )
        if first:
            self.call("Page.addScriptToEvaluateOnNewDocument", source=first)
        self.call("Page.navigate", url=address)

    def value(self, expression: str) -> Any:
        """What an expression gives in the page."""
        result = self.call("Runtime.evaluate", expression=expression, returnByValue=True)
        if "exceptionDetails" in result:
            raise RuntimeError(result["exceptionDetails"])
        return result["result"].get("value")

    def click(self, selector: str) -> None:
        """The mouse on the middle of an element."""
        at = f"document.querySelector({json.dumps(selector)})"
        self.value(f"{at}.scrollIntoView({{block: 'center', behavior: 'instant'}})")
        box = f"{at}.getBoundingClientRect()"
        x, y = self.value(f"[{box}.x + {box}.width / 2, {box}.y + {box}.height / 2]")
        for kind in ("mousePressed", "mouseReleased"):
            self.call("Input.dispatchMouseEvent", type=kind, x=x, y=y, button="left", clickCount=1)

    def type(self, words: str) -> None:
        """Words into whatever has the cursor."""
        self.call("Input.insertText", text=words)

    def press(self, key: str, code: int, *, text: str = "") -> None:
        """One key."""
        more = {"text": text} if text else {}
        self.call("Input.dispatchKeyEvent", type="keyDown", key=key, windowsVirtualKeyCode=code, **more)
        self.call("Input.dispatchKeyEvent", type="keyUp", key=key, windowsVirtualKeyCode=code)

    def picture(self, file: Path, *, whole: bool = False) -> None:
        """What is shown, as PNG."""
        shot = self.call("Page.captureScreenshot", format="png", captureBeyondViewport=whole)
        file.write_bytes(b64decode(shot["data"]))


@contextmanager
def tab(folder: Path) -> Iterator[Tab]:
    """A browser with a profile of its own in a folder, gone afterwards; it saves files there too."""
    browser_reads, we_write = os.pipe()
    we_read, browser_writes = os.pipe()
    theirs = [fcntl(end, F_DUPFD, FIRST_FREE) for end in (browser_reads, browser_writes)]
    words = [sys.executable, "-c", HAND_ON, *map(str, theirs), found(), *FLAGS, f"--user-data-dir={folder / 'profile'}"]
    with (folder / "browser.log").open("wb") as log:
        process = subprocess.Popen(words, pass_fds=theirs, stdout=log, stderr=log)
    for end in (browser_reads, browser_writes, *theirs):
        os.close(end)
    try:
        made = Tab(we_write, we_read)
        made.call("Browser.setDownloadBehavior", behavior="allow", downloadPath=str(folder))
        yield made
    finally:
        process.terminate()
        process.wait(20)
        os.close(we_write)
        os.close(we_read)
