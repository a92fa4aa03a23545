"""The partition against single points and an explicit order, its sums, and the way of a course through a file and back."""

from __future__ import annotations

import itertools
import math
from dataclasses import replace

import numpy as np
import pytest
import shapely
from hypothesis import given, settings
from hypothesis import strategies as st
from shapely.geometry import MultiPolygon, Point, Polygon, box

from marram.core.terms import Area, FeatureKind, Mark
from marram.course.course import Course
from marram.course.features import Feature
from marram.course.frame import Frame, Position
from marram.course.locate import locate
from marram.interchange.courses.course_geojson import parse_course, write_course
from tests.support.ground import course, feature
from tests.support.random_ground import area_at, areas_at, blob, blob_near_middle

SNAP_M = 0.00071
"""A corner held to whole millimetres moves by half a diagonal of a millimetre at most."""
SLIVERS_M2 = 0.03
"""Slivers under 0.01 m² are dropped, and edges that cross are held to whole millimetres where they do."""
KINDS = (FeatureKind.PENALTY_AREA, FeatureKind.BUNKER, FeatureKind.PUTTING_GREEN, FeatureKind.TEEING_AREA)


def at_length(number: int) -> object:
    """A course of the long proofs."""
    return pytest.param(number, marks=pytest.mark.long)


def crowded_course(number: int) -> Course:
    """A small course on which areas of all kinds overlap each other and the boundary."""
    rng = np.random.default_rng(90_000 + number)
    features: list[Feature] = []
    for index in range(14):
        kind = KINDS[int(rng.integers(4))]
        outline = blob_near_middle(rng, 35, (2, 12))
        if rng.uniform() < 0.3:
            inner = shapely.affinity.scale(outline, 0.4, 0.4, origin=outline.centroid)
            outline = Polygon(outline.exterior, [inner.exterior])
        mark = list(Mark)[int(rng.integers(3))] if kind is FeatureKind.PENALTY_AREA else None
        features.append(feature(f"area-{index}", kind, on_millimetres(outline), mark=mark, holes=(1,)))
    return course(*features, boundary=on_millimetres(blob(rng, 0, 0, 34)))


def on_millimetres(outline: Polygon) -> Polygon:
    """The outline as a file holds it."""
    return shapely.transform(outline, lambda xy: xy.round(3))


def read_again(ground: Course) -> Course:
    return parse_course(write_course(ground), where="again.geojson")


@pytest.mark.parametrize("number", [*range(15), *(at_length(n) for n in range(15, 200))])
def test_each_point_lies_in_the_piece_that_comes_first(number: int) -> None:
    ground = crowded_course(number)
    rng = np.random.default_rng(number)
    xs, ys = rng.uniform(-48, 48, 4000), rng.uniform(-48, 48, 4000)
    edges = shapely.union_all([each.geometry.boundary for each in ground.features if isinstance(each.geometry, Polygon)])
    sure = shapely.distance(edges, shapely.points(xs, ys)) > 0.002
    xs, ys = xs[sure], ys[sure]
    for hole in (1, 2):
        expected = areas_at(ground.features, hole, xs, ys)
        found = np.full(xs.shape, list(Area).index(Area.OUT_OF_BOUNDS))
        times = np.zeros(xs.shape, dtype=int)
        for piece in ground.pieces:
            inside = shapely.contains_xy(piece.geometry, xs, ys)
            found[inside] = list(Area).index(piece.area_for(hole))
            times += inside
        assert times.max() == 1
        # A sliver too small to be a piece may be hit: it holds less than 0.01 m² of nearly 10,000.
        assert (found != expected).sum() <= 1
        assert len(set(expected.tolist())) >= 3


@pytest.mark.parametrize("number", range(15))
def test_a_ball_is_said_to_lie_where_the_point_does_unless_it_touches_more(number: int) -> None:
    ground = crowded_course(number)
    rng = np.random.default_rng(number)
    edges = shapely.union_all([each.geometry.boundary for each in ground.features if isinstance(each.geometry, Polygon)])
    for x, y in rng.uniform(-40, 40, (60, 2)).tolist():
        if edges.distance(Point(x, y)) > 0.025:
            assert locate(ground, 1, Position(x_m=x, y_m=y)).area is area_at(ground, 1, x, y)


