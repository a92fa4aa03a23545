"""Stake walks: points become one feature, closed as the official says, and what is wrong with a file is told."""

from __future__ import annotations

import json
import math
import re
from pathlib import Path

import pytest
from shapely.geometry import MultiPolygon, Polygon, box

from marram.core.errors import SurveyError
from marram.core.terms import FeatureKind, Mark
from marram.course.course import Course
from marram.course.frame import Position
from marram.course.written_features import put_in, with_properties
from marram.interchange.courses.course_geojson import parse_course, write_course
from marram.interchange.courses.imported import Imported
from marram.interchange.courses.stake_walk import Closing, Walked, add_stake_walk
from tests.support.ground import FRAME, course, pond

SQUARE = ((20, -100), (60, -100), (60, -60), (20, -60))
POND = Walked(kind=FeatureKind.PENALTY_AREA, id="pond-2", mark=Mark.RED, what="pond")


def degrees(x_m: float, y_m: float) -> tuple[float, float]:
    return FRAME.to_lonlat(Position(x_m=x_m, y_m=y_m))


def csv_of(points: tuple[tuple[float, float], ...], *, swapped: bool = False) -> str:
    pairs = [degrees(*point)[:: -1 if swapped else 1] for point in points]
    return "lon,lat\n" + "".join(f"{lon:.9f},{lat:.9f}\n" for lon, lat in pairs)


def gpx_of(*tracks: tuple[str, tuple[tuple[float, float], ...]], kind: str = "trk") -> str:
    body = ""
    for name, points in tracks:
        tag = {"trk": "trkpt", "rte": "rtept", "wpt": "wpt"}[kind]
        marks = "".join('<{0} lat="{2:.9f}" lon="{1:.9f}"><ele>12</ele></{0}>'.format(tag, *degrees(*point)) for point in points)
        inner = {"trk": f"<trkseg>{marks}</trkseg>", "rte": marks, "wpt": marks}[kind]
        body += inner if kind == "wpt" else f"<{kind}><name>{name}</name>{inner}</{kind}>"
    return f'<?xml version="1.0"?><gpx version="1.1" creator="t" xmlns="http://www.topografix.com/GPX/1/1">{body}</gpx>'


def walk(tmp_path: Path, text: str | bytes, walked: Walked = POND, *, name: str = "walk.csv", ground: Course | None = None) -> Imported:
    path = tmp_path / name
    path.write_bytes(text if isinstance(text, bytes) else text.encode())
    return add_stake_walk(ground or course(), path, walked)


def outline(imported: Imported, name: str = "pond-2") -> Polygon | MultiPolygon:
    found = next(feature for feature in imported.course.features if feature.id == name).geometry
    assert isinstance(found, Polygon | MultiPolygon)
    return found


@pytest.mark.parametrize("kind", ["trk", "rte", "wpt"])
def test_gpx_of_each_kind_makes_the_area_walked(tmp_path: Path, kind: str) -> None:
    done = walk(tmp_path, gpx_of(("a", SQUARE), kind=kind), name="walk.gpx")
    assert outline(done).symmetric_difference(box(20, -100, 60, -60)).area < 0.1
    assert any("Heights were not read" in remark for remark in done.remarks)


@pytest.mark.parametrize(
    "text",
    [
        csv_of(SQUARE),
        "\ufeff" + csv_of(SQUARE),
        csv_of(SQUARE).replace(",", ";").replace(".", ","),
        csv_of(SQUARE).replace("lon,lat", "Longitude , LATITUDE"),
        csv_of(SQUARE).replace("\n", "\r\n"),
        csv_of(SQUARE).replace("\n", "\n\n", 2),
        "x_m;y_m\n20;-100,0\n60;-100\n60;-60\n20;-60\n",
    ],
    ids=["plain", "mark-of-order", "decimal-comma", "other-heading", "crlf", "empty-rows", "metres"],
)
def test_tables_of_every_hand_make_the_same_area(tmp_path: Path, text: str) -> None:
    assert outline(walk(tmp_path, text)).symmetric_difference(box(20, -100, 60, -60)).area < 0.1


