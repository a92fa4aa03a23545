"""The demo course is what it claims to be: read from the committed GeoJSON with shapely and pyproj only."""

import itertools
import json
import math
import re
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path
from typing import Any

import numpy as np
import pytest
import shapely
from pyproj import Transformer
from shapely.geometry import LineString, Point, Polygon, shape
from shapely.geometry.base import BaseGeometry
from shapely.ops import substring, unary_union

ROOT = Path(__file__).parents[3]
COURSE_FILE = ROOT / "examples" / "courses" / "thimble-moor.geojson"
HOLES = range(1, 19)
CLUBHOUSE_M = 130.0
TWO_CLUBS_M = 2.29


@dataclass(frozen=True, slots=True, kw_only=True)
class Item:
    id: str
    kind: str
    shape: BaseGeometry
    more: dict[str, Any]


@dataclass(frozen=True, slots=True, kw_only=True)
class Plan:
    items: tuple[Item, ...]
    head: dict[str, Any]

    def of(self, *kinds: str, hole: int | None = None) -> list[Item]:
        return [i for i in self.items if i.kind in kinds and (hole is None or hole in i.more.get("holes", []))]

    def only(self, kind: str, hole: int) -> Item:
        (item,) = self.of(kind, hole=hole)
        return item

    def named(self, name: str) -> Item:
        (item,) = (i for i in self.items if i.id == name)
        return item

    def union(self, *kinds: str) -> BaseGeometry:
        return unary_union([i.shape for i in self.of(*kinds)])

    def line(self, hole: int) -> LineString:
        line = self.only("line-of-play", hole).shape
        assert isinstance(line, LineString)
        return line


@pytest.fixture(scope="module")
def plan() -> Plan:
    read = json.loads(COURSE_FILE.read_text(encoding="utf-8"))
    lon, lat = read["course"]["origin"]
    frame = f"+proj=tmerc +lon_0={lon} +lat_0={lat} +k=1 +x_0=0 +y_0=0 +ellps=WGS84 +units=m"
    metres = Transformer.from_crs("EPSG:4326", frame, always_xy=True)

    def moved(places: np.ndarray[Any, np.dtype[np.float64]]) -> np.ndarray[Any, np.dtype[np.float64]]:
        # Whole millimetres, as the course format says.
        return np.round(np.column_stack(metres.transform(places[:, 0], places[:, 1])), 3)

    items = tuple(
        Item(
            id=f["properties"]["id"],
            kind=f["properties"]["kind"],
            shape=shapely.transform(shape(f["geometry"]), moved),
            more=f["properties"],
        )
        for f in read["features"]
    )
    return Plan(items=items, head=read["course"])


def rings(polygon: BaseGeometry) -> Iterator[LineString]:
    for part in getattr(polygon, "geoms", [polygon]):
        assert isinstance(part, Polygon)
        yield LineString(part.exterior.coords)
        yield from (LineString(ring.coords) for ring in part.interiors)


def longest_edge_m(polygon: BaseGeometry) -> float:
    return max(float(np.hypot(*np.diff(np.array(ring.coords), axis=0).T).max()) for ring in rings(polygon))


# ---------------------------------------------------------------------------------------------------- the file itself


def test_one_feature_a_line_and_no_more_than_nine_decimals() -> None:
    text = COURSE_FILE.read_text(encoding="utf-8")
    lines = [line.rstrip(",") for line in text.splitlines() if line.startswith('{"type":"Feature"')]
    assert len(lines) == len(json.loads(text)["features"])
    numbers = json.dumps([json.loads(line)["geometry"]["coordinates"] for line in lines])
    assert max(len(decimals) for decimals in re.findall(r"\.(\d+)", numbers)) <= 9


def test_ids_are_unique_and_every_shape_is_valid_and_wound_as_geojson_asks(plan: Plan) -> None:
    assert len({i.id for i in plan.items}) == len(plan.items)
    for item in plan.items:
        assert item.shape.is_valid, item.id
        for part in getattr(item.shape, "geoms", [item.shape]):
            if isinstance(part, Polygon):
                assert part.exterior.is_ccw, item.id


def test_survey_accuracy(plan: Plan) -> None:
    assert plan.head["sigma_m"] == 0.05
    ponds = [i for i in plan.of("penalty-area") if i.more["what"] == "pond"]
    assert ponds and all(i.more["sigma_m"] == 0.10 for i in ponds)
    assert plan.named("ditch-3").more["sigma_m"] == 0.5
    assert plan.of("trees") and all(i.more["sigma_m"] == 0.5 for i in plan.of("trees"))


