"""Acts, things, the drop and the search as pages: what they say is what the command line says, step by step."""

from __future__ import annotations

import json
import re
from html import unescape
from pathlib import Path
from urllib.parse import parse_qsl, urlsplit

import pytest
from starlette.testclient import TestClient

from tests.desk.conftest import EXAMPLES
from tests.desk.test_without_script import links
from tests.support.running import marram

COURSE = EXAMPLES / "courses" / "thimble-moor.geojson"


def shown(page: str) -> str:
    """The words of a page."""
    return " ".join(unescape(re.sub(r"<[^>]+>", " ", page)).split())


@pytest.mark.parametrize("act", ["wrong-ball", "anchored-stroke", "advice", "penalty-area-ground-club"])
def test_an_act_is_told_as_the_command_line_tells_it(client: TestClient, act: str) -> None:
    page = client.get(f"/act?act={act}&book=2023&book=2016").text
    told = marram("act", act, "--book", "2023", "--book", "2016").stdout
    verdicts = re.findall(r"(?:disqualified|two penalty strokes|one penalty stroke|loss of hole|no penalty)", told)
    assert verdicts
    for verdict in set(verdicts):
        assert verdict in shown(page)


def test_an_answer_settles_what_an_act_turns_on(client: TestClient) -> None:
    asked = client.get("/act?act=wrong-ball&book=2023").text
    late = next(link for link in links(asked) if dict(parse_qsl(urlsplit(link).query)).get("yes") == "not_put_right_in_time")
    assert "It depends" in shown(asked)
    settled = shown(client.get(late).text)
    assert "not-put-right-in-time" in settled
    assert "isqualified" in settled


def test_a_drop_is_walked_step_by_step_and_back(client: TestClient) -> None:
    page = client.get("/drop?book=2023").text
    for event in ("right-way", "first-touch-inside", "rests-outside"):
        page = client.get(next(link for link in links(page) if link.rpartition("events=")[2].endswith(event))).text
    answer = json.loads(marram("drop", "--book", "2023", "--events", "right-way,first-touch-inside,rests-outside", "--json").stdout)
    assert answer["books"][0]["instruction"] in shown(page)
    assert "Drops counted: 1." in shown(page)
    back = next(link for link in links(page) if link.endswith("events=right-way%2Cfirst-touch-inside"))
    assert "rests outside" in shown(client.get(back).text)


def test_a_search_takes_events_with_their_time(client: TestClient) -> None:
    page = client.get("/search?book=2023&event=start&at=0:00").text
    assert "events" in page
    late = shown(client.get("/search?book=2023&events=start@0:00&event=found&at=3:01").text)
    good = shown(client.get("/search?book=2023&events=start@0:00&event=found&at=3:00").text)
    assert "lost" in late.lower()
    assert "rule on the lost ball" in late.lower()
    assert "rule on the lost ball" not in good.lower()
    assert client.get("/search?events=start@0:00&event=found&at=soon").status_code == 422


def test_a_thing_is_told_for_the_area_where_it_lies(client: TestClient) -> None:
    page = shown(client.get("/thing?thing=bridge&area=penalty-area").text)
    answer = json.loads(marram("object", "bridge", "--area", "penalty-area", "--book", "2023", "--json").stdout)
    assert answer["books"][0]["term"] in page
    assert client.get("/thing?thing=no-such-thing").status_code == 422


