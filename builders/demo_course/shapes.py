"""Smooth shapes in metres: curves, blobs, kidneys, ribbons and rectangles."""

import zlib
from collections.abc import Sequence

import numpy as np
import shapely
from numpy.typing import NDArray
from shapely.geometry import LineString, MultiPolygon, Polygon
from shapely.geometry.base import BaseGeometry

Points = NDArray[np.float64]
Place = tuple[float, float]

_SEED = 1871
_DENSE = 24  # points per control span before resampling


def chance(name: str) -> np.random.Generator:
    """A generator of its own for each thing, so that changing one thing leaves the others where they were."""
    return np.random.default_rng([_SEED, zlib.crc32(name.encode())])


def unit(angle_deg: float) -> Points:
    """Direction counter-clockwise from east."""
    return np.array([np.cos(np.radians(angle_deg)), np.sin(np.radians(angle_deg))])


def resample(points: Points, spacing_m: float, *, closed: bool) -> Points:
    """Points at equal steps along a chain; a closed chain comes back without its first point repeated."""
    chain = np.vstack([points, points[:1]]) if closed else points
    along = np.concatenate([[0.0], np.cumsum(np.hypot(*np.diff(chain, axis=0).T))])
    count = max(8 if closed else 2, round(float(along[-1]) / spacing_m))
    at = np.linspace(0.0, along[-1], count + 1)
    if closed:
        at = at[:-1]
    return np.column_stack([np.interp(at, along, chain[:, 0]), np.interp(at, along, chain[:, 1])])


def _spans(controls: Points) -> Points:
    """Centripetal Catmull-Rom through the inner control points; the first and last only steer."""
    pieces = []
    for p0, p1, p2, p3 in zip(controls, controls[1:], controls[2:], controls[3:], strict=False):
        t0 = 0.0
        t1 = t0 + float(np.hypot(*(p1 - p0))) ** 0.5
        t2 = t1 + float(np.hypot(*(p2 - p1))) ** 0.5
        t3 = t2 + float(np.hypot(*(p3 - p2))) ** 0.5
        t = np.linspace(t1, t2, _DENSE, endpoint=False)[:, None]
        a1 = (t1 - t) / (t1 - t0) * p0 + (t - t0) / (t1 - t0) * p1
        a2 = (t2 - t) / (t2 - t1) * p1 + (t - t1) / (t2 - t1) * p2
        a3 = (t3 - t) / (t3 - t2) * p2 + (t - t2) / (t3 - t2) * p3
        b1 = (t2 - t) / (t2 - t0) * a1 + (t - t0) / (t2 - t0) * a2
        b2 = (t3 - t) / (t3 - t1) * a2 + (t - t1) / (t3 - t1) * a3
        pieces.append((t2 - t) / (t2 - t1) * b1 + (t - t1) / (t2 - t1) * b2)
    return np.vstack(pieces)


def closed_curve(controls: Sequence[Place], spacing_m: float) -> Polygon:
    """A smooth ring through the control points."""
    ring = np.array(controls, dtype=float)
    return Polygon(resample(_spans(np.vstack([ring[-1:], ring, ring[:2]])), spacing_m, closed=True))


def open_curve(controls: Sequence[Place], spacing_m: float) -> Points:
    """A smooth line through the control points, ends included."""
    line = np.array(controls, dtype=float)
    first, last = 2 * line[0] - line[1], 2 * line[-1] - line[-2]
    return resample(np.vstack([_spans(np.vstack([first, line, last])), line[-1:]]), spacing_m, closed=False)


def wander(rng: np.random.Generator, along_m: Points, shortest_m: float, longest_m: float) -> Points:
    """Smooth noise along a line, about between -1 and 1."""
    waves = rng.uniform(shortest_m, longest_m, 4)
    phases = rng.uniform(0.0, 2 * np.pi, 4)
    result: Points = np.sin(2 * np.pi * along_m[:, None] / waves + phases).sum(axis=1) / 2.5
    return result


def along(points: Points) -> Points:
    """Distance from the start, metres, at each point of a chain."""
    return np.concatenate([[0.0], np.cumsum(np.hypot(*np.diff(points, axis=0).T))])


def left_of(points: Points) -> Points:
    """Unit vectors to the left at each point of a chain."""
    step = np.gradient(points, axis=0)
    step /= np.hypot(*step.T)[:, None]
    return np.column_stack([-step[:, 1], step[:, 0]])


def blob(name: str, centre: Place, area_m2: float, *, stretch: float, angle_deg: float, rough: float) -> Polygon:
    """An organic rounded shape of a given area; `rough` 0 is an ellipse, 0.15 is lively."""
    rng = chance(name)
    t = np.linspace(0.0, 2 * np.pi, 480, endpoint=False)
    radius = np.ones_like(t)
    for wave in (2, 3, 4, 5):
        radius += rough * rng.uniform(0.4, 1.0) * np.cos(wave * t + rng.uniform(0, 2 * np.pi)) / (wave - 0.8)
    local = np.column_stack([radius * np.cos(t) * stretch**0.5, radius * np.sin(t) / stretch**0.5])
    return _placed(local, centre, area_m2, angle_deg)


