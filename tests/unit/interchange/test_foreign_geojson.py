"""GeoJSON from elsewhere: names and values are explained, what nobody explains is counted, what cannot be is told."""

from __future__ import annotations

import json
import math
import re
from collections.abc import Mapping, Sequence
from pathlib import Path

import pytest
from shapely.geometry import LineString, MultiPolygon, Point, Polygon, box, mapping
from shapely.geometry.base import BaseGeometry

from marram.core.errors import SurveyError
from marram.core.terms import FeatureKind, Mark
from marram.course.frame import Frame
from marram.interchange.courses.course_geojson import parse_course, to_degrees, write_course
from marram.interchange.courses.imported import Imported
from marram.interchange.maps.foreign_geojson import Foreign, read_foreign_geojson
from marram.interchange.maps.foreign_terms import read_terms

FRAME = Frame(-2.0, 55.0)
PROPERTIES = ("kind=surface_type", "holes=hole_no", "mark=hazard", "width_m=width", "radius_m=r")
VALUES = (
    "fairway_cut=fairway",
    "limit=boundary",
    "water=penalty-area",
    "lateral=red",
    "cart path=immovable-obstruction",
    "pin=hole-location",
)


def entry(geometry: BaseGeometry, frame: Frame = FRAME, **properties: object) -> dict[str, object]:
    return {"type": "Feature", "properties": properties, "geometry": to_degrees(frame, geometry)}


EDGE = entry(box(-300, -300, 300, 300), surface_type="limit", id=17)


def read(
    tmp_path: Path, features: Sequence[object], *, name: str = "", sigma_m: float | None = None, members: Mapping[str, object] | None = None
) -> Imported:
    path = tmp_path / "club.geojson"
    path.write_text(json.dumps({"type": "FeatureCollection", "features": features} | dict(members or {})), encoding="utf-8")
    return read_foreign_geojson(path, Foreign(terms=read_terms(PROPERTIES, VALUES), name=name, sigma_m=sigma_m))


def test_names_and_values_are_taken_over(tmp_path: Path) -> None:
    done = read(
        tmp_path,
        [
            EDGE,
            entry(box(0, 0, 50, 100), surface_type="fairway_cut", hole_no="7"),
            entry(box(60, 0, 90, 20), surface_type="water", hazard="lateral", hole_no=[7, 16]),
            entry(box(-60, 0, -30, 20), surface_type="water"),
        ],
        name="Somewhere",
        sigma_m=0.3,
    )
    edge, fairway, pond, other = done.course.features
    assert (edge.id, edge.kind) == ("17", FeatureKind.BOUNDARY)
    assert (fairway.id, fairway.kind, fairway.holes) == ("fairway-1", FeatureKind.FAIRWAY, (7,))
    assert (pond.mark, pond.holes, other.mark) == (Mark.RED, (7, 16), Mark.UNMARKED)
    assert fairway.geometry.area == pytest.approx(5000, rel=1e-5)
    assert (done.course.name, done.course.sigma_m, pond.sigma_m) == ("Somewhere", 0.3, 0.3)
    assert done.course.frame.lon_deg == pytest.approx(-2.0, abs=1e-4)
    assert done.remarks == ("3 features had no name of their own and got one.",)
    assert parse_course(write_course(done.course), where="again").boundary.equals(done.course.boundary)


def test_lines_with_a_width_and_points_with_a_radius_become_areas(tmp_path: Path) -> None:
    path = entry(LineString([(0, 0), (100, 0)]), surface_type="cart path", width=2.4)
    head = entry(Point(50, 50), surface_type="cart path", r="0.2")
    pin = entry(Point(10, 10), surface_type="pin", hole_no=1)
    line = entry(LineString([(0, -90), (10, 10)]), surface_type="line-of-play", hole_no=1)
    done = read(tmp_path, [EDGE, path, head, pin, line])
    assert done.course.features[1].geometry.area == pytest.approx(240, rel=1e-4)
    assert done.course.features[2].geometry.area == pytest.approx(math.pi * 0.04, rel=0.02)
    assert isinstance(done.course.features[3].geometry, Point)
    assert done.course.hole(1).length_m == pytest.approx(math.hypot(10, 100), abs=0.01)
    assert done.left_out == ()


def test_what_nobody_explains_is_counted_and_named(tmp_path: Path) -> None:
    bench = entry(Point(1, 1), surface_type="bench", id="b7")
    bare = entry(LineString([(0, 0), (100, 0)]), surface_type="cart path", id="p1")
    done = read(tmp_path, [EDGE, bench, bench, bare, entry(Point(2, 2))])
    told = {each.what: (each.why, each.names) for each in done.left_out}
    assert told["bench"] == ("its surface_type is no kind that is known", ("b7", "b7"))
    assert told["(no value)"][1] == ("feature 5",)
    assert told["immovable-obstruction"] == ("it is a LineString without width_m", ("p1",))
    assert json.loads(done.course.extra)["course"]["left_out"][1]["what"] == "bench"