def test_what_was_walked_is_written_and_read_again(tmp_path: Path) -> None:
    done = walk(tmp_path, csv_of(SQUARE))
    again = parse_course(write_course(done.course), where="again")
    ours, theirs = done.course.features[-1], again.features[-1]
    assert (theirs.id, theirs.kind, theirs.mark, theirs.what, theirs.sigma_m) == ("pond-2", ours.kind, Mark.RED, "pond", None)
    assert ours.geometry.equals(theirs.geometry)
    assert '"source": "walk.csv"' in ours.properties


def test_ends_are_joined_along_the_shorter_way_of_the_boundary(tmp_path: Path) -> None:
    """The boundary's west edge runs along x = -300; the walk cuts a strip 30 m wide off it."""
    points = ((-298, -100), (-270, -100), (-270, -40), (-299, -40))
    done = walk(tmp_path, csv_of(points), Walked(kind=FeatureKind.PENALTY_AREA, id="marsh", mark=Mark.RED, close=Closing.TO_BOUNDARY))
    assert outline(done, "marsh").symmetric_difference(box(-300, -100, -270, -40)).area < 0.1
    told = next(remark for remark in done.remarks if "boundary edge" in remark)
    assert "1.0 m away, then 60.0 m along it" in told
    assert "then 2.0 m to the first point" in told


def test_the_shorter_way_may_pass_the_corner_at_which_the_ring_begins(tmp_path: Path) -> None:
    ring = list(course().boundary.exterior.coords)  # type: ignore[union-attr]
    x_m, y_m = ring[0]
    inward_x, inward_y = -math.copysign(1, x_m), math.copysign(1, -y_m - 1)
    points = ((x_m + 40 * inward_x, y_m), (x_m + 40 * inward_x, y_m + 30 * inward_y), (x_m, y_m + 30 * inward_y))
    done = walk(tmp_path, csv_of(points), Walked(kind=FeatureKind.PENALTY_AREA, id="marsh", close=Closing.TO_BOUNDARY))
    assert outline(done, "marsh").area == pytest.approx(1200, abs=0.2)


def test_a_width_makes_a_line_an_area(tmp_path: Path) -> None:
    path = Walked(kind=FeatureKind.IMMOVABLE_OBSTRUCTION, id="path-1", what="path", width_m=2.0, sigma_m=0.1)
    done = walk(tmp_path, csv_of(((0, -200), (50, -200))), path)
    assert outline(done, "path-1").symmetric_difference(box(0, -201, 50, -199)).area < 0.1
    assert done.course.features[-1].sigma_m == 0.1


def test_one_point_may_be_a_thing_with_a_radius_or_a_hole_location(tmp_path: Path) -> None:
    head = Walked(kind=FeatureKind.IMMOVABLE_OBSTRUCTION, id="head-1", what="sprinkler head", radius_m=0.15)
    done = walk(tmp_path, csv_of(((3, -14),)), head)
    assert outline(done, "head-1").area == pytest.approx(math.pi * 0.15**2, rel=0.01)
    hole = walk(tmp_path, csv_of(((3, 2),)), Walked(kind=FeatureKind.HOLE_LOCATION, id="hole-1", holes=(1,)))
    assert hole.course.hole(1).location == Position(x_m=3.0, y_m=2.0)


def test_a_walk_that_crosses_itself_is_mended_and_says_where(tmp_path: Path) -> None:
    done = walk(tmp_path, csv_of(((0, -100), (40, -60), (40, -100), (0, -60))))
    assert outline(done).area == pytest.approx(800, abs=0.5)
    repaired = done.course.features[-1].repaired
    assert "x 20.0 m, y -80.0 m" in repaired
    assert "2 parts" in repaired
    assert any(repaired in remark for remark in done.remarks)
    assert "crossed itself" in done.course.features[-1].properties


