"""Every page works without script: forms that carry the whole case in the address."""

from __future__ import annotations

import json
import re
import socket
import subprocess
import sys
from pathlib import Path
from typing import NamedTuple
from urllib.parse import parse_qsl, urlsplit

import pytest
from starlette.testclient import TestClient

from marram.desk.rulings.desk_jobs import do_job
from marram.desk.rulings.ruling_process import DeskAsked, open_desk
from tests.desk.conftest import EXAMPLES
from tests.support.running import marram

POND = "/ruling?course=thimble-moor&hole=7&situation=penalty-area&x=-383.38&y=117.5&longest=45"
LINK = re.compile(r'href="([^"]+)"')


def links(page: str) -> list[str]:
    return [link.replace("&amp;", "&") for link in LINK.findall(page)]


class Shown(NamedTuple):
    """The ground that the map of a page shows."""

    least_x: float
    least_y: float
    most_x: float
    most_y: float

    def holds(self, x: float, y: float) -> bool:
        return self.least_x < x < self.most_x and self.least_y < y < self.most_y


def shown(page: str) -> Shown:
    return Shown(*map(float, page.partition('data-bounds="')[2].partition('"')[0].split()))


def test_a_ball_is_put_and_ruled_on_by_forms_alone(client: TestClient) -> None:
    home = client.get("/").text
    assert 'action="/ruling"' in home
    placed = client.get("/ruling?course=thimble-moor&hole=7&before=17.92&right=14.15").text
    assert "penalty area" in placed
    onward = next(link for link in links(placed) if "situation=penalty-area" in link)
    ruled = client.get(onward + "&longest=45&crossed_at.x=-388.38&crossed_at.y=113.5").text
    assert "Lateral relief" in ruled
    assert "4.58 m²" in ruled


def test_what_is_asked_is_answered_in_place_and_taken_back(client: TestClient) -> None:
    path = "/ruling?course=thimble-moor&hole=15&situation=temporary-water&x=380.81&y=-30.57&hand=right&longest=45&club=wedge"
    asked = client.get(path).text
    yes = next(link for link in links(asked) if "yes=" in link)
    fact = dict(parse_qsl(urlsplit(yes).query))["yes"]
    answered = client.get(yes).text
    assert f"yes={fact}" not in " ".join(link for link in links(answered) if "take" in link)
    assert any(fact not in link and "situation=temporary-water" in link for link in links(answered))


def test_a_number_may_have_a_comma(client: TestClient) -> None:
    assert client.get(POND.replace("117.5", "117,5")).text.count("penalty area") == client.get(POND).text.count("penalty area")


@pytest.mark.parametrize(
    ("query", "told"),
    [
        ("x=abc&y=1", "is no number"),
        ("hole=seven", "is no whole number"),
        ("hole=99&situation=lost&lost=yes", "There is no hole 99"),
        ("hole=7&situation=unplayable&x=90000&y=0", "km from the middle"),
        ("hole=7&situation=unplayable&x=nan&y=0", "ball"),
        ("hole=7&situation=unplayable&x=-900&y=0&longest=45", "outside the boundary"),
        ("hole=7&hole=8", "stated twice"),
        ("file=/etc/passwd", "states nothing under the name"),
        ("course=/etc/passwd", "There is no course"),
        ("book=2023%2B/etc/passwd", "There is no trial"),
        ("book=1999", "1999"),
        ("hole=7&situation=lost&lost=yes&yes=provisional_played&no=provisional_played", "yes and no"),
        ("hole=7&situation=lost&lost=yes&yes=nonsense", "nonsense"),
        ("hole=7&situation=unplayable&x=-380&y=20&longest=450", "longest_club_in"),
        ("light=moon", "no light"),
        ("met=puddle", "nothing that was met"),
    ],
)
def test_bad_input_is_told_on_a_page(client: TestClient, query: str, told: str) -> None:
    answer = client.get(f"/ruling?{query}" if "course" in query else f"/ruling?course=thimble-moor&{query}")
    assert answer.status_code == 422
    assert told in answer.text
    assert "Traceback" not in answer.text


def test_foreign_text_is_shown_as_text(tmp_path: Path) -> None:
    raw = json.loads((EXAMPLES / "courses" / "thimble-moor.geojson").read_text(encoding="utf-8"))
    raw["course"]["name"] = '<script>alert(1)</script> & "Moor"'
    (tmp_path / "moor & heath.geojson").write_text(json.dumps(raw), encoding="utf-8")
    desk = open_desk(DeskAsked(folder=tmp_path))
    for job, query in (("home", ""), ("ruling", "hole=7"), ("ruling", "hole=7&situation=penalty-area&x=-383.38&y=117.5&longest=45")):
        page = do_job(desk, job, query)
        assert page.status == 200
        assert "<script>" not in page.text
        assert "&lt;script&gt;alert(1)" in page.text
    told = do_job(desk, "ruling", "course=%3Cimg%20src%3Dx%3E")
    assert "<img" not in told.text