def kidney(name: str, centre: Place, area_m2: float, *, angle_deg: float, bend: float) -> Polygon:
    """A bunker: long side along `angle_deg`, hollow side to the left of it when `bend` is positive."""
    rng = chance(name)
    t = np.linspace(0.0, 2 * np.pi, 360, endpoint=False)
    swell = 1 + 0.13 * np.cos(2 * t + rng.uniform(0, 6.28)) + 0.07 * np.cos(3 * t + rng.uniform(0, 6.28))
    x = (1.0 + 0.06 * rng.uniform(-1, 1)) * np.cos(t) * (1 + 0.05 * np.cos(3 * t + rng.uniform(0, 6.28)))
    y = rng.uniform(0.52, 0.68) * np.sin(t) * swell + bend * (np.cos(t) ** 2 - 0.5)
    return eased(largest(softened(_placed(np.column_stack([x, y]), centre, area_m2, angle_deg), 1.0)), 0.6)


def _placed(local: Points, centre: Place, area_m2: float, angle_deg: float) -> Polygon:
    shape = Polygon(local)
    size = (area_m2 / shape.area) ** 0.5
    middle = np.array([shape.centroid.x, shape.centroid.y])
    east, north = unit(angle_deg), unit(angle_deg + 90)
    flat = (local - middle) * size
    return Polygon(np.array(centre) + flat[:, :1] * east + flat[:, 1:] * north)


def ribbon(middle: Points, left_m: Points, right_m: Points) -> Polygon:
    """A strip along a line with its own width on either hand; vertices are kept in step on both sides."""
    side = left_of(middle)
    return Polygon(np.vstack([middle - side * right_m[:, None], (middle + side * left_m[:, None])[::-1]]))


def rectangle(centre: Place, length_m: float, width_m: float, angle_deg: float) -> Polygon:
    """A rectangle with its long side along `angle_deg`."""
    east, north = unit(angle_deg) * length_m / 2, unit(angle_deg + 90) * width_m / 2
    middle = np.array(centre)
    return Polygon([middle - east - north, middle + east - north, middle + east + north, middle - east + north])


def softened(shape: BaseGeometry, radius_m: float) -> BaseGeometry:
    """Outer and inner corners rounded to a radius; what is thinner than twice the radius goes."""
    return shape.buffer(-radius_m).buffer(2 * radius_m).buffer(-radius_m)


def even(polygon: Polygon, spacing_m: float) -> Polygon:
    """The same polygon with vertices at equal steps along each ring."""
    rings = [resample(np.array(ring.coords)[:-1], spacing_m, closed=True) for ring in polygon.interiors]
    return Polygon(resample(np.array(polygon.exterior.coords)[:-1], spacing_m, closed=True), rings)


def eased(polygon: Polygon, reach_m: float) -> Polygon:
    """The rings drawn with a softer hand: each vertex moves to the mean of its neighbours within about a reach."""
    rings = [_eased_ring(np.array(ring.coords)[:-1], reach_m) for ring in polygon.interiors]
    return Polygon(_eased_ring(np.array(polygon.exterior.coords)[:-1], reach_m), rings)


def _eased_ring(points: Points, reach_m: float) -> Points:
    step_m = 0.3
    ring = resample(points, step_m, closed=True)
    steps = np.arange(-int(3 * reach_m / step_m), int(3 * reach_m / step_m) + 1)
    weights = np.exp(-0.5 * (steps * step_m / reach_m) ** 2)
    moved = [weight * np.roll(ring, int(step), axis=0) for step, weight in zip(steps, weights, strict=True)]
    result: Points = np.sum(moved, axis=0) / weights.sum()
    return result


def divided(polygon: Polygon, longest_m: float) -> Polygon:
    """The same polygon with long edges divided and nothing moved."""
    return largest(shapely.segmentize(polygon, longest_m))


def exact(polygon: Polygon, spacing_m: float) -> Polygon:
    """The same polygon with its corners kept, needless vertices dropped and long edges divided."""
    return largest(shapely.segmentize(polygon.simplify(0.01), spacing_m))


def with_vertices(polygon: Polygon, neighbour: Polygon) -> Polygon:
    """The polygon with the neighbour's vertices that lie on its edge made its own, so that the two share an edge."""
    edge = LineString(polygon.exterior.coords)
    ring = {edge.project(shapely.Point(c)): c for c in polygon.exterior.coords[:-1]}
    ring[0.0] = polygon.exterior.coords[0]
    for corner in neighbour.exterior.coords[:-1]:
        point = shapely.Point(corner)
        if edge.distance(point) < 1e-6:
            ring.setdefault(edge.project(point), corner)
    return Polygon([ring[at] for at in sorted(ring)])


def largest(shape: BaseGeometry) -> Polygon:
    """The largest polygon of a shape."""
    return max(polygons(shape), key=lambda part: part.area)


def polygons(shape: BaseGeometry) -> list[Polygon]:
    """The polygons of a shape."""
    if isinstance(shape, Polygon):
        return [] if shape.is_empty else [shape]
    if isinstance(shape, MultiPolygon):
        return list(shape.geoms)
    return [part for part in getattr(shape, "geoms", []) if isinstance(part, Polygon)]