def test_doubled_points_are_dropped_and_counted(tmp_path: Path) -> None:
    points = (SQUARE[0], SQUARE[0], *SQUARE[1:], SQUARE[0])
    done = walk(tmp_path, csv_of(points))
    assert any(remark.startswith("1 point within 1 cm") for remark in done.remarks)
    assert len(outline(done).exterior.coords) == 5  # type: ignore[union-attr]


def test_the_worst_accuracy_counts_unless_the_official_states_one(tmp_path: Path) -> None:
    text = "x_m,y_m,accuracy_m,elevation_ft\n20,-100,0.3,300\n60,-100,1.2,301\n60,-60,0.5,302\n"
    done = walk(tmp_path, text)
    assert done.course.features[-1].sigma_m == 1.2
    assert any("elevation_ft" in remark and "Heights are not used" in remark for remark in done.remarks)
    stated = Walked(kind=FeatureKind.PENALTY_AREA, id="pond-2", sigma_m=0.4)
    assert walk(tmp_path, text, stated).course.features[-1].sigma_m == 0.4


def test_a_second_walk_replaces_the_first_and_keeps_what_is_not_stated(tmp_path: Path) -> None:
    again = Walked(kind=FeatureKind.PENALTY_AREA, id="pond")
    done = walk(tmp_path, csv_of(SQUARE), again, ground=course(pond()))
    assert [feature.id for feature in done.course.features].count("pond") == 1
    assert done.course.features[-1].mark is Mark.RED
    assert any("replaces" in remark and "900.0 m² before, 1600.0 m² now" in remark for remark in done.remarks)
    with pytest.raises(SurveyError, match="putting-green, not a penalty-area"):
        walk(tmp_path, csv_of(SQUARE), Walked(kind=FeatureKind.PENALTY_AREA, id="green-1"))


def test_a_walked_hole_location_and_line_take_the_place_of_the_old(tmp_path: Path) -> None:
    cup = walk(tmp_path, csv_of(((3, 2),)), Walked(kind=FeatureKind.HOLE_LOCATION, id="cup", holes=(1,))).course
    assert [feature.id for feature in cup.of_kind(FeatureKind.HOLE_LOCATION)] == ["cup"]
    line = walk(tmp_path, csv_of(((0, -300), (0, 0))), Walked(kind=FeatureKind.LINE_OF_PLAY, id="line-1", holes=(1,))).course
    assert line.hole(1).length_m == pytest.approx(300, abs=0.01)
    assert line.hole(1).par == 4
    with pytest.raises(SurveyError, match="Hole 1 has a line of play already: line-1"):
        walk(tmp_path, csv_of(((0, -300), (0, 0))), Walked(kind=FeatureKind.LINE_OF_PLAY, id="line-one", holes=(1,)))
    with pytest.raises(SurveyError, match="Test Ground has a boundary already: edge"):
        walk(tmp_path, csv_of(SQUARE), Walked(kind=FeatureKind.BOUNDARY, id="boundary"))


def test_what_a_feature_held_besides_stays_when_it_is_walked_again(tmp_path: Path) -> None:
    ground = course()
    tee = with_properties(ground.of_kind(FeatureKind.TEEING_AREA)[0], {"tee": "back", "assumed": {"outline": "x"}})
    again = walk(tmp_path, csv_of(SQUARE), Walked(kind=FeatureKind.TEEING_AREA, id="tee-1"), ground=put_in(ground, tee))
    kept = json.loads(again.course.of_kind(FeatureKind.TEEING_AREA)[0].properties)
    assert (kept["tee"], kept["holes"], kept.get("assumed")) == ("back", [1], None)


def test_several_tracks_are_listed_and_one_is_named(tmp_path: Path) -> None:
    text = gpx_of(("burn", SQUARE), ("fence", SQUARE[:2]))
    with pytest.raises(SurveyError, match=r"2 walks.*'burn' \(4 points\); 'fence' \(2 points\)"):
        walk(tmp_path, text, name="walk.gpx")
    with pytest.raises(SurveyError, match="no track.*'pond'"):
        walk(tmp_path, text, Walked(kind=FeatureKind.PENALTY_AREA, id="a", track="pond"), name="walk.gpx")
    named = Walked(kind=FeatureKind.PENALTY_AREA, id="pond-2", track="burn")
    assert outline(walk(tmp_path, text, named, name="walk.gpx")).area == pytest.approx(1600, abs=0.5)


