"""A course from map data is brought in, numbered and marked by forms alone, and a ruling is given on it."""

from __future__ import annotations

import json
import re
from pathlib import Path

import pytest

from marram.core.terms import Mark
from marram.interchange.courses.course_geojson import parse_course, read_course
from marram.office.courses.check_course import check_survey
from marram.office.courses.number_holes import number_from, propose_for
from marram.office.courses.survey_course import SurveyOptions, survey_course
from tests.desk.ground_visits import MAPS, GroundVisit, folder_with, forms, ponds, ponds_visit, stated

FLAT = MAPS / "malta-flat-18-coarse.osm"


def count(page: str) -> int:
    """How many faults the head of the page tells."""
    found = re.search(r"Faults: (\d+)\.", page)
    assert found
    return int(found.group(1))


def test_a_map_is_brought_in_as_the_command_line_brings_it(tmp_path: Path) -> None:
    visit = GroundVisit(tmp_path)
    status, at, page = visit.bring(FLAT.name, FLAT.read_bytes())
    assert (status, stated(at)) == (200, {"course": "malta-flat-18-coarse"})
    made = survey_course(FLAT, SurveyOptions()).course
    brought = read_course(tmp_path / "malta-flat-18-coarse.geojson")
    assert [(f.id, f.kind, f.holes, f.properties) for f in brought.features] == [
        (f.id, f.kind, f.holes, f.properties) for f in made.features
    ]
    assert count(page) == len(check_survey(brought).faults)
    assert f"{FLAT.name} read: {len(made.features)} features" in page


def test_a_course_from_map_data_is_numbered_marked_and_ruled_on_without_the_command_line(tmp_path: Path) -> None:
    visit = GroundVisit(tmp_path)
    _, at, page = visit.bring(FLAT.name, FLAT.read_bytes(), name="Flat")
    assert ">stops</b>" in page
    before = count(page)
    status, at, page = visit.post(page, "/ground/mend", how="number-all")
    assert status == 200
    assert ">stops</b>" not in page
    assert count(page) < before
    course = read_course(tmp_path / "flat.geojson")
    proposed = propose_for(survey_course(FLAT, SurveyOptions()).course)
    wanted = number_from(proposed.course, [row.hole for row in proposed.proposals.holes], draws_lines=True).course
    assert {f.id: f.holes for f in course.features} == {f.id: f.holes for f in wanted.features}
    for name, mark in (("canal-1", Mark.RED), ("canal-2", Mark.YELLOW)):
        before = count(page)
        status, at, page = visit.post(page, "/ground/mend", how="mark", feature=name, value=mark.value)
        assert (status, count(page)) == (200, before - 1)
        course = read_course(tmp_path / "flat.geojson")
        assert {f.id: f.mark for f in course.features if f.id == name} == {name: mark}
    canal = next(f for f in course.features if f.id == "canal-2").geometry
    middle = canal.intersection(course.boundary).representative_point()
    hole = next(iter(course.holes))
    ruled = visit.page(f"/ruling?course=flat&hole={hole}&situation=penalty-area&x={middle.x:.2f}&y={middle.y:.2f}&longest=45")
    assert "Back on the line" in ruled
    assert "Flat" in ruled


def test_each_change_writes_a_whole_file_and_undo_brings_the_former_one_back(tmp_path: Path) -> None:
    visit = GroundVisit(tmp_path)
    _, at, page = visit.bring("ponds.geojson", ponds())
    file = tmp_path / "ponds.geojson"
    states = [file.read_bytes()]
    for feature, value in (("pond-1", "red"), ("pond-2", "yellow")):
        _, at, page = visit.post(page, "/ground/mend", how="mark", feature=feature, value=value)
        states.append(file.read_bytes())
        parse_course(file.read_text(encoding="utf-8"), where=file.name)
    assert len(set(states)) == 3
    for former in reversed(states[:-1]):
        _, at, page = visit.post(page, "/ground/back")
        assert file.read_bytes() == former
    status, at, page = visit.post(page, "/ground/back")  # the import itself
    assert status == 200
    assert not file.exists()


def test_undo_is_not_offered_over_what_somebody_changed_by_hand(tmp_path: Path) -> None:
    visit = GroundVisit(tmp_path)
    _, _, page = visit.bring("ponds.geojson", ponds())
    file = tmp_path / "ponds.geojson"
    file.write_text(file.read_text(encoding="utf-8").replace('"Ponds"', '"Hand"'), encoding="utf-8")
    fresh = visit.page("/ground?course=ponds")
    assert [action for action, _ in forms(fresh) if action == "/ground/back"] == []
    status, _, told = visit.post(page, "/ground/back")
    assert status == 422
    assert "changed meanwhile" in told
    assert '"Hand"' in file.read_text(encoding="utf-8")


