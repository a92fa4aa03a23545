"""The marking and the places to show, as their pages tell them: the numbers of the check, on the plan as in the list."""

from __future__ import annotations

import re

import pytest
from starlette.testclient import TestClient

from marram.desk.pages.page import Desk
from marram.office.at_desk.desk_folder import Holding
from marram.office.at_desk.stated_case import open_books
from marram.office.courses.check_marking import check_marking
from marram.office.open_course import OpenCourse

SQUARE = re.compile(r'<g class="place">.*?<text[^>]*>(\d+)</text>')


def wide(page: str) -> str:
    return page.partition('class="on-wide"')[2].partition('class="on-phone"')[0]


@pytest.fixture(scope="module")
def marking(client: TestClient) -> str:
    return client.get("/ground/marking?course=thimble-moor").text


def test_the_marking_tells_the_places_of_the_check(marking: str, examples_desk: Desk) -> None:
    survey = examples_desk.room.survey(examples_desk.folder.file(Holding.COURSE, "thimble-moor"))
    books = open_books(examples_desk.room, examples_desk.folder, ("2023",))
    check = check_marking(OpenCourse(course=survey, day=None), books, longest_club_in=46.0, tolerance_m=0.10)
    serious = [place for place in check.under[0].places if place.is_serious]
    told = re.findall(r"<b>Hole (\d+), ([^<]+)</b>", marking)
    assert [(str(place.hole), place.feature.id) for place in serious] == told
    listed = re.findall(r'<span class="fn">(\d+)</span>', marking)
    assert listed == [str(number) for number in range(1, len(serious) + 1)]
    assert sorted(map(int, SQUARE.findall(wide(marking)))) == list(range(1, len(serious) + 1))


def test_a_place_leads_to_a_ball_there_and_to_a_dropping_zone(marking: str, client: TestClient) -> None:
    ball, zone = (link.replace("&amp;", "&") for link in re.findall(r'href="((?:/ruling|/ground/today)\?[^"]*x=[^"]*)"', marking)[:2])
    assert client.get(ball).status_code == 200
    page = client.get(zone).text
    assert '<option value="dropping-zone" selected>' in page
    assert re.search(r'<option value="[^"]+" selected>pond-9', page)


@pytest.mark.parametrize(
    ("query", "told"), [("longest=400", "cannot be"), ("longest=x", "is no number"), ("tolerance=0", "cannot be used")]
)
def test_a_length_that_cannot_be_is_told(client: TestClient, query: str, told: str) -> None:
    answer = client.get(f"/ground/marking?course=thimble-moor&{query}")
    assert answer.status_code == 422
    assert told in answer.text


def test_places_to_show_are_numbered_and_lead_to_their_rulings(client: TestClient) -> None:
    page = client.get("/ground/places?course=thimble-moor&procedure=penalty-area-lateral-red&count=3").text
    assert re.findall(r'<span class="fn">(\d+)</span>', page) == ["1", "2", "3"]
    assert sorted(SQUARE.findall(wide(page))) == ["1", "2", "3"]
    links = [link.replace("&amp;", "&") for link in re.findall(r'href="(/ruling\?[^"]*situation=[^"]*)"', page)]
    assert len(links) == 3
    for link in links:
        ruled = client.get(link)
        assert ruled.status_code == 200
        assert "Lateral relief" in ruled.text


@pytest.mark.parametrize(
    ("query", "told"),
    [
        ("procedure=nonsense", "no procedure"),
        ("procedure=penalty-area-lateral-red&count=0", "cannot be looked for"),
        ("procedure=penalty-area-lateral-red&count=99", "Give 1 to 12"),
    ],
)
def test_what_cannot_be_looked_for_is_told(client: TestClient, query: str, told: str) -> None:
    answer = client.get(f"/ground/places?course=thimble-moor&{query}")
    assert answer.status_code == 422
    assert told in answer.text


def test_where_there_is_none_the_page_says_why(client: TestClient) -> None:
    page = client.get("/ground/places?course=thimble-moor&procedure=young-trees-in-penalty-area").text
    assert "No place was found" in page
