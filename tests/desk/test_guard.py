"""Nobody comes in without the start token, under another name, or from another page; every route and the socket is tried."""

from __future__ import annotations

from collections.abc import Iterator

import pytest
from starlette.routing import BaseRoute, Route, WebSocketRoute
from starlette.testclient import TestClient
from starlette.websockets import WebSocketDisconnect

from marram.desk.pages.page import Desk
from marram.desk.server.desk_app import make_app
from marram.desk.server.guard import LARGEST_BODY_BYTES, POLICY, TOKEN, Door
from tests.desk.conftest import AT, PORT, SOCKETS_AT, DoneHere

FOREIGN = "http://elsewhere.example"


def all_routes() -> list[BaseRoute]:
    """The routes of the application as it is, so that a new one is tried by itself."""
    return list(make_app(DoneHere(None), Door(port=PORT)).routes)  # type: ignore[arg-type]


def requests() -> Iterator[tuple[str, str]]:
    """Method and path of every route that answers requests."""
    for route in all_routes():
        if isinstance(route, Route):
            yield from ((method, route.path.replace("{name}", "desk.js")) for method in sorted(route.methods or ()))


def sockets() -> list[str]:
    return [route.path for route in all_routes() if isinstance(route, WebSocketRoute)]


REQUESTS, SOCKETS = list(requests()), sockets()


def test_the_routes_are_those_that_are_tried() -> None:
    assert len(REQUESTS) + len(SOCKETS) >= len(all_routes())
    assert {("GET", "/"), ("GET", "/ruling"), ("GET", "/ask"), ("POST", "/api/rule"), ("GET", "/static/desk.js")} <= set(REQUESTS)
    assert SOCKETS == ["/moving"]


@pytest.mark.parametrize(("method", "path"), REQUESTS)
def test_a_request_without_the_token_is_refused(stranger: TestClient, method: str, path: str) -> None:
    stranger.cookies.clear()
    for headers in ({}, {"origin": AT}, {"cookie": f"marram-desk-{PORT}=guessed"}, {"cookie": "marram-desk-1=x; ;=,"}):
        assert stranger.request(method, path, headers=headers).status_code == 403
    assert stranger.request(method, path, params={TOKEN: "guessed"}, headers={"origin": AT}).status_code == 403


@pytest.mark.parametrize(("method", "path"), REQUESTS)
def test_a_request_under_another_name_is_refused(client: TestClient, method: str, path: str) -> None:
    for host in ("elsewhere.example", f"elsewhere.example:{PORT}", f"127.0.0.1:{PORT + 1}", "127.0.0.1", "0.0.0.0", ""):
        assert client.request(method, path, headers={"host": host, "origin": f"http://{host}"}).status_code == 403


@pytest.mark.parametrize(("method", "path"), REQUESTS)
def test_a_request_from_another_page_is_refused(client: TestClient, method: str, path: str) -> None:
    for origin in (FOREIGN, "null", f"https://127.0.0.1:{PORT}", f"http://127.0.0.1:{PORT + 1}", f"http://localhost:{PORT}"):
        assert client.request(method, path, headers={"origin": origin}).status_code == 403


@pytest.mark.parametrize(("method", "path"), REQUESTS)
def test_whoever_holds_the_token_comes_in_and_every_answer_is_sealed(client: TestClient, method: str, path: str) -> None:
    answer = client.request(method, path)
    assert answer.status_code != 403
    assert answer.headers["content-security-policy"] == POLICY
    assert answer.headers["x-content-type-options"] == "nosniff"
    assert answer.headers["referrer-policy"] == "same-origin"


def test_what_changes_or_asks_by_body_needs_an_origin(client: TestClient) -> None:
    del client.headers["origin"]
    try:
        assert client.post("/api/rule", content="{}").status_code == 403
        assert client.get("/api/situations").status_code == 200
    finally:
        client.headers["origin"] = AT


@pytest.mark.parametrize("path", SOCKETS)
@pytest.mark.parametrize(
    "headers",
    [
        {"origin": FOREIGN},
        {"origin": "null"},
        {"host": f"elsewhere.example:{PORT}", "origin": f"http://elsewhere.example:{PORT}"},
        {"cookie": "marram-desk-8642=guessed"},
    ],
)
def test_a_socket_is_refused(stranger: TestClient, client: TestClient, path: str, headers: dict[str, str]) -> None:
    asked = stranger if "cookie" in headers else client
    stranger.cookies.clear()
    with pytest.raises(WebSocketDisconnect) as refused, asked.websocket_connect(SOCKETS_AT + path, headers={"origin": AT, **headers}):
        pass
    assert refused.value.code == 1008
    with client.websocket_connect(SOCKETS_AT + path, headers={"origin": AT}):
        pass  # the same without what was wrong is let in


def test_a_socket_without_an_origin_or_with_the_token_alone_is_refused(stranger: TestClient, client: TestClient, door: Door) -> None:
    del client.headers["origin"]
    try:
        with pytest.raises(WebSocketDisconnect), client.websocket_connect(f"{SOCKETS_AT}/moving"):
            pass
    finally:
        client.headers["origin"] = AT
    stranger.cookies.clear()
    with (
        pytest.raises(WebSocketDisconnect),
        stranger.websocket_connect(f"{SOCKETS_AT}/moving?{TOKEN}={door.token}", headers={"origin": AT}),
    ):
        pass


def test_the_printed_address_gives_the_browser_what_it_holds_and_leaves_no_token(stranger: TestClient, door: Door) -> None:
    stranger.cookies.clear()
    answer = stranger.get(f"/ruling?hole=7&{TOKEN}={door.token}&x=1")
    assert answer.status_code == 303
    assert answer.headers["location"] == "/ruling?hole=7&x=1"
    told = answer.headers["set-cookie"].lower()
    assert "httponly" in told
    assert "samesite=strict" in told
    assert door.token not in answer.headers["set-cookie"]
    assert door.held in answer.headers["set-cookie"]
    stranger.cookies.clear()


def test_the_address_is_told_on_loopback_alone(door: Door) -> None:
    assert door.address.startswith(f"http://127.0.0.1:{PORT}/?")
    assert Door(port=1).token != Door(port=1).token
    assert len(door.token) >= 32


def test_a_request_that_is_too_large_is_refused(client: TestClient) -> None:
    answer = client.post("/api/rule", content=b" " * (LARGEST_BODY_BYTES + 1))
    assert answer.status_code == 413
    assert answer.json()["schema"] == "marram.error/1"
    assert client.post("/api/rule", content=b" " * LARGEST_BODY_BYTES).status_code == 400


def test_the_policy_lets_nothing_stand_in_a_page_itself(client: TestClient, examples_desk: Desk) -> None:
    assert "unsafe" not in POLICY
    assert "data:" not in POLICY
    for path in ("/", "/ruling?hole=7", "/ask?words=bunker"):
        text = client.get(path).text
        assert " style=" not in text
        assert "<style" not in text
        assert " on" not in {word.partition("=")[0] for word in text.split("<") if word.startswith("on")}
        assert "<script>" not in text
