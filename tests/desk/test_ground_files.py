"""Files that are brought in: damaged, large, of the wrong kind, with markup in their names, and what is added to a course."""

from __future__ import annotations

import json
from pathlib import Path

import pytest
from starlette.testclient import TestClient

from marram.core.errors import SurveyError
from marram.course.frame import Position
from marram.desk.chapters.ground import LARGEST_FILE_BYTES
from marram.interchange.courses.course_geojson import read_course
from marram.office.courses.bring_course import bring_course
from marram.office.courses.survey_course import SourceKind, SurveyOptions
from tests.desk.ground_visits import MAPS, GroundVisit, folder_with, ponds, ponds_visit, stated
from tests.support.mapped import Map

SHORT = SurveyOptions()


def small_map(tmp_path: Path) -> bytes:
    """A course of one hole, as a map has it."""
    made = Map(tmp_path / "small.osm", lon=-2.0, lat=55.0)
    made.box(0, 0, 400, 300, leisure="golf_course", name="Dunes")
    made.box(40, 100, 10, 10, golf="tee")
    made.box(340, 100, 25, 25, golf="green")
    made.way([(45, 105), (352, 112)], closed=False, golf="hole", ref="1", par="4")
    made.box(200, 50, 30, 20, golf="water_hazard", natural="water")
    return made.write().read_bytes()


@pytest.mark.parametrize(
    ("name", "data", "told"),
    [
        ("map.osm", b"<osm><node id='1' lat='55' lon='-2'/>", "cannot be read to its end"),
        ("map.osm", b"", "map file"),
        ("map.osm.pbf", b"\x00\x01\x02", "cannot be read to its end"),
        ("course.geojson", b"{", "not JSON"),
        ("course.geojson", b'{"type": "FeatureCollection", "course": {"origin": 5}, "features": []}', "must give name"),
        ("course.geojson", b'{"type": "FeatureCollection", "features": []}', "holds no coordinates"),
        ("photo.png", b"\x89PNG", "cannot be told from its ending"),
        ("noending", b"x", "cannot be told from its ending"),
        ("walk.gpx", b"<gpx/>", "are added to a course"),
    ],
)
def test_a_file_that_cannot_be_used_is_told_by_its_name(tmp_path: Path, name: str, data: bytes, told: str) -> None:
    visit = GroundVisit(tmp_path)
    status, _, page = visit.bring(name, data, name="Mine", outline="here")
    assert status == 422
    assert told in page
    assert name in page
    assert "marram-" not in page  # where it was read is nobody's business
    assert 'value="Mine"' in page  # what was typed stays
    assert "Traceback" not in page
    assert [file.name for file in tmp_path.iterdir() if not file.name.startswith(".")] == []


def test_no_file_is_told(tmp_path: Path) -> None:
    status, _, page = GroundVisit(tmp_path).bring("", b"")
    assert status == 422
    assert "No file was chosen" in page


@pytest.mark.parametrize("name", ["../../etc/passwd.osm", "a/b/..", "..", "\\\\host\\share.osm", "x\0y.osm", "n" * 400 + ".osm"])
def test_no_place_is_made_of_a_name(tmp_path: Path, name: str) -> None:
    with pytest.raises(SurveyError) as refused:
        bring_course(name, b"<osm/>", SHORT)
    assert "/" not in refused.value.where
    assert list(tmp_path.iterdir()) == []


def test_markup_in_names_is_shown_as_text(tmp_path: Path) -> None:
    raw = json.loads(ponds())
    raw["course"]["name"] = "<script>alert(1)</script>"
    for entry in raw["features"]:
        entry["properties"]["id"] = f"<i>{entry['properties']['id']}</i>"
    visit = GroundVisit(tmp_path)
    status, at, page = visit.bring('<img src=x onerror="a()">.geojson', json.dumps(raw).encode())
    assert status == 200
    name = stated(at)["course"]
    for path in ("/ground", "/ground/holes", "/ground/today", "/ground/marking", "/ground/bring"):
        text = visit.page(f"{path}?course={name}")
        assert "<script>alert" not in text
        assert "<i>pond" not in text
        assert "<img src=x" not in text
    status, _, page = visit.post(page, "/ground/mend", how="mark", feature="<i>pond-1</i>", value="red")
    assert status == 200
    assert "&lt;i&gt;pond-1&lt;/i&gt; marked red." in page


def test_a_map_of_20_mb_is_read_as_the_command_line_reads_it(tmp_path: Path) -> None:
    text = small_map(tmp_path).decode()
    (tmp_path / "small.osm").unlink()
    padded = text.replace("</osm>", f"<!-- {'x' * 20 * 1024 * 1024} --></osm>").encode()
    visit = GroundVisit(tmp_path)
    status, at, page = visit.bring("dunes.osm", padded)
    assert (status, stated(at)["course"]) == (200, "dunes")
    assert read_course(tmp_path / "dunes.geojson").holes.keys() == {1}