# ------------------------------------------------------------------------------------------------------- the 18 holes


def test_par_and_lengths(plan: Plan) -> None:
    within_m = {3: (130, 200), 4: (300, 430), 5: (440, 520)}
    pars = {hole: plan.only("line-of-play", hole).more["par"] for hole in HOLES}
    assert 70 <= sum(pars.values()) <= 72
    assert 5800 <= sum(plan.line(hole).length for hole in HOLES) <= 6400
    for hole, par in pars.items():
        low, high = within_m[par]
        assert low <= plan.line(hole).length <= high, hole


def test_stroke_indexes(plan: Plan) -> None:
    by_hole = {hole: plan.only("line-of-play", hole).more["stroke_index"] for hole in HOLES}
    at = {index: hole for hole, index in by_hole.items()}
    assert sorted(at) == list(HOLES)
    assert {by_hole[hole] % 2 for hole in range(1, 10)} == {1}
    assert {by_hole[hole] % 2 for hole in range(10, 19)} == {0}
    assert at[1] in range(4, 7)
    assert at[2] in range(13, 16)
    assert at[3] in (1, 2, 3, 7, 8, 9)
    assert at[4] in (10, 11, 12, 16, 17, 18)
    for hole in range(1, 18):
        assert max(by_hole[hole], by_hole[hole + 1]) > 6, hole
    assert not {at[index] for index in (1, 2, 3, 4)} & {1, 2, 8, 9, 10, 11, 17, 18}


def test_both_nines_start_and_end_near_the_clubhouse(plan: Plan) -> None:
    house = plan.named("clubhouse").shape
    for hole, end in ((1, 0), (9, -1), (10, 0), (18, -1)):
        assert house.distance(Point(plan.line(hole).coords[end])) <= CLUBHOUSE_M, hole


def test_lines_of_play_keep_apart(plan: Plan) -> None:
    """45 m between any two lines, but for the last 45 m of a line at either end, where greens and tees lie close."""
    for one, other in itertools.combinations(HOLES, 2):
        a, b = plan.line(one), plan.line(other)
        assert not a.intersects(b), (one, other)
        for whole, cut in ((a, substring(b, 45, b.length - 45)), (b, substring(a, 45, a.length - 45))):
            assert whole.distance(cut) >= 44.5, (one, other)


def test_line_goes_from_back_tee_to_the_middle_of_the_green(plan: Plan) -> None:
    for hole in HOLES:
        line, green = plan.line(hole), plan.only("putting-green", hole).shape
        (back,) = (i.shape for i in plan.of("teeing-area", hole=hole) if i.more["tee"] == "back")
        assert back.centroid.distance(Point(line.coords[0])) < 0.5
        assert green.contains(Point(line.coords[-1]))
        if plan.only("putting-green", hole).more["holes"] == [hole]:
            assert green.centroid.distance(Point(line.coords[-1])) < 2.5


def test_tees(plan: Plan) -> None:
    for hole in HOLES:
        tees = plan.of("teeing-area", hole=hole)
        assert 2 <= len(tees) <= 3
        line = plan.line(hole)
        along = {i.more["tee"]: line.project(i.shape.centroid) for i in tees}
        assert along["back"] < along["middle"] < along.get("forward", math.inf)
        for tee in tees:
            assert tee.shape.area == pytest.approx(tee.shape.minimum_rotated_rectangle.area, rel=1e-3)
            assert 50 <= tee.shape.area <= 100
            assert tee.shape.centroid.distance(line) < 8


def test_greens_and_hole_locations(plan: Plan) -> None:
    greens = plan.of("putting-green")
    assert len(greens) == 17
    for green in greens:
        low, high = (800, 1250) if len(green.more["holes"]) == 2 else (400, 650)
        assert low <= green.shape.area <= high, green.id
        assert longest_edge_m(green.shape) <= 1.0
    for hole in HOLES:
        cup, ground = plan.only("hole-location", hole).shape, plan.only("putting-green", hole).shape
        assert ground.contains(cup)
        assert cup.distance(ground.boundary) >= 4.0, hole