def test_a_file_without_boundary_gets_one_that_is_assumed(tmp_path: Path) -> None:
    done = read(tmp_path, [entry(box(0, 0, 50, 100), surface_type="fairway_cut")])
    assert '"outline"' in done.course.features[0].properties
    assert done.course.boundary.contains(done.course.features[1].geometry)
    assert any("no boundary" in remark for remark in done.remarks)


def test_a_course_across_the_date_line_is_one(tmp_path: Path) -> None:
    def here(geometry: Polygon) -> dict[str, object]:
        frame = Frame(179.999, -17.0)
        return entry(geometry, frame, surface_type="limit" if geometry.area > 1e5 else "fairway_cut")

    done = read(tmp_path, [here(box(-300, -300, 300, 300)), here(box(150, 0, 200, 50))])
    assert abs(done.course.frame.lon_deg) == pytest.approx(179.999, abs=1e-3)
    assert done.course.boundary.area == pytest.approx(360_000, rel=1e-4)


@pytest.mark.parametrize("crs", ["urn:ogc:def:crs:OGC:1.3:CRS84", "EPSG:4326", "urn:ogc:def:crs:EPSG::4326"])
def test_members_that_say_wgs84_are_let_through(tmp_path: Path, crs: str) -> None:
    assert read(tmp_path, [EDGE], members={"crs": {"type": "name", "properties": {"name": crs}}}).course.boundary.area > 0


PROJECTED = {"type": "Feature", "properties": {"surface_type": "limit"}, "geometry": mapping(box(452000, 6112000, 453000, 6113000))}
SWAPPED = {"type": "Feature", "properties": {"surface_type": "limit"}, "geometry": mapping(box(-45, 120, -44.9, 121))}


@pytest.mark.parametrize(
    ("features", "members", "words"),
    [
        ([EDGE], {"crs": {"type": "name", "properties": {"name": "EPSG:27700"}}}, "another reference system.*WGS 84"),
        ([PROJECTED], {}, "no longitude and latitude.*metres of a map projection"),
        ([SWAPPED], {}, "look swapped.*Longitude comes first"),
        ([entry(Point(0, 0), surface_type="bench")] * 3, {}, r"Values of 'surface_type': bench \(3\).*Kinds: boundary"),
        ([], {}, "no coordinates"),
        ([7, EDGE], {}, "feature 1: a feature with properties"),
        (
            [
                EDGE,
                entry(box(0, 0, 9, 9), surface_type="water", hazard="blue"),
                entry(box(0, 0, 9, 9), surface_type="fairway_cut", hole_no="x"),
            ],
            {},
            "feature 2: mark is 'blue'(.|\n)*feature 3: hole_no is 'x'",
        ),
        ([EDGE, entry(LineString([(0, 0), (9, 9)]), surface_type="cart path", width="wide")], {}, "feature 2: width is 'wide'"),
        ([EDGE, entry(LineString([(0, 0), (9, 9)]), surface_type="cart path", width=1e308)], {}, "feature 2: width is 1e\\+308 m; 200 m"),
        ([EDGE], {"type": "Topology"}, "FeatureCollection"),
    ],
)
def test_what_cannot_be_read_is_told(tmp_path: Path, features: Sequence[object], members: dict[str, object], words: str) -> None:
    with pytest.raises(SurveyError) as caught:
        read(tmp_path, features, members=members)
    assert str(caught.value).startswith("club.geojson")
    assert re.search(words, str(caught.value)), str(caught.value)


@pytest.mark.parametrize(
    ("properties", "values", "words"),
    [
        (["kind"], [], "no pair"),
        (["colour=x"], [], "nothing called 'colour'"),
        ([], ["x=faiway"], "Nearest: fairway"),
        ([], ["=fairway"], "no pair"),
    ],
)
def test_terms_that_explain_nothing_are_told(properties: list[str], values: list[str], words: str) -> None:
    with pytest.raises(SurveyError, match=words):
        read_terms(properties, values)


def test_a_multipolygon_is_kept_whole(tmp_path: Path) -> None:
    two = MultiPolygon([box(0, 0, 10, 10), box(20, 0, 30, 10)])
    done = read(tmp_path, [EDGE, entry(two, surface_type="fairway_cut")])
    assert done.course.features[1].geometry.area == pytest.approx(200, rel=1e-4)