def test_a_case_is_kept_as_a_file_that_the_command_line_rules_on(client: TestClient, tmp_path: Path) -> None:
    query = "course=thimble-moor&hole=7&situation=penalty-area&x=-383.38&y=117.5&longest=45&crossed_at.x=-388.38&crossed_at.y=113.5"
    besides = "&previous_stroke.area=general-area&previous_stroke.x=-362&previous_stroke.y=-20&back=8&no=known_in_penalty_area"
    answer = client.get(f"/incident?{query}{besides}&met=temporary-water:-380:110:2")
    assert answer.headers["content-type"].startswith("application/toml")
    (tmp_path / "kept.toml").write_text(answer.text, encoding="utf-8")
    ruled = marram("rule", str(tmp_path / "kept.toml"), "--course", str(COURSE), "--book", "2023", "--json")
    members = {
        "hole": 7,
        "situation": "penalty-area",
        "ball": {"x_m": -383.38, "y_m": 117.5},
        "player": {"longest_club_in": 45},
        "facts": {
            "crossed_at": {"x_m": -388.38, "y_m": 113.5},
            "previous_stroke": {"x_m": -362, "y_m": -20, "area": "general-area"},
            "known_in_penalty_area": False,
        },
        "choice": {"back_m": 8},
        "conditions": [{"kind": "temporary-water", "x_m": -380, "y_m": 110, "radius_m": 2}],
    }
    asked = client.post("/api/rule", json={"course": "thimble-moor", "books": ["2023"], "incident": members})
    assert ruled.returncode == 0, ruled.stderr
    assert ruled.stdout == asked.text


def test_a_word_with_a_quote_in_it_stays_one_word_of_the_file(client: TestClient, tmp_path: Path) -> None:
    answer = client.get("/incident?hole=7&situation=lost%22%0A%5Bplayer%5D&lost=yes&course=x%0Ahole=9")
    (tmp_path / "kept.toml").write_text(answer.text, encoding="utf-8")
    import tomllib

    assert tomllib.loads(answer.text)["situation"] == 'lost"\n[player]'
    assert tomllib.loads(answer.text)["hole"] == 7


def test_something_met_today_is_put_down_by_a_form_and_taken_back(client: TestClient) -> None:
    case = "/ruling?course=thimble-moor&hole=4&situation=temporary-water&x=-380&y=-200&hand=right&longest=45&club=iron"
    without = client.get(case)
    met = client.get(case + "&met.kind=temporary-water&met.x=-380&met.y=-200&met.radius=2").text
    assert without.status_code == 422 or "Free relief" not in without.text.partition('class="opts"')[2].partition("</section>")[0]
    assert "Free relief" in met.partition('class="opts"')[2]
    back = next(link for link in links(met) if "met=" not in link and "situation=temporary-water" in link and "/ruling" in link)
    assert client.get(back).status_code == without.status_code


def test_what_is_not_settled_can_be_left_open_or_handed_over(client: TestClient) -> None:
    case = "/ruling?course=thimble-moor&hole=7&situation=penalty-area&x=-383.38&y=117.5&longest=45"
    page = client.get(case).text
    for side, words in (("open", "Left open."), ("committee", "Handed to the Committee.")):
        link = next(link for link in links(page) if f"left={side}" in link)
        left = shown(client.get(link).text)
        assert words in left
        assert "Where did the ball last cross" in left.partition(words)[2]


def test_a_local_rule_found_in_words_is_laid_on_the_book(client: TestClient) -> None:
    page = client.get("/ask?course=thimble-moor&hole=4&words=alternative+to+stroke+and+distance+local+rule&book=2023").text
    assert any("alternative-to-stroke-and-distance" in link for link in links(page))


@pytest.mark.parametrize("books", ["&book=2023&book=2016", "&book=2016&book=2023", "&book=2019&book=2023&book=2016"])
def test_the_latest_book_leads_page_and_drawing_in_whatever_order(client: TestClient, books: str) -> None:
    case = "/ruling?course=thimble-moor&hole=7&situation=penalty-area&x=-383.38&y=117.5&longest=45&crossed_at.x=-388.38&crossed_at.y=113.5"
    page = client.get(case + books).text
    assert page.partition('class="stamp"')[2].partition("<b>")[2].partition("</b>")[0] == "2023"
    drawn = page.partition('class="drawing"')[2].partition("</svg>")[0]
    assert "book 2023 · " in shown(drawn)
    assert "Lateral relief" in page.partition('id="option-')[2].partition('class="sec"')[0]