def test_double_green(plan: Plan) -> None:
    (double,) = (i for i in plan.of("putting-green") if len(i.more["holes"]) == 2)
    one, other = (plan.only("hole-location", hole).shape for hole in double.more["holes"])
    assert one.distance(other) >= 15


def test_fairways(plan: Plan) -> None:
    for hole in HOLES:
        fairway, line = plan.only("fairway", hole).shape, plan.line(hole)
        if plan.only("line-of-play", hole).more["par"] == 3:
            assert fairway.area < 1000, hole
            continue
        widths = []
        for at in np.arange(170.0, line.length - 30.0, 10.0):
            here, ahead = line.interpolate(at), line.interpolate(at + 0.5)
            side = np.array([here.y - ahead.y, ahead.x - here.x]) / 0.5
            middle = np.array([here.x, here.y])
            cross = fairway.intersection(LineString([middle - side * 34, middle + side * 34]))
            if not cross.is_empty:
                widths.append(cross.convex_hull.length)
        assert len(widths) >= 10, hole
        assert 25 <= np.median(widths) <= 40, hole
        assert np.mean([24 <= width <= 40.5 for width in widths]) >= 0.8, (hole, widths)


def test_bunkers(plan: Plan) -> None:
    bunkers = plan.of("bunker")
    assert 40 <= len(bunkers) <= 56
    greens = plan.union("putting-green")
    near = [bunker.shape.distance(greens) < 8 for bunker in bunkers]
    assert sum(near) >= 20
    assert len(near) - sum(near) >= 12
    for bunker in bunkers:
        assert 25 <= bunker.shape.area <= 120, bunker.id
        assert longest_edge_m(bunker.shape) <= (1.0 if bunker.shape.distance(greens) < 8 else 2.0), bunker.id


def test_water_and_paths_are_drawn_finely(plan: Plan) -> None:
    greens = plan.union("putting-green")
    for item in plan.of("penalty-area", "immovable-obstruction", "fairway"):
        if item.more.get("what") in ("shed", "clubhouse"):
            continue
        fine = item.kind == "penalty-area" and item.shape.distance(greens) < 20
        assert longest_edge_m(item.shape) <= (1.0 if fine else 2.7), item.id


# ------------------------------------------------------------------------------------------------------ penalty areas


def test_pond_beside_green_7(plan: Plan) -> None:
    pond, green = plan.named("pond-7"), plan.only("putting-green", 7).shape
    assert pond.more["mark"] == "red"
    assert 1.0 <= pond.shape.distance(green) <= 3.0
    bays = pond.shape.convex_hull.difference(pond.shape)
    deep = [part for part in getattr(bays, "geoms", [bays]) if part.area > 60 and part.distance(green) > 10]
    assert deep, "a bay on the side away from the green"


def test_red_water_on_the_front_nine(plan: Plan) -> None:
    pond = plan.named("pond-9")
    assert pond.more["mark"] == "red"
    assert pond.shape.area > 800
    ditch = plan.named("ditch-6")
    assert ditch.more["mark"] == "red"
    assert ditch.shape.length / 2 > 200


def test_yellow_streams_cross_fairways(plan: Plan) -> None:
    for name, hole in (("burn-4", 4), ("burn-east", 13)):
        stream, line = plan.named(name), plan.line(hole)
        assert stream.more["mark"] == "yellow"
        assert stream.shape.intersects(line)
        assert 2.0 <= stream.shape.intersection(line).length <= 5.5
        assert len(getattr(plan.only("fairway", hole).shape, "geoms", [None])) >= 2
        assert 2.0 <= 2 * stream.shape.area / stream.shape.length <= 4.0  # mean width of a long strip


def test_yellow_pond_before_a_par_3(plan: Plan) -> None:
    pond, green = plan.named("pond-12"), plan.only("putting-green", 12).shape
    assert plan.only("line-of-play", 12).more["par"] == 3
    assert pond.more["mark"] == "yellow"
    assert pond.shape.intersects(plan.line(12))
    assert pond.shape.distance(green) < 6


def test_red_and_yellow_meet_in_one_edge(plan: Plan) -> None:
    for one, other in (("ditch-6", "burn-4"), ("burn-east", "burn-east-lower"), ("burn-south", "burn-10")):
        a, b = plan.named(one), plan.named(other)
        assert {a.more["mark"], b.more["mark"]} == {"red", "yellow"}
        shared = a.shape.intersection(b.shape)
        assert shared.area < 1e-6
        assert shared.length > 1.5, one


