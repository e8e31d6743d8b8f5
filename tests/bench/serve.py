"""The screens in a browser: against the same program on a terminal, over the wire that a browser has."""

import asyncio
import os
import re
import socket
import subprocess
import sys
from collections.abc import AsyncIterator
from contextlib import asynccontextmanager
from pathlib import Path
from statistics import mean, median
from tempfile import TemporaryDirectory
from time import perf_counter
from urllib.parse import urljoin

from aiohttp import ClientSession, ClientWebSocketResponse, CookieJar

from tests.bench.jobs import grown
from tests.bench.row import Row
from tests.bench.screen import DOWN, SIZES, UP, Terminal
from tests.bench.start import SCRIPT

ENTRIES, ROUNDS = 1_000, 5
KEYS = [DOWN] * 12 + [UP] * 12
ENDS = 1.0  # seconds that a program has to end
REST = 0.15  # seconds without a byte: the screen is whole
BY, PAINTED, ON = "M. Reed", b"to go on", b"\r"
PAGE = 900_000.0  # bytes: once a start, mostly the letters' shapes and the library that draws them
SCREEN, KEY, KEY_BYTES = 1.3, 2.0, 1.5
LINKS = re.compile(r'(?:src|href)="(/[^"]+)"')


def rows() -> list[Row]:
    """The first page, the first screen, and a cursor key: its bytes, and the time until its screen is whole."""
    with TemporaryDirectory() as folder:
        return asyncio.run(_rows(grown(Path(folder), ENTRIES)))


async def _rows(file: Path) -> list[Row]:
    async with served(file) as address, _inside(address) as browser:
        page = await _page(browser, address)
        starts = [(await _started(browser, address), _on_a_terminal(file)) for _ in range(ROUNDS + 1)][1:]
        far, near = await _keys_in(browser, address), _keys_on(file)
    start, floor = median(a for a, _ in starts), median(b for _, b in starts)
    bytes_far, bytes_near = (mean(count for count, _ in found) for found in (far, near))
    time_far, time_near = (median(spent for _, spent in found) for found in (far, near))
    return [
        Row("first page with all it asks for", page, PAGE, page / PAGE, 1.0, "B "),
        Row("open to the first screen, against a terminal", start, floor, start / floor, SCREEN),
        Row("bytes of a cursor key, the same", bytes_far, bytes_near, bytes_far / bytes_near, KEY_BYTES, "B "),
        Row("a cursor key to its whole screen, the same", time_far, time_near, time_far / time_near, KEY),
    ]


# -- the browser's side --


@asynccontextmanager
async def served(file: Path) -> AsyncIterator[str]:
    """The address of a server over that job."""
    with socket.create_server(("127.0.0.1", 0)) as free:
        port = free.getsockname()[1]
    words = [sys.executable, "-m", "sitelog", "serve", str(file), "--port", str(port)]
    with subprocess.Popen(words, stdout=subprocess.PIPE) as process:
        try:
            assert process.stdout is not None
            process.stdout.readline()
            yield f"http://127.0.0.1:{port}"
        finally:
            process.terminate()


@asynccontextmanager
async def _inside(address: str) -> AsyncIterator[ClientSession]:
    """A browser that has said whose it is; the server listens a moment after it has said so."""
    async with ClientSession(cookie_jar=CookieJar(unsafe=True)) as browser:
        while True:
            try:
                async with browser.post(f"{address}/start", data={"by": BY}) as answer:
                    assert answer.status == 200
                yield browser
                return
            except OSError:
                await asyncio.sleep(0.05)


async def _page(browser: ClientSession, address: str) -> int:
    """Bytes of the page and of all that it asks for, and what those ask for, each once."""
    seen: set[str] = set()
    wanted, count = [f"{address}/"], 0
    while wanted:
        where = wanted.pop()
        if where in seen:
            continue
        seen.add(where)
        async with browser.get(where) as answer:
            body = await answer.read()
        count += len(body)
        if where == f"{address}/":
            wanted += [urljoin(address, link) for link in LINKS.findall(body.decode())]
    return count


@asynccontextmanager
async def _wire(browser: ClientSession, address: str) -> AsyncIterator[ClientWebSocketResponse]:
    wide, high = SIZES[0]
    async with browser.ws_connect(f"{address}/ws?width={wide}&height={high}") as wire:
        yield wire


async def _heard(wire: ClientWebSocketResponse) -> tuple[bytes, float]:
    """What comes until nothing more does, and the time of the last of it."""
    found, last = b"", perf_counter()
    while True:
        try:
            told = await asyncio.wait_for(wire.receive_bytes(), REST)
        except TimeoutError:
            return found, last
        found, last = found + told, perf_counter()


async def _until_painted(wire: ClientWebSocketResponse) -> None:
    found = b""
    while PAINTED not in found:
        found += await wire.receive_bytes()


async def _started(browser: ClientSession, address: str) -> float:
    """Milliseconds from the wire to the first screen, painted."""
    start = perf_counter()
    async with _wire(browser, address) as wire:
        await _until_painted(wire)
        spent = (perf_counter() - start) * 1000
    await asyncio.sleep(ENDS)  # its program may still be ending, and would be in the other's time
    return spent


async def _keys_in(browser: ClientSession, address: str) -> list[tuple[int, float]]:
    """Bytes of each key, and milliseconds until its screen is whole."""
    async with _wire(browser, address) as wire:
        await _until_painted(wire)
        found = []
        for key in (ON, b"1", *KEYS):
            await _heard(wire)
            start = perf_counter()
            await wire.send_json(["stdin", key.decode()])
            told, last = await _heard(wire)
            found.append((len(told), (last - start) * 1000))
        return found[2:]


# -- the terminal's side --


def _terminal(file: Path) -> Terminal:
    os.environ["SITELOG_BY"] = BY
    try:
        return Terminal([sys.executable, "-c", SCRIPT, "open", str(file)])
    finally:
        del os.environ["SITELOG_BY"]


def _on_a_terminal(file: Path) -> float:
    terminal = _terminal(file)
    try:
        return terminal.until(PAINTED)
    finally:
        terminal.close()


def _keys_on(file: Path) -> list[tuple[int, float]]:
    terminal = _terminal(file)
    try:
        terminal.until(PAINTED)
        found = []
        for key in (ON, b"1", *KEYS):
            terminal.quiet()
            found.append(terminal.whole(key))
        return found[2:]
    finally:
        terminal.close()