@pytest.mark.parametrize("number", range(30))
def test_pieces_make_up_the_course_and_never_overlap(number: int) -> None:
    ground = crowded_course(number)
    grounds = [piece.geometry for piece in ground.pieces]
    assert all(shape.is_valid for shape in grounds)
    assert sum(shape.area for shape in grounds) == pytest.approx(ground.boundary.area, abs=SLIVERS_M2)
    assert shapely.union_all(grounds).symmetric_difference(ground.boundary).area < SLIVERS_M2
    for first, second in itertools.combinations(grounds, 2):
        assert first.intersection(second).area < 0.01


@pytest.mark.parametrize("number", range(30))
def test_penalty_areas_of_one_mark_are_apart_and_hold_all_their_pieces(number: int) -> None:
    ground = crowded_course(number)
    for mark in Mark:
        areas = [area for area in ground.penalty_areas if area.mark is mark]
        for first, second in itertools.combinations(areas, 2):
            assert first.geometry.distance(second.geometry) > 0 or first.geometry.touches(second.geometry)
        own = [piece for piece in ground.pieces if piece.area is Area.PENALTY_AREA and piece.feature and piece.feature.mark is mark]
        assert sum(area.geometry.area for area in areas) == pytest.approx(sum(piece.geometry.area for piece in own), abs=0.02)


@pytest.mark.parametrize("number", [*range(10), *(at_length(n) for n in range(10, 150))])
def test_a_course_read_from_its_own_file_has_the_same_partition(number: int) -> None:
    """The first reading holds the outlines to whole millimetres; after that nothing moves, not by a bit."""
    first = read_again(crowded_course(number))
    second = read_again(first)
    assert write_course(first) == write_course(second)
    assert [piece.area for piece in first.pieces] == [piece.area for piece in second.pieces]
    for ours, theirs in zip(first.pieces, second.pieces, strict=True):
        assert ours.geometry.equals_exact(theirs.geometry, 0)


@pytest.mark.parametrize("number", range(10))
def test_reading_moves_no_corner_by_more_than_rounding(number: int) -> None:
    ground = crowded_course(number)
    for given_one, read in zip(ground.features, read_again(ground).features, strict=True):
        before, after = (shapely.get_coordinates(each.geometry) for each in (given_one, read))
        # Nine decimals of a degree are 0.06 mm north and less east.
        assert np.hypot(*(after - before).T).max() <= SNAP_M + 1e-4


@given(
    st.floats(-179, 179),
    st.floats(-75, 75),
    st.floats(-3000, 3000),
    st.floats(-3000, 3000),
)
@settings(max_examples=150)
def test_metres_to_degrees_and_back(lon_deg: float, lat_deg: float, east_m: float, north_m: float) -> None:
    frame = Frame(lon_deg, lat_deg)
    place = Position(x_m=east_m, y_m=north_m)
    lon, lat = frame.to_lonlat(place)
    assert frame.to_position(lon, lat).distance_m(place) < 1e-4
    assert frame.to_position(*frame.to_lonlat(frame.to_position(lon, lat))).distance_m(place) < 1e-4
    xs_m, ys_m = frame.to_metres(*frame.to_degrees([east_m, 0.0], [north_m, 0.0]))
    assert math.hypot(xs_m[0] - east_m, ys_m[0] - north_m) < 1e-4
    assert math.hypot(xs_m[1], ys_m[1]) < 1e-6


@pytest.mark.parametrize("number", range(8))
def test_the_order_in_the_file_and_the_way_rings_run_change_no_area(number: int) -> None:
    ground = crowded_course(number)
    turned = [replace(each, geometry=shapely.reverse(each.geometry)) for each in reversed(ground.features)]
    again = replace(ground, features=tuple(turned))
    for area in Area:
        sizes = [sum(piece.geometry.area for piece in each.pieces if piece.area is area) for each in (ground, again)]
        assert sizes[1] == pytest.approx(sizes[0], abs=0.02)