def test_a_folder_without_a_course_says_what_to_do(tmp_path: Path) -> None:
    page = do_job(open_desk(DeskAsked(folder=tmp_path)), "home", "")
    assert page.status == 200
    assert "--folder examples" in page.text


def test_two_files_of_one_name_are_told(tmp_path: Path) -> None:
    text = (EXAMPLES / "courses" / "thimble-moor.geojson").read_text(encoding="utf-8")
    for folder in (tmp_path, tmp_path / "old"):
        folder.mkdir(exist_ok=True)
        (folder / "moor.geojson").write_text(text, encoding="utf-8")
    assert "old/moor.geojson" in do_job(open_desk(DeskAsked(folder=tmp_path)), "home", "").text


def test_what_is_asked_in_words_goes_on_to_a_ruling(client: TestClient) -> None:
    page = client.get("/ask?course=thimble-moor&hole=7&words=in+the+pond").text
    assert any("/ruling?" in link and "situation=penalty-area" in link and "hole=7" in link for link in links(page))
    assert "Nobody need go in" in page


def test_a_ball_that_was_moved_is_offered_what_may_have_happened_where_it_lies(client: TestClient) -> None:
    out_of_the_water = POND.replace("x=-383.38", "x=-400").replace("y=117.5", "y=100")
    page = client.get(out_of_the_water).text
    assert any("situation=unplayable" in link and "x=-400" in link for link in links(page))


def test_a_ruling_on_the_command_line_starts_no_server() -> None:
    code = (
        "import sys; from marram.cli.main import marram as commands; commands.main(['rule', '--situations'], standalone_mode=False); "
        "print([name for name in ('fastapi', 'starlette', 'uvicorn', 'websockets', 'jinja2') if name in sys.modules])"
    )
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
    assert done.stdout.splitlines()[-1] == "[]"


@pytest.mark.parametrize("port", ["99999", "-1", "x"])
def test_a_port_that_cannot_be_is_refused(port: str) -> None:
    assert marram("desk", "--port", port, "--no-open").returncode == 2


def test_a_port_that_is_taken_is_told() -> None:
    with socket.socket() as taken:
        taken.bind(("127.0.0.1", 0))
        taken.listen()
        done = marram("desk", "--folder", str(EXAMPLES), "--port", str(taken.getsockname()[1]), "--no-open")
    assert done.returncode == 2
    assert "cannot be used" in done.stderr


def test_an_answer_stands_beside_its_question_and_not_beside_its_key(client: TestClient) -> None:
    page = client.get(
        "/ruling?course=thimble-moor&hole=7&situation=unplayable&x=-376&y=80&yes=another_reason_makes_stroke_unreasonable"
    ).text
    told = page.partition('aria-label="The facts"')[2].partition("</dl>")[0]
    assert "makes-stroke" not in told
    assert 'class="fact asked"' in told
    assert told.count("?</dt>") == told.count('class="fact asked"')


def test_what_a_ruling_says_besides_is_said_once_under_one_label(client: TestClient) -> None:
    page = client.get(f"{POND}&crossed_at.x=-388.38&crossed_at.y=113.5").text.partition("Also, and why not")[2].partition("</section>")[0]
    said = re.findall(r"<p>(.*?)</p>", page)
    labels = [label for label in re.findall(r"<b>(.*?)</b>", page) if label]
    assert len(said) == len(set(said)) >= 2
    assert len(labels) == len(set(labels))


def test_the_first_page_calls_a_course_by_its_name_and_its_practice_ball_is_in_water(client: TestClient) -> None:
    page = client.get("/").text
    assert ">Thimble Moor</a>" in page
    assert ">thimble-moor<" not in page
    practice = page.partition('class="btn pen" href="')[2].partition('"')[0]
    assert "situation=penalty-area" in practice


def test_the_map_is_drawn_for_the_option_that_is_chosen(client: TestClient) -> None:
    path = "/ruling?course=thimble-moor&hole=7&situation=unplayable&x=-376&y=80&longest=45&previous_stroke.x=-362&previous_stroke.y=-20"
    page = client.get(path).text
    others = [link for link in links(page) if "option=" in link]
    assert len(others) == 2
    back, drawn = client.get(others[0]).text, client.get(others[1]).text
    assert shown(page).holds(-376, 80) and not shown(page).holds(-362, -20)
    assert shown(back).holds(-362, -20) and not shown(back).holds(-376, 80)
    assert all(page.count('class="opt drawn"') == 1 for page in (page, back, drawn))
    assert "The map is drawn for Stroke and distance." in back
    onward = [link for link in links(back) if link.startswith(("/ruling?", "/drop?", "/incident?")) and "option=" not in link]
    assert onward == []  # whatever is stated next, the choice stays


def test_an_option_that_is_no_longer_given_leaves_the_map_as_it_is(client: TestClient) -> None:
    path = "/ruling?course=thimble-moor&hole=7&situation=unplayable&x=-376&y=80&longest=45"
    assert shown(client.get(f"{path}&option=gone").text) == shown(client.get(path).text)
