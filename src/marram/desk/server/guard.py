"""Who may come in: whoever holds the start token, from this very address, by a request of ordinary size.

A page of another origin in the same browser can send requests to this machine, open sockets and, by a name that it lets point here, look
like this origin. So the host must be one of ours, the origin of everything that is not merely looked at must be ours, and the token is
asked for always.
"""

from __future__ import annotations

import secrets
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field
from http.cookies import CookieError, SimpleCookie
from urllib.parse import parse_qsl, urlencode

from starlette.types import ASGIApp, Message, Receive, Scope, Send

from marram.answers.error_answer import usage_answer
from marram.answers.shape import json_text

LARGEST_BODY_BYTES = 1024 * 1024
TOKEN = "token"
_ONLY_LOOKS = frozenset({"GET", "HEAD"})
POLICY = (
    "default-src 'none'; script-src 'self'; style-src 'self'; img-src 'self'; connect-src 'self'; form-action 'self'; "
    "frame-ancestors 'none'; base-uri 'none'"
)
# A browser that is told to send no referrer names no origin either when it posts a form, and the guard would take it for a stranger.
SAFE_HEADERS = (
    (b"content-security-policy", POLICY.encode()),
    (b"x-content-type-options", b"nosniff"),
    (b"referrer-policy", b"same-origin"),
    (b"cross-origin-opener-policy", b"same-origin"),
    (b"cross-origin-resource-policy", b"same-origin"),
    (b"cache-control", b"no-store"),
)


class TooLarge(Exception):
    """A request that is larger than any that the desk reads."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Door:
    """What a request must bring.

    Attributes:
        port: The port that the desk listens on.
        token: What the printed address carries.
        held: What the browser holds from then on, so that the token stands in no address that is kept or shown.
    """

    port: int
    token: str = field(default_factory=lambda: secrets.token_urlsafe(24))
    held: str = field(default_factory=lambda: secrets.token_urlsafe(24))

    @property
    def hosts(self) -> frozenset[str]:
        """Names under which the desk may be asked for."""
        return frozenset(f"{name}:{self.port}" for name in ("127.0.0.1", "localhost"))

    @property
    def cookie(self) -> str:
        """Name of the cookie; each desk of a machine has its own."""
        return f"marram-desk-{self.port}"

    @property
    def address(self) -> str:
        """The address that opens the desk."""
        return f"http://127.0.0.1:{self.port}/?{urlencode({TOKEN: self.token})}"


class Guard:
    """Stands before the application: refuses what does not belong in, and seals what goes out."""

    def __init__(self, app: ASGIApp, door: Door, largest: Mapping[str, int] | None = None) -> None:
        self.app = app
        self.door = door
        self.largest = largest or {}

    async def __call__(self, scope: Scope, receive: Receive, send: Send) -> None:
        """Let a request or a socket in, or refuse it."""
        if scope["type"] == "lifespan":
            await self.app(scope, receive, send)
            return
        if why := self._refused(scope):
            await _refuse(scope, send, 403, why)
            return
        if scope["type"] == "websocket":
            await self.app(scope, receive, send)
            return
        largest = self.largest.get(scope["path"], LARGEST_BODY_BYTES)
        try:
            await self.app(scope, _limited(receive, largest), _sealed(send))
        except TooLarge:
            await _refuse(scope, send, 413, f"A request to this address may hold {largest // 1024} kB.")

    def _refused(self, scope: Scope) -> str:
        """Why a request is not let in; empty where it is."""
        hosts, origins = _headers(scope, b"host"), _headers(scope, b"origin")
        if len(hosts) != 1 or hosts[0].lower() not in self.door.hosts:
            return "The desk answers under its own address alone."
        only_looks = scope["type"] == "http" and scope["method"] in _ONLY_LOOKS
        if origins != [f"http://{hosts[0]}"] and (origins or not only_looks):
            return "The request comes from another page than the desk's own."
        if not self._holds_token(scope):
            return "Open the desk by the address that was printed when it was started: it carries the start token."
        return ""

    def _holds_token(self, scope: Scope) -> bool:
        held = any(secrets.compare_digest(value.encode(), self.door.held.encode()) for value in _cookies(scope, self.door.cookie))
        return held or self._brings_token(scope)

    def _brings_token(self, scope: Scope) -> bool:
        """Whether a request that only looks brings the start token in its address."""
        if scope["type"] != "http" or scope["method"] not in _ONLY_LOOKS:
            return False
        brought = [value for name, value in parse_qsl(scope["query_string"].decode("latin-1")) if name == TOKEN]
        return any(secrets.compare_digest(value.encode(), self.door.token.encode()) for value in brought)


def _headers(scope: Scope, name: bytes) -> list[str]:
    return [value.decode("latin-1") for key, value in scope["headers"] if key.lower() == name]


def _cookies(scope: Scope, name: str) -> Iterator[str]:
    for header in _headers(scope, b"cookie"):
        try:
            found = SimpleCookie(header).get(name)
        except CookieError:
            continue
        if found is not None:
            yield found.value


def _limited(receive: Receive, largest: int) -> Receive:
    """Reads no more of a request than any may hold."""
    read = 0

    async def limited() -> Message:
        nonlocal read
        message = await receive()
        read += len(message.get("body", b""))
        if read > largest:
            raise TooLarge
        return message

    return limited


def _sealed(send: Send) -> Send:
    """Puts the headers that keep a page to itself on every answer."""

    async def sealed(message: Message) -> None:
        if message["type"] == "http.response.start":
            message = {**message, "headers": [*message.get("headers", ()), *SAFE_HEADERS]}
        await send(message)

    return sealed


async def _refuse(scope: Scope, send: Send, status: int, why: str) -> None:
    if scope["type"] == "websocket":
        await send({"type": "websocket.close", "code": 1008, "reason": why[:120]})
        return
    told = (json_text(usage_answer(why, where="desk", hint="See docs/how-to/the-desk.md.")) + "\n").encode()
    kind = [(b"content-type", b"application/json"), (b"content-length", str(len(told)).encode())]
    await send({"type": "http.response.start", "status": status, "headers": [*kind, *SAFE_HEADERS]})
    await send({"type": "http.response.body", "body": told})