def test_water_that_crosses_the_boundary(plan: Plan) -> None:
    (ground,) = plan.of("boundary")
    for name in ("pond-11", "stream-11"):
        item = plan.named(name)
        inside = item.shape.intersection(ground.shape).area / item.shape.area
        assert 0.2 < inside < 0.95, name


# -------------------------------------------------------------------------------------------- boundary and containment


def test_boundary(plan: Plan) -> None:
    (ground,) = plan.of("boundary")
    assert isinstance(ground.shape, Polygon)
    assert not ground.shape.interiors
    assert 45e4 <= ground.shape.area <= 75e4
    for hole in HOLES:
        assert ground.shape.boundary.distance(plan.line(hole)) >= 15


def test_only_what_is_meant_to_lies_beyond_the_boundary(plan: Plan) -> None:
    (ground,) = plan.of("boundary")
    beyond = {i.id for i in plan.items if i is not ground and not ground.shape.buffer(0.002).covers(i.shape)}
    walls = {i.id for i in plan.of("boundary-object")}
    assert beyond == walls | {"pond-11", "stream-11", "stream-12", "burn-east", "burn-10", "burn-4"}


def test_walls_stand_just_outside_the_boundary_edge(plan: Plan) -> None:
    (ground,) = plan.of("boundary")
    walls = plan.of("boundary-object")
    assert len(walls) >= 2
    for wall in walls:
        assert wall.shape.intersection(ground.shape).area < 0.05
        assert wall.shape.intersection(ground.shape.boundary.buffer(0.002)).length > 100
        assert wall.shape.area / (wall.shape.length / 2) == pytest.approx(0.5, abs=0.02)


def test_what_must_not_overlap_does_not(plan: Plan) -> None:
    apart = ["penalty-area", "bunker", "putting-green", "teeing-area", "immovable-obstruction", "trees"]
    parts = plan.of(*apart)
    tree = shapely.STRtree([i.shape for i in parts])
    for first, second in tree.query([i.shape for i in parts], predicate="intersects").T:
        if first < second:
            a, b = parts[first], parts[second]
            assert a.shape.intersection(b.shape).area < 0.01, (a.id, b.id)
    fairways = plan.union("fairway")
    for kind in ("penalty-area", "bunker", "teeing-area", "immovable-obstruction", "trees"):
        assert fairways.intersection(plan.union(kind)).area < 0.5, kind


# ---------------------------------------------------------------------------------------------- obstructions, conditions


def test_paths_beside_greens(plan: Plan) -> None:
    paths = [i for i in plan.of("immovable-obstruction") if i.more["what"] == "path"]
    beside = close = 0
    for path in paths:
        assert 2.0 <= 2 * path.shape.area / path.shape.length <= 3.0, path.id
        gap = min(path.shape.distance(green.shape) for green in plan.of("putting-green"))
        beside += gap < 6
        close += gap < 3
    assert beside >= 5
    assert close >= 3
    assert plan.named("shed-stone").more["what"] == "shed"
    assert len(plan.of("integral-object")) == 1


def test_ground_conditions(plan: Plan) -> None:
    repairs = plan.of("ground-under-repair")
    assert len(repairs) == 3
    zones = plan.of("no-play-zone")
    assert [z.id for z in zones if any(r.shape.buffer(0.002).covers(z.shape) for r in repairs)] == ["zone-6"]
    assert [z.id for z in zones if plan.union("penalty-area").covers(z.shape)] == ["zone-pond"]
    assert len(plan.of("animal-hole")) == 1


def test_temporary_water(plan: Plan) -> None:
    flooded = [(w, b) for w in plan.of("temporary-water") for b in plan.of("bunker") if b.shape.intersects(w.shape)]
    ((water, bunker),) = flooded
    assert 0.4 <= water.shape.intersection(bunker.shape).area / bunker.shape.area <= 0.6
    assert bunker.shape.buffer(0.002).covers(water.shape)
    (pool,) = (w for w in plan.of("temporary-water") if w is not water)
    assert plan.union("fairway").contains(pool.shape)


def test_dropping_zones(plan: Plan) -> None:
    zones = plan.of("dropping-zone")
    assert len(zones) == 2
    for zone in zones:
        served = plan.named(zone.more["serves"])
        assert served.kind == "penalty-area"
        (hole,) = zone.more["holes"]
        cup = plan.only("hole-location", hole).shape
        assert cup.distance(zone.shape) > cup.distance(served.shape)
        assert not zone.shape.intersects(plan.union("penalty-area", "bunker", "trees"))


