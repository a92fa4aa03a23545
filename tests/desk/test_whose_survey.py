"""Whose survey a drawn course rests on stands on every page that draws it: the licence of open map data asks for that."""

from __future__ import annotations

import json
from pathlib import Path

import pytest
from starlette.testclient import TestClient

from marram.desk.rulings.ruling_process import DeskAsked, open_desk
from marram.desk.server.desk_app import make_app
from marram.desk.server.guard import TOKEN, Door
from tests.desk.conftest import AT, EXAMPLES, DoneHere

WHOSE = "Map data © an invented survey, <open> licence"
COURSE = "thimble-moor"


@pytest.fixture(scope="module")
def surveyed(tmp_path_factory: pytest.TempPathFactory, door: Door) -> TestClient:
    """The desk on a course whose file says whose survey it is."""
    folder = tmp_path_factory.mktemp("surveyed")
    course = json.loads((EXAMPLES / "courses" / f"{COURSE}.geojson").read_text(encoding="utf-8"))
    course["course"]["attribution"] = WHOSE
    (folder / f"{COURSE}.geojson").write_text(json.dumps(course), encoding="utf-8")
    made = TestClient(make_app(DoneHere(open_desk(DeskAsked(folder=Path(folder)))), door), base_url=AT, headers={"origin": AT})
    made.get("/", params={TOKEN: door.token}, follow_redirects=False)
    return made


@pytest.mark.parametrize(
    "address",
    [
        "/",
        f"/ruling?course={COURSE}&hole=7",
        f"/ruling?course={COURSE}&hole=7&before=30&right=10",
        f"/ruling?course={COURSE}&hole=7&situation=penalty-area&x=-383.38&y=117.5&longest=45",
    ],
)
def test_whose_survey_it_is_stands_on_each_page_with_a_map_as_text(surveyed: TestClient, address: str) -> None:
    page = surveyed.get(address).text
    assert page.count("Map data © an invented survey, &lt;open&gt; licence</p>") == 1


def test_a_page_says_where_a_ball_lies_without_a_gap_before_the_full_stop(client: TestClient) -> None:
    page = " ".join(client.get(f"/ruling?course={COURSE}&hole=7&before=30&right=10").text.split())
    assert "of the line." in page
    assert "of the line ." not in page
