"""The web server: its door before every page, our own pages, and a program with one name for each browser."""

from collections.abc import Awaitable, Callable
from html import escape
from pathlib import Path
from urllib.parse import urlsplit

import aiohttp_jinja2
import jinja2
from aiohttp import web
from textual_serve import server
from textual_serve.app_service import AppService

from sitelog.cli.serving.door import LOOPBACK, Door
from sitelog.text import clean

PAGES = Path(__file__).parent / "page"
TOKEN = "sitelog"
MOST_NAME = 60
MOST_FORM = 4096  # bytes
Handler = Callable[[web.Request], Awaitable[web.StreamResponse]]


class NamedService(AppService):
    """The program of one browser, entered under the name that it came in with."""

    by = ""

    def _build_environment(self, width: int = 80, height: int = 24) -> dict[str, str]:
        environment = super()._build_environment(width, height)
        environment.pop("NO_COLOR", None)
        return environment | {"SITELOG_BY": self.by, "TERM": "xterm-256color", "LC_ALL": "C.UTF-8"}


class Server(server.Server):
    """`command` is run for each browser. `port` is the one that is listened on."""

    def __init__(self, command: str, host: str, port: int, door: Door) -> None:
        super().__init__(command, host=host, port=port, title="sitelog", templates_path=PAGES)
        self._door = door

    async def _make_app(self) -> web.Application:
        app = web.Application(middlewares=[self._guard], client_max_size=MOST_FORM)
        aiohttp_jinja2.setup(app, loader=jinja2.FileSystemLoader(PAGES), autoescape=True)
        app.add_routes(
            [
                web.get("/", self._index, name="index"),
                web.post("/start", self._start),
                web.get("/ws", self._screen),
                web.static("/static", self.statics_path),
                web.static("/page", PAGES),
            ]
        )
        app.on_response_prepare.append(_harden)
        return app

    def initialize_logging(self) -> None:
        """The terminal is for the address and the code alone."""

    @web.middleware
    async def _guard(self, request: web.Request, handler: Handler) -> web.StreamResponse:
        """Nothing goes out to who did not come in, to another site's page, or under another host's name."""
        origin = request.headers.get("Origin")
        if origin and urlsplit(origin).netloc != request.host:
            raise web.HTTPForbidden(text="Not from here.")
        if not self._door.wants_code and urlsplit(f"//{request.host}").hostname not in LOOPBACK:
            raise web.HTTPForbidden(text="Not under this name.")
        if request.path in ("/", "/start") or self._by(request):
            return await handler(request)
        raise web.HTTPForbidden(text="Open the first page and say who you are.")

    def _by(self, request: web.Request) -> str:
        return self._door.name_of(request.cookies.get(TOKEN, ""))

    async def _index(self, request: web.Request) -> web.StreamResponse:
        """The screens, or for who did not come in the question who it is."""
        if self._by(request):
            socket = f"{'wss' if request.scheme == 'https' else 'ws'}://{request.host}/ws"
            return aiohttp_jinja2.render_template("screen.html", request, {"socket": socket})
        return self._ask(request, "")

    def _ask(self, request: web.Request, wrong: str, by: str = "") -> web.Response:
        about = {"wants_code": self._door.wants_code, "wrong": wrong, "by": by}
        return aiohttp_jinja2.render_template("start.html", request, about, status=403 if wrong else 200)

    async def _start(self, request: web.Request) -> web.StreamResponse:
        """Let a browser in that says a name, and the code where one is wanted."""
        form = await request.post()
        by = clean(str(form.get("by", "")), most=MOST_NAME)
        if not by:
            return self._ask(request, "Type your name.")
        token = self._door.let_in(by, str(form.get("code", "")))
        if not token:
            return self._ask(request, "That isn't the code. Type the one on the other screen now.", by)
        answer = web.HTTPSeeOther("/")
        answer.set_cookie(TOKEN, token, httponly=True, samesite="Strict", path="/")
        raise answer

    async def _screen(self, request: web.Request) -> web.WebSocketResponse:
        """The wire of one browser's screens. When it goes, the program is told to end and keeps what was typed."""
        wire = web.WebSocketResponse(heartbeat=15, max_msg_size=1 << 16)
        await wire.prepare(request)
        service = NamedService(
            self.command,
            write_bytes=wire.send_bytes,
            write_str=wire.send_str,
            close=_closing(wire),
            download_manager=self.download_manager,
        )
        service.by = self._by(request)
        width, height = (server.to_int(request.query.get(side, ""), usual) for side, usual in SIZE.items())
        await service.start(max(width, 20), max(height, 6))
        try:
            await self._process_messages(wire, service)
        except (ValueError, LookupError, TypeError, AssertionError):
            await wire.close()  # what came isn't what our page sends
        finally:
            await service.stop()
        return wire


SIZE = {"width": 80, "height": 24}


def _closing(wire: web.WebSocketResponse) -> Callable[[], Awaitable[None]]:
    async def close() -> None:
        await wire.close()

    return close


async def _harden(request: web.Request, response: web.StreamResponse) -> None:
    """Nothing is asked of another host, framed by another page, or kept by the browser."""
    wire = f"ws://{escape(request.host)} wss://{escape(request.host)}"
    response.headers["Content-Security-Policy"] = (
        "default-src 'none'; script-src 'self'; style-src 'self' 'unsafe-inline'; font-src 'self'; "
        "img-src 'self' data:; "
        f"connect-src 'self' {wire}; form-action 'self'; base-uri 'none'; frame-ancestors 'none'"
    )
    response.headers["X-Content-Type-Options"] = "nosniff"
    response.headers["Referrer-Policy"] = "same-origin"
    response.headers["Cache-Control"] = "no-store"