# -------------------------------------------------------------------------------------------------- the marking traps


@dataclass(frozen=True, slots=True, kw_only=True)
class Found:
    """Ground within two club-lengths of a place on an edge and not nearer the hole, in square metres."""

    all_m2: float
    own_m2: float  # in the penalty area itself
    beyond_m2: float  # outside the boundary
    bunker_m2: float
    other_penalty_m2: float
    zone_m2: float
    plain_m2: float


def found(plan: Plan, number: int) -> Found:
    (item,) = (i for i in plan.items if number in i.more.get("trap_numbers", []))
    assert item.more["mark"] == "red"
    at = item.more["trap_numbers"].index(number)
    lon, lat = plan.head["origin"]
    frame = f"+proj=tmerc +lon_0={lon} +lat_0={lat} +k=1 +x_0=0 +y_0=0 +ellps=WGS84 +units=m"
    to_metres = Transformer.from_crs("EPSG:4326", frame, always_xy=True)
    place = Point(to_metres.transform(*item.more["trap_places"][2 * at : 2 * at + 2]))
    assert item.shape.boundary.distance(place) < 0.002
    cup = plan.only("hole-location", item.more["trap_holes"][at]).shape
    nearer = cup.buffer(cup.distance(place), quad_segs=8000)
    whole = place.buffer(TWO_CLUBS_M, quad_segs=64).difference(nearer)
    (ground,) = plan.of("boundary")
    left = whole.difference(item.shape)
    on_course = left.intersection(ground.shape)
    others = unary_union([i.shape for i in plan.of("penalty-area") if i is not item])
    rest = on_course.difference(others)
    sand, zones = plan.union("bunker"), plan.union("no-play-zone")
    return Found(
        all_m2=whole.area,
        own_m2=whole.area - left.area,
        beyond_m2=left.area - on_course.area,
        bunker_m2=rest.intersection(sand).area,
        other_penalty_m2=on_course.intersection(others).area,
        zone_m2=rest.intersection(zones).area,
        plain_m2=rest.difference(sand).difference(zones).area,
    )


def test_trap_1_no_ground_outside_the_same_penalty_area(plan: Plan) -> None:
    here = found(plan, 1)
    assert here.own_m2 / here.all_m2 > 0.97
    assert here.plain_m2 < 0.2


def test_trap_2_most_of_the_ground_is_out_of_bounds(plan: Plan) -> None:
    here = found(plan, 2)
    (ground,) = plan.of("boundary")
    assert plan.named("ditch-13").shape.distance(ground.shape.boundary) == pytest.approx(0.6, abs=0.02)
    assert here.beyond_m2 > 1.8 * here.plain_m2
    assert here.plain_m2 < 1.8


def test_trap_3_only_a_bunker(plan: Plan) -> None:
    here = found(plan, 3)
    assert here.bunker_m2 > 3.0
    assert here.plain_m2 < 0.02


def test_trap_4_only_another_penalty_area(plan: Plan) -> None:
    here = found(plan, 4)
    assert here.other_penalty_m2 > 2.0
    assert here.plain_m2 < 1.0
    assert plan.named("pond-upper").shape.distance(plan.named("pond-lower").shape) == pytest.approx(0.2, abs=0.03)


def test_trap_5_only_a_no_play_zone(plan: Plan) -> None:
    here = found(plan, 5)
    assert here.zone_m2 > 2.0
    assert here.plain_m2 < 0.25 * here.zone_m2


# --------------------------------------------------------------------------------------------------------- the builder


def test_the_builder_draws_the_same_bytes(tmp_path: Path) -> None:
    from builders.demo_course.__main__ import draw
    from builders.demo_course.features import write

    write(draw(), tmp_path / "again.geojson")
    assert (tmp_path / "again.geojson").read_bytes() == COURSE_FILE.read_bytes()


def test_the_table_of_traps_says_what_the_file_says(plan: Plan) -> None:
    from builders.demo_course.traps import TRAPS

    in_file = sorted(n for i in plan.items for n in i.more.get("trap_numbers", []))
    assert in_file == [trap.number for trap in TRAPS] == [1, 2, 3, 4, 5]
    for trap in TRAPS:
        assert trap.text in plan.named(trap.feature).more["trap"]
