"""Tablets on this machine whose folders a real program brings up to date with each other, over loopback alone.

The program is `syncthing`, on the path or in the folder that SITELOG_SYNCTHING names. Nothing of it is announced,
relayed, reported or upgraded, and each has a folder of settings of its own.
"""

import json
import os
import shutil
import socket
import subprocess
from collections.abc import Callable, Iterator, Sequence
from contextlib import contextmanager, suppress
from dataclasses import dataclass
from pathlib import Path
from time import monotonic, sleep
from urllib.request import ProxyHandler, Request, build_opener

PROGRAM = shutil.which("syncthing", path=os.environ.get("SITELOG_SYNCTHING")) or shutil.which("syncthing")
WHY_NOT = "the program syncthing is not on the path, nor in the folder that SITELOG_SYNCTHING names"
SECONDS = 120.0  # that it is waited for; nothing is measured by it
KEY = "only-on-loopback"
_OPEN = build_opener(ProxyHandler({})).open


@dataclass
class Engine:
    """The program over one tablet's folder."""

    folder: Path
    home: Path
    talks: int  # the port at which the others reach it
    told: int  # the port at which it takes orders
    copies: int  # that it keeps of a file where two devices wrote it; without any, one of the two is gone
    id: str = ""
    process: "subprocess.Popen[bytes] | None" = None

    def make(self) -> None:
        """Its keys, and the name that follows from them."""
        assert PROGRAM
        self.folder.mkdir(parents=True, exist_ok=True)
        home = f"--home={self.home}"
        quiet = {"stdout": subprocess.DEVNULL, "stderr": subprocess.DEVNULL}
        subprocess.run([PROGRAM, "generate", "--no-default-folder", home], check=True, **quiet)  # type: ignore[call-overload]
        said = subprocess.run([PROGRAM, "--device-id", home], check=True, capture_output=True, text=True)
        self.id = said.stdout.strip()

    def start(self, others: Sequence["Engine"]) -> None:
        """Over its folder, with all the others."""
        assert PROGRAM
        (self.home / "config.xml").write_text(self._settings([self, *others]), encoding="utf-8")
        words = [PROGRAM, "serve", f"--home={self.home}", "--no-browser", "--no-restart", "--no-upgrade"]
        environ = {**os.environ, "STNOUPGRADE": "1", "HOME": str(self.home)}
        self.process = subprocess.Popen(words, stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL, env=environ)

    def stop(self) -> None:
        """End it, and wait until it has ended."""
        if self.process:
            self.process.terminate()
            try:
                self.process.wait(SECONDS)
            except subprocess.TimeoutExpired:
                self.process.kill()
                self.process.wait()

    def _settings(self, devices: "Sequence[Engine]") -> str:
        known = "".join(
            f'<device id="{device.id}" compression="never"><address>tcp://127.0.0.1:{device.talks}</address></device>'
            for device in devices
        )
        within = "".join(f'<device id="{device.id}"></device>' for device in devices)
        off = "".join(
            f"<{name}>false</{name}>"
            for name in (
                *("globalAnnounceEnabled", "localAnnounceEnabled", "relaysEnabled", "natEnabled", "startBrowser"),
                *("crashReportingEnabled", "announceLANAddresses"),
            )
        )
        return (
            f'<configuration version="35"><folder id="site" path="{self.folder}" type="sendreceive" '
            f'rescanIntervalS="0" fsWatcherEnabled="false">{within}<minDiskFree unit="%">0</minDiskFree>'
            f"<maxConflicts>{self.copies}</maxConflicts></folder>{known}"
            f'<gui enabled="true" tls="false"><address>127.0.0.1:{self.told}</address><apikey>{KEY}</apikey></gui>'
            f"<options><listenAddress>tcp://127.0.0.1:{self.talks}</listenAddress>{off}<urAccepted>-1</urAccepted>"
            "<autoUpgradeIntervalH>0</autoUpgradeIntervalH><reconnectionIntervalS>1</reconnectionIntervalS>"
            "<setLowPriority>false</setLowPriority></options></configuration>"
        )

    def order(self, what: str, how: str = "POST") -> object:
        """What it says to an order, or to a question."""
        asked = Request(f"http://127.0.0.1:{self.told}/rest/{what}", method=how, headers={"X-API-Key": KEY})
        with _OPEN(asked, timeout=SECONDS) as answer:
            said = answer.read()
        return json.loads(said) if said.strip() else None

    def is_up(self) -> bool:
        """Does it take orders yet?"""
        with suppress(OSError):
            return self.order("system/ping", "GET") == {"ping": "pong"}
        return False

    def apart(self) -> None:
        """Out of reach of the others."""
        self.order("system/pause")

    def in_reach(self) -> None:
        """In reach of them again."""
        self.order("system/resume")

    def files(self) -> dict[str, bytes]:
        """What stands in its folder, but what it is writing."""
        return {
            str(path.relative_to(self.folder)): path.read_bytes()
            for path in sorted(self.folder.rglob("*"))
            if path.is_file() and not any(part.startswith((".st", ".sync", "~sync")) for part in path.parts)
        }


def until(true: Callable[[], bool], what: str) -> None:
    """Wait for it."""
    end = monotonic() + SECONDS
    while not true():
        assert monotonic() < end, f"in vain: {what}"
        sleep(0.1)


def brought_together(engines: Sequence[Engine]) -> None:
    """Wait until the same files stand in each folder, and each has seen that."""

    def same() -> bool:
        for engine in engines:
            engine.order("db/scan?folder=site")
        try:
            first, *others = (engine.files() for engine in engines)
        except OSError:  # renamed in between
            return False
        return all(files == first for files in others) and all(_at_rest(engine, engines) for engine in engines)

    until(same, "the folders are not the same")


def _at_rest(engine: Engine, engines: Sequence[Engine]) -> bool:
    status = engine.order("db/status?folder=site", "GET")
    assert isinstance(status, dict)
    if status["state"] != "idle" or status["needTotalItems"]:
        return False
    for other in engines:
        if other is not engine:
            done = engine.order(f"db/completion?folder=site&device={other.id}", "GET")
            assert isinstance(done, dict)
            if done["needItems"] or done["needDeletes"]:
                return False
    return True


@contextmanager
def engines(place: Path, names: Sequence[str], copies: int = 10) -> Iterator[list[Engine]]:
    """One for each of those names, all in reach of each other; all have ended at the end."""
    with free_ports(2 * len(names)) as ports:
        made = [
            Engine(place / name, place / f"{name}.home", *two, copies)
            for name, two in zip(names, zip(ports[::2], ports[1::2], strict=True), strict=True)
        ]
    try:
        for engine in made:
            engine.make()
        for engine in made:
            engine.start([other for other in made if other is not engine])
        for engine in made:
            until(engine.is_up, "it takes no orders")
        yield made
    finally:
        for engine in made:
            engine.stop()


@contextmanager
def free_ports(count: int) -> Iterator[list[int]]:
    """Ports of loopback that nobody has."""
    sockets = [socket.socket() for _ in range(count)]
    try:
        for each in sockets:
            each.bind(("127.0.0.1", 0))
        yield [each.getsockname()[1] for each in sockets]
    finally:
        for each in sockets:
            each.close()