def test_a_table_of_20_mb_is_refused_as_the_command_line_refuses_it(tmp_path: Path) -> None:
    visit, _ = ponds_visit(tmp_path)
    before = (tmp_path / "ponds.geojson").read_bytes()
    data = b"hole,on_m,left_m\n" + b"1,5,5\n" * (20 * 1024 * 1024 // 6)
    status, _, page = visit.bring("locations.csv", data, "/ground/bring?course=ponds", source="hole-locations")
    assert status == 422
    assert "The file holds 20 MB; a table of hole locations may hold 16 MB at most." in page
    assert (tmp_path / "ponds.geojson").read_bytes() == before


def test_a_file_above_the_limit_is_refused_in_words(tmp_path: Path) -> None:
    visit = GroundVisit(tmp_path)
    status, _, page = visit.bring("large.osm", b"x" * (LARGEST_FILE_BYTES + 1))
    assert status == 422
    assert "may hold 64 MB" in page
    assert "Up to 64 MB" in visit.page("/ground/bring")


def test_the_limit_holds_on_the_wire(client: TestClient) -> None:
    assert client.post("/ground/bring", files={"file": ("a.osm", b"x" * (LARGEST_FILE_BYTES + 1024 * 1024))}).status_code == 413
    assert client.post("/ground/mend", data={"feature": "x" * 2 * 1024 * 1024}).status_code == 413


def test_a_course_file_is_brought_in_as_it_is(tmp_path: Path) -> None:
    visit = GroundVisit(tmp_path)
    visit.bring("anything.geojson", ponds())
    brought, given = read_course(tmp_path / "ponds.geojson"), bring_course("x.geojson", ponds(), SHORT).course
    assert [feature.properties for feature in brought.features] == [feature.properties for feature in given.features]
    visit.bring("anything.geojson", ponds())
    assert (tmp_path / "ponds-2.geojson").is_file()  # nothing is written over
    status, at, _ = visit.bring("anything.geojson", ponds(), name="West Course")
    assert (status, stated(at)["course"]) == (200, "west-course")
    assert read_course(tmp_path / "west-course.geojson").name == "West Course"


def test_a_map_with_several_courses_asks_for_one(tmp_path: Path) -> None:
    made = Map(tmp_path / "two.osm", lon=-2.0, lat=55.0)
    for at, name in ((0, "North"), (900, "South")):
        made.box(0, at, 400, 300, leisure="golf_course", name=name)
        made.box(340, at + 100, 25, 25, golf="green")
    data = made.write().read_bytes()
    (tmp_path / "two.osm").unlink()
    visit = GroundVisit(tmp_path)
    status, _, page = visit.bring("two.osm", data)
    assert status == 422
    assert "North" in page
    assert "South" in page
    assert visit.bring("two.osm", data, outline="South")[0] == 200


def test_geojson_from_elsewhere_is_read_by_its_words(tmp_path: Path) -> None:
    data = (MAPS / "iom-parkland-three-holes.geojson").read_bytes()
    visit = GroundVisit(tmp_path)
    status, _, page = visit.bring("three.geojson", data)
    if status == 422:
        assert "three.geojson" in page
    else:
        assert read_course(tmp_path / "three.geojson").features


def test_tees_and_hole_locations_are_added_to_the_course(tmp_path: Path) -> None:
    visit, _ = ponds_visit(tmp_path)
    status, at, page = visit.bring("pins.csv", b"hole,on_m,left_m\n1,10,12\n", "/ground/bring?course=ponds", source="hole-locations")
    assert (status, stated(at)["course"]) == (200, "ponds")
    moved = read_course(tmp_path / "ponds.geojson").holes[1].location
    assert moved is not None
    # The green is a disc of 12 m about the middle, played from the south: 10 m on is 2 m south of it, where it is 2 x 11.83 m wide.
    assert moved.xy == pytest.approx((-(140**0.5) + 12, -2.0), abs=0.03)
    status, _, page = visit.bring("pins.csv", b"hole,on_m,left_m\n99,10,12\n", "/ground/bring?course=ponds", source="hole-locations")
    assert status == 422
    assert "There is no hole 99" in page


def test_a_walk_of_the_boundary_takes_the_place_of_an_assumed_one(tmp_path: Path) -> None:
    visit, _ = ponds_visit(tmp_path)
    course = read_course(tmp_path / "ponds.geojson")
    corners = [course.frame.to_lonlat(place) for place in (_place(-250, -440), _place(250, -440), _place(250, 140), _place(-250, 140))]
    table = "lon,lat\n" + "".join(f"{lon:.9f},{lat:.9f}\n" for lon, lat in corners)
    status, _, page = visit.bring(
        "walk.csv", table.encode(), "/ground/bring?course=ponds", source="walk", feature="boundary", id="edge", mark=""
    )
    assert status == 200, page.partition('role="alert"')[2][:300]
    least_x, _, most_x, _ = read_course(tmp_path / "ponds.geojson").boundary.bounds
    assert (least_x, most_x) == pytest.approx((-250, 250), abs=0.01)


def _place(x_m: float, y_m: float) -> Position:
    return Position(x_m=x_m, y_m=y_m)


def test_what_is_added_goes_to_a_course_that_is_there(tmp_path: Path) -> None:
    visit = GroundVisit(folder_with(tmp_path))
    answer = visit.client.post(
        "/ground/bring", data={"source": SourceKind.TEES.value, "course": "nowhere"}, files={"file": ("tees.csv", b"hole,par\n1,4\n")}
    )
    assert answer.status_code == 422
    assert "There is no course" in answer.text


def test_the_first_page_of_an_empty_folder_leads_to_the_form_that_takes_a_file(tmp_path: Path) -> None:
    visit = GroundVisit(tmp_path)
    assert 'href="/ground/bring"' in visit.page("/")
    assert 'type="file"' in visit.page("/ground/bring")
