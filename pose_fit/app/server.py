"""The app as a server: Streamlit's, behind our own checks of who is asking and what may be shown."""

import gc
import os
import secrets
from collections.abc import AsyncIterator, Iterable, Mapping
from contextlib import asynccontextmanager
from http.cookies import CookieError, SimpleCookie
from pathlib import Path
from typing import Final

from starlette.datastructures import Headers, MutableHeaders
from starlette.middleware import Middleware
from starlette.requests import Request
from starlette.responses import PlainTextResponse, Response
from starlette.routing import Route
from starlette.types import ASGIApp, Message, Receive, Scope, Send
from streamlit.starlette import App

from pose_fit.app.turns import workers_running
from pose_fit.app.visits import BROWSER_COOKIE

__all__ = [
    "HOSTS_VARIABLE",
    "MIDDLEWARE",
    "ROUTES",
    "Guard",
    "allowed_hosts",
    "app",
    "host_of",
    "running",
]

#: Environment variable with the names under which the app is reached through a proxy, by commas.
HOSTS_VARIABLE: Final = "POSE_FIT_HOSTS"
_ICON: Final = Path(__file__).with_name("icon.svg")
_THIS_MACHINE: Final = ("localhost", "127.0.0.1", "[::1]")

#: Everything comes from the app itself; pictures also as the page's own data. Streamlit sets styles
#: and starts its own workers from the page, which needs what is allowed here. Nobody frames it but
#: itself (the picture that is clicked is a frame).
_POLICY: Final = "; ".join(
    (
        "default-src 'self'",
        "script-src 'self' 'unsafe-inline' 'unsafe-eval' 'wasm-unsafe-eval' blob:",
        "style-src 'self' 'unsafe-inline'",
        "img-src 'self' data: blob:",
        "font-src 'self' data:",
        "media-src 'self' blob: data:",
        "worker-src 'self' blob:",
        "connect-src 'self' ws: wss: data: blob:",
        "frame-src 'self' data: blob:",
        "object-src 'none'",
        "base-uri 'self'",
        "form-action 'self'",
        "frame-ancestors 'self'",
    )
)
_HEADERS: Final[Mapping[str, str]] = {
    "Content-Security-Policy": _POLICY,
    "X-Frame-Options": "SAMEORIGIN",
    "X-Content-Type-Options": "nosniff",
    "Referrer-Policy": "no-referrer",
    "Permissions-Policy": "geolocation=(), microphone=(), payment=(), usb=()",
    "Cross-Origin-Opener-Policy": "same-origin",
}


def allowed_hosts(named: str) -> frozenset[str]:
    """This machine's own names, and those that the shop named."""
    return frozenset((*_THIS_MACHINE, *(h.strip().lower() for h in named.split(",") if h.strip())))


def host_of(header: str) -> str:
    """The name in a ``Host`` header, its port left out."""
    name = header.strip().lower()
    if name.startswith("["):
        return name[: name.find("]") + 1]
    return name.rsplit(":", 1)[0] if name.count(":") == 1 else name


class Guard:
    """Refuses foreign hosts, adds policies to every answer, and gives each browser its secret.

    A page of another site can point a name of its own at this machine (DNS rebinding); then
    ``Origin`` and ``Host`` agree with each other, and only the list of our names tells.
    """

    def __init__(self, app: ASGIApp, *, hosts: Iterable[str]) -> None:
        self._app = app
        self._hosts = frozenset(hosts)

    async def __call__(self, scope: Scope, receive: Receive, send: Send) -> None:
        """One request or WebSocket."""
        if scope["type"] not in ("http", "websocket"):
            await self._app(scope, receive, send)
            return
        headers = Headers(scope=scope)
        if host_of(headers.get("host", "")) not in self._hosts:
            await _turn_away(scope, receive, send)
            return
        is_new = not _has_secret(headers)

        async def send_guarded(message: Message) -> None:
            if message["type"] == "http.response.start":
                answer = MutableHeaders(scope=message)
                for name, value in _HEADERS.items():
                    answer[name] = value
                if is_new:
                    answer.append("Set-Cookie", _new_secret(scope))
            await send(message)

        await self._app(scope, receive, send_guarded)


async def _turn_away(scope: Scope, receive: Receive, send: Send) -> None:
    if scope["type"] == "websocket":
        await receive()
        # Before it is accepted, which the client reads as 403.
        await send({"type": "websocket.close", "code": 1008})
        return
    response = PlainTextResponse("This name is not served here.", status_code=421)
    await response(scope, receive, send)


def _has_secret(headers: Headers) -> bool:
    try:
        cookies = SimpleCookie(headers.get("cookie", ""))
    except CookieError:
        return False
    return BROWSER_COOKIE in cookies and len(cookies[BROWSER_COOKIE].value) >= 22


def _new_secret(scope: Scope) -> str:
    secure = "; Secure" if scope.get("scheme") == "https" else ""
    value = secrets.token_urlsafe(16)
    return f"{BROWSER_COOKIE}={value}; Path=/; HttpOnly; SameSite=Strict{secure}"


@asynccontextmanager
async def running(server: object) -> AsyncIterator[None]:
    """From the start of the server to its end: the workers, and every page loaded."""
    async with workers_running(server):
        # Not above: the pages ask for Streamlit's caches, which are there only now.
        import pose_fit.app.site  # noqa: F401

        # Streamlit collects garbage after every run of a page. To look through what is loaded for
        # good took half of the time of a run.
        gc.collect()
        gc.freeze()
        yield


async def _icon(_request: Request) -> Response:
    # Not as a file: Streamlit compresses what it sends, and breaks off where that is a picture file.
    return Response(_ICON.read_bytes(), media_type="image/svg+xml")


MIDDLEWARE: Final = (Middleware(Guard, hosts=allowed_hosts(os.environ.get(HOSTS_VARIABLE, ""))),)
ROUTES: Final = (Route("/favicon.ico", _icon), Route("/favicon.png", _icon))

app = App(
    Path(__file__).with_name("entry.py"),
    middleware=MIDDLEWARE,
    routes=ROUTES,
    lifespan=running,
)