def test_of_two_pages_the_second_is_told_and_nothing_is_written_over(tmp_path: Path) -> None:
    visit, page = ponds_visit(tmp_path)
    assert visit.post(page, "/ground/mend", how="mark", feature="pond-1", value="red")[0] == 200
    status, _, told = visit.post(page, "/ground/mend", how="mark", feature="pond-2", value="red")
    assert status == 422
    assert "was changed meanwhile" in told
    marks = {f.id: f.mark for f in read_course(tmp_path / "ponds.geojson").features}
    assert (marks["pond-1"], marks["pond-2"]) == (Mark.RED, Mark.UNMARKED)
    status, _, _ = visit.post(told, "/ground/mend", how="mark", feature="pond-2", value="red")  # the page that tells it has the newer stamp
    assert status == 200


def test_a_course_whose_file_has_a_name_of_any_kind_can_be_mended(tmp_path: Path) -> None:
    visit, _ = ponds_visit(tmp_path)
    (tmp_path / "ponds.geojson").rename(tmp_path / "The Ponds & <b>.geojson")
    page = visit.page("/ground?course=The+Ponds+%26+%3Cb%3E")
    assert "<b>.geojson" not in page
    assert "The Ponds &amp; &lt;b&gt;" in page
    status, at, page = visit.post(page, "/ground/mend", how="mark", feature="pond-1", value="red")
    assert status == 200
    assert stated(at)["course"] == "The Ponds & <b>"


def test_a_green_is_given_its_hole_and_the_list_gets_shorter(tmp_path: Path) -> None:
    visit, page = ponds_visit(tmp_path)
    status, _, page = visit.post(page, "/ground/mend", how="serve", feature="green-x1", value="2")
    assert status == 200
    course = read_course(tmp_path / "ponds.geojson")
    assert next(f for f in course.features if f.id == "green-x1").holes == (2,)
    assert course.holes[2].location is not None  # its middle is assumed, and said to be
    assert "green-x1 serves hole 2. Where the hole is cut was assumed on hole 2." in page
    assert "serves no hole" not in page
    onward = re.findall(r'href="(/ground/today\?[^"]*)">State where it is cut today', page)
    assert [(stated(link.replace("&amp;", "&"))["hole"], stated(link.replace("&amp;", "&"))["kind"]) for link in onward] == [
        ("2", "hole-location")
    ]


@pytest.mark.parametrize(
    ("fields", "told"),
    [
        ({"how": "mark", "feature": "pond-1", "value": "green"}, "is no mark"),
        ({"how": "mark", "feature": "green-1", "value": "red"}, "no water"),
        ({"how": "serve", "feature": "green-1", "value": "x"}, "numbers nothing"),
        ({"how": "serve", "feature": "pond-1", "value": "7"}, "serves no hole"),
        ({"how": "state-accuracy", "value": "-1"}, "is no accuracy"),
        ({"how": "state-accuracy", "value": "nan"}, "is no accuracy"),
        ({"how": "leave-out", "feature": "nothing"}, "nothing called"),
        ({"how": "take-middle", "value": "99"}, "There is no hole 99"),
        ({"how": "burn"}, "Nothing can be put right by"),
    ],
)
def test_what_cannot_be_done_is_told_and_changes_nothing(tmp_path: Path, fields: dict[str, str], told: str) -> None:
    visit, page = ponds_visit(tmp_path)
    file = tmp_path / "ponds.geojson"
    before = file.read_bytes()
    was = forms(page)[0][1]
    answer = visit.client.post("/ground/mend", data={"course": "ponds", "was": was["was"], **fields})
    assert answer.status_code == 422
    assert told in answer.text
    assert "Traceback" not in answer.text
    assert file.read_bytes() == before


def test_the_number_of_a_fault_is_the_same_in_the_list_and_on_the_plan(tmp_path: Path) -> None:
    visit = GroundVisit(tmp_path)
    _, _, page = visit.bring(FLAT.name, FLAT.read_bytes(), name="Flat")
    listed = dict(re.findall(r'<li id="fault-(\d+)".*?<p>(.*?)</p>', page, re.DOTALL))
    wide = page.partition('class="on-wide"')[2].partition('class="on-phone"')[0]
    drawn = re.findall(r'<g class="place">.*?<text[^>]*>(\d+)</text>', wide)
    assert len(drawn) == len(set(drawn)) > 3
    assert set(drawn) <= set(listed)
    number = next(number for number, words in listed.items() if words.startswith("canal-1"))
    shown = visit.page(f"/ground?course=flat&show={number}").partition('class="on-wide"')[2].partition('class="on-phone"')[0]
    assert re.findall(r'<g class="place">.*?<text[^>]*>(\d+)</text>', shown) == [number]


