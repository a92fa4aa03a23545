"""Random outlines, courses and poses for property tests: smooth blobs, ground with overlapping areas, rigid motions."""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace

import numpy as np
import shapely
from numpy.typing import NDArray
from shapely import affinity, contains_xy
from shapely.geometry import LinearRing, LineString, MultiPolygon, Point, Polygon, box
from shapely.geometry.base import BaseGeometry

from marram.core.terms import Area, Club, FeatureKind, Hand, Mark
from marram.course.course import Course
from marram.course.features import Feature
from marram.course.frame import Position
from marram.course.partition import GRID_M, polygons_of
from marram.relief.clear.nearest import Relief, nearest_points_of_relief
from marram.relief.clear.stance import STANCES, Sample, footprint
from tests.support.ground import course, feature

ALL_PARTS = frozenset({"lie", "stance", "swing"})


def blob(rng: np.random.Generator, x_m: float, y_m: float, size_m: float, corners: int = 40) -> Polygon:
    """A smooth star-shaped outline: a circle whose radius waves two to five times on the way round."""
    turns = np.linspace(0, 2 * math.pi, corners, endpoint=False)
    radii = np.full(corners, float(size_m))
    for waves in range(2, 6):
        radii += size_m * rng.uniform(-0.14, 0.14) * np.cos(waves * turns + rng.uniform(0, 2 * math.pi))
    return Polygon(np.column_stack([x_m + radii * np.cos(turns), y_m + radii * np.sin(turns)]))


def blob_near_middle(rng: np.random.Generator, reach_m: float, sizes_m: tuple[float, float], corners: int = 40) -> Polygon:
    """An outline of random size whose middle lies within reach of the origin, east and north."""
    x_m, y_m = rng.uniform(-reach_m, reach_m, 2).tolist()
    return blob(rng, x_m, y_m, float(rng.uniform(*sizes_m)), corners)


@dataclass(frozen=True, slots=True, kw_only=True)
class Crossing:
    """A course with a place on the edge of one of its penalty areas."""

    course: Course
    at: Position
    own: Polygon | MultiPolygon
    hole: Position


def random_crossing(number: int) -> Crossing:
    """A pond whose edge is crossed, with a bunker, a green, another pond and the boundary all about the place."""
    rng = np.random.default_rng(7000 + number)
    pond = blob(rng, -6, 0, float(rng.uniform(4, 7)))
    # A corner of the side that faces the hole or one of the flanks, on whole millimetres as the partition will hold it.
    corner = shapely.get_coordinates(shapely.set_precision(pond, GRID_M).exterior)[int(rng.integers(-9, 10))].tolist()

    def near(reach_m: float, size_m: float) -> Polygon:
        return blob(rng, corner[0] + rng.uniform(-reach_m, reach_m), corner[1] + rng.uniform(-reach_m, reach_m), size_m)

    features = [
        feature("pond", FeatureKind.PENALTY_AREA, pond, mark=Mark.RED),
        feature("ditch", FeatureKind.PENALTY_AREA, near(4, 1.2), mark=Mark.YELLOW),
        feature("sand", FeatureKind.BUNKER, near(3, float(rng.uniform(0.5, 2)))),
        feature("first", FeatureKind.PUTTING_GREEN, near(3, float(rng.uniform(0.5, 3))), holes=(1,)),
        feature("second", FeatureKind.PUTTING_GREEN, near(3, float(rng.uniform(0.5, 3))), holes=(2,)),
    ]
    edge = box(corner[0] - 100, corner[1] - 100, corner[0] + 100, corner[1] + float(rng.uniform(0.5, 4)))
    boundary = affinity.rotate(edge, float(rng.uniform(0, 360)), origin=(corner[0], corner[1]))
    ground = course(*features, boundary=boundary)
    # Without the green and tee that every test course has: they would cover all that lies about the place.
    ground = replace(ground, features=tuple(each for each in ground.features if not each.id.endswith("-1")))
    own = red_area_at(ground, Position(x_m=corner[0], y_m=corner[1]))
    hole = Position(x_m=float(rng.uniform(3, 60)), y_m=float(rng.uniform(-20, 20)))
    return Crossing(course=ground, at=Position(x_m=corner[0], y_m=corner[1]), own=own, hole=hole)