@pytest.mark.parametrize(
    ("name", "text", "words"),
    [
        ("walk.gpx", gpx_of(("a", SQUARE[:1])), "1 point; an area needs 3"),
        ("walk.gpx", "", "empty"),
        ("walk.gpx", "<gpx", "not GPX"),
        ("walk.gpx", "lon,lat\n1,2\n", "not GPX"),
        ("walk.gpx", gpx_of(), "no waypoints"),
        ("walk.gpx", b"\xff\xfe\x00", "not UTF-8"),
        ("walk.csv", b"lon,lat\n\xe9,1\n", "not UTF-8"),
        ("walk.csv", csv_of(SQUARE, swapped=True), "row 2.*look swapped(.|\n)*row 5"),
        ("walk.csv", "lon,lat\n12.5,55\n12.6,55\n12.6,55.1\n", "more than 20 km"),
        ("walk.csv", "lon,lat\n452345,6112345\n", "expected -180 to 180 degrees"),
        ("walk.csv", "x_m,y_m\n452345,6112345\n", "expected -20000 to 20000 m"),
        ("walk.csv", "lon,lat\n-2,0001,55,0001\n", "4 cells.*decimal comma needs semicolons"),
        ("walk.csv", "lon,lat\nabc,55\n,55\nnan,55\n1_0,55\n", "row 2.*no number(.|\n)*row 3.*empty(.|\n)*row 4(.|\n)*row 5"),
        ("walk.csv", "east,north\n1,2\n", "Needed: lon_deg, lat_deg; or x_m, y_m. The first row holds: east, north"),
        ("walk.csv", "lon,longitude,lat\n1,2,3\n", "two columns mean lon_deg"),
        ("walk.csv", "x_m,y_m\n0,0\n10,10\n20,20\n", "one line"),
        ("walk.csv", 'x_m,y_m\n"0,1\n', "not CSV"),
        ("walk.csv", "x_m,y_m,accuracy_m\n0,0,-1\n", "expected 0 to 100 m"),
        ("walk.xls", "x", "Save it as"),
        ("walk.xlsx", "x", "no workbook"),
    ],
)
def test_what_is_wrong_with_a_file_is_told(tmp_path: Path, name: str, text: str | bytes, words: str) -> None:
    with pytest.raises(SurveyError) as caught:
        walk(tmp_path, text, name=name)
    told = str(caught.value)
    assert told.startswith(name)
    assert re.search(words, told), told


@pytest.mark.parametrize(
    ("walked", "words"),
    [
        (Walked(kind=FeatureKind.BUNKER, id="b", mark=Mark.RED), "no mark"),
        (Walked(kind=FeatureKind.BUNKER, id=""), "needs a name"),
        (Walked(kind=FeatureKind.LINE_OF_PLAY, id="line-2"), "of one hole"),
        (Walked(kind=FeatureKind.HOLE_LOCATION, id="hole-2", holes=(1,), radius_m=1), "neither width nor radius"),
        (Walked(kind=FeatureKind.BUNKER, id="b", width_m=1, radius_m=1), "not both"),
        (Walked(kind=FeatureKind.BUNKER, id="b", width_m=-1), "above 0"),
        (Walked(kind=FeatureKind.BUNKER, id="b", sigma_m=-1), "accuracy"),
        (Walked(kind=FeatureKind.BUNKER, id="b", radius_m=1), "4 points"),
        (Walked(kind=FeatureKind.BUNKER, id="b", close=Closing.TO_BOUNDARY), "from the boundary edge"),
    ],
)
def test_what_cannot_be_asked_is_told(tmp_path: Path, walked: Walked, words: str) -> None:
    with pytest.raises(SurveyError, match=words):
        walk(tmp_path, csv_of(SQUARE), walked)