@pytest.mark.parametrize("kind", KINDS)
def test_an_area_beyond_the_boundary_or_thinner_than_the_grid_is_no_piece(kind: FeatureKind) -> None:
    mark = Mark.RED if kind is FeatureKind.PENALTY_AREA else None
    beyond = feature("beyond", kind, box(400, 0, 420, 10), mark=mark, holes=(1,))
    touching = feature("touching", kind, box(300, 0, 320, 10), mark=mark, holes=(1,))
    hair = feature("hair", kind, box(-50, -200, 50, -200 + 1e-4), mark=mark, holes=(1,))
    names = {piece.feature.id for piece in course(beyond, touching, hair).pieces if piece.feature}
    assert names == {"green-1", "tee-1"}


def partly_on_the_boundary() -> Polygon:
    """An outline outside the boundary that runs along its edge for 20 m and comes in for 10 m of it."""
    return Polygon([(300, -50), (300, -40), (299, -40), (299, -30), (300, -30), (300, -20), (310, -20), (310, -50)])


@pytest.mark.parametrize("kind", KINDS[1:])
def test_an_area_along_the_boundary_that_meets_an_area_before_it(kind: FeatureKind) -> None:
    pond = feature("pond", FeatureKind.PENALTY_AREA, box(290, -36, 299.5, -25), mark=Mark.RED)
    along = feature("along", kind, partly_on_the_boundary(), holes=(1,))
    sizes = {piece.feature.id: piece.geometry.area for piece in course(pond, along).pieces if piece.feature}
    assert sizes["pond"] == pytest.approx(9.5 * 11, abs=0.01)
    assert sizes["along"] == pytest.approx(10 - 0.5 * 6, abs=0.01)


def test_areas_that_meet_in_a_line_or_a_point_take_nothing_from_each_other() -> None:
    first = feature("first", FeatureKind.PENALTY_AREA, box(-20, -60, 0, -40), mark=Mark.RED)
    beside = feature("beside", FeatureKind.BUNKER, box(0, -60, 20, -40))
    corner = feature("corner", FeatureKind.BUNKER, box(-40, -80, -20, -60))
    around = feature("around", FeatureKind.BUNKER, Polygon(box(-90, -200, -50, -150).exterior, [box(-80, -190, -60, -160).exterior]))
    within = feature("within", FeatureKind.PENALTY_AREA, box(-80, -190, -60, -160), mark=Mark.YELLOW)
    pieces = {piece.feature.id: piece.geometry for piece in course(first, beside, corner, around, within).pieces if piece.feature}
    for name, size_m2 in (("first", 400), ("beside", 400), ("corner", 400), ("around", 2000 - 600), ("within", 600)):
        assert pieces[name].area == pytest.approx(size_m2)
        assert isinstance(pieces[name], Polygon | MultiPolygon)


def two_holes_on_one_ground(kind: FeatureKind) -> Course:
    """Ground of hole 1 that the green of hole 2, earlier in the order, lies over."""
    other = feature("other", FeatureKind.PUTTING_GREEN, box(20, -20, 40, 0), holes=(2,))
    own = feature("own", kind, box(30, -20, 50, 0), holes=(1,))
    return course(other, own)


@pytest.mark.parametrize(("kind", "area"), [(FeatureKind.PUTTING_GREEN, Area.PUTTING_GREEN), (FeatureKind.TEEING_AREA, Area.TEEING_AREA)])
def test_the_ground_of_the_hole_being_played_comes_before_another_holes_green(kind: FeatureKind, area: Area) -> None:
    ground = two_holes_on_one_ground(kind)
    assert area_at(ground, 1, 35, -10) is area
    assert locate(ground, 1, Position(x_m=35, y_m=-10)).area is area
    assert locate(ground, 1, Position(x_m=45, y_m=-10)).area is area