def own_water(crossing: Crossing) -> Polygon:
    """The water that is crossed, straight from the outlines: the smaller ditch lies on the pond, and only the piece at the place counts."""
    outlines = {each.id: each.geometry for each in crossing.course.features}
    (boundary,) = [each.geometry for each in crossing.course.features if each.kind is FeatureKind.BOUNDARY]
    left = each_part(outlines["pond"].difference(outlines["ditch"]).intersection(boundary))
    return min(left, key=lambda each: float(each.distance(Point(crossing.at.xy))))


def red_area_at(ground: Course, at: Position) -> Polygon | MultiPolygon:
    """The red penalty area at whose edge a place lies."""
    red = [area.geometry for area in ground.penalty_areas if area.mark is Mark.RED]
    return min(red, key=lambda each: float(each.distance(Point(at.xy))))


@dataclass(frozen=True, slots=True, kw_only=True)
class Scene:
    """A ball on or beside ground from which relief is taken."""

    ball: Position
    hole: Position
    condition: Polygon | MultiPolygon
    allowed: Polygon | MultiPolygon
    club: Club
    hand: Hand

    def samples(self) -> tuple[Sample, ...]:
        """The player's footprint."""
        return footprint(STANCES[self.club], self.hand, ALL_PARTS)

    def found(self) -> Relief:
        """What the program answers."""
        return nearest_points_of_relief(self.ball, self.hole, self.hole, self.condition, self.samples(), self.allowed)


def random_scene(number: int) -> Scene:
    """A bent path, a smooth patch or an angular one, a ball on or near it, and a bunker that may lie in the way."""
    rng = np.random.default_rng(31_000 + number)
    bends = np.column_stack([[-30, -4, 3, 30], rng.uniform(-1.5, 1.5, 4)])
    kinds = [
        LineString(bends).buffer(float(rng.uniform(0.4, 1.4)), quad_segs=2, cap_style="flat", join_style="mitre"),
        blob_near_middle(rng, 0.4, (0.2, 1.6), corners=14),
        box(*rng.uniform(-1.5, -0.2, 2), *rng.uniform(0.2, 1.5, 2)).union(box(0, -0.3, float(rng.uniform(0.5, 3)), 0.2)),
    ]
    condition = affinity.rotate(kinds[number % 3], float(rng.uniform(0, 360)), origin=(0, 0))
    bunker = blob_near_middle(rng, 3, (0.4, 1.6), corners=12)
    return Scene(
        ball=Position(x_m=float(rng.uniform(-0.5, 0.5)), y_m=float(rng.uniform(-0.5, 0.5))),
        hole=Position(x_m=float(rng.uniform(6, 150)), y_m=float(rng.uniform(-30, 30))),
        condition=polygons_of(condition),
        allowed=polygons_of(box(-150, -150, 300, 150).difference(bunker)),
        club=list(Club)[number % len(Club)],
        hand=Hand.RIGHT if rng.uniform() < 0.5 else Hand.LEFT,
    )


@dataclass(frozen=True, slots=True, kw_only=True)
class Motion:
    """A turn, a shift and perhaps a mirror: nothing that a tape could notice."""

    turn_deg: float
    east_m: float
    north_m: float
    is_mirrored: bool

    def matrix(self) -> list[float]:
        """The motion as an affine map."""
        turn, flip = math.radians(self.turn_deg), -1.0 if self.is_mirrored else 1.0
        return [math.cos(turn), -flip * math.sin(turn), math.sin(turn), flip * math.cos(turn), self.east_m, self.north_m]

    def ground(self, geometry: Polygon | MultiPolygon) -> Polygon | MultiPolygon:
        """Moved ground."""
        return affinity.affine_transform(geometry, self.matrix())

    def place(self, at: Position) -> Position:
        """A moved place."""
        a, b, c, d, east_m, north_m = self.matrix()
        return Position(x_m=a * at.x_m + b * at.y_m + east_m, y_m=c * at.x_m + d * at.y_m + north_m)

    def scene(self, scene: Scene) -> Scene:
        """A moved scene; in a mirror the player has the other hand."""
        other = {Hand.RIGHT: Hand.LEFT, Hand.LEFT: Hand.RIGHT}[scene.hand]
        return replace(
            scene,
            ball=self.place(scene.ball),
            hole=self.place(scene.hole),
            condition=self.ground(scene.condition),
            allowed=self.ground(scene.allowed),
            hand=other if self.is_mirrored else scene.hand,
        )