def test_the_holes_are_numbered_as_they_are_typed(tmp_path: Path) -> None:
    visit = GroundVisit(tmp_path)
    visit.bring(FLAT.name, FLAT.read_bytes(), name="Flat")
    page = visit.page("/ground/holes?course=flat")
    rows = re.findall(r'name="number"[^>]*value="(\d+)".*?name="green" value="([^"]*)"', page, re.DOTALL)
    was = next(fields for action, fields in forms(page) if action == "/ground/number")["was"]
    parts = {part: re.findall(rf'name="{part}" value="([^"]*)"', page) for part in ("green", "tees", "line", "location")}
    parts["tees"] = [json.dumps(json.loads(text.replace("&#34;", '"'))) for text in parts["tees"]]
    numbers = [{"2": "3", "3": "2"}.get(number, "" if number == "18" else number) for number, _ in rows]
    data = {"course": ["flat"], "was": [was], "number": numbers, **parts}
    answer = visit.client.post("/ground/number", data=data)
    assert answer.status_code == 200
    holes = {f.id: f.holes for f in read_course(tmp_path / "flat.geojson").features}
    by_number = dict(rows)
    assert holes[by_number["2"]] == (3,)
    assert holes[by_number["3"]] == (2,)
    assert holes[by_number["18"]] == ()


def test_a_number_that_stands_twice_is_told_and_what_was_typed_stays(tmp_path: Path) -> None:
    visit = GroundVisit(tmp_path)
    visit.bring(FLAT.name, FLAT.read_bytes(), name="Flat")
    before = (tmp_path / "flat.geojson").read_bytes()
    page = visit.page("/ground/holes?course=flat")
    was = next(fields for action, fields in forms(page) if action == "/ground/number")["was"]
    parts = {part: re.findall(rf'name="{part}" value="([^"]*)"', page) for part in ("green", "tees", "line", "location")}
    parts["tees"] = [text.replace("&#34;", '"') for text in parts["tees"]]
    numbers = ["5"] * len(parts["green"])
    answer = visit.client.post("/ground/number", data={"course": ["flat"], "was": [was], "number": numbers, **parts})
    assert answer.status_code == 422
    assert "hole 5 stands" in answer.text
    assert re.findall(r'name="number"[^>]*value="(\d+)"', answer.text) == numbers
    assert (tmp_path / "flat.geojson").read_bytes() == before


def test_the_day_is_checked_with_the_course(tmp_path: Path) -> None:
    folder_with(tmp_path, day=True)
    day = tmp_path / "2026-06-13.toml"
    text = day.read_text(encoding="utf-8")
    day.write_text(
        text + '\n[[conditions]]\nkind = "penalty-area"\nmark = "unmarked"\nx_m = 0\ny_m = 0\nradius_m = 3\nid = "flood"\n',
        encoding="utf-8",
    )
    visit = GroundVisit(tmp_path)
    assert count(visit.page("/ground?course=thimble-moor")) == 0
    page = visit.page("/ground?course=thimble-moor&day=2026-06-13")
    assert "flood (penalty area" in page


def test_a_day_that_does_not_fit_is_told_and_left_off(tmp_path: Path) -> None:
    folder_with(tmp_path)
    (tmp_path / "old.toml").write_text("date = 2020-01-01\n[[hole_locations]]\nhole = 99\non_m = 3\nleft_m = 3\n", encoding="utf-8")
    page = GroundVisit(tmp_path).page("/ground?course=thimble-moor&day=old")
    assert "does not fit this course" in page
    assert "There is no hole 99" in page


def test_an_empty_folder_asks_for_a_file(tmp_path: Path) -> None:
    page = GroundVisit(tmp_path).page("/ground")
    assert "A map file of your course makes one" in page


def test_a_course_that_cannot_be_read_says_so_and_leads_on(tmp_path: Path) -> None:
    folder_with(tmp_path)
    (tmp_path / "broken.geojson").write_text('{"type": "FeatureCollection", "course"', encoding="utf-8")
    page = GroundVisit(tmp_path).page("/ground?course=broken", 422)
    assert "The course cannot be opened" in page
    assert "/ground?course=thimble-moor" in page
    assert "/ground/bring" in page


@pytest.mark.parametrize("kinds", [("boundary",), ("putting-green", "line-of-play", "hole-location", "teeing-area"), ("putting-green",)])
@pytest.mark.parametrize("path", ["/ground", "/ground/holes", "/ground/marking", "/ground/places", "/ground/today", "/ground/bring"])
def test_a_course_with_faults_that_stop_rulings_has_every_page(tmp_path: Path, path: str, kinds: tuple[str, ...]) -> None:
    raw = json.loads(ponds())
    raw["features"] = [entry for entry in raw["features"] if entry["properties"]["kind"] not in kinds]
    (tmp_path / "lacking.geojson").write_text(json.dumps(raw), encoding="utf-8")
    query = "&procedure=penalty-area-lateral-red" if path.endswith("places") else ""
    answer = GroundVisit(tmp_path).client.get(f"{path}?course=lacking{query}")
    assert answer.status_code in {200, 422}
    assert 'class="ground-pages"' in answer.text
    if path == "/ground":
        assert ">stops</b>" in answer.text
