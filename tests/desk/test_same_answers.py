"""One ruling from desk, command line and page; what cannot be answered is told in the usual shape, and no path crosses the wire."""

from __future__ import annotations

import json
import tomllib
from functools import cache
from html import escape
from pathlib import Path

import pytest
from starlette.testclient import TestClient

from marram.desk.pages.case_address import Address, address_of_incident
from tests.desk.conftest import EXAMPLES
from tests.support.running import marram

COURSE = EXAMPLES / "courses" / "thimble-moor.geojson"
INCIDENTS = sorted((EXAMPLES / "incidents").glob("*.toml"))
BOOKS = ("2023", "2016", "2023+fixed-lengths")


@cache
def on_the_command_line(incident: Path) -> str:
    books = ("2023", "2016", f"2023+{EXAMPLES / 'trials' / 'fixed-lengths.toml'}")
    return marram("rule", str(incident), "--course", str(COURSE), *(word for book in books for word in ("--book", book)), "--json").stdout


@pytest.mark.parametrize("incident", INCIDENTS, ids=lambda path: path.stem)
def test_a_ruling_is_the_command_lines_to_the_byte(client: TestClient, incident: Path) -> None:
    members = tomllib.loads(incident.read_text(encoding="utf-8"))
    answer = client.post("/api/rule", json={"course": "thimble-moor", "books": BOOKS, "incident": members})
    assert answer.status_code == 200, answer.text
    assert answer.text == on_the_command_line(incident)


def _address(incident: Path) -> Address | None:
    return address_of_incident(tomllib.loads(incident.read_text(encoding="utf-8")), course="thimble-moor")


def test_all_incidents_can_be_put_into_an_address() -> None:
    assert [incident.stem for incident in INCIDENTS if _address(incident) is None] == []


@pytest.mark.parametrize("incident", [incident for incident in INCIDENTS if _address(incident)], ids=lambda path: path.stem)
def test_a_page_shows_every_option_of_the_ruling(client: TestClient, incident: Path) -> None:
    address = _address(incident)
    assert address is not None
    ruled = json.loads(on_the_command_line(incident))["books"][0]
    page = client.get(address.put(book=BOOKS).link("/ruling")).text
    for option in ruled["options"]:
        assert escape(option["title"]) in page
        if option["relief_area"] is not None:
            assert f"{option['relief_area']['area_m2']:.2f} m²" in page
    for entry in ruled["not_available"]:
        assert escape(entry["because"], quote=False) in page.replace("&#39;", "'").replace("&#34;", '"')
    for book in json.loads(on_the_command_line(incident))["books"]:
        assert book["stamp"] in page


def test_two_times_the_same_address_gives_the_same_page(client: TestClient) -> None:
    address = "/ruling?course=thimble-moor&hole=7&situation=penalty-area&x=-383.38&y=117.5&longest=45"
    assert client.get(address).text == client.get(address).text


@pytest.mark.parametrize(
    ("body", "code"),
    [
        ({"course": "no-such-course", "incident": {"hole": 7, "situation": "lost", "ball": {"lost": True}}}, "data"),
        ({"course": "../courses/thimble-moor", "incident": {"hole": 7, "situation": "lost", "ball": {"lost": True}}}, "data"),
        ({"course": str(COURSE), "incident": {"hole": 7, "situation": "lost", "ball": {"lost": True}}}, "data"),
        (
            {"course": "thimble-moor", "books": [f"2023+{COURSE}"], "incident": {"hole": 7, "situation": "lost", "ball": {"lost": True}}},
            "data",
        ),
        ({"course": "thimble-moor", "books": ["1723"], "incident": {"hole": 7, "situation": "lost", "ball": {"lost": True}}}, "rule_data"),
        ({"course": "thimble-moor", "incident": {"hole": 7, "situation": "lost"}}, "data"),
        ({"course": "thimble-moor", "incident": {"hole": 99, "situation": "lost", "ball": {"lost": True}}}, "survey"),
        ({"course": "thimble-moor", "incident": {"hole": 7, "situation": "gone", "ball": {"lost": True}}}, "incident"),
        ({"course": "thimble-moor", "incident": {"hole": 7, "situation": "lost", "ball": {"x_m": 9e9, "y_m": 0.0}}}, "incident"),
        ({"course": "thimble-moor", "incident": {"hole": "x", "situation": "lost", "ball": {}}}, "incident"),
    ],
)
def test_what_cannot_be_ruled_is_told_in_the_usual_shape(client: TestClient, body: dict[str, object], code: str) -> None:
    answer = client.post("/api/rule", json=body)
    assert answer.status_code == 422
    assert answer.json()["schema"] == "marram.error/1"
    assert answer.json()["error"]["code"] == code
    assert str(EXAMPLES.parent) not in answer.json()["error"]["message"].replace(str(COURSE), "")


@pytest.mark.parametrize("body", ["", "{", "[]", '{"course": 7, "incident": {}}', '{"course": "a", "incident": {}, "file": "b"}'])
def test_what_cannot_be_read_is_told_too(client: TestClient, body: str) -> None:
    answer = client.post("/api/rule", content=body)
    assert answer.status_code == 400
    assert answer.json()["error"]["code"] == "usage"


def test_the_situations_are_the_command_lines(client: TestClient) -> None:
    assert client.get("/api/situations").text == marram("rule", "--situations", "--book", "2023", "--json").stdout


def test_every_address_for_programs_is_described(client: TestClient) -> None:
    told = client.get("/api").json()
    assert told["openapi"].startswith("3.1")
    assert set(told["paths"]) == {"/api/rule", "/api/situations"}
    assert {"CaseBody", "RulingAnswers", "ErrorAnswer"} <= set(told["components"]["schemas"])


def test_nothing_at_an_address_is_told_without_a_traceback(client: TestClient) -> None:
    for path in ("/nothing", "/static/nothing.js", "/static/..%2fdesk.css", "/static/style_sheet.py"):
        answer = client.get(path)
        assert answer.status_code == 404
        assert answer.json()["schema"] == "marram.error/1"