def random_motion(number: int) -> Motion:
    """A motion by up to 10 km."""
    rng = np.random.default_rng(52_000 + number)
    east_m, north_m = rng.uniform(-1e4, 1e4, 2)
    return Motion(turn_deg=float(rng.uniform(0, 360)), east_m=float(east_m), north_m=float(north_m), is_mirrored=bool(number % 2))


def each_part(geometry: BaseGeometry) -> list[Polygon]:
    """The single polygons of some ground."""
    return [part for part in getattr(geometry, "geoms", [geometry]) if isinstance(part, Polygon) and not part.is_empty]


def rewritten(geometry: Polygon | MultiPolygon, way: Callable[[list[tuple[float, float]]], Sequence[tuple[float, float]]]) -> MultiPolygon:
    """The same ground with each ring written another way."""
    return MultiPolygon(
        [Polygon(way(_corners(part.exterior)), [way(_corners(ring)) for ring in part.interiors]) for part in each_part(geometry)]
    )


def _corners(ring: LinearRing) -> list[tuple[float, float]]:
    return [(float(x), float(y)) for x, y in shapely.get_coordinates(ring)]


PLAIN_WAYS: dict[str, Callable[[list[tuple[float, float]]], Sequence[tuple[float, float]]]] = {
    "reversed": lambda ring: ring[::-1],
    "started elsewhere": lambda ring: [*ring[len(ring) // 2 : -1], *ring[: len(ring) // 2 + 1]],
    "points along the edges": lambda ring: (
        [point for a, b in zip(ring, ring[1:], strict=False) for point in (a, _between(a, b))] + ring[:1]
    ),
    "a point twice": lambda ring: [ring[0], *ring],
}
"""Ways to write a ring that leave its ground as it was."""


def _between(a: tuple[float, ...], b: tuple[float, ...]) -> tuple[float, float]:
    return (0.7 * a[0] + 0.3 * b[0], 0.7 * a[1] + 0.3 * b[1])


def area_at(ground: Course, hole: int, x_m: float, y_m: float) -> Area:
    """Which area of the course a point lies in, straight from the features and an explicit order, with no partition made."""
    return list(Area)[int(areas_at(ground.features, hole, np.array([x_m]), np.array([y_m]))[0])]


def areas_at(features: Sequence[Feature], hole: int, xs_m: NDArray[np.float64], ys_m: NDArray[np.float64]) -> NDArray[np.int64]:
    """For each point the number of its area in the list of areas: penalty area, bunker, green, tee, general area, out of bounds.

    A point that is in a feature of two kinds is in the one that comes first; greens and tees of other holes do not count.
    Source of the order: Rules of Golf (January 2019), Rule 2.2c.
    """
    order = [
        (FeatureKind.PENALTY_AREA, Area.PENALTY_AREA, False),
        (FeatureKind.BUNKER, Area.BUNKER, False),
        (FeatureKind.PUTTING_GREEN, Area.PUTTING_GREEN, True),
        (FeatureKind.TEEING_AREA, Area.TEEING_AREA, True),
    ]
    numbers = {area: number for number, area in enumerate(Area)}
    found = np.full(xs_m.shape, numbers[Area.GENERAL_AREA])
    for kind, area, only_own in reversed(order):
        for each in features:
            if each.kind is kind and (hole in each.holes or not only_own):
                found[contains_xy(each.geometry, xs_m, ys_m)] = numbers[area]
    (boundary,) = [each.geometry for each in features if each.kind is FeatureKind.BOUNDARY]
    found[~contains_xy(boundary, xs_m, ys_m)] = numbers[Area.OUT_OF_BOUNDS]
    return found
