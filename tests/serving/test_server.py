"""What goes out to a browser before it came in, after, and to another site's page."""

from collections.abc import AsyncIterator

import pytest
import pytest_asyncio
from aiohttp import ClientSession, CookieJar
from aiohttp.test_utils import TestServer

from sitelog.cli.serving.door import Door
from sitelog.cli.serving.server import Server

HIDDEN = ("/ws", "/static/js/textual.js", "/page/screen.js", "/page/start.html", "/nothing")
pytestmark = pytest.mark.asyncio


class At:
    """A server on this machine that takes its host to be `host`, and one browser."""

    def __init__(self, host: str) -> None:
        self.codes: list[str] = []
        self.server = Server("true", host, 0, Door(host, self.codes.append))
        self.browser = ClientSession(cookie_jar=CookieJar(unsafe=True))

    async def begin(self) -> None:
        self.web = TestServer(await self.server._make_app())
        await self.web.start_server()

    async def get(self, path: str, **headers: str) -> tuple[int, str]:
        async with self.browser.get(self.web.make_url(path), headers=headers) as answer:
            return answer.status, await answer.text()

    async def start(self, **form: str) -> tuple[int, str]:
        async with self.browser.post(self.web.make_url("/start"), data=form) as answer:
            return answer.status, await answer.text()


@pytest_asyncio.fixture
async def home() -> AsyncIterator[At]:
    async for at in _served("127.0.0.1"):
        yield at


@pytest_asyncio.fixture
async def away() -> AsyncIterator[At]:
    async for at in _served("192.168.1.20"):
        yield at


async def _served(host: str) -> AsyncIterator[At]:
    at = At(host)
    await at.begin()
    yield at
    await at.browser.close()
    await at.web.close()


async def test_nothing_but_the_question_goes_out_before_a_name(home: At) -> None:
    assert "Your name" in (await home.get("/"))[1]
    for path in HIDDEN:
        assert (await home.get(path))[0] == 403, path
    status, page = await home.start(by="  ")
    assert (status, "Type your name." in page) == (403, True)
    status, page = await home.start(by="M. Reed")
    assert (status, "textual-terminal" in page) == (200, True)
    assert (await home.get("/page/screen.js"))[0] == 200


async def test_away_from_this_machine_nothing_goes_out_without_the_code(away: At) -> None:
    assert "Code on the other screen" in (await away.get("/"))[1]
    status, page = await away.start(by="M. <b>Reed", code="AAAA-AAAA")
    assert (status, "That isn&#39;t the code" in page, "<b>" in page) == (403, True, False)
    assert (await away.get("/ws"))[0] == 403
    status, page = await away.start(by="M. Reed", code=away.codes[-1])
    assert (status, "textual-terminal" in page) == (200, True)


async def test_a_page_of_another_site_gets_nothing(home: At) -> None:
    await home.start(by="M. Reed")
    for path in ("/", "/ws", "/page/screen.js"):
        assert (await home.get(path, Origin="http://elsewhere.example"))[0] == 403
    assert (await home.get("/", Host="elsewhere.example:80"))[0] == 403, "a name that was bent to this machine"


async def test_a_browser_is_told_to_ask_no_other_host(home: At) -> None:
    async with home.browser.get(home.web.make_url("/")) as answer:
        policy = answer.headers["Content-Security-Policy"]
        assert answer.headers["Cache-Control"] == "no-store"
    assert policy.startswith("default-src 'none'; script-src 'self'")
    assert "http" not in policy
