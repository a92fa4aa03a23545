"""Metres or yards, a point or a comma: chosen in the address, kept by every link, and followed by every length of the pages."""

from __future__ import annotations

import re
from urllib.parse import parse_qsl, urlsplit

import pytest
from starlette.testclient import TestClient

from tests.desk.test_every_page import EVERY
from tests.desk.test_without_script import links

PATH = (
    "/ruling?course=thimble-moor&hole=15&situation=immovable-obstruction&x=378.26&y=-216.09&hand=right&club=iron&longest=45"
    "&book=2023&book=2016"
)
READ = "lengths=yards&decimal=comma"
METRES = re.compile(r"[\d.,]+ m²?(?![\w²])(?! [NSEW]\b)")


def words(page: str) -> str:
    return re.sub("<[^>]+>", "\n", page)


@pytest.mark.parametrize("path", EVERY)
def test_no_length_stays_in_metres(client: TestClient, path: str) -> None:
    page = client.get(f"{path}&{READ}").text
    assert METRES.findall(words(page)) == []
    assert not re.search(r"\d\.\d+ yd", words(page))


def test_every_length_is_its_metres_over_0_9144_and_the_words_are_the_same(client: TestClient) -> None:
    told, asked = words(client.get(PATH).text), words(client.get(f"{PATH}&{READ}").text)
    metres = re.findall(r"one club-length \((\d+\.\d+) m\)", told)
    yards = re.findall(r"one club-length \((\d+,\d+) yd\)", asked)
    assert len(metres) == len(yards) > 2
    assert {f"{float(each) / 0.9144:.2f}".replace(".", ",") for each in metres} == set(yards)
    areas = re.findall(r"(\d+\.\d+) m²\s*\n", told)
    assert [f"{float(each) / 0.9144**2:.2f}".replace(".", ",") for each in areas] == re.findall(r"(\d+,\d+) yd²\s*\n", asked)


def test_the_choice_is_kept_by_every_link_and_taken_back(client: TestClient) -> None:
    page = client.get(f"{PATH}&{READ}").text
    stated = [dict(parse_qsl(urlsplit(link).query)) for link in links(page) if link.startswith(("/ruling?", "/drop?", "/search?", "/?"))]
    assert len(stated) > 8
    assert sum(each.get("lengths") != "yards" for each in stated) == 1
    assert sum(each.get("decimal") != "comma" for each in stated) == 1
    assert 'name="lengths" value="yards"' in page


def test_the_drawing_has_its_scale_in_yards_and_its_coordinates_in_metres(client: TestClient) -> None:
    page = client.get(f"{PATH}&{READ}").text
    drawing = page.partition('<svg class="drawing"')[2] or page[page.index("data-bounds") :]
    assert re.search(r">[\d,]+ yd</text>", drawing)
    assert re.search(r">[−\d]+ m [EN]</text>", drawing)


def test_a_length_may_be_typed_in_yards_and_a_coordinate_not(client: TestClient) -> None:
    """20 yd are 18.288 m, told as 18.29 m."""
    at = "/ruling?course=thimble-moor&hole=7&situation=unplayable&longest=45"
    assert "18.29 m before the green, 1.37 m right" in client.get(f"{at}&before=20 yd&right=1,5yd").text  # 1.5 x 0.9144 = 1.3716
    assert client.get(f"{at}&x=20 yd&y=80").status_code == 422
    assert client.get(f"{at}&before=yd").status_code == 422
    assert client.get(f"{at}&before=20&longest=45 yd").status_code == 422
